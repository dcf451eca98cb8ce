"""The unknowns, states, modes and guards of all circuits of one shape, numbered.

Rows of a compiled circuit are slopes, guards and outputs; their columns are the states, 1, the
port's volts, the line of a ramp switch, and the currents of constant powers.
"""

from functools import cached_property

import numpy as np

from sinkside.outages import modes as m
from sinkside.outages.circuit import Array, Circuit, Ramp, Stage, Wire
from sinkside.outages.modes import Guard, Modes, guard

PORT, PIECE, DEVICE, RECEPTACLE = 0, 1, 2, 3
"""Rows of the modes; the switches of the branches and the crowbars follow."""


class Network:
    """The unknowns, modes and guards of all circuits of one shape, and their figures by runs."""

    def __init__(self, circuit: Circuit) -> None:
        self.circuit = circuit
        self._branches, self._shunts = circuit.branches, circuit.shunts
        self.nodes = len(circuit.shunts)
        self._number()
        self.guards = self._guards()
        self.figures = self._gathered()

    def _number(self) -> None:
        """Give numbers to unknowns, states, columns and modes."""
        unknown = self.nodes
        self.port_a = unknown
        self.branch_a = [unknown + 1 + k for k in range(len(self._branches))]
        unknown = self.port_a + 1 + len(self._branches)
        self.into_a: dict[int, int] = {}
        self.capacitor_a: dict[int, int] = {}
        for k, branch in enumerate(self._branches):
            if isinstance(branch, Stage):
                self.into_a[k] = unknown
                unknown += 1
        for k, shunt in enumerate(self._shunts):
            if shunt.farad is not None:
                self.capacitor_a[k] = unknown
                unknown += 1
        self.unknowns = unknown
        state = 0
        self.capacitor: dict[int, int] = {}
        self.inductance: dict[int, int] = {}
        for k in self.capacitor_a:
            self.capacitor[k] = state
            state += 1
        for k, branch in enumerate(self._branches):
            if isinstance(branch, Wire) and branch.henry is not None:
                self.inductance[k] = state
                state += 1
        self.states = state
        self.one, self.port_v, column = state, state + 1, state + 2
        self.ramp = next((k for k, b in enumerate(self._branches) if isinstance(b, Ramp)), None)
        self.stage = next((k for k, b in enumerate(self._branches) if isinstance(b, Stage)), None)
        self.powered = bool(np.any(self.circuit.load.power_w > 0.0))
        self.line_v = self.start_v = self.load_a = self.stage_a = -1
        if self.ramp is not None:
            self.line_v, column = column, column + 1
        if self.stage is not None:
            self.start_v, column = column, column + 1
        if self.powered:
            self.load_a, column = column, column + 1
        if self.stage is not None:
            self.stage_a, column = column, column + 1
        self.columns = column
        self.mode_of: dict[int, int] = {}
        self.crowbar_of: dict[int, int] = {}
        mode = RECEPTACLE + 1
        for k, branch in enumerate(self._branches):
            if not isinstance(branch, Wire) or branch.one_way:
                self.mode_of[k], mode = mode, mode + 1
        for k, shunt in enumerate(self._shunts):
            if shunt.crowbar_v is not None:
                self.crowbar_of[k], mode = mode, mode + 1
        self.charging_of: dict[int, int] = {}
        for k, shunt in enumerate(self._shunts):
            if shunt.charging is not None:
                self.charging_of[k], mode = mode, mode + 1
        self.modes = mode

    def _guards(self) -> tuple[Guard, ...]:
        pieces = self.circuit.load.pieces
        found = [
            guard(PORT, m.PORT_HOLDS, m.PortMode),
            guard(PORT, m.PORT_LIMIT, m.PortMode),
            Guard(mode=PIECE, after=tuple(min(k + 1, pieces - 1) for k in range(pieces))),
            Guard(mode=PIECE, after=tuple(max(k - 1, 0) for k in range(pieces))),
            guard(DEVICE, m.DEVICE, m.DeviceMode),
            guard(RECEPTACLE, m.RECEPTACLE, m.ReceptacleMode),
        ]
        for k, row in self.mode_of.items():
            match self._branches[k]:
                case Wire():
                    found.append(guard(row, m.WIRE, m.WireMode))
                case Ramp():
                    tables = (m.RAMP_LINE, m.RAMP_LOST, m.RAMP_BACK)
                    found += [guard(row, table, m.RampMode) for table in tables]
                case Stage():
                    stage = (
                        m.STAGE_TARGET,
                        m.STAGE_OTHER,
                        m.STAGE_LIMIT,
                        m.STAGE_DUTY,
                        m.STAGE_LOST,
                    )
                    found += [guard(row, table, m.StageMode) for table in stage]
        found += [guard(row, m.CROWBAR, m.CrowbarMode) for row in self.crowbar_of.values()]
        found += [guard(row, m.CHARGING, m.ChargingMode) for row in self.charging_of.values()]
        return tuple(found)

    # Rows of the result, in this order: slopes of the states, guards, outputs.

    @property
    def first_guard(self) -> int:
        """The row of the first guard."""
        return self.states

    @cached_property
    def pins_v(self) -> int:
        """The row of the volts at the device's pins; the other outputs follow."""
        return self.states + len(self.guards)

    @property
    def receptacle_v(self) -> int:
        """The row of the volts at the port's receptacle."""
        return self.pins_v + 1

    @property
    def out_a(self) -> int:
        """The row of the current out of the port."""
        return self.pins_v + 2

    @property
    def stage_v(self) -> int:
        """The row of the volts before the converter; its own volts and current follow."""
        return self.pins_v + 3

    @property
    def given_v(self) -> int:
        """The row of the volts that the converter makes; 0 where it asks for no power."""
        return self.pins_v + 4

    @property
    def given_a(self) -> int:
        """The row of the current out of it over its efficiency: what those volts ask for."""
        return self.pins_v + 5

    @property
    def before_ramp_v(self) -> int:
        """The row of the volts before the ramp switch; the current through it is the next."""
        return self.pins_v + (6 if self.stage is not None else 3)

    @property
    def through_ramp_a(self) -> int:
        """The row of the current through the ramp switch."""
        return self.before_ramp_v + 1

    @property
    def rows(self) -> int:
        """How many rows there are."""
        return self.pins_v + 3 + 3 * (self.stage is not None) + 2 * (self.ramp is not None)

    def _gathered(self) -> dict[str, int]:
        """Names of the figures that the equations need, each with its row in `values`."""
        circuit = self.circuit
        named: dict[str, Array] = {"source_ohm": circuit.source_ohm}
        for k, branch in enumerate(self._branches):
            named |= {f"b{k}.{n}": v for n, v in vars(branch).items() if isinstance(v, np.ndarray)}
        for k, shunt in enumerate(self._shunts):
            named |= {f"s{k}.{n}": v for n, v in vars(shunt).items() if isinstance(v, np.ndarray)}
            if shunt.charging is not None:
                named |= {f"c{k}.{n}": v for n, v in vars(shunt.charging).items()}
        named["load.runs_from_v"] = circuit.load.runs_from_v
        for name in ("constant_a", "power_w", "conductance_s", "leaves_low_v", "leaves_high_v"):
            named |= {f"load.{name}.{p}": row for p, row in enumerate(getattr(circuit.load, name))}
        self.values = np.stack([np.broadcast_to(v, (circuit.runs,)) for v in named.values()])
        return {name: row for row, name in enumerate(named)}

    def start(self) -> Modes:
        """The modes of a dead circuit, shape (modes, runs)."""
        modes = np.zeros((self.modes, self.circuit.runs), dtype=np.int8)
        modes[PIECE] = self.circuit.load.pieces - 1
        return modes
