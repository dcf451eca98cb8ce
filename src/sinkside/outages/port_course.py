"""From a schedule to volts in time: when the port is on, how high it stands, what it can give."""

from dataclasses import dataclass

import numpy as np

from sinkside.outages.circuit import Array
from sinkside.outages.course import Course
from sinkside.outages.ends import Look
from sinkside.outages.port_machine import GIVES_NOTHING, Cause, PortState, after
from sinkside.outages.schedules import Moment, Schedule
from sinkside.quantity import Quantity

REST_S = 60.0
"""The least time for a run to come to rest before an event."""

_FIRST_RISE_S = 0.02
_UNLIMITED_A = 1e4


@dataclass(frozen=True, kw_only=True)
class PortFigures:
    """What a port gives, whatever happens on it.

    Parameters
    ----------
    five_v
        Before and without a contract.
    before_v, after_v
        Under the contract before the event, and under the one after it.
    rise_v_per_s
        How fast its volts move.
    trip_a, patience_s
        Its largest current, and how long it stands that before it lets go.
    discharge_ohm
        What it bleeds VBUS with.
    """

    five_v: Quantity
    before_v: Quantity
    after_v: Quantity
    rise_v_per_s: Quantity
    trip_a: Quantity
    patience_s: Quantity
    discharge_ohm: Quantity


@dataclass(frozen=True, kw_only=True)
class Gate:
    """A trigger's output switch.

    Parameters
    ----------
    closes_after
        Whether the contract after the event is the one that it was made for.
    """

    closes_after: bool


class _Corners:
    """Corners as they are put one after the other."""

    def __init__(self, look: Look, figures: PortFigures, gate: Gate | None) -> None:
        self.look, self.gate = look, gate
        self.rise = look.at(figures.rise_v_per_s, "rise")
        self.t: list[Array] = []
        self.v: list[Array] = []
        self.on: list[bool] = []
        self.bleeds: list[bool] = []
        self.limited: list[bool] = []
        self.waits: list[int] = []

    def put(self, t: Array, v: Array, *, on: bool, bleeds: bool, limited: bool = True) -> None:
        """A corner, and what the port does from there on."""
        self.t.append(np.maximum(t, self.t[-1]) if self.t else t)
        self.v.append(v)
        self.on.append(on)
        self.bleeds.append(bleeds)
        self.limited.append(limited)

    def comes(self, until: Array, to: Array) -> None:
        """Volts come out of nothing, so as to be there at a time."""
        begins = np.maximum(until - to / self.rise, self.t[-1])
        self.put(begins, to * 0.0, on=True, bleeds=False)
        self.put(until, to, on=True, bleeds=False)

    def moves(self, until: Array, to: Array) -> None:
        """The volts move in a straight line, so as to be there at a time."""
        now = self.v[-1]
        begins = np.maximum(until - np.abs(to - now) / self.rise, self.t[-1])
        falls = bool(np.all(to < now))
        self.put(begins, now, on=True, bleeds=falls)
        self.put(until, to, on=True, bleeds=False)


def course(
    schedule: Schedule,
    figures: PortFigures,
    look: Look,
    *,
    tail_s: Array,
    rest_s: Array | None = None,
    trips: bool = True,
    gate: Gate | None = None,
) -> Course:
    """The course of a port through a schedule.

    Parameters
    ----------
    schedule
        What happens, and with which delays.
    tail_s
        How long to go on after it.
    rest_s
        How long to come to rest before it; `REST_S` if not said.
    trips
        Whether the port lets go of too much current, and tries again.
    gate
        The output switch of a trigger that passes on nothing but the contract it asked for;
        what is behind it then stands apart from the port while it is open, neither bled by
        the port nor in its way.

    Notes
    -----
    Volts move at the port's own speed and arrive when their timer ends. Where VBUS is taken
    away the port gives nothing and bleeds. An output that is lowered is not pulled down: the
    port waits for what is behind it, and bleeds.
    """
    corners = _Corners(look, figures, gate)
    zero = np.zeros(look.columns)
    rests = schedule.state not in GIVES_NOTHING
    before = look.at(figures.before_v, "volts")
    if rests:
        rest = np.full(look.columns, REST_S) if rest_s is None else np.maximum(rest_s, REST_S)
        corners.put(-rest, zero, on=True, bleeds=False, limited=False)
        corners.put(_FIRST_RISE_S - rest, before, on=True, bleeds=False, limited=False)
        corners.put(zero, before, on=True, bleeds=False)
    else:
        corners.put(zero, zero, on=False, bleeds=gate is None)
    watched = len(corners.t) - 1
    ends = _play(corners, schedule.state, schedule.moments, figures, zero)
    corners.put(ends + tail_s, corners.v[-1], on=corners.on[-1], bleeds=corners.bleeds[-1])
    retry = None
    if trips:
        retry = len(corners.t)
        _retry(corners, schedule, figures, tail_s)
    on = np.array(corners.on[:-1])[:, None] & np.ones(look.columns, dtype=bool)
    limited = np.array(corners.limited[:-1])[:, None]
    bleeds = np.array(corners.bleeds[:-1])[:, None]
    return Course(
        t_s=np.stack(corners.t),
        v=np.stack(corners.v),
        on=on,
        bleed_s=np.where(bleeds, 1.0 / look.at(figures.discharge_ohm, "discharge"), 0.0),
        limit_a=np.where(limited, look.at(figures.trip_a, "trip"), _UNLIMITED_A),
        patience_s=look.at(figures.patience_s, "patience"),
        watched=watched,
        retry=retry,
        waits=tuple(corners.waits),
    )


def _play(
    corners: _Corners,
    state: PortState,
    moments: tuple[Moment, ...],
    figures: PortFigures,
    now: Array,
) -> Array:
    """Play moments from a time on; when the last is over."""
    look = corners.look
    five, contract = look.at(figures.five_v, "volts"), look.at(figures.after_v, "volts")
    ready = [k for k, moment in enumerate(moments) if moment.cause is Cause.READY]
    for k, moment in enumerate(moments):
        now = now + look.at(moment.delay_s, "delay")
        later = after(state, moment.cause)
        gate = corners.gate
        if moment.waits and gate is None:
            corners.put(now, corners.v[-1], on=False, bleeds=True)
            corners.waits.append(len(corners.t) - 1)
        if state not in GIVES_NOTHING and later in GIVES_NOTHING:
            # Its volts stand until then; what they would be afterwards is of no matter.
            corners.put(now, corners.v[-1], on=False, bleeds=gate is None)
        elif moment.cause is Cause.SAFE_5V and gate is None:
            corners.comes(now, five)
        elif moment.cause is Cause.READY:
            # With two contracts one after the other the first is that for 5 V.
            last = k == ready[-1]
            if gate is None:
                corners.moves(now, contract if last else five)
            elif last and gate.closes_after and not corners.on[-1]:
                corners.comes(now, contract)
            elif last and gate.closes_after:
                corners.moves(now, contract)
            elif last:
                corners.put(now, corners.v[-1], on=False, bleeds=False)
        state = later
    return now


def _retry(corners: _Corners, schedule: Schedule, figures: PortFigures, tail_s: Array) -> None:
    """What follows a trip: off at once, then the standard's way back."""
    start = corners.t[-1]
    corners.put(start, np.zeros_like(start), on=False, bleeds=corners.gate is None)
    ends = _play(corners, PortState.TRANSITION_TO_DEFAULT, schedule.retries, figures, start)
    corners.put(ends + tail_s, corners.v[-1], on=corners.on[-1], bleeds=False)
