"""Transients against closed forms of the textbook, and gaps against sums of published timers.

Every closed form here is worked out in the test or taken from `closed_forms`, which has its own
checks below; the integrator knows none of them. From memory unless a source stands beside it.
"""

import math

import numpy as np
import pytest
from tests.outages import as_arrays
from tests.outages.plain import FAR_V, Piece, Plain, Ramp, Shunt, Wire, current, power, resistance

from sinkside.outages import closed_forms, schedules
from sinkside.outages.effort import Effort
from sinkside.outages.integrate import integrate
from sinkside.outages.outcome import Outcome
from sinkside.standards.pd_timers import hard_reset_gap

TIGHT = Effort(relative=1e-8, absolute=1e-9)
CUT = ((0.0, 0.0, True), (1e-3, 10.0, True), (4.0, 10.0, False), (60.0, 10.0, False))
"""On, ten volts; gone at 4 s, behind a bleed that takes next to nothing."""


def cut(branches: tuple[Wire, ...], shunts: tuple[Shunt, ...], load: dict[str, object]) -> Plain:
    return Plain(
        name="textbook",
        branches=branches,
        shunts=shunts,
        corners=CUT,
        bleed_ohm=1e12,
        source_ohm=1e-6,
        limit_a=1e6,
        **load,  # type: ignore[arg-type]
    )


def run(given: Plain, *, effort: Effort = TIGHT, grid_s: np.ndarray | None = None) -> Outcome:
    return integrate(
        as_arrays.circuit(given), as_arrays.course(given), effort=effort, grid_s=grid_s
    )


DIODE = Wire(ohm=1e-3, forward_v=0.0)
BIG = (Shunt(), Shunt(farad=0.1, esr_ohm=1e-3))


def test_charging_through_a_resistance() -> None:
    """V = V₀·(1 − e^(−t/RC)): 63.2 % after one time constant, 99.3 % after five."""
    given = Plain(
        name="RC",
        branches=(Wire(ohm=100.0),),
        shunts=(Shunt(), Shunt(farad=1e-3)),
        corners=((0.0, 10.0, True), (1.0, 10.0, True)),
        pieces=(Piece(),),
        runs_from_v=10.0 * (1.0 - math.exp(-1.0)),
        source_ohm=1e-6,
    )
    times = np.array([0.1, 0.2, 0.5])
    found = run(given, grid_s=times)
    assert found.trace is not None
    # The source's micro-ohm, the capacitor's milli-ohm and a leak of 1 MΩ are 2e-5 of it.
    assert found.trace.pins_v[0] == pytest.approx(10.0 * (1.0 - np.exp(-times / 0.1)), rel=2e-4)
    assert found.back_s[0] == pytest.approx(0.1, rel=3e-4)


def test_hold_up_of_a_constant_power() -> None:
    """t = C·(V₁² − V₂²)/2P: 0.1 F from 10 V to 6 V into 5 W are 0.64 s."""
    found = run(cut((DIODE,), BIG, power(5.0, 6.0, 8.0)))
    textbook = closed_forms.constant_power_s(0.1, 10.0, 6.0, 5.0)
    assert textbook == pytest.approx(0.64)
    # A milli-ohm of series resistance and the drop of the diode's: a few ten-thousandths.
    assert found.lost_s[0] == 0.0  # it starts dead
    assert found.changes_s[0][-1] - 4.0 == pytest.approx(textbook, rel=1e-3)


def test_hold_up_of_a_constant_current() -> None:
    """t = C·(V₁ − V₂)/I: 0.1 F from 10 V to 6 V at 0.5 A are 0.8 s."""
    found = run(cut((DIODE,), BIG, current(0.5, 6.0)))
    assert found.changes_s[0][-1] - 4.0 == pytest.approx(0.8, rel=1e-3)


