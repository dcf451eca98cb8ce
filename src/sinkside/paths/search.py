"""Every chain that shelf and market allow, from one port to one device; cheap rejects first."""

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from sinkside.parts.charger import Charger, Occupied
from sinkside.parts.elements import RampSwitch
from sinkside.parts.part import SET_TOLERANCE, End, Part
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance
from sinkside.standards.pd_contract import BULK_LIMIT_AFTER_CONTRACT_F

# What fuse, soft start and lead behind a converter may come to: for a large fuse, and a small one.
BEHIND_OHM = (0.3, 0.5, 0.8)
# Of its volts a contract leaves at least so much at the pins: tolerance and leads.
LEAST_OF_CONTRACT = 0.88
NOT_YET = "polarity not known: do not make up the plug yet"
# What the lead behind the trigger reaches by itself.
TAIL_REACH_M = 0.5


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What the person allows.

    Parameters
    ----------
    solder
        Whether joints may be made at all.
    reach_m
        How far the device is from the charger; None if nobody said.
    """

    solder: bool
    reach_m: float | None = 0.0


@dataclass(kw_only=True)
class Rejects:
    """Why chains were not even built: reasons with how often, and one example each."""

    reasons: Counter[str] = field(default_factory=Counter)
    examples: dict[str, str] = field(default_factory=dict)

    def add(self, reason: str, example: str) -> None:
        """Count one more chain that was left out for a reason."""
        self.reasons[reason] += 1
        self.examples.setdefault(reason, example)


def fronts(
    appliance: Appliance,
    charger: Charger,
    port: str,
    company: Occupied,
    parts: tuple[Part, ...],
    limits: Limits,
    rejects: Rejects,
) -> Iterator[Front]:
    """Every front from a port that ends in a plug for the device.

    Parameters
    ----------
    company
        The ports that may be in use at the same time.
    parts
        What shelf and market hold, once per setting.
    rejects
        Where the reasons of what was left out are gathered.
    """
    usable = [p for p in parts if limits.solder or p.joints == 0]
    if len(usable) < len(parts):
        rejects.add("asks for joints, and the rules say no soldering", "leads with bare ends")
    if not any(p.gives.plug == appliance.plug for p in usable):
        rejects.add(f"no part ends in a {appliance.plug} plug", appliance.plug)
    cables = _cables(charger, port, usable, limits, rejects)
    for cable in cables:
        for trigger in _triggers(charger, port, usable, rejects):
            if trigger.gives.kind != "wires" and cable is not cables[0]:
                continue  # a moulded lead has a cable of its own
            head = (cable, trigger) if trigger.gives.kind == "wires" else (trigger,)
            for tail in _tails(appliance, trigger.gives, usable, rejects):
                for middle in _middles(appliance, trigger, usable):
                    yield Front(
                        charger=charger,
                        port=port,
                        company=company,
                        parts=(*head, *middle, *tail),
                    )


def _tails(
    appliance: Appliance, gives: End, usable: list[Part], rejects: Rejects
) -> Iterator[tuple[Part, ...]]:
    """What leads from a trigger's output to the device's plug with the right pole inside."""
    ends: list[tuple[End, tuple[Part, ...]]] = []
    if gives.kind == "wires":
        ends = [(p.gives, (p,)) for p in usable if p.kind == "lead"]
    else:
        ends = [(gives, ())]
    for end, tail in ends:
        if end.plug != appliance.plug:
            continue
        if end.centre is not None and appliance.centre is None:
            yield from _undecided(end, tail)
            continue
        if appliance.centre in (None, end.centre) or end.centre is None:
            yield tail
            continue
        if tail and tail[0].made_either_way:
            continue  # the same lead connected the other way round is the answer
        rejects.add("its plug has the other polarity", tail[0].id if tail else "moulded lead")
        for part in usable:
            if part.kind == "reverser" and part.takes == end:
                yield (*tail, part)


def _undecided(end: End, tail: tuple[Part, ...]) -> Iterator[tuple[Part, ...]]:
    """A tail while nobody knows the polarity: the plug is not to be made up yet."""
    if not tail or not tail[0].made_either_way:
        yield tail
    elif end.centre == "positive":
        yield (replace(tail[0], setting=NOT_YET), *tail[1:])


def _middles(appliance: Appliance, trigger: Part, usable: list[Part]) -> Iterator[tuple[Part, ...]]:
    """What may stand between the trigger and the lead: fuse, converter, soft start."""
    if trigger.gives.kind != "wires":
        yield ()
        return
    asks_v = trigger.trigger.asks_v if trigger.trigger else 0.0
    for converter in _converters(appliance, asks_v, usable):
        for fuse in _fuses(appliance, asks_v, converter, usable):
            for soft in _soft_starts(appliance, trigger, usable):
                # The fuse guards the lead: it stands where the lead begins.
                yield (*converter, *fuse, *soft)


def _cables(
    charger: Charger, port: str, usable: list[Part], limits: Limits, rejects: Rejects
) -> list[Part]:
    """The cheapest cable that reaches, without and, over 3 A, with a mark."""
    if limits.reach_m is None:
        rejects.add(f"how far it is to {charger.id} is not said", "add to: under places:")
        return []
    reach = limits.reach_m - TAIL_REACH_M
    if not any(p.kind == "cable" and p.length_m >= reach for p in usable):
        rejects.add(f"no cable reaches {charger.id}, {limits.reach_m:g} m away", "cable")
        return []
    cables = sorted(
        (p for p in usable if p.kind == "cable" and p.length_m >= reach),
        key=_cheap,
    )
    plain = [p for p in cables if not p.e_marked]
    marked = [p for p in cables if p.e_marked]
    wants_mark = charger.port(port).largest_a > 3.0 or not plain
    return plain[:1] + (marked[:1] if wants_mark else [])


def _triggers(charger: Charger, port: str, usable: list[Part], rejects: Rejects) -> Iterator[Part]:
    """Triggers that ask for what the port offers at least when it is alone."""
    listed = {o.fixed_v for o in charger.port(port).offers}
    for part in usable:
        if part.trigger is None:
            continue
        if part.trigger.asks_v not in listed:
            rejects.add(f"{charger.id} {port} does not offer {part.trigger.asks_v:g} V", part.id)
            continue
        yield part


def _converters(
    appliance: Appliance, asks_v: float, usable: list[Part]
) -> Iterator[tuple[Part, ...]]:
    """No converter, and every one whose output the device may want."""
    yield ()
    low, high = appliance.runs_from_v.low, appliance.harmed_above_v.high
    for part in usable:
        converter = part.converter
        if converter is None:
            continue
        if not converter.accepts_low_v <= asks_v <= converter.accepts_high_v / 1.05:
            continue
        if converter.adjustable:
            for volts in settings(appliance):
                fits = converter.gives_v.low <= volts <= converter.gives_v.high
                if fits and _changes(converter.direction, volts, asks_v):
                    yield (part.set_to(volts),)
        elif (
            low <= converter.gives_v.high
            and converter.gives_v.low <= high
            and _changes(converter.direction, converter.gives_v.low, asks_v)
        ):
            yield (part,)


def _changes(direction: str, volts: float, asks_v: float) -> bool:
    """Whether a converter can make those volts of a contract: down only down, up only up."""
    if direction == "step-down":
        return volts <= asks_v - 0.5
    return direction != "step-up" or volts * (1 - SET_TOLERANCE) > asks_v * 1.05


def settings(appliance: Appliance) -> tuple[float, ...]:
    """Volts worth setting a converter to.

    As low as the device surely runs from, what its plate says, and as high as it has proved
    to run cool enough; each only if it does not surely harm.
    """
    least, peak = appliance.runs_from_v.high, appliance.peak_a.high
    wanted = {math.ceil(10 * (least + ohm * peak) / (1 - SET_TOLERANCE)) / 10 for ohm in BEHIND_OHM}
    if appliance.plate_v:
        wanted.add(appliance.plate_v)
    cool = appliance.heat.cool_up_to_v
    if cool is not None:
        wanted.add(math.floor(10 * cool.low / (1 + SET_TOLERANCE)) / 10)
    top = appliance.harmed_above_v.high
    return tuple(sorted(v for v in wanted if v * (1 + SET_TOLERANCE) <= top))


def _fuses(
    appliance: Appliance, asks_v: float, converter: tuple[Part, ...], usable: list[Part]
) -> Iterator[tuple[Part, ...]]:
    """No fuse, and the smallest that carries the device for good."""
    yield ()
    need = appliance.steady_a.high
    if "constant power" in appliance.laws:
        gives = converter[0].converter.gives_v.low if converter and converter[0].converter else 0.0
        need *= max(1.0, appliance.reference_v / (gives or LEAST_OF_CONTRACT * asks_v))
    good = sorted(
        (p for p in usable if p.fuse and p.carries_a >= need - 1e-9),
        key=lambda p: (p.carries_a, _cheap(p)),
    )
    yield from ((p,) for p in good[:1])


def _soft_starts(
    appliance: Appliance, trigger: Part, usable: list[Part]
) -> Iterator[tuple[Part, ...]]:
    """No soft start, and the cheapest that softens the step behind this trigger."""
    yield ()
    if appliance.capacitance_f.high <= BULK_LIMIT_AFTER_CONTRACT_F:
        return
    gated = trigger.trigger is not None and trigger.trigger.gated
    softs = [p for p in usable if p.kind == "soft start" and (gated or _every_step(p))]
    yield from ((p,) for p in sorted(softs, key=_cheap)[:1])


def _every_step(part: Part) -> bool:
    return any(isinstance(e, RampSwitch) and e.every_step for e in part.elements)


def _cheap(part: Part) -> tuple[bool, bool, int, str]:
    """Owned before bought, a known price before an unknown one, cheap before dear."""
    return (part.owned == 0, part.price_cents is None, part.price_cents or 0, part.id)
