"""Voltages and times of a contract against published figures."""

import pytest

from sinkside.standards.pd_contract import (
    SINK_DISCONNECT_HIGH_V,
    contract_band,
    sink_minimum_v,
    step_inrush_a,
)
from sinkside.standards.pd_timers import hard_reset_gap
from sinkside.standards.type_c_cable import ground_limit_ohm, loop_limit_ohm, vbus_limit_ohm
from sinkside.standards.type_c_cc import PULL_UPS, Advertised, cc_v, divider_v


@pytest.mark.parametrize(
    ("nominal_v", "least_v"),
    [
        # 0.95 V − 0.75 V: the constants of the Linux driver tcpci.c (read) and USB Type-C R2.0
        # 4.4.1 (secondary); the products are arithmetic.
        (5.0, 4.00),
        (9.0, 7.80),
        (12.0, 10.65),
        (15.0, 13.50),
        (20.0, 18.25),
        (28.0, 25.85),
        (36.0, 33.45),
        (48.0, 44.85),
    ],
)
def test_least_voltage_at_the_sink(nominal_v: float, least_v: float) -> None:
    assert sink_minimum_v(nominal_v) == pytest.approx(least_v, abs=5e-3)


@pytest.mark.parametrize(
    ("nominal_v", "reset_below_v"), [(9.0, 6.57), (15.0, 11.70), (20.0, 15.975)]
)
def test_linux_disconnects_below_the_least_voltage(nominal_v: float, reset_below_v: float) -> None:
    # The Linux driver tcpci.c takes 0.9 · (0.95 V − 0.75 V − 0.5 V) (read; products arithmetic):
    # a lawful supply must lie above, and the sink on 5 V above vSinkDisconnect.
    assert 0.9 * (sink_minimum_v(nominal_v) - 0.5) == pytest.approx(reset_below_v, abs=5e-3)
    assert sink_minimum_v(5.0) > SINK_DISCONNECT_HIGH_V


def test_a_cable_at_its_limit_takes_750_mv() -> None:
    # USB Type-C R2.0 4.4.1 (secondary): 500 + 250 mV at the rated current, which is
    # 167 + 83 mΩ at 3 A and 100 + 50 mΩ at 5 A; from 4.75 V the sink sees 4.00 V.
    assert vbus_limit_ohm(3.0) == pytest.approx(0.167, abs=5e-4)
    assert ground_limit_ohm(3.0) == pytest.approx(0.083, abs=5e-4)
    assert vbus_limit_ohm(5.0) == pytest.approx(0.100)
    assert ground_limit_ohm(5.0) == pytest.approx(0.050)
    assert contract_band(5.0).low_v - 3.0 * loop_limit_ohm(3.0) == pytest.approx(4.00)


@pytest.mark.parametrize(
    ("capacitance_f", "current_a", "tolerance_a"), [(22e-6, 0.66, 5e-3), (100e-6, 3.0, 5e-2)]
)
def test_inrush_on_a_step(capacitance_f: float, current_a: float, tolerance_a: float) -> None:
    # Published design notes for sinks (secondary): C · 30 mV/µs.
    assert step_inrush_a(capacitance_f) == pytest.approx(current_a, abs=tolerance_a)


def test_the_gap_of_a_hard_reset() -> None:
    # Sum of published timers, done by hand before the code was written (arithmetic):
    # 5 V absent about 0.7 to 1.9 s, and 1.0 to 2.8 s until the contract is back.
    gap = hard_reset_gap()
    assert gap.five_volts_absent_low_s == pytest.approx(0.7, abs=0.05)
    assert gap.five_volts_absent_high_s == pytest.approx(1.9, abs=0.05)
    assert gap.contract_absent_low_s == pytest.approx(1.0, abs=0.05)
    assert gap.contract_absent_high_s == pytest.approx(2.8, abs=0.05)


@pytest.mark.parametrize("level", Advertised)
def test_the_three_ways_to_pull_up_agree(level: Advertised) -> None:
    # A maker's manual gives a current and two resistors for each level (secondary): across
    # 5.1 kΩ all three must land in the band in which a sink reads that level, which comes from
    # a port controller's datasheet (secondary).
    up = PULL_UPS[level]
    for volts in (
        cc_v(level, 5100.0),
        divider_v(3.3, up.to_3_3_v_ohm, 5100.0),
        divider_v(5.0, up.to_5_v_ohm, 5100.0),
    ):
        assert up.cc_low_v < volts < up.cc_high_v
