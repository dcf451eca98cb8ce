"""What a 7805 in old gear takes, from the person's words to the verdict, against the trade's rule.

A 7805 is fed from 8 to 12 V as a rule, and up to 20 V with a large heat sink or little current
(common practice, no source). Beside each row stands what its datasheet makes of it: 4.75 to 5.25 V
out, at most 8 mA of its own, 65 K/W from junction to air and 5 K/W to the case, up to 125 °C
(LM7805, 2006, read); a pad of 2 K/W and a large heat sink of 1.5 to 8 K/W (common practice); 35 °C
in the room and 15 K more in the case (common practice). A contract is ±5 % (USB PD, secondary).
"""

import numpy as np
import pytest
from tests.paths import small_parts as small
from tests.site.devices import surveyed

from sinkside.paths.findings import findings
from sinkside.paths.judge import judge
from sinkside.paths.rows import Path
from sinkside.physics.linear_regulator import dissipation_w
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Verdict

FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS


def chain(
    contract_v: float,
    amps: str = "500 mA",
    sink: str = "large",
    capacitor_v: int = 25,
    in_front: str = "nothing",
    ohm: float = 0.2,
) -> Path:
    """A device with a 7805 on a contract, through a lead of so many ohms."""
    thing = surveyed(
        'plate: "DC IN 9V⎓ 600mA ⊕–C–⊖"',
        "inlet: {plug: 5.5x2.1, centre: positive (measured)}",
        f"inside: {{is: linear regulator, part: 7805, heat_sink: {sink}, in_front: {in_front}, "
        f"input_capacitor: 1000 µF {capacitor_v} V (plate)}}",
        f"draws: {{steady: {amps} (measured), peak: {amps} (measured)}}",
    )
    return small.path(thing, small.cable(), small.trigger(contract_v), small.lead(ohm))


def verdict(rule: str, path: Path) -> Verdict:
    return finding(rule, path).verdict


def finding(rule: str, path: Path) -> Finding:
    (found,) = (f for f in findings(judge([path]), 0) if f.rule == rule)
    return found


@pytest.mark.parametrize(
    ("contract_v", "amps", "sink", "expected"),
    [
        # Without a heat sink 75 K ÷ 65 K/W = 1.15 W are sure, and on a board some 1.5 W likely.
        # 100 mA: (9.45 − 4.75) · 0.1 + 9.45 · 0.008 = 0.55 W; 0.89 W; 1.23 W; 1.79 W.
        (9.0, "100 mA", "none", FITS),
        (12.0, "100 mA", "none", FITS),
        (15.0, "100 mA", "none", UNPROVEN),
        (20.0, "100 mA", "none", FAILS),
        # 50 mA: (21 − 4.75) · 0.05 + 21 · 0.008 = 0.98 W: little current, and 20 V will do.
        (20.0, "50 mA", "none", FITS),
        # 500 mA: (9.45 − 5.25) · 0.5 = 2.1 W at the least, on any contract that feeds it.
        (9.0, "500 mA", "none", FAILS),
        (12.0, "500 mA", "none", FAILS),
        (15.0, "500 mA", "none", FAILS),
        (20.0, "500 mA", "none", FAILS),
        # With a large heat sink 75 K ÷ (5 + 2 + 8) K/W = 5 W are sure, and 10.7 W the most.
        # 500 mA: 2.43 W; 4.03 W; 5.63 W; 8.29 W.
        (9.0, "500 mA", "large", FITS),
        (12.0, "500 mA", "large", FITS),
        (15.0, "500 mA", "large", UNPROVEN),
        (20.0, "500 mA", "large", UNPROVEN),
        # 250 mA: (21 − 4.75) · 0.25 + 0.17 = 4.23 W: 20 V with a large heat sink.
        (20.0, "250 mA", "large", FITS),
        # 1 A: (21 − 5.25) · 1 = 15.75 W at the least, which no heat sink in the list carries.
        (20.0, "1 A", "large", FAILS),
    ],
)
def test_its_heat(contract_v: float, amps: str, sink: str, expected: Verdict) -> None:
    assert verdict("regulator-heat", chain(contract_v, amps, sink)) is expected


