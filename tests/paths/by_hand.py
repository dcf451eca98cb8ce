"""The same question answered a second way: one world at a time, in plain numbers.

Nothing here comes from the rooms that judge. A *world* is one value for every quantity and
one answer to every open question; `breaks` walks the elements of a path in that world and
says which rules are broken. States are enumerated from the description of occupancy: every
set of ports in use, in every order, gives a list; the trigger takes its volts from the list
or falls back; without an output switch the device sees the port's 5 V first.

Circuit laws: Ohm's law; a matched load takes at most V²/4R; a step-down never gives more than
it is set to, nor more than it gets; a step-up and its diode pass an input that is higher
than what it is set to. Fault currents and in-rush are tested on their own.
"""

import math
import random
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from itertools import combinations
from typing import TYPE_CHECKING

from sinkside.parts.charger import Offer
from sinkside.parts.elements import Diode, Resistance
from sinkside.parts.part import Fallback, Part
from sinkside.paths.front import Front
from sinkside.quantity import Quantity, Spread, unknown

if TYPE_CHECKING:
    from sinkside.paths.judge import Path

# USB Type-C R2.0, vSafe5V (as given in published notes): before or without a contract.
BARE_5_V = (4.75, 5.5)
# USB PD R3.2 v1.2, vSrcNew (as given in an open-source source policy): under a contract. The
# same of programmable volts: vPpsNew (read in the Linux driver tcpci.c).
CONTRACT = (0.95, 1.05)
TOUCH = 1e-9
# A row of diodes leaves its resistor at least a tenth of the volts (common practice).
MOST_KNEE = 0.9


@dataclass(frozen=True)
class Standing:
    """What the port does: the volts between low and high, and the current promised."""

    kind: str
    low_v: float
    high_v: float
    amps: tuple[float, float]
    """Least and most that may be promised; one value where it is known."""


def occupancies(front: Front) -> list[frozenset[str]]:
    """Every set of ports in use that has the path's own in it."""
    others = sorted(front.company - {front.port})
    return [
        frozenset((front.port, *more))
        for size in range(len(others) + 1)
        for more in combinations(others, size)
    ]


def listed(front: Front, occupied: frozenset[str]) -> tuple[Offer, ...] | None:
    """The offers of the port in that company, lowest first; None if nobody knows."""
    charger = front.charger
    own = next(p for p in charger.ports if p.name == front.port)
    found: tuple[Offer, ...] | None = None
    if occupied == {front.port} or charger.sharing == "independent":
        found = own.offers
    for ports, then in charger.together:
        if ports == occupied and charger.sharing == "table":
            found = next((p.offers for p in then if p.name == front.port), None)
    if found is None or own.guessed:
        return None
    return tuple(sorted(found, key=lambda o: o.low_v))


def alone(front: Front) -> tuple[Offer, ...]:
    """The offers of the port with nothing else plugged in."""
    own = next(p for p in front.charger.ports if p.name == front.port)
    return tuple(sorted(own.offers, key=lambda o: o.low_v))


def fixed_of(offers: tuple[Offer, ...]) -> tuple[Offer, ...]:
    """Its fixed offers alone."""
    return tuple(o for o in offers if o.profile == "fixed")


def extended(front: Front, cut: random.Random | None) -> tuple[bool, ...]:
    """Whether offers above 20 V are made: through a lead marked for it, to a trigger that asks.

    USB Type-C R2.1 and USB PD R3.1 (as given in published articles). Where nobody says whether
    the trigger speaks it, both may be: `cut` draws one.
    """
    leads = [p for p in front.parts if p.kind == "cable"]
    if not all(p.epr for p in leads):
        return (False,)
    if next(p.trigger.epr for p in front.parts if p.trigger):
        return (True,)
    return (False, True) if cut is None else (cut.random() < 0.5,)


