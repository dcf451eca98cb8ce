"""In what order a chain is put together: numbered steps, from bare parts to a finished lead."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.making.cold import contacts
from sinkside.making.of_plan import centre, fixed_poles, undecided
from sinkside.making.wires import Wire
from sinkside.parts.part import Part
from sinkside.paths.rails import REMOVED
from sinkside.plan.model import Action, Chosen, DevicePlan

Kind: TypeAlias = Literal["prepare", "set", "cut", "join", "insulate", "check", "finish"]
# A board with a trimmer or a converter gets warm; the others may be shrunk over (common practice).
_WARM = ("converter", "rails")
_BARE = ("trigger", "soft start", "filter", "crowbar", "hold-up", *_WARM)


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of the assembly, and why it stands there; `why` is empty where it speaks for
    itself."""

    number: int
    kind: Kind
    text: str
    why: str


def steps(device: DevicePlan, chosen: Chosen, cut: tuple[Wire, ...]) -> tuple[Step, ...]:
    """The steps of an assembly, in order.

    Parameters
    ----------
    cut
        Its cut list.
    """
    found = (
        *_prepare(device, chosen),
        *_set(chosen),
        *(_joints(chosen, cut) if cut else _plugged(chosen)),
        *(() if undecided(chosen) else (*_check(chosen, cut), *_finish(chosen, cut))),
    )
    return tuple(
        Step(number=n, kind=kind, text=text, why=why)
        for n, (kind, text, why) in enumerate(found, 1)
    )


_Told: TypeAlias = tuple[Kind, str, str]


def _prepare(device: DevicePlan, chosen: Chosen) -> Iterator[_Told]:
    if device.action is Action.MEASURE:
        yield (
            "prepare",
            "Stop: measure first what stands at the top, write it into the site file, plan anew.",
            "what is measured may change this chain, or turn its plug round",
        )
    yield "prepare", "Lay out the parts and hold each against the chain above.", ""
    yield "prepare", "Nothing is plugged in: no charger, no device, no bench supply.", ""
    if chosen.front.rails is not None:
        yield (
            "prepare",
            f"Before anything here is joined to the device: {REMOVED}, and signed for.",
            "the mains side is no work for this sheet",
        )


def _set(chosen: Chosen) -> Iterator[_Told]:
    trigger = chosen.front.head_parts[-1]
    traits = chosen.front.trigger
    asks = f"{traits.asks_v:g} V"
    if traits.presses_v:
        yield (
            "set",
            f"Press the button of the {_name(trigger)} to {asks}, then see that it cannot be "
            "pressed in service: take it off, or cover it for good.",
            "a press changes the volts",
        )
    elif trigger.setting:
        yield (
            "set",
            f"Set the {_name(trigger)}: {trigger.setting}. Plug it in alone, read {asks} at its "
            "output with a meter, and pull it.",
            "a wrong strap is found before anything hangs on it",
        )
    elif not traits.by_resistors:
        yield (
            "set",
            f"Plug the {_name(trigger)} in alone, read {asks} at its output with a meter, and pull "
            "it.",
            "it is the right one, and the port offers what was planned",
        )
    converter = chosen.front.converter
    if converter is not None and converter.adjustable:
        part = chosen.front.parts[chosen.front.split]
        gives = converter.gives_v
        yield (
            "set",
            f"Feed the {_name(part)} by clips from the trigger, with nothing but a meter on its "
            f"output; turn the trimmer to {gives.value:g} V; wait five minutes and read again: "
            f"{gives.low:.4g} to {gives.high:.4g} V. Seal the trimmer with a drop of varnish.",
            "a trimmer may come at its highest volts, and drifts when it is touched",
        )


def _joints(chosen: Chosen, cut: tuple[Wire, ...]) -> Iterator[_Told]:
    reel = [w for w in cut if not w.own]
    if reel:
        yield (
            "cut",
            f"Cut wires {_listed(reel)} from the reel, a little longer than they lie. Strip 5 mm, "
            "and twist the strands.",
            "",
        )
    yield from _ring_out(chosen)
    yield (
        "insulate",
        "Slide heat shrink over each core, and one wide piece over each pair, before it is joined.",
        "afterwards it does not go on",
    )
    yield "join", _HOW, "tinned strands creep under a screw, and the joint gets hot"
    parts = chosen.front.parts
    for i in range(len(chosen.front.head_parts), len(parts)):
        yield from _join(chosen, parts[i], parts[i - 1], cut)
    if undecided(chosen):
        return
    yield (
        "insulate",
        "Stagger the two joints of a pair, and lay everything out apart on something that neither "
        "conducts nor burns. Nothing is shrunk yet.",
        "two joints side by side are a short that waits; a joint that is not covered can be read "
        "and mended",
    )


def _ring_out(chosen: Chosen) -> Iterator[_Told]:
    """Which core is plus, told by the contact that it rings to."""
    part = chosen.front.parts[-1]
    if part.kind != "lead" or part.takes.kind != "wires" or undecided(chosen):
        return
    contact, _ = contacts(chosen)
    first, _, rest = contact.partition(" ")
    yield (
        "cut",
        f"Ring out the cores of the {_name(part)} with the meter: the core that rings to the "
        f"{first.upper()} {rest} is plus, whatever its colour: mark it.",
        "the colours of bought leads mean nothing",
    )


