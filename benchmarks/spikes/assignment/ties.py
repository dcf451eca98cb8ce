"""How often equals remain after eight levels: `python -m benchmarks.spikes.assignment.ties`.

The same question is put four times: as it is and with devices and kinds in reverse, with and
without the split of place and content. Without a tie-break each may give another of the plans
that are equal in all eight levels; with it all four must give the same one.
"""

from __future__ import annotations

import time
from dataclasses import replace

from .aggregated import Report, solve
from .generate import generate
from .in_order import mark
from .priced import solve_priced
from .run import SIZES


def _plan(report: Report) -> tuple[tuple[str, str, int, str], ...]:
    # which of several alike chargers it is says nothing
    return tuple(sorted((s.device, s.kind, s.port, s.path) for s in report.answer.seats))


def main() -> None:
    """Print for each question how many plans differ, and the processor seconds of one solve."""
    for size, seeds in (("8 × 3", range(5)), ("14 × 4", range(3))):
        for seed in seeds:
            question = generate(SIZES[size], seed)
            turned = replace(question, devices=question.devices[::-1], kinds=question.kinds[::-1])
            for tie_break in (False, True):
                mark()
                start = time.process_time()
                plans = {
                    _plan(
                        solve(
                            put, seconds=20.0, method=solve_priced, split=split, tie_break=tie_break
                        )
                    )
                    for put in (question, turned)
                    for split in (False, True)
                }
                each = (time.process_time() - start) / 4
                print(
                    f"{size} seed {seed}, tie-break {tie_break}: "
                    f"{len(plans)} different plans of 4, {each:.2f} s each"
                )


if __name__ == "__main__":
    main()
