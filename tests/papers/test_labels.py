"""Labels: each in its own cell, legible on tape, and the poles drawn as the words say."""

import re
from xml.etree import ElementTree

import cv2
import numpy as np
import pytest
import typst
from tests.papers.pages import MM, opened, squeezed, words

from sinkside.making.labels import Label, Polarity, all_labels
from sinkside.papers import typeset
from sinkside.papers.issue import SIZES_MM, Issue
from sinkside.papers.label_grid import USUAL, Grid, labels_data
from sinkside.papers.polarity_svg import polarity_svg
from sinkside.papers.tape_svg import LEAST_CAP_MM, TAPE_MM, tape_svg
from sinkside.plan import Plan

SVG = "{http://www.w3.org/2000/svg}"
PPI = 600


@pytest.fixture(scope="module")
def labels(demo_plan: Plan) -> tuple[Label, ...]:
    return all_labels(demo_plan)


def label(**changes: object) -> Label:
    plain: dict[str, object] = {
        "on": "lead",
        "device": "radio",
        "code": "ABC-DEF",
        "polarity": Polarity.NONE,
        "volts": "9 V",
        "amps": "1 A",
        "charger": "tower",
        "port": "C1",
        "lines": ("radio", "9 V"),
        "tape": ("HHHH", "HHHH"),
        "warning": "",
    }
    return Label(**{**plain, **changes})  # type: ignore[arg-type]


@pytest.mark.parametrize(
    ("paper", "grid"),
    [
        ("a4", USUAL["a4"]),
        ("letter", USUAL["letter"]),
        ("a4", Grid(columns=2, rows=5, top_mm=13.0, side_mm=7.0)),
        ("a4", Grid(columns=5, rows=13, top_mm=10.0, side_mm=5.0)),
    ],
)
def test_every_word_stands_in_the_cell_of_its_label(
    labels: tuple[Label, ...], issue: Issue, paper: str, grid: Grid
) -> None:
    issue = Issue(site=issue.site, paper=paper)  # type: ignore[arg-type]
    document = opened(typeset.pdf("labels", labels_data(labels, grid, issue)))
    each = grid.columns * grid.rows
    assert document.page_count == -(-len(labels) // each)
    width, height = grid.label_mm(issue.paper)
    sheet = SIZES_MM[issue.paper]
    assert width * grid.columns + 2 * grid.side_mm == pytest.approx(sheet[0])
    assert height * grid.rows + 2 * grid.top_mm == pytest.approx(sheet[1])
    # What a label keeps white at its edge.
    edge = min(4.0, width / 9, height / 7) - 0.3
    found: dict[int, str] = {}
    for number, page in enumerate(document):
        for left, top, right, bottom, word in words(page):
            column = int((left / MM - grid.side_mm) // width)
            row = int((top / MM - grid.top_mm) // height)
            assert left / MM > grid.side_mm + column * width + edge, word
            assert right / MM < grid.side_mm + (column + 1) * width - edge, word
            assert bottom / MM < grid.top_mm + (row + 1) * height - edge + 0.8, word
            place = number * each + row * grid.columns + column
            found[place] = found.get(place, "") + word
    assert sorted(found) == list(range(len(labels)))
    for place, one in enumerate(labels):
        assert squeezed(one.on) in squeezed(found[place])
        for line in one.lines:
            if len(line) <= 24:
                assert squeezed(line[1:]) in squeezed(found[place])


def test_usual_sheets_have_the_dimensions_that_they_are_sold_by() -> None:
    # Common practice, no source: 70 mm × 37 mm, 24 on A4; 2 5/8 in × 1 in, 30 on US Letter.
    assert USUAL["a4"].label_mm("a4") == pytest.approx((70.0, 37.0))
    assert USUAL["letter"].label_mm("letter") == pytest.approx((66.7, 25.4), abs=0.01)


def ink(svg: str) -> tuple[np.ndarray, float]:
    """A drawing as the typesetter draws it, dark where there is ink; and mm to an element."""
    page = (
        "#set page(width: auto, height: auto, margin: 0pt)\n"
        '#image(bytes(sys.inputs.svg), format: "svg")'
    )
    compiler = typst.Compiler(font_paths=typst.Fonts(include_system_fonts=False))
    made = compiler.compile(input=page.encode(), format="png", ppi=PPI, sys_inputs={"svg": svg})
    assert isinstance(made, bytes)
    grey = cv2.imdecode(np.frombuffer(made, np.uint8), cv2.IMREAD_GRAYSCALE)
    return grey < 128, 25.4 / PPI


def test_capitals_on_tape_are_as_high_as_can_be_read_at_arms_length() -> None:
    dark, mm = ink(tape_svg(label()))
    rows = np.flatnonzero(dark.any(axis=1))
    first, second = np.split(rows, np.flatnonzero(np.diff(rows) > 1) + 1)
    for line in (first, second):
        assert line.size * mm >= LEAST_CAP_MM
    assert dark.shape[0] * mm == pytest.approx(TAPE_MM, abs=0.1)
    # A printer of 9 mm tape leaves a millimetre at each edge white.
    assert rows[0] * mm > 1.0
    assert (dark.shape[0] - 1 - rows[-1]) * mm > 1.0


def test_nothing_on_tape_is_cut_or_lies_on_anything_else(labels: tuple[Label, ...]) -> None:
    for one in labels[:12]:
        dark, mm = ink(tape_svg(one))
        rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
        assert columns[0] * mm > 1.5
        assert (dark.shape[1] - 1 - columns[-1]) * mm > 1.0
        assert rows[0] * mm > 0.9
        assert (dark.shape[0] - 1 - rows[-1]) * mm > 0.9


def test_nothing_on_a_label_is_told_by_colour(labels: tuple[Label, ...]) -> None:
    for one in labels:
        assert set(re.findall("#[0-9a-f]{6}", tape_svg(one))) == {"#141414", "#ffffff"}


def test_the_sign_beside_the_dot_is_that_of_the_centre() -> None:
    # IEC 60417-5926: the dot is the centre contact. The opening of the ring is at its right, so
    # the right sign is joined to the dot, and the left one to the ring.
    for polarity, left, right in (
        (Polarity.CENTRE_POSITIVE, "-", "+"),
        (Polarity.CENTRE_NEGATIVE, "+", "-"),
    ):
        drawn = ElementTree.fromstring(polarity_svg(polarity))
        assert drawn.findtext(f"{SVG}title") == polarity.value
        signs = [p.attrib["d"] for p in drawn.iter(f"{SVG}path")][1:]
        rings = [c for c in drawn.iter(f"{SVG}circle") if "fill" not in c.attrib]
        assert float(rings[0].attrib["cx"]) < float(rings[1].attrib["cx"])
        assert ["+" if "v" in d else "-" for d in signs] == [left, right]
    for polarity in (Polarity.NONE, Polarity.FIXED, Polarity.EITHER):
        assert polarity_svg(polarity) == ""


def test_a_hostile_label_is_text(hostile_plan: Plan) -> None:
    for one in all_labels(hostile_plan):
        drawn = ElementTree.fromstring(tape_svg(one))
        assert {e.tag.removeprefix(SVG) for e in drawn.iter()} <= {
            *("svg", "title", "desc", "rect", "g", "path", "circle", "text")
        }
        assert len(list(drawn.iter(f"{SVG}text"))) == len(one.tape)
