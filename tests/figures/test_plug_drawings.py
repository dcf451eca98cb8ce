"""Plugs in section and their contacts, read back from the drawing.

The sign is IEC 60417-5926 (from memory): the dot is the centre, the open ring the sleeve, and the
sign of the centre stands on the side to which the ring is open. Contacts of USB Type-C: from
memory of the receptacle's pin table.
"""

import re
from itertools import combinations
from typing import TypeAlias
from xml.etree import ElementTree

import pytest

from sinkside.figures.labels import cells
from sinkside.figures.pinout_svg import pinout_svg
from sinkside.figures.plug_section_svg import plug_section_svg
from sinkside.figures.svg import CELL
from sinkside.parts.part import Centre
from sinkside.standards.barrel import JEITA_SIZES, SOLD_SIZES

Found: TypeAlias = list[dict[str, str]]

SVG = "{http://www.w3.org/2000/svg}"
SIZES = sorted({f"{p.outer_mm:g}x{p.inner_mm:g}" for p in SOLD_SIZES})
JEITA = [f"{s.plug.outer_mm:g}x{s.plug.inner_mm:g}" for s in JEITA_SIZES]
OTHERS = ("usb-c", "micro-usb", "mini-usb", "usb-b", "wires", "other")
CENTRES: tuple[Centre | None, ...] = ("positive", "negative", None)
SIGN = {"positive": "+", "negative": "−", None: "?"}
OPPOSITE = {"positive": "−", "negative": "+", None: "?"}


def of_kind(svg: str, kind: str) -> Found:
    root = ElementTree.fromstring(svg)
    return [
        {**e.attrib, "words": e.text or ""} for e in root.iter() if e.attrib.get("class") == kind
    ]


def one(svg: str, kind: str) -> dict[str, str]:
    (found,) = of_kind(svg, kind)
    return found


def words(svg: str) -> str:
    """All lines of text, joined as they are read."""
    root = ElementTree.fromstring(svg)
    return " ".join(e.text or "" for e in root.iter(f"{SVG}text"))


def at(element: dict[str, str], *names: str) -> tuple[float, ...]:
    return tuple(float(element[name]) for name in names)


@pytest.mark.parametrize("centre", CENTRES)
@pytest.mark.parametrize("plug", SIZES)
def test_the_sign_says_the_pole_of_dot_and_ring(plug: str, centre: Centre | None) -> None:
    svg = plug_section_svg(plug, centre)
    (dot_x,) = at(one(svg, "plug-dot"), "cx")
    # The ring begins and ends on the side where it is open.
    begins, ends = (
        float(x) for x in re.findall(r"(?:M|0 1 0 )([-\d.]+)", one(svg, "plug-ring")["d"])
    )
    assert begins == ends > dot_x
    from_dot, from_ring = one(svg, "plug-to-centre"), one(svg, "plug-to-sleeve")
    assert at(from_dot, "x1") == (dot_x,)
    assert at(from_dot, "x2") > (begins,)
    assert at(from_ring, "x1") < (dot_x,)
    # Each line ends at the rim of the circle that holds the sign.
    for line, pole, side in ((from_dot, "centre", 1), (from_ring, "sleeve", -1)):
        x, radius = at(one(svg, f"plug-{pole}-pole"), "cx", "r")
        assert at(line, "x2") == (x - side * radius,)
        (sign_x,) = at(one(svg, f"plug-{pole}-sign"), "x")
        assert abs(sign_x + CELL / 2 - x) < 0.1
    assert one(svg, "plug-centre-sign")["words"] == SIGN[centre]
    assert one(svg, "plug-sleeve-sign")["words"] == OPPOSITE[centre]


def test_the_words_name_both_poles() -> None:
    assert "centre: positive (+) sleeve: negative (−)" in words(
        plug_section_svg("5.5x2.1", "positive")
    )
    assert "centre: negative (−) sleeve: positive (+)" in words(
        plug_section_svg("5.5x2.1", "negative")
    )
    assert words(plug_section_svg("5.5x2.1", None)).endswith("polarity not known: not to be joined")


