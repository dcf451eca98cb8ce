"""Fronts in numbers: what parts in a row come to, for many fronts at once.

Each part is looked at once; a front's figures are sums and minima over its parts.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.charger import Charger
from sinkside.parts.elements import Diode, RampSwitch
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.values import CONVERTER_LIMIT, FAULT_OF_RATING, limit, series_ohm
from sinkside.paths.views import End, View
from sinkside.quantity import Quantity
from sinkside.standards.fuse_gates import pulse_ratio
from sinkside.standards.pd_contract import OVERCURRENT_TRIP_HIGH

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
Indices: TypeAlias = NDArray[np.intp]

NONE = float("inf")
# How often a lead is plugged in over the years.
PLUG_INS = 10_000


@dataclass(frozen=True, kw_only=True)
class FrontValues:
    """Fronts in numbers, shape (fronts, columns of the view), or (fronts,) where all views agree.

    Parameters
    ----------
    front_ohm, back_ohm, front_least_ohm, back_least_ohm
        Series resistance before and behind the converter, at its most and at its least.
    front_drop_v, back_drop_v
        Most that diodes before and behind the converter take, beside their slope.
    set_low_v, set_high_v, needs_v, efficiency, efficiency_most, quiescent_a, pass_ohm
        Of the converter.
    ramp_s
        Of what softens the step to the contract; nought if nothing does.
    rated_a, rated_port_a
        Of the weakest part on the load side, and of cable and trigger.
    rated_v, rated_load_v
        Of the weakest part up to the converter, and behind it.
    weakest_a
        What the leads carry for as long as a fault lasts.
    fault_a
        Largest current that can flow for long.
    """

    front_ohm: Array
    back_ohm: Array
    front_least_ohm: Array
    back_least_ohm: Array
    front_drop_v: Array
    back_drop_v: Array
    set_low_v: Array
    set_high_v: Array
    needs_v: Array
    efficiency: Array
    efficiency_most: Array
    quiescent_a: Array
    pass_ohm: Array
    ramp_s: Array
    fault_a: Array
    converts: Mask
    steps_down: Mask
    steps_up: Mask
    fuse_in_front: Mask
    rated_a: Array
    rated_port_a: Array
    rated_v: Array
    rated_load_v: Array
    weakest_a: Array
    converter_a: Array
    fuse_a: Array
    fuse_pulse_a2s: Array
    press_v: Array


def front_values(fronts: Sequence[Front], view: View) -> FrontValues:
    """Fronts seen through a view; every quantity at its bad end."""
    row = _InRow(fronts, view)
    most, least = row.column(_most_ohm), row.column(_least_ohm)
    carries = row.scalar([p.carries_a for p in row.parts])
    stands = row.scalar([p.withstands_v for p in row.parts])
    fuse = row.flag([p.fuse is not None for p in row.parts])
    kind = [p.kind for p in row.parts]
    lead = row.flag([k in ("lead", "reverser") for k in kind])
    moulded = row.flag([p.kind == "trigger" and p.gives.kind == "barrel" for p in row.parts])
    port_side = row.flag([k in ("cable", "trigger") for k in kind])
    before, behind, at = row.before, row.behind, row.at_converter
    converts = row.any(at)
    load_side = ~fuse & ~row.flag([k == "cable" for k in kind]) & ~(before & converts[row.owner])
    ramps = row.flag([_ramp(p) is not None for p in row.parts]) & (
        row.flag([_every_step(p) for p in row.parts]) | row.gated[row.owner]
    )
    direction = [p.converter.direction if p.converter else "" for p in row.parts]
    return FrontValues(
        front_ohm=row.sum(most, before),
        back_ohm=row.sum(most, behind),
        front_least_ohm=row.sum(least, before),
        back_least_ohm=row.sum(least, behind),
        front_drop_v=row.sum(row.column(_forward_v), before),
        back_drop_v=row.sum(row.column(_forward_v), behind),
        set_low_v=row.sum(row.column(_set_low), at),
        set_high_v=row.sum(row.column(_set_high), at),
        needs_v=row.sum(row.column(_needs), at),
        efficiency=np.where(converts[:, None], row.sum(row.column(_efficiency), at), 1.0),
        efficiency_most=np.where(converts[:, None], row.sum(row.column(_efficiency_most), at), 1.0),
        quiescent_a=row.sum(row.column(_quiescent), at),
        pass_ohm=row.sum(row.column(_pass_ohm), at),
        ramp_s=row.sum(row.column(_ramp_s), row.first(ramps)),
        fault_a=_fault_a(row, fuse),
        converts=converts,
        steps_down=row.any(at & row.flag([d == "step-down" for d in direction])),
        steps_up=row.any(at & row.flag([d == "step-up" for d in direction])),
        fuse_in_front=row.any(before & fuse) & converts,
        rated_a=row.least(carries, load_side),
        rated_port_a=row.least(carries, before & port_side),
        rated_v=row.least(stands, before | at),
        rated_load_v=row.least(stands, behind),
        weakest_a=FAULT_OF_RATING * row.least(carries, lead | moulded),
        converter_a=row.least(carries, at),
        fuse_a=row.least(carries, fuse),
        fuse_pulse_a2s=pulse_ratio(PLUG_INS) * row.sum(row.column(_melts), row.first(fuse)),
        press_v=1.05 * np.array([max(f.trigger.presses_v, default=0.0) for f in fronts]),
    )


class _InRow:
    """The parts of all fronts in one row, with where each stands."""

    def __init__(self, fronts: Sequence[Front], view: View) -> None:
        self.view = view
        self.fronts = fronts
        place: dict[Part, int] = {}
        flat = [place.setdefault(p, len(place)) for f in fronts for p in f.parts]
        self.parts = tuple(place)
        self.index: Indices = np.array(flat, dtype=np.intp)
        lengths = np.array([len(f.parts) for f in fronts], dtype=np.intp)
        self.starts: Indices = np.concatenate([[0], np.cumsum(lengths)[:-1]]).astype(np.intp)
        self.owner: Indices = np.repeat(np.arange(len(fronts)), lengths)
        position = np.arange(len(flat)) - self.starts[self.owner]
        split = np.array([f.split for f in fronts], dtype=np.intp)[self.owner]
        self.before: Mask = position < split
        self.at_converter: Mask = position == split
        self.behind: Mask = position > split
        self.gated: Mask = np.array([f.trigger.gated for f in fronts], dtype=bool)

    def column(self, of: Callable[[Part, View], Array | None]) -> Array:
        """A quantity of each part in the row, shape (row, columns); nought where it has none."""
        nothing = np.zeros(self.view.columns)
        found = [of(part, self.view) for part in self.parts]
        return np.array([nothing if v is None else v for v in found])[self.index]

    def scalar(self, values: Sequence[float]) -> Array:
        """A plain figure of each part in the row."""
        return np.array(values, dtype=np.float64)[self.index]

    def flag(self, values: Sequence[bool]) -> Mask:
        """Whether each part in the row is of a kind."""
        return np.array(values, dtype=bool)[self.index]

    def sum(self, values: Array, mask: Mask) -> Array:
        """Over the parts of each front that the mask lets through."""
        total: Array = np.add.reduceat(np.where(mask[:, None], values, 0.0), self.starts, axis=0)
        return total

    def least(self, values: Array, mask: Mask) -> Array:
        """Over the parts of each front that the mask lets through; infinite where there is none."""
        least: Array = np.minimum.reduceat(np.where(mask, values, NONE), self.starts)
        return least

    def any(self, mask: Mask) -> Mask:
        """Whether the mask lets any part of each front through."""
        found: Mask = np.logical_or.reduceat(mask, self.starts)
        return found

    def first(self, mask: Mask) -> Mask:
        """The mask without all but the first part of each front."""
        count = np.cumsum(mask)
        sooner: Indices = (count - mask)[self.starts][self.owner]
        only: Mask = mask & (count - sooner == 1)
        return only


def _fault_a(row: _InRow, fuse: Mask) -> Array:
    """Largest current that can flow for long in lead, plug and jack: see `values.fault_a`."""
    opens = row.scalar(
        [p.fuse.rated_a * p.fuse.opens_at_ratio if p.fuse else NONE for p in row.parts]
    )
    port = OVERCURRENT_TRIP_HIGH * np.array([_largest_a(f.charger, f.port) for f in row.fronts])
    before = np.minimum(port, row.least(opens, fuse & row.before))
    behind = row.least(opens, fuse & ~row.before)
    carries = row.least(row.scalar([p.carries_a for p in row.parts]), row.at_converter)
    converts = np.isfinite(carries)
    low, high = (
        np.minimum(np.where(converts, np.maximum(before, ratio * carries), before), behind)
        for ratio in CONVERTER_LIMIT
    )
    named = np.array([min(f.split, len(f.parts) - 1) for f in row.fronts]) + row.starts
    kinds, at = np.unique(
        np.column_stack([low, high, row.index[named]]), axis=0, return_inverse=True
    )
    seen = [
        row.view.at(limit(float(a), float(b), row.parts[int(part)]), "high") for a, b, part in kinds
    ]
    return np.array(seen)[at.reshape(-1)]


@lru_cache(maxsize=1000)
def _largest_a(charger: Charger, port: str) -> float:
    return charger.largest_a(port)


@lru_cache(maxsize=20_000)
def _most_ohm(part: Part, view: View) -> Array:
    return _sum(series_ohm((part,)), view, "high")


@lru_cache(maxsize=20_000)
def _least_ohm(part: Part, view: View) -> Array:
    return _sum(series_ohm((part,)), view, "low")


def _sum(quantities: tuple[Quantity, ...], view: View, bad: End) -> Array:
    return sum((view.at(q, bad) for q in quantities), start=np.zeros(view.columns))


def _forward_v(part: Part, view: View) -> Array | None:
    drops = tuple(e.forward_v for e in part.elements if isinstance(e, Diode))
    return _sum(drops, view, "high") if drops else None


def _melts(part: Part, view: View) -> Array | None:
    return view.at(part.fuse.melts_a2s, "low") if part.fuse else None


def _set_low(part: Part, view: View) -> Array | None:
    return view.at(part.converter.gives_v, "low") if part.converter else None


def _set_high(part: Part, view: View) -> Array | None:
    return view.at(part.converter.gives_v, "high") if part.converter else None


def _needs(part: Part, view: View) -> Array | None:
    """Least volts before the converter at which it holds its output."""
    converter = part.converter
    if converter is None:
        return None
    least = np.full(view.columns, converter.accepts_low_v)
    if converter.direction != "step-down":
        return least
    wanted = view.at(converter.gives_v, "high") + view.at(converter.headroom_v, "high")
    enough: Array = np.maximum(wanted, least)
    return enough


def _efficiency(part: Part, view: View) -> Array | None:
    return view.at(part.converter.efficiency, "low") if part.converter else None


def _efficiency_most(part: Part, view: View) -> Array | None:
    return view.at(part.converter.efficiency, "high") if part.converter else None


def _quiescent(part: Part, view: View) -> Array | None:
    return view.at(part.converter.quiescent_a, "high") if part.converter else None


def _pass_ohm(part: Part, view: View) -> Array | None:
    return view.at(part.converter.pass_ohm, "high") if part.converter else None


def _ramp(part: Part) -> RampSwitch | None:
    return next((e for e in part.elements if isinstance(e, RampSwitch)), None)


def _every_step(part: Part) -> bool:
    ramp = _ramp(part)
    return ramp is not None and ramp.every_step


def _ramp_s(part: Part, view: View) -> Array | None:
    ramp = _ramp(part)
    return view.at(ramp.ramp_s, "low") if ramp else None
