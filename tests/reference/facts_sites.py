"""Small site files for the whole-chain checks: one device, one charger, parts of known ohms.

Only the site's own lead fits the inlet. The chain is cable 250 mΩ (the most of a lawful one for
3 A: secondary), trigger 50 mΩ, fuse 100 mΩ, lead 100 mΩ: 500 mΩ in all.
"""

from sinkside.plan import plan
from sinkside.plan.model import DevicePlan
from sinkside.rules.finding import Finding
from sinkside.site.read import read

FIXED = "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓3A"
WITH_12 = "5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A 20V⎓3A"
CABLE = "{is: cable, length: 1 m, ohms: 250 mΩ (measured)}"
MARKED = "{is: cable, length: 1 m, e_marked: 5 A, ohms: 150 mΩ (measured)}"
LEAD = "{is: lead, plug: 4.8x2.3, length: 1 m, ohms: 100 mΩ (measured), carries: 5 A}"
RESISTORS = "{is: trigger, straps: [5 V], by: resistors, ohms: 50 mΩ (measured)}"


def fuse(rating: str) -> str:
    """A time-lag fuse to IEC 60127 in a holder, 100 mΩ."""
    return f"{{is: fuse, rating: {rating}, speed: time-lag, ohms: 100 mΩ (measured)}}"


def trigger(volts: str, more: str = "falls_back: off (measured)") -> str:
    """A trigger with an output switch, 50 mΩ."""
    return (
        f"{{is: trigger, straps: [{volts}], ohms: 50 mΩ (measured), carries: 5 A, "
        f"withstands: 24 V, output_switch: yes (measured), {more}}}"
    )


def site(
    *device: str, ports: str, port: str = "C1", charger: str = "", budget: str = "", **shelf: str
) -> str:
    """A site file with one device, one charger with one port, and what lies on the shelf."""
    lines = [
        "site: {name: Bench}",
        f"rules: {{solder: yes, open_cases: yes, spare_ports: blocked{budget}}}",
        "devices:",
        "  thing:",
        *(f"    {line}" for line in ("use: ordinary", "blink: any", *device)),
        "shelf:",
        "  charger: {is: charger, sharing: independent (measured), on_change: nothing (measured), "
        f'{charger} ports: {{{port}: "{ports}"}}}}',
        *(f"  {name}: {words}" for name, words in shelf.items()),
    ]
    return "\n".join(lines) + "\n"


def planned(
    *device: str, ports: str = FIXED, port: str = "C1", charger: str = "", budget: str = "",
    **shelf: str,
) -> DevicePlan:  # fmt: skip
    """The plan of that one device."""
    text = site(*device, ports=ports, port=port, charger=charger, budget=budget, **shelf)
    return plan(read(text, "site.yaml")).device("thing")


def inlet(volts: str = "9V", centre: str = "positive") -> tuple[str, str]:
    """A plate and an inlet that agree about polarity."""
    marks = "⊖–C–⊕" if centre == "positive" else "⊕–C–⊖"
    return (
        f'plate: "DC IN {volts}⎓ 1A {marks}"',
        f"inlet: {{plug: 4.8x2.3, centre: {centre} (measured)}}",
    )


def draws(steady: str, peak: str) -> str:
    """Measured currents."""
    return f"draws: {{steady: {steady} (measured), peak: {peak} (measured)}}"


def switching(runs: str, harmed: str, farads: str = "10 µF 35 V") -> str:
    """What is inside, with its window from a datasheet."""
    return (
        f"inside: {{is: switching regulator, runs_from: {runs} (datasheet), "
        f"harmed_above: {harmed} (datasheet), input_capacitor: {farads} (plate)}}"
    )


def regulator(part: str, in_front: str = "nothing", capacitor: str = "25 V") -> str:
    """A linear regulator on a large heat sink."""
    return (
        f'inside: {{is: linear regulator, part: "{part}", in_front: "{in_front} (measured)", '
        f"heat_sink: large, input_capacitor: 10 µF {capacitor} (plate)}}"
    )


def finding(device: DevicePlan, rule: str) -> Finding:
    """One finding of the chosen chain."""
    assert device.chosen is not None, device.why
    return next(f for f in device.chosen.findings if f.rule == rule)


def stages(device: DevicePlan) -> list[str]:
    """What the chosen chain is made of; nothing without one."""
    return [] if device.chosen is None else [p.id for p in device.chosen.front.parts]


def plain_v(device: DevicePlan) -> float | None:
    """The contract that the device is fed straight with; None if there is none, or a converter."""
    if device.chosen is None or device.chosen.front.converter is not None:
        return None
    return device.chosen.front.trigger.asks_v


OWN = ["cable", "trigger", "fuse", "lead"]
