"""When fuses carry and when they must open: gates of IEC 60127-2 and UL 248-14, and derating.

Two traditions that name a fuse differently: the IEC rating is what a fuse carries for ever, the
UL rating is to be loaded to 75 % only. A fuse opens only if the source can keep up the current
of the second gate; many chargers fold back before.
"""

from bisect import bisect_right
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.faults import NotUnderstood
from sinkside.working import Source, Status


class FuseStandard(StrEnum):
    """Standards and characteristics that set gates."""

    IEC_60127_2_F = "IEC 60127-2 quick (F), sheet 2"
    IEC_60127_2_T = "IEC 60127-2 time-lag (T), sheet 3"
    UL_248_14 = "UL 248-14"


@dataclass(frozen=True, kw_only=True)
class Gate:
    """At a multiple of the rated current, the fuse opens not before, and not after.

    Parameters
    ----------
    ratio
        Current over the rated current.
    not_before_s
        0 if there is no such demand.
    not_after_s
        Infinite if there is no such demand.
    """

    ratio: float
    not_before_s: float = 0.0
    not_after_s: float = float("inf")


GATES: Mapping[FuseStandard, tuple[Gate, ...]] = {
    FuseStandard.IEC_60127_2_F: (
        Gate(ratio=1.0, not_before_s=float("inf")),
        Gate(ratio=1.5, not_before_s=3600.0),
        Gate(ratio=2.1, not_after_s=1800.0),
    ),
    FuseStandard.IEC_60127_2_T: (
        Gate(ratio=1.0, not_before_s=float("inf")),
        Gate(ratio=1.5, not_before_s=3600.0),
        Gate(ratio=2.1, not_after_s=120.0),
        Gate(ratio=10.0, not_before_s=0.020, not_after_s=0.300),
    ),
    FuseStandard.UL_248_14: (
        Gate(ratio=1.0, not_before_s=float("inf")),
        Gate(ratio=1.35, not_after_s=3600.0),
        Gate(ratio=2.0, not_after_s=120.0),
    ),
}
"""By standard, rising by current. UL 248-14 up to 30 A."""

SURE_RATIO: Mapping[FuseStandard, float] = {
    FuseStandard.IEC_60127_2_F: 2.1,
    FuseStandard.IEC_60127_2_T: 2.1,
    FuseStandard.UL_248_14: 2.0,
}
"""Current over the rated current that a source must keep up for a fuse to be sure to open."""

CONTINUOUS_RATIO: Mapping[FuseStandard, float] = {
    FuseStandard.IEC_60127_2_F: 1.0,
    FuseStandard.IEC_60127_2_T: 1.0,
    FuseStandard.UL_248_14: 0.75,
}
"""Part of the rated current that a fuse may carry for ever, at 23 to 25 °C."""

CHIP_FUSE_RATIO = 0.70
"""The same of a chip fuse, before the factor for temperature."""

PULSE_RATIOS: Mapping[int, float] = {100: 0.48, 1_000: 0.38, 10_000: 0.29, 100_000: 0.22}
"""Largest I²t of a pulse over the melting I²t of the fuse, by the number of pulses to stand."""

PPTC_HOLD_RATIO: Mapping[float, float] = {
    -40.0: 1.45, -20.0: 1.30, 0.0: 1.20, 25.0: 1.00, 40.0: 0.88,
    50.0: 0.80, 60.0: 0.71, 70.0: 0.66, 85.0: 0.56,
}  # fmt: skip
"""Hold current of a resettable fuse (PPTC) over that at 25 °C, by ambient °C; one maker's."""

_IEC = Source(
    document="IEC 60127-2, sheets 2 and 3, from memory; UL 248-14 as given in a maker's guide",
    status=Status.MEMORY,
)
_GUIDE = "a maker's guide to fuses"

