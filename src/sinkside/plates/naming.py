"""Pieces get their meaning from the vocabulary: words, phrases, and units behind numbers."""

from collections.abc import Sequence
from dataclasses import replace

from sinkside.plates.lexemes import Lexeme
from sinkside.plates.words import PHRASES, Unit, folded, kind_of_word, latin, unit_of

_WORDS = {"WORD", "SCRIPT"}
# Between the words of a phrase there may be one of these, or only space.
_INSIDE_A_PHRASE = {"DASH", "'"}
_BEFORE_TIMES = {"NUMBER", "V", "A", "W", "RPAR"}
_SPANS = {"DASH", "TILDE", "SLASH"}
_UNCLAIMED = {"WORD", "NAME", "FILLER"}
_CURRENTS = {"dc": "DC", "ac": "AC"}
_LABELS = {"INPUT", "OUTPUT", "INPUT_WEAK", "OUTPUT_WEAK"}


def key(lexeme: Lexeme) -> str:
    """A piece as the vocabulary spells it: folded, without the points of an abbreviation."""
    text = lexeme.text.replace(".", "").replace("·", "").replace(" ", "")
    return folded(text.replace("-", "/"))


def named(pieces: Sequence[Lexeme]) -> list[Lexeme]:
    """Name every word.

    Parameters
    ----------
    pieces
        Raw pieces.

    Returns
    -------
    list of Lexeme
        The same text with kinds of the vocabulary; a word that says nothing stays `WORD`.
    """
    found: list[Lexeme] = []
    index = 0
    ahead: Unit | None = None
    while index < len(pieces):
        piece = pieces[index]
        if piece.kind not in _WORDS:
            found.append(piece)
            index += 1
            if piece.kind == "NUMBER":
                ahead = _unit_in_front(found, ahead)
                if ahead and _ends_here(pieces, index, ahead):
                    found.append(_unit_lexeme(piece, ahead))
                    ahead = None
            continue
        if key(piece) == "x" and found and found[-1].kind in _BEFORE_TIMES:
            found.append(replace(piece, kind="TIMES"))
            index += 1
            continue
        unit = _unit(found, piece, pieces[index + 1 : index + 3])
        if unit:
            found.extend(unit)
            index += 1
            continue
        kind, size = _phrase(pieces, index)
        if size > 1:
            last = pieces[index + size - 1]
            words = " ".join(part.text for part in pieces[index : index + size])
            found.append(Lexeme(kind=kind, start=piece.start, end=last.end, text=words))
            index += size
            continue
        found.extend(_single(piece))
        index += 1
    return [piece for at, piece in enumerate(found) if not _joins_a_label(found, at)]


def _joins_a_label(row: Sequence[Lexeme], index: int) -> bool:
    """Whether a dash only joins the kind of current and the label: `DC-IN`."""
    if row[index].kind != "DASH" or not 0 < index < len(row) - 1:
        return False
    before, after = row[index - 1], row[index + 1]
    tight = before.end == row[index].start and row[index].end == after.start
    return tight and before.kind in _CURRENTS.values() and after.kind in _LABELS


def _unit_in_front(found: Sequence[Lexeme], ahead: Unit | None) -> Unit | None:
    """The unit that stands in front of the last number: `VOLTS 120 AMPS .3`, `V: 12 A: 1`."""
    before = [piece for piece in found[-3:-1] if piece.kind not in {"COLON", "EQ"}]
    if ahead and found[-2].kind in _SPANS:
        return ahead
    if not before or before[-1].kind not in _UNCLAIMED or found[-2].end == found[-1].start:
        return None
    unit = unit_of(key(before[-1]))
    if unit is None or unit.tail or unit.quantity == "OTHER":
        return None
    # A single letter is a port's name or a class, unless volts were printed in this way before.
    in_row = any(piece.start == piece.end for piece in found[-40:])
    return unit if len(key(before[-1])) > 1 or unit.quantity == "V" or in_row else None


def _ends_here(pieces: Sequence[Lexeme], index: int, ahead: Unit) -> bool:
    """Whether the number before an index is the last of its figure and has no unit of its own."""
    after = pieces[index] if index < len(pieces) else None
    if after is None or after.kind not in _WORDS:
        spans = after is not None and after.kind in _SPANS
        return not (spans and index + 1 < len(pieces) and pieces[index + 1].kind == "NUMBER")
    own = unit_of(key(after))
    if own is None or own.quantity == "OTHER":
        return True
    return after.start > pieces[index - 1].end and own.quantity != ahead.quantity


