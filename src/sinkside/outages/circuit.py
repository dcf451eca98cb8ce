"""A path in time as arrays of runs: a ladder of branches and shunts between port and pins.

Node 0 is the port's receptacle, the last node the device's pins. A branch stands between one
node and the next, a shunt from a node to the negative. Every figure is an array with one value
a run, so that many draws of one path, and many paths of one shape, go together.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, Literal, Self, TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Index: TypeAlias = NDArray[np.intp]

# No shunt and no branch is quite without resistance, and no node quite without leakage: far
# below what any part has, and far above rounding.
LEAST_OHM = 1e-3
LEAK_S = 1e-6


class _Columns:
    """Figures that can be taken by runs and joined, field by field."""

    def at(self, runs: Index) -> Self:
        """The chosen runs."""
        chosen: Self = _each(lambda values: values[..., runs], self)
        return chosen

    def joined(self, others: Sequence[Self]) -> Self:
        """The runs of this one and of others of the same shape, one after the other."""
        all_: Self = _each(lambda *values: np.concatenate(values, axis=-1), self, *others)
        return all_


def _each(function: Any, first: Any, *others: Any) -> Any:
    changed = {}
    for field in fields(first):
        values = [getattr(one, field.name) for one in (first, *others)]
        if isinstance(values[0], np.ndarray):
            changed[field.name] = function(*values)
        elif isinstance(values[0], _Columns):
            changed[field.name] = _each(function, *values)
        elif isinstance(values[0], tuple) and isinstance(values[0][0], _Columns):
            changed[field.name] = tuple(_each(function, *g) for g in zip(*values, strict=True))
    return replace(first, **changed)


@dataclass(frozen=True, kw_only=True)
class Wire(_Columns):
    """A branch of resistance, with a diode or an inductance or both in it.

    Parameters
    ----------
    ohm
        All resistance in a row, the slope of a diode included, Ω.
    forward_v
        What a diode keeps at no current, V.
    one_way
        Whether current flows towards the load only.
    henry
        In a row with the resistance, H; None where there is none.
    """

    ohm: Array
    forward_v: Array
    one_way: bool = False
    henry: Array | None = None


@dataclass(frozen=True, kw_only=True)
class Ramp(_Columns):
    """A switch that lets the volts behind it rise along a line.

    Parameters
    ----------
    rate_v_per_s
        Of the line.
    arrives_v, lost_v
        Volts before it at which the line starts, and under which the switch opens.
    every_step
        Whether a later rise before it that is faster than the line starts another.
    """

    ohm: Array
    rate_v_per_s: Array
    arrives_v: Array
    lost_v: Array
    every_step: bool


@dataclass(frozen=True, kw_only=True)
class Stage(_Columns):
    """A converter, averaged over its switching: a transformer of direct current.

    Parameters
    ----------
    set_v
        What it holds behind it.
    ratio
        Most that its output may be of its input: what is left at full duty.
    starts_v, stops_v
        Volts before it at which it starts, and under which it stops.
    limit_a
        Most current out of it.
    quiescent_a
        Its own current while it runs.
    back_ohm
        Between its set volts and its terminals, Ω.
    start_s
        Time in which its set volts come once it starts; of no matter to a step-up, whose input
        goes straight through until then.

    Notes
    -----
    With M = output ÷ input, the input current is M·I/η: power is conserved but for η. Held,
    M = V_set/V_in, a constant power before it; at full duty M = `ratio`. Both meet where
    V_in = V_set/ratio, so that neither volts nor current jump there. Left out: its
    switching, the drop of η at light load.
    """

    direction: Literal["step-down", "step-up", "isolated"]
    set_v: Array
    ratio: Array
    starts_v: Array
    stops_v: Array
    limit_a: Array
    efficiency: Array
    quiescent_a: Array
    back_ohm: Array
    start_s: Array


Branch: TypeAlias = Wire | Ramp | Stage


@dataclass(frozen=True, kw_only=True)
class Shunt(_Columns):
    """What stands from a node to the negative.

    Parameters
    ----------
    farad, esr_ohm
        A capacitor and its series resistance; None where there is none.
    siemens
        Of a bleeder; 0 where there is none.
    crowbar_v
        Volts at which a crowbar shorts the node for good; None where there is none.
    charging
        What the capacitor is charged and emptied through; None where it lies straight across.
    """

    siemens: Array
    farad: Array | None = None
    esr_ohm: Array | None = None
    crowbar_v: Array | None = None
    charging: "Charging | None" = None


@dataclass(frozen=True, kw_only=True)
class Charging(_Columns):
    """A capacitor is charged through a resistor that a diode bridges when it gives.

    Parameters
    ----------
    ohm
        The charging resistor.
    forward_v, slope_ohm
        The diode, and a fuse in a row with it.
    own_siemens
        A bleeder across the capacitor itself.
    """

    ohm: Array
    forward_v: Array
    slope_ohm: Array
    own_siemens: Array


@dataclass(frozen=True, kw_only=True)
class Load(_Columns):
    """What the device draws, by pieces I(V) = I₀ + P/V + G·V, shape (pieces, runs).

    Parameters
    ----------
    leaves_low_v, leaves_high_v
        Under which volts a piece gives way to the next, and over which to the one before. Two
        pieces whose bounds meet are a kink; two that overlap a lock-out with restart.
    runs_from_v
        Least volts at which the device does its work, shape (runs,).
    locked
        For each piece, whether the device is locked out in it, whatever the volts.
    """

    constant_a: Array
    power_w: Array
    conductance_s: Array
    leaves_low_v: Array
    leaves_high_v: Array
    runs_from_v: Array
    locked: tuple[bool, ...]

    @property
    def pieces(self) -> int:
        """How many pieces."""
        return int(self.power_w.shape[0])


@dataclass(frozen=True, kw_only=True)
class Circuit(_Columns):
    """A path in time.

    Parameters
    ----------
    source_ohm
        Of the port itself.
    branches
        One fewer than `shunts`.
    """

    source_ohm: Array
    branches: tuple[Branch, ...]
    shunts: tuple[Shunt, ...]
    load: Load

    @property
    def runs(self) -> int:
        """How many runs."""
        return int(self.source_ohm.size)

    @property
    def shape(self) -> tuple[object, ...]:
        """What two circuits must have in common to be integrated together."""
        return (
            tuple(_kind(b) for b in self.branches),
            tuple(
                (s.farad is not None, s.crowbar_v is not None, s.charging is not None)
                for s in self.shunts
            ),
            self.load.locked,
            bool(np.any(self.load.power_w > 0.0)),
        )


def _kind(branch: Branch) -> tuple[object, ...]:
    match branch:
        case Wire():
            return ("wire", branch.one_way, branch.henry is not None)
        case Ramp():
            return ("ramp", branch.every_step)
        case Stage():
            return ("stage", branch.direction)
