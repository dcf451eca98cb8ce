"""Every chain that shelf and market allow, from some ports to one device; cheap rejects first.

What may follow a trigger hangs on what it gives, not on the port before it: the ends of chains
are searched once for all heads that give the same, and chains are pairs of a head and an end.
"""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from sinkside.parts.charger import Charger, Occupied
from sinkside.parts.elements import RampSwitch
from sinkside.parts.part import SET_TOLERANCE, End, Part
from sinkside.paths.drawers import Drawers, drawers
from sinkside.paths.front import Front
from sinkside.paths.heads import Limits, Rejects, heads
from sinkside.paths.pool import Indices, Pool, same
from sinkside.paths.rails import REMOVED, input_of, lacks
from sinkside.paths.settings import settings
from sinkside.site.appliance import Appliance
from sinkside.standards.pd_contract import BULK_LIMIT_AFTER_CONTRACT_F

__all__ = ["Limits", "Place", "Rejects", "fronts", "search", "settings"]

# Of its volts a contract leaves at least so much at the pins: tolerance and leads.
LEAST_OF_CONTRACT = 0.88
# And of what a converter is set to: what fuse and lead behind it take.
LEAST_OF_MADE = 0.92
NOT_YET = "polarity not known: do not make up the plug yet"


@dataclass(frozen=True, kw_only=True)
class Place:
    """A port where chains may begin.

    Parameters
    ----------
    companies
        Each set of ports that may be in use at the same time: chains are searched for each.
    """

    charger: Charger
    port: str
    companies: Sequence[Occupied]
    limits: Limits


class Start(NamedTuple):
    """All of a trigger that what follows it hangs on."""

    gives: End
    asks_v: float
    gated: bool
    programmed: bool


def search(
    appliance: Appliance, places: Iterable[Place], parts: tuple[Part, ...], rejects: Rejects
) -> Pool:
    """Every chain from some ports that ends in a plug for the device, or in what gives its rails.

    Parameters
    ----------
    parts
        What shelf and market hold, once per setting.
    rejects
        Where the reasons of what was left out are gathered.
    """
    ends = _Ends(appliance)
    found: list[Front] = []
    after: list[Indices] = []
    for place in places:
        if not place.companies:
            continue
        # A company changes nothing of what is built, so that the reasons are those of one company.
        lost = Rejects()
        from_port = list(_from_port(appliance, place, parts, ends, lost))
        rejects.add_all(lost, times=len(place.companies))
        for company in place.companies:
            for head, may_follow in from_port:
                found.append(_head(place.charger, place.port, company, head))
                after.append(may_follow)
    devices, device = same(_fed(end, appliance) for end in ends.found)
    end = np.concatenate([_NO_END, *after])
    return Pool(
        heads=tuple(found),
        ends=ends.found,
        devices=devices,
        head=np.repeat(np.arange(len(found)), np.array([len(a) for a in after], dtype=np.intp)),
        end=end,
        device=device[end],
    )


def fronts(
    appliance: Appliance,
    charger: Charger,
    port: str,
    company: Occupied,
    parts: tuple[Part, ...],
    limits: Limits,
    rejects: Rejects,
) -> Iterator[Front]:
    """Every front from one port in one company: see `search`."""
    place = Place(charger=charger, port=port, companies=(company,), limits=limits)
    pool = search(appliance, (place,), parts, rejects)
    yield from (pool.front(i) for i in range(len(pool)))


@lru_cache(maxsize=20_000)
def _head(charger: Charger, port: str, company: Occupied, parts: tuple[Part, ...]) -> Front:
    """A head; the same one for every device, so that what hangs on it is worked out once."""
    return Front(charger=charger, port=port, parts=parts, company=company)


def _from_port(
    appliance: Appliance, place: Place, parts: tuple[Part, ...], ends: "_Ends", rejects: Rejects
) -> Iterator[tuple[tuple[Part, ...], Indices]]:
    """The heads of a port, each with the ends that may follow it."""
    usable = drawers(parts, place.limits.solder)
    if usable.barred:
        rejects.add("asks for joints, and the rules say no soldering", "leads with bare ends")
    if not appliance.rails and appliance.plug not in usable.plugs:
        rejects.add(f"no part ends in a {appliance.plug} plug", appliance.plug)
    for part in usable.splitters:
        rejects.add("splits one contract between two devices: one contract, one device", part.id)
    for head in heads(appliance, place.charger, place.port, usable, place.limits, rejects):
        yield head, ends.after(head[-1], usable, rejects)


_NO_END: Indices = np.zeros(0, dtype=np.intp)


class _Ends:
    """What may follow triggers, searched once for all triggers that give the same."""

    def __init__(self, appliance: Appliance) -> None:
        self.appliance = appliance
        self.place: dict[tuple[Part, ...], int] = {}
        self.known: dict[tuple[Start, Drawers], tuple[Indices, Rejects]] = {}

    @property
    def found(self) -> tuple[tuple[Part, ...], ...]:
        """Every end, once."""
        return tuple(self.place)

    def after(self, trigger: Part, usable: Drawers, rejects: Rejects) -> Indices:
        """Which ends may follow a trigger, in the order in which they are found."""
        traits = trigger.trigger
        if traits is None:
            return _NO_END
        start = Start(
            gives=trigger.gives,
            asks_v=traits.asks_v,
            gated=traits.gated,
            programmed=traits.programmable_v is not None,
        )
        key = (start, usable)
        if key not in self.known:
            lost = Rejects()
            ends = _rails if self.appliance.rails else _middles_and_tails
            found = ends(self.appliance, start, usable, lost)
            at = [self.place.setdefault(end, len(self.place)) for end in found]
            self.known[key] = np.array(at, dtype=np.intp), lost
        which, lost = self.known[key]
        rejects.add_all(lost)
        return which


