"""The equations of runs in their modes, as rows of numbers.

In a mode everything is linear but the constant powers. Kirchhoff's laws are written for every
node and branch (modified nodal analysis) and solved once for each mode that a run comes into:
slopes, guards and outputs are then rows times the vector (states, 1, port volts, line volts,
load's power current, converter's power current).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from sinkside.outages import modes as m
from sinkside.outages.circuit import LEAK_S, Array, Index, Ramp, Shunt, Stage, Wire
from sinkside.outages.modes import Modes
from sinkside.outages.network import DEVICE, PIECE, PORT, RECEPTACLE, Network
from sinkside.standards.pd_contract import SAFE_0V_V

Mode = TypeVar("Mode", bound=IntEnum)

CROWBAR_S = 20.0
"""What a crowbar that has fired puts across the pair, S."""
# What any guard that does not apply is held at, and so never the least.
_FAR = 1e9


@dataclass(frozen=True, kw_only=True)
class Drive:
    """What the port gives to a set of runs, for as long as it does not switch.

    Parameters
    ----------
    bleed_s
        Conductance across the receptacle while the port takes its volts away, S.
    limit_a
        Largest current, A.
    """

    bleed_s: Array
    limit_a: Array

    def at(self, chosen: Index) -> "Drive":
        """Those of the chosen runs."""
        return Drive(bleed_s=self.bleed_s[chosen], limit_a=self.limit_a[chosen])


def compiled(network: Network, runs: Index, modes: Modes, drive: Drive) -> tuple[Array, Array]:
    """The rows of some runs in some modes.

    Returns
    -------
    rows
        Shape (rows, columns, runs).
    unknowns
        Node volts, then currents, in the same columns: what the accounts are drawn from.
    """
    return _Compiled(network, runs, modes, drive).result()


class _Compiled:
    """Some runs in some modes, with their figures: Kirchhoff's laws, solved."""

    def __init__(self, network: Network, runs: Index, modes: Modes, drive: Drive) -> None:
        self.n, self.modes, self.drive = network, modes, drive
        self._values = network.values[:, runs]
        self.size = runs.size
        self.left = np.zeros((self.size, network.unknowns, network.unknowns))
        self.right = np.zeros((self.size, network.unknowns, network.columns))

    def given(self, name: str) -> Array:
        """A figure of the runs."""
        found: Array = self._values[self.n.figures[name]]
        return found

    def by_piece(self, name: str) -> Array:
        """A figure of the load's piece."""
        rows = [self.n.figures[f"load.{name}.{p}"] for p in range(self.n.circuit.load.pieces)]
        found: Array = self._values[np.array(rows)[self.modes[PIECE]], np.arange(self.size)]
        return found

    def result(self) -> tuple[Array, Array]:
        self._stamp_port()
        for k, branch in enumerate(self.n.circuit.branches):
            match branch:
                case Wire():
                    self._stamp_wire(k, branch)
                case Ramp():
                    self._stamp_ramp(k)
                case Stage():
                    self._stamp_stage(k)
        for k, shunt in enumerate(self.n.circuit.shunts):
            self._stamp_shunt(k, shunt)
        self._stamp_load()
        solved = np.linalg.solve(self.left, self.right)
        self.x: Array = np.ascontiguousarray(np.moveaxis(solved, 0, -1))
        rows = [*self._slopes(), *self._guard_rows(), *self._outputs()]
        return np.stack(rows), self.x

    def _column(self, column: int) -> Array:
        unit = np.zeros((self.n.columns, self.size))
        unit[column] = 1.0
        return unit

    def _of(self, given: Array) -> Array:
        """A constant as a row."""
        row = np.zeros((self.n.columns, self.size))
        row[self.n.one] = given
        return row

    # Kirchhoff's current law has the row of its node, a branch's law the row of its current.

    def _stamp_port(self) -> None:
        n, mode = self.n, self.modes[PORT]
        self.left[:, 0, n.port_a] += 1.0
        holds, limits = mode == m.PortMode.HOLDS, mode == m.PortMode.LIMITS
        self.left[:, n.port_a, n.port_a] = np.where(holds, self.given("source_ohm"), 1.0)
        self.left[:, n.port_a, 0] = holds
        self.right[:, n.port_a, n.port_v] = holds
        self.right[:, n.port_a, n.one] = np.where(limits, self.drive.limit_a, 0.0)
        self.left[:, 0, 0] -= self.drive.bleed_s

    def _join(self, k: int, into: int) -> None:
        """Current leaves node k as `into` and comes to node k + 1 as the branch's own."""
        self.left[:, k, into] -= 1.0
        self.left[:, k + 1, self.n.branch_a[k]] += 1.0

    def _stamp_wire(self, k: int, branch: Wire) -> None:
        n, row = self.n, self.n.branch_a[k]
        self._join(k, row)
        if branch.henry is not None:
            self.left[:, row, row] = 1.0
            self.right[:, row, n.inductance[k]] = 1.0
            return
        conducts = self._conducts(k)
        self.left[:, row, row] = np.where(conducts, -self.given(f"b{k}.ohm"), 1.0)
        self.left[:, row, k] = conducts
        self.left[:, row, k + 1] = np.where(conducts, -1.0, 0.0)
        self.right[:, row, n.one] = np.where(conducts, self.given(f"b{k}.forward_v"), 0.0)

    def _conducts(self, k: int) -> NDArray[np.bool_]:
        if k not in self.n.mode_of:
            return np.ones(self.size, dtype=bool)
        conducts: NDArray[np.bool_] = self.modes[self.n.mode_of[k]] == m.WireMode.CONDUCTS
        return conducts

    def _stamp_ramp(self, k: int) -> None:
        n, row, mode = self.n, self.n.branch_a[k], self.modes[self.n.mode_of[k]]
        self._join(k, row)
        ramps, on = mode == m.RampMode.RAMPS, mode == m.RampMode.ON
        self.left[:, row, row] = np.where(ramps | on, -self.given(f"b{k}.ohm"), 1.0)
        self.left[:, row, k] = on
        self.left[:, row, k + 1] = np.where(ramps | on, -1.0, 0.0)
        self.right[:, row, n.line_v] = np.where(ramps, -1.0, 0.0)

    def _stamp_stage(self, k: int) -> None:
        n, row, into = self.n, self.n.branch_a[k], self.n.into_a[k]
        mode, kind = self.modes[n.mode_of[k]], m.StageMode
        self._join(k, into)
        holds, starts = mode == kind.HOLDS, mode == kind.STARTS
        passes, limits, off = mode == kind.PASSES, mode == kind.LIMITS, mode == kind.OFF
        ratio, gives = self.given(f"b{k}.ratio"), holds | starts | passes
        self.left[:, row, row] = np.where(gives, self.given(f"b{k}.back_ohm"), 1.0)
        self.left[:, row, k + 1] = gives
        self.left[:, row, k] = np.where(passes, -ratio, 0.0)
        limit = np.where(limits, self.given(f"b{k}.limit_a"), 0.0)
        self.right[:, row, n.one] = np.where(holds, self.given(f"b{k}.set_v"), limit)
        self.right[:, row, n.start_v] = starts
        self.left[:, into, into] = 1.0
        self.left[:, into, row] = np.where(passes, -ratio / self.given(f"b{k}.efficiency"), 0.0)
        self.right[:, into, n.one] = np.where(off, 0.0, self.given(f"b{k}.quiescent_a"))
        self.right[:, into, n.stage_a] = holds | starts | limits

    def _stamp_shunt(self, k: int, shunt: Shunt) -> None:
        n = self.n
        siemens = LEAK_S + self.given(f"s{k}.siemens")
        if k in n.crowbar_of:
            shorted = self.modes[n.crowbar_of[k]] == m.CrowbarMode.SHORTS
            siemens = siemens + np.where(shorted, CROWBAR_S, 0.0)
        self.left[:, k, k] -= siemens
        if shunt.farad is not None:
            row = n.capacitor_a[k]
            self.left[:, k, row] -= 1.0
            if k in n.charging_of:
                self._stamp_charging(k)
                return
            self.left[:, row, k] = 1.0
            self.left[:, row, row] = -self.given(f"s{k}.esr_ohm")
            self.right[:, row, n.capacitor[k]] = 1.0

    def _stamp_charging(self, k: int) -> None:
        """I·(1 + r·G) = (V − y)·G + V_f/R_d, with G = 1/R, and 1/R_d more while the diode gives."""
        n, row = self.n, self.n.capacitor_a[k]
        gives = self.modes[n.charging_of[k]] == m.ChargingMode.GIVES
        diode = np.where(gives, 1.0 / self.given(f"c{k}.slope_ohm"), 0.0)
        siemens = 1.0 / self.given(f"c{k}.ohm") + diode
        self.left[:, row, k] = -siemens
        self.left[:, row, row] = 1.0 + self.given(f"s{k}.esr_ohm") * siemens
        self.right[:, row, n.capacitor[k]] = -siemens
        self.right[:, row, n.one] = diode * self.given(f"c{k}.forward_v")

    def _kept_back(self, k: int) -> Array:
        """Volts from the reservoir's terminal to its node, less what the diode keeps."""
        n = self.n
        terminal = self._column(n.capacitor[k])
        terminal = terminal + self.given(f"s{k}.esr_ohm") * self.x[n.capacitor_a[k]]
        over: Array = terminal - self.x[k] - self._of(self.given(f"c{k}.forward_v"))
        return over

    def _stamp_load(self) -> None:
        n, last = self.n, self.n.nodes - 1
        self.left[:, last, last] -= self.by_piece("conductance_s")
        self.right[:, last, n.one] += self.by_piece("constant_a")
        if n.powered:
            self.right[:, last, n.load_a] += 1.0

    def _slopes(self) -> list[Array]:
        n = self.n
        rows = [self._charge_slope(k) for k in n.capacitor]
        for k in n.inductance:
            over = self._over(k) - self.given(f"b{k}.ohm") * self.x[n.branch_a[k]]
            slope = over / self.given(f"b{k}.henry")
            rows.append(np.where(self._conducts(k), slope, 0.0))
        return rows

    def _charge_slope(self, k: int) -> Array:
        n, into = self.n, self.x[self.n.capacitor_a[k]]
        if k in n.charging_of:
            own = self.given(f"c{k}.own_siemens")
            into = into - own * self._column(n.capacitor[k])
        slope: Array = into / self.given(f"s{k}.farad")
        return slope

    def _over(self, k: int) -> Array:
        """Volts from node to node, less what the diode keeps."""
        over: Array = self.x[k] - self.x[k + 1]
        if k in self.n.mode_of:
            over = over - self._of(self.given(f"b{k}.forward_v"))
        return over

    def _guard_rows(self) -> list[Array]:
        rows = [*self._port_guards(), *self._watch_guards()]
        for k in self.n.mode_of:
            match self.n.circuit.branches[k]:
                case Wire():
                    held = self.x[self.n.branch_a[k]]
                    rows.append(np.where(self._conducts(k), held, -self._over(k)))
                case Ramp():
                    rows += self._ramp_guards(k)
                case Stage(direction=direction):
                    rows += self._stage_guards(k, direction)
        for k, row in self.n.crowbar_of.items():
            spare = self._of(self.given(f"s{k}.crowbar_v")) - self.x[k]
            waits = self.modes[row] == m.CrowbarMode.WAITS
            rows.append(np.where(waits, spare, self._far()))
        for k, row in self.n.charging_of.items():
            gives = self.modes[row] == m.ChargingMode.GIVES
            rows.append(np.where(gives, self._kept_back(k), -self._kept_back(k)))
        return rows

    def _far(self) -> Array:
        return self._of(np.full(self.size, _FAR))

    def _by_mode(
        self,
        mode: NDArray[np.int8],
        cases: Mapping[Mode, Array],
        otherwise: Array | None = None,
    ) -> Array:
        row = self._far() if otherwise is None else otherwise
        for value, case in cases.items():
            row = np.where(mode == int(value), case, row)
        return row

    def _port_guards(self) -> list[Array]:
        n, mode = self.n, self.modes[PORT]
        port_v, receptacle, amps = self._column(n.port_v), self.x[0], self.x[n.port_a]
        limit = self._of(self.drive.limit_a)
        return [
            self._by_mode(
                mode,
                {
                    m.PortMode.BLOCKED: receptacle - port_v,
                    m.PortMode.HOLDS: amps,
                    m.PortMode.LIMITS: port_v - receptacle - self.given("source_ohm") * limit,
                },
            ),
            self._by_mode(mode, {m.PortMode.HOLDS: limit - amps}),
        ]

    def _watch_guards(self) -> list[Array]:
        pins = self.x[self.n.nodes - 1]
        over = pins - self._of(self.given("load.runs_from_v"))
        runs = self.modes[DEVICE] == m.DeviceMode.RUNS
        locked = np.array(self.n.circuit.load.locked)[self.modes[PIECE]]
        above = self.x[0] - self._of(np.full(self.size, SAFE_0V_V))
        live = self.modes[RECEPTACLE] == m.ReceptacleMode.LIVE
        return [
            pins - self._of(self.by_piece("leaves_low_v")),
            self._of(self.by_piece("leaves_high_v")) - pins,
            np.where(
                runs, np.where(locked, -self._far(), over), np.where(locked, self._far(), -over)
            ),
            np.where(live, above, -above),
        ]

    def _ramp_guards(self, k: int) -> list[Array]:
        n, mode = self.n, self.modes[self.n.mode_of[k]]
        before, behind, line = self.x[k], self.x[k + 1], self._column(n.line_v)
        present = before - self._of(self.given(f"b{k}.lost_v"))
        return [
            self._by_mode(
                mode,
                {
                    m.RampMode.OPEN: self._of(self.given(f"b{k}.arrives_v")) - before,
                    m.RampMode.WAITS: behind - line,
                    m.RampMode.RAMPS: before - line,
                },
            ),
            np.where(mode == m.RampMode.OPEN, self._far(), present),
            self._by_mode(mode, {m.RampMode.RAMPS: self.x[n.branch_a[k]]}),
        ]

    def _stage_guards(self, k: int, direction: str) -> list[Array]:
        n, mode = self.n, self.modes[self.n.mode_of[k]]
        before, behind, amps = self.x[k], self.x[k + 1], self.x[n.branch_a[k]]
        set_v, limit = self._of(self.given(f"b{k}.set_v")), self._of(self.given(f"b{k}.limit_a"))
        passed, line = self.given(f"b{k}.ratio") * before, self._column(n.start_v)
        down, kind = direction == "step-down", m.StageMode
        # Whether the output can be held: a step-down wants more than it gives, a step-up less.
        sides = {"step-down": passed - set_v, "step-up": set_v - before, "isolated": self._far()}
        held = sides[direction]
        source = behind + self.given(f"b{k}.back_ohm") * limit
        short = passed - line if down else self._far()
        target = {
            kind.OFF: self._of(self.given(f"b{k}.starts_v")) - before,
            kind.HOLDS: held,
            kind.PASSES: -held,
            kind.LIMITS: set_v - source,
            kind.IDLE_HELD: behind - set_v,
            kind.IDLE_PASSING: behind - passed,
            kind.STARTS: set_v - line,
            kind.IDLE_STARTING: behind - line,
        }
        other = {
            kind.HOLDS: amps,
            kind.PASSES: amps,
            kind.LIMITS: passed - source if down else self._far(),
            kind.IDLE_HELD: held,
            kind.IDLE_PASSING: -held,
            kind.STARTS: amps,
            kind.IDLE_STARTING: set_v - line,
        }
        spare = limit - amps
        lost = before - self._of(self.given(f"b{k}.stops_v"))
        return [
            self._by_mode(mode, target),
            self._by_mode(mode, other),
            self._by_mode(mode, {kind.HOLDS: spare, kind.PASSES: spare, kind.STARTS: spare}),
            self._by_mode(mode, {kind.STARTS: short, kind.IDLE_STARTING: short}),
            np.where(mode == kind.OFF, self._far(), lost),
        ]

    def _outputs(self) -> list[Array]:
        n = self.n
        rows = [self.x[n.nodes - 1], self.x[0], self.x[n.port_a]]
        if n.stage is not None:
            k, kind = n.stage, m.StageMode
            mode, limit = self.modes[n.mode_of[k]], self.given(f"b{k}.limit_a")
            amps = self.x[n.branch_a[k]]
            none = np.zeros_like(amps)
            volts = {
                kind.HOLDS: self._of(self.given(f"b{k}.set_v")),
                kind.STARTS: self._column(n.start_v),
                kind.LIMITS: self.x[k + 1] + self._of(self.given(f"b{k}.back_ohm") * limit),
            }
            given = {kind.HOLDS: amps, kind.STARTS: amps, kind.LIMITS: self._of(limit)}
            asked = self._by_mode(mode, given, none) / self.given(f"b{k}.efficiency")
            rows += [self.x[k], self._by_mode(mode, volts, none), asked]
        if n.ramp is not None:
            rows += [self.x[n.ramp], self.x[n.branch_a[n.ramp]]]
        return rows
