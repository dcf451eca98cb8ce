"""Chains of known figures, drawn: plain, near the limit, with a converter that holds or starves.

Each comes with the same load in the program's terms and in ngspice's. The figures are such as
leads, triggers, fuses and converters have; what a chain gives at most is V²/4R (textbook).
"""

import random
from dataclasses import dataclass
from math import exp, inf, log, sqrt

from tests.agree import spice_chains as spice
from tests.paths import small_parts as small

from sinkside.parts.elements import Diode, Resistance
from sinkside.parts.part import Part
from sinkside.paths.rows import Path

CONTRACTS_V = (5.0, 9.0, 12.0, 15.0, 20.0)
LAWS: tuple[spice.Law, ...] = ("power", "power", "current", "resistance", "regulator")
REFERENCE_V = 9.0
# What a regulator draws for itself: LM7805 datasheet, 2006 (read), 5 mA typical.
REGULATOR_A = 0.005


@dataclass(frozen=True, kw_only=True)
class Drawn:
    """A chain of known figures, the same load for ngspice, and what the chain is there for."""

    about: str
    chain: Path
    load: spice.SpiceLoad
    limit_a: float = inf
    own_a: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Way:
    """A source on the way to the pins, in plain numbers."""

    volts: float
    ohm: float

    def amps(self, watts: float) -> float:
        """Current at the high root; at the matched load where there is none."""
        most = self.volts**2 / (4.0 * self.ohm)
        root = sqrt(max(0.0, 1.0 - watts / most))
        return watts / (self.volts * (1.0 + root) / 2.0)

    def watts(self, share: float) -> float:
        """A share of the most that it gives."""
        return share * self.volts**2 / (4.0 * self.ohm)


def between(draw: random.Random, low: float, high: float) -> float:
    """A value of which each doubling is as likely as the next."""
    return exp(draw.uniform(log(low), log(high)))


def resistances(draw: random.Random, name: str, *, contacts: bool) -> tuple[Resistance, ...]:
    ohms = [between(draw, 0.03, 0.5)] + [between(draw, 0.01, 0.15)] * contacts
    return tuple(
        Resistance(ohm=small.figure(ohm, "Ω", f"{name}/ohms {i}")) for i, ohm in enumerate(ohms)
    )


def diode(draw: random.Random, name: str) -> Part:
    line = Diode(
        forward_v=small.figure(draw.uniform(0.25, 0.8), "V", f"{name}/forward volts"),
        slope_ohm=small.figure(draw.uniform(0.02, 0.12), "Ω", f"{name}/slope"),
    )
    return small.part("diode", name=name, elements=(line,))


def head(draw: random.Random, asks_v: float) -> list[Part]:
    """From the cable to the fuse, and a diode in some."""
    parts = [
        small.cable(between(draw, 0.02, 0.4)),
        small.trigger(asks_v, ohm=between(draw, 0.01, 0.15)),
        small.fuse(20.0, between(draw, 0.02, 0.4)),
    ]
    return parts + [diode(draw, "first")] * (draw.random() < 0.3)


def tail(draw: random.Random) -> list[Part]:
    """The lead to the device, with contacts and a diode in some."""
    contacts = draw.random() < 0.5
    parts = [small.lead(elements=resistances(draw, "lead", contacts=contacts))]
    return [diode(draw, "second")] * (draw.random() < 0.4) + parts


def way(volts: float, parts: list[Part], more_ohm: float = 0.0) -> Way:
    """A source behind parts."""
    ohm = more_ohm
    for element in (e for part in parts for e in part.elements):
        if isinstance(element, Resistance):
            ohm += spice.value(element.ohm)
        elif isinstance(element, Diode):
            ohm += spice.value(element.slope_ohm)
            volts -= spice.value(element.forward_v)
    return Way(volts=volts, ohm=ohm)


def loaded(
    draw: random.Random, law: spice.Law, amps: float, pins_v: float
) -> tuple[spice.SpiceLoad, str, float]:
    """A load that takes so much there; for the program its law and its current at 9 V."""
    match law:
        case "current":
            return spice.SpiceLoad(law=law, amount=amps), "constant current", amps
        case "power":
            watts = amps * pins_v
            return spice.SpiceLoad(law=law, amount=watts), "constant power", watts / REFERENCE_V
        case "resistance":
            siemens = amps / pins_v
            return spice.SpiceLoad(law=law, amount=siemens), "resistance", siemens * REFERENCE_V
        case "regulator":
            output_v = draw.uniform(0.3, 0.8) * pins_v
            load = spice.SpiceLoad(
                law=law, amount=amps, output_v=output_v, dropout_v=0.1 * pins_v, own_a=REGULATOR_A
            )
            return load, "constant current", amps + REGULATOR_A


def plain(draw: random.Random) -> Drawn:
    """No converter, and well inside what the way gives."""
    asks_v = draw.choice(CONTRACTS_V)
    parts = head(draw, asks_v) + tail(draw)
    feed = way(0.95 * asks_v, parts)
    law = draw.choice(LAWS)
    amps = feed.amps(feed.watts(draw.uniform(0.02, 0.6)))
    return joined("plain", parts, *loaded(draw, law, amps, feed.volts - feed.ohm * amps))


