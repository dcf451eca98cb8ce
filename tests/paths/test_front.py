"""The front of a path: what it is made of, and what hangs on it."""

from tests.paths import small_parts as small


def test_a_front_without_a_converter_is_all_before() -> None:
    front = small.front()
    assert (front.split, front.converter, front.isolated) == (3, None, False)


def test_a_converter_cuts_it_in_two() -> None:
    chain = (small.cable(), small.trigger(), small.fuse(1.0), small.converter(), small.lead())
    front = small.front(None, *chain)
    assert front.split == 3
    assert front.converter is chain[3].converter
    assert not front.isolated


def test_only_an_isolated_converter_isolates() -> None:
    for direction, isolated in (("isolated", True), ("step-down", False), ("step-up", False)):
        chain = (small.cable(), small.trigger(), small.converter(9.0, direction), small.lead())
        assert small.front(None, *chain).isolated is isolated


def test_the_head_ends_with_the_trigger() -> None:
    chain = (small.cable(), small.trigger(), small.fuse(1.0), small.lead())
    front = small.front(None, *chain)
    assert front.head.parts == chain[:2]
    assert front.head.head == front.head


def test_what_may_be_in_use_beside_it() -> None:
    source = small.charger({"C1": "5:3 9:3", "C2": "5:3", "C3": "5:3"})
    every = small.front(source).occupancies
    assert {tuple(sorted(o)) for o in every} == {
        ("C1",),
        ("C1", "C2"),
        ("C1", "C3"),
        ("C1", "C2", "C3"),
    }
    blocked = small.front(source, company=frozenset(("C1", "C3"))).occupancies
    assert {tuple(sorted(o)) for o in blocked} == {("C1",), ("C1", "C3")}


def test_its_end_is_the_end_of_its_last_part() -> None:
    chain = (
        small.cable(),
        small.trigger(),
        small.lead(centre="negative"),
        small.reverser(centre="positive"),
    )
    assert small.front(None, *chain).end.centre == "positive"


def test_two_settings_of_one_part_are_two_chains() -> None:
    a, b = (
        small.front(None, small.cable(), small.trigger(9.0, setting=s), small.lead())
        for s in ("strapped to 9 V", "strapped to 12 V")
    )
    assert a.id != b.id
    assert a.id == "shared:C1 > cable, trigger(strapped to 9 V), lead"


def test_fronts_that_are_written_alike_are_one_value() -> None:
    assert small.front() == small.front()
    assert hash(small.front()) == hash(small.front())
