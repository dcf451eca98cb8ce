"""Measure the formulations side by side: `python -m benchmarks.spikes.assignment.run [--quick]`."""

from __future__ import annotations

import argparse
import resource
import statistics
import time
from collections import defaultdict
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from functools import partial
from multiprocessing import get_context

from . import aggregated, apart, brute, loadings, naive
from .generate import Size, generate, without_clashes
from .in_order import (
    ALL_TOGETHER,
    COUNTS_TOGETHER,
    NotExact,
    OutOfTime,
    mark,
    solve_in_order,
)
from .priced import solve_priced
from .question import Answer, Question, levels_of

SIZES = {
    "4 × 2": Size(name="tiny", devices=4, sorts=4, kinds=2, linked_groups=1),
    "8 × 3": Size(name="8x3", devices=8, sorts=8, kinds=3, linked_groups=1),
    "8 × 3, linked": Size(
        name="8x3 linked",
        devices=8,
        sorts=8,
        kinds=3,
        linked_groups=1,
        linked_share=0.9,
        poles=("negative", "positive"),
    ),
    "14 × 4": Size(name="14x4", devices=14, sorts=14, kinds=4, linked_groups=2),
    "14 × 4, linked": Size(
        name="14x4 linked",
        devices=14,
        sorts=14,
        kinds=4,
        linked_groups=1,
        linked_share=0.9,
        poles=("negative", "positive"),
    ),
    "40 × 20": Size(name="40x20", devices=40, sorts=40, kinds=20, linked_groups=3),
    "200 × 20": Size(name="200x20", devices=200, sorts=140, kinds=20, linked_groups=6),
    "2 000 × 20": Size(name="2000x20", devices=2000, sorts=60, kinds=20, linked_groups=8),
}


def _aggregated(
    question: Question, seconds: float, method: aggregated.Method, *, split: bool = True
) -> Answer:
    return aggregated.solve(question, seconds=seconds, method=method, split=split).answer


def _naive(question: Question, seconds: float, method: aggregated.Method) -> Answer:
    model = naive.build(question)
    solved = method(model.program, seconds=seconds)
    chosen = model.chosen(solved.values)
    levels = levels_of(question, chosen)
    aggregated.check_expanded(levels, solved)
    return Answer(seats=tuple(seat for seat, _ in chosen), levels=levels, bounds=solved.bounds)


def _loadings(question: Question, seconds: float, *, enumerate_all: bool) -> Answer:
    return loadings.solve(question, seconds=seconds, enumerate_all=enumerate_all).answer


def _brute(question: Question, _seconds: float) -> Answer:
    levels = brute.best_levels(question)
    return Answer(seats=(), levels=levels, bounds=levels)


def _cpsat(question: Question, seconds: float) -> Answer:
    return apart.check(question, seconds=seconds)


def _without_clashes(question: Question, seconds: float) -> Answer:
    return _aggregated(without_clashes(question), seconds, solve_priced)


FORMULATIONS: dict[str, Callable[[Question, float], Answer]] = {
    "a, one by one": partial(_naive, method=solve_in_order),
    "a, guess": partial(_naive, method=solve_priced),
    "b, one by one": partial(_aggregated, method=solve_in_order),
    "b, one by one, at most": partial(
        _aggregated, method=partial(solve_in_order, freeze="row, at most")
    ),
    "b, one by one, fixing": partial(
        _aggregated, method=partial(solve_in_order, freeze="row, fixed")
    ),
    "b, counts by weights": partial(
        _aggregated, method=partial(solve_in_order, groups=COUNTS_TOGETHER)
    ),
    "b, all by weights": partial(_aggregated, method=partial(solve_in_order, groups=ALL_TOGETHER)),
    "b, priced, no guess": partial(_aggregated, method=partial(solve_priced, guess=False)),
    "b, guess": partial(_aggregated, method=solve_priced),
    "b, guess, not split": partial(_aggregated, method=solve_priced, split=False),
    "c, all loadings": partial(_loadings, enumerate_all=True),
    "c, generated": partial(_loadings, enumerate_all=False),
    "CP-SAT": _cpsat,
    "brute force": _brute,
    "without clashes": _without_clashes,
    "independent ports": partial(_aggregated, method=solve_priced),
}
_ASIDE = ("without clashes", "independent ports")
_FREEZING = (
    "b, one by one, at most",
    "b, one by one, fixing",
    "b, counts by weights",
    "b, all by weights",
    "b, guess, not split",
    "b, priced, no guess",
)


@dataclass(frozen=True, kw_only=True, slots=True)
class Task:
    """One formulation on one question."""

    size: str
    seed: int
    formulation: str
    seconds: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Outcome:
    """What came of a task; `answer` is None if there was none, and `why` says why."""

    task: Task
    cpu_s: float
    wall_s: float
    answer: Answer | None
    why: str


def do(task: Task) -> Outcome:
    """Solve one question and time it; processor time counts, the machine being shared."""
    independent = task.formulation == "independent ports"
    question = generate(SIZES[task.size], task.seed, independent=independent)
    mark()
    before = _cpu_s()
    start = time.perf_counter()
    answer, why = None, ""
    try:
        answer = FORMULATIONS[task.formulation](question, task.seconds)
    except (NotExact, OutOfTime) as fault:
        why = f"{type(fault).__name__}: {fault}"
    return Outcome(
        task=task,
        cpu_s=_cpu_s() - before,
        wall_s=time.perf_counter() - start,
        answer=answer,
        why=why,
    )


