"""Which end of every figure is the bad one, by what is asked of a transient.

A rule asks one question, so each of its figures has one bad end. A transient is asked several:
what makes an outage long makes its inrush small. So each question has its own corner.
"""

from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.views import End, View, shares
from sinkside.quantity import Quantity, Spread

Array: TypeAlias = NDArray[np.float64]
Topic: TypeAlias = Literal[
    "ohm",
    "forward",
    "henry",
    "farad",
    "esr",
    "bleeder",
    "gives",
    "headroom",
    "efficiency",
    "quiescent",
    "converter limit",
    "converter start",
    "load",
    "runs from",
    "locks out",
    "restarts",
    "ramp",
    "volts",
    "rise",
    "delay",
    "trip",
    "patience",
    "discharge",
    "ride-through",
]
Question: TypeAlias = Literal["outage", "inrush", "re-attach", "ringing"]

_OUTAGE: dict[Topic, End] = {
    "ohm": "high",
    "forward": "high",
    "henry": "high",
    "farad": "low",
    "esr": "high",
    "bleeder": "low",
    "gives": "low",
    "headroom": "high",
    "efficiency": "low",
    "quiescent": "high",
    "converter limit": "low",
    "converter start": "high",
    "load": "high",
    "runs from": "high",
    "locks out": "high",
    "restarts": "high",
    "ramp": "high",
    "volts": "low",
    "rise": "low",
    "delay": "high",
    "trip": "low",
    "patience": "low",
    "discharge": "low",
    "ride-through": "low",
}
_INRUSH: dict[Topic, End] = {
    **_OUTAGE,
    "ohm": "low",
    "forward": "low",
    "henry": "low",
    "farad": "high",
    "esr": "low",
    "gives": "high",
    "converter limit": "high",
    "converter start": "low",
    "runs from": "low",
    "locks out": "low",
    "restarts": "low",
    "ramp": "low",
    "volts": "high",
    "rise": "high",
}
# What keeps a receptacle up: much stored behind little resistance, and little to empty it.
_REATTACH: dict[Topic, End] = {
    **_INRUSH,
    "bleeder": "high",
    "quiescent": "low",
    "load": "low",
    "runs from": "high",
    "locks out": "high",
    "restarts": "high",
    "discharge": "high",
}
# A live lead rings highest on little capacitance behind much inductance and no load.
_RINGING: dict[Topic, End] = {
    **_INRUSH,
    "henry": "high",
    "farad": "low",
    "load": "low",
    "runs from": "high",
    "locks out": "high",
    "restarts": "high",
    "trip": "high",
    "patience": "high",
}
BAD: dict[Question, dict[Topic, End]] = {
    "outage": _OUTAGE,
    "inrush": _INRUSH,
    "re-attach": _REATTACH,
    "ringing": _RINGING,
}
"""The bad end of every figure, by question."""


class Nominal:
    """One column: every quantity at its nominal, or in the middle of its range."""

    columns = 1

    def at(self, quantity: Quantity, bad: End) -> Array:
        """The nominal, whatever end is bad."""
        del bad
        return np.array([quantity.value])


NOMINAL = Nominal()


class Few:
    """Plausible cases, of which a few stand for the many: the first columns of `Draws`."""

    def __init__(self, columns: int) -> None:
        self.columns = columns

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Few) and other.columns == self.columns

    def __hash__(self) -> int:
        return hash((Few, self.columns))

    def at(self, quantity: Quantity, bad: End) -> Array:
        """Unknowns drawn evenly over their range by name, variations at their bad end."""
        if quantity.spread is Spread.VARIES or quantity.low == quantity.high:
            return np.full(self.columns, quantity.low if bad == "low" else quantity.high)
        drawn = shares(quantity.name)[: self.columns]
        return quantity.low + (quantity.high - quantity.low) * drawn


@dataclass(frozen=True)
class Look:
    """A question seen through a view: what turns quantities into arrays."""

    question: Question
    view: View

    def at(self, quantity: Quantity, topic: Topic) -> Array:
        """The values of a quantity, its bad end as the question has it."""
        return self.view.at(quantity, BAD[self.question][topic])

    @property
    def columns(self) -> int:
        """How many values each quantity becomes."""
        return self.view.columns
