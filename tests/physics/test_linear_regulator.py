"""What a linear regulator burns, against the worked figures of its datasheets."""

import numpy as np
import pytest

from sinkside.physics.linear_regulator import dissipation_w, junction_degc


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
