"""The matrix in the terminal: read back by column, as a person would."""

import re

import pytest
from tests.figures.matrices import cell, drawn, every_kind

from sinkside.figures.labels import cells
from sinkside.figures.matrix_marks import LETTERS, Matrix, fill_of, matrix_of
from sinkside.figures.matrix_text import matrix_text
from sinkside.mixups import Outcome
from sinkside.mixups.outcome import MAY_NOT_RUN, word


def test_every_outcome_has_a_letter_of_its_own_and_harm_is_a_capital() -> None:
    words = {word(outcome, sure=True) for outcome in Outcome} | {MAY_NOT_RUN}
    assert set(LETTERS) == words
    assert len(set(LETTERS.values())) == len(LETTERS)
    for outcome in Outcome:
        letter = LETTERS[outcome.value]
        assert outcome.harmful == (letter.isupper() or letter == "?")
        assert outcome.harmful == (fill_of(outcome.value) in ("harms", "may harm"))


def read_back(lines: list[str], matrix: Matrix) -> list[list[str]]:
    """The squares of each row, found under the numbers over them."""
    found: list[list[str]] = [[] for _ in matrix.rows]
    heads = [i for i, line in enumerate(lines) if re.match(r"into\s+\d", line)]
    for at in heads:
        places = [(m.start() + m.end()) / 2 for m in re.finditer(r"\d+", lines[at])]
        first = int(re.search(r"\d+", lines[at])[0])  # type: ignore[index]
        assert first == len(found[0]) + 1
        for row in range(len(matrix.rows)):
            line = lines[at + 1 + row]
            for middle in places:
                near = [m for m in re.finditer(r"\S+", line) if m.start() <= middle <= m.end()]
                found[row].append(near[-1][0] if near else "")
    return found


@pytest.mark.parametrize("devices", [1, 2, 9, 15, 30, 120])
def test_a_reader_finds_every_square_under_its_number(devices: int) -> None:
    names = [f"d{i}" for i in range(devices)]
    outcomes = list(Outcome)
    matrix = matrix_of(
        [
            cell(a, b, outcomes[(7 * i + 3 * k) % len(outcomes)], loose=(i + k) % 5 == 0)
            for i, a in enumerate(names)
            for k, b in enumerate(names)
        ]
    )
    squares = read_back(matrix_text(matrix), matrix)
    for row, marks in zip(squares, matrix.marks, strict=True):
        for square, mark in zip(row, marks, strict=True):
            bare = f"[{mark.letter}]" if mark.own else mark.letter
            loose = "~" if mark.loose and not mark.own else ""
            assert square == bare + loose


@pytest.mark.parametrize("width", [60, 80, 98, 140])
@pytest.mark.parametrize("seed", range(3))
def test_no_line_is_wider_than_the_terminal(width: int, seed: int) -> None:
    for line in matrix_text(drawn(seed, 25), width):
        assert cells(line) <= width
        assert line == line.rstrip()


def test_the_legend_names_what_occurs_and_nothing_else() -> None:
    matrix = matrix_of([cell("a", "a", Outcome.FINE), cell("a", "b", Outcome.REVERSED)])
    assert matrix_text(matrix) == [
        "into        1   2",
        "lead of a  [o]  R",
        "",
        "inlet: 1 a  2 b",
        "",
        "o fine  R reversed  [ ] its own device",
        "Capitals harm, ? may harm, small letters harm nothing.",
    ]
    every = "\n".join(matrix_text(every_kind()))
    for outcome, letter in LETTERS.items():
        assert f"{letter} {outcome}" in every
    assert "~ goes on, but loose" in every


def test_old_bricks_are_told_from_new_leads() -> None:
    both = [cell("a", "a", Outcome.FINE), cell("a", "a", Outcome.OWN, source="brick")]
    assert matrix_of(both).rows == ("lead of a", "old brick of a")


def test_nothing_to_draw() -> None:
    assert matrix_text(matrix_of([])) == ["no lead ends in a plug"]
