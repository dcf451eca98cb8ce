"""The assignment as an integer programme, solved level by level to proven optimality.

Columns: how many chargers of a kind carry a loading, and which path each seat of it takes.
Each level's best value is proven, frozen as a row, and the next level is solved.
"""

from collections import defaultdict
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

from sinkside.sharing.loadings import Loading, Place, loadings
from sinkside.sharing.question import Option, Question, Seat


@dataclass(frozen=True, kw_only=True)
class Level:
    """One level of the objective: what it counts, its value, and whether that is proven."""

    name: str
    value: int
    proven: bool


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


LEVELS = {
    "devices off their bricks": "off",
    "harm or loss unproven": "harm",
    "misbehaving unproven": "misbehaves",
    "unlikely to run": "implausible",
    "irreversible changes": "irreversible",
    "residual risks": "risks",
    "parts in all": "stages",
    "tenths of a volt of contract": "decivolts",
    "cents": "cents",
    "milliwatts": "milliwatts",
    "chargers": "chargers",
    "order of names": "order",
}
MOST_NODES = 200_000


def assign(question: Question) -> Assignment:
    """Solve the question of sharing.

    Returns
    -------
    Assignment
        The same for the same question.

    Notes
    -----
    Identical chargers are one integer, expanded into units after the solve: one binary for
    each physical port leaves as many equal solutions as there are ways to name the units.

    Raises
    ------
    TooMany
        More loadings than are enumerated one by one.
    """
    return _Model(question).solve()


