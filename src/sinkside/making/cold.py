"""What an ohmmeter shows before first power: resistors, ways through, and no shorts."""

import math
from collections.abc import Iterator
from dataclasses import replace

from sinkside.making.of_plan import centre, fixed_poles, undecided
from sinkside.making.probe import Mode, Probe, Stage
from sinkside.making.readings import Range, told
from sinkside.parts.elements import Bleeder, Converter, Diode, RailsConverter, RampSwitch
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.values import series_ohm
from sinkside.plan.model import Chosen
from sinkside.standards.type_c_two_resistors import Board, Span, expected_ohms

# A pair that is not shorted reads more than this once its capacitors are charged, and a short
# less than that (common practice, no source).
NO_SHORT_OHM, SHORT_OHM = 1000.0, 100.0
APART_OHM = 1e6
ROUGH_NOTE = "let the reading settle: a capacitor in the way makes it climb"
LEADS_NOTE = "hold the probes together first, and take off what the meter shows then"
WITNESS = "USB Type-C, Rd 5.1 kΩ ±10 % (Table 4-25)"
_NO_WAY = (Converter, RailsConverter, RampSwitch, Diode)


def cold(chosen: Chosen) -> Iterator[Probe]:
    """The test points of a chain before power; numbers are given later."""
    front = chosen.front
    yield from _configuration(front)
    if front.isolated:
        yield _gap(front.parts[front.split])
    for part in front.parts:
        if part.fuse is not None:
            yield _fuse(part)
    if front.rails is None and not undecided(chosen):
        yield from _ways(chosen)
        yield _shorts(chosen)


def contacts(chosen: Chosen) -> tuple[str, str]:
    """The positive and the negative contact of the plug, in words."""
    if fixed_poles(chosen):
        return "supply contact of the plug", "ground contact of the plug"
    if centre(chosen) == "negative":
        return "sleeve of the plug", "centre of the plug"
    return "centre of the plug", "sleeve of the plug"


def _configuration(front: Front) -> Iterator[Probe]:
    """CC pads of two resistors; a part that talks does not read as a resistor."""
    trigger = front.head_parts[-1]
    name = trigger.words or trigger.id
    if not front.trigger.by_resistors:
        if trigger.gives.kind == "wires":
            yield _not_shorted(name)
        return
    pins = expected_ohms(Board.RIGHT)
    low = "a resistor is joined to something else, or both pads share one: see the board"
    high = "a resistor is missing or not joined: C-to-C leads then give nothing one way up"
    for red, black, found in (
        ("CC1 pad (A5)", "ground", pins.cc1),
        ("CC2 pad (B5)", "ground", pins.cc2),
        ("CC1 pad (A5)", "CC2 pad (B5)", pins.between),
    ):
        yield _probe(
            where=f"CC pads of the {name}, nothing plugged in",
            red=red,
            black=black,
            expected=_of_span(found),
            if_low=low,
            if_high=high,
            rests_on=(WITNESS,),
        )


def _not_shorted(name: str) -> Probe:
    """Of a part that talks only a short is told by an ohmmeter."""
    probe = _probe(
        where=f"CC pads of the {name}, nothing plugged in",
        red="CC1 pad (A5), then CC2 pad (B5)",
        black="ground",
        expected=Range(low=SHORT_OHM, nominal=math.inf, high=math.inf, unit="Ω"),
        if_low="it is shorted: no port will see it",
        if_high="",
        note="a part that talks does not read as 5.1 kΩ, and need not",
    )
    return replace(probe, required=False)


def _of_span(found: Span) -> Range:
    middle = (found.low_ohm + found.high_ohm) / 2
    return Range(low=found.low_ohm, nominal=middle, high=found.high_ohm, unit="Ω")


def _gap(part: Part) -> Probe:
    name = part.words or part.id
    return _probe(
        where=f"across the isolation of the {name}",
        red="negative input",
        black="negative output",
        expected=Range(low=APART_OHM, nominal=math.inf, high=math.inf, unit="Ω"),
        if_low="something bridges it: a joint, a mounting, a shared tie; it is not isolated then",
        if_high="",
        note=ROUGH_NOTE,
    )


def _fuse(part: Part) -> Probe:
    found = series_ohm((part,))
    low, high = sum(q.low for q in found), sum(q.high for q in found)
    return _probe(
        where=f"{part.words or part.id}, fuse in its holder",
        red="one end of the holder",
        black="other end of the holder",
        expected=Range(low=low, nominal=sum(q.value for q in found), high=high, unit="Ω"),
        if_low="something bridges the holder",
        if_high="the fuse is open or of another rating, or its clips are loose",
        note=LEADS_NOTE,
        rests_on=tuple(f"{part.words or part.id}: {told(q)}" for q in found),
    )


def _ways(chosen: Chosen) -> Iterator[Probe]:
    """From the pads of the last part that does not conduct unpowered to the plug's contacts."""
    parts = chosen.front.parts
    head = len(chosen.front.head_parts)
    last = max(
        (i for i, p in enumerate(parts) if any(isinstance(e, _NO_WAY) for e in p.elements)),
        default=0,
    )
    start = max(head, last + 1)
    if start >= len(parts) and parts[-1].gives.kind != "wires":
        return  # moulded: no pad that a probe could reach
    found = series_ohm(parts[start:])
    most = sum(q.high for q in found)
    name = parts[start - 1].words or parts[start - 1].id
    for pole, contact in zip(("positive", "negative"), contacts(chosen), strict=True):
        yield _probe(
            where=f"from the {pole} output of the {name} to the plug",
            red=f"{pole} output of the {name}",
            black=contact,
            expected=Range(low=0.0, nominal=most / 2, high=most, unit="Ω"),
            if_low="",
            if_high="no way through: a dry joint, a broken core, no fuse in its holder; or the "
            "cores are crossed: try the other contact, and make the plug anew if that answers",
            note=f"{LEADS_NOTE}; this is the proof of the polarity before power",
            rests_on=tuple(
                f"{p.words or p.id}: {told(q)}" for p in parts[start:] for q in series_ohm((p,))
            ),
        )


def _shorts(chosen: Chosen) -> Probe:
    bleeders = [e.ohm.low for p in chosen.front.parts for e in p.elements if isinstance(e, Bleeder)]
    least = min([NO_SHORT_OHM, *(0.9 * ohm for ohm in bleeders)])
    positive, negative = contacts(chosen)
    return _probe(
        where="across the plug, nothing plugged in at either end",
        red=positive,
        black=negative,
        expected=Range(low=least, nominal=math.inf, high=math.inf, unit="Ω"),
        if_low="exchange the probes and wait; if it stays there, something is shorted: look at "
        "the joints of the plug first",
        if_high="",
        note=ROUGH_NOTE,
        stop_below=min(SHORT_OHM, least),
    )


def _probe(
    *,
    where: str,
    red: str,
    black: str,
    expected: Range,
    if_low: str,
    if_high: str,
    note: str = "",
    rests_on: tuple[str, ...] = (),
    stop_below: float | None = None,
) -> Probe:
    return Probe(
        number=0,
        stage=Stage.COLD,
        where=where,
        red=red,
        black=black,
        mode=Mode.OHMS,
        state="",
        required=True,
        expected=expected,
        stop_below=stop_below,
        stop_above=None,
        limits=f"STOP if it is under {stop_below:g} Ω: it is shorted"
        if stop_below is not None
        else "",
        if_low=if_low,
        if_high=if_high,
        note=note,
        rests_on=rests_on,
    )
