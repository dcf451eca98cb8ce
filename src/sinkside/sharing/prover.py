"""The least of a sum of whole numbers under rows, proven: by a bound where that will do.

A linear program gives a bound, and for each column what a plan with it would cost at the least
more. Where the plan at hand meets the bound, it is proven without any branching. Else an integer
program is solved over those columns alone that could better it.
"""

import math
from collections.abc import Mapping, Sequence
from typing import TypeAlias

import highspy
import numpy as np
from numpy.typing import NDArray

Whole: TypeAlias = NDArray[np.int64]
Array: TypeAlias = NDArray[np.float64]

INFINITE = highspy.kHighsInf
# Room for the error of a bound in floats; more for bounds above 10 000 (judgement).
SLACK = 1e-5
# Effort is counted in nodes, not in seconds: the same question has the same answer anywhere.
# One node of a large program takes longer, so it gets fewer.
MOST_NODES, LEAST_NODES, NODES_TIMES_ENTRIES = 200_000, 100, 20_000_000
# A first plan need not be the best.
GUESS_SHARE = 0.05
GUESS_GAP = 1e-4
# Past so many columns, those that come out whole by themselves are left to do so.
COARSE_FROM = 1500
COARSE_GAP = 0.01
_NOTHING = np.zeros(0)


class Rows:
    """Rows of a model, as they are added."""

    def __init__(self) -> None:
        self.low: list[float] = []
        self.high: list[float] = []
        self.start: list[int] = [0]
        self.index: list[int] = []
        self.value: list[int] = []

    def add(self, low: float, high: float, entries: Mapping[int, int]) -> None:
        """A sum of columns that must lie between two values."""
        self.low.append(low)
        self.high.append(high)
        self.index += entries.keys()
        self.value += entries.values()
        self.start.append(len(self.index))

    def among(self, place: NDArray[np.intp]) -> "Rows":
        """The rows over some of the columns: where each of them is then, -1 for those that are out.

        What is out is nought in every plan.
        """
        index = place[np.array(self.index, dtype=np.intp)]
        stays = index >= 0
        kept = np.concatenate([[0], np.cumsum(stays)])[np.array(self.start, dtype=np.intp)]
        found = Rows()
        found.low, found.high, found.start = list(self.low), list(self.high), kept.tolist()
        found.index = index[stays].tolist()
        found.value = np.array(self.value, dtype=np.int64)[stays].tolist()
        return found

    def hold(self, values: Whole) -> bool:
        """Whether a plan keeps every row, in whole numbers."""
        if not self.low:
            return True
        terms = np.array(self.value, dtype=np.int64) * values[np.array(self.index, dtype=np.intp)]
        running = np.concatenate([[0], np.cumsum(terms)])
        start = np.array(self.start, dtype=np.intp)
        sums = running[start[1:]] - running[start[:-1]]
        return bool(np.all(sums >= np.array(self.low)) and np.all(sums <= np.array(self.high)))


