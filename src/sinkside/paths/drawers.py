"""Shelf and market sorted by what a part is good for, so that a search need not look at all."""

from dataclasses import dataclass
from functools import lru_cache

from sinkside.parts.part import Part


@dataclass(frozen=True, kw_only=True, eq=False)
class Drawers:
    """The parts that a search may use, once per setting, each drawer in the order of the shelf.

    Parameters
    ----------
    barred
        Whether parts were left out that ask for joints.
    plugs
        What parts end in.
    """

    barred: bool
    plugs: frozenset[str]
    cables: tuple[Part, ...]
    triggers: tuple[Part, ...]
    converters: tuple[Part, ...]
    fuses: tuple[Part, ...]
    soft_starts: tuple[Part, ...]
    leads: tuple[Part, ...]
    reversers: tuple[Part, ...]
    rails: tuple[Part, ...]
    splitters: tuple[Part, ...]


@lru_cache(maxsize=16)
def drawers(parts: tuple[Part, ...], solder: bool) -> Drawers:
    """Sort parts into drawers; those that ask for joints only if soldering is allowed."""
    usable = [p for p in parts if solder or p.joints == 0]
    return Drawers(
        barred=len(usable) < len(parts),
        plugs=frozenset(p.gives.plug for p in usable),
        cables=tuple(p for p in usable if p.kind == "cable"),
        triggers=tuple(p for p in usable if p.trigger is not None),
        converters=tuple(p for p in usable if p.converter is not None),
        fuses=tuple(sorted((p for p in usable if p.fuse), key=_smallest)),
        soft_starts=tuple(sorted((p for p in usable if p.kind == "soft start"), key=cheap)),
        leads=tuple(p for p in usable if p.kind == "lead"),
        reversers=tuple(p for p in usable if p.kind == "reverser"),
        rails=tuple(p for p in usable if p.rails_converter is not None),
        splitters=tuple(p for p in usable if p.kind == "splitter"),
    )


def cheap(part: Part) -> tuple[bool, bool, int, str]:
    """Owned before bought, a known price before an unknown one, cheap before dear."""
    return (part.owned == 0, part.price_cents is None, part.price_cents or 0, part.id)


def _smallest(part: Part) -> tuple[float, tuple[bool, bool, int, str]]:
    return part.carries_a, cheap(part)
