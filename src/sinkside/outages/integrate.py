"""Many runs at once, each at its own time and step, from event to event.

An accepted step on which a guard turns negative, in its middle or at its end, is cut where the
guard passes zero on the step's own curve, and the mode changes there. Two passages of one guard
within half a step are missed: lively modes bound the step (`Functions.reach_s`), so that half
a step is little more than a time constant, or half a radian of what rings.
"""

import numpy as np
from numpy.typing import NDArray

from sinkside.outages.accounts import Ledger
from sinkside.outages.circuit import Array, Circuit, Index
from sinkside.outages.corners import Corners
from sinkside.outages.course import Course
from sinkside.outages.crossing import PASSED, passed
from sinkside.outages.effort import USUAL, Effort
from sinkside.outages.lanes import Lanes
from sinkside.outages.network import Network
from sinkside.outages.notebook import Notebook
from sinkside.outages.outcome import Outcome, merged
from sinkside.outages.step import Start
from sinkside.outages.switchboard import Switchboard

_SAFETY, _LEAST, _MOST = 0.9, 0.1, 20.0
# An amplitude, in V or A and in parts of the state, under which nobody looks at a mode.
_LIVELY, _LIVELY_OF = 5e-3, 1e-3
# So many runs are taken together that their figures stay near the processor.
_TOGETHER = 10_000
# Runs that are over are dropped once they are more than one in so many.
_COMPACT = 10


class StepLimit(Exception):
    """Some runs needed more steps than allowed; the text says how many."""


def integrate(
    circuit: Circuit,
    course: Course,
    *,
    effort: Effort = USUAL,
    grid_s: Array | None = None,
    accounts: bool = False,
    start_y: Array | None = None,
) -> Outcome:
    """Follow circuits through the courses of their ports.

    Parameters
    ----------
    circuit, course
        Of as many runs.
    grid_s
        Times at which to keep the waveforms; for few runs.
    accounts
        Whether to keep charge and energy; about twice the work.
    start_y
        Volts of the capacitors from the port on, then currents of the inductances, shape
        (states, runs); dead if not given.

    Raises
    ------
    StepLimit
        Some runs were not over by then.
    OutOfBalance
        Charge or energy of a run does not add up.
    """
    outcomes = []
    with np.errstate(over="ignore", invalid="ignore", divide="ignore", under="ignore"):
        for first in range(0, circuit.runs, _TOGETHER):
            runs = np.arange(first, min(first + _TOGETHER, circuit.runs))
            part = circuit if runs.size == circuit.runs else circuit.at(runs)
            ports = course if runs.size == circuit.runs else course.at(runs)
            batch = _Batch(part, ports, effort, grid_s, accounts=accounts)
            if start_y is not None:
                batch.start(start_y[:, runs])
            outcomes.append(batch.outcome())
    return merged(outcomes)


