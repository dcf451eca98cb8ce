"""The elements that parts are made of: one description for steady state, time and drawings.

A part is a two-wire network of these, in order from its source end to its load end.
Series elements stand in the live wire, shunt elements across the pair.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.frozen import hash_once
from sinkside.quantity import Quantity


@hash_once
@dataclass(frozen=True, kw_only=True)
class Resistance:
    """A series resistance, both conductors of the pair together."""

    ohm: Quantity


@dataclass(frozen=True, kw_only=True)
class Diode:
    """A series diode as a straight line: forward volts at no current, and a slope."""

    forward_v: Quantity
    slope_ohm: Quantity


@dataclass(frozen=True, kw_only=True)
class Inductance:
    """A series inductance, both conductors of the pair together."""

    henry: Quantity


@dataclass(frozen=True, kw_only=True)
class Capacitance:
    """A shunt capacitance with its series resistance."""

    farad: Quantity
    esr_ohm: Quantity


@dataclass(frozen=True, kw_only=True)
class FuseLink:
    """A series fuse; its cold resistance stands beside it as a `Resistance`.

    Parameters
    ----------
    opens_at_ratio
        Current over the rating at which it surely opens.
    melts_a2s
        The I²t of a pulse, shorter than heat can leave the wire, that melts it.
    """

    rated_a: float
    opens_at_ratio: float
    melts_a2s: Quantity


@dataclass(frozen=True, kw_only=True)
class RampSwitch:
    """A series switch that raises the volts behind it over a ramp time.

    Parameters
    ----------
    ramp_s
        From nothing to the full volts.
    every_step
        Whether it limits the rise at every later step too, or only once, when volts arrive.
    """

    ramp_s: Quantity
    every_step: bool


@hash_once
@dataclass(frozen=True, kw_only=True)
class Converter:
    """A d.c.-d.c. converter.

    Below its headroom a step-down passes its input through `pass_ohm` (100 % duty). A
    step-up passes its input through when that is above what it is set to.
    """

    direction: Literal["step-down", "step-up", "isolated"]
    gives_v: Quantity
    accepts_low_v: float
    accepts_high_v: float
    headroom_v: Quantity
    efficiency: Quantity
    quiescent_a: Quantity
    pass_ohm: Quantity
    carries_a: float
    adjustable: bool


@dataclass(frozen=True, kw_only=True)
class RailsConverter:
    """The input of a converter with several outputs, which are one load to what feeds it.

    Parameters
    ----------
    efficiency
        At its load, its own current included.
    """

    accepts_low_v: float
    accepts_high_v: float
    efficiency: Quantity


@dataclass(frozen=True, kw_only=True)
class Thermistor:
    """A resettable fuse; its cold resistance stands beside it as a `Resistance`."""

    holds_a: float
    trips_at_ratio: float


@dataclass(frozen=True, kw_only=True)
class Crowbar:
    """A shunt that shorts the pair somewhere between its trip volts."""

    trips_low_v: float
    trips_high_v: float


@dataclass(frozen=True, kw_only=True)
class Bleeder:
    """A shunt resistance."""

    ohm: Quantity


Element: TypeAlias = (
    Resistance
    | Diode
    | Inductance
    | Capacitance
    | FuseLink
    | Thermistor
    | RampSwitch
    | Converter
    | RailsConverter
    | Crowbar
    | Bleeder
)
