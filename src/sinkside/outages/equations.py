"""The equations of a set of runs, each in its own mode, evaluated at a state and linearised.

Nonlinear are only constant powers: a power P at the end of a source V behind R draws
I = (V − √(V² − 4RP))/2R, the current at the high root. Where there is no root (V² < 4RP) the
current is V/2R, the most power that can be had: continuous, and low enough for a lock-out.
"""

from dataclasses import dataclass

import numpy as np

from sinkside.outages.circuit import Array, Index
from sinkside.outages.network import Network

# Below this share of V the square root is taken as this: a slope there has no use but must be
# a number.
_FLAT = 1e-4
_LEAST_V = 1e-6
_NONE = 1e-12
_LEAST_OHM = 1e-9


@dataclass(frozen=True, kw_only=True)
class Line:
    """Volts along a straight line in time, of each run."""

    from_s: Array
    v: Array
    v_per_s: Array

    def at(self, chosen: Index) -> "Line":
        """Those of the chosen runs."""
        return Line(from_s=self.from_s[chosen], v=self.v[chosen], v_per_s=self.v_per_s[chosen])

    def when(self, t_s: Array) -> Array:
        """The volts at a time."""
        volts: Array = self.v + self.v_per_s * (t_s - self.from_s)
        return volts


@dataclass(frozen=True, kw_only=True)
class Lines:
    """What drives the runs from outside: the port, a ramp switch, a converter that starts."""

    port: Line
    ramp: Line
    start: Line

    def at(self, chosen: Index) -> "Lines":
        """Those of the chosen runs."""
        return Lines(
            port=self.port.at(chosen), ramp=self.ramp.at(chosen), start=self.start.at(chosen)
        )


def power_current(volts: Array, ohm: Array, watts: Array) -> Array:
    """What a constant power draws from volts behind ohms.

    Parameters
    ----------
    volts, ohm, watts
        Open volts, V; resistance before the power, Ω, above 0; the power, W.

    Returns
    -------
    Array
        A.

    Notes
    -----
    I = (V − s)/2R with s = √(V² − 4RP); written as 2P/(V + s) it does not cancel.    Eq. (1)

    Examples
    --------
    20 V behind 1 Ω into 75 W: 15 V are left.

    >>> float(power_current(np.array(20.0), np.array(1.0), np.array(75.0)))
    5.0
    """
    volts = np.maximum(volts, _LEAST_V)
    inside = volts * volts - 4.0 * ohm * watts
    root = np.sqrt(np.maximum(inside, 0.0))
    amps: Array = np.where(inside > 0.0, 2.0 * watts / (volts + root), 0.5 * volts / ohm)
    return amps


def followed(volts: Array, ohm: Array, amps: Array) -> tuple[Array, Array]:
    """How that current follows volts and watts.

    Parameters
    ----------
    amps
        From `power_current` at the same volts and ohms.

    Returns
    -------
    by_volts, by_watts
        S, and 1/V.

    Notes
    -----
    ∂I/∂V = −I/s and ∂I/∂P = 1/s with s = V − 2RI; without a root 1/2R and 0.          Eq. (2)
    """
    volts = np.maximum(volts, _LEAST_V)
    root = volts - 2.0 * ohm * amps
    met = root > _NONE * volts
    slope = np.maximum(root, _FLAT * volts)
    return np.where(met, -amps / slope, 0.5 / ohm), np.where(met, 1.0 / slope, 0.0)


