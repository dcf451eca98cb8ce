"""Preferred values of IEC 60063: the E series of resistors and capacitors.

E3 to E24 are listed: the standard's values are not the rounded powers (computing them would
differ at 2.7 to 4.7 and at 8.2). E48 and E96 are the rounded powers.
"""

import math
from collections.abc import Iterator, Mapping

from sinkside.faults import NotUnderstood
from sinkside.working import Source, Status

_E24 = (
    1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0,
    3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1,
)  # fmt: skip


def _rounded_powers(count: int) -> tuple[float, ...]:
    """Values of E48 and E96: 10^(k/N) to three figures."""
    return tuple(round(10.0 ** (k / count), 2) for k in range(count))


SERIES: Mapping[str, tuple[float, ...]] = {
    "E3": _E24[::8],
    "E6": _E24[::4],
    "E12": _E24[::2],
    "E24": _E24,
    "E48": _rounded_powers(48),
    "E96": _rounded_powers(96),
}
"""One decade of each series, from 1 to below 10."""

TOLERANCE: Mapping[str, float] = {"E6": 0.20, "E12": 0.10, "E24": 0.05, "E48": 0.02, "E96": 0.01}
"""Tolerance for which each series was made; parts are sold with others."""

SOURCES: Mapping[str, Source] = {
    "SERIES": Source(
        document="IEC 60063, as given in an encyclopedia entry", status=Status.SECONDARY
    ),
    "TOLERANCE": Source(
        document="IEC 60063, as given in an encyclopedia entry", status=Status.SECONDARY
    ),
}


def nearest(value: float, series: str = "E24") -> float:
    """The preferred value nearest by ratio.

    Parameters
    ----------
    value
        In any unit, above 0.
    series
        A key of `SERIES`.

    Returns
    -------
    float
        In the same unit; of two equally near the lower.

    Raises
    ------
    NotUnderstood
        No such series, or the value is not above 0.

    Examples
    --------
    >>> nearest(5000.0)
    5100.0
    """
    return min(_around(value, series), key=lambda v: (abs(math.log(v / value)), v))


def at_least(value: float, series: str = "E24") -> float:
    """The lowest preferred value that is not below `value`.

    Parameters
    ----------
    value
        In any unit, above 0.
    series
        A key of `SERIES`.

    Raises
    ------
    NotUnderstood
        No such series, or the value is not above 0.

    Notes
    -----
    A value within 1e-9 of a preferred one counts as it, so that 4.7 · 1000 is 4700.
    """
    return min(v for v in _around(value, series) if v >= value * (1 - 1e-9))


def at_most(value: float, series: str = "E24") -> float:
    """The highest preferred value that is not above `value`.

    Parameters
    ----------
    value
        In any unit, above 0.
    series
        A key of `SERIES`.

    Raises
    ------
    NotUnderstood
        No such series, or the value is not above 0.

    Notes
    -----
    A value within 1e-9 of a preferred one counts as it.
    """
    return max(v for v in _around(value, series) if v <= value * (1 + 1e-9))


def _around(value: float, series: str) -> Iterator[float]:
    """The values of the decade of `value`, of the one below and of the one above."""
    if series not in SERIES:
        raise NotUnderstood(
            f"no series {series!r} in IEC 60063 here", f"there are {', '.join(SERIES)}"
        )
    if not 0 < value < math.inf:
        raise NotUnderstood(f"{value!r} has no preferred value", "a finite value above 0")
    decade = math.floor(math.log10(value))
    for exponent in (decade - 1, decade, decade + 1):
        for mantissa in SERIES[series]:
            # Through text: 4.7e-6, not 4.699…e-6.
            yield float(f"{mantissa}e{exponent}")
