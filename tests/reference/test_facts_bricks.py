"""Old bricks: rectifiers, what an a.c. brick amounts to, soft lines, and what a load can have.

Where a figure comes from, and whether it was read, secondary, from memory or arithmetic, is said
at each.
"""

import numpy as np
import pytest

from sinkside.physics import rectifier
from sinkside.physics.operating_point import Load, operating_point
from sinkside.physics.unregulated import OPEN_OVER_PLATE, between_v, line_v


@pytest.mark.parametrize(
    ("load_a", "mains_hz", "farad", "ripple_v"),
    [
        (2.0, 60.0, 16.667e-3, 1.0),  # a teaching page: 2/(2·60·1) = 16.7 mF
        (0.154, 60.0, 1283e-6, 1.0),  # an exercise: 0.154/120 = 1283 µF
        (1.0, 50.0, 4700e-6, 2.1277),  # 1/(100·4.7e-3)
        (0.3, 50.0, 2200e-6, 1.3636),  # 0.3/0.22
        (0.5, 60.0, 1000e-6, 4.1667),  # 0.5/0.12
    ],
)
def test_ripple_of_a_full_wave(
    load_a: float, mains_hz: float, farad: float, ripple_v: float
) -> None:
    """ΔV = I/(2·f·C), the capacitor alone for the whole half period (a teaching page)."""
    assert rectifier.ripple_v(load_a, mains_hz, farad, 1.0) == pytest.approx(ripple_v, rel=1e-3)


def test_half_a_wave_wants_twice_the_capacitor() -> None:
    """I/(f·C): 33.3 mF for 2 A, 60 Hz and 1 V, which is 0.5 V with both half waves."""
    assert rectifier.ripple_v(2.0, 60.0, 33.33e-3, 1.0) == pytest.approx(0.5, rel=1e-3)


@pytest.mark.parametrize(
    ("rms_v", "forward_v", "peak_v"),
    [
        (12.0, 0.8, 15.37),  # an exercise: 16.97 − 1.6
        (9.0, 0.7, 11.33),  # 12.728 − 1.4, the bridge at load (from memory)
        (9.0, 0.5, 11.73),  # 12.728 − 1.0, the bridge at light load (from memory)
        (24.0, 0.7, 32.54),  # 33.941 − 1.4
    ],
)
def test_the_peak_behind_a_bridge(rms_v: float, forward_v: float, peak_v: float) -> None:
    """√2·V less two diodes; 15.37 V over 100 Ω is the exercise's 0.154 A."""
    found = rectifier.peak_v(rms_v, rectifier.SINE_CREST, forward_v)
    assert found == pytest.approx(peak_v, abs=5e-3)


@pytest.mark.parametrize(
    ("plate_v", "open_ratio", "mains_ratio", "peak_v"),
    [
        (9.0, 1.57, 1.10, 21.98),  # a worked example, 57 % regulation: "22 V" (secondary)
        (12.0, 1.50, 1.10, 28.00),  # 12·1.41421·1.65
        (9.0, 1.33, 1.00, 16.93),  # "9 V" a.c. that reads 12 V at 8 mA (secondary): 12·√2
    ],
)
def test_the_worst_peak_of_an_ac_brick(
    plate_v: float, open_ratio: float, mains_ratio: float, peak_v: float
) -> None:
    found = rectifier.no_load_peak_v(plate_v, open_ratio, mains_ratio)
    assert found == pytest.approx(peak_v, abs=5e-3)


def test_a_bridge_on_direct_current() -> None:
    """About 1.0 V at light load and 1.4 V at load (from memory): both within two diodes as they
    are taken here."""
    low_v, high_v = rectifier.FORWARD_LOADED_V
    assert pytest.approx(1.0) == 2 * rectifier.FORWARD_LIGHT_V
    assert 2 * low_v <= 1.4 <= 2 * high_v