def test_hold_up_of_a_resistance() -> None:
    """t = R·C·ln(V₁/V₂): 20 Ω and 0.1 F to half the volts are 1.386 s."""
    found = run(cut((DIODE,), BIG, {**resistance(20.0), "runs_from_v": 5.0}))
    assert closed_forms.resistance_s(0.1, 10.0, 5.0, 20.0) == pytest.approx(1.3863, abs=1e-4)
    assert found.changes_s[0][-1] - 4.0 == pytest.approx(1.3863, rel=1e-3)


def test_series_resistance_shortens_the_hold_up_of_a_current() -> None:
    """t = C·(V₁ − V₂ − I·R)/I, R of the capacitor: 0.2 Ω at 0.5 A cost 0.1 V of 4."""
    shunts = (Shunt(), Shunt(farad=0.1, esr_ohm=0.2))
    found = run(cut((DIODE,), shunts, current(0.5, 6.0)))
    textbook = closed_forms.constant_current_s(0.1, 10.0, 6.0, 0.5, 0.2)
    assert textbook == pytest.approx(0.78)
    assert found.changes_s[0][-1] - 4.0 == pytest.approx(textbook, rel=1e-3)


@pytest.mark.parametrize(("farad", "amps"), [(22e-6, 0.66), (100e-6, 3.0)])
def test_inrush_on_a_step(farad: float, amps: float) -> None:
    """I = C·dV/dt at 30 mV/µs: 22 µF take 0.66 A, 100 µF 3.0 A (design notes for PD sinks)."""
    rise = 9.0 / 30e3
    given = Plain(
        name="slew",
        branches=(Wire(ohm=1e-3),),
        shunts=(Shunt(), Shunt(farad=farad)),
        corners=((0.0, 0.0, True), (rise, 9.0, True), (0.1, 9.0, True)),
        pieces=(Piece(),),
        runs_from_v=8.0,
        source_ohm=1e-4,
        limit_a=1e3,
    )
    assert run(given).peak_a[0] == pytest.approx(amps, rel=1e-3)


def test_a_ramp_charges_with_a_constant_current() -> None:
    """I = C·V/t: 10 mF to 9 V in 60 ms take 1.5 A."""
    given = Plain(
        name="ramp",
        branches=(Ramp(ohm=1e-3, rate_v_per_s=9.0 / 0.06, arrives_v=1.0, lost_v=0.5),),
        shunts=(Shunt(), Shunt(farad=10e-3)),
        corners=((0.0, 0.0, True), (1e-3, 9.0, True), (0.2, 9.0, True)),
        pieces=(Piece(),),
        runs_from_v=8.9,
        source_ohm=1e-4,
        limit_a=1e3,
    )
    assert closed_forms.ramp_s(10e-3, 9.0, 1.5) == pytest.approx(0.06)
    assert run(given).peak_a[0] == pytest.approx(1.5, rel=1e-3)


@pytest.mark.parametrize("ohm", [0.02, 0.05, 0.1, 0.2])
def test_a_live_lead_rings(ohm: float) -> None:
    """1 + exp(−πζ/√(1 − ζ²)), ζ = ½R·√(C/L): 1 µH and 10 µF, so that 0.05 Ω are ζ = 0.079."""
    henry, farad = 1e-6, 10e-6
    given = Plain(
        name="RLC",
        branches=(Wire(ohm=ohm - 1e-3 - 1e-4, henry=henry),),
        # A source that takes current back, as the lead's live end does: a large capacitor.
        shunts=(Shunt(farad=1.0, esr_ohm=1e-4), Shunt(farad=farad, esr_ohm=1e-3)),
        corners=((0.0, 9.0, True), (5e-4, 9.0, True)),
        pieces=(Piece(),),
        runs_from_v=8.0,
        source_ohm=1e-6,
        limit_a=1e6,
    )
    found = integrate(
        as_arrays.circuit(given),
        as_arrays.course(given),
        effort=TIGHT,
        start_y=np.array([[9.0], [0.0], [0.0]]),
    )
    textbook = closed_forms.overshoot(ohm, henry, farad)
    assert found.most_v[0] / 9.0 == pytest.approx(textbook, rel=2e-3)


