"""Every chain that shelf and market allow, from one port to one device; cheap rejects first."""

from collections.abc import Iterator
from dataclasses import replace

from sinkside.parts.charger import Charger, Occupied
from sinkside.parts.elements import RampSwitch
from sinkside.parts.part import SET_TOLERANCE, End, Part
from sinkside.paths.front import Front
from sinkside.paths.heads import Limits, Rejects, cheap, heads
from sinkside.paths.rails import REMOVED, input_of, lacks
from sinkside.paths.settings import settings
from sinkside.site.appliance import Appliance
from sinkside.standards.pd_contract import BULK_LIMIT_AFTER_CONTRACT_F

__all__ = ["Limits", "Rejects", "fronts", "settings"]

# Of its volts a contract leaves at least so much at the pins: tolerance and leads.
LEAST_OF_CONTRACT = 0.88
# And of what a converter is set to: what fuse and lead behind it take.
LEAST_OF_MADE = 0.92
NOT_YET = "polarity not known: do not make up the plug yet"


def fronts(
    appliance: Appliance,
    charger: Charger,
    port: str,
    company: Occupied,
    parts: tuple[Part, ...],
    limits: Limits,
    rejects: Rejects,
) -> Iterator[Front]:
    """Every front from a port that ends in a plug for the device, or in what gives its rails.

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
    if not appliance.rails and not any(p.gives.plug == appliance.plug for p in usable):
        rejects.add(f"no part ends in a {appliance.plug} plug", appliance.plug)
    for part in usable:
        if part.kind == "splitter":
            rejects.add(
                "splits one contract between two devices: one contract, one device", part.id
            )
    for head in heads(appliance, charger, port, usable, limits, rejects):
        ends = _rails if appliance.rails else _middles_and_tails
        for rest in ends(appliance, head[-1], usable, rejects):
            yield Front(charger=charger, port=port, company=company, parts=(*head, *rest))


def _middles_and_tails(
    appliance: Appliance, trigger: Part, usable: list[Part], rejects: Rejects
) -> Iterator[tuple[Part, ...]]:
    """What may follow a trigger, as far as the plug."""
    for tail in _tails(appliance, trigger.gives, usable, rejects):
        for middle in _middles(appliance, trigger, usable):
            yield (*middle, *tail)


def _rails(
    appliance: Appliance, trigger: Part, usable: list[Part], rejects: Rejects
) -> Iterator[tuple[Part, ...]]:
    """What may follow a trigger, as far as the converter that gives a device its rails."""
    if trigger.trigger is None or trigger.gives.kind != "wires":
        return
    asks_v = trigger.trigger.asks_v
    for part in usable:
        converter = part.rails_converter
        if converter is None:
            continue
        lacking = lacks(part, appliance)
        if lacking is not None:
            rejects.add(f"gives no rail of {lacking.name}", part.id)
        elif appliance.must_survive_fault:
            rejects.add(
                "one fault in it puts the port's volts on a rail, and the rules say that this must "
                "be survived",
                part.id,
            )
        elif not converter.accepts_low_v <= asks_v <= converter.accepts_high_v / 1.05:
            rejects.add(f"does not take {asks_v:g} V", part.id)
        else:
            last = replace(part, setting=REMOVED)
            load = input_of(part, appliance)
            for fuse in _fuses(load, asks_v, (), usable):
                for soft in _soft_starts(load, trigger, usable):
                    yield (*fuse, *soft, last)


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
        either = appliance.kind == "either"
        if either or appliance.centre in (None, end.centre) or end.centre is None:
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
    programmed = trigger.trigger is not None and trigger.trigger.programmable_v is not None
    # A trigger that is set to the device's own volts wants no converter behind it.
    for converter in [()] if programmed else _converters(appliance, asks_v, usable):
        for fuse in _fuses(appliance, asks_v, converter, usable):
            for soft in _soft_starts(appliance, trigger, usable):
                # The fuse guards the lead: it stands where the lead begins.
                yield (*converter, *fuse, *soft)


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


def _fuses(
    appliance: Appliance, asks_v: float, converter: tuple[Part, ...], usable: list[Part]
) -> Iterator[tuple[Part, ...]]:
    """No fuse, and the smallest that carries the device for good."""
    yield ()
    need = appliance.steady_a.high
    if "constant power" in appliance.laws:
        made = converter[0].converter if converter else None
        gives = LEAST_OF_MADE * made.gives_v.low if made else LEAST_OF_CONTRACT * asks_v
        need *= max(1.0, appliance.reference_v / gives)
    good = sorted(
        (p for p in usable if p.fuse and p.carries_a >= need - 1e-9),
        key=lambda p: (p.carries_a, cheap(p)),
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
    yield from ((p,) for p in sorted(softs, key=cheap)[:1])


def _every_step(part: Part) -> bool:
    return any(isinstance(e, RampSwitch) and e.every_step for e in part.elements)
