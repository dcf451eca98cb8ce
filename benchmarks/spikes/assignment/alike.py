"""What may be merged or left out before solving: alike devices, dominated options, idle caps."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from .question import Device, Option, Question


@dataclass(frozen=True, kw_only=True, slots=True)
class DeviceClass:
    """Devices that may stand in for each other: same options, same lead, same clashes."""

    members: tuple[str, ...]
    plugged_when_used: bool
    options: tuple[Option, ...]
    clashes: frozenset[str]


def undominated(options: Iterable[Option]) -> tuple[Option, ...]:
    """Drop each option that another one replaces anywhere at no greater cost in any level.

    Notes
    -----
    A replaces B if both take the same port of the same kind, A holds wherever B holds, draws no
    part that B does not, isolates and rides through if B does, and costs no more in each level.
    Every level is a sum, so the exchange worsens none. Of two equals the smaller path id stays.
    """
    groups: dict[tuple[str, int], list[Option]] = defaultdict(list)
    for option in options:
        groups[option.kind, option.port].append(option)
    kept: list[Option] = []
    for key in sorted(groups):
        best: list[Option] = []
        for option in sorted(groups[key], key=_promise):
            if not any(_replaces(other, option) for other in best):
                best.append(option)
        kept.extend(sorted(best, key=lambda option: option.path))
    return tuple(kept)


def _promise(option: Option) -> tuple[object, ...]:
    # whatever replaces an option sorts before it, so one pass is enough
    drawn = sum(number for _, number in option.parts)
    return option.costs, drawn, -len(option.loaded), not option.isolated, option.blinks, option.path


def _replaces(one: Option, other: Option) -> bool:
    need = dict(other.parts)
    return (
        all(a <= b for a, b in zip(one.costs, other.costs, strict=True))
        and one.loaded >= other.loaded
        and all(number <= need.get(part, 0) for part, number in one.parts)
        and one.isolated >= other.isolated
        and one.blinks <= other.blinks
    )


def classes_of(question: Question) -> tuple[DeviceClass, ...]:
    """Group devices that are alike in all that the question says of them."""
    partners: dict[str, set[str]] = defaultdict(set)
    for one, other in question.clashes:
        partners[one].add(other)
        partners[other].add(one)
    groups: dict[tuple[object, ...], list[Device]] = defaultdict(list)
    for device in question.devices:
        key = (device.options, device.plugged_when_used, frozenset(partners[device.id]))
        groups[key].append(device)
    return tuple(
        DeviceClass(
            members=tuple(device.id for device in alike),
            plugged_when_used=alike[0].plugged_when_used,
            options=undominated(alike[0].options),
            clashes=frozenset(partners[alike[0].id]),
        )
        for alike in groups.values()
    )


Content = tuple[str, tuple[int, ...], tuple[tuple[str, int], ...]]
Place = tuple[str, int, frozenset[int], bool, bool]


def content_of(option: Option) -> Content:
    """Say what an option is made of and costs, wherever it sits."""
    return option.path, option.costs, option.parts


def place_of(option: Option) -> Place:
    """Say where an option sits and in which company, whatever it is made of."""
    return option.kind, option.port, option.loaded, option.isolated, option.blinks


@dataclass(frozen=True, kw_only=True, slots=True)
class Bundle:
    """Contents of one class that may all sit in exactly the same places.

    Which place and which content may then be decided apart: the sums have to match, no more.
    """

    number: int
    contents: tuple[Content, ...]
    places: tuple[Place, ...]
    options: dict[tuple[Content, Place], Option]


def bundles_of(classes: Sequence[DeviceClass], *, split: bool) -> tuple[Bundle, ...]:
    """Bundle the options of each class; without `split` each content is a bundle of its own."""
    found = []
    for number, alike in enumerate(classes):
        options = {(content_of(o), place_of(o)): o for o in alike.options}
        where: dict[Content, list[Place]] = defaultdict(list)
        for content, place in options:
            where[content].append(place)
        groups: dict[tuple[object, ...], list[Content]] = defaultdict(list)
        for content, places in where.items():
            groups[frozenset(places), () if split else content].append(content)
        for contents in groups.values():
            places = where[contents[0]]
            found.append(
                Bundle(
                    number=number,
                    contents=tuple(contents),
                    places=tuple(places),
                    options={(c, p): options[c, p] for c in contents for p in places},
                )
            )
    return tuple(found)


def caps_of(options: Sequence[Option], ports: int) -> tuple[int, ...]:
    """Loaded sets that are worth telling apart, as masks.

    Notes
    -----
    A cap says which ports may be loaded; families are closed downwards, so a charger may load
    fewer. A cap is idle if a larger one admits every option that it admits. With spare ports
    usable one cap is left, the full one.
    """
    masks = range(1, 1 << ports)
    admits = {
        mask: frozenset(
            number
            for number, option in enumerate(options)
            if mask >> option.port & 1 and mask in option.loaded
        )
        for mask in masks
    }
    return tuple(
        mask
        for mask in masks
        if admits[mask]
        and not any(
            mask != other and mask & other == mask and admits[mask] <= admits[other]
            for other in masks
        )
    )


def bicliques(
    edges: Iterable[tuple[int, int]],
) -> tuple[tuple[frozenset[int], frozenset[int]], ...]:
    """Cover the edges of a graph by complete bipartite pieces, greedily.

    Ground clashes come as "every positive against every negative of a linked group", which is
    one piece; anything else falls apart into stars at worst.
    """
    near: dict[int, set[int]] = defaultdict(set)
    for one, other in edges:
        near[one].add(other)
        near[other].add(one)
    open_edges = {frozenset(edge) for edge in edges}
    pieces = []
    while open_edges:
        free = defaultdict(set)
        for one, other in (sorted(edge) for edge in open_edges):
            free[one].add(other)
            free[other].add(one)
        centre = min(free, key=lambda node: (-len(free[node]), node))
        right = frozenset(free[centre])
        left = frozenset(set.intersection(*(near[node] for node in right)) - right)
        pieces.append((left, right))
        open_edges -= {frozenset((one, other)) for one in left for other in right}
    return tuple(pieces)
