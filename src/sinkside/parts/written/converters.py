"""Converters: volts made into other volts."""

from typing import Literal

from pydantic import Field

from sinkside.faults import NotUnderstood
from sinkside.faults.written import Named, Written
from sinkside.parts.elements import Capacitance, Converter, RailsConverter
from sinkside.parts.fields import (
    Efficiency,
    Farads,
    FigureVolts,
    MadeVolts,
    RatedAmps,
    VoltRange,
    YesNo,
)
from sinkside.parts.part import Part, Rail
from sinkside.parts.written.entry import WIRES, PartWritten
from sinkside.quantity import Basis, unknown, varies


class ConverterWritten(PartWritten):
    """A d.c.-d.c. converter with wire ends."""

    is_: Literal["converter"] = Field(alias="is")
    direction: Literal["step-down", "step-up", "isolated"]
    gives: MadeVolts
    adjustable: YesNo = False
    accepts: VoltRange
    headroom: FigureVolts | None = None
    efficiency: Efficiency = (0.80, 0.95)
    carries: RatedAmps

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
                takes=WIRES,
                gives=WIRES,
                elements=(converter,),
                carries_a=self.carries.low,
                withstands_v=self.accepts.high,
                joints=2,
            ),
        )


# Of a converter with several outputs (common practice, no source): what is lost in it, and what
# stands across its input.
RAILS_EFFICIENCY = (0.75, 0.92)
RAILS_CAPACITANCE_F = (10e-6, 470e-6)


class RailWritten(Written):
    """One output of a converter that has several."""

    id: str
    gives: MadeVolts
    carries: RatedAmps


class RailsWritten(PartWritten):
    """A converter with several outputs, for a device whose internal mains supply is retired."""

    is_: Literal["rails"] = Field(alias="is")
    accepts: VoltRange
    rails: Named[RailWritten]
    efficiency: Efficiency = RAILS_EFFICIENCY
    input_capacitance: Farads = None

    def parts(self) -> tuple[Part, ...]:
        """The part; its outputs are one load to what feeds it."""
        if not self.rails:
            raise NotUnderstood(f"{self.id!r} has no rail", "add rails: {5 V: {gives: …}}")
        if self.accepts.low <= 0.0:
            raise NotUnderstood(
                f"{self.id!r} accepts volts from nothing on", "write it like accepts: 16..28 V"
            )
        efficiency = unknown(*self.efficiency, "1", name=f"{self.id}/efficiency")
        farad = self.input_capacitance or unknown(*RAILS_CAPACITANCE_F, "F")
        full_w = sum(rail.gives.high * rail.carries.low for rail in self.rails)
        return (
            Part(
                **self.common(),
                kind="rails",
                takes=WIRES,
                gives=WIRES,
                elements=(
                    RailsConverter(
                        accepts_low_v=self.accepts.low,
                        accepts_high_v=self.accepts.high,
                        efficiency=efficiency,
                    ),
                    Capacitance(
                        farad=farad.called(f"{self.id}/input capacitance"),
                        esr_ohm=unknown(0.01, 0.5, "Ω", name=f"{self.id}/esr"),
                    ),
                ),
                # What it takes with every rail at its rating, at its lowest input.
                carries_a=self.carries.low
                if self.carries
                else full_w / (efficiency.low * self.accepts.low),
                withstands_v=self.accepts.high,
                joints=2 + 2 * len(self.rails),
                rails=tuple(
                    Rail(
                        name=rail.id,
                        low_v=rail.gives.low,
                        high_v=rail.gives.high,
                        carries_a=rail.carries.low,
                    )
                    for rail in self.rails
                ),
            ),
        )
