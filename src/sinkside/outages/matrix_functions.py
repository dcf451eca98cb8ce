"""Functions of many small matrices at once: what an exponential step is made of.

φ_k(z) = Σ zⁿ/(n + k)! for k = 1, 2, 3, so φ₁(z) = (eᶻ − 1)/z. Matrices have shape
(states, states, runs), vectors (states, runs). One state is a number; two have a closed form;
more go through their eigenvectors.
"""

import math
from typing import Protocol, TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Complex: TypeAlias = NDArray[np.complex128]
Mask: TypeAlias = NDArray[np.bool_]
Numbers = TypeVar("Numbers", NDArray[np.float64], NDArray[np.complex128])

# Eigenvalues of two states nearer than this, times the step, are taken apart by as much: the
# divided difference of φ is then off by no more than its square.
_APART = 1e-5
# Eigenvectors of length one whose determinant is below this are not used.
_DEPENDENT = 1e-7
_TAYLOR = 18
# A rate of change below this is none, 1/s.
_STILL = 1e-12
# The series is used below this, with so many terms: 3e-14 of what it gives.
_NEAR, _TERMS = 0.1, 7


class Functions(Protocol):
    """φ₁, φ₂, φ₃ of a step times a matrix, applied to vectors, for any step."""

    def phi(self, order: int, step_s: Array, vector: Array) -> Array:
        """φ_order(h·J)·vector."""

    def at(self, chosen: NDArray[np.intp]) -> "Functions":
        """Those of the chosen runs."""

    def reach_s(self, drive: Array, allowed: Array) -> Array:
        """The longest step that no lively mode forbids; infinite where all is quiet.

        Parameters
        ----------
        drive
            J·f + ∂f/∂t: what changes the slope.
        allowed
            Amplitude of a mode, in each state, that nobody would miss.

        Notes
        -----
        A mode of eigenvalue λ has the amplitude |P·(J·f + ∂f/∂t)|/|λ|², with P its projection;
        one above `allowed` bounds the step to `_REAL`/|λ|, or to `_RINGING`/|λ| if it rings.
        """


# Of a time constant, and of a radian, that a step may cover while the mode is lively.
_REAL, _RINGING = 2.5, 0.9


def phis(z: Numbers) -> tuple[Numbers, Numbers, Numbers]:
    """φ₁, φ₂, φ₃ of numbers; by the series where the quotients would cancel."""
    near = np.abs(z) < _NEAR
    small, large = np.where(near, z, 0.0), np.where(near, 1.0, z)
    far_1 = np.expm1(large) / large
    far_2 = (far_1 - 1.0) / large
    far_3 = (far_2 - 0.5) / large
    near_3 = np.zeros_like(z)
    for number in range(_TERMS + 2, 2, -1):
        near_3 = near_3 * small + 1.0 / math.factorial(number)
    near_2 = 0.5 + small * near_3
    near_1 = 1.0 + small * near_2
    return (
        np.where(near, near_1, far_1),
        np.where(near, near_2, far_2),
        np.where(near, near_3, far_3),
    )


def times(matrix: Array, vector: Array) -> Array:
    """Matrix by vector, run by run."""
    if vector.shape[0] == 1:
        scaled: Array = matrix[0] * vector
        return scaled
    product: Array = np.einsum("ijn,jn->in", matrix, vector)
    return product


def functions(matrix: Array) -> Functions:
    """What is needed to apply φ of any step times these matrices."""
    match matrix.shape[0]:
        case 1:
            return _One(matrix[0, 0])
        case 2:
            return _Two(matrix)
        case _:
            return _Many.of(matrix)


class _One:
    """One state: a number."""

    def __init__(self, rate: Array) -> None:
        self._rate = rate
        self._step: Array | None = None
        self._known: tuple[Array, Array, Array] | None = None

    def phi(self, order: int, step_s: Array, vector: Array) -> Array:
        if self._known is None or self._step is not step_s:
            self._step, self._known = step_s, phis(step_s * self._rate)
        found: Array = self._known[order - 1] * vector
        return found

    def at(self, chosen: NDArray[np.intp]) -> "_One":
        return _One(self._rate[chosen])

    def reach_s(self, drive: Array, allowed: Array) -> Array:
        size = np.maximum(np.abs(self._rate), _STILL)
        lively = np.abs(drive[0]) > allowed[0] * size * size
        return np.where(lively, _REAL / size, np.inf)


