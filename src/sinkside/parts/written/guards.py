"""Guards and reservoirs: fuses, soft starts, diodes, hold-up, filters, crowbars, bleeders."""

from typing import Literal

from pydantic import Field

from sinkside.faults import NotUnderstood
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Crowbar,
    Diode,
    Element,
    FuseLink,
    Inductance,
    RampSwitch,
    Resistance,
    Thermistor,
)
from sinkside.parts.fields import (
    Farads,
    FigureVolts,
    Henries,
    MadeVolts,
    Ohms,
    RatedAmps,
    Seconds,
    VoltRange,
    Volts,
    YesNo,
)
from sinkside.parts.part import Part, PartKind
from sinkside.parts.written.entry import WIRES, PartWritten
from sinkside.quantity import Quantity, unknown

SOFT_START_OHM = (0.010, 0.060)
# What a fuse carries for good, and at what it surely opens, in units of its rating:
# UL 248-14 (opens at 200 %, load it to 75 %); IEC 60127-2 (2.1 In, from memory).
FUSE_RATIOS = {"IEC 60127": (1.0, 2.1), "UL 248-14": (0.75, 2.0)}
FUSE_VOLT_DROP_AT_RATING_V = (0.05, 0.2)
# The I²t that melts it, in units of its rating squared. Time-lag: it stands ten times its rating
# for 20 ms (IEC 60127-2 sheet 3, from memory), so 2 s at the least. A quick one has no such
# gate: what datasheets say of 5 × 20 mm fuses (from memory).
MELTS_S = {"time-lag": (2.0, 60.0), "quick": (0.05, 2.0), "unknown": (0.05, 60.0)}
# A resettable fuse surely trips at twice what it holds at 25 °C (common practice).
PPTC_TRIPS_AT = 2.0


class FuseWritten(PartWritten):
    """A fuse in a holder with wire ends."""

    is_: Literal["fuse"] = Field(alias="is")
    rating: RatedAmps
    standard: Literal["IEC 60127", "UL 248-14"] = "IEC 60127"
    speed: Literal["time-lag", "quick", "unknown"] = "unknown"

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        rated = self.rating.value
        carries, opens = FUSE_RATIOS[self.standard]
        low, high = (volts / rated for volts in FUSE_VOLT_DROP_AT_RATING_V)
        least, most = (seconds * rated**2 for seconds in MELTS_S[self.speed])
        melts = unknown(least, most, "A²s", name=f"{self.id}/melting pulse")
        return (
            Part(
                **self.common(),
                kind="fuse",
                takes=WIRES,
                gives=WIRES,
                elements=(
                    FuseLink(rated_a=rated, opens_at_ratio=opens, melts_a2s=melts),
                    Resistance(ohm=self.ohm(low, high)),
                ),
                carries_a=rated * carries,
                withstands_v=self.withstands.low if self.withstands else 60.0,
                joints=2,
            ),
        )


class SoftStartWritten(PartWritten):
    """A switch that raises the volts slowly behind it."""

    is_: Literal["soft start"] = Field(alias="is")
    ramp: Seconds
    every_step: YesNo = False
    accepts: VoltRange
    carries: RatedAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        ramp = self.ramp or unknown(0.02, 0.2, "s")
        return (
            Part(
                **self.common(),
                kind="soft start",
                takes=WIRES,
                gives=WIRES,
                elements=(
                    Resistance(ohm=self.ohm(*SOFT_START_OHM)),
                    RampSwitch(ramp_s=ramp.called(f"{self.id}/ramp"), every_step=self.every_step),
                ),
                carries_a=self.carries.low,
                withstands_v=self.accepts.high,
                joints=2,
            ),
        )


class ResettableFuseWritten(PartWritten):
    """A resettable fuse (PPTC)."""

    is_: Literal["resettable fuse"] = Field(alias="is")
    holds: RatedAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        hold = self.holds.low
        return (
            _two_wires(
                self,
                "resettable fuse",
                hold,
                (
                    Thermistor(holds_a=hold, trips_at_ratio=PPTC_TRIPS_AT),
                    Resistance(ohm=self.ohm(0.02 / hold, 0.3 / hold)),
                ),
            ),
        )


