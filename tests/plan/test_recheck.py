"""The recheck finds what is broken into a finished plan, one thing at a time."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from sinkside.plan import Plan, plan
from sinkside.plan.recheck import recheck
from sinkside.quantity import Basis, point
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Refusal
from sinkside.site.read import read

SITE = """
site: {name: Mill Lane, currency: EUR}
rules: {solder: yes, budget: 100 EUR, spare_ports: blocked}
devices:
  drum:
    use: ordinary
    plate: "DC IN 9V⎓ 500mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured), ground: negative (measured)}
    inside:
      is: switching regulator
      runs_from: 6 V (datasheet)
      harmed_above: 30 V (datasheet)
      input_capacitor: 47 µF 35 V (plate)
    draws: {steady: 300 mA (measured), peak: 400 mA (measured)}
    blink: any
    ride_through: 50 ms (measured)
  fuzz:
    use: ordinary
    plate: "DC IN 9V⎓ 500mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured), ground: positive (measured)}
    inside:
      is: switching regulator
      runs_from: 6 V (datasheet)
      harmed_above: 30 V (datasheet)
      input_capacitor: 47 µF 35 V (plate)
    draws: {steady: 300 mA (measured), peak: 400 mA (measured)}
    blink: any
    ride_through: 50 ms (measured)
shelf:
  pair:
    is: charger
    count: 2
    output_earth: floating
    on_change: nothing
    ports: {C1: "5V⎓3A 9V⎓3A 12V⎓3A", C2: "5V⎓3A 9V⎓3A"}
    together: {C1+C2: {C1: "5V⎓3A 9V⎓2A", C2: "5V⎓3A 9V⎓2A"}}
links: [{from: drum, to: fuzz, kind: audio, shield: both ends}]
"""


@pytest.fixture(scope="module")
def sound() -> Plan:
    found = plan(read(SITE, "site.yaml"))
    assert recheck(found) == ()
    assert [d.chosen is not None for d in found.devices] == [True, True]
    return found


def chosen(found: Plan, place: int, **changes: Any) -> Plan:
    """The plan with one device's chosen path changed."""
    device = found.devices[place]
    assert device.chosen is not None
    return with_device(found, place, chosen=replace(device.chosen, **changes))


def with_device(found: Plan, place: int, **changes: Any) -> Plan:
    devices = list(found.devices)
    devices[place] = replace(devices[place], **changes)
    return replace(found, devices=tuple(devices))


def seat(found: Plan, place: int) -> Any:
    return found.devices[place].chosen.seat  # type: ignore[union-attr]


def front(found: Plan, place: int) -> Any:
    return found.devices[place].chosen.front  # type: ignore[union-attr]


def on_one_port(p: Plan) -> Plan:
    return chosen(p, 1, seat=replace(seat(p, 0), device="fuzz"), front=replace(front(p, 0)))


def on_one_negative(p: Plan) -> Plan:
    """The second device on the other port of the first one's charger."""
    other = "C2" if seat(p, 0).port == "C1" else "C1"
    both = frozenset(("C1", "C2"))
    moved = replace(seat(p, 0), device="fuzz", port=other)
    return chosen(p, 1, seat=moved, front=replace(front(p, 1), port=other, company=both))


def on_a_charger_that_is_not_there(p: Plan) -> Plan:
    return chosen(p, 1, seat=replace(seat(p, 1), unit=3))


def with_a_path_for_another_port(p: Plan) -> Plan:
    other = "C2" if seat(p, 0).port == "C1" else "C1"
    return chosen(p, 0, front=replace(front(p, 0), port=other))


def refused_with_a_seat(p: Plan) -> Plan:
    refusals = (Refusal(why="it is medical", ask="its maker"),)
    return with_device(p, 0, appliance=replace(p.devices[0].appliance, refusals=refusals))


def with_volts_that_are_not_offered(p: Plan) -> Plan:
    """12 V are offered on C1 alone; the trigger is made to ask for 15 V."""
    parts = tuple(
        replace(x, trigger=replace(x.trigger, asks_v=15.0)) if x.trigger else x
        for x in front(p, 0).parts
    )
    return chosen(p, 0, front=replace(front(p, 0), parts=parts))


def with_another_plug(p: Plan) -> Plan:
    return with_device(p, 0, appliance=replace(p.devices[0].appliance, plug="4x1.7"))


