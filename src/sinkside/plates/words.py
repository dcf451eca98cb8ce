"""How a printed word is looked up in the vocabulary, and a unit behind a number."""

import unicodedata
from dataclasses import dataclass
from functools import lru_cache

from sinkside.plates.vocabulary import STEMS, UNITS, WORDS

# Kinds of current glued to the unit of volts: `Vcc`, `Vca`.
_VOLT_TAILS: dict[str, str] = {
    **dict.fromkeys(["cc", "cd", "ss"], "DC"),
    **dict.fromkeys(["ca", "rms"], "AC"),
    "acdc": "BOTH",
}
# What else may be glued to a unit: `9VDC`, `0.5AMAX`.
_TAILS = {"DC", "AC", "BOTH", "MAX", "PEAK", "PPS", "AVS", "TOTAL", "INPUT", "OUTPUT"}

_PLAIN = str.maketrans(
    {"ł": "l", "ø": "o", "đ": "d", "æ": "ae", "œ": "oe", "ı": "i", "ð": "d", "µ": "u", "μ": "u"}
)
# Letters of other alphabets that look like Latin ones, as they slip in from another keyboard.
_LATIN = str.maketrans("авекмнорстухіѕјαβεζηικμνορτυχϲ", "abekmhopctyxisjabezhikmvoptuxc")


@lru_cache(maxsize=2048)
def folded(word: str) -> str:
    """A word without case and accents, for comparing."""
    if word.isascii():
        return word.lower()
    if max(word) >= "\u3000":
        return word
    parts = unicodedata.normalize("NFKD", word.casefold().translate(_PLAIN))
    return "".join(part for part in parts if not unicodedata.combining(part)).translate(_PLAIN)


def latin(word: str) -> str:
    """A folded word with look-alike letters of other alphabets made Latin."""
    return word if word.isascii() else word.translate(_LATIN)


def _entries() -> dict[tuple[str, ...], str]:
    found: dict[tuple[str, ...], str] = {}
    for kind, languages in WORDS.items():
        for words in languages.values():
            for phrase in words.split(","):
                # The first kind that claims a word keeps it.
                key = tuple(map(folded, phrase.replace("'", " ").split()))
                found.setdefault(key, kind)
    return found


_ENTRIES = _entries()
SINGLE: dict[str, str] = {phrase[0]: kind for phrase, kind in _ENTRIES.items() if len(phrase) == 1}
PHRASES: dict[str, tuple[tuple[tuple[str, ...], str], ...]] = {}
for _phrase, _kind in sorted(_ENTRIES.items(), key=lambda entry: -len(entry[0])):
    if len(_phrase) > 1:
        PHRASES[_phrase[0]] = (*PHRASES.get(_phrase[0], ()), (_phrase, _kind))
_STEMS: tuple[tuple[str, str], ...] = tuple(
    (folded(stem.strip()), kind) for kind, stems in STEMS.items() for stem in stems.split(",")
)
# Words of scripts without spaces, looked up by the longest match.
UNSPACED = frozenset(word for word in (*SINGLE, *UNITS) if max(word) >= "\u3000")
LONGEST_UNSPACED = max(map(len, UNSPACED))


@lru_cache(maxsize=2048)
def kind_of_word(word: str) -> str | None:
    """The kind of a folded word, or None for a word that says nothing."""
    for spelling in dict.fromkeys((word, latin(word))):
        if spelling in SINGLE:
            return SINGLE[spelling]
    return next((kind for stem, kind in _STEMS if word.startswith(stem)), None)


@dataclass(frozen=True, kw_only=True, slots=True)
class Unit:
    """A printed unit.

    Parameters
    ----------
    quantity
        `V`, `A`, `W`, `VA`, `HZ` or `OTHER`.
    worth
        What one is worth in SI units.
    size
        How many letters of the word are the unit.
    tail
        The kind of the letters after it (`DC`, `MAX` and so on), or empty.
    """

    quantity: str
    worth: float
    size: int
    tail: str = ""


@lru_cache(maxsize=2048)
def unit_of(word: str) -> Unit | None:
    """What a word behind a number means as a unit; None if it is none.

    Parameters
    ----------
    word
        The word, folded.

    Notes
    -----
    `MA` counts as milliampere: nobody prints megamperes on a plate.
    """
    key = unicodedata.normalize("NFKC", word).lower()
    for spelling in dict.fromkeys((key, latin(key))):
        if spelling in UNITS:
            quantity, worth = UNITS[spelling]
            return Unit(quantity=quantity, worth=worth, size=len(word))
        for size in range(min(len(spelling) - 1, 8), 0, -1):
            quantity, worth = UNITS.get(spelling[:size], ("OTHER", 1.0))
            tail = spelling[size:]
            kind = (_VOLT_TAILS.get(tail) if quantity == "V" else None) or kind_of_word(tail)
            if quantity != "OTHER" and kind in _TAILS:
                return Unit(quantity=quantity, worth=worth, size=size, tail=str(kind))
    return None
