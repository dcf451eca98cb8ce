"""Copper leads: gauge, resistance, drop and the two customs of ampacity, worked out by hand.

Each test says where its figure comes from and how it was had: read in a text, from a secondary
text, from memory, or arithmetic from such figures. All resistances of leads count both wires.
"""

import pytest

from sinkside.standards import copper

# ASTM B258 (secondary text): d = 0.127 mm · 92^((36 − n)/39), with ln 92 = 4.52179.
#   36: exponent 0 → 0.1270        30: e^(4.52179·6/39 = 0.69566) = 2.0050 → 0.2546
#   24: e^(1.39132) = 4.0202 → 0.5106        16: e^(2.31887) = 10.164 → 1.2908
DIAMETERS_MM = [(36, 0.1270), (30, 0.2546), (24, 0.5106), (16, 1.2908)]

# Areas in mm² and Ω/km at 20 °C (arithmetic; the ohms agree with a published table that was
# read, in Ω/kft: 4.016 6.385 10.15 16.14 25.67 40.81 64.9 103.2).
GAUGES = [
    (16, 1.309, 13.17),
    (18, 0.823, 20.95),
    (20, 0.518, 33.31),
    (22, 0.326, 52.96),
    (24, 0.205, 84.21),
    (26, 0.129, 133.9),
    (28, 0.081, 212.9),
    (30, 0.0509, 338.6),
]


@pytest.mark.parametrize(("awg", "diameter_mm"), DIAMETERS_MM)
def test_diameters_of_astm_b258(awg: int, diameter_mm: float) -> None:
    assert 1e3 * copper.awg_diameter_m(float(awg)) == pytest.approx(diameter_mm, abs=1e-4)


@pytest.mark.parametrize(("awg", "area_mm2", "ohm_per_km"), GAUGES)
def test_areas_and_resistances_of_gauges(awg: int, area_mm2: float, ohm_per_km: float) -> None:
    """Half a unit of the last digit printed: 0.6 % of the area of 28 AWG, else less."""
    assert 1e6 * copper.awg_area_m2(float(awg)) == pytest.approx(area_mm2, rel=7e-3)
    assert 1e3 * copper.awg_ohm_per_m(float(awg)) == pytest.approx(ohm_per_km, rel=5e-4)


def test_a_square_millimetre_of_standard_copper() -> None:
    """IACS (secondary text: NBS Handbook 100): 0.15328 Ω·g/m² over 8.89 g/cm³ is
    0.15328/8.89 = 0.0172418 Ω·mm²/m, 17.24 mΩ for each metre of 1 mm²; 1/0.017241 = 58.0 MS/m."""
    assert copper.resistance_ohm_per_m(1e-6) == pytest.approx(0.15328 / 8.89, rel=1e-4)
    assert pytest.approx(58.0, abs=0.05) == 1e-6 / copper.IACS_RESISTIVITY_OHM_M


def test_hot_copper() -> None:
    """α = 3.93e-3 /K at 20 °C (secondary text). 22 AWG at 60 °C:
    52.96·(1 + 0.00393·40) = 52.96·1.1572 = 61.29 Ω/km; at 0 °C 52.96·0.9214 = 48.80 Ω/km."""
    assert 1e3 * copper.awg_ohm_per_m(22.0, 60.0) == pytest.approx(61.29, abs=0.03)
    assert 1e3 * copper.awg_ohm_per_m(22.0, 0.0) == pytest.approx(48.80, abs=0.03)


@pytest.mark.parametrize(("degc", "to_20_degc"), [(40.0, 0.926), (60.0, 0.862)])
def test_hot_copper_by_the_factors_of_iec_60228(degc: float, to_20_degc: float) -> None:
    """IEC 60228 (secondary text) takes ohms back to 20 °C by 0.926 from 40 °C and 0.862 from
    60 °C. Its coefficient is nearer 4.0e-3 /K, so the two agree to 0.3 %, not better:
    1/1.0786 = 0.9271, 1/1.1572 = 0.8642."""
    ratio = copper.resistance_ohm_per_m(1e-6) / copper.resistance_ohm_per_m(1e-6, degc)
    assert ratio == pytest.approx(to_20_degc, rel=3e-3)


@pytest.mark.parametrize(
    ("awg", "length_m", "amps", "drop_v"),
    [
        (20, 2.0, 1.5, 0.1999),  # 2·2·33.31e-3 = 133.2 mΩ, ·1.5
        (24, 1.8, 1.0, 0.3032),  # 2·1.8·84.21e-3 = 303.2 mΩ
        (18, 3.0, 2.0, 0.2514),  # 2·3·20.95e-3 = 125.7 mΩ, ·2
        (28, 1.0, 0.5, 0.2129),  # 2·1·212.9e-3 = 425.8 mΩ, ·0.5
        (16, 5.0, 3.0, 0.3951),  # 2·5·13.17e-3 = 131.7 mΩ, ·3
    ],
)
def test_the_drop_along_both_wires(awg: int, length_m: float, amps: float, drop_v: float) -> None:
    """Ohm's law on the ohms of the published table."""
    assert 2 * length_m * copper.awg_ohm_per_m(float(awg)) * amps == pytest.approx(drop_v, rel=1e-3)


