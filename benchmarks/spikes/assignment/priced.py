"""Levels in order: guess one good plan by weights, then prove it level by level by LP bounds.

The guess weighs all levels together; nothing rests on it. At each level the LP over all columns
gives a bound L and reduced costs d. If the plan at hand meets L rounded up, the level is proven
without any integer program. Else one is solved over the columns with d[j] <= D alone: a plan with
column j in it costs at least L + d[j], so if the optimum v has v - 1 < L + D, no left-out column
can better it; otherwise D becomes v - L. Once v is proven, columns with d[j] > v - L are in no
plan that keeps the level: they are fixed at 0, which makes the later levels small.

Each integer program is tried coarse first: columns marked fine may be fractional (a relaxation,
so its bound is a bound), then the coarse ones are fixed and the fine ones made whole (a plan, if
it exists). Only if the two differ are all columns made whole at once.
"""

from __future__ import annotations

import math
import time
from dataclasses import dataclass, field

import highspy
import numpy as np

from .in_order import OutOfTime, Program, Solved, highs, load, read, read_costs, slowdown

# only for a first guess, so they need not be exact: about what people would trade in cents
GUESS = (3e6, 3e5, 3e4, 3e3, 1.0, 0.1, 1e-5, 0.01)
GUESS_WIDTHS = (30.0, 1000.0)
_FLOAT_SLACK = 1e-5


@dataclass(slots=True)
class _Work:
    program: Program
    costs: np.ndarray
    lp: highspy.Highs
    upper: np.ndarray
    end: float
    frozen: list[tuple[np.ndarray, np.ndarray, float]] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class _Bounded:
    low: float
    reduced: np.ndarray

    @property
    def whole(self) -> int:
        """The bound rounded up, with room for the float error of the LP."""
        return math.ceil(self.low - _FLOAT_SLACK * max(1.0, abs(self.low) / 1e4))


def solve_priced(program: Program, *, seconds: float, guess: bool = True) -> Solved:
    """Minimise the levels in order.

    Parameters
    ----------
    program
        What to solve.
    seconds
        Processor time for all levels together.
    guess
        Whether to look for a good plan first; without it each level starts from the last.

    Raises
    ------
    OutOfTime
        If no plan was found in time.
    NotExact
        If a rounded solution does not keep the program's rows in integers.
    """
    costs, offset = read_costs(program)
    lp = highs()
    load(lp, program, integer=False)
    work = _Work(
        program, costs, lp, np.array(program.uppers, dtype=float), time.process_time() + seconds
    )
    start = time.process_time()
    values = _guess(work) if guess else None
    spent = [time.process_time() - start]
    bounds: list[int] = []
    for level in range(program.levels):
        start = time.process_time()
        try:
            values, bound = _level(work, costs[:, level], values)
        except OutOfTime:
            break
        spent.append(time.process_time() - start)
        bounds.append(bound + int(offset[level]))
        if bound < values @ costs[:, level]:
            break
    if values is None:
        raise OutOfTime("no plan was found in time")
    return Solved(
        values=tuple(int(value) for value in values),
        levels=tuple(int(level) for level in values @ costs + offset),
        bounds=(*bounds, *(-1,) * (program.levels - len(bounds))),
        seconds=tuple(spent),
    )


def _guess(work: _Work) -> np.ndarray | None:
    """Find one good plan by weighing all levels together; nothing is proven by it."""
    cost = work.costs[:, : len(GUESS)] @ np.array(GUESS)
    bounded = _bound(work, cost)
    best: np.ndarray | None = None
    for width in GUESS_WIDTHS:
        keep = bounded.reduced <= width
        coarse, _ = _mip(work, cost, keep, best, fine_whole=False, share=0.25)
        if coarse is not None:
            best = _mip(work, cost, keep, best, fixed=coarse, share=0.25)[0]
        if best is None:
            best = _mip(work, cost, keep, best, share=0.25)[0]
        if best is not None and best @ cost <= bounded.low + width:
            break
    return best


def _level(work: _Work, cost: np.ndarray, known: np.ndarray | None) -> tuple[np.ndarray, int]:
    bounded = _bound(work, cost)
    if known is not None and known @ cost == bounded.whole:
        values, bound = known, bounded.whole
    else:
        values, bound = _close(work, cost, known, bounded)
    reached = int(values @ cost)
    if bound == reached:
        dead = (bounded.reduced > reached - bounded.low + 1e-4) & (values == 0)
        work.upper[dead] = 0.0
        everything = np.arange(len(cost), dtype=np.int32)
        work.lp.changeColsBounds(len(cost), everything, np.zeros(len(cost)), work.upper)
        used = np.flatnonzero(cost).astype(np.int32)
        if len(used):
            work.frozen.append((used, cost[used].astype(float), float(reached)))
            work.lp.addRow(float(reached), float(reached), len(used), used, work.frozen[-1][1])
    return values, bound


