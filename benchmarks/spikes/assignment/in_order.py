"""Integer programs whose objectives are minimised in order, each proven before the next (HiGHS)."""

from __future__ import annotations

import math
import time
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field

import highspy
import numpy as np

from .question import Vector

Row = tuple[float, float, list[int], list[int]]
# least distance, in whole objective units, that a float bound must keep from the next integer
_BOUND_SLACK = 1e-4


class NotExact(Exception):
    """A rounded solution breaks a row, or rounds to another objective than the solver reported."""


class OutOfTime(Exception):
    """The clock ran out before any integer solution was found."""


@dataclass(slots=True)
class Program:
    """Columns with one integer cost per level, and rows; everything in whole numbers."""

    levels: int
    costs: list[Vector] = field(default_factory=list)
    uppers: list[int] = field(default_factory=list)
    offset: Vector = ()
    rows: list[Row] = field(default_factory=list)
    fine: set[int] = field(default_factory=set)
    """Columns that come out whole, or nearly, once all others are whole."""

    def column(self, upper: int, costs: Vector | None = None, *, fine: bool = False) -> int:
        """Add an integer column from 0 to `upper`; return its number."""
        if fine:
            self.fine.add(len(self.uppers))
        self.costs.append(costs or (0,) * self.levels)
        self.uppers.append(upper)
        return len(self.uppers) - 1

    def row(self, low: float, high: float, terms: Iterable[tuple[int, int]]) -> None:
        """Add `low <= sum(number * column) <= high`, with terms as (column, number)."""
        summed: dict[int, int] = {}
        for column, number in terms:
            summed[column] = summed.get(column, 0) + number
        self.rows.append((low, high, list(summed), list(summed.values())))


@dataclass(frozen=True, kw_only=True, slots=True)
class Solved:
    """A whole-numbered solution, its levels, the proven bounds, and seconds spent per level."""

    values: tuple[int, ...]
    levels: Vector
    bounds: Vector
    seconds: tuple[float, ...]


Group = tuple[int, ...]
ONE_BY_ONE: tuple[Group, ...] = ((0,), (1,), (2,), (3,), (4,), (5,), (6,), (7,))
COUNTS_TOGETHER: tuple[Group, ...] = ((0, 1, 2, 3), (4,), (5,), (6,), (7,))
ALL_TOGETHER: tuple[Group, ...] = ((0, 1, 2, 3, 4, 5, 6, 7),)


_MARK = [time.perf_counter(), time.process_time()]


def mark() -> None:
    """Start the comparison of wall and processor time anew."""
    _MARK[:] = time.perf_counter(), time.process_time()


def slowdown() -> float:
    """Say how many wall seconds a processor second took since the mark.

    All limits are processor seconds, since the machine is shared; the solver only knows wall time.
    """
    wall, processor = time.perf_counter() - _MARK[0], time.process_time() - _MARK[1]
    return max(1.0, wall / processor) if processor > 0.2 else 2.0


def highs(threads: int = 1) -> highspy.Highs:
    """Make a quiet solver with no gap allowed."""
    # the library is typed except for this constructor
    solver = highspy.Highs()  # type: ignore[no-untyped-call]
    solver.setOptionValue("output_flag", False)
    solver.setOptionValue("mip_rel_gap", 0.0)
    solver.setOptionValue("mip_abs_gap", 0.5)
    solver.setOptionValue("threads", threads)
    solver.setOptionValue("random_seed", 0)
    return solver


def load(solver: highspy.Highs, program: Program, *, integer: bool = True) -> None:
    """Give the program's columns and rows to the solver, without an objective."""
    lp = highspy.HighsLp()
    columns, rows = len(program.uppers), len(program.rows)
    lp.num_col_, lp.num_row_ = columns, rows
    lp.col_cost_ = np.zeros(columns)
    lp.col_lower_ = np.zeros(columns)
    lp.col_upper_ = np.array(program.uppers, dtype=float)
    lp.row_lower_ = np.array([row[0] for row in program.rows], dtype=float)
    lp.row_upper_ = np.array([row[1] for row in program.rows], dtype=float)
    lp.a_matrix_.format_ = highspy.MatrixFormat.kRowwise
    lp.a_matrix_.start_ = np.cumsum([0, *(len(row[2]) for row in program.rows)])
    lp.a_matrix_.index_ = np.array([i for row in program.rows for i in row[2]], dtype=np.int32)
    lp.a_matrix_.value_ = np.array([v for row in program.rows for v in row[3]], dtype=float)
    if integer:
        lp.integrality_ = [highspy.HighsVarType.kInteger] * columns
    solver.passModel(lp)


