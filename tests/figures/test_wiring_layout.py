"""The wiring drawing as a drawing: clear of itself, inside its paper, safe against any name."""

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations, pairwise
from xml.etree import ElementTree

import pytest
from tests.figures.test_wiring_cases import SVG, Case, Point, demo_cases, read_back, small_cases
from tests.paths import small_parts as small

from sinkside.figures.labels import cells
from sinkside.figures.svg import CELL
from sinkside.figures.wiring_svg import wiring_svg


@pytest.fixture(scope="module")
def cases() -> dict[str, Case]:
    return {**dict(small_cases()), **dict(demo_cases())}


def rectangle(text: str, x: float, y: float) -> tuple[float, float, float, float]:
    """What a line of text takes: ascenders rise 0.76 of the size, descenders 0.24."""
    return x, y - 7.6, x + cells(text) * CELL, y + 2.4


def overlap(a: tuple[float, float, float, float], b: tuple[float, float, float, float]) -> bool:
    return a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3]


def outside(a: tuple[float, float, float, float], size: Point) -> bool:
    return a[0] < 0 or a[1] < 0 or a[2] > size[0] or a[3] > size[1]


def legs(points: list[Point]) -> Iterator[tuple[float, float, float, float]]:
    """Each stretch of a line as the rectangle around it, upright or level."""
    for (x1, y1), (x2, y2) in pairwise(points):
        yield min(x1, x2), min(y1, y2), max(x1, x2), max(y1, y2)


def check_layout(svg: str) -> None:
    drawn = read_back(svg)
    rooms = [(rectangle(text, x, y), text) for _, text, x, y in drawn.texts]
    for room, text in rooms:
        assert not outside(room, drawn.size), text
    for (a, one), (b, other) in combinations(rooms, 2):
        assert not overlap(a, b), (one, other)
    for conductor, points in drawn.wires:
        for leg in legs(points):
            thick = (leg[0] - 1, leg[1] - 1, leg[2] + 1, leg[3] + 1)
            assert not outside(thick, drawn.size), conductor
            for room, text in rooms:
                assert not overlap(thick, room), (conductor, text)
            for x1, y1, x2, y2 in drawn.boxes:
                assert not overlap(leg, (x1 + 1, y1 + 1, x2 - 1, y2 - 1))
    for (_, one_wire), (_, other_wire) in combinations(drawn.wires, 2):
        joined = set(one_wire) & set(other_wire)
        for p, q in ((p, q) for p in legs(one_wire) for q in legs(other_wire)):
            touch = p[0] <= q[2] and q[0] <= p[2] and p[1] <= q[3] and q[1] <= p[3]
            assert not touch or joined, (one_wire, other_wire)
    for _, points in drawn.inside:
        for (x1, y1), (x2, y2) in pairwise(points):
            for k in range(21):
                x, y = x1 + (x2 - x1) * k / 20, y1 + (y2 - y1) * k / 20
                spot = (x - 0.5, y - 0.5, x + 0.5, y + 0.5)
                assert not any(overlap(spot, room) for room, _ in rooms), points


@pytest.mark.parametrize("width", [420.0, 520.0, 700.0, 1100.0])
def test_texts_and_wires_keep_clear_of_each_other(cases: dict[str, Case], width: float) -> None:
    for case in cases.values():
        check_layout(wiring_svg(*case, width=width))


STRANGE = (
    "<b>&amp; \"'</b>]]>",
    "録音機の電源ケーブル" * 4,
    "מטען ישן עם כבל",
    "\N{ELECTRIC PLUG}\N{BATTERY}\N{ZERO WIDTH JOINER}\N{ELECTRIC PLUG}" * 10,
    "a" * 200,
    "word " * 40,
    "x\x00\x1by\u202e",
    "",
)


@pytest.mark.parametrize("name", STRANGE)
def test_strange_names_are_escaped_and_cut(name: str) -> None:
    needs = (replace(small.need(5.0, 1.0), name=name), small.need(12.0, 1.0))
    rails = small.rails((4.8, 5.2, 4.0), (11.6, 12.4, 2.0), words=name)
    named = replace(rails, rails=(replace(rails.rails[0], name=name), rails.rails[1]))
    chains = (
        (
            small.front(
                small.charger(name=name),
                small.cable(words=name),
                small.trigger(9.0, words=name, setting=name),
                small.fuse(1.0, words=name),
                small.lead(words=name),
            ),
            small.device(name=name),
        ),
        (
            small.front(None, small.cable(), small.trigger(20.0), named),
            small.device(name=name, rails=needs),
        ),
    )
    for front, appliance in chains:
        svg = wiring_svg(front, appliance, width=420.0)
        check_layout(svg)
        assert not any(c in svg for c in ("<b>", "\x1b", "\u202e"))


def test_same_path_same_bytes_and_a_title_that_names_the_device(cases: dict[str, Case]) -> None:
    front, appliance = cases["plain"]
    assert wiring_svg(front, appliance) == wiring_svg(front, appliance)
    root = ElementTree.fromstring(wiring_svg(front, appliance))
    assert root.findtext(f"{SVG}title") == "Wiring of thing"
    assert root.findtext(f"{SVG}desc") == (
        "1 shared, port C1, VBUS, to 2 cable, VBUS: positive. "
        "1 shared, port C1, GND, to 2 cable, GND: negative. "
        "2 cable, VBUS, to 3 trigger, VBUS: positive. "
        "2 cable, GND, to 3 trigger, GND: negative. "
        "3 trigger, + out, to 4 lead, +: positive, its own, to be soldered. "
        "3 trigger, − out, to 4 lead, −: negative, its own, to be soldered. "
        "4 lead, centre, to 5 thing, centre: positive. "
        "4 lead, sleeve, to 5 thing, sleeve: negative."
    )


def test_too_narrow_is_an_error(cases: dict[str, Case]) -> None:
    with pytest.raises(ValueError, match="needs a width") as caught:
        wiring_svg(*cases["plain"], width=419.0)
    assert str(caught.value) == "a wiring drawing needs a width of 420 or more, not 419"