def _cpu_s() -> float:
    used = (resource.getrusage(who) for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    return sum(usage.ru_utime + usage.ru_stime for usage in used)


def tasks_of(*, quick: bool) -> list[Task]:
    """List what is run: everything where it is small, the promising where it is large."""
    plan: list[tuple[str, range, tuple[str, ...], float]]
    check = ("CP-SAT", *_ASIDE)
    always = ("b, guess", "c, generated")
    if quick:
        plan = [
            ("4 × 2", range(1, 4, 2), ("b, guess", "c, generated", "brute force"), 10.0),
            ("8 × 3", range(3), ("a, one by one", "b, guess", "c, generated", "CP-SAT"), 10.0),
            ("14 × 4", range(2), ("b, one by one", "b, guess"), 10.0),
        ]
    else:
        plan = [
            ("4 × 2", range(5), ("b, guess", "c, generated", "brute force", *check), 15.0),
            ("8 × 3", range(5), ("a, one by one", "b, one by one", *always, *check), 15.0),
            ("8 × 3", range(5), ("c, all loadings",), 15.0),
            ("8 × 3, linked", range(12), ("b, guess", *_ASIDE), 15.0),
            ("8 × 3, linked", range(5), ("b, one by one", "CP-SAT"), 15.0),
            ("14 × 4, linked", range(8), ("b, guess", *_ASIDE), 15.0),
            ("14 × 4", range(5), always, 15.0),
            ("40 × 20", range(5), ("b, guess", "b, guess, not split"), 20.0),
            ("2 000 × 20", range(4), ("b, guess",), 30.0),
            ("200 × 20", range(4), ("b, guess",), 50.0),
            ("14 × 4", range(5), ("a, one by one", "a, guess", "b, one by one", *_ASIDE), 20.0),
            ("14 × 4", range(3), (*_FREEZING, "CP-SAT"), 20.0),
            ("40 × 20", range(3), _ASIDE, 20.0),
            ("40 × 20", range(1, 2), ("a, one by one", "b, one by one", *always, "CP-SAT"), 25.0),
            ("200 × 20", range(1, 2), ("c, generated",), 30.0),
        ]
    return [
        Task(size=size, seed=seed, formulation=formulation, seconds=seconds)
        for size, seeds, formulations, seconds in plan
        for seed in seeds
        for formulation in formulations
    ]


def main() -> None:
    """Run the tasks two at a time and print the tables."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="a subset in under a minute")
    start = time.perf_counter()
    tasks = tasks_of(quick=parser.parse_args().quick)
    outcomes = []
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        for outcome in pool.map(do, tasks):
            outcomes.append(outcome)
            answer = outcome.answer
            print(
                f"{outcome.task.size} seed {outcome.task.seed} {outcome.task.formulation}: "
                f"{outcome.cpu_s:.2f} s cpu, {outcome.wall_s:.2f} s wall, "
                f"{answer.levels if answer else outcome.why} "
                f"{'proven' if answer and answer.proven else answer.bounds if answer else ''}",
                flush=True,
            )
    print_tables(outcomes)
    print(f"{len(tasks)} runs in {time.perf_counter() - start:.0f} s")


def print_tables(outcomes: list[Outcome]) -> None:
    """Print seconds per size and formulation, agreement, and what binds."""
    rows: dict[tuple[str, str], list[Outcome]] = defaultdict(list)
    proven: dict[tuple[str, int], set[tuple[int, ...]]] = defaultdict(set)
    for outcome in outcomes:
        if outcome.task.formulation in _ASIDE:
            continue
        rows[outcome.task.size, outcome.task.formulation].append(outcome)
        if outcome.answer and outcome.answer.proven:
            proven[outcome.task.size, outcome.task.seed].add(outcome.answer.levels)
    print("\n| size | formulation | seeds | proven | median s | worst s |")
    print("| --- | --- | --- | --- | --- | --- |")
    for (size, formulation), group in sorted(
        rows.items(), key=lambda r: list(SIZES).index(r[0][0])
    ):
        seconds = [outcome.cpu_s for outcome in group]
        done = sum(outcome.answer is not None and outcome.answer.proven for outcome in group)
        print(
            f"| {size} | {formulation} | {len(group)} | {done} | "
            f"{statistics.median(seconds):.2f} | {max(seconds):.2f} |"
        )
    split = [key for key, levels in proven.items() if len(levels) > 1]
    print(f"\nproven optima that differ between formulations: {split or 'none'}")
    _print_binding(outcomes, proven)


def _print_binding(
    outcomes: list[Outcome], proven: dict[tuple[str, int], set[tuple[int, ...]]]
) -> None:
    for name in _ASIDE:
        counted: dict[str, list[bool]] = defaultdict(list)
        for outcome in outcomes:
            key = outcome.task.size, outcome.task.seed
            if (
                outcome.task.formulation == name
                and outcome.answer
                and outcome.answer.proven
                and proven[key]
            ):
                counted[key[0]].append(outcome.answer.levels not in proven[key])
        for size, binds in counted.items():
            print(f"{size}, {name}: another optimum in {sum(binds)} of {len(binds)}")


if __name__ == "__main__":
    main()
