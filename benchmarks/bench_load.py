"""Loading a large site of 2 000 devices, whose plates are all different texts.

python benchmarks/bench_load.py                    against the targets; exit 1 if one is missed
python benchmarks/bench_load.py --profile valid    where the time goes

A site is loaded by a process of its own, in which nothing but a site of three devices was read
before: what one site has left behind must not make the next one fast. Loading refuses whatever is
wrong in a file; a plate cannot be wrong unless it is too long, and is read when it is asked for.
So reading every plate as well, as `check` does, is measured too.
"""

import argparse
import cProfile
import pstats
import random
import re
import statistics
import subprocess
import sys
import time

from sinkside import plates
from sinkside.faults import Faulty
from sinkside.site.read import read
from yardstick import yardstick

DEVICES = 2_000
CHARGERS = 200
LINKS = 1_000
SEEDS = (1, 2, 3)
# Seconds before the yardstick.
TARGETS = {
    "valid": 1.0,
    "valid, and every plate read": 2.5,
    "a fault in every device": 2.0,
    "every name misspelt where it is referred to": 2.0,
}
LEAST_PLATES = 500
"""A site of fewer different plates would only show how well readings are kept."""

PLUGS = ("5.5x2.1", "5.5x2.5", "4x1.7", "3.5x1.35", "micro-usb")
LISTS = (
    *("5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A 20V⎓3.25A", "5V⎓3A 9V⎓2A", "5V⎓3A 9V⎓3A 15V⎓2A", "65 W"),
    *("0x0001912C 0x0002D12C 0x0004B12C", "5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A"),
)


