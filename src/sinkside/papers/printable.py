"""Text for a page whose typefaces are fixed: what they lack stands as its code point.

The same page has to come out everywhere, so it takes no face from the machine that it is made
on. The faces that come with the typesetter hold Latin, Greek, Cyrillic, Hebrew, Arabic and the
signs of the trade; a name in another script would come out as a row of empty boxes.
"""

import re
import unicodedata
from bisect import bisect_right
from typing import TypeAlias

Ranges: TypeAlias = tuple[tuple[int, int], ...]

# First and last of what the faces hold: those of the text in every cut that it is set in, and
# that of the drawings, where none lends another what it lacks.
TEXT: Ranges = (
    (0x20, 0x7E),
    (0xA0, 0xAC),
    (0xAE, 0x241),
    (0x250, 0x2E9),
    (0x300, 0x33F),
    (0x384, 0x38A),
    (0x38E, 0x3A1),
    (0x3A3, 0x3CE),
    (0x3F0, 0x3FF),
    (0x400, 0x45F),
    (0x490, 0x4C4),
    (0x4CF, 0x4F9),
    (0x5D0, 0x5EA),
    (0x60C, 0x60C),
    (0x61B, 0x61B),
    (0x61F, 0x61F),
    (0x621, 0x63A),
    (0x640, 0x652),
    (0x660, 0x66D),
    (0x6F0, 0x6F9),
    (0x1E00, 0x1E13),
    (0x1E18, 0x1E2D),
    (0x1E30, 0x1E9B),
    (0x1E9E, 0x1EF9),
    (0x2010, 0x2027),
    (0x2030, 0x2040),
    (0x2044, 0x2052),
    (0x2054, 0x205E),
    (0x2074, 0x208E),
    (0x20A0, 0x20B5),
    (0x2100, 0x211E),
    (0x2122, 0x2122),
    (0x2126, 0x2151),
    (0x2153, 0x2184),
    (0x2190, 0x21FF),
    (0x2200, 0x22FF),
    (0x2300, 0x23FF),
    (0x2460, 0x24FF),
    (0x2500, 0x25FF),
    (0x2600, 0x2606),
    (0x2609, 0x262F),
)
DRAWING: Ranges = (
    (0x20, 0x7E),
    (0xA0, 0xAC),
    (0xAE, 0x1C3),
    (0x1CD, 0x1E3),
    (0x384, 0x38A),
    (0x38E, 0x3A1),
    (0x3A3, 0x3CE),
    (0x400, 0x45F),
    (0x490, 0x49B),
    (0x2010, 0x2023),
    (0x2026, 0x2026),
    (0x2030, 0x2037),
    (0x2039, 0x203A),
    (0x2074, 0x208E),
    (0x20A0, 0x20B5),
    (0x2126, 0x2126),
    (0x2153, 0x215F),
    (0x2190, 0x2213),
    (0x2241, 0x2269),
    (0x2500, 0x25FF),
)
_RIGHT_TO_LEFT = re.compile(r"[\u0590-\u08ff](?:[\s\u0590-\u08ff]*[\u0590-\u08ff])?")
_MARK = "\N{LEFT-TO-RIGHT MARK}"


def _only(ranges: Ranges, more: str = "") -> re.Pattern[str]:
    """What matches a text of nothing but these characters."""
    spans = "".join(f"{re.escape(chr(a))}-{re.escape(chr(b))}" for a, b in ranges)
    return re.compile(f"[{spans}{more}]*")


_WHOLLY = {TEXT: _only(TEXT), DRAWING: _only(DRAWING)}
_MARKUP = _only(DRAWING, "\n")


def drawable(svg: str) -> bool:
    """Whether a drawing has none but the letters of the face that drawings are set in."""
    return bool(_MARKUP.fullmatch(svg)) and not _RIGHT_TO_LEFT.search(svg)


def held(character: str, by: Ranges) -> bool:
    """Whether faces hold a character."""
    code = ord(character)
    at = bisect_right(by, code, key=lambda span: span[0]) - 1
    return at >= 0 and code <= by[at][1]


def printable(text: str, by: Ranges = TEXT) -> str:
    """The text with breaks as spaces, and what cannot be printed as `[U+6B4C 58F0]`.

    Parameters
    ----------
    by
        What the faces hold that it is set in.

    Notes
    -----
    Signs that turn the direction of what follows cannot be printed either, so that they turn
    nothing. Hebrew and Arabic stand between two left-to-right marks, so that a figure beside
    them stays on its side (Unicode Standard Annex 9: a digit after such a letter would go with it).
    """
    wholly = _WHOLLY.get(by)
    if wholly and wholly.fullmatch(text) and unicodedata.is_normalized("NFC", text):
        return _turned(text)
    found: list[str] = []
    lacking: list[str] = []
    for character in unicodedata.normalize("NFC", text):
        if held(character, by) or character.isspace():
            _close(found, lacking)
            found.append(" " if character.isspace() else character)
        else:
            lacking.append(f"{ord(character):04X}")
    _close(found, lacking)
    return _turned("".join(found))


def _turned(text: str) -> str:
    return _RIGHT_TO_LEFT.sub(f"{_MARK}\\g<0>{_MARK}", text)


def _close(found: list[str], lacking: list[str]) -> None:
    if lacking:
        found.append(f"[U+{' '.join(lacking)}]")
        lacking.clear()
