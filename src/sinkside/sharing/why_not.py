"""Why a wish cannot be had: terms of which each one is needed for that, and the cheapest cure.

The terms are found by deletion: drop one, and if the wish still cannot be had, it was not
needed. What is left is irreducible: drop any one of them and the wish can be had.
"""

from collections.abc import Callable, Sequence, Set
from dataclasses import dataclass

from sinkside.sharing.changes import Change, changed, changes_of
from sinkside.sharing.least import seated
from sinkside.sharing.question import Question
from sinkside.sharing.terms import Term, term_words, terms_of, without
from sinkside.sharing.wishes import Wish, meant, wish_words, wished

# How many changes are made together at the most before it is said that there is no cure.
MOST_CHANGES = 2


@dataclass(frozen=True, kw_only=True)
class Reason:
    """One term that stands in the way, with the words for it."""

    term: Term
    words: str


@dataclass(frozen=True, kw_only=True)
class Cure:
    """Changes that make a wish possible.

    Parameters
    ----------
    bought_cents
        What is to be bought then costs in all, at the least.
    more_cents
        What that is more than without the wish, and what the changes themselves cost; None
        where something has no known price.
    """

    changes: tuple[Change, ...]
    bought_cents: int
    more_cents: int | None
    words: str


@dataclass(frozen=True, kw_only=True)
class WhyNot:
    """The answer to a wish.

    Parameters
    ----------
    possible
        Whether it can be had after all, with all those still seated who have a seat.
    reasons
        Empty if it is possible, and where nothing that could be dropped would help.
    cures
        The cheapest first; those whose price nobody knows after them.
    proven
        Whether the solver came to the end of every question.
    words
        The whole in one sentence.
    """

    wish: Wish
    possible: bool
    reasons: tuple[Reason, ...]
    cures: tuple[Cure, ...]
    proven: bool
    words: str


def why_not(question: Question, seats: Set[str], wish: Wish, *, currency: str = "") -> WhyNot:
    """Say why a wish cannot be had, while those who have a seat keep one.

    Parameters
    ----------
    seats
        The devices that have a seat in the plan; they may be moved, not unseated.
    currency
        For the words alone.

    Notes
    -----
    Irreducible does not mean the only one: there may be other sets of terms that forbid the
    wish by themselves. A cure is tried on the whole question, so it cures them all.

    References
    ----------
    Deletion filter: Chinneck and Dravnieks, Locating minimal infeasible constraint sets in
    linear programs, ORSA Journal on Computing 3 (1991) (from memory).
    """
    return _WhyNot(question, seats, wish, currency).answer()


class _WhyNot:
    def __init__(self, question: Question, seats: Set[str], wish: Wish, currency: str) -> None:
        self.plain = question
        self.question = wished(question, wish)
        self.seats, self.wish, self.currency = frozenset(seats), wish, currency
        self.proven = True

    def answer(self) -> WhyNot:
        if self._can(self.question, frozenset()):
            return self._told(True, (), (), "nothing stands in its way")
        kept = self._irreducible(self.question)
        if kept is None:
            return self._told(
                False, (), (), "no chain that is left would do, whatever were changed"
            )
        reasons = tuple(
            Reason(term=term, words=term_words(term, self.question, self.currency)) for term in kept
        )
        return self._told(False, reasons, self._cures(kept), spoken(reasons))

    def _told(
        self, possible: bool, reasons: tuple[Reason, ...], cures: tuple[Cure, ...], words: str
    ) -> WhyNot:
        said = f"{wish_words(self.wish, self.currency)}: {words}"
        if cures:
            said += f". The cheapest cure: {cures[0].words}"
        return WhyNot(
            wish=self.wish,
            possible=possible,
            reasons=reasons,
            cures=cures,
            proven=self.proven,
            words=said,
        )

    def _can(self, question: Question, dropped: Set[Term]) -> bool:
        """Whether the wish can be had once some terms are dropped."""
        free = {term.names[0] for term in dropped if term.what == "stays"}
        must = (self.seats - free) | meant(self.wish)
        found = seated(without(question, dropped), must)
        self.proven &= found.proven
        return found.together

    def _irreducible(self, question: Question) -> tuple[Term, ...] | None:
        """Terms that together forbid the wish, none of them idle; None if no term does."""
        terms = terms_of(question, self.seats - meant(self.wish))
        if not self._can(question, frozenset(terms)):
            return None
        return tuple(sorted(_filtered(terms, lambda dropped: self._can(question, dropped))))

    def _cures(self, kept: Sequence[Term]) -> tuple[Cure, ...]:
        """Every change to one of the terms that cures; if there is none, every two.

        Whatever cures has to break this set of terms, so only its terms are changed; where
        that is not enough, what still stands in the way is changed as well.
        """
        spent = seated(self.plain, self.seats, priced=True).cents or 0
        found: dict[tuple[Change, ...], Cure] = {}
        open_: list[tuple[Change, ...]] = [()]
        for _ in range(MOST_CHANGES):
            still = []
            for made in open_:
                now = self._after(made)
                terms = kept if not made else self._irreducible(now)
                for change in (c for t in terms or () for c in changes_of(t, now)):
                    both = tuple(sorted((*made, change)))
                    cure = self._cure(both, spent)
                    if cure is not None:
                        found[both] = cure
                    elif both not in still:
                        still.append(both)
            if found:
                break
            open_ = still
        return tuple(sorted(found.values(), key=_rank))

    def _after(self, made: Sequence[Change]) -> Question:
        question = self.question
        for change in made:
            question = changed(question, change)
        return question

    def _cure(self, made: tuple[Change, ...], spent: int) -> Cure | None:
        """What changes come to, if they cure."""
        left = {name for change in made for name in change.leaves}
        must = (self.seats - left) | meant(self.wish)
        found = seated(self._after(made), must, priced=True)
        self.proven &= found.proven
        if not found.together or found.cents is None:
            return None
        own = [change.cents for change in made]
        more = found.cents - spent
        total = None if None in own else more + sum(c or 0 for c in own)
        told = tuple(change.told(found.cents, self.currency) for change in made)
        return Cure(changes=made, bought_cents=found.cents, more_cents=total, words="; ".join(told))


def _rank(cure: Cure) -> tuple[object, ...]:
    """What leaves another device on its brick comes last, what has no known price before it."""
    leaves = sum(bool(change.leaves) for change in cure.changes)
    return leaves, cure.more_cents is None, cure.more_cents or 0, cure.words


def spoken(reasons: Sequence[Reason]) -> str:
    """Reasons in one sentence; those who keep their ports are named together."""
    stays = [r.term.names[0] for r in reasons if r.term.what == "stays"]
    said = [r.words for r in reasons if r.term.what != "stays"]
    if stays:
        said.append(
            f"{', '.join(stays)} {'keeps a port' if len(stays) == 1 else 'keep their ports'}"
        )
    return "; ".join(said)


def _filtered(terms: Sequence[Term], can_without: Callable[[Set[Term]], bool]) -> list[Term]:
    """Deletion in halves: what can go at once goes at once, what cannot is looked at closer."""
    dropped: set[Term] = set()
    needed: list[Term] = []
    waiting = [list(terms)]
    while waiting:
        some = waiting.pop()
        if not some:
            continue
        if not can_without(dropped | set(some)):
            dropped |= set(some)
        elif len(some) == 1:
            needed.append(some[0])
        else:
            half = len(some) // 2
            waiting += [some[half:], some[:half]]
    return needed
