"""Copper wire against published tables."""

import math

import pytest

from sinkside.standards.copper import (
    IEC_60228_CLASS_2_OHM_PER_KM,
    IEC_60228_CLASS_5_OHM_PER_KM,
    IEC_60228_CLASS_5_TINNED_OHM_PER_KM,
    SMALL_CORE_OHM_PER_KM,
    awg_area_m2,
    awg_diameter_m,
    awg_ohm_per_m,
    chassis_a,
    power_transmission_a,
    resistance_ohm_per_m,
)
from sinkside.standards.type_c_cable import USB2_CONDUCTOR_DROP_V


@pytest.mark.parametrize(
    ("awg", "ohm_per_kft"),
    [
        # HyperPhysics wire gauge table, Ω per 1000 ft at 20 °C (read); four figures printed.
        (16, 4.016),
        (18, 6.385),
        (20, 10.15),
        (22, 16.14),
        (24, 25.67),
        (26, 40.81),
        (28, 64.90),
        (30, 103.2),
    ],
)
def test_resistance_by_gauge(awg: int, ohm_per_kft: float) -> None:
    assert awg_ohm_per_m(awg) * 304.8 == pytest.approx(ohm_per_kft, rel=3e-4)


@pytest.mark.parametrize(
    ("awg", "area_mm2"), [(16, 1.309), (18, 0.823), (20, 0.518), (24, 0.205), (30, 0.0509)]
)
def test_area_by_gauge(awg: int, area_mm2: float) -> None:
    # Commonly printed conversion of ASTM B258 gauges (arithmetic from its formula).
    assert awg_area_m2(awg) * 1e6 == pytest.approx(area_mm2, rel=2e-3)


def test_the_two_gauges_that_define_the_formula() -> None:
    # ASTM B258 (secondary): AWG 36 is 5 mil, AWG 0000 is 460 mil.
    assert awg_diameter_m(36) == pytest.approx(0.005 * 0.0254)
    assert awg_diameter_m(-3) == pytest.approx(0.460 * 0.0254)


@pytest.mark.parametrize(
    ("awg", "current_a", "tolerance_a"),
    [
        # AWG power table, 700 circular mils for each ampere (read). Tolerance: half the last
        # figure printed; in the last rows what 0.05 mil of a rounded diameter makes.
        (16, 3.7, 0.05),
        (18, 2.3, 0.05),
        (20, 1.5, 0.05),
        (22, 0.92, 0.005),
        (24, 0.577, 0.003),
        (26, 0.361, 0.0025),
    ],
)
def test_cautious_current(awg: int, current_a: float, tolerance_a: float) -> None:
    got_a = power_transmission_a(awg_area_m2(awg))
    assert got_a == pytest.approx(current_a, abs=tolerance_a)


def test_the_two_conventions_differ_six_fold() -> None:
    # HyperPhysics wire gauge table (read), both columns.
    for awg in (16, 18, 20, 22, 24, 26):
        ratio = chassis_a(awg) / power_transmission_a(awg_area_m2(awg))
        assert 5.5 < ratio < 8.0


@pytest.mark.parametrize(
    "table",
    [
        IEC_60228_CLASS_2_OHM_PER_KM,
        IEC_60228_CLASS_5_OHM_PER_KM,
        IEC_60228_CLASS_5_TINNED_OHM_PER_KM,
    ],
)
def test_solid_copper_of_the_nominal_area_is_below_the_limits(table: dict[float, float]) -> None:
    # IEC 60228 (secondary): the limit allows for strands and for less than the nominal area.
    for area_mm2, limit_ohm_per_km in table.items():
        computed = resistance_ohm_per_m(area_mm2 * 1e-6) * 1000
        assert 0.80 * limit_ohm_per_km < computed < limit_ohm_per_km


def test_small_cores_lie_as_far_above_solid_copper() -> None:
    # DIN VDE 0295 (secondary, columns unclear).
    for area_mm2, (low, high) in SMALL_CORE_OHM_PER_KM.items():
        computed = resistance_ohm_per_m(area_mm2 * 1e-6) * 1000
        assert 0.85 * high < computed < low


@pytest.mark.parametrize(("temperature_degc", "factor"), [(40.0, 0.926), (60.0, 0.862)])
def test_temperature_factor(temperature_degc: float, factor: float) -> None:
    # IEC 60228 factor to 20 °C (secondary), which uses a coefficient nearer 4.0e-3.
    got = resistance_ohm_per_m(1e-6) / resistance_ohm_per_m(1e-6, temperature_degc)
    assert got == pytest.approx(factor, abs=3e-3)


def test_conductivity_of_100_percent_iacs() -> None:
    # IEC 60028 as given in NBS Handbook 100 (secondary): 0.15328 Ω·g/m² at 8.89 g/cm³, 58 MS/m.
    assert resistance_ohm_per_m(1e-6) == pytest.approx(0.15328 / 8.89, rel=1e-4)
    assert 1e-6 / resistance_ohm_per_m(1.0) == pytest.approx(58.0, rel=1e-4)


@pytest.mark.parametrize(
    ("awg", "length_m"), [(28, 0.81), (26, 1.31), (24, 2.08), (22, 3.33), (20, 5.00)]
)
def test_usb_2_cable_lengths(awg: int, length_m: float) -> None:
    # USB 2.0 cable table as given in a published article (secondary): every row must come to
    # about the same 0.167 to 0.176 Ω a conductor, so 83 to 88 mV at 0.5 A, and leave room for
    # the contacts under 125 mV.
    conductor_ohm = awg_ohm_per_m(awg) * length_m
    assert 0.1665 <= conductor_ohm < 0.1765
    assert 0.5 * conductor_ohm < USB2_CONDUCTOR_DROP_V - 0.03


def test_the_circular_mil_is_the_square_of_the_diameter_in_mils() -> None:
    # By definition (arithmetic): a wire of 1 inch has 1e6 circular mils.
    inch_m2 = math.pi / 4 * 0.0254**2
    assert power_transmission_a(inch_m2) * 700 == pytest.approx(1e6)
