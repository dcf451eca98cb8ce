"""Ranges as a meter shows them, and as they are said."""

import math

import pytest

from sinkside.making.readings import Range, told
from sinkside.quantity import Basis, point, unknown


def volts(low: float, nominal: float, high: float) -> Range:
    return Range(low=low, nominal=nominal, high=high, unit="V")


def test_ends_are_rounded_away_from_the_middle() -> None:
    assert volts(8.54321, 9.0, 9.44561).words == "8.543..9.446 V, about 9 V"
    assert volts(0.95 * 9, 9.0, 1.05 * 9).words == "8.55..9.45 V, about 9 V"
    assert volts(19.0, 20.0, 21.0).words == "19..21 V, about 20 V"


def test_turned_probes_turn_the_sign_and_the_order() -> None:
    assert volts(8.55, 9.0, 9.45).turned().words == "-9.45..-8.55 V, about -9 V"
    assert volts(8.55, 9.0, 9.45).turned().holds(-9.2)
    assert not volts(8.55, 9.0, 9.45).turned().holds(9.2)


def test_one_value_a_bound_and_a_gap_are_said_as_such() -> None:
    assert Range(low=0.34, nominal=0.34, high=0.34, unit="A").words == "340 mA"
    assert Range(low=0.0, nominal=0.1, high=0.2, unit="Ω").words == "at most 0.2 Ω"
    gap = Range(low=1e6, nominal=math.inf, high=math.inf, unit="Ω")
    assert gap.words == "more than 1 MΩ"
    assert gap.holds(math.inf)


def test_a_range_rises_and_is_made_of_numbers() -> None:
    with pytest.raises(ValueError, match=r"^9, 8\.0, 10 V do not rise$"):
        Range(low=9, nominal=8.0, high=10, unit="V")
    with pytest.raises(ValueError, match="do not rise"):
        volts(math.nan, 9.0, 10.0)


def test_quantities_are_told_to_four_digits_with_their_basis() -> None:
    assert told(unknown(0.0633082671652, 0.203293227464, "Ω")) == "63.3..203.3 mΩ (assumed)"
    assert told(point(6.5, "V", Basis.DATASHEET)) == "6.5 V (datasheet)"
