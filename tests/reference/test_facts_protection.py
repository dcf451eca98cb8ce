"""Fuses, resettable fuses, preferred values, hold-up, touch current, plugs: worked out by hand.

Where a figure comes from, and whether it was read, secondary, from memory or arithmetic, is said
at each.
"""

import math

import pytest

from sinkside.grounds.touch import y_capacitor_a
from sinkside.outages import closed_forms
from sinkside.standards import barrel, fuse_gates, preferred_values
from sinkside.standards.fuse_gates import FuseStandard
from sinkside.standards.graphic_symbols import IEC_60417
from sinkside.standards.safety_classes import TOUCH_CURRENT_A

QUICK, LAG, UL = FuseStandard.IEC_60127_2_F, FuseStandard.IEC_60127_2_T, FuseStandard.UL_248_14


@pytest.mark.parametrize(
    ("standard", "carries_a", "sure_a"),
    [
        (UL, 1.5, 4.0),  # 75 % of 2 A (secondary); twice (read in a maker's guide)
        (QUICK, 2.0, 4.2),  # all of it at 23 °C (secondary); 2.1 times (from memory)
        (LAG, 2.0, 4.2),
    ],
)
def test_a_fuse_of_2_a(standard: FuseStandard, carries_a: float, sure_a: float) -> None:
    assert fuse_gates.continuous_a(2.0, standard) == pytest.approx(carries_a)
    assert fuse_gates.sure_to_open_a(2.0, standard) == pytest.approx(sure_a)


@pytest.mark.parametrize(
    ("standard", "ratio", "not_before_s", "not_after_s"),
    [
        (QUICK, 1.5, 3600.0, math.inf),  # over 60 min
        (QUICK, 2.1, 0.0, 1800.0),  # under 30 min
        (LAG, 1.5, 3600.0, math.inf),
        (LAG, 2.1, 0.02, 120.0),  # under 2 min; at ten times it stands 20 ms already
        (LAG, 10.0, 0.02, 0.3),  # 20 to 300 ms
        (UL, 1.35, 0.0, 3600.0),  # within 1 h (read in a maker's guide)
        (UL, 2.0, 0.0, 120.0),  # within 2 min
        (UL, 1.0, math.inf, math.inf),
    ],
)
def test_gates(
    standard: FuseStandard, ratio: float, not_before_s: float, not_after_s: float
) -> None:
    """Sheets 2 and 3 of IEC 60127-2 from memory, UL 248-14 read in a maker's guide."""
    soonest_s, latest_s = fuse_gates.opening_time_s(ratio, standard)
    assert soonest_s == pytest.approx(not_before_s) or soonest_s > not_before_s > 0.0
    assert latest_s == pytest.approx(not_after_s)


def test_what_a_chip_fuse_must_be_rated_for() -> None:
    """1.5/(0.70·0.95) = 2.2556 A (a maker's guide: secondary)."""
    assert fuse_gates.chip_fuse_rating_a(1.5, 0.95) == pytest.approx(2.2556, abs=1e-4)


@pytest.mark.parametrize(
    ("pulses", "ratio"), [(100, 0.48), (1000, 0.38), (10_000, 0.29), (100_000, 0.22)]
)
def test_pulses_that_a_fuse_stands(pulses: int, ratio: float) -> None:
    """I²t over melting I²t, read in a maker's guide."""
    assert fuse_gates.pulse_ratio(pulses) == pytest.approx(ratio)


def test_more_pulses_never_allow_more() -> None:
    """Between the rows: 5000 pulses lie between 29 and 38 %."""
    assert 0.29 <= fuse_gates.pulse_ratio(5000) <= 0.38


@pytest.mark.parametrize(
    ("degc", "ratio"),
    [
        (-40, 1.45), (-20, 1.30), (0, 1.20), (25, 1.00), (40, 0.88),
        (50, 0.80), (60, 0.71), (70, 0.66), (85, 0.56),
    ],
)  # fmt: skip
def test_a_resettable_fuse_holds_less_when_warm(degc: float, ratio: float) -> None:
    """One vendor's table (secondary)."""
    assert fuse_gates.pptc_hold_ratio(degc) == pytest.approx(ratio)


