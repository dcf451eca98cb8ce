"""Formulation b: alike chargers and alike devices as integers, expanded after the solve.

Per charger kind, `admitted[type]` chargers are of a *type*: a cap on the loaded ports and, for
the conflict pieces treated jointly, the side that may sit there. Options that hold in the same
types are interchangeable, so only their sums are spread over the types. A piece not treated
jointly is only counted ("so many chargers free of the left side, the rest free of the right"),
which is a relaxation; if the expansion fails for it, it is treated jointly and solved again.
"""

from __future__ import annotations

import hashlib
import time
from collections import defaultdict
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import product
from typing import Protocol

from .alike import (
    Bundle,
    DeviceClass,
    bundles_of,
    caps_of,
    classes_of,
    content_of,
    place_of,
)
from .conflicts import Filling, Piece, arrange, grounds_of, pieces_of
from .in_order import NotExact, OutOfTime, Program, Solved, solve_in_order
from .naive import add_parts
from .question import LEVELS, Answer, ChargerKind, Option, Question, Seat, Vector, levels_of

Type = tuple[int, tuple[int, ...]]
_NOTHING = (0,) * 7


class Method(Protocol):
    """A way to minimise the levels of a program in order."""

    def __call__(self, program: Program, *, seconds: float) -> Solved: ...


@dataclass(frozen=True, kw_only=True, slots=True)
class KindPart:
    """The part of the program that speaks of one charger kind."""

    kind: ChargerKind
    fillings: tuple[Filling, ...]
    bundles: tuple[int, ...]
    columns: tuple[int, ...]
    pieces: tuple[Piece, ...]
    admitted: dict[Type, int]
    spread: dict[tuple[int, Type], list[tuple[int, tuple[int, ...]]]]
    """Per (port, type): column of the spread sum and the fillings that it stands for."""


