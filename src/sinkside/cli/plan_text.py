"""The plan for people: what to do first, then by which chain, then why."""

import math
import textwrap
from collections.abc import Iterator

from sinkside.advice import advise
from sinkside.figures.window import window
from sinkside.figures.window_text import LEGEND, window_text
from sinkside.papers.words import CAUTIONS, CERTIFIES_NOT, OTHERS_FIRST, doing
from sinkside.paths.findings import working
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.quantity import rounded
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.working import Working

WIDTH = 98


def lines(plan: Plan, device: str | None = None, *, why: bool = False) -> list[str]:
    """The plan as lines of text; one device of it if named."""
    chosen = [d for d in plan.devices if device in (None, d.id)]
    found = [] if device else [*_summary(plan), ""]
    for one in chosen:
        found += [*_device(one, plan, why=why), ""]
    if device is None:
        found += [*_parts(plan), *_warnings(plan)]
    return [*found, *_cautions()]


def _cautions() -> Iterator[str]:
    yield "Always:"
    for caution in CAUTIONS:
        yield from _wrapped(f"- {caution}", indent=2)
    yield from _wrapped(f"{CERTIFIES_NOT} {OTHERS_FIRST}")


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _summary(plan: Plan) -> Iterator[str]:
    """One line a device: name, action, verdict, where."""
    yield plan.site.name
    yield ""
    name_width = min(28, max(len(d.id) for d in plan.devices))
    rows = [(d.id, str(doing(d, plan)), _where(d)) for d in plan.devices]
    where_width = max(len(where) for _, _, where in rows)
    room = WIDTH - name_width - where_width - 4
    for name, action, where in rows:
        wrapped = textwrap.wrap(action, room) or [""]
        yield f"{_cut(name, name_width):{name_width}}  {where:{where_width}}  {wrapped[0]}"
        for more in wrapped[1:]:
            yield f"{'':{name_width}}  {'':{where_width}}  {more}"


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def _where(device: DevicePlan) -> str:
    if device.chosen is None:
        return "–"
    seat = device.chosen.seat
    unit = f" no. {seat.unit}" if device.chosen.front.charger.count > 1 else ""
    return f"{seat.kind}{unit} {seat.port}, {device.chosen.front.trigger.asks_v:g} V"


def _device(device: DevicePlan, plan: Plan, *, why: bool) -> Iterator[str]:
    yield f"── {device.id} " + "─" * max(4, WIDTH - len(device.id) - 4)
    yield from _wrapped(_sentence(str(doing(device, plan))))
    if device.verdict is not None:
        yield f"Verdict: {device.verdict.word}"
    if device.action is not Action.BUILD:
        yield from _wrapped(f"Because: {device.why}")
    for refusal in device.appliance.refusals:
        yield from _wrapped(f"Ask: {refusal.ask}")
    for caution in device.appliance.cautions:
        yield from _wrapped(f"Caution: {caution.why}. Ask: {caution.ask}")
    if device.chosen:
        yield from _wrapped(f"Chain: {device.chosen.front.sentence()}")
        yield ""
        yield from (f"  {line}" for line in window_text(window(device.appliance, device.chosen)))
        yield f"  {LEGEND}"
        yield ""
        yield from _findings(device.chosen, every=why)
        for risk in device.chosen.risks:
            yield from _wrapped(f"Residual risk: {risk}")
    yield from _measure(device, plan, every=why)
    if why:
        yield from _losers(device)
        yield from _workings(device)
        for text in device.appliance.assumptions:
            yield from _wrapped(f"Assumed: {text}")


def _findings(chosen: Chosen, *, every: bool) -> Iterator[str]:
    """What is open, or everything; the tightest that fits is always shown."""
    open_ = [f for f in chosen.findings if f.verdict is not Verdict.FITS and _counts(f)]
    shown = chosen.findings if every else open_
    for f in shown:
        yield _finding_line(f)
    if not every:
        fitting = [f for f in chosen.findings if f.verdict is Verdict.FITS and _counts(f)]
        numbers = [f for f in fitting if f.margin is not None]
        tight = min(numbers, key=_tightness, default=None)
        if tight is not None:
            yield f"{len(fitting)} rules fit; the tightest: {_finding_line(tight).strip()}"


