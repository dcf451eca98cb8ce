"""Which plug harms which inlet, and whose grounds must not meet, as plain data for a paper.

A matrix that is wider than a page can show is drawn by classes: leads that do the same to every
inlet are one row, inlets that suffer the same from every lead are one column.
"""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from sinkside.figures.matrix_marks import Mark, Matrix, matrix_of
from sinkside.figures.matrix_svg import description, matrix_svg
from sinkside.grounds.at_site import Report, Ring
from sinkside.grounds.remedies import NEVER
from sinkside.mixups import Cell
from sinkside.mixups.sentences import PLUGS_CARE, doing, staying
from sinkside.mixups.separate import Separation, separate
from sinkside.papers.drawn import Spell, drawing, respelled
from sinkside.papers.issue import Json
from sinkside.plan.kept_apart import conductors, pairs
from sinkside.plan.model import Plan

WIDEST, TALLEST = 22, 26
"""Columns and rows of one drawing that can be read on a page."""
MOST_PIECES = 6
"""A matrix that takes more drawings is told row by row, by how many inlets it harms."""
MOST_NAMED = 12
MOST_SEPARATED = 24
"""Up to so many devices the least change that keeps plugs apart is looked for; the time that takes
grows fast, and 200 devices take many minutes."""
TOO_MANY = (
    f"With more than {MOST_SEPARATED} devices the least change that keeps plugs apart is not "
    "worked out for the papers: tie each lead to its device, and put each old brick away in a bag "
    "that is shut and labelled."
)


@dataclass(frozen=True, kw_only=True)
class Apart:
    """What there is to say of plugs and of grounds.

    Parameters
    ----------
    cells
        Every lead and every old brick in every inlet, row by row.
    separation
        The least change that keeps them apart; None where there are too many devices, or none.
    """

    cells: tuple[Cell, ...]
    separation: Separation | None
    conductors: Report


@dataclass(frozen=True, kw_only=True)
class Classes:
    """A matrix by classes, and who is in each of those that have several members."""

    matrix: Matrix
    members: tuple[tuple[str, tuple[str, ...]], ...]


def kept(plan: Plan) -> Apart:
    """What is to be kept apart in a plan.

    Notes
    -----
    The same as `plan.kept_apart` tells, without what the papers leave out: the change that ties
    no lead, and the leads at other ports.
    """
    found = pairs(plan)
    few = found.cells and len(plan.devices) <= MOST_SEPARATED
    return Apart(
        cells=found.cells,
        separation=separate(found.question()) if few else None,
        conductors=conductors(plan),
    )


def apart(told: Apart, spell: Spell) -> dict[str, Json]:
    """What is to be said of plugs and of grounds."""
    whole = matrix_of(told.cells)
    classes = by_classes(whole)
    some = list(pieces(classes.matrix))
    if len(some) > MOST_PIECES:
        some = []
    drawn = [
        drawing(matrix_svg(respelled(piece, spell), title="Plugs and inlets"), description(piece))
        for piece in some
    ]
    return {
        "matrix": drawn,
        "members": [{"name": name, "of": ", ".join(who)} for name, who in classes.members if some],
        "counted": [] if some else [row for row in _counted(whole) if row["harms"] or row["may"]],
        **_separation(told),
        **_grounds(told.conductors),
    }


def _separation(told: Apart) -> dict[str, Json]:
    found = told.separation
    if found is None:
        many = [TOO_MANY] if told.cells else []
        return {"doing": many, "bought": "", "joints": 0, "staying": [], "care": PLUGS_CARE}
    return {
        "doing": list(doing(found)),
        "bought": ", ".join(f"{n} × {part}" for part, n in found.bought),
        "joints": found.joints,
        "staying": list(staying(found)),
        "care": PLUGS_CARE if found.left else "",
    }