@pytest.mark.parametrize(
    "ratio",
    [
        1.60,  # 12 V 150 mA reads 19.2 V: 19.2/12
        1.50,  # 12 V 1 A reads 18 V
        1.75,  # and another 21 V
        1.56,  # 9 V reads 14 V: 14/9 = 1.556
        1.33,  # 9 V a.c. at 8 mA about 12 V
        1.30,  # a cheap 6.3 V 100 mA transformer, +30 %
    ],
)
def test_open_volts_over_the_plate(ratio: float) -> None:
    """Published readings of unregulated bricks (secondary): all within what is assumed."""
    assert OPEN_OVER_PLATE[0] <= ratio <= OPEN_OVER_PLATE[1]


@pytest.mark.parametrize(
    ("load_a", "volts"), [(0.0, 19.2), (0.075, 15.6), (0.1, 14.4), (0.15, 12.0)]
)
def test_the_line_of_a_soft_brick(load_a: float, volts: float) -> None:
    """19.2 V open and 12 V at 150 mA, 48 Ω: 19.2 − 48·I."""
    assert line_v(19.2, 12.0, 0.15, load_a) == pytest.approx(volts)


def test_a_soft_brick_rises_steeply_at_light_load() -> None:
    """A capacitor-input brick rises steeply below about a tenth of its load (from memory), so its
    curve hangs below the line between no load and load, and no lower than the loaded reading."""
    low_v, high_v = between_v((14.0, 14.0), (9.0, 9.0), (0.5, 0.5), (0.25, 0.25))
    assert low_v == pytest.approx(9.0)
    assert high_v == pytest.approx(11.5)  # half of 14 − 9 below 14


def meets(
    source_v: float, series_ohm: float, *, amps: float = 0.0, watts: float = 0.0, siemens: float = 0
) -> tuple[float, float, float, float]:
    """Volts, amps, the low root and the watts that are left."""
    load = Load(constant_a=np.array(amps), power_w=np.array(watts), conductance_s=np.array(siemens))
    found = operating_point(np.array(source_v), np.array(series_ohm), load)
    return float(found.v), float(found.i_a), float(found.low_v), float(found.spare_w)


@pytest.mark.parametrize(
    ("source_v", "series_ohm", "most_w"),
    [
        (5.0, 0.25, 25.0),  # 25/1
        (4.75, 0.25, 22.5625),
        (4.75, 0.50, 11.28125),  # 22.5625/2
        (8.55, 0.40, 45.6890625),  # 73.1025/1.6
        (19.0, 1.0, 90.25),  # 361/4
    ],
)
def test_the_most_power_through_a_resistance(
    source_v: float, series_ohm: float, most_w: float
) -> None:
    """V²/4R (arithmetic): a little less works, a little more does not, and at the limit half the
    volts are lost."""
    v, _, _, spare_w = meets(source_v, series_ohm, watts=most_w * (1 - 1e-9))
    assert v == pytest.approx(source_v / 2, rel=1e-3)
    assert spare_w == pytest.approx(0.0, abs=1e-6)
    v, _, _, spare_w = meets(source_v, series_ohm, watts=1.01 * most_w)
    assert np.isnan(v)
    assert spare_w == pytest.approx(-0.01 * most_w)


def test_15_w_from_the_worst_lawful_5_v() -> None:
    """4.75 V behind 250 mΩ: V² − 4.75·V + 3.75 = 0, root of 22.5625 − 15 = 7.5625 is 2.75: 3.75
    V and 4 A, or 1.00 V, where such a load may latch (arithmetic)."""
    v, amps, low_v, spare_w = meets(4.75, 0.25, watts=15.0)
    assert (v, amps, low_v) == pytest.approx((3.75, 4.0, 1.0))
    assert spare_w == pytest.approx(7.5625)


def test_other_laws_of_current() -> None:
    """1 A: 9 − 0.2 = 8.8 V. 1 Ω behind 250 mΩ: 5·1/1.25 = 4 V."""
    assert meets(9.0, 0.2, amps=1.0)[:2] == pytest.approx((8.8, 1.0))
    assert meets(5.0, 0.25, siemens=1.0)[:2] == pytest.approx((4.0, 4.0))
