"""What follows for a device: figures that can be worked out by hand, and verdicts by their rule.

The hand calculations use t = C·ΔV/I and t = C·(V₁² − V₂²)/2P (textbook); gaps are measured ones,
so that no timer of the standard is in them.
"""

import math
from dataclasses import replace
from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.outages.cases import Case
from sinkside.outages.effort import USUAL
from sinkside.outages.follows import Ending, Follows, follow
from sinkside.outages.happenings import Event, Kind, happening
from sinkside.outages.verdict import finding, findings
from sinkside.quantity import Basis, Quantity, point, unknown, varies
from sinkside.rules.verdict import Stakes, Verdict

TWO = {"C1": "5:3 9:3", "C2": "5:3 9:3"}
BOTH = frozenset({"C1", "C2"})
FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS
EVENT = Event(kind=Kind.ATTACH, charger="shared", port="C2")


def gap(low: float, high: float) -> Quantity:
    return varies(low, high, "s", Basis.MEASURED, "shared/off time")


def case(
    *parts: Any,
    on_change: str = "drops all",
    off: Quantity | None = None,
    event: Event = EVENT,
    **device: Any,
) -> Case:
    source = small.charger(TWO, on_change=on_change, off_time_s=off or gap(1.0, 1.0))
    front = small.front(source, *(parts or (small.cable(0.2), small.trigger(), small.lead(0.3))))
    return Case(
        front=front,
        appliance=small.device(blink="brief", **device),
        happening=happening(event, front, BOTH),
    )


def follows(given: Case, **about: Any) -> Follows:
    (found,) = follow([given], **about)
    assert found is not None
    return found


def test_nothing_follows_where_nothing_happens() -> None:
    assert follow([case(on_change="nothing")]) == (None,)


def test_a_gap_as_long_as_it_was_measured() -> None:
    """Without a capacitor of any size the device is out for as long as the contract is gone."""
    found = follows(case(off=gap(1.0, 1.2), capacitance_f=1e-6))
    assert found.ending is found.worst_ending is Ending.BLINKS
    # It goes out when the port's volts are taken away, tPSHardReset's share of it after the event.
    share = 0.03 / (0.03 + 0.325 + 0.83 + 0.1375 + 0.125 + 0.033 + 0.4175)
    assert found.out_s.nominal == pytest.approx(1.1 * (1 - share), rel=0.01)
    assert found.out_s.worst == pytest.approx(1.2 * (1 - share), rel=0.02)
    assert found.answers[0].least_s <= found.out_s.worst
    assert found.rides == 0


def test_its_own_capacitor_shortens_it_while_nobody_has_timed_it() -> None:
    """10 mF, 0.1 A, from 8.5 V at least to 6 V: C·ΔV/I = 0.25 s."""
    big = {"capacitance_f": 10e-3, "steady_a": 0.1, "peak_a": 0.1, "held_on": ("shared",)}
    open_ride = unknown(0.0, 5.0, "s", Basis.ASSUMED, "thing/ride-through")
    bare = follows(case(**{**big, "capacitance_f": 1e-6}, ride_through_s=open_ride))
    held = follows(case(**big, ride_through_s=open_ride))
    assert bare.out_s.worst - held.out_s.worst == pytest.approx(0.25, abs=0.02)


def test_what_was_timed_has_its_own_capacitor_in_it() -> None:
    """Else the same capacitor would be counted twice."""
    big = {"capacitance_f": 10e-3, "steady_a": 0.1, "peak_a": 0.1, "held_on": ("shared",)}
    known = point(0.3, "s", Basis.MEASURED, "thing/ride-through")
    bare = follows(case(**{**big, "capacitance_f": 1e-6}, ride_through_s=known))
    held = follows(case(**big, ride_through_s=known))
    assert held.out_s.worst == pytest.approx(bare.out_s.worst, abs=0.03)


@pytest.mark.parametrize(
    ("ride", "verdict"),
    [
        (point(1.3, "s", Basis.MEASURED, "thing/ride-through"), FITS),
        (point(0.9, "s", Basis.MEASURED, "thing/ride-through"), FAILS),
        (unknown(0.9, 1.3, "s", Basis.MEASURED, "thing/ride-through"), UNPROVEN),
        (unknown(0.0, 5.0, "s", Basis.ASSUMED, "thing/ride-through"), UNPROVEN),
        (varies(0.9, 1.3, "s", Basis.MEASURED, "thing/ride-through"), FAILS),
    ],
)
def test_a_gap_against_what_the_device_rides_through(ride: Quantity, verdict: Verdict) -> None:
    given = case(off=gap(1.0, 1.2), ride_through_s=ride)
    found = finding(given, follows(given), "something")
    assert found is not None
    assert found.verdict is verdict
    assert bool(found.unknowns) is (verdict is UNPROVEN)
    assert (found.plausibility is not None) is (verdict is UNPROVEN)
    if verdict is UNPROVEN:
        # A timed cut settles it.
        assert found.unknowns[0] == "thing/ride-through"
    assert found.working is not None
    assert found.working.again() == pytest.approx(found.working.result)


def test_of_a_charger_that_may_do_nothing_nothing_is_concluded() -> None:
    given = case(on_change="unknown")
    found = finding(given, follows(given), "something")
    assert found is not None
    assert found.verdict is UNPROVEN


def test_a_step_without_a_gap_leaves_it_running() -> None:
    given = case(on_change="steps")
    found = follows(given)
    assert found.worst_ending is Ending.RIDES
    assert found.out_s.worst == 0.0
    about = finding(given, found, "something")
    assert about is not None
    assert about.verdict is FITS


