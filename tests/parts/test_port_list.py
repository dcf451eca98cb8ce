"""What a port offers, written as words of USB Power Delivery that nobody can mean."""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.parts.port_list import read


@pytest.mark.parametrize(
    ("words", "wrong"),
    [
        ("0x0001912C 0x0002D000", "0x0002D000 says 9 V 0 A, which is no offer of a port"),
        ("0x0001912C 0xC0212164", "0xC0212164 says 3.3..1.6 V 5 A, which is no offer of a port"),
    ],
)
def test_words_that_are_no_offer_are_refused(words: str, wrong: str) -> None:
    with pytest.raises(NotUnderstood) as caught:
        read(words)
    assert str(caught.value) == f"{wrong}; read the words again"


def test_an_adjustable_supply_without_volts_offers_nothing() -> None:
    """0xD0000000: the most volts of an EPR AVS are 0, and a power over them is none."""
    assert read("0x0001912C 0xD0000000") == read("0x0001912C")