@dataclass(frozen=True, kw_only=True, slots=True)
class Aggregated:
    """The program, its classes and its kinds."""

    program: Program
    classes: tuple[DeviceClass, ...]
    bundles: tuple[Bundle, ...]
    contents: dict[int, tuple[int, ...]]
    """Per bundle of several contents: the columns that count them."""
    kinds: tuple[KindPart, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Report:
    """An answer with what it took."""

    answer: Answer
    solved: Solved
    columns: int
    rows: int
    rounds: int


def solve(
    question: Question,
    *,
    seconds: float,
    method: Method = solve_in_order,
    split: bool = True,
    jointly: int = 0,
    tie_break: bool = False,
) -> Report:
    """Build, solve, expand; treat pieces jointly where the expansion needs it.

    With `split` the place and the content of an option are decided apart where they may be.
    The first `jointly` pieces of every kind are treated jointly from the start.
    With `tie_break` a ninth level follows: the least sum of numbers hashed from the ids.
    """
    end = time.process_time() + seconds
    classes = classes_of(question)
    joint = {kind.id: frozenset(range(jointly)) for kind in question.kinds}
    for rounds in range(1, 50):
        model = build(question, classes, bundles_of(classes, split=split), joint)
        if tie_break:
            add_tie_break(model)
        solved = method(model.program, seconds=max(0.5, end - time.process_time()))
        chosen, failed = expand(model, solved.values)
        if not failed:
            levels = levels_of(question, chosen)
            check_expanded(levels, solved)
            return Report(
                answer=Answer(
                    seats=tuple(sorted(seat for seat, _ in chosen)),
                    levels=levels,
                    bounds=solved.bounds[: len(LEVELS)],
                ),
                solved=solved,
                columns=len(model.program.uppers),
                rows=len(model.program.rows),
                rounds=rounds,
            )
        for kind, pieces in failed.items():
            joint[kind] |= pieces
    raise OutOfTime("expansion did not settle")


def check_expanded(levels: Vector, solved: Solved) -> None:
    """Refuse an expansion that is dearer than the counts, or cheaper than what was proven.

    A level that was not solved may be lower: chargers and bought parts were then only bounded.
    """
    for level, counted, bound in zip(levels, solved.levels, solved.bounds, strict=False):
        if level > counted or level < bound:
            raise NotExact(f"expanded to {levels}, solved as {solved.levels}")


def add_tie_break(model: Aggregated) -> None:
    """Add a last level that tells plans apart by a hash of class, kind, port and path."""
    program = model.program
    numbers = [0] * len(program.uppers)
    for part in model.kinds:
        for (number, option), position, column in zip(
            part.fillings, part.bundles, part.columns, strict=True
        ):
            first = model.classes[number].members[0]
            numbers[column] = _hashed(first, option.kind, option.port)
            if position not in model.contents:
                numbers[column] += _hashed(first, *content_of(option))
    for position, columns in model.contents.items():
        bundle = model.bundles[position]
        for content, column in zip(bundle.contents, columns, strict=True):
            numbers[column] = _hashed(model.classes[bundle.number].members[0], *content)
    program.levels += 1
    program.offset = (*program.offset, 0)
    program.costs = [(*c, n) for c, n in zip(program.costs, numbers, strict=True)]


def _hashed(*names: object) -> int:
    digest = hashlib.sha256("/".join(map(str, names)).encode()).digest()
    return int.from_bytes(digest[:2], "big")


def build(
    question: Question,
    classes: tuple[DeviceClass, ...],
    bundles: tuple[Bundle, ...],
    joint: dict[str, frozenset[int]],
) -> Aggregated:
    """Write the question down as integers."""
    program = Program(levels=len(LEVELS), offset=(len(question.devices), *(0,) * 7))
    grounds = grounds_of(classes)
    of_kind: dict[str, list[tuple[Filling, int]]] = defaultdict(list)
    for position, bundle in enumerate(bundles):
        for place in bundle.places:
            option = bundle.options[bundle.contents[0], place]
            of_kind[place[0]].append(((bundle.number, option), position))
    kinds = [
        _add_kind(
            program,
            kind,
            classes,
            grounds,
            bundles,
            of_kind[kind.id],
            joint.get(kind.id, frozenset()),
        )
        for kind in question.kinds
        if of_kind[kind.id]
    ]
    contents = _add_contents(program, question, classes, bundles, kinds)
    _add_earth(program, classes, grounds, kinds)
    return Aggregated(
        program=program, classes=classes, bundles=bundles, contents=contents, kinds=tuple(kinds)
    )


def _add_contents(
    program: Program,
    question: Question,
    classes: tuple[DeviceClass, ...],
    bundles: tuple[Bundle, ...],
    kinds: Sequence[KindPart],
) -> dict[int, tuple[int, ...]]:
    """Match places with contents, keep each class to its members, draw the parts."""
    seated: dict[int, list[int]] = defaultdict(list)
    for part in kinds:
        for position, column in zip(part.bundles, part.columns, strict=True):
            seated[position].append(column)
    drawn: list[tuple[int, Option]] = []
    of_class: dict[int, list[int]] = defaultdict(list)
    contents: dict[int, tuple[int, ...]] = {}
    for position, bundle in enumerate(bundles):
        of_class[bundle.number] += seated[position]
        made = [bundle.options[content, bundle.places[0]] for content in bundle.contents]
        if len(made) == 1:
            drawn += [(column, made[0]) for column in seated[position]]
            continue
        most = len(classes[bundle.number].members)
        columns = tuple(program.column(most, (0, *option.costs, 0), fine=True) for option in made)
        contents[position] = columns
        drawn += zip(columns, made, strict=True)
        program.row(0, 0, [(c, 1) for c in seated[position]] + [(c, -1) for c in columns])
    for number, alike in enumerate(classes):
        program.row(0, len(alike.members), [(column, 1) for column in of_class[number]])
    add_parts(program, question, drawn)
    return contents


def _add_kind(
    program: Program,
    kind: ChargerKind,
    classes: tuple[DeviceClass, ...],
    grounds: Sequence[tuple[frozenset[int], frozenset[int]]],
    bundles: tuple[Bundle, ...],
    placed: list[tuple[Filling, int]],
    joint: frozenset[int],
) -> KindPart:
    fillings = tuple(filling for filling, _ in placed)
    pieces = pieces_of(fillings, classes, grounds)
    columns = tuple(
        program.column(
            min(kind.count, len(classes[number].members)),
            (-1, *(option.costs if len(bundles[position].contents) == 1 else (0,) * 6), 0),
            fine=True,
        )
        for (number, option), position in placed
    )
    caps = caps_of([option for _, option in fillings], len(kind.ports))
    joint &= frozenset(range(len(pieces)))
    together = sorted(joint)
    types = list(product(caps, product((0, 1), repeat=len(together))))
    admitted = {kind_type: program.column(kind.count, (*_NOTHING, 1)) for kind_type in types}
    program.row(0, kind.count, [(column, 1) for column in admitted.values()])
    counted = [number for number in range(len(pieces)) if number not in joint]
    spread: dict[tuple[int, Type], list[tuple[int, tuple[int, ...]]]] = defaultdict(list)
    sides: dict[tuple[int, Type, int, int], list[int]] = defaultdict(list)
    for (port, homes, side), members in _families(fillings, pieces, types, together, counted):
        columns_here = []
        for kind_type in homes:
            column = program.column(kind.count, fine=True)
            columns_here.append(column)
            spread[port, kind_type].append((column, members))
            for piece, which in zip(counted, side, strict=True):
                if which:
                    sides[port, kind_type, piece, which].append(column)
        program.row(0, 0, [(columns[i], 1) for i in members] + [(c, -1) for c in columns_here])
    for (_, kind_type), sums in spread.items():
        program.row(
            -float("inf"), 0, [(column, 1) for column, _ in sums] + [(admitted[kind_type], -1)]
        )
    _add_counted(program, kind, admitted, sides)
    return KindPart(
        kind=kind,
        fillings=fillings,
        columns=columns,
        bundles=tuple(position for _, position in placed),
        pieces=pieces,
        admitted=admitted,
        spread=dict(spread),
    )


Family = tuple[int, tuple[Type, ...], tuple[int, ...]]


def _families(
    fillings: tuple[Filling, ...],
    pieces: tuple[Piece, ...],
    types: list[Type],
    together: list[int],
    counted: list[int],
) -> list[tuple[Family, tuple[int, ...]]]:
    """Group fillings by port, by the types they may sit in, and by side of each counted piece."""
    groups: dict[Family, list[int]] = defaultdict(list)
    for i, (_, option) in enumerate(fillings):
        homes = tuple(
            (cap, free)
            for cap, free in types
            if cap >> option.port & 1
            and cap in option.loaded
            and not any(
                i in (pieces[piece].left if side else pieces[piece].right)
                for piece, side in zip(together, free, strict=True)
            )
        )
        side = tuple(
            1 if i in pieces[n].left else 2 if i in pieces[n].right else 0 for n in counted
        )
        groups[option.port, homes, side].append(i)
    return [(family, tuple(members)) for family, members in groups.items()]


def _add_counted(
    program: Program,
    kind: ChargerKind,
    admitted: dict[Type, int],
    sides: dict[tuple[int, Type, int, int], list[int]],
) -> None:
    """Let so many chargers of a type be free of a piece's right side, the rest of its left."""
    present: dict[tuple[Type, int], set[int]] = defaultdict(set)
    for _, kind_type, piece, which in sides:
        present[kind_type, piece].add(which)
    lefts = {key: program.column(kind.count) for key, both in present.items() if len(both) == 2}
    for (_, kind_type, piece, which), columns in sides.items():
        if (kind_type, piece) not in lefts:
            continue
        left = lefts[kind_type, piece]
        terms = [(column, 1) for column in columns]
        if which == 1:
            program.row(-float("inf"), 0, [*terms, (left, -1)])
        else:
            program.row(-float("inf"), 0, [*terms, (left, 1), (admitted[kind_type], -1)])


def _add_earth(
    program: Program,
    classes: tuple[DeviceClass, ...],
    grounds: Sequence[tuple[frozenset[int], frozenset[int]]],
    kinds: Sequence[KindPart],
) -> None:
    """Treat all earthed chargers as one: a piece may have only one side on any of them."""
    on_earth: dict[int, list[int]] = defaultdict(list)
    for part in kinds:
        if part.kind.earthed:
            for (number, option), column in zip(part.fillings, part.columns, strict=True):
                if not option.isolated:
                    on_earth[number].append(column)
    for left, right in grounds:
        side = program.column(1)
        for members, low in ((left, True), (right, False)):
            for number in sorted(members):
                size = len(classes[number].members)
                terms = [(column, 1) for column in on_earth[number]]
                if terms and low:
                    program.row(-float("inf"), 0, [*terms, (side, -size)])
                elif terms:
                    program.row(-float("inf"), size, [*terms, (side, size)])


def expand(
    model: Aggregated, values: tuple[int, ...]
) -> tuple[list[tuple[Seat, Option]], dict[str, frozenset[int]]]:
    """Turn counts into seats; give back the pieces for which a kind could not be arranged."""
    waiting = {number: list(alike.members) for number, alike in enumerate(model.classes)}
    made = {
        position: [
            content
            for content, column in zip(model.bundles[position].contents, columns, strict=True)
            for _ in range(values[column])
        ]
        for position, columns in model.contents.items()
    }
    chosen: list[tuple[Seat, Option]] = []
    failed: dict[str, frozenset[int]] = {}
    for part in model.kinds:
        left = [values[column] for column in part.columns]
        unit = 0
        for kind_type, column in part.admitted.items():
            ports = {
                port: _draw(part, values, left, (port, kind_type))
                for port in range(len(part.kind.ports))
                if (port, kind_type) in part.spread
            }
            chargers = arrange(ports, values[column], part.pieces)
            if chargers is None:
                inside = {i for fillings in ports.values() for i in fillings}
                failed[part.kind.id] = frozenset(
                    n
                    for n, piece in enumerate(part.pieces)
                    if piece.left & inside and piece.right & inside
                )
                continue
            for charger in chargers:
                for port, i in sorted(charger.items()):
                    number, option = part.fillings[i]
                    if part.bundles[i] in made:
                        content = made[part.bundles[i]].pop(0)
                        option = model.bundles[part.bundles[i]].options[content, place_of(option)]
                    seat = Seat(
                        device=waiting[number].pop(0),
                        kind=part.kind.id,
                        unit=unit,
                        port=port,
                        path=option.path,
                    )
                    chosen.append((seat, option))
                unit += bool(charger)
    return chosen, failed


def _draw(
    part: KindPart, values: tuple[int, ...], left: list[int], place: tuple[int, Type]
) -> list[int]:
    """Take for one port and type as many fillings as the spread says, in order."""
    drawn = []
    for column, members in part.spread[place]:
        wanted = values[column]
        for i in members:
            number = min(wanted, left[i])
            left[i] -= number
            wanted -= number
            drawn += [i] * number
    return drawn
