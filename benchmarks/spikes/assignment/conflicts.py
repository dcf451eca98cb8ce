"""Which options must not meet on one charger, as pieces "none of these, or none of those"."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from .alike import DeviceClass, bicliques
from .question import Option

Filling = tuple[int, Option]
"""A device class by number, and the option that one of its members takes."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Piece:
    """Two sets of fillings of which one charger may hold only one side; `ground` if a short."""

    left: frozenset[int]
    right: frozenset[int]
    ground: int | None


def pieces_of(
    fillings: Sequence[Filling],
    classes: Sequence[DeviceClass],
    grounds: Sequence[tuple[frozenset[int], frozenset[int]]],
) -> tuple[Piece, ...]:
    """List the pieces among the fillings of one charger kind, by index into `fillings`."""
    found = []
    joined = [i for i, (_, option) in enumerate(fillings) if not option.isolated]
    for number, (left, right) in enumerate(grounds):
        found.append(
            Piece(
                left=frozenset(i for i in joined if fillings[i][0] in left),
                right=frozenset(i for i in joined if fillings[i][0] in right),
                ground=number,
            )
        )
    blinks = {i for i, (_, option) in enumerate(fillings) if option.blinks}
    moves = {i for i, (number, _) in enumerate(fillings) if classes[number].plugged_when_used}
    both = blinks & moves
    found.append(Piece(left=frozenset(blinks - both), right=frozenset(moves - both), ground=None))
    for port in sorted({fillings[i][1].port for i in both}):
        here = frozenset(i for i in both if fillings[i][1].port == port)
        elsewhere = frozenset(i for i in blinks | moves if fillings[i][1].port != port)
        found.append(Piece(left=here, right=elsewhere, ground=None))
    return tuple(piece for piece in found if piece.left and piece.right)


def grounds_of(
    classes: Sequence[DeviceClass],
) -> tuple[tuple[frozenset[int], frozenset[int]], ...]:
    """Cover the ground clashes between classes by pieces."""
    number_of = {member: n for n, alike in enumerate(classes) for member in alike.members}
    edges = {
        (min(n, number_of[other]), max(n, number_of[other]))
        for n, alike in enumerate(classes)
        for other in alike.clashes
    }
    return bicliques(sorted(edges))


def meet(one: int, other: int, pieces: Sequence[Piece]) -> bool:
    """Whether two fillings must not meet."""
    return any(
        (one in piece.left and other in piece.right) or (one in piece.right and other in piece.left)
        for piece in pieces
    )


def arrange(
    ports: Mapping[int, Sequence[int]], units: int, pieces: Sequence[Piece], tries: int = 20_000
) -> list[dict[int, int]] | None:
    """Spread fillings, given per port, over alike chargers so that no two meet.

    Returns
    -------
    list of dict or None
        Per charger {port: filling}; None if it cannot be done or was not found in `tries` steps.
    """
    loose: list[tuple[int, int]] = []
    tied: list[tuple[int, int]] = []
    for port, fillings in sorted(ports.items()):
        for filling in sorted(fillings):
            inside = any(filling in piece.left or filling in piece.right for piece in pieces)
            (tied if inside else loose).append((filling, port))
    chargers: list[dict[int, int]] = [{} for _ in range(units)]
    steps = 0

    def place(number: int) -> bool:
        nonlocal steps
        if number == len(tied):
            return True
        filling, port = tied[number]
        seen = set()
        for charger in chargers:
            state = tuple(sorted(charger.items()))
            steps += 1
            if steps > tries or port in charger or state in seen:
                continue
            seen.add(state)
            if not any(meet(filling, other, pieces) for other in charger.values()):
                charger[port] = filling
                if place(number + 1):
                    return True
                del charger[port]
        return False

    sides = [[filling in piece.right for piece in pieces] for filling, _ in tied]
    order = sorted(range(len(tied)), key=lambda n: (sides[n], tied[n]))
    tied = [tied[n] for n in order]
    if not place(0):
        return None
    for filling, port in loose:
        next(charger for charger in chargers if port not in charger)[port] = filling
    return chargers
