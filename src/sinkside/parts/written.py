"""How parts and chargers are written in a file, and what each entry becomes.

The same notation serves the market that comes with the program and the shelf and
market of a site file. Every default here is an assumption, and has a spread.
"""

from typing import Annotated, Any, Literal, TypeAlias

from pydantic import Field

from sinkside.faults import NotUnderstood
from sinkside.faults.written import Named, Written
from sinkside.parts.elements import Converter, FuseLink, RampSwitch, Resistance
from sinkside.parts.fields import (
    OTHER_PLUGS,
    Cents,
    Count,
    FigureAmps,
    FigureVolts,
    Metres,
    Ohms,
    Plug,
    Said,
    Seconds,
    YesNo,
    said,
)
from sinkside.parts.part import FALLBACKS, Centre, End, Fallback, Part, TriggerTraits
from sinkside.quantity import Basis, Quantity, point, unknown, varies
from sinkside.standards import copper, type_c_cable

E_MARKS = {
    "no": type_c_cable.EMarker.NONE,
    "3 A": type_c_cable.EMarker.THREE_AMP,
    "5 A": type_c_cable.EMarker.FIVE_AMP,
    "EPR": type_c_cable.EMarker.EPR,
}
UNSAID_LENGTH_M = 1.0
# A short, stout cable stays well under the limit of the standard (from memory).
LEAST_OF_LIMIT = 0.25
# A barrel contact pair ages from about 30 to 150 mΩ (common practice, from memory).
BARREL_CONTACT_OHM = (0.030, 0.150)
TRIGGER_OHM = (0.020, 0.080)
SOFT_START_OHM = (0.010, 0.060)
# What a fuse carries for good, and at what it surely opens, in units of its rating:
# UL 248-14 (opens at 200 %, load it to 75 %); IEC 60127-2 (2.1 In, from memory).
FUSE_RATIOS = {"IEC 60127": (1.0, 2.1), "UL 248-14": (0.75, 2.0)}
FUSE_VOLT_DROP_AT_RATING_V = (0.05, 0.2)


class PartWritten(Written):
    """What every part may say."""

    id: str
    count: Count | None = None
    price: Cents = None
    carries: FigureAmps | None = None
    withstands: FigureVolts | None = None
    ohms: Ohms = None
    at: str | None = None
    like: str | None = None
    words: str = ""

    def common(self) -> dict[str, Any]:
        """The fields of `Part` that are the same for every kind."""
        return {
            "id": self.id,
            "price_cents": self.price,
            "owned": self.count or 0,
            "words": self.words,
        }

    def parts(self) -> tuple[Part, ...]:
        """The part that it describes, once for each setting."""
        raise NotImplementedError

    def ohm(self, low: float, high: float) -> Quantity:
        """Its resistance as said, or as assumed between low and high."""
        given = self.ohms or unknown(low, high, "Ω")
        return given.called(f"{self.id}/ohms")


class CableWritten(PartWritten):
    """A USB Type-C to Type-C lead."""

    is_: Literal["cable"] = Field(alias="is")
    e_marked: Literal["no", "3 A", "5 A", "EPR"] = "no"
    length: Metres | None = None

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        limit = type_c_cable.cable_current_limit(E_MARKS[self.e_marked])
        most = type_c_cable.loop_limit_ohm(limit.current_a)
        return (
            Part(
                **self.common(),
                kind="cable",
                takes=End(kind="usb-c"),
                gives=End(kind="usb-c"),
                elements=(Resistance(ohm=self.ohm(LEAST_OF_LIMIT * most, most)),),
                carries_a=limit.current_a,
                withstands_v=limit.nominal_v * 1.05,
                joints=0,
                length_m=self.length.low if self.length else UNSAID_LENGTH_M,
                e_marked=limit.current_a > type_c_cable.CURRENT_WITHOUT_MARK_A,
            ),
        )


