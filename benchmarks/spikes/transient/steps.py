"""Three embedded third-order steps with a second-order companion: explicit, implicit, exponential.

Each takes every run by its own step. `Step.dense` gives the solution inside the step.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from .circuit import Frozen
from .sequence import Array, Index

Dense: TypeAlias = Callable[[Index, Array], Array]


@dataclass(frozen=True, kw_only=True)
class Step:
    """The end of a step, its estimated error, and what lies inside (runs, share of the step)."""

    y: Array
    error: Array
    dense: Dense
    evaluations: int


Method: TypeAlias = Callable[[Frozen, Array, Array, Array], Step]

# increments of the difference quotients; in a mode a circuit is smooth, mostly straight
_DELTA = 1e-6


def explicit(frozen: Frozen, t: Array, h: Array, y: Array) -> Step:
    """Bogacki–Shampine 3(2), with cubic Hermite interpolation (from memory)."""
    k1 = frozen.slope(frozen.volts(t), y)
    k2 = frozen.slope(frozen.volts(t + 0.5 * h), y + 0.5 * h * k1)
    k3 = frozen.slope(frozen.volts(t + 0.75 * h), y + 0.75 * h * k2)
    end = y + h * (2.0 * k1 + 3.0 * k2 + 4.0 * k3) / 9.0
    k4 = frozen.slope(frozen.volts(t + h), end)
    error = h * (-5.0 * k1 / 72.0 + k2 / 12.0 + k3 / 9.0 - k4 / 8.0)
    return Step(y=end, error=error, dense=_hermite(y, end, h * k1, h * k4), evaluations=4)


def implicit(frozen: Frozen, t: Array, h: Array, y: Array) -> Step:
    """The L-stable Rosenbrock 2(3) pair of Shampine and Reichelt (1997; from memory)."""
    d, e = 1.0 / (2.0 + np.sqrt(2.0)), 6.0 + np.sqrt(2.0)
    port_v = frozen.volts(t)
    f0, jacobian, f_t = _linearised(frozen, port_v, y)
    solve = _solver(np.eye(y.shape[0])[:, :, None] - h * d * jacobian)
    k1 = solve(f0 + h * d * f_t)
    f1 = frozen.slope(frozen.volts(t + 0.5 * h), y + 0.5 * h * k1)
    k2 = solve(f1 - k1) + k1
    end = y + h * k2
    f2 = frozen.slope(frozen.volts(t + h), end)
    k3 = solve(f2 - e * (k2 - f1) - 2.0 * (k1 - f0) + h * d * f_t)
    error = h / 6.0 * (k1 - 2.0 * k2 + k3)
    return Step(
        y=end,
        error=error,
        dense=_hermite(y, end, h * f0, h * f2),
        evaluations=4 + y.shape[0],
    )


def exponential(frozen: Frozen, t: Array, h: Array, y: Array) -> Step:
    """Exponential Rosenbrock 3(2) of Hochbruck and Ostermann (exprb32; from memory).

    Notes
    -----
    y₂ = y + h·φ₁(hJ)·f + h²·φ₂(hJ)·∂f/∂t                                     Eq. (1)
    y₃ = y₂ + 2h·φ₃(hJ)·(f(t+h, y₂) − f − J·(y₂ − y) − h·∂f/∂t)               Eq. (2)

    Exact where the circuit is linear and the port goes in straight lines: there the error is 0
    and a step reaches to the next corner. Inside the step it is the same step, made shorter.
    """
    f0, jacobian, f_t = _linearised(frozen, frozen.volts(t), y)
    end, error = _exponential_end(frozen, t, h, y, (f0, jacobian, f_t))

    def dense(chosen: Index, share: Array) -> Array:
        known = (f0[:, chosen], jacobian[:, :, chosen], f_t[:, chosen])
        shorter = h[chosen] * share
        return _exponential_end(frozen.at(chosen), t[chosen], shorter, y[:, chosen], known)[0]

    return Step(y=end, error=error, dense=dense, evaluations=3 + y.shape[0])


def _exponential_end(
    frozen: Frozen, t: Array, h: Array, y: Array, known: tuple[Array, Array, Array]
) -> tuple[Array, Array]:
    f0, jacobian, f_t = known
    phi = _phi_of(h, jacobian)
    second = y + h * phi(1, f0) + h * h * phi(2, f_t)
    bend = frozen.slope(frozen.volts(t + h), second) - f0 - _times(jacobian, second - y) - h * f_t
    error = 2.0 * h * phi(3, bend)
    return second + error, error


def _linearised(frozen: Frozen, port_v: Array, y: Array) -> tuple[Array, Array, Array]:
    """f, its Jacobian (states, states, runs), and ∂f/∂t through the port's volts."""
    f0 = frozen.slope(port_v, y)
    columns = []
    for state in range(y.shape[0]):
        moved = y.copy()
        moved[state] += _DELTA
        columns.append((frozen.slope(port_v, moved) - f0) / _DELTA)
    by_port = (frozen.slope(port_v + _DELTA, y) - f0) / _DELTA
    return f0, np.stack(columns, axis=1), by_port * frozen.rate_v_per_s


