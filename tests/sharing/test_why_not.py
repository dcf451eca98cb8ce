"""Why not: what is said to stand in the way is tried out one by one, by brute force."""

import random
from collections import Counter

import pytest
from tests.sharing.every_answer import least_cents
from tests.sharing.questions import option, question

from sinkside.sharing import (
    Forbidden,
    Kind,
    NeverBlinks,
    OffItsBrick,
    OnKind,
    Question,
    SparePortsUsable,
    Wish,
    Within,
    assign,
    why_not,
)
from sinkside.sharing.changes import changed, changes_of
from sinkside.sharing.in_order import LEVELS
from sinkside.sharing.terms import Term, terms_of, without
from sinkside.sharing.wishes import meant, wished

CENTS = list(LEVELS.values()).index("cents")
DEVICES = 3


def least(asked: Question, must: set[str]) -> int | None:
    return least_cents(asked, must, CENTS)


def wishes(asked: Question, seats: set[str]) -> list[Wish]:
    """Those that are left out, and for the rest the kinds of wish in turn."""
    devices = sorted({o.device for o in asked.options})
    kinds = [k.id for k in asked.kinds]
    first = min(seats, default=None)
    found: list[Wish] = [OffItsBrick(device=d) for d in devices if d not in seats]
    if first:
        found += [OnKind(device=first, kind=kind) for kind in kinds]
        found.append(NeverBlinks(device=first, kinds=frozenset(kinds)))
    return [*found, Within(cents=200), SparePortsUsable()]


def checked(asked: Question, seats: set[str], wish: Wish) -> tuple[str, ...]:
    """Check an answer by trying everything; what stands in the way, for counting."""
    told = why_not(asked, seats, wish)
    assert told.proven
    changed_question, must = wished(asked, wish), seats | meant(wish)
    assert told.possible == (least(changed_question, must) is not None)
    if told.possible:
        assert (told.reasons, told.cures) == ((), ())
        return ()
    every = set(terms_of(changed_question, seats - meant(wish)))
    kept = {reason.term for reason in told.reasons}
    assert len(kept) == len(told.reasons)

    def can(dropped: set[Term]) -> bool:
        free = {t.names[0] for t in dropped if t.what == "stays"}
        return least(without(changed_question, dropped), must - free) is not None

    if not kept:
        assert not can(every)
        return ("nothing helps",)
    assert not can(every - kept), "they do not forbid it"
    for term in kept:
        assert can((every - kept) | {term}), f"it is as impossible without {term}"
    _cures(asked, seats, wish)
    return tuple(sorted({term.what for term in kept}))


def _cures(asked: Question, seats: set[str], wish: Wish) -> None:
    """Of single changes, all that cure are there, each at its least price, cheapest first."""
    told = why_not(asked, seats, wish)
    base, must = wished(asked, wish), seats | meant(wish)
    spent = least(asked, seats)
    assert spent is not None
    expected = {}
    for term in terms_of(base, seats - meant(wish)):
        for change in changes_of(term, base):
            cents = least(changed(base, change), must - set(change.leaves))
            if cents is not None:
                own = change.cents
                more = None if own is None else cents - spent + own
                expected[change] = (cents, more)
    if not expected:
        assert all(len(cure.changes) == 2 for cure in told.cures)
        return
    single = {c.changes[0]: (c.bought_cents, c.more_cents) for c in told.cures}
    assert single == expected
    best = [c for c in told.cures if not c.changes[0].leaves and c.more_cents is not None]
    assert best == sorted(best, key=lambda c: c.more_cents or 0)


@pytest.mark.parametrize("first", range(0, 24, 6))
def test_each_reason_is_needed_and_all_together_forbid(first: int) -> None:
    seen: Counter[tuple[str, ...]] = Counter()
    for seed in range(first, first + 6):
        asked = question(random.Random(seed), DEVICES, blocked=seed % 2 == 0, per_place=1)
        seats = {s.device for s in assign(asked).seats}
        for wish in wishes(asked, seats):
            seen[checked(asked, seats, wish)] += 1
    told = {what for key in seen for what in key}
    assert {"chargers", "stays"} <= told, seen


def test_every_term_stands_in_the_way_somewhere() -> None:
    """A term that never binds in any of the questions is not tested at all."""
    every = {"stays", "chargers", "budget", "stock", "grounds", "earth", "blink", "table"}
    told: set[str] = set()
    for seed in range(120):
        if told == every | {"spare ports"}:
            break
        asked = question(random.Random(seed), DEVICES, blocked=seed % 2 == 0, per_place=1)
        seats = {s.device for s in assign(asked).seats}
        for wish in wishes(asked, seats):
            told.update(r.term.what for r in why_not(asked, seats, wish).reasons)
    assert told == every | {"spare ports"}


def full() -> Question:
    """Two devices on the two ports that there are, and a third one that wants one."""
    kind = Kind(id="tower", count=1, ports=("C1", "C2"), spare_ports_blocked=False)
    return Question(
        kinds=(kind,),
        options=tuple(
            option(f"{d}|{p}", d, "tower", p, ("C1", "C2"), parts=("lead",))
            for d in ("lamp", "radio", "switch")
            for p in ("C1", "C2")
        ),
        stock={"lead": 2},
        prices={"lead": 450},
    )


