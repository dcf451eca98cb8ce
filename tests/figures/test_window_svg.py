"""The window as SVG, read back from its own coordinates.

Nothing here trusts the drawing's arithmetic: volts are recovered from the ticks and numbers of
its scale, as a reader would, and compared with the window that was drawn.
"""

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.figures.labels import cells, clean
from sinkside.figures.svg import CELL, SIZE
from sinkside.figures.window import Bar, Window
from sinkside.figures.window_svg import NARROWEST, description, window_svg, zones

NS = "{http://www.w3.org/2000/svg}"
# Advance of every glyph of DejaVu Sans Mono, in parts of the type size: 1233 of 2048 units
# (its horizontal metrics table).
ADVANCE = 1233 / 2048


def bar(label: str, low: float, middle: float, high: float, *, match: bool = False) -> Bar:
    return Bar(label=label, low_v=low, nominal_v=middle, high_v=high, match=match)


PLAIN = Window(
    wont_run_v=8.0,
    runs_v=9.0,
    stands_v=18.0,
    harmed_v=20.0,
    left_v=3.0,
    right_v=22.0,
    bars=(
        bar("match 15 V, C1 alone", 13.7, 15.0, 15.75, match=True),
        bar("before contract, 5 V", 4.5, 5.0, 5.5),
    ),
)
CROWDED = Window(
    wont_run_v=7.2,
    runs_v=11.7,
    stands_v=9.45,
    harmed_v=14.4,
    left_v=3.0,
    right_v=22.0,
    bars=(
        bar("match 15 V, C1 alone", 13.7, 15.0, 15.75, match=True),
        bar("match 15 V, C1+C2 in use or C1+C2+C3 in use or C1+C3 in use", 13.7, 15.0, 15.75),
        bar("fallback 9 V, if the trigger falls back so: next lower", 8.3, 9.0, 9.45),
        bar("fallback 5 V, " + "C1+C2+C3+C4 in use or " * 12 + "C4 alone", 4.5, 5.0, 5.25),
        bar("fallback 20 V, if the trigger falls back so: highest", 18.8, 20.0, 21.0),
        bar("0 V off", 3.0, 3.0, 3.0),
        bar("x" * 120, 9.0, 12.0, 13.0),
        bar("録音機" * 20 + ' 😀 </text><script>alert(1)</script> & "q" \u202e\x00', 10, 12, 22.0),
    ),
)


@dataclass(frozen=True)
class Box:
    """Where something stands, and what it is."""

    left: float
    top: float
    right: float
    bottom: float
    what: str

    def overlaps(self, other: "Box") -> bool:
        across = min(self.right, other.right) - max(self.left, other.left)
        down = min(self.bottom, other.bottom) - max(self.top, other.top)
        return across > 0.05 and down > 0.05


def drawn(window: Window, width: float = 560.0) -> ET.Element:
    return ET.fromstring(window_svg(window, width=width))


def of(root: ET.Element, kind: str) -> list[ET.Element]:
    return [e for e in root if kind in e.get("class", "").split()]


def at(element: ET.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(element.attrib[name]) for name in names)


def text_box(element: ET.Element) -> Box:
    x, y = at(element, "x", "y")
    width = cells(element.text or "") * ADVANCE * SIZE
    # Ascender and descender of the typeface stay within 0.8 and 0.24 of its size for text.
    return Box(x, y - 0.8 * SIZE, x + width, y + 0.24 * SIZE, element.text or "")


def volts_at(root: ET.Element) -> tuple[float, float]:
    """Slope and offset of volts over x, from the first and the last number of the scale."""
    ticks = [at(t, "x1")[0] for t in of(root, "window-tick")]
    marks = []
    for number in of(root, "window-volts"):
        box = text_box(number)
        middle = (box.left + box.right) / 2
        nearest = min(ticks, key=lambda x: abs(x - middle))
        assert abs(nearest - middle) < 1.0
        marks.append((nearest, float(number.text or "")))
    (x1, v1), (x2, v2) = marks[0], marks[-1]
    slope = (v2 - v1) / (x2 - x1)
    return slope, v1 - slope * x1


def points(root: ET.Element) -> Iterator[tuple[float, float]]:
    """Every coordinate that something is drawn at."""
    for e in root:
        match e.tag.removeprefix(NS):
            case "rect":
                x, y, width, height = at(e, "x", "y", "width", "height")
                yield from ((x, y), (x + width, y + height))
            case "line":
                yield from (at(e, "x1", "y1"), at(e, "x2", "y2"))
            case "path":
                for x, y in re.findall(r"[ML]([\d.]+) ([\d.]+)", e.attrib["d"]):
                    yield float(x), float(y)
            case "text":
                box = text_box(e)
                yield from ((box.left, box.top), (box.right, box.bottom))
            case "title" | "desc":
                pass
            case other:
                raise AssertionError(f"an element that nobody expects: {other}")


