"""What may be merged or left out before solving: alike devices, alike chains, dominated ones."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import TypeAlias

from sinkside.sharing.question import Forbidden, Kind, Option, Question

LOSS_OPEN, MISBEHAVES_OPEN, NOT_ALLOWED = 2, 1, 3
# Levels that a seat has a cost at, in order; see `in_order.LEVELS`.
SEAT_LEVELS = (
    "off",
    "lost",
    "harm",
    "misbehaves",
    "implausible",
    "irreversible",
    "risks",
    "decivolts",
    "stages",
    "milliwatts",
)

Loaded: TypeAlias = tuple[str, ...]
Label: TypeAlias = int
"""Devices of one label clash with the same others; 0 with none."""


@dataclass(frozen=True, slots=True)
class Place:
    """A port of a kind of charger while so many ports are loaded, for those of one label."""

    kind: str
    loaded: Loaded
    port: str
    label: Label


@dataclass(frozen=True, slots=True, eq=False)
class Content:
    """What a chain costs at each of `SEAT_LEVELS`, and the parts that it takes.

    There is one of each in a question, so that telling two apart takes no comparing.
    """

    costs: tuple[int, ...]
    parts: tuple[str, ...]

    def replaces(self, other: "Content") -> bool:
        """Whether it costs no more anywhere and takes no part that the other does not."""
        if any(a > b for a, b in zip(self.costs, other.costs, strict=True)):
            return False
        return not Counter(self.parts) - Counter(other.parts)


@dataclass(frozen=True, kw_only=True)
class Bundle:
    """Contents of one class that may all sit in exactly the same places.

    Which place and which content may then be decided apart: the sums have to match, no more.
    """

    contents: tuple[Content, ...]
    places: tuple[Place, ...]


@dataclass(frozen=True, kw_only=True)
class Class:
    """Devices that may stand in for each other: same chains, same blinks, same clashes.

    Parameters
    ----------
    seats
        For each place and content, which of a member's chains in `options` it is.
    options
        The ids of each member's chains, in one order for all.
    """

    members: tuple[str, ...]
    bundles: tuple[Bundle, ...]
    seats: dict[tuple[Place, Content], int]
    options: dict[str, tuple[str, ...]]


@dataclass(frozen=True, kw_only=True)
class Clashes:
    """Who clashes with whom, as labels.

    Parameters
    ----------
    label
        Of each device that clashes with any.
    certain, unsure
        Pairs of labels, the lower first.
    pairs
        The pairs of devices that may clash, for each such pair of labels.
    """

    label: dict[str, Label]
    certain: frozenset[tuple[Label, Label]]
    unsure: frozenset[tuple[Label, Label]]
    pairs: dict[tuple[Label, Label], tuple[tuple[str, str], ...]]


@dataclass(frozen=True, kw_only=True)
class AlikePorts:
    """Ports of a kind that may stand in for each other: the first of them stands for all.

    Parameters
    ----------
    first
        For each kind and port, the first port that is like it.
    """

    first: dict[str, dict[str, str]]

    def stands(self, kind: str, loaded: Loaded, port: str) -> bool:
        """Whether a port while such ports are loaded stands for all that are like it."""
        first = self.first[kind]
        return first[port] == port and self.usual(kind, loaded)

    def usual(self, kind: str, loaded: Loaded) -> bool:
        """Whether of ports that are alike the first ones are loaded."""
        first = self.first[kind]
        counts = Counter(first[p] for p in loaded)
        alike: dict[str, list[str]] = defaultdict(list)
        for p, representative in first.items():
            alike[representative].append(p)
        return all(set(alike[r][:n]) <= set(loaded) for r, n in counts.items())


def clashes_of(forbidden: Iterable[Forbidden]) -> Clashes:
    """Labels for the devices that clash.

    Notes
    -----
    Devices that clash with the same others, and as certainly, have one label; no two of them
    clash with each other. So two labels clash altogether or not at all.
    """
    sure = {(min(f.a, f.b), max(f.a, f.b)) for f in forbidden if f.certain}
    perhaps = {(min(f.a, f.b), max(f.a, f.b)) for f in forbidden if not f.certain} - sure
    near: dict[str, set[tuple[str, bool]]] = defaultdict(set)
    for pairs, certain in ((sure, True), (perhaps, False)):
        for a, b in pairs:
            near[a].add((b, certain))
            near[b].add((a, certain))
    labels: dict[frozenset[tuple[str, bool]], Label] = {}
    label = {d: labels.setdefault(frozenset(near[d]), len(labels) + 1) for d in sorted(near)}

    def of(a: str, b: str) -> tuple[Label, Label]:
        return min(label[a], label[b]), max(label[a], label[b])

    by_labels: dict[tuple[Label, Label], list[tuple[str, str]]] = defaultdict(list)
    for a, b in sorted(perhaps):
        by_labels[of(a, b)].append((a, b))
    return Clashes(
        label=label,
        certain=frozenset(of(a, b) for a, b in sure),
        unsure=frozenset(by_labels),
        pairs={labels: tuple(pairs) for labels, pairs in by_labels.items()},
    )


def classes_of(question: Question, clashes: Clashes) -> tuple[tuple[Class, ...], AlikePorts]:
    """Devices that are alike in all that the question says of them, in the order of names.

    A device that may clash, and nobody knows, is alone in its class: each such pair counts.

    Returns
    -------
    tuple
        The classes, and which ports of a kind may stand in for each other.
    """
    kinds = {k.id: k for k in question.kinds}
    options: dict[str, list[Option]] = defaultdict(list)
    for option in question.options:
        options[option.device].append(option)
    alone = {d for pairs in clashes.pairs.values() for pair in pairs for d in pair}
    groups: dict[object, _Members] = {}
    for device in sorted(options):
        label = clashes.label.get(device, 0)
        key = (
            tuple(map(_SAME, options[device])),
            tuple(question.blinks.get((device, kind), 0) for kind in kinds),
            label,
            device if device in alone else "",
        )
        groups.setdefault(key, _Members(label=label)).options[device] = options[device]
    contents: dict[tuple[object, ...], Content] = {}
    for members in groups.values():
        for n, option in enumerate(next(iter(members.options.values()))):
            seat = _seat(option, kinds[option.kind], question, members.label, contents)
            if seat is not None:
                members.seats.setdefault(seat, n)
    found = list(groups.values())
    ports = _alike_ports(question.kinds, found)
    return tuple(_class(members, ports) for members in found), ports


_Seat: TypeAlias = tuple[Place, Content]
# All that an option says but whose it is and its name.
_SAME = attrgetter(*(f.name for f in fields(Option) if f.name not in ("id", "device")))


@dataclass(kw_only=True)
class _Members:
    """Devices that are alike, their chains in one order, and where each chain may sit."""

    label: Label
    options: dict[str, list[Option]] = field(default_factory=dict)
    seats: dict[_Seat, int] = field(default_factory=dict)


def _alike_ports(kinds: Iterable[Kind], classes: list[_Members]) -> AlikePorts:
    """Ports of a kind that can be exchanged without anything changing for anyone."""
    here: dict[str, dict[tuple[Loaded, str], set[object]]] = defaultdict(lambda: defaultdict(set))
    numbers: dict[Content, int] = {}
    for n, members in enumerate(classes):
        for place, content in members.seats:
            number = numbers.setdefault(content, len(numbers))
            here[place.kind][place.loaded, place.port].add((n, number, place.label))
    first: dict[str, dict[str, str]] = {}
    for kind in kinds:
        ids: dict[frozenset[object], int] = {}
        offers = {
            (frozenset(loaded), port): ids.setdefault(frozenset(what), len(ids) + 1)
            for (loaded, port), what in here[kind.id].items()
        }
        first[kind.id] = {}
        for port in kind.ports:
            like = (q for q in first[kind.id].values() if _exchanged(offers, q, port))
            first[kind.id][port] = next(like, port)
    return AlikePorts(first=first)


def _exchanged(offers: dict[tuple[frozenset[str], str], int], a: str, b: str) -> bool:
    """Whether nothing changes when two ports are exchanged."""
    other = {a: b, b: a}
    return all(
        offers.get((frozenset(other.get(p, p) for p in loaded), other.get(port, port))) == what
        for (loaded, port), what in offers.items()
    )


def _seat(
    option: Option,
    kind: Kind,
    question: Question,
    label: Label,
    contents: dict[tuple[object, ...], Content],
) -> _Seat | None:
    """A chain as a place and a content; None where it may not be at all."""
    company = option.company
    if kind.spare_ports_blocked:
        if option.port not in company or not company <= set(kind.ports):
            return None
    elif company != frozenset(kind.ports):
        return None
    blink = question.blinks.get((option.device, kind.id), 0) if len(company) > 1 else 0
    if blink == NOT_ALLOWED:
        return None
    place = Place(
        kind.id,
        tuple(p for p in kind.ports if p in company),
        option.port,
        0 if option.isolated else label,
    )
    costs = (
        -1,
        -int(option.brick_lost),
        option.harm_unproven + int(blink == LOSS_OPEN),
        int(option.misbehaves_unproven or blink == MISBEHAVES_OPEN),
        option.implausible,
        option.irreversible,
        option.risks,
        option.decivolts,
        option.stages,
        option.milliwatts,
    )
    parts = tuple(sorted(option.parts))
    return place, contents.setdefault((costs, parts), Content(costs, parts))


def _class(members: _Members, ports: AlikePorts) -> Class:
    here: dict[tuple[str, Loaded, str], dict[Content, Label]] = defaultdict(dict)
    usual: dict[tuple[str, Loaded, str], bool] = {}
    for place, content in members.seats:
        where = place.kind, place.loaded, place.port
        if where not in usual:
            usual[where] = ports.stands(*where)
        if not usual[where]:
            continue
        at = here[place.kind, place.loaded, place.port]
        # Of two that cost the same, the one that is cut off from the negative goes anywhere.
        at[content] = min(at.get(content, place.label), place.label)
    kept: dict[Content, list[Place]] = defaultdict(list)
    known: dict[tuple[Content, Content], bool] = {}
    for (kind, loaded, port), contents in here.items():
        for content in _undominated(contents, known):
            kept[content].append(Place(kind, loaded, port, contents[content]))
    bundles: dict[tuple[Place, ...], list[Content]] = defaultdict(list)
    for content, places in kept.items():
        bundles[tuple(sorted(places, key=_rank))].append(content)
    return Class(
        members=tuple(members.options),
        bundles=tuple(
            Bundle(contents=tuple(contents), places=places) for places, contents in bundles.items()
        ),
        seats=members.seats,
        options={device: tuple(o.id for o in found) for device, found in members.options.items()},
    )


def _rank(place: Place) -> tuple[object, ...]:
    return place.kind, len(place.loaded), place.loaded, place.port, place.label


def _undominated(
    contents: dict[Content, Label], known: dict[tuple[Content, Content], bool]
) -> list[Content]:
    """Contents of one place that no other one replaces wherever this one may be."""
    kept: list[Content] = []
    for content in sorted(contents, key=lambda c: (sum(c.costs), c.costs, c.parts)):
        label = contents[content]
        for other in kept:
            if contents[other] not in (0, label):
                continue
            pair = (other, content)
            if pair not in known:
                known[pair] = other.replaces(content)
            if known[pair]:
                break
        else:
            kept.append(content)
    return kept
