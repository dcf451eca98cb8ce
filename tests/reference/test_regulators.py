"""Linear regulators against published datasheets, and against what feeds them in the trade.

Figures marked "read" come from the datasheets named beside them; dropout is typical at 25 °C and
full current, no maximum is printed. What is marked "common practice" has no source.
"""

import pytest

from sinkside.parts.regulators import Regulator, find


def regulator(part: str) -> Regulator:
    found = find(part)
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("part", "output_v"),
    [
        ("7805", 5.0),
        ("7806", 6.0),
        ("7808", 8.0),
        ("7809", 9.0),
        ("7810", 10.0),
        ("7812", 12.0),
        ("7815", 15.0),
        ("7818", 18.0),
        ("7824", 24.0),
        ("LM7805CT", 5.0),
        ("MC7812", 12.0),
        ("L7809CV", 9.0),
        ("lm 7805", 5.0),
        ("LM-7805", 5.0),
        ("78L05", 5.0),
        ("78L12ACZ", 12.0),
        ("78M06", 6.0),
    ],
)
def test_the_number_names_the_volts(part: str, output_v: float) -> None:
    # 78xx: xx is the output in volts (read: LM7805 2006, MC7800 and L7800 datasheets).
    assert regulator(part).output_v == output_v


@pytest.mark.parametrize(
    "part",
    ["", "78", "7800", "7899", "7905", "LM317", "78XX", "17805", "7805/2", "78L", "LM2940", "78 V"],
)
def test_what_is_no_positive_78xx_is_not_known(part: str) -> None:
    # 79xx are negative regulators, a 317 is adjustable: nothing of a 78xx holds for them.
    assert find(part) is None


@pytest.mark.parametrize("part", ["7805", "7809", "7812", "7824", "78M05"])
def test_big_ones_withstand_what_the_datasheet_says(part: str) -> None:
    # 35 V, the 24 V part 40 V (read: LM7805 2006, MC7800, L7800).
    assert regulator(part).withstands_v == (40.0 if part == "7824" else 35.0)


@pytest.mark.parametrize(
    ("part", "limit_v"),
    [
        ("78L05", 30.0),
        ("78L09", 30.0),
        ("78L10", 30.0),
        ("78L12", 35.0),
        ("78L15", 35.0),
        ("78L18", 35.0),
        ("78L24", 40.0),
    ],
)
def test_small_ones_withstand_what_the_datasheet_says(part: str, limit_v: float) -> None:
    # 30 V up to 10 V out, 35 V for 12 to 18 V, 40 V for 24 V (read: three 78L datasheets).
    assert regulator(part).withstands_v == limit_v


@pytest.mark.parametrize("part", ["7805", "78L05"])
def test_the_output_over_load_and_temperature(part: str) -> None:
    # 4.75 to 5.25 V over load, line and temperature (read: LM7805 2006, 78L05).
    found = regulator(part)
    assert found.output_v * (1 - found.tolerance) <= 4.75
    assert found.output_v * (1 + found.tolerance) >= 5.25


@pytest.mark.parametrize(
    ("part", "typical_v", "planning_v"),
    [
        ("7805", 2.0, 2.5),  # 2.0 V typical at 1 A (read); plan with 2.5 V (common practice)
        ("78L05", 1.7, 2.2),  # 1.7 V typical (read); the rest is planning (common practice)
    ],
)
def test_the_dropout_is_not_the_typical_one(part: str, typical_v: float, planning_v: float) -> None:
    found = regulator(part)
    assert found.headroom_low_v < typical_v < found.headroom_high_v
    assert found.headroom_high_v >= planning_v


@pytest.mark.parametrize(
    ("part", "typical_a", "most_a"),
    [
        ("7805", 0.005, 0.008),  # read: LM7805 2006
        ("7809", 0.0033, 0.008),  # read: MC7800
        ("78L05", 0.0038, 0.006),  # read: 78L datasheet
    ],
)
def test_its_own_current(part: str, typical_a: float, most_a: float) -> None:
    found = regulator(part)
    assert found.quiescent_low_a <= typical_a <= found.quiescent_high_a
    assert found.quiescent_high_a >= most_a


@pytest.mark.parametrize(
    ("part", "k_per_w"),
    [
        ("7805", 65.0),  # TO-220 in free air (read: LM7805 2006, MC7800)
        ("78L05", 162.0),  # TO-92 (read in one datasheet; another gives 200)
    ],
)
def test_without_a_heat_sink_it_is_no_cooler_than_the_datasheet_says(
    part: str, k_per_w: float
) -> None:
    assert regulator(part).bare_k_per_w >= k_per_w


@pytest.mark.parametrize(("part", "carries_a"), [("7805", 1.0), ("78M05", 0.5), ("78L05", 0.1)])
def test_rated_current(part: str, carries_a: float) -> None:
    assert regulator(part).carries_a == carries_a


@pytest.mark.parametrize("part", ["7805", "78L05", "7824"])
def test_no_junction_is_planned_over_its_operating_range(part: str) -> None:
    # Operating up to 125 °C (read: LM7805 2006); the absolute maximum of 150 °C is no plan.
    assert regulator(part).junction_limit_degc <= 125.0


def test_a_7805_regulates_from_what_it_is_commonly_fed() -> None:
    # A 7805 is commonly fed from about 8 V to about 12 V (common practice, no source).
    found = regulator("7805")
    most_v = found.output_v * (1 + found.tolerance) + found.headroom_high_v
    assert most_v <= 8.0
    assert found.withstands_v > 12.0


def test_a_7812_does_not_regulate_from_12_v() -> None:
    # 12 V ±5 % at the contract is 11.4 to 12.6 V, under 12 V and any dropout (arithmetic).
    found = regulator("7812")
    assert found.output_v * (1 - found.tolerance) + found.headroom_low_v > 12.6
    # A 15 V contract gives 14.25 to 15.75 V: in regulation at best, not surely.
    needs_v = found.output_v * (1 + found.tolerance) + found.headroom_high_v
    assert 14.25 < needs_v < 15.75
