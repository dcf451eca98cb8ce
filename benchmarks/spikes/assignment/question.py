"""The assignment question as plain data: what `sharing.assign` would be given and give back."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise

LEVELS = (
    "unserved",
    "harm_or_loss_unproven",
    "misbehaves_unproven",
    "irreversibility",
    "cents",
    "residual_risks",
    "milliwatts",
    "chargers",
)
Vector = tuple[int, ...]


class NotAPlan(Exception):
    """A set of seats breaks a hard condition; the text says which."""


@dataclass(frozen=True, kw_only=True, slots=True)
class ChargerKind:
    """Interchangeable chargers: the same ports, the same sharing table, the same earthing."""

    id: str
    count: int
    ports: tuple[str, ...]
    earthed: bool


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """One path from one port of one charger kind to one device, at one set of costs.

    `loaded` holds the sets of loaded ports (bit masks, own port included) in which the path is
    this good in every occupancy that can then occur. A larger loaded set can only worsen a
    path, so the family is closed downwards. A path that turns from proven to unproven when a
    neighbour is loaded is two options, the dearer one with the larger family.
    """

    kind: str
    port: int
    path: str
    loaded: frozenset[int]
    harm_or_loss_unproven: int
    misbehaves_unproven: int
    irreversibility: int
    cents: int
    residual_risks: int
    milliwatts: int
    parts: tuple[tuple[str, int], ...]
    isolated: bool
    blinks: bool

    @property
    def costs(self) -> Vector:
        """The option's share of levels 2 to 7, cents without bought parts."""
        return (
            self.harm_or_loss_unproven,
            self.misbehaves_unproven,
            self.irreversibility,
            self.cents,
            self.residual_risks,
            self.milliwatts,
        )


@dataclass(frozen=True, kw_only=True, slots=True)
class Device:
    """A device, how its lead is used, and every seat it could take."""

    id: str
    plugged_when_used: bool
    options: tuple[Option, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class Part:
    """Owned pieces of one part; `cents` is the price of one more, None if it cannot be had."""

    id: str
    stock: int
    cents: int | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Question:
    """Everything that decides who sits where; ids ascending, `clashes` as sorted pairs."""

    kinds: tuple[ChargerKind, ...]
    devices: tuple[Device, ...]
    parts: tuple[Part, ...]
    clashes: frozenset[tuple[str, str]]
    budget_cents: int | None


@dataclass(frozen=True, kw_only=True, slots=True, order=True)
class Seat:
    """One device on one port of one charger (`unit` counts from 0 within the kind)."""

    device: str
    kind: str
    unit: int
    port: int
    path: str


@dataclass(frozen=True, kw_only=True, slots=True)
class Answer:
    """Seats, the eight levels they reach, and the proven lower bound of each level."""

    seats: tuple[Seat, ...]
    levels: Vector
    bounds: Vector

    @property
    def proven(self) -> bool:
        """Whether every level meets its bound."""
        return self.levels == self.bounds


def levels_of(question: Question, chosen: Iterable[tuple[Seat, Option]]) -> Vector:
    """Recompute the eight levels from seats alone, in integers.

    Parameters
    ----------
    question
        What was asked.
    chosen
        Each seat with the option it takes; the option fixes the cost that is claimed.

    Returns
    -------
    tuple of int
        The levels in the order of `LEVELS`.

    Raises
    ------
    NotAPlan
        If any hard condition is broken.
    """
    devices = {device.id: device for device in question.devices}
    kinds = {kind.id: kind for kind in question.kinds}
    units: dict[tuple[str, int], list[tuple[Seat, Option]]] = defaultdict(list)
    seated: dict[str, tuple[Seat, Option]] = {}
    for seat, option in chosen:
        if seat.device in seated:
            raise NotAPlan(f"{seat.device} has two seats")
        if option not in devices[seat.device].options:
            raise NotAPlan(f"{seat.device} has no such option as {option.path}")
        if (option.kind, option.port, option.path) != (seat.kind, seat.port, seat.path):
            raise NotAPlan(f"{seat.device} does not sit where its option is")
        if not 0 <= seat.unit < kinds[seat.kind].count:
            raise NotAPlan(f"there is no {seat.kind} number {seat.unit}")
        seated[seat.device] = seat, option
        units[seat.kind, seat.unit].append((seat, option))
    for (kind, unit), sitting in units.items():
        _check_unit(f"{kind} number {unit}", sitting, devices)
    _check_clashes(question, seated, kinds)
    sums = [sum(column) for column in zip(*(o.costs for _, o in seated.values()), strict=True)]
    costs = sums or [0] * 6
    costs[3] += bought_cents(question.parts, (option for _, option in seated.values()))
    if question.budget_cents is not None and costs[3] > question.budget_cents:
        raise NotAPlan(f"{costs[3]} cents is over the budget of {question.budget_cents}")
    return (len(question.devices) - len(seated), *costs, len(units))


def bought_cents(parts: Iterable[Part], options: Iterable[Option]) -> int:
    """Price the parts that the options draw beyond the stock."""
    used: dict[str, int] = defaultdict(int)
    for option in options:
        for name, number in option.parts:
            used[name] += number
    total = 0
    for part in parts:
        missing = used[part.id] - part.stock
        if missing > 0:
            if part.cents is None:
                raise NotAPlan(f"{part.id} is short by {missing} and cannot be bought")
            total += missing * part.cents
    return total


def _check_unit(
    name: str, sitting: list[tuple[Seat, Option]], devices: Mapping[str, Device]
) -> None:
    ports = sorted(seat.port for seat, _ in sitting)
    if any(one == other for one, other in pairwise(ports)):
        raise NotAPlan(f"{name} has two devices on one port")
    mask = sum(1 << port for port in ports)
    for seat, option in sitting:
        if mask not in option.loaded:
            raise NotAPlan(f"{option.path} of {seat.device} does not hold on {name} as loaded")
        if option.blinks and any(
            devices[other.device].plugged_when_used for other, _ in sitting if other != seat
        ):
            raise NotAPlan(f"{seat.device} would blink on {name}")


def _check_clashes(
    question: Question,
    seated: Mapping[str, tuple[Seat, Option]],
    kinds: Mapping[str, ChargerKind],
) -> None:
    for one, other in question.clashes:
        if one in seated and other in seated:
            (seat_1, option_1), (seat_2, option_2) = seated[one], seated[other]
            if option_1.isolated or option_2.isolated:
                continue
            together = (seat_1.kind, seat_1.unit) == (seat_2.kind, seat_2.unit)
            if together or (kinds[seat_1.kind].earthed and kinds[seat_2.kind].earthed):
                raise NotAPlan(f"the grounds of {one} and {other} are shorted")
