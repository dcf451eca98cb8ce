"""One fixed order, no loop: search, judge, outages, grounds, assign, mix-ups, recheck."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from sinkside import grounds, mixups, outages
from sinkside.parts.charger import Charger, Occupied
from sinkside.paths.findings import findings, residual_risks
from sinkside.paths.front import Front
from sinkside.paths.judge import RULES_BY_ID, Judged, judge, stakes_of
from sinkside.paths.rails import fed
from sinkside.paths.rank import UNKNOWN_PRICE_CENTS, Key, keys
from sinkside.paths.rows import Path
from sinkside.paths.search import Limits, Rejects, fronts
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan, Reject
from sinkside.plan.recheck import recheck
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.sharing import Forbidden, Kind, Option, Question, Seat, assign
from sinkside.site.appliance import Appliance
from sinkside.site.site import Site
from sinkside.site.survey import survey
from sinkside.site.written import DeviceWritten

# How many paths of a device at one port go on to the assignment: the best, and next best
# ones for where they would take scarce parts.
KEPT = 6
NUISANCE = Stakes.NUISANCE

Progress = Callable[[str], None]


@dataclass(frozen=True, kw_only=True)
class _Searched:
    """The paths of one device, judged and ordered.

    Paths are those of one charger for all that are alike; `alike` has the others by its name.
    """

    appliance: Appliance
    judged: Judged
    keys: tuple[Key, ...]
    order: tuple[int, ...]
    rejects: Rejects
    alike: dict[str, list[Charger]]


def plan(site: Site, progress: Progress = lambda _: None) -> Plan:
    """Plan a site.

    Parameters
    ----------
    site
        As read.
    progress
        Told what is being done, for people who wait; may raise to cancel.
    """
    appliances = tuple(_survey(site, d) for d in site.devices)
    progress("searching and judging chains")
    searched = {a.id: _search(site, a) for a in appliances if not a.refusals}
    progress("outages and grounds")
    gaps = {c.id: outages.interruption(c) for c in site.chargers}
    clashes = grounds.clashes(appliances, site.links)
    progress("assigning")
    question, paths = _question(site, searched, gaps, clashes)
    assignment = assign(question)
    seats = {seat.device: seat for seat in assignment.seats}
    chargers = {c.id: c for c in site.chargers}
    fronts_of = {
        device: replace(
            searched[device].judged.paths[paths[seat.option][1]].front, charger=chargers[seat.kind]
        )
        for device, seat in seats.items()
    }
    company = _Company(site=site, seats=seats, fronts=fronts_of, gaps=gaps, clashes=clashes)
    devices = tuple(_device(a, searched.get(a.id), company, paths) for a in appliances)
    progress("mix-ups")
    # What ends in no plug, such as rails, goes into nothing.
    leads = [(d.id, d.chosen.front) for d in devices if d.chosen and d.chosen.front.end.plug]
    cells = mixups.matrix(leads, appliances) if leads else ()
    progress("rechecking")
    found = Plan(
        site=site,
        question=question,
        devices=devices,
        levels=assignment.levels,
        bought=assignment.bought,
        clashes=clashes,
        mixups=cells,
        warnings=(),
    )
    return replace(found, warnings=(*_warnings(found), *recheck(found)))


def _survey(site: Site, device: DeviceWritten) -> Appliance:
    must = site.rules.single_fault == "must survive"
    return survey(
        device,
        site.ambient_at(device.at),
        must_survive_fault=must,
        mains_side=site.rules.mains_side,
    )


def _search(site: Site, appliance: Appliance) -> _Searched:
    rejects = Rejects()
    paths = []
    alike = _alike(site, appliance)
    for members in alike.values():
        charger = members[0]
        limits = Limits(solder=site.rules.solder, reach_m=site.distance_m(charger.at, appliance.at))
        paths += [
            Path(front=front, appliance=fed(front, appliance))
            for port in charger.names
            for company in _companies(site, charger, port)
            for front in fronts(appliance, charger, port, company, site.parts, limits, rejects)
        ]
    judged = judge(paths)
    found = keys(judged)
    order = tuple(sorted(range(len(found)), key=found.__getitem__))
    return _Searched(
        appliance=appliance,
        judged=judged,
        keys=tuple(found),
        order=order,
        rejects=rejects,
        alike={members[0].id: members for members in alike.values()},
    )


def _alike(site: Site, appliance: Appliance) -> dict[object, list[Charger]]:
    """Chargers that differ in name only, as far as this device can tell: judged once for all."""
    found: dict[object, list[Charger]] = {}
    for charger in site.chargers:
        plain = replace(charger, id="", at="", words="", count=1, off_time_s=None)
        reach = site.distance_m(charger.at, appliance.at)
        key = (plain, reach, charger.id in appliance.held_on)
        found.setdefault(key, []).append(charger)
    return found


def _companies(site: Site, charger: Charger, port: str) -> Sequence[Occupied]:
    """The sets of ports that may be in use beside a port: all, or whatever a plan will load."""
    if site.rules.spare_ports == "may be used":
        return (frozenset(charger.names),)
    return charger.occupancies(port)


def _question(
    site: Site,
    searched: dict[str, _Searched],
    gaps: dict[str, outages.Interruption],
    clashes: Sequence[grounds.Clash],
) -> tuple[Question, dict[str, tuple[str, int]]]:
    """The question of sharing, and which path each option stands for."""
    options: list[Option] = []
    paths: dict[str, tuple[str, int]] = {}
    for device, found in searched.items():
        kept: Counter[tuple[str, str, Occupied]] = Counter()
        for i in found.order:
            key, front = found.keys[i], found.judged.paths[i].front
            where = (front.charger.id, front.port, front.company)
            if key.fails or kept[where] >= KEPT:
                continue
            kept[where] += 1
            for charger in found.alike[front.charger.id]:
                name = f"{device}|{i}|{charger.id}"
                paths[name] = (device, i)
                options.append(
                    Option(
                        id=name,
                        device=device,
                        kind=charger.id,
                        port=front.port,
                        company=front.company,
                        harm_unproven=key.harm_unproven,
                        misbehaves_unproven=key.misbehaves_unproven,
                        implausible=key.implausible,
                        irreversible=key.irreversible,
                        risks=key.risks,
                        stages=key.stages,
                        decivolts=round(10 * front.trigger.asks_v),
                        milliwatts=round(1000 * float(found.judged.loss_w[i])),
                        parts=tuple(p.id for p in front.parts),
                        isolated=front.isolated,
                        brick_lost=_brick_lost(site, device),
                    )
                )
    blinks = {
        (device, charger): _blink_code(outages.blink(found.appliance, gap))
        for device, found in searched.items()
        for charger, gap in gaps.items()
    }
    prices = {
        p.id: UNKNOWN_PRICE_CENTS if p.price_cents is None else p.price_cents for p in site.parts
    }
    question = Question(
        kinds=tuple(
            Kind(
                id=c.id,
                count=c.count,
                ports=c.names,
                spare_ports_blocked=site.rules.spare_ports == "blocked",
            )
            for c in site.chargers
        ),
        options=tuple(options),
        forbidden=tuple(
            Forbidden(a=c.a, b=c.b, certain=c.verdict is Verdict.FAILS) for c in clashes
        ),
        blinks=blinks,
        earthed=frozenset(c.id for c in site.chargers if c.output_earth != "floating"),
        stock={p.id: p.owned for p in site.parts},
        prices=prices,
        budget=site.rules.budget,
    )
    return question, paths


def _brick_lost(site: Site, device: str) -> bool:
    brick = site.device(device).brick
    return brick is not None and not brick.kept


def _blink_code(finding: Finding | None) -> int:
    """What a neighbour's change means to the assignment: see `Question.blinks`."""
    if finding is None or finding.verdict is Verdict.FITS:
        return 0
    if finding.verdict is Verdict.FAILS:
        return 3
    return 2 if finding.stakes is Stakes.LOSS else 1


