"""The shelf entry of a charger whose port is known: what it says of the list and of the lead.

That a source offers more than 3 A through a lead marked for 5 A alone: USB Type-C R2.0, as given
in published notes (read). 4.75 to 5.5 V without a contract: the same notes.
"""

from pathlib import Path

import pytest
from tests.hosts.trees import (
    TYPEC,
    Listed,
    plant_lead,
    plant_list,
    plant_partner,
    plant_port,
    put,
)

from sinkside.faults import NotUnderstood
from sinkside.hosts import HostCharger, as_json, chargers, shelf_entry
from sinkside.parts.charger import Offer
from sinkside.site.read import read

HEAD = "site: {name: x}\ndevices: {a: {use: ordinary, inlet: {plug: other}}}\nshelf:\n"

WATTS_27 = {5.0: 3.0, 9.0: 3.0}
WATTS_45 = {5.0: 2.0, 20.0: 2.25}
WATTS_60 = {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 3.0}
WATTS_100 = {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 5.0}

THREE_AMP = 2 << 18 | 1 << 5
FIVE_AMP = 2 << 18 | 2 << 5
EPR = 2 << 18 | 1 << 17 | 3 << 9 | 2 << 5
MAYBE = "what stops at 3 A may stop because of it: read it again through a lead marked for 5 A"


def comments(root: Path) -> list[str]:
    """The comments below the entry, which has to load besides."""
    [charger] = chargers(root)
    entry = shelf_entry("desk", charger)
    [loaded] = read(HEAD + entry, "site").chargers
    assert loaded.ports[0].offers == charger.offers
    lines = entry.splitlines()
    assert lines[:2] == ["  desk:", "    is: charger"]
    assert lines[2].endswith("  # this port alone; add the others, and together:")
    assert all(line.startswith("    # ") for line in lines[3:])
    return [line.removeprefix("    # ") for line in lines[3:]]


def plant(root: Path, listed: Listed, **partner: str) -> Path:
    plant_list(root, listed)
    plant_partner(root, device="pd1", **partner)
    return plant_port(root)


def test_a_whole_entry(tmp_path: Path) -> None:
    plant(tmp_path, WATTS_60, type="power_brick")
    plant_lead(tmp_path, THREE_AMP, type="passive", usb_power_delivery_revision="3.0")
    [charger] = chargers(tmp_path)
    assert shelf_entry("desk", charger) == (
        "  desk:\n"
        "    is: charger\n"
        '    ports: {C1: "5V⎓3A 9V⎓3A 15V⎓3A 20V⎓3A"}  '
        "# this port alone; add the others, and together:\n"
        "    # read in port0 from the list that it sent (pd1, revision 3.0)\n"
        "    # it calls itself a power brick\n"
        f"    # the passive lead is marked for 3 A and 20 V: {MAYBE}\n"
    )


@pytest.mark.parametrize(
    ("listed", "word", "said"),
    [
        (WATTS_27, THREE_AMP, f"the passive lead is marked for 3 A and 20 V: {MAYBE}"),
        (
            WATTS_45,
            THREE_AMP,
            "the passive lead is marked for 3 A and 20 V: it limits nothing of this",
        ),
        # Against the standard, and yet: the least of source, lead and request is what comes.
        (
            WATTS_100,
            THREE_AMP,
            "the passive lead is marked for 3 A and 20 V: "
            "no contract through it may take more than 3 A or 20 V, whatever is offered",
        ),
        (
            WATTS_60,
            FIVE_AMP,
            "the passive lead is marked for 5 A and 20 V: it limits nothing of this",
        ),
        (
            WATTS_100,
            FIVE_AMP,
            "the passive lead is marked for 5 A and 20 V: it limits nothing of this",
        ),
        (WATTS_100, EPR, "the passive lead is marked for 5 A and 50 V: it limits nothing of this"),
        (
            {5.0: 3.0, 28.0: 5.0},
            FIVE_AMP,
            "the passive lead is marked for 5 A and 20 V: "
            "no contract through it may take more than 5 A or 20 V, whatever is offered",
        ),
        (
            {5.0: 3.0, 28.0: 5.0},
            EPR,
            "the passive lead is marked for 5 A and 50 V: it limits nothing of this",
        ),
        (
            WATTS_60,
            0,
            f"the passive lead is marked, and for how much is not shown (count on 3 A): {MAYBE}",
        ),
    ],
)
def test_what_a_marked_lead_may_hold_back(
    tmp_path: Path, listed: Listed, word: int, said: str
) -> None:
    plant(tmp_path, listed)
    plant_lead(tmp_path, word, usb_power_delivery_revision="3.1")
    assert comments(tmp_path)[1] == said


@pytest.mark.parametrize(
    ("listed", "effect"),
    [
        (WATTS_60, MAYBE),
        (WATTS_45, "it limits nothing of this"),
        (
            WATTS_100,
            "more than 3 A is offered through a lead marked for 5 A alone, so it seems to be one",
        ),
    ],
)
def test_a_lead_of_which_nothing_is_known(tmp_path: Path, listed: Listed, effect: str) -> None:
    plant(tmp_path, listed)
    assert comments(tmp_path)[1] == (
        f"nothing is known of the lead, as of one without a mark (count on 3 A): {effect}"
    )


