"""Small questions of sharing from a seed, and what an answer is worth, counted in plain words.

What is counted here is written from the description of sharing, not from the programme that
solves it: a seat is a device on a port of one unit; a neighbour's change puts out whoever does
not ride through; two grounds that must not meet are kept off one negative, or one is isolated.
"""

import random
from collections import Counter
from collections.abc import Sequence
from dataclasses import fields
from itertools import combinations
from typing import Any

from sinkside.sharing import Forbidden, Kind, Option, Question, Seat
from sinkside.sharing.in_order import LEVELS

PARTS = ("cable", "trigger", "fuse", "board")
# The last level only tells equals apart; which order that is hangs on how they are told.
COMPARED = tuple(LEVELS.values())[:-1]
MORE_IS_BETTER = ("off", "lost")
COUNTED = {f.name for f in fields(Option)}


def option(name: str, device: str, kind: str, port: str, company: Any, **changes: Any) -> Option:
    """An option that costs nothing unless said."""
    plain: dict[str, Any] = dict.fromkeys(
        COUNTED - {"id", "device", "kind", "port", "company", "parts", "isolated"}, 0
    )
    plain |= {"misbehaves_unproven": False, "brick_lost": False, "parts": (), "isolated": False}
    where = {"id": name, "device": device, "kind": kind, "port": port}
    return Option(**where, company=frozenset(company), **{**plain, **changes})


def companies(kind: Kind, port: str) -> list[frozenset[str]]:
    """The sets of ports that may be in use beside a port."""
    if not kind.spare_ports_blocked:
        return [frozenset(kind.ports)]
    others = [p for p in kind.ports if p != port]
    sizes = range(len(others) + 1)
    return [frozenset((port, *more)) for n in sizes for more in combinations(others, n)]


def question(
    draw: random.Random, devices: int = 3, *, blocked: bool, per_place: int = 2
) -> Question:
    """A question in which stock, money, grounds and blinks all may bind."""
    names = [f"d{n}" for n in range(devices)]
    kinds = tuple(
        Kind(
            id=name,
            count=draw.choice((1, 1, 2)),
            ports=("C1", "C2")[: draw.choice((1, 2, 2))],
            spare_ports_blocked=blocked,
        )
        for name in ("a", "b")
    )
    # Two that may clash have no isolated path here: what isolation does to them is tested apart.
    unsure = sorted(draw.sample(names, 2)) if draw.random() < 0.4 else []
    lost = draw.sample(names, 1) if draw.random() < 0.3 else []
    options = []
    for name in names:
        for kind in kinds:
            for port in kind.ports:
                for company in companies(kind, port):
                    for n in range(draw.randint(0, per_place)):
                        what = "+".join(sorted(company))
                        options.append(
                            option(
                                f"{name}|{kind.id}|{port}|{what}|{n}",
                                name,
                                kind.id,
                                port,
                                company,
                                harm_unproven=draw.choice((0, 0, 1, 2)),
                                misbehaves_unproven=draw.random() < 0.3,
                                implausible=draw.choice((0, 0, 1)),
                                brick_lost=name in lost,
                                risks=draw.randint(0, 2),
                                decivolts=draw.choice((50, 90, 120)),
                                milliwatts=draw.randint(0, 500),
                                parts=tuple(draw.choices(PARTS, k=draw.randint(1, 3))),
                                isolated=name not in unsure and draw.random() < 0.3,
                            )
                        )
    pairs = [tuple(sorted(draw.sample(names, 2))) for _ in range(draw.randint(0, 2))]
    sure = tuple(Forbidden(a=a, b=b, certain=True) for a, b in dict.fromkeys(pairs))
    perhaps = ()
    if unsure and tuple(unsure) not in pairs:
        perhaps = (Forbidden(a=unsure[0], b=unsure[1], certain=False),)
    return Question(
        kinds=kinds,
        options=tuple(options),
        forbidden=(*sure, *perhaps),
        blinks={(d, k.id): draw.choice((0, 0, 1, 2, 3)) for d in names for k in kinds},
        earthed=frozenset(k.id for k in kinds if not unsure and draw.random() < 0.7),
        stock={p: draw.randint(0, 2) for p in PARTS},
        prices={p: draw.randint(50, 400) for p in PARTS},
        budget=draw.choice((None, 0, 300, 800, 1500)),
    )


def worth(asked: Question, seats: Sequence[Seat]) -> tuple[int, ...] | None:
    """What an answer is worth, level by level; None if it is not allowed."""
    kinds = {k.id: k for k in asked.kinds}
    by_id = {o.id: o for o in asked.options}
    chosen = [(seat, by_id[seat.option]) for seat in seats]
    if len({s.device for s in seats}) < len(seats):
        return None
    if len({(s.kind, s.unit, s.port) for s in seats}) < len(seats):
        return None
    harm, misbehaves = Counter[str](), Counter[str]()
    for seat, o in chosen:
        kind = kinds[seat.kind]
        loaded = frozenset(s.port for s in seats if (s.kind, s.unit) == (seat.kind, seat.unit))
        company = loaded if kind.spare_ports_blocked else frozenset(kind.ports)
        here = (o.device, o.kind, o.port) == (seat.device, seat.kind, seat.port)
        if not here or o.company != company or not 1 <= seat.unit <= kind.count:
            return None
        blink = asked.blinks.get((seat.device, seat.kind), 0) if len(company) > 1 else 0
        if blink == 3:
            return None
        harm[seat.device] = int(blink == 2)
        misbehaves[seat.device] = int(blink == 1 or o.misbehaves_unproven)
    for f in asked.forbidden:
        ends = [(s, o) for s, o in chosen if s.device in (f.a, f.b)]
        if len(ends) < 2 or any(o.isolated for _, o in ends):
            continue
        (one, _), (other, _) = ends
        together = (one.kind, one.unit) == (other.kind, other.unit)
        if not together and not {one.kind, other.kind} <= asked.earthed:
            continue
        if f.certain:
            return None
        harm[f.a] += 1  # as many as there are findings: a clash is one of each of the two
        harm[f.b] += 1
    need = Counter(p for _, o in chosen for p in o.parts)
    buy = {p: max(0, n - asked.stock.get(p, 0)) for p, n in need.items()}
    cents = sum(asked.prices[p] * n for p, n in buy.items())
    if asked.budget is not None and cents > asked.budget:
        return None
    special = {
        "off": len(seats),
        "lost": sum(o.brick_lost for _, o in chosen),
        "harm": sum(o.harm_unproven for _, o in chosen) + sum(harm.values()),
        "misbehaves": sum(misbehaves.values()),
        "cents": cents,
        "chargers": len({(s.kind, s.unit) for s in seats}),
    }
    return tuple(
        special[key] if key in special else sum(getattr(o, key) for _, o in chosen)
        for key in COMPARED
    )


def better(a: tuple[int, ...] | None, b: tuple[int, ...] | None) -> bool:
    """Whether the first answer is worth more: most devices first, then less of everything."""
    if a is None or b is None:
        return b is None and a is not None
    signs = [-1 if key in MORE_IS_BETTER else 1 for key in COMPARED]
    return [s * v for s, v in zip(signs, a, strict=True)] < [
        s * v for s, v in zip(signs, b, strict=True)
    ]
