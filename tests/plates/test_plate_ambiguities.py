"""What cannot be told for certain is told as such, with its place and the reason."""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.plates import LONGEST_TEXT, read

NO_SIGN = "no sign says whether this is direct or alternating current"
CONTRADICT = "signs for direct and for alternating current contradict each other"
THOUSANDS = "the mark in '{}' may part decimals or thousands"
LED_LIST = "the sign for the kind of current stands at the first voltage of the list only"
NO_VOLTAGE = "belongs to no voltage"
ONE_FOR_ALL = "one current for several voltages"
UNLABELLED = "a second rating without a label: inputs, outputs or one each"
CELLS = "the voltage of cells or a battery, not of a supply"
EACH_OR_ALL = "each of these ports, or all of them together"
ONE_OR_ALL = "the power of all outputs, or of one that has no voltage here"
TURNED = "a hidden sign turns the order of what follows: what is shown is not what is read"
NOT_VA = "the power is not volts times amperes"


@pytest.mark.parametrize(
    ("text", "doubts"),
    [
        ("9V 1A", [(1, "9V", NO_SIGN)]),
        ("9V-500mA", [(1, "9V", NO_SIGN)]),
        ("DC 9V ~ 1A", [(4, "9V ~", CONTRADICT)]),
        ("9V DC 1A ~", [(1, "9V DC", CONTRADICT)]),
        ("DC IN 9V~", [(7, "9V~", CONTRADICT)]),
        ("24Vac/dc 50mA", [(1, "24Vac/dc", CONTRADICT)]),
        ("24V~/= 50mA", [(1, "24V~/=", CONTRADICT)]),
        ("24V⎓/~ 50mA", [(1, "24V⎓/~", CONTRADICT)]),
        ("24V~/=== 50mA", [(1, "24V~/===", CONTRADICT)]),
        ("24V~/--- 50mA", [(1, "24V~/---", CONTRADICT)]),
        ("12V AC/DC 1A", [(1, "12V AC/DC", "says both direct and alternating current")]),
        ("12V⎓ 50Hz", [(1, "12V⎓", "says direct current, but has a frequency")]),
        ("1,500 mA 9V⎓", [(1, "1,500 mA", THOUSANDS.format("1,500"))]),
        ("9V⎓ 1.500 mA", [(5, "1.500 mA", THOUSANDS.format("1.500"))]),
        ("9V⎓ 1 500 mA", [(5, "1 500 mA", "a space between thousands, or two numbers")]),
        ("12V⎓1A 20W", [(8, "20W", NOT_VA)]),
        ("9V~ 1A 5VA", [(8, "5VA", NOT_VA)]),
        ("12V⎓1A 2A", [(8, "2A", NO_VOLTAGE)]),
        ("12W", [(1, "12W", NO_VOLTAGE)]),
        ("DC 5V 2A, 9V 1A", [(11, "9V", LED_LIST)]),
        (
            "9V AC ADAPTER",
            [(1, "9V", "'AC adapter' names a brick for the mains, not what comes out of it")],
        ),
        ("3/6/9V 500mA DC", [(8, "500mA", ONE_FOR_ALL)]),
        ("5V 9V 12V⎓ 3A DC", [(12, "3A", ONE_FOR_ALL), (1, "5V", NO_SIGN), (4, "9V", NO_SIGN)]),
        ("DC OUT 5V/9V 3A/2A", [(14, "3A/2A", "paired with the voltages in order")]),
        ("DC OUT 5V 9V 3A 2A", [(14, "3A", "paired with the voltages in order")]),
        (
            "DC OUT 5V 9V 12V 3A 2A",
            [
                (18, "3A", "not as many currents as voltages"),
                (21, "2A", "not as many currents as voltages"),
            ],
        ),
        ("DC OUT 5V/9V/12V 3A/2A", [(18, "3A/2A", "not one figure for each voltage")]),
        ("12V⎓2A 5V⎓3A", [(8, "5V⎓", UNLABELLED)]),
        ("12V⎓ 2A (PEAK 1.5A)", [(15, "1.5A", "a peak below the rated current")]),
        (
            "INPUT: 9V⎓ OUTPUT: 230V~ 50Hz",
            [(20, "230V~", "mains volts on the side of the output")],
        ),
        ("1OO-24OV~ 50Hz", [(1, "1OO-24OV~", "letters where digits are expected")]),
        ("Input  Output\n230V~ 12V⎓", [(7, "12V⎓", "stands in a table under both labels")]),
        ("2x12V~ 1A", [(3, "12V~", "several of one kind")]),
        ("12-0-12V~ 1A", [(1, "12-0-12V~", "a winding with a centre tap")]),
        ("24V⎓ 0-2A", [(6, "0-2A", "a range where one figure is expected")]),
        (
            "9V- 12V 1A",
            [(1, "9V- 12V", "a range, or a sign for direct current"), (1, "9V- 12V", NO_SIGN)],
        ),
        ("12V⎓ 1.OA", [(6, "1.OA", "letters where digits are expected")]),
        ("MODEL: 12V", [(8, "12V", "a code or a rating")]),
        ("9V⎓ 5.5.5A", [(5, "5.5.5A", "several decimal marks in one number")]),
        ("9V⎓ inrush 30A", [(12, "30A", "stands with a word that makes it no rating")]),
        (
            "BATTERY: 4 x 1.5V",
            [(14, "1.5V", CELLS)],
        ),
        ("5000V⎓", [(1, "5000V⎓", "too high for the rating of a supply")]),
        ("9V⎓1A 20W peak", [(7, "20W", "a peak power, which has no place in a rating")]),
        (
            "OUTPUT: 5V⎓1A  INPUT: 9V⎓2A",
            [],
        ),
        (
            "9V⎓1A OUTPUT: 5V⎓2A",
            [(1, "9V⎓", "stands without a label beside ratings that have one")],
        ),
        (
            "INPUT: 230V~ 50Hz\n12V⎓ 1A",
            [(1, "12V⎓", "stands behind the input, but can hardly be one beside mains")],
        ),
        (
            "230/12V 50Hz",
            [(1, "230/12V", "both sides of a transformer, or alternatives")],
        ),
        ("C1+C2: 45W+20W+10W", [(8, "45W+20W+10W", "not one figure for each port")]),
        ("Total 60W, total 65W", [(18, "65W", "a second total power")]),
        ("OUTPUT 2.8V⎓ 2x500mA", [(16, "500mA", "several of one kind")]),
        ("12V⎓ 4 x 1.5V (R14)", [(10, "1.5V", CELLS)]),
        ("-5000V⎓", [(1, "-5000V⎓", "too high for the rating of a supply")]),
        ("USB-A & USB-C: 5V⎓3A", [(1, "USB-A & USB-C:", EACH_OR_ALL)]),
        ("C1: 5V⎓3A C2: 5V⎓3A C1/C2: 5V⎓4A", [(21, "C1/C2:", EACH_OR_ALL)]),
        ("OUTPUT: 15W USB-A OUTPUT: 5V⎓1A", [(9, "15W", ONE_OR_ALL)]),
        (
            "12V⎓ 800mA RIPPLE 120mVpp",
            [],
        ),
        ("12V⎓1A RIPPLE 0.1V", [(15, "0.1V", "stands with a word that makes it no rating")]),
        ("\u202e21V⎓", [(1, "\u202e", TURNED)]),
    ],
)
def test_doubts(text: str, doubts: list[tuple[int, str, str]]) -> None:
    assert sorted((a.column, a.text, a.why) for a in read(text).ambiguities) == sorted(doubts)


