"""Loads, bridges and bricks against worked examples and figures that others have published.

Read: in the named text. Secondary: in a text that cites it, or on a teaching page. From memory
and common practice are named as such.
"""

import numpy as np
import pytest

from sinkside.physics.linear_regulator import (
    allowed_w,
    chain_k_per_w,
    dissipation_w,
    junction_degc,
    least_input_v,
)
from sinkside.physics.loads import COLD_FILAMENT, constant_current, diodes_a, resistance
from sinkside.physics.rectifier import (
    SINE_CREST,
    mean_v,
    no_load_peak_v,
    peak_v,
    ripple_v,
    trough_v,
)
from sinkside.physics.unregulated import OPEN_OVER_PLATE, between_v


def test_ripple_of_2_a_at_60_hz() -> None:
    # A teaching page (secondary): full wave, 2 A, 60 Hz, 1 V peak to peak wants 16.7 mF; half
    # wave, which charges half as often, 33.3 mF.
    assert ripple_v(2.0, 60.0, 16.7e-3, 1.0) == pytest.approx(1.0, abs=0.005)
    assert 2.0 * ripple_v(2.0, 60.0, 33.3e-3, 1.0) == pytest.approx(1.0, abs=0.005)


def test_an_exercise_on_a_full_bridge() -> None:
    # An exercise (secondary): 12 V r.m.s. less two diodes of 0.8 V is 15.37 V; 100 Ω take
    # 0.154 A; 1 V of ripple at 60 Hz wants 1283 µF.
    peak = peak_v(12.0, SINE_CREST, 0.8)
    assert peak == pytest.approx(15.37, abs=0.005)
    load_a = peak / 100.0
    assert load_a == pytest.approx(0.154, abs=0.0005)
    ripple = ripple_v(load_a, 60.0, 1283e-6, 1.0)
    assert ripple == pytest.approx(1.0, abs=0.003)
    assert trough_v(peak, ripple) == pytest.approx(14.37, abs=0.01)
    assert mean_v(peak, ripple) == pytest.approx(14.87, abs=0.01)


def test_the_highest_peak_of_a_9_v_a_c_brick() -> None:
    # A worked example in a forum of the trade (secondary): 9 V · √2 · 1.57 · 1.10, "22 V".
    assert no_load_peak_v(9.0, 1.57, 1.10) == pytest.approx(21.98, abs=0.005)


@pytest.mark.parametrize(
    ("plate_v", "open_v"),
    [
        # Unregulated bricks that people have measured (secondary): 12 V 150 mA, 12 V 1 A from
        # and to, 9 V, and a 9 V one with 8 mA on it.
        (12.0, 19.2),
        (12.0, 18.0),
        (12.0, 21.0),
        (9.0, 14.0),
        (9.0, 12.0),
    ],
)
def test_open_volts_over_the_plate(plate_v: float, open_v: float) -> None:
    least, most = OPEN_OVER_PLATE
    assert least <= open_v / plate_v <= most


def test_a_brick_of_which_two_points_are_known() -> None:
    # 12 V 1 A, 18 to 21 V open (secondary): at 150 mA no less than the plate, and less than open.
    low, high = between_v((18.0, 21.0), (12.0, 12.0), (1.0, 1.0), (0.15, 0.15))
    assert (low, high) == (12.0, pytest.approx(21.0 - 0.15 * 9.0))


@pytest.mark.parametrize(
    ("input_v", "load_a", "k_per_w", "ambient", "watts", "degc"),
    [
        # A teaching page (secondary): 12 to 5 V at 1 A, 5 + 1 + 10 K/W in 25 °C.
        (12.0, 1.0, chain_k_per_w(5.0, 1.0, 10.0), 25.0, 7.0, 137.0),
        # Course notes (secondary): 14 V, 0.5 A, 4 + 50 K/W; on an endless heat sink; and with
        # 13 Ω before it, which take 6.5 V.
        (14.0, 0.5, chain_k_per_w(4.0, 0.0, 50.0), 25.0, 4.5, 268.0),
        (14.0, 0.5, chain_k_per_w(4.0, 0.0, 0.0), 25.0, 4.5, 43.0),
        (14.0 - 13.0 * 0.5, 0.5, chain_k_per_w(4.0, 0.0, 50.0), 25.0, 1.25, 92.5),
    ],
)
def test_the_heat_of_a_7805(
    input_v: float, load_a: float, k_per_w: float, ambient: float, watts: float, degc: float
) -> None:
    burnt = dissipation_w(input_v, 5.0, load_a, 0.0)
    assert burnt == pytest.approx(watts)
    assert junction_degc(ambient, burnt, k_per_w) == pytest.approx(degc)


def test_what_a_7805_may_burn_without_a_heat_sink() -> None:
    # A worked example (secondary, with the figures of the datasheet): 65 K/W, 100 K of rise are
    # 1.5 W, which is 500 mA at 8 V, 214 mA at 12 V and 60 mA at 30 V.
    assert allowed_w(125.0, 25.0, 65.0) == pytest.approx(1.5, abs=0.05)
    for input_v, load_a in ((8.0, 0.500), (12.0, 0.214), (30.0, 0.060)):
        assert dissipation_w(input_v, 5.0, load_a, 0.0) == pytest.approx(1.5, abs=0.005)
    # 0.38 W of it are 24.7 K; with a heat sink of 10 K/W and 2 K/W to it, 17 K/W in all.
    assert junction_degc(0.0, 0.38, 65.0) == pytest.approx(24.7, abs=0.05)
    assert chain_k_per_w(5.0, 2.0, 10.0) == 17.0


def test_a_7812_on_contracts() -> None:
    # 2 V typical (read, LM7805 2006), to plan with 2.5 V (common practice): 14 to 14.5 V at its
    # pins. A 12 V contract gives 12.6 V at most and a 15 V one 13.5 V at least at the far end of
    # a lead (USB PD, secondary): neither is enough.
    needs_v = least_input_v(12.0, 2.0, 0.0), least_input_v(12.0, 2.5, 0.0)
    assert needs_v == (14.0, 14.5)
    assert needs_v[0] > 12.0 * 1.05
    assert needs_v[0] > 15.0 * 0.95 - 0.75


def test_a_filament_between_its_two_laws() -> None:
    # Lamp makers re-rate current with the 0.55th power of the volts (from memory).
    rated = np.array(0.35)
    for volts in (9.0, 12.0, 13.2, 15.0):
        filament = 0.35 * (volts / 12.0) ** 0.55
        laws = [
            float(law.current_a(np.array(volts)))
            for law in (constant_current(rated), resistance(rated, 12.0))
        ]
        assert min(laws) <= filament + 1e-12
        assert filament <= max(laws) + 1e-12


def test_a_cold_filament() -> None:
    # Tungsten at 2 800 K has about 14 times the resistivity that it has at 300 K: 81.0 against
    # 5.65 µΩ·cm (tables of the properties of tungsten, from memory).
    least, most = COLD_FILAMENT
    assert least <= 81.0 / 5.65 <= most


def test_lit_diodes_on_12_v() -> None:
    # Three white diodes of 3.2 V and 120 Ω in a row (common practice): 20 mA at 12 V, and 2 V
    # more, as an old brick may give at light load, are 37 mA.
    assert diodes_a(12.0, 0.02, 12.0, 9.6) == pytest.approx(0.02)
    assert diodes_a(14.0, 0.02, 12.0, 9.6) == pytest.approx((14.0 - 9.6) / 120.0, abs=1e-6)
