"""Linear regulators: dropout, heat, and the hottest point on a soft source, worked out by hand.

Datasheet figures of the 78xx and 78L were read; the 2.0 V of dropout is typical at 1 A and 25 °C
and no datasheet read gives a most: 2.5 V is planned with (common practice, from memory).
"""

import numpy as np
import pytest

from sinkside.parts import regulators
from sinkside.physics import linear_regulator as linear
from sinkside.physics.unregulated import line_v


@pytest.mark.parametrize(
    ("input_v", "output_v", "output_a", "quiescent_a", "watts"),
    [
        (12.0, 5.0, 1.0, 0.0, 7.0),  # a teaching page: 7 V · 1 A
        (14.0, 5.0, 0.5, 0.0, 4.5),  # course notes: 9 V · 0.5 A
        (7.5, 5.0, 0.5, 0.0, 1.25),  # the same behind 13 Ω: 14 − 6.5 = 7.5 V
        (9.0, 5.0, 0.5, 0.008, 2.072),  # 4·0.5 + 9·0.008, 8 mA the datasheet's most
        (20.0, 12.0, 0.5, 0.008, 4.16),  # 8·0.5 + 20·0.008
        (24.0, 5.0, 0.02, 0.0, 0.38),  # 19 V · 20 mA
    ],
)
def test_heat(
    input_v: float, output_v: float, output_a: float, quiescent_a: float, watts: float
) -> None:
    """P = (Vin − Vout)·I + Vin·Iq."""
    found = linear.dissipation_w(input_v, output_v, output_a, quiescent_a)
    assert found == pytest.approx(watts)


@pytest.mark.parametrize(
    ("ambient_degc", "watts", "k_per_w", "junction_degc"),
    [
        (25.0, 7.0, 16.0, 137.0),  # 5 + 1 + 10 K/W: +112 K, over the limit of 125 °C
        (25.0, 4.5, 54.0, 268.0),  # 4 + 50 K/W: +243 K
        (25.0, 4.5, 4.0, 43.0),  # an endless sink: +18 K
        (25.0, 1.25, 54.0, 92.5),  # +67.5 K
        (0.0, 0.38, 65.0, 24.7),  # rise alone
    ],
)
def test_junctions_of_published_examples(
    ambient_degc: float, watts: float, k_per_w: float, junction_degc: float
) -> None:
    """Tj = Ta + P·θ: a teaching page, course notes, and a question answered (secondary)."""
    assert linear.junction_degc(ambient_degc, watts, k_per_w) == pytest.approx(junction_degc)


def test_resistances_in_a_row() -> None:
    """θJC 5, θCS 2, θSA 10 K/W make 17; 5 + 1 + 10 make 16."""
    assert linear.chain_k_per_w(5.0, 2.0, 10.0) == 17.0
    assert linear.chain_k_per_w(5.0, 1.0, 10.0) == 16.0


@pytest.mark.parametrize(("input_v", "milliamps"), [(8.0, 500.0), (12.0, 214.0), (30.0, 60.0)])
def test_what_a_bare_7805_may_pass(input_v: float, milliamps: float) -> None:
    """A worked example: 100 K over 65 K/W, 1.538 W, there taken as 1.5 W (2.6 %); over 3, 7 and
    25 V this is 500, 214 and 60 mA."""
    allowed_w = linear.allowed_w(125.0, 25.0, 65.0)
    assert allowed_w == pytest.approx(1.538, abs=1e-3)
    assert 1e3 * allowed_w / (input_v - 5.0) == pytest.approx(milliamps, rel=0.028)


@pytest.mark.parametrize(
    ("output_v", "dropout_v", "in_front_v", "least_v"),
    [
        (5.0, 2.0, 0.0, 7.0),
        (5.0, 2.5, 0.0, 7.5),
        (5.0, 2.5, 0.7, 8.2),  # behind one diode
        (12.0, 2.0, 0.0, 14.0),
        (12.0, 2.5, 0.0, 14.5),
    ],
)
def test_the_least_at_the_inlet(
    output_v: float, dropout_v: float, in_front_v: float, least_v: float
) -> None:
    assert linear.least_input_v(output_v, dropout_v, in_front_v) == pytest.approx(least_v)