def promised(front: Front, offer: Offer, volts: float, rated_w: float) -> tuple[float, float]:
    """Least and most current of an offer; an unmarked lead carries 3 A, and no more is offered.

    A programmable source may stay within its rated power (USB PD R3.x, power-limited bit, from
    memory), which is what its fixed offers come to, or more.
    """
    marked = any(p.e_marked for p in front.parts if p.kind == "cable")
    most = min(offer.current_a, 5.0 if marked else 3.0)
    if offer.profile == "pps" and offer.power_limited != "no":
        return min(most, rated_w / volts), most
    return most, most


def falls_to(fixed: tuple[Offer, ...], asked_v: float, rule: Fallback) -> Offer | None:
    """Where a trigger goes that cannot have its volts."""
    lower = [o for o in fixed if o.low_v < asked_v]
    if rule == "next lower":
        return lower[-1] if lower else None
    if rule == "5 V":
        return next((o for o in fixed if o.low_v == 5.0), None)
    if rule == "highest":
        return fixed[-1] if fixed else None
    return None


def standings(front: Front, rule: Fallback, cut: random.Random | None) -> list[Standing]:
    """Every state of the supply if the trigger falls back by that rule.

    Where nobody knows a list it is a part of the list that the port has when alone: `cut`
    draws one; without it every part is taken.
    """
    trigger = next(p.trigger for p in front.parts if p.trigger)
    if trigger.by_resistors:
        five = next(o for o in fixed_of(alone(front)) if o.low_v == 5.0)
        return [Standing("match", *BARE_5_V, (min(0.5, five.current_a), min(3.0, five.current_a)))]
    found = [] if trigger.gated else [Standing("before contract", *BARE_5_V, (0.5, 3.0))]
    dies = trigger.programmable_v is not None and trigger.keeps_alive is not True
    if dies and not trigger.gated and (cut is None or not trigger.keeps_alive):
        # A hard reset for want of a keep-alive (tPPSTimeout): the same 5 V once more.
        found.append(Standing("contract lost", *BARE_5_V, (0.5, 3.0)))
    for offer in fixed_of(alone(front)):
        if offer.low_v in trigger.presses_v and offer.low_v != trigger.asks_v:
            low, high = (offer.low_v * end for end in CONTRACT)
            amps = promised(front, offer, offer.low_v, 0.0)
            found.append(Standing("press", low, high, amps))
    for above in extended(front, cut):
        for occupied in occupancies(front):
            known = listed(front, occupied)
            lists = [known] if known is not None else _shorter(alone(front), cut)
            for offers in lists:
                seen = tuple(o for o in offers if above or o.profile == "pps" or o.high_v <= 20.0)
                found += _standing(front, seen, rule, known is not None, cut)
    return list(dict.fromkeys(found))


def _shorter(offers: tuple[Offer, ...], cut: random.Random | None) -> Iterator[tuple[Offer, ...]]:
    """Parts of a list; 5 V is on every list."""
    more = [o for o in offers if o.fixed_v != 5.0]
    five = [o for o in offers if o.fixed_v == 5.0]
    if cut is not None:
        yield tuple(five + [o for o in more if cut.random() < 0.6])
        return
    for size in range(len(more) + 1):
        for kept in combinations(more, size):
            yield tuple(five + list(kept))


def _standing(
    front: Front,
    offers: tuple[Offer, ...],
    rule: Fallback,
    known: bool,
    cut: random.Random | None,
) -> Iterator[Standing]:
    """What the trigger gets from a list: from any one range that has its volts in it."""
    trigger = next(p.trigger for p in front.parts if p.trigger)
    fixed = fixed_of(offers)
    if trigger.programmable_v is None:
        matches = [o for o in fixed if o.low_v == trigger.asks_v]
    else:
        ranges = [o for o in offers if o.profile == "pps"]
        matches = [o for o in ranges if o.low_v <= trigger.asks_v <= o.high_v]
    if matches and cut is not None:
        matches = [cut.choice(matches)]
    falls = falls_to(fixed, trigger.asks_v, rule)
    taken = [("match", o) for o in matches] or ([("fallback", falls)] if falls else [])
    rated_w = max((o.low_v * o.current_a for o in fixed), default=0.0)
    for kind, offer in taken:
        volts = trigger.asks_v if kind == "match" else offer.low_v
        least, most = promised(front, offer, volts, rated_w)
        low, high = (volts * end for end in CONTRACT)
        yield Standing(kind, low, high, (least if known else 0.0, most))


