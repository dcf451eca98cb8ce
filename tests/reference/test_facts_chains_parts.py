"""Whole chains again: cables, ports, fuses, inrush, polarity, old bricks, and what needs no money.

The sites are made of the same parts of known ohms as in `facts_sites`.
"""

import pytest
from tests.reference.facts_sites import (
    CABLE,
    LEAD,
    MARKED,
    OWN,
    RESISTORS,
    draws,
    finding,
    fuse,
    inlet,
    plain_v,
    planned,
    regulator,
    stages,
    switching,
    trigger,
)

from sinkside.plan.model import Action, DevicePlan
from sinkside.rules.verdict import Verdict

FITS = Verdict.FITS
UNPROVEN = Verdict.UNPROVEN


def test_a_plate_with_a_c() -> None:
    """A.c. bricks exist on the same barrels (secondary): no d.c. without knowing what follows."""
    thing = planned(
        'plate: "AC IN 9V~ 500mA"', "inlet: {plug: 4.8x2.3}", "inside: unknown",
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse("0.5 A"), lead=LEAD,
    )  # fmt: skip
    assert (thing.action, thing.chosen) == (Action.REFUSED, None)


def test_4_a_through_a_marked_cable_and_never_through_another() -> None:
    """Without a mark a source must not offer more than 3 A (secondary). 20 V·4 A = 80 W behind
    0.15 + 0.05 + 0.01 + 0.1 = 0.31 Ω: V² − 19·V + 24.8 = 0, √261.8 = 16.1802, V = 17.5901, and
    80/17.5901 = 4.548 A: 0.452 A to spare of the port's 5 A."""
    thing = planned(
        *inlet("20V"), switching("16 V", "25 V"), draws("3.4 A", "4 A"),
        ports="5V⎓3A 20V⎓5A", charger="continuous: [0.85, 0.95],", plain=CABLE, marked=MARKED,
        trigger=trigger("20 V"), lead=LEAD, fuse=fuse("4 A").replace("100 mΩ", "10 mΩ"),
    )  # fmt: skip
    assert stages(thing) == ["marked", "trigger", "fuse", "lead"]
    assert finding(thing, "port-current").margin == pytest.approx(0.452, abs=1e-3)


def test_nothing_but_5_v_comes_out_of_a_type_a_port() -> None:
    """No contract goes through a lead from type A: 9 V gear is fed by a converter or not at all."""
    thing = planned(
        *inlet(), switching("7 V", "15 V"), draws("0.3 A", "0.4 A"), ports="5V⎓3A", port="USB-A",
        cable="{is: cable, ends: A to C, length: 1 m}", trigger=trigger("9 V"), fuse=fuse("0.4 A"),
        lead=LEAD,
    )  # fmt: skip
    assert plain_v(thing) is None
    assert "trigger" not in stages(thing)


def test_gear_that_lived_far_above_its_plate() -> None:
    """A 9 V brick that reads 14 V open and 12.6 V at the device's 20 mA (bricks of 1.3 to 1.75
    times: secondary): what ran at 12.6 V is not shown to run at 8.55 V (old pedals that drop
    12 V inside starve at a regulated 9 V: secondary)."""
    thing = planned(
        'plate: "9V DC 50mA"', "inlet: {plug: 4.8x2.3, centre: positive (measured)}",
        "inside: unknown", "draws: {steady: 20 mA (measured), peak: 25 mA (measured)}",
        'brick: {plate: "OUTPUT 9V⎓ 200mA ⊖–C–⊕", original: yes, open: 14 V (measured), '
        "loaded: 12.6 V at 20 mA (measured)}",
        ports="5V⎓3A 9V⎓3A",
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse("0.1 A"), lead=LEAD,
    )  # fmt: skip
    assert plain_v(thing) is None or finding(thing, "under-volts").verdict is UNPROVEN
    assert plain_v(thing) is None or thing.action is not Action.BUILD


@pytest.mark.parametrize(
    ("farads", "plain"),
    [
        ("47 µF 35 V", True),  # 47e-6·1.2·30e3 = 1.69 A, and 0.4 A: under 1.1·3 = 3.3 A
        ("4700 µF 35 V", False),  # 4.7e-3·0.8·30e3 = 113 A against 1.5·3 = 4.5 A
    ],
)
def test_the_step_into_an_input_capacitor(farads: str, plain: bool) -> None:
    """I = C·30 mV/µs (PD design notes: secondary), ±20 % of an electrolytic; a port trips at 1.1
    to 1.5 times its rating (from memory). The large one wants a soft start."""
    thing = planned(
        *inlet(), switching("7 V", "15 V", farads), draws("0.3 A", "0.4 A"),
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse("0.4 A"), lead=LEAD,
    )  # fmt: skip
    assert thing.chosen is not None
    soft = any(p.kind == "soft start" for p in thing.chosen.front.parts)
    assert (not soft and thing.verdict is FITS) is plain


