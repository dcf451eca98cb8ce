"""The states of a supply against a count of them by hand.

By hand means `tests.paths.by_hand.standings`, which enumerates from the words: every set of
ports in use is reachable, in each the port has a list, the trigger takes its volts from it or
falls back, and without an output switch the device sees the port's 5 V first. Bands: vSrcNew
and vSafe5V, see there.

Programmable contracts: ±5 % of what was asked (vPpsNew, read in the Linux driver tcpci.c); no
request for 12 to 15 s ends them (tPPSTimeout, of which a source controller's list says 15 s) by
a hard reset, after which VBUS is vSafe5V. Above 20 V: leads marked for the extended range and
triggers that speak it (USB Type-C R2.1 and USB PD R3.1, as given in published articles).
"""

from dataclasses import replace
from itertools import product
from typing import Any

import pytest
from tests.paths import by_hand
from tests.paths import small_parts as small

from sinkside.parts.charger import Charger
from sinkside.parts.part import FALLBACKS, End, Fallback
from sinkside.paths.front import Front
from sinkside.paths.states import supply

LISTS = {"C1": "5:3 9:3 12:2 20:1", "C2": "5:3 9:3"}
SHARED = {
    "C1+C2": {"C1": "5:3 9:2", "C2": "5:2"},
}
THREE = {"C1": "5:3 9:3 12:2", "C2": "5:3", "C3": "5:3"}
PAIRS = {
    "C1+C2": {"C1": "5:3 9:2 12:1", "C2": "5:2"},
    "C1+C3": {"C1": "5:3 12:1", "C3": "5:2"},
    "C1+C2+C3": {"C1": "5:1", "C2": "5:1", "C3": "5:1"},
}
CHARGERS: dict[str, Charger] = {
    "one port": small.charger("5:3 9:3 12:2 20:1"),
    "independent": small.charger(LISTS),
    "table": small.charger(LISTS, SHARED),
    "unknown": small.charger(LISTS, sharing="unknown"),
    "three with a table": small.charger(THREE, PAIRS),
    "three, one pair not listed": small.charger(
        THREE, {k: v for k, v in PAIRS.items() if k != "C1+C3"}
    ),
    "with a programmable range": small.charger("pps3.3-11:5 5:3 9:2"),
    "with a range in two objects": small.charger(
        {"C1": "pps3.3-5.9:3 pps5-11:2 pps3.3-16:1 5:3 9:3 12:2", "C2": "5:3"},
        {"C1+C2": {"C1": "pps3.3-11:1 5:2 9:1", "C2": "5:2"}},
    ),
    "with a range, the rest unknown": small.charger(
        {"C1": "pps3.3-11:3 5:3 9:3", "C2": "5:3"}, sharing="unknown"
    ),
    "above 20 V": small.charger("5:3 9:3 12:3 20:5 28:5"),
}
ASKED = (5.0, 9.0, 12.0)
COMPANIES = (None, frozenset(("C1",)))
PROGRAMMED = (5.6, 9.0, 10.98)


def fronts() -> dict[str, Front]:
    found = {}
    every = product(CHARGERS, ASKED, [*((f,) for f in FALLBACKS), FALLBACKS], (True, False))
    for (name, asked, falls_back, gated), company in product(every, COMPANIES):
        charger = CHARGERS[name]
        if asked not in {o.fixed_v for o in charger.port("C1").offers}:
            continue
        trigger = small.trigger(asked, falls_back, gated=gated)
        what = f"{name}, {asked:g} V, {'+'.join(falls_back)}, {'gated' if gated else 'plain'}"
        what += ", alone" if company else ""
        chain = (small.cable(), trigger, small.lead())
        found[what] = small.front(charger, *chain, company=company)
    return found | programmed_fronts() | extended_fronts()