_HOW = (
    "Joints that stay are soldered, hooked through the pad or twisted before solder. Joints that "
    "are to come apart go under screws: with a ferrule on stranded wire, never tinned."
)


def _join(chosen: Chosen, part: Part, before: Part, cut: tuple[Wire, ...]) -> Iterator[_Told]:
    name = _name(part)
    if part.takes.kind != "wires":
        yield "join", f"Push the {name} onto what comes before it.", ""
        return
    if part.fuse is not None:
        wires = [w for w in cut if name in w.end and w.conductor == "positive"]
        yield (
            "join",
            f"Fit the {name} in the positive conductor alone ({_wires(wires)}), as near as it goes "
            f"to the {_name(before)}. Leave the fuse out for now.",
            "it guards what comes after it, so it stands at the source end of that",
        )
    elif part.kind in ("lead", "plug"):
        yield from _plug(chosen, part, [w for w in cut if w.end.endswith("of the plug")])
    elif part.kind == "rails":
        wires = [w for w in cut if name in w.end]
        yield (
            "join",
            f"Join the input of the {name} ({_wires(wires)}). Its outputs stay free.",
            "each rail is read, alone and with its dummy load, before the device hangs on it",
        )
    elif part.kind in ("crowbar", "bleeder"):
        yield "join", f"Join the {name} across the pair, behind the fuse.", ""
    else:
        wires = [w for w in cut if name in w.end]
        yield (
            "join",
            f"Join the {name}, input to output as it is marked ({_wires(wires)}).",
            "the wrong way round most boards die at once",
        )


def _plug(chosen: Chosen, part: Part, wires: list[Wire]) -> Iterator[_Told]:
    if undecided(chosen):
        yield (
            "join",
            f"Do not join the {_name(part)}, and stop here: its polarity is not known yet.",
            "a reversed plug is the commonest way to kill a device",
        )
        return
    positive, negative = contacts(chosen)
    yield (
        "join",
        f"Join the {_name(part)} ({_wires(wires)}): positive to the {positive}, negative to the "
        f"{negative}.",
        "" if fixed_poles(chosen) else f"the centre is {centre(chosen)}",
    )
    if part.kind == "plug":
        yield (
            "insulate",
            "Slide the plug's cap on before the joint; crimp its tag on the jacket, not on the "
            "cores.",
            "the tag is the strain relief",
        )


def _house(chosen: Chosen) -> Iterator[_Told]:
    boards = [p for p in chosen.front.parts if p.kind in _BARE and p.gives.kind == "wires"]
    if not boards:
        return
    warm = any(p.kind in _WARM for p in boards)
    yield (
        "insulate",
        "Put the boards into a closed case that does not conduct"
        + (", with holes for air above and below the converter" if warm else "")
        + "; tie or clamp each lead by its jacket just inside.",
        "a pull on a lead is to end at the jacket, not at a joint",
    )


def _plugged(chosen: Chosen) -> Iterator[_Told]:
    for part in chosen.front.parts[1:]:
        yield "join", f"Plug the {_name(part)} onto what comes before it.", ""


def _check(chosen: Chosen, cut: tuple[Wire, ...]) -> Iterator[_Told]:
    fused = any(p.fuse for p in chosen.front.parts)
    if cut:
        yield "check", "Pull at every joint and lead, hard enough to lift the whole.", ""
    told = "; with the fuse out first, then put the fuse in, of the rating above" if fused else ""
    yield (
        "check",
        f"Take every reading before power, and write it down{told}.",
        "shorts and a crossed plug are found with an ohmmeter, for nothing",
    )
    yield (
        "check",
        "A second person reads the polarity again before power: the inputs of the boards and the "
        "contacts of the plug, against this sheet.",
        "whoever crossed two cores reads them crossed again",
    )
    yield (
        "check",
        "First power-up through the dummy load, as the list for it says, as far as its line about "
        "the case.",
        "",
    )
    if not cut:
        return
    yield (
        "insulate",
        "USB-C out. Shrink each core by itself, then the wide piece over both.",
        "what has been read is covered, not what is yet to be read",
    )
    yield from _house(chosen)
    yield (
        "check",
        "Read the plug again: ohms across it with nothing plugged in, then sign and volts with "
        "USB-C in. USB-C out."
        if chosen.front.rails is None
        else "Read each rail again: sign and volts with USB-C in. USB-C out.",
        "shrinking and closing move joints",
    )
    yield "check", "Go on with the list for first power-up: the device.", ""


def _finish(chosen: Chosen, cut: tuple[Wire, ...]) -> Iterator[_Told]:
    rails = chosen.front.rails
    if rails is not None:
        wires = [w for w in cut if _name(rails) in w.start]
        yield (
            "join",
            f"With nothing plugged in, join each output to where the old supply fed it "
            f"({_wires(wires)}).",
            "its rails have been read by now",
        )
    yield "finish", "Label lead, plug, port and device; tag the old brick and put it away.", ""


def _wires(found: list[Wire]) -> str:
    return f"wire{'s' if len(found) != 1 else ''} {_listed(found)}"


def _listed(found: list[Wire]) -> str:
    numbers = [str(w.number) for w in found]
    return " and ".join((", ".join(numbers[:-1]), numbers[-1])) if numbers[1:] else numbers[0]


def _name(part: Part) -> str:
    return part.words or part.id
