"""Polarity of the centre contact, drawn and in words.

The shape of IEC 60417-5926, a ring open on one side round a dot, is from memory; how people type it
is common practice, no source. The pole on the open side of the ring is the centre.
"""

import pytest

from sinkside.plates import read


@pytest.mark.parametrize(
    ("drawing", "centre"),
    [
        ("⊖–C–⊕", "positive"),
        ("⊕–C–⊖", "negative"),
        ("(-)-C-(+)", "positive"),
        ("(+)--C--(-)", "negative"),
        ("[-]—C—[+]", "positive"),
        ("-(●-+", "positive"),
        ("+-(●--", "negative"),
        ("+-●)--", "positive"),
        ("-o)-+", "negative"),
        ("⊖-⊂•-⊕", "positive"),
        ("⊖–⟮•–⊕", "positive"),
        ("⊖―Ɔ―⊕", "negative"),
        ("⊕–●)–⊖", "positive"),
        ("- C +", "positive"),
        ("⊖C⊕", "positive"),
        ("⊖-(-⊕", "positive"),
        ("(⊖ – (● – ⊕)", "positive"),
        ("㊀-С-㊉", "positive"),
        ("Θ-C-⊕", "positive"),
    ],
)
def test_drawings_that_tell(drawing: str, centre: str) -> None:
    reading = read(f"DC IN 9V 1A {drawing}")
    assert (reading.centre, reading.ambiguities) == (centre, ())


@pytest.mark.parametrize(
    ("drawing", "why"),
    [
        ("⊕―●―⊖", "a dot without its open ring does not tell which pole is the centre"),
        ("⊖-○-⊕", "a dot without its open ring does not tell which pole is the centre"),
        ("⊖―◉―⊕", "a closed ring does not tell which pole is the centre"),
        ("(-)-(●)-(+)", "a closed ring does not tell which pole is the centre"),
        ("⊖-●-C-⊕", "dot and opening of the ring point to different poles"),
        ("⊖-C-⊖", "both ends of the drawing carry the same sign"),
        ("⊖ ⊕", "signs of polarity without a contact"),
    ],
)
def test_drawings_that_do_not_tell(drawing: str, why: str) -> None:
    reading = read(f"DC IN 9V 1A {drawing}")
    assert reading.centre == "unknown"
    assert [(a.column, a.text, a.why) for a in reading.ambiguities] == [(13, drawing, why)]


@pytest.mark.parametrize(
    ("words", "centre"),
    [
        ("centre positive", "positive"),
        ("CENTER NEGATIVE", "negative"),
        ("centre-negative", "negative"),
        ("center pin: +", "positive"),
        ("center (+)", "positive"),
        ("(-) center", "negative"),
        ("+ve centre", "positive"),
        ("centre -ve", "negative"),
        ("tip + sleeve -", "positive"),
        ("+ tip - sleeve", "positive"),
        ("- tip / + sleeve", "negative"),
        ("sleeve positive", "negative"),
        ("inner + / outer -", "positive"),
        ("inside/outside: +/-", "positive"),
        ("- center +", "positive"),
        ("tip=- ring=+", "negative"),
        ("Center Polarity: Negative", "negative"),
        ("innen plus, außen minus", "positive"),
        ("Mittelkontakt negativ", "negative"),
        ("+ auf Mitte", "positive"),
        ("positif au centre", "positive"),
        ("polo positivo al centro", "positive"),
        ("centro negativo", "negative"),
        ("kern +", "positive"),
        ("plus w środku", "positive"),
        ("+ uprostřed", "positive"),
        ("mittstift -", "negative"),
        ("центр плюс", "positive"),
        ("内正外负", "positive"),
        ("外负内正", "positive"),
        ("中心负极", "negative"),
        ("センタープラス", "positive"),
        ("ｾﾝﾀｰﾌﾟﾗｽ", "positive"),
        ("センターマイナス", "negative"),
        ("센터 플러스(+)", "positive"),
        ("안쪽 + 바깥쪽 -", "positive"),
    ],
)
def test_words(words: str, centre: str) -> None:
    reading = read(f"DC IN 9V 1A {words}")
    assert (reading.centre, reading.ambiguities) == (centre, ())


@pytest.mark.parametrize(
    ("words", "why"),
    [
        ("+ center -", "a contact with a sign on either side"),
        ("center +/-", "the contacts carry signs that contradict each other"),
        ("centre + sleeve +", "the contacts carry signs that contradict each other"),
        ("- center", "a minus, or a dash in front of the word"),
    ],
)
def test_words_that_do_not_tell(words: str, why: str) -> None:
    reading = read(f"{words}; DC IN 9V 1A")
    assert reading.centre == "unknown"
    assert [(a.column, a.why) for a in reading.ambiguities] == [(1, why)]


def test_a_dash_between_two_statements_may_be_a_minus() -> None:
    reading = read("DC IN 9V center - 300mA")
    assert reading.centre == "unknown"
    assert [(a.column, a.text, a.why) for a in reading.ambiguities] == [
        (10, "center -", "a minus, or a dash between two statements")
    ]


def test_two_statements_that_disagree() -> None:
    reading = read("9V⎓1A center positive ⊕–C–⊖")
    assert reading.centre == "unknown"
    assert [(a.column, a.text, a.why) for a in reading.ambiguities] == [
        (23, "⊕–C–⊖", "says that the centre is negative, but another place says positive")
    ]


def test_words_settle_a_drawing_that_does_not_tell() -> None:
    reading = read("9V⎓1A ⊖–●–⊕ center positive")
    assert (reading.centre, reading.ambiguities) == ("positive", ())


@pytest.mark.parametrize("text", ["9V⎓ positive ground", "9V⎓ center of excellence", "9V⎓ USB-C+A"])
def test_words_that_are_not_about_the_centre(text: str) -> None:
    reading = read(text)
    assert (reading.centre, reading.ambiguities) == ("unknown", ())


def test_polarity_beside_alternating_current_is_doubtful() -> None:
    reading = read("OUTPUT: 9V~ 1A ⊖–C–⊕")
    assert reading.centre == "positive"
    assert [a.why for a in reading.ambiguities] == [
        "polarity on a plate that gives alternating current"
    ]
