"""The plan for people: what to do first, then by which chain, then why."""

import math
import re
import textwrap
from collections.abc import Iterator

from sinkside.advice import advise
from sinkside.cli import wishes
from sinkside.cli.paragraphs import WIDTH, listed, wrapped
from sinkside.figures.blinks_text import blinks_text
from sinkside.figures.parts_list import parts_text
from sinkside.figures.power_tree import power_trees
from sinkside.figures.power_tree_text import LEGEND as TREE_LEGEND
from sinkside.figures.power_tree_text import power_tree_text
from sinkside.figures.window import window
from sinkside.figures.window_text import LEGEND, window_text
from sinkside.making.words import (
    CAUTIONS,
    CERTIFIES_NOT,
    OTHERS_FIRST,
    cautions_of,
    chain,
    charger_name,
    doing,
    ground_warnings,
    taken,
)
from sinkside.paths.findings import working
from sinkside.plan.blinks import blinks
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan, Reject
from sinkside.plan.parts_list import parts_list
from sinkside.plan.wishes import left_out
from sinkside.quantity import rounded
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.working import Working

_BREAKS = {
    Stakes.HARM: "may harm",
    Stakes.LOSS: "may lose work",
    Stakes.MISBEHAVES: "may misbehave",
    Stakes.NUISANCE: "may annoy",
}
_AT_A_PORT = re.compile(r"^(?P<port>.+?) (?P<lacks>does not offer .+|offers no .+)$")


def lines(plan: Plan, device: str | None = None, *, why: bool = False) -> list[str]:
    """The plan as lines of text; one device of it if named."""
    if device is not None:
        one = plan.device(device)
        return [
            *_device(one, plan, why=why),
            "",
            *_warnings_of(one, plan),
            *_cautions_of(one, plan),
        ]
    found = [*_summary(plan), ""]
    for one in plan.devices:
        found += [*_device(one, plan, why=why), ""]
    return [
        *found,
        *_ports(plan),
        *_blinks(plan),
        *_parts(plan),
        *_warnings(plan),
        *_cautions(),
    ]


def _cautions() -> Iterator[str]:
    yield "Always:"
    for caution in CAUTIONS:
        yield from wrapped(f"- {caution}", indent=2)
    yield from wrapped(f"{CERTIFIES_NOT} {OTHERS_FIRST}")


def _cautions_of(device: DevicePlan, plan: Plan) -> Iterator[str]:
    """What matters most for one device, and where the rest stands."""
    here = " ".join(cautions_of(device, plan))
    if here:
        yield from wrapped(here)
    yield from wrapped(
        f"The plan of the whole site ends with all {len(CAUTIONS)} cautions. "
        f"{CERTIFIES_NOT} {OTHERS_FIRST}"
    )


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _summary(plan: Plan) -> Iterator[str]:
    """One line a device: name, where, action; of what is to be measured, what."""
    yield plan.site.name
    yield ""
    name_width = min(28, max(len(d.id) for d in plan.devices))
    rows = [(d.id, _short(d, plan), _where(d)) for d in plan.devices]
    where_width = max(len(where) for _, _, where in rows)
    room = WIDTH - name_width - where_width - 4
    for name, action, where in rows:
        told = textwrap.wrap(action, room, break_on_hyphens=False) or [""]
        yield f"{_cut(name, name_width):{name_width}}  {where:{where_width}}  {told[0]}"
        for more in told[1:]:
            yield f"{'':{name_width}}  {'':{where_width}}  {more}"


def _short(device: DevicePlan, plan: Plan) -> str:
    what = doing(device, plan)
    return str(what) if device.action is Action.MEASURE else what.action


def _cut(text: str, width: int) -> str:
    return text if len(text) <= width else text[: width - 1] + "…"


def _where(device: DevicePlan) -> str:
    if device.chosen is None:
        return "–"
    seat = device.chosen.seat
    return f"{charger_name(device.chosen)} {seat.port}, {device.chosen.front.trigger.asks_v:g} V"