def _counts(finding: Finding) -> bool:
    return finding.stakes is not Stakes.NUISANCE


def _tightness(finding: Finding) -> float:
    return finding.margin if finding.margin is not None else float("inf")


def _finding_line(f: Finding) -> str:
    margin = _margin(f)
    chance = f", holds in {f.plausibility} of 10 plausible cases" if f.plausibility else ""
    state = f" [{f.state}]" if f.state else ""
    return f"  {f.verdict.word:8} {f.stakes.value:10} {f.rule}{margin}{chance}{state}"


def _margin(f: Finding) -> str:
    if f.margin is None:
        return ""
    if math.isinf(f.margin):
        return ", no working point at all"
    return f", margin {rounded(f.margin, f.about.unit)}"


def _measure(device: DevicePlan, plan: Plan, *, every: bool) -> Iterator[str]:
    advice = advise(device, plan)
    if not advice:
        return
    best = advice[0]
    yield from _wrapped(
        f"Measure: {best.measurement.title} ({best.minutes} min, {best.measurement.kit})"
    )
    yield from _wrapped(f"How: {best.measurement.how}.", indent=2)
    yield from _wrapped(f"Expect: {best.expect}.", indent=2)
    yield from _wrapped(f"It decides: {best.measurement.decides}.", indent=2)
    for other in advice[1:] if every else ():
        yield from _wrapped(
            f"Or: {other.measurement.title} ({other.minutes} min, settles "
            f"{', '.join(other.settles)})",
            indent=2,
        )


def _losers(device: DevicePlan) -> Iterator[str]:
    if device.chains:
        yield f"{device.chains} chains were judged. Those that lost:"
    for reject in device.rejected:
        yield from _wrapped(f"{reject.count} × {reject.reason}, such as {reject.example}", indent=2)


def _workings(device: DevicePlan) -> Iterator[str]:
    chosen = device.chosen
    if chosen is None:
        return
    yield "Workings, at the corner that decides:"
    for finding in chosen.findings:
        shown = finding.working
        if shown is None and finding.about.formula and finding.about.judged != "company":
            shown = working(finding, chosen.judged, chosen.index)
        if shown is not None:
            yield from _working(finding, shown)


def _working(finding: Finding, w: Working) -> Iterator[str]:
    yield f"  {finding.rule}: {w.formula} = {rounded(w.result, w.unit, 4)}"
    for s in w.symbols:
        ends = "" if s.low == s.high else f", {s.low:.4g}..{s.high:.4g}"
        yield f"    {s.symbol} = {s.value:.6g} {s.unit}  {s.meaning} ({s.basis}{ends})"
    yield f"    source: {w.source}"


def _parts(plan: Plan) -> Iterator[str]:
    if not plan.bought:
        return
    price = {p.id: p.price_cents for p in plan.site.parts}
    words = {p.id: p.words or p.id for p in plan.site.parts}
    yield "To buy:"
    total, unknown = 0, 0
    for part, count in plan.bought:
        cents = price[part]
        total += (cents or 0) * count
        unknown += cents is None
        shown = "price unknown" if cents is None else f"{cents * count / 100:.2f}"
        yield f"  {count} × {_cut(words[part], 60):60} {shown:>12}"
    more = f", and {unknown} of unknown price" if unknown else ""
    waiting = [d.id for d in plan.devices if d.action is Action.MEASURE]
    yield f"  {'in all, ' + plan.site.currency:64} {total / 100:12.2f}{more}"
    if waiting:
        yield from _wrapped(
            f"Wait with the parts for {', '.join(waiting)} until it is measured.", indent=2
        )
    yield ""


def _warnings(plan: Plan) -> Iterator[str]:
    if not plan.warnings:
        return
    yield "Warnings:"
    for warning in plan.warnings:
        yield from _wrapped(f"- {warning}", indent=2)
    yield ""


def _wrapped(text: str, indent: int = 0) -> list[str]:
    return textwrap.wrap(
        text, WIDTH, initial_indent=" " * indent, subsequent_indent=" " * (indent + 2)
    )
