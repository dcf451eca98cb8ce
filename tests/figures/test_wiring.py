"""The wiring drawing, read back from its lines: who is joined to whom, and with which pole.

The expected netlist is derived here from the parts alone; the polarity that has to come out at
the inlet is the evidence's. Symbols and contact names: IEC 60617, USB Type-C (from memory).
"""

import re
from collections.abc import Iterator

import pytest
from tests.figures.test_wiring_cases import (
    UNKNOWN,
    Case,
    Drawn,
    Net,
    PinKey,
    demo_cases,
    read_back,
    small_cases,
)

from sinkside.figures.wiring_svg import wiring_svg
from sinkside.parts.part import End
from sinkside.paths.front import Front
from sinkside.paths.search import NOT_YET
from sinkside.site.appliance import Appliance


@pytest.fixture(scope="module")
def cases() -> dict[str, Case]:
    return {**dict(small_cases()), **dict(demo_cases())}


@pytest.fixture(scope="module")
def drawings(cases: dict[str, Case]) -> dict[str, str]:
    return {name: wiring_svg(*case) for name, case in cases.items()}


USB = {"micro-usb", "mini-usb", "usb-b", "usb-c"}
IN_LINE = {"fuse", "resettable fuse", "diode"}
ACROSS = {"crowbar", "bleeder"}


NOT_JOINED = {
    "not made up": UNKNOWN,
    "moulded onto the unknown": UNKNOWN,
    "moulded, pole unknown": UNKNOWN,
    "lead to no known plug": UNKNOWN,
    "moulded the wrong way": "polarity is the wrong way round: not to be joined",
    "another plug": "the plug is not the inlet's: not to be joined",
    "a lead without its plug": "the plug is not the inlet's: not to be joined",
}


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
        no_poles = part.gives.kind == "barrel" and part.gives.plug not in USB
        if part.setting == NOT_YET or (
            no_poles and part.gives.centre is None and part.takes.kind == "wires"
        ):
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
    fits = appliance.plug == (end.plug or "wires")
    poles = end.kind == "wires" or end.plug in USB or may_be_plugged(front, appliance)
    if fits and poles:
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
        made = part.kind == "cable" or part.gives.centre is not None
        if part.kind in ("cable", "reverser", "lead", "plug") and made and part.setting != NOT_YET:
            came, left = names_of(part.takes, ("+", "−")), names_of(part.gives, ("+", "−"))
            for a, b in zip(came, left, strict=True):
                yield frozenset({(box, "<", a), (box, ">", b)})


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
        if name in NOT_JOINED:
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
    for name, words in NOT_JOINED.items():
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
        # A wire off the reel is soldered at both ends; a tail or a core is the part's own.
        own = {n for n, p in enumerate(front.parts, 2) if p.kind in IN_LINE | {"lead"}}
        ins = {pin for pin in joined if pin[1] in "<|" and bare[pin[0] - 1] and pin[0] not in own}
        assert {pin for pin in soldered if pin[1] in "<|"} == ins, name
        said = any("ring it out" in text for _, text, *_ in drawn.texts)
        assert said == any(text == "its own" for _, text, *_ in drawn.texts)
        words = [text for kind, text, *_ in drawn.texts if kind == "wiring-joint"]
        assert ("solder" in words) == bool(soldered)


def test_pads_of_a_two_resistor_socket(drawings: dict[str, str]) -> None:
    texts = [text for _, text, *_ in read_back(drawings["two resistors"]).texts]
    # USB Type-C: Rd is 5.1 kΩ from each CC to ground (Table 4-25).
    assert texts.count("5.1 kΩ") == 2
    assert texts.count("CC1") == texts.count("CC2") == 1
    assert "5.1 kΩ" not in [text for _, text, *_ in read_back(drawings["plain"]).texts]
