"""Drive many runs at once, each at its own time and step, from event to event."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from .circuit import PIECE, Circuit, Frozen, Modes
from .sequence import Array, Index
from .steps import Method, Step

_SAFETY, _LEAST, _MOST = 0.9, 0.1, 20.0
_FIRST_S = 1e-4
# a guard counts as passed beyond this, V: above rounding, far below what anyone asks
_PASSED_V = 1e-9
_SEARCHES = 60


class StepLimit(Exception):
    """Some runs needed more steps than allowed."""


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What came of the runs.

    Parameters
    ----------
    crossings
        Changes of the load's piece, all of them, shape (runs,).
    lost_s, regained_s
        First time the load left its first piece, and last time it came back to it; NaN if not.
    least_v, most_v
        Pins, over accepted steps and events after the load first ran.
    steps, rejected, evaluations
        Of all runs.
    grid_v
        Pins on the asked times, shape (times,), where one run was recorded.
    changes_s
        Times at which the load changed its piece, of a recorded run.
    """

    crossings: NDArray[np.int64]
    lost_s: Array
    regained_s: Array
    least_v: Array
    most_v: Array
    steps: int
    rejected: int
    evaluations: int
    grid_v: Array
    changes_s: tuple[float, ...]


class _Lanes:
    """State of all runs."""

    def __init__(self, circuit: Circuit) -> None:
        runs = circuit.runs
        self.t: Array = circuit.sequence.t_s[0].copy()
        self.y: Array = np.zeros((circuit.states, runs))
        self.modes: Modes = circuit.start()
        self.segment: Index = np.zeros(runs, dtype=np.intp)
        self.h: Array = np.full(runs, _FIRST_S)
        self.crossings: NDArray[np.int64] = np.zeros(runs, dtype=np.int64)
        self.lost: Array = np.full(runs, np.nan)
        self.regained: Array = np.full(runs, np.nan)
        self.least: Array = np.full(runs, np.inf)
        self.most: Array = np.full(runs, -np.inf)


def integrate(
    circuit: Circuit,
    method: Method,
    *,
    tolerance: float,
    absolute: float = 1e-6,
    grid_s: Array | None = None,
    step_limit: int = 200_000,
    crossing_limit: int | None = None,
) -> Outcome:
    """Integrate dead circuits over their port sequences.

    Parameters
    ----------
    method
        One of `steps`.
    tolerance, absolute
        Of the local error, relative to the state and in V or A.
    grid_s
        Times at which to keep the pins' volts; one run only.
    step_limit
        Steps taken together at most.
    crossing_limit
        A run ends early once its load has changed its piece that often: it hiccups.

    Raises
    ------
    StepLimit
        If the runs are not over by then.

    Notes
    -----
    An accepted step on which the least guard turns negative, at its end or its middle, is cut
    where the guard passes zero on the step's own interpolation (Illinois), and the mode changes
    there. Two crossings of a guard within half a step are missed.
    """
    lanes = _Lanes(circuit)
    corners = circuit.sequence.t_s
    last = corners.shape[0] - 2
    active = np.arange(circuit.runs)
    steps = rejected = evaluations = 0
    grid_v = np.full(0 if grid_s is None else grid_s.size, np.nan)
    changes: list[float] = []
    with np.errstate(over="ignore", invalid="ignore", divide="ignore"):
        for _ in range(step_limit):
            _next_segments(lanes, corners, active, last)
            active = active[lanes.t[active] < corners[-1, active]]
            if crossing_limit is not None:
                active = active[lanes.crossings[active] < crossing_limit]
            if not active.size:
                break
            t, y = lanes.t[active], lanes.y[:, active]
            frozen = circuit.frozen(active, lanes.modes[:, active], lanes.segment[active])
            left = corners[lanes.segment[active] + 1, active] - t
            h = np.minimum(lanes.h[active], left)
            # a sliver before a corner would make the next step start from nothing
            h = np.where(left - h < 1e-3 * h, left, h)
            step = method(frozen, t, h, y)
            allowed = absolute + tolerance * np.maximum(np.abs(y), np.abs(step.y))
            ratio = np.max(np.abs(step.error) / allowed, axis=0)
            good = ratio <= 1.0
            factor = _SAFETY * np.maximum(ratio, 1e-9) ** (-1.0 / 3.0)
            factor = np.where(np.isfinite(ratio), np.clip(factor, _LEAST, _MOST), _LEAST)
            # a step that a corner cut short says nothing against the longer one before it
            short = good & (h < lanes.h[active])
            wanted = np.maximum(h * factor, 1e-12)
            lanes.h[active] = np.where(short, np.maximum(wanted, lanes.h[active]), wanted)
            steps += active.size
            rejected += int(np.count_nonzero(~good))
            evaluations += active.size * step.evaluations
            chosen = np.flatnonzero(good)
            if not chosen.size:
                continue
            share, guard = _cut(frozen, step, t, h, chosen)
            inside = step.y[:, chosen]
            cut = np.flatnonzero(guard >= 0)
            if cut.size:
                inside[:, cut] = step.dense(chosen[cut], share[cut])
            if grid_s is not None:
                _record(grid_s, grid_v, frozen, step, t[0], h[0], share[0])
            lane = active[chosen]
            full = (guard < 0) & (h[chosen] == left[chosen])
            lanes.t[lane] = np.where(
                full, corners[lanes.segment[lane] + 1, lane], t[chosen] + share * h[chosen]
            )
            lanes.y[:, lane] = inside
            if cut.size:
                _switch(circuit, lanes, frozen.at(chosen[cut]), lane[cut], guard[cut], changes)
            _note(lanes, frozen.at(chosen), lane)
        else:
            raise StepLimit(f"{active.size} runs are not over after {step_limit} steps each")
    return Outcome(
        crossings=lanes.crossings,
        lost_s=lanes.lost,
        regained_s=lanes.regained,
        least_v=lanes.least,
        most_v=lanes.most,
        steps=steps,
        rejected=rejected,
        evaluations=evaluations,
        grid_v=grid_v,
        changes_s=tuple(changes),
    )