class TriggerWritten(PartWritten):
    """A part that asks for a contract and hands it on."""

    is_: Literal["trigger"] = Field(alias="is")
    straps: tuple[FigureVolts, ...] = ()
    button: tuple[FigureVolts, ...] = ()
    by: Literal["negotiation", "resistors"] = "negotiation"
    falls_back: Annotated[Said | None, said(*FALLBACKS, "unknown")] = None
    output_switch: Annotated[Said | None, said("yes", "no", "unknown")] = None
    gives: Plug = "wires"
    centre: Literal["positive", "negative"] | None = None

    def parts(self) -> tuple[Part, ...]:
        """One part for each strap setting."""
        settings = self.straps or self.button
        if self.by == "resistors" and not settings:
            settings = (point(5.0, "V", Basis.STANDARD),)
        if not settings:
            raise NotUnderstood(f"trigger {self.id!r} asks for nothing", "add straps: [9 V, 12 V]")
        given = None if self.falls_back in (None, "unknown") else self.falls_back
        fallbacks = FALLBACKS if given is None else (_fallback(given),)
        end = _end(self.gives, self.centre)
        return tuple(
            Part(
                **self.common(),
                kind="trigger",
                takes=End(kind="usb-c"),
                gives=end,
                elements=(Resistance(ohm=self.ohm(*TRIGGER_OHM)),),
                carries_a=self.carries.low if self.carries else 3.0,
                withstands_v=self.withstands.low if self.withstands else 21.0,
                joints=2 if end.kind == "wires" else 0,
                setting=_setting(asked.value, len(settings) > 1, bool(self.button)),
                trigger=TriggerTraits(
                    asks_v=asked.value,
                    falls_back=fallbacks,
                    gated=self.output_switch == "yes",
                    presses_v=tuple(v.value for v in self.button),
                    by_resistors=self.by == "resistors",
                ),
            )
            for asked in settings
        )


def _fallback(word: str) -> Fallback:
    return next(f for f in FALLBACKS if f == word)


def _setting(volts: float, several: bool, button: bool) -> str:
    if button:
        return f"button pressed to {volts:g} V"
    return f"strapped to {volts:g} V" if several else ""


class LeadWritten(PartWritten):
    """A two-core lead with bare ends to a barrel plug."""

    is_: Literal["lead"] = Field(alias="is")
    plug: Plug
    centre: Literal["positive", "negative", "either"] = "either"
    length: Metres
    gauge: Annotated[str, Field(pattern=r"^\d{1,2} AWG$")] = "22 AWG"

    def parts(self) -> tuple[Part, ...]:
        """The lead, once for each way that its ends can be connected."""
        per_m = float(copper.awg_ohm_per_m(int(self.gauge.split()[0])))
        loop = 2 * self.length.value * per_m
        ohm = self.ohm(
            loop + BARREL_CONTACT_OHM[0], copper.CHEAP_LEAD_FACTOR * loop + BARREL_CONTACT_OHM[1]
        )
        ways: tuple[Centre | None, ...] = ("positive", "negative")
        if self.plug in OTHER_PLUGS:
            ways = (None,)
        elif self.centre != "either":
            ways = tuple(way for way in ways if way == self.centre)
        return tuple(
            Part(
                **self.common(),
                kind="lead",
                takes=End(kind="wires"),
                gives=_end(self.plug, way),
                elements=(Resistance(ohm=ohm),),
                carries_a=self.carries.low if self.carries else 2.0,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=2,
                setting=f"centre {way}" if way else "",
                made_either_way=self.centre == "either" and way is not None,
            )
            for way in ways
        )


class FuseWritten(PartWritten):
    """A fuse in a holder with wire ends."""

    is_: Literal["fuse"] = Field(alias="is")
    rating: FigureAmps
    standard: Literal["IEC 60127", "UL 248-14"] = "IEC 60127"

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        rated = self.rating.value
        carries, opens = FUSE_RATIOS[self.standard]
        low, high = (volts / rated for volts in FUSE_VOLT_DROP_AT_RATING_V)
        return (
            Part(
                **self.common(),
                kind="fuse",
                takes=End(kind="wires"),
                gives=End(kind="wires"),
                elements=(
                    FuseLink(rated_a=rated, opens_at_ratio=opens),
                    Resistance(ohm=self.ohm(low, high)),
                ),
                carries_a=rated * carries,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=2,
            ),
        )


