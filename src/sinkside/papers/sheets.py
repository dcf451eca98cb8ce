"""Build sheets, one for each device with a chain, as plain data for paper and for the web."""

import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import groupby

from sinkside.figures.pinout_svg import pinout_svg
from sinkside.figures.plug_section_svg import plug_section_svg
from sinkside.figures.window import window
from sinkside.figures.window_svg import description as window_words
from sinkside.figures.window_svg import window_svg
from sinkside.figures.wiring_svg import wiring_svg
from sinkside.making.first_power import FirstPower
from sinkside.making.of_plan import polarity, undecided
from sinkside.making.probe import METER_WORDS, Probe, Stage
from sinkside.making.sheet import Fact, Sheet
from sinkside.making.words import charger_name
from sinkside.papers.drawn import Spell, as_written, drawing, respelled
from sinkside.papers.issue import Issue, Json
from sinkside.papers.qr import qr_svg
from sinkside.plan.model import DevicePlan, Plan

TITLE = "Build sheet"
_MOST = 24
_MINUS = re.compile(r"(?<!\w)-(?=\d)")
_WINDOW_WIDTH, _WIRING_WIDTH, _PLUG_WIDTH = 420.0, 660.0, 300.0
_WINDOW_READING = (
    "A bar reaches from the lowest to the highest volts, its tick is nominal; filled: the "
    "contract asked for; open: other states. Hatched: it harms; dotted: it does not run."
)


def identity(code: str, revision: str) -> str:
    """What stands in the QR code of a sheet: which chain it is, and which issue of the papers."""
    issue = f" revision {revision[:_MOST]}" if revision else ""
    return f"sinkside sheet {code}{issue}"


def sheet_data(
    plan: Plan, sheet: Sheet, issue: Issue, *, spell: Spell = as_written
) -> dict[str, Json]:
    """All that a build sheet says, in the order in which it says it.

    Parameters
    ----------
    sheet
        Of a device of that plan.
    spell
        How the words of drawings are to be spelled.
    """
    held = identity(sheet.code, issue.revision)
    return {
        **issue.head(f"{TITLE} {sheet.code}"),
        "device": sheet.device,
        "code": sheet.code,
        "qr": drawing(qr_svg(held, title=held), held),
        "action": sheet.action,
        "headline": sheet.headline.removeprefix(sheet.action).removeprefix(":").strip(),
        "gates": [
            {
                "title": gate.title,
                "kit": gate.kit,
                "minutes": gate.minutes,
                "how": gate.how,
                "expect": gate.expect,
                "decides": gate.decides,
            }
            for gate in sheet.gates
        ],
        "gate_words": sheet.gate_words,
        "facts": _facts(sheet.facts),
        "watch": list(sheet.watch),
        "polarity": sheet.polarity,
        "plug": list(_plug(plan.device(sheet.device))),
        "drawings": list(_drawings(plan.device(sheet.device), spell)),
        "chain": [
            {
                "words": step.words,
                "setting": step.setting,
                "joins": step.joins,
                "bought": step.bought,
            }
            for step in sheet.chain
        ],
        "settings": _facts(sheet.settings),
        "wires": [
            {
                "number": wire.number,
                "conductor": wire.conductor,
                "start": wire.start,
                "end": wire.end,
                "colour": wire.colour,
                "length": wire.length,
                "gauge": wire.gauge,
                "note": wire.note,
            }
            for wire in sheet.wires
        ],
        "steps": [
            {"number": s.number, "kind": s.kind, "text": s.text, "why": s.why} for s in sheet.steps
        ],
        "stages": _stages(sheet.probes),
        "meter_words": METER_WORDS,
        "first_power": None if sheet.first_power is None else _first_power(sheet.first_power),
        "risks": list(sheet.risks),
        "cautions": list(sheet.cautions),
    }


def _facts(facts: tuple[Fact, ...]) -> list[Json]:
    return [{"label": fact.label, "text": fact.text} for fact in facts]


def _drawings(device: DevicePlan, spell: Spell) -> Iterator[Json]:
    """What is to be seen of a device's chain, the volts at its inlet last."""
    chosen = device.chosen
    if chosen is None:
        return
    # Of several that are alike, this very one.
    charger = replace(chosen.front.charger, id=charger_name(chosen))
    svg = wiring_svg(
        respelled(replace(chosen.front, charger=charger), spell),
        respelled(device.appliance, spell),
        width=_WIRING_WIDTH,
    )
    yield _captioned("Wiring", f"Wiring of {device.id}", "", svg)
    drawn = respelled(window(device.appliance, chosen), spell)
    title = f"Volts at the inlet of {spell(device.id)}"
    svg = window_svg(drawn, title=title, width=_WINDOW_WIDTH)
    yield _captioned("Volts at its inlet", f"{title}. {window_words(drawn)}", _WINDOW_READING, svg)


def _plug(device: DevicePlan) -> Iterator[Json]:
    """The plug at the end of the chain, in section and as whoever solders it sees it."""
    if device.chosen is None or not device.chosen.front.end.plug:
        return
    plug = device.chosen.front.end.plug
    centre = None if undecided(device.chosen) else device.chosen.front.end.centre
    for title, svg in (
        ("The plug, cut open", plug_section_svg(plug, centre, width=_PLUG_WIDTH)),
        ("Its contacts, from the solder side", pinout_svg(plug, centre, width=_PLUG_WIDTH)),
    ):
        yield _captioned(title, f"{title}: {plug}, {polarity(device.chosen)}", "", svg)


def _captioned(title: str, alt: str, words: str, svg: str) -> dict[str, Json]:
    return {"title": title, "words": words, **drawing(svg, alt)}


def _stages(probes: tuple[Probe, ...]) -> list[Json]:
    def stage(probe: Probe) -> Stage:
        return probe.stage

    return [
        {"title": found.value, "probes": [_probe(probe) for probe in some]}
        for found, some in groupby(probes, key=stage)
    ]


def _probe(probe: Probe) -> Json:
    return {
        "number": probe.number,
        "where": probe.where,
        "red": probe.red,
        "black": probe.black,
        "mode": probe.mode.value,
        "state": probe.state,
        "required": probe.required,
        "expected": _MINUS.sub("\N{MINUS SIGN}", probe.expected.words),
        "limits": probe.limits,
        "low_word": "Size too low" if probe.in_sizes else "Too low",
        "high_word": "Size too high" if probe.in_sizes else "Too high",
        "if_low": probe.if_low,
        "if_high": probe.if_high,
        "note": probe.note,
    }


def _first_power(found: FirstPower) -> dict[str, Json]:
    return {
        "dummies": [
            {
                "at": dummy.at,
                "words": dummy.words,
                "burns": f"{dummy.total_w:.3g} W",
            }
            for dummy in found.dummies
        ],
        "guard": found.guard,
        "actions": [
            {"number": step.number, "do": step.do, "stop_if": step.stop_if}
            for step in found.actions
        ],
        "stops": list(found.stops),
        "sign_off": [
            {"text": box.text, "reading": box.wants_reading, "name": box.wants_name}
            for box in found.sign_off
        ],
    }
