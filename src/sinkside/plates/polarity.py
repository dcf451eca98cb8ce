"""Polarity of the centre contact, from words and drawings."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import groupby

from sinkside.plates.items import Drawn, Pole, PoleRun
from sinkside.plates.reading import type_of_centre

_PLACES = {"CENTRE", "SLEEVE", "GROUND"}
_SIGNS = {
    "POSITIVE": "+",
    "RINGED_PLUS": "+",
    "PLUS": "+",
    "NEGATIVE": "-",
    "RINGED_MINUS": "-",
    "MINUS": "-",
    "LOOSE_MINUS": "-",
    "EITHER": "±",
}
_MEANT = {"RINGED_PLUS", "RINGED_MINUS", "POSITIVE", "NEGATIVE"}
_BY_CENTRE: dict[tuple[str, str], type_of_centre] = {
    ("CENTRE", "+"): "positive",
    ("CENTRE", "-"): "negative",
    ("SLEEVE", "+"): "negative",
    ("SLEEVE", "-"): "positive",
}


@dataclass(frozen=True, kw_only=True, slots=True)
class Evidence:
    """What one stretch of the text says about the centre, or why that cannot be told."""

    centre: type_of_centre
    why: str
    start: int
    end: int


def evidence(item: PoleRun | Drawn) -> Evidence | None:
    """What a run of words or a drawing says about the centre; None if it is about nothing.

    Notes
    -----
    Contacts and signs go in pairs. Which comes first is told by which comes first in the run:
    `centre + sleeve -`, but `+ centre - sleeve`. A dash in front of `- centre +` is a bullet.
    """
    if isinstance(item, Drawn):
        return Evidence(centre=item.centre, why=item.why, start=item.start, end=item.end)
    poles = [pole for pole in item.poles if pole.kind in _PLACES or pole.kind in _SIGNS]
    groups = [list(group) for _, group in groupby(poles, key=lambda pole: pole.kind in _PLACES)]
    if not groups:
        return None
    start, end = groups[0][0].start, groups[-1][-1].end
    if len(groups) == 1:
        # Bare signs may be anything; ringed ones and words are meant.
        meant = any(pole.kind in _MEANT and pole.end - pole.start not in {2, 3} for pole in poles)
        why = "signs of polarity without a contact" if meant else ""
        return Evidence(centre="unknown", why=why, start=start, end=end) if why else None
    found, why = _paired(groups, item.poles)
    if not found and not why:
        return None
    centre: type_of_centre = found.pop() if len(found) == 1 and not why else "unknown"
    if centre == "unknown" and not why:
        why = "the contacts carry signs that contradict each other"
    return Evidence(centre=centre, why=why, start=start, end=end)


def _paired(groups: list[list[Pole]], poles: Sequence[Pole]) -> tuple[set[type_of_centre], str]:
    """What each pair of contact and sign says, and why that may be doubtful."""
    sign_first = groups[0][0].kind in _SIGNS
    if sign_first and len(groups) % 2:
        if [pole.kind for pole in groups[0]] not in (["MINUS"], ["LOOSE_MINUS"]):
            return set(), "a contact with a sign on either side"
        groups, sign_first = groups[1:], False
    found: set[type_of_centre] = set()
    doubtful: set[type_of_centre] = set()
    for index in range(0, len(groups) - 1, 2):
        pair = groups[index : index + 2]
        places, signs = reversed(pair) if sign_first else pair
        loose = any(pole.kind == "LOOSE_MINUS" for pole in signs)
        (doubtful if loose else found).update(_said(places, signs))
    lone = sign_first and len(groups) == 2 and [pole.kind for pole in groups[0]] == ["MINUS"]
    if lone and found and not _bracketed(groups[0][0], poles):
        return found, "a minus, or a dash in front of the word"
    if doubtful and not found:
        return doubtful, "a minus, or a dash between two statements"
    return found, ""


def _said(places: Sequence[Pole], signs: Sequence[Pole]) -> Iterable[type_of_centre]:
    """What contacts and signs that stand side by side say about the centre.

    Notes
    -----
    `inner/outer: +/-` goes pair by pair; contacts and signs that differ in number say both.
    """
    contacts = [kind for kind, _ in groupby(pole.kind for pole in places)]
    values = [value for value, _ in groupby(_SIGNS[pole.kind] for pole in signs)]
    if len(contacts) != len(values) or "±" in values:
        return {"positive", "negative"}
    said = zip(contacts, values, strict=True)
    return {_BY_CENTRE[pair] for pair in said if pair in _BY_CENTRE}


def _bracketed(pole: Pole, poles: Sequence[Pole]) -> bool:
    """Whether a sign is followed by its closing bracket: `(-) centre`."""
    index = list(poles).index(pole)
    return index + 1 < len(poles) and poles[index + 1].kind == "RPAR"


def settled(evidences: Sequence[Evidence]) -> tuple[type_of_centre, list[Evidence]]:
    """The centre's sign from all that is said, and the pieces that leave it in doubt.

    Parameters
    ----------
    evidences
        In the order of the text.
    """
    clear = [evidence for evidence in evidences if evidence.centre != "unknown"]
    if not clear:
        return "unknown", list(evidences)
    other = [evidence for evidence in clear if evidence.centre != clear[0].centre]
    if not other:
        return clear[0].centre, []
    first = other[0]
    why = f"says that the centre is {first.centre}, but another place says {clear[0].centre}"
    return "unknown", [Evidence(centre="unknown", why=why, start=first.start, end=first.end)]
