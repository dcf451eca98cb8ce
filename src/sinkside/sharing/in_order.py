"""Levels of an objective one after the other: each proven, then frozen, before the next.

A model is columns of whole numbers with a cost at each level, and rows. Whoever builds one
says what the columns mean; this only solves.
"""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sinkside.sharing.prover import INFINITE, Prover, Rows, Whole

__all__ = ["INFINITE", "LEVELS", "Level", "Model"]

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
_MORE_IS_BETTER = ("off", "lost")
# What one unit of a level is about worth beside those that are sought together with it; only
# for a first plan, of which every level is proven or bettered afterwards. Counts of what may go
# wrong are sought first, then volts, parts, money and what tells equals apart.
_ABOUT = (
    (262_144.0, 32_768.0, 4_096.0, 512.0, 64.0, 8.0, 1.0),
    (30.0, 30.0, 0.03, 1e-3, 1e-3, 1e-5),
)


@dataclass(frozen=True, kw_only=True)
class Level:
    """One level of the objective: what it counts, its value, and whether that is proven.

    Parameters
    ----------
    bound
        What is proven: with all levels before it as they are, no plan has a better value.
    """

    name: str
    value: int
    proven: bool
    bound: int


class Model:
    """Columns of whole numbers, rows, and a cost of each column at each level."""

    def __init__(self) -> None:
        self.uppers: list[int] = []
        self.costs: list[Mapping[str, int]] = []
        self.rows = Rows()
        self._fine: list[bool] = []
        self._prover: Prover | None = None

    def column(self, upper: int, costs: Mapping[str, int], *, fine: bool = False) -> int:
        """A whole number from nought to `upper`; its index.

        Parameters
        ----------
        fine
            Whether it mostly comes out whole once the others are.
        """
        self.uppers.append(upper)
        self.costs.append(costs)
        self._fine.append(fine)
        return len(self.uppers) - 1

    def row(self, low: float, high: float, entries: Mapping[int, int]) -> None:
        """A sum of columns that must lie between two values."""
        self.rows.add(low, high, entries)

    def weights(self, key: str) -> dict[int, int]:
        """What each column costs at one level; those that cost nothing are left out."""
        return {j: costs[key] for j, costs in enumerate(self.costs) if costs.get(key)}

    def _proving(self) -> Prover:
        if self._prover is None:
            self._prover = Prover(self.uppers, self._fine, self.rows)
        return self._prover

    def least(self, weights: Mapping[int, int]) -> tuple[int | None, bool]:
        """The least value of a sum of columns, kept from then on; whether it is proven.

        Nothing may be added to the model once this was asked.
        """
        cost = np.zeros(len(self.uppers), dtype=np.int64)
        for column, weight in weights.items():
            cost[column] = weight
        prover = self._proving()
        bound = prover.least(cost)
        if prover.known is None:
            return None, False
        value = int(cost @ prover.known)
        prover.freeze(cost, value)
        return value, bound == value

    def known(self) -> Whole:
        """The best plan so far; nought for every column if there is none."""
        found = self._proving().known
        return np.zeros(len(self.uppers), dtype=np.int64) if found is None else found

    def solve(self) -> tuple[Whole, tuple[Level, ...]]:
        """The columns at the best value of all levels, in order."""
        costs = np.zeros((len(LEVELS), len(self.uppers)), dtype=np.int64)
        place = {key: n for n, key in enumerate(LEVELS.values())}
        for j, column in enumerate(self.costs):
            for key, value in column.items():
                costs[place[key], j] = value
        search = _Search(self._proving(), costs)
        values = search.run()
        levels = []
        for (name, key), value, bound in zip(
            LEVELS.items(), costs @ values, search.bounds, strict=True
        ):
            sign = -1 if key in _MORE_IS_BETTER else 1
            levels.append(
                Level(
                    name=name,
                    value=sign * int(value),
                    proven=bound == int(value),
                    bound=sign * bound,
                )
            )
        return values, tuple(levels)


class _Search:
    """Goes through the levels: those sought together at once, then whatever was not met."""

    def __init__(self, prover: Prover, costs: NDArray[np.int64]) -> None:
        self.prover, self.costs = prover, costs
        self.size = costs.shape[1]
        self.index = np.arange(self.size)
        self.bounds: list[int] = []

    def run(self) -> Whole:
        head = len(_ABOUT[0])
        while len(self.bounds) < len(self.costs):
            n = len(self.bounds)
            if n < head:
                self.bounds += self.prover.chase(list(self.costs[n:head]), _ABOUT[0][n:])
                n = len(self.bounds)
            if n < len(self.costs):
                self._one(n)
            self._shrink()
        values = np.zeros(self.size, dtype=np.int64)
        if self.prover.known is not None:
            values[self.index] = self.prover.known
        return values

    def _one(self, n: int) -> None:
        """One level by itself.

        Where the plan at hand does not meet its bound, one that is about right in this level and
        all later ones is sought first: one that is right in this alone is often poor in the next.
        """
        cost = self.costs[n]
        bound = self.prover.low(cost)
        if n >= len(_ABOUT[0]) and not self._meets(cost, bound):
            self.prover.guess(_rough(self.costs, n), cost)
        bound = self.prover.least(cost, bound)
        if self.prover.known is not None:
            self.prover.freeze(cost, int(cost @ self.prover.known))
        self.bounds.append(bound)

    def _meets(self, cost: Whole, bound: int) -> bool:
        return self.prover.known is not None and int(cost @ self.prover.known) <= bound

    def _shrink(self) -> None:
        """Leave out for good what is out for good, once it is much."""
        live = self.prover.live()
        if 5 * live.size < 4 * self.index.size:
            self.prover = self.prover.without_the_dead()
            self.index, self.costs = self.index[live], self.costs[:, live]


def _rough(costs: NDArray[np.int64], first: int) -> NDArray[np.float64]:
    """A level and those sought together with it, weighed against each other."""
    done = 0
    for weights in _ABOUT:
        here = weights[max(0, first - done) :]
        if here:
            start = max(first, done)
            scaled = np.array(here) / max(1e-9, here[-1] if done == 0 else here[0])
            return np.asarray(scaled @ costs[start : start + len(here)], dtype=np.float64)
        done += len(weights)
    return np.zeros(costs.shape[1])
