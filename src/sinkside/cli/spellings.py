"""Signs that a terminal may not know, spelled out in letters that every terminal knows.

A sign that the encoding has stays as it is. The drawings keep their columns: what stands in
them has a spelling of one letter.
"""

from functools import lru_cache

# What is copied from a poor terminal has to read as it did: (*) in the place of ● would not leave
# a plate's polarity open. A blank at an end is written beside a letter or a digit only: 9V⎓3A is
# 9V DC 3A.
SPELLINGS = {
    "⎓": " DC ",
    "⏦": " AC ",
    "∿": "~",
    "∼": "~",
    "⊕": "(+)",
    "⊖": "(-)",
    "◉": "(o)",
    "●": ".",
    "○": "o",
    "⏚": " earth ",
    # quantities
    "Ω": "ohm",
    "\N{OHM SIGN}": "ohm",
    "µ": "u",
    "μ": "u",
    "°": "deg",
    "℃": "degC",
    "±": "+/-",
    "×": "x",
    "·": ".",
    "÷": "/",
    "−": "-",
    "≤": "<=",
    "≥": ">=",
    "≠": "!=",
    "≈": "~",
    "√": "sqrt",
    "∞": "inf",
    "→": "->",
    "←": "<-",
    "¹": "^1",
    "²": "^2",
    "³": "^3",
    "⁄": "/",
    # text
    "\N{HYPHEN}": "-",
    "\N{NON-BREAKING HYPHEN}": "-",
    "–": "-",
    "—": "-",
    "…": "...",
    "‘": "'",
    "’": "'",
    "“": '"',
    "”": '"',
    "„": '"',
    "«": '"',
    "»": '"',
    "•": "*",
    "№": "No.",
    "€": "EUR",
    "£": "GBP",
    "¥": "JPY",
    "\N{REPLACEMENT CHARACTER}": "?",
    # drawings: one letter each
    "─": "-",
    "│": "|",
    "├": "|",
    "└": "+",
    "▶": ">",
    "┤": "|",
    "┼": "+",
    "═": "=",
    "╞": "|",
    "╡": "|",
    "╪": "+",
    # Latin letters that are no letter with a mark
    "ß": "ss",
    "ẞ": "SS",
    "æ": "ae",
    "Æ": "AE",
    "œ": "oe",
    "Œ": "OE",
    "ø": "o",
    "Ø": "O",
    "đ": "d",
    "Đ": "D",
    "ð": "d",
    "Ð": "D",
    "ł": "l",
    "Ł": "L",
    "þ": "th",
    "Þ": "Th",
    "ı": "i",
}

# Without width: they say how their neighbours join or which way they run, and no more.
_WIDTHLESS = dict.fromkeys("\u200b\u200c\u200d\u200e\u200f\u2060\ufeff\u00ad", "")


def spelled(text: str, encoding: str) -> str:
    """Spell out what an encoding does not know, and what would move a terminal's cursor.

    Parameters
    ----------
    text
        Any text; line ends and tabs in it are kept.
    encoding
        The name of the encoding that the text is going to be written in.

    Returns
    -------
    str
        The text in characters that the encoding knows.

    Notes
    -----
    A letter with a mark loses the mark. Whatever else has no spelling, and every control
    character, becomes its number after a backslash, so that two names never look the same
    because of an unknown sign.

    Examples
    --------
    >>> spelled("9V⎓3A, 4.7 kΩ ≥ 1 µF", "ascii")
    '9V DC 3A, 4.7 kohm >= 1 uF'
    """
    if _knows(encoding, text) and not _CONTROLS.intersection(text):
        return text
    found = []
    for i, glyph in enumerate(text):
        said = _spelling(glyph, encoding)
        if said.startswith(" ") and len(said) > 1 and not text[max(0, i - 1) : i].isalnum():
            said = said[1:]
        if said.endswith(" ") and len(said) > 1 and not text[i + 1 : i + 2].isalnum():
            said = said[:-1]
        found.append(said)
    return "".join(found)


def printable(text: str) -> str:
    """A name on one line: what cannot be printed becomes its number after a backslash.

    Bytes of a file name that are no text are told as they are.

    Examples
    --------
    >>> printable("my\\nsite")
    'my\\\\nsite'
    """
    return "".join(c if c.isprintable() else _number(c) for c in text)


# What moves a cursor, breaks a line or turns the way that text runs; joiners do none of that.
_CONTROLS = frozenset(
    chr(code)
    for code in (
        *(*range(32), *range(127, 160), 0xAD, 0x200B, 0x200E, 0x200F),
        *(*range(0x2028, 0x202F), 0x2060, *range(0x2066, 0x206A), 0xFEFF),
    )
    if chr(code) not in "\n\t"
)


def _knows(encoding: str, text: str) -> bool:
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return False
    return True


@lru_cache(maxsize=4096)
def _spelling(glyph: str, encoding: str) -> str:
    if glyph in _CONTROLS:
        return "" if glyph in _WIDTHLESS else _number(glyph)
    if _knows(encoding, glyph):
        return glyph
    if glyph in SPELLINGS:
        return SPELLINGS[glyph]
    import unicodedata

    if glyph in _WIDTHLESS or unicodedata.combining(glyph):
        return ""
    parts = unicodedata.normalize("NFKD", glyph)
    said = "".join(_spelling(part, encoding) for part in parts) if parts != glyph else ""
    return said if said and "\\" not in said else _number(glyph)


def _number(glyph: str) -> str:
    if "\udc80" <= glyph <= "\udcff":  # a byte that is no text, as Python carries it along
        return f"\\x{ord(glyph) - 0xDC00:02x}"
    return glyph.encode("unicode_escape").decode("ascii")
