"""Keeping plugs apart: against every answer tried, on small generated sites, and by hand."""

import random
from dataclasses import replace

import pytest
from tests.mixups.by_trying import best, harm, worth
from tests.mixups.questions import PRICES, question

from sinkside.mixups.ends import Choice, Question
from sinkside.mixups.separate import Separation, separate


def small(seed: int) -> Question:
    """A small site; every third has parts on the shelf, every fourth little money."""
    draw = random.Random(seed)
    asked = question(
        draw,
        draw.choice((2, 3, 3, 4)),
        families=draw.choice((2, 3)),
        bricks=0.25,
        owned=2 if seed % 3 == 0 else 0,
        budget=draw.choice((0, 200, 500)) if seed % 4 == 0 else None,
    )
    if seed % 5 == 0:
        asked = replace(asked, planned={p: draw.randint(0, 2) for p in PRICES})
    return asked


def value(found: Separation) -> tuple[int, ...]:
    return tuple(level.value for level in found.levels)


def answer(asked: Question, found: Separation) -> tuple[tuple[Choice, ...], frozenset[int]]:
    """What was answered, as what `by_trying` takes."""
    changed = dict(found.chosen)
    choices = tuple(changed.get(inlet.device, inlet.choices[0]) for inlet in asked.inlets)
    tied = frozenset(
        i for i, lead in enumerate(asked.leads) if (lead.device, lead.source) in found.tied
    )
    return choices, tied


@pytest.mark.parametrize("block", range(20))
def test_two_hundred_small_sites_against_every_answer(block: int) -> None:
    for seed in range(10 * block, 10 * block + 10):
        asked = small(seed)
        found = separate(asked)
        assert found.proven
        assert value(found) == best(asked) == worth(asked, *answer(asked, found)), seed


def test_the_generated_sites_are_of_every_kind() -> None:
    """Else the comparison would prove little: harm that is left, ties, changes, and money short."""
    found = [(small(seed), separate(small(seed))) for seed in range(200)]
    assert sum(bool(s.left) for _, s in found) > 20
    assert sum(not s.left and bool(s.chosen) for _, s in found) > 20
    assert sum(bool(s.tied) for _, s in found) > 20
    assert sum(bool(s.chosen) and bool(s.tied) for _, s in found) > 10
    assert sum(asked.budget is not None and bool(s.left) for asked, s in found) > 5
    one_way = 0
    for asked, _ in found:
        ends = {lead.device: (i, lead.end) for i, lead in enumerate(asked.leads)}
        for (d, (i, at)), (e, (j, other)) in ((a, b) for a in ends.items() for b in ends.items()):
            if d < e:
                places = {inlet.device: k for k, inlet in enumerate(asked.inlets)}
                there = harm(asked, i, at, places[e], asked.inlets[places[e]].choices[0].inlet)
                back = harm(asked, j, other, places[d], asked.inlets[places[d]].choices[0].inlet)
                one_way += bool(there) != bool(back)
    assert one_way > 20


@pytest.mark.parametrize("seed", range(5))
def test_the_same_question_has_the_same_answer(seed: int) -> None:
    assert separate(small(seed)) == separate(small(seed))