def programmed_fronts() -> dict[str, Front]:
    """Of every charger that has a range; also such volts as lie in no range of it."""
    found = {}
    kept = (True, False, None)
    for name, charger in CHARGERS.items():
        if not any(o.profile == "pps" for o in charger.port("C1").offers):
            continue
        for volts, rule, gated, alive in product(PROGRAMMED, FALLBACKS, (True, False), kept):
            trigger = small.trigger(
                volts, (rule,), gated=gated, programmable_v=(3.3, 21.0), keeps_alive=alive
            )
            what = f"{name}, programmed to {volts:g} V, {rule}, {gated}, keeps alive {alive}"
            found[what] = small.front(charger, small.cable(), trigger, small.lead())
    return found


def extended_fronts() -> dict[str, Front]:
    """A trigger that speaks the extended range or does not, on a lead that is marked or not."""
    found = {}
    for asked, rule, epr in product((12.0, 28.0), FALLBACKS, (True, False)):
        for marked in (True, False) if epr else (False,):
            trigger = small.trigger(asked, (rule,), epr=epr)
            chain = (small.cable(e_marked=marked, epr=marked), trigger, small.lead())
            what = f"{asked:g} V, {rule}, extended {epr}, lead marked {marked}"
            found[what] = small.front(CHARGERS["above 20 V"], *chain)
    return found


def rounded(kind: str, low: float, high: float, amps: tuple[float, float]) -> tuple[object, ...]:
    return (kind, round(low, 9), round(high, 9), tuple(round(a, 9) for a in amps))


FRONTS = fronts()


@pytest.mark.parametrize("what", FRONTS)
def test_states_are_those_counted_by_hand(what: str) -> None:
    front = FRONTS[what]
    found = supply(front).states
    for rule in front.trigger.falls_back:
        counted = {
            rounded(s.kind, s.low_v, s.high_v, s.amps) for s in by_hand.standings(front, rule, None)
        }
        several = len(front.trigger.falls_back) > 1
        mine = {
            rounded(s.kind, s.low_v, s.high_v, (s.offer_low_a, s.offer_high_a))
            for s in found
            if not several or s.kind != "fallback" or s.alternative.split(":")[0] in ("", rule)
        }
        assert mine == counted, rule


@pytest.mark.parametrize(
    ("name", "asked", "offered"),
    [
        ("one port", 9.0, True),
        ("independent", 12.0, True),
        ("table", 9.0, True),
        ("table", 12.0, False),
        ("unknown", 9.0, None),
        ("three with a table", 12.0, False),
        ("three with a table", 5.0, True),
        ("three, one pair not listed", 9.0, False),
        ("three, one pair not listed", 5.0, None),
    ],
)
def test_whether_the_match_is_offered_in_every_company(
    name: str, asked: float, offered: bool | None
) -> None:
    front = small.front(CHARGERS[name], small.cable(), small.trigger(asked), small.lead())
    assert supply(front).offered is offered


def test_a_company_that_a_blocked_port_cannot_join_does_not_count() -> None:
    chain = (small.cable(), small.trigger(12.0), small.lead())
    front = small.front(CHARGERS["table"], *chain, company=frozenset(("C1",)))
    assert supply(front).offered is True
    assert [s.kind for s in supply(front).states] == ["match"]


def test_resistors_get_five_volts_as_they_come_and_no_promise_of_current() -> None:
    chain = (small.cable(), small.trigger(5.0, by_resistors=True, gated=False), small.lead())
    (state,) = supply(small.front(CHARGERS["table"], *chain)).states
    assert (state.kind, state.low_v, state.high_v) == ("match", 4.75, 5.5)
    assert (state.offer_low_a, state.offer_high_a) == (0.5, 3.0)


def test_resistors_take_the_fixed_five_volts_and_not_a_range_that_begins_lower() -> None:
    charger = small.charger("pps3.3-11:3 5:1.5 9:3")
    chain = (small.cable(), small.trigger(5.0, by_resistors=True, gated=False), small.lead())
    (state,) = supply(small.front(charger, *chain)).states
    assert (state.offer_low_a, state.offer_high_a) == (0.5, 1.5)


def test_a_range_that_covers_the_volts_is_no_fixed_offer_of_them() -> None:
    charger = small.charger({"C1": "5:3 9:3", "C2": "5:3"}, {"C1+C2": {"C1": "pps3.3-11:3 5:3"}})
    front = small.front(charger, small.cable(), small.trigger(9.0), small.lead())
    assert supply(front).offered is False


