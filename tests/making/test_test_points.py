"""Test points: their order, signs, limits, and what an ohmmeter shows."""

import math

import pytest
from tests.making import sites

from sinkside.making.probe import METER_WORDS, Mode, Probe, Stage
from sinkside.making.stops import SIGN_V
from sinkside.making.test_points import probes
from sinkside.parts.part import Part
from sinkside.plan import Plan


def of(plan: Plan, name: str) -> tuple[Probe, ...]:
    return probes(plan, plan.device(name))


def chain_of(plan: Plan, name: str) -> tuple[Part, ...]:
    chosen = plan.device(name).chosen
    assert chosen is not None
    return chosen.front.parts


def at(found: tuple[Probe, ...], stage: Stage, where: str) -> Probe:
    return next(p for p in found if p.stage is stage and p.where == where)


def test_points_are_numbered_in_the_order_in_which_they_are_read(demo_plan: Plan) -> None:
    for device in demo_plan.devices:
        found = probes(demo_plan, device)
        assert bool(found) == (device.chosen is not None)
        assert [p.number for p in found] == list(range(1, len(found) + 1))
        stages = [list(Stage).index(p.stage) for p in found]
        assert stages == sorted(stages)


def test_a_plug_with_its_centre_negative_reads_minus(demo_plan: Plan) -> None:
    """9.9 V ±5 % asked for, red probe in the centre of a centre-negative plug."""
    found = at(of(demo_plan, "field-recorder"), Stage.UNLOADED, "at the plug")
    assert (found.red, found.black) == ("centre", "sleeve")
    assert found.expected.low == pytest.approx(-1.05 * 9.9)
    assert found.expected.high == pytest.approx(-0.95 * 9.9)
    assert found.note.startswith("the meter shows MINUS: the centre is negative.")
    assert found.stop_below == -25.0  # the capacitor of the device stands 25 V
    positive = at(of(demo_plan, "mixer"), Stage.UNLOADED, "at the plug")
    assert positive.expected.low == pytest.approx(0.95 * 12)
    assert positive.note.startswith("the meter shows no sign: the centre is positive.")


def test_a_reading_with_the_wrong_sign_is_beyond_a_stop_limit(demo_plan: Plan) -> None:
    for device in demo_plan.devices:
        for probe in probes(demo_plan, device):
            if probe.where == "at the plug" and probe.required:
                wrong = -probe.expected.nominal
                below = probe.stop_below is not None and wrong < probe.stop_below
                above = probe.stop_above is not None and wrong > probe.stop_above
                assert below or above


def test_stop_limits_are_those_of_the_device_and_of_the_parts(demo_plan: Plan) -> None:
    """Dictation machine: lived on 11.4 V, stops at 6.4 V; its step-down takes 28 V."""
    found = of(demo_plan, "dictation-machine")
    plug = at(found, Stage.DUMMY, "at the plug")
    assert (plug.stop_below, plug.stop_above) == (-11.4, -6.4)
    assert plug.limits == (
        "STOP if no minus is shown. Stop if the size is over 11.4 V (the device may be harmed) or "
        "under 6.4 V (it does not run). Outside what is expected: do not go on."
    )
    trigger = at(found, Stage.UNLOADED, "after the fixed 12 V trigger board")
    assert (trigger.stop_below, trigger.stop_above) == (-SIGN_V, 28.0)
    fuse = at(found, Stage.DEVICE, "in series with the plug, at its steady current")
    (link,) = [p.fuse for p in chain_of(demo_plan, "dictation-machine") if p.fuse]
    assert fuse.stop_above == link.rated_a


def test_what_loses_its_work_stops_where_it_may_not_run(demo_plan: Plan) -> None:
    """A 7805 behind a diode: 5 V and what both take at the most; the least would lose data."""
    recorder = demo_plan.device("field-recorder").appliance
    plug = at(of(demo_plan, "field-recorder"), Stage.DEVICE, "at the plug")
    assert plug.stop_above == -recorder.runs_from_v.high
    assert "(what it works on may be lost)" in plug.limits