def test_where_nothing_happens_it_fits() -> None:
    given = case(on_change="nothing")
    found = finding(given, None, "something is plugged in")
    assert found is not None
    assert (found.verdict, found.margin) == (FITS, None)
    assert found.words == "its ports keep going"


def test_who_may_blink_and_what_was_pulled_has_no_finding() -> None:
    given = case()
    any_ = replace(given, appliance=small.device(blink="any"))
    assert finding(any_, follows(any_), "something") is None
    own = Event(kind=Kind.REPLUG, charger="shared", port="C1")
    pulled = case(event=own)
    assert finding(pulled, follows(pulled), "something") is None


@pytest.mark.parametrize(
    ("changes", "stakes"),
    [
        ({"blink": "never"}, Stakes.LOSS),
        ({"starved_loses": True}, Stakes.LOSS),
        ({}, Stakes.MISBEHAVES),
    ],
)
def test_what_it_costs(changes: dict[str, Any], stakes: Stakes) -> None:
    given = case()
    given = replace(given, appliance=small.device(**{"blink": "brief", **changes}))
    found = finding(given, follows(given, plausible=0), "something")
    assert found is not None
    assert found.stakes is stakes


def test_a_device_that_did_not_run_before_is_not_told_to_blink() -> None:
    given = case(runs_from_v=9.6)
    found = follows(given)
    assert found.worst_ending is Ending.IDLE
    assert math.isnan(found.out_s.nominal)
    assert finding(given, found, "something") is None


def test_a_port_that_trips_each_time_leaves_it_out() -> None:
    """50 mF want 0.15 s at 3 A; the port stands that for 10 ms at the most."""
    found = follows(case(capacitance_f=50e-3))
    assert found.worst_ending is Ending.HICCUPS
    assert math.isinf(found.out_s.worst)
    assert found.trips.worst == USUAL.trip_limit


def test_a_device_that_was_tried_on_the_charger_does_not_trip_it() -> None:
    found = follows(case(capacitance_f=50e-3, held_on=("shared",)))
    assert found.trips.worst == 0
    assert found.worst_ending is not Ending.HICCUPS


def test_a_reservoir_keeps_the_port_waiting() -> None:
    """Nothing draws from 20 mF: through 1.5 kΩ they fall to 0.8 V in 73 s, and it waits 60 s."""
    slow = case(
        small.cable(0.2),
        small.trigger(gated=False),
        small.lead(0.3),
        capacitance_f=20e-3,
        steady_a=1e-4,
        peak_a=1e-4,
        held_on=("shared",),
        event=Event(kind=Kind.HARD_RESET, charger="shared", port="C1"),
    )
    found = follows(slow)
    assert found.dead_wait_s.worst == 60.0
    assert found.worst_ending is Ending.WAITS


def test_inrush_energy_and_the_pulse_at_a_fuse() -> None:
    """1 mF to 9 V through 0.5 Ω: 18 A if it might; the port limits at 1.1 to 1.5 times 3 A."""
    guarded = case(
        small.cable(0.2),
        small.trigger(),
        small.fuse(1.0),
        small.lead(0.3),
        capacitance_f=1e-3,
        steady_a=0.1,
        peak_a=0.1,
    )
    found = follows(guarded)
    assert found.peak_a.worst == pytest.approx(1.5 * 3.0)
    assert found.peak_a.nominal <= 1.3 * 3.0 * (1 + 1e-9)
    # ½·C·V² is stored, and as much again is burnt on the way: C·V² = 81 mJ, and the load's.
    assert found.port_j.nominal > 0.08
    assert 0.0 < found.fuse_share.nominal <= found.fuse_share.worst
    assert found.pins_a2s.worst > 0.0


def test_laws_that_nobody_has_settled_are_followed_each() -> None:
    found = follows(case(laws=("constant current", "constant power")))
    assert [a.law for a in found.answers] == ["constant current", "constant power"]
    assert found.law in ("constant current", "constant power")
    assert found.out_s.worst == max(a.worst_s for a in found.answers)


def test_cases_of_several_devices_are_those_of_each() -> None:
    one, other = case(capacitance_f=1e-3), case(capacitance_f=2e-3)
    together = follow([one, other], plausible=8)
    alone = (*follow([one], plausible=8), *follow([other], plausible=8))
    for a, b in zip(together, alone, strict=True):
        assert a is not None
        assert b is not None
        assert a.out_s.worst == pytest.approx(b.out_s.worst, rel=1e-9)
        assert a.peak_a.worst == pytest.approx(b.peak_a.worst, rel=1e-9)


def test_it_is_the_same_every_time() -> None:
    assert follow([case()], plausible=16) == follow([case()], plausible=16)


def test_a_gated_trigger_shows_the_device_no_five_volts() -> None:
    """Ungated it stands at 5 V before the contract; behind a gate there is nothing until then."""
    load = {"runs_from_v": 4.0, "capacitance_f": 1e-6}
    gated = follows(case(**load))
    bare = follows(case(small.cable(0.2), small.trigger(gated=False), small.lead(0.3), **load))
    assert gated.out_s.nominal > bare.out_s.nominal + 0.2


def test_findings_of_many_are_those_of_each() -> None:
    ride = point(1.3, "s", Basis.MEASURED, "thing/ride-through")
    given = [
        case(off=gap(1.0, 1.2)),
        replace(case(), appliance=small.device(blink="any")),
        case(off=gap(1.0, 1.2), ride_through_s=ride),
        case(on_change="nothing"),
    ]
    found = findings(given, "something", plausible=0)
    assert [f and f.verdict for f in found] == [FAILS, None, FITS, FITS]
    assert found[0] == finding(given[0], follows(given[0], plausible=0), "something")
