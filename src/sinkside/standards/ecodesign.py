"""Limits on external power supplies: Commission Regulation (EU) 2019/1782, Annex II.

For output power up to 250 W. The US limits (10 CFR 430.32(w), Level VI) are the same up to
there. What is computed is what a supply had to reach to be sold; an old brick may be far below.
"""

import math
from collections.abc import Mapping
from enum import StrEnum

from sinkside.faults import NotUnderstood
from sinkside.working import Source, Status


class SupplyKind(StrEnum):
    """Kinds of external power supply that the limits tell apart."""

    AC_AC = "AC-AC"
    AC_DC = "AC-DC"
    LOW_VOLTAGE = "low voltage"  # below 6 V and at least 550 mA
    MULTIPLE = "multiple outputs"


SCOPE_W = 250.0
"""Highest output power that the regulation covers."""

STEP_W = 49.0
"""Power at which the limits change; itself part of the lower range."""

LOW_VOLTAGE_BELOW_V = 6.0
LOW_VOLTAGE_FROM_A = 0.55
"""A supply with one output is low voltage below the first and from the second up."""

NO_LOAD_SMALL_W: Mapping[SupplyKind, float] = {
    SupplyKind.AC_AC: 0.21,
    SupplyKind.AC_DC: 0.10,
    SupplyKind.LOW_VOLTAGE: 0.10,
    SupplyKind.MULTIPLE: 0.30,
}
NO_LOAD_LARGE_W: Mapping[SupplyKind, float] = {
    SupplyKind.AC_AC: 0.21,
    SupplyKind.AC_DC: 0.21,
    SupplyKind.LOW_VOLTAGE: 0.21,
    SupplyKind.MULTIPLE: 0.30,
}
"""Most power without load, up to 49 W and above."""

TEST_LOADS = (0.25, 0.50, 0.75, 1.00)
"""Efficiency is the mean at these parts of the rated current."""

_REGULATION = Source(
    document="Commission Regulation (EU) 2019/1782", clause="Annex II", status=Status.READ
)

SOURCES: Mapping[str, Source] = {
    "SCOPE_W": Source(document="Ecodesign background report", status=Status.SECONDARY),
    "STEP_W": _REGULATION,
    "LOW_VOLTAGE_BELOW_V": _REGULATION,
    "LOW_VOLTAGE_FROM_A": _REGULATION,
    "NO_LOAD_SMALL_W": _REGULATION,
    "NO_LOAD_LARGE_W": _REGULATION,
    "TEST_LOADS": Source(document="Ecodesign background report", status=Status.SECONDARY),
    "minimum_efficiency": _REGULATION,
}

# Slope and offset up to 1 W; factors of ln P and of P, and the offset, up to 49 W; then a constant.
_SMALL: Mapping[SupplyKind, tuple[float, float]] = {
    SupplyKind.AC_AC: (0.5, 0.160),
    SupplyKind.AC_DC: (0.5, 0.160),
    SupplyKind.LOW_VOLTAGE: (0.517, 0.087),
    SupplyKind.MULTIPLE: (0.497, 0.067),
}
_MIDDLE: Mapping[SupplyKind, tuple[float, float, float]] = {
    SupplyKind.AC_AC: (0.071, -0.0014, 0.67),
    SupplyKind.AC_DC: (0.071, -0.0014, 0.67),
    SupplyKind.LOW_VOLTAGE: (0.0834, -0.0014, 0.609),
    SupplyKind.MULTIPLE: (0.075, 0.0, 0.561),
}
_LARGE: Mapping[SupplyKind, float] = {
    SupplyKind.AC_AC: 0.880,
    SupplyKind.AC_DC: 0.880,
    SupplyKind.LOW_VOLTAGE: 0.870,
    SupplyKind.MULTIPLE: 0.860,
}


def minimum_efficiency(output_w: float, kind: SupplyKind = SupplyKind.AC_DC) -> float:
    """Least mean efficiency of a supply.

    Parameters
    ----------
    output_w
        Rated output power, W, above 0 and up to 250.
    kind
        Of supply.

    Returns
    -------
    float
        0 to 1, the mean at 25, 50, 75 and 100 % of the rated current.

    Raises
    ------
    NotUnderstood
        The power is outside the regulation.

    Notes
    -----
    Up to 1 W: a·P + b. Up to 49 W: a·ln P + b·P + c. Above: a constant.

    References
    ----------
    Commission Regulation (EU) 2019/1782, Annex II, read.

    Examples
    --------
    >>> round(minimum_efficiency(10.0), 4)
    0.8195
    """
    _check(output_w)
    if output_w <= 1:
        slope, offset = _SMALL[kind]
        return slope * output_w + offset
    if output_w <= STEP_W:
        of_log, of_power, offset = _MIDDLE[kind]
        return of_log * math.log(output_w) + of_power * output_w + offset
    return _LARGE[kind]


def no_load_limit_w(output_w: float, kind: SupplyKind = SupplyKind.AC_DC) -> float:
    """Most power that a supply may take without load.

    Parameters
    ----------
    output_w
        Rated output power, W, above 0 and up to 250.
    kind
        Of supply.

    Returns
    -------
    float
        W.

    Raises
    ------
    NotUnderstood
        The power is outside the regulation.

    References
    ----------
    Commission Regulation (EU) 2019/1782, Annex II, read.
    """
    _check(output_w)
    return (NO_LOAD_SMALL_W if output_w <= STEP_W else NO_LOAD_LARGE_W)[kind]


def supply_kind(output_v: float, output_a: float, *, output_ac: bool = False) -> SupplyKind:
    """The kind of a supply with one output.

    Parameters
    ----------
    output_v, output_a
        Rated output, V and A.
    output_ac
        Whether the output is a.c.
    """
    if output_v < LOW_VOLTAGE_BELOW_V and output_a >= LOW_VOLTAGE_FROM_A:
        return SupplyKind.LOW_VOLTAGE
    return SupplyKind.AC_AC if output_ac else SupplyKind.AC_DC


def _check(output_w: float) -> None:
    if not 0 < output_w <= SCOPE_W:
        raise NotUnderstood(
            f"the regulation does not cover an output of {output_w:g} W",
            f"it covers up to {SCOPE_W:g} W",
            code="ecodesign-scope",
        )
