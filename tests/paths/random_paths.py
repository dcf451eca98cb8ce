"""Random paths of small parts, from a seed, with figures of which some are not known."""

import random
from dataclasses import replace

from tests.paths import small_parts as small

from sinkside.parts.charger import Charger
from sinkside.parts.part import FALLBACKS, Part
from sinkside.paths.judge import Path
from sinkside.quantity import Basis, Quantity, point, unknown, varies
from sinkside.site.appliance import Appliance, Heat, Law

LISTS = (
    "5:3 9:3 12:3 15:3 20:3",
    "5:3 9:2 15:1.5",
    "5:2.4 9:2 12:1.5",
    "5:3 9:3 12:2.5 20:5",
    "pps3.3-11:3 5:3 9:1.5 12:1",
)
# 20 V and the tolerance of a contract.
HIGHEST_V = 21.0
# A lamp, a motor or an amplifier stands between the two; lit diodes are one of the two.
OLD_GEAR: tuple[tuple[Law, ...], ...] = (
    ("resistance", "constant current"),
    ("resistance", "lit diodes"),
)
SHORTER = ("5:3 9:2", "5:2", "5:3 12:1.2", "5:1.5 9:1 20:1")
# With programmable ranges, of which some lie over each other, and above 20 V.
RANGES = (
    "pps3.3-11:3 5:3 9:1.5 12:1",
    "pps3.3-11:3 pps3.3-16:2 pps3.3-21:1 5:3 9:3 15:2",
    "pps3.3-21:5 5:3 9:3 20:5",
    "pps5-11:3 5:3 9:3 20:5 28:5",
    "5:3 15:3 28:3",
)
FEWER_RANGES = ("5:3 9:2", "pps3.3-11:2 5:2 9:2", "pps3.3-16:1.5 5:3 9:2", "5:3 20:2 28:1")


def path(draw: random.Random) -> Path:
    """A path of whatever parts come up."""
    source = charger(draw)
    parts = chain(draw, source)
    return Path(
        front=small.front(
            source,
            *parts,
            company=draw.choice((None, frozenset(("C1",)))),
        ),
        appliance=device(draw),
    )


def of_old_gear(draw: random.Random) -> Path:
    """A path to a lamp, a motor, an amplifier or lit diodes."""
    found = path(draw)
    laws = draw.choice(OLD_GEAR)
    thing = found.appliance
    if thing.heat.regulator is not None:
        thing = replace(thing, heat=small.NO_HEAT)
    if "lit diodes" in laws:
        # The bound on their current holds up to where they are harmed: no supply goes beyond.
        stands = some(draw, HIGHEST_V, 2.0 * HIGHEST_V, "V", "thing/harmed above")
        thing = replace(thing, harmed_above_v=stands)
    return replace(found, appliance=replace(thing, laws=laws))


def of_other_contracts(draw: random.Random) -> Path:
    """A path by a programmable contract, by one above 20 V, or to where those might be had."""
    found = path(draw)
    source = charger(draw, RANGES, FEWER_RANGES)
    front = found.front
    # What stands between trigger and lead is walked on the other paths.
    cable, *_, lead = front.parts
    asked, programmable_v = asks(draw, source)
    cable = replace(cable, epr=asked > 20.0 or draw.random() < 0.5, withstands_v=50.4)
    trigger = small.trigger(
        asked,
        draw.choice([(f,) for f in FALLBACKS] + [FALLBACKS]),
        some(draw, 0.01, 0.1, "Ω", "trigger/ohms"),
        gated=draw.random() < 0.4,
        carries_a=draw.choice((1.5, 3.0, 5.0)),
        programmable_v=programmable_v,
        keeps_alive=draw.choice((True, False, None)),
        epr=asked > 20.0 or draw.random() < 0.6,
        withstands_v=31.0 if asked > 20.0 else draw.choice((21.0, 31.0)),
    )
    company = frozenset(source.names) if draw.random() < 0.6 else frozenset(("C1",))
    return replace(found, front=small.front(source, cable, trigger, lead, company=company))


def asks(draw: random.Random, source: Charger) -> tuple[float, tuple[float, float] | None]:
    """Fixed volts of the port, or programmable ones within a range of it."""
    offers = source.port("C1").offers
    ranges = [o for o in offers if o.profile == "pps"]
    if ranges and draw.random() < 0.7:
        one = draw.choice(ranges)
        return round(draw.uniform(one.low_v, one.high_v), 2), (3.3, 21.0)
    return draw.choice([o.low_v for o in offers if o.profile == "fixed"]), None


def some(draw: random.Random, low: float, high: float, unit: str, name: str) -> Quantity:
    """A figure in a range: known, unknown or moving in service."""
    a, b = sorted((draw.uniform(low, high), draw.uniform(low, high)))
    kind = draw.random()
    if kind < 0.25:
        return point(a, unit, Basis.MEASURED, name)
    if kind > 0.9:
        return varies(a, b, unit, Basis.DATASHEET, name)
    return unknown(a, b, unit, name=name)


