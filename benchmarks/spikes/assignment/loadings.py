"""Formulation c: one integer per loading, that is, per way to fill one charger of a kind.

A loading's ports, paths and conflicts are checked when it is made, so the program needs no row
for the sharing table. Where all loadings are few they are all listed; else they are made on
demand: for the LP of each level by pricing (depth first over the ports of each cap, cut by the
best that the remaining ports can add), and to close the gap to the integer optimum by listing
every loading whose reduced cost is within the gap: no other can be part of a better plan.
"""

from __future__ import annotations

import math
import time
from collections import defaultdict
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import highspy
import numpy as np

from .aggregated import Report, check_expanded
from .alike import DeviceClass, caps_of, classes_of
from .conflicts import Filling, grounds_of, pieces_of
from .in_order import OutOfTime, Program, Solved, highs, load, read, slowdown
from .priced import GUESS, solve_priced
from .question import LEVELS, Answer, ChargerKind, Option, Question, Seat, levels_of

Loading = tuple[int, tuple[int, ...]]
"""A kind by number, and the fillings (by index into the kind's) of its loaded ports."""
_MOST_LOADINGS = 60_000


@dataclass(frozen=True, kw_only=True, slots=True)
class _Kind:
    kind: ChargerKind
    fillings: tuple[Filling, ...]
    caps: tuple[tuple[tuple[int, np.ndarray], ...], ...]
    left: tuple[int, ...]
    right: tuple[int, ...]


@dataclass(slots=True)
class _Master:
    """The loadings known so far and the rows that they share."""

    question: Question
    classes: tuple[DeviceClass, ...]
    kinds: list[_Kind]
    grounds: Sequence[tuple[frozenset[int], frozenset[int]]]
    program: Program
    row_of_class: list[int]
    row_of_kind: list[int]
    row_of_part: dict[str, int]
    row_of_earth: dict[int, list[tuple[int, int]]]
    row_of_budget: int | None
    known: dict[Loading, int] = field(default_factory=dict)


def solve(question: Question, *, seconds: float, enumerate_all: bool = False) -> Report:
    """Build, solve and expand; OutOfTime if `enumerate_all` meets too many loadings."""
    end = time.process_time() + seconds
    master = _master(question)
    if enumerate_all:
        for number, kind in enumerate(master.kinds):
            for _, chosen in _cheap(
                kind, master.classes, np.full(len(kind.fillings), -1.0), 0.0, end
            ):
                _add(master, (number, chosen))
                if len(master.known) > _MOST_LOADINGS:
                    raise OutOfTime(f"more than {_MOST_LOADINGS} loadings")
        solved = solve_priced(master.program, seconds=end - time.process_time())
    else:
        solved = _generate(master, end)
    chosen_seats = _expand(master, solved.values)
    levels = levels_of(question, chosen_seats)
    check_expanded(levels, solved)
    return Report(
        answer=Answer(
            seats=tuple(sorted(seat for seat, _ in chosen_seats)),
            levels=levels,
            bounds=solved.bounds,
        ),
        solved=solved,
        columns=len(master.program.uppers),
        rows=len(master.program.rows),
        rounds=1,
    )


def _master(question: Question) -> _Master:
    classes = classes_of(question)
    grounds = grounds_of(classes)
    program = Program(levels=len(LEVELS), offset=(len(question.devices), *(0,) * 7))
    kinds = []
    for kind in question.kinds:
        fillings = tuple(
            (n, option)
            for n, alike in enumerate(classes)
            for option in alike.options
            if option.kind == kind.id
        )
        pieces = pieces_of(fillings, classes, grounds)
        caps = tuple(
            tuple(
                (
                    port,
                    np.array(
                        [
                            i
                            for i, (_, option) in enumerate(fillings)
                            if option.port == port and cap in option.loaded
                        ],
                        dtype=int,
                    ),
                )
                for port in range(len(kind.ports))
                if cap >> port & 1
            )
            for cap in caps_of([option for _, option in fillings], len(kind.ports))
        )
        kinds.append(
            _Kind(
                kind=kind,
                fillings=fillings,
                caps=caps,
                left=tuple(
                    sum(1 << n for n, p in enumerate(pieces) if i in p.left)
                    for i in range(len(fillings))
                ),
                right=tuple(
                    sum(1 << n for n, p in enumerate(pieces) if i in p.right)
                    for i in range(len(fillings))
                ),
            )
        )
    row_of_class = [_row(program, 0, len(alike.members)) for alike in classes]
    row_of_kind = [_row(program, 0, kind.kind.count) for kind in kinds]
    row_of_part = {part.id: _row(program, -math.inf, part.stock) for part in question.parts}
    budget = question.budget_cents
    row_of_budget = None if budget is None else _row(program, -math.inf, budget)
    row_of_earth: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for left, right in grounds:
        side = program.column(1)
        for members, sign in ((left, -1), (right, 1)):
            for number in sorted(members):
                size = len(classes[number].members)
                row = _row(program, -math.inf, 0 if sign < 0 else size)
                _enter(program, row, side, sign * size)
                row_of_earth[number].append((row, 1))
    for part in question.parts:
        if part.cents is not None:
            bought = program.column(2 * len(question.devices), (0, 0, 0, 0, part.cents, 0, 0, 0))
            _enter(program, row_of_part[part.id], bought, -1)
            if row_of_budget is not None:
                _enter(program, row_of_budget, bought, part.cents)
    return _Master(
        question,
        classes,
        kinds,
        grounds,
        program,
        row_of_class,
        row_of_kind,
        row_of_part,
        dict(row_of_earth),
        row_of_budget,
    )


