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
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import combinations
from typing import TYPE_CHECKING

from sinkside.parts.charger import Offer
from sinkside.parts.elements import Diode, Resistance
from sinkside.parts.part import Fallback, Part
from sinkside.paths.front import Front
from sinkside.quantity import Quantity, Spread

if TYPE_CHECKING:
    from sinkside.paths.judge import Path

# USB Type-C R2.0, vSafe5V (as given in published notes): before or without a contract.
BARE_5_V = (4.75, 5.5)
# USB PD R3.2 v1.2, vSrcNew (as given in an open-source source policy): under a contract.
CONTRACT = (0.95, 1.05)
TOUCH = 1e-9


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
    """The fixed offers of the port in that company, lowest first; None if nobody knows."""
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
    return tuple(sorted((o for o in found if o.profile == "fixed"), key=lambda o: o.low_v))


def alone(front: Front) -> tuple[Offer, ...]:
    """The fixed offers of the port with nothing else plugged in."""
    own = next(p for p in front.charger.ports if p.name == front.port)
    fixed = (o for o in own.offers if o.profile == "fixed")
    return tuple(sorted(fixed, key=lambda o: o.low_v))


def promised(front: Front, offer: Offer) -> float:
    """An unmarked lead carries 3 A: the source offers no more through it."""
    marked = any(p.e_marked for p in front.parts if p.kind == "cable")
    return min(offer.current_a, 5.0 if marked else 3.0)


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
        five = alone(front)[0]
        return [Standing("match", *BARE_5_V, (min(0.5, five.current_a), min(3.0, five.current_a)))]
    found = [] if trigger.gated else [Standing("before contract", *BARE_5_V, (0.5, 3.0))]
    for offer in alone(front):
        if offer.low_v in trigger.presses_v and offer.low_v != trigger.asks_v:
            low, high = (offer.low_v * end for end in CONTRACT)
            found.append(Standing("press", low, high, (promised(front, offer),) * 2))
    for occupied in occupancies(front):
        known = listed(front, occupied)
        for fixed in [known] if known is not None else _shorter(alone(front), cut):
            found += _standing(front, fixed, trigger.asks_v, rule, known is not None)
    return list(dict.fromkeys(found))


def _shorter(fixed: tuple[Offer, ...], cut: random.Random | None) -> Iterator[tuple[Offer, ...]]:
    """Parts of a list; 5 V is on every list."""
    more = [o for o in fixed if o.low_v != 5.0]
    five = [o for o in fixed if o.low_v == 5.0]
    if cut is not None:
        yield tuple(five + [o for o in more if cut.random() < 0.6])
        return
    for size in range(len(more) + 1):
        for kept in combinations(more, size):
            yield tuple(five + list(kept))


def _standing(
    front: Front, fixed: tuple[Offer, ...], asked_v: float, rule: Fallback, known: bool
) -> Iterator[Standing]:
    match = next((o for o in fixed if o.low_v == asked_v), None)
    offer = match or falls_to(fixed, asked_v, rule)
    if offer is not None:
        amps = promised(front, offer)
        low, high = (offer.low_v * end for end in CONTRACT)
        kind = "match" if match else "fallback"
        yield Standing(kind, low, high, (amps if known else 0.0, amps))


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
    amount = {
        "constant current": amps,
        "constant power": amps * path.appliance.reference_v,
        "resistance": amps / path.appliance.reference_v,
    }[law]
    parts = path.front.parts
    where = next((i for i, p in enumerate(parts) if p.converter), None)
    if where is None:
        point = meet(port_v, ohms(parts, world), law, amount)
        return Flow(point[0], point[1], point[1], math.nan, point[0] > 0.0) if point else NOTHING
    found = parts[where].converter
    assert found is not None
    front_ohm, back_ohm = ohms(parts[:where], world), ohms(parts[where + 1 :], world)
    set_v, quiescent = world.at(found.gives_v), world.at(found.quiescent_a)
    needs = found.accepts_low_v
    if found.direction == "step-down":
        needs = max(needs, set_v + world.at(found.headroom_v))
    behind = meet(set_v, back_ohm, law, amount)
    before = behind and meet(
        port_v - front_ohm * quiescent,
        front_ohm,
        "constant power",
        set_v * behind[1] / world.at(found.efficiency),
    )
    if behind and before and before[0] >= needs - TOUCH:
        pins = behind
        if found.direction == "step-up" and before[0] > set_v:
            pins = meet(before[0], back_ohm, law, amount) or behind
        return Flow(pins[0], pins[1], before[1] + quiescent, before[0], pins[0] > 0.0)
    before_v = before[0] if before else math.nan
    if found.direction != "step-down":
        return Flow(0.0, 0.0, 0.0, before_v, False)
    through = meet(port_v, front_ohm + world.at(found.pass_ohm) + back_ohm, law, amount)
    if through is None:
        return Flow(0.0, 0.0, 0.0, before_v, False)
    # At full duty it passes its input; it never gives more than it is set to.
    if behind and through[0] > behind[0]:
        return Flow(behind[0], behind[1], through[1], before_v, True)
    return Flow(through[0], through[1], through[1], before_v, through[0] > 0.0)


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
