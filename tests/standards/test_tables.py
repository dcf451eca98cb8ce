"""Look-ups in tables: copper, preferred values, fuses, overloads, safety classes, limits."""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.faults import NotUnderstood
from sinkside.standards.copper import (
    awg_area_m2,
    awg_ohm_per_m,
    chassis_a,
    power_transmission_a,
    resistance_ohm_per_m,
)
from sinkside.standards.ecodesign import SupplyKind, minimum_efficiency, supply_kind
from sinkside.standards.fuse_gates import (
    FuseStandard,
    continuous_a,
    opening_time_s,
    pptc_hold_ratio,
    pulse_ratio,
    sure_to_open_a,
)
from sinkside.standards.pd_overload import peak_ratio
from sinkside.standards.preferred_values import SERIES, at_least, at_most, nearest
from sinkside.standards.safety_classes import (
    EnergyClass,
    PowerClass,
    energy_class,
    fused_source_fuse_a,
    limited_source_a,
    limited_source_va,
    power_class,
)


def test_copper_takes_arrays() -> None:
    gauges = np.array([16.0, 20.0, 24.0])
    assert awg_ohm_per_m(gauges) == pytest.approx([awg_ohm_per_m(float(g)) for g in gauges])
    assert power_transmission_a(awg_area_m2(gauges)).shape == (3,)


def test_copper_rises_with_temperature() -> None:
    # 1 + 3.93e-3 · 40 (arithmetic).
    assert resistance_ohm_per_m(1e-6, 60.0) / resistance_ohm_per_m(1e-6) == pytest.approx(1.1572)


def test_no_chassis_rating_between_the_rows() -> None:
    assert chassis_a(18) == 16.0
    with pytest.raises(NotUnderstood) as refused:
        chassis_a(17)
    assert str(refused.value) == (
        "no chassis rating for AWG 17; the table has 16, 18, 20, 22, 24, 26, 28, 30"
    )


@pytest.mark.parametrize("series", SERIES)
@settings(derandomize=True, max_examples=100)
@given(value=st.floats(1e-12, 1e9))
def test_preferred_values_bracket(series: str, value: float) -> None:
    below, close, above = (f(value, series) for f in (at_most, nearest, at_least))
    assert below <= value * (1 + 1e-9)
    assert above >= value * (1 - 1e-9)
    assert close in (below, above)


@pytest.mark.parametrize("series", SERIES)
def test_a_preferred_value_is_its_own_neighbour(series: str) -> None:
    for mantissa in SERIES[series]:
        for scale in (1e-6, 1.0, 1e3):
            value = mantissa * scale
            for chosen in (at_most, nearest, at_least):
                assert chosen(value, series) == pytest.approx(value, rel=1e-12)


def test_preferred_values_refuse() -> None:
    with pytest.raises(NotUnderstood) as refused:
        nearest(10.0, "E7")
    assert str(refused.value) == (
        "no series 'E7' in IEC 60063 here; there are E3, E6, E12, E24, E48, E96"
    )
    for value in (0.0, -1.0, math.inf, math.nan):
        with pytest.raises(NotUnderstood) as refused:
            at_least(value)
        assert str(refused.value) == f"{value!r} has no preferred value; a finite value above 0"


@pytest.mark.parametrize(
    ("ratio", "standard", "soonest_s", "latest_s"),
    [
        (1.0, FuseStandard.IEC_60127_2_T, math.inf, math.inf),
        (1.5, FuseStandard.IEC_60127_2_T, 3600.0, math.inf),
        (2.1, FuseStandard.IEC_60127_2_T, 0.020, 120.0),
        (10.0, FuseStandard.IEC_60127_2_T, 0.020, 0.300),
        (20.0, FuseStandard.IEC_60127_2_T, 0.0, 0.300),
        (2.1, FuseStandard.IEC_60127_2_F, 0.0, 1800.0),
        (1.0, FuseStandard.UL_248_14, math.inf, math.inf),
        (1.35, FuseStandard.UL_248_14, 0.0, 3600.0),
        (2.0, FuseStandard.UL_248_14, 0.0, 120.0),
    ],
)
def test_when_a_fuse_opens(
    ratio: float, standard: FuseStandard, soonest_s: float, latest_s: float
) -> None:
    assert opening_time_s(ratio, standard) == (soonest_s, latest_s)


def test_the_two_traditions_load_a_fuse_differently() -> None:
    assert continuous_a(2.0, FuseStandard.UL_248_14) == 1.5
    assert continuous_a(2.0, FuseStandard.IEC_60127_2_F) == 2.0
    assert sure_to_open_a(2.0, FuseStandard.UL_248_14) == 4.0
    for standard in (FuseStandard.IEC_60127_2_F, FuseStandard.IEC_60127_2_T):
        assert sure_to_open_a(2.0, standard) == pytest.approx(4.2)


def test_fuse_tables_end() -> None:
    assert pulse_ratio(5_000) == 0.29
    with pytest.raises(NotUnderstood) as refused:
        pulse_ratio(200_000)
    assert str(refused.value) == "no pulse factor for 200000 pulses; the table goes to 100000"
    assert pptc_hold_ratio(85.0) == pytest.approx(0.56)
    assert pptc_hold_ratio(30.0) == pytest.approx(1.00 - 0.12 / 3)
    with pytest.raises(NotUnderstood) as refused:
        pptc_hold_ratio(90.0)
    assert str(refused.value) == (
        "no derating of a resettable fuse at 90 °C; the table has -40 to 85 °C"
    )


def test_a_long_peak_is_promised_nothing() -> None:
    assert peak_ratio(0, 1e-3) == 1.0
    assert [peak_ratio(1, t) for t in (1e-3, 2e-3, 10e-3, 11e-3)] == [1.5, 1.25, 1.1, 1.0]


def test_safety_classes_at_their_limits() -> None:
    assert energy_class(60.0) is EnergyClass.ES1
    assert energy_class(-60.1) is EnergyClass.ES2
    assert energy_class(120.1) is EnergyClass.ES3
    assert power_class(15.0) is PowerClass.PS1
    assert power_class(100.0) is PowerClass.PS2
    assert power_class(100.1) is PowerClass.PS3
    assert (limited_source_a(60.1), limited_source_va(60.1), fused_source_fuse_a(60.1)) == (0, 0, 0)


def test_the_kind_of_a_supply() -> None:
    assert supply_kind(5.0, 2.0) is SupplyKind.LOW_VOLTAGE
    assert supply_kind(5.0, 0.5) is SupplyKind.AC_DC
    assert supply_kind(6.0, 2.0) is SupplyKind.AC_DC
    assert supply_kind(9.0, 1.0, output_ac=True) is SupplyKind.AC_AC


def test_the_regulation_ends_at_250_w() -> None:
    with pytest.raises(NotUnderstood) as refused:
        minimum_efficiency(251.0)
    assert str(refused.value) == (
        "the regulation does not cover an output of 251 W; it covers up to 250 W"
    )
