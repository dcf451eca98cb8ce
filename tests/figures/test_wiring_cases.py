"""The wiring drawing read back from its lines, and the paths that the tests draw."""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import combinations, pairwise
from typing import TypeAlias, get_args
from xml.etree import ElementTree

from tests.paths import small_parts as small

from sinkside import demo
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Crowbar,
    Diode,
    Inductance,
    Thermistor,
)
from sinkside.parts.part import Centre, End, Part, PartKind
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
    yield (
        "micro-USB",
        (small.front(None, cable, moulded("micro-usb", None)), replace(unknown, plug="micro-usb")),
    )
    yield "moulded, pole unknown", (small.front(None, cable, moulded("5.5x2.1", None)), plus)
    blind = replace(small.lead(), gives=End(kind="barrel", plug="other"))
    yield "lead to no known plug", (with_parts(blind), replace(plus, plug="other"))
    yield "another plug", (with_parts(small.lead(plug="5.5x2.5")), plus)
    yield "a lead without its plug", (with_parts(small.soft_start()), plus)
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


def test_the_small_paths_hold_every_kind_of_part_that_a_path_may_have() -> None:
    kinds = {part.kind for _, (front, _) in small_cases() for part in front.parts}
    # The search names a splitter only to leave it out.
    assert kinds == set(get_args(PartKind)) - {"splitter"}