def site(seed: int, devices: int = DEVICES) -> str:
    """A valid site file; the same seed gives the same text.

    Bound by: every device has a plate, an inlet, an inside, draws and most an old brick; every
    plate of a device has a serial number of its own, in one of several layouts, and most plates of
    bricks differ; figures are drawn from hundreds.
    """
    draw = random.Random(seed)
    lines = [
        "site: {name: Depot, ambient: 12..30 °C, currency: EUR}",
        "rules: {solder: yes, open_cases: yes, budget: 900 EUR}",
        "places:",
        *(f"  room-{i}: {{ambient: max {draw.randint(28, 40)} °C}}" for i in range(40)),
        "devices:",
    ]
    for i in range(devices):
        lines += device(draw, i)
    lines.append("shelf:")
    for i in range(max(1, devices * CHARGERS // DEVICES)):
        one, two = draw.choice(LISTS), draw.choice(LISTS)
        lines += [
            f"  charger-{i}:",
            "    is: charger",
            f"    at: room-{draw.randrange(40)}",
            "    on_change: drops all (measured)",
            f'    ports: {{C1: "{one}", C2: "{two}"}}',
            f'    together: {{C1+C2: {{C1: "5V⎓3A 9V⎓{draw.randint(100, 300) / 100}A"}}}}',
        ]
    lines.append("links:")
    for _ in range(devices * LINKS // DEVICES):
        a, b = draw.sample(range(devices), k=2)
        lines.append(f"  - {{from: device-{a}, to: device-{b}, kind: audio}}")
    lines.append("groups:")
    for i in range(max(1, devices // 20)):
        names = ", ".join(f"device-{n}" for n in draw.sample(range(devices), k=min(8, devices)))
        lines.append(f"  - {{name: group-{i}, together: [{names}]}}")
    return "\n".join([*lines, ""])


def device(draw: random.Random, number: int) -> list[str]:
    """One device in block style."""
    volts = draw.choice((5, 6, 7.5, 9, 12, 15, 19))
    steady = draw.randint(40, 900)
    plus = draw.choice(("⊕–C–⊖", "⊖–C–⊕"))
    serial = f"{number:05d}"
    plate = draw.choice(
        (
            f"DC IN {volts}V⎓ {steady * 2}mA {plus} S/N {serial}",
            f"INPUT: {volts}V DC {steady * 2 / 1000:g}A  SER. NO. {serial} MADE IN ELSEWHERE",
            f"MODEL AB-{serial}  {volts} V⎓ / {steady * 2} mA  {volts * steady * 2 / 1000:.1f} W",
            f"EINGANG {volts:g} V = {steady * 2} mA NR. {serial}".replace(".", ","),
        )
    )
    lines = [
        f"  device-{number}:",
        "    use: ordinary",
        f'    plate: "{plate}"',
        f"    inlet: {{plug: {draw.choice(PLUGS)}, centre: {draw.choice(('positive', 'negative'))}"
        " (measured), ground: negative (measured)}",
        f"    inside: {{is: switching regulator, runs_from: {volts * 0.8:.2f} V (datasheet), "
        f"harmed_above: {volts * 1.4:.2f} V (datasheet)}}",
        f"    draws: {{steady: {steady} mA (measured), peak: {steady}..{steady * 2} mA}}",
        f"    blink: {draw.choice(('never', 'brief', 'any'))}",
        f"    ride_through: {draw.randint(5, 90)}..{draw.randint(100, 400)} ms (measured)",
        f"    at: room-{draw.randrange(40)}",
    ]
    if draw.random() < 0.7:
        open_v, loaded_v = volts * draw.uniform(1.3, 1.6), volts * draw.uniform(1.05, 1.3)
        lines.append(
            f'    brick: {{plate: "OUTPUT {volts}V DC {steady * 3}mA", open: {open_v:.2f} V '
            f"(measured), loaded: {loaded_v:.2f} V at {steady} mA (measured)}}"
        )
    return lines


def faulty(text: str) -> str:
    """The same site with a misspelt key in every device, and a wrong unit in every other."""
    lines = text.replace("    blink:", "    blnik:").splitlines()
    return "\n".join(
        line.replace(" ms (measured)", " mW (measured)") if i % 2 else line
        for i, line in enumerate(lines)
    )


def misnamed(text: str) -> str:
    """The same site with another slip at every name that a link or a group refers to."""
    head, links, tail = text.partition("links:\n")
    slip = random.Random(0)
    return head + links + re.sub(r"device-\d+", lambda m: m[0] + slip.choice("abcdefgh"), tail)


def broken(name: str, text: str) -> str:
    """What is loaded under the name of a target."""
    if name == "a fault in every device":
        return faulty(text)
    return misnamed(text) if name.startswith("every name") else text


def load(text: str, *, with_plates: bool = False) -> int:
    """Read a site; how many devices or faults there are."""
    try:
        found = read(text, "depot.yaml").devices
    except Faulty as error:
        return len(error.faults)
    for device in found if with_plates else ():
        for plate in (device.plate, device.brick.plate if device.brick else None):
            if plate:
                plates.read(plate)
    return len(found)


def timed(name: str, seed: int) -> None:
    """Print the seconds that one loading takes, and what it told."""
    text = broken(name, site(seed))
    load(site(0, 3), with_plates=True)  # what is imported or built once is not loading
    start = time.perf_counter()
    told = load(text, with_plates=name.endswith("plate read"))
    print(time.perf_counter() - start, told)


def apart(name: str, seed: int) -> tuple[float, int]:
    """The same in a process of its own."""
    call = [sys.executable, __file__, "--one", name, "--seed", str(seed)]
    said = subprocess.run(call, check=True, capture_output=True, text=True).stdout.split()
    return float(said[0]), int(said[1])


def measured(name: str, target_s: float) -> bool:
    """Whether the median keeps the target; every text is read once."""
    took, slower, told = [], [], 0
    for seed in SEEDS:
        before = yardstick()
        seconds, told = apart(name, seed)
        slower.append((before + yardstick()) / 2)
        took.append(seconds / slower[-1])
    median, worst = statistics.median(took), max(took)
    print(
        f"{name}: median {median:.2f} s, worst {worst:.2f} s after the yardstick "
        f"(× {min(slower):.2f} to {max(slower):.2f}), target {target_s:g} s; {told} told",
        flush=True,
    )
    return median <= target_s


def enough_plates() -> bool:
    """Whether the sites have plates enough that differ."""
    for seed in SEEDS:
        text = site(seed)
        found = re.findall(r'plate: "([^"]*)"', text)
        different = len(set(found))
        print(f"seed {seed}: {len(text) / 1e6:.2f} M characters, {different} different plates")
        if different < LEAST_PLATES:
            return False
    return True


def profiled(name: str) -> None:
    """Where the time goes."""
    text = broken(name, site(SEEDS[0]))
    load(site(0, 3), with_plates=True)
    profile = cProfile.Profile()
    profile.runcall(load, text, with_plates=name.endswith("plate read"))
    pstats.Stats(profile).sort_stats("tottime").print_stats(30)


def main() -> int:
    """Measure, or profile."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--profile", choices=TARGETS)
    options.add_argument("--one", choices=TARGETS, help=argparse.SUPPRESS)
    options.add_argument("--seed", type=int, help=argparse.SUPPRESS)
    asked = options.parse_args()
    if asked.profile:
        profiled(asked.profile)
        return 0
    if asked.one:
        timed(asked.one, asked.seed)
        return 0
    kept = [enough_plates(), *(measured(name, target) for name, target in TARGETS.items())]
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
