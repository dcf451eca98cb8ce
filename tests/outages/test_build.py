"""From a front and a device to a circuit: every element finds its place, with the right end."""

import numpy as np
import pytest
from tests.paths import small_parts as small

from sinkside.outages import build
from sinkside.outages.charged_capacitance import ChargedCapacitance
from sinkside.outages.circuit import LEAST_OHM, Circuit, Ramp, Stage, Wire
from sinkside.outages.ends import BAD, NOMINAL, Few, Look
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Crowbar,
    Diode,
    Inductance,
    RampSwitch,
    Resistance,
    Thermistor,
)
from sinkside.parts.part import Part
from sinkside.paths.views import CORNERS
from sinkside.quantity import Basis, Quantity, point, unknown
from sinkside.site.appliance import Law

OUTAGE, INRUSH = Look("outage", CORNERS), Look("inrush", CORNERS)


def exact(value: float, unit: str) -> Quantity:
    return point(value, unit, Basis.MEASURED)


def part(*elements: object) -> Part:
    return small.part("filter", elements=elements)


def built(
    *parts: Part, look: Look = OUTAGE, law: Law = "constant current", **changes: object
) -> Circuit:
    about = {k: changes.pop(k) for k in ("peak", "own_capacitor", "lead_m") if k in changes}
    return build.circuit(parts, small.device(**changes), law, look, contract_v=9.0, **about)


def test_resistances_in_a_row_are_one_branch() -> None:
    found = built(small.cable(0.2), small.trigger(ohm=0.05), small.lead(0.3))
    assert len(found.branches) == 1
    assert found.branches[0].ohm.tolist() == pytest.approx([0.55, 0.55])
    assert [s.farad is not None for s in found.shunts] == [False, True]


def test_a_diode_makes_a_branch_one_way() -> None:
    diode = Diode(forward_v=unknown(0.2, 0.6, "V", name="d"), slope_ohm=exact(0.05, "Ω"))
    (branch,) = built(small.cable(0.2), part(diode), small.lead(0.3)).branches
    assert isinstance(branch, Wire)
    assert branch.one_way
    assert branch.ohm[0] == pytest.approx(0.55)
    # For an outage the diode keeps much, for an inrush little; the other column is the other end.
    assert branch.forward_v.tolist() == [0.6, 0.2]
    (branch,) = built(small.cable(0.2), part(diode), small.lead(0.3), look=INRUSH).branches
    assert isinstance(branch, Wire)
    assert branch.forward_v.tolist() == [0.2, 0.6]


def test_a_capacitor_makes_a_node() -> None:
    bank = Capacitance(farad=unknown(8e-3, 12e-3, "F", name="c"), esr_ohm=exact(0.05, "Ω"))
    found = built(small.cable(0.2), part(bank), small.lead(0.3))
    assert [b.ohm[0] for b in found.branches] == [0.2, 0.3]
    assert found.shunts[1].farad is not None
    assert found.shunts[1].farad.tolist() == [8e-3, 12e-3]
    assert built(small.cable(0.2), part(bank), small.lead(0.3), look=INRUSH).shunts[
        1
    ].farad.tolist() == [12e-3, 8e-3]  # type: ignore[union-attr]


def test_two_capacitors_side_by_side_are_two_nodes() -> None:
    bank = Capacitance(farad=exact(1e-3, "F"), esr_ohm=exact(0.05, "Ω"))
    found = built(small.cable(0.2), part(bank, bank), small.lead(0.3))
    assert [b.ohm[0] for b in found.branches] == [0.2, LEAST_OHM, 0.3]


def test_a_choke_at_the_receptacle_has_a_capacitor_before_it() -> None:
    choke = (Inductance(henry=exact(1e-3, "H")), Resistance(ohm=exact(0.3, "Ω")))
    found = built(small.cable(0.2), part(*choke), small.lead(0.3))
    (branch,) = found.branches
    assert isinstance(branch, Wire)
    assert branch.henry is not None
    assert branch.ohm[0] == pytest.approx(0.8)
    assert found.shunts[0].farad is not None