def near_the_limit(draw: random.Random) -> Drawn:
    """No converter, and a power of 95 to 99.9 % of the most, or more; or a current out of reach."""
    asks_v = draw.choice(CONTRACTS_V)
    parts = head(draw, asks_v) + tail(draw)
    feed = way(0.95 * asks_v, parts)
    share = draw.uniform(0.95, 0.999)
    if draw.random() < 0.1:
        amps = feed.volts / feed.ohm * draw.uniform(1.01, 1.5)
        return joined("out of reach", parts, *loaded(draw, "current", amps, 1.0))
    about = "near the limit"
    if draw.random() < 0.35:
        about, share = "over the limit", 1.0 + between(draw, 0.001, 0.3)
    pins_v = feed.volts / 2.0
    return joined(about, parts, *loaded(draw, "power", feed.watts(share) / pins_v, pins_v))


def holding(draw: random.Random) -> Drawn:
    """A converter that holds its output, near the limit of what feeds it in some."""
    asks_v = draw.choice(CONTRACTS_V[1:])
    before = [*head(draw, asks_v), lead_before(draw)]
    feed = way(0.95 * asks_v, before)
    direction = draw.choice(("step-down", "step-down", "step-up", "isolated"))
    low, high = {"step-down": (0.35, 0.8), "step-up": (1.3, 2.5), "isolated": (0.4, 2.0)}[direction]
    set_v = feed.volts * draw.uniform(low, high)
    efficiency = draw.uniform(0.75, 0.97)
    behind = tail(draw)
    back = way(set_v, behind)
    law = draw.choice(LAWS)
    most_a = feed.watts(1.0) * efficiency / set_v
    share = draw.uniform(0.02, 0.7)
    if law == "power" and draw.random() < 0.35:
        share = draw.uniform(0.95, 1.05)
    amps = min(back.amps(back.watts(draw.uniform(0.02, 0.8))), share * most_a)
    own_a = between(draw, 0.002, 0.02)
    converter = small.converter(
        set_v,
        direction,
        accepts=(0.3 * feed.volts, 60.0),
        headroom=draw.uniform(0.2, 0.6) if direction == "step-down" else 0.0,
        efficiency=efficiency,
        quiescent=own_a,
        pass_ohm=between(draw, 0.02, 0.2) if direction == "step-down" else 0.0,
        carries=100.0,
    )
    load = loaded(draw, law, amps, back.volts - back.ohm * amps)
    return joined("holding", [*before, converter, *behind], *load, own_a=own_a)


def starved(draw: random.Random) -> Drawn:
    """A step-down at full duty, a step-up that passes its input, or an isolated one that is off."""
    asks_v = draw.choice(CONTRACTS_V[1:])
    before, behind = [*head(draw, asks_v), lead_before(draw)], tail(draw)
    direction = draw.choice(("step-down",) * 4 + ("step-up", "isolated"))
    pass_ohm = between(draw, 0.02, 0.2) if direction == "step-down" else 0.0
    feed = way(0.95 * asks_v, before)
    through = way(0.95 * asks_v, before + behind, pass_ohm)
    low, high = {"step-down": (0.9, 1.3), "step-up": (0.5, 0.7), "isolated": (0.4, 2.0)}[direction]
    own_a = between(draw, 0.002, 0.02)
    converter = small.converter(
        feed.volts * draw.uniform(low, high),
        direction,
        accepts=((1.1 if direction == "isolated" else 0.3) * feed.volts, 60.0),
        headroom=draw.uniform(0.2, 0.6) if direction == "step-down" else 0.0,
        efficiency=draw.uniform(0.75, 0.97),
        quiescent=own_a,
        pass_ohm=pass_ohm,
        carries=100.0,
    )
    amps = through.amps(through.watts(draw.uniform(0.02, 0.25)))
    load = loaded(draw, draw.choice(LAWS), amps, through.volts - through.ohm * amps)
    return joined("starved", [*before, converter, *behind], *load, own_a=own_a)


def limited(draw: random.Random) -> Drawn:
    """A step-down that limits its output at, below or above what the device asks for."""
    asks_v = draw.choice(CONTRACTS_V[1:])
    before, behind = [*head(draw, asks_v), lead_before(draw)], tail(draw)
    feed = way(0.95 * asks_v, before)
    set_v, efficiency = feed.volts * draw.uniform(0.35, 0.7), draw.uniform(0.75, 0.97)
    back = way(set_v, behind)
    amps = min(
        back.amps(back.watts(draw.uniform(0.02, 0.8))),
        draw.uniform(0.02, 0.7) * feed.watts(1.0) * efficiency / set_v,
    )
    limit_a = amps * draw.choice((0.6, 0.8, 0.95, 1.05, 1.3))
    converter = small.converter(
        set_v, accepts=(1.0, 60.0), efficiency=efficiency, carries=limit_a, headroom=0.3
    )
    load = loaded(draw, draw.choice(LAWS), amps, back.volts - back.ohm * amps)
    return joined("limited", [*before, converter, *behind], *load, limit_a=limit_a)


def lead_before(draw: random.Random) -> Part:
    return small.part("lead", between(draw, 0.03, 0.3), name="lead before")


def joined(
    about: str,
    parts: list[Part],
    load: spice.SpiceLoad,
    law: str,
    amps: float,
    *,
    limit_a: float = inf,
    own_a: float = 0.0,
) -> Drawn:
    thing = small.device(laws=(law,), peak_a=amps, steady_a=amps, reference_v=REFERENCE_V)
    return Drawn(
        about=about, chain=small.path(thing, *parts), load=load, limit_a=limit_a, own_a=own_a
    )


def drawn(number: int) -> Drawn:
    """The chain of that number: a quarter each plain, near the limit, holding and starved."""
    draw = random.Random(f"chain {number}")
    makers = (plain, near_the_limit, holding, limited if number % 12 == 3 else starved)
    return makers[number % 4](draw)
