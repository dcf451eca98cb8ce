"""What helps against a short or a loop, the least change first; each is tried on the graph.

A remedy takes conductors away. Whether it helps is not believed but looked at: the rings are
found again without them. Mains earth is never among what is taken away.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.grounds.conductors import Edge, Feed
from sinkside.grounds.meetings import Meeting, meetings
from sinkside.parts.charger import Charger
from sinkside.parts.part import Part
from sinkside.site.appliance import Appliance
from sinkside.site.written import LinkWritten

RemedyKind: TypeAlias = Literal[
    "another charger", "isolating transformer", "isolator", "shield", "isolated converter"
]

NEVER = (
    "Never lift a protective earth, and never cut an earth pin off, to quiet a hum: a fault then "
    "puts mains on what is touched."
)
# How far the volts of an isolated converter may be off what a device is fed with.
NEAR = 0.10


@dataclass(frozen=True, kw_only=True)
class Remedy:
    """One thing that opens a ring.

    Parameters
    ----------
    on
        The device or the signal lead that it is done to.
    words
        What to do, for people.
    clears
        Whether no ring of the graph is a short after it alone; of a loop, whether it is gone.
    cents
        What it costs; nought where nothing is to be had, None where nobody knows.
    """

    kind: RemedyKind
    on: str
    words: str
    clears: bool
    cents: int | None


@dataclass(frozen=True, kw_only=True)
class Means:
    """What there is to help with.

    Parameters
    ----------
    spare
        Chargers of which a unit has nothing plugged in.
    """

    appliances: Mapping[str, Appliance]
    feeds: Mapping[str, Feed]
    links: Sequence[LinkWritten]
    parts: Sequence[Part]
    spare: Sequence[Charger]


def ladder(meeting: Meeting, edges: Sequence[Edge], means: Means) -> tuple[Remedy, ...]:
    """What opens a ring, in the order in which to try it.

    Parameters
    ----------
    meeting
        A ring of these edges.
    edges
        All that conducts.
    """
    found = []
    for kind, on, words, cents, without in _steps(meeting, means):
        left = meetings([edge for edge in edges if edge not in without])
        if meeting.kind == "loop":
            clears = not any(_same(other, meeting) for other in left)
        else:
            clears = all(other.kind == "loop" for other in left)
        found.append(Remedy(kind=kind, on=on, words=words, clears=clears, cents=cents))
    return tuple(found)


Step: TypeAlias = tuple[RemedyKind, str, str, int | None, Collection[Edge]]


def _same(a: Meeting, b: Meeting) -> bool:
    """Whether two rings run through the same devices and leads."""
    return {e.of for e in a.edges} == {e.of for e in b.edges}


def _steps(meeting: Meeting, means: Means) -> Iterator[Step]:
    shields = [edge for edge in meeting.edges if edge.kind == "shield"]
    lifted = {edge.of for edge in meeting.edges if edge.kind == "pole" and edge.volts_v[1] > 0.0}
    powers = [edge for edge in meeting.edges if edge.kind == "return" and edge.of in means.feeds]
    # The odd one is moved rather than its neighbours.
    powers.sort(key=lambda edge: (edge.of not in lifted, edge.of))
    yield from (_apart(edge, means) for edge in powers if len(powers) > 1)
    for edge in shields:
        yield from _at_the_link(edge, meeting, means)
    yield from (_converter(edge, means) for edge in powers if not means.feeds[edge.of].isolated)


def _apart(edge: Edge, means: Means) -> Step:
    """A charger of its own, with a floating output."""
    floating = [c for c in means.spare if c.output_earth == "floating"]
    if floating:
        words = f"feed {edge.of} from {floating[0].id}, which has nothing plugged in and floats"
        return "another charger", edge.of, words, 0, (edge,)
    words = f"feed {edge.of} from another charger, with a floating output"
    return "another charger", edge.of, words, None, (edge,)


def _at_the_link(edge: Edge, meeting: Meeting, means: Means) -> Iterator[Step]:
    link = means.links[edge.link]
    name = f"the {link.kind} lead from {link.from_} to {link.to}"
    if link.kind == "audio":
        words = f"put an isolating transformer for audio into {name}"
        yield "isolating transformer", edge.of, words, None, (edge,)
    else:
        words = f"put a galvanic isolator for {link.kind} into {name}"
        yield "isolator", edge.of, words, None, (edge,)
    if link.kind == "audio" and meeting.kind == "loop":
        words = (
            f"open the shield of {name} at one end, and leave it on at the other; in a lead with "
            "one core the shield is the return, so hear whether it is worse"
        )
        yield "shield", edge.of, words, 0, (edge,)


def _converter(edge: Edge, means: Means) -> Step:
    """An isolated converter between the charger and the device."""
    feed = means.feeds[edge.of]
    low, high = (1 - NEAR) * feed.volts_v[0], (1 + NEAR) * feed.volts_v[1]
    amps = means.appliances[edge.of].steady_a.high
    good = [
        part
        for part in means.parts
        if (c := part.converter) is not None
        and c.direction == "isolated"
        and low <= c.gives_v.low
        and c.gives_v.high <= high
        and c.carries_a >= amps
    ]
    if not good:
        words = f"feed {edge.of} through an isolated converter"
        return "isolated converter", edge.of, words, None, (edge,)
    part = min(good, key=lambda p: (p.price_cents is None, p.price_cents or 0, p.id))
    words = f"feed {edge.of} through an {part.words or part.id}"
    cents = 0 if part.owned else part.price_cents
    return "isolated converter", edge.of, words, cents, (edge,)