class _Model:
    def __init__(self, question: Question) -> None:
        self.question = question
        self.loadings = [
            (kind, loading) for kind in question.kinds for loading in loadings(question, kind)
        ]
        self.highs = highspy.Highs()  # type: ignore[no-untyped-call]  # a binding without types
        self.highs.setOptionValue("output_flag", False)
        self.highs.setOptionValue("mip_rel_gap", 0.0)
        self.highs.setOptionValue("mip_abs_gap", 0.0)
        self.highs.setOptionValue("threads", 1)
        self.highs.setOptionValue("random_seed", 0)
        self.highs.setOptionValue("mip_max_nodes", MOST_NODES)
        self.costs: list[dict[str, int]] = []
        self._columns()
        self._rows()

    def _column(self, upper: float, **costs: int) -> int:
        self.highs.addCol(0.0, 0.0, upper, 0, np.array([], np.int32), np.array([]))
        index = len(self.costs)
        self.highs.changeColIntegrality(index, highspy.HighsVarType.kInteger)
        self.costs.append(costs)
        return index

    def _columns(self) -> None:
        question = self.question
        self.z = [self._column(kind.count, chargers=1) for kind, _ in self.loadings]
        self.x: dict[tuple[str, Place, int], int] = {}
        by_seat: dict[tuple[str, str, str, tuple[str, ...]], list[int]] = defaultdict(list)
        for i, o in enumerate(question.options):
            by_seat[o.device, o.kind, o.port, tuple(sorted(o.company))].append(i)
        self.places: dict[tuple[str, Place], list[int]] = defaultdict(list)
        for n, (kind, loading) in enumerate(self.loadings):
            for place in loading.places:
                self.places[kind.id, place].append(n)
        for kind_id, place in self.places:
            for i in by_seat[place.device, kind_id, place.port, place.company]:
                option = question.options[i]
                if place.isolated and not option.isolated:
                    continue
                self.x[kind_id, place, i] = self._column(1.0, **_costs(place, option, i))
        used = sorted({part for o in question.options for part in o.parts})
        self.buy = {
            part: self._column(float(len(question.options)), cents=question.prices.get(part, 0))
            for part in used
        }

    def _row(self, low: float, high: float, entries: dict[int, float]) -> None:
        index = np.fromiter(entries.keys(), np.int32, len(entries))
        value = np.fromiter(entries.values(), np.float64, len(entries))
        self.highs.addRow(low, high, len(entries), index, value)

    def _rows(self) -> None:
        inf = highspy.kHighsInf
        by_kind: dict[str, dict[int, float]] = defaultdict(dict)
        for z, (kind, _) in zip(self.z, self.loadings, strict=True):
            by_kind[kind.id][z] = 1.0
        for kind in self.question.kinds:
            if by_kind[kind.id]:
                self._row(-inf, float(kind.count), by_kind[kind.id])
        by_device: dict[str, dict[int, float]] = defaultdict(dict)
        by_place: dict[tuple[str, Place], dict[int, float]] = defaultdict(dict)
        by_part: dict[str, dict[int, float]] = {p: {b: -1.0} for p, b in self.buy.items()}
        for (kind_id, place, i), x in self.x.items():
            option = self.question.options[i]
            by_device[option.device][x] = 1.0
            by_place[kind_id, place][x] = 1.0
            for part in option.parts:
                by_part[part][x] = by_part[part].get(x, 0.0) + 1.0
        for entries in by_device.values():
            self._row(-inf, 1.0, entries)
        for key, carriers in self.places.items():
            self._row(0.0, 0.0, by_place[key] | {self.z[n]: -1.0 for n in carriers})
        for part, entries in by_part.items():
            self._row(-inf, float(self.question.stock.get(part, 0)), entries)
        if self.question.budget is not None:
            prices = {b: float(self.question.prices.get(p, 0)) for p, b in self.buy.items()}
            self._row(-inf, float(self.question.budget), prices)
        self._earthed_rows()

    def _earthed_rows(self) -> None:
        """Chargers with earthed negatives are one charger to two grounds that must not meet."""
        for f in (f for f in self.question.forbidden if f.certain):
            entries = {
                x: 1.0
                for (kind_id, _, i), x in self.x.items()
                if kind_id in self.question.earthed
                and self.question.options[i].device in (f.a, f.b)
                and not self.question.options[i].isolated
            }
            if entries:
                self._row(-highspy.kHighsInf, 1.0, entries)

    def solve(self) -> Assignment:
        levels = []
        columns = len(self.costs)
        values = np.zeros(columns)
        self.highs.changeObjectiveSense(highspy.ObjSense.kMinimize)
        for name, key in LEVELS.items():
            weights = np.array([c.get(key, 0) for c in self.costs], dtype=float)
            if weights.any():
                self.highs.changeColsCost(columns, np.arange(columns, dtype=np.int32), weights)
                self.highs.run()
                values = np.round(np.array(self.highs.getSolution().col_value))
            value = int(weights @ values)
            proven = (
                not weights.any()
                or self.highs.getModelStatus() == highspy.HighsModelStatus.kOptimal
            )
            used = np.flatnonzero(weights)
            if used.size:
                self._row(
                    -highspy.kHighsInf, float(value), {int(j): float(weights[j]) for j in used}
                )
            levels.append(Level(name=name, value=-value if key == "off" else value, proven=proven))
        return Assignment(
            seats=self._seats(values), levels=tuple(levels), bought=self._bought(values)
        )

    def _seats(self, values: NDArray[np.float64]) -> tuple[Seat, ...]:
        """Expand loadings into units and give each seat its path."""
        chosen = {
            (kind_id, place): self.question.options[i].id
            for (kind_id, place, i), x in self.x.items()
            if values[x] > 0.5
        }
        seats = []
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

    def _bought(self, values: NDArray[np.float64]) -> tuple[tuple[str, int], ...]:
        need: dict[str, int] = defaultdict(int)
        for (_, _, i), x in self.x.items():
            if values[x] > 0.5:
                for part in self.question.options[i].parts:
                    need[part] += 1
        short = {p: n - self.question.stock.get(p, 0) for p, n in need.items()}
        return tuple(sorted((p, n) for p, n in short.items() if n > 0))


def _costs(place: Place, option: Option, order: int) -> dict[str, int]:
    return {
        "off": -1,
        "harm": option.harm_unproven + int(place.harm),
        "misbehaves": int(option.misbehaves_unproven or place.misbehaves),
        "implausible": option.implausible,
        "irreversible": option.irreversible,
        "risks": option.risks,
        "stages": option.stages,
        "decivolts": option.decivolts,
        "milliwatts": option.milliwatts,
        "order": order,
    }


def _names(loading: Loading) -> tuple[str, ...]:
    return tuple(place.device for place in loading.places)
