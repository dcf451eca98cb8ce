"""Everything that conducts between chargers and devices: nodes, and what ties them together.

Nodes are mains earth, the common negative of each charger, the negative pole and the signal
ground of each device. Edges are returns of power leads, what a device has between its negative
pole and its ground, shields of signal leads, and the tie of an output to earth. An edge carries
the volts of its far end over its near one: nought, but for a ground that is not the negative.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.parts.charger import Charger
from sinkside.paths.front import Front
from sinkside.physics.unregulated import OPEN_OVER_PLATE
from sinkside.site.appliance import Appliance
from sinkside.site.written import LinkWritten
from sinkside.standards.pd_contract import contract_band

EdgeKind: TypeAlias = Literal["earth", "return", "pole", "shield"]
Range: TypeAlias = tuple[float, float]
NOUGHT: Range = (0.0, 0.0)

EARTH = "mains earth"
# A mid-rail ground stands between a third and two thirds of the supply (common practice).
MID = (1.0 / 3.0, 2.0 / 3.0)
# What a device of which nothing is said may be fed with.
ANY_VOLTS = (0.5, 60.0)


@dataclass(frozen=True, kw_only=True)
class Feed:
    """What feeds a device that has moved to a charger.

    Parameters
    ----------
    unit
        Which of several chargers of the kind.
    volts_v
        At the device.
    isolated
        Whether a converter cuts it off from the charger's negative.
    """

    device: str
    charger: Charger
    unit: int
    volts_v: Range
    isolated: bool

    @property
    def negative(self) -> str:
        """The node that its negative comes from."""
        if self.isolated:
            return f"isolated side of {self.device}"
        return negative_of(self.charger, self.unit)


def negative_of(charger: Charger, unit: int) -> str:
    """The common negative of a charger's outputs."""
    which = f" no. {unit}" if charger.count > 1 else ""
    return f"negative of {charger.id}{which}"


def feed_of(device: str, unit: int, front: Front) -> Feed:
    """The feed that a chain makes."""
    converter = front.converter
    if converter is not None:
        volts = converter.gives_v.low, converter.gives_v.high
    else:
        band = contract_band(front.trigger.asks_v)
        volts = band.low_v, band.high_v
    return Feed(
        device=device,
        charger=front.charger,
        unit=unit,
        volts_v=volts,
        isolated=front.isolated,
    )


@dataclass(frozen=True, kw_only=True)
class Edge:
    """One conductor, or one thing inside a device that conducts.

    Parameters
    ----------
    a, b
        The nodes that it ties.
    volts_v
        Of b over a, least and most.
    certain
        Whether it is there for sure.
    unknown
        What has to be looked at where it is not, by name.
    open_volts
        Whether the volts themselves are not known, so that no loop through it is known to close.
    of
        The device, the charger, or the link that it belongs to, by place in the list of links.
    """

    kind: EdgeKind
    a: str
    b: str
    volts_v: Range = NOUGHT
    certain: bool = True
    unknown: str = ""
    open_volts: bool = False
    of: str = ""
    link: int = -1
    words: str = ""


def edges(
    appliances: Sequence[Appliance],
    feeds: Mapping[str, Feed],
    links: Sequence[LinkWritten],
    on_mains: Collection[str] = (),
) -> tuple[Edge, ...]:
    """Everything that conducts.

    Parameters
    ----------
    feeds
        By device; one that is not in it stays on its brick, which is taken to float.
    on_mains
        Devices with a mains supply of their own: those may be tied to earth inside.
    """
    known = {a.id for a in appliances}
    mains = {a.id for a in appliances if a.id in on_mains and a.id not in feeds}
    return (
        *_earths(feeds),
        *(_own_earth(name) for name in sorted(mains)),
        *(edge for a in appliances for edge in _device(a, feeds.get(a.id), a.id in mains)),
        *(edge for i, link in enumerate(links) for edge in _link(i, link, _named(links, i), known)),
    )


def _named(links: Sequence[LinkWritten], place: int) -> str:
    """A link by its ends, and by its number where there are several between the same two."""
    link = links[place]
    ends = f"{link.from_}-{link.to}"
    alike = [i for i, other in enumerate(links) if (other.from_, other.to) == (link.from_, link.to)]
    return ends if len(alike) == 1 else f"{ends} no. {alike.index(place) + 1}"


def _earths(feeds: Mapping[str, Feed]) -> Iterator[Edge]:
    """The outputs that are tied to earth, or may be."""
    chargers = {negative_of(f.charger, f.unit): f.charger for f in feeds.values()}
    for node, charger in sorted(chargers.items()):
        if charger.output_earth == "floating":
            continue
        certain = charger.output_earth == "earthed"
        yield Edge(
            kind="earth",
            a=EARTH,
            b=node,
            certain=certain,
            unknown="" if certain else f"{charger.id}/output earth",
            of=charger.id,
            words=f"the {node} {'is' if certain else 'may be'} tied to mains earth",
        )


def _own_earth(device: str) -> Edge:
    """What a device with its own mains supply may have inside."""
    return Edge(
        kind="earth",
        a=EARTH,
        b=f"own mains supply of {device}",
        certain=False,
        unknown=f"{device}/earth",
        of=device,
        words=f"{device} may be tied to mains earth by its own mains lead",
    )


def _device(appliance: Appliance, feed: Feed | None, on_mains: bool) -> Iterator[Edge]:
    """The return of its power lead, and what ties its ground to one of its poles."""
    name = appliance.id
    pole, ground = f"negative pole of {name}", ground_of(name)
    own = f"own mains supply of {name}" if on_mains else f"old brick of {name}"
    source = feed.negative if feed else own
    yield Edge(
        kind="return", a=source, b=pole, of=name, words=f"the return of the power lead of {name}"
    )
    low, high = feed.volts_v if feed else _on_brick(appliance)
    lift = {
        "negative": NOUGHT,
        "positive": (low, high),
        "mid": (MID[0] * low, MID[1] * high),
        "unknown": (0.0, high),
    }.get(appliance.ground)
    if lift is None:
        return
    open_ = appliance.ground == "unknown"
    said = "one of its poles, nobody knows which" if open_ else f"its {appliance.ground} pole"
    yield Edge(
        kind="pole",
        a=pole,
        b=ground,
        volts_v=lift,
        certain=not open_,
        unknown=f"{name}/ground" if open_ else "",
        open_volts=open_,
        of=name,
        words=f"the signal ground of {name} is {'perhaps ' if open_ else ''}{said}",
    )


def ground_of(device: str) -> str:
    """The signal ground of a device."""
    return f"ground of {device}"


def _on_brick(appliance: Appliance) -> Range:
    """The volts of a device that stays on its brick."""
    if appliance.plate_v is None:
        return ANY_VOLTS
    return 0.9 * appliance.plate_v, OPEN_OVER_PLATE[1] * appliance.plate_v


def _link(place: int, link: LinkWritten, name: str, known: set[str]) -> Iterator[Edge]:
    """The shield of a signal lead; in a lead for data or video a return runs beside it."""
    if link.from_ not in known or link.to not in known or link.from_ == link.to:
        return
    other = link.kind != "audio"
    if link.shield == "isolated" or (link.shield == "one end" and not other):
        return
    certain = link.shield == "both ends"
    what = "shield" if link.shield != "one end" else "signal return"
    yield Edge(
        kind="shield",
        a=ground_of(link.from_),
        b=ground_of(link.to),
        certain=certain,
        unknown="" if certain else f"{name}/shield",
        of=name,
        link=place,
        words=f"the {what} of the {link.kind} lead from {link.from_} to {link.to}",
    )
