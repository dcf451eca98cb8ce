"""Mutations by kind, and at which lines the reader tells them."""

import random
from collections.abc import Iterator
from dataclasses import replace
from itertools import islice

from tests.invariants.cuts import CUTS, breaks, cuts
from tests.invariants.mutations import KINDS, Mutation
from tests.invariants.schema_walk import values
from tests.invariants.whole_sites import SITES

from sinkside.faults import Faulty
from sinkside.site.read import read


def mutations(most: int, rounds: int, seed: int) -> dict[str, list[Mutation]]:
    """Mutations by kind, each text once.

    Parameters
    ----------
    most
        Of one kind, drawn at random where there are more.
    rounds
        How often each value is broken in each way, by another draw.
    """
    draw = random.Random(seed)
    found: dict[str, dict[str, Mutation]] = {kind: {} for kind in (*KINDS, *CUTS)}
    for _ in range(rounds):
        for site, whole in SITES.items():
            for mutation in (*_made(site, draw), *cuts(site, draw)):
                if mutation.text != whole:
                    found[mutation.kind].setdefault(mutation.text, mutation)
    pools: dict[str, list[Mutation]] = {}
    for kind, texts in found.items():
        pool = list(texts.values())
        draw.shuffle(pool)
        sound = (m for m in pool if not m.cut or breaks(m.site, m.text))
        pools[kind] = list(islice(sound, most))
    return pools


def _made(site: str, draw: random.Random) -> Iterator[Mutation]:
    for value in values(site):
        for kind, make in KINDS.items():
            for mutation in make(value, draw):
                yield replace(mutation, kind=kind)


def lines_told(mutation: Mutation) -> list[int]:
    """The lines of all faults, 0 for one without a place; empty if it was taken as valid."""
    try:
        read(mutation.text, "site")
    except Faulty as error:
        return [fault.place.line if fault.place else 0 for fault in error.faults]
    return []
