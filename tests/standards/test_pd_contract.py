"""Bands of a contract."""

import numpy as np
import pytest

from sinkside.standards.pd_contract import (
    FIXED_VOLTAGES_V,
    NO_CONTRACT,
    Band,
    contract_band,
    pps_band,
    sink_minimum_v,
    transition_band,
)


def test_a_contract_at_5_v_is_narrower_than_no_contract() -> None:
    band = contract_band(5.0)
    assert band == Band(4.75, 5.0, 5.25)
    assert band.high_v < NO_CONTRACT.high_v


@pytest.mark.parametrize("nominal_v", FIXED_VOLTAGES_V)
def test_low_nominal_high_rise(nominal_v: float) -> None:
    for band in (contract_band(nominal_v), pps_band(nominal_v)):
        assert band.low_v < band.nominal_v < band.high_v


def test_a_transition_covers_both_ends_whichever_way() -> None:
    up, down = transition_band(5.0, 9.0), transition_band(9.0, 5.0)
    assert (up.low_v, up.high_v) == (down.low_v, down.high_v)
    assert up.low_v == pytest.approx(4.25)
    assert up.high_v == pytest.approx(9.95)
    assert (up.nominal_v, down.nominal_v) == (9.0, 5.0)


def test_arrays_pass_through() -> None:
    got = sink_minimum_v(np.array([9.0, 20.0]))
    assert got == pytest.approx([7.80, 18.25])
