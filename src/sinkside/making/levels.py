"""Volts and amps along a chain, at every corner: the same solver and figures as the judge's.

The judge asks for the bad end alone. A meter shows anything between the ends, so here the
chain is solved at every corner of what is not known and of what varies, and the least and the
most of each reading are kept. Each reading rises or falls with each of the figures as long as the
converter does one thing; where it holds at some corners and passes its input on at others, both
are among them.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.making.draws import Draw
from sinkside.making.readings import Range
from sinkside.parts.elements import Diode
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.solve import Chains, Steady, steady
from sinkside.paths.states import State
from sinkside.paths.values import series_ohm
from sinkside.physics.operating_point import Load

Array: TypeAlias = NDArray[np.float64]
Ends: TypeAlias = tuple[float, float, float]
"""Low, middle and high."""

_NOUGHT: Ends = (0.0, 0.0, 0.0)


@dataclass(frozen=True, kw_only=True)
class Reading:
    """What meters show in one state under one draw.

    Parameters
    ----------
    volts
        Behind as many parts as were asked for, in that order.
    into
        Current behind the last part.
    out_of_port
        Current out of the port.
    always
        Whether there is a working point at every corner.
    """

    volts: tuple[Range, ...]
    into: Range
    out_of_port: Range
    always: bool


@dataclass(frozen=True, kw_only=True)
class _Box:
    """Figures of a chain at every corner; the first column is the middle of everything.

    Parameters
    ----------
    segments_ohm, segments_v
        Ohms and diode volts from one place to the next.
    """

    port_v: Array
    segments_ohm: tuple[Array, ...]
    segments_v: tuple[Array, ...]
    set_v: Array
    needs_v: Array
    efficiency: Array
    quiescent_a: Array
    pass_ohm: Array
    load: Load


def reading(front: Front, state: State, draw: Draw, places: Sequence[int]) -> Reading:
    """What meters show along a chain.

    Parameters
    ----------
    places
        After how many parts volts are read, rising.

    Notes
    -----
    Before the converter V = V_port − ΣV_f − I_port·ΣR; behind it V = V_plug + I·ΣR + ΣV_f over
    what is between there and the plug. A diode takes its forward volts under load; without one a
    meter reads anything up to none of them. What a meter takes is left out, and so is a bleeder.

    Off its contract a converter that gets too little may pass its input on or give nothing, so
    the least is then nought.
    """
    cuts = tuple(sorted({0, *places, front.split, len(front.parts)} | _behind(front)))
    box = _box(front, state, draw, cuts)
    solved = _solve(front, box, cuts)
    alive = np.isfinite(solved.in_a) & np.isfinite(solved.port_a)
    # Asleep, or a port that lets go: where nothing balances, nothing may flow.
    rests = (state.kind != "match") & (~solved.regulated if front.converter else ~alive)
    volts = tuple(
        _range(
            _volts_at(front, box, solved, cuts, place), alive, "V", rests & (place > front.split)
        )
        for place in places
    )
    return Reading(
        volts=volts,
        into=_range(np.maximum(solved.in_a, 0.0), alive, "A", rests),
        out_of_port=_range(np.maximum(solved.port_a, 0.0), alive, "A", rests),
        always=bool(alive.all()),
    )


def _behind(front: Front) -> set[int]:
    return {front.split + 1} if front.converter is not None else set()


def _range(values: Array, alive: NDArray[np.bool_], unit: str, rests: NDArray[np.bool_]) -> Range:
    """Least and most over the corners; the middle is the first column's."""
    found = values[alive]
    if not len(found):
        return Range(low=0.0, nominal=0.0, high=0.0, unit=unit)
    low = 0.0 if rests.any() else float(found.min())
    high = float(found.max())
    middle = float(values[0]) if alive[0] else (low + high) / 2
    return Range(low=low, nominal=min(max(middle, low), high), high=high, unit=unit)


def _volts_at(front: Front, box: _Box, solved: Steady, cuts: tuple[int, ...], place: int) -> Array:
    at = cuts.index(place)
    if place <= front.split:
        ohm = _sum(box.segments_ohm[:at], box.port_v)
        drop = _sum(box.segments_v[:at], box.port_v)
        return np.maximum(box.port_v - drop - solved.port_a * ohm, 0.0)
    ohm = _sum(box.segments_ohm[at:], box.port_v)
    drop = _sum(box.segments_v[at:], box.port_v)
    plug = solved.feed_v - solved.in_a * solved.feed_ohm
    there = plug + solved.in_a * ohm + drop
    return np.where(solved.dead, 0.0, np.maximum(there, 0.0))