def with_a_part_that_does_not_join(p: Plan) -> Plan:
    *rest, last, lead = front(p, 0).parts
    return chosen(p, 0, front=replace(front(p, 0), parts=(*rest, lead, last)))


def with_a_part_that_is_not_bought(p: Plan) -> Plan:
    return replace(p, bought=p.bought[1:])


def with_too_much_bought(p: Plan) -> Plan:
    (part, count), *rest = p.bought
    return replace(p, bought=((part, count + 1), *rest))


def over_budget(p: Plan) -> Plan:
    return replace(p, site=replace(p.site, rules=p.site.rules.model_copy(update={"budget": 1})))


def with_a_failing_path(p: Plan) -> Plan:
    findings = p.devices[0].chosen.findings  # type: ignore[union-attr]
    harm = next(f for f in findings if f.stakes is Stakes.HARM)
    broken = tuple(replace(f, verdict=Verdict.FAILS) if f is harm else f for f in findings)
    return chosen(p, 0, findings=broken)


def with_a_plug_of_the_wrong_pole(p: Plan) -> Plan:
    """The lead is soldered the other way round after it was judged."""
    *rest, lead = front(p, 0).parts
    turned = replace(lead, gives=replace(lead.gives, centre="negative"))
    return chosen(p, 0, front=replace(front(p, 0), parts=(*rest, turned)))


def with_more_volts_than_it_stands(p: Plan) -> Plan:
    """The strap is set to 12 V after it was judged, and the device stands 10 V."""
    parts = tuple(
        replace(x, trigger=replace(x.trigger, asks_v=12.0)) if x.trigger else x
        for x in front(p, 0).parts
    )
    weak = replace(
        p.devices[0].appliance,
        harmed_above_v=point(10.0, "V", Basis.MEASURED, "drum/harmed above"),
    )
    changed = chosen(p, 0, front=replace(front(p, 0), parts=parts))
    return with_device(changed, 0, appliance=weak)


def with_a_device_that_goes_out(p: Plan) -> Plan:
    """It must not blink, and its charger drops all; its neighbour port is loaded."""
    chargers = tuple(replace(c, on_change="drops all") for c in p.site.chargers)
    crowded = on_one_negative(p)
    apart = with_device(crowded, 1, appliance=replace(p.devices[1].appliance, ground="negative"))
    never = with_device(apart, 0, appliance=replace(p.devices[0].appliance, blink="never"))
    return replace(never, site=replace(p.site, chargers=chargers))


def on_earthed_chargers(p: Plan) -> Plan:
    chargers = tuple(replace(c, output_earth="earthed") for c in p.site.chargers)
    return replace(p, site=replace(p.site, chargers=chargers))


def on_chargers_of_which_nobody_knows_the_earth(p: Plan) -> Plan:
    chargers = tuple(replace(c, output_earth="unknown") for c in p.site.chargers)
    return replace(p, site=replace(p.site, chargers=chargers))


FAULTS: dict[Callable[[Plan], Plan], str] = {
    on_one_port: "are on one port",
    on_one_negative: "two potentials",
    on_a_charger_that_is_not_there: "that is not owned",
    with_a_path_for_another_port: "has a path for another port",
    refused_with_a_seat: "is refused and has a seat",
    with_volts_that_are_not_offered: "is not offered",
    with_another_plug: "ends in another plug",
    with_a_part_that_does_not_join: "does not join",
    with_a_part_that_is_not_bought: "are to be bought",
    with_too_much_bought: "are to be bought",
    over_budget: "over the budget",
    with_a_failing_path: "has a failing path",
    on_earthed_chargers: "two potentials",
    on_chargers_of_which_nobody_knows_the_earth: "two potentials",
    with_a_plug_of_the_wrong_pole: "",
    with_more_volts_than_it_stands: "",
    with_a_device_that_goes_out: "blink",
}


@pytest.mark.parametrize(("fault", "words"), FAULTS.items(), ids=[f.__name__ for f in FAULTS])
def test_a_fault_that_was_broken_in_is_found(
    fault: Callable[[Plan], Plan], words: str, sound: Plan
) -> None:
    found = recheck(fault(sound))
    assert [f for f in found if words in f], found
    assert all(f.startswith("recheck: ") for f in found)
