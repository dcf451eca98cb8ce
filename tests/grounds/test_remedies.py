"""What helps against shorts and loops: every step is tried, and earth is never lifted."""

import random

import pytest
from tests.grounds import graphs
from tests.grounds.graphs import feed, link
from tests.paths import small_parts as small

from sinkside.grounds.conductors import edges
from sinkside.grounds.meetings import Meeting, meetings
from sinkside.grounds.remedies import NEVER, Means, Remedy, ladder
from sinkside.parts import market

CHARGER = small.charger("5:3", name="shared")
SPARE = small.charger("5:3", name="spare")
EARTHED = small.charger("5:3", name="heavy", output_earth="earthed")


def steps(
    a: str, b: str, kind: str = "audio", spare: tuple[object, ...] = ()
) -> tuple[Meeting, tuple[Remedy, ...]]:
    """The ladder for two linked devices on one charger."""
    both = [small.device("a", ground=a), small.device("b", ground=b)]
    feeds = {name: feed(name, CHARGER) for name in "ab"}
    links = [link("a", "b", kind)]
    conduct = edges(both, feeds, links)
    (ring,) = meetings(conduct)
    means = Means(
        appliances={d.id: d for d in both},
        feeds=feeds,
        links=links,
        parts=market.parts(),
        spare=spare,  # type: ignore[arg-type]
    )
    return ring, ladder(ring, conduct, means)


def test_a_short_through_an_audio_lead() -> None:
    ring, found = steps("positive", "negative", spare=(EARTHED, SPARE))
    assert ring.kind == "short"
    assert [(r.kind, r.on, r.clears) for r in found] == [
        ("another charger", "a", True),
        ("another charger", "b", True),
        ("isolating transformer", "a-b", True),
        ("isolated converter", "a", True),
        ("isolated converter", "b", True),
    ]
    assert found[0].words == "feed a from spare, which has nothing plugged in and floats"
    assert found[0].cents == 0
    assert found[3].words == "feed a through an isolated converter to 9 V"
    assert found[3].cents == 1800


def test_a_loop_may_also_be_opened_at_one_end_of_its_shield() -> None:
    ring, found = steps("negative", "negative")
    assert ring.kind == "loop"
    assert [r.kind for r in found] == [
        "another charger",
        "another charger",
        "isolating transformer",
        "shield",
        "isolated converter",
        "isolated converter",
    ]
    assert all(r.clears for r in found)
    assert found[0].words == "feed a from another charger, with a floating output"


def test_no_shield_of_a_short_is_opened() -> None:
    """Its shield is the return of the signal: opened, the signal finds another way, or none."""
    assert "shield" not in {r.kind for r in steps("positive", "negative")[1]}


@pytest.mark.parametrize("kind", ["data", "video"])
def test_leads_for_data_and_video_get_an_isolator(kind: str) -> None:
    _, found = steps("positive", "negative", kind)
    assert [r.words for r in found if r.kind == "isolator"] == [
        f"put a galvanic isolator for {kind} into the {kind} lead from a to b"
    ]
    assert {"isolating transformer", "shield"} & {r.kind for r in found} == set()


@pytest.mark.parametrize("seed", range(60))
def test_what_is_said_to_clear_clears_and_earth_stays(seed: int) -> None:
    """Each step is done on the graph once more, by leaving out what it is done to."""
    draw = random.Random(seed)
    appliances, feeds, links = graphs.site(draw, draw.randint(3, 7))
    conduct = edges(appliances, feeds, links)
    means = Means(
        appliances={d.id: d for d in appliances},
        feeds=feeds,
        links=links,
        parts=market.parts(),
        spare=(),
    )
    for ring in meetings(conduct):
        for step in ladder(ring, conduct, means):
            gone = [
                e
                for e in ring.edges
                if e.of == step.on and e.kind == ("return" if step.on in feeds else "shield")
            ]
            assert [e.kind for e in gone] in (["return"], ["shield"])
            left = meetings([e for e in conduct if e not in gone])
            shorted = [r for r in left if r.kind != "loop"]
            if ring.kind != "loop":
                assert step.clears == (not shorted)


def test_the_caution_about_earth() -> None:
    assert NEVER == (
        "Never lift a protective earth, and never cut an earth pin off, to quiet a hum: a fault "
        "then puts mains on what is touched."
    )
