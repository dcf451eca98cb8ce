"""Modes that change, and what has to be done when they do."""

import numpy as np
from numpy.typing import NDArray

from sinkside.outages import modes as m
from sinkside.outages.accounts import Ledger
from sinkside.outages.circuit import Array, Circuit, Index, Ramp, Stage
from sinkside.outages.compiled import Drive, compiled
from sinkside.outages.course import Course
from sinkside.outages.crossing import PASSED
from sinkside.outages.effort import Effort
from sinkside.outages.lanes import Lanes
from sinkside.outages.network import DEVICE, PIECE, PORT, RECEPTACLE, Network
from sinkside.outages.notebook import Notebook

# A jump of the volts before a slew limiter that is passed on, V.
_JUMP_V = 1e-3
# No converter is there at once.
_LEAST_START_S = 1e-6


class Switchboard:
    """The modes of a batch of runs."""

    def __init__(
        self,
        network: Network,
        course: Course,
        lanes: Lanes,
        notes: Notebook,
        ledger: Ledger | None,
        effort: Effort,
    ) -> None:
        self._network, self._course, self._lanes = network, course, lanes
        self._notes, self._ledger, self._effort = notes, ledger, effort
        self._after = [np.array(g.after, dtype=np.int8) for g in network.guards]
        slewing = network.ramp is not None and _every_step(network.circuit, network.ramp)
        self.slews = network.ramp if slewing else None
        stage = None if network.stage is None else network.circuit.branches[network.stage]
        self._steps_up = isinstance(stage, Stage) and stage.direction == "step-up"

    def compile(self, at: Index) -> None:
        """Write the equations of some runs anew, in the modes that they are in."""
        lanes, network = self._lanes, self._network
        if not at.size:
            return
        drive = Drive(bleed_s=lanes.bleed_s[at], limit_a=lanes.limit_a[at])
        rows, unknowns = compiled(network, lanes.id[at], lanes.modes[:, at], drive)
        lanes.rows[:, :, at] = rows
        if self._ledger is not None:
            lanes.unknowns[:, :, at] = unknowns
        lanes.power_w[at] = network.circuit.load.power_w[lanes.modes[PIECE, at], lanes.id[at]]

    def settle(self) -> tuple[Array, Array]:
        """Change modes until none is left at the place where it stands."""
        lanes, n = self._lanes, self._network
        equations = self._lanes.equations(self._network)
        x = equations.vector(lanes.t, lanes.y)
        values = equations.values(x)
        moved = np.flatnonzero(~lanes.over)
        while moved.size:
            guards = values[n.first_guard : n.pins_v, moved]
            which = np.argmin(guards, axis=0)
            beyond = guards[which, np.arange(moved.size)] < -PASSED
            slewed = self._slewed(moved, values)
            self._slew(moved[slewed & ~beyond], values)
            self.switch(moved[beyond], which[beyond])
            moved = moved[beyond | slewed]
            moved = moved[~lanes.over[moved]]
            if moved.size:
                part = self._lanes.equations(self._network).at(moved)
                x[:, moved] = part.vector(lanes.t[moved], lanes.y[:, moved])
                values[:, moved] = part.values(x[:, moved])
        self._notes.extremes(lanes.watched & ~lanes.over, values, lanes.t)
        if self._ledger is not None:
            self._ledger.rest(lanes, x)
        return x, values

    def _slewed(self, at: Index, values: Array) -> NDArray[np.bool_]:
        """Where the volts before a ramp switch that is on rise faster than its line, or jump."""
        n = self._network
        if self.slews is None:
            return np.zeros(at.size, dtype=np.bool_)
        lanes = self._lanes
        before = lanes.rows[n.before_ramp_v][:, at]
        rise = before[n.port_v] * lanes.port_v_per_s[at]
        rise = rise + np.einsum("cn,cn->n", before[: n.states], values[: n.states, at])
        on = lanes.modes[n.mode_of[self.slews], at] == m.RampMode.ON
        rate = n.values[n.figures[f"b{self.slews}.rate_v_per_s"], lanes.id[at]]
        jumps = values[n.before_ramp_v, at] > lanes.line_end_v[at] + _JUMP_V
        # What comes back from the device is no arrival.
        jumps &= values[n.through_ramp_a, at] > 0.0
        slewed: NDArray[np.bool_] = on & ((rise > rate * (1.0 + 1e-6)) | jumps)
        return slewed

    def _slew(self, at: Index, values: Array) -> None:
        """Let a ramp switch that is on start another line from where it stands."""
        lanes, n = self._lanes, self._network
        if not at.size or self.slews is None:
            return
        lanes.modes[n.mode_of[self.slews], at] = m.RampMode.RAMPS
        self._line(at, np.minimum(values[n.before_ramp_v, at], lanes.line_end_v[at] + _JUMP_V))
        self._count(at)
        self.compile(at)

    def _line(self, at: Index, volts: Array) -> None:
        lanes, n = self._lanes, self._network
        lanes.line_from_s[at], lanes.line_v[at] = lanes.t[at], volts
        rate = n.values[n.figures[f"b{n.ramp}.rate_v_per_s"], lanes.id[at]]
        lanes.line_v_per_s[at] = rate

    def _start(self, at: Index) -> None:
        """A converter starts: its set volts come along a line; those of a step-up stand at once."""
        lanes, n = self._lanes, self._network
        k, run = n.stage, lanes.id[at]
        set_v, start_s = (n.values[n.figures[f"b{k}.{f}"], run] for f in ("set_v", "start_s"))
        lanes.start_from_s[at] = lanes.t[at]
        lanes.start_v_per_s[at] = set_v / np.maximum(start_s, _LEAST_START_S)
        if self._steps_up and k is not None:
            lanes.modes[n.mode_of[k], at] = m.StageMode.IDLE_HELD

    def _count(self, at: Index) -> None:
        lanes, found = self._lanes, self._notes.found
        run = lanes.id[at]
        found["switches"][run] += 1
        restless = found["switches"][run] >= self._effort.switch_limit
        restless |= found["outages"][run] > self._effort.outage_limit
        found["never_settles"][run[restless]] = True
        self._notes.end(at[restless])

    def switch(self, at: Index, which: Index) -> None:
        """Let guards that were passed lead on."""
        lanes, n = self._lanes, self._network
        if not at.size:
            return
        for number in np.unique(which):
            chosen = at[which == number]
            row = n.guards[number].mode
            before = lanes.modes[row, chosen]
            after = self._after[number][before]
            lanes.modes[row, chosen] = after
            if row == PORT:
                limits = m.PortMode.LIMITS
                self._limiting(chosen, after == limits, before == limits)
            elif row == DEVICE:
                self._notes.device(chosen, after == m.DeviceMode.RUNS)
            elif row == RECEPTACLE:
                self._notes.receptacle(chosen[after == m.ReceptacleMode.DEAD])
            elif n.stage is not None and row == n.mode_of[n.stage]:
                self._start(chosen[before == m.StageMode.OFF])
            elif n.ramp is not None and row == n.mode_of[n.ramp]:
                starts = chosen[(before == m.RampMode.OPEN) & (after == m.RampMode.WAITS)]
                self._line(starts, np.zeros(starts.size))
        self._count(at)
        self.compile(at)

    def _limiting(self, at: Index, limits: NDArray[np.bool_], limited: NDArray[np.bool_]) -> None:
        """The port comes to its limit or leaves it; short pauses do not give its patience back."""
        lanes = self._lanes
        now, patience = lanes.t[at], lanes.patience_s[at]
        fresh = limits & (now - lanes.calm_s[at] > patience)
        lanes.limiting_s[at] = np.where(fresh, now, lanes.limiting_s[at])
        lanes.calm_s[at] = np.where(limited, now, lanes.calm_s[at])
        ends = np.maximum(lanes.limiting_s[at] + patience, now)
        trips = limits & (self._course.retry is not None)
        lanes.deadline_s[at] = np.where(trips, ends, np.inf)


def _every_step(circuit: Circuit, branch: int) -> bool:
    ramp = circuit.branches[branch]
    return isinstance(ramp, Ramp) and ramp.every_step
