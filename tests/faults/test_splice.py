"""Changing one value in place: nothing else moves, in either style, with comments kept."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside import demo
from sinkside.faults import Faulty, NotUnderstood
from sinkside.faults.marked_yaml import load
from sinkside.faults.splice import scalar, set_value
from sinkside.site.read import read


@pytest.mark.parametrize(
    ("text", "keys", "value", "wanted"),
    [
        ("a: {b: 1 V}  # mine", ("a", "b"), "2 V", "a: {b: 2 V}  # mine"),
        ("a: {b: 1 V}", ("a", "c"), "2 V", "a: {b: 1 V, c: 2 V}"),
        ("a: {}", ("a", "c"), "2 V", "a: {c: 2 V}"),
        ("a: {b: 1, }", ("a", "c"), "2", "a: {b: 1, c: 2}"),
        ("a:\n  b: 1\n\n# end\nd: 2\n", ("a", "c"), "3", "a:\n  b: 1\n  c: 3\n\n# end\nd: 2\n"),
        ("a:\n  b: 1", ("a", "c"), "3", "a:\n  b: 1\n  c: 3\n"),
        ("a:\n", ("a", "b"), "1", "a: {b: 1}\n"),
        ("a:\nb: 2\n", ("a",), "1", "a: 1\nb: 2\n"),
        ("a: 'x'\r\nb: 2\r\n", ("a",), "it's", "a: it's\r\nb: 2\r\n"),
        ("a: 1\n", ("b", "c", "d"), "2", "a: 1\nb: {c: {d: 2}}\n"),
        ("a: |\n  text\nb: 1\n", ("b",), "2", "a: |\n  text\nb: 2\n"),
        ("ä: {ö: ⎓}\n", ("ä", "ö"), "⎓⎓", "ä: {ö: ⎓⎓}\n"),
        ("a: 1\n", ("a",), "x: y # z", 'a: "x: y # z"\n'),
    ],
)
def test_one_value_changes(text: str, keys: tuple[str, ...], value: str, wanted: str) -> None:
    assert set_value(text, keys, value) == wanted


def test_every_single_value_of_the_demo_can_be_changed_and_nothing_else_moves() -> None:
    text = demo.text()
    marked = load(text, "demo")
    singles = [p for p in marked.places if _at(marked.data, p) is None or _is_text(marked.data, p)]
    keyed = [p for p in singles if all(isinstance(step, str) for step in p)]
    assert len(keyed) > 100
    for path in keyed:
        after = set_value(text, tuple(str(step) for step in path), "8.4 V ±2 % (measured)")
        same = sum(a == b for a, b in zip(text.splitlines(), after.splitlines(), strict=True))
        assert same == len(text.splitlines()) - 1


def _at(data: object, path: tuple[str | int, ...]) -> object:
    for step in path:
        data = data[step]  # type: ignore[index]  # the path comes from the data
    return data


def _is_text(data: object, path: tuple[str | int, ...]) -> bool:
    return isinstance(_at(data, path), str)


def test_a_fact_that_was_measured_is_read_back() -> None:
    keys = ("devices", "cassette-deck", "brick", "open")
    site = read(set_value(demo.text(), keys, "13.2 V (measured)"), "demo")
    brick = site.device("cassette-deck").brick
    assert brick is not None
    assert brick.open is not None
    assert brick.open.low == 13.2


@given(st.text(max_size=20))
@settings(derandomize=True, max_examples=400)
def test_any_text_is_written_so_that_it_reads_back(value: str) -> None:
    try:
        data = load(f"a: {{b: {scalar(value)}, c: 1}}", "x").data
    except Faulty:
        return  # a character that YAML does not take at all, however it is quoted
    expected = None if value == "" and scalar(value) == "" else value
    assert data == {"a": {"b": expected, "c": "1"}}


def test_a_mapping_is_not_overwritten() -> None:
    with pytest.raises(NotUnderstood) as told:
        set_value("a: {b: 1}", ("a",), "2")
    assert str(told.value) == "a is no single value; change it by hand in the file"


def test_a_value_is_no_mapping() -> None:
    with pytest.raises(NotUnderstood) as told:
        set_value("a: 1", ("a", "b"), "2")
    assert str(told.value) == "a is no mapping; change it by hand in the file"
