"""Counts of seats turned into seats: units by number, members of a class in order of names."""

from collections import Counter, defaultdict
from collections.abc import Iterator, Set
from dataclasses import replace
from typing import TypeAlias

from sinkside.sharing.alike import Clashes, Content, Label, Loaded, Place
from sinkside.sharing.groups import Group
from sinkside.sharing.prover import Whole
from sinkside.sharing.question import Seat
from sinkside.sharing.seating import Seating, Taken


class NotApart(Exception):
    """Who sits on chargers of some kinds was not spread over them so that no two clash."""

    def __init__(self, kinds: Set[str]) -> None:
        super().__init__(", ".join(sorted(kinds)))
        self.kinds = kinds


# Steps of the search for a way to spread seats over units.
MOST_STEPS = 20_000


def seats_of(seating: Seating, values: Whole) -> tuple[Seat, ...]:
    """The seats that a solution stands for.

    Raises
    ------
    NotApart
        Clashes were left out on kinds of charger, and no way was found to keep them apart.
    """
    return _Expansion(seating, values).seats()


_Load: TypeAlias = tuple[Taken, Place]
_Loads: TypeAlias = dict[str, _Load]


class _Expansion:
    def __init__(self, seating: Seating, values: Whole) -> None:
        self.seating, self.values = seating, values
        self.failed: set[str] = set()
        self.waiting = [list(one.members) for one in seating.classes]
        self.made = {id(t): self._contents(t) for t in seating.taken}
        self.pools: dict[tuple[int, Loaded, str, Label], list[tuple[Taken, Place]]] = defaultdict(
            list
        )
        for taken in seating.taken:
            for spot, column in taken.spots.items():
                group = seating.groups[spot.group]
                place = spot.place
                key = (spot.group, place.loaded, place.port, group.label(place))
                self.pools[key] += [(taken, place)] * int(values[column])

    def _contents(self, taken: Taken) -> list[Content]:
        """The contents of a bundle, as many as there are of each."""
        return [
            content
            for content, column in taken.contents.items()
            for _ in range(int(self.values[column]))
        ]

    def seats(self) -> tuple[Seat, ...]:
        found: list[Seat] = []
        units: dict[str, int] = defaultdict(int)
        for n, group in enumerate(self.seating.groups):
            for way, column in zip(group.ways, self.seating.ways[n], strict=True):
                labels = way.labels or (0,) * len(way.loaded)
                for loads in self._units(n, group, way.loaded, labels, int(self.values[column])):
                    units[group.kind.id] += bool(loads)
                    found += [
                        self._seat(taken, replace(place, port=port), units[group.kind.id])
                        for port, (taken, place) in loads.items()
                    ]
        if self.failed:
            raise NotApart(self.failed)
        return tuple(sorted(found))

    def _units(
        self, n: int, group: Group, loaded: Loaded, labels: tuple[Label, ...], count: int
    ) -> list[_Loads]:
        """What is on each of some units that are loaded alike."""
        first = self.seating.first[group.kind.id]
        pools = [
            (port, self.pools[n, loaded, first[port], label])
            for port, label in zip(loaded, labels, strict=True)
        ]
        if not group.loose:
            return [{port: pool.pop(0) for port, pool in pools if pool} for _ in range(count)]
        slots: dict[str, list[str]] = defaultdict(list)
        for port in loaded:
            slots[first[port]].append(port)
        waiting = {p: self.pools[n, loaded, p, 0] for p in slots}
        found = _apart(waiting, slots, count, self.seating.clashes)
        if found is None:
            self.failed.add(group.kind.id)
            return []
        return found

    def _seat(self, taken: Taken, place: Place, unit: int) -> Seat:
        one = self.seating.classes[taken.number]
        content = (
            self.made[id(taken)].pop(0) if taken.contents else one.bundles[taken.bundle].contents[0]
        )
        device = self.waiting[taken.number].pop(0)
        return Seat(
            kind=place.kind,
            unit=unit,
            port=place.port,
            device=device,
            option=one.options[device][one.seats[place, content]],
        )


def _apart(
    waiting: dict[str, list[_Load]], slots: dict[str, list[str]], count: int, clashes: Clashes
) -> list[_Loads] | None:
    """Spread seats over units so that no two that clash, or may, are on one.

    Parameters
    ----------
    waiting
        Who is to sit at each sort of port.
    slots
        The ports of each sort.

    Returns
    -------
    list of dict, or None
        None if there is no way, or none was found in `MOST_STEPS` steps.
    """
    pairs = clashes.certain | clashes.unsure
    met = {label for pair in pairs for label in pair}
    tied = [(sort, load) for sort in slots for load in waiting[sort] if load[1].label in met]
    loose = [(sort, load) for sort in slots for load in waiting[sort] if load[1].label not in met]
    degree = Counter(label for pair in pairs for label in pair)
    tied.sort(key=lambda t: (-degree[t[1][1].label], t[1][1].label))
    units: list[_Loads] = [{} for _ in range(count)]
    tries: list[Iterator[tuple[_Loads, str]]] = []
    made: list[tuple[_Loads, str]] = []
    steps = 0
    while len(made) < len(tied):
        sort, load = tied[len(made)]
        if len(tries) == len(made):
            tries.append(_free(units, slots[sort], load[1].label, pairs))
        found = next(tries[-1], None)
        steps += 1
        if steps > MOST_STEPS or (found is None and not made):
            return None
        if found is None:
            tries.pop()
            unit, port = made.pop()
            del unit[port]
        else:
            unit, port = found
            unit[port] = load
            made.append(found)
    for sort, load in loose:
        unit, port = next((u, p) for u in units for p in slots[sort] if p not in u)
        unit[port] = load
    return units


def _free(
    units: list[_Loads], ports: list[str], label: Label, pairs: Set[tuple[Label, Label]]
) -> Iterator[tuple[_Loads, str]]:
    """Units with a port that is free for a label; of units that hold alike, the first."""
    seen = set()
    for unit in units:
        port = next((p for p in ports if p not in unit), None)
        state = tuple(sorted((p, load[1].label) for p, load in unit.items()))
        if port is None or state in seen:
            continue
        seen.add(state)
        if not any((min(label, o), max(label, o)) in pairs for _, o in state):
            yield unit, port
