"""The volts of an old brick at another current, held against a brick that is walked in time."""

from functools import cache
from itertools import permutations

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from sinkside.physics.unregulated import OPEN_OVER_PLATE, between_v, line_v

AMPS = (0.0, 0.02, 0.05, 0.1, 0.2, 0.4, 0.6, 0.8)


@cache
def walked(ohm: float) -> dict[float, float]:
    """Mean volts of a 9 V transformer behind some ohms, a bridge and 2200 µF, at each current.

    Ohm's law and C·dV/dt, in steps of 20 µs over the last of ten periods of 50 Hz.
    """
    load = np.array(AMPS)
    volts, sums, step = np.full(load.shape, 12.0), np.zeros_like(load), 20e-6
    for n in range(10_000):
        fed = abs(13.0 * 1.1 * np.sin(2.0 * np.pi * 50.0 * n * step)) - 1.4
        charging = np.maximum(0.0, (fed - volts) / ohm)
        volts = volts + (charging - load) * step / 2200e-6
        if n >= 9_000:
            sums += volts
    return dict(zip(AMPS, (sums / 1_000).tolist(), strict=True))


@pytest.mark.parametrize("ohm", [0.5, 2.0, 5.0])
def test_two_readings_of_a_walked_brick_bound_every_other(ohm: float) -> None:
    curve = walked(ohm)
    opened = (curve[0.0], curve[0.0])
    for read, asked in permutations(AMPS[1:], 2):
        low, high = between_v(opened, (curve[read],) * 2, (read,) * 2, (asked,) * 2)
        assert low - 0.01 <= curve[asked] <= high + 0.01, (read, asked)


def test_a_walked_brick_is_as_unregulated_as_they_come() -> None:
    curve = walked(5.0)
    least, most = OPEN_OVER_PLATE
    assert least <= curve[0.0] / curve[0.2] <= curve[0.0] / curve[0.4] <= most
    # It falls, and less and less steeply.
    volts = np.array(list(curve.values()))
    slopes = np.diff(volts) / np.diff(np.array(AMPS))
    assert (slopes < 0.0).all()
    assert (np.diff(slopes) > -0.5).all()


def test_the_line() -> None:
    assert line_v(12.0, 9.0, 1.0, 0.0) == 12.0
    assert line_v(12.0, 9.0, 1.0, 1.0) == 9.0
    assert line_v(12.0, 9.0, 1.0, 0.5) == 10.5
    assert line_v(12.0, 9.0, 1.0, np.array([0.5, 2.0])).tolist() == [10.5, 6.0]


def test_a_reading_that_is_nearly_open_says_little_of_a_load() -> None:
    assert between_v((13.6, 13.6), (13.4, 13.4), (0.01, 0.01), (1.0, 1.0)) == (0.0, 13.4)
    assert between_v((13.6, 13.6), (13.4, 13.4), (0.0, 0.0), (1.0, 1.0)) == (0.0, 13.4)


RANGE = st.tuples(st.floats(0.0, 1.0), st.floats(0.0, 0.3))


@settings(derandomize=True, max_examples=200, deadline=None)
@given(RANGE, RANGE, RANGE, RANGE)
def test_wider_readings_never_bound_more_closely(
    opened: tuple[float, float],
    loaded: tuple[float, float],
    amps: tuple[float, float],
    asked: tuple[float, float],
) -> None:
    open_v, loaded_v = 14.0 + opened[0], 9.0 + loaded[0]
    read_a, load_a = 0.2 + amps[0], asked[0]
    assume(abs(read_a - load_a) > 1e-6)
    low, high = between_v((open_v,) * 2, (loaded_v,) * 2, (read_a,) * 2, (load_a,) * 2)
    wide = between_v(
        (open_v - opened[1], open_v + opened[1]),
        (loaded_v - loaded[1], loaded_v + loaded[1]),
        (max(0.0, read_a - amps[1] / 2), read_a + amps[1]),
        (max(0.0, load_a - asked[1]), load_a + asked[1]),
    )
    assert wide[0] <= low + 1e-9
    assert high <= wide[1] + 1e-9
