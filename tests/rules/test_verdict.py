"""The algebra of verdicts, by its definition in words, enumerated.

`fits`: for every unknown, at every variation, it holds. `fails`: for every unknown, some
variation breaks it. `unproven`: the rest. Every case here is counted out from these words.
"""

from itertools import product

import numpy as np
import pytest

from sinkside.rules.finding import Finding, overall
from sinkside.rules.verdict import TOUCH, Stakes, Verdict, decide, fold

FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS
NAN, INF = float("nan"), float("inf")


@pytest.mark.parametrize(
    ("worst", "best", "verdict"),
    [
        (1.0, 2.0, FITS),
        (-1.0, 1.0, UNPROVEN),
        (-2.0, -1.0, FAILS),
        (0.0, 0.0, FITS),
        (-TOUCH, 1.0, FITS),
        (-1.0, -TOUCH, UNPROVEN),
        (-1.0000001 * TOUCH, 1.0, UNPROVEN),
        (-1.0, -1.0000001 * TOUCH, FAILS),
        (NAN, NAN, FAILS),
        (NAN, 1.0, UNPROVEN),
        (-1.0, NAN, FAILS),
        (INF, INF, FITS),
        (-INF, INF, UNPROVEN),
        (-INF, -INF, FAILS),
    ],
)
def test_a_margin_decides(worst: float, best: float, verdict: Verdict) -> None:
    assert Verdict(int(decide(np.array(worst), np.array(best)))) is verdict


def test_a_margin_that_is_worse_for_a_good_unknown_is_not_taken_for_one_that_fits() -> None:
    """A rule that holds at one end of an unknown and breaks at the other never fits."""
    assert Verdict(int(decide(np.array(1.0), np.array(-1.0)))) is not FITS
    assert Verdict(int(decide(np.array(1.0), np.array(NAN)))) is not FITS


def test_nine_volts_and_five_per_cent_touch_their_limit_in_floats() -> None:
    margin = np.array(9.45 - 9 * 1.05)
    assert float(margin) != 0.0
    assert Verdict(int(decide(margin, margin))) is FITS


def test_many_margins_are_decided_at_once() -> None:
    codes = decide(np.array([1.0, -1.0, -1.0]), np.array([1.0, 1.0, -1.0]))
    assert codes.tolist() == [FITS, UNPROVEN, FAILS]
    assert codes.dtype == np.int8


@pytest.mark.parametrize("size", range(1, 5))
def test_alternatives_fold_as_the_words_say(size: int) -> None:
    """One alternative is true and nobody knows which; each has its own verdict."""
    for codes in product((FITS, UNPROVEN, FAILS), repeat=size):
        if all(c is FITS for c in codes):
            wanted = FITS
        elif all(c is FAILS for c in codes):
            wanted = FAILS
        else:
            wanted = UNPROVEN
        assert fold(np.array(codes, dtype=np.int8)) is wanted


def test_no_alternative_has_nothing_against_it() -> None:
    assert fold(np.array([], dtype=np.int8)) is FITS


def test_verdicts_are_ordered_and_spoken() -> None:
    assert FITS < UNPROVEN < FAILS
    assert [v.word for v in Verdict] == ["fits", "unproven", "fails"]


def finding(verdict: Verdict, stakes: Stakes) -> Finding:
    return Finding(rule="over-volts", stakes=stakes, verdict=verdict, margin=0.0, state="")


@pytest.mark.parametrize("size", range(4))
def test_a_path_is_as_bad_as_its_worst_finding_that_is_more_than_a_nuisance(size: int) -> None:
    every = [finding(v, s) for v in Verdict for s in Stakes]
    for found in product(every, repeat=size):
        counting = {f.verdict for f in found if f.stakes is not Stakes.NUISANCE}
        wanted = FAILS if FAILS in counting else UNPROVEN if UNPROVEN in counting else FITS
        assert overall(found) is wanted
