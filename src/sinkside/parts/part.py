"""A part: what it joins, what it is made of, what it carries and what it costs."""

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from sinkside.frozen import hash_once, once
from sinkside.parts.elements import Converter, Element, FuseLink, RailsConverter
from sinkside.quantity import Basis, varies

Centre: TypeAlias = Literal["positive", "negative"]
Fallback: TypeAlias = Literal["next lower", "5 V", "highest", "off"]
# What a converter set by hand is good to: a meter's reading, the trimmer's slip, and
# temperature (common practice, no source).
SET_TOLERANCE = 0.03
FALLBACKS: tuple[Fallback, ...] = ("next lower", "5 V", "highest", "off")


PartKind: TypeAlias = Literal[
    "cable",
    "trigger",
    "fuse",
    "resettable fuse",
    "converter",
    "rails",
    "soft start",
    "diode",
    "hold-up",
    "filter",
    "crowbar",
    "bleeder",
    "lead",
    "plug",
    "reverser",
    "splitter",
]


@dataclass(frozen=True, kw_only=True)
class Rail:
    """One output of a converter that has several."""

    name: str
    low_v: float
    high_v: float
    carries_a: float


@hash_once
@dataclass(frozen=True, kw_only=True)
class End:
    """One end of a part: what it mates with.

    `centre` is the polarity of a barrel's inner contact; None where the end has no such
    thing, or where it is chosen when the lead is made.
    """

    kind: Literal["usb-c", "usb-a", "wires", "barrel"]
    plug: str = ""
    centre: Centre | None = None

    def joins(self, other: "End") -> bool:
        """Whether this end goes straight onto the other, polarity left aside."""
        return self.kind == other.kind and self.plug == other.plug


@hash_once
@dataclass(frozen=True, kw_only=True)
class TriggerTraits:
    """What a part that negotiates a contract does.

    Parameters
    ----------
    asks_v
        The contract it asks for; a part with several straps is one part per strap.
    falls_back
        What it may do when that is not offered: one entry if known, all if not.
    gated
        Whether its output stays off until the contract that was asked for stands.
    presses_v
        The volts that a press of its button can reach; empty for a strapped part.
    by_resistors
        Two resistors and no negotiation: the port's 5 V as it comes.
    programmable_v
        The ends of the range in which it asks for programmable volts; None if it asks for
        fixed ones.
    keeps_alive
        Whether it asks again in time, without which a programmable contract is gone; None if
        nobody knows.
    epr
        Whether it is known to speak the extended power range, above 20 V.
    """

    asks_v: float
    falls_back: tuple[Fallback, ...]
    gated: bool
    presses_v: tuple[float, ...] = ()
    by_resistors: bool = False
    programmable_v: tuple[float, float] | None = None
    keeps_alive: bool | None = None
    epr: bool = False


@hash_once
@dataclass(frozen=True, kw_only=True)
class Part:
    """A part as the search joins it and the judge reads it.

    Parameters
    ----------
    carries_a
        The current it is rated for.
    withstands_v
        The volts that it stands at its source end.
    price_cents
        None where the price is not known; never taken as nothing.
    owned
        How many lie on the shelf.
    joints
        How many solder or screw joints it asks for when it is fitted.
    setting
        What has to be set on it, such as a strap, in words.
    epr
        Of a cable: whether it is marked for the extended power range.
    length_m
        Of a cable.
    made_either_way
        Whether its ends can be connected with either pole in the centre.
    """

    id: str
    kind: PartKind
    takes: End
    gives: End
    elements: tuple[Element, ...]
    carries_a: float
    withstands_v: float
    price_cents: int | None
    owned: int
    joints: int
    setting: str = ""
    trigger: TriggerTraits | None = None
    rails: tuple[Rail, ...] = ()
    e_marked: bool = False
    epr: bool = False
    length_m: float = 0.0
    made_either_way: bool = False
    words: str = ""

    @once
    def converter(self) -> Converter | None:
        """The converter in it, if it is one."""
        return next((e for e in self.elements if isinstance(e, Converter)), None)

    @once
    def rails_converter(self) -> RailsConverter | None:
        """The converter with several outputs in it, if it is one."""
        return next((e for e in self.elements if isinstance(e, RailsConverter)), None)

    @once
    def fuse(self) -> FuseLink | None:
        """The fuse in it, if it is one."""
        return next((e for e in self.elements if isinstance(e, FuseLink)), None)

    def asking(self, volts: float) -> "Part":
        """The same programmable trigger, set to ask for so many volts.

        Raises
        ------
        ValueError
            It is no programmable trigger, or the volts are outside its range.
        """
        traits = self.trigger
        ends = traits.programmable_v if traits is not None else None
        if traits is None or ends is None or not ends[0] <= volts <= ends[1]:
            raise ValueError(f"{self.id} cannot ask for {volts:g} V")
        return replace(
            self, trigger=replace(traits, asks_v=volts), setting=f"set to ask for {volts:g} V"
        )

    def set_to(self, volts: float) -> "Part":
        """The same adjustable converter, set by hand to so many volts and sealed.

        Raises
        ------
        ValueError
            It is no converter.
        """
        converter = self.converter
        if converter is None:
            raise ValueError(f"{self.id} is no converter")
        gives = varies(
            (1 - SET_TOLERANCE) * volts,
            (1 + SET_TOLERANCE) * volts,
            "V",
            Basis.ASSUMED,
            converter.gives_v.name,
        )
        return replace(
            self,
            elements=(replace(converter, gives_v=gives),),
            setting=f"set to {volts:g} V with a meter",
        )
