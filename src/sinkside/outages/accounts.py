"""Charge and energy of every run, kept beside the integration and closed at its end.

What leaves the port must be found in the load, in heat, or in what is stored: node by node for
charge, element by element for energy (Tellegen's theorem). Powers are integrated over each
accepted step by Gauss's formula of four nodes; a gap in the balance is an error of the program.
"""

import numpy as np
from numpy.typing import NDArray

from sinkside.outages import modes as m
from sinkside.outages.circuit import LEAK_S, Array, Ramp, Stage, Wire
from sinkside.outages.compiled import CROWBAR_S
from sinkside.outages.lanes import Lanes
from sinkside.outages.network import PIECE, Network
from sinkside.outages.outcome import Accounts
from sinkside.outages.step import Start

# Nodes and weights of Gauss-Legendre with four nodes, from -1..1 to 0..1 (Abramowitz and Stegun,
# table 25.4, from memory).
_AT = np.array([-0.8611363115940526, -0.3399810435848563, 0.3399810435848563, 0.8611363115940526])
_WEIGHT = np.array([0.3478548451374538, 0.6521451548625461, 0.6521451548625461, 0.3478548451374538])
_NODES, _WEIGHTS = 0.5 * (1.0 + _AT), 0.5 * _WEIGHT
# A gap that is no more than this part of what was moved is left to the steps' own error.
_GAP = 1e-2
# What is too little to be weighed: a millionth of a coulomb, and of a joule.
_LITTLE = 1e-6
_SUMS = ("port_c", "load_c", "port_j", "load_j", "lost_j", "stored_j", "port_a2s", "pins_a2s")


class OutOfBalance(Exception):
    """Charge or energy of a run does not add up; the text says by how much."""


