"""Measure the steps and the simulator on one outage, and the steps on many."""

from __future__ import annotations

import argparse
import time
from dataclasses import dataclass

import numpy as np
from benchmarks.yardstick import yardstick

from .circuits import (
    ARRIVES_V,
    CIRCUITS,
    CONTRACT_V,
    END_S,
    RAMP_S,
    RAMP_SWITCH,
    drawn,
    nominal,
    port_sequence,
)
from .compare import difference, worst_shift_s
from .integrate import Outcome, StepLimit, integrate
from .ngspice import STEP_S, Ramp, Run, available, simulate
from .sequence import Array
from .steps import Method, explicit, exponential, implicit

SEED = 20_240
METHODS: dict[str, Method] = {
    "exponential": exponential,
    "implicit": implicit,
    "explicit": explicit,
}
# an outage crosses six times at most; what crosses oftener than this hiccups
CROSSING_LIMIT = 20
HICCUP = "constant power, hiccup"
_QUICK = ("constant power, diode", "converter, hold-up", "constant power, 1.5 µs")
_STEP_LIMIT = 12_000
_GRID_S: Array = np.minimum(np.arange(round(END_S / STEP_S) + 1) * STEP_S, END_S)
# a diode of the size of a 1 A Schottky (from memory of published models), at 27 °C
_DIODE = ".model dx d(is=2e-6 n=1.1 rs=0)"


@dataclass(frozen=True, kw_only=True)
class Timed:
    """An outcome and the processor time that it took."""

    outcome: Outcome
    cpu_s: float


