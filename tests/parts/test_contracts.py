"""What asks for a contract, and the leads that let it: programmable, above 20 V, and none at all.

Ranges: 3.0 V at the least of any revision, 21 V at the most (a vendor's table of PPS ranges).
Leads: unmarked 3 A and 20 V, marked 5 A, marked for the extended range 48 V (USB Type-C R2.0 and
R2.1, as given in published articles).
"""

import pytest
from tests.parts.sheets import parts, told

from sinkside.parts import port_list
from sinkside.parts.part import FALLBACKS, Part, TriggerTraits

PPS = "is: trigger, programmable: 3.3..21 V"


def traits(entry: str) -> TriggerTraits:
    (found,) = parts(entry)
    assert found.trigger is not None
    return found.trigger


def test_a_programmable_trigger_is_one_part_until_it_is_set() -> None:
    (found,) = parts(f"{PPS}, falls_back: 5 V")
    assert found.setting == ""
    assert found.trigger is not None
    assert (found.trigger.programmable_v, found.trigger.falls_back) == ((3.3, 21.0), ("5 V",))
    set_ = found.asking(12.4)
    assert set_.trigger is not None
    assert (set_.trigger.asks_v, set_.setting) == (12.4, "set to ask for 12.4 V")
    # It stands the highest that it may ask for, with the tolerance of the contract.
    assert found.withstands_v == pytest.approx(1.05 * 21.0)


def test_of_a_programmable_trigger_all_fallbacks_are_open_unless_it_says() -> None:
    assert traits(PPS).falls_back == FALLBACKS


@pytest.mark.parametrize("volts", [3.2, 21.02])
def test_a_programmable_trigger_asks_for_nothing_outside_its_range(volts: float) -> None:
    (found,) = parts(PPS)
    with pytest.raises(ValueError, match=f"p cannot ask for {volts:g} V"):
        found.asking(volts)


def test_a_fixed_trigger_cannot_be_set() -> None:
    (found,) = parts("is: trigger, straps: [9 V]")
    with pytest.raises(ValueError, match="p cannot ask for 9 V"):
        found.asking(9.0)


@pytest.mark.parametrize(
    ("said", "kept"),
    [
        ("", None),
        (", keeps_alive: unknown", None),
        (", keeps_alive: yes", None),
        (", keeps_alive: yes (assumed)", None),
        (", keeps_alive: yes (datasheet)", True),
        (", keeps_alive: yes (measured)", True),
        (", keeps_alive: no", False),
        (", keeps_alive: no (measured)", False),
    ],
)
def test_that_a_contract_is_kept_alive_counts_on_a_good_basis(said: str, kept: bool | None) -> None:
    assert traits(f"{PPS}{said}").keeps_alive is kept


@pytest.mark.parametrize(
    ("said", "speaks"), [("", False), (", epr: yes", False), (", epr: yes (datasheet)", True)]
)
def test_the_extended_range_has_to_be_said(said: str, speaks: bool) -> None:
    assert traits(f"is: trigger, straps: [28 V]{said}").epr is speaks


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        (
            f"{PPS}, straps: [9 V]",
            "trigger 'p' asks for programmable volts, and for fixed ones; keep programmable:, or "
            "straps: or button:",
        ),
        (
            f"{PPS}, by: resistors",
            "trigger 'p' asks for programmable volts, and for fixed ones; keep programmable:, or "
            "straps: or button:",
        ),
        (
            "is: trigger, programmable: 2.5..11 V",
            "trigger 'p': 2.5..11 V is no programmable range; it lies within 3..21 V",
        ),
        (
            "is: trigger, programmable: 5..28 V",
            "trigger 'p': 5..28 V is no programmable range; it lies within 3..21 V",
        ),
        ("is: trigger, programmable: 12 V", "m:2:34: '12 V' is no range; write it like 10..28 V"),
    ],
)
def test_what_is_no_programmable_trigger(entry: str, fault: str) -> None:
    assert told(entry) == [fault]


def test_two_resistors_fall_back_to_nothing_else() -> None:
    assert traits("is: trigger, by: resistors").falls_back == ("5 V",)


@pytest.mark.parametrize(
    ("said", "carries_a", "stands_v", "marked", "epr"),
    [
        ("", 3.0, 21.0, False, False),
        (", e_marked: 3 A", 3.0, 21.0, False, False),
        (", e_marked: 5 A", 5.0, 21.0, True, False),
        (", e_marked: EPR", 5.0, 50.4, True, True),
    ],
)
def test_what_a_lead_is_marked_for(
    said: str, carries_a: float, stands_v: float, marked: bool, epr: bool
) -> None:
    (found,) = parts(f"is: cable, length: 1 m{said}")
    assert (found.carries_a, found.withstands_v) == pytest.approx((carries_a, stands_v))
    assert (found.e_marked, found.epr) == (marked, epr)
    assert found.takes.kind == "usb-c"


def test_a_lead_from_a_to_c() -> None:
    (found,) = parts("is: cable, ends: A to C, length: 1 m")
    assert (found.takes.kind, found.gives.kind) == ("usb-a", "usb-c")
    assert (found.e_marked, found.epr, found.carries_a) == (False, False, 3.0)


def test_a_lead_from_a_to_c_has_no_mark() -> None:
    assert told("is: cable, ends: A to C, e_marked: 5 A") == [
        "cable 'p' goes from A to C and has a mark; only leads from C to C are marked: drop "
        "e_marked:"
    ]


def test_a_splitter_is_known_by_name() -> None:
    (found,) = parts("is: splitter")
    assert isinstance(found, Part)
    assert found.kind == "splitter"


def test_rails_take_what_they_give_and_what_is_lost() -> None:
    """5.15 V · 4 A + 12.4 V · 3 A = 57.8 W; through 75 % from 16 V that is 4.82 A."""
    (found,) = parts(
        'is: rails, accepts: 16..28 V, rails: {"5 V": {gives: 4.85..5.15 V, carries: 4 A}, '
        '"12 V": {gives: 11.6..12.4 V, carries: 3 A}}'
    )
    assert found.carries_a == pytest.approx(57.8 / 0.75 / 16.0)
    assert found.rails_converter is not None
    efficiency = found.rails_converter.efficiency
    assert (efficiency.low, efficiency.high, efficiency.name) == (0.75, 0.92, "p/efficiency")
    assert (found.rails_converter.accepts_low_v, found.rails_converter.accepts_high_v) == (16, 28)


def test_rails_that_take_volts_from_nothing_on() -> None:
    entry = 'is: rails, accepts: max 28 V, rails: {"5 V": {gives: 5 V, carries: 4 A}}'
    assert told(entry) == ["'p' accepts volts from nothing on; write it like accepts: 16..28 V"]


def test_a_word_says_whether_a_programmable_source_stays_within_its_power() -> None:
    """0xC0DC213C: 3.3 to 11 V at 3 A (arithmetic on the layout); bit 27 says power limited."""
    (offer,), _ = port_list.read("0xC0DC213C")
    assert (offer.low_v, offer.high_v, offer.current_a) == (3.3, 11.0, 3.0)
    assert offer.power_limited == "no"
    (limited,), _ = port_list.read("0xC8DC213C")
    assert limited.power_limited == "yes"
    (printed,), _ = port_list.read("PPS 3.3-11V⎓3A")
    assert printed.power_limited == "unknown"
