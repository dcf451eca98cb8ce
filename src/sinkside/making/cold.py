"""What an ohmmeter shows before first power: resistors, ways through, and no shorts."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from sinkside.making.of_plan import centre, fixed_poles, undecided
from sinkside.making.probe import Mode, Probe, Stage
from sinkside.making.readings import Range, told
from sinkside.parts.elements import Bleeder, Converter, Diode, RailsConverter, RampSwitch
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.values import series_ohm
from sinkside.plan.model import Chosen
from sinkside.quantity import Quantity
from sinkside.standards.type_c_two_resistors import Board, Span, expected_ohms

# A pair that is not shorted reads more than this once its capacitors are charged, and a short
# less than that (common practice, no source).
NO_SHORT_OHM, SHORT_OHM = 1000.0, 100.0
APART_OHM = 1e6
ROUGH_NOTE = "let the reading settle: a capacitor in the way makes it climb"
LEADS_NOTE = "hold the probes together first, and take off what the meter shows then"
WITNESS = "USB Type-C, Rd 5.1 kΩ ±10 % (Table 4-25)"
# What a common meter can tell of a joint and a short lead: it shows tenths of an ohm (common
# practice, no source).
STEP_OHM, JOINT_OHM = 0.1, 0.5
_POLES = ("positive", "negative")
_NO_WAY = (Converter, RailsConverter, RampSwitch, Diode)


def cold(chosen: Chosen) -> Iterator[Probe]:
    """The test points of a chain before power; numbers are given later."""
    front = chosen.front
    yield from _configuration(front)
    if front.isolated:
        yield _gap(front.parts[front.split])
    for part in front.parts:
        if part.fuse is not None:
            yield _fuse_out(part)
            yield _fuse(part)
    yield from _sections(front)
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


def _fuse_out(part: Part) -> Probe:
    return _probe(
        where=f"{_name(part)}, fuse out of its holder",
        red="one end of the holder",
        black="other end of the holder",
        expected=Range(low=NO_SHORT_OHM, nominal=math.inf, high=math.inf, unit="Ω"),
        if_low="something bridges the holder: find it, for no fuse would open then",
        if_high="",
        note=f"open; {ROUGH_NOTE}",
    )


def _fuse(part: Part) -> Probe:
    return _probe(
        where=f"{_name(part)}, fuse in its holder",
        red="one end of the holder",
        black="other end of the holder",
        expected=_through(series_ohm((part,))),
        if_low="",
        if_high="the fuse is open or of another rating, or its clips are loose",
        note=LEADS_NOTE,
        rests_on=tuple(f"{_name(part)}: {told(q)}" for q in series_ohm((part,))),
    )


def _through(found: Sequence[Quantity]) -> Range:
    """What a meter that shows tenths can tell of a way through: never below the chain's own."""
    most = math.fsum(q.high for q in found)
    limit = max(JOINT_OHM, STEP_OHM * math.ceil(most / STEP_OHM - 1e-9))
    return Range(low=0.0, nominal=min(most, limit) / 2, high=round(limit, 1), unit="Ω")


def _sections(front: Front) -> Iterator[Probe]:
    """From the outputs of each board to the inputs of the next, both poles, and no short there.

    A crossed + and − at an input kills a board at the first volts; here it reads open instead.
    """
    head = len(front.head_parts)
    at = {pole: f"{pole} output of the {_name(front.parts[head - 1])}" for pole in _POLES}
    inline: list[Part] = []
    for part in front.parts[head:]:
        name = _name(part)
        if part.takes.kind != "wires" or part.kind in ("lead", "plug", "crowbar", "bleeder"):
            continue
        if not any(isinstance(e, _NO_WAY) for e in part.elements):
            inline.append(part)
        elif part.kind == "diode":
            yield _way(at["positive"], f"source end of the {name}", inline, "")
            at["positive"], inline = f"load end of the {name}", []
        else:
            for pole, other, on in zip(_POLES, reversed(_POLES), (inline, []), strict=True):
                yield _way(at[pole], f"{pole} input of the {name}", on, f"{other} input")
            yield _apart(front, name)
            at, inline = {pole: f"{pole} output of the {name}" for pole in _POLES}, []


def _way(red: str, black: str, inline: Sequence[Part], other: str) -> Probe:
    """One conductor of a section; `other` is where it answers if the two are crossed."""
    crossed = f"; or + and − are crossed: try the {other}, and join both anew if that answers"
    return _probe(
        where=f"from the {red} to the {black}",
        red=red,
        black=black,
        expected=_through([q for p in inline for q in series_ohm((p,))]),
        if_low="",
        if_high=f"no way through: {_breaks(any(p.fuse for p in inline))}{crossed if other else ''}",
        note=LEADS_NOTE,
        rests_on=tuple(f"{_name(p)}: {told(q)}" for p in inline for q in series_ohm((p,))),
    )


def _apart(front: Front, name: str) -> Probe:
    least = _least_ohm(front)
    return _probe(
        where=f"across the input of the {name}, nothing plugged in",
        red=f"positive input of the {name}",
        black=f"negative input of the {name}",
        expected=Range(low=least, nominal=math.inf, high=math.inf, unit="Ω"),
        if_low="exchange the probes and wait; if it stays there, + and − are joined: look at the "
        "joints there first",
        if_high="",
        note=ROUGH_NOTE,
        stop_below=min(SHORT_OHM, least),
    )


def _least_ohm(front: Front) -> float:
    """What a pair without a short reads at the least, with what bleeds it."""
    bleeders = [e.ohm.low for p in front.parts for e in p.elements if isinstance(e, Bleeder)]
    return min([NO_SHORT_OHM, *(0.9 * ohm for ohm in bleeders)])


def _breaks(fused: bool) -> str:
    """What may break a way through, of what is in it."""
    return f"a dry joint, a broken core{', no fuse in its holder' if fused else ''}"


def _name(part: Part) -> str:
    return part.words or part.id


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
    # The negative passes a diode by: it comes from the last board.
    board = next(p for p in reversed(parts[:start]) if p.kind != "diode")
    source = {pole: f"{pole} output of the {_name(board)}" for pole in _POLES}
    if board is not parts[start - 1]:
        source["positive"] = f"load end of the {_name(parts[start - 1])}"
    fused = any(p.fuse for p in parts[start:])
    for pole, contact in zip(_POLES, contacts(chosen), strict=True):
        yield _probe(
            where=f"from the {source[pole]} to the plug",
            red=source[pole],
            black=contact,
            expected=_through(found),
            if_low="",
            if_high=f"no way through: {_breaks(fused and pole == 'positive')}; or the cores are "
            "crossed: try the other contact, and make the plug anew if that answers",
            note=f"{LEADS_NOTE}; this is the proof of the polarity before power",
            rests_on=tuple(
                f"{p.words or p.id}: {told(q)}" for p in parts[start:] for q in series_ohm((p,))
            ),
        )


def _shorts(chosen: Chosen) -> Probe:
    least = _least_ohm(chosen.front)
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
