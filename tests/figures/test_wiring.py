"""The wiring drawing, read back from its lines: who is joined to whom, and with which pole.

The expected netlist is derived here from the parts alone; the polarity that has to come out at
the inlet is the evidence's. Symbols and contact names: IEC 60617, USB Type-C (from memory).
"""

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import TypeAlias
from xml.etree import ElementTree

import pytest
from tests.paths import small_parts as small

from sinkside import demo
from sinkside.figures.labels import cells
from sinkside.figures.svg import CELL
from sinkside.figures.wiring_svg import wiring_svg
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Crowbar,
    Diode,
    Inductance,
    Thermistor,
)
from sinkside.parts.part import Centre, End, Part
from sinkside.paths.front import Front
from sinkside.paths.search import NOT_YET
from sinkside.plan import plan
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance
from sinkside.site.read import read

Point: TypeAlias = tuple[float, float]
# Number of the box; `<` at its left edge, `>` at its right one, `|` at head or foot; name.
PinKey: TypeAlias = tuple[int, str, str]
Net: TypeAlias = frozenset[PinKey]
Case: TypeAlias = tuple[Front, Appliance]

SVG = "{http://www.w3.org/2000/svg}"
NEGATIVE = tuple(replace(e, centre="negative") for e in small.TWO_EVIDENCES)
UNKNOWN = "polarity not known: not to be joined"


@dataclass(frozen=True)
class Drawn:
    """What can be read off the drawing."""

    pins: dict[Point, PinKey]
    signs: dict[PinKey, str]
    wires: list[tuple[str, list[Point]]]
    inside: list[tuple[str, list[Point]]]
    soldered: set[Point]
    dots: set[Point]
    texts: list[tuple[str, str, float, float]]
    boxes: list[tuple[float, float, float, float]]
    size: Point

    def nets(self) -> set[Net]:
        """Pins joined by wires: lines are one where they share a point that both name."""
        return self._joined([points for _, points in self.wires])

    def ways(self) -> set[Net]:
        """Pins of one box that the conductors inside it join, its switches taken as closed."""
        lines = [points for ink, points in self.inside if ink in ("positive", "negative")]
        switches = [
            [a, b]
            for a, b in combinations(sorted(self.dots), 2)
            if a[1] == b[1] and b[0] - a[0] == 18.0
        ]
        return {way for way in self._joined(lines + switches) if len(way) > 1}

    def _joined(self, lines: list[list[Point]]) -> set[Net]:
        home: dict[Point, Point] = {}

        def find(p: Point) -> Point:
            while home.setdefault(p, p) != p:
                p = home[p]
            return p

        for points in lines:
            for a, b in pairwise(points):
                home[find(a)] = find(b)
        found: dict[Point, set[PinKey]] = defaultdict(set)
        for point, pin in self.pins.items():
            if point in home:
                found[find(point)].add(pin)
        return {frozenset(net) for net in found.values()}


def numbers(element: ElementTree.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(element.attrib[name]) for name in names)


def points_of(element: ElementTree.Element) -> list[Point]:
    pairs = (pair.split(",") for pair in element.attrib["points"].split())
    return [(float(x), float(y)) for x, y in pairs]


