"""Copper wire: gauge, resistance, and the two customary ratings of current.

Takes floats or arrays. The ratings are conventions, six-fold apart: a wire is really rated by
how warm it may get where it lies. Local codes for fixed wiring come first.
"""

import math
from collections.abc import Mapping

from sinkside.faults import NotUnderstood
from sinkside.standards.arrays import Numbers
from sinkside.working import Source, Status

IACS_RESISTIVITY_OHM_M = 1.7241e-8
"""Annealed copper of 100 % IACS at 20 °C: 58 MS/m."""

COEFFICIENT_PER_K = 3.93e-3
"""Of resistance, for annealed copper, referred to 20 °C."""

REFERENCE_DEGC = 20.0
"""Temperature of all the tables here."""

CHEAP_LEAD_FACTOR = 1.6
"""Upper corner of a lead of unknown make over the copper table: clad aluminium, short gauge."""

POWER_TRANSMISSION_CMIL_PER_A = 700.0
"""The cautious convention: 700 circular mils for each ampere."""

CHASSIS_A: Mapping[int, float] = {
    16: 22.0, 18: 16.0, 20: 11.0, 22: 7.0, 24: 3.5, 26: 2.2, 28: 1.4, 30: 0.86,
}  # fmt: skip
"""The bold convention, by AWG: a single wire, free in air, inside a chassis."""

IEC_60228_CLASS_2_OHM_PER_KM: Mapping[float, float] = {
    0.5: 36.0, 0.75: 24.5, 1.0: 18.1, 1.5: 12.1, 2.5: 7.41,
}  # fmt: skip
"""Most at 20 °C by nominal mm²: solid and stranded conductors (classes 1 and 2), plain."""

IEC_60228_CLASS_5_OHM_PER_KM: Mapping[float, float] = {
    0.5: 39.0, 0.75: 26.0, 1.0: 19.5, 1.5: 13.3, 2.5: 7.98,
}  # fmt: skip
"""Most at 20 °C by nominal mm²: flexible conductors (classes 5 and 6), plain."""

IEC_60228_CLASS_5_TINNED_OHM_PER_KM: Mapping[float, float] = {
    0.5: 40.1, 0.75: 26.7, 1.0: 20.0, 1.5: 13.7, 2.5: 8.21,
}  # fmt: skip
"""Most at 20 °C by nominal mm²: flexible conductors (class 5), tinned."""

SMALL_CORE_OHM_PER_KM: Mapping[float, tuple[float, float]] = {
    0.14: (134.0, 138.0), 0.25: (76.0, 79.0), 0.34: (53.0, 56.0),
}  # fmt: skip
"""Most at 20 °C by nominal mm², below the sizes of IEC 60228; two readings of one table."""

SOURCES: Mapping[str, Source] = {
    "AWG": Source(document="ASTM B258, as given in published notes", status=Status.SECONDARY),
    "IACS_RESISTIVITY_OHM_M": Source(
        document="IEC 60028, as given in NBS Handbook 100", status=Status.SECONDARY
    ),
    "COEFFICIENT_PER_K": Source(
        document="IEC 60028, as given in published notes", status=Status.SECONDARY
    ),
    "REFERENCE_DEGC": Source(
        document="IEC 60028, as given in NBS Handbook 100", status=Status.SECONDARY
    ),
    "CHEAP_LEAD_FACTOR": Source(document="common practice", status=Status.MEMORY),
    "POWER_TRANSMISSION_CMIL_PER_A": Source(
        document="convention of published wire tables, no standard", status=Status.SECONDARY
    ),
    "CHASSIS_A": Source(
        document="HyperPhysics wire gauge table (convention, no standard)", status=Status.READ
    ),
    "IEC_60228_CLASS_2_OHM_PER_KM": Source(
        document="IEC 60228, as given in published tables", status=Status.SECONDARY
    ),
    "IEC_60228_CLASS_5_OHM_PER_KM": Source(
        document="IEC 60228, as given in published tables", status=Status.SECONDARY
    ),
    "IEC_60228_CLASS_5_TINNED_OHM_PER_KM": Source(
        document="IEC 60228, as given in published tables", status=Status.SECONDARY
    ),
    "SMALL_CORE_OHM_PER_KM": Source(
        document="DIN VDE 0295, as given in a published table of unclear columns",
        status=Status.SECONDARY,
    ),
}


