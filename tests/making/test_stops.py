"""Stop limits: a reversed plug is a stop by its data and by its words, and so is a hold that lies.

That a meter shows a minus where its red probe is on the negative pole is common practice, no
source; so is what a least and a most hold keep.
"""

from collections.abc import Iterator

import pytest

from sinkside.making.first_power import STOPS
from sinkside.making.probe import Mode, Probe, Stage
from sinkside.making.stops import SIGN_V, stops_of
from sinkside.making.test_points import probes
from sinkside.plan import Plan


def volts(plan: Plan) -> Iterator[Probe]:
    """Every test point of the demo at which volts are read."""
    for device in plan.devices:
        yield from (p for p in probes(plan, device) if p.mode is Mode.VOLTS)


def test_a_minus_that_is_meant_is_told_in_sizes() -> None:
    found = stops_of(25.0, 8.75, minus=True, harm="it may be harmed", lack="it does not run")
    assert (found.below, found.above) == (-25.0, -8.75)
    assert found.words == (
        "STOP if no minus is shown. Stop if the size is over 25 V (it may be harmed) or under "
        "8.75 V (it does not run). Outside what is expected: do not go on."
    )


def test_a_plus_that_is_meant_stops_at_a_minus() -> None:
    found = stops_of(6.0, 4.0, minus=False, harm="it may be harmed", lack="it does not run")
    assert (found.below, found.above) == (4.0, 6.0)
    assert found.words == (
        "STOP if a minus is shown. Stop if it is over 6 V (it may be harmed) or under 4 V (it does "
        "not run). Outside what is expected: do not go on."
    )


def test_without_a_least_the_wrong_sign_still_stops() -> None:
    plus = stops_of(25.0, None, minus=False, harm="harm", lack="")
    minus = stops_of(25.0, None, minus=True, harm="harm", lack="")
    assert (plus.below, plus.above) == (-SIGN_V, 25.0)
    assert (minus.below, minus.above) == (-25.0, SIGN_V)
    assert minus.words.startswith("STOP if volts without a minus are shown. Stop if the size is")


def test_every_reversed_reading_is_a_stop_and_every_right_one_is_none(demo_plan: Plan) -> None:
    signs = set()
    for probe in volts(demo_plan):
        shown = probe.expected.nominal
        signs.add(probe.in_sizes)
        assert not probe.stops(shown), probe
        assert probe.goes_on(shown), probe
        for size in (0.5, 5.0, 9.9, 20.0, max(abs(shown), 0.5)):
            wrong = size if probe.in_sizes else -size
            assert probe.stops(wrong), (probe.where, probe.state, wrong)
            assert not probe.goes_on(wrong)
    assert signs == {False, True}


def test_the_recorder_reads_minus_and_its_stops_say_so(demo_plan: Plan) -> None:
    """A plug turned round shows +9.9 V, which is no less than 8.75 V and yet a stop."""
    found = probes(demo_plan, demo_plan.device("field-recorder"))
    plug = next(p for p in found if p.stage is Stage.UNLOADED and p.where == "at the plug")
    assert plug.goes_on(-9.9)
    assert plug.stops(9.9)
    assert plug.stops(-8.7)
    assert plug.stops(-25.1)
    assert plug.limits.startswith("STOP if no minus is shown. Stop if the size is over 25 V (")
    assert ") or under 8.75 V (" in plug.limits


def test_a_least_hold_is_never_of_a_minus(demo_plan: Plan) -> None:
    held = [p for p in volts(demo_plan) if "least hold" in p.note]
    assert {p.red for p in held} == {"centre", "sleeve"}
    for probe in held:
        assert probe.expected.low >= 0.0
        assert not probe.in_sizes
        assert ("SLEEVE" in probe.note) == (probe.red == "sleeve")
        assert probe.limits.startswith("STOP if a minus is shown.")


def test_a_most_hold_says_what_to_do_about_a_minus(demo_plan: Plan) -> None:
    found = probes(demo_plan, demo_plan.device("field-recorder"))
    (most,) = [p for p in found if "most hold" in p.note and p.mode is Mode.AMPS]
    assert "no minus shown" in most.note


def test_behind_an_open_output_switch_a_volt_is_a_stop(demo_plan: Plan) -> None:
    """vSafe0V is at most 0.8 V (USB PD): 5 V there is a switch that does not work."""
    found = probes(demo_plan, demo_plan.device("field-recorder"))
    (dark,) = [p for p in found if "switch open" in p.state]
    assert dark.stop_above == 1.0
    assert dark.limits.startswith("STOP if it is over 1 V, or a minus is shown.")
    assert dark.stops(5.0)
    assert not dark.stops(0.8)


@pytest.mark.parametrize("name", ["field-recorder", "dictation-machine", "session-clock"])
def test_a_trigger_at_20_v_does_not_go_on(demo_plan: Plan, name: str) -> None:
    found = probes(demo_plan, demo_plan.device(name))
    first = next(p for p in found if p.stage is Stage.UNLOADED)
    assert first.goes_on(first.expected.high * 1.005)  # the error of a meter
    assert not first.goes_on(20.0)
    assert first.limits.endswith("Outside what is expected: do not go on.")
    assert first.if_high.startswith("STOP, pull the USB-C end: ")
    assert "outside what is expected there" in STOPS[1]
