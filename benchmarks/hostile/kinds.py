"""The kinds of input, how many there are of each, and what each keeps besides an exit status."""

import json
import random
from collections.abc import Callable
from dataclasses import dataclass

from hostile import host_trees, odd_calls, pd_words, plate_texts, site_files
from hostile.calls import Call, Ended, ended, faults
from hostile.signs import Draw
from sinkside import quantity
from sinkside.cli import pdo_text
from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_objects import (
    SinkObject,
    SourceObject,
    decode_sink,
    decode_source,
    encode,
)

READING_S, PLANNING_S = 1.0, 5.0
"""What a call may take, in seconds of the processor: to read, and to plan."""
PLANNED = (0, 1, 2)
HELP = {"-h", "--help"}

type_of_check = Callable[[Call, Ended], list[str]]
type_of_decode = Callable[[int, Revision], SourceObject | SinkObject]


@dataclass(frozen=True, kw_only=True)
class Kind:
    """One kind of input.

    Parameters
    ----------
    share
        Of all inputs.
    make
        Gives the call that takes the input.
    keeps
        What is wrong with the answer, besides what is wrong with any.
    allowed
        The exit statuses that such a call may have.
    plain
        Whether it asks for help and the like, which is never one document.
    """

    share: float
    make: Callable[[Draw], Call]
    keeps: type_of_check = lambda _call, _end: []
    allowed: tuple[int, ...] = (0, 2)
    limit_s: float = READING_S
    plain: bool = False


def words_read_back(call: Call, end: Ended) -> list[str]:
    """A word that is taken apart and put together again is the same word."""
    revision = _revision(call)
    if "--encode" in call.arguments and end.status == 0 and end.out.startswith(b"{"):
        words = [one["word"] for one in json.loads(end.out)["objects"]]
        return _kept(words, decode_source, revision)
    if "--" in call.arguments and "--side" in call.arguments[:-1]:
        side = call.arguments[call.arguments.index("--side") + 1]
        words = list(call.arguments[call.arguments.index("--") + 1 :][:40])
        if side in ("source", "sink"):
            return _kept(words, decode_source if side == "source" else decode_sink, revision)
    return []


def _revision(call: Call) -> Revision | None:
    if "--revision" not in call.arguments[:-1]:
        return None
    return pdo_text.REVISIONS.get(call.arguments[call.arguments.index("--revision") + 1])


def _kept(words: list[str], decode: type_of_decode, revision: Revision | None) -> list[str]:
    if revision is None:
        return []
    found = []
    for text in words:
        try:
            value = pdo_text.word(text)
            back = encode(decode(value, revision), revision)
        except NotUnderstood:
            continue
        if back != value:
            found.append(f"0x{value:08X} encodes to 0x{back:08X}")
    return found


def quantities_read_back(draw: Draw) -> list[str]:
    """A quantity that is read and written reads back the same."""
    unit = draw.choice(site_files.UNITS[:-2])
    text = site_files.quantity(draw, unit)
    try:
        first = quantity.read(text, unit)
    except NotUnderstood:
        return []
    written = quantity.write(first)
    try:
        again = quantity.read(written, unit)
    except NotUnderstood:
        return [f"{text[:60]!r} is written as {written[:60]!r}, which is not understood"]
    apart = abs(again.high - first.high) + abs(again.low - first.low)
    if apart > 2e-9 * max(abs(first.high), abs(first.low)):
        return [f"{text[:60]!r} is written as {written[:60]!r}, which is another quantity"]
    return []


def entry_is_taken(_call: Call, end: Ended) -> list[str]:
    """An entry that the charger command wrote is taken by the site that it is put into."""
    if end.status != 0 or end.out.startswith(b"{"):
        return []
    text = site_files.SMALL.split("shelf:")[0].encode() + b"shelf:\n" + end.out
    site = ended(Call(arguments=("check", "-"), stdin=text), json_too=False)
    told = site.err.decode("utf-8", "replace")[:200]
    return [] if site.status == 0 else [f"the entry does not load: {told}"]


KINDS: dict[str, Kind] = {
    "quantity": Kind(share=0.20, make=site_files.quantity_call),
    "plate": Kind(share=0.25, make=plate_texts.call),
    "words": Kind(share=0.22, make=pd_words.call, keeps=words_read_back),
    "tree": Kind(share=0.08, make=host_trees.call, keeps=entry_is_taken),
    "site": Kind(share=0.215, make=site_files.call),
    "call": Kind(share=0.03, make=odd_calls.call, plain=True),
    "page": Kind(
        share=0.001,
        make=odd_calls.page_call,
        allowed=PLANNED,
        limit_s=PLANNING_S,
        plain=True,
    ),
    "plan": Kind(share=0.004, make=site_files.plan_call, allowed=PLANNED, limit_s=PLANNING_S),
}


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What came of one input: how the call ended, and all that is wrong."""

    end: Ended
    wrong: tuple[str, ...]


def stream(seed: int, name: str, index: int) -> Draw:
    """The random stream of one input."""
    return random.Random(f"{seed}/{name}/{index}")


def outcome(seed: int, name: str, index: int) -> Outcome:
    """Make one input and the call that takes it."""
    kind = KINDS[name]
    draw = stream(seed, name, index)
    json_too = draw.random() < 0.5 and not kind.plain
    call = kind.make(draw)
    if HELP & set(call.arguments):  # which is text, whatever else is asked for
        json_too = False
    end = ended(call, json_too=json_too)
    wrong = faults(end, json_too=json_too, plain=kind.plain, allowed=kind.allowed)
    wrong += kind.keeps(call, end)
    if name == "quantity":
        wrong += quantities_read_back(draw)
    return Outcome(end=end, wrong=tuple(wrong))