def awg_diameter_m(awg: Numbers) -> Numbers:
    """Diameter of a solid wire of American gauge.

    Parameters
    ----------
    awg
        Gauge; 0, −1, −2, −3 stand for 1/0 to 4/0. Float or array.

    Returns
    -------
    float or array
        m, d = 0.127 mm · 92^((36 − n)/39).

    Notes
    -----
    A stranded wire of the gauge has the area of this solid one; its diameter is larger.

    References
    ----------
    ASTM B258, read in a secondary text.
    """
    diameter_m: Numbers = 0.127e-3 * 92.0 ** ((36 - awg) / 39)
    return diameter_m


def awg_area_m2(awg: Numbers) -> Numbers:
    """Cross-section of a wire of American gauge.

    Parameters
    ----------
    awg
        Gauge. Float or array.

    Returns
    -------
    float or array
        m².
    """
    diameter_m = awg_diameter_m(awg)
    return math.pi / 4 * diameter_m * diameter_m


def resistance_ohm_per_m(area_m2: Numbers, temperature_degc: float = REFERENCE_DEGC) -> Numbers:
    """Resistance of a copper conductor for each metre of its length, one way.

    Parameters
    ----------
    area_m2
        Cross-section, m². Float or array.
    temperature_degc
        Of the copper, °C; linear, good to about 0.5 % from −50 to 150 °C.

    Returns
    -------
    float or array
        Ω/m, R = ρ20 · (1 + α20 · (T − 20 °C)) / A.

    Notes
    -----
    Direct current, annealed copper of 100 % IACS, area as given. A real conductor of a nominal
    size may have up to what IEC 60228 allows; a lead of unknown make, `CHEAP_LEAD_FACTOR` times.

    References
    ----------
    IEC 60028, read in secondary texts.

    Examples
    --------
    >>> round(resistance_ohm_per_m(1e-6), 6)
    0.017241
    """
    rise = COEFFICIENT_PER_K * (temperature_degc - REFERENCE_DEGC)
    return IACS_RESISTIVITY_OHM_M * (1 + rise) / area_m2


def awg_ohm_per_m(awg: Numbers, temperature_degc: float = REFERENCE_DEGC) -> Numbers:
    """Resistance of a copper wire of American gauge, for each metre, one way.

    Parameters
    ----------
    awg
        Gauge. Float or array.
    temperature_degc
        Of the copper, °C.

    Returns
    -------
    float or array
        Ω/m.
    """
    return resistance_ohm_per_m(awg_area_m2(awg), temperature_degc)


def circular_mils(area_m2: Numbers) -> Numbers:
    """Cross-section in circular mils: the square of the solid diameter in thousandths of an inch.

    Parameters
    ----------
    area_m2
        m². Float or array.
    """
    return area_m2 / (math.pi / 4 * 25.4e-6**2)


def power_transmission_a(area_m2: Numbers) -> Numbers:
    """Current by the cautious convention: 700 circular mils for each ampere.

    Parameters
    ----------
    area_m2
        Cross-section, m². Float or array.

    Returns
    -------
    float or array
        A.

    References
    ----------
    Convention of published wire tables, no standard; read in a secondary text.
    """
    return circular_mils(area_m2) / POWER_TRANSMISSION_CMIL_PER_A


def chassis_a(awg: int) -> float:
    """Current by the bold convention: a single wire, free in air, inside a chassis.

    Parameters
    ----------
    awg
        An even gauge from 16 to 30.

    Returns
    -------
    float
        A.

    Raises
    ------
    NotUnderstood
        The table has no such gauge.

    References
    ----------
    HyperPhysics wire gauge table; convention, no standard.
    """
    if awg not in CHASSIS_A:
        known = ", ".join(str(gauge) for gauge in CHASSIS_A)
        raise NotUnderstood(
            f"no chassis rating for AWG {awg}", f"the table has {known}", code="unknown-gauge"
        )
    return CHASSIS_A[awg]
