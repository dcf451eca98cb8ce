"""Whole small sites by programmable contracts, above 20 V, without any, and by rails."""

import re
from dataclasses import replace

import pytest

from sinkside.advice import advise
from sinkside.cli import plan_json, plan_text
from sinkside.plan import Action, DevicePlan, Plan, plan
from sinkside.plan.recheck import recheck
from sinkside.rules.verdict import Verdict
from sinkside.site.read import read

HEAD = "site: {{name: T}}\nrules: {{solder: yes, open_cases: yes, mains_side: {mains}}}\ndevices:\n"
MEASURED = "{3.3 V: 1.2 A (measured), 5 V: 2 A (measured), 12 V: 1 A (measured)}"
STATED = "{3.3 V: 1.2 A, 5 V: 2 A (measured), 12 V: 0.8..1.5 A}"
DISK = """\
  disk:
    use: ordinary
    plate: "INPUT 230V~ 50Hz 40W"
    inlet: {{plug: other}}
    inside: {{is: internal mains supply, rails: {rails}}}
    blink: any
"""
# It wants more than 12 V − 5 %, and stands less than 15 V − 5 %.
NARROW = """\
  synth:
    use: ordinary
    plate: "DC IN 13V⎓ 500mA ⊖–C–⊕"
    inlet: {{plug: 5.5x2.1, centre: positive (measured)}}
    inside: {{is: switching regulator, runs_from: 11.6 V (datasheet),
      harmed_above: 14 V (datasheet), input_capacitor: 10 µF 16 V (plate)}}
    draws: {{steady: 300 mA (measured), peak: 400 mA (measured)}}
    blink: {blink}
"""
PRINTER = """\
  printer:
    use: ordinary
    plate: "DC IN 24V⎓ 1A ⊖–C–⊕"
    inlet: {plug: 5.5x2.5, centre: positive (measured)}
    inside: {is: switching regulator, runs_from: 21 V (datasheet), harmed_above: 26 V (datasheet)}
    draws: {steady: 0.7 A (measured), peak: 1.5 A (measured)}
    blink: any
"""
SHELF = (
    "shelf:\n  big: {{is: charger, on_change: nothing, output_earth: floating, ports: {{{}}}}}\n"
)
ONE = SHELF.format('C1: "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓5A"')
RANGE = SHELF.format('C1: "5V⎓3A 9V⎓3A 20V⎓2.25A PPS 3.3-16V⎓3A"')
ABOVE = SHELF.format('C1: "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓3A 28V⎓5A"')


def planned(devices: str, shelf: str, mains: str = "never") -> Plan:
    found = plan(read(HEAD.format(mains=mains) + devices + shelf, "s.yaml"))
    assert recheck(found) == ()
    return found


def the(found: Plan) -> DevicePlan:
    (device,) = found.devices
    return device


def text(found: Plan) -> str:
    return re.sub(r"\s+", " ", " ".join(plan_text.lines(found)))


def test_a_built_in_supply_is_replaced_where_its_rails_are_measured() -> None:
    found = planned(DISK.format(rails=MEASURED), ONE, "qualified")
    disk = the(found)
    assert disk.action is Action.BUILD
    assert disk.chosen is not None
    assert disk.chosen.front.parts[-1].id == "rails-3.3-5-12"
    said = text(found)
    assert "internal supply removed and blanked off by a qualified person" in said
    assert (
        "Caution: its supply is inside and on mains: taking it out, blanking off what is left, "
        "and the earth of its case are not worked out here. Ask: a qualified person, under local "
        "codes" in said
    )
    assert "Residual risk: a converter may want a least load on each rail" in said


def test_it_is_measured_first_where_they_are_not() -> None:
    found = planned(DISK.format(rails=STATED), ONE, "qualified")
    disk = the(found)
    assert disk.action is Action.MEASURE
    assert "not measured" in disk.why
    assert advise(disk, found)[0].measurement.id == "rail-currents"
    assert advise(disk, found)[0].expect == "3.3 V 0.36..2.4 A; 5 V 2 A; 12 V 0.8..1.5 A"


def test_it_is_refused_where_nobody_may_do_it() -> None:
    disk = the(planned(DISK.format(rails=MEASURED), ONE))
    assert (disk.action, disk.chosen) == (Action.REFUSED, None)


def test_nothing_says_how_the_mains_side_is_worked_on() -> None:
    """No verb of the bench stands beside the mains: only who is to be asked."""
    found = planned(DISK.format(rails=MEASURED), ONE, "qualified")
    told = [c.why for c in the(found).appliance.cautions]
    told += [p.setting for p in the(found).chosen.front.parts if p.kind == "rails"]  # type: ignore[union-attr]
    for word in ("cut", "solder", "screw", "disconnect", "discharge", "desolder"):
        assert not any(word in line for line in told)


