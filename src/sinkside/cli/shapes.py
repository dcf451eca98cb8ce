"""The shapes that all JSON documents and their schemas are put together from."""

import math
from typing import Any

from sinkside.rules.verdict import Verdict

TEXT = {"type": "string"}
MAYBE_TEXT = {"type": ["string", "null"]}
NUMBER = {"type": ["number", "null"]}
COUNT = {"type": "integer", "minimum": 0}
VERDICTS = [v.word for v in Verdict]


def object_of(**properties: Any) -> dict[str, Any]:
    """An object with exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def listed(items: dict[str, Any]) -> dict[str, Any]:
    """An array of such things."""
    return {"type": "array", "items": items}


def finite(value: float | None) -> float | None:
    """JSON has no infinities and no not-a-number: both are null."""
    return None if value is None or not math.isfinite(value) else value