class Equations:
    """Rows of a set of runs with what drives them.

    Parameters
    ----------
    rows
        From `Network.compiled`, shape (rows, columns, runs).
    power_w
        Of the load's piece, shape (runs,).
    """

    def __init__(self, network: Network, rows: Array, power_w: Array, lines: Lines) -> None:
        self.network, self.rows, self.power_w, self.lines = network, rows, power_w, lines
        self.linear = not network.powered and network.stage is None
        every = ((network.port_v, lines.port), (network.line_v, lines.ramp))
        self._lines = [(c, line) for c, line in (*every, (network.start_v, lines.start)) if c >= 0]

    def at(self, chosen: Index) -> "Equations":
        """Those of the chosen runs."""
        return Equations(
            self.network, self.rows[:, :, chosen], self.power_w[chosen], self.lines.at(chosen)
        )

    def vector(self, t_s: Array, y: Array) -> Array:
        """States, 1, port volts, line volts and power currents: what the rows are for."""
        n = self.network
        x = np.empty((n.columns, y.shape[1]))
        x[: n.states] = y
        x[n.one] = 1.0
        for column, line in self._lines:
            x[column] = line.when(t_s)
        if n.powered:
            x[n.load_a] = power_current(*self._load(x), self.power_w)
        if n.stage is not None:
            watts = self._open(n.given_v, x, n.stage_a) * self._open(n.given_a, x, n.stage_a)
            x[n.stage_a] = power_current(*self._stage(x), np.maximum(watts, 0.0))
        return x

    def _open(self, row: int, x: Array, until: int) -> Array:
        found: Array = np.einsum("cn,cn->n", self.rows[row, :until], x[:until])
        return found

    def _load(self, x: Array) -> tuple[Array, Array]:
        """Open volts at the pins, and the ohms before them."""
        n = self.network
        return self._open(n.pins_v, x, n.load_a), -self.rows[n.pins_v, n.load_a]

    def _stage(self, x: Array) -> tuple[Array, Array]:
        """Open volts before the converter, and the ohms before it."""
        n = self.network
        # A converter that draws no constant power has no such resistance either.
        ohm = np.maximum(-self.rows[n.stage_v, n.stage_a], _LEAST_OHM)
        return self._open(n.stage_v, x, n.stage_a), ohm

    def values(self, x: Array) -> Array:
        """Slopes, guards and outputs, shape (rows, runs)."""
        found: Array = np.einsum("rcn,cn->rn", self.rows, x)
        return found

    def slope(self, t_s: Array, y: Array) -> Array:
        """Time derivative of the states."""
        found: Array = np.einsum(
            "rcn,cn->rn", self.rows[: self.network.states], self.vector(t_s, y)
        )
        return found

    def linearised(self, x: Array) -> tuple[Array, Array]:
        """The Jacobian, shape (states, states, runs), and ∂f/∂t through the lines."""
        n = self.network
        slopes = self.rows[: n.states]
        jacobian = slopes[:, : n.states].copy()
        drift = np.zeros((n.states, x.shape[1]))
        for column, line in self._lines:
            drift = drift + slopes[:, column] * line.v_per_s
        # by state, then by time: how the power currents follow
        by_load = None
        if n.powered:
            by_volts, _ = followed(*self._load(x), x[n.load_a])
            by_load = by_volts * self._followed(n.pins_v)
            jacobian += slopes[:, n.load_a, None] * by_load[:-1]
            drift = drift + slopes[:, n.load_a] * by_load[-1]
        if n.stage is not None:
            by_volts, by_watts = followed(*self._stage(x), x[n.stage_a])
            volts, given_v, given_a = (
                self._followed(row)
                + (0.0 if by_load is None else self.rows[row, n.load_a] * by_load)
                for row in (n.stage_v, n.given_v, n.given_a)
            )
            source = self._open(n.given_v, x, n.stage_a)
            amps = self._open(n.given_a, x, n.stage_a)
            watts = np.where(source * amps > 0.0, source * given_a + amps * given_v, 0.0)
            by_stage = by_volts * volts + by_watts * watts
            jacobian += slopes[:, n.stage_a, None] * by_stage[:-1]
            drift = drift + slopes[:, n.stage_a] * by_stage[-1]
        return jacobian, drift

    def _followed(self, row: int) -> Array:
        """How a row follows the states and, last, the time, power currents left aside."""
        n, rows = self.network, self.rows[row]
        time = np.zeros(rows.shape[1])
        for column, line in self._lines:
            time = time + rows[column] * line.v_per_s
        return np.concatenate([rows[: n.states], time[None]])