def _row(program: Program, low: float, high: float) -> int:
    program.row(low, high, ())
    return len(program.rows) - 1


def _enter(program: Program, row: int, column: int, number: int) -> None:
    program.rows[row][2].append(column)
    program.rows[row][3].append(number)


def _entries(master: _Master, kind: _Kind, filling: int) -> list[tuple[int, int]]:
    """Give the rows in which a filling counts, apart from its kind's and the frozen levels'."""
    number, option = kind.fillings[filling]
    found = [(master.row_of_class[number], 1)]
    found += [(master.row_of_part[part], drawn) for part, drawn in option.parts]
    if kind.kind.earthed and not option.isolated:
        found += master.row_of_earth.get(number, [])
    if master.row_of_budget is not None:
        found.append((master.row_of_budget, option.cents))
    return found


def _add(master: _Master, loading: Loading) -> int | None:
    """Add a loading as a column; None if it is known."""
    if loading in master.known:
        return None
    number, chosen = loading
    kind = master.kinds[number]
    sums = [sum(c) for c in zip(*(kind.fillings[i][1].costs for i in chosen), strict=True)]
    column = master.program.column(kind.kind.count, (-len(chosen), *sums, 1))
    entries: dict[int, int] = defaultdict(int)
    entries[master.row_of_kind[number]] = 1
    for i in chosen:
        for row, amount in _entries(master, kind, i):
            entries[row] += amount
    for row, amount in entries.items():
        _enter(master.program, row, column, amount)
    master.known[loading] = column
    return column


def _cheap(
    kind: _Kind, classes: tuple[DeviceClass, ...], prices: np.ndarray, most: float, end: float
) -> Iterator[tuple[float, tuple[int, ...]]]:
    """List the loadings of a kind whose prices sum to `most` at most."""
    seen: set[tuple[int, ...]] = set()
    for cap in kind.caps:
        lists = []
        for _, fillings in cap:
            order = fillings[np.argsort(prices[fillings], kind="stable")]
            lists.append((order.tolist(), prices[order].tolist()))
        rest = [0.0]
        for _, values in reversed(lists):
            rest.append(rest[-1] + min(0.0, values[0] if values else 0.0))
        rest.reverse()
        stack: list[tuple[int, float, tuple[int, ...], int, int]] = [(0, 0.0, (), 0, 0)]
        while stack:
            depth, total, chosen, left, right = stack.pop()
            if depth == len(lists):
                if chosen and chosen not in seen:
                    seen.add(chosen)
                    yield total, chosen
                continue
            if time.process_time() > end:
                raise OutOfTime("the clock ran out in pricing")
            if total + rest[depth + 1] <= most:
                stack.append((depth + 1, total, chosen, left, right))
            for i, value in zip(*lists[depth], strict=True):
                if total + value + rest[depth + 1] > most:
                    break
                if kind.left[i] & right or kind.right[i] & left:
                    continue
                number = kind.fillings[i][0]
                same = sum(kind.fillings[other][0] == number for other in chosen)
                if same < len(classes[number].members):
                    stack.append(
                        (
                            depth + 1,
                            total + value,
                            (*chosen, i),
                            left | kind.left[i],
                            right | kind.right[i],
                        )
                    )


