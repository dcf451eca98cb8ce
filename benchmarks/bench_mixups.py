"""Every plug in every inlet, and how to keep them apart, at the size of a large site.

python benchmarks/bench_mixups.py    against the targets; exit 1 if one is missed

Matrix: 200 new leads, and 200 old bricks, in 200 inlets. Bound by: all on one size of barrel, so
that every plug goes into every inlet; no two devices, leads or bricks have the same figures; each
lead has a charger, a trigger and a fallback of its own, so that nothing is worked out once for two.

Separation: 30 leads and 30 inlets and the old bricks beside them, proven best. Bound by: five
volts, two sizes, both poles, limits of 1.06 to 1.7 times the volts; six other plugs to change to.
Three kinds: most leads may be tied; a third of them may; none may, and plugs alone have to do.
"""

import random
import statistics
import sys
import time
from collections.abc import Callable
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent.parent))

from tests.mixups.questions import question
from tests.paths import small_parts as small

from sinkside.mixups import matrix
from sinkside.mixups.brick_cells import brick_matrix
from sinkside.mixups.old_brick import OldBrick
from sinkside.mixups.separate import separate
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance
from yardstick import yardstick

DEVICES = 200
SEEDS = (1, 2, 3)
MATRIX_S, SEPARATION_S = 2.0, 5.0
KINDS = {
    "most leads may be tied": {"ties": 0.8, "brick_ties": 1.0, "settled_share": 0.9},
    "a third of the leads may be tied": {"ties": 0.33, "brick_ties": 0.8, "settled_share": 0.9},
    "no lead may be tied": {"ties": 0.0, "brick_ties": 1.0, "settled_share": 1.0},
}
VOLTS = (5.0, 9.0, 12.0, 15.0, 20.0)
ANY_FALLBACK = ("next lower", "5 V", "highest", "off")
LAWS = (("constant current",), ("constant power",), ("constant current", "constant power"))


def leads(draw: random.Random) -> list[tuple[str, Front]]:
    """New leads of which no two are alike."""
    found = []
    for i in range(DEVICES):
        source = small.charger(
            {"C1": "5:3 9:3 12:3 15:3 20:3", "C2": "5:3"},
            {"C1+C2": {"C1": f"5:3 9:{2 + i / 1000} 20:3"}},
            name=f"charger-{i}",
        )
        falls_back = draw.choice((("next lower",), ("highest",), ANY_FALLBACK))
        parts = (
            small.cable((0.1, 0.2 + i / 1000), id=f"cable-{i}"),
            small.trigger(draw.choice(VOLTS), falls_back, gated=draw.random() < 0.5),
            small.lead((0.1, 0.2 + i / 1000), centre=draw.choice(("positive", "negative"))),
        )
        found.append((f"d{i}", small.front(source, *parts)))
    return found


def inlets(draw: random.Random) -> list[Appliance]:
    """Devices of which no two are alike."""
    found = []
    for i in range(DEVICES):
        volts = draw.choice(VOLTS) + i / 1000
        steady = draw.uniform(0.05, 0.8)
        found.append(
            small.device(
                f"d{i}",
                plate_v=volts,
                reference_v=volts,
                harmed_above_v=(1.05 * volts, draw.uniform(1.1, 1.6) * volts),
                runs_from_v=(0.7 * volts, 0.95 * volts),
                steady_a=(0.5 * steady, steady),
                peak_a=(steady, 2.0 * steady),
                laws=draw.choice(LAWS),
                evidence=small.TWO_EVIDENCES[: draw.choice((1, 2, 2))],
            )
        )
    return found


def bricks(draw: random.Random) -> list[OldBrick]:
    """Old bricks of which no two are alike."""
    found = []
    for i in range(DEVICES):
        volts = draw.choice(VOLTS) + i / 1000
        opened = volts * draw.uniform(1.0, 1.7)
        found.append(
            OldBrick(
                device=f"d{i}",
                plug=small.BARREL,
                own=True,
                in_use=False,
                kind=draw.choice(("dc", "dc", "dc", "ac", "unknown")),
                centre=draw.choice(("positive", "negative", None)),
                centre_is_sure=draw.random() < 0.6,
                plate_v=(volts, volts),
                regulates=opened < 1.15 * volts,
                read_open_v=(opened, opened),
                loaded_v=(volts, volts) if draw.random() < 0.5 else None,
                loaded_a=(0.3, 0.3) if draw.random() < 0.5 else None,
                carries_a=(0.5, 1.0 + i / 1000),
            )
        )
    return found


def timed(work: Callable[[], object]) -> float:
    """Seconds after the yardstick, which is taken before and after."""
    before = yardstick()
    start = time.perf_counter()
    work()
    took = time.perf_counter() - start
    return took / ((before + yardstick()) / 2)


def told(name: str, took: list[float], target_s: float, more: str = "") -> bool:
    """Print a result; whether the median keeps the target."""
    median, worst = statistics.median(took), max(took)
    print(
        f"{name}: median {median:.2f} s, worst {worst:.2f} s after the yardstick, target "
        f"{target_s:g} s{more}",
        flush=True,
    )
    return median <= target_s


def matrices() -> bool:
    """The two matrices."""
    took: dict[str, list[float]] = {"new leads": [], "old bricks": []}
    for seed in SEEDS:
        draw = random.Random(seed)
        fronts, into, old = leads(draw), inlets(draw), bricks(draw)
        took["new leads"].append(timed(lambda f=fronts, i=into: matrix(f, i)))  # type: ignore[misc]
        took["old bricks"].append(timed(lambda b=old, i=into: brick_matrix(b, i)))  # type: ignore[misc]
    kept = [
        told(f"{DEVICES} {kind} in {DEVICES} inlets", times, MATRIX_S)
        for kind, times in took.items()
    ]
    return all(kept)


def separations() -> bool:
    """The separations, and that each is proven."""
    kept = []
    for kind, about in KINDS.items():
        took, proven, left = [], 0, []
        for seed in SEEDS:
            asked = question(random.Random(seed), 30, **about)
            found = []
            took.append(timed(lambda a=asked, f=found: f.append(separate(a))))  # type: ignore[misc]
            proven += found[0].proven
            left.append(len(found[0].left))
        more = f"; {proven} of {len(SEEDS)} proven, pairs left {left}"
        kept.append(told(f"separation of 60 ends, {kind}", took, SEPARATION_S, more))
        kept.append(proven == len(SEEDS))
    return all(kept)


def main() -> int:
    """Measure everything."""
    kept = [matrices(), separations()]
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
