"""YAML taken as plain text with places: what is welcome, and every fault at its line and column.

What YAML 1.1 makes of bare words and figures is read in its own text (types `bool`, `int`,
`sexagesimal`): none of it may happen here.
"""

import pytest

from sinkside.faults import Faulty
from sinkside.faults.marked_yaml import DEEPEST, LARGEST, Data, load

FILE = "f.yaml"
ANCHOR = "an anchor or alias; write the value out"


def told(text: str) -> list[str]:
    with pytest.raises(Faulty) as error:
        load(text, FILE)
    return str(error.value).split("\n")


@pytest.mark.parametrize(
    ("text", "data"),
    [
        ("a: yes", {"a": "yes"}),
        ("a: no", {"a": "no"}),
        ("a: on", {"a": "on"}),
        ("a: 010", {"a": "010"}),
        ("a: 12:30", {"a": "12:30"}),
        ("a: 1_000", {"a": "1_000"}),
        ("a: 0x10", {"a": "0x10"}),
        ("a: .inf", {"a": ".inf"}),
        ("a: 2026-11-25", {"a": "2026-11-25"}),
        ("a: null", {"a": None}),
        ("a: ~", {"a": None}),
        ("a:", {"a": None}),
        ("a: 'null'", {"a": "null"}),
        ("a: ''", {"a": ""}),
        ("a: Null", {"a": "Null"}),
        ("a:\t1", {"a": "1"}),
        ("no: 1\n~: 2\nnull: 3", {"no": "1", "~": "2", "null": "3"}),
        ("'5V': 1", {"5V": "1"}),
        ("<<: {a: 1}", {"<<": {"a": "1"}}),
        ("a: |\n  x\n  y\n", {"a": "x\ny\n"}),
        ("a: >\n  x\n  y\n", {"a": "x y\n"}),
        ("{a: [1, {b: 2}], c: []}", {"a": ["1", {"b": "2"}], "c": []}),
        ("a: 1 # why", {"a": "1"}),
        ("%YAML 1.1\n---\na: 1\n...\n", {"a": "1"}),
        ("just words", "just words"),
        ("é: 日本 😀", {"é": "日本 😀"}),
    ],
)
def test_text_stays_text(text: str, data: Data) -> None:
    assert load(text, FILE).data == data


@pytest.mark.parametrize("start", ["", "\ufeff"])
@pytest.mark.parametrize("newline", ["\n", "\r\n", "\r"])
def test_places_count_from_one_whatever_ends_a_line(start: str, newline: str) -> None:
    found = load(start + newline.join(["a: 1", "b:", "  - x", "  - {c: 2}"]), FILE)
    assert str(found.keys["a",]) == "f.yaml:1:1"
    assert str(found.places["a",]) == "f.yaml:1:4"
    assert str(found.places["b", 0]) == "f.yaml:3:5"
    assert str(found.keys["b", 1, "c"]) == "f.yaml:4:6"
    assert str(found.places["b", 1, "c"]) == "f.yaml:4:9"


def test_columns_count_characters_and_not_bytes() -> None:
    assert str(load("é: {日本: 😀, b: 1}", FILE).keys["é", "b"]) == "f.yaml:1:12"


