"""`charger`: from a tree to a shelf entry on standard output.

Layout and spellings of the trees: Linux sysfs ABI documents `usb_power_delivery` and `typec`
(read). What a level of CC promises: USB Type-C R2.0, Table 4-24, as given in a maker's manual.
"""

import os
import subprocess
from pathlib import Path

import pytest
from tests.cli.calls import Call, fault, subprocessed

from sinkside.site.read import read

HEAD = "site: {name: x}\ndevices: {a: {use: ordinary, inlet: {plug: other}}}\nshelf:\n"


def plant(root: Path, device: str = "pd1", **figures: str) -> Path:
    """A source with 5 V 3 A, and 9 V 3 A unless said otherwise."""
    listed = root / "class/usb_power_delivery" / device / "source-capabilities"
    given = {"voltage": "9000mV\n", "maximum_current": "3000mA\n"} | figures
    for position, files in (("1", {"voltage": "5000mV\n"}), ("2", given)):
        entry = listed / f"{position}:fixed_supply"
        entry.mkdir(parents=True)
        for name, text in ({"maximum_current": "3000mA\n"} | files).items():
            (entry / name).write_text(text, encoding="utf-8")
    (listed.parent / "revision").write_text("3.0\n", encoding="utf-8")
    return listed


def test_one_charger(sinkside: Call, tmp_path: Path) -> None:
    plant(tmp_path)
    assert sinkside("charger", "--root", str(tmp_path)).told == (
        0,
        "  charger:\n    is: charger\n"
        '    ports: {C1: "5V⎓3A 9V⎓3A"}  # this port alone; add the others, and together:\n',
        "",
    )


def test_one_charger_as_json(sinkside: Call, tmp_path: Path) -> None:
    plant(tmp_path)
    done = sinkside("charger", "--root", str(tmp_path), "--json")
    assert (done.status, done.err) == (0, "")
    assert done.document == {
        "sinkside": "charger",
        "chargers": [
            {
                "device": "pd1",
                "revision": "3.0",
                "offers": [
                    {"profile": "fixed", "low_v": v, "high_v": v, "current_a": 3.0}
                    for v in (5.0, 9.0)
                ],
                "remarks": [],
            }
        ],
    }


def test_several_chargers_load_together(sinkside: Call, tmp_path: Path) -> None:
    plant(tmp_path, "pd1")
    plant(tmp_path, "pd3", voltage="15000mV")
    done = sinkside("charger", "--root", str(tmp_path), "--name", "rail")
    site = read(HEAD + done.out, "site")
    assert [(c.id, [o.low_v for o in c.ports[0].offers]) for c in site.chargers] == [
        ("rail-1", [5.0, 9.0]),
        ("rail-2", [5.0, 15.0]),
    ]


def plug_in(root: Path, **files: str) -> None:
    """Something in port0, fed by nothing but a level of CC unless said otherwise."""
    said = {"power_operation_mode": "3.0A", "power_role": "source [sink]"} | files
    port = root / "class/typec/port0"
    (port.parent / "port0-partner").mkdir(parents=True)
    port.mkdir()
    for name, text in said.items():
        (port / name).write_text(f"{text}\n", encoding="utf-8")


def test_a_charger_without_a_list_loads_as_5_v_at_the_advertised_current(
    sinkside: Call, tmp_path: Path
) -> None:
    plug_in(tmp_path)
    done = sinkside("charger", "--root", str(tmp_path))
    assert done.told == (
        0,
        "  charger:\n    is: charger\n"
        '    ports: {C1: "5V⎓3A"}  # this port alone; add the others, and together:\n'
        "    # read in port0: it sent no list, and advertises 3.0A on CC\n"
        "    # without a contract 5 V may be anything from 4.75 to 5.5 V\n"
        "    # every lead from C to C carries this; one from A to C that reads so is faulty\n",
        "",
    )
    [offer] = read(HEAD + done.out, "site").chargers[0].ports[0].offers
    assert (offer.low_v, offer.high_v, offer.current_a) == (5.0, 5.0, 3.0)


