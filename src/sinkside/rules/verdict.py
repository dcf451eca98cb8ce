"""Verdicts and stakes, and how verdicts combine.

`fits`: for every unknown, at every variation, it holds. `fails`: for every unknown, some
variation breaks it. `unproven`: the rest, so a measurement can always settle it.
"""

from enum import IntEnum, StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Codes: TypeAlias = NDArray[np.int8]
Array: TypeAlias = NDArray[np.float64]

# A margin this close to its limit is at its limit, which holds: 9 * 1.05 is not 9.45 in floats.
TOUCH = 1e-9


class Verdict(IntEnum):
    """Ordered from good to bad, so that the worst is the greatest."""

    FITS = 0
    UNPROVEN = 1
    FAILS = 2

    @property
    def word(self) -> str:
        """As people read it."""
        return self.name.lower()


class Stakes(StrEnum):
    """What it costs when a rule is broken."""

    HARM = "harm"
    LOSS = "loss"
    MISBEHAVES = "misbehaves"
    NUISANCE = "nuisance"


def decide(worst: Array, best: Array) -> Codes:
    """The verdict on margins.

    Parameters
    ----------
    worst
        Margins with every variation and every unknown at its bad end.
    best
        Margins with every variation at its bad end and every unknown at its good end.

    Notes
    -----
    A margin that is not a number holds nowhere: it never fits.
    """
    holds_worst = np.greater_equal(worst, -TOUCH)
    holds_best = np.greater_equal(best, -TOUCH)
    both, either = holds_worst & holds_best, holds_worst | holds_best
    open_or_broken = np.where(either, Verdict.UNPROVEN, Verdict.FAILS)
    return np.where(both, Verdict.FITS, open_or_broken).astype(np.int8)


def fold(codes: Codes) -> Verdict:
    """Over alternatives of which one is true and nobody knows which."""
    if codes.size == 0:
        return Verdict.FITS
    if codes.min() == Verdict.FAILS:
        return Verdict.FAILS
    return Verdict.FITS if codes.max() == Verdict.FITS else Verdict.UNPROVEN
