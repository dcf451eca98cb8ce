"""Short overloads that a source stands, by the peak-current code of its object.

A peak that lasts longer, or comes more often, than its row may trip the source.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from sinkside.working import Source, Status


@dataclass(frozen=True, kw_only=True)
class Overload:
    """One row: so much more than the offered current, for so long, so often.

    Parameters
    ----------
    ratio
        Of the peak to the current of the object.
    duration_s
        Longest, s.
    duty
        Largest part of the time.
    """

    ratio: float
    duration_s: float
    duty: float


def _rows(short: float, middle: float, long: float) -> tuple[Overload, ...]:
    return (
        Overload(ratio=short, duration_s=1e-3, duty=0.05),
        Overload(ratio=middle, duration_s=2e-3, duty=0.10),
        Overload(ratio=long, duration_s=10e-3, duty=0.50),
    )


OVERLOADS: Mapping[int, tuple[Overload, ...]] = {
    0: (),
    1: _rows(1.50, 1.25, 1.10),
    2: _rows(2.00, 1.50, 1.25),
    3: _rows(2.00, 1.75, 1.50),
}
"""By code; 0 promises nothing above the offered current."""

SOURCES: Mapping[str, Source] = {
    "OVERLOADS": Source(
        document="USB Power Delivery R3.x, as given in an open-source PD header",
        clause="fixed supply overload table",
        status=Status.SECONDARY,
    ),
}


def peak_ratio(code: int, duration_s: float) -> float:
    """How far a peak may go above the offered current, as a ratio to it.

    Parameters
    ----------
    code
        Peak-current code of the object, 0 to 3.
    duration_s
        Of the peak, s; its part of the time must be within the row as well.

    Returns
    -------
    float
        1 where the code promises nothing for so long a peak.
    """
    return max((row.ratio for row in OVERLOADS[code] if duration_s <= row.duration_s), default=1.0)
