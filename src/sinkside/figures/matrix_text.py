"""The matrix of plugs and inlets as lines of text, for a terminal."""

from collections.abc import Iterator

from sinkside.figures.labels import cells
from sinkside.figures.matrix_marks import LETTERS, LOOSE, Mark, Matrix

NAMES = 30
"""Columns of the terminal for the names of the leads, at most."""


def matrix_text(drawn: Matrix, width: int = 98) -> list[str]:
    """Draw a matrix.

    Parameters
    ----------
    width
        Columns of the terminal; a matrix that is wider stands in pieces below each other.

    Notes
    -----
    The inlets stand as numbers over their columns, with their names below: a name is longer than a
    square is wide.
    """
    if not drawn.rows:
        return ["no lead ends in a plug"]
    names = max(min(NAMES, max(cells(name) for name in drawn.rows)), 4)
    square = max(len(str(len(drawn.columns))), 3) + 1
    piece = max(1, (width - names - 2) // square)
    lines: list[str] = []
    for first in range(0, len(drawn.columns), piece):
        lines += _piece(drawn, first, min(first + piece, len(drawn.columns)), names, square)
        lines.append("")
    return [*lines, *_inlets(drawn, width), "", *_legend(drawn, width)]


def _piece(drawn: Matrix, first: int, last: int, names: int, square: int) -> Iterator[str]:
    """The columns from one to another."""
    head = "".join(f"{place + 1:^{square}}" for place in range(first, last))
    yield f"{_padded('into', names)}  {head}".rstrip()
    for name, row in zip(drawn.rows, drawn.marks, strict=True):
        marks = "".join(_square(mark, square) for mark in row[first:last])
        yield f"{_padded(name, names)}  {marks}".rstrip()


def _square(mark: Mark, square: int) -> str:
    left, right = ("[", "]") if mark.own else (" ", LOOSE if mark.loose else " ")
    return f"{left + mark.letter + right:^{square}}"


def _padded(name: str, width: int) -> str:
    """A name in so many cells."""
    short = _cut(name, width)
    return short + " " * (width - cells(short))


def _cut(name: str, width: int) -> str:
    """A name, cut with an ellipsis where it takes more cells."""
    if cells(name) <= width:
        return name
    while cells(name) >= width:
        name = name[:-1]
    return name + "…"


def _inlets(drawn: Matrix, width: int) -> Iterator[str]:
    """The numbers of the inlets with their names, as many on a line as there is room for."""
    head = "inlet: "
    entries = [f"{place} {name}" for place, name in enumerate(drawn.columns, 1)]
    yield from _packed(head, [_cut(entry, width - len(head)) for entry in entries], width)


def _legend(drawn: Matrix, width: int) -> Iterator[str]:
    entries = [f"{LETTERS[word]} {word}" for word in drawn.words]
    entries.append("[ ] its own device")
    if drawn.has_loose:
        entries.append(f"{LOOSE} goes on, but loose")
    yield from _packed("", entries, width)
    yield "Capitals harm, ? may harm, small letters harm nothing."


def _packed(head: str, entries: list[str], width: int) -> Iterator[str]:
    line = head
    for entry in entries:
        joined = f"{line}{'  ' if line != head else ''}{entry}"
        if cells(joined) > width and line != head:
            yield line
            line = " " * len(head) + entry
        else:
            line = joined
    yield line