class _Two:
    """Two states: φ(A) = ½(φ(a) + φ(b)) + (φ(a) − φ(b))/(a − b)·(A − m), m the mean of a, b."""

    def __init__(self, matrix: Array) -> None:
        self._matrix = matrix
        self._middle = 0.5 * (matrix[0, 0] + matrix[1, 1])
        apart = 0.5 * (matrix[0, 0] - matrix[1, 1])
        self._square = apart * apart + matrix[0, 1] * matrix[1, 0]
        self._step: Array | None = None
        self._known: list[tuple[Array, Array]] = []

    def phi(self, order: int, step_s: Array, vector: Array) -> Array:
        if not self._known or self._step is not step_s:
            self._prepare(step_s)
        constant, linear = self._known[order - 1]
        turned = times(self._matrix, vector) - self._middle * vector
        found: Array = constant * vector + linear * turned
        return found

    def _prepare(self, step_s: Array) -> None:
        half = step_s * np.sqrt(self._square.astype(np.complex128))
        half = np.where(np.abs(half) < _APART, _APART, half)
        middle = step_s * self._middle
        both = phis(np.stack([middle + half, middle - half]))
        self._step = step_s
        self._known = [
            (0.5 * (one + other).real, step_s * (0.5 * (one - other) / half).real)
            for one, other in both
        ]

    def at(self, chosen: NDArray[np.intp]) -> "_Two":
        return _Two(self._matrix[:, :, chosen])

    def reach_s(self, drive: Array, allowed: Array) -> Array:
        half = np.sqrt(self._square.astype(np.complex128))
        half = np.where(np.abs(half) < 1e-12, 1e-12, half)
        rings = self._square < 0.0
        turned = times(self._matrix, drive) - self._middle * drive
        reach = np.full(half.shape, np.inf)
        for sign in (1.0, -1.0):
            size = np.maximum(np.abs(self._middle + sign * half), _STILL)
            share = np.abs(0.5 * (drive + sign * turned / half))
            lively = np.any(share > allowed * size * size, axis=0)
            most = np.where(rings, _RINGING, _REAL)
            reach = np.where(lively, np.minimum(reach, most / size), reach)
        return reach


class _Many:
    """More states: through the eigenvectors; by scaling and squaring where these are dependent."""

    def __init__(
        self, matrix: Array, values: Complex, vectors: Complex, inverse: Complex, poor: Mask
    ) -> None:
        self._matrix, self._poor = matrix, poor
        self._values, self._vectors, self._inverse = values, vectors, inverse
        self._step: Array | None = None
        self._known: tuple[Complex, Complex, Complex] | None = None

    @classmethod
    def of(cls, matrix: Array) -> "_Many":
        stacked = np.ascontiguousarray(np.moveaxis(matrix, -1, 0))
        values, vectors = np.linalg.eig(stacked)
        values, vectors = values.astype(np.complex128), vectors.astype(np.complex128)
        # Their columns have length one: a determinant near 0 says that they are dependent.
        poor = np.abs(np.linalg.det(vectors)) < _DEPENDENT
        vectors[poor] = np.eye(matrix.shape[0])
        inverse = np.linalg.inv(vectors)
        return cls(matrix, values.T, np.moveaxis(vectors, 0, -1), np.moveaxis(inverse, 0, -1), poor)

    def phi(self, order: int, step_s: Array, vector: Array) -> Array:
        if self._known is None or self._step is not step_s:
            self._step, self._known = step_s, phis(step_s * self._values)
        inside = np.einsum("ijn,jn->in", self._inverse, vector)
        found: Array = np.einsum("ijn,jn->in", self._vectors, self._known[order - 1] * inside).real
        for run in np.flatnonzero(self._poor):
            found[:, run] = _squared(step_s[run] * self._matrix[:, :, run], vector[:, run], order)
        return found

    def at(self, chosen: NDArray[np.intp]) -> "_Many":
        return _Many(
            self._matrix[:, :, chosen],
            self._values[:, chosen],
            self._vectors[:, :, chosen],
            self._inverse[:, :, chosen],
            self._poor[chosen],
        )

    def reach_s(self, drive: Array, allowed: Array) -> Array:
        inside = np.abs(np.einsum("ijn,jn->in", self._inverse, drive))
        size = np.maximum(np.abs(self._values), _STILL)
        rings = np.abs(self._values.imag) > 1e-3 * size
        reach = np.full(drive.shape[1], np.inf)
        for k in range(drive.shape[0]):
            share = np.abs(self._vectors[:, k]) * inside[k]
            # Without usable vectors every mode may have all of it.
            share = np.where(self._poor, np.abs(drive), share)
            lively = np.any(share > allowed * size[k] * size[k], axis=0)
            most = np.where(rings[k], _RINGING, _REAL)
            reach = np.where(lively, np.minimum(reach, most / size[k]), reach)
        return reach


def _squared(matrix: Array, vector: Array, order: int) -> Array:
    """φ_order of one matrix by the exponential of an augmented one, scaled and squared.

    References
    ----------
    Moler and Van Loan, SIAM Review 45, 2003, method 3; augmented as by Sidje, 1998 (from memory).
    """
    states = vector.size
    wide = np.zeros((states + order, states + order))
    wide[:states, :states], wide[:states, states] = matrix, vector
    for k in range(states, states + order - 1):
        wide[k, k + 1] = 1.0
    squarings = max(0, int(np.ceil(np.log2(max(np.abs(wide).sum(axis=1).max(), 1e-300)))) + 1)
    part = wide / 2.0**squarings
    term = found = np.eye(states + order)
    for k in range(1, _TAYLOR + 1):
        term = term @ part / k
        found = found + term
    for _ in range(squarings):
        found = found @ found
    result: Array = found[:states, -1]
    return result