class DiodeWritten(PartWritten):
    """A series diode: keeps a reservoir from feeding back, or a reversed plug from harm."""

    is_: Literal["diode"] = Field(alias="is")
    forward: Volts
    carries: RatedAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        diode = Diode(
            forward_v=(self.forward or unknown(0.2, 1.1, "V")).called(f"{self.id}/forward volts"),
            slope_ohm=self.ohm(0.01, 0.1),
        )
        return (_two_wires(self, "diode", self.carries.low, (diode,)),)


class HoldUpWritten(PartWritten):
    """A reservoir across the output, behind a diode and a charging resistor."""

    is_: Literal["hold-up"] = Field(alias="is")
    farads: Farads
    rated: FigureVolts
    esr: Ohms = None
    forward: Volts = None
    carries: RatedAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        reservoir = Capacitance(
            farad=_sure(self.farads, 1e-3, 1.0, "F", f"{self.id}/farads"),
            esr_ohm=_sure(self.esr, 0.01, 0.2, "Ω", f"{self.id}/esr"),
        )
        diode = Diode(
            forward_v=_sure(self.forward, 0.3, 0.6, "V", f"{self.id}/forward volts"),
            slope_ohm=self.ohm(0.02, 0.1),
        )
        return (
            _two_wires(
                self, "hold-up", self.carries.low, (diode, reservoir), rated_v=self.rated.low
            ),
        )


class FilterWritten(PartWritten):
    """A choke and a capacitor against hum and hash."""

    is_: Literal["filter"] = Field(alias="is")
    henries: Henries
    farads: Farads
    carries: RatedAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        return (
            _two_wires(
                self,
                "filter",
                self.carries.low,
                (
                    Inductance(henry=_sure(self.henries, 1e-5, 1e-2, "H", f"{self.id}/henries")),
                    Resistance(ohm=self.ohm(0.05, 0.5)),
                    Capacitance(
                        farad=_sure(self.farads, 1e-5, 1e-3, "F", f"{self.id}/farads"),
                        esr_ohm=unknown(0.02, 0.3, "Ω", name=f"{self.id}/esr"),
                    ),
                ),
            ),
        )


class CrowbarWritten(PartWritten):
    """Shorts the pair when the volts rise too far, so that the fuse before it opens."""

    is_: Literal["crowbar"] = Field(alias="is")
    trips: MadeVolts
    carries: RatedAmps

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        crowbar = Crowbar(trips_low_v=self.trips.low, trips_high_v=self.trips.high)
        return (_two_wires(self, "crowbar", self.carries.low, (crowbar,)),)


class BleederWritten(PartWritten):
    """A resistor across the pair that empties what is behind it."""

    is_: Literal["bleeder"] = Field(alias="is")
    across: Ohms

    def parts(self) -> tuple[Part, ...]:
        """The part."""
        if self.across is not None and self.across.low <= 0.0:
            raise NotUnderstood(f"bleeder {self.id!r} may be a short", "write 0.95..1.05 kΩ")
        ohm = _sure(self.across, 100.0, 10_000.0, "Ω", f"{self.id}/ohms across")
        return (_two_wires(self, "bleeder", 60.0, (Bleeder(ohm=ohm),)),)


def _sure(given: Quantity | None, low: float, high: float, unit: str, name: str) -> Quantity:
    """What was given, or an assumption with a range."""
    return (given or unknown(low, high, unit)).called(name)


def _two_wires(
    entry: PartWritten,
    kind: PartKind,
    carries_a: float,
    elements: tuple[Element, ...],
    rated_v: float = 60.0,
) -> Part:
    """A part with a pair of wires at both ends."""
    return Part(
        **entry.common(),
        kind=kind,
        takes=WIRES,
        gives=WIRES,
        elements=elements,
        carries_a=carries_a,
        withstands_v=entry.withstands.low if entry.withstands else rated_v,
        joints=2,
    )
