"""Ratings of one plate each. How plates are printed: common practice, no source."""

import pytest

from sinkside.plates import PlateReading, Rating, read

# Volts low and high, kind, amperes.
type_of_short = tuple[float, float, str, float | None]


def short(ratings: tuple[Rating, ...]) -> list[type_of_short]:
    """Volts, kind and current of ratings, as the tables below give them."""
    return [(r.voltage_low_v, r.voltage_high_v, r.kind, r.current_a) for r in ratings]


def sides(reading: PlateReading) -> tuple[list[type_of_short], list[type_of_short]]:
    """Both sides of a plate in short."""
    return short(reading.input), short(reading.output)


MAINS = (100.0, 240.0, "ac", 0.4)


@pytest.mark.parametrize(
    ("text", "input_", "output"),
    [
        ("INPUT: 100-240V~ 50/60Hz 0.4A  OUTPUT: 9V⎓1.3A", [MAINS], [(9, 9, "dc", 1.3)]),
        ("DC IN 12V 2A ⊖–C–⊕", [(12, 12, "dc", 2)], []),
        ("9 VAC 1000 mA", [], [(9, 9, "ac", 1)]),
        ("6VDC 300mA 1.8VA", [], [(6, 6, "dc", 0.3)]),
        ("9V- 500mA", [], [(9, 9, "dc", 0.5)]),
        ("100~240V 50~60Hz 0.4A", [MAINS], []),
        ("100V~240V~ 0.4A", [MAINS], []),
        ("AC IN 120V~60Hz 15W", [(120, 120, "ac", None)], []),
        ("12V⎓ IN 2A", [(12, 12, "dc", 2)], []),
        ("100-240V AC INPUT 12V DC OUTPUT", [(100, 240, "ac", None)], [(12, 12, "dc", None)]),
        ("IN/OUT: 5V⎓2A", [(5, 5, "dc", 2)], [(5, 5, "dc", 2)]),
        ("115/230V~ 0.8/0.4A", [(115, 115, "ac", 0.8), (230, 230, "ac", 0.4)], []),
        ("100-240V~ 1.2-0.6A", [(100, 240, "ac", 1.2)], []),
        ("1A @ 12V DC", [], [(12, 12, "dc", 1)]),
        ("OUT: 1A 9V⎓ 2A 12V⎓", [], [(9, 9, "dc", 1), (12, 12, "dc", 2)]),
        ("OUTPUT CURRENT: 1A OUTPUT VOLTAGE: 12V DC", [], [(12, 12, "dc", 1)]),
        ("OUTPUT: 12V\n⎓\n2A", [], [(12, 12, "dc", 2)]),
        ("+5V⎓2A -12V⎓0.3A", [], [(5, 5, "dc", 2), (-12, -12, "dc", 0.3)]),
        ("±15V⎓0.5A", [], [(15, 15, "dc", 0.5), (-15, -15, "dc", 0.5)]),
        ("12V ±0.5V DC 1A", [], [(12, 12, "dc", 1)]),
        ("INPUT: 9...36 V DC, max. 1 A", [(9, 36, "dc", 1)], []),
        ("7½V DC 300mA", [], [(7.5, 7.5, "dc", 0.3)]),
        ("VOLTS 117 AC CYCLES 60 AMPS .4", [(117, 117, "ac", 0.4)], []),
        ("ＤＣ１２Ｖ　１Ａ", [], [(12, 12, "dc", 1)]),
        ("9V ㎃ DC 300㎃", [], [(9, 9, "dc", 0.3)]),
        ("OUT: DC 9V AC 12V", [], [(9, 9, "dc", None), (12, 12, "ac", None)]),
        ("9V DC ADAPTER 500mA", [], [(9, 9, "dc", 0.5)]),
        ("PRI: 230V~ 50Hz SEC: 12V~ 1A", [(230, 230, "ac", None)], [(12, 12, "ac", 1)]),
        ("電源：DC 9V", [(9, 9, "dc", None)], []),
    ],
)
def test_ratings_of_both_sides(
    text: str, input_: list[type_of_short], output: list[type_of_short]
) -> None:
    reading = read(text)
    assert (sides(reading), reading.ambiguities) == ((input_, output), ())


