"""Formulation a: one binary per device × physical port × path."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from .alike import caps_of, undominated
from .in_order import Program
from .question import LEVELS, Option, Question, Seat


@dataclass(frozen=True, kw_only=True, slots=True)
class Naive:
    """The program and what each of its first columns means."""

    program: Program
    seats: tuple[tuple[int, Seat, Option], ...]

    def chosen(self, values: tuple[int, ...]) -> list[tuple[Seat, Option]]:
        """Read the seats out of a solution."""
        return [(seat, option) for column, seat, option in self.seats if values[column]]


def build(question: Question) -> Naive:
    """Write the question down as binaries."""
    program = Program(levels=len(LEVELS), offset=(len(question.devices), *(0,) * 7))
    seats: list[tuple[int, Seat, Option]] = []
    for device in question.devices:
        for option in undominated(device.options):
            count = next(kind.count for kind in question.kinds if kind.id == option.kind)
            for unit in range(count):
                seat = Seat(
                    device=device.id,
                    kind=option.kind,
                    unit=unit,
                    port=option.port,
                    path=option.path,
                )
                seats.append((program.column(1, (-1, *option.costs, 0)), seat, option))
    for device in question.devices:
        program.row(0, 1, [(c, 1) for c, seat, _ in seats if seat.device == device.id])
    _add_chargers(program, question, seats)
    _add_pairs(program, question, seats)
    add_parts(program, question, [(column, option) for column, _, option in seats])
    return Naive(program=program, seats=tuple(seats))


def add_parts(
    program: Program, question: Question, columns: list[tuple[int, Option]]
) -> dict[str, int]:
    """Add what is drawn beyond the stock, its price, and the budget; return the bought columns."""
    draws: dict[str, list[tuple[int, int]]] = defaultdict(list)
    for column, option in columns:
        for name, number in option.parts:
            draws[name].append((column, number))
    money = [(column, option.cents) for column, option in columns if option.cents]
    bought = {}
    for part in question.parts:
        terms = draws[part.id]
        if part.cents is not None:
            most = 2 * len(question.devices)
            bought[part.id] = program.column(most, (0, 0, 0, 0, part.cents, 0, 0, 0))
            money.append((bought[part.id], part.cents))
            terms = [*terms, (bought[part.id], -1)]
        program.row(-float("inf"), part.stock, terms)
    if question.budget_cents is not None:
        program.row(-float("inf"), question.budget_cents, money)
    return bought


def _add_chargers(
    program: Program, question: Question, seats: list[tuple[int, Seat, Option]]
) -> None:
    at: dict[tuple[str, int], list[tuple[int, Option]]] = defaultdict(list)
    for column, seat, option in seats:
        at[seat.kind, seat.unit].append((column, option))
    for kind in question.kinds:
        for unit in range(kind.count):
            sitting = at[kind.id, unit]
            caps = caps_of([option for _, option in sitting], len(kind.ports))
            chosen = {cap: program.column(1, (0,) * 7 + (1,)) for cap in caps}
            program.row(0, 1, [(column, 1) for column in chosen.values()])
            families: dict[tuple[int, frozenset[int]], list[int]] = defaultdict(list)
            for column, option in sitting:
                family = frozenset(
                    cap for cap in caps if cap >> option.port & 1 and cap in option.loaded
                )
                families[option.port, family].append(column)
                families[option.port, frozenset(c for c in caps if c >> option.port & 1)] += (
                    [column] if family != frozenset(c for c in caps if c >> option.port & 1) else []
                )
            for (_, family), columns in families.items():
                program.row(
                    -float("inf"),
                    0,
                    [(column, 1) for column in columns] + [(chosen[cap], -1) for cap in family],
                )


def _add_pairs(program: Program, question: Question, seats: list[tuple[int, Seat, Option]]) -> None:
    earthed = {kind.id for kind in question.kinds if kind.earthed}
    when_used = {device.id for device in question.devices if device.plugged_when_used}
    joined: dict[tuple[str, str, int], list[int]] = defaultdict(list)
    on_earth: dict[str, list[int]] = defaultdict(list)
    blinking: dict[tuple[str, str, int], list[int]] = defaultdict(list)
    moving: dict[tuple[str, int], dict[str, list[int]]] = defaultdict(lambda: defaultdict(list))
    for column, seat, option in seats:
        if not option.isolated:
            joined[seat.device, seat.kind, seat.unit].append(column)
            if seat.kind in earthed:
                on_earth[seat.device].append(column)
        if option.blinks:
            blinking[seat.device, seat.kind, seat.unit].append(column)
        if seat.device in when_used:
            moving[seat.kind, seat.unit][seat.device].append(column)
    for one, other in sorted(question.clashes):
        program.row(0, 1, [(c, 1) for c in on_earth[one] + on_earth[other]])
        for kind in question.kinds:
            for unit in range(kind.count):
                pair = joined[one, kind.id, unit] + joined[other, kind.id, unit]
                program.row(0, 1, [(column, 1) for column in pair])
    for (device, kind_id, unit), columns in blinking.items():
        for other, theirs in moving[kind_id, unit].items():
            if other != device:
                program.row(0, 1, [(column, 1) for column in columns + theirs])