class World:
    """One value for every quantity: drawn inside its spread, or at a chosen end of it."""

    def __init__(self, draw: random.Random, *, edges: float, unknowns: "World | None" = None):
        self.draw = draw
        self.edges = edges
        self.unknowns = unknowns
        self.sleeps: bool = unknowns.sleeps if unknowns else draw.random() < 0.5
        """Whether the device takes nothing where it gets less than it runs from."""
        self.values: dict[str, float] = {}

    def at(self, quantity: Quantity) -> float:
        """The value of a quantity here; the same name always has the same."""
        if quantity.low == quantity.high:
            return quantity.low
        if self.unknowns is not None and quantity.spread is Spread.UNKNOWN:
            return self.unknowns.at(quantity)
        key = quantity.name or repr(quantity)
        share = self.values.setdefault(key, self.share())
        return quantity.low + (quantity.high - quantity.low) * share

    def share(self) -> float:
        """A place between 0 and 1: at an end as often as `edges` says."""
        if self.draw.random() < self.edges:
            return float(self.draw.random() < 0.5)
        return self.draw.random()

    def between(self, low: float, high: float) -> float:
        """A value that moves in service."""
        return low + (high - low) * self.share()


@dataclass(frozen=True)
class Flow:
    """What flows at one load: at the pins, out of the port, and before a converter."""

    pins_v: float
    in_a: float
    port_a: float
    before_v: float
    certain: bool
    """False where there is no working point, or the converter gets less than it is made for."""


NOTHING = Flow(0.0, 0.0, 0.0, math.nan, False)
ASLEEP = Flow(0.0, 0.0, 0.0, math.nan, True)


def meet(source_v: float, ohm: float, law: str, amount: float) -> tuple[float, float] | None:
    """Volts and current of a load behind a resistance; None if they do not meet."""
    if law == "constant current":
        return source_v - ohm * amount, amount
    if law == "resistance":  # amount is a conductance
        volts = source_v / (1.0 + ohm * amount)
        return volts, volts * amount
    if source_v <= 0.0 or source_v**2 < 4.0 * ohm * amount:
        return None
    volts = source_v
    for _ in range(60):  # Newton from above goes down onto the higher root
        slope = 2.0 * volts - source_v
        step = (volts * (volts - source_v) + ohm * amount) / slope if slope > 0.0 else 0.0
        volts -= step
        if abs(step) < 1e-13 * source_v:
            break
    return volts, amount / volts


def meet_diodes(
    source_v: float, ohm: float, siemens: float, knee_v: float
) -> tuple[float, float] | None:
    """Lit diodes behind a resistor: nothing below the knee, Ohm's law above it."""
    if source_v <= knee_v:
        return source_v, 0.0
    volts = (source_v + ohm * siemens * knee_v) / (1.0 + ohm * siemens)
    return volts, siemens * (volts - knee_v)


def meet_filament(
    source_v: float, ohm: float, amps: float, rated_v: float, power: float
) -> tuple[float, float] | None:
    """Whatever draws I₁·(V/V₁)^k: halved from both ends, for V + R·I(V) rises with V."""
    low, high = 0.0, source_v
    for _ in range(60):
        volts = (low + high) / 2.0
        if volts + ohm * amps * (volts / rated_v) ** power > source_v:
            high = volts
        else:
            low = volts
    return low, amps * (low / rated_v) ** power