@pytest.mark.parametrize(
    "text",
    [
        "3/4.5/6/9V 500mA DC",
        "3V/4.5V/6V/9V DC 500mA",
        "3 / 4,5 / 6 / 9 V⎓ 500 mA",
        "3-4.5-6-9V⎓ 500mA",
        "3; 4,5; 6; 9 V⎓ 500 mA",
    ],
)
def test_a_switch_for_several_voltages_gives_one_rating_each(text: str) -> None:
    expected = [(v, v, "dc", 0.5) for v in (3.0, 4.5, 6.0, 9.0)]
    assert sides(read(text)) == ([], expected)
    assert [a.why for a in read(text).ambiguities] == ["one current for several voltages"]


@pytest.mark.parametrize(
    "sign",
    ["⎓", " ===", " ---", " - - -", "_ _ _", " DC", " D.C.", " d. c.", " c.c.", "=", "DC", "⎓⎓"],
)
def test_signs_for_direct_current(sign: str) -> None:
    assert sides(read(f"9V{sign} 500mA")) == ([], [(9, 9, "dc", 0.5)])
    assert read(f"9V{sign} 500mA").ambiguities == ()


@pytest.mark.parametrize(
    "sign",
    ["-", "cc", " Gleichstrom", " =", " 直流", "≡", " пост. тока", " ss", "═", " courant continu"],
)
def test_more_signs_for_direct_current(sign: str) -> None:
    assert sides(read(f"9V{sign} 500mA")) == ([], [(9, 9, "dc", 0.5)])
    assert read(f"9V{sign} 500mA").ambiguities == ()


@pytest.mark.parametrize(
    "sign",
    [
        "~",
        " AC",
        "AC",
        "∿",
        "∼",
        "～",
        " c.a.",
        " a.c.",
        "ca",
        " Wechselstrom",
        " 交流",
        " перем.",
        "⏦",
    ],
)
def test_signs_for_alternating_current(sign: str) -> None:
    assert sides(read(f"9V{sign} 500mA")) == ([], [(9, 9, "ac", 0.5)])
    assert read(f"9V{sign} 500mA").ambiguities == ()


@pytest.mark.parametrize(
    ("input_", "output"),
    [
        ("Input", "Output"),
        ("I/P", "O/P"),
        ("EINGANG", "AUSGANG"),
        ("Primär", "Sekundär"),
        ("Entrée", "Sortie"),
        ("ENTRADA", "SALIDA"),
        ("Entrada", "Saída"),
        ("INGRESSO", "USCITA"),
        ("Ingang", "Uitgang"),
        ("WEJŚCIE", "WYJŚCIE"),
        ("Vstup", "Výstup"),
        ("IN", "UT"),
        ("Tulo", "Lähtö"),
        ("Indgang", "Udgang"),
        ("ВХОД", "ВЫХОД"),
        ("כניסה", "יציאה"),
        ("الدخل", "الخرج"),
        ("输入", "输出"),
        ("輸入", "輸出"),
        ("入力", "出力"),
        ("입력", "출력"),
        ("Eingangsspannung", "Ausgangsspannung"),
    ],
)
def test_labels_in_many_languages(input_: str, output: str) -> None:
    reading = read(f"{input_}: 100-240V~ 0,4A {output}: 12 V⎓ 1,5 A")
    assert sides(reading) == ([MAINS], [(12, 12, "dc", 1.5)])
    assert reading.ambiguities == ()


def test_units_in_cyrillic_chinese_japanese_and_korean() -> None:
    expected = ([], [(9, 9, "dc", 0.5)])
    for text in ("9 В⎓ 500 мА", "9伏⎓ 500毫安", "9ボルト⎓ 500ミリアンペア", "9볼트⎓ 500밀리암페어"):
        assert sides(read(text)) == expected


def test_an_unlabelled_mains_voltage_is_an_input_and_anything_else_an_output() -> None:
    reading = read("100-240V~ 50/60Hz 0.4A 12V⎓1A")
    assert sides(reading) == ([MAINS], [(12, 12, "dc", 1)])


