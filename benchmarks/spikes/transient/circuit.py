"""Circuits as arrays of runs, and their equations in one mode.

Everything that switches is a *mode*: diode conducting or not, the piece of the load's law, the
state of the converter. In a mode the equations are smooth, and a *guard* says by its sign how
long the mode holds.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from typing import Protocol, Self, TypeAlias

import numpy as np
from numpy.typing import NDArray

from .sequence import Array, Index, Sequence

Modes: TypeAlias = NDArray[np.int64]

CONDUCTS, PIECE, STAGE = 0, 1, 2
REGULATED, LIMITING, STARVED = 0, 1, 2
# guards, in the order in which they are numbered
SOURCE, LOAD_LOW, LOAD_HIGH, STAGE_LOW, STAGE_LIMIT = range(5)


@dataclass(frozen=True, kw_only=True)
class Load:
    """A load by pieces I(V) = I₀ + P/V + G·V, shape (pieces, runs).

    Parameters
    ----------
    leaves_low_v, leaves_high_v
        Where a piece is left for the next and for the previous one. An under-voltage lock-out
        with restart is two pieces whose bounds overlap; a kink is two whose bounds meet.
    """

    constant_a: Array
    power_w: Array
    conductance_s: Array
    leaves_low_v: Array
    leaves_high_v: Array


@dataclass(frozen=True, kw_only=True)
class Stage:
    """A converter between hold-up and a second capacitor, shape (runs,).

    Parameters
    ----------
    needs_v, starts_v
        Volts before it at which it stops and at which it starts again.
    limit_a
        Most output current; it holds that while the second capacitor charges.
    pass_ohm
        Through a stopped one, Ω; infinite if it passes nothing.
    farad
        The capacitor behind it.
    """

    set_v: Array
    needs_v: Array
    starts_v: Array
    limit_a: Array
    efficiency: Array
    back_ohm: Array
    pass_ohm: Array
    farad: Array


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """Port, path, capacitor and load of several runs.

    Parameters
    ----------
    path_ohm, forward_v
        Series resistance with the diode's slope, and the diode's volts at no current.
    diode
        Whether current flows forward only.
    henry
        Series inductance, all runs or none.
    farad, esr_ohm
        The capacitor across the pair.
    stage
        A converter behind the capacitor, with the load behind it.
    """

    sequence: Sequence
    path_ohm: Array
    forward_v: Array
    diode: bool
    henry: Array | None
    farad: Array
    esr_ohm: Array
    load: Load
    stage: Stage | None

    @property
    def runs(self) -> int:
        """How many runs."""
        return int(self.farad.size)

    @property
    def states(self) -> int:
        """How many volts and currents are integrated."""
        return 1 + (self.henry is not None) + (self.stage is not None)

    def start(self) -> Modes:
        """Modes of a dead circuit."""
        modes = np.zeros((3, self.runs), dtype=np.int64)
        modes[CONDUCTS] = not self.diode
        modes[PIECE] = self.load.power_w.shape[0] - 1
        modes[STAGE] = STARVED
        return modes

    def frozen(self, runs: Index, modes: Modes, segment: Index) -> Frozen:
        """The equations of those runs in those modes, in those segments of the port."""
        seq, load, piece = self.sequence, self.load, modes[PIECE]
        t0, v0 = seq.t_s[segment, runs], seq.v[segment, runs]
        span = seq.t_s[segment + 1, runs] - t0
        common = _Common(
            from_s=t0,
            from_v=v0,
            rate_v_per_s=(seq.v[segment + 1, runs] - v0) / np.where(span > 0.0, span, 1.0),
            ohm=self.path_ohm[runs] + seq.port_ohm[segment, runs],
            forward_v=self.forward_v[runs],
            conducts=modes[CONDUCTS],
            diode=np.full(runs.size, self.diode),
            farad=self.farad[runs],
            esr_ohm=self.esr_ohm[runs],
            constant_a=load.constant_a[piece, runs],
            power_w=load.power_w[piece, runs],
            conductance_s=load.conductance_s[piece, runs],
            leaves_low_v=load.leaves_low_v[piece, runs],
            leaves_high_v=load.leaves_high_v[piece, runs],
        )
        given = {f.name: getattr(common, f.name) for f in fields(common)}
        if self.stage is not None:
            stage = {f.name: getattr(self.stage, f.name)[runs] for f in fields(self.stage)}
            stage["second_farad"] = stage.pop("farad")
            return WithStage(**given, **stage, stage=modes[STAGE])
        if self.henry is not None:
            return WithInductance(**given, henry=self.henry[runs])
        return OneCapacitor(**given)

    def switched(self, modes: Modes, guard: Index, frozen: Frozen, y: Array) -> Modes:
        """Modes after a guard has been passed."""
        new = modes.copy()
        new[CONDUCTS] ^= guard == SOURCE
        new[PIECE] += (guard == LOAD_LOW).astype(np.int64) - (guard == LOAD_HIGH)
        if self.stage is not None and isinstance(frozen, WithStage):
            stage = modes[STAGE]
            wants = np.where(frozen.wanted_a(y) > frozen.limit_a, LIMITING, REGULATED)
            after = np.where(stage == STARVED, wants, STARVED)
            new[STAGE] = np.where(guard == STAGE_LOW, after, stage)
            new[STAGE] = np.where(guard == STAGE_LIMIT, 1 - stage, new[STAGE])
        return new


class Frozen(Protocol):
    """Equations in one mode; `volts` drives them."""

    @property
    def rate_v_per_s(self) -> Array:
        """How fast the port's volts rise."""

    def at(self, chosen: Index) -> Self:
        """The chosen runs."""

    def volts(self, t_s: Array) -> Array:
        """Port volts."""

    def slope(self, port_v: Array, y: Array) -> Array:
        """Time derivative of the states, shape (states, runs)."""

    def pins_v(self, port_v: Array, y: Array) -> Array:
        """Volts at the load."""

    def guard(self, port_v: Array, y: Array) -> tuple[Array, Index]:
        """The least guard, V, and its number; the mode holds while it is not negative."""