def drawing(
    path: "Path", world: World, law: str, amps: float
) -> Callable[[float, float], tuple[float, float] | None]:
    """How a device that draws so many amps at its reference volts meets source and ohms.

    `filament` stands between a constant current and a resistance: a lamp, whose current goes
    with about the 0.55th power of its volts (common practice, from memory), or a motor.
    """
    device = path.appliance
    volts = device.reference_v
    match law:
        case "lit diodes":
            row = unknown(0.0, MOST_KNEE * volts, "V", name=f"{device.id}/knee")
            knee_v = min(world.at(row), world.at(device.runs_from_v))
            siemens = amps / (volts - knee_v)
            return partial(meet_diodes, siemens=siemens, knee_v=knee_v)
        case "filament":
            power = world.at(unknown(0.0, 1.0, "1", name=f"{device.id}/power of its volts"))
            return partial(meet_filament, amps=amps, rated_v=volts, power=power)
        case "constant current":
            return partial(meet, law=law, amount=amps)
        case "constant power":
            return partial(meet, law=law, amount=amps * volts)
        case _:
            return partial(meet, law="resistance", amount=amps / volts)


def ohms(parts: tuple[Part, ...], world: World) -> float:
    """Series resistance of parts; a converter's own is not among them."""
    total = 0.0
    for part in parts:
        for element in part.elements:
            if isinstance(element, Resistance):
                total += world.at(element.ohm)
            elif isinstance(element, Diode):
                total += world.at(element.slope_ohm)
    return total


def flow(path: "Path", world: World, port_v: float, law: str, amps: float) -> Flow:
    """Walk a path at one load; `amps` is the current at the device's reference volts."""
    meets = drawing(path, world, law, amps)
    parts = path.front.parts
    where = next((i for i, p in enumerate(parts) if p.converter), None)
    if where is None:
        point = meets(port_v, ohms(parts, world))
        return Flow(point[0], point[1], point[1], math.nan, point[0] > 0.0) if point else NOTHING
    found = parts[where].converter
    assert found is not None
    front_ohm, back_ohm = ohms(parts[:where], world), ohms(parts[where + 1 :], world)
    set_v, quiescent = world.at(found.gives_v), world.at(found.quiescent_a)
    needs = found.accepts_low_v
    if found.direction == "step-down":
        needs = max(needs, set_v + world.at(found.headroom_v))
    behind = meets(set_v, back_ohm)
    before = behind and meet(
        port_v - front_ohm * quiescent,
        front_ohm,
        "constant power",
        set_v * behind[1] / world.at(found.efficiency),
    )
    if behind and before and before[0] >= needs - TOUCH:
        pins = behind
        if found.direction == "step-up" and before[0] > set_v:
            pins = meets(before[0], back_ohm) or behind
        return Flow(pins[0], pins[1], before[1] + quiescent, before[0], pins[0] > 0.0)
    before_v = before[0] if before else math.nan
    if found.direction != "step-down":
        return Flow(0.0, 0.0, 0.0, before_v, False)
    own_v = front_ohm * quiescent
    through = meets(port_v - own_v, front_ohm + world.at(found.pass_ohm) + back_ohm)
    if through is None:
        return Flow(0.0, 0.0, 0.0, before_v, False)
    # At full duty it passes its input; it never gives more than it is set to.
    if behind and through[0] > behind[0]:
        return Flow(behind[0], behind[1], min(through[1], behind[1]) + quiescent, before_v, True)
    return Flow(through[0], through[1], through[1] + quiescent, before_v, through[0] > 0.0)


def off_v(path: "Path", world: World, port_v: float) -> float:
    """Volts at the inlet with the device switched off."""
    found = path.front.converter
    if found is None:
        return port_v
    set_v = world.at(found.gives_v)
    if found.direction == "step-down":
        return min(set_v, port_v)
    if found.direction == "step-up":
        return max(set_v, port_v)
    return set_v  # what it accepts is what it is made for, not where it stops


