"""Functions of small matrices against `scipy.linalg.expm` of an augmented matrix.

exp of [[A, b, 0, 0], [0, 0, 1, 0], [0, 0, 0, 1], [0, 0, 0, 0]] has φ₁(A)b, φ₂(A)b and φ₃(A)b in
its columns (Sidje 1998, from memory); scipy's scaling and squaring knows nothing of ours.
"""

import numpy as np
import pytest
from scipy.linalg import expm

from sinkside.outages.matrix_functions import functions, phis, times


def by_scipy(matrix: np.ndarray, vector: np.ndarray, order: int) -> np.ndarray:
    n = len(vector)
    wide = np.zeros((n + 3, n + 3))
    wide[:n, :n], wide[:n, n] = matrix, vector
    wide[n, n + 1] = wide[n + 1, n + 2] = 1.0
    found: np.ndarray = expm(wide)[:n, n + order - 1]
    return found


def matrices(states: int, seed: int) -> np.ndarray:
    """Of circuits: rates from slow to fast, some that ring."""
    draw = np.random.default_rng(seed)
    return draw.normal(size=(states, states, 40)) * 10.0 ** draw.uniform(-2, 1.2, 40)


@pytest.mark.parametrize("states", [1, 2, 3, 4, 5])
@pytest.mark.parametrize("order", [1, 2, 3])
def test_against_an_augmented_exponential(states: int, order: int) -> None:
    draw = np.random.default_rng(7)
    matrix = matrices(states, 11)
    vector, step = draw.normal(size=(states, 40)), draw.uniform(0.01, 1.0, 40)
    found = functions(matrix).phi(order, step, vector)
    for run in range(40):
        expected = by_scipy(step[run] * matrix[:, :, run], vector[:, run], order)
        size = np.abs(expected).max()
        assert found[:, run] == pytest.approx(expected, rel=1e-7, abs=1e-7 * size)


@pytest.mark.parametrize("states", [2, 3, 4])
def test_equal_eigenvalues(states: int) -> None:
    """A Jordan block has one eigenvector only: critically damped."""
    block = -3.0 * np.eye(states) + np.diag(np.ones(states - 1), 1)
    vector = np.arange(1.0, states + 1.0)
    for order in (1, 2, 3):
        found = functions(block[:, :, None]).phi(order, np.array([0.5]), vector[:, None])
        assert found[:, 0] == pytest.approx(by_scipy(0.5 * block, vector, order), rel=1e-5)


def test_nothing_that_moves_is_left_alone() -> None:
    """φ_k(0) = 1/k!."""
    for states in (1, 2, 3):
        matrix, vector = np.zeros((states, states, 1)), np.ones((states, 1))
        for order, value in ((1, 1.0), (2, 0.5), (3, 1.0 / 6.0)):
            found = functions(matrix).phi(order, np.array([2.0]), vector)
            assert found == pytest.approx(value * vector, rel=1e-9)


def test_numbers_from_the_series_to_the_quotients() -> None:
    """φ₁ = (eᶻ − 1)/z and so on, in forty digits."""
    from decimal import Decimal, getcontext

    getcontext().prec = 60
    for z in (-1e6, -40.0, -1.0, -0.11, -0.1, -0.09, -1e-8, 1e-8, 0.0999, 0.1, 0.5, 3.0):
        d = Decimal(z)
        one = (d.exp() - 1) / d
        two = (one - 1) / d
        three = (two - Decimal("0.5")) / d
        found = phis(np.array([z]))
        for ours, exact in zip(found, (one, two, three), strict=True):
            assert float(ours[0]) == pytest.approx(float(exact), rel=2e-12)


def test_a_lively_mode_bounds_the_step_and_a_dead_one_does_not() -> None:
    matrix = np.array([[-1e6, 0.0], [0.0, -1.0]])[:, :, None]
    slope = np.array([[1.0], [1.0]])
    allowed = np.array([[1e-3], [1e-3]])
    drive = times(matrix, slope)
    # The fast one has an amplitude of a microvolt, the slow one of a volt.
    assert functions(matrix).reach_s(drive, allowed)[0] == pytest.approx(2.5)
    lively = times(matrix, np.array([[1e6], [0.0]]))
    assert functions(matrix).reach_s(lively, allowed)[0] == pytest.approx(2.5e-6)


@pytest.mark.parametrize("states", [2, 3])
def test_what_rings_bounds_the_step_to_less_than_a_radian(states: int) -> None:
    matrix = np.zeros((states, states, 1))
    matrix[:2, :2, 0] = [[0.0, 1e4], [-1e4, 0.0]]
    drive = np.zeros((states, 1))
    drive[0] = 1e8
    found = functions(matrix).reach_s(drive, np.full((states, 1), 1e-3))
    assert found[0] == pytest.approx(0.9e-4)
