"""Chargers as a Linux host sees them: trees of every shape, from sound to hostile.

Layout and spellings: Linux sysfs ABI documents `usb_power_delivery` and `typec` (read). Every
figure there carries its unit, mV, mA or mW; the kernel leaves out objects that it does not know.
"""

import os
import random
import shutil
import tempfile
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path

import pytest

from sinkside.faults import Faulty, NotUnderstood
from sinkside.hosts import HostCharger, as_json, chargers, shelf_entry
from sinkside.parts.charger import Offer
from sinkside.site.read import read

PD = "class/usb_power_delivery"
HEAD = "site: {name: x}\ndevices: {a: {use: ordinary, inlet: {plug: other}}}\nshelf:\n"

Objects = Mapping[str, Mapping[str, str]]

FIVE: Objects = {"1:fixed_supply": {"voltage": "5000mV", "maximum_current": "3000mA"}}
NINE: Objects = {"2:fixed_supply": {"voltage": "9000mV", "maximum_current": "3000mA"}}
PPS: Objects = {
    "2:programmable_supply": {
        "minimum_voltage": "3300mV",
        "maximum_voltage": "11000mV",
        "maximum_current": "3000mA",
        "pps_power_limited": "0",
    }
}


def plant(
    root: Path, objects: Objects, device: str = "pd1", spelt: str = "source-capabilities"
) -> Path:
    """Write objects as the kernel shows them, each figure on a line of its own."""
    listed = root / PD / device / spelt
    listed.mkdir(parents=True)
    (listed.parent / "revision").write_text("3.0\n", encoding="utf-8")
    for name, figures in objects.items():
        (listed / name).mkdir()
        for file, text in figures.items():
            (listed / name / file).write_text(f"{text}\n", encoding="utf-8")
    return listed


def only(root: Path) -> HostCharger:
    [found] = chargers(root)
    return found


def told(root: Path) -> list[str]:
    """What is told of a tree, with the root taken off."""
    with pytest.raises(Faulty) as caught:
        chargers(root)
    return [str(fault).replace(f"{root}/{PD}/", "") for fault in caught.value.faults]


def fixed(volts: float, amps: float) -> Offer:
    return Offer(low_v=volts, high_v=volts, current_a=amps)


def test_fixed_and_programmable_objects(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, **PPS, "3:fixed_supply": NINE["2:fixed_supply"]})
    assert only(tmp_path) == HostCharger(
        device="pd1",
        revision="3.0",
        offers=(
            Offer(low_v=3.3, high_v=11.0, current_a=3.0, profile="pps"),
            fixed(5.0, 3.0),
            fixed(9.0, 3.0),
        ),
        remarks=(),
    )


def test_a_folder_spelt_with_an_underscore(tmp_path: Path) -> None:
    # One sentence of the ABI document spells it so.
    plant(tmp_path, FIVE, spelt="source_capabilities")
    assert only(tmp_path).offers == (fixed(5.0, 3.0),)


def test_what_no_trigger_asks_for_is_left_out_and_told(tmp_path: Path) -> None:
    plant(
        tmp_path,
        {
            **FIVE,
            "2:battery": {"minimum_voltage": "5000mV", "maximum_power": "27000mW"},
            "3:variable_supply": {"minimum_voltage": "9000mV", "maximum_voltage": "15000mV"},
            "4:augmented_supply": {},
        },
    )
    found = only(tmp_path)
    assert found.offers == (fixed(5.0, 3.0),)
    assert found.remarks == (
        "2:battery is not regulated: no trigger here asks for it",
        "3:variable_supply is not regulated: no trigger here asks for it",
        "4:augmented_supply is a kind that is not known here, and was left out",
    )


def test_gaps_between_the_positions_are_told(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, "3:fixed_supply": NINE["2:fixed_supply"], "5:battery": {}})
    assert only(tmp_path).remarks == (
        "5:battery is not regulated: no trigger here asks for it",
        "object 2 is not exported: a kind that this kernel does not know",
        "object 4 is not exported: a kind that this kernel does not know",
    )