@dataclass(frozen=True, kw_only=True)
class _Common:
    """What all equations need, one value a run."""

    from_s: Array
    from_v: Array
    rate_v_per_s: Array
    ohm: Array
    forward_v: Array
    conducts: Modes
    diode: NDArray[np.bool_]
    farad: Array
    esr_ohm: Array
    constant_a: Array
    power_w: Array
    conductance_s: Array
    leaves_low_v: Array
    leaves_high_v: Array

    def at(self, chosen: Index) -> Self:
        # indices come sorted and without repeats, unless a single run is sampled
        if chosen.size == self.ohm.size:
            return self
        return replace(self, **{f.name: getattr(self, f.name)[chosen] for f in fields(self)})

    def volts(self, t_s: Array) -> Array:
        return self.from_v + self.rate_v_per_s * (t_s - self.from_s)

    def load_a(self, v: Array) -> Array:
        power = np.where(self.power_w > 0.0, self.power_w / np.where(v > 0.0, v, np.inf), 0.0)
        return self.constant_a + power + self.conductance_s * v

    def meet(self, source_v: Array, ohm: Array) -> Array:
        """High root of a source behind a resistance with the load; half its volts if none."""
        a = 1.0 + ohm * self.conductance_s
        b = source_v - ohm * self.constant_a
        inside = b * b - 4.0 * a * ohm * self.power_w
        met: Array = (b + np.sqrt(np.maximum(inside, 0.0))) / (2.0 * a)
        return met

    def load_guards(self, v: Array) -> tuple[Array, Array]:
        return v - self.leaves_low_v, self.leaves_high_v - v

    def source_guard(self, over_v: Array) -> Array:
        """Volts over the diode, signed by its mode; without a diode it never switches."""
        held = np.where(self.conducts == 1, over_v, -over_v)
        return np.where(self.diode, held, np.inf)


