"""Wishes as people type them, and the answers in words and as JSON."""

import re
from collections.abc import Iterator, Sequence
from typing import Any

from sinkside.cli import near
from sinkside.cli.paragraphs import wrapped
from sinkside.cli.shapes import TEXT, listed, object_of
from sinkside.faults import Fault, Faulty
from sinkside.plan.model import Plan
from sinkside.plan.wishes import never_blinks, put
from sinkside.sharing import OffItsBrick, OnKind, SparePortsUsable, WhyNot, Wish, Within

PHRASES = (
    "DEVICE off its brick",
    "DEVICE on CHARGER",
    "DEVICE never blinks",
    "within AMOUNT",
    "any spare port",
)
_OFF = re.compile(r"(?P<device>.+) off (?:its|the) brick")
_BLINKS = re.compile(r"(?P<device>.+) never blinks?")
_ON = re.compile(r"(?P<device>.+) on (?P<kind>.+)")
_WITHIN = re.compile(r"within (?P<amount>\d{1,9}(?:[.,]\d{1,2})?)(?: (?P<currency>[^\d\s]+))?")
_SPARE = re.compile(r"any spare ports?")


def answers(plan: Plan, phrases: Sequence[str]) -> tuple[WhyNot, ...]:
    """The answer to each wish.

    Raises
    ------
    Faulty
        One is no wish that there is, or speaks of what is not in the site file.
    """
    return tuple(put(plan, wish) for wish in [read(plan, phrase) for phrase in phrases])


def read(plan: Plan, phrase: str) -> Wish:
    """A wish as it was typed."""
    said = " ".join(phrase.split())
    if found := _OFF.fullmatch(said):
        return OffItsBrick(device=_device(plan, found["device"]))
    if found := _BLINKS.fullmatch(said):
        return never_blinks(plan, _device(plan, found["device"]))
    if found := _WITHIN.fullmatch(said):
        if found["currency"] not in (None, plan.site.currency):
            raise _fault(
                f"{found['currency']!r} is not the currency of {plan.site.name}",
                f"write the amount in {plan.site.currency}",
            )
        return Within(cents=round(100 * float(found["amount"].replace(",", "."))))
    if _SPARE.fullmatch(said):
        return SparePortsUsable()
    if found := _ON.fullmatch(said):
        kinds = [charger.id for charger in plan.site.chargers]
        if found["kind"] not in kinds:
            raise _fault(
                f"{found['kind']!r} is no charger of {plan.site.name}",
                near.suggestion(found["kind"], kinds),
            )
        return OnKind(device=_device(plan, found["device"]), kind=found["kind"])
    raise _fault(f"{phrase!r} is no wish that is known", f"write one of: {', '.join(PHRASES)}")


def _device(plan: Plan, name: str) -> str:
    known = [device.id for device in plan.devices]
    if name not in known:
        raise _fault(f"{name!r} is no device of {plan.site.name}", near.suggestion(name, known))
    return name


def _fault(wrong: str, right: str) -> Faulty:
    return Faulty([Fault(code="unknown-wish", wrong=wrong, right=right)])


def lines(found: WhyNot) -> Iterator[str]:
    """An answer for people: what stands in the way, and every cure, the cheapest first."""
    if found.possible:
        yield from wrapped(f"Wish: {found.words}")
        return
    head = found.words.split(":", 1)[0]
    if not found.reasons:
        yield from wrapped(f"Wish: {found.words}")
        return
    yield from wrapped(f"Wish: {head}: it cannot be had, because, all together:")
    for reason in found.reasons:
        yield from wrapped(f"- {reason.words}", indent=2)
    if found.cures:
        yield "What would cure it, the cheapest first:"
        for cure in found.cures:
            yield from wrapped(f"- {cure.words}", indent=2)
    else:
        yield "No one or two of the changes that were tried would cure it."
    if not found.proven:
        yield "Not every question was followed to its end, so there may be more to say."


def as_json(found: WhyNot) -> dict[str, Any]:
    """An answer for programs."""
    return {
        "words": found.words,
        "possible": found.possible,
        "proven": found.proven,
        "reasons": [
            {"what": r.term.what, "names": list(r.term.names), "words": r.words}
            for r in found.reasons
        ],
        "cures": [
            {
                "words": cure.words,
                "changes": [{"what": c.what, "names": list(c.names)} for c in cure.changes],
                "bought_cents": cure.bought_cents,
                "more_cents": cure.more_cents,
            }
            for cure in found.cures
        ],
    }


SCHEMA: dict[str, Any] = object_of(
    words=TEXT,
    possible={"type": "boolean"},
    proven={"type": "boolean"},
    reasons=listed(object_of(what=TEXT, names=listed(TEXT), words=TEXT)),
    cures=listed(
        object_of(
            words=TEXT,
            changes=listed(object_of(what=TEXT, names=listed(TEXT))),
            bought_cents={"type": "integer"},
            more_cents={"type": ["integer", "null"]},
        )
    ),
)
"""The JSON Schema of what `as_json` gives."""
