"""What a linear regulator burns, against the worked figures of its datasheets."""

import numpy as np
import pytest

from sinkside.physics.linear_regulator import (
    allowed_w,
    chain_k_per_w,
    dissipation_w,
    junction_degc,
    least_input_v,
)


@pytest.mark.parametrize(
    ("volts_in", "volts_out", "amps", "own_a", "watts"),
    [
        # (12 − 5)·1 + 12·0.008 = 7.096: P of the 78xx datasheets, Iq at most 8 mA (LM7805, 2006).
        (12.0, 5.0, 1.0, 0.008, 7.096),
        (9.0, 5.0, 0.5, 0.0, 2.0),
        (5.0, 5.0, 1.0, 0.005, 0.025),
    ],
)
def test_dissipation(
    volts_in: float, volts_out: float, amps: float, own_a: float, watts: float
) -> None:
    assert dissipation_w(volts_in, volts_out, amps, own_a) == pytest.approx(watts, abs=1e-12)


def test_a_junction_without_a_heat_sink() -> None:
    # 65 K/W junction to air: LM7805 datasheet, 2006; 1.5 W in 27 °C is 124.5 °C.
    assert junction_degc(27.0, 1.5, 65.0) == 124.5


def test_arrays_pass_through() -> None:
    burnt = dissipation_w(
        np.array([9.0, 12.0]), np.array([5.0, 5.0]), np.array([1.0, 1.0]), np.array([0.0, 0.0])
    )
    assert burnt.tolist() == [4.0, 7.0]


@pytest.mark.parametrize("ambient", [-10.0, 25.0, 60.0])
def test_what_it_may_burn_makes_it_as_hot_as_it_may_be(ambient: float) -> None:
    k_per_w = chain_k_per_w(5.0, 1.0, 10.0)
    assert junction_degc(ambient, allowed_w(125.0, ambient, k_per_w), k_per_w) == pytest.approx(125)


def test_in_air_over_its_limit_nothing_is_allowed() -> None:
    assert allowed_w(125.0, 140.0, 65.0) < 0.0


def test_what_feeds_it_carries_dropout_and_diodes() -> None:
    # 7812 with 2.5 V of headroom behind a bridge of 1.4 V: 15.9 V, which no 15 V contract gives.
    assert least_input_v(12.0, 2.5, 1.4) == pytest.approx(15.9)
