"""Seeded questions: invented gear, chargers with sharing tables, clashes, blinks, short stock."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from random import Random

from .question import ChargerKind, Device, Option, Part, Question

CONTRACT_VOLTS = (5.0, 9.0, 12.0, 15.0, 20.0)
DEVICE_VOLTS = (5.0, 6.0, 7.5, 9.0, 9.0, 12.0, 12.0, 12.0, 15.0, 19.0)
Offers = Mapping[int, Mapping[int, tuple[frozenset[float], float]]]


@dataclass(frozen=True, kw_only=True, slots=True)
class Size:
    """How large a question is; `sorts` is the number of different devices.

    `linked_share` of them belong to one of the `linked_groups` joined by signal leads, where each
    device takes its ground from one of `poles`: the more opposite poles, the more clashes.
    """

    name: str
    devices: int
    sorts: int
    kinds: int
    linked_groups: int
    linked_share: float = 0.6
    poles: tuple[str, ...] = ("negative", "negative", "positive")


@dataclass(frozen=True, kw_only=True, slots=True)
class _Maker:
    kind: ChargerKind
    drops_all: bool
    offers: Offers


@dataclass(frozen=True, kw_only=True, slots=True)
class _Gear:
    volts: float
    watts: float
    plate_only: bool
    never_blinks: bool
    when_used: bool
    pole: str
    group: int


@dataclass(frozen=True, kw_only=True, slots=True)
class _Chain:
    """A path before it meets a port: the contract it asks for and what it costs."""

    name: str
    contract_v: float
    port_w: float
    harm: int = 0
    misbehaves: int = 0
    irreversibility: int = 0
    cents: int = 0
    risks: int = 0
    parts: tuple[tuple[str, int], ...] = ()
    isolated: bool = False
    holds_up: bool = False


def generate(size: Size, seed: int, *, independent: bool = False) -> Question:
    """Draw one question; odd seeds let spare ports be used, even seeds block them.

    With `independent` each port keeps, whatever else is plugged, what it offers alone: the same
    draw as if there were no sharing tables.
    """
    random = Random(f"{size.name}/{seed}")
    sorts = [_gear(random, size) for _ in range(size.sorts)]
    makers = _makers(random, size)
    chains = [_chains(gear, random) for gear in sorts]
    names = sorted({part for row in chains for chain in row for part, _ in chain.parts})
    blocked = seed % 2 == 0
    options = [
        _options(gear, row, makers, blocked=blocked, independent=independent)
        for gear, row in zip(sorts, chains, strict=True)
    ]
    sort_of = [*range(size.sorts)]
    sort_of += [random.randrange(size.sorts) for _ in range(size.devices - size.sorts)]
    ids = [f"d{number:04d}" for number in range(size.devices)]
    return Question(
        kinds=tuple(maker.kind for maker in makers),
        devices=tuple(
            Device(id=name, plugged_when_used=sorts[sort].when_used, options=options[sort])
            for name, sort in zip(ids, sort_of, strict=True)
        ),
        parts=tuple(_part(name, random, size.devices) for name in names),
        clashes=frozenset(
            (ids[one], ids[other])
            for one in range(size.devices)
            for other in range(one + 1, size.devices)
            if _clash(sorts[sort_of[one]], sorts[sort_of[other]])
        ),
        budget_cents=random.choice((None, None, 700 * size.devices)),
    )


def without_clashes(question: Question) -> Question:
    """Give the same question without ground clashes."""
    return replace(question, clashes=frozenset())


def _gear(random: Random, size: Size) -> _Gear:
    linked = random.random() < size.linked_share
    never = random.random() < 0.2
    return _Gear(
        volts=random.choice(DEVICE_VOLTS),
        watts=round(
            random.choice((random.uniform(2, 8), random.uniform(6, 18), random.uniform(12, 40))), 1
        ),
        plate_only=random.random() < 0.35,
        never_blinks=never,
        when_used=not never and random.random() < 0.45,
        pole=random.choice(size.poles) if linked else "isolated",
        group=random.randrange(size.linked_groups) if linked else -1,
    )


def _clash(one: _Gear, other: _Gear) -> bool:
    return one.group == other.group >= 0 and one.pole != other.pole


def _makers(random: Random, size: Size) -> list[_Maker]:
    shapes = [random.choice((1, 2, 2, 3, 3, 4)) for _ in range(size.kinds)]
    counts = [1] * size.kinds
    wanted = size.devices * random.uniform(0.8, 1.15)
    while sum(c * s for c, s in zip(counts, shapes, strict=True)) < wanted:
        counts[random.randrange(size.kinds)] += 1
    return [
        _Maker(
            kind=ChargerKind(
                id=f"k{number:02d}",
                count=count,
                ports=tuple(f"C{port + 1}" for port in range(shape)),
                earthed=random.random() < 0.3,
            ),
            drops_all=random.random() < 0.6,
            offers=_table(shape, random),
        )
        for number, (shape, count) in enumerate(zip(shapes, counts, strict=True))
    ]


def _table(ports: int, random: Random) -> Offers:
    total_w = random.choice((30.0, 45.0, 65.0, 65.0, 100.0))
    style = random.choice(("equal", "first keeps", "five volts", "loses twelve"))
    has_twelve = random.random() < 0.5
    alone = frozenset(v for v in CONTRACT_VOLTS if v != 12.0 or has_twelve)
    offers: dict[int, dict[int, tuple[frozenset[float], float]]] = {}
    for mask in range(1, 1 << ports):
        members = [port for port in range(ports) if mask >> port & 1]
        offers[mask] = {}
        for port in members:
            limit_w = total_w if port == 0 else min(total_w, 45.0)
            if len(members) == 1:
                offers[mask][port] = alone, limit_w
            elif style == "first keeps":
                share = 0.6 if port == members[0] else 0.4 / (len(members) - 1)
                offers[mask][port] = alone, min(limit_w, total_w * share)
            elif style == "five volts" and port >= 1:
                offers[mask][port] = frozenset({5.0}), 15.0 / max(1, len(members) - 1)
            elif style == "loses twelve":
                offers[mask][port] = alone - {12.0}, min(limit_w, total_w / len(members))
            else:
                offers[mask][port] = alone, min(limit_w, total_w / len(members))
    return offers


def _chains(gear: _Gear, random: Random) -> list[_Chain]:
    lead = 100 + 10 * random.randrange(30)
    unknown = int(gear.plate_only)
    found = []
    for volts in CONTRACT_VOLTS:
        trigger = (f"trigger {volts:g}", 1)
        if volts == gear.volts:
            found.append(
                _Chain(
                    name=f"{volts:g} V",
                    contract_v=volts,
                    port_w=gear.watts,
                    cents=lead,
                    parts=(trigger,),
                )
            )
        elif 1.0 < volts / gear.volts <= 1.25:
            found.append(
                _Chain(
                    name=f"{volts:g} V, above plate",
                    contract_v=volts,
                    port_w=gear.watts * volts / gear.volts,
                    harm=unknown,
                    cents=lead,
                    parts=(trigger,),
                )
            )
        if volts > gear.volts:
            found += _step_downs(gear, volts, trigger, lead)
        elif volts < gear.volts <= 2.5 * volts:
            found.append(
                _Chain(
                    name=f"{volts:g} V up",
                    contract_v=volts,
                    port_w=gear.watts / 0.82,
                    misbehaves=unknown,
                    cents=lead,
                    risks=1,
                    parts=(trigger, ("step-up", 1)),
                )
            )
    if gear.pole != "isolated":
        found.append(
            _Chain(
                name="isolated",
                contract_v=15.0,
                port_w=gear.watts / 0.78,
                cents=lead,
                irreversibility=1,
                parts=(("isolated converter", 1),),
                isolated=True,
            )
        )
    if gear.never_blinks and gear.watts < 12:
        found += [
            replace(
                chain,
                name=f"{chain.name}, held up",
                holds_up=True,
                cents=chain.cents + 150,
                irreversibility=1,
                parts=(*chain.parts, ("reservoir", 1 + (gear.watts > 6))),
            )
            for chain in found
        ]
    return found


def _step_downs(gear: _Gear, volts: float, trigger: tuple[str, int], lead: int) -> list[_Chain]:
    base = _Chain(
        name=f"{volts:g} V down, fixed",
        contract_v=volts,
        port_w=gear.watts / 0.9,
        cents=lead + 60,
        parts=(trigger, (f"step-down {gear.volts:g}", 1)),
    )
    return [
        base,
        replace(
            base,
            name=f"{volts:g} V down, trimmer",
            risks=2 if volts > 1.6 * gear.volts else 1,
            parts=(trigger, ("step-down trimmer", 1)),
        ),
        replace(
            base,
            name=f"{volts:g} V down, soldered in",
            cents=20,
            irreversibility=2,
            risks=1,
            parts=(trigger, ("step-down trimmer", 1)),
        ),
    ]


def _options(
    gear: _Gear, chains: list[_Chain], makers: list[_Maker], *, blocked: bool, independent: bool
) -> tuple[Option, ...]:
    found = []
    for maker in makers:
        offers = _alone(maker.offers) if independent else maker.offers
        for port in range(len(maker.kind.ports)):
            for chain in chains:
                sure = _family(offers, port, chain, 1.0, blocked=blocked)
                hoped = _family(offers, port, chain, 1.15, blocked=blocked)
                if sure:
                    found.append(_option(gear, maker, port, chain, sure, misbehaves=0))
                if hoped > sure:
                    found.append(_option(gear, maker, port, chain, hoped, misbehaves=1))
    return tuple(found)


def _family(
    offers: Offers, port: int, chain: _Chain, stretch: float, *, blocked: bool
) -> frozenset[int]:
    """Loaded sets in which every reachable occupancy offers what the chain asks for."""
    masks = [mask for mask in offers if mask >> port & 1]
    holds = {
        mask
        for mask in masks
        if chain.contract_v in offers[mask][port][0]
        and chain.port_w <= stretch * offers[mask][port][1]
    }
    if not blocked:
        return frozenset(masks) if len(holds) == len(masks) else frozenset()
    return frozenset(
        loaded for loaded in masks if all(m in holds for m in masks if m & loaded == m)
    )


def _alone(offers: Offers) -> Offers:
    return {mask: {port: offers[1 << port][port] for port in row} for mask, row in offers.items()}


def _option(
    gear: _Gear, maker: _Maker, port: int, chain: _Chain, loaded: frozenset[int], *, misbehaves: int
) -> Option:
    return Option(
        kind=maker.kind.id,
        port=port,
        path=chain.name + (", close" if misbehaves else ""),
        loaded=loaded,
        harm_or_loss_unproven=chain.harm,
        misbehaves_unproven=max(misbehaves, chain.misbehaves),
        irreversibility=chain.irreversibility,
        cents=chain.cents,
        residual_risks=chain.risks,
        milliwatts=round(1000 * (chain.port_w - gear.watts) + 40 + 4 * chain.contract_v),
        parts=chain.parts,
        isolated=chain.isolated,
        blinks=gear.never_blinks and maker.drops_all and not chain.holds_up,
    )


def _part(name: str, random: Random, devices: int) -> Part:
    price: int | None = random.choice((300, 450, 600, 900, None))
    if name == "isolated converter":
        price = random.choice((1800, None))
    if name.startswith("trigger"):
        price = random.choice((250, 350))
    return Part(id=name, stock=random.randrange(0, 2 + devices // 6), cents=price)
