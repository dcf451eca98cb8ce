"""How a quantity is looked at: its corners, its plausible draws, or one unknown at a time.

Every symbol of a rule has a bad end. A view turns a quantity into an array of values seen
from that end; the columns differ from view to view, the physics does not.
"""

from collections.abc import Hashable, Sequence
from functools import lru_cache
from hashlib import blake2b
from typing import Literal, Protocol, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.quantity import Quantity, Spread

Array: TypeAlias = NDArray[np.float64]
End: TypeAlias = Literal["low", "high"]

DRAWS = 1024


class View(Hashable, Protocol):
    """A way to look at quantities; `columns` is how many values each becomes."""

    columns: int

    def at(self, quantity: Quantity, bad: End) -> Array:
        """The values of a quantity whose bad end is `bad`."""


class Corners:
    """Column 0: everything at its bad end. Column 1: unknowns at their good end instead."""

    columns = 2

    def at(self, quantity: Quantity, bad: End) -> Array:
        return _corners(quantity, bad)


CORNERS = Corners()


@lru_cache(maxsize=100_000)
def _corners(quantity: Quantity, bad: End) -> Array:
    worst, best = (quantity.low, quantity.high) if bad == "low" else (quantity.high, quantity.low)
    values = np.array([worst, worst if quantity.spread is Spread.VARIES else best])
    values.setflags(write=False)
    return values


class Draws:
    """Plausible cases: unknowns drawn evenly from their spread, variations at their bad end.

    The draws of an unknown come from its name alone: the same unknown takes the same value
    in the same case, whatever else is judged.
    """

    columns = DRAWS

    def at(self, quantity: Quantity, bad: End) -> Array:
        if quantity.spread is Spread.VARIES or quantity.low == quantity.high:
            return np.full(DRAWS, quantity.low if bad == "low" else quantity.high)
        return quantity.low + (quantity.high - quantity.low) * shares(quantity.name)


PLAUSIBLE = Draws()


@lru_cache(maxsize=4096)
def shares(name: str) -> Array:
    """Even draws over 0..1 for a name, stratified so that few draws cover the range."""
    seed = int.from_bytes(blake2b(name.encode(), digest_size=8).digest(), "big")
    random = np.random.default_rng(seed)
    cells = (np.arange(DRAWS) + random.random(DRAWS)) / DRAWS
    values: Array = random.permutation(cells)
    values.setflags(write=False)
    return values


class OneKnown:
    """One column for each name: that unknown at its good end, everything else at its bad one."""

    def __init__(self, names: Sequence[str]) -> None:
        self.names = tuple(names)
        self.columns = len(self.names)

    def at(self, quantity: Quantity, bad: End) -> Array:
        worst, best = _corners(quantity, bad)
        return np.array([best if name == quantity.name else worst for name in self.names])