def test_the_same_position_twice_is_told(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, **NINE, **PPS})
    assert only(tmp_path).remarks == ("object 2 is exported twice",)


def test_what_is_no_object_is_told_and_the_folder_of_every_device_is_not(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, "power": {"control": "auto"}, "x:fixed_supply": {}, "100:battery": {}})
    assert only(tmp_path).remarks == (
        "'100:battery' is no object and was left out",
        "'x:fixed_supply' is no object and was left out",
    )


def test_a_name_with_a_line_break_stays_on_one_line(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, "2:odd\n": {}, "3:odd\nports: {}": {}})
    found = only(tmp_path)
    assert [remark for remark in found.remarks if "\n" in remark] == []
    assert loaded(found) == found.offers


def test_files_beside_the_folders_are_passed_over(tmp_path: Path) -> None:
    listed = plant(tmp_path, FIVE)
    (listed / "uevent").write_text("", encoding="utf-8")
    (tmp_path / PD / "uevent").write_text("", encoding="utf-8")
    assert only(tmp_path).remarks == ()


def test_an_upper_range_of_no_current_is_not_offered(tmp_path: Path) -> None:
    # From memory: 0 mA means that 15 to 20 V is not there.
    avs = {"maximum_current_9V_to_15V": "3000mA", "maximum_current_15V_to_20V": "0mA"}
    plant(tmp_path, {**FIVE, "2:spr_adjustable_voltage_supply": avs})
    assert only(tmp_path).offers == (
        fixed(5.0, 3.0),
        Offer(low_v=9.0, high_v=15.0, current_a=3.0, profile="avs"),
    )


@pytest.mark.parametrize("kind", ["fixed_supply", "programmable_supply"])
def test_an_object_of_no_current_is_no_offer(tmp_path: Path, kind: str) -> None:
    figures = {**NINE["2:fixed_supply"], **PPS["2:programmable_supply"], "maximum_current": "0mA"}
    plant(tmp_path, {**FIVE, f"2:{kind}": figures})
    found = only(tmp_path)
    assert found.offers == (fixed(5.0, 3.0),)
    assert found.remarks != ()


@pytest.mark.parametrize(
    "text",
    [
        *("9V", "9000", "9000 uV", "9000000uV", "9000µV", "9kV", "9000mA", "9000MV", "nine", ""),
        *("-9000mV", "9000mV 3000mA", "9000mV\n5000mV", "max 9000mV", "9000..9000mV"),
        *("9000mV ±0 %", "9000mV (measured)", "9e3mV", "9.000e3mV", "9000,0mV", "٩٠٠٠mV"),
        *("0mV", "\x00", "9000mV\x00", "\x1b[31m9000mV", "1" * 500 + "mV", "99999999mV"),
    ],
)
def test_a_figure_that_the_kernel_would_not_write(tmp_path: Path, text: str) -> None:
    plant(tmp_path, {**FIVE, "2:fixed_supply": {**NINE["2:fixed_supply"], "voltage": text}})
    [line] = told(tmp_path)
    assert line.startswith("pd1/source-capabilities/2:fixed_supply/voltage: ")
    assert line.endswith("; a figure such as 5000mV is wanted")
    assert line.isprintable()
    assert len(line) < 250


@pytest.mark.parametrize("text", ["9000mV", "9000mV\n", " 9000mV\n", "9000 mV"])
def test_a_figure_that_it_would(tmp_path: Path, text: str) -> None:
    plant(tmp_path, {**FIVE, "2:fixed_supply": {**NINE["2:fixed_supply"], "voltage": text}})
    assert only(tmp_path).offers == (fixed(5.0, 3.0), fixed(9.0, 3.0))


def test_a_range_from_high_to_low_is_not_taken_as_it_is(tmp_path: Path) -> None:
    turned = {"minimum_voltage": "11000mV", "maximum_voltage": "3300mV"}
    plant(tmp_path, {**FIVE, "2:programmable_supply": {**PPS["2:programmable_supply"], **turned}})
    try:
        found = only(tmp_path)
    except Faulty:
        return
    assert all(offer.low_v <= offer.high_v for offer in found.offers)
    assert found.remarks != ()