def test_an_active_lead_that_carries_no_power(tmp_path: Path) -> None:
    plant(tmp_path, WATTS_60)
    plant_lead(tmp_path, FIVE_AMP, header=0x2060_0000)
    assert comments(tmp_path)[1] == (
        "the active lead is marked for 5 A and 20 V, but not for power: "
        "read it again through another lead"
    )


@pytest.mark.parametrize("tells", ["lead", "charger"])
def test_a_lead_that_is_fixed_to_its_charger(tmp_path: Path, tells: str) -> None:
    plant(tmp_path, WATTS_60, **({"header": "0x01e00000"} if tells == "charger" else {}))
    if tells == "lead":
        put(tmp_path / TYPEC / "port0-cable", plug_type="captive")
    assert comments(tmp_path)[1] == (
        "the lead is fixed to the charger, which knows it: this is what comes out of its end"
    )


def test_an_entry_of_20_v_and_5_a_says_what_is_never_told(tmp_path: Path) -> None:
    plant(tmp_path, WATTS_100)
    plant_lead(tmp_path, EPR, usb_power_delivery_revision="3.1")
    assert comments(tmp_path)[2:] == [
        "it may offer more than 20 V as well: the kernel never tells that list"
    ]


@pytest.mark.parametrize(
    ("kind", "said"),
    [
        ("psd", ["it calls itself a power bank, whose list changes with its charge"]),
        ("hub", ["it calls itself a hub, which passes on what its own supply leaves over"]),
        ("peripheral", ["it calls itself peripheral"]),
        *((kind, []) for kind in ("undefined", "not_dfp", "not_ufp", "", "a b", "\x1b[31m")),
    ],
)
def test_what_the_charger_calls_itself(tmp_path: Path, kind: str, said: list[str]) -> None:
    plant(tmp_path, WATTS_45, type=kind)
    assert comments(tmp_path)[1:-1] == said


def test_a_list_of_a_charger_that_is_fed_by_the_host(tmp_path: Path) -> None:
    plant_list(tmp_path, WATTS_45)
    plant_partner(tmp_path, device="pd1")
    plant_port(tmp_path, power_role="[source] sink")
    assert comments(tmp_path)[1] == (
        "port0 feeds it now: the list is what it would offer if the roles changed"
    )


def test_a_list_without_a_contract_and_a_port_of_an_old_revision(tmp_path: Path) -> None:
    plant_list(tmp_path, WATTS_45)
    plant_partner(tmp_path, device="pd1")
    plant_port(tmp_path, power_operation_mode="3.0A", usb_power_delivery_revision="2.0")
    assert comments(tmp_path)[1:3] == [
        "port0 has no contract with it now",
        "port0 speaks revision 2.0, to which no source offers PPS or AVS",
    ]


@pytest.mark.parametrize(
    ("mode", "lead", "said"),
    [
        ("default", {}, "the lead may be what limits it: one from A to C always reads as default"),
        (
            "default",
            {"plug_type": "type-a"},
            "the lead is what limits it: it ends in a type-A plug, and always reads as default",
        ),
        (
            "default",
            {"plug_type": "type-c"},
            "the lead is not what limits it: every lead from C to C carries this",
        ),
        (
            "3.0A",
            {"plug_type": "type-c"},
            "the lead is not what limits it: every lead from C to C carries this",
        ),
        # 56 kΩ to VBUS, whatever the charger can do: some leads from A to C have less.
        (
            "3.0A",
            {},
            "every lead from C to C carries this; one from A to C that reads so is faulty",
        ),
        (
            "1.5A",
            {"plug_type": "type-a"},
            "the lead ends in a type-A plug and has a wrong pull-up: its charger may give less",
        ),
        ("1.5A", {"plug_type": "captive"}, "the lead is fixed to the charger"),
    ],
)
def test_a_charger_without_a_list(
    tmp_path: Path, mode: str, lead: dict[str, str], said: str
) -> None:
    plant_port(tmp_path, power_operation_mode=mode)
    plant_partner(tmp_path)
    if lead:
        put(tmp_path / TYPEC / "port0-cable", **lead)
    assert comments(tmp_path) == [
        f"read in port0: it sent no list, and advertises {mode} on CC",
        "without a contract 5 V may be anything from 4.75 to 5.5 V",
        said,
    ]


def test_a_charger_that_could_do_more_than_it_advertises(tmp_path: Path) -> None:
    plant_port(tmp_path, power_operation_mode="3.0A")
    plant_partner(tmp_path, supports_usb_power_delivery="yes")
    assert comments(tmp_path)[2] == (
        "it speaks Power Delivery: under a contract it may offer more than this"
    )


