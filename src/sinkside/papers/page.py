"""A plan as a page: for each device what to do, and why; then what to buy and who sits where.

What the page says is gathered here as plain data; how it looks is in `page.typ`. The data goes
to the typesetter as one JSON string and is only ever set as text, so that no name can be markup.
"""

from collections.abc import Iterator

from sinkside.advice import Measurement, advise
from sinkside.figures.window import window
from sinkside.figures.window_svg import window_svg
from sinkside.making.words import (
    CAUTIONS,
    chain,
    doing,
    from_shelf,
    ground_warnings,
    taken,
    waiting,
)
from sinkside.mixups import Outcome
from sinkside.papers import typeset
from sinkside.papers.dossier import summary
from sinkside.papers.drawn import on_paper, respelled
from sinkside.papers.issue import Issue, Json, Paper
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.quantity import number

TITLE = "From old bricks to shared USB-C chargers"
_READING = (
    "Drawings: volts at the inlet. A bar reaches from the lowest to the highest, its tick is "
    "nominal; filled: the contract asked for; open: other states."
)
_WINDOW_WIDTH = 360.0


def page_pdf(
    plan: Plan, *, title: str = TITLE, revision: str, date: str, paper: Paper = "a4"
) -> bytes:
    """Set a plan on one page, or on more if it has many devices.

    Parameters
    ----------
    title
        What stands under the name of the site.
    revision, date
        As they are to be printed; what is empty is left out.
    paper
        What it is printed on.

    Returns
    -------
    bytes
        A PDF file; the same arguments give the same bytes.

    Notes
    -----
    It reads no clock and none of the machine's typefaces. Characters that the page's own faces
    lack stand as their code points: see `printable`.
    """
    issue = Issue(site=plan.site.name, revision=revision, date=date, paper=paper)
    return typeset.pdf("page", _page(plan, title, issue), look="")


def _page(plan: Plan, title: str, issue: Issue) -> dict[str, Json]:
    """All that the page says, in the order in which it says it."""
    return {
        **issue.head(title),
        "revision": issue.revision,
        "date": issue.date,
        "summary": summary(plan),
        "reading": _READING,
        "devices": [_device(k, d, plan) for k, d in enumerate(plan.devices, 1)],
        "measurements": _measurements(plan),
        "seats": list(_seats(plan)),
        "parts": _parts(plan),
        "mixups": _mixups(plan),
        "warnings": _warnings(plan),
        "cautions": list(CAUTIONS),
    }


def _device(place: int, device: DevicePlan, plan: Plan) -> dict[str, Json]:
    what = doing(device, plan)
    advice = advise(device, plan)
    chosen = device.chosen
    measured = device.action is Action.MEASURE or not advice
    repeats = device.action is Action.TRY and bool(what.detail)
    return {
        "number": place,
        "name": device.id,
        "action": what.action,
        "detail": what.detail or device.why,
        "verdict": device.verdict.word if device.verdict is not None else "",
        "why": "" if repeats else device.why,
        "taken": taken(device, plan),
        "ask": [said.ask for said in (*device.appliance.refusals, *device.appliance.cautions)],
        "chain": chain(chosen) if chosen else "",
        "measure": "" if measured else f"{advice[0].title} ({advice[0].minutes} min)",
        "risks": [
            *(caution.why for caution in device.appliance.cautions),
            *(chosen.risks if chosen else ()),
        ],
        "window": _window(device, chosen) if chosen else None,
    }


def _window(device: DevicePlan, chosen: Chosen) -> dict[str, str]:
    drawn = respelled(window(device.appliance, chosen), on_paper)
    title = f"Volts at the inlet of {device.id}"
    svg = window_svg(drawn, title=on_paper(title), width=_WINDOW_WIDTH)
    return {"svg": svg, "alt": title}


def _measurements(plan: Plan) -> list[dict[str, Json]]:
    """How each first measurement is made, once for all the devices that ask for it."""
    every: dict[str, Measurement] = {}
    expected: dict[str, dict[str, list[str]]] = {}
    for k, device in enumerate(plan.devices, 1):
        for advice in advise(device, plan)[:1]:
            m = advice.measurement
            every[m.id] = m
            readings = expected.setdefault(m.id, {})
            readings.setdefault(advice.expect, []).append(f"{k} {device.id}")
    return [
        {
            "title": m.title,
            "kit": m.kit,
            "minutes": m.minutes,
            "how": m.how,
            "decides": m.decides,
            "expect": [
                {"reading": reading, "devices": ", ".join(devices)}
                for reading, devices in expected[m.id].items()
            ],
        }
        for m in every.values()
    ]