@pytest.mark.parametrize(
    ("kind", "figures", "missing"),
    [
        ("fixed_supply", NINE["2:fixed_supply"], "voltage"),
        ("fixed_supply", NINE["2:fixed_supply"], "maximum_current"),
        ("programmable_supply", PPS["2:programmable_supply"], "minimum_voltage"),
        ("programmable_supply", PPS["2:programmable_supply"], "maximum_current"),
        (
            "spr_adjustable_voltage_supply",
            {"maximum_current_15V_to_20V": "0mA"},
            "maximum_current_9V_to_15V",
        ),
    ],
)
def test_a_file_that_is_missing(
    tmp_path: Path, kind: str, figures: Mapping[str, str], missing: str
) -> None:
    left = {name: text for name, text in figures.items() if name != missing}
    plant(tmp_path, {**FIVE, f"2:{kind}": left})
    assert told(tmp_path) == [
        f"pd1/source-capabilities/2:{kind}/{missing} cannot be read; "
        "the kernel gives one for this kind"
    ]


def spoil_with_folder(file: Path) -> None:
    file.mkdir()


def spoil_with_much(file: Path) -> None:
    file.write_bytes(b"9" * 5_000_000)


def spoil_with_endless(file: Path) -> None:
    file.symlink_to("/dev/zero")


def spoil_with_loop(file: Path) -> None:
    file.symlink_to(file.name)


def spoil_with_nowhere(file: Path) -> None:
    file.symlink_to("gone")


@pytest.mark.parametrize(
    "spoil",
    [
        spoil_with_folder,
        spoil_with_much,
        spoil_with_endless,
        spoil_with_loop,
        spoil_with_nowhere,
    ],
)
def test_something_else_in_the_place_of_a_figure(tmp_path: Path, spoil: object) -> None:
    listed = plant(tmp_path, {**FIVE, **NINE})
    file = listed / "2:fixed_supply/voltage"
    file.unlink()
    spoil(file)  # type: ignore[operator]  # one of the functions above
    assert told(tmp_path) == [
        "pd1/source-capabilities/2:fixed_supply/voltage cannot be read; "
        "the kernel gives one for this kind"
    ]


def test_every_fault_is_told_at_once(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, "2:fixed_supply": {"voltage": "x", "maximum_current": "y"}}, "pd1")
    plant(tmp_path, {"1:fixed_supply": {"voltage": "5000mV"}}, "pd2")
    assert [line.partition(" ")[0].partition(":fixed")[0] for line in told(tmp_path)] == [
        "pd1/source-capabilities/2",
        "pd1/source-capabilities/2",
        "pd2/source-capabilities/1",
    ]


@pytest.mark.parametrize("revision", ["", "3.0", "x" * 5000, "\x1b[31m", "3.0\n3.1", "\ufffd"])
def test_whatever_the_revision_says_the_offers_are_read(tmp_path: Path, revision: str) -> None:
    listed = plant(tmp_path, FIVE)
    (listed.parent / "revision").write_text(revision, encoding="utf-8")
    found = only(tmp_path)
    assert found.offers == (fixed(5.0, 3.0),)
    assert found.revision in ("", "3.0")


def test_without_a_revision(tmp_path: Path) -> None:
    listed = plant(tmp_path, FIVE)
    (listed.parent / "revision").unlink()
    assert only(tmp_path).revision == ""


def test_folders_that_lead_to_each_other(tmp_path: Path) -> None:
    listed = plant(tmp_path, FIVE)
    (listed / "2:fixed_supply").symlink_to(listed)
    (listed / "loop").symlink_to("loop")
    (tmp_path / PD / "pd2").symlink_to("pd2")
    assert told(tmp_path) == [
        f"pd1/source-capabilities/2:fixed_supply/{name} cannot be read; "
        "the kernel gives one for this kind"
        for name in ("voltage", "maximum_current")
    ]


