"""Sixty cells that were labelled on paper before there was a program to label them.

The reasoning of each stands beside it in `hand_labelled.yaml`, with its sources.
"""

from typing import Any

import pytest
from tests.mixups.hand import CELLS, brick, front, inlet

from sinkside.mixups import matrix
from sinkside.mixups.brick_cells import brick_matrix

IDS = [f"{i:02d} {said['is']}" for i, said in enumerate(CELLS)]


def test_there_are_sixty_and_they_are_of_every_kind() -> None:
    assert len(CELLS) == 60
    assert {said["is"] for said in CELLS} == {
        "a.c. into d.c.",
        "d.c. into an a.c. inlet",
        "fine",
        "may harm",
        "may not run",
        "over-voltage",
        "overheats",
        "overload",
        "reversed",
        "will not go on",
        "will not run",
    }


@pytest.mark.parametrize("said", CELLS, ids=IDS)
def test_a_cell_is_what_was_written_down(said: dict[str, Any]) -> None:
    into = [inlet(said["inlet"])]
    if "lead" in said:
        (found,) = matrix([("another", front(said["lead"]))], into)
    else:
        (found,) = brick_matrix([brick(said["brick"])], into)
    assert (found.word, found.loose) == (said["is"], said.get("loose", False)), said["why"]