def _solve(front: Front, box: _Box, cuts: tuple[int, ...]) -> Steady:
    split = cuts.index(front.split)
    converter = front.converter
    yes = np.full(box.port_v.shape, True)
    down = converter is not None and converter.direction == "step-down"
    up = converter is not None and converter.direction == "step-up"
    chains = Chains(
        port_v=box.port_v,
        front_ohm=_sum(box.segments_ohm[:split], box.port_v),
        back_ohm=_sum(box.segments_ohm[split:], box.port_v),
        front_drop_v=_sum(box.segments_v[:split], box.port_v),
        back_drop_v=_sum(box.segments_v[split:], box.port_v),
        set_low_v=box.set_v,
        set_high_v=box.set_v,
        needs_v=box.needs_v,
        efficiency=box.efficiency,
        quiescent_a=box.quiescent_a,
        pass_ohm=box.pass_ohm,
        converts=yes if converter is not None else ~yes,
        passes=yes if down else ~yes,
        lifts=yes if up else ~yes,
    )
    return steady(chains, box.load)


def _sum(arrays: Sequence[Array], like: Array) -> Array:
    return sum(arrays, start=np.zeros_like(like))


def _box(front: Front, state: State, draw: Draw, cuts: tuple[int, ...]) -> _Box:
    segments = [front.parts[a:b] for a, b in pairwise(cuts)]
    converter = front.converter
    set_v = headroom = quiescent = passing = _NOUGHT
    efficiency: Ends = (1.0, 1.0, 1.0)
    accepts_v = 0.0
    if converter is not None:
        quantities = (
            *(converter.gives_v, converter.headroom_v, converter.quiescent_a),
            *(converter.pass_ohm, converter.efficiency),
        )
        set_v, headroom, quiescent, passing, efficiency = (
            (q.low, q.value, q.high) for q in quantities
        )
        accepts_v = converter.accepts_low_v
    axes: list[Ends] = [
        (state.low_v, state.nominal_v, state.high_v),
        *(_ohms(parts) for parts in segments),
        *(_drops(parts, draw) for parts in segments),
        *(set_v, headroom, efficiency, quiescent, passing),
    ]
    ends = len(draw.load.constant_a)
    columns, which = _corners(axes, ends)
    count = len(segments)
    set_at, headroom_at, efficiency_at, quiescent_at, pass_at = columns[1 + 2 * count :]
    needs = np.full_like(set_at, accepts_v)
    if converter is not None and converter.direction == "step-down":
        needs = np.maximum(set_at + headroom_at, accepts_v)
    return _Box(
        port_v=columns[0],
        segments_ohm=tuple(columns[1 : 1 + count]),
        segments_v=tuple(columns[1 + count : 1 + 2 * count]),
        set_v=set_at,
        needs_v=needs,
        efficiency=efficiency_at,
        quiescent_a=quiescent_at,
        pass_ohm=pass_at,
        load=_picked(draw, which),
    )


def _corners(axes: Sequence[Ends], ends: int) -> tuple[list[Array], NDArray[np.intp]]:
    """Every corner of some ranges, the middle first; and which end of the load stands there."""
    values = [np.array([low, high]) if high > low else np.array([low]) for low, _, high in axes]
    grid = np.meshgrid(*values, np.arange(ends), indexing="ij")
    columns = [
        np.concatenate([[middle], g.ravel()])
        for (_, middle, _), g in zip(axes, grid[:-1], strict=True)
    ]
    return columns, np.concatenate([[-1], grid[-1].ravel()]).astype(np.intp)


def _picked(draw: Draw, which: NDArray[np.intp]) -> Load:
    """The load at each corner; the last entry, which -1 names, is the middle."""
    load, middle = draw.load, draw.nominal
    return Load(
        constant_a=np.concatenate([load.constant_a, middle.constant_a])[which],
        power_w=np.concatenate([load.power_w, middle.power_w])[which],
        conductance_s=np.concatenate([load.conductance_s, middle.conductance_s])[which],
    )


def _ohms(parts: tuple[Part, ...]) -> Ends:
    found = series_ohm(parts)
    low, high = sum(q.low for q in found), sum(q.high for q in found)
    return low, sum(q.value for q in found), high


def _drops(parts: tuple[Part, ...], draw: Draw) -> Ends:
    """What diodes take; without a load anything up to that."""
    found = [e.forward_v for part in parts for e in part.elements if isinstance(e, Diode)]
    high = math.fsum(q.high for q in found)
    if draw.idle:
        return 0.0, 0.0, high
    return math.fsum(q.low for q in found), math.fsum(q.value for q in found), high
