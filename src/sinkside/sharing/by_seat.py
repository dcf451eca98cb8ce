"""Seats where spare ports may be used: they know each other only by grounds that must not meet.

Chargers of one kind are alike: a device takes a port of the kind, and the units are told apart
after the solve. Only devices whose grounds may clash are given a unit of their own from the
start.
"""

from collections import defaultdict

import numpy as np
from numpy.typing import NDArray

from sinkside.sharing.costs import Stock, seat_costs
from sinkside.sharing.in_order import INFINITE, Level, Model
from sinkside.sharing.question import Kind, Question, Seat

LOSS_OPEN, MISBEHAVES_OPEN, KNOWN_TO_BLINK = 2, 1, 3
ANY_UNIT = 0


def by_seat(question: Question) -> tuple[tuple[Seat, ...], tuple[Level, ...]]:
    """Solve seat by seat."""
    return _BySeat(question).solve()


class _BySeat:
    def __init__(self, question: Question) -> None:
        self.question = question
        self.model = Model()
        self.kinds = {kind.id: kind for kind in question.kinds}
        self.clashing = {d for f in question.forbidden for d in (f.a, f.b)}
        self.x: dict[tuple[int, int], int] = {}
        self._columns()
        self._rows()
        self._clash_rows()
        self._charger_rows()

    def _columns(self) -> None:
        for i, option in enumerate(self.question.options):
            kind = self.kinds[option.kind]
            blink = self._blink(option.device, kind)
            if blink == KNOWN_TO_BLINK or option.company != kind.company(frozenset()):
                continue
            costs = seat_costs(
                option, i, harm=blink == LOSS_OPEN, misbehaves=blink == MISBEHAVES_OPEN
            )
            own_unit = option.device in self.clashing and not option.isolated
            for unit in range(1, kind.count + 1) if own_unit else (ANY_UNIT,):
                self.x[i, unit] = self.model.column(1, costs)

    def _blink(self, device: str, kind: Kind) -> int:
        """A port that may be used can change at any time, so every neighbour counts."""
        return self.question.blinks.get((device, kind.id), 0) if len(kind.ports) > 1 else 0

    def _rows(self) -> None:
        by_device: dict[str, dict[int, float]] = defaultdict(dict)
        by_port: dict[tuple[str, str], dict[int, float]] = defaultdict(dict)
        by_unit: dict[tuple[str, str, int], dict[int, float]] = defaultdict(dict)
        stock = Stock(self.question, self.model)
        for (i, unit), x in self.x.items():
            option = self.question.options[i]
            by_device[option.device][x] = 1.0
            by_port[option.kind, option.port][x] = 1.0
            if unit != ANY_UNIT:
                by_unit[option.kind, option.port, unit][x] = 1.0
            stock.takes(x, option)
        for entries in (*by_device.values(), *by_unit.values()):
            self.model.row(-INFINITE, 1.0, entries)
        for (kind, _), entries in by_port.items():
            self.model.row(-INFINITE, float(self.kinds[kind].count), entries)
        stock.close()

    def _clash_rows(self) -> None:
        """Two grounds that must not meet are not on one negative; that may meet, count as harm."""
        for f in self.question.forbidden:
            together: dict[tuple[str, int], dict[int, float]] = defaultdict(dict)
            for (i, unit), x in self.x.items():
                option = self.question.options[i]
                if option.device not in (f.a, f.b) or unit == ANY_UNIT:
                    continue
                earthed = option.kind in self.question.earthed
                together[("earth", 0) if earthed else (option.kind, unit)][x] = 1.0
            for entries in together.values():
                if f.certain:
                    self.model.row(-INFINITE, 1.0, entries)
                else:
                    both = self.model.column(1, {"harm": 2})
                    self.model.row(-INFINITE, 1.0, entries | {both: -1.0})

    def _charger_rows(self) -> None:
        """How many chargers of a kind are used: no fewer than its busiest port takes."""
        for kind in self.question.kinds:
            used = self.model.column(kind.count, {"chargers": 1})
            for port in kind.ports:
                entries = {
                    x: 1.0
                    for (i, _), x in self.x.items()
                    if (self.question.options[i].kind, self.question.options[i].port)
                    == (kind.id, port)
                }
                if entries:
                    self.model.row(-INFINITE, 0.0, entries | {used: -1.0})
            units = {unit for (i, unit) in self.x if self._of(i) == kind.id and unit != ANY_UNIT}
            marks = {unit: self.model.column(1, {}) for unit in sorted(units)}
            for (i, unit), x in self.x.items():
                if unit != ANY_UNIT and self._of(i) == kind.id:
                    self.model.row(-INFINITE, 0.0, {x: 1.0, marks[unit]: -1.0})
            if marks:
                self.model.row(-INFINITE, 0.0, dict.fromkeys(marks.values(), 1.0) | {used: -1.0})

    def _of(self, option: int) -> str:
        return self.question.options[option].kind

    def solve(self) -> tuple[tuple[Seat, ...], tuple[Level, ...]]:
        values, levels = self.model.solve()
        return self._seats(values), levels

    def _seats(self, values: NDArray[np.float64]) -> tuple[Seat, ...]:
        """Give every seat a unit: those of clashing devices as solved, the rest as they fit."""
        taken: set[tuple[str, str, int]] = set()
        seats = []
        chosen = [key for key, x in self.x.items() if values[x] > 0.5]
        for i, unit in sorted(chosen, key=lambda key: (key[1] == ANY_UNIT, key)):
            option = self.question.options[i]
            units = self._units(option.kind, taken) if unit == ANY_UNIT else [unit]
            place = next(u for u in units if (option.kind, option.port, u) not in taken)
            taken.add((option.kind, option.port, place))
            seats.append(
                Seat(
                    kind=option.kind,
                    unit=place,
                    port=option.port,
                    device=option.device,
                    option=option.id,
                )
            )
        return tuple(sorted(seats))

    def _units(self, kind: str, taken: set[tuple[str, str, int]]) -> list[int]:
        """The units of a kind, those in use first, so that no more are used than need be."""
        used = {unit for name, _, unit in taken if name == kind}
        return sorted(
            range(1, self.kinds[kind].count + 1), key=lambda unit: (unit not in used, unit)
        )