class _Batch:
    """One batch of runs."""

    def __init__(
        self,
        circuit: Circuit,
        course: Course,
        effort: Effort,
        grid_s: Array | None,
        *,
        accounts: bool,
    ) -> None:
        network = self._network = Network(circuit)
        lanes = self._lanes = Lanes(network, course, accounts=accounts)
        ledger = self._ledger = Ledger(network, circuit.runs) if accounts else None
        notes = self._notes = Notebook(network, lanes, grid_s)
        self._board = Switchboard(network, course, lanes, notes, ledger, effort)
        self._corners = Corners(course, lanes, notes, self._board, effort)
        self._effort, self._recording = effort, grid_s is not None
        # One state has no curve between its ends that turns: it needs no bound but for accounts.
        self._bounded = network.states > 1 or accounts

    def start(self, y: Array) -> None:
        """Begin with other states than dead ones."""
        self._lanes.y = y.astype(np.float64)

    def outcome(self) -> Outcome:
        """Integrate to the end."""
        lanes = self._lanes
        for _ in range(self._effort.step_limit):
            self._corners.turn()
            x, values = self._board.settle()
            over = np.count_nonzero(lanes.over)
            if over == lanes.size:
                break
            if _COMPACT * over > lanes.size:
                kept = ~lanes.over
                lanes.keep(kept)
                x, values = np.ascontiguousarray(x[:, kept]), values[:, kept]
            self._advance(x, values)
        else:
            left = int(np.count_nonzero(~lanes.over))
            limit = self._effort.step_limit
            raise StepLimit(f"{left} runs are not over after {limit} steps each")
        return self._notes.outcome(self._ledger.closed() if self._ledger else None)

    def _advance(self, x: Array, at_start: Array) -> None:
        """One step of every run."""
        lanes = self._lanes
        left = np.minimum(np.where(lanes.waiting, lanes.hold_s, lanes.corner_s), lanes.deadline_s)
        left = np.where(lanes.over, 0.0, left - lanes.t)
        start = Start.of(self._lanes.equations(self._network), lanes.t, lanes.y, x)
        wanted = lanes.h
        if self._bounded:
            reach = start.reach_s(_LIVELY + _LIVELY_OF * np.abs(lanes.y))
            wanted = np.minimum(wanted, reach)
        h = np.minimum(wanted, left)
        # A sliver before a corner would make the next step start from nothing.
        h = np.where(left - h < 1e-3 * h, left, h)
        y, error = start.after(h)
        good = self._judged(h, y, error)
        half = start.after(0.5 * h)[0]
        equations = start.equations
        at_half = equations.values(equations.vector(lanes.t + 0.5 * h, half))
        at_end = equations.values(equations.vector(lanes.t + h, y))
        hit, share, which, found = self._cut(start, h, good, at_half, at_end)
        whole = np.ones(lanes.size)
        whole[hit] = share
        y[:, hit] = found
        span = whole * h
        if self._ledger is not None:
            self._ledger.add(lanes, start, span, y, good & lanes.watched & ~lanes.over)
        if self._recording:
            self._notes.record(start, np.where(good, span, 0.0))
        seen = good & lanes.watched & ~lanes.over & (whole == 1.0)
        if self._bounded:
            self._notes.crests(seen, (at_start, at_half, at_end), h)
        else:
            self._notes.extremes(seen, at_half, lanes.t + 0.5 * h)
        # Exactly at the corner: a sum would miss it by rounding.
        corner = np.where(lanes.waiting, lanes.hold_s, lanes.corner_s)
        corner = np.minimum(corner, lanes.deadline_s)
        ends = np.where((h == left) & (whole == 1.0), corner, lanes.t + span)
        lanes.t = np.where(good & ~lanes.over, ends, lanes.t)
        lanes.y = np.where(good & ~lanes.over, y, lanes.y)
        if self._board.slews is not None:
            x = start.equations.vector(lanes.t, lanes.y)
            row = start.equations.rows[self._network.before_ramp_v]
            lanes.line_end_v = np.einsum("cn,cn->n", row, x)
        self._notes.found["steps"][lanes.id[good & ~lanes.over]] += 1
        if hit.size:
            self._board.switch(hit, which)

    def _judged(self, h: Array, y: Array, error: Array) -> NDArray[np.bool_]:
        """Which steps are good, and how long the next shall be."""
        lanes, effort = self._lanes, self._effort
        size = np.maximum(np.abs(lanes.y), np.abs(y))
        ratio = np.max(np.abs(error) / (effort.absolute + effort.relative * size), axis=0)
        good: NDArray[np.bool_] = ratio <= 1.0
        factor = _SAFETY * np.maximum(ratio, 1e-9) ** (-1.0 / 3.0)
        factor = np.minimum(np.maximum(np.where(np.isfinite(ratio), factor, 0.0), _LEAST), _MOST)
        wanted = np.maximum(h * factor, 1e-12)
        # A step that was cut short says nothing against the longer one before it.
        short = good & (h < lanes.h)
        lanes.h = np.where(short, np.maximum(wanted, lanes.h), wanted)
        return good

    def _cut(
        self,
        start: Start,
        h: Array,
        good: NDArray[np.bool_],
        at_half: Array,
        at_end: Array,
    ) -> tuple[Index, Array, Index, Array]:
        """Runs whose step is cut, at which share, by which guard, and the states there."""
        n = self._network
        half, end = (values[n.first_guard : n.pins_v] for values in (at_half, at_end))
        beyond = np.minimum(half.min(axis=0), end.min(axis=0)) < -PASSED
        hit = np.flatnonzero(good & ~self._lanes.over & (h > 0.0) & beyond)
        if not hit.size:
            empty = np.zeros(0)
            return hit, empty, hit, start.y[:, hit]
        share, which, y = passed(n, start.at(hit), h[hit], half[:, hit], end[:, hit])
        return hit, share, which, y
