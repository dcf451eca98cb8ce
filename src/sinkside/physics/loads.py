"""How the current of old gear depends on its volts, and how much more it asks for at the start.

Each law is given as the terms of a `Load`, I(V) = I₀ + P/V + G·V, from the current that is
known at some volts. Where the true law lies between two of them, a device gets both as
alternatives: a filament and a motor lie between a constant current and a resistance.
"""

from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from sinkside.physics.operating_point import Array, Load

Number = TypeVar("Number", float, NDArray[np.float64])

# A cold filament over one that glows: 8 to 15 times its current, for some ten milliseconds
# (common practice, no source).
COLD_FILAMENT = (8.0, 15.0)
# A motor that stands over one that runs: V over its ohms, 3 to 8 times (common practice).
STALLED_MOTOR = (3.0, 8.0)
# An amplifier at full output over what it draws with music through it (common practice: music
# is tested at an eighth of full power, and the current of class B goes with the root of it).
LOUD_AMPLIFIER = (1.0, 4.0)
# Volts at which a row of diodes begins to conduct, over those that it is meant for: the most
# that leaves its resistor something to do (common practice).
KNEE_OF_RATED = 0.9


def constant_current(rated_a: Array) -> Load:
    """The same current at any volts: I(V) = I₁.                                  Eq. (1)

    A linear regulator in regulation; near enough a motor that runs against friction, whatever
    its speed.

    Parameters
    ----------
    rated_a
        A.

    References
    ----------
    Textbook arithmetic.

    Examples
    --------
    >>> float(constant_current(np.array(0.5)).current_a(np.array(9.0)))
    0.5
    """
    nothing = np.zeros_like(rated_a)
    return Load(constant_a=rated_a, power_w=nothing, conductance_s=nothing)


def constant_power(rated_a: Array, rated_v: float) -> Load:
    """The same power at any volts: I(V) = V₁·I₁/V.                               Eq. (2)

    A switching regulator. Below its least volts it stops, which is not told here.

    Parameters
    ----------
    rated_a, rated_v
        The current at some volts, A and V.

    References
    ----------
    Textbook arithmetic; the losses of the regulator are taken as constant.

    Examples
    --------
    >>> float(constant_power(np.array(0.5), 12.0).current_a(np.array(6.0)))
    1.0
    """
    nothing = np.zeros_like(rated_a)
    return Load(constant_a=nothing, power_w=rated_a * rated_v, conductance_s=nothing)


def resistance(rated_a: Array, rated_v: float) -> Load:
    """A current that goes with the volts: I(V) = I₁·V/V₁.                        Eq. (3)

    A heater. It bounds a filament, whose ohms rise with its heat, above its rated volts from
    above and below them from below; likewise a motor against a fan's torque within some per
    cent, an amplifier that is driven to its rails, and the input of a charge pump whose load
    is a resistance (n times the current at n times the volts: n² of the conductance, still one).

    Parameters
    ----------
    rated_a, rated_v
        The current at some volts, A and V.

    References
    ----------
    Ohm's law. The current of a filament goes with about the 0.55th power of the volts (common
    practice of lamp makers, from memory).

    Examples
    --------
    >>> float(resistance(np.array(0.5), 12.0).current_a(np.array(6.0)))
    0.25
    """
    nothing = np.zeros_like(rated_a)
    return Load(constant_a=nothing, power_w=nothing, conductance_s=rated_a / rated_v)


def diodes_a(v: Number, rated_a: Number, rated_v: Number, knee_v: Number) -> Number:
    """Current of lit diodes behind a resistor, above their knee.

    Parameters
    ----------
    v
        Volts across both, V, at least `knee_v`.
    rated_a, rated_v
        The current at some volts, A and V.
    knee_v
        Sum of the forward volts of a row, V, less than `rated_v`.

    Returns
    -------
    float or array
        A. Negative below the knee, where nothing flows in truth.

    Notes
    -----
    I(V) = (V − V_f)/R with R = (V₁ − V_f)/I₁                                  Eq. (4)

    A negative constant current and a conductance. The knee is taken as sharp, and as cold as
    the day: a real one falls by about 2 mV/K and diode.

    References
    ----------
    Textbook arithmetic.

    Examples
    --------
    Three diodes of 3.2 V and 120 Ω on 12 V: 20 mA, and half as much again at 13.2 V:

    >>> round(diodes_a(13.2, 0.02, 12.0, 9.6), 4)
    0.03
    """
    return rated_a * (v - knee_v) / (rated_v - knee_v)


def lit_diodes(rated_a: Array, rated_v: float, knee_v: Array, up_to_v: Array) -> Load:
    """A conductance that bounds the current of lit diodes up to some volts.

    Parameters
    ----------
    rated_a, rated_v
        The current at some volts, A and V.
    knee_v
        Volts at which the row begins to conduct, V, less than `rated_v`.
    up_to_v
        Volts up to which it bounds, V.

    Notes
    -----
    G = I(V₂)/V₂ with I from Eq. (4), nought where V₂ is below the knee        Eq. (5)

    I(V)/V rises with V: G·V is at least the true current up to V₂, and at most beyond.

    References
    ----------
    Arithmetic on Eq. (4).

    Examples
    --------
    >>> terms = lit_diodes(np.array(0.02), 12.0, np.array(9.6), np.array(13.2))
    >>> round(float(terms.current_a(np.array(13.2))), 4)
    0.03
    """
    nothing = np.zeros_like(rated_a)
    reached = np.maximum(0.0, diodes_a(up_to_v, rated_a, rated_v + nothing, knee_v))
    return Load(constant_a=nothing, power_w=nothing, conductance_s=reached / up_to_v)
