"""Generated questions of separation: plain sites of leads and inlets, and what harms what."""

import random
from typing import Any

import numpy as np

from sinkside.mixups.ends import Choice, EndOf, InletEnd, LeadEnd, Question

SIZES = ("5.5x2.1", "5.5x2.5", "4x1.7", "3.5x1.35")
VOLTS = (5, 9, 12, 15, 19)
PRICES = {
    **{f"plug-{s}": 80 + 10 * i for i, s in enumerate(SIZES)},
    **{f"socket-{s}": 100 + 15 * i for i, s in enumerate(SIZES)},
    **{f"keyed-{n}-plug": 120 + 20 * n for n in (2, 3)},
    **{f"keyed-{n}-socket": 140 + 20 * n for n in (2, 3)},
    "tie": 30,
    "bag": 30,
}


def question(
    draw: random.Random,
    devices: int,
    *,
    families: int = 6,
    ties: float = 0.5,
    brick_ties: float = 0.5,
    bricks: float = 0.3,
    settled_share: float = 0.8,
    owned: int = 0,
    budget: int | None = None,
) -> Question:
    """A site: each device has volts, a pole, and one of few plugs; some keep an old brick."""
    names = [f"d{i:02d}" for i in range(devices)]
    volts = {n: draw.choice(VOLTS) for n in names}
    stands = {n: volts[n] * draw.choice((1.06, 1.3, 1.7)) for n in names}
    surely = {n: stands[n] * draw.choice((1.0, 1.0, 1.5)) for n in names}
    centre: dict[str, Any] = {n: draw.choice(("positive", "positive", "negative")) for n in names}
    plug = {n: draw.choice(SIZES[:2]) for n in names}
    settled = {n: draw.random() < settled_share for n in names}
    converted = {n: draw.random() < 0.85 for n in names}
    new = (*SIZES[1:], "keyed-2", "keyed-3", SIZES[0])[:families]
    inlets = tuple(
        InletEnd(
            device=n,
            choices=_choices(n, plug[n], centre[n], new)
            if converted[n]
            else _as_is(plug[n], centre[n]),
            witnesses=frozenset((centre[n],)),
            settled=settled[n],
        )
        for n in names
    )
    leads, feeds = [], []
    for n in names:
        if converted[n]:
            tie = "tie" if draw.random() < ties else ""
            leads.append(LeadEnd(device=n, end=EndOf(plug=plug[n], centre=centre[n]), tie=tie))
            feeds.append(1.05 * volts[n])
        if not converted[n] or draw.random() < bricks:
            tie = draw.choice(("tie", "bag")) if draw.random() < brick_ties else ""
            ac = draw.random() < 0.1
            leads.append(
                LeadEnd(
                    device=n,
                    source="brick",
                    end=EndOf(plug=plug[n], centre=None if ac else centre[n]),
                    poles_known=draw.random() < 0.7,
                    alternating=ac,
                    tie=tie,
                )
            )
            feeds.append(1e6 if ac else 1.5 * volts[n])
    harm = np.array(
        [[2 if f > surely[n] else 1 if f > stands[n] else 0 for n in names] for f in feeds],
        dtype=np.int8,
    )
    return Question(
        leads=tuple(leads),
        inlets=inlets,
        harm=harm,
        prices=PRICES,
        planned={},
        owned={p: draw.randint(0, owned) for p in PRICES} if owned else {},
        budget=budget,
    )


def _as_is(plug: str, centre: Any) -> tuple[Choice, ...]:
    end = EndOf(plug=plug, centre=centre)
    return (Choice(lead=end, inlet=end),)


def _choices(name: str, plug: str, centre: Any, new: tuple[str, ...]) -> tuple[Choice, ...]:
    found = [*_as_is(plug, centre)]
    for family in new:
        if family == plug:
            continue
        keyed = family.startswith("keyed")
        end = (
            EndOf(plug=family, fixed_poles=True) if keyed else EndOf(plug=family, centre="positive")
        )
        parts = (
            ((f"{family}-plug", 1), (f"{family}-socket", 1))
            if keyed
            else ((f"plug-{family}", 1), (f"socket-{family}", 1))
        )
        found.append(
            Choice(
                lead=end,
                inlet=end,
                parts=(*parts, (f"plug-{plug}", 1)),
                joints=6,
                words=(f"{name}: {family}",),
            )
        )
    return tuple(found)