def main() -> None:
    """Print every table."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--quick", action="store_true", help="three circuits, under 20 s")
    quick = bool(parser.parse_args().quick)
    names = _QUICK if quick else tuple(CIRCUITS)
    print(f"yardstick {yardstick():.2f}; times are processor time of one core")
    _closed_form_check()
    for name in names:
        _one_run(name, tolerances=(1e-3,) if quick else (1e-2, 1e-3, 1e-4), all_methods=not quick)
        if available():
            _simulator(name, quick=quick)
    _many(names, 1_000 if quick else 10_000)
    _sizes((1, 10, 100, 1_000) if quick else (1, 10, 100, 1_000, 10_000))
    if available():
        _exponential_diode()
    else:
        print("no ngspice on this machine: nothing to compare with")


def _timed(
    name: str,
    method: Method,
    tolerance: float,
    runs: int = 1,
    crossing_limit: int | None = None,
) -> Timed:
    circuit = CIRCUITS[name](nominal() if runs == 1 else drawn(runs, SEED))
    start = time.process_time()
    outcome = integrate(
        circuit,
        method,
        tolerance=tolerance,
        absolute=0.1 * tolerance,
        grid_s=_GRID_S if runs == 1 else None,
        step_limit=_STEP_LIMIT,
        crossing_limit=crossing_limit,
    )
    return Timed(outcome=outcome, cpu_s=time.process_time() - start)


def _one_run(name: str, *, tolerances: tuple[float, ...], all_methods: bool) -> None:
    print(f"\n{name}: one run against the same method 100 × tighter")
    for label, method in METHODS.items():
        if label == "explicit" and not all_methods:
            continue
        for tolerance in tolerances:
            try:
                run = _timed(name, method, tolerance)
                tight = _timed(name, method, 0.01 * tolerance).outcome
            except StepLimit:
                print(f"  {label:<12}{tolerance:7.0e}  over {_STEP_LIMIT:,} steps")
                # a tighter one needs more still
                break
            out = run.outcome
            found = difference(_GRID_S, out.grid_v, tight.grid_v)
            shift = worst_shift_s(out.changes_s, tight.changes_s)
            print(
                f"  {label:<12}{tolerance:7.0e}  steps {out.steps:>6} rejected {out.rejected:>5}"
                f"  {1e3 * run.cpu_s:8.1f} ms  worst {found.worst_percent:7.3f} %"
                f"  within 0.1 %: {found.share:7.2%}"
                f"  crossings {len(out.changes_s)} of {len(tight.changes_s)}"
                f" shift {1e6 * shift:9.2f} µs"
            )


def _ngspice(name: str, reltol: float, longest_s: float, repeats: int = 1) -> Run:
    draw = nominal()
    ramp = None
    if name == RAMP_SWITCH:
        ramp = Ramp(arrives_v=ARRIVES_V, rate_v_per_s=CONTRACT_V / RAMP_S)
    return simulate(
        CIRCUITS[name](draw),
        port_sequence(draw),
        reltol=reltol,
        longest_s=longest_s,
        ramp=ramp,
        repeats=repeats,
    )


def _simulator(name: str, *, quick: bool) -> None:
    tight_us = 100.0 if quick else 20.0
    tight = _ngspice(name, 1e-6, 1e-6 * tight_us)
    settings = [(1e-3, 0.064), (1e-5, 0.064), (1e-3, 1e-3)]
    if not quick:
        settings += [(1e-4, 0.064), (1e-4, 1e-3), (1e-3, 1e-4)]
    own = tight.changes_s
    print(f"{name}: simulator against itself (1e-6, {tight_us:.0f} µs steps) and against ours")
    for reltol, longest_s in settings:
        run = _ngspice(name, reltol, longest_s, repeats=10 if name != HICCUP else 1)
        itself = difference(run.t_s, run.v, np.interp(run.t_s, tight.t_s, tight.v))
        ours = _ours_at(name, run.t_s)
        against = difference(run.t_s, run.v, ours.grid_v)
        found = run.changes_s
        print(
            f"  reltol {reltol:5.0e} ≤ {1e3 * longest_s:5.2f} ms  points {run.points:>6}"
            f"  {1e3 * run.analysis_s:8.2f} ms  worst {itself.worst_percent:7.3f} %"
            f" at {itself.at_s:.4f} s  within 0.1 %: {itself.share:7.2%}"
            f"  crossings {len(found)} of {len(own)} shift"
            f" {1e6 * worst_shift_s(found, own):9.2f} µs  ours {against.worst_percent:7.3f} %"
        )
    ours = _ours_at(name, tight.t_s)
    against = difference(tight.t_s, tight.v, ours.grid_v)
    print(
        f"  its tight run against ours at 1e-7: worst {against.worst_percent:.3f} %"
        f" at {against.at_s:.5f} s, within 0.1 %: {against.share:.2%}, crossings {len(own)} and"
        f" {len(ours.changes_s)}, shift {1e6 * worst_shift_s(own, ours.changes_s):.2f} µs"
    )


def _ours_at(name: str, t_s: Array) -> Outcome:
    return integrate(
        CIRCUITS[name](nominal()),
        exponential,
        tolerance=1e-7,
        absolute=1e-8,
        grid_s=np.minimum(t_s, END_S),
    )


def _many(names: tuple[str, ...], runs: int) -> None:
    print(f"\n{runs:,} drawn outages at 1e-3, against 1e-5, cut at {CROSSING_LIMIT} crossings")
    for name in names:
        for label in ("exponential", "implicit"):
            some = runs if label == "exponential" else runs // 5
            timed = _timed(name, METHODS[label], 1e-3, some, CROSSING_LIMIT)
            tight = _timed(name, METHODS[label], 1e-5, some, CROSSING_LIMIT).outcome
            out = timed.outcome
            lost = np.abs(out.lost_s - tight.lost_s)
            back = np.abs(out.regained_s - tight.regained_s)
            other = np.count_nonzero(out.crossings != tight.crossings)
            print(
                f"  {name:<28}{label:<12}{some:>6} runs {timed.cpu_s:7.2f} s"
                f" {1e3 * timed.cpu_s / some:8.4f} ms a run  steps {out.steps / some:7.1f}"
                f"  lost off by {1e6 * np.nanmax(lost):8.1f} µs"
                f"  back {1e6 * np.nanmax(back):8.1f} µs  other crossings in {other}"
            )


def _sizes(sizes: tuple[int, ...]) -> None:
    print("\nexponential at 1e-3 by number of runs together")
    for name in ("constant power, diode", "converter, hold-up"):
        for runs in sizes:
            circuit = CIRCUITS[name](drawn(runs, SEED))
            start = time.process_time()
            integrate(circuit, exponential, tolerance=1e-3, absolute=1e-4)
            each = 1e3 * (time.process_time() - start) / runs
            print(f"  {name:<28}{runs:>7,} runs {each:9.4f} ms a run")


def _closed_form_check() -> None:
    """Hold-up against t = C·ΔV/I and t = C·(V₁² − V₂²)/2P (textbook arithmetic)."""
    print("\nhold-up against the textbook, from the moment at which the diode blocks")
    for name, floor_v in (("constant current, diode", 1.0), ("constant power, diode", 6.5)):
        circuit = CIRCUITS[name](nominal())
        load, farad = circuit.load, float(circuit.farad[0])
        grid = np.array([1.0005, 1.002, 1.004])
        out = integrate(circuit, exponential, tolerance=1e-8, absolute=1e-9, grid_s=grid)
        amps, watts = float(load.constant_a[0, 0]), float(load.power_w[0, 0])
        # the pins stand below the capacitor's own volts by the drop in its resistance
        start = out.grid_v[1]
        if watts == 0.0:
            textbook = farad * (start - floor_v) / amps
        else:
            textbook = farad * (start**2 - floor_v**2) / (2.0 * watts)
        print(
            f"  {name:<28} textbook {1e3 * textbook:.6f} ms, integrated"
            f" {1e3 * (float(out.lost_s[0]) - grid[1]):.6f} ms"
        )


def _exponential_diode() -> None:
    """The simulator's exponential diode against the straight one, both in the simulator."""
    print("\nan exponential diode (simulator) against straight lines (ours), V at the pins")
    for name in ("linear regulator, diode", "constant power, diode"):
        draw = nominal()
        circuit = CIRCUITS[name](draw)
        curved = simulate(
            circuit, port_sequence(draw), reltol=1e-6, longest_s=1e-4, diode_model=_DIODE
        )
        ours = _ours_at(name, curved.t_s)
        gap = np.abs(curved.v - ours.grid_v)
        held = ours.grid_v > 0.5
        found = curved.changes_s
        worst = int(np.argmax(gap * held))
        print(
            f"  {name:<28} worst {1e3 * gap[worst]:.0f} mV at {curved.t_s[worst]:.4f} s, median"
            f" {1e3 * np.median(gap):.1f} mV, crossings {len(found)} and {len(ours.changes_s)},"
            f" shift {1e3 * worst_shift_s(found, ours.changes_s):.3f} ms"
        )


if __name__ == "__main__":
    main()
