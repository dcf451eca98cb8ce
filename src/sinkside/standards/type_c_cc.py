"""Configuration channel (CC) of USB Type-C: what its resistors and volts say.

A source pulls CC up by Rp, which tells what it can supply; a sink pulls CC down by Rd, which
tells that it is there; a marked cable shows Ra on the pin that CC does not use.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.standards.arrays import Numbers
from sinkside.working import Source, Status


class Advertised(StrEnum):
    """What a source advertises on CC."""

    DEFAULT = "default"
    A1_5 = "1.5 A"
    A3_0 = "3.0 A"


@dataclass(frozen=True, kw_only=True)
class PullUp:
    """How a source advertises one level.

    Parameters
    ----------
    current_a
        What the level promises a sink that does not talk, A.
    source_a, source_tolerance
        As a current source: A, and its relative tolerance.
    to_3_3_v_ohm, to_5_v_ohm, resistor_tolerance
        As a resistor to 3.3 V ±5 % or to 4.75–5.5 V: Ω, and its relative tolerance.
    cc_low_v, cc_high_v
        Band of CC volts in which a sink reads the level, V.
    """

    current_a: float
    source_a: float
    source_tolerance: float
    to_3_3_v_ohm: float
    to_5_v_ohm: float
    resistor_tolerance: float
    cc_low_v: float
    cc_high_v: float


PULL_UPS: Mapping[Advertised, PullUp] = {
    Advertised.DEFAULT: PullUp(
        current_a=0.5,
        source_a=80e-6,
        source_tolerance=0.20,
        to_3_3_v_ohm=36e3,
        to_5_v_ohm=56e3,
        resistor_tolerance=0.20,
        cc_low_v=0.25,
        cc_high_v=0.61,
    ),
    Advertised.A1_5: PullUp(
        current_a=1.5,
        source_a=180e-6,
        source_tolerance=0.08,
        to_3_3_v_ohm=12e3,
        to_5_v_ohm=22e3,
        resistor_tolerance=0.05,
        cc_low_v=0.70,
        cc_high_v=1.16,
    ),
    Advertised.A3_0: PullUp(
        current_a=3.0,
        source_a=330e-6,
        source_tolerance=0.08,
        to_3_3_v_ohm=4.7e3,
        to_5_v_ohm=10e3,
        resistor_tolerance=0.05,
        cc_low_v=1.31,
        cc_high_v=2.04,
    ),
}
"""Rp by level. A lead from A to C must have 56 kΩ to VBUS, whatever its charger can do."""

ATTACH_LOW_V = 0.15
"""Below it, no source pulls CC up."""

RD_OHM = 5100.0
RD_TOLERANCE = 0.10
"""Of a sink that wants to read the advertised current."""

RD_TOLERANCE_DEFAULT_ONLY = 0.20
"""Of a sink that takes the default current whatever is advertised."""

RA_LOW_OHM = 800.0
RA_HIGH_OHM = 1200.0
"""Of a marked cable, on the pin that CC does not use."""

LEGACY_LEAD_TOLERANCE = 0.05
"""Of the 56 kΩ in a lead from A to C."""

_NOTES = "USB Type-C R2.0, as given in published notes"
_SHEET = "USB Type-C R2.0, as given in a port controller's datasheet"

SOURCES: Mapping[str, Source] = {
    "PULL_UPS": Source(
        document="USB Type-C R2.0, as given in a maker's manual; 2.04 V from memory",
        clause="Table 4-24",
        status=Status.SECONDARY,
    ),
    "ATTACH_LOW_V": Source(document=_SHEET, status=Status.SECONDARY),
    "RD_OHM": Source(document=_NOTES, clause="Table 4-25", status=Status.SECONDARY),
    "RD_TOLERANCE": Source(document="USB Type-C R2.0", clause="Table 4-25", status=Status.MEMORY),
    "RD_TOLERANCE_DEFAULT_ONLY": Source(
        document=_NOTES, clause="Table 4-25", status=Status.SECONDARY
    ),
    "RA_LOW_OHM": Source(document=_NOTES, clause="Table 4-26", status=Status.SECONDARY),
    "RA_HIGH_OHM": Source(document=_NOTES, clause="Table 4-26", status=Status.SECONDARY),
    "LEGACY_LEAD_TOLERANCE": Source(document="USB Type-C R2.0", status=Status.MEMORY),
}


def cc_v(level: Advertised, rd_ohm: Numbers) -> Numbers:
    """CC volts that a source of constant current makes across a sink's resistor.

    Parameters
    ----------
    level
        What it advertises.
    rd_ohm
        Ω. Float or array.

    Returns
    -------
    float or array
        V, nominal.

    Examples
    --------
    >>> round(cc_v(Advertised.A3_0, 5100.0), 3)
    1.683
    """
    return PULL_UPS[level].source_a * rd_ohm


def divider_v(supply_v: Numbers, pull_up_ohm: Numbers, rd_ohm: Numbers) -> Numbers:
    """CC volts that a pull-up resistor makes across a sink's resistor.

    Parameters
    ----------
    supply_v
        What the pull-up goes to, V; VBUS in a lead from A to C.
    pull_up_ohm, rd_ohm
        Ω. Floats or arrays.

    Returns
    -------
    float or array
        V.
    """
    return supply_v * rd_ohm / (pull_up_ohm + rd_ohm)


def advertised(measured_v: float) -> tuple[Advertised, ...]:
    """What CC volts can mean.

    Parameters
    ----------
    measured_v
        Between the CC pin that is not at 0 V and ground, V.

    Returns
    -------
    tuple of Advertised
        One level; two between the bands, where sinks differ: count on the first. None below
        0.15 V (no source), between 0.15 and 0.25 V the default at most, above 2.04 V none of
        the levels (no resistor, or not a CC pin in use).

    Notes
    -----
    Tells the advertised current only with bare resistors and without a contract: a source that
    talks moves Rp to keep messages apart. A trigger does not read as 5.1 kΩ.

    Examples
    --------
    >>> advertised(0.65)
    (<Advertised.DEFAULT: 'default'>, <Advertised.A1_5: '1.5 A'>)
    """
    levels = tuple(PULL_UPS)
    if measured_v < ATTACH_LOW_V or measured_v > PULL_UPS[Advertised.A3_0].cc_high_v:
        return ()
    within = [n for n in levels if PULL_UPS[n].cc_low_v <= measured_v <= PULL_UPS[n].cc_high_v]
    if within:
        return tuple(within)
    below = [n for n in levels if measured_v > PULL_UPS[n].cc_high_v][-1:]
    above = [n for n in levels if measured_v < PULL_UPS[n].cc_low_v][:1]
    return (*below, *above)
