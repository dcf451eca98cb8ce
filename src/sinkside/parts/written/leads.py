"""Leads and plugs: what carries the current without changing it."""

from typing import Literal

from pydantic import Field

from sinkside.faults import NotUnderstood
from sinkside.parts.elements import Resistance
from sinkside.parts.fields import OTHER_PLUGS, Gauge, Metres, Plug, YesNo
from sinkside.parts.part import Centre, End, Part
from sinkside.parts.written.entry import WIRES, PartWritten, end_of
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


class CableWritten(PartWritten):
    """A USB Type-C to Type-C lead, or one from Type-A to Type-C, which carries no negotiation."""

    is_: Literal["cable"] = Field(alias="is")
    ends: Literal["C to C", "A to C"] = "C to C"
    e_marked: Literal["no", "3 A", "5 A", "EPR"] = "no"
    length: Metres | None = None

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        if self.ends == "A to C" and self.e_marked != "no":
            raise NotUnderstood(
                f"cable {self.id!r} goes from A to C and has a mark",
                "only leads from C to C are marked: drop e_marked:",
            )
        limit = type_c_cable.cable_current_limit(E_MARKS[self.e_marked])
        most = type_c_cable.loop_limit_ohm(limit.current_a)
        return (
            Part(
                **self.common(),
                kind="cable",
                takes=End(kind="usb-c" if self.ends == "C to C" else "usb-a"),
                gives=End(kind="usb-c"),
                elements=(Resistance(ohm=self.ohm(LEAST_OF_LIMIT * most, most)),),
                carries_a=limit.current_a,
                withstands_v=limit.nominal_v * 1.05,
                joints=0,
                length_m=self.length.low if self.length else UNSAID_LENGTH_M,
                e_marked=limit.current_a > type_c_cable.CURRENT_WITHOUT_MARK_A,
                epr=limit.nominal_v > type_c_cable.SPR_NOMINAL_V,
            ),
        )


class SplitterWritten(PartWritten):
    """A lead that hands the volts of one port to two devices: known, and never built with."""

    is_: Literal["splitter"] = Field(alias="is")

    def parts(self) -> tuple[Part, ...]:
        """The part, as one that the search names when it leaves it out."""
        return (
            Part(
                **self.common(),
                kind="splitter",
                takes=End(kind="usb-c"),
                gives=End(kind="usb-c"),
                elements=(Resistance(ohm=self.ohm(*BARREL_CONTACT_OHM)),),
                carries_a=self.carries.low if self.carries else 3.0,
                withstands_v=self.withstands.low if self.withstands else 21.0,
                joints=0,
            ),
        )


class LeadWritten(PartWritten):
    """A two-core lead with bare ends to a barrel plug."""

    is_: Literal["lead"] = Field(alias="is")
    plug: Plug
    centre: Literal["positive", "negative", "either"] = "either"
    length: Metres
    gauge: Gauge = "22 AWG"

    def parts(self) -> tuple[Part, ...]:
        """The lead, once for each way that its ends can be connected."""
        per_m = float(copper.awg_ohm_per_m(int(self.gauge.split()[0])))
        short, long = 2 * self.length.low * per_m, 2 * self.length.high * per_m
        if self.length.low == 0.0:
            short = 0.5 * long  # `max 2 m` says nothing of the least
        ohm = self.ohm(
            short + BARREL_CONTACT_OHM[0], copper.CHEAP_LEAD_FACTOR * long + BARREL_CONTACT_OHM[1]
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
                gives=end_of(self.plug, way),
                elements=(Resistance(ohm=ohm),),
                carries_a=self.carries.low if self.carries else 2.0,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=2,
                setting=f"centre {way}" if way else "",
                made_either_way=self.centre == "either" and way is not None,
            )
            for way in ways
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
            (("positive", "negative"), ("negative", "positive"))
            if self.swaps_poles
            else (("positive", "positive"), ("negative", "negative"))
        )
        return tuple(
            Part(
                **self.common(),
                kind="reverser",
                takes=end_of(self.plug, come),
                gives=end_of(self.plug, go),
                elements=(Resistance(ohm=self.ohm(low, 2 * high)),),
                carries_a=self.carries.low if self.carries else 2.0,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=0,
            )
            for come, go in ways
        )


class PlugWritten(PartWritten):
    """A loose plug, to be soldered to a lead that lost or never had one."""

    is_: Literal["plug"] = Field(alias="is")
    plug: Plug

    def parts(self) -> tuple[Part, ...]:
        """The plug, once for each way that it can be connected."""
        ways: tuple[Centre, ...] = ("positive", "negative")
        return tuple(
            Part(
                **self.common(),
                kind="plug",
                takes=WIRES,
                gives=end_of(self.plug, way),
                elements=(Resistance(ohm=self.ohm(*BARREL_CONTACT_OHM)),),
                carries_a=self.carries.low if self.carries else 2.0,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=2,
                setting=f"centre {way}",
                made_either_way=True,
            )
            for way in ways
        )