@pytest.mark.parametrize("keeps", ["yes", "no"])
def test_a_programmable_contract_dies_unless_it_is_asked_again(keeps: str) -> None:
    """Every 10 s at the latest (lists of timers, read)."""
    programmable = (
        "{is: trigger, programmable: 3.3..11 V, ohms: 50 mΩ (measured), carries: 5 A, "
        f"withstands: 24 V, output_switch: yes (measured), falls_back: off (measured), "
        f"keeps_alive: {keeps} (datasheet)}}"
    )
    thing = planned(
        *inlet("7.5V"), switching("6 V", "8.4 V"), draws("0.3 A", "0.4 A"),
        ports="5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A",
        cable=CABLE, trigger=programmable, fuse=fuse("0.4 A"), lead=LEAD,
    )  # fmt: skip
    assert ("trigger" in stages(thing) and thing.verdict is FITS) is (keeps == "yes")


def test_more_power_than_the_resistance_lets_through() -> None:
    """15 W at 5 V through 0.25 + 0.05 + 0.1 + 0.8 = 1.2 Ω: even 5.5²/(4·1.2) = 6.3 W is less; and
    with the lead alone behind a converter 6²/(4·0.8) = 11.3 W is."""
    thing = planned(
        *inlet("5V"), switching("2 V", "6 V"), draws("2.8 A", "3 A"),
        cable=CABLE, board=RESISTORS, lead=LEAD.replace("100 mΩ", "800 mΩ"), fuse=fuse("2.8 A"),
    )  # fmt: skip
    assert thing.chosen is None


@pytest.mark.parametrize("centre", ["positive", "negative"])
def test_the_lead_follows_the_inlet(centre: str) -> None:
    """Polarity is not tied to size (encyclopedia entry: secondary): pedals are centre negative."""
    thing = planned(
        *inlet("9V", centre), switching("7 V", "15 V"), draws("0.3 A", "0.4 A"),
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse("0.4 A"), lead=LEAD,
    )  # fmt: skip
    assert thing.verdict is FITS
    assert thing.chosen is not None
    assert [p.setting for p in thing.chosen.front.parts if p.id == "lead"] == [f"centre {centre}"]


@pytest.mark.parametrize(
    ("steady", "fuse_a", "fits"),
    [
        # 0.5 A opens for sure at 1.05 A; the port keeps up 1.1·3 = 3.3 A, the lead 2.5 A.
        ("0.4 A", "0.5 A", True),
        # 2 A opens for sure at 4.2 A, which the port may never give; 3.3 A is over 2.5 A.
        ("1.5 A", "2 A", False),
    ],
)
def test_a_port_that_cannot_blow_the_fuse(steady: str, fuse_a: str, fits: bool) -> None:
    """A fuse opens only if the port keeps up 2.1 times its rating (IEC 60127-2, from memory)."""
    thing = planned(
        *inlet(), switching("7 V", "15 V"), draws(steady, steady), cable=CABLE,
        trigger=trigger("9 V"), lead=LEAD.replace("5 A", "2.5 A"), fuse=fuse(fuse_a),
    )  # fmt: skip
    assert (thing.verdict is FITS) is fits


@pytest.mark.parametrize("rated", ["16 V", "25 V", "34 V"])
def test_a_7805_stands_what_its_capacitor_stands(rated: str) -> None:
    """35 V by its datasheet (read), or less if the capacitor before it is for less."""
    thing = planned(*inlet(), regulator("7805", capacitor=rated), draws("0.3 A", "0.4 A"))
    assert thing.appliance.harmed_above_v.low == float(rated.split()[0])


@pytest.mark.parametrize("rated", ["35 V", "50 V"])
def test_a_7805_behind_a_better_capacitor_stands_no_less(rated: str) -> None:
    """35 V by its datasheet (read); the capacitor is no longer the weaker of the two."""
    thing = planned(*inlet(), regulator("7805", capacitor=rated), draws("0.3 A", "0.4 A"))
    assert thing.appliance.harmed_above_v.low == 35.0


def shelf_only(fuse_a: str) -> DevicePlan:
    """A 7805 at 9 V with a fuse of the shelf, and no money at all."""
    return planned(
        *inlet(), regulator("7805"), draws("0.4 A", "0.6 A"), budget=", budget: 0 EUR",
        ports="5V⎓3A 9V⎓3A",
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse(fuse_a), lead=LEAD,
    )  # fmt: skip


def test_what_fits_and_is_owned_needs_no_money() -> None:
    """8.55 − 0.30 − 7.75 = 0.50 V to spare; a fuse of 0.4 A carries 0.4 A for ever (IEC 60127:
    secondary) and opens for sure at 0.84 A. Nothing is to be bought."""
    thing = shelf_only("0.4 A")
    assert (thing.action, stages(thing)) == (Action.BUILD, OWN)


def test_a_larger_fuse_that_is_owned_needs_no_money_either() -> None:
    """2.1·1 A = 2.1 A (IEC 60127-2, from memory) < 3 A of the cable < 1.1·3 A of the port."""
    thing = shelf_only("1 A")
    assert (thing.action, stages(thing)) == (Action.BUILD, OWN)
