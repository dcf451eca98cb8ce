"""From a schedule to volts in time: corners that can be added up by hand."""

import numpy as np
import pytest

from sinkside.outages import schedules
from sinkside.outages.ends import NOMINAL, Look
from sinkside.outages.port_course import REST_S, Gate, PortFigures, course
from sinkside.outages.schedules import Schedule
from sinkside.quantity import Basis, Quantity, point


def exact(value: float, unit: str) -> Quantity:
    return point(value, unit, Basis.MEASURED)


FIGURES = PortFigures(
    five_v=exact(5.0, "V"),
    before_v=exact(9.0, "V"),
    after_v=exact(9.0, "V"),
    rise_v_per_s=exact(1_000.0, "V/s"),
    trip_a=exact(3.3, "A"),
    patience_s=exact(5e-3, "s"),
    discharge_ohm=exact(200.0, "Ω"),
)
LOOK = Look("outage", NOMINAL)
TAIL = np.full(1, 2.0)


def corners(schedule: Schedule, **about: object) -> list[tuple[float, float, bool]]:
    """Time, volts, and whether the port is on from there, without what comes before the event."""
    found = course(schedule, FIGURES, LOOK, tail_s=TAIL, trips=False, **about)  # type: ignore[arg-type]
    on = [*found.on[:, 0], found.on[-1, 0]]
    rows = zip(found.t_s[:, 0], found.v[:, 0], on, strict=True)
    return [(round(float(t), 6), float(v), bool(o)) for t, v, o in rows][found.watched :]


def test_a_hard_reset_at_nominal_delays() -> None:
    """30 ms, then off for 0.325 + 0.83 + 0.1375 s; 5 V by then; 0.125 + 2·16.5 ms + 417.5 ms."""
    off, back = 0.03, 0.03 + 0.325 + 0.83 + 0.1375
    again = back + 0.125 + 0.033 + 0.4175
    assert corners(schedules.hard_reset("twin")) == [
        (0.0, 9.0, True),
        (off, 9.0, False),
        (round(off + 0.325, 6), 9.0, False),  # here it waits for vSafe0V
        (round(back - 0.005, 6), 0.0, True),  # 5 V at 1 000 V/s
        (round(back, 6), 5.0, True),
        (round(again - 0.004, 6), 5.0, True),
        (round(again, 6), 9.0, True),
        (round(again + 2.0, 6), 9.0, True),
    ]


def test_it_comes_to_rest_before() -> None:
    found = course(schedules.hard_reset("twin"), FIGURES, LOOK, tail_s=TAIL)
    assert found.watched == 2
    assert found.t_s[0, 0] == -REST_S
    assert found.from_s[0] == 0.0
    # Nothing trips before it is watched.
    assert found.limit_a[0, 0] > 1e3
    assert found.limit_a[2, 0] == 3.3


def test_a_run_may_be_given_longer_to_come_to_rest() -> None:
    found = course(
        schedules.hard_reset("twin"), FIGURES, LOOK, tail_s=TAIL, rest_s=np.full(1, 500.0)
    )
    assert found.t_s[0, 0] == -500.0


def test_a_renegotiation_is_a_step_without_a_gap() -> None:
    found = corners(schedules.renegotiation("twin"))
    assert all(on for _, _, on in found)
    assert {v for _, v, _ in found} == {9.0}


def test_a_port_that_lowers_its_volts_bleeds_meanwhile() -> None:
    lower = PortFigures(**{**vars(FIGURES), "after_v": exact(5.0, "V")})
    found = course(schedules.renegotiation("twin"), lower, LOOK, tail_s=TAIL, trips=False)
    falling = np.flatnonzero(np.diff(found.v[found.watched :, 0]) < 0) + found.watched
    assert falling.size == 1
    assert found.bleed_s[falling[0], 0] == pytest.approx(1 / 200.0)
    assert found.on[falling[0], 0]


def test_an_attach_begins_dead() -> None:
    found = corners(schedules.attach("twin"))
    assert found[0] == (0.0, 0.0, False)
    assert [v for _, v, _ in found][-1] == 9.0
    course_ = course(schedules.attach("twin"), FIGURES, LOOK, tail_s=TAIL, trips=False)
    assert course_.watched == 0
    assert course_.bleed_s[0, 0] > 0.0


def test_two_resistors_end_at_five_volts() -> None:
    found = corners(schedules.attach("twin", negotiates=False))
    assert [v for _, v, _ in found][-1] == 5.0


def test_of_two_contracts_the_first_is_for_five_volts() -> None:
    found = corners(schedules.hard_reset("twin", epr=True))
    volts = [v for _, v, _ in found]
    assert volts[:3] == [9.0, 9.0, 9.0]  # before, and until it is off
    assert volts[3:-2] == [0.0, 5.0, 5.0, 5.0, 5.0]
    assert volts[-2:] == [9.0, 9.0]


def test_a_gate_passes_on_nothing_but_its_contract() -> None:
    found = corners(schedules.hard_reset("twin"), gate=Gate(closes_after=True))
    assert {v for _, v, on in found if on} <= {0.0, 9.0}
    assert 5.0 not in {v for _, v, _ in found}
    apart = course(
        schedules.hard_reset("twin"),
        FIGURES,
        LOOK,
        tail_s=TAIL,
        trips=False,
        gate=Gate(closes_after=True),
    )
    # What is behind an open gate is neither bled by the port nor in its way.
    assert not apart.bleed_s.any()
    assert apart.waits == ()


def test_a_gate_stays_open_for_another_contract() -> None:
    found = corners(schedules.hard_reset("twin"), gate=Gate(closes_after=False))
    assert not found[-1][2]


def test_after_a_trip_it_is_off_at_once_and_tries_again() -> None:
    found = course(schedules.hard_reset("twin"), FIGURES, LOOK, tail_s=TAIL)
    assert found.retry is not None
    assert not found.on[found.retry, 0]
    times = found.t_s[found.retry :, 0] - found.t_s[found.retry, 0]
    # tSafe0V, tSrcRecover, tSrcTurnOn, and a negotiation, at their nominal.
    assert times[-1] == pytest.approx(0.325 + 0.83 + 0.1375 + 0.125 + 0.033 + 0.4175 + 2.0)
    assert found.last == found.retry - 1