def charger(
    draw: random.Random, full: tuple[str, ...] = LISTS, shorter: tuple[str, ...] = SHORTER
) -> Charger:
    """One port, or two with a table, without one, or of which nothing is known."""
    if draw.random() < 0.4:
        return small.charger(draw.choice(full))
    lists = {"C1": draw.choice(full), "C2": draw.choice(full)}
    how = draw.choice(("table", "unknown", "independent"))
    if how == "table":
        both = {port: draw.choice(shorter) for port in lists}
        return small.charger(lists, {"C1+C2": both})
    return small.charger(lists, sharing=how)


def chain(draw: random.Random, source: Charger) -> tuple[Part, ...]:
    """From the cable to the plug."""
    cable = small.cable(
        some(draw, 0.02, 0.25, "Ω", "cable/ohms"),
        e_marked=draw.random() < 0.2,
        carries_a=draw.choice((3.0, 5.0)),
    )
    if draw.random() < 0.1:
        trigger = small.trigger(5.0, by_resistors=True, gated=False)
    else:
        fixed = [o.low_v for o in source.port("C1").offers if o.profile == "fixed"]
        asked = draw.choice(fixed)
        rules = draw.choice([(f,) for f in FALLBACKS] + [FALLBACKS])
        trigger = small.trigger(
            asked,
            rules,
            some(draw, 0.01, 0.1, "Ω", "trigger/ohms"),
            gated=draw.random() < 0.4,
            carries_a=draw.choice((1.5, 3.0, 5.0)),
        )
    middle: list[Part] = []
    if draw.random() < 0.4:
        ohm = some(draw, 0.02, 0.4, "Ω", "fuse/ohms")
        middle.append(small.fuse(draw.choice((0.5, 1.0, 2.0)), ohm))
    if draw.random() < 0.6:
        middle.append(converter(draw))
    if draw.random() < 0.2:
        middle.append(small.soft_start(some(draw, 0.02, 0.2, "s", "soft start/ramp")))
    lead = small.lead(
        some(draw, 0.03, 0.5, "Ω", "lead/ohms"), carries_a=draw.choice((0.5, 1.0, 2.0, 3.0))
    )
    return (cable, trigger, *middle, lead)


def converter(draw: random.Random) -> Part:
    """Any kind of converter; also such as a search would hardly take."""
    direction = draw.choice(("step-down", "step-down", "isolated", "step-up"))
    volts = draw.choice((5.0, 7.5, 9.0, 12.0))
    tolerance = draw.choice((0.0, 0.02, 0.05))
    headroom = draw.choice((0.3, (0.3, 2.0)))
    gives = small.swings(volts * (1 - tolerance), volts * (1 + tolerance), "V")
    return small.converter(
        gives,
        direction,
        accepts=draw.choice(((4.5, 28.0), (8.6, 18.0), (11.2, 24.0))),
        headroom=0.0 if direction != "step-down" else headroom,
        efficiency=draw.choice((0.9, (0.75, 0.95))),
        quiescent=draw.choice((0.0, (0.0, 0.02))),
        pass_ohm=draw.choice((0.05, (0.02, 0.2))),
        carries=draw.choice((1.0, 2.0, 3.0)),
    )


def device(draw: random.Random) -> Appliance:
    """A device of which some figures are known."""
    laws: tuple[Law, ...] = ("constant current", "constant power", "resistance")
    hot = heat(draw, volts := draw.choice((5.0, 9.0, 12.0)))
    several = draw.random() < 0.25
    steady = some(draw, 0.05, 1.5, "A", "thing/steady current")
    peak = Quantity(
        low=steady.low * draw.uniform(1.0, 1.5),
        high=steady.high * draw.uniform(1.5, 2.0),
        unit="A",
        spread=steady.spread,
        name="thing/peak current",
    )
    regulates = hot.regulator is not None
    return small.device(
        laws=laws[:1] if regulates else laws[:2] if several else (draw.choice(laws),),
        reference_v=volts,
        steady_a=steady,
        peak_a=peak,
        harmed_above_v=some(draw, 1.02 * volts, 2.2 * volts, "V", "thing/harmed above"),
        runs_from_v=some(draw, 0.6 * volts, 1.0 * volts, "V", "thing/runs from"),
        heat=hot,
    )


def heat(draw: random.Random, volts: float) -> Heat:
    """Nothing, a regulator, or volts at which it has run."""
    kind = draw.choice(("none", "regulator", "cool"))
    if kind == "none":
        return small.NO_HEAT
    if kind == "cool":
        return small.cool(some(draw, volts, 1.8 * volts, "V", "thing/runs cool up to"))
    return small.regulator_heat(
        some(draw, 0.5, 6.0, "W", "thing/heat allowed"),
        some(draw, 0.5 * volts, 0.6 * volts, "V", "thing/regulator output"),
        some(draw, 0.003, 0.008, "A", "thing/regulator's own current"),
    )
