"""Levels of an objective one after the other: each proven, then frozen, before the next."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

MOST_NODES = 5_000
# Whole numbers are found to a millionth: a weight up to this is told from none.
LARGEST_WEIGHT = 500_000
INFINITE = highspy.kHighsInf


@dataclass(frozen=True, kw_only=True)
class Level:
    """One level of the objective: what it counts, its value, and whether that is proven."""

    name: str
    value: int
    proven: bool


class Model:
    """Columns of whole numbers, rows, and a cost of each column at each level."""

    def __init__(self) -> None:
        self.costs: list[Mapping[str, int]] = []
        self.uppers: list[int] = []
        self.rows: list[tuple[float, float, Mapping[int, float]]] = []

    def column(self, upper: int, costs: Mapping[str, int] | None = None) -> int:
        """A whole number from nought to `upper`; its index."""
        self.costs.append(costs or {})
        self.uppers.append(upper)
        return len(self.costs) - 1

    def row(self, low: float, high: float, entries: Mapping[int, float]) -> None:
        """A sum of columns that must lie between two values."""
        self.rows.append((low, high, dict(entries)))

    def solve(
        self, levels: Sequence[tuple[str, str]]
    ) -> tuple[NDArray[np.int64], tuple[Level, ...]] | None:
        """The columns at the best value of all levels, in order; None if no values keep every row.

        Parameters
        ----------
        levels
            The key of each level among the costs, and its name for people.
        """
        highs = self._highs()
        values: NDArray[np.int64] | None = None
        found: list[Level] = []
        for group in self._groups([key for key, _ in levels]):
            weights = self._weights(group)
            self._start(highs, weights, values)
            proven = _run(highs)
            better = _solution(highs)
            values = better if better is not None else values
            if values is None:
                return None
            names = dict(levels)
            for key in group:
                value = int(self._cost(key) @ values)
                found.append(Level(name=names[key], value=value, proven=proven))
            _freeze(highs, weights, values)
        return None if values is None else (values, tuple(found))

    def _cost(self, key: str) -> NDArray[np.int64]:
        return np.array([costs.get(key, 0) for costs in self.costs], dtype=np.int64)

    def _most(self, key: str) -> int:
        """The most that a level can come to."""
        return int(np.maximum(self._cost(key), 0) @ np.array(self.uppers, dtype=np.int64))

    def _groups(self, keys: Sequence[str]) -> list[list[str]]:
        """Levels that can be solved at once: the weights of all stay within what floats tell apart.

        One solve instead of two takes half the time; where the numbers are too far from each
        other they are solved one after the other.
        """
        groups: list[list[str]] = []
        for key in keys:
            joined = [*groups[-1], key] if groups else [key]
            if groups and self._weights(joined).max(initial=0) <= LARGEST_WEIGHT:
                groups[-1] = joined
            else:
                groups.append([key])
        return groups

    def _weights(self, keys: Sequence[str]) -> NDArray[np.int64]:
        """One objective for several levels: a unit of one is more than all that follow."""
        total = np.zeros(len(self.costs), dtype=np.int64)
        unit = 1
        for key in reversed(keys):
            total += unit * self._cost(key)
            unit *= self._most(key) + 1
        return total

    def _start(
        self, highs: highspy.Highs, weights: NDArray[np.int64], values: NDArray[np.int64] | None
    ) -> None:
        index = np.arange(len(weights), dtype=np.int32)
        highs.changeColsCost(len(weights), index, weights.astype(float))
        if values is not None:
            start = highspy.HighsSolution()
            start.col_value = values.astype(float)
            highs.setSolution(start)

    def _highs(self) -> highspy.Highs:
        highs = highspy.Highs()  # type: ignore[no-untyped-call]  # a binding without types
        for option, value in (
            ("output_flag", False),
            ("mip_rel_gap", 0.0),
            ("mip_abs_gap", 0.0),
            ("threads", 1),
            ("random_seed", 0),
            ("mip_max_nodes", MOST_NODES),
            # Families of plugs are alike: trying branches out beforehand costs more than it tells.
            ("mip_pscost_minreliable", 0),
        ):
            highs.setOptionValue(option, value)
        count = len(self.uppers)
        highs.addVars(count, np.zeros(count), np.array(self.uppers, dtype=float))
        kinds = np.full(count, highspy.HighsVarType.kInteger)
        highs.changeColsIntegrality(count, np.arange(count, dtype=np.int32), kinds)
        for low, high, entries in self.rows:
            index = np.fromiter(entries.keys(), np.int32, len(entries))
            highs.addRow(low, high, len(entries), index, np.fromiter(entries.values(), np.float64))
        return highs


def _freeze(highs: highspy.Highs, weights: NDArray[np.int64], values: NDArray[np.int64]) -> None:
    """What a level has come to, it stays at."""
    used = np.flatnonzero(weights)
    if used.size:
        most = float(int(weights @ values))
        at = used.astype(np.int32)
        highs.addRow(-INFINITE, most, used.size, at, weights[used].astype(float))


def _run(highs: highspy.Highs) -> bool:
    """Solve; whether to proven optimality.

    Presolve has been seen to call a frozen model infeasible that is not (1.15.1), so whatever is
    not optimal is solved again without it.
    """
    for presolve in ("choose", "off"):
        highs.setOptionValue("presolve", presolve)
        highs.run()
        if highs.getModelStatus() == highspy.HighsModelStatus.kOptimal:
            return True
    return False


def _solution(highs: highspy.Highs) -> NDArray[np.int64] | None:
    status = highs.getInfo().primal_solution_status
    if status != highspy.SolutionStatus.kSolutionStatusFeasible:
        return None
    return np.round(np.array(highs.getSolution().col_value)).astype(np.int64)
