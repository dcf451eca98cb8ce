"""Labels: their width, their breaks, their places.

East Asian widths are those of Unicode Standard Annex 11; places are held against an isotonic
regression that shares no code with ours.
"""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import isotonic_regression

from sinkside.figures.labels import as_xml, cells, clean, spread, wrapped


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("match 9 V", 9),
        ("5.1 kΩ ±5 %", 11),
        ("録音機", 6),
        ("e\u0301", 1),
        ("ｗ", 2),
        ("😀", 2),
        ("a\u200db", 2),
        ("", 0),
    ],
)
def test_cells_are_one_for_letters_and_two_for_wide_ones(text: str, count: int) -> None:
    assert cells(text) == count


def test_clean_leaves_no_control_and_no_turn_of_direction() -> None:
    assert clean("a\tb\nc\x00d\u202ee\ud800f") == "a b c\ufffdd\ufffde\ufffdf"


def test_as_xml_escapes() -> None:
    assert as_xml('<b a="1">&') == '&lt;b a="1"&gt;&amp;'


def test_wrapped_breaks_between_words_and_cuts_what_is_longer_than_a_line() -> None:
    assert wrapped("match 15 V, C1 alone", 12, 3) == ("match 15 V,", "C1 alone")
    assert wrapped("xxxxxxxxxx yy", 4, 9) == ("xxxx", "xxxx", "xx", "yy")
    assert wrapped("録音機械", 5, 9) == ("録音", "機械")
    assert wrapped("", 5, 3) == ("",)


def test_wrapped_says_that_it_left_something_out() -> None:
    assert wrapped("one two three four five", 9, 2) == ("one two", "three…")
    assert wrapped("aaaa bbbb cccc", 4, 2) == ("aaaa", "bbb…")


@given(text=st.text(max_size=200), room=st.integers(2, 60), most=st.integers(1, 4))
def test_no_line_is_longer_than_its_room(text: str, room: int, most: int) -> None:
    lines = wrapped(text, room, most)
    assert 1 <= len(lines) <= most
    assert all(cells(line) <= room for line in lines)


@settings(max_examples=60)
@given(
    labels=st.lists(
        st.tuples(st.floats(0.0, 500.0), st.floats(10.0, 60.0)), min_size=1, max_size=6
    ).map(sorted),
    gap=st.floats(0.0, 10.0),
)
def test_spread_is_the_nearest_order_of_labels_that_do_not_touch(
    labels: list[tuple[float, float]], gap: float
) -> None:
    middles, widths = [m for m, _ in labels], [w for _, w in labels]
    placed = spread(middles, widths, gap, (-1e9, 1e9))
    # x[i+1] - x[i] >= d[i] is an isotonic regression once the distances are taken out.
    distances = [0.0] + [(a + b) / 2 + gap for a, b in pairwise(widths)]
    offsets = np.cumsum(distances)
    expected = isotonic_regression(np.array(middles) - offsets).x + offsets
    assert placed == pytest.approx(list(expected), abs=1e-6)


def test_spread_keeps_within_the_ends() -> None:
    assert spread([0.0, 100.0], [20.0, 20.0], 5.0, (0.0, 100.0)) == [10.0, 90.0]
    assert spread([1.0, 1.0, 1.0], [20.0, 20.0, 20.0], 5.0, (0.0, 70.0)) == [10.0, 35.0, 60.0]
