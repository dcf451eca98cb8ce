"""The tree `usb_power_delivery`: the list that a source sent, one folder for each object.

Folders are named by position and kind. Objects that the kernel does not know are left out, so
gaps in the positions are normal, and are told. Lists of the extended power range are never there.

References
----------
Linux sysfs ABI document `usb_power_delivery` (read).
"""

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Literal

from sinkside.faults import Fault, NotUnderstood
from sinkside.hosts.tree import folders, is_folder, shown, text
from sinkside.parts.charger import Offer
from sinkside.parts.port_list import HIGHEST_A, HIGHEST_V
from sinkside.quantity import number

PD_TREE = Path("class/usb_power_delivery")
# One sentence of the ABI spells it with an underscore; the driver makes the hyphen.
CAPABILITIES = ("source-capabilities", "source_capabilities")
FIVE_V = 5.0
# From memory: what the first programmable supplies were allowed; a site file takes no less.
LOWEST_V = 3.0
FULL_SPR_V = 20.0
_FIGURE = re.compile(r"(?P<milli>[0-9]{1,6})\s?m(?P<unit>[VAW])", re.ASCII)
_OBJECT = re.compile(r"(?P<position>\d{1,2}):(?P<kind>[a-z_]{1,60})", re.ASCII)


def source_lists(tree: Path, faults: list[Fault]) -> list[tuple[Path, Path]]:
    """Every device of the tree that has a source's list, and the folder of that list.

    Raises
    ------
    NotUnderstood
        There is no such tree, or it cannot be read.
    """
    found = []
    for device in folders(tree):
        try:
            listed = next((device / c for c in CAPABILITIES if is_folder(device / c)), None)
        except NotUnderstood as error:
            faults.append(error.fault)
            continue
        if listed is not None:
            found.append((device, listed))
    return found


def read_list(listed: Path, faults: list[Fault]) -> tuple[tuple[Offer, ...], list[str]]:
    """What a source offers, and what was left out of its list or looks odd, in words."""
    offers: list[Offer] = []
    remarks: list[str] = []
    positions: list[int] = []
    for entry in _objects(listed, faults):
        named = _OBJECT.fullmatch(entry.name)
        if named is None:
            if entry.name != "power":  # every device in the tree has this one
                remarks.append(f"{entry.name!r} is no object and was left out")
            continue
        positions.append(int(named["position"]))
        offers += _Supply(entry, remarks, faults).offers(named["kind"])
    remarks += _gaps(positions)
    if any(o.fixed_v == FULL_SPR_V and o.current_a >= HIGHEST_A for o in offers):
        remarks.append("it may offer more than 20 V as well: the kernel never tells that list")
    return tuple(sorted(set(offers))), remarks


def _objects(listed: Path, faults: list[Fault]) -> list[Path]:
    try:
        return folders(listed)
    except NotUnderstood as error:
        faults.append(error.fault)
        return []


def _gaps(positions: list[int]) -> Iterator[str]:
    for position in sorted(set(range(1, max(positions, default=0) + 1)) - set(positions)):
        yield f"object {position} is not exported: a kind that this kernel does not know"
    for position in sorted({p for p in positions if positions.count(p) > 1}):
        yield f"object {position} is exported twice"


class _Supply:
    """One object folder; what is wrong with it goes to `faults`, what is odd to `remarks`."""

    def __init__(self, entry: Path, remarks: list[str], faults: list[Fault]) -> None:
        self.entry = entry
        self.remarks = remarks
        self.faults = faults

    def offers(self, kind: str) -> Iterator[Offer]:
        match kind:
            case "fixed_supply":
                volts, amps = self.figure("voltage", "V"), self.figure("maximum_current", "A")
                yield from self.offer(volts, volts, amps, "fixed")
            case "programmable_supply":
                low = self.figure("minimum_voltage", "V")
                high = self.figure("maximum_voltage", "V")
                yield from self.offer(low, high, self.figure("maximum_current", "A"), "pps")
                # A printed list cannot say it, so it goes beside the entry.
                if text(self.entry / "pps_power_limited") == "1":
                    self.remark("may give less than its current: the rated power limits it")
            case "spr_adjustable_voltage_supply":
                lower = self.figure("maximum_current_9V_to_15V", "A")
                upper = self.figure("maximum_current_15V_to_20V", "A")
                yield from self.offer(9.0, 15.0, lower, "avs")
                if upper != 0.0:  # from memory: none means that there is no such range
                    yield from self.offer(15.0, 20.0, upper, "avs")
            case "variable_supply" | "battery":
                self.remark("is not regulated: no trigger here asks for it")
            case _:
                self.remark("is a kind that is not known here, and was left out")

    def remark(self, words: str) -> None:
        self.remarks.append(f"{self.entry.name} {words}")

    def offer(
        self,
        low: float | None,
        high: float | None,
        amps: float | None,
        profile: Literal["fixed", "pps", "avs"],
    ) -> Iterator[Offer]:
        """The offer of those figures, as far as a port can have it."""
        if low is None or high is None or amps is None:
            return  # told as a fault already
        if amps == 0.0:
            self.remark("offers no current, and was left out")
        elif low > high or (low == high and profile != "fixed"):
            self.remark(f"runs from {low:g} V to {high:g} V, which is no range, and was left out")
        elif high > HIGHEST_V or high < LOWEST_V:
            self.remark(f"is at {high:g} V, which no port has, and was left out")
        else:
            if low < LOWEST_V:
                self.remark(f"starts at {low:g} V; written from {LOWEST_V:g} V")
            if amps > HIGHEST_A:
                self.remark(f"is said to give {number(amps, 'A')}; no contract takes more than 5 A")
            yield Offer(
                low_v=max(low, LOWEST_V),
                high_v=high,
                current_a=min(amps, HIGHEST_A),
                profile=profile,
            )

    def figure(self, name: str, unit: str) -> float | None:
        """A figure such as `5000mV`; every figure in the tree carries its unit."""
        file = self.entry / name
        place = shown(str(file))
        said = text(file)
        if said is None:
            wrong, right = f"{place} cannot be read", "the kernel gives one for this kind"
            self.faults.append(Fault(code="no-file", wrong=wrong, right=right))
            return None
        found = _FIGURE.fullmatch(said)
        milli = int(found["milli"]) if found and found["unit"] == unit else None
        if milli is None or (milli == 0 and unit == "V"):  # a supply of 0 V ends the list
            wrong = f"{place}: {said[:40]!r} is no figure that the kernel writes"
            right = f"a figure such as 5000m{unit} is wanted"
            self.faults.append(Fault(code="not-understood", wrong=wrong, right=right))
            return None
        return milli / 1000
