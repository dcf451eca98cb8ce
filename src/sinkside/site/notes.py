"""What comes up while a device is surveyed: what was assumed, and what cannot both be true."""

from dataclasses import dataclass, field

from sinkside.quantity import Basis, Quantity, number, span, unknown


@dataclass
class Notes:
    """Assumptions by topic, and conflicts, of one device."""

    device: str
    assumptions: dict[str, str] = field(default_factory=dict)
    conflicts: list[str] = field(default_factory=list)

    def assume(self, topic: str, low: float, high: float, unit: str, why: str) -> Quantity:
        quantity = unknown(low, high, unit, name=f"{self.device}/{topic}")
        shown = span(low, high, unit) if low != high else number(low, unit)
        self.assumptions[topic] = f"{topic}: {shown}, {why}"
        return quantity

    def still_assumed(self, *final: Quantity) -> tuple[str, ...]:
        """What was assumed and nothing better has replaced."""
        topics = [q.name.rpartition("/")[2] for q in final if q.basis is Basis.ASSUMED]
        return tuple(self.assumptions[t] for t in topics if t in self.assumptions)

    def given(self, topic: str, quantity: Quantity) -> Quantity:
        return quantity.called(f"{self.device}/{topic}")