@pytest.mark.parametrize("there", ["nothing", "a file", "a loop"])
def test_no_tree(tmp_path: Path, there: str) -> None:
    tree = tmp_path / PD
    tree.parent.mkdir(parents=True)
    why = {"nothing": "No such file or directory", "a file": "Not a directory"}.get(
        there, "Too many levels of symbolic links"
    )
    if there == "a file":
        tree.touch()
    elif there == "a loop":
        tree.symlink_to(tree.name)
    with pytest.raises(Faulty) as caught:
        chargers(tmp_path)
    assert str(caught.value) == (
        f"{tree}: {why}; this host has no such tree, or no kernel that fills it\n"
        f"{tmp_path}/class/typec: No such file or directory; "
        "this host has no such tree, or no kernel that fills it"
    )


def test_nothing_that_is_a_source(tmp_path: Path) -> None:
    plant(tmp_path, FIVE, spelt="sink-capabilities")
    with pytest.raises(Faulty) as caught:
        chargers(tmp_path)
    assert str(caught.value) == f"{tmp_path}/{PD} has no source; plug the charger in first"


@contextmanager
def nobody() -> Iterator[Path]:
    """A folder that everybody may read, and an account that may read no more than everybody."""
    folder = Path(tempfile.mkdtemp())
    folder.chmod(0o755)
    root = os.geteuid() == 0
    try:
        yield folder
    finally:
        if root:
            os.seteuid(0)
        for path in folder.rglob("*"):
            if not path.is_symlink():
                path.chmod(0o755)
        shutil.rmtree(folder)


@pytest.mark.skipif(not hasattr(os, "seteuid"), reason="permissions are POSIX's")
@pytest.mark.parametrize(
    "closed",
    [
        "",
        "pd1",
        "pd1/source-capabilities",
        "pd1/source-capabilities/2:fixed_supply",
        "pd1/source-capabilities/2:fixed_supply/voltage",
    ],
)
def test_what_may_not_be_read_is_told(closed: str) -> None:
    with nobody() as root:
        plant(root, {**FIVE, **NINE})
        (root / PD / closed).chmod(0)
        if os.geteuid() == 0:
            os.seteuid(65534)
        with pytest.raises(Faulty) as caught:
            chargers(root)
    assert caught.value.faults != ()
    for fault in caught.value.faults:
        assert str(fault).startswith(f"{root}/{PD}/{closed}".rstrip("/"))
        assert "Permission denied" in str(fault) or "cannot be read" in str(fault)


def loaded(charger: HostCharger, name: str = "charger") -> tuple[Offer, ...]:
    """The offers of the shelf entry once it stands in a site file."""
    [found] = read(HEAD + shelf_entry(name, charger), "site").chargers
    assert found.id == name
    [port] = found.ports
    assert not port.guessed
    return port.offers


def test_a_shelf_entry_as_it_is_written(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, **PPS, "4:battery": {}})
    assert shelf_entry("desk", only(tmp_path)) == (
        "  desk:\n"
        "    is: charger\n"
        '    ports: {C1: "PPS 3.3-11V⎓3A 5V⎓3A"}  '
        "# this port alone; add the others, and together:\n"
        "    # 4:battery is not regulated: no trigger here asks for it\n"
        "    # object 3 is not exported: a kind that this kernel does not know\n"
    )


def drawn(draw: random.Random) -> Objects:
    """A list as a source may have it: on the grids of USB PD 6.4.1 (read), at most seven."""
    objects = [("fixed_supply", {"voltage": "5000mV", "maximum_current": _amps(draw, 10)})]
    objects += [
        ("fixed_supply", {"voltage": f"{steps * 50}mV", "maximum_current": _amps(draw, 10)})
        for steps in sorted(draw.sample(range(101, 961), k=draw.randint(0, 3)))
    ]
    for _ in range(draw.randint(0, 2)):
        low, high = sorted(draw.sample(range(33, 211), k=2))  # 100 mV
        objects.append(
            (
                "programmable_supply",
                {
                    "minimum_voltage": f"{low * 100}mV",
                    "maximum_voltage": f"{high * 100}mV",
                    "maximum_current": _amps(draw, 50),
                },
            )
        )
    if draw.random() < 0.5:
        upper = draw.choice((_amps(draw, 10), "0mA"))
        objects.append(
            (
                "spr_adjustable_voltage_supply",
                {"maximum_current_9V_to_15V": _amps(draw, 10), "maximum_current_15V_to_20V": upper},
            )
        )
    return {f"{i + 1}:{kind}": figures for i, (kind, figures) in enumerate(objects)}


