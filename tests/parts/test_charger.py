"""Chargers: what a port offers alone and in company, and what nobody knows of it."""

import pytest

from sinkside.parts.charger import Charger, Offer, Port

FIVE = Offer(low_v=5.0, high_v=5.0, current_a=3.0)
NINE = Offer(low_v=9.0, high_v=9.0, current_a=3.0)
TWELVE = Offer(low_v=12.0, high_v=12.0, current_a=2.5)
PPS = Offer(low_v=3.3, high_v=11.0, current_a=3.0, profile="pps")


def charger(**given: object) -> Charger:
    fields: dict[str, object] = {
        "id": "tower",
        "count": 1,
        "ports": (
            Port(name="C1", offers=(FIVE, NINE, TWELVE)),
            Port(name="C2", offers=(FIVE, NINE)),
            Port(name="A", offers=(FIVE,)),
        ),
        "together": (),
        "sharing": "unknown",
        "on_change": "unknown",
        "off_time_s": None,
        "output_earth": "unknown",
    }
    return Charger(**{**fields, **given})  # type: ignore[arg-type]  # the defaults are typed above


def together(**offers: tuple[Offer, ...]) -> tuple[frozenset[str], tuple[Port, ...]]:
    return frozenset(offers), tuple(Port(name=n, offers=o) for n, o in offers.items())


@pytest.mark.parametrize("sharing", ["unknown", "independent", "table"])
def test_a_port_in_use_alone_offers_its_list(sharing: str) -> None:
    found = charger(sharing=sharing)
    assert found.offers("C1", frozenset({"C1"})) == (FIVE, NINE, TWELVE)
    assert found.offers("C1", frozenset()) == (FIVE, NINE, TWELVE)


def test_nobody_knows_what_a_second_plug_does() -> None:
    assert charger().offers("C1", frozenset({"C1", "A"})) is None


def test_ports_that_do_not_know_each_other() -> None:
    everything = frozenset({"C1", "C2", "A"})
    assert charger(sharing="independent").offers("C2", everything) == (FIVE, NINE)


def test_a_table_answers_for_its_own_sets_and_no_other() -> None:
    found = charger(sharing="table", together=(together(C1=(FIVE, NINE), C2=(FIVE,)),))
    assert found.offers("C1", frozenset({"C1", "C2"})) == (FIVE, NINE)
    assert found.offers("C2", frozenset({"C1", "C2"})) == (FIVE,)
    assert found.offers("C1", frozenset({"C1", "A"})) is None
    assert found.offers("C1", frozenset({"C1", "C2", "A"})) is None


def test_a_port_that_the_table_leaves_out_is_not_known() -> None:
    # Not listed beside the other: its own list is for when it is alone.
    found = charger(
        sharing="table",
        together=((frozenset({"C1", "C2"}), (Port(name="C1", offers=(FIVE,)),)),),
    )
    assert found.offers("C1", frozenset({"C1", "C2"})) == (FIVE,)
    assert found.offers("C2", frozenset({"C1", "C2"})) is None


def test_a_list_that_was_guessed_from_watts_promises_nothing() -> None:
    port = Port(name="C1", offers=(FIVE, NINE), guessed=True)
    assert charger(ports=(port,)).offers("C1", frozenset({"C1"})) is None


def test_every_set_of_ports_in_use_smallest_first() -> None:
    found = charger().occupancies("C1")
    assert [sorted(o) for o in found] == [["C1"], ["C1", "C2"], ["A", "C1"], ["A", "C1", "C2"]]


def test_what_a_port_can_drive_into_a_fault() -> None:
    assert charger().port("C1").largest_a == 3.0


def test_a_fixed_offer_has_volts_of_its_own() -> None:
    assert (NINE.fixed_v, PPS.fixed_v) == (9.0, None)