def test_bleeder_and_crowbar_lie_across() -> None:
    across = (Bleeder(ohm=exact(1e3, "Ω")), Crowbar(trips_low_v=13.0, trips_high_v=14.0))
    found = built(small.cable(0.2), part(*across), small.lead(0.3))
    assert found.shunts[1].siemens[0] == pytest.approx(1e-3)
    assert found.shunts[1].crowbar_v is not None
    assert found.shunts[1].crowbar_v[0] == 13.5


def test_a_soft_start_takes_its_time_for_the_volts_of_the_contract() -> None:
    found = built(
        small.cable(0.2), small.soft_start((0.05, 0.15), every_step=True), small.lead(0.3)
    )
    ramp = found.branches[1]
    assert isinstance(ramp, Ramp)
    assert ramp.every_step
    # 9 V in 150 ms at the worst for an outage.
    assert ramp.rate_v_per_s.tolist() == pytest.approx([60.0, 180.0])


def test_a_converter_is_a_stage_with_a_capacitor_before_it() -> None:
    step = small.converter(5.0, headroom=(0.5, 2.0), efficiency=(0.8, 0.95), carries=2.0)
    found = built(small.cable(0.2), step, small.lead(0.3))
    stage = found.branches[1]
    assert isinstance(stage, Stage)
    assert stage.set_v.tolist() == [5.0, 5.0]
    assert stage.ratio.tolist() == pytest.approx([5.0 / 7.0, 5.0 / 5.5])
    assert stage.efficiency.tolist() == [0.8, 0.95]
    assert stage.limit_a.tolist() == pytest.approx([2.2, 5.0])  # 1.1 to 2.5 times its rating
    assert stage.starts_v[0] == 4.5
    assert stage.stops_v[0] == pytest.approx(4.05)
    assert found.shunts[1].farad is not None


def test_a_reservoir_beside_the_feed() -> None:
    beside = ChargedCapacitance(
        farad=exact(1.0, "F"),
        esr_ohm=exact(0.05, "Ω"),
        charge_ohm=exact(27.0, "Ω"),
        forward_v=exact(0.4, "V"),
        slope_ohm=exact(0.1, "Ω"),
        bleed_ohm=exact(560.0, "Ω"),
    )
    charging = built(small.cable(0.2), part(beside), small.lead(0.3)).shunts[1].charging
    assert charging is not None
    assert charging.ohm[0] == 27.0
    assert charging.own_siemens[0] == pytest.approx(1 / 560.0)


def test_a_fuse_and_a_thermistor_are_their_resistance() -> None:
    warm = part(Thermistor(holds_a=1.0, trips_at_ratio=2.0), Resistance(ohm=exact(0.1, "Ω")))
    found = built(small.cable(0.2), small.fuse(1.0, ohm=0.05), warm, small.lead(0.3))
    assert [b.ohm[0] for b in found.branches] == pytest.approx([0.65])


def test_the_device_s_own_capacitor_may_be_left_out() -> None:
    with_it = built(small.lead(0.3), capacitance_f=2e-3)
    without = built(small.lead(0.3), capacitance_f=2e-3, own_capacitor=False)
    assert with_it.shunts[-1].farad is not None
    assert without.shunts[-1].farad is not None
    assert with_it.shunts[-1].farad[0] == 2e-3
    assert without.shunts[-1].farad[0] < 1e-6


def test_a_lead_s_inductance_goes_into_the_last_branch() -> None:
    (branch,) = built(small.cable(0.2), small.lead(0.3), lead_m=2.0).branches
    assert isinstance(branch, Wire)
    assert branch.henry is not None
    # 0.5 to 1 µH a metre.
    assert sorted(branch.henry.tolist()) == pytest.approx([1e-6, 2e-6])


def test_a_constant_current_has_a_knee() -> None:
    load = built(small.lead(), steady_a=0.5, runs_from_v=6.0).load
    assert load.constant_a[:, 0].tolist() == [0.5, 0.0]
    assert load.leaves_low_v[0, 0] == load.leaves_high_v[1, 0] == 3.0
    assert load.conductance_s[1, 0] * 3.0 == pytest.approx(0.5)
    assert load.locked == (False, False)
    assert load.runs_from_v[0] == 6.0


