"""Every answer to a question of sharing that is small enough, one after the other."""

from collections.abc import Iterator, Set
from itertools import product

from tests.sharing.questions import better, worth

from sinkside.sharing import Question, Seat

Places = dict[str, tuple[str, int, str]]


def seatings(asked: Question, devices: list[str], taken: Places) -> Iterator[Places]:
    """Every way to put devices on ports; of units alike, the first is used first."""
    if not devices:
        yield dict(taken)
        return
    device, rest = devices[0], devices[1:]
    yield from seatings(asked, rest, taken)
    for kind in asked.kinds:
        used = {unit for k, unit, _ in taken.values() if k == kind.id}
        for unit in range(1, min(kind.count, len(used) + 1) + 1):
            for port in kind.ports:
                if (kind.id, unit, port) not in taken.values():
                    yield from seatings(asked, rest, taken | {device: (kind.id, unit, port)})


def answers(asked: Question) -> Iterator[tuple[Seat, ...]]:
    """Every answer: seats, and an option on each of them."""
    for places in seatings(asked, sorted({o.device for o in asked.options}), {}):
        choices = [
            [
                Seat(kind=kind, unit=unit, port=port, device=device, option=o.id)
                for o in asked.options
                if (o.device, o.kind, o.port) == (device, kind, port)
            ]
            for device, (kind, unit, port) in places.items()
        ]
        yield from product(*choices)


def best_of_all(asked: Question) -> tuple[int, ...]:
    """What the best answer is worth, level by level."""
    best: tuple[int, ...] | None = None
    for seats in answers(asked):
        found = worth(asked, seats)
        if better(found, best):
            best = found
    assert best is not None
    return best


def least_cents(asked: Question, must: Set[str], cents: int) -> int | None:
    """What the parts cost at the least if all of `must` have a seat; None if they cannot.

    Parameters
    ----------
    cents
        The place of money among the levels.
    """
    found = [
        value[cents]
        for seats in answers(asked)
        if must <= {s.device for s in seats} and (value := worth(asked, seats)) is not None
    ]
    return min(found, default=None)