def read_back(svg: str) -> Drawn:
    root = ElementTree.fromstring(svg)
    pins: dict[Point, PinKey] = {}
    left = right = 0.0
    signs: dict[PinKey, str] = {}
    drawn = Drawn(pins, signs, [], [], set(), set(), [], [], (0.0, 0.0))
    last: PinKey = (0, "", "")
    for element in root:
        kind = element.attrib.get("class", "")
        if kind == "wiring-pin":
            x, y = numbers(element, "cx", "cy")
            title = element.findtext(f"{SVG}title", "")
            box, name = title.split(" ", 1)
            side = "<" if x == left else ">" if x == right else "|"
            last = (int(box), side, name)
            assert (x, y) not in pins
            pins[x, y] = last
        elif kind in ("wiring-positive", "wiring-negative"):
            drawn.wires.append((kind.removeprefix("wiring-"), points_of(element)))
        elif kind.startswith("wiring-inside-") and element.tag == f"{SVG}polyline":
            drawn.inside.append((kind.removeprefix("wiring-inside-"), points_of(element)))
        elif kind == "wiring-solder":
            x, y = numbers(element, "cx", "cy")
            drawn.soldered.add((x, y))
        elif kind == "wiring-inside-dot":
            x, y = numbers(element, "cx", "cy")
            drawn.dots.add((x, y))
        elif kind == "wiring-box":
            x, y, wide, high = numbers(element, "x", "y", "width", "height")
            drawn.boxes.append((x, y, x + wide, y + high))
            left, right = x, round(x + wide, 2)
        if element.tag == f"{SVG}text":
            x, y = numbers(element, "x", "y")
            drawn.texts.append((kind, element.text or "", x, y))
            if kind == "wiring-pin-name":
                signs[last] = next(c for c in element.text or "" if c in "+−?")
    wide, high = numbers(root, "width", "height")
    return replace(drawn, size=(wide, high))


# What has to be joined, from the parts alone.

USB = {"micro-usb", "mini-usb", "usb-b", "usb-c"}
IN_LINE = {"fuse", "resettable fuse", "diode"}
ACROSS = {"crowbar", "bleeder"}


def names_of(end: End, wire_names: tuple[str, str]) -> tuple[str, str]:
    """The names of the positive and the negative contact."""
    if end.kind == "wires":
        return wire_names
    if end.kind != "barrel" or end.plug in USB:
        return "VBUS", "GND"
    return ("sleeve", "centre") if end.centre == "negative" else ("centre", "sleeve")


def expected(front: Front, appliance: Appliance) -> set[Net]:
    """Every net outside the boxes."""
    at: list[set[PinKey]] = [{(1, ">", "VBUS")}, {(1, ">", "GND")}]
    nets = list(at)

    def onward(pole: int, pin: PinKey) -> None:
        at[pole] = {pin}
        nets.append(at[pole])

    def kept() -> set[Net]:
        return {frozenset(net) for net in nets if len(net) > 1}

    for box, part in enumerate(front.parts, 2):
        if part.kind in IN_LINE:
            at[0].add((box, "<", "in"))
            onward(0, (box, ">", "out"))
            continue
        if part.kind in ACROSS:
            at[0].add((box, "|", "+"))
            at[1].add((box, "|", "−"))
            continue
        if part.setting == NOT_YET:
            return kept()
        board = part.rails or part.gives.kind == "wires"
        for pole, name in enumerate(
            names_of(part.takes, ("+ in", "− in") if board else ("+", "−"))
        ):
            at[pole].add((box, "<", name))
        if part.rails:
            for rail in part.rails:
                fed = [n for n in appliance.rails if rail.low_v <= n.volts_v <= rail.high_v]
                nets.append({(box, ">", rail.name), *((box + 1, "<", n.name) for n in fed)})
            nets.append({(box, ">", "common"), (box + 1, "<", "common")})
            return kept()
        for pole, name in enumerate(names_of(part.gives, ("+ out", "− out"))):
            onward(pole, (box, ">", name))
    end = front.end
    if end.kind == "wires" or end.plug in USB or may_be_plugged(front, appliance):
        for pole, name in enumerate(names_of(end, ("+", "−"))):
            at[pole].add((len(front.parts) + 2, "<", name))
    return kept()


def may_be_plugged(front: Front, appliance: Appliance) -> bool:
    """Whether the barrel is known to have the pole inside that the inlet takes."""
    seen = {e.centre for e in appliance.evidence}
    made = front.end.centre
    return made is not None and (seen == {made} or (appliance.kind == "either" and len(seen) < 2))