def _unit_lexeme(number: Lexeme, unit: Unit) -> Lexeme:
    """A unit without width behind a number."""
    apparent = unit.quantity == "VA"
    return Lexeme(
        kind="W" if apparent else unit.quantity,
        start=number.end,
        end=number.end,
        text=unit.quantity,
        value=unit.worth,
        note="apparent" if apparent else "",
    )


def _single(piece: Lexeme) -> list[Lexeme]:
    spelling = key(piece)
    kind = kind_of_word(spelling)
    if kind:
        return [replace(piece, kind=kind)]
    current = _CURRENTS.get(latin(spelling)[:2])
    rest = kind_of_word(spelling[2:]) if current else None
    if current and rest in _LABELS:
        return _split(piece, 2, current, str(rest))
    return [replace(piece, kind="NOISE" if piece.kind == "SCRIPT" else "WORD")]


def _split(piece: Lexeme, size: int, first: str, rest: str) -> list[Lexeme]:
    middle = piece.start + size
    return [
        Lexeme(kind=first, start=piece.start, end=middle, text=piece.text[:size]),
        Lexeme(kind=rest, start=middle, end=piece.end, text=piece.text[size:]),
    ]


def _unit(found: list[Lexeme], piece: Lexeme, after: Sequence[Lexeme]) -> list[Lexeme] | None:
    """The unit that a word is, if a number stands before it."""
    number = found[-1] if found else None
    dash = None
    if number and number.kind == "DASH" and len(found) > 1 and len(piece.text) > 2:
        # `9-volt` is 9 V.
        dash, number = number, found[-2]
        if dash.start != number.end or piece.start != dash.end:
            return None
    if number is None or number.kind not in {"NUMBER", "MUDDLE", "SERIAL"}:
        return None
    meaning = unit_of(key(piece))
    if meaning is None:
        return None
    tight = piece.start == number.end
    if (
        meaning.quantity == "OTHER"
        and not tight
        and (len(piece.text) < 2 or kind_of_word(key(piece)))
    ):
        return None
    if _is_range_word(piece, number, after) or (not tight and _is_version(piece, after)):
        return None
    if dash:
        found.pop()
    apparent = meaning.quantity == "VA"
    kind = "W" if apparent else meaning.quantity
    note = "apparent" if apparent else ""
    if not meaning.tail:
        return [replace(piece, kind=kind, value=meaning.worth, note=note)]
    first, last = _split(piece, meaning.size, kind, meaning.tail)
    return [replace(first, value=meaning.worth, note=note), last]


def _is_version(piece: Lexeme, after: Sequence[Lexeme]) -> bool:
    """Whether a `V` begins a version, as in `12/2019 V1.0`."""
    if piece.text not in {"V", "v"} or not after or after[0].start != piece.end:
        return False
    unit = after[1:] and after[1].kind in _WORDS and unit_of(key(after[1]))
    return after[0].kind == "NUMBER" and "." in after[0].text and not unit


def _is_range_word(piece: Lexeme, number: Lexeme, after: Sequence[Lexeme]) -> bool:
    """Whether an `a` between two numbers means "to", not ampere."""
    if piece.text != "a" or piece.start == number.end or not after:
        return False
    apart = after[0].kind == "NUMBER" and after[0].start > piece.end
    return apart and float(number.value) >= 30.0


def _phrase(pieces: Sequence[Lexeme], index: int) -> tuple[str, int]:
    """The kind of the longest phrase that starts here, and of how many pieces; 0 if none."""
    first = key(pieces[index])
    for phrase, kind in PHRASES.get(first) or PHRASES.get(latin(first), ()):
        at = index
        for word in phrase[1:]:
            at += 1
            if at < len(pieces) and (
                pieces[at].kind in _INSIDE_A_PHRASE or pieces[at].text in _INSIDE_A_PHRASE
            ):
                at += 1
            if at >= len(pieces) or pieces[at].kind not in _WORDS or key(pieces[at]) != word:
                break
        else:
            return kind, at - index + 1
    return "", 0
