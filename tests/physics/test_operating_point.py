"""Source, resistance and load: the roots, the edge of the matched load, and what lies beyond.

The figures are textbook arithmetic: the quadratic formula, and that a source V behind R gives a
load at most V²/4R (maximum power transfer).
"""

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.physics.operating_point import Load, OperatingPoint, operating_point

VOLTS = st.floats(1.0, 60.0)
OHMS = st.floats(1e-3, 10.0)


def load(amps: float = 0.0, watts: float = 0.0, siemens: float = 0.0) -> Load:
    return Load(constant_a=np.array(amps), power_w=np.array(watts), conductance_s=np.array(siemens))


def solve(volts: float, ohm: float, what: Load) -> OperatingPoint:
    return operating_point(np.array(volts), np.array(ohm), what)


@pytest.mark.parametrize(
    ("what", "volts", "amps"),
    [
        (load(amps=2.0), 18.0, 2.0),
        (load(watts=75.0), 15.0, 5.0),
        (load(siemens=0.25), 16.0, 4.0),
        # 20 − 1·(1 + V/8) = V, so V·9/8 = 19.
        (load(amps=1.0, siemens=0.125), 19.0 / 1.125, 1.0 + 19.0 / 9.0),
    ],
)
def test_twenty_volts_behind_one_ohm_worked_by_hand(what: Load, volts: float, amps: float) -> None:
    found = solve(20.0, 1.0, what)
    assert float(found.v) == pytest.approx(volts, abs=1e-12)
    assert float(found.i_a) == pytest.approx(amps, abs=1e-12)


def test_a_power_has_two_roots_and_the_operating_point_is_the_high_one() -> None:
    found = solve(20.0, 1.0, load(watts=75.0))
    assert (float(found.v), float(found.low_v), float(found.spare_w)) == (15.0, 5.0, 25.0)


def test_at_the_matched_load_the_two_roots_are_one() -> None:
    found = solve(20.0, 1.0, load(watts=100.0))
    assert (float(found.v), float(found.low_v), float(found.spare_w)) == (10.0, 10.0, 0.0)


def test_beyond_the_matched_load_there_is_no_point_and_nan_says_so() -> None:
    found = solve(20.0, 1.0, load(watts=100.0 + 1e-6))
    assert math.isnan(found.v)
    assert math.isnan(found.i_a)
    assert math.isnan(found.low_v)
    assert float(found.spare_w) == pytest.approx(-1e-6, rel=1e-6)


def test_a_constant_current_that_no_source_can_push_has_no_point() -> None:
    found = solve(10.0, 2.0, load(amps=5.5))
    assert math.isnan(found.v)
    assert float(found.spare_w) == -math.inf


def test_with_a_current_beyond_reach_a_power_has_less_than_nothing_to_spare() -> None:
    found = solve(10.0, 2.0, load(amps=6.0, watts=1.0))
    assert math.isnan(found.v)
    assert float(found.spare_w) < -1.0


def test_without_resistance_the_load_sees_the_source() -> None:
    found = solve(9.0, 0.0, load(watts=18.0))
    assert (float(found.v), float(found.i_a), float(found.spare_w)) == (9.0, 2.0, math.inf)


def test_no_load_draws_nothing() -> None:
    found = solve(9.0, 0.3, load())
    assert (float(found.v), float(found.i_a)) == (9.0, 0.0)
    assert math.isnan(found.low_v)


def test_one_point_without_an_answer_leaves_its_neighbours_alone() -> None:
    watts = np.array([75.0, 101.0, 0.0])
    found = operating_point(
        np.full(3, 20.0),
        np.full(3, 1.0),
        Load(constant_a=np.zeros(3), power_w=watts, conductance_s=np.zeros(3)),
    )
    assert np.isnan(found.v).tolist() == [False, True, False]
    assert found.v[[0, 2]].tolist() == [15.0, 20.0]


def test_a_column_and_a_row_broadcast() -> None:
    found = operating_point(
        np.array([[9.0], [12.0]]),
        np.array([0.1, 0.2, 0.3]),
        Load(constant_a=np.array(1.0), power_w=np.array(0.0), conductance_s=np.array(0.0)),
    )
    assert found.v.shape == (2, 3)
    assert found.v[1, 2] == pytest.approx(11.7)


@settings(derandomize=True, deadline=None)
@given(VOLTS, OHMS, st.floats(0.0, 0.999), st.floats(0.0, 2.0))
def test_what_leaves_the_source_arrives_or_is_burnt(
    volts: float, ohm: float, share: float, siemens: float
) -> None:
    """Energy balance: V₀·I = I²·R + V·I, with I what the load draws at V (Tellegen)."""
    watts = share * volts**2 / (4 * ohm * (1 + ohm * siemens))
    what = load(watts=watts, siemens=siemens)
    found = solve(volts, ohm, what)
    v, i = float(found.v), float(found.i_a)
    assert volts * i == pytest.approx(i * i * ohm + v * i, rel=1e-9, abs=1e-12)
    assert i == pytest.approx(watts / v + siemens * v, rel=1e-9)


@settings(derandomize=True, deadline=None)
@given(VOLTS, OHMS, st.floats(0.0, 1.0))
def test_the_high_root_of_a_power_never_lies_below_half_the_source(
    volts: float, ohm: float, share: float
) -> None:
    found = solve(volts, ohm, load(watts=share * 0.999999 * volts**2 / (4 * ohm)))
    assert float(found.v) >= volts / 2 * (1 - 1e-6)


@settings(derandomize=True, deadline=None)
@given(VOLTS, OHMS, st.floats(0.01, 0.9), st.floats(1.001, 1.1))
def test_more_power_means_less_volts_and_less_to_spare(
    volts: float, ohm: float, share: float, more: float
) -> None:
    watts = share * volts**2 / (4 * ohm)
    less, greater = (solve(volts, ohm, load(watts=w)) for w in (watts, watts * more))
    assert float(greater.v) < float(less.v)
    assert float(greater.spare_w) < float(less.spare_w)
