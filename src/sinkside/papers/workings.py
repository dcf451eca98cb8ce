"""The appendix: every finding on every chosen chain with its working, as plain data."""

from collections.abc import Sequence

from sinkside.making.workings import Appendix, Worked
from sinkside.papers.issue import Issue, Json
from sinkside.working import Working

TITLE = "Workings"
AGAIN = (
    "Each formula with the values that stand below it gives its result again. Low and high are "
    "the range that the value was taken from, at the corner that decides."
)


def workings_data(appendices: Sequence[Appendix], issue: Issue) -> dict[str, Json]:
    """Of each device with a chain, every finding."""
    return {
        **issue.head(TITLE),
        "again": AGAIN,
        "devices": [
            {
                "device": found.device,
                "code": found.code,
                "chain": found.chain,
                "findings": [_finding(worked) for worked in found.findings],
            }
            for found in appendices
        ],
    }


def _finding(worked: Worked) -> dict[str, Json]:
    return {
        "rule": worked.rule,
        "title": worked.title,
        "stakes": worked.stakes,
        "verdict": worked.verdict,
        "margin": worked.margin,
        "state": worked.state,
        "words": worked.words,
        "unknowns": list(worked.unknowns),
        "source": worked.source,
        "working": None if worked.working is None else _working(worked.working),
    }


def _working(working: Working) -> dict[str, Json]:
    return {
        "formula": working.formula,
        "result": f"{_n(working.result)} {working.unit}".removesuffix(" 1"),
        "symbols": [
            {
                "symbol": s.symbol,
                "value": _n(s.value),
                "range": _n(s.low) if s.low == s.high else f"{_n(s.low)} .. {_n(s.high)}",
                "unit": "" if s.unit == "1" else s.unit,
                "basis": s.basis,
                "meaning": s.meaning,
            }
            for s in working.symbols
        ],
    }


def _n(value: float) -> str:
    """So many digits that the result comes out again to eight of them."""
    return f"{value:.9g}"
