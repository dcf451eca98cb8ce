"""Look-alike characters made alike, with every place of the text as given kept.

People type, paste and scan plates: one sign has many characters. Each is mapped to one of our own
choice, so that the scanner knows a single dash, a single tilde and a single direct-current sign.

References
----------
IEC 60417, signs 5031 (direct current), 5032 (alternating current), 5033 (both) and 5926 (polarity
of a d.c. connector): numbers read in equipment manuals; the characters that people use for them are
common practice, no source.
"""

import re
import unicodedata
from dataclasses import dataclass
from typing import Literal

THIN_SPACE = "\u00a0"

# One sign: all that people put in its place. The plain, full-width and half-width forms of letters,
# digits and punctuation come from Unicode's compatibility mapping and are not repeated here.
_ALIKE = {
    "-": "‐‑‒–—―−⎯─━﹣﹘⁃➖⏤⸺",
    "~": "∼～〜∿⏦˜⁓∽〰≈≋﹏",
    "=": "═﹦꞊᐀⹀〓゠🟰⚌⩵",
    "⎓": "≡☰⚍⚎⩶┄┅┈┉╌╍≣",
    "≂": "≃≅≊⩬",
    "_": "‗＿",
    "+": "﹢✚➕⁺₊ᐩ",
    "⊕": "⨁㊉🜨♁⊞ⴲ",
    "⊖": "⊝⊟⦵ⴱ㊀",
    "●": "•∙⚫⬤⏺⦁",
    "·": "・‧⋅･",
    "○": "◯⚪◦∘⭕❍",
    "◉": "◎⊙⦿⊚⌾☉⨀⦾🔘",
    "⊂": "⸦ᑕ⟮❨⦅◖⊏❪",
    "⊃": "Ɔ⸧ᑐ⟯❩⦆◗⊐❫ↃↄɔϽ",
    "/": "∕⁄",
    ":": "︰∶ː",
    "'": "’‘ʼ`´′",
    ",": "、﹐‚،٫",
    ";": "。",
    "×": "✕✖⨯",
    THIN_SPACE: "\u202f\u2009\u2007\u2008",
}
_SIGN_OF = {glyph: sign for sign, glyphs in _ALIKE.items() for glyph in glyphs}

# A letter that stands alone where a circled minus is meant; in a word it is a letter.
_BARRED_O = re.compile(r"(?<![^\W_])[ΘθϴƟɵѲѳ](?![^\W_])")

# The half-width marks that change the Japanese syllable before them.
_VOICED = "ﾞﾟ"

# Characters without width, which a person neither sees nor counts as part of a word; among them
# those that Hebrew and Arabic plates are pasted with.
_WIDTHLESS = dict.fromkeys(
    map(
        ord,
        "\u200b\u200c\u200d\u2060\ufeff\u00ad\ufe0e\ufe0f"
        "\u200e\u200f\u061c\u202a\u202b\u202c\u2066\u2067\u2068\u2069",
    )
)
# These turn the order of what stands behind them: `21V` is shown as `V12`.
_TURNING = re.compile("[\u202d\u202e]")


@dataclass(frozen=True, kw_only=True, slots=True)
class Glyphs:
    """A text with look-alikes made alike, and where each of its characters came from.

    Parameters
    ----------
    text
        The mapped text.
    offsets
        For each character of `text`, and for its end, the offset in the text as given; None if
        both are the same.
    """

    text: str
    offsets: tuple[int, ...] | None

    def offset(self, index: int) -> int:
        """The offset in the text as given of one character of the mapped text."""
        return index if self.offsets is None else self.offsets[index]


class _Table(dict[int, str]):
    """A table for `str.translate` that works out each character once."""

    def __missing__(self, code: int) -> str:
        self[code] = sign = _sign(chr(code))
        return sign


def _sign(glyph: str) -> str:
    if glyph in _SIGN_OF:
        return _SIGN_OF[glyph]
    kind = unicodedata.category(glyph)
    if kind == "Nd":
        return str(unicodedata.decimal(glyph))
    if glyph == THIN_SPACE or glyph in "\r\n":
        return glyph
    if kind in {"Zs", "Zl", "Zp", "Cc"}:
        return " "
    # A circled or raised digit is a mark or an exponent, never a figure.
    if kind in {"No", "So"} and glyph not in "⎓":
        return glyph
    plain = unicodedata.normalize("NFKC", glyph)
    if len(plain) != 1:
        return glyph
    return _SIGN_OF.get(plain, plain)


_TABLE = _Table()


def alike(text: str) -> Glyphs:
    """Map look-alikes to one sign each.

    Parameters
    ----------
    text
        Any text, as given.

    Returns
    -------
    Glyphs
        The mapped text with the place of each character.

    Notes
    -----
    Letters with separate accents and Korean syllables in separate parts are joined, and
    characters without width are left out; everything else is one character for one.
    """
    if text.isascii() and text.isprintable():
        return Glyphs(text=text, offsets=None)
    kept, offsets = _joined(text)
    return Glyphs(text=_BARRED_O.sub("⊖", kept.translate(_TABLE)), offsets=offsets)


def turned(text: str) -> int | None:
    """Where the first sign stands that turns the order of writing; None if none does."""
    found = _TURNING.search(text)
    return found.start() if found else None


def _joined(text: str) -> tuple[str, tuple[int, ...] | None]:
    plain = unicodedata.is_normalized("NFC", text) and text.translate(_WIDTHLESS) == text
    if plain and not any(mark in text for mark in _VOICED):
        return text, None
    kept: list[str] = []
    offsets: list[int] = []
    start = 0
    while start < len(text):
        if ord(text[start]) in _WIDTHLESS:
            start += 1
            continue
        end = start + 1
        while end < len(text) and _goes_with(text[end]):
            end += 1
        form: Literal["NFC", "NFKC"] = "NFKC" if text[end - 1] in _VOICED else "NFC"
        for part in unicodedata.normalize(form, text[start:end]):
            kept.append(part)
            offsets.append(start)
        start = end
    return "".join(kept), (*offsets, len(text))


def _goes_with(glyph: str) -> bool:
    """Whether a character joins the one before it: an accent, or a later part of a syllable."""
    joins = unicodedata.combining(glyph) or "\u1160" <= glyph <= "\u11ff"
    return bool(joins) or glyph in _VOICED
