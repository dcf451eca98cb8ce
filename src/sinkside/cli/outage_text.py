"""What an event does to a site, for people and as JSON, and its waveforms as files."""

import csv
import io
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from sinkside import __version__
from sinkside.cli.shapes import finite
from sinkside.faults import Fault, Faulty
from sinkside.figures.waveform_svg import waveform_svg
from sinkside.figures.window import window
from sinkside.outages.happenings import Event, Kind
from sinkside.outages.port_machine import IllegalEvent
from sinkside.outages.table import Line, Seated, curves, reached, tables
from sinkside.plan.model import Plan
from sinkside.quantity import Quantity, rounded
from sinkside.rules.verdict import Verdict

KINDS = tuple(kind.value for kind in Kind)


@dataclass(frozen=True, kw_only=True)
class Asked:
    """Which event is asked for; None and empty stand for every charger, and a port that suits."""

    kind: str
    charger: str = ""
    unit: int | None = None
    port: str = ""
    lasts_s: Quantity | None = None


@dataclass(frozen=True, kw_only=True)
class Told:
    """One event and what it does to every device on its charger."""

    event: Event
    lines: tuple[Line, ...]


def told(plan: Plan, asked: Asked) -> tuple[Told, ...]:
    """What each event that is asked for does.

    Raises
    ------
    Faulty
        There is no such charger, unit or port in the plan, or it cannot happen there.
    """
    seats = _seats(plan)
    events, refused = [], []
    for event in _events(plan, seats, asked):
        try:
            events.append((event, reached(event, seats)))
        except IllegalEvent as error:
            refused.append(str(error))
    if not events:
        wrong = refused[0] if refused else "no device of the plan is on such a charger"
        raise Faulty([Fault(code="no-such-event", wrong=wrong, right="choose another event")])
    lines_of = tables(events)
    return tuple(Told(event=e, lines=x) for (e, _), x in zip(events, lines_of, strict=True))


def _seats(plan: Plan) -> tuple[Seated, ...]:
    return tuple(
        Seated(front=d.chosen.front, appliance=d.appliance, unit=d.chosen.seat.unit)
        for d in plan.devices
        if d.chosen
    )


def _events(plan: Plan, seats: Sequence[Seated], asked: Asked) -> Iterator[Event]:
    kind = Kind(asked.kind)
    known = {c.id: c for c in plan.site.chargers}
    if asked.charger and asked.charger not in known:
        raise _unknown(f"{asked.charger!r} is no charger of {plan.site.name}", sorted(known))
    units = sorted({(s.front.charger.id, s.unit) for s in seats})
    for charger, unit in units:
        if asked.charger not in ("", charger) or asked.unit not in (None, unit):
            continue
        names = known[charger].names
        if asked.port and asked.port not in names:
            raise _unknown(f"{asked.port!r} is no port of {charger}", list(names))
        used = {s.front.port for s in seats if (s.front.charger.id, s.unit) == (charger, unit)}
        for port in _ports(kind, names, used, asked.port):
            yield Event(kind=kind, charger=charger, unit=unit, port=port, lasts_s=asked.lasts_s)


def _unknown(wrong: str, known: list[str]) -> Faulty:
    right = f"known are {', '.join(known)}"
    return Faulty([Fault(code="unknown-name", wrong=wrong, right=right)])


def _ports(kind: Kind, names: Sequence[str], used: set[str], port: str) -> list[str]:
    """Where an event can happen: what is new goes into a free port, the rest concerns used ones."""
    if kind is Kind.MAINS_CUT:
        return [""]
    if port:
        return [port]
    free = [n for n in names if n not in used]
    if kind is Kind.ATTACH and free:
        return free[:1]
    return [n for n in names if n in used]


def fails(found: Sequence[Told]) -> bool:
    """Whether any device surely goes out that must not."""
    lines = [line for one in found for line in one.lines]
    return any(x.finding is not None and x.finding.verdict is Verdict.FAILS for x in lines)


def lines(plan: Plan, found: Sequence[Told]) -> Iterator[str]:
    """For people."""
    yield plan.site.name
    for one in found:
        unit = f" (no. {one.event.unit})" if _several(plan, one.event.charger) else ""
        yield ""
        yield f"When {one.event.sentence()}{unit}:"
        for line in one.lines:
            yield from _line(line)
    yield ""
    yield "Worst: over the timers of the standard, tolerances, and what is not known."
    yield "N of 10 plausible cases is a band for ranking, not a probability."


def _several(plan: Plan, charger: str) -> bool:
    return any(c.count > 1 for c in plan.site.chargers if c.id == charger)


