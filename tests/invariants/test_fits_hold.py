"""What fits holds in every world, what fails breaks in every world, whatever is drawn inside.

The worlds are walked by `tests.paths.by_hand`, which shares no code with the rooms that judge.
Circuit laws and the figures of the standards are named there.
"""

import random
from collections import Counter
from collections.abc import Callable
from functools import cache
from itertools import product

import pytest
from tests.paths import by_hand, random_paths

from sinkside.parts.part import Fallback
from sinkside.paths.findings import findings
from sinkside.paths.judge import Path, judge
from sinkside.rules.verdict import Verdict

SEEDS = range(13)
# These make paths to lamps, motors and lit diodes, the others to anything else.
OLD_GEAR_SEEDS = range(6, 9)
# And these go by programmable contracts, or by such as are above 20 V.
CONTRACT_SEEDS = range(9, 13)
PATHS = 40
WORLDS = 200
# What `by_hand` walks; the others are held against hand-made cases, one by one.
WALKED = (
    "over-volts",
    "part-volts",
    "load-side-current",
    "port-side-current",
    "regulator-heat",
    "lived-heat",
    "under-volts",
    "operating-point",
    "port-current",
    "converter-headroom",
    "fuse-holds",
)


def _maker(seed: int) -> Callable[[random.Random], Path]:
    if seed in OLD_GEAR_SEEDS:
        return random_paths.of_old_gear
    return random_paths.of_other_contracts if seed in CONTRACT_SEEDS else random_paths.path


@cache
def judged_paths(seed: int) -> tuple[tuple[Path, dict[str, Verdict]], ...]:
    draw = random.Random(seed)
    paths = [_maker(seed)(draw) for _ in range(PATHS)]
    judged = judge(paths)
    return tuple(
        (path, {f.rule: f.verdict for f in findings(judged, i) if f.rule in WALKED})
        for i, path in enumerate(paths)
    )


def answers(path: Path, draw: random.Random) -> tuple[str, Fallback]:
    """One answer to what is not known and has no range: the law of the load, the fallback."""
    laws: tuple[str, ...] = path.appliance.laws
    if set(laws) == {"resistance", "constant current"}:
        laws = (*laws, "filament")  # what lies between the two
    return draw.choice(laws), draw.choice(path.front.trigger.falls_back)


def broken_somewhere(path: Path, seed: int) -> Counter[str]:
    """How often each rule was broken in random worlds."""
    draw = random.Random(1000 + seed)
    broken: Counter[str] = Counter()
    for n in range(WORLDS):
        world = by_hand.World(draw, edges=(n % 2) * 0.8)
        law, rule = answers(path, draw)
        states = by_hand.standings(path.front, rule, draw)
        if not states:
            continue
        standing = draw.choice(states)
        port_v = world.between(standing.low_v, standing.high_v)
        broken.update(by_hand.breaks(path, world, standing, law, port_v).broken)
    return broken


def broken_for_one_unknown(path: Path, draw: random.Random) -> set[str]:
    """The rules that some variation breaks, while what is unknown has one value each."""
    unknowns = by_hand.World(draw, edges=0.3)
    law, rule = answers(path, draw)
    states = by_hand.standings(path.front, rule, draw)
    probe = by_hand.World(draw, edges=1.0, unknowns=unknowns)
    broken = broken_in_any_state(path, probe, states, law)
    for ends in product((0.0, 1.0), repeat=len(probe.values)):
        world = by_hand.World(draw, edges=1.0, unknowns=unknowns)
        world.values = dict(zip(probe.values, ends, strict=True))
        broken |= broken_in_any_state(path, world, states, law)
    return broken


def broken_in_any_state(
    path: Path, world: by_hand.World, states: list[by_hand.Standing], law: str
) -> set[str]:
    """Rules that are broken, or of which nobody can say, in some state at some end of its volts."""
    broken: set[str] = set()
    for standing in states:
        for port_v in (standing.low_v, standing.high_v):
            found = by_hand.breaks(path, world, standing, law, port_v)
            broken |= found.broken | found.open
    return broken


@pytest.mark.parametrize("seed", SEEDS)
def test_what_fits_is_broken_in_no_world(seed: int) -> None:
    wrong = []
    for n, (path, verdicts) in enumerate(judged_paths(seed)):
        broken = broken_somewhere(path, 100 * seed + n)
        wrong += [
            f"{rule} fits, and is broken in {broken[rule]} of {WORLDS} worlds: "
            f"{path.front.id} | {', '.join(path.appliance.laws)}"
            for rule, verdict in verdicts.items()
            if verdict is Verdict.FITS and broken[rule]
        ]
    assert wrong == []


@pytest.mark.parametrize("seed", SEEDS)
def test_what_fails_is_broken_for_every_unknown(seed: int) -> None:
    wrong = []
    for n, (path, verdicts) in enumerate(judged_paths(seed)):
        failing = {rule for rule, verdict in verdicts.items() if verdict is Verdict.FAILS}
        draw = random.Random(2000 + 100 * seed + n)
        for _ in range(25 if failing else 0):
            held = failing - broken_for_one_unknown(path, draw)
            wrong += [f"{rule} fails, and holds in a world: {path.front.id}" for rule in held]
            failing -= held
    assert wrong == []


def test_the_random_paths_meet_every_verdict_of_every_rule() -> None:
    met = {
        (rule, verdict)
        for seed in SEEDS
        for _, verdicts in judged_paths(seed)
        for rule, verdict in verdicts.items()
    }
    categorical = {("part-volts", Verdict.UNPROVEN), ("fuse-holds", Verdict.UNPROVEN)}
    wanted = {(rule, verdict) for rule in WALKED for verdict in Verdict}
    assert wanted - met <= categorical