def test_the_kind_is_unknown_where_nothing_or_too_much_is_said() -> None:
    texts = ["9V 1A", "DC 9V ~ 1A", "12V AC/DC 1A", "9V AC ADAPTER", "12V⎓ 50Hz", "9V-1A"]
    assert [read(text).output[0].kind for text in texts] == ["unknown"] * 6


def test_words_of_the_usb_standards_and_a_frequency_say_the_kind() -> None:
    for text in ("USB-C: 5V/3A", "PD 5V/3A", "Type-C 5V/3A 9V/2A", "PPS: 3.3-11V/3A"):
        reading = read(text)
        assert {r.kind for r in reading.output} == {"dc"}
        assert reading.ambiguities == ()
    mains = read("100-240V 50/60Hz 0.5A")
    assert (mains.input[0].kind, mains.ambiguities) == ("ac", ())


def test_mains_watts_below_volts_times_amperes_are_a_power_factor() -> None:
    assert read("230V~ 50Hz 60mA 9W").ambiguities == ()


def test_a_milliampere_figure_with_a_comma_is_taken_as_thousands() -> None:
    assert read("1,500 mA 9V⎓").output[0].current_a == 1.5
    assert read("9V⎓ 1,500 A").output[0].current_a == 1.5
    assert read("9V⎓ 0,500 A").ambiguities == ()
    assert read("9V⎓ 1.500 A").ambiguities == ()


def test_a_text_longer_than_any_plate_is_refused() -> None:
    assert read("9" * LONGEST_TEXT).output == ()
    with pytest.raises(NotUnderstood) as refused:
        read("9" * (LONGEST_TEXT + 1))
    assert str(refused.value.fault) == (
        "a plate of 4001 characters; give at most 4000 characters, the ratings among them"
    )
    assert refused.value.fault.code == "plate-too-long"


def test_as_json_has_these_keys() -> None:
    reading = read("MODEL X9 C1: 5V⎓3A 9V 2A 18W MAX C1+C2: 15W+15W")
    assert reading.as_json() == {
        "input": [],
        "output": [
            {
                "voltage_low_v": 5.0,
                "voltage_high_v": 5.0,
                "kind": "dc",
                "current_a": 3.0,
                "peak_current_a": None,
                "power_w": None,
                "port": "C1",
                "profile": "fixed",
            },
            {
                "voltage_low_v": 9.0,
                "voltage_high_v": 9.0,
                "kind": "unknown",
                "current_a": 2.0,
                "peak_current_a": None,
                "power_w": None,
                "port": "C1",
                "profile": "fixed",
            },
        ],
        "centre": "unknown",
        "shared": [
            {"ports": ["C1"], "power_w": [18.0], "ratings": []},
            {"ports": ["C1", "C2"], "power_w": [15.0, 15.0], "ratings": []},
        ],
        "total_power_w": None,
        "ambiguities": [{"text": "9V", "line": 1, "column": 20, "why": NO_SIGN}],
        "ignored": [{"text": "MODEL X9", "line": 1, "column": 1}],
    }