class ConverterWritten(PartWritten):
    """A d.c.-d.c. converter with wire ends."""

    is_: Literal["converter"] = Field(alias="is")
    direction: Literal["step-down", "step-up", "isolated"]
    gives: FigureVolts
    adjustable: YesNo = False
    accepts: FigureVolts
    headroom: FigureVolts | None = None
    efficiency: tuple[float, float] = (0.80, 0.95)
    carries: FigureAmps

    def parts(self) -> tuple[Part, ...]:
        """The part; an adjustable one is set by whoever builds a chain with it."""
        headroom = self.headroom
        converter = Converter(
            direction=self.direction,
            gives_v=varies(
                self.gives.low, self.gives.high, "V", Basis.DATASHEET, f"{self.id}/volts"
            ),
            accepts_low_v=self.accepts.low,
            accepts_high_v=self.accepts.high,
            headroom_v=unknown(
                headroom.low if headroom else 0.3,
                headroom.high if headroom else 2.0,
                "V",
                name=f"{self.id}/headroom",
            ),
            efficiency=unknown(*self.efficiency, "1", name=f"{self.id}/efficiency"),
            quiescent_a=unknown(0.0, 0.02, "A", name=f"{self.id}/quiescent current"),
            pass_ohm=unknown(0.02, 0.15, "Ω", name=f"{self.id}/ohms at full duty"),
            carries_a=self.carries.low,
            adjustable=self.adjustable,
        )
        return (
            Part(
                **self.common(),
                kind="converter",
                takes=End(kind="wires"),
                gives=End(kind="wires"),
                elements=(converter,),
                carries_a=self.carries.low,
                withstands_v=self.accepts.high,
                joints=2,
            ),
        )


class SoftStartWritten(PartWritten):
    """A switch that raises the volts slowly behind it."""

    is_: Literal["soft start"] = Field(alias="is")
    ramp: Seconds
    every_step: YesNo = False
    accepts: FigureVolts
    carries: FigureAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        ramp = self.ramp or unknown(0.02, 0.2, "s")
        return (
            Part(
                **self.common(),
                kind="soft start",
                takes=End(kind="wires"),
                gives=End(kind="wires"),
                elements=(
                    Resistance(ohm=self.ohm(*SOFT_START_OHM)),
                    RampSwitch(ramp_s=ramp.called(f"{self.id}/ramp"), every_step=self.every_step),
                ),
                carries_a=self.carries.low,
                withstands_v=self.accepts.high,
                joints=2,
            ),
        )


class AdapterWritten(PartWritten):
    """A short lead from a barrel jack to a plug of the same size with the poles swapped."""

    is_: Literal["adapter"] = Field(alias="is")
    plug: Plug
    swaps_poles: YesNo = True

    def parts(self) -> tuple[Part, ...]:
        """The adapter, once for each polarity that may come into it."""
        low, high = BARREL_CONTACT_OHM
        ways: tuple[tuple[Centre, Centre], ...] = (
            ("positive", "negative"),
            ("negative", "positive"),
        )
        return tuple(
            Part(
                **self.common(),
                kind="reverser",
                takes=_end(self.plug, come),
                gives=_end(self.plug, go),
                elements=(Resistance(ohm=self.ohm(low, 2 * high)),),
                carries_a=self.carries.low if self.carries else 2.0,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=0,
            )
            for come, go in ways
        )


def _end(plug: str, centre: Centre | None) -> End:
    if plug == "wires":
        return End(kind="wires")
    return End(kind="barrel", plug=plug, centre=centre)


AnyPart: TypeAlias = Annotated[
    CableWritten
    | TriggerWritten
    | LeadWritten
    | FuseWritten
    | ConverterWritten
    | SoftStartWritten
    | AdapterWritten,
    Field(discriminator="is_"),
]


class MarketWritten(Written):
    """A file of parts that can be bought."""

    parts: Named[AnyPart]
