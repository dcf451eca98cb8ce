"""The JSON Schema of what `outage --json` prints."""

from typing import Any

from sinkside.cli.outage_text import EXTENTS, KINDS
from sinkside.cli.shapes import MAYBE_TEXT, NUMBER, TEXT, VERDICTS, listed, object_of
from sinkside.outages.follows import Ending
from sinkside.rules.verdict import Stakes

_ENDING = {"enum": [ending.value for ending in Ending]}
_EXTENT = object_of(nominal=NUMBER, worst=NUMBER)
_FOLLOWS = object_of(
    ending=_ENDING,
    worst_ending=_ENDING,
    rides={"type": ["number", "null"], "minimum": 0, "maximum": 1},
    **dict.fromkeys(EXTENTS, _EXTENT),
)
_DEVICE = object_of(
    id=TEXT,
    port=TEXT,
    words=TEXT,
    verdict={"enum": [*VERDICTS, None]},
    stakes={"enum": [*(s.value for s in Stakes), None]},
    unknowns=listed(TEXT),
    follows={"anyOf": [_FOLLOWS, {"type": "null"}]},
)
_EVENT = object_of(
    event={"enum": list(KINDS)},
    charger=TEXT,
    unit={"type": "integer", "minimum": 1},
    port=MAYBE_TEXT,
    words=TEXT,
    devices=listed(_DEVICE),
)

OUTAGE_SCHEMA: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "sinkside outage",
    **object_of(sinkside=TEXT, site=TEXT, events=listed(_EVENT)),
}