@dataclass(frozen=True, kw_only=True)
class _Company:
    """Who sits where, and what that means."""

    site: Site
    seats: dict[str, Seat]
    fronts: dict[str, Front]
    gaps: dict[str, outages.Interruption]
    clashes: Sequence[grounds.Clash]

    def findings(self, appliance: Appliance) -> Iterator[Finding]:
        """Findings that hang on what else is on the same charger."""
        seat = self.seats[appliance.id]
        charger = next(c for c in self.site.chargers if c.id == seat.kind)
        mates = [s for s in self.seats.values() if (s.kind, s.unit) == (seat.kind, seat.unit)]
        others = [s.device for s in mates if s.device != appliance.id]
        spare = len(mates) < len(charger.ports) and self.site.rules.spare_ports == "may be used"
        if spare or others:
            finding = outages.blink(appliance, self.gaps[seat.kind])
            if finding is not None:
                yield finding
        for clash in self.clashes:
            other = {clash.a: clash.b, clash.b: clash.a}.get(appliance.id)
            if other in self._on_its_negative(seat) and not self._apart(appliance.id, other):
                yield Finding(
                    rule="ground-short",
                    stakes=Stakes.HARM,
                    verdict=clash.verdict,
                    margin=None,
                    state="",
                    unknowns=clash.unknowns,
                    words=clash.words,
                )

    def _on_its_negative(self, seat: Seat) -> set[str]:
        """Devices on the same charger, or on another whose negative may be on the same earth."""
        tied = {c.id for c in self.site.chargers if c.output_earth != "floating"}
        return {
            s.device
            for s in self.seats.values()
            if s.device != seat.device
            and ((s.kind, s.unit) == (seat.kind, seat.unit) or {s.kind, seat.kind} <= tied)
        }

    def _apart(self, a: str, b: str) -> bool:
        return self.fronts[a].isolated or self.fronts[b].isolated


