"""A report of what conducts as plain data for JSON, and the schema of it."""

from typing import Any, get_args

from sinkside.grounds.at_site import Report, Ring
from sinkside.grounds.back_feed import Through
from sinkside.grounds.meetings import MeetingKind
from sinkside.grounds.remedies import RemedyKind
from sinkside.grounds.touch import Touch
from sinkside.rules.verdict import Verdict


def as_json(report: Report) -> dict[str, Any]:
    """The whole of a report."""
    return {
        "shorts": [_ring(ring) for ring in report.shorts],
        "loops": [_ring(ring) for ring in report.loops],
        "back_feeds": [
            {
                "through": feed.through,
                "source": feed.source,
                "into": feed.into,
                "likely": feed.likely,
                "words": feed.words,
                "remedies": list(feed.remedies),
            }
            for feed in report.back_feeds
        ],
        "touch": [_touch(touch) for touch in report.touches],
        "assumed": list(report.assumed),
    }


def _ring(ring: Ring) -> dict[str, Any]:
    found = ring.meeting
    return {
        "kind": found.kind,
        "verdict": found.verdict.word,
        "certain": found.certain,
        "devices": list(found.devices),
        "conductors": [edge.words for edge in found.edges],
        "volts_v": list(found.volts_v),
        "unknowns": list(found.unknowns),
        "words": ring.words,
        "remedies": [
            {
                "kind": remedy.kind,
                "on": remedy.on,
                "words": remedy.words,
                "clears": remedy.clears,
                "cents": remedy.cents,
            }
            for remedy in ring.remedies
        ],
    }


def _touch(touch: Touch) -> dict[str, Any]:
    return {
        "devices": list(touch.devices),
        "supplies": list(touch.supplies),
        "earthed": touch.earthed,
        "least_a": touch.least_a,
        "most_a": touch.most_a,
        "verdict": touch.verdict.word,
        "words": touch.words,
    }


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


_TEXT = {"type": "string"}
_YES_NO = {"type": "boolean"}
_NUMBER = {"type": "number", "minimum": 0}
_VERDICT = {"enum": [verdict.word for verdict in Verdict]}
_RING = _object(
    kind={"enum": list(get_args(MeetingKind))},
    verdict=_VERDICT,
    certain=_YES_NO,
    devices=_list(_TEXT),
    conductors=_list(_TEXT),
    volts_v={"type": "array", "items": _NUMBER, "minItems": 2, "maxItems": 2},
    unknowns=_list(_TEXT),
    words=_TEXT,
    remedies=_list(
        _object(
            kind={"enum": list(get_args(RemedyKind))},
            on=_TEXT,
            words=_TEXT,
            clears=_YES_NO,
            cents={"type": ["integer", "null"], "minimum": 0},
        )
    ),
)

SCHEMA: dict[str, Any] = _object(
    shorts=_list(_RING),
    loops=_list(_RING),
    back_feeds=_list(
        _object(
            through={"enum": list(get_args(Through))},
            source=_TEXT,
            into=_TEXT,
            likely=_YES_NO,
            words=_TEXT,
            remedies=_list(_TEXT),
        )
    ),
    touch=_list(
        _object(
            devices=_list(_TEXT),
            supplies=_list(_TEXT),
            earthed=_YES_NO,
            least_a=_NUMBER,
            most_a=_NUMBER,
            verdict=_VERDICT,
            words=_TEXT,
        )
    ),
    assumed=_list(_TEXT),
)
"""The JSON Schema of what `as_json` gives."""
