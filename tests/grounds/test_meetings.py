"""Shorts and loops: against a general graph library on random graphs, and by hand.

Outside checks: the cycle rank E − V + C and bridges by networkx; Kirchhoff's voltage law by its
breadth-first walk; what is not known by trying every answer.
"""

import random
from typing import Any

import networkx as nx
import pytest
from tests.grounds import graphs
from tests.grounds.graphs import feed, link
from tests.paths import small_parts as small

from sinkside.grounds.conductors import EARTH, Edge, edges
from sinkside.grounds.meetings import Meeting, groups, meetings
from sinkside.rules.verdict import Verdict


def found(*said: Any) -> tuple[Meeting, ...]:
    return meetings(graphs.exact(edges(*said)))


@pytest.mark.parametrize("seed", range(150))
def test_as_many_rings_as_the_library_counts(seed: int) -> None:
    draw = random.Random(seed)
    conduct = graphs.conductors(graphs.site(draw, draw.randint(2, 9), unknown=0.3 * (seed % 2)))
    rings = meetings(conduct)
    assert len(rings) == graphs.rank(conduct)
    made = graphs.graph(conduct)
    bridges = {frozenset(pair) for pair in nx.bridges(nx.Graph(made))}
    in_rings = {id(edge) for ring in rings for edge in ring.edges}
    for edge in conduct:
        bridge = frozenset((edge.a, edge.b)) in bridges and made.number_of_edges(edge.a, edge.b) < 2
        assert (id(edge) in in_rings) != bridge


@pytest.mark.parametrize("seed", range(150))
def test_every_ring_is_one(seed: int) -> None:
    draw = random.Random(1000 + seed)
    conduct = graphs.conductors(graphs.site(draw, draw.randint(2, 9), unknown=0.3 * (seed % 2)))
    for ring in meetings(conduct):
        made = graphs.graph(ring.edges)
        assert nx.is_connected(made)
        assert {degree for _, degree in made.degree()} == {2}


@pytest.mark.parametrize("seed", range(200))
def test_a_short_is_where_no_potentials_satisfy_all_edges(seed: int) -> None:
    draw = random.Random(2000 + seed)
    conduct = graphs.conductors(graphs.site(draw, draw.randint(2, 9)))
    sure = [ring for ring in meetings(conduct) if ring.verdict is Verdict.FAILS]
    assert bool(sure) == (not graphs.closes(conduct))


@pytest.mark.parametrize("seed", range(80))
def test_what_is_not_known_may_be_a_short_if_any_answer_makes_one(seed: int) -> None:
    draw = random.Random(3000 + seed)
    conduct = graphs.conductors(graphs.site(draw, draw.randint(2, 3), unknown=0.35))
    answers = list(graphs.completions(conduct))
    verdicts = {ring.verdict for ring in meetings(conduct)}
    some = any(not graphs.closes(answer) for answer in answers)
    every = all(not graphs.closes(answer) for answer in answers)
    assert some == bool(verdicts - {Verdict.FITS})
    assert every == (Verdict.FAILS in verdicts)


def test_the_random_sites_are_of_every_kind() -> None:
    shorts = loops = trees = 0
    for seed in range(200):
        draw = random.Random(2000 + seed)
        rings = meetings(graphs.conductors(graphs.site(draw, draw.randint(2, 9))))
        shorts += any(r.kind == "short" for r in rings)
        loops += any(r.kind == "loop" for r in rings)
        trees += not rings
    assert min(shorts, loops, trees) > 20


CHARGER = small.charger("5:3", name="shared")
OTHER = small.charger("5:3", name="other")


def device(name: str, ground: str) -> Any:
    return small.device(name, ground=ground)


def pair(a: str, b: str, *, apart: bool = False, shield: str = "both ends") -> tuple[Meeting, ...]:
    """Two linked devices of 9 V, on one charger or on two."""
    feeds = {"a": feed("a", CHARGER), "b": feed("b", OTHER if apart else CHARGER)}
    return found([device("a", a), device("b", b)], feeds, [link("a", "b", shield=shield)])


def test_a_shield_between_two_on_one_charger_is_a_loop() -> None:
    (ring,) = pair("negative", "negative")
    assert (ring.kind, ring.certain, ring.volts_v) == ("loop", True, (0.0, 0.0))
    assert ring.verdict is Verdict.FITS
    assert set(ring.devices) == {"a", "b"}


