"""What every part may say, and what its entry has in common with every other."""

from typing import Any

from sinkside.faults.written import Written
from sinkside.parts.fields import Cents, Count, FigureAmps, FigureVolts, Ohms
from sinkside.parts.part import Centre, End, Part
from sinkside.quantity import Quantity, unknown

WIRES = End(kind="wires")


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


def end_of(plug: str, centre: Centre | None) -> End:
    """The end that a plug makes."""
    if plug == "wires":
        return End(kind="wires")
    return End(kind="barrel", plug=plug, centre=centre)
