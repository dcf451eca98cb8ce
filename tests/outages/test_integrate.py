"""The integrator: events, trips, waits and ends, and that runs do not know of each other."""

from dataclasses import replace

import numpy as np
import pytest
from tests.outages import as_arrays
from tests.outages.plain import (
    CORNERS,
    LOADS,
    Plain,
    Ramp,
    Shunt,
    Stage,
    Wire,
    current,
    power,
    resistance,
)

from sinkside.outages.accounts import OutOfBalance
from sinkside.outages.circuit import Circuit
from sinkside.outages.course import Course, joined
from sinkside.outages.effort import Effort
from sinkside.outages.integrate import StepLimit, integrate

BARE = Plain(
    name="bare",
    branches=(Wire(ohm=0.35),),
    shunts=(Shunt(), Shunt(farad=1e-3, esr_ohm=0.05)),
    **LOADS.power,  # type: ignore[arg-type]
)
HELD = BARE.called(
    "held up",
    branches=(Wire(ohm=0.4, forward_v=0.35), Wire(ohm=0.15)),
    shunts=(Shunt(), Shunt(farad=40e-3, esr_ohm=0.05), Shunt(farad=470e-6, esr_ohm=0.05)),
)


def course(given: Plain, *, retry: bool = False, waits: tuple[int, ...] = ()) -> Course:
    """The course of a plain circuit; with a retry, the same once more after a trip."""
    once = as_arrays.course(given)
    if not retry:
        return replace(once, waits=waits)
    off = np.zeros((1, 1), dtype=bool)
    bleed = np.full((1, 1), 1.0 / given.bleed_ohm)
    return replace(
        once,
        t_s=np.concatenate([once.t_s, once.t_s + once.t_s[-1]]),
        v=np.concatenate([once.v, once.v]),
        on=np.concatenate([once.on, off, once.on]),
        bleed_s=np.concatenate([once.bleed_s, bleed, once.bleed_s]),
        limit_a=np.concatenate([once.limit_a, once.limit_a[:1], once.limit_a]),
        retry=len(given.corners),
        waits=waits,
    )


def test_a_device_goes_out_and_comes_back() -> None:
    found = integrate(as_arrays.circuit(BARE), course(BARE))
    start, out, back = found.changes_s[0]
    assert 0.05 < start < 0.06 < 0.2 < out < 0.21 < 0.38 < back < 0.39
    assert found.outages[0] == 2  # dead at first, and once more
    assert found.lost_s[0] == 0.0
    assert found.back_s[0] == back
    assert found.longest_out_s[0] == pytest.approx(back - out)
    assert found.out_s[0] == pytest.approx(start + back - out)
    assert not found.out_at_end[0]


@pytest.mark.parametrize(("watts", "changes"), [(5.0, 3), (3.0, 1)])
def test_a_reservoir_behind_a_diode_bridges_the_gap(watts: float, changes: int) -> None:
    """From 40 mF at 8.4 V for 0.1 s: 5 W leave √(8.4² − 25) = 6.8 V, less what its own and the
    lead's resistance take, which is under 6.5 V; 3 W leave 7.5 V."""
    given = HELD.called("held", **power(watts, 6.5, 7.5))
    assert len(integrate(as_arrays.circuit(given), course(given)).changes_s[0]) == changes


def test_only_what_is_watched_is_told() -> None:
    watched = replace(course(BARE), watched=5)
    found = integrate(as_arrays.circuit(BARE), watched)
    assert found.outages[0] == 1
    assert found.lost_s[0] > 0.2
    assert found.peak_s[0] > 0.2
    assert watched.from_s[0] == 0.2


def test_a_device_that_is_out_when_watching_begins_is_out_from_then() -> None:
    starving = BARE.called("starving", **{**resistance(15.0), "runs_from_v": 20.0})
    found = integrate(as_arrays.circuit(starving), replace(course(starving), watched=4))
    assert (found.lost_s[0], found.outages[0]) == (0.0502, 1)
    assert found.out_at_end[0]
    assert found.longest_out_s[0] == pytest.approx(0.5 - 0.0502)