def _line(line: Line) -> Iterator[str]:
    device, port = line.seated.appliance.id, line.seated.front.port
    follows, finding = line.follows, line.finding
    verdict = f"   {finding.verdict.word}, {finding.stakes.value}" if finding else ""
    if follows is None:
        yield f"  {device} on {port}: nothing happens to it; {line.happening.words}{verdict}"
        return
    yield f"  {device} on {port}: {_ending(line)}{verdict}"
    yield f"      {line.happening.words}"
    out, least, peak = follows.out_s, follows.least_v, follows.peak_a
    lowest = rounded(max(0.0, round(least.worst, 3)), "V")
    yield (
        f"      out {_seconds(out.nominal)}, at worst {_seconds(out.worst)}; its pins fall to "
        f"{lowest}; the port gives up to {rounded(peak.worst, 'A')}"
    )
    if follows.trips.worst:
        yield f"      the port trips {follows.trips.worst:g} × at worst"
    if follows.dead_wait_s.worst:
        waits = rounded(follows.dead_wait_s.worst, "s")
        yield f"      the port waits up to {waits} for VBUS to fall to 0.8 V"
    if follows.rides is not None and finding and finding.verdict is Verdict.UNPROVEN:
        yield f"      rides through in {follows.rides} of 10 plausible cases"
    if finding and finding.verdict is Verdict.UNPROVEN and finding.unknowns:
        yield f"      open: {', '.join(dict.fromkeys(finding.unknowns))}"


def _ending(line: Line) -> str:
    follows = line.follows
    if follows is None:
        return ""
    if follows.ending is follows.worst_ending:
        return follows.ending.value
    return f"{follows.ending.value}; at worst it {follows.worst_ending.value}"


def _seconds(value: float) -> str:
    if math.isinf(value):
        return "for good"
    return "not running before" if math.isnan(value) else f"for {rounded(value, 's')}"


def as_json(plan: Plan, found: Sequence[Told]) -> dict[str, Any]:
    """For programs."""
    return {
        "sinkside": __version__,
        "site": plan.site.name,
        "events": [
            {
                "event": one.event.kind.value,
                "charger": one.event.charger,
                "unit": one.event.unit,
                "port": one.event.port or None,
                "words": one.event.sentence(),
                "devices": [_device(line) for line in one.lines],
            }
            for one in found
        ],
    }


EXTENTS = (
    "out_s",
    "least_v",
    "peak_a",
    "port_a2s",
    "pins_a2s",
    "port_j",
    "fuse_share",
    "trips",
    "dead_wait_s",
)


def _device(line: Line) -> dict[str, Any]:
    follows, finding = line.follows, line.finding
    return {
        "id": line.seated.appliance.id,
        "port": line.seated.front.port,
        "words": line.happening.words,
        "verdict": finding.verdict.word if finding else None,
        "stakes": finding.stakes.value if finding else None,
        "unknowns": list(finding.unknowns) if finding else [],
        "follows": None
        if follows is None
        else {
            "ending": follows.ending.value,
            "worst_ending": follows.worst_ending.value,
            "rides": None if follows.rides is None else follows.rides / 10,
            **{
                name: {
                    "nominal": finite(getattr(follows, name).nominal),
                    "worst": finite(getattr(follows, name).worst),
                }
                for name in EXTENTS
            },
        },
    }


def waveforms(plan: Plan, found: Sequence[Told]) -> Iterator[tuple[str, bytes]]:
    """Names and contents of two files for each device that something happens to."""
    for one in found:
        event = one.event
        for line in one.lines:
            front = line.seated.front
            drawn = curves(line.seated, line.happening)
            if not drawn:
                continue
            device = plan.device(line.seated.appliance.id)
            place = f"{event.charger}-{event.unit}-{event.port}"
            name = _file(f"{device.id}-on-{front.port}-{event.kind.value}-{place}")
            title = f"{device.id}: {event.sentence()}"
            picture = waveform_svg(drawn, window(device.appliance, device.chosen), title=title)
            yield f"{name}.svg", picture.encode()
            rows = io.StringIO()
            writer = csv.writer(rows, lineterminator="\r\n")
            writer.writerow(["run", "t_s", "pins_v", "port_v", "port_a"])
            for curve in drawn:
                for row in zip(curve.t_s, curve.pins_v, curve.port_v, curve.port_a, strict=True):
                    writer.writerow([curve.label, *(f"{value:.6g}" for value in row)])
            yield f"{name}.csv", rows.getvalue().encode()


def _file(name: str) -> str:
    return re.sub(r"[^A-Za-z0-9.-]+", "-", name).strip("-.") or "device"