def test_a_port_that_a_row_of_the_table_leaves_out_is_not_known() -> None:
    """The row says what the ports offer then; of one that it leaves out it says nothing."""
    charger = small.charger(LISTS, {"C1+C2": {"C2": "5:3"}})
    front = small.front(charger, small.cable(), small.trigger(12.0), small.lead())
    assert supply(front).offered is None


def test_an_unmarked_lead_is_promised_three_ampere_at_most() -> None:
    charger = small.charger("5:3 20:5")
    for marked, amps in ((False, 3.0), (True, 5.0)):
        chain = (small.cable(e_marked=marked), small.trigger(20.0), small.lead())
        (state,) = supply(small.front(charger, *chain)).states
        assert state.offer_high_a == amps


@pytest.mark.parametrize("rule", FALLBACKS)
def test_the_order_in_which_a_list_is_written_does_not_matter(rule: Fallback) -> None:
    listed = CHARGERS["table"]
    ports = tuple(replace(p, offers=p.offers[::-1]) for p in listed.ports)
    together = tuple(
        (o, tuple(replace(p, offers=p.offers[::-1]) for p in then)) for o, then in listed.together
    )
    backwards = replace(listed, ports=ports, together=together)
    chain = (small.cable(), small.trigger(12.0, (rule,)), small.lead())
    states, others = (
        {(s.kind, s.nominal_v, s.offer_high_a) for s in supply(small.front(c, *chain)).states}
        for c in (listed, backwards)
    )
    assert states == others


def test_what_is_open_about_a_supply_is_named() -> None:
    chain = (small.cable(), small.trigger(12.0, FALLBACKS), small.lead())
    assert supply(small.front(CHARGERS["unknown"], *chain)).questions == (
        "shared/sharing",
        "trigger/fallback",
    )
    assert supply(small.front(CHARGERS["table"], *chain)).questions == ("trigger/fallback",)
    assert supply(small.front(CHARGERS["one port"], *chain)).questions == ()


def test_labels_are_for_people() -> None:
    chain = (small.cable(), small.trigger(12.0, ("highest", "off"), gated=False), small.lead())
    front = small.front(CHARGERS["table"], *chain)
    assert [s.label(front) for s in supply(front).states] == [
        "contract 12 V, C1 alone",
        "fallback 9 V, C1+C2 in use, if so: highest: 9 V",
        "before contract, 5 V",
    ]


def programmed(asked_v: float, offers: str = "5:3 9:3 pps3.3-11:3", **about: Any) -> Front:
    source = about.pop("source", None) or small.charger(offers)
    trigger = small.trigger(asked_v, programmable_v=(3.3, 21.0), **about)
    return small.front(source, small.cable(), trigger, small.lead())


def test_programmable_volts_stand_within_five_percent_of_what_was_asked() -> None:
    """7.52 V ± 5 %: 7.144 to 7.896 V."""
    (state,) = supply(programmed(7.52)).states
    assert (state.kind, state.nominal_v) == ("match", 7.52)
    assert (state.low_v, state.high_v) == pytest.approx((7.144, 7.896))


def test_a_range_in_two_objects_is_not_the_range_of_both() -> None:
    """5.9 V ends one object and 9 V begins the other: 7 V are in neither."""
    offers = "5:3 9:3 pps3.3-5.9:3 pps9-11:3"
    for volts, offered in ((5.9, True), (7.0, False), (9.0, True)):
        assert supply(programmed(volts, offers)).offered is offered


def test_which_of_two_objects_is_asked_is_the_trigger_s_own_business() -> None:
    """Of one true answer nobody knows which: the verdict is unproven where they differ."""
    found = supply(programmed(5.6, "5:3 20:3 pps3.3-5.9:3 pps3.3-11:2"))
    matches = [s for s in found.states if s.kind == "match"]
    assert sorted(s.offer_high_a for s in matches) == [2.0, 3.0]
    assert {s.alternative for s in matches} == set(found.answers)
    assert found.offered is True


