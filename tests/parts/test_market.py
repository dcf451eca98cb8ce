"""The parts that come with the program: every entry can be read, priced and built."""

import pytest

from sinkside.parts import market
from sinkside.parts.elements import Converter, Resistance
from sinkside.parts.part import Part

PARTS = market.parts()
IDS = [f"{p.id} {p.setting}".strip() for p in PARTS]


def test_what_is_read_is_what_is_written() -> None:
    assert set(market.written()) == set(market.raw()) == {p.id for p in PARTS}


@pytest.mark.parametrize("part", PARTS, ids=IDS)
def test_every_part(part: Part) -> None:
    assert part.price_cents is not None
    assert part.price_cents > 0
    assert part.words
    assert part.owned == 0
    assert part.carries_a > 0
    # The lowest contract with its tolerance; converters and soft starts take what they say.
    assert part.withstands_v >= 5.25
    for element in part.elements:
        if isinstance(element, Resistance):
            # A resistance that nobody has measured is unknown and not nought.
            assert 0 < element.ohm.low < element.ohm.high < 2.0
            assert element.ohm.name == f"{part.id}/ohms"
        if isinstance(element, Converter):
            assert 0 < element.efficiency.low < element.efficiency.high < 1
            assert element.gives_v.low < element.gives_v.high
            assert element.accepts_low_v < element.accepts_high_v


def test_no_two_parts_are_the_same() -> None:
    assert len({(p.id, p.setting, p.takes, p.gives) for p in PARTS}) == len(PARTS)


def test_every_trigger_says_what_it_falls_back_to_or_may_do_anything() -> None:
    for part in PARTS:
        if part.trigger is not None:
            assert part.trigger.falls_back


@pytest.mark.parametrize("part", [p for p in PARTS if p.trigger and not p.trigger.by_resistors])
def test_no_trigger_is_rated_under_what_it_asks_for(part: Part) -> None:
    assert part.trigger is not None
    assert part.withstands_v >= 1.05 * part.trigger.asks_v
