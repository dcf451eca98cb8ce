"""Handbook figures that have to come out of whole chains and parts, not of formulas alone.

Read, secondary, from memory and common practice stand beside each figure. The formulas and tables
themselves are held against the same sources in the other files of this folder.
"""

import pytest
from tests.parts.sheets import parts
from tests.paths import small_parts as small
from tests.site.devices import ends, surveyed

from sinkside.parts import market
from sinkside.parts.elements import Resistance
from sinkside.parts.part import Part
from sinkside.parts.written.leads import LeadWritten
from sinkside.paths.findings import findings
from sinkside.paths.judge import judge
from sinkside.paths.rows import Path
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Verdict
from sinkside.standards import copper, fuse_gates
from sinkside.standards.fuse_gates import FuseStandard

FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS


def finding(rule: str, path: Path) -> Finding:
    (found,) = (f for f in findings(judge([path]), 0) if f.rule == rule)
    return found


def one(entry: str) -> Part:
    """The first part that a line of a market file becomes."""
    return parts(entry)[0]


@pytest.mark.parametrize(
    ("contract_v", "far_end_v"),
    [
        # 0.95 V − 0.75 V at 3 A: the driver tcpci.c of Linux (read), USB Type-C R2.0 4.4.1
        # (secondary). 5 V may lawfully arrive as 4.00 V.
        (5.0, 4.00),
        (9.0, 7.80),
        (12.0, 10.65),
        (15.0, 13.50),
        (20.0, 18.25),
    ],
)
def test_the_least_that_lawfully_arrives_at_the_far_end(
    contract_v: float, far_end_v: float
) -> None:
    chain = (one("is: cable"), small.trigger(contract_v), small.lead())
    for runs_from_v, expected in ((far_end_v, FITS), (far_end_v + 0.01, UNPROVEN)):
        thing = small.device(steady_a=3.0, peak_a=3.0, runs_from_v=runs_from_v, harmed_above_v=25.0)
        assert finding("under-volts", small.path(thing, *chain)).verdict is expected
    # A quarter of the lawful ohms at the least (from memory): beyond that no lead helps.
    best_v = 0.95 * contract_v - 0.75 / 4.0
    thing = small.device(steady_a=3.0, peak_a=3.0, runs_from_v=best_v + 0.01, harmed_above_v=25.0)
    assert finding("under-volts", small.path(thing, *chain)).verdict is FAILS


LEADS = [entry for entry in market.written().values() if isinstance(entry, LeadWritten)]


@pytest.mark.parametrize("lead", LEADS, ids=[lead.id for lead in LEADS])
def test_a_lead_of_the_market_lies_between_the_two_conventions(lead: LeadWritten) -> None:
    """700 circular mils for an ampere, and the wire table's chassis column, six times as much.

    AWG power table and HyperPhysics wire table (read); conventions, no standards.
    """
    cautious_a = {20: 1.5, 22: 0.92, 24: 0.577}
    chassis_a = {20: 11.0, 22: 7.0, 24: 3.5}
    gauge = int(lead.gauge.split()[0])
    assert lead.carries is not None
    assert cautious_a[gauge] <= lead.carries.low <= chassis_a[gauge]


@pytest.mark.parametrize("lead", LEADS, ids=[lead.id for lead in LEADS])
def test_no_lead_of_the_market_has_less_ohms_than_copper_has(lead: LeadWritten) -> None:
    """Ω per 1000 ft at 20 °C, there and back (HyperPhysics wire table, read)."""
    per_m = {20: 10.15 / 304.8, 22: 16.14 / 304.8, 24: 25.67 / 304.8}
    copper_ohm = 2.0 * lead.length.low * per_m[int(lead.gauge.split()[0])]
    for part in lead.parts():
        ohm = sum(e.ohm.low for e in part.elements if isinstance(e, Resistance))
        # New barrel contacts add some 30 mΩ (common practice).
        assert copper_ohm < ohm < copper_ohm + 0.031


@pytest.mark.parametrize("awg", [16, 18, 20, 22, 24, 26])
def test_at_the_cautious_current_every_gauge_drops_the_same(awg: int) -> None:
    """ρ ÷ 700 circular mils = 0.017241 Ω·mm²/m ÷ 0.35469 mm² · 1 A = 48.6 mV/m (arithmetic)."""
    amps = copper.power_transmission_a(copper.awg_area_m2(awg))
    assert amps * copper.awg_ohm_per_m(awg) == pytest.approx(0.0486, abs=5e-5)