@pytest.mark.parametrize(
    ("text", "current_a", "peak_current_a"),
    [
        ("12V⎓2A peak 3A", 2.0, 3.0),
        ("24V⎓1.5A (3A peak)", 1.5, 3.0),
        ("24V⎓ 2A/3A peak", 2.0, 3.0),
        ("12V⎓ 1A, Spitze 2A", 1.0, 2.0),
        ("12V⎓ Ipk 2A 1A", 1.0, 2.0),
        ("13.8VDC 20A (25A SURGE)", 20.0, 25.0),
        ("12V⎓ 1A 最大 峰值 2A", 1.0, 2.0),
        ("12V⎓ 1A / 2A peak 12W", 1.0, 2.0),
    ],
)
def test_peak_currents(text: str, current_a: float, peak_current_a: float) -> None:
    (rating,) = read(text).output
    assert (rating.current_a, rating.peak_current_a) == (current_a, peak_current_a)


def test_power_of_each_rating_of_a_list_and_of_all() -> None:
    each = read("5V⎓3A (15W) 9V⎓3A 27W")
    assert ([r.power_w for r in each.output], each.total_power_w) == ([15.0, 27.0], None)
    apart = read("5V⎓3A 9V⎓2A\n18W")
    assert ([r.power_w for r in apart.output], apart.total_power_w) == ([None, None], 18.0)
    mains = read("115/230V~ 20W")
    assert ([r.power_w for r in mains.input], mains.total_power_w) == ([20.0, 20.0], None)
    heading = read("OUTPUT: 65W USB-C: 5V⎓3A 20V⎓3.25A")
    assert ([r.power_w for r in heading.output], heading.total_power_w) == ([None, None], 65.0)
    most = read("O/P: 5V=2.4A / 9V=2A / 12V=1.5A 18W MAX")
    assert ([r.power_w for r in most.output], most.total_power_w) == ([None, None, None], 18.0)
    assert [r.kind for r in most.output] == ["dc", "dc", "dc"]
    assert most.ambiguities == ()


def test_ports_shared_power_and_total() -> None:
    reading = read(
        "USB-C1: 5V⎓3A, 20V⎓5A (100W Max)\n"
        "USB-C2: 5V⎓3A, 9V⎓2.22A\n"
        "USB-A: 5V/2.4A\n"
        "C1+C2: 65W+30W\n"
        "C1+C2+A: 65W+20W+12W\n"
        "Total Output: 100W Max"
    )
    assert [(r.port, r.voltage_high_v, r.kind) for r in reading.output] == [
        ("C1", 5.0, "dc"),
        ("C1", 20.0, "dc"),
        ("C2", 5.0, "dc"),
        ("C2", 9.0, "dc"),
        ("A", 5.0, "dc"),
    ]
    assert [(s.ports, s.power_w, s.line, s.column) for s in reading.shared] == [
        (("C1",), (100.0,), 1, 1),
        (("C1", "C2"), (65.0, 30.0), 4, 1),
        (("C1", "C2", "A"), (65.0, 20.0, 12.0), 5, 1),
    ]
    assert (reading.total_power_w, reading.ambiguities, reading.ignored) == (100.0, (), ())


@pytest.mark.parametrize(
    ("text", "port"),
    [
        ("USB-C: 5V⎓3A", "C"),
        ("Type-C 5V⎓3A", "C"),
        ("USB Type-C1: 5V⎓3A", "C1"),
        ("USB: 5V⎓3A", "USB"),
        ("USB2: 5V⎓3A", "USB2"),
        ("PORT 2: 5V⎓3A", "2"),
        ("OUTPUT 1: 5V⎓3A", "1"),
        ("OUTPUT (A): 5V⎓3A", "A"),
        ("V1: +5V⎓3A", "V1"),
        ("C1/C2: 5V⎓3A", "C1/C2"),
        ("5V⎓3A (USB-A)", "A"),
        ("5V⎓3A (USB)", "USB"),
        ("A输出：5V⎓3A", "A"),
        ("A OUTPUT: 5V⎓3A", "A"),
        ("PORT B 5V⎓3A", "B"),
        ("USB-C1 Output: 5V⎓3A", "C1"),
        ("5V⎓3A", None),
    ],
)
def test_names_of_ports(text: str, port: str | None) -> None:
    (rating,) = read(text).output
    assert (rating.port, rating.voltage_high_v, rating.current_a) == (port, 5.0, 3.0)