def test_a_constant_power_locks_out_and_starts_again() -> None:
    load = built(small.lead(), law="constant power", steady_a=0.5, runs_from_v=6.0).load
    assert load.power_w[:, 0].tolist() == [4.5, 0.0]
    # It stops at what it runs from, or at half of that; it starts again somewhat above.
    assert load.leaves_low_v[0].tolist() == pytest.approx([6.0, 3.0])
    assert load.leaves_high_v[1, 0] == pytest.approx(6.9)
    assert load.locked == (False, True)


def test_a_resistance_is_one_piece() -> None:
    load = built(small.lead(), law="resistance", steady_a=0.5).load
    assert load.conductance_s[:, 0].tolist() == pytest.approx([0.5 / 9.0])


def test_a_linear_regulator_falls_along_its_load() -> None:
    heat = small.regulator_heat(5.0, 5.0)
    load = built(small.lead(), steady_a=0.5, runs_from_v=7.0, heat=heat).load
    assert load.pieces == 3
    for volts in (7.0, 6.0, 4.5, 2.0 + 1e-9):
        piece = 0 if volts >= 7.0 else 1
        amps = load.constant_a[piece, 0] + load.conductance_s[piece, 0] * volts
        # 5 V at 0.5 A are 10 Ω behind a dropout of 2 V.
        assert amps == pytest.approx(min(0.5, (volts - 2.0) / 10.0), abs=1e-9)


def test_the_peak_is_drawn_where_it_is_asked_for() -> None:
    assert built(small.lead(), steady_a=0.5, peak_a=0.8).load.constant_a[0, 0] == 0.5
    assert built(small.lead(), steady_a=0.5, peak_a=0.8, peak=True).load.constant_a[0, 0] == 0.8


def test_every_question_says_an_end_for_every_topic() -> None:
    topics = {frozenset(ends) for ends in BAD.values()}
    assert len(topics) == 1
    assert all(end in ("low", "high") for ends in BAD.values() for end in ends.values())


def test_views_of_a_quantity() -> None:
    wide = unknown(1.0, 3.0, "Ω", name="some/ohms")
    assert Look("outage", NOMINAL).at(wide, "ohm").tolist() == [2.0]
    few = Look("outage", Few(32)).at(wide, "ohm")
    assert few.shape == (32,)
    assert few.min() >= 1.0
    assert few.max() <= 3.0
    # One name, one draw, everywhere.
    assert np.array_equal(few, Look("inrush", Few(32)).at(wide, "ohm"))
    swings = small.swings(1.0, 3.0, "Ω", "some/ohms")
    assert Look("outage", Few(4)).at(swings, "ohm").tolist() == [3.0] * 4
    assert Few(4) == Few(4)
    assert hash(Few(4)) == hash(Few(4))
    assert Few(4) != Few(5)


def test_what_nobody_knows_is_named() -> None:
    parts = (small.cable((0.1, 0.2)), small.lead(0.3))
    named = {q.name for q in build.quantities(parts, small.device(runs_from_v=(5.0, 6.0)))}
    assert named == {"cable/ohms", "thing/runs from", "thing/input esr"}


def test_how_long_it_takes_to_fill() -> None:
    found = built(small.cable(0.2), small.lead(0.3), capacitance_f=1e-2)
    seconds = build.fill_s(found, np.full(2, 9.0), np.full(2, 3.0))
    assert seconds[0] == pytest.approx(1e-2 * (9.0 / 3.0 + 10.0 * 0.5))
    ramped = built(small.soft_start(0.1), small.lead(0.3), capacitance_f=1e-2)
    assert build.fill_s(ramped, np.full(2, 9.0), np.full(2, 3.0))[0] > 0.2


def test_ramp_switches_of_parts_are_read() -> None:
    element = RampSwitch(ramp_s=exact(0.1, "s"), every_step=False)
    found = built(small.cable(0.1), part(element), small.lead(0.1)).branches[1]
    assert isinstance(found, Ramp)
    assert not found.every_step