@pytest.mark.parametrize(
    ("contract_v", "in_front", "ohm", "expected"),
    [
        # 5.25 + 2.5 V at most, 4.75 + 1.5 V at least (2.0 V typical, read; the rest is planning).
        # 9 V · 0.95 = 8.55 V less 0.1 V; 0.75 V less on a lead at the limit of the standard.
        (9.0, "nothing", 0.2, FITS),
        (9.0, "nothing", 1.5, FITS),
        # A bridge before it takes 1 to 2 V: 7.25 to 9.75 V at the inlet (from memory).
        (9.0, "bridge", 0.2, UNPROVEN),
        (12.0, "bridge", 0.2, FITS),
        # 5 V are never enough: 4.75 V, and it wants 6.25 V at the least.
        (5.0, "nothing", 0.2, FAILS),
        (12.0, "nothing", 0.2, FITS),
        (20.0, "nothing", 0.2, FITS),
    ],
)
def test_its_headroom(contract_v: float, in_front: str, ohm: float, expected: Verdict) -> None:
    path = chain(contract_v, in_front=in_front, ohm=ohm)
    assert verdict("under-volts", path) is expected


@pytest.mark.parametrize(
    ("contract_v", "capacitor_v", "expected"),
    [
        # It stands 35 V itself (read); before it stands a capacitor, and that gives first.
        (12.0, 16, FITS),
        (15.0, 16, FITS),
        (20.0, 16, FAILS),
        (20.0, 25, FITS),
    ],
)
def test_what_stands_before_it_gives_first(
    contract_v: float, capacitor_v: int, expected: Verdict
) -> None:
    assert verdict("over-volts", chain(contract_v, capacitor_v=capacitor_v)) is expected


@pytest.mark.parametrize(
    ("open_v", "ohm", "most_a"),
    [
        (14.0, 13.0, 0.5),  # the resistor of published course notes (secondary)
        (13.6, 4.5, 1.0),  # a brick of 13.6 V open and 10.9 V at 0.6 A
        (19.2, 48.0, 0.15),  # 12 V 150 mA, 19.2 V open, as measured by somebody (secondary)
    ],
)
def test_on_a_soft_source_the_hottest_point_lies_within_the_range(
    open_v: float, ohm: float, most_a: float
) -> None:
    """(V − R·I − V_out)·I is most at I = (V − V_out)/2R, and (V − V_out)²/4R then (arithmetic)."""
    amps = np.linspace(0.0, (open_v - 5.0) / ohm, 10_001)
    burnt = dissipation_w(open_v - ohm * amps, np.full_like(amps, 5.0), amps, np.zeros_like(amps))
    hottest_a = float(amps[burnt.argmax()])
    assert hottest_a == pytest.approx((open_v - 5.0) / (2.0 * ohm), rel=1e-3)
    assert float(burnt.max()) == pytest.approx((open_v - 5.0) ** 2 / (4.0 * ohm), rel=1e-6)
    # More current is not more heat: at the most that it draws it burns less.
    assert hottest_a < most_a
    assert (open_v - ohm * most_a - 5.0) * most_a < float(burnt.max())


def test_the_course_notes_are_past_the_hottest_point() -> None:
    # 14 V, 13 Ω, 0.5 A: 1.25 W in the regulator (course notes, secondary). At 0.346 A it is 1.56 W.
    assert dissipation_w(14.0 - 13.0 * 0.5, 5.0, 0.5, 0.0) == pytest.approx(1.25)
    assert dissipation_w(14.0 - 13.0 * 0.346, 5.0, 0.346, 0.0) == pytest.approx(1.558, abs=1e-3)


@pytest.mark.parametrize("contract_v", [9.0, 12.0, 15.0])
def test_heat_is_judged_by_no_less_than_the_hottest_point_of_a_soft_lead(contract_v: float) -> None:
    """5 Ω of lead, and any current up to what was measured: the judge must not hide the middle."""
    path = chain(contract_v, ohm=5.0)
    found = finding("regulator-heat", path)
    heat = path.appliance.heat
    assert heat.allowed_w is not None
    assert found.margin is not None
    judged_w = heat.allowed_w.low - found.margin
    amps = np.linspace(0.0, 0.5, 501)
    soft_v = 1.05 * contract_v - 5.0 * amps
    assert judged_w >= float(np.max((soft_v - 4.75) * amps + soft_v * 0.008))
