"""Pieces get their meaning from the vocabulary: words, phrases, and units behind numbers."""

from collections.abc import Sequence
from dataclasses import replace

from sinkside.plates.lexemes import Lexeme
from sinkside.plates.words import PHRASES, folded, kind_of_word, latin, unit_of

_WORDS = {"WORD", "SCRIPT"}
# Between the words of a phrase there may be one of these, or only space.
_INSIDE_A_PHRASE = {"DASH", "'"}
_BEFORE_TIMES = {"NUMBER", "V", "A", "W", "RPAR"}
_CURRENTS = {"dc": "DC", "ac": "AC"}
_GLUED_TO_A_CURRENT = {"INPUT", "OUTPUT", "INPUT_WEAK", "OUTPUT_WEAK"}


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
    while index < len(pieces):
        piece = pieces[index]
        if piece.kind not in _WORDS:
            found.append(piece)
            index += 1
            continue
        if key(piece) == "x" and found and found[-1].kind in _BEFORE_TIMES:
            found.append(replace(piece, kind="TIMES"))
            index += 1
            continue
        unit = _unit(found, piece, pieces[index + 1] if index + 1 < len(pieces) else None)
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
    return found


def _single(piece: Lexeme) -> list[Lexeme]:
    spelling = key(piece)
    kind = kind_of_word(spelling)
    if kind:
        return [replace(piece, kind=kind)]
    current = _CURRENTS.get(latin(spelling)[:2])
    rest = kind_of_word(spelling[2:]) if current else None
    if current and rest in _GLUED_TO_A_CURRENT:
        return _split(piece, 2, current, str(rest))
    return [replace(piece, kind="NOISE" if piece.kind == "SCRIPT" else "WORD")]


def _split(piece: Lexeme, size: int, first: str, rest: str) -> list[Lexeme]:
    middle = piece.start + size
    return [
        Lexeme(kind=first, start=piece.start, end=middle, text=piece.text[:size]),
        Lexeme(kind=rest, start=middle, end=piece.end, text=piece.text[size:]),
    ]


def _unit(found: list[Lexeme], piece: Lexeme, after: Lexeme | None) -> list[Lexeme] | None:
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
    if _is_range_word(piece, number, after):
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


def _is_range_word(piece: Lexeme, number: Lexeme, after: Lexeme | None) -> bool:
    """Whether an `a` between two numbers means "to", not ampere."""
    alone = piece.text == "a" and piece.start > number.end
    return (
        alone
        and after is not None
        and after.kind == "NUMBER"
        and after.start > piece.end
        and float(number.value) >= 30.0
    )


def _phrase(pieces: Sequence[Lexeme], index: int) -> tuple[str, int]:
    """The longest phrase that starts here: its kind and how many pieces it takes; size 0 if none."""
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