def test_a_positive_ground_beside_a_negative_one_shorts_its_supply() -> None:
    (ring,) = pair("positive", "negative")
    assert (ring.kind, ring.volts_v, ring.verdict) == ("short", (9.0, 9.0), Verdict.FAILS)


def test_a_middle_ground_beside_a_negative_one_shorts_half_of_it() -> None:
    (ring,) = pair("mid", "negative")
    assert (ring.kind, ring.volts_v) == ("short", (4.5, 4.5))


def test_two_supplies_that_may_be_as_high_are_tied_together() -> None:
    feeds = {
        "a": feed("a", CHARGER, volts=(8.55, 9.45)),
        "b": feed("b", CHARGER, volts=(8.55, 9.45)),
    }
    both = [device("a", "positive"), device("b", "positive")]
    (ring,) = meetings(edges(both, feeds, [link("a", "b")]))
    assert (ring.kind, ring.verdict) == ("tied supplies", Verdict.FAILS)
    assert ring.volts_v == pytest.approx((0.0, 0.9))


@pytest.mark.parametrize("a", ["negative", "positive", "mid"])
def test_chargers_that_float_stand_where_the_shield_puts_them(a: str) -> None:
    assert pair(a, "negative", apart=True) == ()


def test_two_outputs_that_are_tied_to_earth_are_one_negative() -> None:
    earthed = [small.charger("5:3", name=n, output_earth="earthed") for n in ("one", "two")]
    feeds = {"a": feed("a", earthed[0]), "b": feed("b", earthed[1])}
    (ring,) = found([device("a", "positive"), device("b", "negative")], feeds, [link("a", "b")])
    assert (ring.kind, ring.certain) == ("short", True)
    assert EARTH in {node for edge in ring.edges for node in (edge.a, edge.b)}


def test_an_output_of_which_nobody_knows_may_be() -> None:
    sources = [
        small.charger("5:3", name="one", output_earth="earthed"),
        small.charger("5:3", name="two", output_earth="unknown"),
    ]
    feeds = {"a": feed("a", sources[0]), "b": feed("b", sources[1])}
    (ring,) = found([device("a", "positive"), device("b", "negative")], feeds, [link("a", "b")])
    assert (ring.verdict, ring.unknowns) == (Verdict.UNPROVEN, ("two/output earth",))


def test_two_units_of_one_kind_are_two_negatives() -> None:
    two = small.charger("5:3", name="shared", count=2)
    feeds = {"a": feed("a", two, 1), "b": feed("b", two, 2)}
    assert found([device("a", "positive"), device("b", "negative")], feeds, [link("a", "b")]) == ()


def test_an_isolated_converter_opens_the_ring() -> None:
    feeds = {"a": feed("a", CHARGER, isolated=True), "b": feed("b", CHARGER)}
    assert found([device("a", "positive"), device("b", "negative")], feeds, [link("a", "b")]) == ()


def test_a_ground_that_nobody_measured() -> None:
    (ring,) = pair("unknown", "negative")
    assert (ring.kind, ring.verdict, ring.unknowns) == ("short", Verdict.UNPROVEN, ("a/ground",))


def test_a_data_lead_has_a_return_whatever_its_shield_is() -> None:
    feeds = {"a": feed("a", CHARGER), "b": feed("b", CHARGER)}
    both = [device("a", "positive"), device("b", "negative")]
    (ring,) = found(both, feeds, [link("a", "b", "data", "one end")])
    assert (ring.kind, ring.verdict) == ("short", Verdict.UNPROVEN)
    assert found(both, feeds, [link("a", "b", "audio", "one end")]) == ()
    assert found(both, feeds, [link("a", "b", "data", "isolated")]) == ()


def test_a_device_on_mains_may_be_earthed_inside() -> None:
    earthed = small.charger("5:3", name="one", output_earth="earthed")
    said = [device("a", "negative"), device("b", "negative")]
    conduct = edges(said, {"a": feed("a", earthed)}, [link("a", "b")], ["b"])
    (ring,) = meetings(conduct)
    assert (ring.kind, ring.certain, ring.unknowns) == ("loop", False, ("b/earth",))


def test_a_brick_is_taken_to_float() -> None:
    said = [device("a", "positive"), device("b", "negative")]
    assert found(said, {"b": feed("b", CHARGER)}, [link("a", "b")]) == ()


def test_nodes_hang_together_in_groups() -> None:
    made = [Edge(kind="shield", a="x", b="y"), Edge(kind="shield", a="z", b="w")]
    assert set(groups(made)) == {frozenset("xy"), frozenset("zw")}
