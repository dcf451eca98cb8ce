"""A report of what conducts as plain data for JSON, and the schema of it."""

from typing import Any, get_args

from sinkside.cli.shapes import TEXT, VERDICTS, listed, object_of
from sinkside.grounds.at_site import Report, Ring
from sinkside.grounds.back_feed import Through
from sinkside.grounds.meetings import MeetingKind
from sinkside.grounds.remedies import RemedyKind
from sinkside.grounds.touch import Touch


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


_YES_NO = {"type": "boolean"}
_NUMBER = {"type": "number", "minimum": 0}
_VERDICT = {"enum": VERDICTS}
_RING = object_of(
    kind={"enum": list(get_args(MeetingKind))},
    verdict=_VERDICT,
    certain=_YES_NO,
    devices=listed(TEXT),
    conductors=listed(TEXT),
    volts_v={"type": "array", "items": _NUMBER, "minItems": 2, "maxItems": 2},
    unknowns=listed(TEXT),
    words=TEXT,
    remedies=listed(
        object_of(
            kind={"enum": list(get_args(RemedyKind))},
            on=TEXT,
            words=TEXT,
            clears=_YES_NO,
            cents={"type": ["integer", "null"], "minimum": 0},
        )
    ),
)

SCHEMA: dict[str, Any] = object_of(
    shorts=listed(_RING),
    loops=listed(_RING),
    back_feeds=listed(
        object_of(
            through={"enum": list(get_args(Through))},
            source=TEXT,
            into=TEXT,
            likely=_YES_NO,
            words=TEXT,
            remedies=listed(TEXT),
        )
    ),
    touch=listed(
        object_of(
            devices=listed(TEXT),
            supplies=listed(TEXT),
            earthed=_YES_NO,
            least_a=_NUMBER,
            most_a=_NUMBER,
            verdict=_VERDICT,
            words=TEXT,
        )
    ),
    assumed=listed(TEXT),
)
"""The JSON Schema of what `as_json` gives."""