def test_the_nearest_place_of_what_is_not_there() -> None:
    found = load("a: {b: 1}", FILE)
    assert str(found.place(("a", "x", "y"))) == "f.yaml:1:4"
    assert str(found.key_place(("a", "b"))) == "f.yaml:1:5"
    assert str(found.key_place(("a", "x"))) == "f.yaml:1:4"
    assert str(found.place(())) == "f.yaml:1:1"


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "f.yaml:1:1: the file is empty; see the README for its shape"),
        ("# nothing\n\n", "f.yaml:1:1: the file is empty; see the README for its shape"),
        ("a: b: c", "f.yaml:1:5: not YAML: mapping values are not allowed in this context"),
        ("a:\n\tb: 1", "f.yaml:2:1: not YAML: found character that cannot start any token"),
        ("a: @x", "f.yaml:1:4: not YAML: found character that cannot start any token"),
        (
            "a: 1\n b: 2\nc: [",
            "f.yaml:2:3: not YAML: mapping values are not allowed in this context",
        ),
        ("%YAML 2.0\n---\na: 1", "f.yaml:1:1: not YAML: found incompatible YAML document"),
        ("a: !!str 1", "f.yaml:1:4: a tag: tag:yaml.org,2002:str; leave it out"),
        (
            "a: !!python/object:os.system x",
            "f.yaml:1:4: a tag: tag:yaml.org,2002:python/object:os.system; leave it out",
        ),
        ("a: !env HOME", "f.yaml:1:4: a tag: !env; leave it out"),
        ("a: *x", f"f.yaml:1:4: {ANCHOR}"),
        ("a: 1\n---\nb: 2\n---\nc: 3", "f.yaml:2:1: a second document; give one per file"),
        ("? [a]\n: 1", "f.yaml:1:3: a key that is not plain text"),
        ("? {a: 1}\n: 1", "f.yaml:1:3: a key that is not plain text"),
        ('"": 1', "f.yaml:1:1: a key that is not plain text"),
    ],
)
def test_one_fault(text: str, fault: str) -> None:
    assert told(text) == [fault]


def test_a_key_given_twice_names_the_first() -> None:
    assert told("a: 1\nb: {c: 1, d: 2,\n  c: 3}\n'a': 4\na: 5") == [
        "f.yaml:3:3: 'c' is given twice; it stands on line 2 already; keep one",
        "f.yaml:4:1: 'a' is given twice; it stands on line 1 already; keep one",
        "f.yaml:5:1: 'a' is given twice; it stands on line 1 already; keep one",
    ]


def test_all_that_is_unwelcome_is_told_at_once() -> None:
    assert told("a: &x 1\nb: *x\nc: !t [&y 2]\n---\nd: 1") == [
        f"f.yaml:1:4: {ANCHOR}",
        f"f.yaml:2:4: {ANCHOR}",
        "f.yaml:3:4: a tag: !t; leave it out",
        f"f.yaml:3:8: {ANCHOR}",
        "f.yaml:4:1: a second document; give one per file",
    ]


def test_aliases_do_not_multiply() -> None:
    # Nine lines of nine aliases each would be a thousand million values (common attack).
    lines = ["a0: &a0 x"] + [f"a{i}: &a{i} [{', '.join([f'*a{i - 1}'] * 9)}]" for i in range(1, 10)]
    assert len(told("\n".join(lines))) == 10 + 81


@pytest.mark.parametrize(("open_", "shut"), [("[", "]"), ("{a: ", "}")])
def test_depth(open_: str, shut: str) -> None:
    load(open_ * DEEPEST + "1" + shut * DEEPEST, FILE)
    deeper = DEEPEST + 1
    column = 1 + DEEPEST * len(open_)
    assert told(open_ * deeper + "1" + shut * deeper) == [
        f"f.yaml:1:{column}: nested deeper than {DEEPEST}"
    ]


@pytest.mark.parametrize("text", ["[" * 100_000, "{a: " * 100_000, "- " * 100_000, "? " * 100_000])
def test_a_tower_falls_at_once(text: str) -> None:
    assert len(told(text)) == 1


def test_size() -> None:
    assert told("a: " + "x" * LARGEST) == [
        f"f.yaml:1:1: {LARGEST + 3} characters; {LARGEST} are taken"
    ]


@pytest.mark.parametrize("character", ["\x00", "\x07", "\x1b", "\x7f"])
def test_control_characters_have_a_place(character: str) -> None:
    assert told(f"ok: 1\na: {character}") == [
        "f.yaml:2:4: not YAML: control characters are not allowed"
    ]


def test_half_a_character_is_a_fault_and_no_crash() -> None:
    # Half of a surrogate pair comes from JSON ("\\ud800") and from file names.
    assert told("ok: 1\na: \ud800")[0].startswith("f.yaml:2:4: ")