@pytest.mark.parametrize(
    ("part", "output_v", "withstands_v", "carries_a"),
    [
        ("7805", 5.0, 35.0, 1.0),
        ("LM7812", 12.0, 35.0, 1.0),
        ("7824", 24.0, 40.0, 1.0),
        ("78L05", 5.0, 30.0, 0.1),
        ("78L09", 9.0, 30.0, 0.1),
        ("78L12", 12.0, 35.0, 0.1),
        ("78L24", 24.0, 40.0, 0.1),
    ],
)
def test_what_datasheets_say_they_stand(
    part: str, output_v: float, withstands_v: float, carries_a: float
) -> None:
    """35 V, 40 V of the 24 V part; 78L 30 V up to 10 V, 35 V of 12 to 18 V, 40 V of 24 V."""
    found = regulators.find(part)
    assert found is not None
    assert (found.output_v, found.withstands_v) == (output_v, withstands_v)
    assert found.carries_a == carries_a


def test_what_datasheets_say_of_a_7805() -> None:
    """4.75 to 5.25 V over all; 8 mA at most; bare 65 K/W; junction to 125 °C (Fairchild 2006,
    read). The typical 2.0 V is within what is planned with, and its worst is 2.5 V."""
    found = regulators.find("7805")
    assert found is not None
    assert found.output_v * (1 - found.tolerance) == pytest.approx(4.75)
    assert found.output_v * (1 + found.tolerance) == pytest.approx(5.25)
    assert found.headroom_low_v <= 2.0 <= found.headroom_high_v == 2.5
    assert found.quiescent_low_a <= 0.005 <= found.quiescent_high_a == 0.008
    assert (found.bare_k_per_w, found.junction_limit_degc) == (65.0, 125.0)


def test_what_datasheets_say_of_a_78l05() -> None:
    """1.7 V typical, 3.8 mA typical and 6 mA at most; 162 or 200 K/W, of which the worse is the
    safe one (two datasheets that were read differ)."""
    found = regulators.find("78L05")
    assert found is not None
    assert found.headroom_low_v <= 1.7 <= found.headroom_high_v
    assert found.quiescent_low_a <= 0.0038 <= found.quiescent_high_a == 0.006
    assert found.bare_k_per_w == 200.0


@pytest.mark.parametrize(
    ("contract_low_v", "holds"),
    [
        (11.4 - 0.75, False),  # 12 V contract through a lawful cable: 10.65 V, never
        (13.50, False),  # 15 V contract: 13.50 V < 14.0 V
        (18.25, True),  # 20 V contract
    ],
)
def test_a_7812_behind_a_contract(contract_low_v: float, holds: bool) -> None:
    """Wants 12 + 2.0 = 14.0 V, planned with 14.5 V: 12 V never, 15 V not at full load, 20 V
    always (arithmetic)."""
    for headroom_v in (2.0, 2.5):
        least_v = linear.least_input_v(12.0, headroom_v, 0.0)
        assert (contract_low_v >= least_v) is holds


@pytest.mark.parametrize(
    ("open_v", "loaded_v", "loaded_a", "output_v", "hottest_a", "hottest_w"),
    [
        # 12 V 150 mA brick, 19.2 V open: R = 7.2/0.15 = 48 Ω; 14.2/96 = 147.9 mA, 14.2²/192.
        (19.2, 12.0, 0.15, 5.0, 0.14792, 1.0502),
        # 9 V 500 mA brick, 14 V open: R = 10 Ω; 9/20 = 450 mA, 81/40.
        (14.0, 9.0, 0.5, 5.0, 0.45, 2.025),
        # 12 V 1 A brick, 18 V open, into 9 V: R = 6 Ω; 9/12 = 750 mA, 81/24.
        (18.0, 12.0, 1.0, 9.0, 0.75, 3.375),
    ],
)
def test_a_regulator_on_a_soft_source_is_hottest_inside_its_range(
    open_v: float,
    loaded_v: float,
    loaded_a: float,
    output_v: float,
    hottest_a: float,
    hottest_w: float,
) -> None:
    """I = (Voc − Vout)/2R and P = (Voc − Vout)²/4R (from memory, and arithmetic): neither at the
    most current nor at the most volts. Bricks: no-load figures of secondary texts."""
    amps = np.linspace(0.0, 2.0 * hottest_a, 20001)
    held = np.ones_like(amps)
    volts = line_v(open_v * held, loaded_v * held, loaded_a * held, amps)
    watts = linear.dissipation_w(volts, output_v * held, amps, 0.0 * held)
    assert amps[np.argmax(watts)] == pytest.approx(hottest_a, rel=2e-4)
    assert watts.max() == pytest.approx(hottest_w, rel=1e-4)
    assert watts[0] == pytest.approx(0.0)
    assert watts[-1] == pytest.approx(0.0, abs=1e-3)
