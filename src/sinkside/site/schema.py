"""The JSON Schema of the site file, for editors that complete and check while one types."""

from typing import Any

from sinkside.site.meanings import described
from sinkside.site.written import SiteWritten


def schema() -> dict[str, Any]:
    """The schema: what may be written where, what it means, with examples.

    It is looser than the reader: a text that it lets through may still be no quantity.
    """
    found = described(SiteWritten.model_json_schema(by_alias=True))
    for section in ("shelf", "market"):
        entries = found["properties"][section]
        entries["additionalProperties"] = {"anyOf": [entries["additionalProperties"], _LIKE]}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **found,
        "title": "sinkside site file",
    }


# An entry that takes what it does not say from a part of the market.
_LIKE = {
    "type": "object",
    "description": "a part of the market, by its name or by like:, with what differs",
    "properties": {
        "like": {"type": "string"},
        "count": {"type": ["integer", "string"]},
        "price": {"type": "string", "examples": ["2.40 EUR"]},
    },
    "not": {"required": ["ports"]},
}
