"""Levels of an objective one after the other: each proven, then frozen, before the next.

A model is columns of whole numbers with a cost at each level, and rows. Whoever builds one
says what the columns mean; this only solves.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import highspy
import numpy as np
from numpy.typing import NDArray

LEVELS = {
    "devices off their bricks": "off",
    "devices whose brick is lost": "lost",
    "harm or loss unproven": "harm",
    "misbehaving unproven": "misbehaves",
    "unlikely to run": "implausible",
    "irreversible changes": "irreversible",
    "residual risks": "risks",
    "tenths of a volt of contract": "decivolts",
    "parts in all": "stages",
    "cents": "cents",
    "milliwatts": "milliwatts",
    "chargers": "chargers",
    "order of names": "order",
}
MOST_NODES = 200_000
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
        self.highs = highspy.Highs()  # type: ignore[no-untyped-call]  # a binding without types
        for option, value in (
            ("output_flag", False),
            ("mip_rel_gap", 0.0),
            ("mip_abs_gap", 0.0),
            ("threads", 1),
            ("random_seed", 0),
            ("mip_max_nodes", MOST_NODES),
        ):
            self.highs.setOptionValue(option, value)
        self.costs: list[Mapping[str, int]] = []

    def column(self, upper: int, costs: Mapping[str, int]) -> int:
        """A whole number from nought to `upper`; its index."""
        self.highs.addCol(0.0, 0.0, float(upper), 0, np.array([], np.int32), np.array([]))
        index = len(self.costs)
        self.highs.changeColIntegrality(index, highspy.HighsVarType.kInteger)
        self.costs.append(costs)
        return index

    def row(self, low: float, high: float, entries: Mapping[int, float]) -> None:
        """A sum of columns that must lie between two values."""
        index = np.fromiter(entries.keys(), np.int32, len(entries))
        value = np.fromiter(entries.values(), np.float64, len(entries))
        self.highs.addRow(low, high, len(entries), index, value)

    def _run(self) -> bool:
        """Solve; whether to proven optimality.

        Presolve has been seen to call a frozen model infeasible that is not (1.15.1), so
        whatever is not optimal is solved again without it.
        """
        for presolve in ("choose", "off"):
            self.highs.setOptionValue("presolve", presolve)
            self.highs.run()
            if self.highs.getModelStatus() == highspy.HighsModelStatus.kOptimal:
                return True
        return False

    def _has_solution(self) -> bool:
        found = self.highs.getInfo().primal_solution_status
        return bool(found == highspy.SolutionStatus.kSolutionStatusFeasible)

    def solve(self) -> tuple[NDArray[np.float64], tuple[Level, ...]]:
        """The columns at the best value of all levels, in order."""
        levels = []
        columns = len(self.costs)
        values = np.zeros(columns)
        self.highs.changeObjectiveSense(highspy.ObjSense.kMinimize)
        for name, key in LEVELS.items():
            weights = np.array([c.get(key, 0) for c in self.costs], dtype=float)
            proven = True
            if weights.any():
                self.highs.changeColsCost(columns, np.arange(columns, dtype=np.int32), weights)
                proven = self._run()
                if self._has_solution():
                    values = np.round(np.array(self.highs.getSolution().col_value))
            value = int(weights @ values)
            used = np.flatnonzero(weights)
            if used.size:
                self.row(-INFINITE, float(value), {int(j): float(weights[j]) for j in used})
            levels.append(
                Level(name=name, value=-value if key in ("off", "lost") else value, proven=proven)
            )
        return values, tuple(levels)