class Ledger:
    """The accounts of a batch."""

    def __init__(self, network: Network, runs: int) -> None:
        self._n = network
        names = (*_SUMS, "charge_off", "charge_moved", "energy_moved", "held_c", "held_j")
        self._sums = {name: np.zeros(runs) for name in names}

    def add(
        self, lanes: Lanes, start: Start, span: Array, y: Array, chosen: NDArray[np.bool_]
    ) -> None:
        """Enter one step of the chosen runs, from its start to `y`, `span` later."""
        n, at = self._n, np.flatnonzero(chosen)
        run = lanes.id[at]
        part, moves = (start, slice(None)) if at.size == lanes.size else (start.at(at), at)
        unknowns, span = lanes.unknowns[:, :, moves], span[at]
        for node, weight in zip(_NODES, _WEIGHTS, strict=True):
            later = node * span
            x = part.equations.vector(part.t_s + later, part.after(later)[0])
            solved = np.einsum("rcn,cn->rn", unknowns, x)
            for name, rate in self._rates(lanes, at, x, solved).items():
                self._sums[name][run] += weight * span * rate
        before, after = lanes.y[:, at], y[:, at]
        held_c, held_j = np.zeros(run.size), np.zeros(run.size)
        for k, state in n.capacitor.items():
            farad = self._figure(f"s{k}.farad", run)
            self._sums["charge_off"][run] -= farad * (after[state] - before[state])
            self._sums["stored_j"][run] += 0.5 * farad * (after[state] ** 2 - before[state] ** 2)
            held_c, held_j = (
                held_c + farad * np.abs(after[state]),
                held_j + farad * after[state] ** 2,
            )
        for k, state in n.inductance.items():
            henry = self._figure(f"b{k}.henry", run)
            self._sums["stored_j"][run] += 0.5 * henry * (after[state] ** 2 - before[state] ** 2)
        self._sums["held_c"][run] = np.maximum(self._sums["held_c"][run], held_c)
        self._sums["held_j"][run] = np.maximum(self._sums["held_j"][run], held_j)

    def _figure(self, name: str, run: NDArray[np.intp]) -> Array:
        found: Array = self._n.values[self._n.figures[name], run]
        return found

    def _rates(
        self, lanes: Lanes, at: NDArray[np.intp], x: Array, solved: Array
    ) -> dict[str, Array]:
        """Currents and powers at one instant."""
        n, run = self._n, lanes.id[at]
        volts, port_a = solved[: n.nodes], solved[n.port_a]
        load_a = self._load_a(lanes, at, x, volts[-1])
        lost, leaked = np.zeros(run.size), np.zeros(run.size)
        taken = np.zeros(run.size)
        for k, branch in enumerate(n.circuit.branches):
            amps = solved[n.branch_a[k]]
            match branch:
                case Wire():
                    lost += self._figure(f"b{k}.ohm", run) * amps * amps
                    lost += self._figure(f"b{k}.forward_v", run) * amps
                case Ramp():
                    lost += (volts[k] - volts[k + 1]) * amps
                case Stage():
                    into = solved[n.into_a[k]]
                    lost += volts[k] * into - volts[k + 1] * amps
                    taken += into - amps
        for k in range(n.nodes):
            leak = self._leak_s(lanes, at, k) * volts[k]
            leaked += leak
            lost += leak * volts[k]
            if k in n.capacitor_a:
                into = solved[n.capacitor_a[k]]
                if k in n.charging_of:
                    # In resistor, diode and its own resistance together, and in its bleeder.
                    held = x[n.capacitor[k]]
                    own = self._figure(f"c{k}.own_siemens", run) * held
                    lost += (volts[k] - held) * into + own * held
                    leaked += own
                else:
                    lost += self._figure(f"s{k}.esr_ohm", run) * into**2
        last = solved[n.branch_a[-1]]
        return {
            "port_c": port_a,
            "load_c": load_a,
            "port_j": volts[0] * port_a,
            "load_j": volts[-1] * load_a,
            "lost_j": lost,
            "port_a2s": _pulse(port_a, lanes.rest_a[0, at]),
            "pins_a2s": _pulse(last, lanes.rest_a[1, at]),
            "charge_off": port_a - taken - load_a - leaked,
            "charge_moved": np.abs(port_a) + np.abs(load_a) + np.abs(leaked),
            "energy_moved": np.abs(volts[0] * port_a) + np.abs(volts[-1] * load_a) + np.abs(lost),
        }

    def rest(self, lanes: Lanes, x: Array) -> None:
        """Note the currents of runs that are not watched yet: what they carry at rest."""
        rows = lanes.unknowns[[self._n.port_a, self._n.branch_a[-1]]]
        amps = np.einsum("rcn,cn->rn", rows, x)
        lanes.rest_a = np.where(lanes.watched, lanes.rest_a, amps)

    def _load_a(self, lanes: Lanes, at: NDArray[np.intp], x: Array, pins_v: Array) -> Array:
        n, load = self._n, self._n.circuit.load
        piece, run = lanes.modes[PIECE, at], lanes.id[at]
        amps: Array = load.constant_a[piece, run] + load.conductance_s[piece, run] * pins_v
        return amps + x[n.load_a] if n.powered else amps

    def _leak_s(self, lanes: Lanes, at: NDArray[np.intp], k: int) -> Array:
        n = self._n
        siemens = LEAK_S + self._figure(f"s{k}.siemens", lanes.id[at])
        if k == 0:
            siemens = siemens + lanes.bleed_s[at]
        if k in n.crowbar_of:
            shorted = lanes.modes[n.crowbar_of[k], at] == m.CrowbarMode.SHORTS
            siemens = siemens + np.where(shorted, CROWBAR_S, 0.0)
        return siemens

    def closed(self) -> Accounts:
        """The accounts, once every run is over.

        Raises
        ------
        OutOfBalance
            Charge or energy of a run does not add up.
        """
        sums = self._sums
        off_j = sums["port_j"] - sums["load_j"] - sums["lost_j"] - sums["stored_j"]
        # A step may be off by a part of the volts of a reservoir, whether it moves much or not.
        charge = np.abs(sums["charge_off"]) / (sums["charge_moved"] + sums["held_c"] + _LITTLE)
        energy = np.abs(off_j) / (sums["energy_moved"] + sums["held_j"] + _LITTLE)
        worst = np.maximum(charge, energy)
        if np.any(~(worst <= _GAP)):
            run = int(np.argmax(np.where(np.isnan(worst), np.inf, worst)))
            raise OutOfBalance(
                f"run {run} is out of balance: {charge[run]:.2%} of its charge and "
                f"{energy[run]:.2%} of its energy do not add up"
            )
        return Accounts(
            **{name: sums[name] for name in _SUMS}, charge_gap=charge, energy_gap=energy
        )


def _pulse(amps: Array, rest_a: Array) -> Array:
    """What the square of a current has above that of the current at rest."""
    above: Array = np.maximum(amps * amps - rest_a * rest_a, 0.0)
    return above
