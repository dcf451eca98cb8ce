"""Schedules: delays by the standard's timers, sums that agree, nothing that the machine forbids.

Timers as in `sinkside.standards.pd_timers`, each with its source there.
"""

import pytest

from sinkside.outages import schedules
from sinkside.outages.port_machine import PortState
from sinkside.outages.schedules import Schedule
from sinkside.quantity import Basis, point, varies

CUT = point(0.5, "s", Basis.MEASURED, "cut")
EVERY = {
    "attach": schedules.attach("twin"),
    "attach, resistors": schedules.attach("twin", negotiates=False),
    "attach, extended": schedules.attach("twin", epr=True),
    "replug": schedules.replug("twin"),
    "hard reset": schedules.hard_reset("twin"),
    "over-current": schedules.over_current("twin"),
    "time-out": schedules.pps_timeout("twin"),
    "renegotiation": schedules.renegotiation("twin"),
    "mains cut": schedules.mains_cut("twin", CUT),
    "restart": schedules.firmware_restart("twin", CUT),
}


@pytest.mark.parametrize("name", EVERY)
def test_what_a_schedule_holds_can_happen(name: str) -> None:
    schedule = EVERY[name]
    trace = schedule.trace("C1")
    assert len(trace) == len(schedule.moments)
    assert trace[-1].after is schedule.ends_in
    times = [line.time_s for line in trace]
    assert times == sorted(times)


@pytest.mark.parametrize("name", EVERY)
def test_a_schedule_ends_with_a_contract_or_with_five_volts(name: str) -> None:
    ends = PortState.STARTUP if "resistors" in name else PortState.READY
    assert EVERY[name].ends_in is ends


@pytest.mark.parametrize("name", EVERY)
def test_what_follows_a_trip_ends_in_the_same(name: str) -> None:
    schedule = EVERY[name]
    again = Schedule(
        event="",
        state=PortState.TRANSITION_TO_DEFAULT,
        moments=schedule.retries,
        retries=(),
    )
    assert again.trace("C1")[-1].after is schedule.ends_in


@pytest.mark.parametrize(
    ("name", "low_s", "high_s"),
    [
        # tCCDebounce 100–200, tVBUSON ≤ 275, tFirstSourceCap ≤ 250, two answers ≤ 33, then
        # tSrcTransition 25 and a settling of 260 at least, tPSTransition 550 at most.
        ("attach", 0.1 + 0.285, 0.2 + 0.275 + 0.25 + 2 * 0.033 + 0.55),
        # tPSHardReset 25–35, tSafe0V ≤ 650, tSrcRecover 660–1000, tSrcTurnOn ≤ 275, the same.
        ("hard reset", 0.025 + 0.66 + 0.285, 0.035 + 0.65 + 1.0 + 0.275 + 0.25 + 0.066 + 0.55),
        ("over-current", 0.025 + 0.66 + 0.285, 2.826),
        # tPPSTimeout 12–15 s before the same.
        ("time-out", 12.0 + 0.97, 15.0 + 2.826),
        ("renegotiation", 0.285, 0.066 + 0.55),
    ],
)
def test_sums_of_the_timers(name: str, low_s: float, high_s: float) -> None:
    assert EVERY[name].contract_absent_s() == pytest.approx((low_s, high_s))


def test_a_renegotiation_leaves_no_gap() -> None:
    assert EVERY["renegotiation"].supply_absent_s() == (0.0, 0.0)


def test_the_port_waits_for_vbus_to_fall_before_it_goes_on() -> None:
    """At vSafe0V after a Hard Reset, and before VBUS is switched on for a sink."""
    waiting = {
        name: [m.bounds for m in schedule.moments if m.waits] for name, schedule in EVERY.items()
    }
    assert waiting["hard reset"] == ["tSafe0V"]
    assert waiting["attach"] == ["tCCDebounce"]
    assert waiting["renegotiation"] == []


def test_delays_vary_in_service_under_the_charger_s_name() -> None:
    for moment in EVERY["hard reset"].moments[1:]:
        assert moment.delay_s.known
        assert moment.delay_s.name.startswith("twin/t")


def test_a_measured_gap_draws_the_sequence_out() -> None:
    gap = varies(3.0, 3.6, "s", Basis.MEASURED, "twin/off time")
    drawn = EVERY["hard reset"].stretched(gap)
    assert drawn.contract_absent_s() == pytest.approx((3.0, 3.6))
    assert {m.delay_s.name for m in drawn.moments} == {"twin/off time"}
    nominal = [m.delay_s.value for m in EVERY["hard reset"].moments]
    shares = [m.delay_s.low / 3.0 for m in drawn.moments]
    assert shares == pytest.approx([n / sum(nominal) for n in nominal])


def test_the_trace_of_an_attach() -> None:
    said = [f"{line.after} {line.cause}" for line in EVERY["attach"].trace("C1")]
    assert said == [
        "AttachWait.SRC SRC.Rd",
        "Attached.SRC tCCDebounce",
        "PE_SRC_Startup vSafe5V",
        "PE_SRC_Send_Capabilities Source_Capabilities",
        "PE_SRC_Negotiate_Capability Request",
        "PE_SRC_Transition_Supply Accept",
        "PE_SRC_Ready PS_RDY",
    ]
