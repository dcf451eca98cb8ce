"""Planning: the demo from a cold shell, a site of 200 devices, and one device judged again.

python benchmarks/bench_plan.py                    against the targets; exit 1 if one is missed
python benchmarks/bench_plan.py --quick            the demo, and a site of 20 devices
python benchmarks/bench_plan.py --profile demo     where the time goes (or: large)

The demo is planned as a person does it, by a process of its own each time. Everything is timed by
the clock on the wall, as the yardstick is. The large site comes from a seeded generator; that it is
not an easy one is counted: every device that is not refused has chains by the dozen that do not
fail, and there are fewer ports than devices. Of every plan it is also told how long its stages
take, as the plan itself names them.
"""

import argparse
import cProfile
import os
import pstats
import random
import resource
import statistics
import subprocess
import sys
import time
from pathlib import Path

from sinkside import demo
from sinkside.paths.front import Front
from sinkside.paths.judge import judge
from sinkside.paths.rank import keys
from sinkside.paths.rows import Path as Chain
from sinkside.paths.search import Limits, Rejects, fronts
from sinkside.plan import Plan, plan
from sinkside.site.read import read
from sinkside.site.site import Site
from sinkside.site.survey import survey
from yardstick import yardstick

DEVICES, PARTS, CHAINS = 200, 150, 30
"""Of the large site: devices, parts at the least, chains of each device that do not fail."""
SEEDS = (1, 2, 3)
RUNS = 5
# Seconds before the yardstick.
DEMO_S, LARGE_S, AGAIN_S = 1.5, 10.0, 0.05

_BARRELS = ("5.5x2.1", "5.5x2.5", "4x1.7")
_VOLTS = (5, 6, 9, 12, 15)