@pytest.mark.parametrize(
    ("text", "power_w"),
    [
        ("C1+C2: 45W+20W", (45.0, 20.0)),
        ("USB-C1 + USB-C2 = 45 W + 20 W", (45.0, 20.0)),
        ("C1+C2: 65W (45W+20W)", (45.0, 20.0)),
        ("C1+C2: 45W+20W = 65W", (45.0, 20.0)),
        ("C1+C2: 65W MAX", (65.0,)),
        ("C1+C2 total: 65W", (65.0,)),
        ("C1+C2 output: 45W+20W", (45.0, 20.0)),
        ("C1+C2 max. power: 65W", (65.0,)),
        ("C1 45W + C2 20W", (45.0, 20.0)),
        ("C1 (45W) + C2 (20W)", (45.0, 20.0)),
        ("C1+C2 output: 45W+20W (65W Max)", (45.0, 20.0)),
        ("USB-C 1 + USB-C 2 Output: 45W+20W", (45.0, 20.0)),
    ],
)
def test_power_that_ports_share(text: str, power_w: tuple[float, ...]) -> None:
    reading = read(text)
    (shared,) = reading.shared
    assert (shared.ports, shared.power_w, shared.ratings) == (("C1", "C2"), power_w, ())
    assert reading.ambiguities == ()


def test_a_rating_that_ports_have_together_is_no_rating_of_a_port() -> None:
    reading = read("USB-A1: 5V⎓2.4A\nUSB-A2: 5V⎓2.4A\nUSB-A1+USB-A2: 5V⎓3.4A")
    assert [(r.port, r.current_a) for r in reading.output] == [("A1", 2.4), ("A2", 2.4)]
    (shared,) = reading.shared
    assert (shared.ports, shared.power_w) == (("A1", "A2"), ())
    assert [(r.voltage_high_v, r.current_a, r.port) for r in shared.ratings] == [(5, 3.4, "A1+A2")]


def test_ports_with_names_of_their_own_may_be_joined() -> None:
    letters = read("PORT A: 5V⎓2A\nPORT B: 5V⎓2A\nA+B: 5V⎓3A")
    assert [s.ports for s in letters.shared] == [("A", "B")]
    assert [r.port for r in letters.output] == ["A", "B"]
    digits = read("PORT 1: 5V⎓3A\nPORT 2: 5V⎓3A\n1+2: 10W+5W")
    assert [(s.ports, s.power_w) for s in digits.shared] == [(("1", "2"), (10.0, 5.0))]
    labels = read("OUTPUT 1: 5V⎓3A\nOUTPUT 2: 5V⎓3A\nOUTPUT 1+OUTPUT 2: 10W+5W")
    assert [(s.ports, s.power_w) for s in labels.shared] == [(("1", "2"), (10.0, 5.0))]
    words = read("PORT A: 5V⎓2A\nPORT B: 5V⎓2A\nPORT A+PORT B total: 15W")
    assert [(s.ports, s.power_w) for s in words.shared] == [(("A", "B"), (15.0,))]


def test_a_letter_with_a_word_behind_it_is_a_port_where_others_have_names() -> None:
    reading = read("C1 SINGLE: 5V⎓3A\nA SINGLE: 5V⎓2A")
    assert [(r.port, r.current_a) for r in reading.output] == [("C1", 3.0), ("A", 2.0)]


def test_ports_with_an_equals_sign_and_power() -> None:
    reading = read("C1=65W A=22.5W\nC1+A=45W+18W")
    assert [(s.ports, s.power_w) for s in reading.shared] == [
        (("C1",), (65.0,)),
        (("A",), (22.5,)),
        (("C1", "A"), (45.0, 18.0)),
    ]
    assert reading.ambiguities == ()


def test_a_power_on_a_line_of_its_own_below_those_of_ports_is_the_total() -> None:
    reading = read("C1+C2: 45W+20W\nMAX 65W\nC1+A: 30W+12W\n70W")
    assert reading.total_power_w == 70.0
    assert [a.text for a in reading.ambiguities] == []


