"""Whole small sites for the report: devices with plain leads, and what is said of their bricks."""

from typing import Any

from tests.paths import small_parts as small

from sinkside.mixups.at_site import Report, pairs, report
from sinkside.parts import market
from sinkside.parts.part import Part
from sinkside.site.read import read

HEAD = "site: {name: T}\nrules: {solder: %s%s}\ndevices:\n"


def made_up(volts: float, centre: str = "positive", plug: str = "5.5x2.1") -> tuple[Part, ...]:
    """A chain of plain parts that ends in a lead of the market."""
    lead = next(
        p
        for p in market.parts()
        if p.kind == "lead" and (p.gives.plug, p.gives.centre) == (plug, centre)
    )
    return (small.cable(), small.trigger(volts), small.fuse(0.8), lead)


def site(
    devices: dict[str, str], *, solder: str = "yes", rules: str = "", shelf: str = "{}"
) -> Any:
    """A site with what is said of each device beside its plug."""
    lines = [f"  {name}: {{use: ordinary{said}}}" for name, said in devices.items()]
    body = "\n".join(lines)
    return read(f"{HEAD % (solder, rules)}{body}\nshelf: {shelf}\n", "t.yaml")


def plain(said: str = "", plug: str = "5.5x2.1", volts: int = 9) -> str:
    """What is said of a device."""
    return f', plate: "{volts}V DC 500mA", inlet: {{plug: {plug}}}{said}'


def told(
    found: Any,
    appliances: list[Any],
    fronts: list[tuple[str, Any]],
    bought: tuple[tuple[str, int], ...] = (),
    **more: Any,
) -> Report:
    """The report of a site with those surveyed devices and chains."""
    return report(pairs(found, appliances, fronts, bought, **more))
