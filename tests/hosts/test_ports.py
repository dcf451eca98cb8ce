"""The tree `typec`: whose list it is, what is advertised without one, and what is no charger.

Layout and spellings: Linux sysfs ABI documents and class driver (read). What the levels of CC
promise: USB Type-C R2.0, Table 4-24, as given in a maker's manual (read).
"""

import os
from pathlib import Path

import pytest
from tests.hosts.trees import PD, TYPEC, plant_lead, plant_list, plant_partner, plant_port, put
from tests.test_hosts import nobody

from sinkside.faults import Faulty
from sinkside.hosts import HostCharger, Lead, Mode, Partner, chargers
from sinkside.parts.charger import Offer

FIVE = {5.0: 3.0}
NINE = {5.0: 3.0, 9.0: 3.0}


def only(root: Path) -> HostCharger:
    [found] = chargers(root)
    return found


def told(root: Path) -> list[str]:
    """What is told of a tree, with the root taken off."""
    with pytest.raises(Faulty) as caught:
        chargers(root)
    return [str(fault).replace(f"{root}/", "") for fault in caught.value.faults]


def test_a_list_and_the_port_that_it_was_read_in(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    port = plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1", type="power_brick")
    found = only(tmp_path)
    assert found.port is not None
    assert found.listed
    assert (found.device, found.remarks, found.port.folder) == ("pd1", (), port)
    assert found.port.mode is Mode.CONTRACT
    assert (found.port.power_role, found.port.data_role) == ("sink", "device")
    assert found.port.revision == "3.0"
    assert found.port.partner == Partner(kind="power_brick", talks=True, device="pd1")
    assert found.port.lead == Lead()


@pytest.mark.parametrize(
    ("said", "role"),
    [
        *(("source [sink]", "sink"), ("[source] sink", "source"), ("[sink]", "sink")),
        *(("[source]", "source"), ("source sink", ""), ("sink", ""), ("[drain]", "")),
        *(("", ""), ("[sink][source]", ""), ("[sink", ""), ("[sink]\n[source]", "")),
    ],
)
def test_the_role_is_the_one_in_brackets(tmp_path: Path, said: str, role: str) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path, power_role=said)
    plant_partner(tmp_path, device="pd1")
    found = only(tmp_path).port
    assert found is not None
    assert found.power_role == role


@pytest.mark.parametrize(("mode", "amps"), [("default", 0.5), ("1.5A", 1.5), ("3.0A", 3.0)])
def test_a_port_without_a_contract_is_5_v_at_what_is_advertised(
    tmp_path: Path, mode: str, amps: float
) -> None:
    plant_port(tmp_path, power_operation_mode=mode, usb_power_delivery_revision="0.0")
    plant_partner(tmp_path)
    found = only(tmp_path)
    assert (found.device, found.listed) == ("port0-partner", False)
    assert found.offers == (Offer(low_v=5.0, high_v=5.0, current_a=amps),)
    assert found.port is not None
    assert found.port.revision == ""


