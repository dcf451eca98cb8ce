"""The matrix as SVG, read back from its own coordinates as a reader would."""

import re
import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
from tests.figures.matrices import HOSTILE, cell, drawn, every_kind

from sinkside.figures.labels import cells, clean
from sinkside.figures.look import ACCENT, INK, PAPER
from sinkside.figures.matrix_marks import Matrix, matrix_of
from sinkside.figures.matrix_svg import SQUARE, description, matrix_svg
from sinkside.figures.svg import SIZE
from sinkside.mixups import Outcome

NS = "{http://www.w3.org/2000/svg}"
# Advance of every glyph of DejaVu Sans Mono, in parts of the type size: 1233 of 2048 units.
ADVANCE = 1233 / 2048
FILLS = {
    "harms": "matrix-harms",
    "may harm": "matrix-may-harm",
    "won't run": "matrix-wont-run",
    "may not run": "matrix-may-not-run",
}


def svg(matrix: Matrix) -> ET.Element:
    return ET.fromstring(matrix_svg(matrix))


def of(root: ET.Element, kind: str) -> list[ET.Element]:
    return [e for e in root if e.get("class") == kind]


def at(element: ET.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(element.attrib[name]) for name in names)


def squares(root: ET.Element, matrix: Matrix) -> list[tuple[float, float]]:
    """The corners of the squares of the matrix, row by row; those of the legend left out."""
    return [at(e, "x", "y") for e in of(root, "matrix-square")][
        : len(matrix.rows) * len(matrix.columns)
    ]


def inside(corner: tuple[float, float], point: tuple[float, float]) -> bool:
    return all(c - 0.02 <= p <= c + SQUARE + 0.02 for c, p in zip(corner, point, strict=True))


@pytest.mark.parametrize("matrix", [every_kind(), drawn(1, 8)], ids=["every kind", "random"])
def test_every_square_has_its_letter_and_its_fill(matrix: Matrix) -> None:
    root = svg(matrix)
    corners = squares(root, matrix)
    letters = [(at(e, "x", "y"), e.text) for e in of(root, "matrix-letter")]
    marks = [mark for row in matrix.marks for mark in row]
    for corner, mark in zip(corners, marks, strict=True):
        (letter,) = [text for place, text in letters if inside(corner, place)]  # type: ignore[arg-type]
        assert letter == mark.letter + ("~" if mark.loose else "")
        there = {
            fill
            for fill, kind in FILLS.items()
            for e in of(root, kind)
            if inside(corner, _first(e)) and inside(corner, _last(e))
        }
        assert there == ({mark.fill} if mark.fill in FILLS else set())


def _points(element: ET.Element) -> list[tuple[float, float]]:
    numbers = re.findall(r"[ML]([\d.]+) ([\d.]+)", element.attrib["d"])
    return [(float(x), float(y)) for x, y in numbers]


def _first(element: ET.Element) -> tuple[float, float]:
    return _points(element)[0]


def _last(element: ET.Element) -> tuple[float, float]:
    return _points(element)[-1]


def test_hatch_stays_in_its_square() -> None:
    matrix = every_kind()
    root = svg(matrix)
    for kind in FILLS.values():
        for element in of(root, kind):
            found = _points(element)
            assert found
            xs, ys = zip(*found, strict=True)
            assert max(xs) - min(xs) <= SQUARE + 0.02
            assert max(ys) - min(ys) <= SQUARE + 0.02


def test_the_own_square_has_a_heavy_frame() -> None:
    matrix = drawn(2, 5)
    root = svg(matrix)
    corners = squares(root, matrix)
    own = [corners[i * 5 + i] for i in range(5)]
    frames = [at(e, "x", "y") for e in of(root, "matrix-own")]
    assert frames[:5] == own
    assert len(frames) == 6  # and one in the legend
    for frame in of(root, "matrix-own"):
        assert at(frame, "stroke-width")[0] > 2.0


def boxes(root: ET.Element) -> list[tuple[float, float, float, float]]:
    """The extent of every text: ascender and descender are within 0.8 and 0.24 of its size."""
    found = []
    for e in root:
        if e.tag == f"{NS}text":
            x, y = at(e, "x", "y")
            width = cells(e.text or "") * ADVANCE * SIZE
            found.append((x, y - 0.8 * SIZE, x + width, y + 0.24 * SIZE))
    return found


@pytest.mark.parametrize(
    "matrix",
    [every_kind(), drawn(3, 12), matrix_of([cell("a", "a", Outcome.FINE)])],
    ids=["every kind", "random", "one square"],
)
def test_no_text_overlaps_another_or_leaves_the_paper(matrix: Matrix) -> None:
    root = svg(matrix)
    width, height = at(root, "width", "height")
    found = boxes(root)
    for left, top, right, bottom in found:
        assert left >= 0.0
        assert top >= 0.0
        assert right <= width + 0.01
        assert bottom <= height + 0.01
    for a, b in combinations(found, 2):
        across = min(a[2], b[2]) - max(a[0], b[0])
        down = min(a[3], b[3]) - max(a[1], b[1])
        assert across <= 0.05 or down <= 0.05


def test_the_numbers_over_the_columns_are_those_of_the_names_below() -> None:
    matrix = drawn(4, 11)
    root = svg(matrix)
    assert [e.text for e in of(root, "matrix-inlet")] == [str(i) for i in range(1, 12)]
    names = [e.text or "" for e in of(root, "matrix-name")]
    for place, (line, name) in enumerate(zip(names, matrix.columns, strict=True), 1):
        assert line.startswith(f"{place} {name[:3]}")


def test_only_the_colours_of_the_look_and_none_that_says_anything() -> None:
    text = matrix_svg(every_kind())
    assert set(re.findall(r"#[0-9a-f]{6}", text)) == {INK, PAPER, ACCENT}
    root = ET.fromstring(text)
    coloured = {e.get("class") for e in root if e.get("stroke") == ACCENT}
    assert coloured == {"matrix-own"}


def test_nothing_refers_to_anything_by_name() -> None:
    text = matrix_svg(every_kind())
    assert " id=" not in text
    assert "url(" not in text
    assert "href" not in text


def test_a_hostile_name_is_only_text() -> None:
    text = matrix_svg(drawn(5, 3))
    assert "<script" not in text
    root = ET.fromstring(text)
    names = [e.text or "" for e in of(root, "matrix-name")]
    assert names[-1].startswith(f"3 {clean(HOSTILE)[:3]}")


def test_the_description_says_in_words_what_harms() -> None:
    matrix = matrix_of(
        [
            cell("a", "a", Outcome.FINE),
            cell("a", "b", Outcome.REVERSED, loose=True),
            cell("b", "a", Outcome.UNKNOWN),
            cell("b", "b", Outcome.UNKNOWN),
        ]
    )
    assert description(matrix) == (
        "harms: lead of a in b (reversed). may harm: lead of b in a (may harm). goes on, but "
        "loose: lead of a in b."
    )
    assert description(matrix_of([cell("a", "a", Outcome.FINE)])) == (
        "harms: nothing. may harm: nothing."
    )
    assert svg(matrix).findtext(f"{NS}desc") == description(matrix)


def test_the_same_matrix_gives_the_same_bytes() -> None:
    assert matrix_svg(drawn(6, 6)) == matrix_svg(drawn(6, 6))


def test_a_matrix_without_a_lead_is_refused() -> None:
    with pytest.raises(ValueError, match=r"^a matrix without a lead has nothing to draw$"):
        matrix_svg(matrix_of([]))