def _fed(end: tuple[Part, ...], appliance: Appliance) -> Appliance:
    """The device, or the input of the converter that gives its rails."""
    rails = bool(end) and end[-1].rails_converter is not None
    return input_of(end[-1], appliance) if rails else appliance


def _middles_and_tails(
    appliance: Appliance, start: Start, usable: Drawers, rejects: Rejects
) -> Iterator[tuple[Part, ...]]:
    """What may follow a trigger, as far as the plug."""
    middles = tuple(_middles(appliance, start, usable))
    for tail in _tails(appliance, start.gives, usable, rejects):
        for middle in middles:
            yield (*middle, *tail)


def _rails(
    appliance: Appliance, start: Start, usable: Drawers, rejects: Rejects
) -> Iterator[tuple[Part, ...]]:
    """What may follow a trigger, as far as the converter that gives a device its rails."""
    if start.gives.kind != "wires":
        return
    asks_v = start.asks_v
    for part in usable.rails:
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
                for soft in _soft_starts(load, start, usable):
                    yield (*fuse, *soft, last)


def _tails(
    appliance: Appliance, gives: End, usable: Drawers, rejects: Rejects
) -> Iterator[tuple[Part, ...]]:
    """What leads from a trigger's output to the device's plug with the right pole inside."""
    wires = gives.kind == "wires"
    for end, tail in [(p.gives, (p,)) for p in usable.leads] if wires else [(gives, ())]:
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
        for part in usable.reversers:
            if part.takes == end:
                yield (*tail, part)


def _undecided(end: End, tail: tuple[Part, ...]) -> Iterator[tuple[Part, ...]]:
    """A tail while nobody knows the polarity: the plug is not to be made up yet."""
    if not tail or not tail[0].made_either_way:
        yield tail
    elif end.centre == "positive":
        yield (replace(tail[0], setting=NOT_YET), *tail[1:])


def _middles(appliance: Appliance, start: Start, usable: Drawers) -> Iterator[tuple[Part, ...]]:
    """What may stand between the trigger and the lead: fuse, converter, soft start."""
    if start.gives.kind != "wires":
        yield ()
        return
    # A trigger that is set to the device's own volts wants no converter behind it.
    for converter in [()] if start.programmed else _converters(appliance, start.asks_v, usable):
        for fuse in _fuses(appliance, start.asks_v, converter, usable):
            for soft in _soft_starts(appliance, start, usable):
                # The fuse guards the lead: it stands where the lead begins.
                yield (*converter, *fuse, *soft)


def _converters(appliance: Appliance, asks_v: float, usable: Drawers) -> Iterator[tuple[Part, ...]]:
    """No converter, and every one whose output the device may want."""
    yield ()
    low, high = appliance.runs_from_v.low, appliance.harmed_above_v.high
    for part in usable.converters:
        converter = part.converter
        if converter is None:
            continue
        if not converter.accepts_low_v <= asks_v <= converter.accepts_high_v / 1.05:
            continue
        if converter.adjustable:
            for volts in settings(appliance):
                fits = converter.gives_v.low <= volts <= converter.gives_v.high
                if fits and _changes(converter.direction, volts, asks_v):
                    yield (_set_to(part, volts),)
        elif (
            low <= converter.gives_v.high
            and converter.gives_v.low <= high
            and _changes(converter.direction, converter.gives_v.low, asks_v)
        ):
            yield (part,)


@lru_cache(maxsize=10_000)
def _set_to(part: Part, volts: float) -> Part:
    return part.set_to(volts)


def _changes(direction: str, volts: float, asks_v: float) -> bool:
    """Whether a converter can make those volts of a contract: down only down, up only up."""
    if direction == "step-down":
        return volts <= asks_v - 0.5
    return direction != "step-up" or volts * (1 - SET_TOLERANCE) > asks_v * 1.05


def _fuses(
    appliance: Appliance, asks_v: float, converter: tuple[Part, ...], usable: Drawers
) -> Iterator[tuple[Part, ...]]:
    """No fuse, the smallest that carries the device for good, and the smallest that is owned."""
    yield ()
    need = appliance.steady_a.high
    if "constant power" in appliance.laws:
        made = converter[0].converter if converter else None
        gives = LEAST_OF_MADE * made.gives_v.low if made else LEAST_OF_CONTRACT * asks_v
        need *= max(1.0, appliance.reference_v / gives)
    good = [p for p in usable.fuses if p.carries_a >= need - 1e-9]
    owned = [p for p in good if p.owned]
    yield from ((p,) for p in dict.fromkeys((*good[:1], *owned[:1])))


def _soft_starts(appliance: Appliance, start: Start, usable: Drawers) -> Iterator[tuple[Part, ...]]:
    """No soft start, and the cheapest that softens the step behind this trigger."""
    yield ()
    if appliance.capacitance_f.high <= BULK_LIMIT_AFTER_CONTRACT_F:
        return
    softens = (p for p in usable.soft_starts if start.gated or _every_step(p))
    yield from ((p,) for p in list(softens)[:1])


def _every_step(part: Part) -> bool:
    return any(isinstance(e, RampSwitch) and e.every_step for e in part.elements)