@pytest.mark.parametrize(
    ("written", "standard", "carries_a", "opens_a"),
    [
        # IEC 60127: may run at its rating (secondary), opens for sure at 2.1 times (from memory).
        ("rating: 500 mA", FuseStandard.IEC_60127_2_T, 0.5, 1.05),
        ("rating: 3.15 A", FuseStandard.IEC_60127_2_T, 3.15, 6.615),
        # UL 248-14: load it to 75 % (secondary), opens for sure at twice (read).
        ("rating: 3 A, standard: UL 248-14", FuseStandard.UL_248_14, 2.25, 6.0),
    ],
)
def test_what_a_fuse_carries_and_what_opens_it(
    written: str, standard: FuseStandard, carries_a: float, opens_a: float
) -> None:
    part = one(f"is: fuse, {written}, speed: time-lag")
    assert part.fuse is not None
    rated_a = part.fuse.rated_a
    # The figure by hand, the part, and the table of the standard: three ways.
    assert part.carries_a == pytest.approx(carries_a)
    assert fuse_gates.continuous_a(rated_a, standard) == pytest.approx(carries_a)
    assert rated_a * part.fuse.opens_at_ratio == pytest.approx(opens_a)
    assert fuse_gates.sure_to_open_a(rated_a, standard) == pytest.approx(opens_a)
    for amps, expected in ((carries_a, FITS), (1.01 * carries_a, FAILS)):
        thing = small.device(steady_a=amps, peak_a=amps)
        path = small.path(thing, small.cable(), small.trigger(), part, small.lead())
        assert finding("fuse-holds", path).verdict is expected


def test_a_time_lag_fuse_stands_the_pulse_of_its_gate() -> None:
    # IEC 60127-2 sheet 3 (from memory): ten times its rating, not before 20 ms, so that 2 s times
    # its rating squared have not melted it; not after 300 ms, so that 30 s surely have.
    part = one("is: fuse, rating: 2 A, speed: time-lag")
    assert part.fuse is not None
    not_before, not_after = fuse_gates.opening_time_s(10.0, FuseStandard.IEC_60127_2_T)
    assert part.fuse.melts_a2s.low == pytest.approx((10 * 2.0) ** 2 * not_before)
    assert part.fuse.melts_a2s.high >= (10 * 2.0) ** 2 * not_after


@pytest.mark.parametrize(
    ("farad", "expected"),
    [
        # 29 % of what melts it for 10 000 pulses (a maker's guide, secondary): 0.29 · 2 s · (1 A)²
        # = 0.58 A²s at the least, 17.4 A²s if it takes 60 s. A hard 9.45 V onto C behind
        # 0.25 + 0.1 Ω is C·V²/2R: 0.574 A²s, then 0.587 A²s (arithmetic).
        (4.5e-3, FITS),
        (4.6e-3, UNPROVEN),
        # A source that limits at its 3 A lets 3 A · C · V = 28 A²s through, at the kindest.
        (1.0, FAILS),
    ],
)
def test_a_pulse_that_a_fuse_has_to_stand_ten_thousand_times(
    farad: float, expected: Verdict
) -> None:
    part = one("is: fuse, rating: 1 A, speed: time-lag, ohms: 0.1 Ω (measured)")
    thing = small.device(capacitance_f=farad)
    path = small.path(thing, small.cable(0.25), small.trigger(), part, small.lead())
    assert finding("fuse-pulse", path).verdict is expected


def test_a_fault_behind_a_fuse_and_behind_none() -> None:
    # A port trips at 1.1 to 1.5 times its rating (from memory), so at 4.5 A of 3 A at most. A
    # fuse of 3.15 A opens at 6.6 A: it never does. One of 1 A opens at 2.1 A.
    thing = small.device(jack_a=10.0)
    for rating, most_a in (("3.15 A", 4.5), ("1 A", 2.1)):
        guard = one(f"is: fuse, rating: {rating}")
        path = small.path(thing, small.cable(), small.trigger(), guard, small.lead())
        # The lead carries 3 A, and half as much again in a fault (common practice).
        assert finding("fault-current", path).margin == pytest.approx(4.5 - most_a)


def test_a_resettable_fuse_is_no_fuse_that_guards_a_lead() -> None:
    # It holds 100 % at 25 °C, 88 % at 40 °C, 56 % at 85 °C (one maker's table, secondary) and
    # trips at about twice what it holds (common practice), so nothing may lean on where it trips.
    weak = small.lead(carries_a=0.5)
    guard = one("is: resettable fuse, holds: 500 mA")
    path = small.path(small.device(), small.cable(), small.trigger(), guard, weak)
    assert finding("fault-current", path).verdict is FAILS


def test_what_a_9_v_a_c_device_may_have_lived_on() -> None:
    # √2 · 9 V · 1.57 · 1.10 = 21.98 V, the highest peak in a worked example (forum, secondary);
    # a stiff brick gives √2 · 9 V = 12.7 V at the least. Its damage limit is not known between.
    bridge = "in_front: full bridge without tap (measured)"
    plate = 'plate: "9 VAC 1000 mA"'
    found = surveyed(plate, "inlet: {plug: 5.5x2.1}", f"inside: {{{bridge}}}")
    sure_v, at_most_v = ends(found.harmed_above_v)
    assert sure_v <= 12.73
    assert at_most_v >= 21.98
    chain = (small.cable(), small.trigger(20.0), small.lead())
    assert finding("over-volts", small.path(found, *chain)).verdict is UNPROVEN
    # A capacitor of 25 V was meant for 22 V: behind two diodes it stands the 21 V of a contract.
    known = surveyed(
        plate,
        "inlet: {plug: 5.5x2.1}",
        "inside: {is: linear regulator, part: 7805, heat_sink: large, "
        f"{bridge}, input_capacitor: 2200 µF 25 V (plate)}}",
    )
    assert finding("over-volts", small.path(known, *chain)).verdict is FITS
