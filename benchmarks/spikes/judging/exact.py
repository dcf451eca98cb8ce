"""The same roots from outside: brackets by `scipy.optimize.brentq`, digits by `decimal`."""

from __future__ import annotations

import math
from dataclasses import dataclass
from decimal import Decimal, localcontext

import numpy as np
from scipy.optimize import brentq  # type: ignore[import-untyped]

from .branch import Branch

_DIGITS = 40


@dataclass(frozen=True, kw_only=True)
class Exact:
    """One branch solved outside; None where S stays above V₀.

    Parameters
    ----------
    high_v, low_v
        Roots to forty digits.
    brentq_high_v
        The high root as brentq leaves it.
    """

    high_v: Decimal | None
    low_v: Decimal | None
    brentq_high_v: float | None


def exact(branch: Branch, number: int) -> Exact:
    """Solve one point of a branch.

    Notes
    -----
    The nose is a sign change of S′ (brentq), polished in forty digits, where S ≤ V₀ decides
    whether there are roots at all. The roots are brentq's in (nose, V₀] and (0, nose), then
    polished by Newton in forty digits until they move by less than 1e-30.
    """
    one = branch.at(np.array([number]))
    v0, r = float(one.source_v[0]), float(one.series_ohm[0])
    i0, p, g = float(one.constant_a[0]), float(one.power_w[0]), float(one.conductance_s[0])
    diodes = [
        (float(n), float(s))
        for n, s in zip(one.thermal_v[:, 0], one.saturation_a[:, 0], strict=True)
        if n > 0.0
    ]

    def excess(v: float) -> float:
        i = i0 + p / v + g * v
        return v + r * i + sum(n * math.log1p(i / s) for n, s in diodes) - v0

    def slope(v: float) -> float:
        i = i0 + p / v + g * v
        return 1.0 + (g - p / v**2) * (r + sum(n / (s + i) for n, s in diodes))

    precise = _Precise(v0, r, i0, p, g, diodes)
    least = 1e-9 * v0
    nose = least if p == 0.0 else float(brentq(slope, least, 10.0 * v0, xtol=1e-14))
    with localcontext() as context:
        context.prec = _DIGITS
        if precise.excess(precise.nose(nose) if p > 0.0 else Decimal(nose)) > 0:
            return Exact(high_v=None, low_v=None, brentq_high_v=None)
        if excess(nose) >= 0.0:
            # two roots closer than a double can bracket
            return Exact(high_v=precise.root(nose), low_v=None, brentq_high_v=nose)
        high = float(brentq(excess, nose, v0, xtol=1e-15, rtol=8.9e-16))
        low = None
        if p > 0.0:
            far = nose
            while excess(far) < 0.0:
                far *= 0.5
            low = precise.root(float(brentq(excess, far, nose, xtol=1e-15, rtol=8.9e-16)))
        return Exact(high_v=precise.root(high), low_v=low, brentq_high_v=high)


def brentq_high_v(branch: Branch, number: int) -> float | None:
    """The high root alone, one point, as a program without arrays would find it."""
    v0, r = float(branch.source_v[number]), float(branch.series_ohm[number])
    i0, p = float(branch.constant_a[number]), float(branch.power_w[number])
    g = float(branch.conductance_s[number])
    diodes = [
        (float(n), float(s))
        for n, s in zip(branch.thermal_v[:, number], branch.saturation_a[:, number], strict=True)
        if n > 0.0
    ]

    def excess(v: float) -> float:
        i = i0 + p / v + g * v
        return v + r * i + sum(n * math.log1p(i / s) for n, s in diodes) - v0

    # without diodes the nose is here; a diode moves it up by less than its n·V_t
    nose = math.sqrt(p * r / (1.0 + g * r)) + sum(n for n, _ in diodes) / 2.0
    if excess(max(nose, 1e-9)) > 0.0:
        return None
    return float(brentq(excess, max(nose, 1e-9), v0, xtol=1e-15, rtol=8.9e-16))


class _Precise:
    """S of one branch in decimal arithmetic."""

    def __init__(
        self, v0: float, r: float, i0: float, p: float, g: float, diodes: list[tuple[float, float]]
    ) -> None:
        self._v0, self._r, self._i0, self._p, self._g = map(Decimal, (v0, r, i0, p, g))
        self._diodes = [(Decimal(n), Decimal(s)) for n, s in diodes]

    def excess(self, v: Decimal) -> Decimal:
        i = self._i0 + self._p / v + self._g * v
        drop = sum((n * (1 + i / s).ln() for n, s in self._diodes), Decimal(0))
        return v + self._r * i + drop - self._v0

    def slope(self, v: Decimal) -> Decimal:
        i = self._i0 + self._p / v + self._g * v
        ohm = self._r + sum((n / (s + i) for n, s in self._diodes), Decimal(0))
        return 1 + (self._g - self._p / v**2) * ohm

    def root(self, guess: float) -> Decimal:
        v = Decimal(guess)
        for _ in range(8):
            step = self.excess(v) / self.slope(v)
            v -= step
            if abs(step) < Decimal("1e-30"):
                break
        return v

    def nose(self, guess: float) -> Decimal:
        v, h = Decimal(guess), Decimal("1e-12")
        for _ in range(4):
            bend = (self.slope(v + h) - self.slope(v - h)) / (2 * h)
            v -= self.slope(v) / bend
        return v