def test_a_resettable_fuse_between_the_rows() -> None:
    """Halfway from 50 to 60 °C: 0.755; a 1 A part holds 755 mA there."""
    assert fuse_gates.pptc_hold_ratio(55.0) == pytest.approx(0.755, abs=0.01)


E24 = [
    1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0,
    3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
]  # fmt: skip


def test_series_of_iec_60063() -> None:
    """E24 as listed (an encyclopedia entry, read); each lesser series takes every second."""
    series = preferred_values.SERIES
    assert list(series["E24"]) == E24
    assert list(series["E12"]) == [1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2]
    assert list(series["E6"]) == [1.0, 1.5, 2.2, 3.3, 4.7, 6.8]
    assert list(series["E3"]) == [1.0, 2.2, 4.7]


def test_e24_is_a_table_and_not_a_power_of_ten() -> None:
    """10^(k/24), rounded, differs from the list at just these."""
    differ = [
        listed
        for k, listed in enumerate(preferred_values.SERIES["E24"])
        if round(10 ** (k / 24), 1) != listed
    ]
    assert differ == [2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2]


@pytest.mark.parametrize("n", [48, 96])
def test_finer_series_are_computed(n: int) -> None:
    """round(10^(k/n), 2), all of it (an exact list was read)."""
    expected = [round(10 ** (k / n), 2) for k in range(n)]
    assert list(preferred_values.SERIES[f"E{n}"]) == expected


@pytest.mark.parametrize(
    ("value", "series", "least", "most"),
    [
        (4.76, "E24", 5.1, 4.7),  # the farads of 5 W for 30 s, 12 to 9 V
        (4.76, "E6", 6.8, 4.7),
        (0.3175, "E6", 0.33, 0.22),
        (16.667e-3, "E6", 22e-3, 15e-3),
        (1283e-6, "E12", 1500e-6, 1200e-6),
        (3.25, "E24", 3.3, 3.0),
        (9.5, "E24", 10.0, 9.1),
        (9.10, "E96", 9.31, 9.09),  # 10^(93/96) = 9.306, 10^(92/96) = 9.085
        (5100.0, "E24", 5100.0, 5100.0),
    ],
)
def test_the_next_value_up_and_down(value: float, series: str, least: float, most: float) -> None:
    assert preferred_values.at_least(value, series) == pytest.approx(least)
    assert preferred_values.at_most(value, series) == pytest.approx(most)


def test_tolerances_of_the_series() -> None:
    """20, 10, 5, 2 and 1 % for E6 to E96."""
    shares = [preferred_values.TOLERANCE[name] for name in ("E6", "E12", "E24", "E48", "E96")]
    assert shares == [0.20, 0.10, 0.05, 0.02, 0.01]


@pytest.mark.parametrize(
    ("farad", "from_v", "to_v", "watts", "seconds"),
    [
        (4.7619, 12.0, 9.0, 5.0, 30.0),  # 150 J; 2·150/(144 − 81) = 4.76 F
        (470e-6, 12.0, 9.0, 5.0, 2.961e-3),  # 470e-6·63/10
        (4700e-6, 20.0, 8.0, 3.0, 0.2632),  # 4.7e-3·(400 − 64)/6
        (1.0, 5.0, 4.0, 2.5, 1.8),  # 9/5
    ],
)
def test_holding_up_a_constant_power(
    farad: float, from_v: float, to_v: float, watts: float, seconds: float
) -> None:
    """t = C·(V1² − V2²)/2P (secondary), and the same solved for C."""
    assert closed_forms.constant_power_s(farad, from_v, to_v, watts) == pytest.approx(
        seconds, rel=2e-4
    )
    assert closed_forms.farads_for_power(seconds, from_v, to_v, watts) == pytest.approx(
        farad, rel=2e-4
    )


@pytest.mark.parametrize(
    ("farad", "from_v", "to_v", "amps", "seconds"),
    [
        (4700e-6, 12.0, 9.0, 0.5, 28.2e-3),  # 4.7e-3·3/0.5
        (1000e-6, 9.0, 7.5, 0.1, 15e-3),  # 1e-3·1.5/0.1
        (1.0, 5.0, 4.0, 0.5, 2.0),
    ],
)
def test_holding_up_a_constant_current(
    farad: float, from_v: float, to_v: float, amps: float, seconds: float
) -> None:
    """t = C·ΔV/I (arithmetic), of a capacitor without resistance of its own."""
    found = closed_forms.constant_current_s(farad, from_v, to_v, amps, 0.0)
    assert found == pytest.approx(seconds)