def test_rails_end_in_no_plug_that_could_be_mixed_up() -> None:
    found = planned(DISK.format(rails=MEASURED), ONE, "qualified")
    assert found.mixups == ()


def test_the_caution_is_in_the_document_too() -> None:
    found = planned(DISK.format(rails=MEASURED), ONE, "qualified")
    (device,) = plan_json.as_json(found)["devices"]
    assert [c["ask"] for c in device["cautions"]] == ["a qualified person, under local codes"]
    assert device["chosen"]["contract_v"] == 20.0


@pytest.mark.parametrize("blink", ["any", "never"])
def test_a_narrow_window_is_met_by_programmable_volts(blink: str) -> None:
    """Neither 9 V, 15 V nor 20 V and no step-down of the market give it what it wants.

    From 20 V an adjustable step-down could: with one fault of it the device is gone, so the
    rules say that it must be survived.
    """
    head = "single_fault: must survive"
    devices = NARROW.format(blink=blink)
    whole = HEAD.format(mains=f"never, {head}") + devices + RANGE
    found = plan(read(whole, "s.yaml"))
    assert recheck(found) == ()
    synth = the(found)
    assert synth.chosen is not None
    assert synth.chosen.front.trigger.programmable_v is not None
    kept = next(f for f in synth.chosen.findings if f.rule == "keep-alive")
    if blink == "never":  # a contract that may die is a loss to it: only what is known will do
        assert kept.verdict is Verdict.FITS
        assert synth.chosen.front.trigger.keeps_alive is True
    assert "lives on the trigger's requests" in " ".join(synth.chosen.risks)


def test_24_v_come_from_28_v_by_a_step_down() -> None:
    found = planned(PRINTER, ABOVE)
    printer = the(found)
    assert printer.chosen is not None
    front = printer.chosen.front
    if front.trigger.asks_v > 20.0:
        assert front.parts[0].epr
        assert front.trigger.epr
    by_28 = [
        i
        for i, path in enumerate(printer.chosen.judged.paths)
        if path.front.trigger.asks_v == 28.0 and path.front.converter is not None
    ]
    assert by_28
    assert printer.action in (Action.BUILD, Action.TRY)


def test_a_usb_a_port_gives_five_volts_and_no_more() -> None:
    lamp = NARROW.format(blink="any").replace("13V", "5V").replace("11.6", "4").replace("14", "6")
    lamp = lamp.replace("500mA", "200mA").replace("300 mA", "100 mA").replace("400 mA", "150 mA")
    found = planned(lamp, SHELF.format('USB-A: "5V⎓2.4A 9V⎓2A"'))
    synth = the(found)
    assert synth.chosen is not None
    assert [p.id for p in synth.chosen.front.parts[:2]] == ["cable-a-c-1m", "resistor-pair"]
    reasons = {r.reason for r in synth.rejected}
    assert "a lead from A to C carries no negotiation: it gives 5 V, by two resistors" in reasons


def test_a_splitter_on_the_shelf_is_named_where_it_is_left_out() -> None:
    found = planned(PRINTER, ABOVE + "  y-lead: {is: splitter}\n")
    rejected = {r.reason: r.example for r in the(found).rejected}
    assert rejected["splits one contract between two devices: one contract, one device"] == "y-lead"


def with_front(found: Plan, **changes: object) -> Plan:
    """The plan with the chain of its one device changed."""
    device = the(found)
    assert device.chosen is not None
    front = replace(device.chosen.front, **changes)  # type: ignore[arg-type]
    return replace(found, devices=(replace(device, chosen=replace(device.chosen, front=front)),))


def test_the_recheck_finds_programmable_volts_that_no_range_has() -> None:
    found = plan(
        read(
            HEAD.format(mains="never, single_fault: must survive")
            + NARROW.format(blink="any")
            + RANGE,
            "s.yaml",
        )
    )
    device = the(found)
    assert device.chosen is not None
    parts = tuple(
        replace(p, trigger=replace(p.trigger, asks_v=17.0)) if p.trigger else p
        for p in device.chosen.front.parts
    )
    told, *_ = recheck(with_front(found, parts=parts))
    assert told.startswith("recheck: synth: 17 V is not offered")


def test_the_recheck_finds_rails_that_are_not_given() -> None:
    found = planned(DISK.format(rails=MEASURED), ONE, "qualified")
    device = the(found)
    assert device.chosen is not None
    *before, last = device.chosen.front.parts
    weak = replace(last, rails=tuple(replace(r, carries_a=0.1) for r in last.rails))
    told = recheck(with_front(found, parts=(*before, weak)))
    assert told == tuple(
        f"recheck: disk is not given its {volts} V" for volts in ("3.3", "5", "12")
    )
    soft = replace(last, withstands_v=20.0)
    assert recheck(with_front(found, parts=(*before, soft))) == (
        "recheck: the converter for disk gets more volts than it stands",
    )
