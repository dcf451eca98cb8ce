"""Everything that is to be said of what conducts at a site: shorts, loops, back-feed, touch."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sinkside.grounds.back_feed import BackFeed, back_feeds
from sinkside.grounds.clashes import Clash
from sinkside.grounds.conductors import Edge, Feed, edges, feed_of, negative_of
from sinkside.grounds.meetings import Meeting, meetings
from sinkside.grounds.remedies import Means, Remedy, ladder
from sinkside.grounds.touch import ProtectionClass, Touch, touches
from sinkside.parts.charger import Charger
from sinkside.paths.front import Front
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance
from sinkside.site.mains_side import BUILT_IN
from sinkside.site.site import Site

# For each device its chain, and which unit of its kind the charger is.
Seated = Mapping[str, tuple[Front, int]]
UNKNOWN_CLASSES: Mapping[str, ProtectionClass] = {}


@dataclass(frozen=True, kw_only=True)
class Ring:
    """A short or a loop, and what helps against it, the least change first."""

    meeting: Meeting
    words: str
    remedies: tuple[Remedy, ...]


@dataclass(frozen=True, kw_only=True)
class Report:
    """What is to be said of what conducts at a site.

    Parameters
    ----------
    shorts, loops
        Rings with volts in them, and rings without, the sure ones first.
    assumed
        What was taken for true.
    """

    edges: tuple[Edge, ...]
    shorts: tuple[Ring, ...]
    loops: tuple[Ring, ...]
    back_feeds: tuple[BackFeed, ...]
    touches: tuple[Touch, ...]
    assumed: tuple[str, ...]


def report(
    site: Site,
    appliances: Sequence[Appliance],
    seated: Seated,
    classes: Mapping[str, ProtectionClass] = UNKNOWN_CLASSES,
) -> Report:
    """Everything that is to be said of what conducts at a site.

    Parameters
    ----------
    site
        As read.
    appliances
        All its devices as surveyed.
    seated
        For each device that moves to a charger, its chain and the unit of its charger.
    classes
        The class of protection of each kind of charger.
    """
    feeds = {device: feed_of(device, unit, front) for device, (front, unit) in seated.items()}
    on_mains = {device.id for device in site.devices if device.inside.is_ == BUILT_IN}
    conduct = edges(appliances, feeds, site.links, on_mains)
    means = Means(
        appliances={a.id: a for a in appliances},
        feeds=feeds,
        links=site.links,
        parts=site.parts,
        spare=_spare(site.chargers, feeds),
    )
    rings = [
        Ring(meeting=found, words=words(found), remedies=ladder(found, conduct, means))
        for found in meetings(conduct)
    ]
    return Report(
        edges=conduct,
        shorts=tuple(ring for ring in rings if ring.meeting.kind != "loop"),
        loops=tuple(ring for ring in rings if ring.meeting.kind == "loop"),
        back_feeds=back_feeds(site.devices, feeds, site.links, site.groups),
        touches=touches(conduct, feeds, classes, site.mains),
        assumed=_assumed([a for a in appliances if a.id not in on_mains], feeds, classes),
    )


def _spare(chargers: Sequence[Charger], feeds: Mapping[str, Feed]) -> tuple[Charger, ...]:
    """Kinds of charger of which a unit has nothing plugged in."""
    used = {(feed.charger.id, feed.unit) for feed in feeds.values()}
    return tuple(
        charger
        for charger in chargers
        if any((charger.id, unit) not in used for unit in range(1, charger.count + 1))
    )


def words(meeting: Meeting) -> str:
    """A ring in a sentence, for people."""
    around = "; ".join(edge.words for edge in meeting.edges)
    low, high = (f"{volts:.3g}" for volts in meeting.volts_v)
    volts = f"{high} V" if low == high else f"{low} to {high} V"
    open_ = f" (look at: {', '.join(meeting.unknowns)})" if meeting.unknowns else ""
    if meeting.kind == "loop":
        return f"{'a loop' if meeting.certain else 'perhaps a loop'} that can hum: {around}{open_}"
    if any(edge.open_volts for edge in meeting.edges):
        return f"perhaps a short of up to {high} V: {around}{open_}"
    perhaps = "" if meeting.certain else "perhaps "
    if meeting.kind == "tied supplies":
        return f"{perhaps}two supplies tied together, up to {high} V apart: {around}{open_}"
    return f"{perhaps}a short of {volts}: {around}{open_}"


def _assumed(
    appliances: Sequence[Appliance],
    feeds: Mapping[str, Feed],
    classes: Mapping[str, ProtectionClass],
) -> tuple[str, ...]:
    found = []
    staying = [a.id for a in appliances if a.id not in feeds]
    if staying:
        found.append(
            f"the bricks of {', '.join(staying)} are taken to float: one with an earth pin may not"
        )
    known = {kind for kind, protection in classes.items() if protection != "unknown"}
    unsaid = sorted({f.charger.id for f in feeds.values()} - known)
    if unsaid:
        found.append(
            f"of {', '.join(unsaid)} the class of protection is not known: its share of touch "
            "current is between nothing and that of class II"
        )
    return tuple(found)


def mixed_up(seated: Seated, clashes: Sequence[Clash]) -> dict[tuple[str, str], Verdict]:
    """Where a lead in another device's inlet ties that one's ground to a charger's negative that
    it must not be on.

    Parameters
    ----------
    seated
        For each device that moves to a charger, its chain and the unit of its charger.
    clashes
        The pairs that must not share a negative, or may not.

    Returns
    -------
    dict
        By the device whose lead it is and the device whose inlet it is in; pairs that are not in
        it are safe in this respect.
    """
    places = {
        device: _negative(front.charger, unit)
        for device, (front, unit) in seated.items()
        if not front.isolated
    }
    found: dict[tuple[str, str], Verdict] = {}
    for clash in clashes:
        for inlet, other in ((clash.a, clash.b), (clash.b, clash.a)):
            if other not in places:
                continue
            for lead, place in places.items():
                if lead not in (inlet, other) and place == places[other]:
                    key = (lead, inlet)
                    found[key] = max(found.get(key, Verdict.FITS), clash.verdict)
    return found


def _negative(charger: Charger, unit: int) -> str:
    """The negative of a charger, one and the same for all that are tied to earth or may be."""
    return "earth" if charger.output_earth != "floating" else negative_of(charger, unit)
