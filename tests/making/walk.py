"""A chain in plain numbers, walked from the port to the load with nothing of the program's physics.

One float for each figure, and bisection on the volts behind each source: Ohm's law, a diode as a
straight line, and a converter that gives what it is set to, or passes on what it gets. What is
highest of several meeting points is where a chain rests (textbook).
"""

import random
from collections.abc import Callable
from dataclasses import dataclass

from sinkside.parts.elements import Diode, Resistance
from sinkside.paths.front import Front
from sinkside.paths.states import State
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance

Law = Callable[[float], float]
SCAN = 2000


@dataclass(frozen=True, kw_only=True)
class Figures:
    """One value for everything: `ohm` and `drop_v` by part, the converter's own in order."""

    port_v: float
    ohm: tuple[float, ...]
    drop_v: tuple[float, ...]
    set_v: float = 0.0
    headroom_v: float = 0.0
    efficiency: float = 1.0
    own_a: float = 0.0
    pass_ohm: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Walked:
    """Volts behind each part, current out of the port and into the load; None: nothing rests."""

    after_v: tuple[float, ...]
    port_a: float
    load_a: float


def drawn(front: Front, state: State, draw: random.Random, *, idle: bool) -> Figures:
    """Every figure somewhere between its ends; without a load a diode takes next to nothing."""

    def of(q: Quantity) -> float:
        return draw.uniform(q.low, q.high)

    ohm, drop = [], []
    for part in front.parts:
        lines = [e for e in part.elements if isinstance(e, Diode)]
        ohm.append(
            sum(of(e.ohm) for e in part.elements if isinstance(e, Resistance))
            + sum(of(e.slope_ohm) for e in lines)
        )
        drop.append(sum(of(e.forward_v) * (draw.random() if idle else 1.0) for e in lines))
    c = front.converter
    known = Figures(
        port_v=draw.uniform(state.low_v, state.high_v), ohm=tuple(ohm), drop_v=tuple(drop)
    )
    if c is None:
        return known
    return Figures(
        port_v=known.port_v,
        ohm=known.ohm,
        drop_v=known.drop_v,
        set_v=of(c.gives_v),
        headroom_v=of(c.headroom_v),
        efficiency=of(c.efficiency),
        own_a=of(c.quiescent_a),
        pass_ohm=of(c.pass_ohm),
    )


def walk(front: Front, f: Figures, load: Law) -> Walked | None:
    """Volts and amps with a load of which the current is a function of its volts."""
    split = front.split
    ahead = (sum(f.ohm[:split]), sum(f.drop_v[:split]))
    behind = (sum(f.ohm[split + 1 :]), sum(f.drop_v[split + 1 :]))
    c = front.converter
    if c is None:
        load_v = rests(f.port_v - ahead[1], ahead[0], load)
        if load_v is None:
            return None
        return _told(front, f, load(load_v), load(load_v), None)
    held_v = rests(f.set_v - behind[1], behind[0], load)
    if held_v is None:
        return None
    held_a = load(held_v)
    watts = f.set_v * held_a / f.efficiency
    in_v = rests(f.port_v - ahead[1], ahead[0], lambda v: watts / v + f.own_a)
    needs = c.accepts_low_v
    if c.direction == "step-down":
        needs = max(needs, f.set_v + f.headroom_v)
    if in_v is not None and in_v >= needs:
        return _told(front, f, watts / in_v + f.own_a, held_a, f.set_v)
    if c.direction != "step-down":
        return _told(front, f, 0.0, 0.0, 0.0)
    through_ohm = ahead[0] + f.pass_ohm + behind[0]
    source = f.port_v - ahead[1] - ahead[0] * f.own_a - behind[1]
    load_v = rests(source, through_ohm, load)
    if load_v is None:
        return None
    amps = load(load_v)
    passed = load_v + behind[0] * amps + behind[1]
    if passed > f.set_v:  # it can do more than it is set to, so it does what it is set to
        return _told(front, f, watts / in_v + f.own_a, held_a, f.set_v) if in_v else None
    return _told(front, f, amps + f.own_a, amps, passed)


def rests(source_v: float, ohm: float, load: Law) -> float | None:
    """The highest volts at which V = V_source − R·I(V), by scanning down and halving."""

    def over(v: float) -> float:
        return source_v - ohm * load(v) - v

    if source_v <= 0.0:
        return None
    high = source_v
    if over(high) >= 0.0:
        return high
    for k in range(SCAN - 1, 0, -1):
        low = source_v * k / SCAN
        if over(low) >= 0.0:
            break
        high = low
    else:
        return None
    for _ in range(80):
        middle = (low + high) / 2
        low, high = (middle, high) if over(middle) >= 0.0 else (low, middle)
    return (low + high) / 2


def _told(front: Front, f: Figures, port_a: float, load_a: float, given_v: float | None) -> Walked:
    volts, found = f.port_v, []
    for i, (ohm, drop) in enumerate(zip(f.ohm, f.drop_v, strict=True)):
        if i == front.split and given_v is not None:
            volts = given_v
        else:
            volts -= drop + ohm * (port_a if i < front.split else load_a)
        found.append(max(volts, 0.0) if given_v != 0.0 or i < front.split else 0.0)
    return Walked(after_v=tuple(found), port_a=port_a, load_a=load_a)


def device(appliance: Appliance, amps: Quantity, least_a: float, draw: random.Random) -> Law:
    """A device somewhere between the ends of its current, under one of its laws.

    A lamp or a motor is anywhere between a constant current and a resistance: I = I₁·(V/V₁)^n
    with n from nought to one is what both of those bound.
    """
    rated = max(draw.uniform(amps.low, amps.high), least_a)
    at = appliance.reference_v
    law = draw.choice(appliance.laws)
    if set(appliance.laws) == {"resistance", "constant current"}:
        power = draw.random()
        return lambda v: rated * (max(v, 1e-9) / at) ** power
    return {
        "constant current": lambda _: rated,
        "constant power": lambda v: rated * at / v,
        "resistance": lambda v: rated * v / at,
    }[law]
