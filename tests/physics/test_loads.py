"""The laws of old gear: what they give at their rated volts, and which bounds which elsewhere."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.physics import loads
from sinkside.physics.operating_point import Load, operating_point

AMPS, VOLTS = np.array(0.5), 12.0
LAWS = {
    "constant current": loads.constant_current(AMPS),
    "constant power": loads.constant_power(AMPS, VOLTS),
    "resistance": loads.resistance(AMPS, VOLTS),
    "lit diodes": loads.lit_diodes(AMPS, VOLTS, np.array(9.6), np.array(12.0)),
}


def at(law: Load, volts: float) -> float:
    return float(law.current_a(np.array(volts)))


@pytest.mark.parametrize("name", LAWS)
def test_at_its_rated_volts_every_law_gives_the_rated_current(name: str) -> None:
    assert at(LAWS[name], VOLTS) == pytest.approx(0.5)


@pytest.mark.parametrize(
    ("name", "half", "double"),
    [
        ("constant current", 0.5, 0.5),
        ("constant power", 1.0, 0.25),
        ("resistance", 0.25, 1.0),
    ],
)
def test_at_half_and_at_double_the_volts(name: str, half: float, double: float) -> None:
    assert (at(LAWS[name], 6.0), at(LAWS[name], 24.0)) == pytest.approx((half, double))


@settings(derandomize=True, deadline=None)
@given(st.floats(0.1, 40.0), st.floats(0.0, 1.0))
def test_a_filament_lies_between_a_constant_current_and_a_resistance(
    volts: float, power: float
) -> None:
    # Its current goes with about the 0.55th power of the volts (from memory); any from 0 to 1.
    filament = 0.5 * (volts / VOLTS) ** power
    bounds = sorted((at(LAWS["constant current"], volts), at(LAWS["resistance"], volts)))
    assert bounds[0] - 1e-12 <= filament <= bounds[1] + 1e-12


@settings(derandomize=True, deadline=None)
@given(st.floats(0.0, 0.9), st.floats(1.0, 2.0), st.floats(0.01, 1.0))
def test_up_to_its_volts_the_bound_on_lit_diodes_holds(
    knee: float, top: float, share: float
) -> None:
    knee_v, top_v = knee * VOLTS, top * VOLTS
    bound = loads.lit_diodes(AMPS, VOLTS, np.array(knee_v), np.array(top_v))
    volts = knee_v + share * (top_v - knee_v)
    true_a = loads.diodes_a(volts, 0.5, VOLTS, knee_v)
    assert true_a <= at(bound, volts) + 1e-9
    assert at(bound, top_v) == pytest.approx(loads.diodes_a(top_v, 0.5, VOLTS, knee_v))


@settings(derandomize=True, deadline=None)
@given(st.floats(0.0, 0.9), st.floats(1.0, 2.0))
def test_the_steepest_diodes_bound_the_others_above_their_rated_volts(
    knee: float, over: float
) -> None:
    steepest = loads.diodes_a(over * VOLTS, 0.5, VOLTS, loads.KNEE_OF_RATED * VOLTS)
    assert loads.diodes_a(over * VOLTS, 0.5, VOLTS, knee * VOLTS) <= steepest + 1e-9


def test_diodes_that_are_not_reached_draw_nothing() -> None:
    bound = loads.lit_diodes(AMPS, VOLTS, np.array(9.6), np.array(9.0))
    assert at(bound, 9.0) == 0.0


@pytest.mark.parametrize(("name", "pins_v"), [("constant current", 11.5), ("resistance", 11.52)])
def test_a_law_meets_a_source(name: str, pins_v: float) -> None:
    # 12 V behind 1 Ω: 12 − 0.5; and 24 Ω behind 1 Ω, 12·24/25 (Ohm's law).
    found = operating_point(np.array(12.0), np.array(1.0), LAWS[name])
    assert float(found.v) == pytest.approx(pins_v)


def test_figures_of_the_trade_are_ranges() -> None:
    # Common practice, no source: 8 to 15 ×, 3 to 8 ×, and up to 4 ×.
    assert (loads.COLD_FILAMENT, loads.STALLED_MOTOR) == ((8.0, 15.0), (3.0, 8.0))
    assert loads.LOUD_AMPLIFIER == (1.0, 4.0)
