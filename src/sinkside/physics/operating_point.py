"""Where a source behind a resistance and a load meet.

The load is a polynomial one: a constant current, a constant power and a conductance at
once, I(V) = I₀ + P/V + G·V. With a source V₀ behind R the meeting points are the roots of

    (1 + R·G)·V² − (V₀ − R·I₀)·V + R·P = 0        Eq. (1)

so none, one or two. Only the high root is an operating point: at the low one more current
means less volts at the source's full effort, and the circuit runs away from it.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Load:
    """What a load draws; the three laws add up."""

    constant_a: Array
    power_w: Array
    conductance_s: Array

    def current_a(self, v: Array) -> Array:
        """The current at those volts."""
        with np.errstate(divide="ignore", invalid="ignore"):
            return self.constant_a + self.power_w / v + self.conductance_s * v


@dataclass(frozen=True, kw_only=True)
class OperatingPoint:
    """Where source and load meet; NaN where they do not.

    Parameters
    ----------
    v, i_a
        Volts and current at the high root.
    low_v
        Volts at the low root of a constant-power load, where it may latch; NaN if none.
    spare_w
        Power still to be had before there is no operating point; negative if there is none.
    """

    v: Array
    i_a: Array
    low_v: Array
    spare_w: Array


def operating_point(source_v: Array, series_ohm: Array, load: Load) -> OperatingPoint:
    """Solve source, series resistance and polynomial load.

    Parameters
    ----------
    source_v
        Volts at no load, V, shape broadcastable with the others.
    series_ohm
        Resistance between source and load, Ω, ≥ 0.
    load
        What the load draws.

    Notes
    -----
    Eq. (1) in the module's docstring; the high root is taken as 2a⁻¹(b + √(b² − 4ac)), which
    does not cancel. `spare_w` is b²/4aR − P with b = V₀ − R·I₀ and a = 1 + R·G: for a pure
    constant power load V₀²/4R − P, the matched-load limit. A negative b means that the constant
    current alone asks for more than the source can push through R.

    Ignored: any current limit of the source, and the least volts at which the load works.

    References
    ----------
    Matched load and polynomial (ZIP) load: textbook arithmetic.

    Examples
    --------
    20 V behind 1 Ω into 75 W: V² − 20 V + 75 = 0, so 15 V or 5 V, and 100 W is the most.

    >>> p = operating_point(np.array(20.0), np.array(1.0),
    ...     Load(constant_a=np.array(0.0), power_w=np.array(75.0), conductance_s=np.array(0.0)))
    >>> float(p.v), float(p.low_v), float(p.spare_w)
    (15.0, 5.0, 25.0)
    """
    a = 1.0 + series_ohm * load.conductance_s
    b = source_v - series_ohm * load.constant_a
    c = series_ohm * load.power_w
    discriminant = b * b - 4.0 * a * c
    with np.errstate(invalid="ignore", divide="ignore"):
        root = np.sqrt(np.where(discriminant >= 0.0, discriminant, np.nan))
        high = np.where(b > 0.0, (b + root) / (2.0 * a), np.nan)
        low = np.where(load.power_w > 0.0, c / (a * high), np.nan)
        spare = np.where(
            load.power_w > 0.0,
            np.where(series_ohm > 0.0, b * np.abs(b) / (4.0 * a * series_ohm), np.inf)
            - load.power_w,
            np.where(b > 0.0, np.inf, -np.inf),
        )
    return OperatingPoint(v=high, i_a=load.current_a(high), low_v=low, spare_w=spare)
