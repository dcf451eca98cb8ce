"""The vocabulary and the look-alike characters of plates. Common practice, no source."""

import pytest

from sinkside.plates.glyphs import alike
from sinkside.plates.misreadings import straightened
from sinkside.plates.vocabulary import UNITS, WORDS
from sinkside.plates.words import folded, kind_of_word, unit_of


def test_every_single_word_is_found_under_a_kind_that_lists_it() -> None:
    kinds: dict[str, set[str]] = {}
    for kind, languages in WORDS.items():
        for word in ",".join(languages.values()).split(","):
            kinds.setdefault(folded(word.strip()), set()).add(kind)
    singles = {word: claims for word, claims in kinds.items() if " " not in word and word}
    missed = {w: c for w, c in singles.items() if "'" not in w and kind_of_word(w) not in c}
    assert missed == {}


@pytest.mark.parametrize(
    ("word", "kind"),
    [
        ("ENTRÉE", "INPUT"),
        ("entree", "INPUT"),
        ("wyjście", "OUTPUT"),
        ("Ausgangsspannung", "OUTPUT"),
        ("выходной", "OUTPUT"),
        ("DС", "DC"),  # with a Cyrillic letter
        ("außen", "SLEEVE"),
        ("AUSSEN", "SLEEVE"),
        ("средство", None),
    ],
)
def test_words_are_found_without_case_accents_and_alphabet(word: str, kind: str | None) -> None:
    assert kind_of_word(folded(word)) == kind


@pytest.mark.parametrize(
    ("word", "meaning"),
    [
        ("V", ("V", 1.0, "")),
        ("VDC", ("V", 1.0, "DC")),
        ("Vca", ("V", 1.0, "AC")),
        ("MA", ("A", 1e-3, "")),
        ("мА", ("A", 1e-3, "")),
        ("㎃", ("A", 1e-3, "")),
        ("AMAX", ("A", 1.0, "MAX")),
        ("VA", ("VA", 1.0, "")),
        ("kHz", ("HZ", 1e3, "")),
        ("mAh", ("OTHER", 1.0, "")),
    ],
)
def test_units(word: str, meaning: tuple[str, float, str]) -> None:
    unit = unit_of(folded(word))
    assert unit is not None
    assert (unit.quantity, unit.worth, unit.tail) == meaning


def test_what_is_no_unit() -> None:
    assert [word for word in ("vain", "amok", "watch", "x", "") if unit_of(word)] == []
    assert unit_of("VX") is None
    assert set(UNITS.values()) >= {("V", 1.0), ("A", 1e-3), ("W", 1.0)}


@pytest.mark.parametrize(
    ("text", "mapped"),
    [
        ("９Ｖ＝１Ａ", "9V=1A"),
        ("100–240 V∼", "100-240 V~"),
        ("㊀―Ｃ―㊉", "⊖-C-⊕"),
        ("Θ ΘΑ", "⊖ ΘΑ"),
        ("① 5²", "① 5²"),
        ("a\tb\u3000c\u00a0d", "a b c\u00a0d"),
        ("١٢V १٫५ 𝟗", "12V 1,5 9"),
    ],
)
def test_one_character_stands_for_one(text: str, mapped: str) -> None:
    glyphs = alike(text)
    assert glyphs.text == mapped
    assert [glyphs.offset(index) for index in range(len(text) + 1)] == list(range(len(text) + 1))


@pytest.mark.parametrize(
    ("text", "mapped", "offsets"),
    [
        ("e\u0301a", "éa", [0, 2, 3]),
        ("9\u200bV", "9V", [0, 2, 3]),
        ("ｾﾌﾟ1", "セプ1", [0, 1, 3, 4]),
        ("\u1112\u1161\u11ab.", "한.", [0, 3, 4]),
        ("\u200f9\u200eV", "9V", [1, 3, 4]),
    ],
)
def test_characters_that_are_joined_or_left_out_keep_the_places_of_the_others(
    text: str, mapped: str, offsets: list[int]
) -> None:
    glyphs = alike(text)
    assert glyphs.text == mapped
    assert [glyphs.offset(index) for index in range(len(mapped) + 1)] == offsets


@pytest.mark.parametrize(
    ("text", "straight"),
    [
        ("1OO-24OV~", "100-240V~"),
        ("I2V DC", "12V DC"),
        ("5OOmA 1.OA", "500mA 1.0A"),
        ("OIL5W IP20 lOV 12V", "OIL5W IP20 lOV 12V"),
    ],
)
def test_letters_among_digits(text: str, straight: str) -> None:
    assert straightened(text)[0] == straight