def _next_segments(lanes: _Lanes, corners: Array, active: Index, last: int) -> None:
    """Move runs that stand at a corner into the segment behind it, over empty ones too."""
    while True:
        segment = lanes.segment[active]
        at_end = (lanes.t[active] >= corners[segment + 1, active]) & (segment < last)
        if not at_end.any():
            return
        lanes.segment[active[at_end]] += 1


def _cut(frozen: Frozen, step: Step, t: Array, h: Array, chosen: Index) -> tuple[Array, Index]:
    """Share of the step at which the first guard is passed, and which; 1 and −1 if none is."""
    share = np.ones(chosen.size)
    guard = np.full(chosen.size, -1, dtype=np.intp)
    part = frozen.at(chosen)
    at_end, _ = part.guard(part.volts(t[chosen] + h[chosen]), step.y[:, chosen])
    half = np.full(chosen.size, 0.5)
    at_half, _ = part.guard(part.volts(t[chosen] + 0.5 * h[chosen]), step.dense(chosen, half))
    passed_half = at_half < -_PASSED_V
    hit = np.flatnonzero(passed_half | (at_end < -_PASSED_V))
    if not hit.size:
        return share, guard
    lanes = chosen[hit]
    held = frozen.at(lanes)
    before = np.zeros(hit.size)
    after = np.where(passed_half[hit], 0.5, 1.0)
    over = np.where(passed_half[hit], at_half[hit], at_end[hit]) + _PASSED_V
    under = held.guard(held.volts(t[lanes]), step.dense(lanes, before))[0] + _PASSED_V
    # a guard that is passed from the start is passed at once
    under = np.maximum(under, 0.0)
    side = np.zeros(hit.size)
    for _ in range(_SEARCHES):
        width = after - before
        if np.all(width * h[lanes] <= 1e-12 * t[lanes] + 1e-13):
            break
        guess = before + width * under / np.where(under > over, under - over, 1.0)
        guess = np.clip(guess, before + 1e-3 * width, after - 1e-3 * width)
        value, _ = held.guard(held.volts(t[lanes] + guess * h[lanes]), step.dense(lanes, guess))
        value = value + _PASSED_V
        beyond = value < 0.0
        # Illinois: an end that stays twice gets half its value
        under = np.where(beyond & (side > 0.0), 0.5 * under, under)
        over = np.where(~beyond & (side < 0.0), 0.5 * over, over)
        side = np.where(beyond, 1.0, -1.0)
        after, over = np.where(beyond, guess, after), np.where(beyond, value, over)
        before, under = np.where(beyond, before, guess), np.where(beyond, under, value)
    share[hit] = after
    guard[hit] = held.guard(held.volts(t[lanes] + after * h[lanes]), step.dense(lanes, after))[1]
    return share, guard


def _switch(
    circuit: Circuit,
    lanes: _Lanes,
    frozen: Frozen,
    lane: Index,
    guard: Index,
    changes: list[float],
) -> None:
    before = lanes.modes[:, lane]
    after = circuit.switched(before, guard, frozen, lanes.y[:, lane])
    lanes.modes[:, lane] = after
    changed = before[PIECE] != after[PIECE]
    moved = lane[changed]
    lanes.crossings[moved] += 1
    lost = lane[changed & (before[PIECE] == 0) & np.isnan(lanes.lost[lane])]
    lanes.lost[lost] = lanes.t[lost]
    regained = lane[changed & (after[PIECE] == 0)]
    lanes.regained[regained] = lanes.t[regained]
    if circuit.runs == 1 and changed.any():
        changes.append(float(lanes.t[0]))


def _note(lanes: _Lanes, frozen: Frozen, lane: Index) -> None:
    pins = frozen.pins_v(frozen.volts(lanes.t[lane]), lanes.y[:, lane])
    ran = (lanes.modes[PIECE, lane] == 0) | np.isfinite(lanes.regained[lane])
    lanes.least[lane] = np.where(ran, np.minimum(lanes.least[lane], pins), lanes.least[lane])
    lanes.most[lane] = np.where(ran, np.maximum(lanes.most[lane], pins), lanes.most[lane])


def _record(
    grid_s: Array, grid_v: Array, frozen: Frozen, step: Step, t: float, h: float, share: float
) -> None:
    first, last = np.searchsorted(grid_s, (t, (t + share * h) * (1.0 + 1e-12)))
    if last > first:
        times = grid_s[first:last]
        chosen = np.zeros(times.size, dtype=np.intp)
        part = frozen.at(chosen)
        states = step.dense(chosen, (times - t) / h)
        grid_v[first:last] = part.pins_v(part.volts(times), states)