def _close(
    work: _Work, cost: np.ndarray, known: np.ndarray | None, bounded: _Bounded
) -> tuple[np.ndarray, int]:
    """Run integer programs over ever more columns until none left out can matter."""
    bound = bounded.whole
    width = bound - bounded.low + 0.5 * float(np.median(np.abs(cost[cost != 0])))
    while True:
        if known is not None:
            width = min(width, max(0.0, float(known @ cost) - 1 - bounded.low))
        used = known > 0 if known is not None else np.zeros(len(cost), dtype=bool)
        keep = (bounded.reduced <= width + 1e-6) | used
        outside = math.floor(bounded.low + width + 1e-4) + 1
        coarse, low = _mip(work, cost, keep, None, fine_whole=False)
        bound = max(bound, min(low, outside))
        if coarse is not None:
            known = _mip(work, cost, keep, known, fixed=coarse)[0]
        if known is None or known @ cost > bound:
            known, low = _mip(work, cost, keep, known)
            bound = max(bound, min(low, outside))
        if known is None:
            raise OutOfTime("no plan was found in time")
        reached = int(known @ cost)
        if bound >= reached or keep.all() or time.process_time() > work.end:
            return known, min(bound, reached)
        width = 2 * width + reached - bounded.low


def _bound(work: _Work, cost: np.ndarray) -> _Bounded:
    everything = np.arange(len(cost), dtype=np.int32)
    work.lp.changeColsCost(len(cost), everything, cost.astype(float))
    _run(work, work.lp)
    status = work.lp.getModelStatus()
    if status != highspy.HighsModelStatus.kOptimal:
        raise OutOfTime(work.lp.modelStatusToString(status))
    return _Bounded(
        work.lp.getInfo().objective_function_value, np.array(work.lp.getSolution().col_dual)
    )


def _mip(
    work: _Work,
    cost: np.ndarray,
    keep: np.ndarray,
    known: np.ndarray | None,
    *,
    fine_whole: bool = True,
    fixed: np.ndarray | None = None,
    share: float = 1.0,
) -> tuple[np.ndarray | None, int]:
    """Solve over the columns kept; give the better of the known and the found plan, and a bound.

    With `fine_whole` false the first is the raw point, rounded, of which only the coarse columns
    mean anything; with `fixed` those are kept and the bound holds for them alone.
    """
    everything = np.arange(len(cost), dtype=np.int32)
    coarse = np.ones(len(cost), dtype=bool)
    coarse[list(work.program.fine)] = False
    solver = highs()
    load(solver, work.program)
    low, high = np.zeros(len(cost)), np.where(keep, work.upper, 0.0)
    if fixed is not None:
        low[coarse] = high[coarse] = fixed[coarse]
    solver.changeColsBounds(len(cost), everything, low, high)
    for columns, numbers, value in work.frozen:
        solver.addRow(value, value, len(columns), columns, numbers)
    solver.changeColsCost(len(cost), everything, cost.astype(float))
    if not fine_whole:
        fine = np.flatnonzero(~coarse).astype(np.int32)
        continuous = np.full(len(fine), highspy.HighsVarType.kContinuous)
        solver.changeColsIntegrality(len(fine), fine, continuous)
    elif known is not None:
        solver.setSolution(len(cost), everything, known.astype(float))
    _run(work, solver, share)
    info = solver.getInfo()
    bound = (
        math.ceil(info.mip_dual_bound - 1e-4) if math.isfinite(info.mip_dual_bound) else -(2**62)
    )
    if not fine_whole:
        found = info.primal_solution_status == 2
        return np.rint(solver.getSolution().col_value).astype(np.int64) if found else None, bound
    try:
        return read(solver, work.program, np.rint(cost).astype(np.int64), known)[0], bound
    except OutOfTime:
        return None, bound


def _run(work: _Work, solver: highspy.Highs, share: float = 1.0) -> None:
    left = share * (work.end - time.process_time())
    if left <= 0:
        raise OutOfTime("the clock ran out")
    # the solver counts its run time from its first run, not from this one
    solver.setOptionValue("time_limit", solver.getRunTime() + left * slowdown())
    solver.run()
