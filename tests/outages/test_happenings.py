"""What an event does to which port, and what may follow it."""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.outages.happenings import Event, Happening, Kind, happening
from sinkside.outages.port_machine import IllegalEvent
from sinkside.quantity import Basis, point, varies

TWO = {"C1": "5:3 9:3", "C2": "5:3 9:3"}
SHARED = {"C1+C2": {"C1": "5:3 9:2", "C2": "5:3"}}
MEASURED = varies(1.4, 1.9, "s", Basis.MEASURED, "shared/off time")
BOTH = frozenset({"C1", "C2"})


def event(kind: Kind, port: str = "C2", **more: Any) -> Event:
    return Event(kind=kind, charger="shared", port=port, **more)


def happens(
    kind: Kind, on_change: str = "drops all", port: str = "C2", own: str = "C1", **more: Any
) -> Happening:
    source = small.charger(TWO, SHARED, on_change=on_change, off_time_s=MEASURED)
    front = small.front(source, port=own)
    return happening(event(kind, port, **more), front, more.pop("occupied", BOTH))


def causes(found: Happening) -> list[str]:
    assert found.schedule is not None
    return [str(m.cause) for m in found.schedule.moments]


@pytest.mark.parametrize("kind", [Kind.ATTACH, Kind.DETACH, Kind.REPLUG])
def test_a_change_drops_the_others_if_the_charger_does_so(kind: Kind) -> None:
    found = happens(kind)
    assert found.schedule is not None
    assert found.schedule.contract_absent_s() == pytest.approx((1.4, 1.9))
    assert not found.meant
    assert not found.perhaps


@pytest.mark.parametrize("kind", [Kind.ATTACH, Kind.DETACH, Kind.REPLUG])
def test_a_change_leaves_the_others_alone_if_it_does_so(kind: Kind) -> None:
    found = happens(kind, "nothing")
    assert found.schedule is None
    assert found.words == "its ports keep going"


def test_a_change_is_a_step_for_the_others_if_the_charger_does_so() -> None:
    assert causes(happens(Kind.ATTACH, "steps")) == [
        "the offer changes",
        "Request",
        "Accept",
        "PS_RDY",
    ]


def test_of_a_charger_that_nobody_has_seen_it_may_be_nothing() -> None:
    found = happens(Kind.ATTACH, "unknown")
    assert found.perhaps
    assert found.schedule is not None


def test_without_a_watch_the_drop_is_a_hard_reset_or_longer() -> None:
    front = small.front(small.charger(TWO, on_change="drops all"))
    found = happening(event(Kind.ATTACH), front, BOTH)
    assert found.schedule is not None
    low, high = found.schedule.contract_absent_s()
    assert low == pytest.approx(0.97)
    assert high >= 5.0
    assert found.words == (
        "it drops all ports, and nobody has timed it: 1.0 to 2.8 s by a Hard Reset, "
        "5 s and more where it starts its firmware anew"
    )


@pytest.mark.parametrize(
    ("kind", "first"),
    [
        (Kind.ATTACH, "SRC.Rd"),
        (Kind.REPLUG, "SRC.Open"),
        (Kind.HARD_RESET, "Hard Reset received"),
        (Kind.OVER_CURRENT, "over-current"),
        (Kind.MAINS_CUT, "mains lost"),
    ],
)
def test_what_it_does_to_its_own_port(kind: Kind, first: str) -> None:
    found = happens(kind, port="C1")
    assert causes(found)[0] == first
    assert found.meant is (kind in (Kind.ATTACH, Kind.REPLUG))
    assert (found.before is None) is (kind is Kind.ATTACH)


def test_what_is_pulled_out_has_nothing_afterwards() -> None:
    found = happens(Kind.DETACH, port="C1")
    assert (found.schedule, found.after) == (None, ())
    assert found.words == "it is pulled out"


@pytest.mark.parametrize("kind", [Kind.HARD_RESET, Kind.OVER_CURRENT])
def test_some_events_concern_one_port_alone(kind: Kind) -> None:
    found = happens(kind)
    assert found.schedule is None
    assert found.words == "it concerns the other port alone"


def test_a_mains_cut_concerns_every_port() -> None:
    cut = point(2.0, "s", Basis.MEASURED, "cut")
    found = happens(Kind.MAINS_CUT, port="", lasts_s=cut)
    assert causes(found)[:2] == ["mains lost", "mains back"]
    assert found.schedule is not None
    assert found.schedule.moments[1].delay_s == cut


def test_the_state_after_is_that_of_the_new_company() -> None:
    source = small.charger(TWO, SHARED, on_change="steps")
    front = small.front(source)
    found = happening(event(Kind.ATTACH), front, frozenset({"C1"}))
    assert found.before is not None
    assert found.before.offer_high_a == 3.0
    assert [s.offer_high_a for s in found.after] == [2.0]
    # The other port has no 9 V any more: its trigger falls back.
    other = happening(event(Kind.ATTACH, "C1"), small.front(source, port="C2"), frozenset({"C2"}))
    assert [(s.kind, s.nominal_v) for s in other.after] == [("fallback", 5.0)]


def test_a_fixed_contract_has_no_time_out() -> None:
    with pytest.raises(IllegalEvent) as caught:
        happens(Kind.PPS_TIMEOUT, port="C1")
    assert str(caught.value) == (
        "tPPSTimeout cannot happen in PE_SRC_Ready; there it can be: EPR_Mode, Hard Reset "
        "received, Hard Reset sent, Request, SRC.Open, firmware restart, mains lost, over-current, "
        "tSourceEPRKeepAlive, the offer changes"
    )


@pytest.mark.parametrize(
    ("kind", "words"),
    [
        (Kind.ATTACH, "something is plugged into shared C2"),
        (Kind.DETACH, "something is pulled from shared C2"),
        (Kind.REPLUG, "something is pulled from shared C2 and plugged in again"),
        (Kind.HARD_RESET, "a Hard Reset on shared C2"),
        (Kind.PPS_TIMEOUT, "the programmable contract on shared C2 is not kept alive"),
        (Kind.OVER_CURRENT, "shared C2 trips"),
    ],
)
def test_events_in_words(kind: Kind, words: str) -> None:
    assert event(kind).sentence() == words


def test_a_mains_cut_in_words() -> None:
    cut = Event(kind=Kind.MAINS_CUT, charger="shared", lasts_s=MEASURED)
    assert cut.sentence() == "shared is without mains for 1.4 s to 1.9 s"
    cut = Event(kind=Kind.MAINS_CUT, charger="shared")
    assert cut.sentence() == "shared is without mains"
