"""External power supplies and safety classes against published limits."""

import pytest

from sinkside.standards.ecodesign import SupplyKind, minimum_efficiency, no_load_limit_w
from sinkside.standards.pd_contract import contract_band
from sinkside.standards.safety_classes import (
    EnergyClass,
    PowerClass,
    energy_class,
    fused_source_a,
    fused_source_fuse_a,
    limited_source_a,
    limited_source_va,
    power_class,
)
from sinkside.standards.type_c_cable import EPR_FUNCTION_V


@pytest.mark.parametrize(
    ("output_w", "kind", "efficiency"),
    [
        # Formulas of Regulation (EU) 2019/1782 Annex II (read), worked by pocket calculator.
        (0.5, SupplyKind.AC_DC, 0.410),
        (5.0, SupplyKind.AC_DC, 0.7773),
        (10.0, SupplyKind.AC_DC, 0.8195),
        (24.0, SupplyKind.AC_DC, 0.8620),
        (45.0, SupplyKind.AC_DC, 0.8773),
        (45.0, SupplyKind.AC_AC, 0.8773),
        (49.0, SupplyKind.AC_DC, 0.8777),
        (49.1, SupplyKind.AC_DC, 0.8800),
        (100.0, SupplyKind.AC_AC, 0.8800),
        (0.5, SupplyKind.AC_AC, 0.410),
        (0.5, SupplyKind.LOW_VOLTAGE, 0.3455),
        (0.5, SupplyKind.MULTIPLE, 0.3155),
        (5.0, SupplyKind.LOW_VOLTAGE, 0.7362),
        (10.0, SupplyKind.LOW_VOLTAGE, 0.7870),
        (15.0, SupplyKind.LOW_VOLTAGE, 0.8139),
        (100.0, SupplyKind.LOW_VOLTAGE, 0.870),
        (10.0, SupplyKind.MULTIPLE, 0.7337),
        (45.0, SupplyKind.MULTIPLE, 0.8465),
        (100.0, SupplyKind.MULTIPLE, 0.860),
    ],
)
def test_efficiency(output_w: float, kind: SupplyKind, efficiency: float) -> None:
    assert minimum_efficiency(output_w, kind) == pytest.approx(efficiency, abs=6e-5)


@pytest.mark.parametrize("kind", SupplyKind)
def test_the_formulas_meet_at_1_w(kind: SupplyKind) -> None:
    # Regulation (EU) 2019/1782 Annex II (read): the pieces join within 1.5 points.
    assert minimum_efficiency(1.0, kind) == pytest.approx(
        minimum_efficiency(1.0 + 1e-9, kind), abs=0.015
    )


@pytest.mark.parametrize(
    ("output_w", "kind", "limit_w"),
    [
        # Regulation (EU) 2019/1782 Annex II (read).
        (49.0, SupplyKind.AC_DC, 0.10),
        (49.1, SupplyKind.AC_DC, 0.21),
        (12.0, SupplyKind.AC_AC, 0.21),
        (12.0, SupplyKind.LOW_VOLTAGE, 0.10),
        (65.0, SupplyKind.LOW_VOLTAGE, 0.21),
        (12.0, SupplyKind.MULTIPLE, 0.30),
        (65.0, SupplyKind.MULTIPLE, 0.30),
    ],
)
def test_no_load(output_w: float, kind: SupplyKind, limit_w: float) -> None:
    assert no_load_limit_w(output_w, kind) == limit_w


@pytest.mark.parametrize(
    ("open_v", "current_a", "power_va"),
    [
        # IEC 60950-1 Table 2B (read).
        (12.0, 8.0, 60.0),
        (20.0, 8.0, 100.0),
        (30.0, 8.0, 100.0),
        (48.0, 3.125, 100.0),
        (60.0, 2.5, 100.0),
    ],
)
def test_inherently_limited_sources(open_v: float, current_a: float, power_va: float) -> None:
    assert limited_source_a(open_v) == pytest.approx(current_a)
    assert limited_source_va(open_v) == pytest.approx(power_va)


def test_sources_limited_by_a_fuse() -> None:
    # IEC 60950-1 Table 2C (read up to 20 V, the fuse above from memory).
    assert fused_source_a(20.0) == 50.0
    assert fused_source_fuse_a(12.0) == 5.0
    assert fused_source_fuse_a(40.0) == 2.5
    assert fused_source_fuse_a(60.0) == pytest.approx(5 / 3)
    assert fused_source_a(60.0) == pytest.approx(50 / 3)


def test_a_contract_at_48_v_stays_extra_low_but_not_limited() -> None:
    # Arithmetic: 48 · 1.05 = 50.4 V, and even 53.65 V is under 60 V; 240 W is above 100 W, and
    # 20 V at 5 A sits on the limit.
    assert contract_band(48.0).high_v == pytest.approx(50.4)
    assert energy_class(contract_band(48.0).high_v) is EnergyClass.ES1
    assert energy_class(EPR_FUNCTION_V) is EnergyClass.ES1
    assert power_class(240.0) is PowerClass.PS3
    assert power_class(20.0 * 5.0) is PowerClass.PS2
    assert limited_source_va(20.0) == 20.0 * 5.0
