"""Which plug harms which device, and what conducts between them, as one JSON document."""

from typing import Any

from sinkside import __version__
from sinkside.cli import conductors_json, plugs_json
from sinkside.cli.shapes import TEXT, object_of
from sinkside.grounds.remedies import NEVER
from sinkside.plan.kept_apart import KeptApart


def as_json(told: KeptApart) -> dict[str, Any]:
    """Everything about keeping things apart."""
    return {
        "sinkside": __version__,
        "site": told.site,
        "currency": told.currency,
        "fails": told.fails,
        "plugs": plugs_json.as_json(told.plugs),
        "conductors": conductors_json.as_json(told.conductors),
        "never": NEVER,
    }


SCHEMA: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "sinkside mixups",
    **object_of(
        sinkside=TEXT,
        site=TEXT,
        currency=TEXT,
        fails={"type": "boolean"},
        plugs=plugs_json.SCHEMA,
        conductors=conductors_json.SCHEMA,
        never=TEXT,
    ),
}
"""The JSON Schema of what `as_json` gives."""
