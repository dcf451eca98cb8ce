"""What a capacitor holds up, charges with and rings to, in closed form.

First guesses for a design and checks of the transient: each is exact for its one law of load,
and none knows of more than one law, of diodes that switch, or of a supply that comes back.
"""

import math
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from sinkside.standards.pd_contract import SAFE_0V_V

Number = TypeVar("Number", float, NDArray[np.float64])


def constant_power_s(farad: Number, from_v: Number, to_v: Number, watts: Number) -> Number:
    """How long a capacitor feeds a constant power.

    Parameters
    ----------
    farad
        F.
    from_v, to_v
        Volts at the beginning, and the least that will do.
    watts
        Of the load, W, above 0.

    Notes
    -----
    t = C·(V₁² − V₂²)/2P                                                            Eq. (1)

    Without series resistance; with it less, since the load sees less than the capacitor.

    References
    ----------
    Energy of a capacitor: textbook.

    Examples
    --------
    5 W from 12 V to 9 V on 0.32 F:

    >>> round(constant_power_s(0.32, 12.0, 9.0, 5.0), 2)
    2.02
    """
    return farad * (from_v * from_v - to_v * to_v) / (2.0 * watts)


def constant_current_s(
    farad: Number, from_v: Number, to_v: Number, amps: Number, esr_ohm: Number
) -> Number:
    """How long a capacitor feeds a constant current: t = C·(V₁ − V₂ − I·R)/I.          Eq. (2)

    Parameters
    ----------
    farad, from_v, to_v
        As in `constant_power_s`.
    amps
        Of the load, A, above 0.
    esr_ohm
        Series resistance of the capacitor, which drops I·R at once, Ω.

    References
    ----------
    Charge of a capacitor: textbook.

    Examples
    --------
    >>> constant_current_s(1e-3, 9.0, 7.0, 0.4, 0.0)
    0.005
    """
    return farad * (from_v - to_v - amps * esr_ohm) / amps


def resistance_s(farad: float, from_v: float, to_v: float, ohm: float) -> float:
    """How long a capacitor feeds a resistance: t = R·C·ln(V₁/V₂).                     Eq. (3)

    Examples
    --------
    One time constant to 1/e:

    >>> round(resistance_s(1e-3, math.e, 1.0, 15.0), 6)
    0.015
    """
    return ohm * farad * math.log(from_v / to_v)


def farads_for_power(seconds: float, from_v: float, to_v: float, watts: float) -> float:
    """Capacitance that feeds a constant power for so long: C = 2P·t/(V₁² − V₂²).

    Examples
    --------
    5 W, 12 to 9 V, 30 s:

    >>> round(farads_for_power(30.0, 12.0, 9.0, 5.0), 2)
    4.76
    """
    return 2.0 * watts * seconds / (from_v * from_v - to_v * to_v)


def ramp_s(farad: float, volts: float, amps: float) -> float:
    """Time in which a current charges a capacitor to volts: t = C·V/I.                 Eq. (4)

    Examples
    --------
    >>> round(ramp_s(10e-3, 9.0, 1.5), 6)
    0.06
    """
    return farad * volts / amps


def bleed_ohm(seconds: float, farad: float, from_v: float, to_v: float = SAFE_0V_V) -> float:
    """Largest resistance that empties a capacitor in time: R = t/(C·ln(V₁/V₂)).        Eq. (5)

    Parameters
    ----------
    seconds, farad, from_v
        Time, s; capacitance, F; volts at the beginning.
    to_v
        Volts that count as empty; vSafe0V, 0.8 V, if not said.

    Examples
    --------
    100 µF from 9 V to 0.8 V in 0.65 s:

    >>> round(bleed_ohm(0.65, 100e-6, 9.0))
    2686
    """
    return seconds / (farad * math.log(from_v / to_v))


def overshoot(ohm: float, henry: float, farad: float) -> float:
    """Peak over the step, in parts of it, of a capacitor charged through R and L.

    Parameters
    ----------
    ohm, henry, farad
        In a row: Ω, H, F.

    Notes
    -----
    1 + exp(−πζ/√(1 − ζ²)) with ζ = ½R·√(C/L); 1 where ζ ≥ 1                        Eq. (6)

    Without load, from rest, on a step.

    References
    ----------
    Step of a second-order system: textbook.

    Examples
    --------
    >>> overshoot(0.0, 1e-6, 1e-6)
    2.0
    """
    damping = 0.5 * ohm * math.sqrt(farad / henry)
    if damping >= 1.0:
        return 1.0
    return 1.0 + math.exp(-math.pi * damping / math.sqrt(1.0 - damping * damping))
