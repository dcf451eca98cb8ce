"""The parts that can be bought: those that come with the program."""

from functools import cache
from importlib import resources
from typing import Any

from sinkside.faults import marked_yaml
from sinkside.faults.written import read
from sinkside.parts.part import Part
from sinkside.parts.written import MarketWritten, PartWritten

_FILE = "market.yaml"


@cache
def written() -> dict[str, PartWritten]:
    """The entries of the market that comes with the program, by name."""
    text = resources.files("sinkside.parts").joinpath(_FILE).read_text(encoding="utf-8")
    market = read(MarketWritten, marked_yaml.load(text, _FILE))
    return {entry.id: entry for entry in market.parts}


@cache
def raw() -> dict[str, dict[str, Any]]:
    """The same entries as they are written, for another entry to be `like` one of them."""
    text = resources.files("sinkside.parts").joinpath(_FILE).read_text(encoding="utf-8")
    data = marked_yaml.load(text, _FILE).data
    parts = data["parts"] if isinstance(data, dict) else {}
    return (
        {k: v for k, v in parts.items() if isinstance(v, dict)} if isinstance(parts, dict) else {}
    )


def parts() -> tuple[Part, ...]:
    """Every part of it, once per setting."""
    return tuple(part for entry in written().values() for part in entry.parts())