def straight(front: Front) -> Iterator[Net]:
    """The pins of cables, fuses, leads and reversers that a line inside has to join."""
    for box, part in enumerate(front.parts, 2):
        if part.kind == "fuse":
            yield frozenset({(box, "<", "in"), (box, ">", "out")})
        made = part.takes.kind != "wires" or part.gives.kind != "wires"
        if part.kind in ("cable", "reverser", "lead", "plug") and made and part.setting != NOT_YET:
            came, left = names_of(part.takes, ("+", "−")), names_of(part.gives, ("+", "−"))
            for a, b in zip(came, left, strict=True):
                yield frozenset({(box, "<", a), (box, ">", b)})


def quantity(value: float, unit: str) -> Quantity:
    return small.figure(value, unit)


def diode(kind: str = "diode", *more: object) -> Part:
    link = Diode(forward_v=quantity(0.3, "V"), slope_ohm=quantity(0.1, "Ω"))
    return small.part(kind, elements=(link, *more))


def reservoir() -> Capacitance:
    return Capacitance(farad=quantity(1e-3, "F"), esr_ohm=quantity(0.1, "Ω"))


def moulded(plug: str, centre: Centre | None) -> Part:
    return small.trigger(9.0, gives=End(kind="barrel", plug=plug, centre=centre))


def small_cases() -> Iterator[tuple[str, Case]]:
    cable, trigger = small.cable(), small.trigger(9.0)
    plus, minus = small.device(), small.device(evidence=NEGATIVE)
    unknown = small.device(evidence=())
    choke = Inductance(henry=quantity(1e-3, "H"))

    def with_parts(*parts: Part) -> Front:
        return small.front(None, cable, trigger, *parts)

    yield "plain", (small.front(), plus)
    yield "negative", (with_parts(small.lead(centre="negative")), minus)
    yield "reverser", (with_parts(small.lead(), small.reverser()), minus)
    back = small.reverser(centre="positive")
    yield "reversed back", (with_parts(small.lead(centre="negative"), back), plus)
    guards = (
        small.part("resettable fuse", elements=(Thermistor(holds_a=1.0, trips_at_ratio=2.0),)),
        small.part("crowbar", elements=(Crowbar(trips_low_v=13.0, trips_high_v=15.0),)),
        diode(),
        small.part("filter", elements=(choke, reservoir())),
        small.part("bleeder", elements=(Bleeder(ohm=quantity(1e3, "Ω")),)),
        diode("hold-up", reservoir()),
        small.converter(5.0, "isolated"),
        small.soft_start(),
    )
    yield "guards", (with_parts(*guards, small.fuse(1.0), small.lead()), plus)
    two = small.trigger(5.0, by_resistors=True, gated=False)
    yield "two resistors", (small.front(None, cable, two, small.lead()), plus)
    a_to_c = small.cable(takes=End(kind="usb-a"))
    yield "type A", (small.front(None, a_to_c, two, small.fuse(1.0), small.lead()), plus)
    moulds = small.front(None, cable, moulded("5.5x2.1", "negative"))
    yield "moulded", (moulds, minus)
    yield "moulded onto the unknown", (moulds, unknown)
    yield "moulded the wrong way", (moulds, plus)
    yield "either", (moulds, replace(plus, kind="either"))
    yield "micro-USB", (small.front(None, cable, moulded("micro-usb", None)), unknown)
    nobody = small.lead(setting=NOT_YET, made_either_way=True)
    yield "not made up", (with_parts(small.fuse(1.0), nobody), unknown)
    loose = replace(small.lead(centre="negative"), kind="plug")
    yield "loose plug", (with_parts(loose), minus)
    bare = replace(small.lead(), gives=small.WIRES, kind="soft start")
    yield "bare wires", (with_parts(bare), small.device(plug="wires"))
    outputs = ((3.2, 3.4, 3.0), (4.85, 5.15, 4.0), (11.6, 12.4, 2.0))
    standby = replace(small.need(5.0, 0.2), name="5 V standby")
    needs = (small.need(5.0, 1.0), small.need(12.0, 1.0), standby)
    named = small.rails(*outputs)
    rails = replace(
        named, rails=tuple(replace(r, name=f"out {k}") for k, r in enumerate(named.rails))
    )
    yield "rails", (with_parts(small.fuse(2.0), rails), small.device(rails=needs))


