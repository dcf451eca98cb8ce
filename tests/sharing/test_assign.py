"""The assignment against every answer there is, on questions small enough to try them all."""

import random

import pytest
from tests.sharing.every_answer import best_of_all
from tests.sharing.questions import COMPARED, option, question, worth

from sinkside.sharing import Forbidden, Kind, Question, assign, groups
from sinkside.sharing.in_order import LEVELS


def check(asked: Question) -> None:
    solved = assign(asked)
    values = tuple(level.value for level in solved.levels)[: len(COMPARED)]
    assert [level.name for level in solved.levels] == list(LEVELS)
    assert all(level.proven and level.bound == level.value for level in solved.levels)
    assert worth(asked, solved.seats) == values
    assert values == best_of_all(asked)


@pytest.mark.parametrize("seed", range(160))
def test_three_devices_are_seated_as_well_as_can_be(seed: int) -> None:
    check(question(random.Random(seed), 3, blocked=seed % 2 == 0))


@pytest.mark.parametrize("seed", range(1000, 1050))
def test_four_devices_are_seated_as_well_as_can_be(seed: int) -> None:
    check(question(random.Random(seed), 4, blocked=seed % 2 == 0, per_place=1))


@pytest.mark.parametrize("seed", range(200, 230))
def test_clashes_that_are_left_out_at_first_are_seen_to_in_the_end(
    seed: int, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(groups, "FEW_WAYS", 0)
    monkeypatch.setattr(groups, "FEW_UNITS", seed % 3)
    check(question(random.Random(seed), 4, blocked=seed % 2 == 0, per_place=1))


def test_the_questions_bind_where_they_should() -> None:
    """A question that nothing binds tests nothing: each limit changes some best answer."""
    changed = {"stock": 0, "budget": 0, "forbidden": 0, "blinks": 0, "earthed": 0}
    looser = {
        "stock": {"stock": dict.fromkeys(("cable", "trigger", "fuse", "board"), 9)},
        "budget": {"budget": None},
        "forbidden": {"forbidden": ()},
        "blinks": {"blinks": {}},
        "earthed": {"earthed": frozenset()},
    }
    for seed in range(160):
        asked = question(random.Random(seed), 3, blocked=seed % 2 == 0)
        value = [level.value for level in assign(asked).levels]
        for what in [w for w, count in changed.items() if count < 3]:
            free = Question(**{**vars(asked), **looser[what]})
            changed[what] += [level.value for level in assign(free).levels] != value
    assert set(changed.values()) == {3}, changed


def two_ports(**changes: object) -> Question:
    kind = Kind(id="a", count=1, ports=("C1", "C2"), spare_ports_blocked=True)
    options = tuple(
        option(f"{d}|{p}|{i}", d, "a", p, ("C1", "C2"), isolated=i, milliwatts=500 * i)
        for d in ("x", "y")
        for p in ("C1", "C2")
        for i in (False, True)
    )
    return Question(**{"kinds": (kind,), "options": options, **changes})  # type: ignore[arg-type]


def value(asked: Question, key: str) -> int:
    names = list(LEVELS.values())
    return assign(asked).levels[names.index(key)].value


def test_grounds_that_must_not_meet_cost_one_isolated_path() -> None:
    asked = two_ports(forbidden=(Forbidden(a="x", b="y", certain=True),))
    assert (value(asked, "off"), value(asked, "harm"), value(asked, "milliwatts")) == (2, 0, 500)


def test_an_isolated_path_closes_what_is_open_about_two_grounds() -> None:
    """Nobody knows whether they clash: with one of them isolated it does not matter."""
    asked = two_ports(forbidden=(Forbidden(a="x", b="y", certain=False),))
    assert (value(asked, "off"), value(asked, "harm"), value(asked, "milliwatts")) == (2, 0, 500)


def test_chargers_with_earthed_negatives_are_one_negative_to_two_grounds_that_may_clash() -> None:
    """On two earthed chargers the grounds meet through earth, just as on one."""
    kinds = tuple(Kind(id=k, count=1, ports=("C1",), spare_ports_blocked=True) for k in ("a", "b"))
    options = (option("x", "x", "a", "C1", ("C1",)), option("y", "y", "b", "C1", ("C1",)))
    for certain, off, harm in ((True, 1, 0), (False, 2, 2)):
        asked = Question(
            kinds=kinds,
            options=options,
            forbidden=(Forbidden(a="x", b="y", certain=certain),),
            earthed=frozenset(("a", "b")),
        )
        assert (value(asked, "off"), value(asked, "harm")) == (off, harm)


def test_units_of_one_kind_that_are_earthed_are_one_negative_too() -> None:
    kind = Kind(id="a", count=2, ports=("C1",), spare_ports_blocked=True)
    options = (option("x", "x", "a", "C1", ("C1",)), option("y", "y", "a", "C1", ("C1",)))
    asked = Question(
        kinds=(kind,),
        options=options,
        forbidden=(Forbidden(a="x", b="y", certain=True),),
        earthed=frozenset(("a",)),
    )
    assert value(asked, "off") == 1
    assert value(Question(**{**vars(asked), "earthed": frozenset()}), "off") == 2


def test_alike_chargers_are_told_apart_by_number() -> None:
    kind = Kind(id="a", count=3, ports=("C1",), spare_ports_blocked=False)
    options = tuple(option(d, d, "a", "C1", ("C1",)) for d in ("x", "y", "z"))
    seats = assign(Question(kinds=(kind,), options=options)).seats
    assert [(s.unit, s.port, s.device) for s in seats] == [
        (1, "C1", "x"),
        (2, "C1", "y"),
        (3, "C1", "z"),
    ]


def test_what_must_not_blink_sits_alone_or_not_at_all() -> None:
    for count, off in ((1, 1), (2, 2)):
        kind = Kind(id="a", count=count, ports=("C1", "C2"), spare_ports_blocked=True)
        options = tuple(
            option(f"{d}|{p}|{len(c)}", d, "a", p, c)
            for d in ("x", "y")
            for p in ("C1", "C2")
            for c in ((p,), ("C1", "C2"))
        )
        asked = Question(kinds=(kind,), options=options, blinks={("x", "a"): 3})
        assert value(asked, "off") == off


def test_a_spare_port_that_may_be_used_can_put_out_a_device_that_sits_alone() -> None:
    for blocked, off in ((True, 1), (False, 0)):
        kind = Kind(id="a", count=1, ports=("C1", "C2"), spare_ports_blocked=blocked)
        company = ("C1",) if blocked else ("C1", "C2")
        asked = Question(
            kinds=(kind,),
            options=(option("x", "x", "a", "C1", company),),
            blinks={("x", "a"): 3},
        )
        assert value(asked, "off") == off


def test_one_part_is_not_used_twice_without_being_bought() -> None:
    kind = Kind(id="a", count=2, ports=("C1",), spare_ports_blocked=True)
    options = tuple(option(d, d, "a", "C1", ("C1",), parts=("fuse",)) for d in ("x", "y"))
    asked = Question(
        kinds=(kind,), options=options, stock={"fuse": 1}, prices={"fuse": 180}, budget=100
    )
    assert value(asked, "off") == 1
    paid = assign(Question(**{**vars(asked), "budget": 200}))
    assert paid.bought == (("fuse", 1),)
    assert len(paid.seats) == 2


def test_a_question_without_options_is_answered() -> None:
    kind = Kind(id="a", count=1, ports=("C1",), spare_ports_blocked=True)
    for asked in (Question(kinds=(), options=()), Question(kinds=(kind,), options=())):
        solved = assign(asked)
        assert solved.seats == ()
        assert [level.value for level in solved.levels] == [0] * len(LEVELS)


def test_the_same_question_has_the_same_answer() -> None:
    for seed in range(10):
        asked = question(random.Random(seed), 4, blocked=False)
        assert assign(asked) == assign(asked)
