"""A finding: one rule on one path, at the state that decides it."""

from collections.abc import Iterable
from dataclasses import dataclass

from sinkside.rules.table import BY_ID, Rule
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.working import Working


@dataclass(frozen=True, kw_only=True)
class Finding:
    """One rule on one path.

    Parameters
    ----------
    margin
        Distance to the limit at the deciding corner, in the rule's unit; positive holds;
        None if the rule is categorical.
    state
        The state of the supply that decides.
    unknowns
        Names of what is not known and moves this margin, the weightiest first.
    plausibility
        In how many of ten plausible cases it holds; only for unproven findings that are
        not about harm.
    words
        Why, where the rule alone does not say.
    """

    rule: str
    stakes: Stakes
    verdict: Verdict
    margin: float | None
    state: str
    unknowns: tuple[str, ...] = ()
    plausibility: int | None = None
    words: str = ""
    working: Working | None = None

    @property
    def about(self) -> Rule:
        """The rule."""
        return BY_ID[self.rule]


def overall(findings: Iterable[Finding]) -> Verdict:
    """The verdict on a path: the worst of its findings that are more than a nuisance."""
    return max(
        (f.verdict for f in findings if f.stakes is not Stakes.NUISANCE), default=Verdict.FITS
    )
