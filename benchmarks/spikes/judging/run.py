"""Measure the solvers: points per second, accuracy, failures, and what straight diodes cost."""

from __future__ import annotations

import argparse
import time

import numpy as np
from benchmarks.yardstick import yardstick

from .branch import Branch
from .chain import CHUNK, branches_of, steady_in_chunks
from .exact import brentq_high_v, exact
from .points import LAWS, Points, generate
from .solvers import (
    Solver,
    bisection,
    closed_form,
    newton,
    relinearised,
    settling,
    shipped,
    without_diodes,
)
from .straight import idle_error_mv, losses

SEED = 20_240
_WITH_DIODES: dict[str, Solver] = {
    "relinearised closed form": relinearised,
    "safeguarded Newton": newton,
    "bisection, 60 halvings": bisection,
}
_WITHOUT: dict[str, Solver] = {
    "closed form": closed_form,
    "the program's closed form": shipped,
    **_WITH_DIODES,
}


def main() -> None:
    """Print every table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="small sizes, under 20 s")
    quick = bool(parser.parse_args().quick)
    print(f"yardstick {yardstick():.2f}; times are processor time of one core")
    sizes = (100, 10_000) if quick else (100, 10_000, 1_000_000)
    _speed(sizes)
    _laws(10_000)
    _chunks(20_000 if quick else 200_000)
    _rounds(10_000)
    _accuracy(10 if quick else 120)
    _straight(5_000 if quick else 20_000)


def _speed(sizes: tuple[int, ...]) -> None:
    print("\nchain points per second (three branches each, both roots), laws mixed")
    for size in sizes:
        points = generate(size, SEED)
        bare = points.without_diodes
        for name, solver in _WITHOUT.items():
            print(f"{size:>9,}  no diodes    {name:<26}{_rate(bare, solver):>12,.0f}")
        for name, solver in _WITH_DIODES.items():
            print(f"{size:>9,}  with diodes  {name:<26}{_rate(points, solver):>12,.0f}")
    rate = _brentq_rate(generate(100, SEED).through)
    print(f"      brentq one by one, high root only, with diodes: {rate:,.0f} branches/s")


def _laws(size: int) -> None:
    print(f"\nchain points per second by law, {size:,} points")
    for law in LAWS:
        points = generate(size, SEED, law=law)
        bare = points.without_diodes
        rates = [_rate(bare, closed_form)] + [_rate(points, s) for s in _WITH_DIODES.values()]
        print(f"{law:<12}" + "".join(f"{rate:>12,.0f}" for rate in rates))


def _chunks(size: int) -> None:
    print(f"\npoints per second of {size:,} points by size of slice")
    points = generate(size, SEED)
    for chunk in (512, 2_048, CHUNK, 32_768, size):
        rates = (
            _rate(points.without_diodes, closed_form, chunk),
            _rate(points, relinearised, chunk),
        )
        print(f"{chunk:>9,}  closed form {rates[0]:>12,.0f}   relinearised {rates[1]:>12,.0f}")


def _rate(points: Points, solver: Solver, chunk: int = CHUNK) -> float:
    steady_in_chunks(points.part(slice(0, 64)), solver)
    spent: list[float] = []
    while len(spent) < 3 and sum(spent) < 1.0:
        start = time.process_time()
        for _ in range(repeats := max(1, 2_000 // points.size)):
            steady_in_chunks(points, solver, chunk)
        spent.append((time.process_time() - start) / repeats)
    return points.size / min(spent)


def _brentq_rate(branch: Branch) -> float:
    start = time.process_time()
    for number in range(branch.source_v.size):
        brentq_high_v(branch, number)
    return branch.source_v.size / (time.process_time() - start)


def _rounds(size: int) -> None:
    print(f"\nrounds until {size:,} branches settle, with diodes (what does not: to Newton)")
    through = generate(size, SEED).through
    for high in (True, False):
        counts, left, rootless = settling(through, high=high)
        shown = " ".join(f"{number}:{count}" for number, count in enumerate(counts, 1) if count)
        print(
            f"{'high' if high else 'low'}  {shown}  to Newton: {left}, of them no root: {rootless}"
        )


def _accuracy(sample: int) -> None:
    print("\nworst |relative error| of a root against 40 digits; failures = wrong about a root")
    for diodes in (False, True):
        solvers = _WITH_DIODES if diodes else _WITHOUT
        for law in LAWS:
            points = generate(4 * sample, SEED + 1, law=law, diodes=diodes)
            for name, (high, low, failures, seen) in _against_exact(points, solvers).items():
                print(
                    f"{'diodes' if diodes else 'none':<8}{law:<12}{name:<26}"
                    f"high {high:8.1e}  low {low:8.1e}  failures {failures} of {seen}"
                )


def _against_exact(
    points: Points, solvers: dict[str, Solver]
) -> dict[str, tuple[float, float, int, int]]:
    worst = {name: [0.0, 0.0] for name in [*solvers, "brentq"]}
    failures = dict.fromkeys(worst, 0)
    seen = 0
    for branch in branches_of(points):
        with np.errstate(all="ignore"):
            found = {name: solver(without_diodes(branch)) for name, solver in solvers.items()}
        # two of the quarter near the limit for every one of the rest
        for number in [n for n in range(points.size) if n % 4 == 0 or n % 8 == 1]:
            truth = exact(branch, number)
            seen += 1
            if truth.high_v is not None and truth.brentq_high_v is not None:
                error = abs(truth.brentq_high_v / float(truth.high_v) - 1.0)
                worst["brentq"][0] = max(worst["brentq"][0], error)
            for name, roots in found.items():
                for side, want, got in (
                    (0, truth.high_v, roots.high_v[number]),
                    (1, truth.low_v, roots.low_v[number]),
                ):
                    if (want is None) != bool(np.isnan(got)):
                        failures[name] += 1
                    elif want is not None:
                        error = abs(float(got) / float(want) - 1.0)
                        worst[name][side] = max(worst[name][side], error)
    return {name: (w[0], w[1], failures[name], seen) for name, w in worst.items()}


def _straight(size: int) -> None:
    print(f"\na straight line in place of the exponential, mV at the pins, {size:,} drawn")
    branch = generate(size, SEED + 2, law="power").through
    for loss in losses(branch):
        print(
            f"{loss.line:<34}median {loss.median_mv:7.2f}  too much {loss.optimistic_mv:7.1f}"
            f"  too little {loss.pessimistic_mv:8.1f}  roots lost {loss.lost:>4}"
            f" invented {loss.invented:>4} of {loss.points}"
        )
    for idle_a in (1e-3, 1e-2, 1e-1):
        print(
            f"volts at 1 A, device drawing {1e3 * idle_a:5.0f} mA: pins up to "
            f"{idle_error_mv(branch, idle_a):.0f} mV higher than said"
        )


if __name__ == "__main__":
    main()
