"""Gathered facts become ratings, and what does not agree becomes an ambiguity."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import groupby

from sinkside.plates.drafts import Draft, Loose, Stretch, taken
from sinkside.plates.gathering import Gathered
from sinkside.plates.items import Amount, Item, Ports, Quantity
from sinkside.plates.kinds import is_mains, kind
from sinkside.plates.reading import type_of_kind

# Watts may differ from volts times amperes by this much: plates round both.
_TOLERANCE = 0.15
# Below this an alternating supply is a transformer, whose plate gives volts times amperes; above
# it watts fall short of them by the power factor.
_EXTRA_LOW_V = 60.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Worked:
    """One rating with its side and the draft it came from."""

    draft: Draft
    side: str
    kind: type_of_kind
    volts: Amount
    current_a: float | None
    peak_current_a: float | None
    power_w: float | None


@dataclass(frozen=True, kw_only=True, slots=True)
class Shared:
    """Ports with their power in W."""

    ports: Item
    names: tuple[str, ...]
    power_w: tuple[float, ...]


@dataclass(kw_only=True, slots=True)
class Settled:
    """Ratings before they get their places.

    Parameters
    ----------
    ratings
        In the order of the text, each with its side.
    shared
        Ports with their power.
    total_power_w
        Power over all outputs.
    doubts
        Pieces that can be read in more than one way, with the reason.
    ignored
        Pieces that say nothing about ratings.
    """

    ratings: list[Worked] = field(default_factory=list)
    shared: list[Shared] = field(default_factory=list)
    total_power_w: float | None = None
    doubts: list[tuple[Item, str]] = field(default_factory=list)
    ignored: list[Item] = field(default_factory=list)

    def doubt(self, item: Item, why: str) -> None:
        """Note that a piece can be read in more than one way."""
        self.doubts.append((item, why))

    def take_total(self, power: Quantity) -> None:
        """Take a power as the total, or doubt it if another total is printed."""
        if self.total_power_w is None:
            self.total_power_w = _most(power)
        elif self.total_power_w != _most(power):
            self.doubt(power, "another total power is printed")


def settled(found: Gathered) -> Settled:
    """Make ratings of drafts.

    Parameters
    ----------
    found
        What the walk along the plate gathered.
    """
    result = Settled(doubts=list(found.doubts), ignored=list(found.ignored))
    if found.total:
        result.take_total(found.total)
    for ports in found.shared:
        if ports.power:
            _share(ports, ports.power, result)
    for _, stretch in groupby(found.drafts, key=lambda draft: id(draft.stretch)):
        _place_power_of_list(list(stretch), result)
    for loose in found.loose:
        _place(loose, found.drafts, result)
    labelled_output = any(draft.side in {"OUTPUT", "BOTH"} for draft in found.drafts)
    mains_inputs = {id(d.stretch) for d in found.drafts if d.side == "INPUT" and is_mains(d)}
    lead: Draft | None = None
    for draft in found.drafts:
        lead = draft if draft.led else lead
        leads = lead is not None and lead.stretch is draft.stretch and lead.line == draft.line
        said, why = kind(draft, lead.marks if lead and leads else ())
        if why:
            result.doubt(draft.volts, why)
        beside_mains = id(draft.stretch) in mains_inputs and not labelled_output
        if beside_mains and not is_mains(draft):
            result.doubt(draft.volts, "stands behind the input, but can hardly be one beside mains")
            draft.stretch = Stretch(usb=draft.stretch.usb)
        if draft.stretch.header and not is_mains(draft):
            result.doubt(draft.volts, "stands in a table under both labels")
        elif not draft.side and labelled_output and not is_mains(draft):
            result.doubt(draft.volts, "stands without a label beside ratings that have one")
        _work(draft, said, result)
    return result


def _most(quantity: Quantity) -> float:
    if quantity.summed:
        return sum(amount.high for amount in quantity.amounts)
    return max(amount.high for amount in quantity.amounts)


def _share(ports: Ports, power: Quantity, result: Settled) -> None:
    """Note the power of ports; figures that do not go with the ports are doubtful."""
    figures = tuple(amount.high for amount in power.amounts)
    _note_power(ports, figures, result)
    if len(figures) not in {1, len(ports.names)}:
        result.doubt(power, "not one figure for each port")
    for note in power.notes:
        result.doubt(power, note)


def _note_power(ports: Ports, power_w: tuple[float, ...], result: Settled) -> None:
    """Ports used together share the power, `C1/C2` have it each."""
    sets = [ports.names] if ports.together else [(name,) for name in ports.names]
    result.shared.extend(Shared(ports=ports, names=names, power_w=power_w) for names in sets)


def _place_power_of_list(drafts: Sequence[Draft], result: Settled) -> None:
    """A power behind a list is the port's or the plate's: `5V⎓2.4A / 9V⎓2A 18W MAX`."""
    last = drafts[-1]
    several = len(drafts) > 1 or len(last.volts.amounts) > 1
    if not several or last.power is None or any(draft.power for draft in drafts[:-1]):
        return
    own = len(last.volts.amounts) == 1 and _agrees(last, last.volts.amounts[0])
    if own and not last.power_is_most:
        return
    power, last.power = last.power, None
    ports = last.ports
    if ports:
        _note_power(ports, (_most(power),), result)
    elif last.side == "INPUT":
        result.doubt(power, "a power for several input voltages")
    else:
        result.take_total(power)


def _place(loose: Loose, drafts: Sequence[Draft], result: Settled) -> None:
    """Find a place for a figure that stands apart from its voltage."""
    figure, side = loose.quantity, loose.stretch.side
    mine = [draft for draft in drafts if draft.side == side]
    open_ones = [draft for draft in mine if _lacks(draft, figure.unit)]
    if len(open_ones) == 1 and len(mine) == 1 and taken(open_ones[0], loose):
        return
    if figure.unit == "HZ":
        result.ignored.append(figure)
    elif figure.unit == "W" and side != "INPUT" and _is_total(figure, side, drafts):
        result.take_total(figure)
    elif figure.unit == "A" and len(open_ones) == 1 and taken(open_ones[0], loose):
        return
    else:
        result.doubt(figure, "belongs to no voltage")


def _lacks(draft: Draft, unit: str) -> bool:
    figure = {"A": draft.current, "W": draft.power, "HZ": draft.frequency}[unit]
    return figure is None


def _is_total(figure: Quantity, side: str, drafts: Sequence[Draft]) -> bool:
    """Whether a lone power is that of all outputs: so labelled, or equal to the largest output."""
    if side == "OUTPUT":
        return True
    largest = max(
        (
            abs(draft.volts.amounts[-1].high) * _most(draft.current)
            for draft in drafts
            if draft.current and draft.side != "INPUT" and not is_mains(draft)
        ),
        default=0.0,
    )
    return abs(_most(figure) - largest) <= _TOLERANCE * largest if largest else False


def _work(draft: Draft, said: type_of_kind, result: Settled) -> None:
    """Make the ratings of one draft: one for each alternative, on each of its sides."""
    count = len(draft.volts.amounts)
    for note in draft.notes:
        result.doubt(draft.volts, note)
    if is_mains(draft) and min(amount.high for amount in draft.volts.amounts) < _EXTRA_LOW_V:
        result.doubt(draft.volts, "both sides of a transformer, or alternatives")
    for figure in (draft.current, draft.peak, draft.power):
        if figure:
            _doubt_figure(figure, count, is_mains(draft), result)
    sides = {"": ["INPUT" if is_mains(draft) else "OUTPUT"], "BOTH": ["INPUT", "OUTPUT"]}
    for index, volts in enumerate(draft.volts.amounts):
        power = _figure(draft.power, index, count)
        if power is not None and not _agrees(draft, volts, index, said):
            result.doubt(draft.power or draft.volts, "the power is not volts times amperes")
        for side in sides.get(draft.side, [draft.side]):
            result.ratings.append(
                Worked(
                    draft=draft,
                    side=side,
                    kind=said,
                    volts=volts,
                    current_a=_figure(draft.current, index, count),
                    peak_current_a=_figure(draft.peak, index, count),
                    power_w=power,
                )
            )


def _doubt_figure(figure: Quantity, count: int, mains: bool, result: Settled) -> None:
    for note in figure.notes:
        result.doubt(figure, note)
    if len(figure.amounts) not in {1, count}:
        result.doubt(figure, "several figures for one voltage")
    spans = any(amount.low < amount.high for amount in figure.amounts)
    # On the mains the larger current goes with the lower voltage, so a range is plain there.
    if spans and not mains:
        result.doubt(figure, "a range where one figure is expected")


def _figure(quantity: Quantity | None, index: int, count: int) -> float | None:
    """The figure that goes with one of several alternatives."""
    if quantity is None:
        return None
    if len(quantity.amounts) == count:
        return quantity.amounts[index].high
    return _most(quantity)


def _agrees(draft: Draft, volts: Amount, index: int = 0, said: type_of_kind = "unknown") -> bool:
    """Whether the power is volts times amperes within the tolerance, or nothing can be told."""
    count = len(draft.volts.amounts)
    power_w = _figure(draft.power, index, count)
    current_a = _figure(draft.current, index, count)
    if draft.power is None or power_w is None or current_a is None:
        return True
    low_w, high_w = sorted((abs(volts.low) * current_a, abs(volts.high) * current_a))
    if power_w > high_w * (1.0 + _TOLERANCE):
        return False
    active = not draft.power.apparent and abs(volts.high) > _EXTRA_LOW_V and said != "dc"
    return active or power_w >= low_w * (1.0 - _TOLERANCE)