def _cheapest(
    kind: _Kind, classes: tuple[DeviceClass, ...], prices: np.ndarray, end: float
) -> list[tuple[float, tuple[int, ...]]]:
    """Find the cheapest loading under each cap, depth first with a falling limit."""
    found = []
    for cap in kind.caps:
        lists = []
        for _, fillings in cap:
            below = fillings[prices[fillings] < 0]
            order = below[np.argsort(prices[below], kind="stable")]
            lists.append((order.tolist(), prices[order].tolist()))
        rest = [0.0]
        for _, values in reversed(lists):
            rest.append(rest[-1] + (values[0] if values else 0.0))
        rest.reverse()
        best: tuple[float, tuple[int, ...]] = (0.0, ())

        def extend(
            depth: int,
            total: float,
            chosen: tuple[int, ...],
            left: int,
            right: int,
            lists: list[tuple[list[int], list[float]]] = lists,
            rest: list[float] = rest,
        ) -> None:
            nonlocal best
            if depth == len(lists):
                if total < best[0]:
                    best = total, chosen
                return
            for i, value in zip(*lists[depth], strict=True):
                if total + value + rest[depth + 1] >= best[0] - 1e-9:
                    break
                if kind.left[i] & right or kind.right[i] & left:
                    continue
                number = kind.fillings[i][0]
                if sum(kind.fillings[o][0] == number for o in chosen) < len(
                    classes[number].members
                ):
                    extend(
                        depth + 1,
                        total + value,
                        (*chosen, i),
                        left | kind.left[i],
                        right | kind.right[i],
                    )
            if total + rest[depth + 1] < best[0] - 1e-9:
                extend(depth + 1, total, chosen, left, right)

        if time.process_time() > end:
            raise OutOfTime("the clock ran out in pricing")
        extend(0, 0.0, (), 0, 0)
        if best[1]:
            found.append(best)
    return found


@dataclass(slots=True)
class _Run:
    """The LP over the known loadings, kept up to date, and the levels frozen so far."""

    master: _Master
    lp: highspy.Highs
    end: float
    frozen: list[tuple[int, int]] = field(default_factory=list)
    columns: int = 0


def _generate(master: _Master, end: float) -> Solved:
    lp = highs()
    load(lp, master.program, integer=False)
    run = _Run(master, lp, end, columns=len(master.program.uppers))
    start = time.process_time()
    low = _lp_bound(run, np.array(GUESS))
    values = _best_of(run, np.array(GUESS), low, 30.0, None, share=0.3)[0]
    seconds = [time.process_time() - start]
    bounds: list[int] = []
    offset = master.program.offset
    for level in range(len(LEVELS)):
        start = time.process_time()
        weights = np.eye(len(LEVELS))[level]
        try:
            low = _lp_bound(run, weights)
            bound = math.ceil(low - 1e-5 * max(1.0, abs(low) / 1e4))
            reached = _level_of(master, values, level)
            if reached != bound:
                values, bound = _best_of(run, weights, low, reached - 1 - low, values, share=1.0)
                reached = _level_of(master, values, level)
        except OutOfTime:
            bounds.append(-1)
            break
        seconds.append(time.process_time() - start)
        bounds.append(bound + offset[level])
        if bound != reached:
            break
        run.frozen.append((level, reached))
        used = [(c, cost[level]) for c, cost in enumerate(master.program.costs) if cost[level]]
        run.lp.addRow(
            reached,
            reached,
            len(used),
            np.array([c for c, _ in used], dtype=np.int32),
            np.array([n for _, n in used], dtype=float),
        )
    costs = np.array(master.program.costs)
    levels = _padded(master, values) @ costs + np.array(offset)
    bounds += [-1] * (len(LEVELS) - len(bounds))
    return Solved(
        values=tuple(_padded(master, values).tolist()),
        levels=tuple(levels.tolist()),
        bounds=tuple(bounds),
        seconds=tuple(seconds),
    )


def _padded(master: _Master, values: np.ndarray) -> np.ndarray:
    return np.concatenate([values, np.zeros(len(master.program.uppers) - len(values), dtype=int)])


def _level_of(master: _Master, values: np.ndarray, level: int) -> int:
    return int(sum(v * master.program.costs[c][level] for c, v in enumerate(values.tolist()) if v))


def _lp_bound(run: _Run, weights: np.ndarray) -> float:
    """Price loadings into the LP until none is missing; return its optimum."""
    while True:
        cost = np.array(run.master.program.costs) @ weights
        run.lp.changeColsCost(len(cost), np.arange(len(cost), dtype=np.int32), cost)
        left = run.end - time.process_time()
        if left <= 0:
            raise OutOfTime("the clock ran out in pricing")
        run.lp.setOptionValue("time_limit", run.lp.getRunTime() + left * slowdown())
        run.lp.run()
        if run.lp.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            raise OutOfTime(run.lp.modelStatusToString(run.lp.getModelStatus()))
        new = 0
        slack = 1e-6 * max(1.0, float(np.abs(weights).max()) * 1e-2)
        for number, (prices, base) in enumerate(_prices(run, weights)):
            kind = run.master.kinds[number]
            for total, chosen in _cheapest(kind, run.master.classes, prices, run.end):
                if total + base < -slack and _add(run.master, (number, chosen)) is not None:
                    new += 1
        if not new:
            return float(run.lp.getInfo().objective_function_value)
        _extend_lp(run)


