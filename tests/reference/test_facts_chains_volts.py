"""Whole chains, from a site file to the verdict that published volts imply, worked out by hand.

A contract is ±5 % (secondary, 95 % read in a driver); without one 5 V is 4.75 to 5.5 V
(secondary). The chain has 500 mΩ, as `facts_sites` says. A switching regulator takes constant
power (textbook): V² − V₀·V + R·P = 0.
"""

import pytest
from tests.reference.facts_sites import (
    CABLE,
    LEAD,
    OWN,
    RESISTORS,
    WITH_12,
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

from sinkside.plan.model import Action
from sinkside.rules.verdict import Verdict

FITS = Verdict.FITS


def test_a_7805_fed_9_v() -> None:
    """9 V −5 % is 8.55 V; 0.6 A through 0.5 Ω takes 0.3 V: 8.25 V. A 7805 gives up to 5.25 V
    (datasheet, read) and is planned with 2.5 V more (from memory): 7.75 V, 0.50 V to spare.
    Heat at 9.45 V: (9.45 − 4.75)·0.5 + 9.45·0.008 = 2.4256 W (datasheet's 4.75 V and 8 mA); of
    5 + 2 + 8 K/W (secondary, practice) and 35 + 15 °C (practice) 75/15 = 5 W are left to 125 °C."""
    thing = planned(
        *inlet(), regulator("7805"), draws("0.5 A", "0.6 A"),
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse("0.5 A"), lead=LEAD,
    )  # fmt: skip
    assert (thing.action, thing.verdict, stages(thing)) == (Action.BUILD, FITS, OWN)
    assert plain_v(thing) == 9.0
    assert finding(thing, "under-volts").margin == pytest.approx(0.50)
    assert finding(thing, "regulator-heat").margin == pytest.approx(5.0 - 2.4256)


def test_a_7805_fed_9_v_behind_a_bridge() -> None:
    """A bridge takes 1.0 to 1.4 V (from memory): 8.25 − 1.4 = 6.85 V is under 5 + 2.0 V, and the
    typical 2.0 V is no most. 9 V does not prove it; 12 V does: 11.4 − 0.3 − 1.4 = 9.7 V."""
    device = (*inlet(), regulator("7805", "bridge"), draws("0.5 A", "0.6 A"))
    thing = planned(
        *device, ports=WITH_12, cable=CABLE, trigger=trigger("12 V"), fuse=fuse("0.5 A"), lead=LEAD
    )
    assert (thing.verdict, plain_v(thing)) == (FITS, 12.0)
    only_9 = planned(*device, ports="5V⎓3A 9V⎓3A", cable=CABLE, trigger=trigger("9 V"), lead=LEAD)
    assert plain_v(only_9) is None or only_9.verdict is not FITS


def test_5_v_gear_that_takes_little_from_the_worst_lawful_5_v() -> None:
    """5 V·0.2 A = 1 W: V² − 4.75·V + 0.5 = 0, √20.5625 = 4.5346, V = 4.6423: 0.1423 V over
    4.5 V. And 5.5 V stays 0.5 V under 6 V."""
    thing = planned(
        *inlet("5V"), switching("4.5 V", "6 V", "4.7 µF 16 V"), draws("0.12 A", "0.2 A"),
        cable=CABLE, board=RESISTORS, fuse=fuse("0.2 A"), lead=LEAD,
    )  # fmt: skip
    assert (thing.verdict, plain_v(thing)) == (FITS, 5.0)
    assert stages(thing) == ["cable", "board", "fuse", "lead"]
    assert finding(thing, "under-volts").margin == pytest.approx(0.1423, abs=1e-4)
    assert finding(thing, "over-volts").margin == pytest.approx(0.5)


@pytest.mark.parametrize("runs", ["4.5 V", "4.1 V"])
def test_5_v_gear_that_takes_2_a_from_the_worst_lawful_5_v(runs: str) -> None:
    """4.75 V − 2 A·0.5 Ω = 3.75 V at most: gear that runs from 4.5 V, or from 4.1 V, is not
    proven to run from a lawful 5 V; even the cable alone leaves 4.25 V, and 4.00 V at 3 A. With
    9 V from the port and a step-down beside the device it may be."""
    thing = planned(
        *inlet("5V"), switching(runs, "6 V"), draws("0.6 A", "2 A"),
        cable=CABLE, board=RESISTORS, fuse=fuse("0.8 A"), lead=LEAD,
    )  # fmt: skip
    assert plain_v(thing) is None or thing.verdict is not FITS
    only_5 = planned(
        *inlet("5V"), switching(runs, "6 V"), draws("0.6 A", "2 A"),
        ports="5V⎓3A", cable=CABLE, board=RESISTORS, fuse=fuse("0.8 A"), lead=LEAD,
    )  # fmt: skip
    assert only_5.verdict is not FITS


def test_5_v_without_a_contract_against_a_limit_of_5_3_v() -> None:
    """vSafe5V goes to 5.5 V (secondary): 0.2 V over the limit of the device."""
    thing = planned(
        *inlet("5V"), switching("4 V", "5.3 V", "4.7 µF 16 V"), draws("0.12 A", "0.2 A"),
        cable=CABLE, board=RESISTORS, fuse=fuse("0.2 A"), lead=LEAD,
    )  # fmt: skip
    assert plain_v(thing) is None or thing.verdict is not FITS


TWELVE = (*inlet("12V"), switching("11 V", "14 V"), draws("0.25 A", "0.3 A"))
TWELVE_PARTS = {
    "cable": CABLE, "trigger": trigger("12 V"), "fuse": fuse("0.3 A"), "lead": LEAD,
}  # fmt: skip


def test_12_v_gear_on_a_charger_without_12_v() -> None:
    """12 V is optional (secondary): 5, 9, 15, 20 V leave nothing between 11 and 14 V: at best
    9.45 V, or 14.25 V and more. Only a converter bridges that."""
    thing = planned(*TWELVE, **TWELVE_PARTS)
    assert plain_v(thing) is None
    assert "trigger" not in stages(thing)
    assert "charger C1 does not offer 12 V" in [rejected.reason for rejected in thing.rejected]


def test_12_v_gear_on_a_charger_with_12_v() -> None:
    """12 V·0.3 A = 3.6 W: V² − 11.4·V + 1.8 = 0, √122.76 = 11.0797, V = 11.2399: 0.2399 V over
    11 V. And 12.6 V stays 1.4 V under 14 V."""
    thing = planned(*TWELVE, ports=WITH_12, **TWELVE_PARTS)
    assert (thing.verdict, plain_v(thing), stages(thing)) == (FITS, 12.0, OWN)
    assert finding(thing, "under-volts").margin == pytest.approx(0.2399, abs=1e-4)
    assert finding(thing, "over-volts").margin == pytest.approx(1.4)


@pytest.mark.parametrize("watts", ["45 W", "65 W", "100 W"])
def test_12_v_is_never_counted_on_from_watts_alone(watts: str) -> None:
    """Optional since R2.0 v1.2 (secondary)."""
    thing = planned(*TWELVE, ports=watts, **TWELVE_PARTS)
    assert plain_v(thing) is None or thing.verdict is not FITS


@pytest.mark.parametrize(
    ("ports", "volts"),
    [
        # 12.6 V at best is under 12 V and a dropout of 1 V; 15 V: 14.25 − 0.15 = 14.10 V < 14.5.
        ("5V⎓3A 9V⎓3A 12V⎓3A", None),
        ("5V⎓3A 9V⎓3A 12V⎓3A 15V⎓3A", None),
        # 19 − 0.15 = 18.85 V; (21 − 11.4)·0.25 + 21·0.008 = 2.57 W.
        (WITH_12, 20.0),
    ],
)
def test_a_7812_behind_contracts(ports: str, volts: float | None) -> None:
    """It wants 14 to 14.5 V (from memory): 12 V never regulates, 15 V is out of regulation at the
    worst corner, 20 V works and costs heat (arithmetic)."""
    thing = planned(
        *inlet("15V"), regulator("7812"), draws("0.25 A", "0.3 A"),
        ports=ports, cable=CABLE, trigger=trigger("20 V"), fuse=fuse("0.25 A"), lead=LEAD,
    )  # fmt: skip
    proven = plain_v(thing) if thing.verdict is FITS else None
    assert proven == volts


def test_a_7812_is_not_left_on_a_12_v_contract() -> None:
    """12.6 V at best, less than 12 V·0.95 and the least dropout of 1.5 V: no plain chain at all."""
    thing = planned(
        *inlet("15V"), regulator("7812"), draws("0.25 A", "0.3 A"),
        ports="5V⎓3A 12V⎓3A", cable=CABLE, trigger=trigger("12 V"), fuse=fuse("0.25 A"), lead=LEAD,
    )  # fmt: skip
    assert plain_v(thing) is None