def site(seed: int, devices: int = DEVICES) -> str:
    """A valid site file; the same seed gives the same text.

    Bound by: three kinds of chargers, of which one has no 12 V and one a range in small steps,
    with nine ports for ten devices; a sharing table on one of them; two rooms in reach of each
    other; links between one device in eight; a fifth with positive ground or of unknown inside.
    """
    draw = random.Random(seed)
    lines = [
        f"site: {{name: Depot {seed}, ambient: 12..30 °C, currency: EUR}}",
        f"rules: {{solder: yes, open_cases: yes, budget: {40 * devices} EUR}}",
        "places: {east: {}, west: {to: {east: 2 m}}}",
        "devices:",
        *(line for i in range(devices) for line in _device(draw, i)),
        "shelf:",
        *_chargers(devices),
        "market:",
        *_parts(),
        "links:",
    ]
    for _ in range(max(1, devices // 8)):
        a, b = draw.sample(range(devices), k=2)
        lines.append(f"  - {{from: device-{a}, to: device-{b}, shield: both ends}}")
    return "\n".join([*lines, ""])


def _device(draw: random.Random, number: int) -> list[str]:
    """One device; each has a steady current, an inside and a capacitor of its own."""
    volts, steady = draw.choice(_VOLTS), draw.randint(60, 420)
    pole = draw.choice(("positive", "negative"))
    marked = "⊖–C–⊕" if pole == "positive" else "⊕–C–⊖"
    ground = draw.choice(("negative", "negative", "negative", "isolated", "positive"))
    known = (
        f"{{is: switching regulator, runs_from: {0.72 * volts:.2f} V (datasheet), "
        f"harmed_above: {1.6 * volts:.2f} V (datasheet), "
        f"input_capacitor: {draw.choice((47, 100, 220, 470))} µF 35 V (plate)}}"
    )
    inside = known if draw.random() < 0.8 else "{is: unknown}"
    return [
        f"  device-{number}:",
        "    use: ordinary",
        f'    plate: "DC IN {volts}V⎓ {2 * steady}mA {marked}"',
        f"    inlet: {{plug: {draw.choice(_BARRELS)}, centre: {pole} (measured), "
        f"ground: {ground} (measured)}}",
        f"    inside: {inside}",
        f"    draws: {{steady: {steady} mA (measured), peak: {steady}..{2 * steady} mA}}",
        f"    blink: {draw.choice(('any', 'any', 'any', 'brief'))}",
        f"    at: {draw.choice(('east', 'west'))}",
    ]


def _chargers(devices: int) -> list[str]:
    """Nine ports for ten devices: half on pairs, the rest on threes and ones."""
    pairs, threes = max(1, devices // 5), max(1, devices // 10)
    ones = max(1, round(0.9 * devices) - 2 * pairs - 3 * threes)
    return [
        f"  pair: {{is: charger, count: {pairs}, at: east, output_earth: floating, "
        "on_change: drops all (measured), off_time: 1.4..1.9 s (measured), ports: {",
        '      C1: "5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A 20V⎓3.25A", C2: "5V⎓3A 9V⎓3A 12V⎓2.5A 15V⎓2A"},',
        "      together: {C1+C2: {",
        '      C1: "5V⎓3A 9V⎓3A 12V⎓2.5A 15V⎓2A", C2: "5V⎓3A 9V⎓2.2A 12V⎓1.6A"}}}',
        f"  three: {{is: charger, count: {threes}, at: west, output_earth: floating, "
        "on_change: nothing (measured), sharing: independent, ports: {",
        '      C1: "5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A", C2: "5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A",',
        '      C3: "5V⎓3A 9V⎓2A"}}',
        f"  one: {{is: charger, count: {ones}, at: west, output_earth: floating, "
        'ports: {C1: "5V⎓3A 9V⎓3A 15V⎓2A 20V⎓1.5A"}}',
    ]


def _parts() -> list[str]:
    """What lies in the drawers of such a depot beside the market of the program.

    A second lead for every plug in use and a second cable, which compete; more fuses, of which the
    search takes the smallest that will do; and leads for plugs that no device here has.
    """
    found = [
        f"  short-{plug}: {{is: lead, plug: {plug}, length: 0.3 m, gauge: 20 AWG, carries: 3 A, "
        "price: 3.10 EUR}"
        for plug in _BARRELS
    ]
    found += ["  short-cable: {is: cable, length: 0.5 m, price: 3.50 EUR}"]
    found += [
        f"  fuse-{rating}-{standard[:3]}: {{is: fuse, rating: {rating} mA, standard: {standard}, "
        "speed: time-lag, price: 1.90 EUR}"
        for rating in (160, 200, 250, 400, 630, 1000, 1600, 2500, 4000, 6300)
        for standard in ("IEC 60127", "UL 248-14")
    ]
    for tenths in range(20):
        plug = f"{3 + tenths / 10:g}x{0.9 + tenths / 20:g}"
        found += [
            f"  lead-odd-{tenths}: {{is: lead, plug: {plug}, length: 0.5 m, price: 2.70 EUR}}",
            f"  plug-odd-{tenths}: {{is: plug, plug: {plug}, price: 0.90 EUR}}",
        ]
    found += [
        f"  bleeder-{kilo}: {{is: bleeder, across: {0.95 * kilo:g}..{1.05 * kilo:g} kΩ}}"
        for kilo in range(2, 10)
    ]
    return found


def feasible(found: Plan) -> list[int]:
    """Of every device with a port to go to, how many chains do not fail."""
    return [
        d.chains - sum(r.count for r in d.rejected if " → " in r.example)
        for d in found.devices
        if not d.appliance.refusals
    ]


class Stages:
    """How long each stage of a plan takes, s."""

    def __init__(self) -> None:
        self.took: dict[str, float] = {}
        self.now = ""
        self.since = time.perf_counter()

    def __call__(self, name: str) -> None:
        """Begin the stage of that name, and end the one before it."""
        then = time.perf_counter()
        if self.now:
            self.took[self.now] = self.took.get(self.now, 0.0) + then - self.since
        self.now, self.since = name, then

    def told(self, slower: float) -> str:
        """The stages in one line, after the yardstick."""
        return ", ".join(f"{name} {took / slower:.2f} s" for name, took in self.took.items())


def scaled(took: float, before: float) -> tuple[float, float]:
    """Seconds after the yardstick, and the yardstick: the mean of before and after."""
    slower = (before + yardstick()) / 2
    return took / slower, slower


def report(name: str, took: list[float], slower: list[float], target_s: float) -> bool:
    """Print the median, the worst and their ratio to the target; whether the median keeps it."""
    median, worst = statistics.median(took), max(took)
    print(
        f"{name}: median {median:.3f} s, worst {worst:.3f} s after the yardstick "
        f"(× {min(slower):.2f} to {max(slower):.2f}), target {target_s:g} s: "
        f"{median / target_s:.2f} of it",
        flush=True,
    )
    return median <= target_s


def cold(file: Path) -> bool:
    """`sinkside plan` on a file, each time by a process of its own."""
    program = "import sys; from sinkside.cli import main; sys.argv[0] = 'sinkside'; main()"
    took, slower, spent = [], [], []
    for run in range(RUNS + 1):
        before, used, start = yardstick(), os.times(), time.perf_counter()
        subprocess.run(
            [sys.executable, "-c", program, "plan", str(file)], check=True, capture_output=True
        )
        wall, then = time.perf_counter() - start, os.times()
        after, factor = scaled(wall, before)
        if run:  # the first may have had bytecode to write
            took.append(after)
            slower.append(factor)
            spent.append(then.children_user + then.children_system)
            spent[-1] -= used.children_user + used.children_system
    print(f"cold plan of {file.name}: {statistics.median(spent):.2f} s of processor time, unscaled")
    return report(f"cold plan of {file.name}", took, slower, DEMO_S)


def large(devices: int) -> bool:
    """The whole plan of a generated site, read and surveyed before."""
    took, slower = [], []
    for seed in SEEDS:
        read_ = read(site(seed, devices), "depot.yaml")
        before = yardstick()
        start, stages = time.perf_counter(), Stages()
        found = plan(read_, stages)
        stages("")
        after, factor = scaled(time.perf_counter() - start, before)
        took.append(after)
        slower.append(factor)
        counts, parts = feasible(found), {p.id for p in read_.parts}
        seated = sum(d.chosen is not None for d in found.devices)
        print(
            f"seed {seed}: {len(found.devices)} devices, {len(parts)} parts, "
            f"{sum(d.chains for d in found.devices)} chains judged, of each device "
            f"{min(counts)} to {max(counts)} do not fail; {seated} off their bricks; "
            f"{sum(level.proven for level in found.levels)} of {len(found.levels)} levels proven; "
            f"{after:.2f} s: {stages.told(factor)}; at most {_memory_mb():.0f} MB so far",
            flush=True,
        )
        if len(parts) < PARTS or min(counts) < CHAINS:
            print(f"too easy: {PARTS} parts and {CHAINS} chains of each device are asked for")
            return False
    return report(f"plan of {devices} devices", took, slower, LARGE_S * devices / DEVICES)


def _memory_mb() -> float:
    """The most memory that this process has held."""
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def chains_of(found: Site, name: str) -> list[Front]:
    """Every chain that ends in a plug for a device, as the plan searches them."""
    device = found.device(name)
    appliance = survey(device, found.ambient_at(device.at))
    return [
        front
        for charger in found.chargers
        for port in charger.names
        for front in fronts(
            appliance,
            charger,
            port,
            frozenset(charger.names),
            found.parts,
            Limits(solder=True, reach_m=found.distance_m(charger.at, device.at)),
            Rejects(),
        )
    ]


def again(file: Path) -> bool:
    """The devices of a file surveyed, judged and ranked again, one by one, their chains known."""
    found = read(file.read_text(encoding="utf-8"), file.name)
    planned = plan(found)
    took, slower = [], []
    for one in planned.devices:
        if one.appliance.refusals:
            continue
        known = chains_of(found, one.id)
        before = yardstick()
        best = float("inf")
        for _ in range(3):
            start = time.perf_counter()
            device = found.device(one.id)
            appliance = survey(device, found.ambient_at(device.at))
            keys(judge([Chain(front=front, appliance=appliance) for front in known]))
            best = min(best, time.perf_counter() - start)
        after, factor = scaled(best, before)
        took.append(after)
        slower.append(factor)
    return report(
        f"one device of {file.name} judged again ({len(took)} of them)", took, slower, AGAIN_S
    )


def profiled(which: str, file: Path) -> None:
    """Where the time goes."""
    text = file.read_text(encoding="utf-8") if which == "demo" else site(SEEDS[0], 40)
    found = read(text, "site.yaml")
    profile = cProfile.Profile()
    profile.runcall(plan, found)
    pstats.Stats(profile).sort_stats("cumtime").print_stats(35)


def main() -> int:
    """Measure, or profile."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--profile", choices=("demo", "large"))
    options.add_argument("--quick", action="store_true")
    options.add_argument(
        "--demo", type=Path, default=Path(demo.__file__).parent / demo.FILE, help="another site"
    )
    asked = options.parse_args()
    if asked.profile:
        profiled(asked.profile, asked.demo)
        return 0
    kept = [cold(asked.demo), again(asked.demo), large(20 if asked.quick else DEVICES)]
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
