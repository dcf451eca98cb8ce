"""Parts from a line of YAML, as a market file would hold them."""

import pytest

from sinkside.faults import Faulty, NotUnderstood
from sinkside.faults.marked_yaml import load
from sinkside.faults.written import read
from sinkside.parts.part import Part
from sinkside.parts.written import MarketWritten


def parts(entry: str) -> tuple[Part, ...]:
    """The parts that one entry named `p` becomes."""
    market = read(MarketWritten, load(f"parts:\n  p: {{{entry}}}\n", "m"))
    return tuple(part for written in market.parts for part in written.parts())


def told(entry: str) -> list[str]:
    """Its faults; those of single values stand at their place in line 2."""
    with pytest.raises((Faulty, NotUnderstood)) as error:
        parts(entry)
    return str(error.value).split("\n")