def _least(*guards: Array) -> tuple[Array, Index]:
    stacked = np.stack(guards)
    which = np.argmin(stacked, axis=0)
    return np.take_along_axis(stacked, which[None], axis=0)[0], which


@dataclass(frozen=True, kw_only=True)
class OneCapacitor(_Common):
    """State: volts inside the capacitor."""

    def pins_v(self, port_v: Array, y: Array) -> Array:
        g = self.conducts / self.ohm
        source_v = (y[0] + (port_v - self.forward_v) * g * self.esr_ohm) / (1.0 + g * self.esr_ohm)
        return self.meet(source_v, self.esr_ohm / (1.0 + g * self.esr_ohm))

    def slope(self, port_v: Array, y: Array) -> Array:
        v = self.pins_v(port_v, y)
        into = self.conducts * (port_v - self.forward_v - v) / self.ohm - self.load_a(v)
        return (into / self.farad)[None]

    def guard(self, port_v: Array, y: Array) -> tuple[Array, Index]:
        v = self.pins_v(port_v, y)
        return _least(self.source_guard(port_v - self.forward_v - v), *self.load_guards(v))


@dataclass(frozen=True, kw_only=True)
class WithInductance(_Common):
    """States: volts inside the capacitor, current in the inductance."""

    henry: Array

    def pins_v(self, port_v: Array, y: Array) -> Array:
        del port_v
        return self.meet(y[0] + self.esr_ohm * y[1], self.esr_ohm)

    def slope(self, port_v: Array, y: Array) -> Array:
        v = self.pins_v(port_v, y)
        over = port_v - self.forward_v - self.ohm * y[1] - v
        return np.stack([(y[1] - self.load_a(v)) / self.farad, self.conducts * over / self.henry])

    def guard(self, port_v: Array, y: Array) -> tuple[Array, Index]:
        v = self.pins_v(port_v, y)
        # while it conducts the guard is the current (as volts on the resistance)
        over = np.where(self.conducts == 1, self.ohm * y[1], port_v - self.forward_v - v)
        return _least(self.source_guard(over), *self.load_guards(v))


@dataclass(frozen=True, kw_only=True)
class WithStage(_Common):
    """States: volts before and behind a converter. The capacitors have no series resistance."""

    set_v: Array
    needs_v: Array
    starts_v: Array
    limit_a: Array
    efficiency: Array
    back_ohm: Array
    pass_ohm: Array
    second_farad: Array
    stage: Modes

    def wanted_a(self, y: Array) -> Array:
        """Current that the set volts would push through the resistance behind."""
        wanted: Array = (self.set_v - y[1]) / self.back_ohm
        return wanted

    def pins_v(self, port_v: Array, y: Array) -> Array:
        del port_v
        behind: Array = y[1]
        return behind

    def slope(self, port_v: Array, y: Array) -> Array:
        out = np.where(self.stage == REGULATED, self.wanted_a(y), self.limit_a)
        passed = (y[0] - y[1]) / (self.back_ohm + self.pass_ohm)
        power = (y[1] + out * self.back_ohm) * out / self.efficiency
        starved = self.stage == STARVED
        drawn = np.where(starved, passed, power / np.where(y[0] > 0.0, y[0], np.inf))
        into = self.conducts * (port_v - self.forward_v - y[0]) / self.ohm - drawn
        behind = np.where(starved, passed, out) - self.load_a(y[1])
        return np.stack([into / self.farad, behind / self.second_farad])

    def guard(self, port_v: Array, y: Array) -> tuple[Array, Index]:
        low = np.where(self.stage == STARVED, self.starts_v - y[0], y[0] - self.needs_v)
        spare = (self.limit_a - self.wanted_a(y)) * self.back_ohm
        limit = np.where(self.stage == REGULATED, spare, -spare)
        return _least(
            self.source_guard(port_v - self.forward_v - y[0]),
            *self.load_guards(y[1]),
            low,
            np.where(self.stage == STARVED, np.inf, limit),
        )
