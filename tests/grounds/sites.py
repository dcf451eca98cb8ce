"""Whole small sites with seats, for what is told of a site."""

from typing import Any

from tests.paths import small_parts as small

from sinkside.grounds.at_site import Report, report
from sinkside.site.read import read

HEAD = "site: {name: T}\nrules: {solder: yes}\ndevices:\n"


def site(devices: dict[str, str], links: str = "[]", groups: str = "[]", shelf: str = "") -> Any:
    """A site of ordinary 9 V devices, each with what is said of it."""
    lines = [
        f'  {name}: {{use: ordinary, plate: "9V DC 500mA", {said}}}'
        for name, said in devices.items()
    ]
    tail = f"\nlinks: {links}\ngroups: {groups}\n"
    chargers = shelf or 'spare: {is: charger, output_earth: floating, ports: {C1: "5V⎓3A"}}'
    return read(f"{HEAD}{chr(10).join(lines)}{tail}shelf: {{{chargers}}}\n", "t.yaml")


def told(found: Any, grounds: dict[str, str], seats: dict[str, tuple[Any, int]]) -> Report:
    """The report of a site, with plain grounds and fronts of 9 V on those chargers."""
    appliances = [small.device(d.id, ground=grounds[d.id]) for d in found.devices]
    seated = {name: (small.front(charger), unit) for name, (charger, unit) in seats.items()}
    return report(found, appliances, seated)