def _device(device: DevicePlan, plan: Plan, *, why: bool) -> Iterator[str]:
    yield _headed(device.id)
    what = doing(device, plan)
    yield from wrapped(_sentence(str(what)))
    if device.chosen is None or device.action is Action.MEASURE:
        yield from wrapped(f"Because: {device.why}")
    if why and (answer := left_out(plan, device)) is not None:
        yield from wishes.lines(answer)
    told = taken(device, plan)
    if told:
        yield from wrapped(_sentence(told))
    for refusal in device.appliance.refusals:
        yield from wrapped(f"Ask: {refusal.ask}")
    for caution in device.appliance.cautions:
        yield from wrapped(f"Caution: {caution.why}. Ask: {caution.ask}")
    if device.chosen:
        yield from wrapped(f"Chain: {chain(device.chosen)}")
        yield ""
        yield from (f"  {line}" for line in window_text(window(device.appliance, device.chosen)))
        yield f"  {LEGEND}"
        yield ""
        yield from _verdict(device.chosen)
        for risk in device.chosen.risks:
            yield from wrapped(f"Residual risk: {risk}")
    yield from _measure(device, plan, every=why)
    if why:
        yield from _every_finding(device.chosen)
        yield from _workings(device.chosen)
        for text in device.appliance.assumptions:
            yield from wrapped(f"Assumed: {text}")
        yield from _losers(device, plan)


def _verdict(chosen: Chosen) -> Iterator[str]:
    """The verdict with what is open in words, and the rule that comes nearest to its limit."""
    counting = [f for f in chosen.findings if f.stakes is not Stakes.NUISANCE]
    open_ = [f for f in counting if f.verdict is not Verdict.FITS]
    holding = f"{len(counting) - len(open_)} rules hold in every state"
    still = f", {len(open_)} {'is' if len(open_) == 1 else 'are'} open" if open_ else ""
    yield from wrapped(f"Verdict: {chosen.verdict.word}: {holding}{still}")
    for f in sorted(open_, key=lambda f: list(_BREAKS).index(f.stakes)):
        head = _BREAKS[f.stakes] if f.verdict is Verdict.UNPROVEN else f"fails, {f.stakes.value}"
        yield from wrapped(f"- {head}: {f.words or f.about.breaks} ({_open_words(f)})", indent=2)
    near = min(
        (n for f in counting if f.verdict is Verdict.FITS for n in _near(f, chosen)), default=None
    )
    if near is not None:
        yield from wrapped(f"Nearest to its limit: {near[1]}")


def _open_words(f: Finding) -> str:
    """The rule, by how much it is short, and the state; of harm never how likely it is."""
    said = [f.rule]
    if f.margin is not None:
        at_worst = f"at worst {rounded(abs(f.margin), f.about.unit)} short"
        said.append("no working point at all" if math.isinf(f.margin) else at_worst)
    if f.plausibility is not None and f.stakes is Stakes.MISBEHAVES:
        said.append(f"holds in {f.plausibility or 'none'} of 10 plausible cases")
    if f.state:
        said.append(f.state)
    return "; ".join(said)


def _near(f: Finding, chosen: Chosen) -> Iterator[tuple[float, str]]:
    """How much of what a rule compares with is left, as a share and in words.

    Volts, amps and joules have no common measure; each margin is held against the figure of its
    own formula that it is taken from.
    """
    if f.margin is None or math.isinf(f.margin):
        return
    shown = f.working
    if shown is None and f.about.formula and f.about.judged != "company":
        shown = working(f, chosen.judged, chosen.index)
    whole = next((s for s in shown.symbols if s.unit == shown.unit), None) if shown else None
    if shown is None or whole is None or whole.value <= 0:
        return
    left, of = rounded(f.margin, shown.unit), rounded(whole.value, shown.unit)
    about = "; ".join(part for part in (whole.meaning, f.state) if part)
    yield f.margin / whole.value, f"{f.rule}, with {left} left of {of} ({about})"


def _every_finding(chosen: Chosen | None) -> Iterator[str]:
    """All rules in a table, for those who ask why."""
    if chosen is None:
        return
    yield "Every rule, and what it costs if it is broken:"
    for f in chosen.findings:
        margin = "" if f.margin is None else f", margin {rounded(f.margin, f.about.unit)}"
        if f.margin is not None and math.isinf(f.margin):
            margin = ", no working point at all"
        state = f" ({f.state})" if f.state else ""
        yield f"  {f.verdict.word:8} {f.stakes.value:10} {f.rule}{margin}{state}"


