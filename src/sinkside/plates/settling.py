"""Gathered facts become ratings, and what does not agree becomes an ambiguity."""

from collections.abc import Sequence

from sinkside.plates.drafts import Draft
from sinkside.plates.gathering import Gathered
from sinkside.plates.items import Quantity
from sinkside.plates.kinds import is_mains, kind
from sinkside.plates.powers import EXTRA_LOW_V, agrees, figure, place_powers
from sinkside.plates.reading import type_of_kind
from sinkside.plates.results import Settled, Shared, Worked

# The first object of every USB Power Delivery source (USB Power Delivery R3.1; from memory).
_FIRST_USB_V = 5.0


def settled(found: Gathered) -> Settled:
    """Make ratings of drafts.

    Parameters
    ----------
    found
        What the walk along the plate gathered.
    """
    result = Settled(doubts=list(found.doubts), ignored=list(found.ignored))
    place_powers(found, result)
    if found.usb:
        _spread_usb(found.drafts)
    _doubt_missing_labels(found, result)
    lead: Draft | None = None
    for draft in found.drafts:
        lead = draft if draft.led else lead
        leads = lead is not None and lead.stretch is draft.stretch and lead.line == draft.line
        said, why = kind(draft, lead.marks if lead and leads else ())
        if why:
            result.doubt(draft.volts, why)
        _work(draft, said, result)
    result.shared.sort(key=lambda shared: shared.ports.start)
    return result


def _spread_usb(drafts: Sequence[Draft]) -> None:
    """On a plate that speaks of USB, a list that starts at 5 V is a USB list."""
    lists: dict[int, list[Draft]] = {}
    for draft in drafts:
        lists.setdefault(id(draft.stretch), []).append(draft)
    for ratings in lists.values():
        if len(ratings) > 1 and _starts_at_five(ratings[0]):
            ratings[0].stretch.usb = True


def _doubt_missing_labels(found: Gathered, result: Settled) -> None:
    """Tell which ratings may stand on the other side than the one they are put on."""
    labelled_output = any(draft.side in {"OUTPUT", "BOTH"} for draft in found.drafts)
    mains_inputs = {id(d.stretch) for d in found.drafts if d.side == "INPUT" and is_mains(d)}
    bare = [draft for draft in found.drafts if not draft.side and not is_mains(draft)]
    for draft in found.drafts:
        if draft.side == "OUTPUT" and is_mains(draft):
            result.doubt(draft.volts, "mains volts on the side of the output")
        elif is_mains(draft):
            continue
        elif draft.side == "INPUT" and id(draft.stretch) in mains_inputs and not labelled_output:
            result.doubt(draft.volts, "stands behind the input, but can hardly be one beside mains")
            draft.moved = True
        elif draft.stretch.header:
            result.doubt(draft.volts, "stands in a table under both labels")
        elif not draft.side and labelled_output:
            result.doubt(draft.volts, "stands without a label beside ratings that have one")
    listed = any(map(_is_listed, bare)) or (bare and _starts_at_five(bare[0]))
    if len(bare) > 1 and not labelled_output and not listed:
        result.doubt(bare[1].volts, "a second rating without a label: inputs, outputs or one each")


def _starts_at_five(draft: Draft) -> bool:
    """Whether a voltage is the one that every USB list starts with."""
    first = draft.volts.amounts[0]
    return first.low == first.high == _FIRST_USB_V


def _is_listed(draft: Draft) -> bool:
    """Whether a rating shows that it is one of several outputs: USB, a port's name, a rail."""
    signed = draft.volts.amounts[0].low < 0.0
    usb = draft.stretch.usb or draft.ports is not None or draft.profile != "fixed"
    return usb or signed


def _work(draft: Draft, said: type_of_kind, result: Settled) -> None:
    """Make the ratings of one draft: one for each alternative, on each of its sides."""
    count = len(draft.volts.amounts)
    for note in draft.notes:
        result.doubt(draft.volts, note)
    if is_mains(draft) and min(amount.high for amount in draft.volts.amounts) < EXTRA_LOW_V:
        result.doubt(draft.volts, "both sides of a transformer, or alternatives")
    for quantity in (draft.current, draft.peak, draft.power):
        if quantity:
            _doubt_figure(quantity, draft, result)
    for index, volts in enumerate(draft.volts.amounts):
        power_w = figure(draft.power, index, count)
        if power_w is not None and not agrees(draft, volts, index, said):
            result.doubt(draft.power or draft.volts, "the power is not volts times amperes")
        worked = Worked(
            draft=draft,
            kind=said,
            volts=volts,
            current_a=figure(draft.current, index, count),
            peak_current_a=figure(draft.peak, index, count),
            power_w=power_w,
        )
        if worked.peak_current_a is not None and worked.peak_current_a < (worked.current_a or 0.0):
            result.doubt(draft.peak or draft.volts, "a peak below the rated current")
        _put(worked, result)


def _doubt_figure(quantity: Quantity, draft: Draft, result: Settled) -> None:
    """Tell in which way a current or power does not simply go with its voltage."""
    count, figures = len(draft.volts.amounts), len(quantity.amounts)
    for note in quantity.notes:
        result.doubt(quantity, note)
    if figures > 1 and figures != count:
        result.doubt(quantity, "not one figure for each voltage")
    if is_mains(draft):
        # There the larger current goes with the lower voltage, and two figures with two voltages.
        return
    if any(amount.low < amount.high for amount in quantity.amounts):
        result.doubt(quantity, "a range where one figure is expected")
    if draft.volts.amounts[-1].low < 0.0:
        # `±15V 0.5A` is plain: both rails have the current.
        return
    if count > 1 and figures == count:
        result.doubt(quantity, "paired with the voltages in order")
    elif count > 1 and figures == 1 and quantity is draft.current:
        result.doubt(quantity, "one current for several voltages")


def _put(worked: Worked, result: Settled) -> None:
    """Put a rating on its side, or with the ports that have it together."""
    draft = worked.draft
    ports = draft.ports
    if ports and ports.together and len(ports.names) > 1:
        known = [shared for shared in result.shared if shared.ports.start == ports.start]
        if not known:
            known = [Shared(ports=ports, names=ports.names)]
            result.shared.extend(known)
        known[0].ratings.append(worked)
        return
    if draft.side in {"INPUT", "BOTH"} or (not draft.side and is_mains(draft)):
        result.input.append(worked)
    if draft.side in {"OUTPUT", "BOTH"} or (not draft.side and not is_mains(draft)):
        result.output.append(worked)