def test_an_undamped_lead_rings_to_twice_its_volts() -> None:
    assert closed_forms.overshoot(0.0, 1e-6, 1e-6) == 2.0
    assert closed_forms.overshoot(2.0, 1e-6, 1e-6) == 1.0  # critically damped: ζ = 1


def test_supercapacitor_hold_up() -> None:
    """5 W for 30 s are 150 J; from 12 V to 9 V that is 2·150/(144 − 81) = 4.76 F (arithmetic)."""
    assert closed_forms.farads_for_power(30.0, 12.0, 9.0, 5.0) == pytest.approx(4.76, abs=5e-3)
    # The example of the trade: 5 W, 12 to 9 V, 2 s is 0.32 F.
    assert closed_forms.farads_for_power(2.0, 12.0, 9.0, 5.0) == pytest.approx(0.32, abs=5e-3)


def test_a_reservoir_of_that_size_holds_that_long() -> None:
    corners = ((0.0, 0.0, True), (1e-3, 12.0, True), (4.0, 12.0, False), (60.0, 12.0, False))
    given = cut((DIODE,), (Shunt(), Shunt(farad=4.76, esr_ohm=1e-3)), power(5.0, 9.0, 11.0))
    found = run(given.called("bank", corners=corners))
    assert found.changes_s[0][-1] - 4.0 == pytest.approx(30.0, rel=1e-3)


def test_a_bleeder_empties_in_time() -> None:
    """R ≤ t/(C·ln(V/0.8)): 100 µF and 2.69 kΩ fall from 9 V to 0.8 V in 0.65 s (arithmetic)."""
    ohm = closed_forms.bleed_ohm(0.65, 100e-6, 9.0)
    assert ohm == pytest.approx(2686, abs=1)
    corners = ((0.0, 0.0, True), (1e-3, 9.0, True), (1.0, 9.0, False), (5.0, 9.0, False))
    given = Plain(
        name="bleed",
        branches=(Wire(ohm=1e-3),),
        shunts=(Shunt(), Shunt(farad=100e-6)),
        corners=corners,
        pieces=(Piece(leaves_high_v=FAR_V),),
        runs_from_v=8.0,
        # The leak of every node, 1 MΩ, is 2 in 1 000 of it.
        bleed_ohm=1.0 / (1.0 / ohm - 2e-6),
        source_ohm=1e-4,
        limit_a=1e3,
    )
    assert run(given).dead_s[0] - 1.0 == pytest.approx(0.65, rel=1e-4)


@pytest.mark.parametrize("epr", [False, True])
def test_the_gap_after_a_hard_reset(epr: bool) -> None:
    """USB PD: tPSHardReset + tSafe0V + tSrcRecover + tSrcTurnOn, then a negotiation.

    Timers read in open-source headers and lists (see `sinkside.standards.pd_timers`), those of
    the extended range from memory. Off after 25–35 ms, nothing for 0.66 to 1.9 s, a contract
    after 1.0 to 2.8 s.
    """
    schedule = schedules.hard_reset("any", epr=epr)
    gap = hard_reset_gap(epr=epr)
    assert schedule.contract_absent_s() == pytest.approx(
        (gap.contract_absent_low_s, gap.contract_absent_high_s)
    )
    assert schedule.supply_absent_s() == pytest.approx(
        (gap.five_volts_absent_low_s, gap.five_volts_absent_high_s)
    )
    if not epr:
        low, high = schedule.contract_absent_s()
        assert (round(low, 1), round(high, 1)) == (1.0, 2.8)
        assert 0.65 < schedule.supply_absent_s()[0] < 0.7
        assert 1.9 < schedule.supply_absent_s()[1] < 1.95
