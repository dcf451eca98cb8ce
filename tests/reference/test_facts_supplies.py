"""External supplies and safety classes: limits worked out by hand from the published formulas.

Formulas and no-load limits of (EU) 2019/1782, Annex II, were read; its scope of 250 W is from a
background report (secondary). Natural logarithms.
"""

import pytest

from sinkside.standards import safety_classes as safety
from sinkside.standards.ecodesign import (
    TEST_LOADS,
    SupplyKind,
    minimum_efficiency,
    no_load_limit_w,
    supply_kind,
)

AC_AC, AC_DC = SupplyKind.AC_AC, SupplyKind.AC_DC
LOW, MULTI = SupplyKind.LOW_VOLTAGE, SupplyKind.MULTIPLE


@pytest.mark.parametrize(
    ("watts", "kind", "share"),
    [
        (0.5, AC_DC, 0.4100),  # 0.5·0.5 + 0.160
        (0.8, LOW, 0.5006),  # 0.517·0.8 + 0.087
        (0.8, MULTI, 0.4646),  # 0.497·0.8 + 0.067
        (1.0, AC_AC, 0.6600),  # 0.5 + 0.160
        (5.0, AC_DC, 0.7773),  # ln 5 = 1.60944: 0.11427 − 0.0070 + 0.67
        (10.0, AC_DC, 0.8195),  # ln 10 = 2.30259: 0.16348 − 0.0140 + 0.67
        (18.0, AC_DC, 0.8500),  # ln 18 = 2.89037: 0.20522 − 0.0252 + 0.67
        (18.0, AC_AC, 0.8500),
        (24.0, AC_DC, 0.8620),  # ln 24 = 3.17805: 0.22564 − 0.0336 + 0.67
        (45.0, AC_DC, 0.8773),  # ln 45 = 3.80666: 0.27027 − 0.0630 + 0.67
        (49.0, AC_DC, 0.8777),  # ln 49 = 3.89182: 0.27632 − 0.0686 + 0.67
        (60.0, AC_DC, 0.880),
        (60.0, AC_AC, 0.880),
        (5.0, LOW, 0.7362),  # 0.13423 − 0.0070 + 0.609
        (10.0, LOW, 0.7870),  # 0.19204 − 0.0140 + 0.609
        (12.0, LOW, 0.7994),  # ln 12 = 2.48491: 0.20724 − 0.0168 + 0.609
        (15.0, LOW, 0.8139),  # ln 15 = 2.70805: 0.22585 − 0.0210 + 0.609
        (60.0, LOW, 0.870),
        (10.0, MULTI, 0.7337),  # 0.17269 + 0.561
        (20.0, MULTI, 0.7857),  # ln 20 = 2.99573: 0.22468 + 0.561
        (45.0, MULTI, 0.8465),  # 0.28550 + 0.561
        (60.0, MULTI, 0.860),
    ],
)
def test_the_least_efficiency(watts: float, kind: SupplyKind, share: float) -> None:
    assert minimum_efficiency(watts, kind) == pytest.approx(share, abs=6e-5)


@pytest.mark.parametrize(
    ("kind", "small_w", "large_w"),
    [(AC_AC, 0.21, 0.21), (AC_DC, 0.10, 0.21), (LOW, 0.10, 0.21), (MULTI, 0.30, 0.30)],
)
def test_power_without_load(kind: SupplyKind, small_w: float, large_w: float) -> None:
    """Up to and with 49 W, and above; which column is which is an interpretation of the text."""
    assert no_load_limit_w(10.0, kind) == small_w
    assert no_load_limit_w(49.0, kind) == small_w
    assert no_load_limit_w(49.1, kind) == large_w


@pytest.mark.parametrize(
    ("volts", "amps", "kind"),
    [(5.0, 0.55, LOW), (5.0, 0.5, AC_DC), (6.0, 2.0, AC_DC), (5.9, 2.0, LOW), (12.0, 1.0, AC_DC)],
)
def test_what_counts_as_low_voltage(volts: float, amps: float, kind: SupplyKind) -> None:
    """Under 6 V and at least 550 mA (read)."""
    assert supply_kind(volts, amps) is kind


def test_an_alternating_output_is_a_kind_of_its_own() -> None:
    assert supply_kind(9.0, 1.0, output_ac=True) is AC_AC


def test_the_loads_of_the_mean() -> None:
    """25, 50, 75 and 100 % (background report: secondary)."""
    assert TEST_LOADS == (0.25, 0.5, 0.75, 1.0)


@pytest.mark.parametrize(
    ("volts", "energy_class"),
    [
        (50.4, "ES1"),  # 48 V + 5 %
        (53.65, "ES1"),  # where a cable of the extended range must still work
        (60.0, "ES1"),
        (61.0, "ES2"),
        (120.0, "ES2"),
        (121.0, "ES3"),
    ],
)
def test_classes_by_volts(volts: float, energy_class: str) -> None:
    """60 V and 120 V d.c. of IEC 62368-1, from memory."""
    assert safety.energy_class(volts) == energy_class


@pytest.mark.parametrize(
    ("watts", "power_class"),
    [(15.0, "PS1"), (15.1, "PS2"), (100.0, "PS2"), (100.1, "PS3"), (240.0, "PS3")],
)
def test_classes_by_power(watts: float, power_class: str) -> None:
    """15 W and 100 W of IEC 62368-1, read in a web page and a test report's form."""
    assert safety.power_class(watts) == power_class


@pytest.mark.parametrize(
    ("open_v", "amps", "va"),
    [
        (5.0, 8.0, 25.0),  # 5·Uoc
        (12.0, 8.0, 60.0),
        (20.0, 8.0, 100.0),  # 20 V·5 A sits right on the limit
        (24.0, 8.0, 100.0),
        (48.0, 3.125, 100.0),  # 150/48
        (50.0, 3.0, 100.0),  # 150/50
    ],
)
def test_sources_limited_by_themselves(open_v: float, amps: float, va: float) -> None:
    """IEC 60950-1, Table 2B (read in an excerpt)."""
    assert safety.limited_source_a(open_v) == pytest.approx(amps)
    assert safety.limited_source_va(open_v) == pytest.approx(va)


@pytest.mark.parametrize(
    ("open_v", "amps", "fuse_a"),
    [
        (12.0, 83.33, 5.0),  # 1000/12
        (20.0, 50.0, 5.0),
        (25.0, 40.0, 4.0),  # 100/25
        (48.0, 20.83, 2.0833),  # 1000/48, 100/48
    ],
)
def test_sources_limited_by_a_fuse(open_v: float, amps: float, fuse_a: float) -> None:
    """IEC 60950-1, Table 2C (read; the fuse above 20 V from memory); 250 VA."""
    assert safety.fused_source_a(open_v) == pytest.approx(amps, abs=0.01)
    assert safety.fused_source_fuse_a(open_v) == pytest.approx(fuse_a, abs=1e-3)
    assert safety.FUSED_SOURCE_VA == 250.0


def test_extra_low_voltage_differs_by_standard() -> None:
    """42.4 V peak and 60 V d.c. (read), against 50 V a.c. and 120 V d.c.: both stand."""
    assert (safety.SELV_AC_PEAK_V, safety.SELV_DC_V) == (42.4, 60.0)
    assert (safety.SELV_60364_AC_RMS_V, safety.SELV_60364_DC_V) == (50.0, 120.0)
    assert pytest.approx(42.4, abs=0.05) == 30.0 * 2**0.5
    assert (safety.ES1_AC_RMS_V, safety.ES1_AC_PEAK_V) == (30.0, 42.4)
