"""Ratings and shared power before they get their places in the text as given."""

from dataclasses import dataclass, field

from sinkside.plates.drafts import Draft
from sinkside.plates.items import Amount, Item, Ports
from sinkside.plates.reading import type_of_kind


@dataclass(frozen=True, kw_only=True, slots=True)
class Worked:
    """One rating and the draft it came from."""

    draft: Draft
    kind: type_of_kind
    volts: Amount
    current_a: float | None
    peak_current_a: float | None
    power_w: float | None


@dataclass(kw_only=True, slots=True)
class Shared:
    """Ports with their power in W and with the ratings that they have together."""

    ports: Ports
    names: tuple[str, ...]
    power_w: tuple[float, ...] = ()
    ratings: list[Worked] = field(default_factory=list)


@dataclass(kw_only=True, slots=True)
class Settled:
    """What a plate says.

    Parameters
    ----------
    input, output
        Ratings in the order of the text.
    shared
        Ports with their power.
    total_power_w
        Power over all outputs.
    doubts
        Pieces that can be read in more than one way, with the reason.
    ignored
        Pieces that say nothing about ratings.
    """

    input: list[Worked] = field(default_factory=list)
    output: list[Worked] = field(default_factory=list)
    shared: list[Shared] = field(default_factory=list)
    total_power_w: float | None = None
    doubts: list[tuple[Item, str]] = field(default_factory=list)
    ignored: list[Item] = field(default_factory=list)

    def doubt(self, item: Item, why: str) -> None:
        """Note that a piece can be read in more than one way."""
        self.doubts.append((item, why))