def _device(
    appliance: Appliance,
    searched: _Searched | None,
    company: _Company,
    paths: dict[str, tuple[str, int]],
) -> DevicePlan:
    if searched is None:
        return DevicePlan(
            appliance=appliance,
            action=Action.REFUSED,
            why=appliance.refusals[0].why,
            chosen=None,
            rejected=(),
            chains=0,
        )
    chosen = None
    action, why = Action.LEAVE, ""
    seat = company.seats.get(appliance.id)
    if seat is None:
        why = _why_left(company.site, searched, company.seats)
    else:
        index = paths[seat.option][1]
        judged = searched.judged
        chosen = Chosen(
            front=company.fronts[appliance.id],
            seat=seat,
            judged=judged,
            index=index,
            findings=(
                *_of_charger(findings(judged, index), judged.paths[index].front, seat.kind),
                *company.findings(appliance),
            ),
            risks=residual_risks(judged, index),
        )
        action, why = _action(chosen)
    return DevicePlan(
        appliance=appliance,
        action=action,
        why=why,
        chosen=chosen,
        rejected=_rejected(searched),
        chains=len(searched.judged.paths),
    )


def _of_charger(found: tuple[Finding, ...], judged: Front, charger: str) -> Iterator[Finding]:
    """Findings of a charger that was judged for all that are alike, under the name of this one."""
    alike = f"{judged.charger.id}/"
    for finding in found:
        names = (
            f"{charger}/{name.removeprefix(alike)}" if name.startswith(alike) else name
            for name in finding.unknowns
        )
        yield replace(finding, unknowns=tuple(names))


def _action(chosen: Chosen) -> tuple[Action, str]:
    """The action, from what is still open."""
    grave = chosen.open(Stakes.HARM, Stakes.LOSS)
    slight = chosen.open(Stakes.MISBEHAVES)
    if not grave and not slight:
        return Action.BUILD, "every rule holds in every state"
    if not grave:
        watch = "; ".join(dict.fromkeys(f.about.breaks for f in slight))
        return Action.TRY, watch
    return Action.MEASURE, "; ".join(dict.fromkeys(f.words or f.about.breaks for f in grave))


def _why_left(site: Site, searched: _Searched, seats: dict[str, Seat]) -> str:
    """Why a device that is not refused has no seat."""
    if not site.chargers:
        return "there is no charger on the shelf"
    usable = [i for i in searched.order if not searched.keys[i].fails]
    if not searched.judged.paths:
        return "; ".join(searched.rejects.reasons) or "no chain reaches it"
    if not usable:
        reasons = _rejected(searched)
        return reasons[0].reason if reasons else "every chain fails"
    judged_for = {searched.judged.paths[i].front.charger.id for i in usable}
    reached = [c for kind in judged_for for c in searched.alike[kind]]
    reached.sort(key=lambda c: c.id)
    ports = sum(c.count * len(c.ports) for c in reached)
    taken = sum(seat.kind in {c.id for c in reached} for seat in seats.values())
    if taken >= ports:
        names = ", ".join(c.id for c in reached)
        return (
            f"its {len(usable)} chains want a port of {names}, and all of those ({ports}) are "
            "taken; with one more port it could be moved"
        )
    return "the ports that are left would put it out, or short it, beside what else is there"


def _rejected(searched: _Searched) -> tuple[Reject, ...]:
    """Chains that fail, grouped by their gravest failing rule, and what was never built."""
    judged = searched.judged
    groups: dict[str, list[int]] = {}
    gravest = _gravest(judged) if judged.paths else []
    for i in searched.order:
        if searched.keys[i].fails:
            groups.setdefault(gravest[i], []).append(i)
    found = [
        Reject(
            reason=RULES_BY_ID[rule].breaks,
            count=len(members),
            example=judged.paths[members[0]].front.sentence(),
        )
        for rule, members in groups.items()
    ]
    found += [
        Reject(reason=reason, count=count, example=searched.rejects.examples[reason])
        for reason, count in searched.rejects.reasons.items()
    ]
    return tuple(sorted(found, key=lambda r: (-r.count, r.reason)))


def _gravest(judged: Judged) -> list[str]:
    """For each path the rule that fails, harm first, then in the order of the rule table."""
    codes = judged.verdicts
    device = judged.paths[0].appliance if judged.paths else None
    counting = [
        r
        for r in RULES_BY_ID.values()
        if device and r.id in codes and stakes_of(r, device) is not NUISANCE
    ]
    rules = sorted(counting, key=lambda r: r.stakes is not Stakes.HARM)
    first = np.argmax(np.array([codes[r.id] == Verdict.FAILS for r in rules]), axis=0)
    return [rules[k].id for k in first]


def _warnings(found: Plan) -> list[str]:
    warnings = []
    for device in found.devices:
        warnings += [f"{device.id}: {c}" for c in device.appliance.conflicts]
    warnings += [c.words for c in found.clashes if c.verdict is Verdict.FAILS]
    harmful = [c for c in found.mixups if not c.own and c.outcome.harmful]
    for lead in dict.fromkeys(c.lead for c in harmful):
        into: dict[str, list[str]] = {}
        for cell in harmful:
            if cell.lead == lead:
                into.setdefault(cell.outcome.value, []).append(cell.inlet)
        told = "; ".join(f"{outcome} in {', '.join(d)}" for outcome, d in into.items())
        warnings.append(f"the plug for {lead} also goes into others: {told}")
    return warnings
