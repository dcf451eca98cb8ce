"""The question of sharing as plain data: what may sit where, and what it costs."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

Company: TypeAlias = frozenset[str]


@dataclass(frozen=True, kw_only=True)
class Kind:
    """A kind of charger.

    Parameters
    ----------
    idle_companies
        For every set of loaded ports, the ports that may then be in use: the same set where
        spare ports are blocked, all of them where they may be used.
    """

    id: str
    count: int
    ports: tuple[str, ...]
    spare_ports_blocked: bool

    def company(self, loaded: Company) -> Company:
        """The ports that may be in use when those are loaded."""
        return loaded if self.spare_ports_blocked else frozenset(self.ports)


@dataclass(frozen=True, kw_only=True, slots=True)
class Option:
    """One path of one device at one port, in one company.

    Parameters
    ----------
    harm_unproven
        How many rules leave harm or loss open.
    misbehaves_unproven
        Whether it is not certain to run.
    implausible
        1 if the odds are against its running, else 0.
    stages
        How many parts it has.
    decivolts
        Its contract: of two that serve, the lower does less when something upstream fails.
    parts
        The parts it takes, by id.
    brick_lost
        Whether the device has no brick to stay on.
    isolated
        Whether it is cut off from the charger's negative.
    """

    id: str
    device: str
    kind: str
    port: str
    company: Company
    harm_unproven: int
    misbehaves_unproven: bool
    implausible: int
    irreversible: int
    risks: int
    stages: int
    decivolts: int
    milliwatts: int
    parts: tuple[str, ...]
    isolated: bool
    brick_lost: bool = False


@dataclass(frozen=True, kw_only=True)
class Forbidden:
    """Two devices that must not share a charger's negative, or may not.

    Parameters
    ----------
    certain
        True: never. False: it is not known, and counts as harm unproven.
    """

    a: str
    b: str
    certain: bool


@dataclass(frozen=True, kw_only=True)
class Question:
    """All that the assignment needs to know.

    Parameters
    ----------
    blinks
        For each device and kind of charger, what a neighbour's change means: 0 nothing, 1
        misbehaving not ruled out, 2 loss not ruled out, 3 not to be allowed.
    earthed
        Kinds of charger whose negatives are tied to earth, and so to each other.
    stock
        How many of each part are owned.
    prices
        Price of each part in cents.
    budget
        Most that may be spent, in cents; None without limit.
    """

    kinds: tuple[Kind, ...]
    options: tuple[Option, ...]
    forbidden: tuple[Forbidden, ...] = ()
    blinks: Mapping[tuple[str, str], int] = field(default_factory=dict)
    earthed: frozenset[str] = frozenset()
    stock: Mapping[str, int] = field(default_factory=dict)
    prices: Mapping[str, int] = field(default_factory=dict)
    budget: int | None = None


@dataclass(frozen=True, kw_only=True, order=True)
class Seat:
    """A device on a port of a charger: `unit` tells chargers of one kind apart, from 1."""

    kind: str
    unit: int
    port: str
    device: str
    option: str