def test_a_port_trips_when_it_has_limited_for_too_long() -> None:
    big = BARE.called("big", shunts=(Shunt(), Shunt(farad=50e-3)), limit_a=3.0)
    patient = replace(course(big, retry=True), patience_s=np.full(1, 0.5))
    hasty = course(big, retry=True)
    assert integrate(as_arrays.circuit(big), patient).trips[0] == 0
    found = integrate(as_arrays.circuit(big), hasty)
    assert found.trips[0] >= 1
    # It held its limit until then, and no more.
    assert found.peak_a[0] == pytest.approx(3.0)


def test_a_port_that_trips_each_time_is_given_up() -> None:
    short = BARE.called("short", **resistance(0.1), limit_a=3.0)
    found = integrate(as_arrays.circuit(short), course(short, retry=True))
    assert found.trips[0] == Effort().trip_limit
    assert found.out_at_end[0]


def test_short_pauses_do_not_give_the_patience_back() -> None:
    """A motorboating load asks for too much again and again: the port lets go all the same."""
    stage = Stage(direction="step-up", set_v=12.0, ratio=1.0, starts_v=4.5, stops_v=4.0)
    restless = Plain(
        name="restless",
        branches=(Wire(ohm=0.2), stage, Wire(ohm=0.15)),
        shunts=(Shunt(), Shunt(farad=22e-6, esr_ohm=0.02), Shunt(), Shunt(farad=1e-3)),
        limit_a=3.0,
        **power(5.0, 8.0, 9.0),  # type: ignore[arg-type]
    )
    patience = replace(course(restless, retry=True), patience_s=np.full(1, 3e-4))
    found = integrate(as_arrays.circuit(restless), patience)
    assert found.trips[0] >= 1


def test_a_device_that_motorboats_is_given_up() -> None:
    """6.6 W behind 3 Ω at 8.65 V: the most is 8.65²/12 = 6.24 W."""
    weak = Plain(
        name="weak",
        branches=(Wire(ohm=3.0, forward_v=0.35),),
        shunts=(Shunt(), Shunt(farad=1e-3)),
        corners=((0.0, 0.0, True), (1e-3, 9.0, True), (20.0, 9.0, True)),
        **power(6.6, 5.0, 7.5),  # type: ignore[arg-type]
    )
    found = integrate(as_arrays.circuit(weak), course(weak))
    assert found.never_settles[0]
    assert found.outages[0] == Effort().outage_limit + 1


def test_a_port_waits_for_its_receptacle_to_fall() -> None:
    """Through 500 Ω with 1 mF and nothing else, 9 V fall to 0.8 V in 0.5·ln(9/0.8) = 1.21 s."""
    idle = BARE.called("idle", **{**resistance(1e6), "runs_from_v": 4.0})
    found = integrate(as_arrays.circuit(idle), course(idle, waits=(6,)))
    assert found.waited_s[0] == pytest.approx(1.21 - 0.1, abs=0.01)
    assert found.dead_s[0] == pytest.approx(0.2 + 1.21, abs=0.01)
    assert not found.blocked[0]
    back = found.changes_s[0][-1]
    assert back - 0.3 == pytest.approx(found.waited_s[0], abs=1e-3)


def test_a_port_that_waits_for_ever_is_given_up() -> None:
    idle = BARE.called("idle", **{**resistance(1e6), "runs_from_v": 4.0})
    found = integrate(
        as_arrays.circuit(idle), course(idle, waits=(6,)), effort=Effort(wait_limit_s=0.5)
    )
    assert found.blocked[0]
    assert found.out_at_end[0]


def test_a_crowbar_fires_once_and_for_good() -> None:
    barred = BARE.called(
        "barred",
        branches=(Wire(ohm=0.2), Wire(ohm=0.15)),
        shunts=(Shunt(), Shunt(crowbar_v=7.0), Shunt(farad=1e-3)),
        limit_a=3.0,
        **current(0.4, 1.0),
    )
    found = integrate(as_arrays.circuit(barred), course(barred))
    # It had its 5 V until 7 V came with the contract.
    assert 4.9 < found.most_v[0] < 7.0
    assert found.out_at_end[0]
    assert found.peak_a[0] == pytest.approx(3.0)