@pytest.mark.parametrize(
    ("figures", "offers", "remark"),
    [
        (
            {"voltage": "9000mV", "maximum_current": "6500mA"},
            (Offer(low_v=9.0, high_v=9.0, current_a=5.0),),
            "2:fixed_supply is said to give 6.5 A; no contract takes more than 5 A",
        ),
        (
            {"voltage": "50000mV", "maximum_current": "3000mA"},
            (),
            "2:fixed_supply is at 50 V, which no port has, and was left out",
        ),
        (
            {"voltage": "2950mV", "maximum_current": "3000mA"},
            (),
            "2:fixed_supply is at 2.95 V, which no port has, and was left out",
        ),
    ],
)
def test_a_fixed_object_beyond_what_a_port_has(
    tmp_path: Path, figures: dict[str, str], offers: tuple[Offer, ...], remark: str
) -> None:
    listed = plant_list(tmp_path, {5.0: 3.0})
    put(listed / "2:fixed_supply", **figures)
    [charger] = chargers(tmp_path)
    assert charger.offers == (Offer(low_v=5.0, high_v=5.0, current_a=3.0), *offers)
    assert comments(tmp_path) == [remark]


@pytest.mark.parametrize(
    ("low", "high", "offers", "remark"),
    [
        (
            "2500mV",
            "11000mV",
            (Offer(low_v=3.0, high_v=11.0, current_a=3.0, profile="pps"),),
            "2:programmable_supply starts at 2.5 V; written from 3 V",
        ),
        (
            "11000mV",
            "3300mV",
            (),
            "2:programmable_supply runs from 11 V to 3.3 V, which is no range, and was left out",
        ),
        (
            "5000mV",
            "5000mV",
            (),
            "2:programmable_supply runs from 5 V to 5 V, which is no range, and was left out",
        ),
    ],
)
def test_a_range_that_a_site_file_would_not_take(
    tmp_path: Path, low: str, high: str, offers: tuple[Offer, ...], remark: str
) -> None:
    listed = plant_list(tmp_path, {5.0: 3.0})
    figures = {"minimum_voltage": low, "maximum_voltage": high, "maximum_current": "3000mA"}
    put(listed / "2:programmable_supply", **figures)
    [charger] = chargers(tmp_path)
    assert charger.offers == (*offers, Offer(low_v=5.0, high_v=5.0, current_a=3.0))
    assert comments(tmp_path) == [remark]


@pytest.mark.parametrize(
    ("said", "remarks"),
    [
        ("1", ["2:programmable_supply may give less than its current: the rated power limits it"]),
        *((said, []) for said in ("0", "", "yes")),
    ],
)
def test_a_range_that_the_rated_power_limits(tmp_path: Path, said: str, remarks: list[str]) -> None:
    listed = plant_list(tmp_path, {5.0: 3.0})
    put(
        listed / "2:programmable_supply",
        minimum_voltage="3300mV",
        maximum_voltage="21000mV",
        maximum_current="3000mA",
        pps_power_limited=said,
    )
    assert comments(tmp_path) == remarks


def test_an_entry_without_5_v_is_refused() -> None:
    nine = Offer(low_v=9.0, high_v=9.0, current_a=3.0)
    charger = HostCharger(device="pd1", revision="", offers=(nine,), remarks=())
    with pytest.raises(NotUnderstood) as caught:
        shelf_entry("desk", charger)
    assert str(caught.value) == (
        "pd1 offers no 5 V; every source does: unplug it and plug it in again"
    )


def test_a_device_of_an_odd_name_keeps_to_its_line(tmp_path: Path) -> None:
    plant_list(tmp_path, WATTS_45, "pd1\n  evil: {}")
    plant_port(tmp_path)
    plant_partner(tmp_path)
    assert comments(tmp_path) == [
        "no port says that 'pd1\\n evil: {}' is its partner's list: it may be this host's own"
    ]


def test_json_of_a_port_with_a_marked_lead(tmp_path: Path) -> None:
    plant(tmp_path, WATTS_45, type="power_brick")
    plant_lead(tmp_path, EPR, plugs=2)
    [charger] = chargers(tmp_path)
    document = as_json(charger)
    assert list(document) == ["device", "revision", "offers", "remarks", "port", "lead"]
    assert document["port"] == {
        "name": "port0",
        "mode": "usb_power_delivery",
        "power_role": "sink",
        "data_role": "device",
        "revision": "3.0",
        "partner": {"kind": "power_brick", "talks": True},
    }
    assert document["lead"] == {
        "kind": "passive",
        "plug": "type-c",
        "marked": True,
        "current_a": 5.0,
        "highest_v": 50.0,
        "carries_power": True,
    }


def test_a_name_that_yaml_would_not_take_for_a_key_is_refused() -> None:
    """YAML 1.2.2, 7.4.2 (from memory): a key on a line of its own has 1024 characters at most."""
    five = Offer(low_v=5.0, high_v=5.0, current_a=3.0)
    charger = HostCharger(device="pd1", revision="", offers=(five,), remarks=())
    with pytest.raises(NotUnderstood, match=r"^a name of 201 characters; 200 are taken$"):
        shelf_entry("x" * 201, charger)
    longest = "é: " * 66 + "é"
    [loaded] = read(HEAD + shelf_entry(longest, charger), "site").chargers
    assert loaded.id == longest
