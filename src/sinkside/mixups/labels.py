"""What to write on leads and inlets, so that hands know what eyes cannot see."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from sinkside.mixups.ends import EndOf
from sinkside.mixups.old_brick import OldBrick
from sinkside.mixups.outcome import Cell, SourceKind
from sinkside.mixups.separate import Separation
from sinkside.paths.front import Front

MOST_NAMES = 6
"""So many names stand on one label; of more it says how many."""


@dataclass(frozen=True, kw_only=True)
class Label:
    """A label: what it goes on, and its lines."""

    on: str
    lines: tuple[str, ...]


def name_of(device: str, source: SourceKind) -> str:
    """A lead by name, for people."""
    return f"lead of {device}" if source == "lead" else f"old brick of {device}"


def labels(
    leads: Sequence[tuple[str, Front]],
    bricks: Sequence[OldBrick],
    cells: Sequence[Cell],
    separation: Separation,
) -> tuple[Label, ...]:
    """A label for every lead and every old brick, and for every inlet that stays in danger.

    Parameters
    ----------
    cells
        The matrix as it is; what the separation keeps apart is not warned of any more.
    """
    left = {(p.lead, p.source, p.inlet) for p in separation.left}
    words = {(c.lead, c.source, c.inlet): c.word for c in cells}
    changed = {device: choice.lead for device, choice in separation.chosen}
    found = []
    for device, front in leads:
        lines = [f"{device} ONLY", _volts(front), _plug(changed.get(device), front)]
        lines += _fixed(device, "lead", separation)
        lines += _never(device, "lead", left, words)
        found.append(Label(on=name_of(device, "lead"), lines=tuple(lines)))
    for brick in bricks:
        lines = [f"{brick.device} ONLY", *_brick(brick)]
        lines += _fixed(brick.device, "brick", separation)
        lines += _never(brick.device, "brick", left, words)
        found.append(Label(on=name_of(brick.device, "brick"), lines=tuple(lines)))
    for inlet in dict.fromkeys(p.inlet for p in separation.left):
        into = [name_of(p.lead, p.source) for p in separation.left if p.inlet == inlet]
        lines = [f"{inlet}: its own lead ONLY", f"never: {_some(into)}"]
        found.append(Label(on=f"inlet of {inlet}", lines=tuple(lines)))
    return tuple(found)


def _volts(front: Front) -> str:
    converter = front.converter
    if converter is not None:
        return f"{converter.gives_v.value:.4g} V d.c. behind a {front.trigger.asks_v:g} V contract"
    return f"{front.trigger.asks_v:g} V d.c., USB-C contract"


def _plug(changed: EndOf | None, front: Front) -> str:
    plug = changed.plug if changed else front.end.plug
    centre = changed.centre if changed else front.end.centre
    if changed is not None and changed.fixed_poles:
        return f"{plug}, pole 1 plus"
    return f"{plug}, centre {centre}" if centre else plug


def _brick(brick: OldBrick) -> Iterator[str]:
    kind = {"dc": "d.c.", "ac": "a.c., NOT d.c.", "unknown": "a.c. or d.c.: not known"}[brick.kind]
    low, high = (f"{volts:.4g}" for volts in brick.open_v)
    yield kind
    if brick.plate_v is None:
        yield "volts not known: measure before use"
    else:
        opened = low if low == high else f"{low} to {high}"
        yield f"for {brick.plate_v[1]:g} V, without load {opened} V"
    if brick.kind != "ac":
        pole = f"centre {brick.centre}" if brick.centre else "poles not known: measure"
        yield f"{brick.plug}, {pole}"


def _fixed(device: str, source: SourceKind, separation: Separation) -> list[str]:
    """That a lead is not to be taken off."""
    if (device, source) not in separation.tied:
        return []
    stored = (device, source) in separation.stored
    return ["keep the bag shut" if stored else f"tied to {device}: do not cut"]


def _never(
    device: str,
    source: SourceKind,
    left: set[tuple[str, SourceKind, str]],
    words: dict[tuple[str, SourceKind, str], str],
) -> list[str]:
    """The inlets that it still goes into and harms, by what it does there."""
    by_word: dict[str, list[str]] = {}
    for lead, of, inlet in sorted(left):
        if (lead, of) == (device, source):
            by_word.setdefault(words.get((lead, of, inlet), "may harm"), []).append(inlet)
    return [f"NEVER into {_some(inlets)}: {word}" for word, inlets in by_word.items()]


def _some(names: Sequence[str]) -> str:
    if len(names) <= MOST_NAMES:
        return ", ".join(names)
    return f"{', '.join(names[:MOST_NAMES])} and {len(names) - MOST_NAMES} more"
