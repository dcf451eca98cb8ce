"""Errors of curves and of crossings."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from .circuit import Load
from .sequence import Array

SMALL_PERCENT = 0.1


@dataclass(frozen=True, kw_only=True)
class Difference:
    """One curve against another at the same times.

    Parameters
    ----------
    worst_percent
        Of the reference's swing.
    at_s
        Where that is.
    share
        Share of the time with less than `SMALL_PERCENT` of the swing between them.
    """

    worst_percent: float
    at_s: float
    share: float


def difference(t_s: Array, v: Array, reference_v: Array) -> Difference:
    """Compare on times that need not be even; the share is weighted by the time between."""
    swing = float(np.max(reference_v) - np.min(reference_v))
    percent = 100.0 * np.abs(v - reference_v) / swing
    worst = int(np.argmax(percent))
    weight = np.diff(t_s, append=t_s[-1])
    small = percent < SMALL_PERCENT
    return Difference(
        worst_percent=float(percent[worst]),
        at_s=float(t_s[worst]),
        share=float(np.sum(weight[small]) / np.sum(weight)),
    )


def changes(load: Load, t_s: Array, v: Array) -> tuple[float, ...]:
    """When a curve makes the first run's load change its piece, by straight lines between."""
    low, high = load.leaves_low_v[:, 0], load.leaves_high_v[:, 0]
    piece = low.size - 1
    found: list[float] = []
    for number in range(1, t_s.size):
        before, after = float(v[number - 1]), float(v[number])
        while after > high[piece] or after < low[piece]:
            bound = high[piece] if after > high[piece] else low[piece]
            piece += -1 if after > high[piece] else 1
            share = 0.0 if after == before else (bound - before) / (after - before)
            span = float(t_s[number] - t_s[number - 1])
            found.append(float(t_s[number - 1]) + min(max(share, 0.0), 1.0) * span)
    return tuple(found)


def halves(t_s: Array, level: Array) -> tuple[float, ...]:
    """When a level of 0 or 1 passes one half, by straight lines between."""
    over = level > 0.5
    after = np.flatnonzero(over[1:] != over[:-1]) + 1
    before = after - 1
    share = (0.5 - level[before]) / (level[after] - level[before])
    return tuple(float(t) for t in t_s[before] + share * (t_s[after] - t_s[before]))


def worst_shift_s(one: tuple[float, ...], other: tuple[float, ...]) -> float:
    """The largest difference of crossing times; NaN where their numbers differ."""
    if len(one) != len(other):
        return float("nan")
    return max((abs(a - b) for a, b in zip(one, other, strict=True)), default=0.0)
