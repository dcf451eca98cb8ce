"""Direct or alternating: what the signs, words and frequencies of a plate say, never a guess."""

from collections.abc import Sequence

from sinkside.plates.drafts import Draft
from sinkside.plates.items import Mark
from sinkside.plates.reading import type_of_kind

# A USB port gives at most 48 V (USB Power Delivery R3.1, EPR; from memory).
_HIGHEST_USB_V = 48.0
_LOWEST_MAINS_V = 85.0


def is_mains(draft: Draft) -> bool:
    """Whether a voltage is the mains: high enough, and not called direct."""
    high = max(amount.high for amount in draft.volts.amounts)
    direct = any(mark.says == "DC" for mark in draft.marks)
    return high >= _LOWEST_MAINS_V and not direct


def kind(draft: Draft, lead: Sequence[Mark]) -> tuple[type_of_kind, str]:
    """The kind of current of one voltage.

    Parameters
    ----------
    draft
        The voltage with its facts.
    lead
        Marks that stand in front of the first voltage of the same list.

    Returns
    -------
    tuple
        The kind, and why it can be read in more than one way; empty if it cannot.

    Notes
    -----
    Signs at the voltage come first, those at its label next. A frequency says alternating, since
    nothing else has one; words of the USB standards say direct. A sign before the first voltage
    of a list is taken for the list, and told as doubtful.
    """
    marks = draft.marks if draft.moved else [*draft.marks, *draft.stretch.marks]
    said = {mark.says for mark in marks}
    doubtful = [mark.note for mark in marks if mark.note]
    if "BOTH" in said:
        return "unknown", "says both direct and alternating current"
    if draft.frequency:
        said.add("AC")
    if said >= {"DC", "AC"}:
        if draft.frequency and not any(mark.says == "AC" for mark in marks):
            return "unknown", "says direct current, but has a frequency"
        return "unknown", "signs for direct and for alternating current contradict each other"
    if said:
        return ("dc" if "DC" in said else "ac"), (doubtful[0] if doubtful else "")
    usb = draft.stretch.usb or (draft.ports is not None and draft.ports.usb)
    high = max(amount.high for amount in draft.volts.amounts)
    if (usb or draft.profile != "fixed") and high <= _HIGHEST_USB_V:
        return "dc", ""
    if draft.adapter:
        return "unknown", "'AC adapter' names a brick for the mains, not what comes out of it"
    if len({mark.says for mark in lead}) == 1 and lead[0].says != "BOTH":
        return ("dc" if lead[0].says == "DC" else "ac"), (
            "the sign for the kind of current stands at the first voltage of the list only"
        )
    return "unknown", "no sign says whether this is direct or alternating current"
