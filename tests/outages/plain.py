"""Circuits in plain numbers, known to neither solver: parts and figures invented, of ordinary size.

The program's arrays are made of them by `tests.outages.as_arrays`, a netlist by
`tests.agree.netlist`; neither sees the other.
"""

from dataclasses import dataclass, field, replace
from typing import Literal

# One event in half a second: 5 V, contract, nothing, 5 V, contract.
CORNERS = (
    (0.000, 0.0, False),
    (0.010, 0.0, True),
    (0.0102, 5.0, True),
    (0.050, 5.0, True),
    (0.0502, 9.0, True),
    (0.200, 9.0, False),
    (0.300, 0.0, True),
    (0.3002, 5.0, True),
    (0.380, 5.0, True),
    (0.3802, 9.0, True),
    (0.500, 9.0, True),
)
FAR_V = 1e6


@dataclass(frozen=True, kw_only=True)
class Wire:
    """Resistance, and with it a diode or an inductance."""

    ohm: float
    forward_v: float | None = None
    henry: float | None = None


@dataclass(frozen=True, kw_only=True)
class Ramp:
    """A soft start."""

    ohm: float = 0.03
    rate_v_per_s: float = 300.0
    arrives_v: float = 4.0
    lost_v: float = 1.0
    every_step: bool = False


@dataclass(frozen=True, kw_only=True)
class Stage:
    """A converter."""

    direction: Literal["step-down", "step-up", "isolated"]
    set_v: float
    ratio: float
    starts_v: float
    stops_v: float
    limit_a: float = 2.0
    efficiency: float = 0.88
    quiescent_a: float = 0.004
    back_ohm: float = 0.05
    start_s: float = 3e-3


@dataclass(frozen=True, kw_only=True)
class Shunt:
    """A capacitor, a bleeder, a crowbar, or nothing."""

    farad: float | None = None
    esr_ohm: float = 1e-3
    siemens: float = 0.0
    crowbar_v: float | None = None
    charging: "Charging | None" = None


@dataclass(frozen=True, kw_only=True)
class Charging:
    """A resistor that the capacitor is charged through, and a diode that bridges it."""

    ohm: float
    forward_v: float
    slope_ohm: float
    own_siemens: float


@dataclass(frozen=True, kw_only=True)
class Piece:
    """I(V) = I₀ + P/V + G·V between two volts."""

    constant_a: float = 0.0
    power_w: float = 0.0
    conductance_s: float = 0.0
    leaves_low_v: float = -FAR_V
    leaves_high_v: float = FAR_V


@dataclass(frozen=True, kw_only=True)
class Plain:
    """A circuit: node 0, then a branch and a shunt for every further node.

    Parameters
    ----------
    locks
        Whether the last of two pieces is a lock-out with restart.
    limit_a
        Of the port.
    """

    name: str
    branches: tuple[Wire | Ramp | Stage, ...]
    shunts: tuple[Shunt, ...]
    pieces: tuple[Piece, ...]
    runs_from_v: float
    locks: bool = False
    corners: tuple[tuple[float, float, bool], ...] = CORNERS
    limit_a: float = 20.0
    bleed_ohm: float = 500.0
    source_ohm: float = 0.01

    def called(self, name: str, **changes: object) -> "Plain":
        """The same with other figures."""
        return replace(self, name=name, **changes)  # type: ignore[arg-type]


def resistance(ohm: float) -> dict[str, object]:
    """A resistance; it counts as out under half a volt."""
    return {"pieces": (Piece(conductance_s=1 / ohm),), "runs_from_v": 0.5, "locks": False}


def current(amps: float, knee_v: float) -> dict[str, object]:
    """A constant current down to a knee."""
    return {
        "pieces": (
            Piece(constant_a=amps, leaves_low_v=knee_v),
            Piece(conductance_s=amps / knee_v, leaves_high_v=knee_v),
        ),
        "runs_from_v": knee_v,
        "locks": False,
    }


def power(watts: float, stops_v: float, starts_v: float) -> dict[str, object]:
    """A constant power with lock-out and restart."""
    return {
        "pieces": (
            Piece(power_w=watts, leaves_low_v=stops_v),
            Piece(conductance_s=1e-4, leaves_high_v=starts_v),
        ),
        "runs_from_v": stops_v,
        "locks": True,
    }


def regulator(
    set_v: float, dropout_v: float, ohm: float, quiescent_a: float = 0.005
) -> dict[str, object]:
    """A linear regulator into a resistance: held, in dropout, below."""
    return {
        "pieces": (
            Piece(constant_a=quiescent_a + set_v / ohm, leaves_low_v=set_v + dropout_v),
            Piece(
                constant_a=quiescent_a - dropout_v / ohm,
                conductance_s=1 / ohm,
                leaves_low_v=dropout_v,
                leaves_high_v=set_v + dropout_v,
            ),
            Piece(conductance_s=quiescent_a / dropout_v, leaves_high_v=dropout_v),
        ),
        "runs_from_v": set_v + dropout_v,
        "locks": False,
    }


@dataclass(frozen=True)
class Loads:
    """Every kind of load, of one size."""

    resistance: dict[str, object] = field(default_factory=lambda: resistance(15.0))
    current: dict[str, object] = field(default_factory=lambda: current(0.4, 1.0))
    power: dict[str, object] = field(default_factory=lambda: power(5.0, 6.5, 7.5))
    regulator: dict[str, object] = field(default_factory=lambda: regulator(5.0, 2.0, 12.0))


LOADS = Loads()