_CODES = {
    Outcome.REVERSED: "R",
    Outcome.OVER_VOLTS: "V",
    Outcome.AC_INTO_DC: "A",
    Outcome.AC_INLET: "A",
    Outcome.UNKNOWN: "?",
}
_ELSE = "H"
_MEANINGS = {
    "R": "reversed",
    "V": "over-voltage",
    "A": "a.c. against d.c.",
    _ELSE: "harms otherwise",
    "?": "may harm",
}


def _mixups(plan: Plan) -> dict[str, Json]:
    """Every new lead that goes into an inlet which it harms, by the numbers of the devices."""
    number_of = {d.id: k for k, d in enumerate(plan.devices, 1)}
    cells = {
        (c.lead, c.inlet): _CODES.get(c.outcome, _ELSE)
        for c in plan.mixups
        if c.source == "lead"
        and not c.own
        and c.outcome.harmful
        and {c.lead, c.inlet} <= number_of.keys()
    }
    leads = [d.id for d in plan.devices if any(lead == d.id for lead, _ in cells)]
    inlets = [d.id for d in plan.devices if any(inlet == d.id for _, inlet in cells)]
    used = set(cells.values())
    return {
        "inlets": [str(number_of[inlet]) for inlet in inlets],
        "rows": [
            {
                "lead": f"{number_of[lead]}  {lead}",
                "cells": [
                    "–" if lead == inlet else cells.get((lead, inlet), "") for inlet in inlets
                ],
            }
            for lead in leads
        ],
        "meanings": "; ".join(f"{code} {word}" for code, word in _MEANINGS.items() if code in used),
    }


def _warnings(plan: Plan) -> list[str]:
    """What is warned of in words; what the table of plugs says is not said again."""
    heads = tuple(f"the plug for {c.lead} also goes into others" for c in plan.mixups)
    plain = [w for w in plan.warnings if not w.startswith(heads)]
    return [*plain, *ground_warnings(plan)]


def _seats(plan: Plan) -> Iterator[dict[str, str]]:
    """Every port of every charger, with who sits there and the volts it is asked for."""
    taken = {
        (d.chosen.seat.kind, d.chosen.seat.unit, d.chosen.seat.port): (k, d, d.chosen)
        for k, d in enumerate(plan.devices, 1)
        if d.chosen
    }
    empty = "keep blocked" if plan.site.rules.spare_ports == "blocked" else "free"
    for charger in plan.site.chargers:
        for unit in range(1, charger.count + 1):
            name = f"{charger.id} no. {unit}" if charger.count > 1 else charger.id
            for port in charger.names:
                seat = taken.get((charger.id, unit, port))
                yield {
                    "charger": name,
                    "at": charger.at,
                    "port": port,
                    "volts": number(seat[2].front.trigger.asks_v, "V") if seat else "",
                    "device": f"{seat[0]}  {seat[1].id}" if seat else empty,
                }


def _parts(plan: Plan) -> dict[str, Json]:
    """What is to be bought and what it costs, and what is taken from the shelf."""
    price = {p.id: p.price_cents for p in plan.site.parts}
    words = {p.id: p.words or p.id for p in plan.site.parts}
    bought = [(part, n, price[part]) for part, n in plan.bought]
    return {
        "currency": plan.site.currency,
        "rows": [
            {
                "count": n,
                "words": words[part],
                "each": "" if cents is None else _money(cents),
                "sum": "price unknown" if cents is None else _money(n * cents),
            }
            for part, n, cents in bought
        ],
        "total": _money(sum(n * cents for _, n, cents in bought if cents is not None)),
        "unknown": sum(cents is None for _, _, cents in bought),
        "shelf": list(from_shelf(plan)),
        "waiting": ", ".join(waiting(plan)),
    }


def _money(cents: int) -> str:
    return f"{cents // 100}.{cents % 100:02d}"