def test_a_charger_in_a_port_that_is_known_as_json(sinkside: Call, tmp_path: Path) -> None:
    plug_in(tmp_path, data_role="host [device]", usb_power_delivery_revision="3.1")
    [found] = sinkside("charger", "--root", str(tmp_path), "--json").document["chargers"]
    assert found == {
        "device": "port0-partner",
        "revision": "",
        "offers": [{"profile": "fixed", "low_v": 5.0, "high_v": 5.0, "current_a": 3.0}],
        "remarks": [],
        "port": {
            "name": "port0",
            "mode": "3.0A",
            "power_role": "sink",
            "data_role": "device",
            "revision": "3.1",
            "partner": {"kind": "", "talks": None},
        },
        "lead": {
            "kind": "",
            "plug": "",
            "marked": False,
            "current_a": None,
            "highest_v": None,
            "carries_power": True,
        },
    }


@pytest.mark.parametrize(
    "name", ["my charger", "a: b", "# a", "- a", "'", '"', "{", "a\nb: {is: fuse}", "é", "yes", "~"]
)
def test_whatever_it_is_called_the_entry_loads_or_is_refused(
    sinkside: Call, tmp_path: Path, name: str
) -> None:
    plant(tmp_path)
    done = sinkside("charger", "--root", str(tmp_path), "--name", name)
    if done.status == 2:
        assert (done.out, done.err.count("\n")) == ("", 1)
    else:
        assert [c.id for c in read(HEAD + done.out, "site").chargers] == [name]


def test_an_empty_name_is_refused(sinkside: Call, tmp_path: Path) -> None:
    plant(tmp_path)
    done = sinkside("charger", "--root", str(tmp_path), "--name", "")
    assert (done.status, done.out, done.err.count("\n")) == (2, "", 1)


def test_a_name_of_the_market_still_loads_as_a_charger(sinkside: Call, tmp_path: Path) -> None:
    plant(tmp_path)
    done = sinkside("charger", "--root", str(tmp_path), "--name", "soft-start")
    if done.status != 2:
        assert [c.id for c in read(HEAD + done.out, "site").chargers] == ["soft-start"]


def test_a_host_without_either_tree(sinkside: Call, tmp_path: Path) -> None:
    wrong = [
        f"{tmp_path}/class/{tree}: No such file or directory"
        for tree in ("usb_power_delivery", "typec")
    ]
    right = "this host has no such tree, or no kernel that fills it"
    told = "".join(f"{line}; {right}\n" for line in wrong)
    assert sinkside("charger", "--root", str(tmp_path)).told == (2, "", told)
    machine = sinkside("charger", "--root", str(tmp_path), "--json")
    assert (machine.status, machine.err) == (2, "")
    assert machine.document == {"faults": [fault("no-tree", line, right) for line in wrong]}


def test_a_host_with_nothing_plugged_in(sinkside: Call, tmp_path: Path) -> None:
    (tmp_path / "class/usb_power_delivery/pd0/sink-capabilities").mkdir(parents=True)
    told = f"{tmp_path}/class/usb_power_delivery has no source; plug the charger in first\n"
    assert sinkside("charger", "--root", str(tmp_path)).told == (2, "", told)


def test_every_fault_of_a_tree_is_told(sinkside: Call, tmp_path: Path) -> None:
    listed = plant(tmp_path, voltage="nine volts")
    (listed / "1:fixed_supply/maximum_current").unlink()
    assert sinkside("charger", "--root", str(tmp_path)).told == (
        2,
        "",
        f"{listed}/1:fixed_supply/maximum_current cannot be read; "
        "the kernel gives one for this kind\n"
        f"{listed}/2:fixed_supply/voltage: 'nine volts' is no figure that the kernel writes; "
        "a figure such as 5000mV is wanted\n",
    )


def test_a_root_that_is_a_file(sinkside: Call, tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.touch()
    told = f"Invalid value for '--root': Directory '{file}' is a file\n"
    assert sinkside("charger", "--root", str(file)).told == (2, "", told)


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="pipes with a name are POSIX's")
def test_a_pipe_in_the_place_of_a_figure_does_not_keep_anybody_waiting(tmp_path: Path) -> None:
    listed = plant(tmp_path)
    file = listed / "2:fixed_supply/voltage"
    file.unlink()
    os.mkfifo(file)
    try:
        done = subprocessed("charger", "--root", str(tmp_path), timeout=20)
    except subprocess.TimeoutExpired:
        pytest.fail("it waits for somebody to write into the pipe")
    told = f"{file} cannot be read; the kernel gives one for this kind\n"
    assert (done.returncode, done.stdout, done.stderr.decode()) == (2, b"", told)