def test_ports_that_are_taken_are_told_with_those_who_take_them() -> None:
    told = why_not(full(), {"lamp", "radio"}, OffItsBrick(device="switch"), currency="EUR")
    assert not told.possible
    assert told.words == (
        "switch off its brick: there is no more than 1 × tower, with 2 ports; lamp, radio keep "
        "their ports. The cheapest cure: one more tower (its price is not known)"
    )
    assert [c.words for c in told.cures] == [
        "one more tower (its price is not known)",
        "leave lamp on its brick instead",
        "leave radio on its brick instead",
    ]
    assert [c.more_cents for c in told.cures] == [None, 0, 0]
    assert told.cures[0].bought_cents == 450


def test_a_budget_is_told_with_how_much_more_it_takes() -> None:
    kind = Kind(id="tower", count=2, ports=("C1", "C2"), spare_ports_blocked=False)
    asked = Question(**{**vars(full()), "kinds": (kind,), "budget": 100})
    told = why_not(asked, {"lamp", "radio"}, OffItsBrick(device="switch"), currency="EUR")
    assert [r.words for r in told.reasons] == [
        "no more than 1.00 EUR may be spent",
        "lamp keeps a port",
        "radio keeps a port",
        "2 × lead are owned, and one more costs 4.50 EUR",
    ]
    assert [(c.words, c.more_cents) for c in told.cures] == [
        ("a budget of 4.50 EUR", 450),
        ("one more lead on the shelf (4.50 EUR)", 450),
        ("leave lamp on its brick instead", 0),
        ("leave radio on its brick instead", 0),
    ]


def test_grounds_and_blinks_are_told_by_name() -> None:
    kind = Kind(id="tower", count=1, ports=("C1", "C2"), spare_ports_blocked=True)
    options = tuple(
        option(f"{d}|{p}|{len(c)}", d, "tower", p, c)
        for d in ("fuzz", "mixer")
        for p in ("C1", "C2")
        for c in ((p,), ("C1", "C2"))
    )
    grounds = Question(
        kinds=(kind,),
        options=options,
        forbidden=(Forbidden(a="fuzz", b="mixer", certain=True),),
    )
    told = why_not(grounds, {"mixer"}, OffItsBrick(device="fuzz"))
    assert [r.words for r in told.reasons] == [
        "there is no more than 1 × tower, with 2 ports",
        "the grounds of fuzz and mixer must not meet on one charger",
        "mixer keeps a port",
    ]
    blinking = Question(kinds=(kind,), options=options, blinks={("mixer", "tower"): 3})
    told = why_not(blinking, {"mixer"}, OffItsBrick(device="fuzz"))
    assert [r.words for r in told.reasons] == [
        "mixer must not be put out by a neighbour",
        "there is no more than 1 × tower, with 2 ports",
        "mixer keeps a port",
    ]
    assert told.cures[0].words == "let mixer be put out for a moment"


def test_a_spare_port_in_use_is_told_and_blocking_it_cures() -> None:
    kind = Kind(id="tower", count=1, ports=("C1", "C2"), spare_ports_blocked=False)
    asked = Question(
        kinds=(kind,),
        options=(option("x", "x", "tower", "C1", ("C1", "C2")),),
        blinks={("x", "tower"): 3},
    )
    told = why_not(asked, set(), OffItsBrick(device="x"))
    assert [r.words for r in told.reasons] == [
        "x must not be put out by a neighbour",
        "a spare port may be used at any time",
    ]
    assert [c.words for c in told.cures] == [
        "block the spare ports",
        "let x be put out for a moment",
    ]


def test_two_changes_are_made_together_where_none_alone_will_do() -> None:
    """The only port is taken, and money is short besides."""
    kind = Kind(id="brick", count=1, ports=("C1",), spare_ports_blocked=False)
    options = tuple(option(d, d, "brick", "C1", ("C1",), parts=(d,)) for d in ("x", "y"))
    asked = Question(
        kinds=(kind,), options=options, stock={"x": 1}, prices={"x": 10, "y": 900}, budget=100
    )
    told = why_not(asked, {"x"}, OffItsBrick(device="y"))
    assert told.cures
    assert all(len(c.changes) == 2 for c in told.cures)
    assert told.cures[0].words == "a budget of 9.00; one more brick (its price is not known)"


def test_a_device_without_any_chain_is_told_as_such() -> None:
    told = why_not(full(), {"lamp"}, OffItsBrick(device="kettle"))
    assert (told.possible, told.reasons, told.cures) == (False, (), ())
    assert told.words == (
        "kettle off its brick: no chain that is left would do, whatever were changed"
    )


def test_what_is_possible_is_said_to_be() -> None:
    told = why_not(full(), {"lamp"}, OffItsBrick(device="radio"))
    assert told.possible
    assert told.words == "radio off its brick: nothing stands in its way"
