"""Rails of a built-in supply: how they are written, and when it is refused to replace it."""

import pytest

from sinkside.faults import Faulty
from sinkside.quantity import Basis
from sinkside.site.appliance import Appliance
from sinkside.site.rails import RailNeed
from sinkside.site.read import read
from sinkside.site.survey import survey

QUALIFIED = "a qualified person, under local codes"
MAINS = "its supply is inside and on mains: what is there is not worked on here"
RAILS = "{3.3 V: 1.2 A, 5 V: 2 A (measured), 12 V: 0.8..1.5 A}"
SITE = (
    "site: {{name: T}}\n"
    "devices:\n"
    '  d: {{use: ordinary, plate: "INPUT 230V~ 50Hz 20W", inlet: {{plug: other}}, '
    "inside: {{{}}}}}\n"
)


def surveyed(rails: str | None, mains_side: str = "qualified") -> Appliance:
    inside = "is: internal mains supply" + (f", rails: {rails}" if rails else "")
    site = read(SITE.format(inside), "s.yaml")
    return survey(site.devices[0], site.ambient, mains_side=mains_side)  # type: ignore[arg-type]


def needs(rails: str) -> tuple[RailNeed, ...]:
    return surveyed(rails).rails


def told(rails: str) -> list[str]:
    with pytest.raises(Faulty) as error:
        surveyed(rails)
    return [f"{f.wrong}; {f.right}" for f in error.value.faults]


def test_rails_as_they_are_written() -> None:
    three, five, twelve = needs(RAILS)
    assert [n.name for n in (three, five, twelve)] == ["3.3 V", "5 V", "12 V"]
    assert [n.volts_v for n in (three, five, twelve)] == [3.3, 5.0, 12.0]
    assert five.current_a is not None
    assert twelve.current_a is not None
    assert (five.current_a.low, five.current_a.high, five.measured) == (2.0, 2.0, True)
    assert (twelve.current_a.low, twelve.current_a.high, twelve.measured) == (0.8, 1.5, False)


def test_a_current_that_rests_on_nothing_has_a_spread() -> None:
    """A plate's current: 0.3 to 2 times of it may really be asked for (common practice)."""
    (need,) = needs("{5 V: 2 A}")
    assert need.current_a is not None
    assert (need.current_a.low, need.current_a.high) == (0.6, 4.0)
    assert (need.current_a.basis, need.measured) == (Basis.ASSUMED, False)


def test_what_a_label_says_is_kept_and_is_not_measured() -> None:
    (need,) = needs("{5 V: 2 A (plate)}")
    assert need.current_a is not None
    assert (need.current_a.low, need.current_a.high, need.measured) == (2.0, 2.0, False)


def test_two_rails_of_the_same_volts_have_a_word_each() -> None:
    names = [n.name for n in needs("{5 V: 1 A (measured), 5 V standby: 0.1 A (measured)}")]
    assert names == ["5 V", "5 V standby"]


@pytest.mark.parametrize(
    ("rails", "fault"),
    [
        (
            "{five: 2 A}",
            "'five' is no rail; write it like rails: {3.3 V: 1.2 A, 5 V: 2 A (measured)}",
        ),
        (
            "{325 V: 2 A}",
            "'325 V' is no rail of low voltage; write it like rails: {3.3 V: 1.2 A, 5 V: 2 A "
            "(measured)}",
        ),
        (
            "[5 V]",
            "the rails are a mapping of volts to current; write it like rails: {3.3 V: 1.2 A, "
            "5 V: 2 A (measured)}",
        ),
        ("{5 V: 2 V}", "'2 V' is in V; A is wanted here"),
        (
            "{5 V: [2 A]}",
            "the current of '5 V' is not understood; write it like rails: {3.3 V: 1.2 A, 5 V: 2 A "
            "(measured)}",
        ),
    ],
)
def test_what_is_no_rail(rails: str, fault: str) -> None:
    assert [t.rstrip("; ") for t in told(rails)] == [fault]


@pytest.mark.parametrize("rails", [None, RAILS])
def test_without_a_qualified_person_it_is_refused_as_ever(rails: str | None) -> None:
    found = surveyed(rails, "never")
    assert [(r.why, r.ask) for r in found.refusals] == [(MAINS, QUALIFIED)]
    assert found.cautions == ()


@pytest.mark.parametrize("rails", [None, "unknown"])
def test_with_one_it_is_told_what_to_state(rails: str | None) -> None:
    assert [(r.why, r.ask) for r in surveyed(rails).refusals] == [
        (
            "its supply is inside, and what it gives is not stated: state volts and the most "
            "current of every rail, like rails: {5 V: 2 A (measured)}",
            QUALIFIED,
        )
    ]


def test_a_negative_rail_is_refused() -> None:
    found = surveyed("{5 V: 1 A (measured), -12 V: 0.1 A (measured)}")
    assert [r.why for r in found.refusals] == [
        "its supply has a negative rail (-12 V), which nothing here gives"
    ]


def test_a_rail_of_which_the_current_is_not_known_is_refused() -> None:
    found = surveyed("{5 V: 1 A (measured), 12 V: unknown}")
    assert [r.why for r in found.refusals] == [
        "nothing says what its rails are asked for at most (12 V): state it"
    ]


def test_what_is_on_mains_is_left_to_somebody_else() -> None:
    found = surveyed(RAILS)
    assert found.refusals == ()
    (caution,) = found.cautions
    assert caution.ask == QUALIFIED
    assert caution.why == (
        "its supply is inside and on mains: taking it out, blanking off what is left, and the "
        "earth of its case are not worked out here"
    )


def test_a_plate_with_mains_on_it_is_still_refused_where_the_supply_is_not_said_to_be_inside() -> (
    None
):
    site = read(SITE.format("is: unknown"), "s.yaml")
    found = survey(site.devices[0], site.ambient, mains_side="qualified")
    assert [r.why for r in found.refusals] == [MAINS]


def test_an_ordinary_device_has_neither_rails_nor_cautions() -> None:
    site = read(SITE.format(f"is: unknown, rails: {RAILS}"), "s.yaml")
    found = survey(site.devices[0], site.ambient, mains_side="qualified")
    assert (found.rails, found.cautions) == ((), ())