def _times(matrix: Array, vector: Array) -> Array:
    if vector.shape[0] == 1:
        scaled: Array = matrix[0] * vector
        return scaled
    product: Array = np.einsum("ijn,jn->in", matrix, vector)
    return product


def _solver(matrix: Array) -> Callable[[Array], Array]:
    if matrix.shape[0] == 1:
        return lambda right: right / matrix[0]
    (a, b), (c, d) = matrix
    determinant = a * d - b * c
    return lambda right: (
        np.stack([d * right[0] - b * right[1], a * right[1] - c * right[0]]) / determinant
    )


def _hermite(start: Array, end: Array, first: Array, last: Array) -> Dense:
    def dense(chosen: Index, share: Array) -> Array:
        s, rest = share, 1.0 - share
        a, b = start[:, chosen], end[:, chosen]
        return rest * rest * ((1.0 + 2.0 * s) * a + s * first[:, chosen]) + s * s * (
            (3.0 - 2.0 * s) * b - rest * last[:, chosen]
        )

    return dense


def _phi_of(h: Array, jacobian: Array) -> Callable[[int, Array], Array]:
    """φ₁, φ₂, φ₃ of hJ, to be applied to vectors."""
    if jacobian.shape[0] == 1:
        values = _phis(h * jacobian[0, 0])
        return lambda order, vector: values[order - 1] * vector
    matrix = h * jacobian
    middle = 0.5 * (matrix[0, 0] + matrix[1, 1])
    apart = 0.5 * (matrix[0, 0] - matrix[1, 1])
    half = np.sqrt((apart * apart + matrix[0, 1] * matrix[1, 0]).astype(np.complex128))
    # equal eigenvalues: the divided difference needs them apart, and 1e-5 costs 1e-10
    half = np.where(np.abs(half) < 1e-5, 1e-5, half)
    plus, minus = _phis(middle + half), _phis(middle - half)
    centred = matrix.copy()
    centred[0, 0] -= middle
    centred[1, 1] -= middle

    def apply(order: int, vector: Array) -> Array:
        one, other = plus[order - 1], minus[order - 1]
        constant, linear = 0.5 * (one + other).real, (0.5 * (one - other) / half).real
        result: Array = constant * vector + linear * _times(centred, vector)
        return result

    return apply


def _phis(z: Array) -> tuple[Array, Array, Array]:
    """φ_k(z) = Σ zⁿ/(n+k)! for k = 1, 2, 3; by the series where the quotients cancel."""
    near = np.abs(z) < 0.5
    small, large = np.where(near, z, 0.0), np.where(near, 1.0, z)
    far_1 = np.expm1(large) / large
    far_2 = (far_1 - 1.0) / large
    far_3 = (far_2 - 0.5) / large
    series = np.zeros_like(z)
    for number in range(13, 2, -1):
        series = series * small + 1.0 / math.factorial(number)
    near_3 = series
    near_2 = 0.5 + small * near_3
    near_1 = 1.0 + small * near_2
    return (
        np.where(near, near_1, far_1),
        np.where(near, near_2, far_2),
        np.where(near, near_3, far_3),
    )
