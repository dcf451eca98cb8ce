"""The JSON Schema of what `plan --json` prints."""

from typing import Any

from sinkside.plan.model import Action
from sinkside.rules.table import RULES
from sinkside.rules.verdict import Stakes, Verdict

TEXT = {"type": "string"}
MAYBE_TEXT = {"type": ["string", "null"]}
NUMBER = {"type": ["number", "null"]}
COUNT = {"type": "integer", "minimum": 0}
VERDICTS = [v.word for v in Verdict]


def _object(**properties: Any) -> dict[str, Any]:
    """An object with exactly these keys."""
    return {
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
    }


def _list(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items}


_SYMBOL = _object(
    symbol=TEXT, meaning=TEXT, value=NUMBER, low=NUMBER, high=NUMBER, unit=TEXT, basis=TEXT
)
_WORKING = _object(formula=TEXT, symbols=_list(_SYMBOL), result=NUMBER, source=TEXT)
_FINDING = _object(
    rule={"enum": [rule.id for rule in RULES]},
    stakes={"enum": [s.value for s in Stakes]},
    verdict={"enum": VERDICTS},
    plausibility={"type": ["number", "null"], "minimum": 0, "maximum": 1},
    margin=NUMBER,
    unit=MAYBE_TEXT,
    state=MAYBE_TEXT,
    unknowns=_list(TEXT),
    words=MAYBE_TEXT,
    working={"anyOf": [_WORKING, {"type": "null"}]},
)
_CHOSEN = _object(
    charger=TEXT,
    unit={"type": "integer", "minimum": 1},
    port=TEXT,
    contract_v={"type": "number"},
    stages=_list(_object(part=TEXT, kind=TEXT, setting=MAYBE_TEXT, words=TEXT)),
    findings=_list(_FINDING),
    risks=_list(TEXT),
)
_MEASURE = _object(
    id=TEXT,
    title=TEXT,
    kit=TEXT,
    minutes=COUNT,
    how=TEXT,
    expect=TEXT,
    decides=TEXT,
    settles=_list(TEXT),
)
_DEVICE = _object(
    id=TEXT,
    verdict={"enum": [*VERDICTS, None]},
    action={"enum": [a.value for a in Action]},
    why=TEXT,
    chosen={"anyOf": [_CHOSEN, {"type": "null"}]},
    rejected=_list(_object(reason=TEXT, count=COUNT, example=TEXT)),
    measure=_list(_MEASURE),
    refusals=_list(_object(why=TEXT, ask=TEXT)),
    cautions=_list(_object(why=TEXT, ask=TEXT)),
)

PLAN_SCHEMA: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "sinkside plan",
    **_object(
        sinkside=TEXT,
        site=TEXT,
        devices=_list(_DEVICE),
        levels=_list(_object(name=TEXT, value={"type": "integer"}, proven={"type": "boolean"})),
        buy=_list(_object(part=TEXT, count=COUNT)),
        mixups=_list(_object(lead=TEXT, inlet=TEXT, outcome=TEXT, loose={"type": "boolean"})),
        warnings=_list(TEXT),
    ),
}