@dataclass(frozen=True)
class Found:
    """Rules that are broken in one world, and those of which nobody can say."""

    broken: frozenset[str]
    open: frozenset[str]


def breaks(path: "Path", world: World, standing: Standing, law: str, port_v: float) -> Found:
    """What is broken in one world while the port stands so.

    A current that does not exist is within no rating: without a working point nothing is said.
    """
    device = path.appliance
    peak = flow(path, world, port_v, law, world.at(device.peak_a))
    long = flow(path, world, port_v, law, world.at(device.steady_a))
    too_little = standing.high_v < device.runs_from_v.low
    if law == "constant power" and standing.kind != "match" and too_little and world.sleeps:
        long = ASLEEP
    broken = set(_harm(path, world, port_v, long, law))
    unsaid = set() if long.certain else {"load-side-current", "port-side-current", "fuse-holds"}
    if not long.certain and device.heat.regulator is not None:
        unsaid.add("regulator-heat")
    if standing.kind == "match":
        broken |= set(_misbehaves(path, world, standing, peak, long))
        if law == "constant power" and not (peak.certain and peak.pins_v > 0.0):
            broken.add("operating-point")
        if not peak.certain:
            unsaid.add("port-current")
    return Found(frozenset(broken), frozenset(unsaid))


def _misbehaves(
    path: "Path", world: World, standing: Standing, peak: Flow, long: Flow
) -> Iterator[str]:
    front = path.front
    if peak.pins_v < world.at(path.appliance.runs_from_v) - TOUCH:
        yield "under-volts"
    offer = standing.amps[0] + (standing.amps[1] - standing.amps[0]) * world.share()
    if peak.port_a > offer + TOUCH:
        yield "port-current"
    link = next((i for i, p in enumerate(front.parts) if p.fuse), None)
    if link is not None:
        before = front.converter is not None and link < front.split
        if (long.port_a if before else long.in_a) > front.parts[link].carries_a + TOUCH:
            yield "fuse-holds"
    if front.converter is not None:
        needs = front.converter.accepts_low_v
        if front.converter.direction == "step-down":
            set_v = world.at(front.converter.gives_v)
            needs = max(needs, set_v + world.at(front.converter.headroom_v))
        if not peak.before_v >= needs - TOUCH:
            yield "converter-headroom"


def _harm(path: "Path", world: World, port_v: float, long: Flow, law: str) -> Iterator[str]:
    """What may be damaged: in every state, not only where the contract stands."""
    device, front = path.appliance, path.front
    unloaded = off_v(path, world, port_v)
    if unloaded > world.at(device.harmed_above_v) + TOUCH:
        yield "over-volts"
    if any(port_v > p.withstands_v + TOUCH for p in front.parts[: front.split + 1]) or any(
        unloaded > p.withstands_v + TOUCH for p in front.parts[front.split + 1 :]
    ):
        yield "part-volts"
    behind = front.parts[front.split :] if front.converter else front.parts
    if any(long.in_a > p.carries_a + TOUCH for p in behind if p.kind != "cable" and not p.fuse):
        yield "load-side-current"
    port_side = [p for p in front.parts if p.kind in ("cable", "trigger")]
    if any(long.port_a > p.carries_a + TOUCH for p in port_side):
        yield "port-side-current"
    heat = device.heat
    if heat.allowed_w and heat.output_v and heat.quiescent_a:
        # Volts with the device off, current with it on: the bound that the rule is made of.
        burnt = (unloaded - world.at(heat.output_v)) * long.in_a
        burnt += unloaded * world.at(heat.quiescent_a)
        if burnt > world.at(heat.allowed_w) + TOUCH:
            yield "regulator-heat"
    cool_v = world.at(heat.cool_up_to_v) if heat.cool_up_to_v else math.inf
    if law != "constant power" and unloaded > cool_v + TOUCH:
        yield "lived-heat"