class Prover:
    """Columns and rows in the solver, and the best plan that is known.

    Parameters
    ----------
    fine
        Columns that mostly come out whole once the others are.

    Notes
    -----
    Nought for every column has to be a plan.
    """

    def __init__(self, uppers: Sequence[int], fine: Sequence[bool], rows: Rows) -> None:
        self.rows = rows
        self.upper = np.array(uppers, dtype=float)
        self.fine = np.array(fine, dtype=bool)
        self.size = len(uppers)
        self.columns = np.arange(self.size, dtype=np.int32)
        self.known: Whole | None = np.zeros(self.size, dtype=np.int64)
        if not rows.hold(self.known):
            self.known = None
        self.lp = self._solver(whole=False)
        # Its costs change, and what it has found stays allowed: the primal method goes on there.
        self.lp.setOptionValue("simplex_strategy", 4)
        self.mip = self._solver(whole=True)
        entries = max(1, len(rows.index))
        self.nodes = int(min(MOST_NODES, max(LEAST_NODES, NODES_TIMES_ENTRIES / entries)))

    def _solver(self, *, whole: bool) -> highspy.Highs:
        solver = highspy.Highs()  # type: ignore[no-untyped-call]  # a binding without types
        for option, value in (
            ("output_flag", False),
            ("mip_rel_gap", 0.0),
            ("threads", 1),
            ("random_seed", 0),
        ):
            solver.setOptionValue(option, value)
        lp = highspy.HighsLp()
        lp.num_col_, lp.num_row_ = self.size, len(self.rows.low)
        lp.col_cost_ = np.zeros(self.size)
        lp.col_lower_ = np.zeros(self.size)
        lp.col_upper_ = self.upper
        lp.row_lower_ = np.array(self.rows.low, dtype=float)
        lp.row_upper_ = np.array(self.rows.high, dtype=float)
        lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
        lp.a_matrix_.start_ = np.array(self.rows.start, dtype=np.int32)
        lp.a_matrix_.index_ = np.array(self.rows.index, dtype=np.int32)
        lp.a_matrix_.value_ = np.array(self.rows.value, dtype=float)
        if whole:
            lp.integrality_ = [highspy.HighsVarType.kInteger] * self.size
        solver.passModel(lp)
        return solver

    def freeze(self, cost: Whole, value: int) -> None:
        """From now on a sum is no more than so much."""
        if cost.any():
            self._add_row(self.lp, cost, value)
            self._freeze_whole(cost, value)

    def _freeze_whole(self, cost: Whole, value: int) -> None:
        used = np.flatnonzero(cost)
        if used.size:
            self.rows.add(-INFINITE, float(value), {int(j): int(cost[j]) for j in used})
            self._add_row(self.mip, cost, value)

    def _add_row(self, solver: highspy.Highs, cost: Whole, value: int) -> None:
        used = np.flatnonzero(cost).astype(np.int32)
        solver.addRow(-INFINITE, float(value), used.size, used, cost[used].astype(float))

    def live(self) -> NDArray[np.intp]:
        """The columns that are not out for good."""
        return np.flatnonzero(self.upper > 0.0)

    def without_the_dead(self) -> "Prover":
        """The same over those columns alone that are not out for good; see `live`."""
        live = self.live()
        place = np.full(self.size, -1, dtype=np.intp)
        place[live] = np.arange(live.size)
        found = Prover(
            [int(u) for u in self.upper[live]], list(self.fine[live]), self.rows.among(place)
        )
        if self.known is not None:
            found.known = self.known[live]
        return found

    def low(self, cost: Whole) -> int:
        """A bound from below, by the linear program; columns too dear for the plan go.

        What is proven not to be in any plan as good as the one at hand is out for good: the
        caller freezes this sum at a value that is no worse.
        """
        if not cost.any():
            return 0
        low, reduced = self._bound(cost.astype(float))
        bound = _rounded_up(low, _divisor(cost))
        if self.known is not None:
            room = int(cost @ self.known) - low + SLACK * max(1.0, abs(low) / 1e4)
            self._close_out((reduced > room) & (self.known == 0) & (self.upper > 0.0))
        return bound

    def _close_out(self, dead: NDArray[np.bool_]) -> None:
        if not dead.any():
            return
        self.upper = np.where(dead, 0.0, self.upper)
        for solver in (self.lp, self.mip):
            solver.changeColsBounds(self.size, self.columns, np.zeros(self.size), self.upper)

    def _bound(self, cost: Array) -> tuple[float, Array]:
        """The linear program: its value, and what each column costs more at the least."""
        self.lp.changeColsCost(self.size, self.columns, cost)
        for presolve in ("choose", "off"):
            self.lp.setOptionValue("presolve", presolve)
            self.lp.run()
            if self.lp.getModelStatus() == highspy.HighsModelStatus.kOptimal:
                found = self.lp.getSolution()
                return float(self.lp.getInfo().objective_function_value), np.array(found.col_dual)
        least = float(np.minimum(cost, 0.0) @ self.upper)
        return least, np.zeros(self.size)

    def guess(self, cost: Array, first: Whole) -> None:
        """Look for a plan that is about as good as can be; nothing is proven by it.

        Parameters
        ----------
        first
            A sum in which it may not be worse than the plan at hand.
        """
        low, reduced = self._bound(cost)
        width = 0.02 * max(1.0, abs(low))
        if self.known is not None:
            width = min(width, float(cost @ self.known) - low)
        used = self.known > 0 if self.known is not None else False
        upper = np.where((reduced <= width) | used, self.upper, 0.0)
        if np.count_nonzero(upper) > COARSE_FROM and self.fine.any():
            found, _, _ = self._coarse(cost, upper, GUESS_SHARE, GUESS_GAP)
        else:
            found, _ = self._run(cost, upper, GUESS_SHARE, GUESS_GAP)
        if found is None or self.known is None or int(first @ found) <= int(first @ self.known):
            self._take(found, cost)

    def chase(self, costs: Sequence[Whole], weights: Sequence[float]) -> list[int]:
        """Look for a plan that meets the bounds of several sums, each kept before the next.

        Returns
        -------
        list of int
            The values of the first sums, as many as are proven and frozen.

        Notes
        -----
        The bounds are those of linear programs, rounded up, as if each were met. A plan that
        meets them all is proven best in all of these sums at once; what it falls short of a
        bound is what is minimised, so nothing is to be gained where a bound is met.
        """
        goals: list[int] = []
        dead: list[NDArray[np.bool_]] = []
        rows: list[int | None] = []
        for cost in costs:
            low, reduced = self._bound(cost.astype(float)) if cost.any() else (0.0, _NOTHING)
            goals.append(_rounded_up(low, _divisor(cost)))
            room = goals[-1] - low + SLACK * max(1.0, abs(low) / 1e4)
            dead.append(reduced > room if cost.any() else np.zeros(self.size, dtype=bool))
            rows.append(self.lp.getNumRow() if cost.any() else None)
            if cost.any():
                self._add_row(self.lp, cost, goals[-1])
        if self.known is None or any(
            int(c @ self.known) > goal for c, goal in zip(costs, goals, strict=True)
        ):
            self._take_in_order(self._short_of(costs, goals, weights, np.any(dead, axis=0)), costs)
        met = 0
        while (
            met < len(costs)
            and self.known is not None
            and int(costs[met] @ self.known) == goals[met]
        ):
            self._close_out(dead[met] & (self.known == 0))
            self._freeze_whole(costs[met], goals[met])
            met += 1
        for row in rows[met:]:
            if row is not None:
                self.lp.changeRowBounds(row, -INFINITE, INFINITE)
        return goals[:met]

    def _take_in_order(self, found: Whole | None, costs: Sequence[Whole]) -> None:
        """Keep a plan if it is better in the first sum in which it differs."""
        if found is None or not self.rows.hold(found):
            return
        now = [int(c @ found) for c in costs]
        if self.known is None or now < [int(c @ self.known) for c in costs]:
            self.known = found

    def _short_of(
        self,
        costs: Sequence[Whole],
        goals: Sequence[int],
        weights: Sequence[float],
        dead: NDArray[np.bool_],
    ) -> Whole | None:
        """The integer program of what is short of each goal, without what cannot meet them."""
        used_now = self.known > 0 if self.known is not None else np.zeros(self.size, dtype=bool)
        upper = np.where(dead & ~used_now, 0.0, self.upper)
        solver = self.mip
        first, rows = self.size, solver.getNumRow()
        none, no_value = np.zeros(0, dtype=np.int32), np.zeros(0)
        for n, (cost, goal) in enumerate(zip(costs, goals, strict=True)):
            solver.addCol(weights[n], 0.0, INFINITE, 0, none, no_value)
            used = np.append(np.flatnonzero(cost), first + n).astype(np.int32)
            value = np.append(cost[cost != 0], -1).astype(float)
            solver.addRow(-INFINITE, float(goal), used.size, used, value)
        solver.changeColsBounds(self.size, self.columns, np.zeros(self.size), upper)
        solver.changeColsCost(self.size, self.columns, np.zeros(self.size))
        solver.setOptionValue("mip_max_nodes", max(1, int(GUESS_SHARE * self.nodes)))
        solver.setOptionValue("mip_rel_gap", 0.0)
        solver.setOptionValue("mip_abs_gap", 0.5)
        solver.setOptionValue("presolve", "choose")
        solver.run()
        usable = (
            solver.getInfo().primal_solution_status
            == highspy.SolutionStatus.kSolutionStatusFeasible
        )
        point = np.array(solver.getSolution().col_value)[: self.size] if usable else None
        more = len(goals)
        solver.deleteRows(more, np.arange(rows, rows + more, dtype=np.int32))
        solver.deleteCols(more, np.arange(first, first + more, dtype=np.int32))
        return None if point is None else np.round(point).astype(np.int64)

    def least(self, cost: Whole, bound: int | None = None) -> int:
        """Minimise a sum; a bound that the plan at hand meets, if one could be proven."""
        bound = self.low(cost) if bound is None else bound
        if self.known is not None and int(cost @ self.known) <= bound:
            return int(cost @ self.known)
        low, reduced = self._bound(cost.astype(float))
        step = _divisor(cost)
        width = 2.0 * step
        if self.known is not None:
            width = max(0.0, int(cost @ self.known) - step - low + 0.01)
        while True:
            best = math.inf if self.known is None else int(cost @ self.known)
            # A plan with a column outside the window costs at least low + width.
            inside = reduced <= width
            used = self.known > 0 if self.known is not None else np.zeros(self.size, dtype=bool)
            found, floor = self._whole(cost.astype(float), inside | used, step)
            self._take(found, cost.astype(float))
            best = math.inf if self.known is None else int(cost @ self.known)
            proven = _rounded_up(floor, step)
            outside = _rounded_up(low + width, step)
            if bool(np.all(inside | (self.upper == 0.0))):
                return int(min(best, max(bound, proven)))
            if best <= min(proven, outside):
                return int(best)
            if proven < min(best, outside):  # the effort ran out inside the window
                return int(max(bound, min(proven, outside)))
            width = 8.0 * width if math.isinf(best) else max(width, best - step - low + 0.01)

    def _take(self, found: Whole | None, cost: Array) -> None:
        """Keep a plan if it is better, and if it keeps every row in whole numbers."""
        if found is None or np.any(found < 0) or not self.rows.hold(found):
            return
        if self.known is None or float(cost @ found) < float(cost @ self.known):
            self.known = found

    def _whole(self, cost: Array, keep: NDArray[np.bool_], step: int) -> tuple[Whole | None, float]:
        """An integer program over some of the columns: a plan, and a bound for those columns."""
        upper = np.where(keep, self.upper, 0.0)
        if np.count_nonzero(upper) > COARSE_FROM and self.fine.any():
            found, floor, alike = self._coarse(cost, upper, 1.0, 0.0, step)
            if alike or (found is None and math.isinf(floor)):
                return found, floor
            self._take(found, cost)
        return self._run(cost, upper, 1.0, 0.0, step)

    def _coarse(
        self, cost: Array, upper: Array, share: float, gap: float, step: int = 1
    ) -> tuple[Whole | None, float, bool]:
        """With fine columns left free, which is a relaxation, then with the coarse ones fixed.

        Returns
        -------
        tuple
            A plan, a bound, and whether the two come to the same.
        """
        free = np.array(
            [
                highspy.HighsVarType.kContinuous if f else highspy.HighsVarType.kInteger
                for f in self.fine
            ]
        )
        whole = np.full(self.size, highspy.HighsVarType.kInteger)
        self.mip.changeColsIntegrality(self.size, self.columns, free)
        # Its values lie anywhere between the steps: the bound is taken as far as it goes.
        point, floor = self._run_free(cost, upper, share, gap, COARSE_GAP * step)
        self.mip.changeColsIntegrality(self.size, self.columns, whole)
        if point is None:
            return None, floor, False
        fixed = np.where(self.fine, upper, np.round(point))
        lower = np.where(self.fine, 0.0, np.round(point))
        found, _ = self._run(cost, fixed, share, gap, step, lower)
        if found is None:
            return None, floor, False
        return found, floor, _rounded_up(floor, step) >= float(cost @ found)

    def _run(
        self,
        cost: Array,
        upper: Array,
        share: float,
        gap: float,
        step: int = 1,
        lower: Array | None = None,
    ) -> tuple[Whole | None, float]:
        # Where all values are multiples of a step, less than one more is none.
        point, floor = self._run_free(cost, upper, share, gap, 0.5 * step, lower)
        return (None if point is None else np.round(point).astype(np.int64)), floor

    def _run_free(
        self,
        cost: Array,
        upper: Array,
        share: float,
        gap: float,
        room: float,
        lower: Array | None = None,
    ) -> tuple[Array | None, float]:
        """Presolve has been seen to call a frozen model infeasible that is not (1.15.1), so
        whatever has no plan is solved again without it."""
        solver = self.mip
        low = np.zeros(self.size) if lower is None else lower
        solver.changeColsBounds(self.size, self.columns, low, upper)
        solver.changeColsCost(self.size, self.columns, cost)
        solver.setOptionValue("mip_max_nodes", max(1, int(share * self.nodes)))
        solver.setOptionValue("mip_rel_gap", gap)
        solver.setOptionValue("mip_abs_gap", 0.0 if gap else room)
        for presolve in ("choose", "off"):
            solver.setOptionValue("presolve", presolve)
            if self.known is not None:
                solver.setSolution(self.size, self.columns, self.known.astype(float))
            solver.run()
            info = solver.getInfo()
            if info.primal_solution_status == highspy.SolutionStatus.kSolutionStatusFeasible:
                return np.array(solver.getSolution().col_value), float(info.mip_dual_bound)
        if solver.getModelStatus() == highspy.HighsModelStatus.kInfeasible:
            return None, math.inf
        return None, float(info.mip_dual_bound)


def _divisor(cost: Whole) -> int:
    """What every value of a sum is a multiple of."""
    return int(np.gcd.reduce(np.abs(cost))) or 1


def _rounded_up(bound: float, step: int) -> int:
    """A bound in floats as the least value that it allows."""
    if math.isinf(bound):
        return 2**62 if bound > 0 else -(2**62)
    room = SLACK * max(1.0, abs(bound) / 1e4)
    return step * math.ceil((bound - room) / step)
