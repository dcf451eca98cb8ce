"""Parts as they are written, and what each becomes; every wrong one is a fault at its place.

Copper is held to the wire-gauge table in ohms per 1000 ft that is printed in many handbooks
(22 AWG 16.14, 20 AWG 10.15), fuses to the gates of UL 248-14 and IEC 60127-2 (from memory).
"""

import pytest
from tests.parts.sheets import parts, told

from sinkside.parts.elements import RampSwitch, Resistance
from sinkside.parts.part import FALLBACKS, Part

FEET_PER_1000 = 304.8
CONVERTER = "is: converter, direction: step-down, gives: 9 V, accepts: 10..28 V, carries: 2 A"
LEAD = "is: lead, plug: 5.5x2.1, length: 1 m"


def resistance(part: Part) -> Resistance:
    return next(e for e in part.elements if isinstance(e, Resistance))


def test_a_trigger_is_one_part_for_each_strap() -> None:
    found = parts("is: trigger, straps: [9 V, 12 V], falls_back: off, output_switch: yes (plate)")
    assert [p.setting for p in found] == ["strapped to 9 V", "strapped to 12 V"]
    traits = [p.trigger for p in found]
    assert [t and (t.asks_v, t.falls_back, t.gated, t.presses_v) for t in traits] == [
        (9.0, ("off",), True, ()),
        (12.0, ("off",), True, ()),
    ]


@pytest.mark.parametrize("said", ["", ", falls_back: unknown", ", falls_back: "])
def test_a_trigger_of_which_nothing_is_known_may_fall_anywhere(said: str) -> None:
    (found,) = parts(f"is: trigger, straps: [9 V]{said}")
    assert found.trigger is not None
    assert found.trigger.falls_back == FALLBACKS
    assert not found.trigger.gated


def test_a_button_can_be_pressed_to_every_setting() -> None:
    found = parts("is: trigger, button: [9 V, 20 V], falls_back: next lower")
    assert [p.setting for p in found] == ["button pressed to 9 V", "button pressed to 20 V"]
    assert [p.trigger and p.trigger.presses_v for p in found] == [(9.0, 20.0), (9.0, 20.0)]


def test_two_resistors_ask_for_5_v() -> None:
    (found,) = parts("is: trigger, by: resistors")
    assert found.trigger is not None
    assert (found.trigger.asks_v, found.trigger.by_resistors) == (5.0, True)


@pytest.mark.parametrize("text", ["9..12 V", "max 9 V", "9 V ±30 %"])
def test_a_strap_is_one_value(text: str) -> None:
    # It is strapped to 9 V or to 12 V; the middle of a range would be a guess.
    assert len(told(f"is: trigger, straps: [{text}]")) == 1


@pytest.mark.parametrize("text", ["0 V", "2 V", "200 V"])
def test_a_strap_is_something_that_a_charger_can_offer(text: str) -> None:
    # PD offers run from 5 V (fixed; 3.3 V programmable) to 48 V (R3.1, secondary source).
    assert len(told(f"is: trigger, straps: [{text}]")) == 1


def test_resistors_cannot_ask_for_9_v() -> None:
    # Two 5.1 kΩ resistors get 5 V and nothing else (USB Type-C, secondary source).
    assert len(told("is: trigger, by: resistors, straps: [9 V]")) == 1


def test_a_trigger_that_asks_for_nothing() -> None:
    (fault,) = told("is: trigger")
    assert fault.endswith("trigger 'p' asks for nothing; add straps: [9 V, 12 V]")


@pytest.mark.parametrize(("gauge", "ohm_per_1000_ft"), [("22 AWG", 16.14), ("20 AWG", 10.15)])
def test_a_lead_has_two_cores(gauge: str, ohm_per_1000_ft: float) -> None:
    found = parts(f"{LEAD}, gauge: {gauge}")
    assert [p.gives.centre for p in found] == ["positive", "negative"]
    assert all(p.made_either_way for p in found)
    copper_ohm = 2 * ohm_per_1000_ft / FEET_PER_1000
    ohm = resistance(found[0]).ohm
    # Fresh contacts at least 30 mΩ, old ones at most 150 mΩ (common practice, from memory).
    assert ohm.low == pytest.approx(copper_ohm + 0.030, rel=1e-3)
    assert ohm.high >= copper_ohm + 0.150
    assert (ohm.name, ohm.known) == ("p/ohms", False)


def test_a_lead_of_at_most_two_metres_may_be_two_metres_long() -> None:
    at_most = resistance(parts(LEAD.replace("1 m", "max 2 m"))[0]).ohm
    two = resistance(parts(LEAD.replace("1 m", "2 m"))[0]).ohm
    assert at_most.high == pytest.approx(two.high)


def test_a_lead_with_a_fixed_centre() -> None:
    (found,) = parts(f"{LEAD}, centre: negative")
    assert (found.gives.centre, found.made_either_way) == ("negative", False)


@pytest.mark.parametrize("gauge", ["99 AWG", "50 AWG"])
def test_a_gauge_that_no_lead_has(gauge: str) -> None:
    # Tables of wire end at 40 AWG, 0.08 mm thick.
    assert len(told(f"{LEAD}, gauge: {gauge}")) == 1


def test_fuse_gates() -> None:
    # UL 248-14: load it to 75 %, opens at 200 %. IEC 60127-2: carries 100 %, opens at 210 %.
    for standard, carries, opens in (("UL 248-14", 0.75, 2.0), ("IEC 60127", 1.0, 2.1)):
        (found,) = parts(f"is: fuse, rating: 800 mA, standard: {standard}")
        assert found.fuse is not None
        assert (found.fuse.rated_a, found.fuse.opens_at_ratio) == (0.8, opens)
        assert found.carries_a == pytest.approx(0.8 * carries)