SOURCES: Mapping[str, Source] = {
    "GATES": _IEC,
    "SURE_RATIO": _IEC,
    "CONTINUOUS_RATIO": Source(
        document=f"IEC 60127 and UL 248-14, as given in {_GUIDE}", status=Status.SECONDARY
    ),
    "CHIP_FUSE_RATIO": Source(document=_GUIDE, status=Status.SECONDARY),
    "PULSE_RATIOS": Source(document=_GUIDE, status=Status.SECONDARY),
    "PPTC_HOLD_RATIO": Source(document="one maker's derating table", status=Status.SECONDARY),
}


def continuous_a(rated_a: float, standard: FuseStandard) -> float:
    """Most current that a fuse may carry for ever, at room temperature.

    Parameters
    ----------
    rated_a
        A.
    standard
        By which it is rated.

    Returns
    -------
    float
        A.
    """
    return rated_a * CONTINUOUS_RATIO[standard]


def sure_to_open_a(rated_a: float, standard: FuseStandard) -> float:
    """Least current, kept up, at which a fuse is sure to open.

    Parameters
    ----------
    rated_a
        A.
    standard
        By which it is rated.

    Returns
    -------
    float
        A. A source that limits below it cannot blow the fuse.
    """
    return rated_a * SURE_RATIO[standard]


def opening_time_s(ratio: float, standard: FuseStandard) -> tuple[float, float]:
    """The shortest and the longest time in which a fuse opens, as far as its gates tell.

    Parameters
    ----------
    ratio
        Current over the rated current.
    standard
        By which it is rated.

    Returns
    -------
    tuple of float
        s. Above a gate it opens no later than at it, below a gate no sooner; infinite or 0
        where no gate tells.
    """
    gates = GATES[standard]
    latest = [g.not_after_s for g in gates if g.ratio <= ratio]
    soonest = [g.not_before_s for g in gates if g.ratio >= ratio]
    return (max(soonest, default=0.0), min(latest, default=float("inf")))


def chip_fuse_rating_a(load_a: float, temperature_ratio: float) -> float:
    """Least rating of a chip fuse for a continuous load.

    Parameters
    ----------
    load_a
        A.
    temperature_ratio
        Its maker's factor for the ambient temperature.

    Returns
    -------
    float
        A, I_n ≥ I / (0.70 k_T).

    Examples
    --------
    >>> round(chip_fuse_rating_a(1.5, 0.95), 3)
    2.256
    """
    return load_a / (CHIP_FUSE_RATIO * temperature_ratio)


def pulse_ratio(pulses: int) -> float:
    """Largest I²t of a pulse over the melting I²t, for a number of pulses to stand.

    Parameters
    ----------
    pulses
        Up to 100 000; between rows the stricter.

    Raises
    ------
    NotUnderstood
        More pulses than the table has.
    """
    enough = [count for count in PULSE_RATIOS if count >= pulses]
    if not enough:
        raise NotUnderstood(
            f"no pulse factor for {pulses} pulses",
            f"the table goes to {max(PULSE_RATIOS)}",
            code="fuse-table",
        )
    return PULSE_RATIOS[min(enough)]


def pptc_hold_ratio(ambient_degc: float) -> float:
    """Hold current of a resettable fuse over that at 25 °C.

    Parameters
    ----------
    ambient_degc
        −40 to 85 °C; linear between the rows.

    Raises
    ------
    NotUnderstood
        Outside the table.

    References
    ----------
    One maker's table, read in a secondary text; others differ by some per cent.
    """
    known = sorted(PPTC_HOLD_RATIO)
    if not known[0] <= ambient_degc <= known[-1]:
        raise NotUnderstood(
            f"no derating of a resettable fuse at {ambient_degc:g} °C",
            f"the table has {known[0]:g} to {known[-1]:g} °C",
            code="fuse-table",
        )
    after = min(bisect_right(known, ambient_degc), len(known) - 1)
    low, high = known[after - 1], known[after]
    part = (ambient_degc - low) / (high - low)
    return PPTC_HOLD_RATIO[low] + part * (PPTC_HOLD_RATIO[high] - PPTC_HOLD_RATIO[low])
