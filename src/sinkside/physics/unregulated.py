"""The volts of an old brick at another current than it was read at.

A transformer, a bridge and a capacitor: the volts fall as the current rises, steeply at first
and then less and less. The curve is falling and convex, and that alone bounds it.
"""

from typing import TypeAlias, TypeVar

import numpy as np
from numpy.typing import NDArray

Number = TypeVar("Number", float, NDArray[np.float64])
Range: TypeAlias = tuple[float, float]

# Volts open over those of the plate, of bricks that do not regulate (common practice; single
# bricks of 1.33 to 1.75 are told of in secondary texts).
OPEN_OVER_PLATE = (1.3, 1.75)


def line_v(open_v: Number, loaded_v: Number, loaded_a: Number, load_a: Number) -> Number:
    """Volts on the straight line through the open volts and one loaded reading.

    Parameters
    ----------
    open_v, loaded_v, loaded_a
        The two readings: volts with nothing on it, and volts at a current, V and A, A > 0.
    load_a
        The current that is asked about, A.

    Returns
    -------
    float or array
        V.

    Notes
    -----
    V(I) = V_oc − (V_oc − V₁)·I/I₁                                             Eq. (1)

    The curve of a capacitor-input brick hangs below this line between the two readings and
    stands above its continuation beyond the second one. A brick that regulates lies on it up
    to its rated current and falls below it beyond.

    References
    ----------
    Arithmetic on two points; the shape of the curve from memory.

    Examples
    --------
    13.6 V open and 10.9 V at 0.6 A:

    >>> round(line_v(13.6, 10.9, 0.6, 0.2), 2)
    12.7
    """
    return open_v - (open_v - loaded_v) * load_a / loaded_a


def between_v(open_v: Range, loaded_v: Range, loaded_a: Range, load_a: Range) -> Range:
    """What a brick gives at a current that it was not read at: least and most.

    Parameters
    ----------
    open_v, loaded_v, loaded_a
        Low and high of its two readings, V and A.
    load_a
        Low and high of the current that is asked about, A.

    Returns
    -------
    tuple of float
        V, low and high.

    Notes
    -----
    V falls with I and is convex. So up to the reading, V₁ ≤ V(I) ≤ Eq. (1); beyond it,
    Eq. (1) ≤ V(I) ≤ V₁; each taken at the ends of the ranges that make it widest.

    It says nothing of a brick that is loaded beyond what it is made for.

    Examples
    --------
    >>> tuple(round(v, 2) for v in between_v((13.6, 13.6), (10.9, 10.9), (0.6, 0.6), (0.2, 0.2)))
    (10.9, 12.7)
    >>> tuple(round(v, 2) for v in between_v((13.6, 13.6), (10.9, 10.9), (0.6, 0.6), (0.8, 0.8)))
    (10.0, 10.9)
    """
    low, high = loaded_v[0], loaded_v[1]
    if load_a[0] < loaded_a[1]:
        high = min(open_v[1], line_v(open_v[1], high, loaded_a[1], load_a[0]))
    if load_a[1] > loaded_a[0]:
        most = line_v(open_v[1], low, loaded_a[0], load_a[1]) if loaded_a[0] > 0.0 else 0.0
        low = max(0.0, min(low, most))
    return low, max(low, high)