def demo_cases() -> Iterator[tuple[str, Case]]:
    for device in plan(read(demo.text(), demo.FILE)).devices:
        if device.chosen is not None:
            yield device.id, (device.chosen.front, device.appliance)


@pytest.fixture(scope="module")
def cases() -> dict[str, Case]:
    return {**dict(small_cases()), **dict(demo_cases())}


@pytest.fixture(scope="module")
def drawings(cases: dict[str, Case]) -> dict[str, str]:
    return {name: wiring_svg(*case) for name, case in cases.items()}


def test_wires_join_what_the_parts_say(cases: dict[str, Case], drawings: dict[str, str]) -> None:
    assert len(cases) > 25
    for name, case in cases.items():
        assert read_back(drawings[name]).nets() == expected(*case), name


def test_lines_inside_boxes_join_what_the_parts_say(
    cases: dict[str, Case], drawings: dict[str, str]
) -> None:
    for name, (front, _) in cases.items():
        ways = read_back(drawings[name]).ways()
        for way in straight(front):
            assert way in ways, (name, way)
        # And nothing else is joined that has the other pole: every way is a straight one or the
        # conductor of a board, from a positive pin to a positive pin.
        signs = read_back(drawings[name]).signs
        assert all(len({signs[pin] for pin in way}) == 1 for way in ways), name


def test_signs_of_joined_pins_agree(drawings: dict[str, str]) -> None:
    for name, svg in drawings.items():
        drawn = read_back(svg)
        for net in drawn.nets():
            assert len({drawn.signs[pin] for pin in net}) == 1, (name, net)
            sign = drawn.signs[next(iter(net))]
            assert sign in "+−"
        # A line's weight and its pins say the same.
        for conductor, points in drawn.wires:
            sign = "+" if conductor == "positive" else "−"
            assert drawn.signs[drawn.pins[points[-1]]] == sign


def traced(drawn: Drawn, start: PinKey) -> set[PinKey]:
    """All pins that a conductor reaches, through boxes by their lines and by their boards."""
    found, todo = set(), [start]
    links = [*drawn.nets(), *drawn.ways()]
    boards = {"+ in": "+ out", "− in": "− out", "VBUS": "+ out", "GND": "− out"}
    while todo:
        pin = todo.pop()
        if pin in found:
            continue
        found.add(pin)
        for link in links:
            if pin in link:
                todo += link
        box, side, name = pin
        onward = (box, ">", boards.get(name, ""))
        if side == "<" and onward in drawn.signs:
            todo.append(onward)
    return found


def test_positive_of_the_port_comes_out_at_the_pole_that_the_evidence_names(
    cases: dict[str, Case], drawings: dict[str, str]
) -> None:
    told = 0
    for name, (front, appliance) in cases.items():
        seen = {e.centre for e in appliance.evidence}
        if front.rails or len(seen) != 1 or appliance.kind == "either":
            continue
        drawn = read_back(drawings[name])
        inlet = len(front.parts) + 2
        ends = {pin for pin in traced(drawn, (1, ">", "VBUS")) if pin[0] == inlet}
        if name == "moulded the wrong way":
            assert ends == set()
        elif front.end.kind == "barrel":
            contact = "centre" if seen == {"positive"} else "sleeve"
            assert ends == {(inlet, "<", contact)}, name
            told += 1
    assert told > 12


def with_ends_swapped(svg: str, kind: str) -> str:
    """The drawing with the last points of the last two such lines changed about."""
    lines = list(re.finditer(rf'class="{kind}" points="([^"]* )?([^" ]+)"', svg))
    one, other = lines[-2], lines[-1]
    cut = [svg[: one.start(2)], other[2], svg[one.end(2) : other.start(2)], one[2]]
    return "".join([*cut, svg[other.end(2) :]])


