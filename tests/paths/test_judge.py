"""Judging many paths at once is judging each alone, and the state that decides is the worst."""

import random

import numpy as np
import pytest
from tests.paths import random_paths
from tests.paths import small_parts as small

from sinkside.parts.part import FALLBACKS
from sinkside.paths.findings import findings
from sinkside.paths.judge import CORNERS, Judged, Path, judge, margin_of
from sinkside.paths.rows import rows_of
from sinkside.rules.finding import Finding, overall
from sinkside.rules.verdict import Stakes, Verdict


def some_paths(seed: int, count: int) -> list[Path]:
    draw = random.Random(seed)
    return [random_paths.path(draw) for _ in range(count)]


def told(judged: Judged, index: int) -> list[tuple[object, ...]]:
    """What is said of one path, without what hangs on its place among the others."""
    return [
        (
            f.rule,
            f.stakes,
            f.verdict,
            f.state,
            f.unknowns,
            None if f.margin is None else repr(f.margin),
        )
        for f in findings(judged, index)
    ]


def test_paths_judged_together_are_as_judged_one_by_one() -> None:
    paths = some_paths(1, 40)
    together = judge(paths)
    for i, path in enumerate(paths):
        alone = judge([path])
        assert told(together, i) == told(alone, 0)
        assert together.loss_w[i] == alone.loss_w[0]
        assert together.supplies[i] == alone.supplies[0]


def test_the_order_of_paths_does_not_matter() -> None:
    paths = some_paths(2, 40)
    order = list(range(len(paths)))
    random.Random(3).shuffle(order)
    one, other = judge(paths), judge([paths[i] for i in order])
    for place, i in enumerate(order):
        assert told(one, i) == told(other, place)


def test_a_path_judged_twice_in_one_go_is_judged_alike() -> None:
    (path,) = some_paths(4, 1)
    judged = judge([path, path])
    assert told(judged, 0) == told(judged, 1)


def test_no_paths_are_judged_to_nothing() -> None:
    judged = judge([])
    assert judged.paths == ()
    assert judged.codes.shape[1] == 0
    assert judged.unproven(Stakes.HARM).tolist() == []
    assert judged.worst(Stakes.HARM).tolist() == []


def test_a_path_of_which_the_trigger_stays_off_has_no_state_and_is_not_offered() -> None:
    """12 V are on no list and the trigger stays off: nothing arrives, nothing is harmed."""
    dark = small.path(
        small.device(),
        small.cable(),
        small.trigger(12.0, ("off",)),
        small.lead(),
        source=small.charger("5:3 9:3"),
    )
    lit = small.path(small.device(harmed_above_v=9.0))
    for paths in ([dark, lit], [lit, dark]):
        judged = judge(paths)
        i = paths.index(dark)
        verdicts = {f.rule: f.verdict for f in findings(judged, i)}
        assert verdicts["match-offered"] is Verdict.FAILS
        assert "under-volts" not in verdicts
        assert judged.worst(Stakes.HARM)[i] == Verdict.FITS
        assert judged.worst(Stakes.HARM)[1 - i] == Verdict.FAILS


def test_the_state_that_decides_is_the_one_with_the_least_margin() -> None:
    source = small.charger(
        {"C1": "5:3 9:3 12:3 15:3", "C2": "5:3"},
        {"C1+C2": {"C1": "5:3 9:3 15:3", "C2": "5:3"}},
    )
    chain = (small.cable(), small.trigger(12.0, ("highest",), gated=False), small.lead())
    judged = judge([small.path(small.device(), *chain, source=source)])
    states = {f.rule: f.state for f in findings(judged, 0)}
    assert states["over-volts"] == "fallback 15 V, C1+C2 in use"
    assert states["under-volts"] == "contract 12 V, C1 alone"


def test_the_least_promise_decides_on_current() -> None:
    source = small.charger(
        {"C1": "5:3 9:3", "C2": "5:3"}, {"C1+C2": {"C1": "5:3 9:1", "C2": "5:3"}}
    )
    judged = judge([small.path(small.device(), source=source)])
    (found,) = (f for f in findings(judged, 0) if f.rule == "port-current")
    assert (found.state, found.margin) == ("contract 9 V, C1+C2 in use", 0.5)


