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
        ("min aan de binnenkant", "negative"),
        ("плюс на внутреннем контакте", "positive"),
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


def test_a_sign_between_a_contact_and_its_volts_is_the_contacts() -> None:
    plus = read("DC IN center +9V 200mA")
    assert [(r.voltage_high_v, r.current_a) for r in plus.input] == [(9.0, 0.2)]
    assert (plus.centre, plus.ambiguities) == ("positive", ())
    again = read("DC IN 12V 500mA, tip = +12V")
    assert [(r.voltage_high_v, r.current_a) for r in again.input] == [(12.0, 0.5)]
    assert (again.centre, again.ambiguities) == ("positive", ())


def test_a_dash_between_a_contact_and_its_volts_may_be_a_minus_but_no_negative_rail() -> None:
    reading = read("DC IN tip -9V 100mA")
    assert [r.voltage_low_v for r in reading.input] == [9.0]
    assert reading.centre == "unknown"
    assert [a.why for a in reading.ambiguities] == ["a minus, or a dash between two statements"]


def test_a_contact_with_a_number_is_one_of_several_and_not_the_centre() -> None:
    for text in ("24V⎓ PIN 1 +, PIN 2 -", "24V⎓ pin 1: +  pin 2: -"):
        assert (read(text).centre, read(text).ambiguities) == ("unknown", ())


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


@pytest.mark.parametrize(
    "drawn",
    ["(-)-(*)-(+)", "(+)-*-(-)", "(-)-@-(+)", "(-)-x-(+)", "(-) # -(+)", "⊖---⊕", "[-]-(+)"],
)
def test_what_is_no_open_ring_leaves_the_centre_open(drawn: str) -> None:
    """An asterisk or a letter for the ring shows no opening; the bracket of a sign is none."""
    reading = read(f"9V⎓ 1A {drawn}")
    assert reading.centre == "unknown"
    assert [(a.text, "which" in a.why) for a in reading.ambiguities] == [(drawn, True)]


@pytest.mark.parametrize("drawn", ["-(+)", "- (+ )", "(+)", "(-) (+)"])
def test_a_sign_in_brackets_is_no_drawing(drawn: str) -> None:
    assert read(f"9V⎓ 1A {drawn}").centre == "unknown"
