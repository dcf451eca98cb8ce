"""What a linear regulator burns, and how hot that makes it."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Number = TypeVar("Number", float, NDArray[np.float64])


def dissipation_w(
    input_v: Number, output_v: Number, output_a: Number, quiescent_a: Number
) -> Number:
    """Power burnt in a linear regulator.

    Parameters
    ----------
    input_v, output_v
        Volts before and behind it, V.
    output_a, quiescent_a
        Its load current and its own, A.

    Notes
    -----
    P = (V_in − V_out)·I + V_in·I_q                                            Eq. (1)

    True in regulation; in dropout it burns less.

    References
    ----------
    Any datasheet of the 78xx family.

    Examples
    --------
    >>> dissipation_w(12.0, 5.0, 1.0, 0.0)
    7.0
    """
    return (input_v - output_v) * output_a + input_v * quiescent_a


def junction_degc(ambient_degc: Number, power_w: Number, k_per_w: Number) -> Number:
    """Junction temperature: T_j = T_a + P·θ.                                  Eq. (2)

    Parameters
    ----------
    ambient_degc
        Of the air that its heat goes to, °C.
    power_w
        From `dissipation_w`, W.
    k_per_w
        Junction to that air, all in a row, K/W.

    Examples
    --------
    12 V to 5 V at 1 A through 5 + 1 + 10 K/W in 25 °C:

    >>> junction_degc(25.0, 7.0, 16.0)
    137.0
    """
    return ambient_degc + power_w * k_per_w
