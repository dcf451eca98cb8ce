"""What a person may wish of a sharing: each wish as a change to the question."""

from collections.abc import Set
from dataclasses import dataclass, replace
from typing import TypeAlias

from sinkside.sharing.money import money
from sinkside.sharing.question import Question


@dataclass(frozen=True, kw_only=True)
class OffItsBrick:
    """A device is to have a seat."""

    device: str


@dataclass(frozen=True, kw_only=True)
class OnKind:
    """A device is to sit on a kind of charger."""

    device: str
    kind: str


@dataclass(frozen=True, kw_only=True)
class NeverBlinks:
    """A device is never to be put out by a neighbour.

    Parameters
    ----------
    kinds
        Chargers behind which it is not known to ride through a neighbour's change.
    """

    device: str
    kinds: frozenset[str]


@dataclass(frozen=True, kw_only=True)
class Within:
    """What is bought is to cost no more than so many cents."""

    cents: int


@dataclass(frozen=True, kw_only=True)
class SparePortsUsable:
    """Anything may be plugged into the ports that are left."""


Wish: TypeAlias = OffItsBrick | OnKind | NeverBlinks | Within | SparePortsUsable


def wished(question: Question, wish: Wish) -> Question:
    """The question with a wish as one more condition."""
    match wish:
        case OnKind():
            kept = tuple(
                o for o in question.options if o.device != wish.device or o.kind == wish.kind
            )
            return replace(question, options=kept)
        case NeverBlinks():
            never = {(wish.device, kind): 3 for kind in sorted(wish.kinds)}
            return replace(question, blinks={**question.blinks, **never})
        case Within():
            return replace(question, budget=wish.cents)
        case SparePortsUsable():
            kinds = tuple(replace(kind, spare_ports_blocked=False) for kind in question.kinds)
            return replace(question, kinds=kinds)
        case _:
            return question


def meant(wish: Wish) -> Set[str]:
    """The devices that a wish needs to have a seat, beside those that have one."""
    match wish:
        case OffItsBrick() | OnKind() | NeverBlinks():
            return {wish.device}
        case _:
            return set()


def wish_words(wish: Wish, currency: str) -> str:
    """A wish in words."""
    match wish:
        case OffItsBrick():
            return f"{wish.device} off its brick"
        case OnKind():
            return f"{wish.device} on {wish.kind}"
        case NeverBlinks():
            return f"{wish.device} never put out by a neighbour"
        case Within():
            return f"all that is bought within {money(wish.cents, currency)}"
        case _:
            return "any spare port free to be used"
