"""Loading a large site: 2 000 devices, valid, and the same with a fault in every one.

python benchmarks/bench_load.py              against the targets; exit 1 if one is missed
python benchmarks/bench_load.py --profile    where the time goes
"""

import argparse
import cProfile
import pstats
import random
import statistics
import sys
import time
from collections.abc import Callable

from sinkside.faults import Faulty
from sinkside.site.read import read
from yardstick import yardstick

DEVICES = 2_000
CHARGERS = 200
LINKS = 1_000
SEEDS = (1, 2, 3)
VALID_S, FAULTY_S = 1.0, 2.0
"""Targets, before the yardstick: a valid site; one of which every device has a fault."""

PLUGS = ("5.5x2.1", "5.5x2.5", "4x1.7", "3.5x1.35", "micro-usb")
LISTS = (
    *("5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A 20V⎓3.25A", "5V⎓3A 9V⎓2A", "5V⎓3A 9V⎓3A 15V⎓2A", "65 W"),
    *("0x0001912C 0x0002D12C 0x0004B12C", "5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A"),
)


def site(seed: int, devices: int = DEVICES) -> str:
    """A valid site file; the same seed gives the same text.

    Bound by: every device has a plate, an inlet, an inside, draws and most an old brick; every
    text is its own, so that nothing is read once and remembered.
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
    lines = [
        f"  device-{number}:",
        "    use: ordinary",
        f'    plate: "DC IN {volts}V⎓ {steady * 2}mA {plus} S/N {number:05d}"',
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


def load(text: str) -> int:
    """Read a site; how many devices or faults there are."""
    try:
        return len(read(text, "depot.yaml").devices)
    except Faulty as error:
        return len(error.faults)


def seconds(call: Callable[[], object]) -> float:
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def measured(name: str, texts: list[str], target_s: float) -> bool:
    """Whether the median keeps the target; every text is read once."""
    slower = yardstick()
    took = [seconds(lambda text=text: load(text)) for text in texts]  # type: ignore[misc]
    median, worst = statistics.median(took) / slower, max(took) / slower
    size = sum(map(len, texts)) / len(texts) / 1e6
    print(
        f"{name}: median {median:.2f} s, worst {worst:.2f} s after the yardstick "
        f"(× {slower:.2f}), target {target_s:g} s; {size:.2f} M characters, {load(texts[0])} told",
        flush=True,
    )
    return median <= target_s


def profiled(text: str) -> None:
    """Where the time goes."""
    profile = cProfile.Profile()
    profile.runcall(load, text)
    pstats.Stats(profile).sort_stats("tottime").print_stats(30)


def main() -> int:
    """Measure, or profile."""
    options = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    options.add_argument("--profile", choices=["valid", "faulty"])
    asked = options.parse_args()
    load(site(0, 3))  # what is imported or built once is not loading
    if asked.profile:
        text = site(SEEDS[0])
        profiled(text if asked.profile == "valid" else faulty(text))
        return 0
    texts = [site(seed) for seed in SEEDS]
    kept = [
        measured("valid", texts, VALID_S),
        measured("a fault in every device", [faulty(text) for text in texts], FAULTY_S),
    ]
    return 0 if all(kept) else 1


if __name__ == "__main__":
    sys.exit(main())