def test_the_margin_is_the_least_of_all_rows_and_its_row_decides() -> None:
    for path in some_paths(5, 40):
        judged = judge([path])
        rows = rows_of([path])
        for i, rule in enumerate(judged.rules):
            # Both corners count: a rule that holds at one and breaks at the other never fits.
            both = margin_of(rule, path, rows, CORNERS) if rows else np.array([[np.inf] * 2])
            every = np.minimum(both[:, 0], both[:, 1])
            least = -np.inf if np.isnan(every).any() else every.min()
            assert judged.margins[i, 0] == pytest.approx(least)
            if np.isfinite(least):
                assert every[judged.deciding[i, 0]] == least


def test_a_path_of_one_device_is_not_mixed_up_with_another_device_on_the_same_front() -> None:
    front = small.front()
    tough, soft = (
        small.device("tough", harmed_above_v=20.0),
        small.device("soft", harmed_above_v=9.0),
    )
    judged = judge([Path(front=front, appliance=a) for a in (tough, soft, tough)])
    row = next(i for i, r in enumerate(judged.rules) if r.id == "over-volts")
    assert judged.codes[row].tolist() == [Verdict.FITS, Verdict.FAILS, Verdict.FITS]


def test_counts_and_worst_agree_with_the_findings() -> None:
    for i, path in enumerate(some_paths(6, 40)):
        judged = judge([path])
        found = findings(judged, 0)
        for stakes in Stakes:
            of_it = [f for f in found if f.stakes is stakes]
            unproven = sum(f.verdict is Verdict.UNPROVEN for f in of_it)
            assert judged.unproven(stakes)[0] == unproven, (i, stakes)
            worst = max((f.verdict for f in of_it), default=Verdict.FITS)
            assert judged.worst(stakes)[0] == worst, (i, stakes)
        counting = (Stakes.HARM, Stakes.LOSS, Stakes.MISBEHAVES)
        assert judged.worst(*counting)[0] == overall(found)


def test_of_unknown_fallbacks_one_is_true() -> None:
    """Unproven where one of them harms, failing only where all do."""
    source = small.charger(
        {"C1": "5:3 9:3 12:3 20:3", "C2": "5:3"}, {"C1+C2": {"C1": "5:3 9:3 20:3", "C2": "5:3"}}
    )
    chain = (small.cable(), small.trigger(12.0, FALLBACKS), small.lead())
    for harmed_above, wanted in (
        (21.0, Verdict.FITS),
        (13.0, Verdict.UNPROVEN),
        (5.0, Verdict.FAILS),
    ):
        path = small.path(small.device(harmed_above_v=harmed_above), *chain, source=source)
        (found,) = (f for f in findings(judge([path]), 0) if f.rule == "over-volts")
        assert found.verdict is wanted


def finding(path: Path, rule: str) -> Finding:
    (found,) = (f for f in findings(judge([path]), 0) if f.rule == rule)
    return found


def test_an_unproven_finding_names_what_would_settle_it() -> None:
    for path in some_paths(7, 60):
        judged = judge([path])
        for found in findings(judged, 0):
            if found.verdict is Verdict.UNPROVEN:
                assert found.unknowns, (found.rule, path.front.id)
                assert all(found.unknowns)
            else:
                assert found.unknowns == ()


def test_the_weightiest_unknown_comes_first() -> None:
    """Of 8.55 V at least, the peak takes up to 2 V, the lead 0.1 V; one of them decides."""
    parts = (small.cable(), small.trigger(), small.lead((0.9, 1.0)))
    path = small.path(small.device(peak_a=(0.1, 2.0), runs_from_v=7.0), *parts)
    found = finding(path, "under-volts")
    assert found.unknowns == ("thing/peak current", "lead/ohms")


def test_an_unknown_that_moves_nothing_is_not_named() -> None:
    path = small.path(small.device(runs_from_v=(6.0, 9.0), harmed_above_v=(12.0, 20.0)))
    assert finding(path, "under-volts").unknowns == ("thing/runs from",)


def test_harm_has_no_plausibility_and_the_rest_a_band_of_ten() -> None:
    path = small.path(small.device(harmed_above_v=(9.0, 20.0), runs_from_v=(8.0, 9.1)))
    assert finding(path, "over-volts").plausibility is None
    # It runs from 8 to 9.1 V, evenly, and has 8.55 V at least: in half of the cases.
    assert finding(path, "under-volts").plausibility == 5
