"""The matrix of plugs and inlets: which mark stands for which outcome, and who stands where.

What is drawn, without saying how: `matrix_text` and `matrix_svg` draw the same thing.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.figures.labels import clean
from sinkside.mixups import Cell
from sinkside.mixups.labels import name_of
from sinkside.mixups.outcome import MAY_NOT_RUN, Outcome

Fill: TypeAlias = Literal["harms", "may harm", "won't run", "may not run", "open", "no fit"]

# Capital letters harm; what may harm asks, and small letters harm nothing.
LETTERS: dict[str, str] = {
    Outcome.NO_FIT.value: "·",
    Outcome.OWN.value: "=",
    Outcome.FINE.value: "o",
    Outcome.WONT_RUN.value: "n",
    MAY_NOT_RUN: "m",
    Outcome.REVERSED.value: "R",
    Outcome.OVER_VOLTS.value: "V",
    Outcome.AC_INTO_DC.value: "A",
    Outcome.AC_INLET.value: "D",
    Outcome.SHORT.value: "S",
    Outcome.OVERLOAD.value: "L",
    Outcome.OVERHEATS.value: "H",
    Outcome.HARM.value: "X",
    Outcome.UNKNOWN.value: "?",
}
_FILLS: dict[str, Fill] = {
    Outcome.NO_FIT.value: "no fit",
    Outcome.OWN.value: "open",
    Outcome.FINE.value: "open",
    Outcome.WONT_RUN.value: "won't run",
    MAY_NOT_RUN: "may not run",
    Outcome.UNKNOWN.value: "may harm",
}
LOOSE, OWN = "~", "[ ]"


@dataclass(frozen=True, kw_only=True)
class Mark:
    """One square."""

    letter: str
    fill: Fill
    own: bool
    loose: bool
    word: str


@dataclass(frozen=True, kw_only=True)
class Matrix:
    """The squares of a matrix.

    Parameters
    ----------
    rows, columns
        The leads and the inlets by name.
    marks
        Row by row.
    """

    rows: tuple[str, ...]
    columns: tuple[str, ...]
    marks: tuple[tuple[Mark, ...], ...]

    @property
    def words(self) -> tuple[str, ...]:
        """The outcomes that occur, in the order of the letters."""
        there = {mark.word for row in self.marks for mark in row}
        return tuple(word for word in LETTERS if word in there)

    @property
    def has_loose(self) -> bool:
        """Whether any plug is loose."""
        return any(mark.loose for row in self.marks for mark in row)


def matrix_of(cells: Sequence[Cell]) -> Matrix:
    """The squares of a matrix, from its cells row by row."""
    rows: dict[str, list[Mark]] = {}
    columns: dict[str, None] = {}
    for cell in cells:
        columns.setdefault(clean(cell.inlet))
        rows.setdefault(clean(name_of(cell.lead, cell.source)), []).append(_mark(cell))
    return Matrix(
        rows=tuple(rows), columns=tuple(columns), marks=tuple(tuple(row) for row in rows.values())
    )


def _mark(cell: Cell) -> Mark:
    return Mark(
        letter=LETTERS[cell.word],
        fill=fill_of(cell.word),
        own=cell.own,
        loose=cell.loose,
        word=cell.word,
    )


def fill_of(word: str) -> Fill:
    """What a square of an outcome is filled with."""
    return _FILLS.get(word, "harms")