def solve_in_order(
    program: Program,
    *,
    seconds: float,
    groups: Sequence[Group] = ONE_BY_ONE,
    freeze: str = "row",
    threads: int = 1,
) -> Solved:
    """Minimise the levels in order and keep each at its proven value.

    Parameters
    ----------
    program
        What to solve.
    seconds
        Processor time for all levels together.
    groups
        Levels solved at once by exact integer weights; each group is frozen level by level.
    freeze
        "row" keeps a level by an equation; "row, fixed" also fixes to 0 every column that
        cannot be used any more because its level is proven 0.
    threads
        Threads of the solver.

    Raises
    ------
    OutOfTime
        If not even the first level found a solution in time.
    NotExact
        If a rounded solution does not keep the program's rows in integers.
    """
    end = time.process_time() + seconds
    solver = highs(threads)
    load(solver, program)
    costs, offset = read_costs(program)
    everything = np.arange(len(program.uppers), dtype=np.int32)
    values: np.ndarray | None = None
    bounds: list[int] = []
    spent: list[float] = []
    for group in groups:
        start = time.process_time()
        weights = _weights(program, costs, group)
        objective = costs[:, list(group)] @ np.array(weights, dtype=np.int64)
        solver.changeColsCost(len(everything), everything, objective.astype(float))
        # the solver counts its run time from its first run, not from this one
        solver.setOptionValue(
            "time_limit", solver.getRunTime() + max(0.1, end - start) * slowdown()
        )
        if values is not None:
            solver.setSolution(len(everything), everything, values.astype(float))
        solver.run()
        values, bound = read(solver, program, objective, values)
        spent.append(time.process_time() - start)
        levels = values @ costs + offset
        reached = int(values @ objective)
        proven = bound >= reached
        bounds += [int(levels[level]) if proven else -1 for level in group]
        if not proven:
            if len(group) == 1:
                bounds[-1] = bound + int(offset[group[0]])
            break
        for level in group:
            _freeze(solver, costs[:, level], int(levels[level] - offset[level]), freeze)
    if values is None:
        raise OutOfTime("no level was tried")
    bounds += [-1] * (program.levels - len(bounds))
    return Solved(
        values=tuple(int(value) for value in values),
        levels=tuple(int(level) for level in values @ costs + offset),
        bounds=tuple(bounds),
        seconds=tuple(spent),
    )


def read_costs(program: Program) -> tuple[np.ndarray, np.ndarray]:
    """Give the costs as columns × levels, and the offset of each level."""
    costs = np.array(program.costs, dtype=np.int64).reshape(-1, program.levels)
    return costs, np.array(program.offset or (0,) * program.levels, dtype=np.int64)


def _weights(program: Program, costs: np.ndarray, group: Group) -> list[int]:
    """Give weights such that one unit of a level outweighs all that later ones can reach."""
    weights = [1]
    for level in reversed(group[1:]):
        span = int(np.abs(costs[:, level]) @ np.array(program.uppers, dtype=np.int64))
        weights.insert(0, weights[0] * (span + 1))
    if weights[0] > 2**62:
        raise NotExact(f"levels {group} need weights above 64 bits")
    return weights


def read(
    solver: highspy.Highs, program: Program, objective: np.ndarray, known: np.ndarray | None
) -> tuple[np.ndarray, int]:
    """Take a solution in whole numbers, or the known one if it is no worse, and its bound."""
    info = solver.getInfo()
    point = np.array(solver.getSolution().col_value)
    usable = info.primal_solution_status == 2 and len(point) == len(program.uppers)
    if not usable and known is None:
        raise OutOfTime(f"no solution: {solver.modelStatusToString(solver.getModelStatus())}")
    values = np.rint(point).astype(np.int64) if usable else np.zeros(0, dtype=np.int64)
    if known is not None and (not usable or known @ objective < values @ objective):
        values = known
    _check_rows(program, values)
    bound = info.mip_dual_bound
    return values, math.ceil(bound - _BOUND_SLACK) if math.isfinite(bound) else -(2**62)


def _check_rows(program: Program, values: np.ndarray) -> None:
    whole = values.tolist()
    for low, high, columns, numbers in program.rows:
        total = sum(number * whole[column] for column, number in zip(columns, numbers, strict=True))
        if not low <= total <= high:
            raise NotExact(f"rounded, a row is {total}, not within {low}..{high}")
    for value, upper in zip(whole, program.uppers, strict=True):
        if not 0 <= value <= upper:
            raise NotExact(f"rounded, a column is {value}, not within 0..{upper}")


def _freeze(solver: highspy.Highs, cost: np.ndarray, value: int, how: str) -> None:
    columns = np.flatnonzero(cost).astype(np.int32)
    if value == 0 and how == "row, fixed" and (cost >= 0).all():
        zeros = np.zeros(len(columns))
        solver.changeColsBounds(len(columns), columns, zeros, zeros)
    elif len(columns):
        low = -highspy.kHighsInf if how == "row, at most" else float(value)
        solver.addRow(low, float(value), len(columns), columns, cost[columns].astype(float))