def _amps(draw: random.Random, step_ma: int) -> str:
    return f"{draw.randrange(step_ma, 5001, step_ma)}mA"


@pytest.mark.parametrize("seed", range(10))
def test_every_list_loads_back_as_it_was(tmp_path: Path, seed: int) -> None:
    draw = random.Random(seed)
    for number in range(20):
        root = tmp_path / str(number)
        plant(root, drawn(draw))
        found = only(root)
        assert loaded(found) == found.offers


@pytest.mark.parametrize("name", ["desk charger", "lead: 2", "# 1", "- x", "a\nb", "{", "", "yes"])
def test_whatever_the_name_the_entry_loads_or_is_refused(tmp_path: Path, name: str) -> None:
    plant(tmp_path, {**FIVE, **NINE})
    found = only(tmp_path)
    try:
        entry = shelf_entry(name, found)
    except NotUnderstood:
        return
    assert entry.startswith("  ")
    assert loaded(found, name) == found.offers


@pytest.mark.parametrize(
    "objects",
    [
        {},
        NINE,
        {"1:battery": {}},
        {"1:fixed_supply": {"voltage": "5000mV", "maximum_current": "0mA"}},
    ],
)
def test_a_source_without_5_v_is_not_written_as_if_it_could_be_loaded(
    tmp_path: Path, objects: Objects
) -> None:
    # USB PD 6.4.1 (from memory): the first object is 5 V; a site file asks for it too.
    plant(tmp_path, objects)
    assert told(tmp_path) == [
        "pd1 offers no 5 V; every source does: unplug it and plug it in again"
    ]


def test_several_partners_each_with_its_own_list(tmp_path: Path) -> None:
    plant(tmp_path, FIVE, "pd3")
    plant(tmp_path, {**FIVE, **NINE}, "pd1")
    assert [(c.device, len(c.offers)) for c in chargers(tmp_path)] == [("pd1", 2), ("pd3", 1)]


def link_ports(root: Path, **pairs: str) -> None:
    """The port's own list and its partner's, as the typec tree links them."""
    for port in {name.partition("_")[0] for name in pairs}:
        (root / "class/typec" / port).mkdir(parents=True)
        (root / "class/typec" / f"{port}-partner").mkdir()
    for name, device in pairs.items():
        port, _, partner = name.partition("_")
        folder = root / "class/typec" / (f"{port}-{partner}" if partner else port)
        (folder / "usb_power_delivery").symlink_to(f"../../usb_power_delivery/{device}")


def test_the_hosts_own_list_is_not_taken_for_a_charger(tmp_path: Path) -> None:
    # A host that can also feed others exports a list of its own. Which list belongs to the
    # partner, only the link says (from memory: portN-partner/usb_power_delivery).
    plant(tmp_path, FIVE, "pd0")
    plant(tmp_path, {**FIVE, **NINE}, "pd1")
    link_ports(tmp_path, port0="pd0", port0_partner="pd1")
    assert [c.device for c in chargers(tmp_path)] == ["pd1"]


def test_a_host_alone_is_no_charger(tmp_path: Path) -> None:
    plant(tmp_path, FIVE, "pd0")
    link_ports(tmp_path, port0="pd0")
    with pytest.raises(Faulty) as caught:
        chargers(tmp_path)
    assert str(caught.value) == f"{tmp_path}/{PD} has no source; plug the charger in first"


def test_as_json(tmp_path: Path) -> None:
    plant(tmp_path, {**FIVE, "3:battery": {}})
    assert as_json(only(tmp_path)) == {
        "device": "pd1",
        "revision": "3.0",
        "offers": [{"profile": "fixed", "low_v": 5.0, "high_v": 5.0, "current_a": 3.0}],
        "remarks": [
            "3:battery is not regulated: no trigger here asks for it",
            "object 2 is not exported: a kind that this kernel does not know",
        ],
    }
