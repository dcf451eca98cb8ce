"""The JSON Schema of what `plan --json` prints."""

from typing import Any

from sinkside.cli import company_json, wishes
from sinkside.cli.shapes import COUNT, MAYBE_TEXT, NUMBER, TEXT, VERDICTS, listed, object_of
from sinkside.plan.model import Action
from sinkside.rules.table import RULES
from sinkside.rules.verdict import Stakes

_SYMBOL = object_of(
    symbol=TEXT, meaning=TEXT, value=NUMBER, low=NUMBER, high=NUMBER, unit=TEXT, basis=TEXT
)
_WORKING = object_of(formula=TEXT, symbols=listed(_SYMBOL), result=NUMBER, source=TEXT)
_FINDING = object_of(
    rule={"enum": [rule.id for rule in RULES]},
    stakes={"enum": [s.value for s in Stakes]},
    verdict={"enum": VERDICTS},
    plausibility={"type": ["number", "null"], "minimum": 0, "maximum": 1},
    margin=NUMBER,
    unit=MAYBE_TEXT,
    state=MAYBE_TEXT,
    unknowns=listed(TEXT),
    words=MAYBE_TEXT,
    working={"anyOf": [_WORKING, {"type": "null"}]},
)
_CHOSEN = object_of(
    charger=TEXT,
    unit={"type": "integer", "minimum": 1},
    port=TEXT,
    contract_v={"type": "number"},
    stages=listed(object_of(part=TEXT, kind=TEXT, setting=MAYBE_TEXT, words=TEXT)),
    findings=listed(_FINDING),
    risks=listed(TEXT),
)
_MEASURE = object_of(
    id=TEXT,
    title=TEXT,
    kit=TEXT,
    minutes=COUNT,
    how=TEXT,
    expect=TEXT,
    decides=TEXT,
    settles=listed(TEXT),
)
_DEVICE = object_of(
    id=TEXT,
    verdict={"enum": [*VERDICTS, None]},
    action={"enum": [a.value for a in Action]},
    why=TEXT,
    chosen={"anyOf": [_CHOSEN, {"type": "null"}]},
    rejected=listed(object_of(reason=TEXT, count=COUNT, example=TEXT)),
    measure=listed(_MEASURE),
    refusals=listed(object_of(why=TEXT, ask=TEXT)),
    cautions=listed(object_of(why=TEXT, ask=TEXT)),
)

PLAN_SCHEMA: dict[str, Any] = {
    "$schema": "https://json-schema.org/draft/2020-12/schema",
    "title": "sinkside plan",
    **object_of(
        sinkside=TEXT,
        site=TEXT,
        devices=listed(_DEVICE),
        **company_json.PROPERTIES,
        buy=listed(object_of(part=TEXT, count=COUNT)),
        mixups=listed(object_of(lead=TEXT, inlet=TEXT, outcome=TEXT, loose={"type": "boolean"})),
        wishes=listed(wishes.SCHEMA),
        warnings=listed(TEXT),
    ),
}
