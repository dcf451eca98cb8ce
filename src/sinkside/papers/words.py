"""The words of a plan that every paper says alike: what to do, what to watch, what to heed."""

from dataclasses import dataclass

from sinkside.advice import advise
from sinkside.plan.model import Action, DevicePlan, Plan
from sinkside.rules.verdict import Stakes

CERTIFIES_NOT = "The tool computes; it does not certify."
OTHERS_FIRST = "Local codes and licensed practice come first."

CAUTIONS = (
    "Meter before device: volts and polarity at the plug, before it goes in.",
    "First power-up through a dummy load; then the device through a fuse or from a "
    "current-limited supply.",
    "Barrel first, USB-C last.",
    "Keep and tag the old brick.",
    "Stop at smell, heat or hum.",
    "Label every lead: plugs that look alike are not alike.",
    "Before a case is opened: unplug, wait a minute; capacitors hold charge, regulators and "
    "converters get hot. The mains side is for a qualified person.",
    "A tingle from joined metal: stop and have it measured. Never lift an earth.",
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
            detail = f"{advice[0].measurement.title} ({advice[0].minutes} min)"
    return Doing(action=device.action.value, detail=detail)


def watch(device: DevicePlan) -> tuple[str, ...]:
    """What to watch while a device is tried: one thing for each rule that is still open."""
    still_open = device.chosen.open(Stakes.MISBEHAVES) if device.chosen else ()
    return tuple(dict.fromkeys(_WATCH.get(f.rule, f.about.title) for f in still_open))
