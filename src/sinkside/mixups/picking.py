"""Which of many verdicts is told: harm before everything else, and what is sure before what may be.

Codes are verdicts as small numbers, one array a rule, one entry a pair of plug and inlet.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.outcome import Outcome
from sinkside.rules.table import RULES
from sinkside.rules.verdict import Stakes, Verdict

Codes: TypeAlias = NDArray[np.int8]
Told: TypeAlias = tuple[Outcome, bool, str]

# What each broken rule comes to, the gravest first.
GRAVEST: tuple[tuple[str, Outcome], ...] = (
    ("alternating-current", Outcome.AC_INTO_DC),
    ("direct-current", Outcome.AC_INLET),
    ("polarity", Outcome.REVERSED),
    ("over-volts", Outcome.OVER_VOLTS),
    ("button", Outcome.OVER_VOLTS),
    ("ground-short", Outcome.SHORT),
    ("load-side-current", Outcome.OVERLOAD),
    ("port-side-current", Outcome.OVERLOAD),
    ("regulator-heat", Outcome.OVERHEATS),
    ("lived-heat", Outcome.OVERHEATS),
    ("part-volts", Outcome.HARM),
    ("fault-current", Outcome.HARM),
    ("rail-volts", Outcome.HARM),
    ("rail-current", Outcome.HARM),
    ("single-fault", Outcome.HARM),
)
HARM_RULES = tuple(rule for rule, _ in GRAVEST)
RUN_RULES = tuple(
    rule.id
    for rule in RULES
    if rule.stakes in (Stakes.MISBEHAVES, Stakes.LOSS) and rule.judged != "company"
)
REFUSED = "refused"


@dataclass(frozen=True, kw_only=True)
class Picked:
    """What is told of each pair.

    Parameters
    ----------
    harm
        The worst verdict of every rule about harm but polarity, shape (pairs,): that one hangs
        on the plug, which may be changed.
    polarity
        The verdict on that.
    """

    outcomes: tuple[Outcome, ...]
    sure: tuple[bool, ...]
    rules: tuple[str, ...]
    harm: Codes
    polarity: Codes

    def told(self, place: int) -> Told:
        """What is told of one pair: the outcome, whether it is sure, and by which rule."""
        return self.outcomes[place], self.sure[place], self.rules[place]


def pick(codes: Mapping[str, Codes], refused: NDArray[np.bool_]) -> Picked:
    """The outcome of each pair.

    Parameters
    ----------
    codes
        By rule; a rule that is left out fits everywhere.
    refused
        Whether the device is not to be converted whatever the figures are: a plug that goes in
        and suits its volts is not called fine.
    """
    pairs = len(refused)
    fits = np.zeros(pairs, dtype=np.int8)
    harm = np.stack([codes.get(rule, fits) for rule in HARM_RULES])
    runs = np.stack([codes.get(rule, fits) for rule in RUN_RULES])
    broken, first_broken = _first(harm, Verdict.FAILS)
    open_, first_open = _first(harm, Verdict.UNPROVEN)
    stops, first_stop = _first(runs, Verdict.FAILS)
    may_stop, first_may_stop = _first(runs, Verdict.UNPROVEN)
    outcomes, rules, sure = [], [], []
    for i in range(pairs):
        if broken[i]:
            rule, outcome = GRAVEST[first_broken[i]]
            certain = True
        elif open_[i]:
            rule, outcome, certain = HARM_RULES[first_open[i]], Outcome.UNKNOWN, False
        elif refused[i]:
            rule, outcome, certain = REFUSED, Outcome.UNKNOWN, False
        elif stops[i]:
            rule, outcome, certain = RUN_RULES[first_stop[i]], Outcome.WONT_RUN, True
        elif may_stop[i]:
            rule, outcome, certain = RUN_RULES[first_may_stop[i]], Outcome.WONT_RUN, False
        else:
            rule, outcome, certain = "", Outcome.FINE, True
        outcomes.append(outcome)
        rules.append(rule)
        sure.append(certain)
    polarity = codes.get("polarity", fits)
    rest = harm.copy()
    rest[HARM_RULES.index("polarity")] = Verdict.FITS
    least = np.where(refused, np.int8(Verdict.UNPROVEN), fits)
    return Picked(
        outcomes=tuple(outcomes),
        sure=tuple(sure),
        rules=tuple(rules),
        harm=np.maximum(rest.max(axis=0), least).astype(np.int8),
        polarity=polarity,
    )


def _first(codes: Codes, verdict: Verdict) -> tuple[list[bool], list[int]]:
    """Whether any rule has that verdict, and the first that has."""
    has = codes == verdict
    return has.any(axis=0).tolist(), has.argmax(axis=0).tolist()
