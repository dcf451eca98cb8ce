"""The matrix of plugs and inlets as SVG, for the page and for paper.

A square that harms is hatched, one that may is hatched thinly, one that does not run is dotted;
every square has its letter as well. The device's own square has a heavy frame. Nothing is told by
colour, and nothing refers to anything by name, so that any number of drawings may stand in one
document.
"""

from collections.abc import Iterator

from sinkside.figures import svg
from sinkside.figures.labels import cells, wrapped
from sinkside.figures.look import ACCENT, INK
from sinkside.figures.matrix_marks import LETTERS, LOOSE, Fill, Mark, Matrix, fill_of
from sinkside.figures.svg import CELL

SQUARE = 24.0

_EDGE, _GAP, _LINE = 6.0, 8.0, 13.0
_NAMES = 34
_HEAD = 16.0
# Distance between lines or dots, and their width: as in the window.
_HATCH: dict[Fill, tuple[float, float]] = {"harms": (4.0, 0.9), "may harm": (8.0, 0.4)}
_DOTS: dict[Fill, tuple[float, float]] = {"won't run": (5.0, 1.4), "may not run": (8.5, 1.0)}


def matrix_svg(drawn: Matrix, *, title: str = "Plugs and inlets") -> str:
    """Draw a matrix.

    Parameters
    ----------
    title
        What the drawing is of, for those who hear it.

    Raises
    ------
    ValueError
        It has no rows.

    Notes
    -----
    The same matrix gives the same bytes. Inlets stand as numbers over their columns, with their
    names below.
    """
    if not drawn.rows:
        raise ValueError("a matrix without a lead has nothing to draw")
    names = [wrapped(name, _NAMES, 1)[0] for name in drawn.rows]
    left = _EDGE + max(cells(name) for name in names) * CELL + _GAP
    top = _EDGE + _HEAD
    plot = left + SQUARE * len(drawn.columns) + _EDGE
    foot = top + SQUARE * len(drawn.rows) + _LINE
    beside, legend = _legend(drawn)
    parts = [
        *_heads(drawn, left, top),
        *_rows(drawn, names, left, top),
        *_inlets(drawn, foot),
        *_meanings(drawn, beside, foot),
    ]
    width = max(plot, beside + legend)
    height = foot + max(_LINE * (len(drawn.columns) + 1), SQUARE * (len(drawn.words) + 2))
    return svg.document("matrix", title, description(drawn), width, height, parts)


def description(drawn: Matrix) -> str:
    """The drawing in words: what harms, then what may, then what is loose; the rest is harmless."""
    said = []
    for fill, how in (("harms", "harms"), ("may harm", "may harm")):
        pairs = [
            f"{row} in {column} ({mark.word})"
            for row, marks in zip(drawn.rows, drawn.marks, strict=True)
            for column, mark in zip(drawn.columns, marks, strict=True)
            if mark.fill == fill and not mark.own
        ]
        said.append(f"{how}: {'; '.join(pairs)}." if pairs else f"{how}: nothing.")
    loose = [
        f"{row} in {column}"
        for row, marks in zip(drawn.rows, drawn.marks, strict=True)
        for column, mark in zip(drawn.columns, marks, strict=True)
        if mark.loose
    ]
    if loose:
        said.append(f"goes on, but loose: {'; '.join(loose)}.")
    return " ".join(said)


def _heads(drawn: Matrix, left: float, top: float) -> Iterator[str]:
    for place in range(len(drawn.columns)):
        number = str(place + 1)
        middle = left + SQUARE * (place + 0.5)
        yield svg.text(middle - cells(number) * CELL / 2, top - 5, number, "matrix-inlet")


def _rows(drawn: Matrix, names: list[str], left: float, top: float) -> Iterator[str]:
    own = []
    for place, (name, marks) in enumerate(zip(names, drawn.marks, strict=True)):
        y = top + SQUARE * place
        x = left - _GAP - cells(name) * CELL
        yield svg.text(x, y + SQUARE / 2 + 3.5, name, "matrix-lead")
        for column, mark in enumerate(marks):
            yield from _square(mark, left + SQUARE * column, y)
            if mark.own:
                own.append((left + SQUARE * column, y))
    # Over the thin frames of their neighbours.
    yield from (_frame(x, y, "matrix-own", ACCENT, 2.2) for x, y in own)


def _square(mark: Mark, x: float, y: float) -> Iterator[str]:
    yield _frame(x, y, "matrix-square", INK, 0.4)
    yield _filled(mark.fill, x, y)
    letter = mark.letter + (LOOSE if mark.loose else "")
    half = cells(letter) * CELL / 2
    middle = x + SQUARE / 2
    if mark.fill in _HATCH or mark.fill in _DOTS:
        # It keeps a letter clear of hatch and dots.
        yield svg.box(middle - half - 1, y + 4, 2 * half + 2, SQUARE - 8, "matrix-plate")
    yield svg.text(middle - half, y + SQUARE / 2 + 3.5, letter, "matrix-letter")


def _filled(fill: Fill, x: float, y: float) -> str:
    """Hatch or dots, as the square is filled."""
    kind = f"matrix-{fill.replace(' ', '-').replace(chr(39), '')}"
    right, foot = x + SQUARE, y + SQUARE
    if fill in _HATCH:
        return svg.hatched(kind, *_HATCH[fill], x, right, y, foot)
    if fill in _DOTS:
        return svg.dotted(kind, *_DOTS[fill], x + 1, right - 1, y + 1, foot - 1)
    return ""


def _frame(x: float, y: float, kind: str, ink: str, weight: float, side: float = SQUARE) -> str:
    return svg.box(x, y, side, side, kind, fill="none", ink=ink, weight=weight)


def _inlet_lines(drawn: Matrix) -> list[str]:
    return [f"{place} {wrapped(name, _NAMES, 1)[0]}" for place, name in enumerate(drawn.columns, 1)]


def _own_word(drawn: Matrix) -> str:
    loose = f"; {LOOSE} goes on, but loose" if drawn.has_loose else ""
    return f"the device's own lead{loose}"


def _legend(drawn: Matrix) -> tuple[float, float]:
    """Where the legend begins, beside the names of the inlets, and how wide it is."""
    left = _EDGE + CELL * max(cells(line) for line in _inlet_lines(drawn)) + 3 * _GAP
    longest = max(cells(word) for word in (*drawn.words, _own_word(drawn)))
    return left, SQUARE + _GAP + CELL * longest + _EDGE


def _inlets(drawn: Matrix, top: float) -> Iterator[str]:
    """The numbers of the inlets with their names."""
    for place, line in enumerate(_inlet_lines(drawn), 1):
        yield svg.text(_EDGE, top + _LINE * place, line, "matrix-name")


def _meanings(drawn: Matrix, left: float, top: float) -> Iterator[str]:
    """What the squares mean."""
    y = top
    for word in drawn.words:
        mark = Mark(letter=LETTERS[word], fill=fill_of(word), own=False, loose=False, word=word)
        yield from _square(mark, left, y)
        yield svg.text(left + SQUARE + _GAP, y + SQUARE / 2 + 3.5, word, "matrix-word")
        y += SQUARE
    yield _frame(left + 2, y + 2, "matrix-own", ACCENT, 2.2, SQUARE - 4)
    yield svg.text(left + SQUARE + _GAP, y + SQUARE / 2 + 3.5, _own_word(drawn), "matrix-word")
