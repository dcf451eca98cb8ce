"""The assignment: proven best, level by level.

Where spare ports may be used, every port of a charger may be in use whatever is planned, so
a path is judged in the widest company and seats do not know each other, but for grounds that
must not meet: `by_seat`. Where spare ports are blocked, what is loaded decides: `by_loading`.
"""

from collections import Counter
from dataclasses import dataclass

from sinkside.sharing.by_loading import by_loading
from sinkside.sharing.by_seat import by_seat
from sinkside.sharing.in_order import Level
from sinkside.sharing.question import Question, Seat


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

    Raises
    ------
    TooMany
        With spare ports blocked, more loadings than are taken one by one.
    """
    blocked = any(kind.spare_ports_blocked for kind in question.kinds)
    seats, levels = by_loading(question) if blocked else by_seat(question)
    return Assignment(seats=seats, levels=levels, bought=_bought(question, seats))


def _bought(question: Question, seats: tuple[Seat, ...]) -> tuple[tuple[str, int], ...]:
    parts = {option.id: option.parts for option in question.options}
    need = Counter(part for seat in seats for part in parts[seat.option])
    short = {part: n - question.stock.get(part, 0) for part, n in need.items()}
    return tuple(sorted((part, n) for part, n in short.items() if n > 0))