def test_a_range_that_is_lost_in_company_is_not_offered_there() -> None:
    ports = {"C1": "5:3 9:3 pps3.3-11:3", "C2": "5:3"}
    source = small.charger(ports, {"C1+C2": {"C1": "5:3 9:2", "C2": "5:2"}})
    front = programmed(7.5, source=source)
    assert supply(front).offered is False
    assert [(s.kind, s.nominal_v) for s in supply(front).states] == [
        ("match", 7.5),
        ("fallback", 5.0),
    ]


def test_fixed_volts_are_no_programmable_ones() -> None:
    front = programmed(9.0, "5:3 9:3 pps3.3-5.9:3", falls_back=("highest",))
    assert supply(front).offered is False
    assert [(s.kind, s.nominal_v) for s in supply(front).states] == [("fallback", 9.0)]


def test_a_source_may_stay_within_its_rated_power() -> None:
    """15 V at 1.5 A is 22.5 W at least: at 9 V 2.5 A are sure, and 3 A at the most."""
    front = programmed(9.0, "5:3 15:1.5 pps3.3-11:3")
    (state,) = supply(front).states
    assert (state.offer_low_a, state.offer_high_a) == (2.5, 3.0)
    source = front.charger
    certain = tuple(replace(o, power_limited="no") for o in source.ports[0].offers)
    source = replace(source, ports=(replace(source.ports[0], offers=certain),))
    (state,) = supply(replace(front, charger=source)).states
    assert (state.offer_low_a, state.offer_high_a) == (3.0, 3.0)


@pytest.mark.parametrize(("alive", "lost"), [(True, 0), (False, 1), (None, 1)])
@pytest.mark.parametrize("gated", [True, False])
def test_without_a_keep_alive_the_contract_ends_in_five_volts(
    alive: bool | None, lost: int, gated: bool
) -> None:
    """A hard reset (tPPSTimeout), then vSafe5V; behind an output switch nothing."""
    found = [
        (s.low_v, s.high_v)
        for s in supply(programmed(7.5, gated=gated, keeps_alive=alive)).states
        if s.kind == "contract lost"
    ]
    assert found == [(4.75, 5.5)] * (0 if gated else lost)


@pytest.mark.parametrize(
    ("marked", "speaks", "offered", "volts"),
    [(True, True, True, 28.0), (False, True, False, 20.0)],
)
def test_above_twenty_volts_only_through_a_marked_lead_to_a_trigger_that_speaks_it(
    marked: bool, speaks: bool, offered: bool, volts: float
) -> None:
    chain = (small.cable(e_marked=marked, epr=marked), small.trigger(28.0, epr=speaks))
    front = small.front(CHARGERS["above 20 V"], *chain, small.lead())
    (state,) = supply(front).states
    assert (supply(front).offered, state.nominal_v) == (offered, volts)


def test_a_trigger_of_which_nobody_knows_whether_it_speaks_it_may_end_up_there() -> None:
    """Its fallback is the highest that is offered: 20 V, or 28 V if it enters that range."""
    source = small.charger("5:3 9:3 20:5 28:5")
    chain = (small.cable(e_marked=True, epr=True), small.trigger(12.0, ("highest",)))
    front = small.front(source, *chain, small.lead())
    assert {20.0, 28.0} <= {s.nominal_v for s in supply(front).states}
    assert "trigger/fallback" in supply(front).questions
    plain = small.front(source, small.cable(e_marked=True), *chain[1:], small.lead())
    assert {s.nominal_v for s in supply(plain).states} == {20.0}


def test_a_lead_from_a_to_c_carries_no_negotiation() -> None:
    lead = small.cable(takes=End(kind="usb-a"))
    for gated, kinds in ((True, []), (False, ["before contract"])):
        front = small.front(None, lead, small.trigger(9.0, gated=gated), small.lead())
        assert (supply(front).offered, [s.kind for s in supply(front).states]) == (False, kinds)
    trigger = small.trigger(5.0, by_resistors=True, gated=False)
    assert supply(small.front(None, lead, trigger, small.lead())).offered is True
