"""What can feed current into what is off: signal leads that source, and motors that push back."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.grounds.conductors import Feed
from sinkside.site.written import DeviceWritten, GroupWritten, LinkWritten

Through: TypeAlias = Literal["data", "video", "audio", "motor"]

# What stands on the conductors of a lead for data or video (from memory): USB hands 5 V on, serial
# lines drive up to 15 V of either sign, video leads carry 5 V for what is at the far end.
SOURCES: Mapping[str, str] = {
    "data": "5 V of USB, or the lines of a serial lead, reach its supply through its input diodes",
    "video": "5 V for the far end, and the picture lines, reach its supply through its input "
    "diodes",
}


@dataclass(frozen=True, kw_only=True)
class BackFeed:
    """A way by which current flows into what is off.

    Parameters
    ----------
    source, into
        The device that is on, and what it feeds.
    likely
        Whether the one is commonly on while the other is off.
    """

    through: Through
    source: str
    into: str
    likely: bool
    words: str
    remedies: tuple[str, ...]


def back_feeds(
    devices: Sequence[DeviceWritten],
    feeds: Mapping[str, Feed],
    links: Sequence[LinkWritten],
    groups: Sequence[GroupWritten],
) -> tuple[BackFeed, ...]:
    """Every way, those that are likely first.

    Notes
    -----
    Devices of one group with a switch, and devices on one unit of a charger that drops all at
    once, go on and off together; all others may be on alone.
    """
    found = [
        *(feed for link in links for feed in _through(link, feeds, groups)),
        *(_motor(device.id) for device in devices if device.inside.is_ == "motor"),
    ]
    return tuple(sorted(found, key=lambda feed: not feed.likely))


def _through(
    link: LinkWritten, feeds: Mapping[str, Feed], groups: Sequence[GroupWritten]
) -> Iterator[BackFeed]:
    if link.kind == "audio":
        return
    together = _together(link.from_, link.to, feeds, groups)
    for source, into in ((link.from_, link.to), (link.to, link.from_)):
        yield BackFeed(
            through=link.kind,
            source=source,
            into=into,
            likely=not together,
            words=f"with {source} on and {into} off, {SOURCES[link.kind]}",
            remedies=(
                f"switch {source} and {into} together, and say so as a group with a switch",
                f"unplug the {link.kind} lead before either is switched off alone",
                f"a Schottky diode in the power lead of {into} keeps the current out of what "
                "feeds it",
            ),
        )


def _together(a: str, b: str, feeds: Mapping[str, Feed], groups: Sequence[GroupWritten]) -> bool:
    """Whether two devices go on and off at the same time."""
    if any(group.switch and a in group.together and b in group.together for group in groups):
        return True
    one, other = feeds.get(a), feeds.get(b)
    if one is None or other is None:
        return False
    same = (one.charger.id, one.unit) == (other.charger.id, other.unit)
    return same and one.charger.on_change == "drops all"


def _motor(device: str) -> BackFeed:
    return BackFeed(
        through="motor",
        source=device,
        into=f"what feeds {device}",
        likely=True,
        words=f"as {device} runs down or brakes, its motor pushes current back into its lead",
        remedies=(
            f"a Schottky diode in the power lead of {device}",
            f"a reservoir at {device} that takes up what comes back",
        ),
    )
