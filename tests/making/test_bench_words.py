"""What a solderer has to be told: which core, what is open or through, what is fused, what order.

The order of work, a fuse without polarity, tenths of an ohm as the least that a meter shows, and
the error of a meter on amps are common practice, no source.
"""

from itertools import pairwise

import pytest
from tests.making import sites

from sinkside.making.causes import AMPS_COUNTS_A, other_volts
from sinkside.making.first_power import STOPS, first_power
from sinkside.making.probe import Mode, Probe, Stage
from sinkside.making.sheet import Sheet, build_sheet, build_sheets
from sinkside.making.test_points import probes
from sinkside.making.wires import EITHER_END, wires
from sinkside.parts.part import Part
from sinkside.paths.values import series_ohm
from sinkside.plan import Plan
from sinkside.plan.model import Chosen

SEEN = ["field-recorder", "dictation-machine", "session-clock"]


def sheet_of(plan: Plan, name: str) -> Sheet:
    found = build_sheet(plan, plan.device(name))
    assert found is not None
    return found


def chosen_of(plan: Plan, name: str) -> Chosen:
    chosen = plan.device(name).chosen
    assert chosen is not None
    return chosen


def cold(plan: Plan, name: str) -> tuple[Probe, ...]:
    return tuple(p for p in probes(plan, plan.device(name)) if p.stage is Stage.COLD)


def fuse_of(plan: Plan, name: str) -> Part:
    return next(p for p in chosen_of(plan, name).front.parts if p.fuse)


@pytest.mark.parametrize(
    ("name", "contact"),
    [("field-recorder", "SLEEVE"), ("dictation-machine", "SLEEVE"), ("session-clock", "CENTRE")],
)
def test_the_core_that_is_plus_is_named_by_its_contact(
    demo_plan: Plan, name: str, contact: str
) -> None:
    (step,) = [s for s in sheet_of(demo_plan, name).steps if s.text.startswith("Ring out")]
    assert step.text.endswith(
        f": the core that rings to the {contact} of the plug is plus, whatever its colour: mark it."
    )


def test_a_fuse_tail_has_no_poles(demo_plan: Plan) -> None:
    tails = [w for w in wires(demo_plan, demo_plan.device("field-recorder")) if "tails" in w.note]
    assert [w.colour for w in tails] == [EITHER_END]


@pytest.mark.parametrize("name", SEEN)
def test_a_fuse_reads_open_without_its_link_and_half_an_ohm_with(
    demo_plan: Plan, name: str
) -> None:
    part = fuse_of(demo_plan, name)
    out, within = (p for p in cold(demo_plan, name) if p.where.startswith(part.words))
    assert out.where.endswith("fuse out of its holder")
    assert out.expected.words == "more than 1 kΩ"
    assert within.where.endswith("fuse in its holder")
    assert within.expected.words == "at most 0.5 Ω"
    assert within.expected.high >= sum(q.high for q in series_ohm((part,)))


def test_ways_through_are_in_tenths_and_never_below_the_chain(demo_plan: Plan) -> None:
    checked = 0
    for device in demo_plan.devices:
        for probe in probes(demo_plan, device):
            if probe.stage is Stage.COLD and probe.expected.low == 0.0:
                tenths = probe.expected.high * 10
                assert tenths == pytest.approx(round(tenths))
                assert probe.expected.high >= 0.5
                checked += 1
    assert checked > 20


def test_every_input_is_rung_out_before_power(demo_plan: Plan) -> None:
    """A crossed pair at the input of a converter reads open where a way through is due."""
    found = cold(demo_plan, "dictation-machine")
    boards = [
        p.words
        for p in chosen_of(demo_plan, "dictation-machine").front.parts
        if p.kind in ("converter", "soft start")
    ]
    assert len(boards) == 2
    for board in boards:
        for pole, other in (("positive", "negative"), ("negative", "positive")):
            (way,) = [
                p
                for p in found
                if p.black == f"{pole} input of the {board}" and p.red.startswith(f"{pole} output")
            ]
            assert f"try the {other} input" in way.if_high
        (apart,) = [p for p in found if p.where.startswith(f"across the input of the {board}")]
        assert apart.stops(1.0)
        assert not apart.stops(5000.0)


def test_the_inputs_of_a_converter_for_rails_are_rung_out_too() -> None:
    plan = sites.planned(sites.RAILS)
    rails = chosen_of(plan, "old-player").front.rails
    assert rails is not None
    blacks = [p.black for p in cold(plan, "old-player")]
    assert {f"{pole} input of the {rails.words}" for pole in ("positive", "negative")} <= set(
        blacks
    )