@pytest.mark.parametrize("window", [PLAIN, CROWDED], ids=["plain", "crowded"])
@pytest.mark.parametrize("width", [NARROWEST, 360.0, 560.0, 900.0])
def test_bars_stand_at_their_volts(window: Window, width: float) -> None:
    root = drawn(window, width)
    slope, offset = volts_at(root)
    bars, ticks = of(root, "window-bar"), of(root, "window-nominal")
    assert len(bars) == len(ticks) == len(window.bars)
    for element, tick, meant in zip(bars, ticks, window.bars, strict=True):
        x, extent = at(element, "x", "width")
        found = [slope * v + offset for v in (x, at(tick, "x1")[0], x + extent)]
        assert found == pytest.approx([meant.low_v, meant.nominal_v, meant.high_v], abs=0.02)
        y, height = at(element, "y", "height")
        above, below = at(tick, "y1", "y2")
        assert above < y < y + height < below


def test_zones_stand_at_their_volts() -> None:
    root = drawn(PLAIN)
    slope, offset = volts_at(root)
    edges = sorted(slope * at(e, "x1")[0] + offset for e in of(root, "window-edge"))
    assert edges == pytest.approx([8.0, 9.0, 18.0, 20.0], abs=0.01)
    (open_band,) = of(root, "window-accepted")
    limits = [slope * x + offset for x in at(open_band, "x1", "x2")]
    assert limits == pytest.approx([9.0, 18.0], abs=0.01)
    for zone in zones(PLAIN):
        kind = f"window-{zone.name.replace(' ', '-').replace(chr(39), '')}"
        for path in of(root, kind):
            xs = [float(x) for x in re.findall(r"[ML]([\d.]+) ", path.attrib["d"])]
            volts = [slope * x + offset for x in xs]
            assert min(volts) >= zone.low_v - 0.01
            assert max(volts) <= zone.high_v + 0.01


def test_weight_and_pattern_tell_what_colour_would() -> None:
    root = drawn(PLAIN)
    # Dots are strokes of next to no length with round ends; harm is lines, heavier where sure.
    for kind in ("window-wont-run", "window-may-not-run"):
        (path,) = of(root, kind)
        assert path.attrib["stroke-linecap"] == "round"
        assert "L" not in path.attrib["d"]
    may, sure = of(root, "window-may-harm")[0], of(root, "window-harms")[0]
    assert "L" in may.attrib["d"]
    assert float(sure.attrib["stroke-width"]) > float(may.attrib["stroke-width"])
    assert of(root, "window-accepts") == []
    (match,), (other,) = of(root, "window-match"), of(root, "window-other")
    assert float(match.attrib["height"]) > float(other.attrib["height"])
    inks = {e.get("stroke") for e in root} | {e.get("fill") for e in root}
    assert len(inks - {None, "none"}) == 3


def test_zones_are_named_and_what_is_accepted_has_its_limits() -> None:
    names = [e.text for e in of(drawn(PLAIN), "window-zone")]
    assert names == ["won't run", "may not run", "accepts 9..18 V", "may harm", "harms"]


def test_limits_are_rounded_to_the_safe_side() -> None:
    window = Window(
        wont_run_v=4.0, runs_v=8.7512, stands_v=9.4599, harmed_v=20, left_v=3, right_v=22, bars=()
    )
    names = [e.text for e in of(drawn(window), "window-zone")]
    assert "accepts 8.76..9.45 V" in names


def test_nothing_is_said_to_be_accepted_where_no_volts_surely_are() -> None:
    root = drawn(CROWDED)
    assert of(root, "window-accepted") == []
    assert [e.text for e in of(root, "window-zone")] == [
        "won't run",
        "may not run",
        "may harm",
        "harms",
    ]
    assert "no volts are known that it surely accepts" in description(CROWDED)


@pytest.mark.parametrize("width", [NARROWEST, 360.0, 560.0, 900.0])
@pytest.mark.parametrize("window", [PLAIN, CROWDED], ids=["plain", "crowded"])
def test_nothing_is_cut_and_no_text_lies_on_another(window: Window, width: float) -> None:
    check_layout(window, width)


