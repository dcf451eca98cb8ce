"""What is kept apart on paper, against what the conductor tells of it, and square by square."""

import random

from sinkside.figures.matrix_marks import Mark, Matrix, matrix_of
from sinkside.papers.apart import TALLEST, WIDEST, by_classes, kept, pieces
from sinkside.plan import Plan
from sinkside.plan.kept_apart import kept_apart


def test_it_is_what_the_conductor_tells(demo_plan: Plan) -> None:
    whole = kept_apart(demo_plan)
    found = kept(demo_plan)
    assert found.cells == whole.plugs.cells
    assert found.separation == whole.plugs.separation
    assert found.conductors == whole.conductors


def test_a_matrix_that_can_be_drawn_is_left_as_it_is(demo_plan: Plan) -> None:
    whole = matrix_of(kept(demo_plan).cells)
    assert by_classes(whole).matrix == whole


def large(seed: int) -> Matrix:
    """A matrix of a few sorts of leads and inlets, many of each."""
    draw = random.Random(seed)
    rows, columns = 40, 60
    row_sorts = [draw.randrange(5) for _ in range(rows)]
    column_sorts = [draw.randrange(6) for _ in range(columns)]
    letters = {(r, c): draw.choice("oRV?·") for r in range(5) for c in range(6)}
    fills = {"o": "open", "R": "harms", "V": "harms", "?": "may harm", "·": "no fit"}

    def mark(row: int, column: int) -> Mark:
        letter = letters[row_sorts[row], column_sorts[column]]
        return Mark(letter=letter, fill=fills[letter], own=False, loose=False, word=letter)  # type: ignore[arg-type]

    return Matrix(
        rows=tuple(f"lead {k}" for k in range(rows)),
        columns=tuple(f"inlet {k}" for k in range(columns)),
        marks=tuple(tuple(mark(r, c) for c in range(columns)) for r in range(rows)),
    )


def test_every_square_of_a_large_matrix_is_that_of_its_classes() -> None:
    for seed in range(20):
        whole = large(seed)
        found = by_classes(whole)
        members = dict(found.members)
        assert len(found.matrix.rows) <= 5
        assert len(found.matrix.columns) <= 6
        seen = 0
        for row, marks in zip(found.matrix.rows, found.matrix.marks, strict=True):
            for column, mark in zip(found.matrix.columns, marks, strict=True):
                for lead in members.get(row, (row,)):
                    for inlet in members.get(column, (column,)):
                        at = whole.rows.index(lead), whole.columns.index(inlet)
                        assert whole.marks[at[0]][at[1]].letter == mark.letter
                        seen += 1
        assert seen == 40 * 60


def test_pieces_hold_every_square_once() -> None:
    whole = large(1)
    squares = [
        (row, column) for piece in pieces(whole) for row in piece.rows for column in piece.columns
    ]
    assert len(squares) == len(set(squares)) == 40 * 60
    for piece in pieces(whole):
        assert len(piece.rows) <= TALLEST
        assert len(piece.columns) <= WIDEST
