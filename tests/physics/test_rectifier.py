"""A full bridge and its capacitor, held against the same circuit walked in small steps of time."""

import doctest
from itertools import pairwise, product

import numpy as np
import pytest

from sinkside.physics import (
    linear_regulator,
    loads,
    operating_point,
    rectifier,
    unregulated,
)

PEAK_V = 12.0
CIRCUITS = list(product((50.0, 60.0), (0.1, 0.5, 1.0), (0.5e-3, 1e-3, 2.2e-3, 10e-3)))


def walked(mains_hz: float, load_a: float, farad: float) -> tuple[float, float]:
    """Trough and mean of an ideal bridge: the capacitor follows the wave up, and the load down."""
    steps = 20_000  # in one half period of the mains
    wave = PEAK_V * np.abs(np.sin(np.pi * np.arange(4 * steps) / steps))
    fall = load_a / (2.0 * mains_hz * steps * farad)
    volts = np.empty_like(wave)
    now = 0.0
    for n, fed in enumerate(wave):
        now = max(now - fall, fed, 0.0)
        volts[n] = now
    settled = volts[2 * steps :]
    return float(settled.min()), float(settled.mean())


@pytest.mark.parametrize(
    "module", [linear_regulator, loads, operating_point, rectifier, unregulated]
)
def test_the_examples_in_the_docstrings_come_out(module: object) -> None:
    found = doctest.testmod(module)  # type: ignore[arg-type]
    assert (found.attempted > 0, found.failed) == (True, 0)


@pytest.mark.parametrize(("mains_hz", "load_a", "farad"), CIRCUITS)
def test_the_capacitor_sinks_no_further_than_the_textbook_says(
    mains_hz: float, load_a: float, farad: float
) -> None:
    trough, mean = walked(mains_hz, load_a, farad)
    least, most = (rectifier.ripple_v(load_a, mains_hz, farad, k) for k in rectifier.ALONE)
    assert max(0.0, rectifier.trough_v(PEAK_V, most)) <= trough + 1e-3
    least = min(least, rectifier.MOST_RIPPLE * PEAK_V)
    assert rectifier.mean_v(PEAK_V, most) <= mean + 1e-3
    assert mean <= rectifier.mean_v(PEAK_V, least) + 1e-3
    assert trough <= rectifier.trough_v(PEAK_V, least) + 1e-3


def test_with_little_ripple_the_textbook_is_right() -> None:
    trough, mean = walked(50.0, 0.1, 10e-3)
    ripple = rectifier.ripple_v(0.1, 50.0, 10e-3, 1.0)
    assert ripple == pytest.approx(0.1)
    assert trough == pytest.approx(rectifier.trough_v(PEAK_V, ripple), abs=0.01)
    assert mean == pytest.approx(rectifier.mean_v(PEAK_V, ripple), abs=0.01)


def test_without_a_capacitor_the_mean_is_that_of_the_wave() -> None:
    # 2√2/π of the r.m.s. value (arithmetic).
    _, mean = walked(50.0, 100.0, 1e-6)
    rms = PEAK_V / rectifier.SINE_CREST
    assert mean == pytest.approx(rectifier.FULL_WAVE_MEAN * rms, rel=1e-3)


def test_a_bigger_capacitor_ripples_less() -> None:
    ripples = rectifier.ripple_v(np.array([0.5, 0.5]), 50.0, 1e-3, 1.0)
    assert ripples.tolist() == [5.0, 5.0]
    sizes = [rectifier.ripple_v(0.5, 50.0, farad, 1.0) for farad in (1e-3, 2e-3, 4e-3)]
    assert all(a > b for a, b in pairwise(sizes))


def test_the_heat_of_a_regulator_goes_by_the_mean_of_what_feeds_it() -> None:
    # Linear in the volts: a saw-tooth from 9 to 13 V burns as much as 11 V.
    saw = np.linspace(9.0, 13.0, 1001)
    burnt = linear_regulator.dissipation_w(
        saw, np.full(1001, 5.0), np.full(1001, 0.5), np.zeros(1001)
    )
    mean = rectifier.mean_v(13.0, 4.0)
    steady = linear_regulator.dissipation_w(mean, 5.0, 0.5, 0.0)
    assert float(burnt.mean()) == pytest.approx(steady)
