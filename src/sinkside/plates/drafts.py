"""A rating in the making: one printed voltage with the facts gathered round it."""

from dataclasses import dataclass, field, replace

from sinkside.plates.items import Item, Mark, Ports, Quantity
from sinkside.plates.reading import type_of_profile


@dataclass(kw_only=True, slots=True)
class Stretch:
    """The part of a plate that one label or one port rules.

    Parameters
    ----------
    side
        `INPUT`, `OUTPUT`, `BOTH`, or empty before any label.
    marks
        Kinds of current printed with the label: `AC INPUT`.
    ports
        The ports that the stretch is about.
    usb
        Whether a word of the USB standards stands in it.
    header
        Whether both labels stand above, as the heads of two columns.
    has_volts
        Whether a voltage stands in it.
    labelled
        Whether a label opened it, not a port under the label before.
    """

    side: str = ""
    marks: list[Mark] = field(default_factory=list)
    ports: Ports | None = None
    usb: bool = False
    header: bool = False
    has_volts: bool = False
    labelled: bool = False


@dataclass(kw_only=True, slots=True)
class Draft:
    """One printed voltage, or several alternatives, with its facts.

    Parameters
    ----------
    volts
        The voltage as printed.
    stretch
        Where it stands.
    line
        The line of the text, from 0.
    marks
        Signs for the kind of current: before, directly behind, or after the other facts.
    led
        Whether the first mark stands in front, and so may speak for a list.
    adapter
        The words "AC adapter" behind the voltage.
    moved
        Whether the label above cannot be meant for it.
    power_is_most, power_apart
        Whether its power is called a maximum, and whether that stands on a later line.
    """

    volts: Quantity
    stretch: Stretch
    line: int
    marks: list[Mark] = field(default_factory=list)
    led: bool = False
    current: Quantity | None = None
    peak: Quantity | None = None
    power: Quantity | None = None
    power_is_most: bool = False
    power_apart: bool = False
    frequency: Quantity | None = None
    ports: Ports | None = None
    profile: type_of_profile = "fixed"
    notes: list[str] = field(default_factory=list)
    adapter: Item | None = None
    moved: bool = False

    @property
    def side(self) -> str:
        """The side that the label says; empty if none does, or if the label cannot be meant."""
        return "" if self.moved else self.stretch.side

    @property
    def spans(self) -> bool:
        """Whether the voltage is one range."""
        return len(self.volts.amounts) == 1 and (
            self.volts.amounts[0].low < self.volts.amounts[0].high
        )


@dataclass(kw_only=True, slots=True)
class Loose:
    """A figure that waits for its voltage."""

    quantity: Quantity
    roles: set[str]
    stretch: Stretch
    line: int


def taken(draft: Draft, loose: Loose) -> bool:
    """Give a figure to a voltage.

    Returns
    -------
    bool
        False if the voltage has such a figure already.
    """
    figure, peak = loose.quantity, "PEAK" in loose.roles
    if figure.unit == "HZ":
        if draft.frequency is None:
            draft.frequency = figure
        return draft.frequency is figure
    if figure.unit == "W":
        if draft.power is None:
            draft.power, draft.power_is_most = figure, "MAX" in loose.roles
            draft.power_apart = loose.line > draft.line
        return draft.power is figure
    if peak and len(figure.amounts) == 2 and draft.current is None and draft.peak is None:
        # `2A/3A peak`
        steady, most = sorted(figure.amounts, key=lambda amount: amount.high)
        draft.current = replace(figure, amounts=(steady,))
        draft.peak = replace(figure, amounts=(most,))
        return True
    if peak:
        if draft.peak is None:
            draft.peak = figure
        return draft.peak is figure
    if draft.current is None:
        draft.current = figure
    return draft.current is figure
