"""The question of sharing as columns and rows.

Columns count: chargers loaded in each way, seats of each class of device at each place, and
parts to buy. What is loaded on a charger decides what its ports offer; where spare ports are
blocked, exactly the ports of a way are taken, else any of them.
"""

from collections import Counter, defaultdict
from collections.abc import Iterator, Set
from dataclasses import dataclass

from sinkside.sharing.alike import (
    SEAT_LEVELS,
    Class,
    Content,
    Label,
    Loaded,
    Place,
    clashes_of,
    classes_of,
)
from sinkside.sharing.groups import Group, groups_of, labels_met
from sinkside.sharing.in_order import INFINITE, Model
from sinkside.sharing.question import Question


@dataclass(frozen=True, slots=True)
class Spot:
    """A place on the chargers of one group, by its number."""

    group: int
    place: Place


@dataclass(frozen=True, kw_only=True)
class Taken:
    """Columns that seat one bundle of a class.

    Parameters
    ----------
    spots
        How many sit at each place; with one content, that is all.
    contents
        How many have each content; empty where there is one.
    """

    number: int
    bundle: int
    spots: dict[Spot, int]
    contents: dict[Content, int]


class Seating:
    """Columns and rows of a question, and what the columns stand for.

    Parameters
    ----------
    strict
        Kinds of charger on which no clash may be left out at first; see `groups`.
    """

    def __init__(self, question: Question, strict: Set[str] = frozenset()) -> None:
        self.strict = strict
        self.question = question
        self.model = Model()
        self.clashes = clashes_of(question.forbidden)
        self.classes, ports = classes_of(question, self.clashes)
        self.first = ports.first
        self.groups = self._groups()
        self.taken: list[Taken] = []
        self.at: dict[Spot, list[int]] = defaultdict(list)
        self.of_class: list[list[int]] = [[] for _ in self.classes]
        self.earthed: list[list[int]] = [[] for _ in self.classes]
        self.parts: dict[str, dict[int, int]] = defaultdict(dict)
        self.ways: list[list[int]] = [
            [
                self.model.column(group.count, {"chargers": 1, "harm": 2 * way.open_pairs})
                for way in group.ways
            ]
            for group in self.groups
        ]
        self._rank = self._ranks()
        for number, one in enumerate(self.classes):
            self._seats(number, one)
        self._device_rows()
        self._charger_rows()
        for n, group in enumerate(self.groups):
            if group.count == 1:
                self._unit_rows(n, group)
        self._order_rows()
        self._earth_rows()
        self._money()

    def _groups(self) -> tuple[Group, ...]:
        places: dict[str, dict[Place, None]] = defaultdict(dict)
        for one in self.classes:
            for bundle in one.bundles:
                for place in bundle.places:
                    places[place.kind][place] = None
        return tuple(
            group
            for kind in sorted(self.question.kinds, key=lambda k: k.id)
            if kind.count > 0 and places[kind.id]
            for group in groups_of(
                kind,
                places[kind.id],
                self.clashes,
                self.first[kind.id],
                earthed=kind.id in self.question.earthed,
                strict=kind.id in self.strict,
            )
        )

    def _ranks(self) -> dict[tuple[str, Loaded, str], int]:
        every = {
            (p.kind, p.loaded, p.port) for o in self.classes for b in o.bundles for p in b.places
        }
        return {
            place: n for n, place in enumerate(sorted(every, key=lambda p: (p[0], len(p[1]), p)))
        }

    def _seats(self, number: int, one: Class) -> None:
        """The columns of one class."""
        by_kind: dict[str, list[int]] = defaultdict(list)
        for n, group in enumerate(self.groups):
            by_kind[group.kind.id].append(n)
        size = len(one.members)
        ranks: dict[Content, int] = {}
        for _, content in one.seats:
            ranks.setdefault(content, len(ranks))
        for b, bundle in enumerate(one.bundles):
            single = bundle.contents[0] if len(bundle.contents) == 1 else None
            spots: dict[Spot, int] = {}
            for place in bundle.places:
                rank = self._rank[place.kind, place.loaded, place.port]
                costs = {"order": rank} if single is None else _costs(single, rank + ranks[single])
                alike = sum(self.first[place.kind][p] == place.port for p in place.loaded)
                for n in by_kind[place.kind]:
                    group = self.groups[n]
                    column = self.model.column(min(size, group.count * alike), costs, fine=True)
                    spots[Spot(n, place)] = column
                    self.at[Spot(n, place)].append(column)
                    self.of_class[number].append(column)
                    if place.label and place.kind in self.question.earthed:
                        self.earthed[number].append(column)
                    if single is not None:
                        self._takes(column, single)
            contents: dict[Content, int] = {}
            if single is None:
                for content in bundle.contents:
                    column = self.model.column(size, _costs(content, ranks[content]), fine=True)
                    contents[content] = column
                    self._takes(column, content)
                sums = dict.fromkeys(spots.values(), 1) | dict.fromkeys(contents.values(), -1)
                self.model.row(0.0, 0.0, sums)
            self.taken.append(Taken(number=number, bundle=b, spots=spots, contents=contents))

    def _takes(self, column: int, content: Content) -> None:
        for part, count in Counter(content.parts).items():
            self.parts[part][column] = count

    def _device_rows(self) -> None:
        for one, columns in zip(self.classes, self.of_class, strict=True):
            if columns:
                self.model.row(-INFINITE, float(len(one.members)), dict.fromkeys(columns, 1))

    def _charger_rows(self) -> None:
        """No more chargers than there are; and who sits at a port, for each way to load it."""
        for n, group in enumerate(self.groups):
            self.model.row(-INFINITE, float(group.count), dict.fromkeys(self.ways[n], 1))
            sitting: dict[tuple[Loaded, str, Label], dict[int, int]] = defaultdict(dict)
            loading: dict[tuple[Loaded, str, Label], dict[int, int]] = defaultdict(dict)
            for spot, columns in self.at.items():
                if spot.group == n:
                    place = spot.place
                    sitting[place.loaded, place.port, group.label(place)] |= dict.fromkeys(
                        columns, 1
                    )
            for way, column in zip(group.ways, self.ways[n], strict=True):
                labels = way.labels or (0,) * len(way.loaded)
                first = self.first[group.kind.id]
                for port, label in zip(way.loaded, labels, strict=True):
                    sits = loading[way.loaded, first[port], label]
                    sits[column] = sits.get(column, 0) - 1
            low = 0.0 if group.kind.spare_ports_blocked else -INFINITE
            for key in dict.fromkeys((*sitting, *loading)):
                self.model.row(low, 0.0, sitting[key] | loading[key])

    def _unit_rows(self, n: int, group: Group) -> None:
        """On a single unit, of two labels that must not meet only one; that may, at a cost."""
        if group.kind.id in self.question.earthed:
            return
        spots = [spot for spot in self.at if spot.group == n and spot.place.label]
        met = labels_met([spot.place for spot in spots], self.clashes)
        for a, b in sorted(self.clashes.certain):
            if a in met and b in met:
                side = self.model.column(1, {})
                for label, high, sign in ((a, 0.0, -1), (b, 1.0, 1)):
                    by_port: dict[str, dict[int, int]] = defaultdict(dict)
                    for spot in spots:
                        if spot.place.label == label:
                            by_port[spot.place.port] |= dict.fromkeys(self.at[spot], 1)
                    for port, entries in by_port.items():
                        alike = list(self.first[group.kind.id].values()).count(port)
                        self.model.row(-INFINITE, high * alike, entries | {side: sign * alike})
        on = {column for spot in spots for column in self.at[spot]}
        for labels in sorted(self.clashes.unsure):
            if labels[0] in met and labels[1] in met:
                for pair in self.clashes.pairs[labels]:
                    entries = {
                        column: 1
                        for number in self._alone(pair)
                        for column in self.of_class[number]
                        if column in on
                    }
                    self._both(entries)

    def _alone(self, pair: tuple[str, str]) -> Iterator[int]:
        """The classes of two devices that are alone in theirs."""
        for number, one in enumerate(self.classes):
            if one.members[0] in pair:
                yield number

    def _both(self, entries: dict[int, int]) -> None:
        """If both of a pair are here, harm is open for each of them."""
        both = self.model.column(1, {"harm": 2})
        self.model.row(-INFINITE, 1.0, entries | {both: -1})

    def _order_rows(self) -> None:
        """Of units that are taken one by one, an earlier one is used first."""
        for n in range(1, len(self.groups)):
            if self.groups[n].kind.id == self.groups[n - 1].kind.id:
                entries = dict.fromkeys(self.ways[n], 1) | dict.fromkeys(self.ways[n - 1], -1)
                self.model.row(-INFINITE, 0.0, entries)

    def _earth_rows(self) -> None:
        """Chargers with earthed negatives are one charger to two grounds that must not meet."""
        on_earth: dict[Label, list[int]] = defaultdict(list)
        for number, one in enumerate(self.classes):
            if self.earthed[number]:
                on_earth[self.clashes.label[one.members[0]]].append(number)
        for a, b in sorted(self.clashes.certain):
            if not (on_earth[a] and on_earth[b]):
                continue
            side = self.model.column(1, {})
            for label, low in ((a, True), (b, False)):
                for number in on_earth[label]:
                    size = len(self.classes[number].members)
                    entries = dict.fromkeys(self.earthed[number], 1)
                    entries[side] = -size if low else size
                    self.model.row(-INFINITE, 0.0 if low else float(size), entries)
        for labels in sorted(self.clashes.unsure):
            for pair in self.clashes.pairs[labels]:
                sides = [self.earthed[number] for number in self._alone(pair)]
                if len(sides) == 2 and all(sides):
                    self._both({column: 1 for side in sides for column in side})

    def _money(self) -> None:
        """What is taken beyond the shelf is bought, within the budget."""
        asked = self.question
        bought: dict[int, int] = {}
        for part, entries in sorted(self.parts.items()):
            most = sum(self.model.uppers[column] * n for column, n in entries.items())
            price = asked.prices.get(part, 0)
            buy = self.model.column(most, {"cents": price}, fine=True)
            bought[buy] = price
            self.model.row(-INFINITE, float(asked.stock.get(part, 0)), entries | {buy: -1})
        if asked.budget is not None:
            self.model.row(-INFINITE, float(asked.budget), bought)

    def serving(self, must: Set[str]) -> dict[int, int]:
        """Weights of which the sum is less by one for each device of `must` that has a seat.

        To be asked before anything is solved: it adds columns.
        """
        weights = {}
        for one, columns in zip(self.classes, self.of_class, strict=True):
            wanted = len(must & set(one.members))
            if wanted and columns:
                seated = self.model.column(wanted, {}, fine=True)
                self.model.row(-INFINITE, 0.0, {seated: 1, **dict.fromkeys(columns, -1)})
                weights[seated] = -1
        return weights


def _costs(content: Content, rank: int) -> dict[str, int]:
    """What a seat costs at each level, the last of which tells equals apart."""
    return {**dict(zip(SEAT_LEVELS, content.costs, strict=True)), "order": rank}
