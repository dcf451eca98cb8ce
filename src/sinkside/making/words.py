"""The words of a plan that every paper says alike: what to do, what to watch, what to heed."""

import re
from collections import Counter
from dataclasses import dataclass

from sinkside.advice import Advice, advise
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.rules.verdict import Stakes, Verdict

CERTIFIES_NOT = "The tool computes; it does not certify."
OTHERS_FIRST = "Local codes and licensed practice come first."

METER_FIRST = "Meter before device: volts and polarity at the plug, before it goes in."
DUMMY_LOAD = (
    "First power-up through a dummy load; then the device through a fuse or from a "
    "current-limited supply."
)
BARREL_FIRST = "Barrel first, USB-C last."
OPEN_CASE = (
    "Before a case is opened: unplug, wait a minute; capacitors hold charge, regulators and "
    "converters get hot. The mains side is for a qualified person."
)
TINGLE = "A tingle from joined metal: stop and have it measured. Never lift an earth."
CAUTIONS = (
    METER_FIRST,
    DUMMY_LOAD,
    BARREL_FIRST,
    "Keep and tag the old brick.",
    "Stop at smell, heat or hum.",
    "Label every lead: plugs that look alike are not alike.",
    OPEN_CASE,
    TINGLE,
    "Nothing new runs unattended before it has run warm under your eyes.",
)

_WATCH = {
    "under-volts": "that it runs at full work",
    "fuse-pulse": "that its fuse outlives many plug-ins",
    "continuous-load": "that the charger stays bearably warm for hours",
    "idle-current": "that the charger does not switch off while it idles",
    "inrush": "that the port does not trip at plug-in",
    "port-current": "that the port does not let go at the peak",
    "match-offered": "that the volts stay when something else is plugged in",
    "operating-point": "that it starts",
    "converter-headroom": "that the converter holds its volts",
    "fuse-holds": "that the fuse holds",
    "blink": "that it rides through the gap",
    "keep-alive": "that the volts are still there after an hour",
    "converter-peak": "that the converter stands its start",
}


@dataclass(frozen=True, kw_only=True)
class Doing:
    """What to do with a device: the action, and what it needs with it (empty if nothing)."""

    action: str
    detail: str

    def __str__(self) -> str:
        return f"{self.action}{self.detail and ': ' + self.detail}"


def doing(device: DevicePlan, plan: Plan) -> Doing:
    """What to do with a device, with what to watch or what to measure."""
    detail = ""
    if device.action is Action.TRY:
        detail = "; ".join(watch(device))
        detail = f"watch {detail}" if detail else ""
    elif device.action is Action.MEASURE:
        advice = advise(device, plan)
        if advice:
            detail = f"{advice[0].title} ({advice[0].minutes} min)"
    return Doing(action=device.action.value, detail=detail)


def watch(device: DevicePlan) -> tuple[str, ...]:
    """What to watch while a device is tried: one thing for each rule that is still open."""
    still_open = device.chosen.open(Stakes.MISBEHAVES) if device.chosen else ()
    return tuple(dict.fromkeys(_WATCH.get(f.rule, f.about.title) for f in still_open))


def charger_name(chosen: Chosen) -> str:
    """The charger by name, and which of several."""
    several = chosen.front.charger.count > 1
    return f"{chosen.seat.kind} no. {chosen.seat.unit}" if several else chosen.seat.kind


def chain(chosen: Chosen) -> str:
    """The chain in one line, from the very charger and port to the plug."""
    steps = [
        f"{part.words or part.id}{f' ({part.setting})' if part.setting else ''}"
        for part in chosen.front.parts
    ]
    return " → ".join([f"{charger_name(chosen)}, port {chosen.seat.port}", *steps])


def state_words(state: str) -> str:
    """States of the supply in a text: `contract 9 V, C1 alone` for `match 9 V, C1 alone`."""
    return re.sub(r"\bmatch (?=\d)", "contract ", state)


def taken(device: DevicePlan, plan: Plan) -> str:
    """Of a device that is left out although it could be moved: who sits where it might.

    Empty if a port is free, and for what has a seat or can have none at any port.
    """
    seated = [d for d in plan.devices if d.chosen]
    ports = sum(c.count * len(c.ports) for c in plan.site.chargers)
    if device.action is not Action.LEAVE or len(seated) < ports or not device.chains:
        return ""
    on: dict[str, list[str]] = {}
    for other in plan.devices:
        if other.chosen:
            on.setdefault(charger_name(other.chosen), []).append(other.id)
    told = "; ".join(f"{name}: {', '.join(on[name])}" for name in sorted(on))
    witnesses = len({e.observed for e in device.appliance.evidence})
    later = (
        "what leaves harm open comes after what does not, and of its own polarity "
        f"{'nothing' if not witnesses else 'one witness alone'} is known. "
        if witnesses < 2 and device.appliance.kind == "dc"
        else ""
    )
    return f"{later}Who has the ports: {told}"


def ground_warnings(plan: Plan) -> tuple[str, ...]:
    """What is to be kept apart because a signal ground, or a shield, is not known."""
    beside: dict[str, list[str]] = {}
    found: list[str] = []
    for clash in plan.clashes:
        if clash.verdict is not Verdict.UNPROVEN:
            continue
        unknown = [name.removesuffix("/ground") for name in clash.unknowns]
        if any(name not in (clash.a, clash.b) for name in unknown):
            found.append(f"{clash.a} and {clash.b}: {clash.words}")
            continue
        for name in unknown:
            beside.setdefault(name, []).append(clash.b if name == clash.a else clash.a)
    for name, others in beside.items():
        listed = ", ".join(others)
        found.append(
            f"{name}: its signal ground is not known; until it is, keep it off a charger that "
            f"also feeds {listed}, or feed it through an isolated converter: the leads between "
            "them may short a supply"
        )
    return tuple(found)


def from_shelf(plan: Plan) -> tuple[str, ...]:
    """What the plan takes from the shelf, as `2 × 800 mA time-lag fuse in a holder`."""
    words = {p.id: p.words or p.id for p in plan.site.parts}
    used = Counter(p.id for d in plan.devices if d.chosen for p in d.chosen.front.parts)
    used.subtract(dict(plan.bought))
    return tuple(f"{n} × {words[part]}" for part, n in sorted(used.items()) if n > 0)


def waiting(plan: Plan) -> tuple[str, ...]:
    """Devices whose parts are not to be bought before something is measured."""
    return tuple(d.id for d in plan.devices if d.action is Action.MEASURE)


def cautions_of(device: DevicePlan, plan: Plan) -> tuple[str, ...]:
    """Those of the cautions that matter most where one device alone is shown."""
    found = [METER_FIRST, DUMMY_LOAD, BARREL_FIRST] if device.chosen else []
    if any(a.measurement.opens_case for a in _first(device, plan)):
        found.append(OPEN_CASE)
    if any(device.id in (c.a, c.b) for c in plan.clashes):
        found.append(TINGLE)
    return tuple(found)


def _first(device: DevicePlan, plan: Plan) -> tuple[Advice, ...]:
    return advise(device, plan)[:1]
