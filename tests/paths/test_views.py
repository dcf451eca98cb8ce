"""How a quantity is looked at: its corners, its draws, and one unknown at a time."""

import numpy as np
import pytest

from sinkside.paths.views import CORNERS, DRAWS, Draws, OneKnown, shares
from sinkside.quantity import Basis, point, unknown, varies

KNOWN = point(3.0, "V", Basis.MEASURED, "a")
OPEN = unknown(1.0, 5.0, "V", name="b")
MOVES = varies(1.0, 5.0, "V", Basis.PLATE, "c")


@pytest.mark.parametrize(
    ("quantity", "bad", "worst", "best"),
    [
        (KNOWN, "low", 3.0, 3.0),
        (KNOWN, "high", 3.0, 3.0),
        (OPEN, "low", 1.0, 5.0),
        (OPEN, "high", 5.0, 1.0),
        (MOVES, "low", 1.0, 1.0),
        (MOVES, "high", 5.0, 5.0),
    ],
)
def test_corners(quantity: object, bad: str, worst: float, best: float) -> None:
    assert CORNERS.at(quantity, bad).tolist() == [worst, best]  # type: ignore[arg-type]


def test_corners_cannot_be_written_to() -> None:
    with pytest.raises(ValueError, match="read-only"):
        CORNERS.at(OPEN, "low")[0] = 0.0


def test_draws_fill_the_spread_evenly_and_stay_inside() -> None:
    drawn = np.sort(Draws().at(OPEN, "low"))
    assert len(drawn) == DRAWS
    assert drawn[0] >= 1.0
    assert drawn[-1] <= 5.0
    # Stratified: each of the cells has one.
    assert (np.floor((drawn - 1.0) / 4.0 * DRAWS) == np.arange(DRAWS)).all()


def test_draws_keep_what_varies_at_its_bad_end() -> None:
    assert set(Draws().at(MOVES, "low")) == {1.0}
    assert set(Draws().at(MOVES, "high")) == {5.0}


def test_one_name_is_one_draw_and_two_names_are_two() -> None:
    one = Draws().at(OPEN, "low")
    same = Draws().at(unknown(0.0, 1.0, "A", name="b"), "high")
    other = Draws().at(unknown(1.0, 5.0, "V", name="d"), "low")
    assert np.allclose((one - 1.0) / 4.0, same)
    assert abs(np.corrcoef(one, other)[0, 1]) < 0.2


def test_shares_are_the_same_in_every_run() -> None:
    """From BLAKE2b of the name and numpy's PCG64: no seed from the clock or the process."""
    assert shares("thing/peak current")[:2].tolist() == shares("thing/peak current")[:2].tolist()
    assert shares("b").mean() == pytest.approx(0.5, abs=1e-3)


def test_one_known_puts_one_unknown_at_its_good_end() -> None:
    view = OneKnown(["b", "x"])
    assert view.at(OPEN, "low").tolist() == [5.0, 1.0]
    assert view.at(MOVES, "low").tolist() == [1.0, 1.0]
