"""What a plug in an inlet comes to, and the cell of the matrix that says so."""

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal, TypeAlias


class Outcome(StrEnum):
    """What a plug in an inlet comes to."""

    OWN = "its own"
    NO_FIT = "will not go on"
    FINE = "fine"
    WONT_RUN = "will not run"
    REVERSED = "reversed"
    OVER_VOLTS = "over-voltage"
    AC_INTO_DC = "a.c. into d.c."
    AC_INLET = "d.c. into an a.c. inlet"
    SHORT = "short"
    OVERLOAD = "overload"
    OVERHEATS = "overheats"
    HARM = "over a rating"
    UNKNOWN = "may harm"

    @property
    def harmful(self) -> bool:
        """Whether it harms, or nobody can say that it does not."""
        return self not in HARMLESS


HARMLESS = frozenset((Outcome.OWN, Outcome.NO_FIT, Outcome.FINE, Outcome.WONT_RUN))
MAY_NOT_RUN = "may not run"
SourceKind: TypeAlias = Literal["lead", "brick"]


def word(outcome: Outcome, *, sure: bool) -> str:
    """An outcome as people read it: what is not sure to run may not."""
    return MAY_NOT_RUN if outcome is Outcome.WONT_RUN and not sure else outcome.value


@dataclass(frozen=True, kw_only=True)
class Cell:
    """One lead in the inlet of a device: another's, or its own.

    Parameters
    ----------
    lead, source
        The device that the lead is made for, and whether it is the new lead or the old brick's.
    outcome, sure
        What it comes to; not sure where it will not run: it may not.
    loose
        Whether the plug goes on but makes a poor contact.
    own
        Whether the inlet is that of the device that the lead is made for.
    rule
        The rule that decides, by its id in the rule table; `plug` where it does not go on.
    state
        The state of the supply in which the volts are highest, for people.
    top_v
        The highest volts that the plug can bring; r.m.s. if a.c.; None where it does not go on.
    harmed_above_v
        The damage limit of the inlet, at least and at most.
    """

    lead: str
    inlet: str
    outcome: Outcome
    loose: bool = False
    own: bool = False
    source: SourceKind = "lead"
    sure: bool = True
    rule: str = ""
    state: str = ""
    top_v: float | None = None
    harmed_above_v: tuple[float, float] | None = None

    @property
    def harmful(self) -> bool:
        """Whether it harms, or nobody can say that it does not."""
        return self.outcome.harmful

    @property
    def word(self) -> str:
        """The outcome as people read it."""
        return word(self.outcome, sure=self.sure)

    @property
    def told(self) -> str:
        """The volts against the limit, in words; empty where no plug goes on."""
        if self.top_v is None or self.harmed_above_v is None:
            return ""
        low, high = self.harmed_above_v
        limit = f"{low:.4g} V" if low == high else f"{low:.4g} to {high:.4g} V"
        state = f" ({self.state})" if self.state else ""
        return f"up to {self.top_v:.4g} V{state}; it is harmed above {limit}"
