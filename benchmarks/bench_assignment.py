"""The assignment of devices to chargers, proven level by level.

python benchmarks/bench_assignment.py            against the targets; exit 1 if one is missed
python benchmarks/bench_assignment.py --quick    few seeds
python benchmarks/bench_assignment.py --size "40 devices, 20 kinds" --seeds 4

What is timed is the answer to a question that is already there. Told beside it: what share of
the questions would have another answer without sharing tables, and without clashes.
"""

import argparse
import math
import statistics
import sys
import time
from dataclasses import dataclass

from sinkside.sharing import Assignment, assign
from sites import ALIKE, LARGE, MANY_KINDS, SMALL, USUAL, Size, site
from yardstick import yardstick

# Where a level is not proven, how far from its bound it may be.
GAP = 0.005
GROWTH = tuple(
    Size(name=f"{n} devices, {n // 2} kinds", devices=n, sorts=n, kinds=n // 2)
    for n in (10, 20, 40, 80)
)


@dataclass(frozen=True, kw_only=True)
class Target:
    """A size, how many seeds of it, and seconds before the yardstick.

    Parameters
    ----------
    proven
        Whether every level has to be proven; else its gap may be `GAP`.
    binds
        How many of the seeds are also solved without tables and without clashes.
    """

    size: Size
    seeds: int
    seconds: float
    proven: bool
    binds: int


TARGETS = (
    Target(size=SMALL, seeds=20, seconds=2.0, proven=True, binds=20),
    Target(size=USUAL, seeds=20, seconds=2.0, proven=True, binds=20),
    Target(size=MANY_KINDS, seeds=20, seconds=2.0, proven=True, binds=2),
    Target(size=LARGE, seeds=4, seconds=10.0, proven=False, binds=0),
    Target(size=ALIKE, seeds=2, seconds=20.0, proven=False, binds=0),
)
QUICK = 2


def gap(answer: Assignment) -> float:
    """The widest gap between a level's value and its bound, as a share of the value."""
    return max(abs(x.value - x.bound) / max(1, abs(x.value)) for x in answer.levels)


def measured(target: Target, seeds: int) -> bool:
    """Time some seeds; whether the median meets the target and every answer is good enough."""
    took, gaps, unproven = [], [], 0
    ratio = yardstick()
    for seed in range(seeds):
        question = site(target.size, seed)
        start = time.perf_counter()
        answer = assign(question)
        took.append(time.perf_counter() - start)
        gaps.append(gap(answer))
        unproven += not all(x.proven for x in answer.levels)
        if seeds <= 4:
            told(seed, took[-1], answer)
    ratio = (ratio + yardstick()) / 2
    allowed = target.seconds * ratio
    kept = statistics.median(took) <= allowed
    good = unproven == 0 if target.proven else max(gaps) <= GAP
    print(
        f"{target.size.name}: {seeds} seeds, median {statistics.median(took):.2f} s, worst "
        f"{max(took):.2f} s; target {target.seconds:g} s × {ratio:.2f} = {allowed:.2f} s; "
        f"{seeds - unproven} proven in every level, widest gap {100 * max(gaps):.2f} %: "
        f"{'kept' if kept and good else 'MISSED'}",
        flush=True,
    )
    return kept and good


def told(seed: int, seconds: float, answer: Assignment) -> None:
    """Every level of one answer, with its bound."""
    print(f"  seed {seed}, {seconds:.2f} s:", end="")
    for level in answer.levels:
        bound = "" if level.proven else f" (bound {level.bound})"
        print(f" {level.name} {level.value}{bound};", end="")
    print(flush=True)


def binding(target: Target, seeds: int) -> None:
    """In what share of the questions tables and clashes change the answer."""
    if not seeds:
        return
    tables = clashes = 0
    for seed in range(seeds):
        values = [x.value for x in assign(site(target.size, seed)).levels[:-1]]
        free = assign(site(target.size, seed, independent=True))
        apart = assign(site(target.size, seed, apart=True))
        tables += [x.value for x in free.levels[:-1]] != values
        clashes += [x.value for x in apart.levels[:-1]] != values
    print(
        f"{target.size.name}: of {seeds}, tables bind in {tables}, clashes in {clashes}", flush=True
    )


def growth(seeds: int) -> None:
    """How the time grows with devices and kinds together: the slope in logarithms."""
    points = []
    for size in GROWTH:
        took = []
        for seed in range(seeds):
            question = site(size, seed)
            start = time.perf_counter()
            assign(question)
            took.append(time.perf_counter() - start)
        points.append((math.log(size.devices), math.log(statistics.median(took))))
        print(f"  {size.name}: median {statistics.median(took):.2f} s", flush=True)
    slope, _ = statistics.linear_regression(*zip(*points, strict=True))
    print(f"time grows with devices and kinds together to the power of {slope:.1f}")


def main() -> int:
    """Measure."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--quick", action="store_true")
    options.add_argument("--size", choices=[t.size.name for t in TARGETS])
    options.add_argument("--seeds", type=int)
    asked = options.parse_args()
    chosen = [t for t in TARGETS if asked.size in (None, t.size.name)]
    kept = []
    for target in chosen:
        seeds = asked.seeds or (min(QUICK, target.seeds) if asked.quick else target.seeds)
        kept.append(measured(target, seeds))
        binding(target, min(seeds, target.binds))
    if asked.size is None:
        growth(1 if asked.quick else 4)
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
