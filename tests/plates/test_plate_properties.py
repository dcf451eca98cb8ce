"""Properties of the reader: it never fails, it is quick, and what it renders it reads back."""

import time

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.plates import LONGEST_TEXT, PlateReading, read
from sinkside.plates.grammar import items
from sinkside.plates.items import Word
from sinkside.plates.lexemes import Lexeme

# Pieces of plates in any order, glued or apart.
_ALL = """
9 12 100 240 1.5 0,5 1,500 1.2.3 .5 0912 12345678 ½ V A mA W VA Hz VDC VAC kV mAh ~ - – = === -- ⎓
/ : , ; ( ) [ ] + & @ . … ÷ ± % × x 2 < > _ INPUT OUTPUT IN OUT DC AC AC/DC CA CC V- MAX PEAK TOTAL
PPS AVS USB USB-C C1 C2 A C TYPE PD 3.0 MODEL No. AD-12 FUSE T2A battery AA adapter each inrush
center sleeve ground positive negative ⊕ ⊖ ● ○ ◉ to a or and VOLTS AMPS 中心 正 输入 出力 伏
センター プラス 입력 вход В мА é e\u0301 \u200b ﾌﾟ 🔌 \ud800
"""
PIECES = [*_ALL.split(), "\n", "\r\n", "AC ADAPTER", "DC ADAPTER", "PORT 1"]
plates = st.lists(st.tuples(st.sampled_from(PIECES), st.sampled_from(["", "", " "]))).map(
    lambda pairs: "".join(piece + gap for piece, gap in pairs)
)


def lines_of(text: str) -> list[str]:
    """The lines of a text, with the three line breaks that plates come with."""
    return text.replace("\r\n", "\n").replace("\r", "\n").split("\n")


def stands_where_it_says(text: str, piece: str, line: int, column: int) -> bool:
    """Whether a piece stands at its place in the text as given."""
    rest = "\n".join(lines_of(text)[line - 1 :])[column - 1 :]
    return rest.startswith(piece.replace("\r\n", "\n").replace("\r", "\n"))


def holds(text: str, reading: PlateReading) -> None:
    """What holds for every reading."""
    assert "this stretch could not be read" not in {doubt.why for doubt in reading.ambiguities}
    for told in (*reading.ambiguities, *reading.ignored):
        assert stands_where_it_says(text, told.text, told.line, told.column)
    for rating in (*reading.input, *reading.output):
        assert rating.voltage_low_v <= rating.voltage_high_v
        assert 1 <= rating.line <= len(lines_of(text))
        assert rating.kind != "unknown" or reading.ambiguities
    assert set(reading.as_json()) == {
        "input",
        "output",
        "centre",
        "shared",
        "total_power_w",
        "ambiguities",
        "ignored",
    }


@settings(derandomize=True, deadline=None, max_examples=400)
@given(plates)
def test_pieces_of_plates_in_any_order_are_read(text: str) -> None:
    holds(text, read(text[:LONGEST_TEXT]))


@settings(derandomize=True, deadline=None, max_examples=200)
@given(st.text(max_size=200))
def test_any_text_is_read(text: str) -> None:
    holds(text, read(text))


@pytest.mark.parametrize("piece", PIECES)
def test_a_long_row_of_one_piece_is_read_within_a_second(piece: str) -> None:
    text = (piece * LONGEST_TEXT)[:LONGEST_TEXT]
    started = time.process_time()
    read(text)
    assert time.process_time() - started < 1.0


NOTATIONS = (
    "{v}V⎓{a}A",
    "{v} V ⎓ {a} A",
    "{v}VDC {ma}mA",
    "{v} VDC, {a} A",
    "DC {v}V {a}A",
    "DC{v}V/{a}A",
    "{v}V={a}A",
    "{v}V === {ma} mA",
    "{v}V --- {a}A",
    "{v}V DC @ {ma}mA",
    "{a}A {v}V DC",
    "{v}V d.c. {a}A",
    "OUTPUT: {v}V⎓ {a}A",
    "AUSGANG {vc}V⎓ {ac}A",
    "SORTIE : {vc} V c.c. {ac} A",
    "输出：直流 {v}伏 {ma}毫安",
    "ВЫХОД: {vc} В⎓ {ma} мА",
    "O/P {v}V- {a}A",
    "V: {v} DC A: {a}",
)
tenths_of_volts = st.integers(min_value=10, max_value=480)
hundredths_of_amperes = st.integers(min_value=5, max_value=995)


@settings(derandomize=True, deadline=None, max_examples=300)
@given(st.sampled_from(NOTATIONS), tenths_of_volts, hundredths_of_amperes)
def test_a_rendered_rating_reads_back(notation: str, volts: int, amperes: int) -> None:
    v, a = f"{volts / 10:g}", f"{amperes / 100:g}"
    commas = {"vc": v.replace(".", ","), "ac": a.replace(".", ",")}
    reading = read(notation.format(v=v, a=a, ma=amperes * 10, **commas))
    (rating,) = reading.output
    assert (rating.voltage_low_v, rating.voltage_high_v) == (volts / 10, volts / 10)
    assert (rating.kind, rating.current_a) == ("dc", amperes / 100)
    assert (reading.input, reading.ambiguities) == ((), ())


@settings(derandomize=True, deadline=None, max_examples=100)
@given(
    st.lists(st.tuples(tenths_of_volts, hundredths_of_amperes), min_size=2, max_size=6),
    st.sampled_from([" / ", ", ", " ", "; ", " or ", "\n", "/"]),
)
def test_a_rendered_list_reads_back(ratings: list[tuple[int, int]], parted_by: str) -> None:
    text = parted_by.join(f"{volts / 10:g}V⎓{amperes / 100:g}A" for volts, amperes in ratings)
    reading = read(f"OUTPUT: {text}")
    assert [(r.voltage_high_v, r.current_a, r.kind) for r in reading.output] == [
        (volts / 10, amperes / 100, "dc") for volts, amperes in ratings
    ]
    assert reading.ambiguities == ()


@settings(derandomize=True, deadline=None, max_examples=200)
@given(tenths_of_volts, st.sampled_from(["", " "]), st.sampled_from(["V", "mA", "A", "W", "VA"]))
def test_a_figure_is_read_or_doubted_never_lost(value: int, gap: str, unit: str) -> None:
    reading = read(f"XYZ {value / 10:g}{gap}{unit} QRS")
    assert reading.ambiguities
    assert (unit == "V") == bool(reading.input or reading.output)


def test_a_row_that_the_grammar_refuses_loses_no_figure() -> None:
    row = [
        Lexeme(kind="V", start=0, end=1, text="V"),
        Lexeme(kind="V_NUMBER", start=1, end=2, text="9", value=9.0),
        Lexeme(kind="NUMBER", start=2, end=3, text="7", value=7.0),
    ]
    why = "this stretch could not be read"
    assert items(row) == [
        Word(kind="NOISE", text="V", note=why, start=0, end=1),
        Word(kind="MUDDLE", text="9", note=why, start=1, end=2),
        Word(kind="NOISE", text="7", note=why, start=2, end=3),
    ]
