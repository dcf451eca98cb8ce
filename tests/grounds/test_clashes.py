"""Whose grounds must not meet, against a small circuit: is there a loop with volts in it?

The conductor graph (Kirchhoff's voltage law): the negative of a charger, the positive of each
device, and the shields are nodes; a device ties its signal ground to one of its poles. Where
a loop of wires holds the volts of a supply, that supply is shorted.
"""

from collections.abc import Sequence
from itertools import combinations, product
from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.grounds import Clash, clashes
from sinkside.rules.verdict import Verdict
from sinkside.site.written import LinkWritten

GROUNDS = ("negative", "positive", "mid", "isolated")
# Volts of the signal ground over the charger's negative, for a device fed 9 V.
OVER_NEGATIVE = {"negative": 0.0, "positive": 9.0, "mid": 4.5}


def device(name: str, ground: str) -> Any:
    return small.device(name, ground=ground)


def link(a: str, b: str, shield: str = "both ends") -> LinkWritten:
    return LinkWritten(**{"from": a, "to": b, "kind": "audio", "shield": shield})


def shorted(a: str, b: str) -> bool:
    """Two devices on one negative with their shields joined: do two potentials meet?

    Two positive grounds are two supplies of one charger tied together plus to plus: what
    flows between two regulators is nobody's plan, so they count as meeting.
    """
    if "isolated" in (a, b):
        return False
    return (OVER_NEGATIVE[a], OVER_NEGATIVE[b]) != (0.0, 0.0)


@pytest.mark.parametrize(("a", "b"), list(product(GROUNDS, repeat=2)))
def test_two_linked_devices(a: str, b: str) -> None:
    found = clashes([device("x", a), device("y", b)], [link("x", "y")])
    assert [c.verdict for c in found] == ([Verdict.FAILS] if shorted(a, b) else [])


@pytest.mark.parametrize(("a", "b"), list(product(GROUNDS, repeat=2)))
@pytest.mark.parametrize("shield", ["one end", "isolated"])
def test_an_open_shield_joins_nothing(a: str, b: str, shield: str) -> None:
    assert clashes([device("x", a), device("y", b)], [link("x", "y", shield)]) == ()


@pytest.mark.parametrize(("a", "b"), list(product(GROUNDS, repeat=2)))
def test_a_shield_that_nobody_looked_at_may_join(a: str, b: str) -> None:
    found = clashes([device("x", a), device("y", b)], [link("x", "y", "unknown")])
    assert [c.verdict for c in found] == ([Verdict.UNPROVEN] if shorted(a, b) else [])
    assert [c.unknowns for c in found] == ([("x-y/shield",)] if shorted(a, b) else [])


@pytest.mark.parametrize("b", GROUNDS)
def test_a_ground_that_nobody_measured_may_be_any(b: str) -> None:
    found = clashes([device("x", "unknown"), device("y", b)], [link("x", "y")])
    possible = any(shorted(a, b) for a in GROUNDS)
    assert [c.verdict for c in found] == ([Verdict.UNPROVEN] if possible else [])
    assert [c.unknowns for c in found] == ([("x/ground",)] if possible else [])


def test_two_grounds_that_nobody_measured() -> None:
    (found,) = clashes([device("x", "unknown"), device("y", "unknown")], [link("x", "y")])
    assert (found.verdict, found.unknowns) == (Verdict.UNPROVEN, ("x/ground", "y/ground"))


def groups(devices: Sequence[str], links: Sequence[tuple[str, str]]) -> set[frozenset[str]]:
    """Pairs whose shields are joined by some chain of links, by trying every chain."""
    joined = {frozenset(k) for k in links}
    while True:
        more = {
            frozenset((a, c))
            for one, two in combinations(joined, 2)
            if len(one ^ two) == 2
            for a, c in [tuple(one ^ two)]
        }
        if more <= joined:
            return {pair for pair in joined if len(pair) == 2 and pair <= set(devices)}
        joined |= more


@pytest.mark.parametrize("links", list(product((False, True), repeat=6)))
def test_shields_join_through_a_chain_of_devices(links: tuple[bool, ...]) -> None:
    grounds = {"a": "positive", "b": "isolated", "c": "negative", "d": "negative"}
    pairs = [p for p, there in zip(combinations(grounds, 2), links, strict=True) if there]
    found = clashes([device(n, g) for n, g in grounds.items()], [link(*p) for p in pairs])
    joined = groups(list(grounds), pairs)
    linked = {n for pair in joined for n in pair}
    # Two that are linked, but not to each other, meet where another charger joins their groups.
    meet = {p for p in map(frozenset, combinations(grounds, 2)) if p in joined or p <= linked}
    wanted = {p for p in meet if shorted(*(grounds[n] for n in p))}
    assert {frozenset((c.a, c.b)) for c in found} == wanted
    assert all(c.verdict is Verdict.FAILS for c in found)


def test_two_chargers_and_two_leads_close_a_loop_that_no_single_lead_closes() -> None:
    """Fuzz and radio on one charger, mixer and amplifier on another: the mixer's lead lifts
    the first charger's positive to the second's negative, the amplifier's lead ties both
    negatives together."""
    devices = [
        device("fuzz", "positive"),
        device("mixer", "negative"),
        device("radio", "negative"),
        device("amplifier", "negative"),
    ]
    found = clashes(devices, [link("fuzz", "mixer"), link("radio", "amplifier")])
    assert ("fuzz", "radio") in [(c.a, c.b) for c in found]


def test_a_ground_that_nobody_measured_may_close_such_a_loop_too() -> None:
    devices = [
        device("fuzz", "unknown"),
        device("mixer", "negative"),
        device("radio", "negative"),
        device("amplifier", "negative"),
    ]
    found = clashes(devices, [link("fuzz", "mixer"), link("radio", "amplifier")])
    assert ("fuzz", "radio", Verdict.UNPROVEN) in [(c.a, c.b, c.verdict) for c in found]


def test_a_device_without_a_lead_meets_nobody() -> None:
    devices = [device("a", "positive"), device("b", "negative"), device("c", "negative")]
    found = clashes(devices, [link("b", "c")])
    assert found == ()


def test_one_uncertain_shield_makes_the_whole_chain_uncertain() -> None:
    devices = [device("a", "positive"), device("b", "isolated"), device("c", "negative")]
    (found,) = clashes(devices, [link("a", "b"), link("b", "c", "unknown")])
    assert (found.a, found.b, found.verdict) == ("a", "c", Verdict.UNPROVEN)


def test_two_ways_round_of_which_one_is_certain_are_certain() -> None:
    devices = [device("a", "positive"), device("c", "negative")]
    (found,) = clashes(devices, [link("a", "c", "unknown"), link("a", "c")])
    assert found.verdict is Verdict.FAILS


def test_a_device_linked_to_itself_is_no_clash() -> None:
    assert clashes([device("a", "positive")], [link("a", "a")]) == ()


def test_pairs_come_once_and_in_order_whatever_the_order_of_the_file() -> None:
    devices = [device("b", "negative"), device("a", "positive")]
    for order in (devices, devices[::-1]):
        found = clashes(order, [link("b", "a"), link("a", "b")])
        assert [(c.a, c.b) for c in found] == [("a", "b")]


def test_words_are_for_people() -> None:
    assert clashes([device("a", "positive"), device("b", "negative")], [link("a", "b")]) == (
        Clash(
            a="a",
            b="b",
            verdict=Verdict.FAILS,
            words="a has its positive pole on signal ground, b its negative pole: with a common "
            "negative the shield between them shorts a supply",
        ),
    )