def test_ports_that_have_ratings_of_their_own_are_meant_together_by_an_and() -> None:
    reading = read("C1: 5V⎓3A\nC2: 5V⎓3A\nC1 & C2: 5V⎓4A")
    assert [(s.ports, [r.current_a for r in s.ratings]) for s in reading.shared] == [
        (("C1", "C2"), [4.0])
    ]
    assert [r.current_a for r in reading.output] == [3.0, 3.0]


def test_power_of_each_of_two_ports() -> None:
    reading = read("USB-C1/C2: 5V⎓3A 20V⎓3A 60W MAX")
    assert [(s.ports, s.power_w) for s in reading.shared] == [
        (("C1",), (60.0,)),
        (("C2",), (60.0,)),
    ]


def test_a_heading_of_a_port_ends_an_input_but_not_a_list_of_input_ports() -> None:
    charger = read("INPUT: 100-240V~ 50/60Hz 0.4A\nUSB-C: 5V⎓3A")
    assert sides(charger) == ([MAINS], [(5, 5, "dc", 3)])
    pack = read("INPUT\nMicro USB: 5V⎓2A\nUSB-C: 5V⎓3A\nOUTPUT\nUSB-A: 5V⎓1A")
    assert sides(pack) == ([(5, 5, "dc", 2), (5, 5, "dc", 3)], [(5, 5, "dc", 1)])


@pytest.mark.parametrize(
    ("text", "profiles"),
    [
        ("5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A", ["fixed", "fixed", "pps"]),
        ("PPS: 3.3-5.9V⎓3A / 3.3-11V⎓2A", ["pps", "pps"]),
        ("3.3-11V⎓3A (PPS), 9-20V⎓3A (AVS)", ["pps", "avs"]),
        ("(PDO) 5V⎓3A (PPS) 5-11V⎓3A", ["fixed", "pps"]),
        ("AVS: 15-28V⎓5A", ["avs"]),
        ("3.3V-11V/3A PPS", ["pps"]),
        ("PPS1: 3.3-11V⎓3A PPS2: 3.3-16V⎓2A", ["pps", "pps"]),
    ],
)
def test_adjustable_supplies(text: str, profiles: list[str]) -> None:
    reading = read(text)
    assert [r.profile for r in reading.output] == profiles
    assert {r.kind for r in reading.output} == {"dc"}
    assert reading.ambiguities == ()


def test_codes_dates_marks_and_fuses_are_shown_not_read() -> None:
    reading = read(
        "CLASS 2 TRANSFORMER\n"
        "MODEL NO: 41-9-500D  S/N: 0912345678A\n"
        "INPUT: AC120V 60Hz 9W\n"
        "OUTPUT: DC9V 500mA\n"
        "FUSE: T2AL250V  IP20  E123456  DATE 2009.12  MADE IN NOWHERE"
    )
    assert sides(reading) == ([(120, 120, "ac", None)], [(9, 9, "dc", 0.5)])
    assert [(i.line, i.column, i.text) for i in reading.ignored] == [
        (1, 1, "CLASS 2 TRANSFORMER"),
        (2, 1, "MODEL NO: 41-9-500D  S/N: 0912345678A"),
        (5, 1, "FUSE: T2AL250V  IP20  E123456  DATE 2009.12  MADE IN NOWHERE"),
    ]
    assert reading.ambiguities == ()


def test_places_are_those_of_the_text_as_given() -> None:
    reading = read("Netzteil\r\nAusga\u0308nge\r\nSAI\u0301DA: ９Ｖ⎓ 1A\u200b 2A")
    (rating,) = reading.output
    assert (rating.line, rating.column) == (3, 9)
    (doubt,) = reading.ambiguities
    assert (doubt.line, doubt.column, doubt.text) == (3, 17, "2A")


def test_a_reading_is_hashable_and_equal_to_itself_read_again() -> None:
    text = "INPUT: 100-240V~ 50/60Hz 0.4A  OUTPUT: 9V 1.3A"
    assert hash(read(text)) == hash(read(text))
    assert read(text) == read(text)
