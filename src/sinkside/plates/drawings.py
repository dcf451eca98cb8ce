"""Polarity drawings typed with characters: found in the text and judged.

Notes
-----
The sign for the polarity of a d.c. connector (IEC 60417-5926) is a ring that is open on one side
round a dot, between a minus and a plus. The line on the closed side ends at the ring, the sleeve;
the line that goes in by the opening ends at the dot, the centre contact. So the pole on the open
side of the ring is the centre, and a closed ring or a lone dot tells nothing.

References
----------
IEC 60417-5926: the number read in equipment manuals, the shape from memory. What people type for it
is common practice, no source.
"""

import re
from collections.abc import Callable, Iterator, Sequence

from sinkside.plates.lexemes import Lexeme

_KINDS = {
    "⊕": "RINGED_PLUS",
    "⊖": "RINGED_MINUS",
    "+": "PLUS",
    "-": "DASH",
    "_": "DASH",
    "(": "LPAR",
    "[": "LPAR",
    ")": "RPAR",
    "]": "RPAR",
    "●": "SPOT",
    "○": "SPOT",
    "·": "SPOT",
    ".": "SPOT",
    "*": "SPOT",
    "O": "SPOT",
    "o": "SPOT",
    "◉": "RING",
    "⊂": "OPENS_RIGHT",
    "C": "OPENS_RIGHT",
    "c": "OPENS_RIGHT",
    "С": "OPENS_RIGHT",
    "с": "OPENS_RIGHT",
    "⊃": "OPENS_LEFT",
    "<": "OPENS_RIGHT",
    ">": "OPENS_LEFT",
}
_CANDIDATE = re.compile(r"(?:[⊕⊖+\-_()\[\]●○·.*◉⊂⊃<> ]|(?<![^\W_])[CcOoСс](?![^\W_]))+")
_RINGED = re.compile(r"[⊕⊖]")
_BRACKETED = re.compile(r"[(\[] ?[+-] ?[)\]]")
_POLE = r"(?:[⊕⊖]|[(\[] ?[+-] ?[)\]])"
_NO_SIGN = r"[^\s⊕⊖+\-_()\[\]]"
_JOINED = re.compile(
    rf"{_POLE} ?(?:[-_]+ ?{_NO_SIGN}? ?[-_]*|(?![\w/,;:|]){_NO_SIGN} ?[-_]+) ?{_POLE}"
)
_CORE = re.compile(r"[()\[\]●○·.*◉⊂⊃<>CcOoСс]")

# Core of a drawing: which of its two poles is the centre.
_RIGHT, _LEFT = "right", "left"
_CORES: dict[tuple[str, ...], str] = {
    ("OPENS_RIGHT",): _RIGHT,
    ("OPENS_RIGHT", "SPOT"): _RIGHT,
    ("OPENS_LEFT",): _LEFT,
    ("SPOT", "OPENS_LEFT"): _LEFT,
    ("SPOT",): "a dot without its open ring does not tell which pole is the centre",
    ("RING",): "a closed ring does not tell which pole is the centre",
    ("OPENS_RIGHT", "SPOT", "OPENS_LEFT"): "a closed ring does not tell which pole is the centre",
    ("OPENS_RIGHT", "RING"): "a closed ring does not tell which pole is the centre",
    ("OPENS_RIGHT", "OPENS_LEFT"): "a closed ring does not tell which pole is the centre",
    ("SPOT", "OPENS_RIGHT"): "dot and opening of the ring point to different poles",
    ("OPENS_LEFT", "SPOT"): "dot and opening of the ring point to different poles",
}
_SIGNS = {"PLUS": "positive", "MINUS": "negative"}
_AS_ARC = {"LPAR": "OPENS_RIGHT", "RPAR": "OPENS_LEFT"}

type_of_symbols = Callable[[Sequence[Lexeme]], list[str] | None]


def judged(symbols: Sequence[str]) -> tuple[str, str] | None:
    """What a drawing says about the centre.

    Parameters
    ----------
    symbols
        Left pole, parts of the core, right pole; the connecting lines are left out.

    Returns
    -------
    tuple or None
        The sign of the centre and, if that is `unknown`, the reason; None if this is no drawing.
    """
    left, *core, right = symbols
    shape = tuple(_AS_ARC.get(part, part) for part in core)
    side = _CORES.get(shape)
    if side is None:
        return None
    if left == right:
        return "unknown", "both ends of the drawing carry the same sign"
    if side == _RIGHT:
        return _SIGNS[right], ""
    if side == _LEFT:
        return _SIGNS[left], ""
    return "unknown", side


def drawings(text: str, symbols: type_of_symbols) -> list[Lexeme]:
    """Find the polarity drawings in a mapped text.

    Parameters
    ----------
    text
        The mapped text.
    symbols
        The parser for one drawing.

    Returns
    -------
    list of Lexeme
        One for each drawing, in order: value the sign of the centre, note why it is unknown.
    """
    found: list[Lexeme] = []
    for run in _CANDIDATE.finditer(text):
        span = _span(text, run.start(), run.end())
        if span is None:
            continue
        start, end = span
        pieces = [
            Lexeme(kind=_KINDS[glyph], start=index, end=index + 1, text=glyph)
            for index, glyph in enumerate(text[start:end], start)
            if glyph != " "
        ]
        parts = symbols(pieces)
        verdict = judged(parts) if parts else None
        if verdict:
            centre, why = verdict
            found.append(
                Lexeme(
                    kind="DRAWING",
                    start=start,
                    end=end,
                    text=text[start:end],
                    value=centre,
                    note=why,
                )
            )
    return sorted([*found, *_without_a_core(text, found)], key=lambda drawn: drawn.start)


def _without_a_core(text: str, known: Sequence[Lexeme]) -> Iterator[Lexeme]:
    """Two poles joined by a line, and between them nothing, or a sign that is no part of a ring."""
    for match in _JOINED.finditer(text):
        start, end = match.span()
        if not any(drawn.start < end and start < drawn.end for drawn in known):
            why = "what stands between its poles does not tell which one is the centre"
            yield Lexeme(
                kind="DRAWING", start=start, end=end, text=match[0], value="unknown", note=why
            )


def _blank(match: re.Match[str]) -> str:
    """As many blanks: the brackets of a sign are no ring."""
    return " " * len(match[0])


def _span(text: str, start: int, end: int) -> tuple[int, int] | None:
    """From the first to the last pole of a run of drawing characters, if it has two poles."""
    for poles in (_RINGED, _BRACKETED):
        found = [match.span() for match in poles.finditer(text, start, end)]
        if len(found) >= 2:
            return found[0][0], found[-1][1]
    plus = text.find("+", start, end)
    ringed = _RINGED.search(text, start, end)
    if plus < 0 and not ringed:
        return None
    poles_here = [m.start() for m in re.finditer(r"[+\-⊕⊖]", text[start:end])]
    first, last = start + poles_here[0], start + poles_here[-1]
    if plus >= 0 and not ringed:
        # A dash may be a bullet or a line: the plus is one end, the minus farthest from it, across
        # the core, the other.
        first, last = (plus, last) if _CORE.search(text, plus, last) else (first, plus)
    bare = _BRACKETED.sub(_blank, text[start:end])
    if first == last or not _CORE.search(bare, first - start, last - start):
        return None
    beside = (text[start - 1 : start] if first == start else "") + (
        text[end : end + 1] if last + 1 == end else ""
    )
    return None if any(map(str.isalnum, beside)) else (first, last + 1)
