"""The appendix: for every chosen chain each finding, and how its figure came about."""

from dataclasses import dataclass

from sinkside.making.of_plan import code
from sinkside.making.words import chain
from sinkside.paths.findings import working
from sinkside.plan.model import Chosen, DevicePlan, Plan
from sinkside.quantity import rounded
from sinkside.rules.finding import Finding
from sinkside.working import Working

DIGITS = 4


@dataclass(frozen=True, kw_only=True)
class Worked:
    """One finding.

    Parameters
    ----------
    margin
        Distance to the limit, in words; empty if the rule has none.
    unknowns
        What is not known and moves it, the weightiest first.
    working
        None of a rule without a formula.
    """

    rule: str
    title: str
    stakes: str
    verdict: str
    margin: str
    state: str
    words: str
    unknowns: tuple[str, ...]
    working: Working | None
    source: str


@dataclass(frozen=True, kw_only=True)
class Appendix:
    """The findings of one chain."""

    device: str
    code: str
    chain: str
    findings: tuple[Worked, ...]


def appendix(device: DevicePlan) -> Appendix | None:
    """The findings of a device's chain with their workings; None without a chain."""
    chosen = device.chosen
    if chosen is None:
        return None
    return Appendix(
        device=device.id,
        code=code(device),
        chain=chain(chosen),
        findings=tuple(_worked(finding, chosen) for finding in chosen.findings),
    )


def appendices(plan: Plan) -> tuple[Appendix, ...]:
    """The appendix of every device that has a chain, in the order of the plan."""
    found = (appendix(device) for device in plan.devices)
    return tuple(one for one in found if one is not None)


def _worked(finding: Finding, chosen: Chosen) -> Worked:
    rule = finding.about
    shown = finding.working
    if shown is None and rule.formula and rule.judged != "company":
        shown = working(finding, chosen.judged, chosen.index)
    margin = finding.margin
    return Worked(
        rule=finding.rule,
        title=rule.title,
        stakes=finding.stakes.value,
        verdict=finding.verdict.word,
        margin="" if margin is None else rounded(margin, rule.unit, DIGITS),
        state=finding.state,
        words=finding.words,
        unknowns=finding.unknowns,
        working=shown,
        source=str(rule.source),
    )
