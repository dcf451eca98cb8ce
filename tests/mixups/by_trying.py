"""The separation by trying every choice and every tie; it knows nothing of how it is solved.

Which plug goes into which inlet stands here as a table, by common practice (no source): like into
like, and a 2.5 mm plug over a 2.1 mm pin of the same barrel.
"""

from itertools import product
from typing import TypeAlias

from sinkside.mixups.ends import Choice, EndOf, InletEnd, LeadEnd, Question

GOES_OVER = {("5.5x2.5", "5.5x2.1")}
Worth: TypeAlias = tuple[int, int, int, int]


def harm(asked: Question, lead: int, at: EndOf, inlet: int, into: EndOf) -> int:
    """0 if nothing happens, 1 if something may, 2 if it does."""
    if at.plug != into.plug and (at.plug, into.plug) not in GOES_OVER:
        return 0
    return max(
        int(asked.harm[lead, inlet]), poles(asked.leads[lead], at, asked.inlets[inlet], into)
    )


def poles(lead: LeadEnd, at: EndOf, inlet: InletEnd, into: EndOf) -> int:
    """The same of the poles alone."""
    if lead.alternating or inlet.either:
        return 0
    untouched = into == inlet.choices[0].inlet
    if at.fixed_poles:
        return 0 if inlet.settled or untouched else 1
    seen = inlet.witnesses if untouched else {into.centre}
    if at.centre is None:
        return 1
    if seen - {at.centre}:
        return 2
    return 0 if inlet.settled and lead.poles_known and seen else 1


def worth(asked: Question, choices: tuple[Choice, ...], tied: frozenset[int]) -> Worth | None:
    """What an answer leaves and costs; None if it is over the budget."""
    by_device = {inlet.device: choice for inlet, choice in zip(asked.inlets, choices, strict=True)}
    left = [0, 0, 0]
    for i, lead in enumerate(asked.leads):
        at = by_device[lead.device].lead if lead.source == "lead" else lead.end
        for k, inlet in enumerate(asked.inlets):
            if i not in tied and lead.device != inlet.device:
                left[harm(asked, i, at, k, choices[k].inlet)] += 1
    wanted = [part for choice in choices for part in choice.parts]
    wanted += [(asked.leads[i].tie, 1) for i in tied]
    cents = 0
    for part, price in asked.prices.items():
        planned = asked.planned.get(part, 0)
        owned = asked.owned.get(part, 0)
        count = sum(n for name, n in wanted if name == part)
        cents += price * (max(0, planned + count - owned) - max(0, planned - owned))
    if asked.budget is not None and cents > asked.budget:
        return None
    return left[2], left[1], cents, sum(choice.joints for choice in choices)


def best(asked: Question) -> Worth:
    """The least of all answers."""
    may_tie = [i for i, lead in enumerate(asked.leads) if lead.tie]
    found = []
    for choices in product(*(inlet.choices for inlet in asked.inlets)):
        for bits in product((False, True), repeat=len(may_tie)):
            tied = frozenset(i for i, on in zip(may_tie, bits, strict=True) if on)
            value = worth(asked, choices, tied)
            if value is not None:
                found.append(value)
    return min(found)
