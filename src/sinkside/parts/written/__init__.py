"""How parts are written in a file, and what each entry becomes.

The same notation serves the market that comes with the program and the shelf and market of
a site file. Every default in these files is an assumption, and has a spread.
"""

from typing import Annotated, TypeAlias

from pydantic import Field

from sinkside.faults.written import Named, Written
from sinkside.parts.written.converters import ConverterWritten, RailsWritten
from sinkside.parts.written.entry import PartWritten
from sinkside.parts.written.guards import (
    BleederWritten,
    CrowbarWritten,
    DiodeWritten,
    FilterWritten,
    FuseWritten,
    HoldUpWritten,
    ResettableFuseWritten,
    SoftStartWritten,
)
from sinkside.parts.written.leads import (
    AdapterWritten,
    CableWritten,
    LeadWritten,
    PlugWritten,
    SplitterWritten,
)
from sinkside.parts.written.triggers import TriggerWritten

AnyPartUnion: TypeAlias = (
    CableWritten
    | TriggerWritten
    | LeadWritten
    | PlugWritten
    | AdapterWritten
    | SplitterWritten
    | ConverterWritten
    | RailsWritten
    | FuseWritten
    | ResettableFuseWritten
    | SoftStartWritten
    | DiodeWritten
    | HoldUpWritten
    | FilterWritten
    | CrowbarWritten
    | BleederWritten
)
AnyPart: TypeAlias = Annotated[AnyPartUnion, Field(discriminator="is_")]


class MarketWritten(Written):
    """A file of parts that can be bought."""

    parts: Named[AnyPart]


__all__ = ["AnyPart", "AnyPartUnion", "MarketWritten", "PartWritten"]
