"""Signs that a terminal does not know, spelled out; nothing is lost on the way."""

import ast
from dataclasses import replace
from importlib import resources
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.cli.calls import FITS, Call

import sinkside as package
from sinkside import plates
from sinkside.cli.spellings import SPELLINGS, printable, spelled

ROOM = Path(package.__file__).parent
DRAWN = "─├┤┼═╞╡╪·"
# What these files hold is looked for in what people write, and is never written.
ONLY_READ = ("faults/marked_yaml.py", "faults/splice.py", "figures/labels.py", "papers/")

SPELT = [
    ("9V⎓ 300mA", "9V DC 300mA", "9V DC 300mA"),
    ("5V⎓3A 9V⎓3A", "5V DC 3A 9V DC 3A", "5V DC 3A 9V DC 3A"),
    ("⎓9V", "DC 9V", "DC 9V"),
    ("(9V⎓)", "(9V DC)", "(9V DC)"),
    ("⎓", "DC", "DC"),
    ("9V⏦", "9V AC", "9V AC"),
    ("⊖–C–⊕", "(-)-C-(+)", "(-)–C–(+)"),
    ("4.7 kΩ", "4.7 kohm", "4.7 kohm"),
    ("10 µF 50 V", "10 uF 50 V", "10 µF 50 V"),
    ("10 μF", "10 uF", "10 uF"),
    ("≥ 5 V, ≤ 6 V, ≠ 0, ≈ 5", ">= 5 V, <= 6 V, != 0, ~ 5", ">= 5 V, <= 6 V, != 0, ~ 5"),
    ("9 V ±10 %, −3 °C", "9 V +/-10 %, -3 degC", "9 V ±10 %, -3 °C"),
    ("2 × 1.5 mm²", "2 x 1.5 mm^2", "2 × 1.5 mm²"),
    ("solo C1 → lead", "solo C1 -> lead", "solo C1 -> lead"),
    ("{key: value, …}", "{key: value, ...}", "{key: value, …}"),
    ("├─┼─┤ ╞═╪═╡", "|-+-| |=+=|", "|-+-| |=+=|"),
    ("½ ㎌ ℃", "1/2 uF degC", "½ uF degC"),
    ("Café Łódź, straße, smørrebrød", "Cafe Lodz, strasse, smorrebrod", None),
    ("e\N{COMBINING ACUTE ACCENT}tude", "etude", "etude"),
    ("чай 茶 가", "\\u0447\\u0430\\u0439 \\u8336 \\uac00", None),
    ("🔘", "\\U0001f518", "\\U0001f518"),
    ("a\N{ZERO WIDTH JOINER}b\N{ZERO WIDTH NO-BREAK SPACE}", "ab", "ab"),
    ("\x1b[31mred\x07\r\n\tand more\n", "\\x1b[31mred\\x07\\r\n\tand more\n", None),
    ("\udcff.yaml", "\\xff.yaml", "\\xff.yaml"),
    ("\ud800", "\\ud800", "\\ud800"),
    ("plain text: 9 V, 3 A", "plain text: 9 V, 3 A", "plain text: 9 V, 3 A"),
    ("", "", ""),
]


@pytest.mark.parametrize(("text", "in_ascii", "in_cp1252"), SPELT)
def test_a_text_in_poor_letters(text: str, in_ascii: str, in_cp1252: str | None) -> None:
    assert spelled(text, "ascii") == in_ascii
    assert in_cp1252 is None or spelled(text, "cp1252") == in_cp1252


@pytest.mark.parametrize("encoding", ["utf-8", "utf-16", "gb18030"])
def test_what_the_terminal_knows_stays_as_it_is(encoding: str) -> None:
    text = "9V⎓ ⊖–C–⊕ ½ ㎌ чай 茶 가 🔘\n"
    assert spelled(text, encoding) == text


def test_what_moves_the_cursor_is_never_sent_to_a_terminal() -> None:
    assert spelled("9V\x1b[2J\x9b1m\r⎓\x00\x7f", "utf-8") == "9V\\x1b[2J\\x9b1m\\r⎓\\x00\\x7f"