def _measure(device: DevicePlan, plan: Plan, *, every: bool) -> Iterator[str]:
    advice = advise(device, plan)
    if not advice:
        return
    best = advice[0]
    head = "Measure" if device.action is Action.MEASURE else "Worth measuring"
    yield from wrapped(f"{head}: {best.title} ({best.minutes} min, {best.measurement.kit})")
    yield from wrapped(f"How: {best.measurement.how}.", indent=2)
    yield from wrapped(f"Expect: {best.expect}.", indent=2)
    yield from wrapped(f"It decides: {best.measurement.decides}.", indent=2)
    for other in advice[1:] if every else ():
        yield from wrapped(
            f"Or: {other.title} ({other.minutes} min, settles {', '.join(other.settles)})",
            indent=2,
        )


def _losers(device: DevicePlan, plan: Plan) -> Iterator[str]:
    """Chains that lost; then parts that no chain was built with, what is owned before the rest."""
    chains = [r for r in device.rejected if " → " in r.example]
    parts = [r for r in device.rejected if " → " not in r.example]
    if device.chains:
        yield f"{device.chains} chains were judged." + (" Those that failed:" if chains else "")
    for reject in chains:
        yield from wrapped(f"{reject.count} × {reject.reason}, such as {reject.example}", indent=2)
    if not parts:
        return
    owned = {p.id for p in plan.site.parts if p.owned}
    owned |= {p.id for p in device.chosen.front.parts} if device.chosen else set()
    yield "Never built with, owned or chosen parts first:"
    for reason, example, where in _gathered(parts, owned):
        ports = f" ({', '.join(where)})" if where else ""
        yield from wrapped(f"{example}: {reason}{ports}", indent=2)


def _gathered(rejects: list[Reject], owned: set[str]) -> Iterator[tuple[str, str, list[str]]]:
    """Reason, example and ports; one reason for all the ports that it holds at."""
    found: dict[str, tuple[str, list[str]]] = {}
    for reject in sorted(rejects, key=lambda r: (r.example not in owned, -r.count, r.reason)):
        at_port = _AT_A_PORT.match(reject.reason)
        reason = at_port["lacks"] if at_port else reject.reason
        _, where = found.setdefault(reason, (reject.example, []))
        if at_port:
            where.append(at_port["port"])
    for reason, (example, where) in found.items():
        told = f"the port {reason}" if where else reason
        yield told, example, sorted(where)


def _workings(chosen: Chosen | None) -> Iterator[str]:
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
        unit = "" if s.unit == "1" else f" {s.unit}"
        yield f"    {s.symbol} = {s.value:.6g}{unit}  {s.meaning} ({s.basis}{ends})"
    yield f"    source: {w.source}"


def _ports(plan: Plan) -> Iterator[str]:
    """What hangs on each port, and what is left there at the worst."""
    trees = power_trees(plan)
    if trees:
        yield from (_headed("What hangs on each port"), "")
        yield from (*power_tree_text(trees, WIDTH), "", TREE_LEGEND, "")


def _blinks(plan: Plan) -> Iterator[str]:
    found = blinks_text(blinks(plan), WIDTH)
    if found:
        yield from (_headed("Who blinks whom"), "", *found, "")


def _parts(plan: Plan) -> Iterator[str]:
    if any(d.chosen for d in plan.devices):
        yield from (_headed("Parts"), "", *parts_text(parts_list(plan), WIDTH), "")


def _headed(title: str) -> str:
    return f"── {title} " + "─" * max(4, WIDTH - len(title) - 4)


def _warnings(plan: Plan) -> Iterator[str]:
    yield from listed("Warnings:", (*plan.warnings, *ground_warnings(plan)))


def _warnings_of(device: DevicePlan, plan: Plan) -> Iterator[str]:
    """The warnings of a plan that speak of one device, and whose plugs harm it."""
    starts = (f"{device.id}: ", f"the plug for {device.id} ")
    words = {c.words for c in plan.clashes if device.id in (c.a, c.b)}
    told = [
        w for w in (*plan.warnings, *ground_warnings(plan)) if w in words or w.startswith(starts)
    ]
    harmful = [
        f"{c.lead} ({c.outcome.value})"
        for c in plan.mixups
        if c.inlet == device.id and c.source == "lead" and not c.own and c.outcome.harmful
    ]
    if harmful:
        told.append(f"plugs that go into it and must not: {', '.join(harmful)}")
    yield from listed("Warnings:", tuple(told))