@pytest.mark.parametrize(
    ("awg", "length_m", "one_way_v"),
    [
        (28, 0.81, 0.0862),  # 212.9e-3·0.81 = 172.4 mΩ
        (26, 1.31, 0.0877),  # 133.9e-3·1.31 = 175.4 mΩ
        (24, 2.08, 0.0876),  # 84.21e-3·2.08 = 175.2 mΩ
        (22, 3.33, 0.0882),  # 52.96e-3·3.33 = 176.4 mΩ
        (20, 5.00, 0.0833),  # 33.31e-3·5.00 = 166.6 mΩ
    ],
)
def test_the_longest_cables_of_usb_2(awg: int, length_m: float, one_way_v: float) -> None:
    """The table of lengths (secondary text) leaves 83 to 88 mV a conductor at 0.5 A, and what is
    missing to 125 mV for contacts."""
    assert 0.5 * length_m * copper.awg_ohm_per_m(float(awg)) == pytest.approx(one_way_v, abs=2e-4)
    assert 0.5 * length_m * copper.awg_ohm_per_m(float(awg)) < 0.125


# 700 circular mils an ampere (a secondary text's rule; the figures were read in a table).
@pytest.mark.parametrize(
    ("awg", "amps", "digit"),
    [
        (16, 3.7, 0.05),
        (18, 2.3, 0.05),
        (20, 1.5, 0.05),
        (22, 0.92, 0.005),
        (24, 0.577, 0.001),
        (26, 0.361, 0.0023),
    ],
)
def test_the_cautious_custom_of_ampacity(awg: int, amps: float, digit: float) -> None:
    """E.g. 24 AWG: 20.10 mil squared is 404.0 cmil, over 700 is 0.577 A.

    The table's 26 AWG is worked from 15.9 mil, 252.8/700 = 0.361, where the formula gives 15.94
    mil and 0.363: the last tenth of a mil is worth 2·0.05/15.9 = 0.63 %, 2.3 mA."""
    assert copper.power_transmission_a(copper.awg_area_m2(float(awg))) == pytest.approx(
        amps, abs=digit
    )


@pytest.mark.parametrize(
    ("awg", "amps"),
    [(16, 22), (18, 16), (20, 11), (22, 7), (24, 3.5), (26, 2.2), (28, 1.4), (30, 0.86)],
)
def test_the_bold_custom_of_ampacity(awg: int, amps: float) -> None:
    """A single wire in free air, read in a published table; a custom, no standard."""
    assert copper.chassis_a(awg) == amps


@pytest.mark.parametrize("awg", [16, 18, 20, 22, 24, 26])
def test_the_two_customs_differ_about_six_fold(awg: int) -> None:
    """From memory: six-fold. E.g. 22 AWG 7/0.92 = 7.6, 24 AWG 3.5/0.577 = 6.07, 16 AWG
    22/3.7 = 5.9."""
    ratio = copper.chassis_a(awg) / copper.power_transmission_a(copper.awg_area_m2(float(awg)))
    assert 5.5 < ratio < 7.7


# IEC 60228 (secondary tables), most ohms a kilometre: class 1 and 2, class 5 plain, tinned.
IEC_60228 = [
    (0.5, 36.0, 39.0, 40.1),
    (0.75, 24.5, 26.0, 26.7),
    (1.0, 18.1, 19.5, 20.0),
    (1.5, 12.1, 13.3, 13.7),
    (2.5, 7.41, 7.98, 8.21),
]


@pytest.mark.parametrize(("area_mm2", "class_2", "class_5", "tinned"), IEC_60228)
def test_the_limits_of_iec_60228(
    area_mm2: float, class_2: float, class_5: float, tinned: float
) -> None:
    """And solid copper is under the limit of every class: e.g. 17.241/0.5 = 34.5 < 36.0."""
    assert copper.IEC_60228_CLASS_2_OHM_PER_KM[area_mm2] == class_2
    assert copper.IEC_60228_CLASS_5_OHM_PER_KM[area_mm2] == class_5
    assert copper.IEC_60228_CLASS_5_TINNED_OHM_PER_KM[area_mm2] == tinned
    assert 17.241 / area_mm2 < class_2
    assert 1e3 * copper.resistance_ohm_per_m(1e-6 * area_mm2) == pytest.approx(
        17.241 / area_mm2, rel=1e-4
    )


@pytest.mark.parametrize(
    ("area_mm2", "low_ohm", "high_ohm"), [(0.14, 134, 138), (0.25, 76, 79), (0.34, 53, 56)]
)
def test_small_cores(area_mm2: float, low_ohm: float, high_ohm: float) -> None:
    """DIN VDE 0295 (secondary text, whose columns are not clear)."""
    assert copper.SMALL_CORE_OHM_PER_KM[area_mm2] == (low_ohm, high_ohm)
    assert 17.241 / area_mm2 < low_ohm


def test_cheap_leads_have_at_least_1_6_times_the_ohms() -> None:
    """Copper-clad aluminium, or short of gauge (from memory): never count on less than 1.6."""
    assert copper.CHEAP_LEAD_FACTOR >= 1.6