@pytest.mark.parametrize(
    ("name", "shown"),
    [
        ("my site.yaml", "my site.yaml"),
        ("Café 茶.yaml", "Café 茶.yaml"),
        ("a\nb\t.yaml", "a\\nb\\t.yaml"),
        ("\udcff\udc80.yaml", "\\xff\\x80.yaml"),
        ("a\N{RIGHT-TO-LEFT OVERRIDE}lmay", "a\\u202elmay"),
        ("\x1b]0;x\x07", "\\x1b]0;x\\x07"),
    ],
)
def test_a_name_is_shown_on_one_line(name: str, shown: str) -> None:
    assert printable(name) == shown


def test_every_spelling_is_plain() -> None:
    assert [
        sign for sign, said in SPELLINGS.items() if not (said.isascii() and said.isprintable())
    ] == []
    assert [sign for sign in DRAWN if len(SPELLINGS[sign]) != 1] == []


def written_strings() -> dict[str, str]:
    """Every text in the program that can come before people's eyes, by file."""
    found = {}
    for file in sorted(ROOM.rglob("*.py")):
        name = file.relative_to(ROOM).as_posix()
        if name.startswith(("plates/", *ONLY_READ)) or name == "cli/spellings.py":
            continue
        tree = ast.parse(file.read_text(encoding="utf-8"))
        told = {
            id(node.value)
            for node in ast.walk(tree)
            if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
        }
        constants = [n for n in ast.walk(tree) if isinstance(n, ast.Constant) and id(n) not in told]
        found[name] = "".join(n.value for n in constants if isinstance(n.value, str))
    for name in ("demo/site.yaml", "parts/market.yaml"):
        found[name] = (ROOM / name).read_text(encoding="utf-8")
    return found


@pytest.mark.parametrize(("file", "text"), written_strings().items())
def test_the_program_writes_nothing_that_has_no_spelling(file: str, text: str) -> None:
    signs = sorted({c for c in text if not c.isascii()})
    assert [c for c in signs if "\\" in spelled(c, "ascii")] == [], file


def demo_plates() -> list[str]:
    text = resources.files("sinkside.demo").joinpath("site.yaml").read_text("utf-8")
    return [piece.split('"')[1] for piece in text.split("plate: ")[1:]]


@pytest.mark.parametrize(
    "plate",
    [
        *demo_plates(),
        "INPUT 100-240V∼ 50/60Hz 0.5A OUTPUT 9V⎓1A",
        "12V⏦ 500mA",
        "⊖–●–⊕ 12V⎓",
        "9V⎓ ⊕–○–⊖",
        "9V⎓ ⊕–◉–⊖",
        "12 V −3 A",
    ],
)
def test_a_plate_reads_the_same_when_it_is_spelled_out(plate: str) -> None:
    """Whatever is copied from a poor terminal says what it said before."""
    read, again = (plates.read(text) for text in (plate, spelled(plate, "ascii")))
    for side in ("input", "output"):
        one, two = ([replace(r, column=0) for r in getattr(x, side)] for x in (read, again))
        assert one == two
    assert again.centre == read.centre
    assert [a.why for a in again.ambiguities] == [a.why for a in read.ambiguities]


def test_the_drawings_of_a_plan_keep_their_columns(sinkside: Call) -> None:
    told = sinkside("plan", "-", stdin=FITS.encode()).out.splitlines()
    drawn = [line for line in told if set(line) & set(DRAWN)]
    assert len(drawn) >= 3
    for line in drawn:
        assert len(spelled(line, "ascii")) == len(line)


anything = st.text(st.characters(exclude_categories=()))


@settings(derandomize=True, max_examples=200)
@given(anything, st.sampled_from(["ascii", "cp1252", "cp437", "koi8-r", "shift_jis", "utf-8"]))
def test_anything_can_be_written(text: str, encoding: str) -> None:
    said = spelled(text, encoding)
    said.encode(encoding)
    assert said.count("\n") == text.count("\n")
    assert spelled(said, encoding) == said


@settings(derandomize=True, max_examples=200)
@given(anything)
def test_any_name_is_one_line(text: str) -> None:
    shown = printable(text)
    assert shown.isprintable()
    assert printable(shown) == shown
