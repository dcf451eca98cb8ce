"""Rating plates: the text that is printed on old gear and on its bricks, read as facts."""

from sinkside.plates.read import LONGEST_TEXT, read, refuse_too_long
from sinkside.plates.reading import (
    Ambiguity,
    Ignored,
    PlateReading,
    Rating,
    SharedPower,
)

__all__ = [
    "LONGEST_TEXT",
    "Ambiguity",
    "Ignored",
    "PlateReading",
    "Rating",
    "SharedPower",
    "read",
    "refuse_too_long",
]
