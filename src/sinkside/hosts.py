"""Chargers as a Linux host sees them: the trees under /sys/class, read into a shelf entry.

The kernel exports what a charger said when it was plugged in: one folder for each object
of its list, named by position and kind. Objects that the kernel does not know are left out,
so gaps in the positions are normal, and are told.

References
----------
Linux sysfs ABI documents `usb_power_delivery` and `typec` (read).
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from sinkside.faults import Fault, Faulty, NotUnderstood
from sinkside.faults.splice import scalar
from sinkside.parts.charger import Offer
from sinkside.quantity import number

PD_TREE = Path("class/usb_power_delivery")
TYPEC_TREE = Path("class/typec")
# One sentence of the ABI spells it with an underscore; the driver makes the hyphen.
CAPABILITIES = ("source-capabilities", "source_capabilities")
MOST_ENTRIES = 64
LONGEST_FILE = 4096
FIVE_V = 5.0
_FIGURE = re.compile(r"^(?P<milli>[0-9]{1,6})\s?m(?P<unit>[VAW])$", re.ASCII)
_OBJECT = re.compile(r"^(?P<position>\d{1,2}):(?P<kind>[a-z_]{1,60})$")


@dataclass(frozen=True, kw_only=True)
class HostCharger:
    """A charger that is plugged into a host.

    Parameters
    ----------
    device
        The kernel's name of the partner's power delivery device, such as `pd1`.
    revision
        As the kernel tells it; empty if it does not.
    remarks
        What was left out or looks odd, in words.
    """

    device: str
    revision: str
    offers: tuple[Offer, ...]
    remarks: tuple[str, ...]


def chargers(root: Path) -> tuple[HostCharger, ...]:
    """Every source that the host under `root` knows.

    Parameters
    ----------
    root
        The folder that stands for /sys.

    Raises
    ------
    Faulty
        There is no such tree, it cannot be read, or a value in it is not understood; with
        every such fault.
    """
    tree = root / PD_TREE
    faults: list[Fault] = []
    found = []
    for folder in _folders(tree):
        capabilities = next((folder / c for c in CAPABILITIES if (folder / c).is_dir()), None)
        if capabilities is not None:
            found.append(_charger(folder, capabilities, faults))
    if faults:
        raise Faulty(faults)
    if not found:
        where = f"{tree} has no source"
        raise Faulty([Fault(code="no-source", wrong=where, right="plug the charger in first")])
    return tuple(found)


def _folders(tree: Path) -> list[Path]:
    try:
        entries = sorted(p for p in tree.iterdir() if p.is_dir())
    except OSError as error:
        wrong = f"{tree}: {error.strerror}"
        right = "this host has no such tree, or no kernel that fills it"
        raise Faulty([Fault(code="no-tree", wrong=wrong, right=right)]) from None
    return entries[:MOST_ENTRIES]


def _charger(folder: Path, capabilities: Path, faults: list[Fault]) -> HostCharger:
    offers: list[Offer] = []
    remarks: list[str] = []
    positions: list[int] = []
    for entry in _folders(capabilities):
        named = _OBJECT.match(entry.name)
        if named is None:
            if entry.name != "power":  # every device in the tree has this one
                remarks.append(f"{entry.name!r} is no object and was left out")
            continue
        positions.append(int(named["position"]))
        try:
            offers += _offers(entry, named["kind"], remarks)
        except NotUnderstood as error:
            faults.append(error.fault)
    remarks += _gaps(sorted(positions))
    return HostCharger(
        device=folder.name,
        revision=_text(folder / "revision") or "",
        offers=tuple(sorted(set(offers))),
        remarks=tuple(remarks),
    )


def _gaps(positions: list[int]) -> Iterator[str]:
    for position in sorted(set(range(1, max(positions, default=0) + 1)) - set(positions)):
        yield f"object {position} is not exported: a kind that this kernel does not know"
    for position in sorted({p for p in positions if positions.count(p) > 1}):
        yield f"object {position} is exported twice"


def _offers(entry: Path, kind: str, remarks: list[str]) -> list[Offer]:
    """The offers of one object folder."""
    match kind:
        case "fixed_supply":
            volts = _value(entry, "voltage", "V")
            amps = _value(entry, "maximum_current", "A")
            return [Offer(low_v=volts, high_v=volts, current_a=amps)]
        case "programmable_supply":
            return [
                Offer(
                    low_v=_value(entry, "minimum_voltage", "V"),
                    high_v=_value(entry, "maximum_voltage", "V"),
                    current_a=_value(entry, "maximum_current", "A"),
                    profile="pps",
                )
            ]
        case "spr_adjustable_voltage_supply":
            lower = _value(entry, "maximum_current_9V_to_15V", "A")
            upper = _value(entry, "maximum_current_15V_to_20V", "A")
            found = [Offer(low_v=9.0, high_v=15.0, current_a=lower, profile="avs")]
            if upper > 0.0:
                found.append(Offer(low_v=15.0, high_v=20.0, current_a=upper, profile="avs"))
            return found
        case "variable_supply" | "battery":
            remarks.append(f"{entry.name} is not regulated: no trigger here asks for it")
            return []
        case _:
            remarks.append(f"{entry.name} is a kind that is not known here, and was left out")
            return []


def _value(entry: Path, name: str, unit: str) -> float:
    """A figure such as `5000mV`; every figure in the tree carries its unit."""
    text = _text(entry / name)
    if text is None:
        raise NotUnderstood(
            f"{entry / name} cannot be read", "the kernel gives one for this kind", code="no-file"
        )
    found = _FIGURE.match(text)
    if found is None or found["unit"] != unit:
        raise NotUnderstood(
            f"{entry / name}: {text[:40]!r} is no figure that the kernel writes",
            f"a figure such as 5000m{unit} is wanted",
        )
    return int(found["milli"]) / 1000


def _text(file: Path) -> str | None:
    """The text of a small file; None if there is none, it is too large or it is not text."""
    try:
        if not file.is_file():  # a pipe would keep everybody waiting
            return None
        with file.open("rb") as stream:
            raw = stream.read(LONGEST_FILE + 1)
    except OSError:
        return None
    if len(raw) > LONGEST_FILE:
        return None
    return raw.decode("utf-8", "replace").strip()


def shelf_entry(name: str, charger: HostCharger) -> str:
    """A shelf entry for a site file: one port, as it is while nothing else is plugged in.

    Parameters
    ----------
    name
        What the charger is called in the site file.
    """
    if not name.strip() or not name.isprintable():
        raise NotUnderstood(f"{name!r} is no name", "write a word, such as tower")
    if not any(offer.fixed_v == FIVE_V for offer in charger.offers):
        raise NotUnderstood(
            f"{charger.device} does not offer 5 V, and every source does",
            "it is no charger, or the kernel did not tell all of its list",
        )
    listed = " ".join(_printed(offer) for offer in charger.offers)
    lines = [
        f"  {scalar(name)}:",
        "    is: charger",
        f'    ports: {{C1: "{listed}"}}  # this port alone; add the others, and together:',
    ]
    lines += [f"    # {' '.join(remark.split())}" for remark in charger.remarks]
    return "\n".join(lines) + "\n"


def _printed(offer: Offer) -> str:
    amps = number(offer.current_a, "A").replace(" ", "")
    if offer.profile == "fixed":
        return f"{offer.low_v:g}V⎓{amps}"
    return f"{offer.profile.upper()} {offer.low_v:g}-{offer.high_v:g}V⎓{amps}"


def as_json(charger: HostCharger) -> dict[str, object]:
    """A charger as JSON takes it."""
    return {
        "device": charger.device,
        "revision": charger.revision,
        "offers": [
            {
                "profile": o.profile,
                "low_v": o.low_v,
                "high_v": o.high_v,
                "current_a": o.current_a,
            }
            for o in charger.offers
        ],
        "remarks": list(charger.remarks),
    }
