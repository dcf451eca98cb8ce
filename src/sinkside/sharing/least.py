"""Whether devices can all be seated at once, and what the parts for it cost at the least.

The same columns and rows as the assignment, asked for less: no level is ranked but money.
"""

from collections.abc import Set
from dataclasses import dataclass, replace

from sinkside.sharing.expand import NotApart, seats_of
from sinkside.sharing.question import Question
from sinkside.sharing.seating import Seating


@dataclass(frozen=True, kw_only=True)
class Seated:
    """Whether they all have a seat.

    Parameters
    ----------
    together
        Whether there is a seating in which each of them has a seat.
    cents
        What the parts that are to be bought cost at the least; None unless it was asked for
        and there is a seating.
    proven
        Whether the solver came to the end of it.
    """

    together: bool
    cents: int | None
    proven: bool


def seated(question: Question, must: Set[str], *, priced: bool = False) -> Seated:
    """Try to seat devices together; others may have a seat beside them or not.

    Parameters
    ----------
    must
        Who has to have a seat.
    priced
        Whether the least price is wanted as well.

    Notes
    -----
    The most of them that can be seated are counted, instead of asking whether all can: such a
    question always has an answer, and its bound is the proof.
    """
    reached = {option.device for option in question.options}
    if not must <= reached:
        return Seated(together=False, cents=None, proven=True)
    if not must:
        return Seated(together=True, cents=0 if priced else None, proven=True)
    # What is only open about two grounds keeps nobody from a seat.
    certain = tuple(f for f in question.forbidden if f.certain)
    question = replace(question, forbidden=certain)
    strict: set[str] = set()
    while True:
        seating = Seating(question, strict)
        found = _seated(seating, must, priced=priced)
        try:
            if found.together:
                seats_of(seating, seating.model.known())
        except NotApart as clash:
            strict |= clash.kinds
        else:
            return found


def _seated(seating: Seating, must: Set[str], *, priced: bool) -> Seated:
    count, proven = seating.model.least(seating.serving(must))
    if count is None or -count < len(must):
        return Seated(together=False, cents=None, proven=proven)
    if not priced:
        return Seated(together=True, cents=None, proven=True)
    cents, proven = seating.model.least(seating.model.weights("cents"))
    return Seated(together=True, cents=cents, proven=proven)