def test_a_port_beside_the_tree_of_lists(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    plant_port(tmp_path, "port1", power_operation_mode="1.5A")
    plant_partner(tmp_path, "port1")
    assert [(c.device, c.port and c.port.name) for c in chargers(tmp_path)] == [
        ("pd1", "port0"),
        ("port1-partner", "port1"),
    ]


def test_ports_come_in_order_of_number(tmp_path: Path) -> None:
    for number in (10, 9, 2):
        plant_port(tmp_path, f"port{number}", power_operation_mode="3.0A")
        plant_partner(tmp_path, f"port{number}")
    assert [c.device for c in chargers(tmp_path)] == [
        f"port{number}-partner" for number in (2, 9, 10)
    ]


def test_what_is_no_charger_is_told_port_by_port(tmp_path: Path) -> None:
    (tmp_path / PD).mkdir(parents=True)
    plant_port(tmp_path, "port0", power_operation_mode="default")
    plant_port(tmp_path, "port1", power_operation_mode="default", power_role="[source] sink")
    plant_partner(tmp_path, "port1")
    plant_port(tmp_path, "port2", power_operation_mode="default")
    plant_partner(tmp_path, "port2", accessory_mode="analog_audio")
    plant_port(tmp_path, "port3")
    plant_partner(tmp_path, "port3", device="pd9")
    plant_port(tmp_path, "port4", power_operation_mode="3.0A", power_role="sink source")
    plant_partner(tmp_path, "port4")
    assert told(tmp_path) == [
        f"{PD} has no source; plug the charger in first",
        f"{TYPEC}/port0 has nothing plugged in; plug the charger in first",
        f"{TYPEC}/port1 feeds what is plugged in; plug the charger in first",
        f"{TYPEC}/port2 has an accessory in it (analog_audio); plug the charger in first",
        f"{TYPEC}/port3 has a contract, and this kernel does not show the charger's list; "
        "write what the charger has printed on it",
        f"{TYPEC}/port4 does not say which side feeds; plug the charger in first",
    ]


def test_a_tree_without_ports(tmp_path: Path) -> None:
    (tmp_path / TYPEC).mkdir(parents=True)
    assert told(tmp_path) == [
        f"{PD}: No such file or directory; this host has no such tree, or no kernel that fills it",
        f"{TYPEC} has no port; it has no USB Type-C controller",
    ]


def test_a_contract_whose_list_is_not_shown_is_told_beside_what_is_found(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    plant_port(tmp_path, "port1")
    plant_partner(tmp_path, "port1")
    assert only(tmp_path).remarks == (
        "something has a contract in port1 too; its list is not shown",
    )


@pytest.mark.parametrize("said", ["5.0A", "", "1.5A\n3.0A", "\x1b[31m", "DEFAULT"])
def test_a_mode_that_the_kernel_would_not_write(tmp_path: Path, said: str) -> None:
    plant_port(tmp_path, power_operation_mode=said)
    plant_partner(tmp_path)
    assert told(tmp_path) == [
        f"{TYPEC}/port0/power_operation_mode: {said!r} is no mode that the kernel writes; "
        "one of default, 1.5A, 3.0A, usb_power_delivery is wanted"
    ]


def test_a_mode_that_cannot_be_read(tmp_path: Path) -> None:
    port = plant_port(tmp_path)
    plant_partner(tmp_path)
    (port / "power_operation_mode").unlink()
    (port / "power_operation_mode").mkdir()
    assert told(tmp_path)[1:] == [
        f"{TYPEC}/port0/power_operation_mode cannot be read; the kernel gives one for a port"
    ]


def test_an_odd_mode_does_not_matter_beside_a_list(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path, power_operation_mode="5.0A")
    plant_partner(tmp_path, device="pd1")
    found = only(tmp_path)
    assert found.port is not None
    assert found.port.mode is None


def test_every_list_that_the_host_may_send_is_its_own(tmp_path: Path) -> None:
    for device in ("pd0", "pd2"):
        plant_list(tmp_path, FIVE, device)
    plant_list(tmp_path, NINE, "pd1")
    port = plant_port(tmp_path, select_usb_power_delivery="pd0 [pd2] ")
    (port / "usb_power_delivery").symlink_to("../../usb_power_delivery/pd2")
    plant_partner(tmp_path, device="pd1")
    assert only(tmp_path).device == "pd1"


def test_a_device_that_hangs_under_the_partner_is_its_list(tmp_path: Path) -> None:
    # Newer drivers make the list a child of the partner; the class folder holds links alone.
    behind = tmp_path / "devices/typec/port0/port0-partner/pd1"
    listed = plant_list(tmp_path, NINE)
    behind.parent.mkdir(parents=True)
    listed.parent.rename(behind)
    listed.parent.symlink_to(behind)
    plant_port(tmp_path)
    plant_partner(tmp_path)
    found = only(tmp_path)
    assert found.port is not None
    assert (found.port.name, found.remarks) == ("port0", ())


def test_a_list_that_no_port_owns_to_is_told(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path)
    found = only(tmp_path)
    assert found.port is None
    assert found.remarks == (
        "no port says that pd1 is its partner's list: it may be this host's own",
    )


def test_with_nothing_plugged_in_a_list_can_only_be_the_hosts_own(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path, power_operation_mode="default")
    assert told(tmp_path) == [
        f"{PD} has no source; plug the charger in first",
        f"{TYPEC}/port0 has nothing plugged in; plug the charger in first",
    ]


def test_faults_of_a_list_and_of_a_port_are_told_together(tmp_path: Path) -> None:
    plant_list(tmp_path, {5.0: 3.0, 0.0: 3.0})
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    plant_port(tmp_path, "port1", power_operation_mode="2A")
    plant_partner(tmp_path, "port1")
    assert told(tmp_path) == [
        f"{PD}/pd1/source-capabilities/2:fixed_supply/voltage: '0mV' is no figure that the "
        "kernel writes; a figure such as 5000mV is wanted",
        f"{TYPEC}/port1/power_operation_mode: '2A' is no mode that the kernel writes; "
        "one of default, 1.5A, 3.0A, usb_power_delivery is wanted",
    ]


def test_more_entries_than_any_kernel_makes(tmp_path: Path) -> None:
    for number in range(257):
        (tmp_path / TYPEC / f"port{number}").mkdir(parents=True)
    assert told(tmp_path) == [f"{TYPEC} has more than 256 entries; no kernel fills it so"]


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="permissions are POSIX's")
@pytest.mark.parametrize(
    ("closed", "place"),
    [
        ("", TYPEC),
        ("port0", f"{TYPEC}/port0/usb_power_delivery"),
        ("port0-partner", f"{TYPEC}/port0-partner/usb_power_delivery"),
    ],
)
def test_a_folder_that_may_not_be_read_is_told(closed: str, place: str) -> None:
    with nobody() as root:
        plant_list(root, NINE)
        plant_port(root)
        plant_partner(root, device="pd1")
        (root / TYPEC / closed).chmod(0)
        if os.geteuid() == 0:
            os.seteuid(65534)
        assert told(root) == [f"{place}: Permission denied; look as somebody who may read it"]


def test_links_that_lead_round_in_a_ring_are_no_ports(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    port = plant_port(tmp_path)
    (port / "usb_power_delivery").symlink_to("usb_power_delivery")
    (tmp_path / TYPEC / "port0-partner").symlink_to("port0-partner")
    (tmp_path / TYPEC / "port0-cable").symlink_to(port)
    (tmp_path / TYPEC / "port1").symlink_to("port1")
    assert told(tmp_path)[1:] == [
        f"{TYPEC}/port0 has nothing plugged in; plug the charger in first"
    ]


def test_a_lead_by_its_mark(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    plant_lead(tmp_path, 0x0008_2040, type="passive", plug_type="type-c")
    assert lead(tmp_path) == Lead(kind="passive", plug="type-c", marked=True, current_a=5.0)


def lead(root: Path) -> Lead:
    port = only(root).port
    assert port is not None
    return port.lead


@pytest.mark.parametrize(
    ("revision", "header", "highest_v"),
    [
        *(("2.0", 0x1800_0000, 20.0), ("3.0", 0x1800_0000, 50.0), ("3.1", 0x1800_0000, 50.0)),
        # Not told: only a header that R2.0 could not have written makes sure.
        *(("0.0", 0x1800_0000, None), ("0.0", 0x1860_0000, 50.0), ("x", 0x1860_0000, 50.0)),
    ],
)
def test_the_voltage_is_read_only_by_a_revision_that_is_sure(
    tmp_path: Path, revision: str, header: int, highest_v: float | None
) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    word = 2 << 18 | 3 << 9 | 2 << 5
    plant_lead(tmp_path, word, header=header, usb_power_delivery_revision=revision)
    assert lead(tmp_path) == Lead(
        kind="passive", plug="type-c", marked=True, current_a=5.0, highest_v=highest_v
    )


def test_a_lead_whose_mark_is_not_shown(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    plant_lead(tmp_path, 0, header=0, type="active", plug_type="unknown")
    assert lead(tmp_path) == Lead(kind="active", marked=True)


def test_a_lead_that_only_its_plugs_tell_of(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    put(tmp_path / TYPEC / "port0-plug0")
    assert lead(tmp_path) == Lead(marked=True)


def test_a_lead_without_a_mark(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    put(tmp_path / TYPEC / "port0-cable", type="passive", plug_type="type-c")
    assert lead(tmp_path) == Lead(kind="passive", plug="type-c")


@pytest.mark.parametrize("said", ["", "0x", "5", "0x123456789", "-0x1", "0x00082040 0x0", "\x00"])
def test_a_word_that_is_none_counts_as_not_shown(tmp_path: Path, said: str) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    folder = plant_lead(tmp_path, type="passive")
    put(folder / "identity", product_type_vdo1=said)
    assert lead(tmp_path) == Lead(kind="passive", marked=True)


def test_something_in_the_lead_that_takes_its_power_from_vconn(tmp_path: Path) -> None:
    plant_list(tmp_path, NINE)
    plant_port(tmp_path)
    plant_partner(tmp_path, device="pd1")
    plant_lead(tmp_path, 0x1100_0000, header=0x3000_0000)
    assert lead(tmp_path) == Lead(kind="vpd", marked=True)
