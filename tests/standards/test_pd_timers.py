"""The table of timers, and the sum that a Hard Reset makes of it."""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_timers import TIMERS, Timer, hard_reset_gap, timer


@pytest.mark.parametrize("row", TIMERS, ids=lambda t: f"{t.name} {t.scope}".strip())
def test_limits_rise_and_there_is_one_at_least(row: Timer) -> None:
    limits = [s for s in (row.min_s, row.nom_s, row.max_s) if s is not None]
    assert limits
    assert limits == sorted(limits)


def test_a_name_stands_once_for_each_scope() -> None:
    keys = [(row.name, row.scope) for row in TIMERS]
    assert len(keys) == len(set(keys))


def test_an_unknown_timer_is_refused() -> None:
    with pytest.raises(NotUnderstood) as refused:
        timer("tNothing")
    assert str(refused.value) == "no timer 'tNothing' in the table"
    with pytest.raises(NotUnderstood) as refused:
        timer("tSrcRecover")
    assert str(refused.value) == "timer tSrcRecover has no scope ''; it has 'SPR', 'EPR'"


@pytest.mark.parametrize("epr", [False, True])
def test_the_steps_add_up(epr: bool) -> None:
    gap = hard_reset_gap(epr=epr)
    assert gap.contract_absent_low_s == pytest.approx(sum(s.low_s for s in gap.steps))
    assert gap.contract_absent_high_s == pytest.approx(sum(s.high_s for s in gap.steps))
    off = [s for s in gap.steps if s.five_volts_absent]
    assert gap.five_volts_absent_low_s == pytest.approx(sum(s.low_s for s in off))
    assert gap.five_volts_absent_high_s == pytest.approx(sum(s.high_s for s in off))
    assert all(0 <= step.low_s <= step.high_s for step in gap.steps)


def test_no_volts_come_before_the_negotiation() -> None:
    flags = [step.five_volts_absent for step in hard_reset_gap().steps]
    assert flags == [False, True, True, True, False, False, False, False]


def test_above_100_w_it_takes_longer() -> None:
    spr, epr = hard_reset_gap(), hard_reset_gap(epr=True)
    assert epr.five_volts_absent_low_s > spr.five_volts_absent_low_s
    assert epr.contract_absent_high_s > spr.contract_absent_high_s + 1.0
