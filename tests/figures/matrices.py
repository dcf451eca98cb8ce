"""Cells of matrices to draw."""

import random
from typing import Any

from sinkside.figures.matrix_marks import Matrix, matrix_of
from sinkside.mixups import Cell, Outcome

EVERY = (*((outcome, True) for outcome in Outcome), (Outcome.WONT_RUN, False))
HOSTILE = (
    '録音機 😀 </text><script>alert(1)</script> & "q" \u202e\x00 with a name that goes on and on'
)


def cell(lead: str, inlet: str, outcome: Outcome, **more: Any) -> Cell:
    """A cell of plain figures."""
    return Cell(lead=lead, inlet=inlet, outcome=outcome, own=lead == inlet, **more)


def every_kind() -> Matrix:
    """One row that holds every outcome, loose and not."""
    names = [f"inlet-{i}" for i in range(len(EVERY))]
    return matrix_of(
        [
            cell(source, name, outcome, sure=sure, loose=i % 2 == 0, source="brick")
            for source in ("inlet-3", "another")
            for i, (name, (outcome, sure)) in enumerate(zip(names, EVERY, strict=True))
        ]
    )


def drawn(seed: int, devices: int) -> Matrix:
    """A random matrix; the last device has a hostile name."""
    draw = random.Random(seed)
    names = [*(f"device-{i}" for i in range(devices - 1)), HOSTILE]
    return matrix_of(
        [
            cell(lead, inlet, *_outcome(draw), loose=draw.random() < 0.2)
            for lead in names
            for inlet in names
        ]
    )


def _outcome(draw: random.Random) -> tuple[Outcome]:
    return (draw.choice(list(Outcome)),)
