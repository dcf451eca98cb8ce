"""The states of a supply against a count of them by hand.

By hand means `tests.paths.by_hand.standings`, which enumerates from the words: every set of
ports in use is reachable, in each the port has a list, the trigger takes its volts from it or
falls back, and without an output switch the device sees the port's 5 V first. Bands: vSrcNew
and vSafe5V, see there.
"""

from dataclasses import replace
from itertools import product

import pytest
from tests.paths import by_hand
from tests.paths import small_parts as small

from sinkside.parts.charger import Charger
from sinkside.parts.part import FALLBACKS, Fallback
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
}
ASKED = (5.0, 9.0, 12.0)
COMPANIES = (None, frozenset(("C1",)))


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
        "match 12 V, C1 alone",
        "fallback 9 V, C1+C2 in use, if so: highest: 9 V",
        "before contract, 5 V",
    ]