@pytest.mark.parametrize("plug", [*SIZES, *JEITA])
def test_diameters_are_to_scale_and_in_words(plug: str) -> None:
    svg = plug_section_svg(plug, "positive")
    outer_mm, inner_mm = map(float, plug.split("x"))
    across = [e for e in of_kind(svg, "plug-across") if e["x1"] == e["x2"]]
    inner, outer = sorted(float(e["y2"]) - float(e["y1"]) for e in across)
    assert inner / outer == pytest.approx(inner_mm / outer_mm, abs=1e-3)
    said = [e["words"] for e in of_kind(svg, "plug-diameter")]
    assert said[:2] == [f"outer {outer_mm:g} mm", f"inner {inner_mm:g} mm"]


def test_the_two_large_sizes_of_jeita_have_a_pin_inside() -> None:
    # JEITA RC-5320A: numbers 4 and 5 have a pin of 1.0 and of 1.4 mm.
    for plug, pin_mm in (("5.5x3.3", 1.0), ("6.5x4.4", 1.4)):
        svg = plug_section_svg(plug, "positive")
        assert [e["words"] for e in of_kind(svg, "plug-diameter")][2:] == [f"pin {pin_mm:g} mm"]
        (height,) = at(one(svg, "plug-centre"), "height")
        across = [e for e in of_kind(svg, "plug-across") if e["x1"] == e["x2"]]
        outer = max(float(e["y2"]) - float(e["y1"]) for e in across)
        assert height / outer == pytest.approx(pin_mm / float(plug.split("x")[0]), abs=1e-3)
    assert len(of_kind(plug_section_svg("5.5x2.1", "positive"), "plug-centre")) == 2


@pytest.mark.parametrize("plug", [*SIZES, *OTHERS])
@pytest.mark.parametrize("centre", CENTRES)
def test_a_pinout_says_from_where_it_is_seen(plug: str, centre: Centre | None) -> None:
    assert "seen from the solder side" in words(pinout_svg(plug, centre))


@pytest.mark.parametrize("centre", CENTRES)
def test_lugs_of_a_barrel_plug(centre: Centre | None) -> None:
    svg = pinout_svg("5.5x2.1", centre)
    assert [e["words"] for e in of_kind(svg, "pinout-contact")] == [
        f"centre lug {SIGN[centre]}",
        f"sleeve lug {OPPOSITE[centre]}",
    ]
    # Each leader begins at the lug that its words name.
    lugs = [one(svg, "pinout-centre"), one(svg, "pinout-sleeve")]
    for lug, leader in zip(lugs, of_kind(svg, "pinout-leader"), strict=True):
        x, y, width, height = at(lug, "x", "y", "width", "height")
        x1, y1 = at(leader, "x1", "y1")
        assert x1 == x + width
        assert y < y1 < y + height
    known = "centre lug, often the short one: negative (−)" in words(svg)
    assert known == (centre == "negative")
    assert ("polarity not known: not to be joined" in words(svg)) == (centre is None)