@pytest.mark.parametrize(
    ("mains_v", "mains_hz", "microamps"),
    [
        (230.0, 50.0, 159.0),  # 2π·50·2.2e-9 = 0.6912 µS, ·230
        (120.0, 60.0, 99.5),  # 0.8294 µS, ·120
        (100.0, 50.0, 69.1),
    ],
)
def test_current_through_2_2_nf(mains_v: float, mains_hz: float, microamps: float) -> None:
    """I = 2π·f·C·V (arithmetic); 2.2 nF is common practice, no source."""
    assert 1e6 * y_capacitor_a(2.2e-9, mains_v, mains_hz) == pytest.approx(microamps, abs=0.06)


def test_touch_current_of_one_and_of_two_supplies() -> None:
    """0.25 mA is common practice (from memory): at 230 V one supply of 2.2 nF, 0.159 mA, stays
    below it and two, 0.318 mA, do not. Across 22 kΩ one reads 0.159e-3·22e3 = 3.50 V."""
    one_a = y_capacitor_a(2.2e-9, 230.0, 50.0)
    assert pytest.approx(0.25e-3) == TOUCH_CURRENT_A
    assert one_a < TOUCH_CURRENT_A < 2 * one_a
    assert one_a * 22e3 == pytest.approx(3.50, abs=5e-3)


@pytest.mark.parametrize(
    ("volts", "number", "outer_mm", "inner_mm"),
    [
        (3.0, 1, 2.35, 0.7),
        (5.0, 2, 4.0, 1.7),
        (6.0, 2, 4.0, 1.7),
        (7.5, 3, 4.75, 1.7),
        (9.0, 3, 4.75, 1.7),
        (12.0, 4, 5.5, 3.3),
        (15.0, 5, 6.5, 4.4),
    ],
)
def test_plugs_of_rc_5320a(volts: float, number: int, outer_mm: float, inner_mm: float) -> None:
    """JEITA RC-5320A as given in published tables (secondary), all of them for 2 A."""
    size = barrel.jeita_size(volts)
    assert size is not None
    assert (size.number, size.plug.outer_mm, size.plug.inner_mm) == (number, outer_mm, inner_mm)
    assert barrel.JEITA_RATED_A == 2.0


def test_no_such_plug_for_24_v() -> None:
    """The bands end at 18 V; a "#6" for 24 V is one vendor's only (secondary)."""
    assert barrel.jeita_size(24.0) is None
    assert barrel.jeita_size(19.0) is None


@pytest.mark.parametrize(
    ("plug", "jack", "fit"),
    [
        ((5.5, 2.1), (5.5, 2.1), barrel.Fit.GOES_ON),
        ((5.5, 2.5), (5.5, 2.5), barrel.Fit.GOES_ON),
        ((5.5, 2.1), (5.5, 2.5), barrel.Fit.DOES_NOT_GO_ON),
        ((5.5, 2.5), (5.5, 2.1), barrel.Fit.LOOSE),
    ],
)
def test_2_1_and_2_5_mm(
    plug: tuple[float, float], jack: tuple[float, float], fit: barrel.Fit
) -> None:
    """A hole narrower than the pin does not go on; a wider one does, and is loose (common
    practice, secondary)."""
    made_for = barrel.Plug(outer_mm=jack[0], inner_mm=jack[1])
    found = barrel.mates(barrel.Plug(outer_mm=plug[0], inner_mm=plug[1]), barrel.jack_for(made_for))
    assert found is fit


@pytest.mark.parametrize("number", [5017, 5019, 5031, 5032, 5033, 5172, 5926, 5957])
def test_symbols_of_plates(number: int) -> None:
    """IEC 60417, numbers from equipment manuals (secondary)."""
    meanings = {
        5017: "earth",
        5019: "protective earth",
        5031: "direct current",
        5032: "alternating current",
        5172: "class II",
        5957: "indoor",
    }
    assert meanings.get(number, "").casefold() in IEC_60417[number].casefold()
