"""What a linear regulator needs, what it burns, and how hot that makes it."""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Number = TypeVar("Number", float, NDArray[np.float64])


def least_input_v(output_v: Number, dropout_v: Number, in_front_v: Number) -> Number:
    """Least volts at the inlet at which a regulator holds its output.

    Parameters
    ----------
    output_v, dropout_v
        Its output and the least between input and output, V.
    in_front_v
        What diodes between inlet and regulator take, V.

    Notes
    -----
    V = V_out + V_do + V_front                                                 Eq. (1)

    Of an input that ripples its trough counts. The dropout of a 78xx is printed as a typical
    value at 25 °C and full current only; it falls with current and temperature.

    References
    ----------
    LM7805 datasheet, 2006 (read): 2.0 V typical.

    Examples
    --------
    A 7805 with 2.5 V to plan with, behind a diode:

    >>> least_input_v(5.0, 2.5, 1.0)
    8.5
    """
    return output_v + dropout_v + in_front_v


def dissipation_w(
    input_v: Number, output_v: Number, output_a: Number, quiescent_a: Number
) -> Number:
    """Power burnt in a linear regulator.

    Parameters
    ----------
    input_v, output_v
        Volts before and behind it, V; of an input that ripples, the mean.
    output_a, quiescent_a
        Its load current and its own, A.

    Notes
    -----
    P = (V_in − V_out)·I + V_in·I_q                                            Eq. (2)

    True in regulation; in dropout it burns less. It is linear in V_in: before, on the old
    brick, with the mean of its volts, as after, on a contract.

    References
    ----------
    Any datasheet of the 78xx family.

    Examples
    --------
    >>> dissipation_w(12.0, 5.0, 1.0, 0.0)
    7.0
    """
    return (input_v - output_v) * output_a + input_v * quiescent_a


def chain_k_per_w(junction_case: Number, case_sink: Number, sink_air: Number) -> Number:
    """Thermal resistances in a row: θ = θ_JC + θ_CS + θ_SA.                       Eq. (3)

    Parameters
    ----------
    junction_case, case_sink, sink_air
        Inside the part, through grease or a pad, and from the heat sink to air, K/W.

    References
    ----------
    LM7805 datasheet, 2006 (read): 5 K/W from junction to case. Grease 0.5 to 1, a silicone pad
    1 to 2 K/W (secondary text).

    Examples
    --------
    >>> chain_k_per_w(5.0, 1.0, 10.0)
    16.0
    """
    return junction_case + case_sink + sink_air


def junction_degc(ambient_degc: Number, power_w: Number, k_per_w: Number) -> Number:
    """Junction temperature: T_j = T_a + P·θ.                                  Eq. (4)

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


def allowed_w(limit_degc: Number, ambient_degc: Number, k_per_w: Number) -> Number:
    """Power at which the junction reaches its limit: Eq. (4) solved for P.

    Parameters
    ----------
    limit_degc
        Highest junction temperature to plan with, °C.
    ambient_degc, k_per_w
        As in `junction_degc`.

    Returns
    -------
    float or array
        W. Negative where the air is hotter than the limit.

    Examples
    --------
    125 °C in air of 25 °C through 65 K/W, a TO-220 without a heat sink:

    >>> round(allowed_w(125.0, 25.0, 65.0), 2)
    1.54
    """
    return (limit_degc - ambient_degc) / k_per_w