def test_a_wire_that_is_swapped_does_not_pass(
    cases: dict[str, Case], drawings: dict[str, str]
) -> None:
    told = 0
    for name, (front, appliance) in cases.items():
        svg = drawings[name]
        if front.rails is None:
            wrong = with_ends_swapped(svg, "wiring-(?:positive|negative)")
            assert read_back(wrong).nets() != expected(front, appliance), name
            told += 1
    assert told > 20


def test_a_reverser_that_does_not_cross_does_not_pass(cases: dict[str, Case]) -> None:
    front, appliance = cases["reverser"]
    svg = wiring_svg(front, appliance)
    crossed = read_back(svg).ways()
    a, b = (5, "<", "centre"), (5, "<", "sleeve")
    assert {frozenset({a, (5, ">", "sleeve")}), frozenset({b, (5, ">", "centre")})} <= crossed
    found = re.finditer(r'wiring-inside-(positive|negative)" points="([^"]+)"', svg)
    crossing = [m for m in found if len(m[2].split()) == 4]
    assert len(crossing) == 2
    ends = [m[2].split()[-1] for m in crossing]
    wrong = svg.replace(crossing[0][2], crossing[0][2].replace(ends[0], ends[1]))
    assert not all(way in read_back(wrong).ways() for way in straight(front))


def test_nothing_is_joined_where_the_polarity_is_not_known(drawings: dict[str, str]) -> None:
    for name, words in (
        ("not made up", UNKNOWN),
        ("moulded onto the unknown", UNKNOWN),
        ("moulded the wrong way", "polarity is the wrong way round: not to be joined"),
    ):
        drawn = read_back(drawings[name])
        last = max(pin[0] for pin in drawn.signs)
        assert not any(pin[0] == last for net in drawn.nets() for pin in net)
        said = [text for kind, text, _, _ in drawn.texts if kind == "wiring-note"]
        assert said == [words]
    for name in ("plain", "either", "micro-USB"):
        assert not any(kind == "wiring-note" for kind, *_ in read_back(drawings[name]).texts)


def test_joints_are_where_wires_end_on_boards_and_nowhere_on_made_up_leads(
    cases: dict[str, Case], drawings: dict[str, str]
) -> None:
    for name, (front, _) in cases.items():
        drawn = read_back(drawings[name])
        bare = {1: front.parts[0].takes.kind == "wires"}
        for box, part in enumerate(front.parts, 2):
            bare[box] = part.gives.kind == "wires"
        assert drawn.soldered <= set(drawn.pins)
        for point in drawn.soldered:
            box, side, _ = drawn.pins[point]
            takes = box - 2 < len(front.parts) and front.parts[box - 2].takes.kind == "wires"
            assert bare[box] if side == ">" else takes or bare[box - 1], (name, box, side)
        joined = {pin for net in drawn.nets() for pin in net}
        soldered = {drawn.pins[p] for p in drawn.soldered}
        # Every bare output that is joined to something is soldered.
        outs = {pin for pin in joined if pin[1] == ">" and bare[pin[0]]}
        assert outs <= soldered, name
        words = [text for kind, text, *_ in drawn.texts if kind == "wiring-joint"]
        assert ("solder" in words) == bool(soldered)


def test_pads_of_a_two_resistor_socket(drawings: dict[str, str]) -> None:
    texts = [text for _, text, *_ in read_back(drawings["two resistors"]).texts]
    # USB Type-C: Rd is 5.1 kΩ from each CC to ground (Table 4-25).
    assert texts.count("5.1 kΩ") == 2
    assert texts.count("CC1") == texts.count("CC2") == 1
    assert "5.1 kΩ" not in [text for _, text, *_ in read_back(drawings["plain"]).texts]


# The drawing as a drawing.


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
        for leg in legs(points):
            level = leg[1] == leg[3] or leg[0] == leg[2]
            assert not level or not any(overlap(leg, room) for room, _ in rooms), points


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
