"""Seats where spare ports are blocked: what is loaded on a charger decides what it offers.

Columns: how many chargers of a kind carry a loading, and which path each seat of it takes.
"""

from collections import defaultdict

import numpy as np
from numpy.typing import NDArray

from sinkside.sharing.costs import Stock, seat_costs
from sinkside.sharing.in_order import INFINITE, Level, Model
from sinkside.sharing.loadings import Loading, Place, loadings
from sinkside.sharing.question import Question, Seat


def by_loading(question: Question) -> tuple[tuple[Seat, ...], tuple[Level, ...]]:
    """Solve by loadings.

    Notes
    -----
    Identical chargers are one whole number, expanded into units after the solve: one binary
    for each physical port leaves as many equal solutions as there are ways to name the units.

    Raises
    ------
    TooMany
        More loadings than are enumerated one by one.
    """
    return _ByLoading(question).solve()


class _ByLoading:
    def __init__(self, question: Question) -> None:
        self.question = question
        self.model = Model()
        self.loadings = [
            (kind, loading) for kind in question.kinds for loading in loadings(question, kind)
        ]
        self._columns()
        self._rows()

    def _columns(self) -> None:
        self.z = [self.model.column(kind.count, {"chargers": 1}) for kind, _ in self.loadings]
        self.x: dict[tuple[str, Place, int], int] = {}
        by_seat: dict[tuple[str, str, str, tuple[str, ...]], list[int]] = defaultdict(list)
        for i, o in enumerate(self.question.options):
            by_seat[o.device, o.kind, o.port, tuple(sorted(o.company))].append(i)
        self.places: dict[tuple[str, Place], list[int]] = defaultdict(list)
        for n, (kind, loading) in enumerate(self.loadings):
            for place in loading.places:
                self.places[kind.id, place].append(n)
        for kind_id, place in self.places:
            for i in by_seat[place.device, kind_id, place.port, place.company]:
                option = self.question.options[i]
                if place.isolated and not option.isolated:
                    continue
                costs = seat_costs(option, i, harm=place.harm, misbehaves=place.misbehaves)
                self.x[kind_id, place, i] = self.model.column(1, costs)

    def _rows(self) -> None:
        by_kind: dict[str, dict[int, float]] = defaultdict(dict)
        for z, (kind, _) in zip(self.z, self.loadings, strict=True):
            by_kind[kind.id][z] = 1.0
        for kind in self.question.kinds:
            if by_kind[kind.id]:
                self.model.row(-INFINITE, float(kind.count), by_kind[kind.id])
        by_device: dict[str, dict[int, float]] = defaultdict(dict)
        by_place: dict[tuple[str, Place], dict[int, float]] = defaultdict(dict)
        stock = Stock(self.question, self.model)
        for (kind_id, place, i), x in self.x.items():
            by_device[self.question.options[i].device][x] = 1.0
            by_place[kind_id, place][x] = 1.0
            stock.takes(x, self.question.options[i])
        for entries in by_device.values():
            self.model.row(-INFINITE, 1.0, entries)
        for key, carriers in self.places.items():
            self.model.row(0.0, 0.0, by_place[key] | {self.z[n]: -1.0 for n in carriers})
        stock.close()
        self._earthed_rows()

    def _earthed_rows(self) -> None:
        """Chargers with earthed negatives are one charger to two grounds that must not meet."""
        for f in self.question.forbidden:
            entries = {
                x: 1.0
                for (kind_id, _, i), x in self.x.items()
                if kind_id in self.question.earthed
                and self.question.options[i].device in (f.a, f.b)
                and not self.question.options[i].isolated
            }
            if entries and f.certain:
                self.model.row(-INFINITE, 1.0, entries)
            elif entries:
                both = self.model.column(1, {"harm": 2})
                self.model.row(-INFINITE, 1.0, entries | {both: -1.0})

    def solve(self) -> tuple[tuple[Seat, ...], tuple[Level, ...]]:
        values, levels = self.model.solve()
        return self._seats(values), levels

    def _seats(self, values: NDArray[np.float64]) -> tuple[Seat, ...]:
        """Expand loadings into units and give each seat its path."""
        chosen = {
            (kind_id, place): self.question.options[i].id
            for (kind_id, place, i), x in self.x.items()
            if values[x] > 0.5
        }
        seats: list[Seat] = []
        units: dict[str, int] = defaultdict(int)
        order = sorted(
            (n for n, z in enumerate(self.z) if values[z] > 0.5),
            key=lambda n: (self.loadings[n][0].id, _names(self.loadings[n][1])),
        )
        for n in order:
            kind, loading = self.loadings[n]
            units[kind.id] += 1
            seats += [
                Seat(
                    kind=kind.id,
                    unit=units[kind.id],
                    port=place.port,
                    device=place.device,
                    option=chosen[kind.id, place],
                )
                for place in loading.places
            ]
        return tuple(sorted(seats))


def _names(loading: Loading) -> tuple[str, ...]:
    return tuple(place.device for place in loading.places)