def _prices(run: _Run, weights: np.ndarray) -> Iterator[tuple[np.ndarray, float]]:
    """Give per kind the reduced price of each filling, and of using one charger."""
    master = run.master
    duals = np.array(run.lp.getSolution().row_dual)
    own = len(master.program.rows)
    level_price = weights.copy()
    for position, (level, _) in enumerate(run.frozen):
        level_price[level] -= duals[own + position]
    for number, kind in enumerate(master.kinds):
        prices = np.array(
            [
                -level_price[0]
                + float(np.dot(level_price[1:7], option.costs))
                - sum(duals[row] * amount for row, amount in _entries(master, kind, i))
                for i, (_, option) in enumerate(kind.fillings)
            ]
        )
        yield prices, float(level_price[7] - duals[master.row_of_kind[number]])


def _extend_lp(run: _Run) -> None:
    program = run.master.program
    entries: dict[int, list[tuple[int, int]]] = defaultdict(list)
    for row, (_, _, columns, numbers) in enumerate(program.rows):
        for column, number in zip(reversed(columns), reversed(numbers), strict=True):
            if column < run.columns:
                break
            entries[column].append((row, number))
    own = len(program.rows)
    for column in range(run.columns, len(program.uppers)):
        terms = entries[column]
        terms += [
            (own + position, program.costs[column][level])
            for position, (level, _) in enumerate(run.frozen)
            if program.costs[column][level]
        ]
        run.lp.addCol(
            0.0,
            0.0,
            float(program.uppers[column]),
            len(terms),
            np.array([row for row, _ in terms], dtype=np.int32),
            np.array([n for _, n in terms], dtype=float),
        )
    run.columns = len(program.uppers)


def _best_of(
    run: _Run, weights: np.ndarray, low: float, width: float, known: np.ndarray | None, share: float
) -> tuple[np.ndarray, int]:
    """Solve the integer program over all loadings of reduced cost up to `width`."""
    master = run.master
    listed = True
    for number, (prices, base) in enumerate(list(_prices(run, weights))):
        kind = master.kinds[number]
        for count, (_, chosen) in enumerate(
            _cheap(kind, master.classes, prices, width - base + 1e-6, run.end)
        ):
            _add(master, (number, chosen))
            if count > _MOST_LOADINGS // len(master.kinds):
                listed = False
                break
    _extend_lp(run)
    solver = highs()
    load(solver, master.program)
    for level, value in run.frozen:
        used = [(c, cost[level]) for c, cost in enumerate(master.program.costs) if cost[level]]
        solver.addRow(
            value,
            value,
            len(used),
            np.array([c for c, _ in used], dtype=np.int32),
            np.array([n for _, n in used], dtype=float),
        )
    cost = np.array(master.program.costs) @ weights
    everything = np.arange(len(cost), dtype=np.int32)
    solver.changeColsCost(len(cost), everything, cost)
    if known is not None:
        known = _padded(master, known)
        solver.setSolution(len(cost), everything, known.astype(float))
    solver.setOptionValue(
        "time_limit", max(0.1, share * (run.end - time.process_time())) * slowdown()
    )
    solver.run()
    values, bound = read(solver, master.program, np.rint(cost).astype(np.int64), known)
    return values, bound if listed else math.ceil(low - 1e-5)


def _expand(master: _Master, values: tuple[int, ...]) -> list[tuple[Seat, Option]]:
    waiting = {number: list(alike.members) for number, alike in enumerate(master.classes)}
    chosen: list[tuple[Seat, Option]] = []
    units: dict[int, int] = defaultdict(int)
    for (number, fillings), column in sorted(master.known.items()):
        kind = master.kinds[number]
        for _ in range(values[column]):
            for i in fillings:
                alike, option = kind.fillings[i]
                seat = Seat(
                    device=waiting[alike].pop(0),
                    kind=kind.kind.id,
                    unit=units[number],
                    port=option.port,
                    path=option.path,
                )
                chosen.append((seat, option))
            units[number] += 1
    return chosen