def test_two_resistors_read_what_the_standard_says(demo_plan: Plan) -> None:
    """Rd is 5.1 kΩ ±10 % where the advertised current is read (USB Type-C R2.0, Table 4-25): 4.59
    to 5.61 kΩ on each pad, twice that from pad to pad (in series through ground)."""
    cold = [p for p in of(demo_plan, "session-clock") if p.stage is Stage.COLD]
    pads = [p for p in cold if p.red.startswith("CC")]
    assert [(p.red, p.black) for p in pads] == [
        ("CC1 pad (A5)", "ground"),
        ("CC2 pad (B5)", "ground"),
        ("CC1 pad (A5)", "CC2 pad (B5)"),
    ]
    for pad, times in zip(pads, (1, 1, 2), strict=True):
        assert pad.expected.low == pytest.approx(4590 * times)
        assert pad.expected.nominal == pytest.approx(5100 * times)
        assert pad.expected.high == pytest.approx(5610 * times)
        assert pad.mode is Mode.OHMS
    (talks,) = [p for p in of(demo_plan, "mixer") if p.red.startswith("CC")]
    assert (talks.expected.low, talks.required) == (100.0, False)
    assert talks.note == "a part that talks does not read as 5.1 kΩ, and need not"


def test_before_power_there_is_a_way_through_each_pole_and_no_short(demo_plan: Plan) -> None:
    cold = [p for p in of(demo_plan, "dictation-machine") if p.stage is Stage.COLD]
    ways = [p for p in cold if p.where.startswith("from the") and p.where.endswith("the plug")]
    assert [(p.where.split()[2], p.black) for p in ways] == [
        ("positive", "sleeve of the plug"),
        ("negative", "centre of the plug"),
    ]
    # 0.5 m of AWG 20 with contacts is under 0.3 Ω, which a meter of tenths tells from half an ohm.
    assert all(p.expected.low == 0.0 and p.expected.high == 0.5 for p in ways)
    (short,) = [p for p in cold if p.where.startswith("across the plug")]
    assert short.expected.low == 1000.0
    assert math.isinf(short.expected.high)
    assert short.stop_below == 100.0


def test_other_states_are_told_and_need_not_be_made(demo_plan: Plan) -> None:
    found = of(demo_plan, "network-switch")
    early = next(p for p in found if p.state == "before contract, 5 V")
    assert not early.required
    assert (early.expected.low, early.expected.high) == (4.75, 5.5)  # vSafe5V, USB Type-C
    assert early.stop_below == -SIGN_V
    gated = next(p for p in of(demo_plan, "label-printer") if "switch open" in p.state)
    assert (gated.expected.low, gated.expected.high) == (0.0, 0.8)  # vSafe0V, USB PD
    assert not gated.required


def test_each_rail_is_read_before_and_with_its_load() -> None:
    found = of(sites.planned(sites.RAILS), "old-player")
    for stage in (Stage.UNLOADED, Stage.DUMMY, Stage.DEVICE):
        rails = [p for p in found if p.stage is stage and p.where.startswith("rail")]
        assert [p.where for p in rails] == ["rail 3.3 V", "rail 5 V"]
        assert rails[1].stop_below == pytest.approx(4.75)
        assert rails[1].stop_above == pytest.approx(5.25)


def test_a_plug_that_is_not_made_up_is_not_read() -> None:
    found = of(sites.planned(sites.OTHERS), "unknown-poles")
    assert {p.stage for p in found} == {Stage.COLD, Stage.UNLOADED}
    assert not [p for p in found if "the plug" in f"{p.where} {p.red} {p.black}"]


def test_a_usb_plug_is_read_at_its_contacts() -> None:
    plug = at(of(sites.planned(sites.OTHERS), "usb-thing"), Stage.UNLOADED, "at the plug")
    assert (plug.red, plug.black) == ("supply contact", "ground contact")
    assert plug.note == ""


def test_the_meters_own_error_is_mentioned() -> None:
    assert METER_WORDS.startswith("Outside what is expected do not go on. ")
    assert METER_WORDS.endswith("(common practice, no source).")
