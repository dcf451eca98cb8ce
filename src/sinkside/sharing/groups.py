"""Alike chargers as one group, and what each of them may hold where grounds must not meet.

Chargers of one kind are one whole number for each way to load them: one binary for each
physical port would leave as many equal solutions as there are ways to name the units. Where
devices of several labels clash on a kind, a way to load it says the label on each port; a kind
of few units, or of very many such ways, is taken unit by unit instead. Where that would make
many columns, clashes on the kind are left out at first: if who sits on it can be spread over its
units so that none meet, nothing was lost by that; if not, it is solved again with them.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations, product
from math import prod

from sinkside.sharing.alike import Clashes, Label, Loaded, Place
from sinkside.sharing.question import Kind

FEW_UNITS = 3
MOST_WAYS = 4000
# Up to so many ways to load it, a kind of several units has what clashes told apart at once.
FEW_WAYS = 64


@dataclass(frozen=True, kw_only=True)
class Way:
    """One way to load a charger.

    Parameters
    ----------
    labels
        For each loaded port the label of what may sit there; empty where that is free.
    open_pairs
        How many pairs on it may clash, and nobody knows.
    """

    loaded: Loaded
    labels: tuple[Label, ...]
    open_pairs: int


@dataclass(frozen=True, kw_only=True)
class Group:
    """Units of one kind that are alike, and the ways to load one of them.

    Parameters
    ----------
    met
        The labels that its ways tell apart.
    loose
        Whether clashes on it are left out.
    """

    kind: Kind
    count: int
    ways: tuple[Way, ...]
    met: tuple[Label, ...] = ()
    loose: bool = False

    def label(self, place: Place) -> Label:
        """The label of a place as far as the ways tell it."""
        return place.label if place.label in self.met else 0


def groups_of(
    kind: Kind,
    places: Iterable[Place],
    clashes: Clashes,
    first: Mapping[str, str],
    *,
    earthed: bool,
    strict: bool,
) -> tuple[Group, ...]:
    """The groups of one kind.

    Parameters
    ----------
    places
        Where devices may sit on it.
    first
        For each port the first one that is like it: places are at those alone.
    earthed
        Whether its negatives are tied to earth: what clashes is then kept apart over all such
        chargers together, whoever sits on which.
    strict
        Whether no clash on it is to be left out.
    """
    here = tuple(places)
    companies = sorted({p.loaded for p in here}, key=lambda c: (len(c), c))
    plain = tuple(Way(loaded=c, labels=(), open_pairs=0) for c in companies)
    met = () if earthed else labels_met(here, clashes)
    if not met or all(len(c) < 2 for c in companies):
        return (Group(kind=kind, count=kind.count, ways=plain),)
    number = _number(kind, here, companies, met, first)
    if kind.count > 1 and number > FEW_WAYS and not strict:
        return (Group(kind=kind, count=kind.count, ways=plain, loose=True),)
    if kind.count <= FEW_UNITS or number > MOST_WAYS:
        return (Group(kind=kind, count=1, ways=plain),) * kind.count
    ways = tuple(way for c in companies for way in _ways(kind, here, c, met, clashes, first))
    return (Group(kind=kind, count=kind.count, ways=ways, met=met),)


def labels_met(places: Sequence[Place], clashes: Clashes) -> tuple[Label, ...]:
    """The labels among some places that clash with another one there."""
    present = sorted({p.label for p in places if p.label})
    return tuple(
        a
        for a in present
        if any({(a, b), (b, a)} & (clashes.certain | clashes.unsure) for b in present)
    )


def _choices(
    kind: Kind,
    places: Sequence[Place],
    loaded: Loaded,
    met: Sequence[Label],
    first: Mapping[str, str],
) -> list[list[Label]]:
    """For each loaded port, the labels that may sit there; 0 stands for all that do not clash.

    Where spare ports may be used a port may also stay empty, which clashes with nothing.
    """
    found = []
    for port in loaded:
        here = {p.label for p in places if (p.loaded, p.port) == (loaded, first[port])}
        some = {label if label in met else 0 for label in here}
        found.append(sorted(some if kind.spare_ports_blocked else some | {0}))
    return found


def _number(
    kind: Kind,
    places: Sequence[Place],
    companies: Sequence[Loaded],
    met: Sequence[Label],
    first: Mapping[str, str],
) -> int:
    return sum(prod(len(c) for c in _choices(kind, places, some, met, first)) for some in companies)


def _ways(
    kind: Kind,
    places: Sequence[Place],
    loaded: Loaded,
    met: Sequence[Label],
    clashes: Clashes,
    first: Mapping[str, str],
) -> Iterator[Way]:
    for labels in product(*_choices(kind, places, loaded, met, first)):
        if not _in_order(loaded, labels, first):
            continue
        pairs = [(min(a, b), max(a, b)) for a, b in combinations(labels, 2)]
        if any(pair in clashes.certain for pair in pairs):
            continue
        yield Way(
            loaded=loaded,
            labels=labels,
            open_pairs=sum(pair in clashes.unsure for pair in pairs),
        )


def _in_order(loaded: Loaded, labels: Sequence[Label], first: Mapping[str, str]) -> bool:
    """Whether labels do not fall over ports that are alike: any other order is the same way."""
    last: dict[str, Label] = {}
    for port, label in zip(loaded, labels, strict=True):
        if label < last.get(first[port], 0):
            return False
        last[first[port]] = label
    return True
