"""What a full bridge and its reservoir capacitor make of an a.c. brick.

A full bridge charges the capacitor behind it to the peak of the sine, less two diodes, twice
in each period of the mains; between the peaks the capacitor alone feeds the load.
"""

from math import pi, sqrt
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

Number = TypeVar("Number", float, NDArray[np.float64])

# Peak over r.m.s. volts: of a sine; of the mains behind a transformer with nothing on it, whose
# top is a little flat; and of a transformer that a capacitor loads (from memory).
SINE_CREST = sqrt(2.0)
OPEN_CREST = (1.3, SINE_CREST)
LOADED_CREST = (1.15, SINE_CREST)
# Mean over r.m.s. volts of a rectified sine without any capacitor: 2√2/π (arithmetic).
FULL_WAVE_MEAN = 2.0 * SINE_CREST / pi
# One diode with nothing but the leakage of a capacitor behind it, with the light load of a
# device that is idle, and from there to the peaks of its charging current (from memory).
FORWARD_IDLE_V = 0.3
FORWARD_LIGHT_V = 0.5
FORWARD_LOADED_V = (0.5, 1.0)
# Part of the half period in which the capacitor alone feeds the load: all of it with little
# ripple, least with so much that it runs empty (from the angle of conduction, arithmetic).
ALONE = (0.4, 1.0)
# Ripple up to this part of the peak is told by `ripple_v`; of more, only that it is no less.
MOST_RIPPLE = 0.5
# The mains that bricks were made for.
MAINS_HZ = (50.0, 60.0)
# How far over its nominal volts the mains may stand (EN 50160, from memory).
MAINS_HIGH = 1.10


def peak_v(rms_v: Number, crest: float, forward_v: float) -> Number:
    """Volts to which the capacitor behind a full bridge is charged.

    Parameters
    ----------
    rms_v
        A.c. volts into the bridge, V r.m.s.
    crest
        Peak over r.m.s. of that wave, 1; √2 of a sine.
    forward_v
        Of one diode, V.

    Returns
    -------
    float or array
        V. Negative where the wave does not reach two diodes.

    Notes
    -----
    V̂ = k·V_rms − 2·V_f                                                        Eq. (1)

    Two diodes conduct at a time. True of one full bridge; a half bridge, a doubler and a
    tapped winding give other volts.

    References
    ----------
    Textbook arithmetic.

    Examples
    --------
    12 V and diodes of 0.8 V (a teaching page gives 15.37 V):

    >>> round(peak_v(12.0, SINE_CREST, 0.8), 2)
    15.37
    """
    return crest * rms_v - 2.0 * forward_v


def no_load_peak_v(plate_rms_v: Number, open_ratio: float, mains_ratio: float) -> Number:
    """Highest volts that an a.c. brick puts on its lead: no load, mains high.

    Parameters
    ----------
    plate_rms_v
        A.c. volts on its plate, which hold at its rated current, V r.m.s.
    open_ratio, mains_ratio
        Volts open over those of the plate, 1, and mains over nominal, 1.

    Returns
    -------
    float or array
        V, at the inlet; two diodes less behind its bridge.

    Notes
    -----
    V̂ = √2·V_plate·k_open·k_mains                                              Eq. (2)

    References
    ----------
    A worked example in a forum of the trade (secondary text).

    Examples
    --------
    9 V, 57 % of regulation, mains 10 % high (the example gives about 22 V):

    >>> round(no_load_peak_v(9.0, 1.57, 1.10), 2)
    21.98
    """
    return SINE_CREST * plate_rms_v * open_ratio * mains_ratio


def ripple_v(load_a: Number, mains_hz: float, farad: float, alone: float) -> Number:
    """How far the capacitor sinks between two peaks.

    Parameters
    ----------
    load_a
        Direct current out of the capacitor, A.
    mains_hz
        Frequency of the mains, Hz; a full bridge charges twice in each period.
    farad
        F.
    alone
        Part of the half period in which the capacitor alone feeds the load, 0 to 1.

    Returns
    -------
    float or array
        V peak to peak.

    Notes
    -----
    ΔV = d·I/(2·f·C)                                                           Eq. (3)

    With d = 1 it is the textbook's bound from above. True of a constant current and while ΔV is
    small beside the peak; beyond, the bridge conducts for longer and d falls.

    References
    ----------
    Textbook arithmetic; a teaching page (secondary text).

    Examples
    --------
    2 A and 1 V at 60 Hz want 16.7 mF:

    >>> round(ripple_v(2.0, 60.0, 16.7e-3, 1.0), 3)
    0.998
    """
    return alone * load_a / (2.0 * mains_hz * farad)


def trough_v(peak_v: Number, ripple_v: Number) -> Number:
    """Lowest volts of a capacitor between two peaks: V̂ − ΔV.                     Eq. (4)

    Examples
    --------
    >>> trough_v(12.0, 2.0)
    10.0
    """
    return peak_v - ripple_v


def mean_v(peak_v: Number, ripple_v: Number) -> Number:
    """Mean volts of a capacitor that sinks evenly between two peaks: V̂ − ΔV/2.   Eq. (5)

    It is what a meter on d.c. volts shows, and what the heat of a linear regulator goes by:
    with a constant current its power is linear in the volts.

    Examples
    --------
    >>> mean_v(12.0, 2.0)
    11.0
    """
    return peak_v - ripple_v / 2.0