def by_classes(found: Matrix) -> Classes:
    """The matrix with like rows and like columns as one each, if it is too large to draw whole."""
    if len(found.columns) <= WIDEST:
        return Classes(matrix=found, members=())
    columns = _alike(list(zip(*found.marks, strict=True)))
    rows = _alike([tuple(row) for row in found.marks])
    names: list[tuple[str, tuple[str, ...]]] = []

    def named(groups: Sequence[Sequence[int]], every: Sequence[str], kind: str) -> list[str]:
        found_names = []
        for group in groups:
            members = tuple(every[k] for k in group)
            name = members[0]
            if len(members) > 1:
                name = f"{kind} {len(names) + 1}: {len(members)} like {members[0]}"
                names.append((name, members))
            found_names.append(name)
        return found_names

    return Classes(
        matrix=Matrix(
            rows=tuple(named(rows, found.rows, "leads")),
            columns=tuple(named(columns, found.columns, "inlets")),
            marks=tuple(tuple(_shown(found, row, column) for column in columns) for row in rows),
        ),
        members=tuple(names),
    )


def _alike(lines: Sequence[Sequence[Mark]]) -> list[list[int]]:
    """Places of lines that are the same, but for a device's own, which is as any that is fine."""
    groups: dict[tuple[str, ...], list[int]] = {}
    for place, line in enumerate(lines):
        groups.setdefault(tuple(_told(mark) for mark in line), []).append(place)
    return list(groups.values())


def _told(mark: Mark) -> str:
    return "fits" if mark.own or mark.letter == "o" else f"{mark.letter}{mark.loose}"


def _shown(found: Matrix, row: Sequence[int], column: Sequence[int]) -> Mark:
    """One mark for all of a class with all of another; a device's own only where it is alone."""
    marks = [found.marks[r][c] for r in row for c in column]
    other = next((mark for mark in marks if not mark.own), marks[0])
    return replace(other, own=len(marks) == 1 and marks[0].own)


def pieces(found: Matrix) -> Iterator[Matrix]:
    """The matrix in pieces that can be read on a page; nothing where there are no leads."""
    for top in range(0, len(found.rows), TALLEST):
        for left in range(0, len(found.columns), WIDEST):
            rows, columns = slice(top, top + TALLEST), slice(left, left + WIDEST)
            yield Matrix(
                rows=found.rows[rows],
                columns=found.columns[columns],
                marks=tuple(row[columns] for row in found.marks[rows]),
            )


def _counted(found: Matrix) -> Iterator[dict[str, str]]:
    """Of each lead, how many inlets it harms and how, and some of them by name."""
    for name, row in zip(found.rows, found.marks, strict=True):
        marks = list(zip(found.columns, row, strict=True))
        harms = [(inlet, m) for inlet, m in marks if m.fill == "harms" and not m.own]
        may = [inlet for inlet, m in marks if m.fill == "may harm" and not m.own]
        how = Counter(mark.word for _, mark in harms)
        yield {
            "lead": name,
            "harms": ", ".join(f"{n} {word}" for word, n in how.most_common()),
            "may": str(len(may)) if may else "",
            "inlets": _some([inlet for inlet, _ in harms] or may),
        }


def _some(names: Sequence[str]) -> str:
    more = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f", and {more} more" if more > 0 else "")


def _grounds(found: Report) -> dict[str, Json]:
    several = [t for t in found.touches if len(t.devices) > 1 or t.verdict]
    alone = [name for t in found.touches if t not in several for name in t.devices]
    touch = [t.words for t in several]
    if alone:
        touch.append(f"each by itself, and not over the limit: {', '.join(alone)}")
    return {
        "shorts": [_ring(ring) for ring in found.shorts],
        "loops": [_ring(ring) for ring in found.loops],
        "back_feeds": [
            {"words": feed.words, "helps": list(feed.remedies)} for feed in found.back_feeds
        ],
        "touch": touch,
        "assumed": list(found.assumed),
        "never": NEVER,
    }


def _ring(ring: Ring) -> dict[str, Json]:
    return {
        "words": ring.words,
        "verdict": ring.meeting.verdict.word,
        "helps": [
            remedy.words + ("" if remedy.clears else " (by itself not enough)")
            for remedy in ring.remedies
        ],
    }
