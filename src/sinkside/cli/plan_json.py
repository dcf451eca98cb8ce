"""The plan as one JSON document; its schema is shipped beside it."""

from collections.abc import Sequence
from typing import Any

from sinkside import __version__
from sinkside.advice import advise
from sinkside.cli import wishes
from sinkside.cli.company_json import company
from sinkside.cli.shapes import finite
from sinkside.paths.findings import working
from sinkside.plan.model import Chosen, DevicePlan, Plan
from sinkside.rules.finding import Finding
from sinkside.sharing import WhyNot
from sinkside.working import Working


def as_json(
    plan: Plan, device: str | None = None, answers: Sequence[WhyNot] = ()
) -> dict[str, Any]:
    """The whole plan, or one device of it.

    Parameters
    ----------
    answers
        To wishes that were put to the plan.
    """
    return {
        "sinkside": __version__,
        "site": plan.site.name,
        "devices": [_device(d, plan) for d in plan.devices if device in (None, d.id)],
        **company(plan),
        "buy": [{"part": part, "count": count} for part, count in plan.bought],
        "mixups": [
            {"lead": c.lead, "inlet": c.inlet, "outcome": c.word, "loose": c.loose}
            for c in plan.mixups
        ],
        "wishes": [wishes.as_json(answer) for answer in answers],
        "warnings": list(plan.warnings),
    }


def _device(device: DevicePlan, plan: Plan) -> dict[str, Any]:
    return {
        "id": device.id,
        "verdict": device.verdict.word if device.verdict is not None else None,
        "action": device.action.value,
        "why": device.why,
        "chosen": _chosen(device.chosen) if device.chosen else None,
        "rejected": [
            {"reason": r.reason, "count": r.count, "example": r.example} for r in device.rejected
        ],
        "measure": [
            {
                "id": a.measurement.id,
                "title": a.title,
                "kit": a.measurement.kit,
                "minutes": a.minutes,
                "how": a.measurement.how,
                "expect": a.expect,
                "decides": a.measurement.decides,
                "settles": list(a.settles),
            }
            for a in advise(device, plan)
        ],
        "refusals": [{"why": r.why, "ask": r.ask} for r in device.appliance.refusals],
        "cautions": [{"why": c.why, "ask": c.ask} for c in device.appliance.cautions],
    }


def _chosen(chosen: Chosen) -> dict[str, Any]:
    front = chosen.front
    return {
        "charger": chosen.seat.kind,
        "unit": chosen.seat.unit,
        "port": chosen.seat.port,
        "contract_v": front.trigger.asks_v,
        "stages": [
            {"part": p.id, "kind": p.kind, "setting": p.setting or None, "words": p.words or p.id}
            for p in front.parts
        ],
        "findings": [_finding(f, chosen) for f in chosen.findings],
        "risks": list(chosen.risks),
    }


def _finding(f: Finding, chosen: Chosen) -> dict[str, Any]:
    shown = f.working
    if shown is None and f.about.formula and f.about.judged != "company":
        shown = working(f, chosen.judged, chosen.index)
    return {
        "rule": f.rule,
        "stakes": f.stakes.value,
        "verdict": f.verdict.word,
        "plausibility": None if f.plausibility is None else f.plausibility / 10,
        "margin": finite(f.margin),
        "unit": f.about.unit or None,
        "state": f.state or None,
        "unknowns": list(f.unknowns),
        "words": f.words or None,
        "working": _working(shown) if shown else None,
    }


def _working(w: Working) -> dict[str, Any]:
    return {
        "formula": w.formula,
        "symbols": [
            {
                "symbol": s.symbol,
                "meaning": s.meaning,
                "value": finite(s.value),
                "low": finite(s.low),
                "high": finite(s.high),
                "unit": s.unit,
                "basis": s.basis,
            }
            for s in w.symbols
        ],
        "result": finite(w.result),
        "source": str(w.source),
    }
