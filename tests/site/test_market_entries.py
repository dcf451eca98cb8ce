"""What the shelf and the site's own market make of the parts that come with the program."""

import pytest

from sinkside.faults import Faulty
from sinkside.parts.part import Part
from sinkside.site.read import read

BASE = "site: {name: T}\ndevices:\n  d: {use: ordinary, inlet: {plug: 5.5x2.1}}\n"
OWN_TRIGGER = "{is: trigger, straps: [9 V], falls_back: highest, withstands: 12 V, price: 1.00 EUR}"


def parts(text: str, name: str) -> list[Part]:
    return [p for p in read(BASE + text, "s.yaml").parts if p.id == name]


def test_a_name_of_the_market_on_the_shelf_stands_for_that_part() -> None:
    (bought,), (owned,) = (
        parts("", "fuse-800ma"),
        parts("shelf:\n  fuse-800ma: {count: 2}\n", "fuse-800ma"),
    )
    assert (bought.owned, owned.owned) == (0, 2)
    assert owned.elements == bought.elements


@pytest.mark.parametrize(("said", "owned"), [("", 1), ("count: 0", 0), ("count: 3", 3)])
def test_what_lies_on_the_shelf_is_at_least_one(said: str, owned: int) -> None:
    (found,) = parts(f"shelf:\n  fuse-800ma: {{{said}}}\n", "fuse-800ma")
    assert found.owned == owned


def test_an_entry_without_more_words() -> None:
    (found,) = parts("shelf:\n  fuse-800ma:\n", "fuse-800ma")
    assert found.owned == 1


def test_like_another_part() -> None:
    text = "market:\n  tail: {is: adapter, like: polarity reverser, plug: 5.5x2.5, price: 2 EUR}\n"
    found = parts(text, "tail")
    assert {(p.kind, p.takes.plug, p.price_cents) for p in found} == {("reverser", "5.5x2.5", 200)}


def test_like_and_is_must_agree() -> None:
    # One of the two is a slip; to take either would be a guess.
    with pytest.raises(Faulty):
        read(f"{BASE}market:\n  p: {{is: lead, like: strap-trigger-9v}}\n", "s.yaml")


def test_the_sites_own_market_replaces() -> None:
    (found,) = parts(f"market:\n  strap-trigger-9v: {OWN_TRIGGER}\n", "strap-trigger-9v")
    assert found.trigger is not None
    assert (found.trigger.falls_back, found.withstands_v) == (("highest",), 12.0)


def test_the_shelf_counts_the_part_that_the_site_describes() -> None:
    # The site says that its own trigger may fall to the highest; owning two changes nothing.
    text = f"shelf:\n  strap-trigger-9v: {{count: 2}}\nmarket:\n  strap-trigger-9v: {OWN_TRIGGER}\n"
    (found,) = parts(text, "strap-trigger-9v")
    assert found.trigger is not None
    assert (found.owned, found.trigger.falls_back, found.withstands_v) == (2, ("highest",), 12.0)


def test_the_shelf_may_name_a_part_of_the_sites_own_market() -> None:
    (found,) = parts(f"shelf:\n  mine: {{count: 2}}\nmarket:\n  mine: {OWN_TRIGGER}\n", "mine")
    assert found.owned == 2


def test_a_part_may_be_like_one_of_the_sites_own_market() -> None:
    text = f"market:\n  mine: {OWN_TRIGGER}\n  other: {{like: mine, price: 3.00 EUR}}\n"
    (found,) = parts(text, "other")
    assert found.trigger is not None
    assert (found.trigger.falls_back, found.price_cents) == (("highest",), 300)


def test_an_entry_that_says_what_it_is_takes_nothing_from_a_namesake() -> None:
    text = "shelf:\n  strap-trigger-9v: {is: trigger, straps: [12 V]}\n"
    (found,) = parts(text, "strap-trigger-9v")
    assert found.trigger is not None
    assert found.trigger.asks_v == 12.0
    # Nothing was said of its fallback and of its price.
    assert len(found.trigger.falls_back) > 1
    assert found.price_cents is None


def test_a_charger_may_be_named_like_a_part() -> None:
    text = 'shelf:\n  soft-start: {is: charger, ports: {C1: "5V⎓3A"}}\n'
    assert [c.id for c in read(BASE + text, "s.yaml").chargers] == ["soft-start"]


def test_reading_twice_gives_the_same_market() -> None:
    text = "shelf:\n  fuse-800ma: {count: 2}\n"
    assert read(BASE + text, "s.yaml").parts == read(BASE + text, "s.yaml").parts
    assert parts("", "fuse-800ma")[0].owned == 0