def check_layout(window: Window, width: float) -> None:
    root = drawn(window, width)
    _, _, right, bottom = (float(n) for n in root.attrib["viewBox"].split())
    for x, y in points(root):
        assert 0 <= x <= right
        assert 0 <= y <= bottom
    texts = [text_box(e) for e in root if e.tag == f"{NS}text"]
    bars = [
        Box(x, y, x + w, y + h, "bar")
        for x, y, w, h in (at(e, "x", "y", "width", "height") for e in of(root, "window-bar"))
    ]
    for a, b in [*combinations(texts, 2), *((t, b) for t in texts for b in bars)]:
        assert not a.overlaps(b), (a, b)


VOLTS = st.floats(0.0, 30.0)


@st.composite
def windows(draw: st.DrawFn) -> Window:
    edges = sorted(draw(st.lists(VOLTS, min_size=4, max_size=4)))
    if draw(st.booleans()):  # what is not known of the two limits may overlap
        edges = [edges[0], edges[2], edges[1], edges[3]]
    left = draw(st.floats(0.0, 5.0))
    extent = draw(st.floats(1.0, 60.0))
    bars = []
    for _ in range(draw(st.integers(0, 9))):
        low, middle, high = sorted(draw(st.lists(VOLTS, min_size=3, max_size=3)))
        label = draw(st.text(max_size=120))
        bars.append(bar(label, low, middle, high, match=draw(st.booleans())))
    return Window(
        wont_run_v=edges[0],
        runs_v=edges[1],
        stands_v=edges[2],
        harmed_v=edges[3],
        left_v=left,
        right_v=left + extent,
        bars=tuple(bars),
    )


@settings(max_examples=100, deadline=None)
@given(window=windows(), width=st.floats(NARROWEST, 1200.0))
def test_the_layout_holds_for_any_window(window: Window, width: float) -> None:
    check_layout(window, width)


def test_hostile_labels_are_text() -> None:
    root = drawn(CROWDED)
    allowed = {f"{NS}{tag}" for tag in ("title", "desc", "rect", "line", "path", "text")}
    assert {e.tag for e in root.iter()} <= {*allowed, f"{NS}svg"}
    names = {name for e in root.iter() for name in e.attrib}
    assert not {n for n in names if n.startswith("on") or "href" in n or n in ("style", "id")}
    said = " ".join(e.text or "" for e in of(root, "window-label"))
    assert '</text><script>alert(1)</script> & "q" \ufffd\ufffd' in said
    title = '<b>&</b>]]> "\x07'
    root = ET.fromstring(window_svg(PLAIN, title=title))
    assert root[0].tag == f"{NS}title"
    assert root[0].text == clean(title)


def test_a_label_that_was_cut_is_whole_in_the_description() -> None:
    root = drawn(CROWDED, 360.0)
    assert any((e.text or "").endswith("…") for e in of(root, "window-label"))
    assert root[1].tag == f"{NS}desc"
    for meant in CROWDED.bars:
        assert clean(meant.label) in (root[1].text or "")


def test_the_description_tells_the_whole_drawing() -> None:
    assert description(PLAIN) == (
        "The device: won't run 3.00 to 8.00 V; may not run 8.00 to 9.00 V; accepts 9.00 to "
        "18.00 V; may harm 18.00 to 20.00 V; harms 20.00 to 22.00 V. match 15 V, C1 alone: 13.70 "
        "to 15.75 V, nominal 15.00 V, in: accepts. before contract, 5 V: 4.50 to 5.50 V, nominal "
        "5.00 V, in: won't run."
    )


def test_the_same_window_gives_the_same_bytes_and_asks_for_nothing() -> None:
    text = window_svg(CROWDED)
    assert text == window_svg(CROWDED)
    assert "url(" not in text
    assert text.count("http") == 1  # the name of the language itself


def test_cells_are_no_narrower_than_the_typeface() -> None:
    assert CELL >= ADVANCE * SIZE


@pytest.mark.parametrize(
    ("width", "left", "right", "told"),
    [
        (300.0, 3.0, 22.0, "a window needs a width of 320 or more, not 300"),
        (560.0, 5.0, 5.0, "a scale from 5 V to 5 V has no extent"),
        (560.0, 5.0, float("inf"), "a scale from 5 V to inf V has no extent"),
        (560.0, float("nan"), 5.0, "a scale from nan V to 5 V has no extent"),
    ],
)
def test_what_cannot_be_drawn_is_told(width: float, left: float, right: float, told: str) -> None:
    window = Window(
        wont_run_v=8, runs_v=9, stands_v=18, harmed_v=20, left_v=left, right_v=right, bars=()
    )
    with pytest.raises(ValueError, match=re.escape(told) + "$"):
        window_svg(window, width=width)
