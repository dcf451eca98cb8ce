"""Seeded questions of sharing: invented gear, chargers with tables, clashes, blinks, short stock.

A question is drawn as gear, chargers and chains, and becomes options as the conductor makes
them: for each place the best chains that hold there. Odd seeds let spare ports be used, even
ones block them. `independent` and `apart` give the same draw without tables, or without
clashes: whether the best answer is another then says whether they bind.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import combinations
from random import Random

from sinkside.sharing import Forbidden, Kind, Option, Question

CONTRACT_V = (5.0, 9.0, 12.0, 15.0, 20.0)
DEVICE_V = (5.0, 6.0, 7.5, 9.0, 9.0, 12.0, 12.0, 12.0, 15.0, 19.0)
KEPT = 6

Company = frozenset[str]
Table = Mapping[Company, Mapping[str, tuple[frozenset[float], float]]]


@dataclass(frozen=True, kw_only=True)
class Size:
    """How large a question is; `sorts` is how many different devices there are.

    Parameters
    ----------
    linked
        The share of devices that are joined by signal leads, in groups of about `group`.
    """

    name: str
    devices: int
    sorts: int
    kinds: int
    linked: float = 0.8
    group: int = 6


SMALL = Size(name="8 devices, 3 kinds", devices=8, sorts=8, kinds=3)
USUAL = Size(name="14 devices, 4 kinds", devices=14, sorts=14, kinds=4)
MANY_KINDS = Size(name="40 devices, 20 kinds", devices=40, sorts=40, kinds=20)
LARGE = Size(name="200 devices, 20 kinds", devices=200, sorts=200, kinds=20)
ALIKE = Size(name="2000 devices, many alike, 20 kinds", devices=2000, sorts=60, kinds=20)


@dataclass(frozen=True, kw_only=True)
class _Gear:
    volts: float
    watts: float
    plate_only: bool
    never_blinks: bool
    pole: str
    group: int
    lost: bool


@dataclass(frozen=True, kw_only=True)
class _Charger:
    kind: Kind
    earthed: bool
    drops_all: bool
    table: Table


@dataclass(frozen=True, kw_only=True)
class _Chain:
    """A chain before it meets a port."""

    name: str
    contract_v: float
    port_w: float
    parts: tuple[str, ...]
    harm: int = 0
    misbehaves: bool = False
    implausible: int = 0
    risks: int = 0
    isolated: bool = False


def site(size: Size, seed: int, *, independent: bool = False, apart: bool = False) -> Question:
    """Draw one question.

    Parameters
    ----------
    independent
        As if each port kept what it offers alone.
    apart
        As if no two grounds clashed.
    """
    random = Random(f"{size.name}/{seed}")
    blocked = seed % 2 == 0
    sorts = [_gear(random, size) for _ in range(size.sorts)]
    chargers = _chargers(random, size, blocked=blocked)
    chains = [list(_chains(gear)) for gear in sorts]
    names = sorted({part for row in chains for chain in row for part in chain.parts})
    sort_of = [*range(size.sorts)]
    sort_of += [random.randrange(size.sorts) for _ in range(size.devices - size.sorts)]
    ids = [f"d{number:04d}" for number in range(size.devices)]
    stock = {name: random.randrange(0, 2 + size.devices // 6) for name in names}
    prices = {name: random.choice((250, 350, 450, 600, 900, 100_000)) for name in names}
    prices |= {name: random.choice((250, 350)) for name in names if name.startswith("trigger")}
    budget = random.choice((None, None, 700 * size.devices))
    rows = [
        list(_options(gear, row, chargers, independent=independent))
        for gear, row in zip(sorts, chains, strict=True)
    ]
    return Question(
        kinds=tuple(c.kind for c in chargers),
        options=tuple(
            replace(option, id=f"{name}|{n}", device=name)
            for name, sort in zip(ids, sort_of, strict=True)
            for n, option in enumerate(rows[sort])
        ),
        forbidden=() if apart else tuple(_clashes(ids, [sorts[s] for s in sort_of])),
        blinks={
            (name, c.kind.id): 3 if gear.plate_only else 2
            for name, gear in ((i, sorts[s]) for i, s in zip(ids, sort_of, strict=True))
            for c in chargers
            if gear.never_blinks and c.drops_all
        },
        earthed=frozenset(c.kind.id for c in chargers if c.earthed),
        stock=stock,
        prices=prices,
        budget=budget,
    )


def _gear(random: Random, size: Size) -> _Gear:
    linked = random.random() < size.linked
    watts = random.choice((random.uniform(2, 8), random.uniform(6, 18), random.uniform(12, 40)))
    return _Gear(
        volts=random.choice(DEVICE_V),
        watts=round(watts, 1),
        plate_only=random.random() < 0.35,
        never_blinks=random.random() < 0.2,
        pole=random.choice(("negative", "positive")) if linked else "isolated",
        group=random.randrange(max(1, size.sorts // size.group)) if linked else -1,
        lost=random.random() < 0.1,
    )


def _clashes(ids: list[str], gear: list[_Gear]) -> Iterator[Forbidden]:
    """Joined by signal leads, and with opposite poles on their grounds."""
    for (a, one), (b, other) in combinations(zip(ids, gear, strict=True), 2):
        if one.group == other.group >= 0 and one.pole != other.pole:
            yield Forbidden(a=a, b=b, certain=True)


def _chargers(random: Random, size: Size, *, blocked: bool) -> list[_Charger]:
    shapes = [random.choice((1, 2, 2, 3, 3, 4)) for _ in range(size.kinds)]
    counts = [1] * size.kinds
    wanted = size.devices * random.uniform(0.8, 1.15)
    while sum(c * s for c, s in zip(counts, shapes, strict=True)) < wanted:
        counts[random.randrange(size.kinds)] += 1
    return [
        _Charger(
            kind=Kind(
                id=f"k{number:02d}",
                count=count,
                ports=tuple(f"C{port + 1}" for port in range(shape)),
                spare_ports_blocked=blocked,
            ),
            earthed=random.random() < 0.2,
            drops_all=random.random() < 0.6,
            table=_table(tuple(f"C{port + 1}" for port in range(shape)), random),
        )
        for number, (shape, count) in enumerate(zip(shapes, counts, strict=True))
    ]


def _table(ports: tuple[str, ...], random: Random) -> Table:
    """What each port offers in each company: volts, and watts of its contract."""
    total_w = random.choice((30.0, 45.0, 65.0, 65.0, 100.0))
    style = random.choice(("equal", "first keeps", "five volts", "loses twelve"))
    has_twelve = random.random() < 0.5
    alone = frozenset(v for v in CONTRACT_V if v != 12.0 or has_twelve)
    table: dict[Company, dict[str, tuple[frozenset[float], float]]] = {}
    for size in range(1, len(ports) + 1):
        for some in combinations(ports, size):
            row = table[frozenset(some)] = {}
            for port in some:
                limit_w = total_w if port == ports[0] else min(total_w, 45.0)
                volts, watts = alone, min(limit_w, total_w / size)
                if size == 1:
                    watts = limit_w
                elif style == "first keeps":
                    share = 0.6 if port == some[0] else 0.4 / (size - 1)
                    watts = min(limit_w, total_w * share)
                elif style == "five volts" and port != ports[0]:
                    volts, watts = frozenset({5.0}), 15.0 / (size - 1)
                elif style == "loses twelve":
                    volts = alone - {12.0}
                row[port] = volts, watts
    return table


def _chains(gear: _Gear) -> Iterator[_Chain]:
    for volts in CONTRACT_V:
        trigger = f"trigger {volts:g}"
        plain = _Chain(
            name=f"{volts:g} V",
            contract_v=volts,
            port_w=gear.watts,
            parts=("cable", trigger, "fuse"),
            misbehaves=gear.plate_only,
        )
        if volts == gear.volts:
            yield plain
            yield replace(plain, name=f"{plain.name}, no fuse", parts=("cable", trigger), risks=1)
        elif 1.0 < volts / gear.volts <= 1.25:
            yield replace(plain, name=f"{plain.name} above plate", harm=1 + gear.plate_only)
        if volts > gear.volts:
            down = replace(
                plain,
                name=f"{volts:g} V down",
                port_w=gear.watts / 0.9,
                parts=("cable", trigger, f"step-down {gear.volts:g}", "fuse"),
            )
            yield down
            yield replace(
                down,
                name=f"{down.name}, trimmer",
                parts=("cable", trigger, "step-down trimmer", "fuse"),
                risks=1 + (volts > 1.6 * gear.volts),
            )
        elif volts < gear.volts <= 2.5 * volts:
            yield replace(
                plain,
                name=f"{volts:g} V up",
                port_w=gear.watts / 0.82,
                parts=("cable", trigger, "step-up", "fuse"),
                risks=1,
                implausible=int(gear.plate_only),
            )
    if gear.pole != "isolated":
        yield _Chain(
            name="isolated",
            contract_v=15.0,
            port_w=gear.watts / 0.78,
            parts=("cable", "trigger 15", "isolated converter", "fuse"),
            misbehaves=gear.plate_only,
            risks=1,
            isolated=True,
        )


def _options(
    gear: _Gear, chains: list[_Chain], chargers: list[_Charger], *, independent: bool
) -> Iterator[Option]:
    for charger in chargers:
        kind = charger.kind
        for port in kind.ports:
            others = [p for p in kind.ports if p != port]
            companies = (
                [
                    frozenset((port, *m))
                    for n in range(len(kind.ports))
                    for m in combinations(others, n)
                ]
                if kind.spare_ports_blocked
                else [frozenset(kind.ports)]
            )
            for company in companies:
                found = [
                    _option(gear, kind, port, company, chain, close=close)
                    for chain in chains
                    if (close := _holds(charger, port, company, chain, independent)) is not None
                ]
                yield from sorted(found, key=_key)[:KEPT]


def _key(option: Option) -> tuple[object, ...]:
    return (
        option.harm_unproven,
        option.misbehaves_unproven,
        option.implausible,
        option.risks,
        option.decivolts,
        option.stages,
        option.id,
    )


def _holds(
    charger: _Charger, port: str, company: Company, chain: _Chain, independent: bool
) -> bool | None:
    """Whether it is close in some occupancy; None where in some it is not offered."""
    close = False
    for occupied, row in charger.table.items():
        if port not in occupied or not occupied <= company:
            continue
        volts, watts = (charger.table[frozenset((port,))] if independent else row)[port]
        if chain.contract_v not in volts or chain.port_w > 1.15 * watts:
            return None
        close |= chain.port_w > watts
    return close


def _option(
    gear: _Gear, kind: Kind, port: str, company: Company, chain: _Chain, *, close: bool
) -> Option:
    return Option(
        id=chain.name,
        device="",
        kind=kind.id,
        port=port,
        company=company,
        harm_unproven=chain.harm,
        misbehaves_unproven=chain.misbehaves or close,
        implausible=chain.implausible,
        irreversible=0,
        risks=chain.risks,
        stages=len(chain.parts),
        decivolts=round(10 * chain.contract_v),
        milliwatts=round(1000 * (chain.port_w - gear.watts) + 40 + 4 * chain.contract_v),
        parts=chain.parts,
        isolated=chain.isolated,
        brick_lost=gear.lost,
    )