def test_contacts_of_type_c_from_behind() -> None:
    svg = pinout_svg("usb-c", None)
    # From the front row A runs A1 to A12 from left to right, and row B from right to left: from
    # behind it is the other way round.
    front_a = {"GND": (1, 12), "VBUS": (4, 9), "CC1": (5,)}
    front_b = {"GND": (1, 12), "VBUS": (4, 9), "CC2": (5,)}
    left = min(at(e, "x")[0] for e in of_kind(svg, "pinout-other"))
    upper = min(at(e, "y")[0] for e in of_kind(svg, "pinout-gnd"))
    gnd_left = min(at(e, "x")[0] for e in of_kind(svg, "pinout-gnd"))
    assert gnd_left < left
    for name in ("GND", "VBUS", "CC1", "CC2"):
        found = {
            (at(e, "y")[0] == upper, round((at(e, "x")[0] - gnd_left) / 14.0))
            for e in of_kind(svg, f"pinout-{name.lower()}")
        }
        from_behind = {(True, 12 - place) for place in front_a.get(name, ())}
        from_behind |= {(False, place - 1) for place in front_b.get(name, ())}
        assert found == from_behind, name
    said = [e["words"] for e in of_kind(svg, "pinout-contact")]
    assert sorted(said) == ["CC1 A5", "CC2 B5", *["GND"] * 4, *["VBUS"] * 4]
    assert "5.1 kΩ from each to GND" in words(svg)
    assert len(of_kind(svg, "pinout-other")) == 24 - 10


def test_other_plugs_are_boxes_with_their_contacts_in_words() -> None:
    assert one(plug_section_svg("usb-b", None), "plug-name")["words"] == "usb-b"
    assert "VBUS: positive (+) GND: negative (−)" in words(plug_section_svg("micro-usb", None))
    # USB 2.0: VBUS is contact 1; ground is contact 4, and 5 of the small ones (from memory).
    for plug, last in (("usb-b", 4), ("mini-usb", 5), ("micro-usb", 5)):
        said = words(pinout_svg(plug, None))
        assert f"contact 1, VBUS: positive (+) contact {last}, GND: negative (−)" in said
    wires = of_kind(pinout_svg("wires", None), "pinout-contact")
    assert [e["words"] for e in wires] == ["+ positive, red", "− negative, black"]
    assert "polarity not known: not to be joined" in words(pinout_svg("other", "positive"))
    assert "polarity not known: not to be joined" in words(plug_section_svg("other", "positive"))


STRANGE = (
    "<b>&'\"",
    "電源プラグ" * 9,
    "מטען ישן",
    "\N{ELECTRIC PLUG}" * 60,
    "a" * 200,
    "0x0",
    "2x5",
    "",
)


@pytest.mark.parametrize("plug", [*SIZES, *JEITA, *OTHERS, *STRANGE])
@pytest.mark.parametrize("centre", CENTRES)
@pytest.mark.parametrize("width", [200.0, 320.0])
def test_texts_are_inside_and_apart(plug: str, centre: Centre | None, width: float) -> None:
    for svg in (plug_section_svg(plug, centre, width=width), pinout_svg(plug, centre, width=width)):
        assert "<b>" not in svg
        root = ElementTree.fromstring(svg)
        wide, high = at(dict(root.attrib), "width", "height")
        assert wide == width
        rooms = []
        for element in root.iter(f"{SVG}text"):
            x, y = at(dict(element.attrib), "x", "y")
            end = x + cells(element.text or "") * CELL
            assert x >= 0, element.text
            assert end <= wide, element.text
            assert 0 <= y - 7.6 < y + 2.4 <= high, element.text
            rooms.append((x, y - 7.6, end, y + 2.4, element.text))
        for a, b in combinations(rooms, 2):
            apart = a[2] <= b[0] or b[2] <= a[0] or a[3] <= b[1] or b[3] <= a[1]
            assert apart, (a[4], b[4])


def test_the_same_bytes_and_what_is_too_narrow() -> None:
    assert plug_section_svg("5.5x2.1", "positive") == plug_section_svg("5.5x2.1", "positive")
    assert pinout_svg("5.5x2.1", "positive") == pinout_svg("5.5x2.1", "positive")
    with pytest.raises(ValueError, match="a plug needs") as caught:
        plug_section_svg("5.5x2.1", None, width=179.0)
    assert str(caught.value) == "a plug needs a width of 180 or more, not 179"
    with pytest.raises(ValueError, match="a pinout needs") as caught:
        pinout_svg("5.5x2.1", None, width=199.0)
    assert str(caught.value) == "a pinout needs a width of 200 or more, not 199"