def test_a_plain_soft_start_does_nothing_for_the_step_to_the_contract() -> None:
    """It ramps at attach; the slew limiter ramps at every step (common practice)."""
    load = power(2.0, 4.0, 4.5)
    peaks = []
    for every in (False, True):
        ramp = Ramp(rate_v_per_s=90.0, every_step=every)
        given = Plain(
            name="ramp",
            branches=(Wire(ohm=0.25), ramp),
            shunts=(Shunt(), Shunt(), Shunt(farad=4.7e-3, esr_ohm=0.03)),
            **load,  # type: ignore[arg-type]
        ).called("ramp", corners=_slow(CORNERS))
        late = replace(course(given), watched=4)
        peaks.append(integrate(as_arrays.circuit(given), late).peak_a[0])
    plain, limiter = peaks
    assert plain > 5.0
    # C·dV/dt = 4.7 mF · 90 V/s = 0.42 A, and the load's own 0.5 A at 4 V.
    assert limiter < 1.0


def _slow(corners: tuple[tuple[float, float, bool], ...]) -> tuple[tuple[float, float, bool], ...]:
    """The same, with 5 V for long enough that a slow ramp is over before the contract."""
    times = (0.0, 0.01, 0.0102, 0.15, 0.1502, 0.4, 0.5, 0.5002, 0.7, 0.7002, 0.9)
    return tuple((t, v, on) for t, (_, v, on) in zip(times, corners, strict=True))


@pytest.mark.parametrize("together", [1, 7, 40])
def test_runs_do_not_know_of_each_other(together: int) -> None:
    """A run alone and among others that differ: the same to the last digits."""
    draw = np.random.default_rng(5)
    base, ports = as_arrays.circuit(BARE), course(BARE)
    farads = draw.uniform(0.5e-3, 2e-3, together)
    many = [_with_farad(base, farad) for farad in farads]
    found = integrate(many[0].joined(many[1:]) if many[1:] else many[0], joined([ports] * together))
    for number in range(0, together, 6):
        alone = integrate(many[number], ports)
        assert found.changes_s[number] == pytest.approx(alone.changes_s[0], abs=1e-9)
        assert found.peak_a[number] == pytest.approx(alone.peak_a[0], rel=1e-9)


def _with_farad(base: Circuit, farad: float) -> Circuit:
    first, last = base.shunts
    return replace(base, shunts=(first, replace(last, farad=np.full(1, farad))))


def test_waveforms_do_not_change_what_is_found() -> None:
    plain = integrate(as_arrays.circuit(HELD), course(HELD))
    seen = integrate(as_arrays.circuit(HELD), course(HELD), grid_s=np.linspace(0.0, 0.5, 333))
    assert seen.changes_s == plain.changes_s
    assert seen.trace is not None
    assert not np.isnan(seen.trace.pins_v).any()


def test_courses_of_different_corners_do_not_go_together() -> None:
    one = course(BARE)
    other = replace(one, watched=3)
    with pytest.raises(ValueError, match=r"^courses of different corners cannot go together$"):
        joined([one, other])


def test_a_run_that_takes_too_many_steps_says_so() -> None:
    with pytest.raises(StepLimit) as caught:
        integrate(as_arrays.circuit(BARE), course(BARE), effort=Effort(step_limit=3))
    assert str(caught.value) == "1 runs are not over after 3 steps each"


def test_what_does_not_add_up_is_an_error(monkeypatch: pytest.MonkeyPatch) -> None:
    """A ledger that is told of too little capacitance finds out."""
    from sinkside.outages.accounts import Ledger

    figure = Ledger._figure

    def wrong(self: Ledger, name: str, run: np.ndarray) -> np.ndarray:
        return figure(self, name, run) * (0.5 if name.endswith(".farad") else 1.0)

    monkeypatch.setattr(Ledger, "_figure", wrong)
    with pytest.raises(OutOfBalance, match=r"^run 0 is out of balance: "):
        integrate(as_arrays.circuit(HELD), course(HELD), accounts=True)
