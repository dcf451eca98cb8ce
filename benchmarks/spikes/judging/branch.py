"""One branch: a source behind resistance and diodes, and the volts that it must bring.

For a load I(V) = I₀ + P/V + G·V behind R and diodes n·V_t·ln(1 + I/I_s) the source must bring

    S(V) = V + R·I(V) + Σ n·V_t·ln(1 + I(V)/I_s)                               Eq. (1)

and the meeting points are the roots of S(V) = V₀. S has one least value, at the *nose*: where
I′ ≥ 0 every term rises; where I′ < 0 each is convex in V. So there are none, one or two roots,
the low one left of the nose and the high one right of it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
Index: TypeAlias = NDArray[np.intp]


@dataclass(frozen=True, kw_only=True)
class Branch:
    """Branches as arrays of shape (points,); diodes of shape (diodes, points).

    Parameters
    ----------
    source_v, series_ohm
        Volts at no load, and all straight resistance.
    thermal_v, saturation_a
        n·V_t and I_s of each diode; where there is none, n·V_t is 0 and I_s is 1.
    constant_a, power_w, conductance_s
        The load.
    """

    source_v: Array
    series_ohm: Array
    thermal_v: Array
    saturation_a: Array
    constant_a: Array
    power_w: Array
    conductance_s: Array

    def at(self, chosen: Index | Mask) -> Branch:
        """The chosen points."""
        return Branch(
            source_v=self.source_v[chosen],
            series_ohm=self.series_ohm[chosen],
            thermal_v=self.thermal_v[:, chosen],
            saturation_a=self.saturation_a[:, chosen],
            constant_a=self.constant_a[chosen],
            power_w=self.power_w[chosen],
            conductance_s=self.conductance_s[chosen],
        )

    def current_a(self, v: Array) -> Array:
        """The load's current at those volts."""
        return self.constant_a + self.power_w / v + self.conductance_s * v

    def diode_v(self, i_a: Array) -> Array:
        """Drop of all diodes at that current."""
        drop: Array = np.sum(self.thermal_v * np.log1p(i_a / self.saturation_a), axis=0)
        return drop

    def diode_ohm(self, i_a: Array) -> Array:
        """Slope of all diodes at that current."""
        slope: Array = np.sum(self.thermal_v / (self.saturation_a + i_a), axis=0)
        return slope

    def excess_v(self, v: Array) -> tuple[Array, Array]:
        """S(V) − V₀ of Eq. (1), and its derivative."""
        i_a = self.current_a(v)
        excess = v + self.series_ohm * i_a + self.diode_v(i_a) - self.source_v
        rise = self.conductance_s - self.power_w / (v * v)
        return excess, 1.0 + rise * (self.series_ohm + self.diode_ohm(i_a))

    @property
    def straight(self) -> Branch:
        """The same without its diodes."""
        return replace(
            self,
            thermal_v=np.zeros((0, *self.source_v.shape)),
            saturation_a=np.ones((0, *self.source_v.shape)),
        )


@dataclass(frozen=True, kw_only=True)
class Roots:
    """Both meeting points, V; NaN where there is none. No power, no low root."""

    high_v: Array
    low_v: Array


def nose_v(branch: Branch) -> Array:
    """Where S is least, V; 0 where the load has no constant power.

    Notes
    -----
    S′ = 0 is V² = P·r/(1 + G·r) with r = R + Σ n·V_t/(I_s + I(V)). The fixed point starts from
    V² − Σ n·V_t·V − P·R = 0, its solution for constant power alone; an error ε in V moves S by
    ε² only, so eight rounds are enough for any R above a milliohm.
    """
    thermal = np.sum(branch.thermal_v, axis=0)
    v = 0.5 * (thermal + np.sqrt(thermal**2 + 4.0 * branch.power_w * branch.series_ohm))
    if not branch.thermal_v.shape[0]:
        r = branch.series_ohm
        bare: Array = np.sqrt(branch.power_w * r / (1.0 + branch.conductance_s * r))
        return bare
    for _ in range(8):
        i_a = branch.current_a(np.where(v > 0.0, v, np.inf))
        r = branch.series_ohm + branch.diode_ohm(np.where(np.isfinite(i_a), i_a, 0.0))
        v = np.sqrt(branch.power_w * r / (1.0 + branch.conductance_s * r))
    nose: Array = v
    return nose
