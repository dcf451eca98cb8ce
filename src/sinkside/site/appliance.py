"""What is known of one device, once plate, brick, inside and meter are put together.

`Appliance` is what the judge reads. Each quantity in it is named `device/topic`: the same
unknown has the same name everywhere, and `topic` says how it is measured.
"""

from dataclasses import dataclass
from enum import Enum
from typing import Literal, TypeAlias

from sinkside.frozen import hash_once
from sinkside.parts.part import Centre
from sinkside.parts.regulators import Regulator
from sinkside.quantity import Quantity
from sinkside.site.rails import RailNeed

Law: TypeAlias = Literal["constant current", "constant power", "resistance", "lit diodes"]
InletKind: TypeAlias = Literal["dc", "ac", "either", "unknown"]


class Observed(Enum):
    """The things that can bear witness to a polarity; two prints on one product are one."""

    DEVICE_PRINT = "marking on the device"
    BRICK_PRINT = "plate of the old brick"
    BRICK_METER = "meter on the old brick"
    INLET_METER = "meter from sleeve to the input capacitor"


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """One observation of one object that tells the polarity of the centre contact."""

    observed: Observed
    centre: Centre


@dataclass(frozen=True, kw_only=True)
class Refusal:
    """Why a device is not to be converted, and whom to ask."""

    why: str
    ask: str


@hash_once
@dataclass(frozen=True, kw_only=True)
class Heat:
    """What bounds the heat of a device on a higher supply.

    Either a regulator with the power it may burn, or, where the inside is not known, the
    volts at which the device has proved to run cool enough.
    """

    regulator: Regulator | None
    allowed_w: Quantity | None
    output_v: Quantity | None
    quiescent_a: Quantity | None
    cool_up_to_v: Quantity | None


@hash_once
@dataclass(frozen=True, kw_only=True)
class Appliance:
    """One device as the judge reads it.

    Parameters
    ----------
    plate_v
        Volts that the plate names; None if it names none.
    kind
        Whether its inlet takes d.c. or a.c., or nobody knows; `either`: a full bridge without a
        tap is confirmed, and it takes d.c. of either polarity as well.
    harmed_above_v, runs_from_v
        The damage limit, and the least volts at its pins at which it runs.
    laws
        The ways in which its current may depend on the volts; several if not known.
    steady_a, peak_a
        What it draws at `reference_v`.
    capacitance_f
        Behind its inlet.
    evidence
        What tells the polarity of its inlet.
    ran_from_v
        Least volts at which a trial has shown it to run; None without one.
    jack_a
        What its jack is rated for.
    held_on
        Chargers that it was plugged into ten times, at its own volts, without a trip.
    idle_a
        What it draws while it idles; None if nobody said.
    must_survive_fault
        Whether one fault upstream counts as harm, not as a residual risk.
    rails
        What its supply inside gives, if that is to be replaced.
    cautions
        What of its conversion is left to others, and to whom.
    assumptions
        What was assumed for want of better, in words, for people.
    conflicts
        Where two statements of the same thing cannot both be true.
    """

    id: str
    plug: str
    plate_v: float | None
    kind: InletKind
    harmed_above_v: Quantity
    runs_from_v: Quantity
    reference_v: float
    laws: tuple[Law, ...]
    steady_a: Quantity
    peak_a: Quantity
    capacitance_f: Quantity
    heat: Heat
    evidence: tuple[Evidence, ...]
    ground: Literal["negative", "positive", "mid", "isolated", "unknown"]
    starved_loses: bool
    jack_a: Quantity
    held_on: tuple[str, ...]
    blink: Literal["never", "brief", "any"]
    ride_through_s: Quantity
    plugged: Literal["always", "when used"]
    must_survive_fault: bool
    at: str | None
    refusals: tuple[Refusal, ...]
    assumptions: tuple[str, ...]
    conflicts: tuple[str, ...]
    idle_a: Quantity | None = None
    rails: tuple[RailNeed, ...] = ()
    cautions: tuple[Refusal, ...] = ()

    @property
    def centre(self) -> Centre | None:
        """The polarity that all evidence agrees on; None without, or where it disagrees.

        Where either will do and nothing is marked, it is the common one: centre positive.
        """
        said = {e.centre for e in self.evidence}
        if self.kind == "either" and not said:
            return "positive"
        return said.pop() if len(said) == 1 else None
