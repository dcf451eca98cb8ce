"""A report of mix-ups as plain data for JSON, and the schema of it."""

from typing import Any

from sinkside.cli.shapes import MAYBE_TEXT, TEXT, VERDICTS, listed, object_of
from sinkside.mixups.at_site import Report
from sinkside.mixups.elsewhere import Elsewhere
from sinkside.mixups.ends import EndOf
from sinkside.mixups.old_brick import OldBrick, Range
from sinkside.mixups.outcome import MAY_NOT_RUN, Cell, Outcome
from sinkside.mixups.sentences import doing, staying
from sinkside.mixups.separate import Separation


def as_json(report: Report) -> dict[str, Any]:
    """The whole of a report."""
    untied = report.without_ties
    return {
        "cells": [_cell(cell) for cell in report.cells],
        "bricks": [_brick(brick) for brick in report.bricks],
        "separation": _separation(report.separation),
        "without_ties": _separation(untied) if untied else None,
        "at_other_ports": [_elsewhere(found) for found in report.elsewhere],
        "labels": [{"on": label.on, "lines": list(label.lines)} for label in report.labels],
    }


def _cell(cell: Cell) -> dict[str, Any]:
    return {
        "lead": cell.lead,
        "source": cell.source,
        "inlet": cell.inlet,
        "outcome": cell.word,
        "harmful": cell.harmful,
        "sure": cell.sure,
        "loose": cell.loose,
        "own": cell.own,
        "rule": cell.rule or None,
        "state": cell.state or None,
        "top_v": cell.top_v,
        "harmed_above_v": _range(cell.harmed_above_v),
    }


def _range(ends: Range | None) -> list[float] | None:
    return list(ends) if ends is not None else None


def _brick(brick: OldBrick) -> dict[str, Any]:
    return {
        "device": brick.device,
        "plug": brick.plug,
        "own": brick.own,
        "in_use": brick.in_use,
        "kind": brick.kind,
        "centre": brick.centre,
        "centre_is_sure": brick.centre_is_sure,
        "plate_v": _range(brick.plate_v),
        "regulates": brick.regulates,
        "open_v": _range(brick.open_v),
        "loaded_v": _range(brick.loaded_v),
        "loaded_a": _range(brick.loaded_a),
        "carries_a": _range(brick.carries_a),
    }


def _separation(found: Separation) -> dict[str, Any]:
    return {
        "change": [
            {
                "device": device,
                "lead": _end(choice.lead),
                "inlet": _end(choice.inlet),
                "joints": choice.joints,
                "do": list(choice.words),
            }
            for device, choice in found.chosen
        ],
        "tie": [
            {"lead": device, "source": source, "stored": (device, source) in found.stored}
            for device, source in found.tied
        ],
        "left": [
            {
                "lead": pair.lead,
                "source": pair.source,
                "inlet": pair.inlet,
                "verdict": pair.verdict.word,
            }
            for pair in found.left
        ],
        "buy": [{"part": part, "count": count} for part, count in found.bought],
        "do": list(doing(found)),
        "stays": list(staying(found)),
        "cents": found.cents,
        "joints": found.joints,
        "levels": [
            {"name": level.name, "value": level.value, "proven": level.proven}
            for level in found.levels
        ],
    }


def _end(end: EndOf) -> dict[str, Any]:
    return {"plug": end.plug, "centre": end.centre, "fixed_poles": end.fixed_poles}


def _elsewhere(found: Elsewhere) -> dict[str, Any]:
    return {
        "lead": found.lead,
        "charger": found.charger,
        "port": found.port,
        "outcome": found.word,
        "harmful": found.harmful,
        "rule": found.rule or None,
        "state": found.state or None,
        "top_v": found.top_v,
    }


_YES_NO = {"type": "boolean"}
_MAYBE = {"type": ["boolean", "null"]}
_NUMBER = {"type": "number"}
_WHOLE = {"type": "integer"}
_SOURCE = {"enum": ["lead", "brick"]}
_WORD = {"enum": [*(outcome.value for outcome in Outcome), MAY_NOT_RUN]}
_POLE = {"enum": ["positive", "negative", None]}
_ENDS = {"type": "array", "items": _NUMBER, "minItems": 2, "maxItems": 2}
_MAYBE_ENDS = {"anyOf": [_ENDS, {"type": "null"}]}
_END = object_of(plug=TEXT, centre=_POLE, fixed_poles=_YES_NO)
_SEPARATION = object_of(
    change=listed(object_of(device=TEXT, lead=_END, inlet=_END, joints=_WHOLE, do=listed(TEXT))),
    tie=listed(object_of(lead=TEXT, source=_SOURCE, stored=_YES_NO)),
    left=listed(object_of(lead=TEXT, source=_SOURCE, inlet=TEXT, verdict={"enum": VERDICTS})),
    buy=listed(object_of(part=TEXT, count=_WHOLE)),
    do=listed(TEXT),
    stays=listed(TEXT),
    cents=_WHOLE,
    joints=_WHOLE,
    levels=listed(object_of(name=TEXT, value=_WHOLE, proven=_YES_NO)),
)

SCHEMA: dict[str, Any] = object_of(
    cells=listed(
        object_of(
            lead=TEXT,
            source=_SOURCE,
            inlet=TEXT,
            outcome=_WORD,
            harmful=_YES_NO,
            sure=_YES_NO,
            loose=_YES_NO,
            own=_YES_NO,
            rule=MAYBE_TEXT,
            state=MAYBE_TEXT,
            top_v={"type": ["number", "null"]},
            harmed_above_v=_MAYBE_ENDS,
        )
    ),
    bricks=listed(
        object_of(
            device=TEXT,
            plug=TEXT,
            own=_YES_NO,
            in_use=_YES_NO,
            kind={"enum": ["dc", "ac", "unknown"]},
            centre=_POLE,
            centre_is_sure=_YES_NO,
            plate_v=_MAYBE_ENDS,
            regulates=_MAYBE,
            open_v=_ENDS,
            loaded_v=_MAYBE_ENDS,
            loaded_a=_MAYBE_ENDS,
            carries_a=_ENDS,
        )
    ),
    separation=_SEPARATION,
    without_ties={"anyOf": [_SEPARATION, {"type": "null"}]},
    at_other_ports=listed(
        object_of(
            lead=TEXT,
            charger=TEXT,
            port=TEXT,
            outcome=_WORD,
            harmful=_YES_NO,
            rule=MAYBE_TEXT,
            state=MAYBE_TEXT,
            top_v=_NUMBER,
        )
    ),
    labels=listed(object_of(on=TEXT, lines=listed(TEXT))),
)
"""The JSON Schema of what `as_json` gives."""