def test_a_cause_that_is_not_in_the_chain_is_not_named(demo_plan: Plan) -> None:
    for name in SEEN:
        front = chosen_of(demo_plan, name).front
        for probe in probes(demo_plan, demo_plan.device(name)):
            told = f"{probe.if_low} {probe.if_high}"
            assert "strap" not in told
            assert front.converter is not None or "converter" not in told
            if "no fuse in its holder" in told:
                assert probe.red.startswith("positive")
    bare = sites.planned(sites.MOULDED)
    for probe in probes(bare, bare.device("plain")):
        assert "fuse in its holder" not in f"{probe.if_low} {probe.if_high}"


def test_two_resistors_are_never_called_a_contract(demo_plan: Plan) -> None:
    clock = probes(demo_plan, demo_plan.device("session-clock"))
    powered = {p.state for p in clock if p.state}
    assert powered == {"5 V by two resistors, no contract"}
    assert not [p for p in clock if "contract was not" in p.if_low]
    front = chosen_of(demo_plan, "session-clock").front
    assert other_volts(front, 1) == "STOP, pull the USB-C end: the port gives other volts"


def test_amps_are_a_range_with_the_meters_error(demo_plan: Plan) -> None:
    """340 mA, 2 % and two counts of 10 mA: 313.2 to 366.8 mA."""
    found = probes(demo_plan, demo_plan.device("field-recorder"))
    steady = next(p for p in found if p.where.endswith("at its steady current"))
    assert steady.expected.low == pytest.approx(0.34 * 0.98 - AMPS_COUNTS_A)
    assert steady.expected.high == pytest.approx(0.34 * 1.02 + AMPS_COUNTS_A)


def test_amps_say_where_to_open_and_never_inside_a_closed_case(demo_plan: Plan) -> None:
    for name in SEEN:
        converts = chosen_of(demo_plan, name).front.converter is not None
        for probe in probes(demo_plan, demo_plan.device(name)):
            if probe.mode is Mode.AMPS:
                assert probe.note.startswith("USB-C out; open the + at the ")
                assert "USB-C in; read; USB-C out; leads back to V" in probe.note
                inside = "output of" in probe.note or "load end of" in probe.note
                assert inside == (probe.stage is Stage.DUMMY)
                assert ("USB power meter" in probe.note) != converts
            if probe.stage is Stage.DEVICE and probe.mode is Mode.USB_METER:
                assert probe.required != converts


@pytest.mark.parametrize("name", SEEN)
def test_covers_and_case_come_after_the_dummy_load_and_the_plug_is_read_again(
    demo_plan: Plan, name: str
) -> None:
    texts = [s.text for s in sheet_of(demo_plan, name).steps]
    order = (
        "Pull at",
        "Take every reading",
        "A second person",
        "First power-up through",
        "USB-C out. Shrink",
        "Put the boards into",
        "Read the plug again",
        "Go on with",
    )
    found = [next(i for i, t in enumerate(texts) if t.startswith(start)) for start in order]
    assert all(a < b for a, b in pairwise(found))
    power = first_power(demo_plan, demo_plan.device(name))
    assert power is not None
    dos = [a.do for a in power.actions]
    places = [
        next(i for i, do in enumerate(dos) if words in do)
        for words in ("second person", "Put the dummy load on", "close the case", "Push the plug")
    ]
    assert all(a < b for a, b in pairwise(places))
    assert any(box.text.startswith("polarity checked by a second") for box in power.sign_off)


def test_a_caution_is_not_a_step(demo_plan: Plan) -> None:
    for sheet in build_sheets(demo_plan):
        assert not [s for s in sheet.steps if s.text.startswith("Barrel first")]
        assert "Barrel first, USB-C last." in sheet.cautions


def test_what_is_not_fused_is_named(demo_plan: Plan) -> None:
    for name in SEEN:
        power = first_power(demo_plan, demo_plan.device(name))
        assert power is not None
        behind = chosen_of(demo_plan, name).front.converter is not None
        assert ("it stands behind the converter: nothing before it (" in power.guard) == behind
        assert "is fused: there only the port's own limit acts, which may let " in power.guard


def test_a_dummy_load_gets_hot_and_may_take_less_than_the_peak(demo_plan: Plan) -> None:
    assert "anything but the dummy load, which gets hot, too hot" in STOPS[0]
    device = demo_plan.device("field-recorder")
    power = first_power(demo_plan, device)
    assert power is not None
    (step,) = [a for a in power.actions if a.do.startswith("Put the dummy load on")]
    peak = device.appliance.peak_a
    takes_a = power.dummy.volts_v / power.dummy.total_ohm
    assert takes_a < peak.high
    assert "less than the up to 550 mA of the device's peak" in step.do