@pytest.mark.parametrize("rating", ["0 A", "max 2 A", "1..2 A"])
def test_a_fuse_has_one_rating(rating: str) -> None:
    assert len(told(f"is: fuse, rating: {rating}")) == 1


def test_a_converter() -> None:
    (found,) = parts(f"{CONVERTER}, efficiency: [0.82, 0.94], headroom: 0.5..2 V")
    converter = found.converter
    assert converter is not None
    assert (converter.efficiency.low, converter.efficiency.high) == (0.82, 0.94)
    assert (converter.headroom_v.low, converter.headroom_v.high) == (0.5, 2.0)
    assert (converter.accepts_low_v, converter.accepts_high_v, found.withstands_v) == (10, 28, 28)


@pytest.mark.parametrize(
    "efficiency",
    ["[nan, 0.9]", "[inf, inf]", "[0.9, 0.8]", "[0, 0]", "[-0.5, 0.9]", "[80, 95]", "[0.9, 1.2]"],
)
def test_an_efficiency_lies_between_nothing_and_all(efficiency: str) -> None:
    # Energy: no converter gives more than it takes.
    assert len(told(f"{CONVERTER}, efficiency: {efficiency}")) >= 1


@pytest.mark.parametrize("efficiency", ["[80 %, 90 %]", "[a, b]"])
def test_an_efficiency_that_is_no_number_is_told_in_the_programs_own_words(efficiency: str) -> None:
    for line in told(f"{CONVERTER}, efficiency: {efficiency}"):
        assert "Input should be" not in line


def test_a_converter_accepts_a_range() -> None:
    # `accepts: 28 V` would say that it does not start below 28 V.
    assert len(told(CONVERTER.replace("10..28 V", "28 V"))) == 1


def test_a_converter_set_by_hand_is_good_to_three_per_cent() -> None:
    (found,) = parts(f"{CONVERTER.replace('9 V', '1.5..18 V')}, adjustable: yes")
    converter = found.set_to(7.5).converter
    assert converter is not None
    assert converter.gives_v.low == pytest.approx(7.275)
    assert converter.gives_v.high == pytest.approx(7.725)
    assert found.set_to(7.5).setting == "set to 7.5 V with a meter"


def test_only_a_converter_can_be_set() -> None:
    with pytest.raises(ValueError, match=r"^p is no converter$"):
        parts(LEAD)[0].set_to(9.0)


def test_a_soft_start() -> None:
    (found,) = parts("is: soft start, ramp: 40..160 ms, accepts: 4..26 V, carries: 3 A")
    ramp = next(e for e in found.elements if isinstance(e, RampSwitch)).ramp_s
    assert (ramp.low, ramp.high, ramp.name) == (0.04, 0.16, "p/ramp")


def test_an_adapter_swaps_the_poles_either_way() -> None:
    found = parts("is: adapter, plug: 5.5x2.1")
    assert [(p.takes.centre, p.gives.centre) for p in found] == [
        ("positive", "negative"),
        ("negative", "positive"),
    ]


def test_an_adapter_that_does_not_swap_leaves_the_poles_alone() -> None:
    # A plain extension taken for a reverser puts reversed poles on the device.
    found = parts("is: adapter, plug: 5.5x2.1, swaps_poles: no")
    assert all(p.takes.centre == p.gives.centre for p in found)


@pytest.mark.parametrize(("mark", "amps"), [("no", 3.0), ("3 A", 3.0), ("5 A", 5.0), ("EPR", 5.0)])
def test_cables_carry_what_their_mark_says(mark: str, amps: float) -> None:
    # USB Type-C, cable ratings (secondary source): 3 A without a mark for 5 A.
    (found,) = parts(f"is: cable, e_marked: {mark}")
    assert (found.carries_a, found.e_marked) == (amps, amps > 3.0)


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        ("is: cabel", "m:2:6: 'cabel' is no kind of part; did you mean 'cable'?"),
        ("count: 2", "m:2:6: 'is' is missing in 'p'; add is: lead, say"),
        (
            "is: cable, e_marked: 7 A",
            "m:2:28: '7 A' is not known for 'e_marked'; did you mean '5 A'?",
        ),
        ("is: lead, plug: 5.5x2.1", "m:2:3: 'length' is missing in 'p'; add it"),
        (
            "is: cable, lenght: 2 m",
            "m:2:18: unknown key 'lenght'; did you mean 'length'?",
        ),
        (
            "is: fuse, rating: 2 V",
            "m:2:25: '2 V' is in V; A is wanted here",
        ),
        (
            "is: trigger, straps: 9 V",
            "m:2:28: 'straps' holds '9 V'; a list [a, b, …] is wanted here",
        ),
        (
            "is: trigger, straps: [9 V], output_switch: on",
            "m:2:50: 'on' is not known here; known are yes, no, unknown",
        ),
        (
            "is: trigger, straps: [9 V], falls_back: lowest",
            "m:2:47: 'lowest' is not known here; known are next lower, 5 V, highest, off, unknown",
        ),
        (
            "is: cable, price: 2.40",
            "m:2:25: '2.40' is not a price; write it like 2.40 EUR",
        ),
        (
            "is: adapter, plug: 5.5x2.1, swaps_poles: on",
            "m:2:48: 'on' is neither yes nor no; write yes or no",
        ),
    ],
)
def test_faults(entry: str, fault: str) -> None:
    assert told(entry) == [fault]


def test_a_missing_price_is_not_nothing() -> None:
    assert [p.price_cents for p in parts("is: cable")] == [None]
