"""The assignment: proven best, level by level."""

from collections import Counter
from dataclasses import dataclass

from sinkside.sharing.expand import NotApart, seats_of
from sinkside.sharing.in_order import Level
from sinkside.sharing.question import Question, Seat
from sinkside.sharing.seating import Seating


@dataclass(frozen=True, kw_only=True)
class Assignment:
    """Who sits where.

    Parameters
    ----------
    bought
        How many of each part are to be bought.
    """

    seats: tuple[Seat, ...]
    levels: tuple[Level, ...]
    bought: tuple[tuple[str, int], ...]


def assign(question: Question) -> Assignment:
    """Solve the question of sharing.

    Returns
    -------
    Assignment
        The same for the same question.
    """
    strict: set[str] = set()
    while True:
        seating = Seating(question, strict)
        values, levels = seating.model.solve()
        try:
            seats = seats_of(seating, values)
        except NotApart as clash:
            strict |= clash.kinds
        else:
            return Assignment(seats=seats, levels=levels, bought=_bought(question, seats))


def _bought(question: Question, seats: tuple[Seat, ...]) -> tuple[tuple[str, int], ...]:
    parts = {option.id: option.parts for option in question.options}
    need = Counter(part for seat in seats for part in parts[seat.option])
    short = {part: n - question.stock.get(part, 0) for part, n in need.items()}
    return tuple(sorted((part, n) for part, n in short.items() if n > 0))
