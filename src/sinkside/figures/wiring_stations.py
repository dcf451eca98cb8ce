"""What stands in a wiring drawing, in order: each part of a front with its pins, port and device.

All of it is read off the front and the appliance; where it goes on the paper comes later.
"""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from sinkside.figures.labels import wrapped
from sinkside.parts.elements import Element
from sinkside.parts.part import Centre, End, Part, Rail
from sinkside.paths.front import Front
from sinkside.paths.rails import given
from sinkside.paths.search import NOT_YET
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS

Conductor: TypeAlias = Literal["positive", "negative"]
Stance: TypeAlias = Literal["source", "pair", "in line", "across", "sink"]
Joint: TypeAlias = Literal["made up", "solder", "open"]

UNKNOWN = "polarity not known: not to be joined"
WRONG = "polarity is the wrong way round: not to be joined"
MISFIT = "the plug is not the inlet's: not to be joined"
SIGNS: dict[Conductor | None, str] = {"positive": "+", "negative": "−", None: "?"}
OTHER: dict[Conductor, Conductor] = {"positive": "negative", "negative": "positive"}
COLOURS: dict[Conductor, str] = {"positive": "red", "negative": "black"}
OWN_COLOUR = "its own"
COMMON = "common"
LOWEST = -1
# In the positive conductor alone: the negative passes them by, as it does on the bench.
_IN_LINE = ("fuse", "resettable fuse", "diode")
_ACROSS = ("crowbar", "bleeder")
_BARREL = re.compile(r"[0-9]{1,2}(\.[0-9]{1,3})?x[0-9]{1,2}(\.[0-9]{1,3})?")


@dataclass(frozen=True, kw_only=True)
class Contact:
    """One pin of a station.

    Parameters
    ----------
    conductor
        None where nobody knows.
    row
        From the upper lane down; `LOWEST` is the lower lane, wherever that is.
    """

    name: str
    conductor: Conductor | None
    row: int = 0

    def label(self, room: int) -> str:
        """The name with its sign, once; the name is cut before the sign is."""
        if self.name.startswith(("+", "−")):
            return self.name
        sign = SIGNS[self.conductor]
        return f"{wrapped(self.name, room - 2, 1)[0]} {sign}"


@dataclass(frozen=True, kw_only=True)
class Station:
    """One box of the drawing before it has a place.

    Parameters
    ----------
    takes, gives
        Its contacts from the upper lane to the lower, towards the port and towards the device.
    feeds
        Of a converter with several outputs: for each lane that leaves it, which of `gives` it
        comes from.
    joint
        How it is joined to what stands before it.
    own_wires
        Whether it is joined by wires that it brings with it, tails or cores.
    """

    number: int
    kind: str
    name: str
    stance: Stance
    takes: tuple[Contact, ...]
    gives: tuple[Contact, ...]
    elements: tuple[Element, ...]
    part: Part | None
    joint: Joint
    own_wires: bool
    under: str
    feeds: tuple[int, ...] = ()

    @property
    def crosses(self) -> bool:
        """Whether what comes in on the upper lane leaves on the lower."""
        if len(self.takes) != 2 or len(self.gives) != 2 or self.feeds:
            return False
        came, left = self.takes[0].conductor, self.gives[0].conductor
        return came is not None and left is not None and came != left

    @property
    def blind(self) -> bool:
        """Whether nobody knows to which of two contacts the conductors that come in go."""
        two = len(self.takes) == len(self.gives) == 2
        return two and self.takes[0].conductor is not None and self.gives[0].conductor is None


def barrel(plug: str) -> bool:
    """Whether a plug has a centre and a sleeve, by its name: outer by inner diameter."""
    if _BARREL.fullmatch(plug) is None:
        return False
    outer_mm, inner_mm = map(float, plug.split("x"))
    return 0.0 < inner_mm < outer_mm


def contacts(end: End, centre: Centre | None) -> tuple[Contact, ...]:
    """The two contacts of an end, the upper lane first.

    Notes
    -----
    Contacts of a plug keep their place whatever the polarity, so that a swap shows as wires
    that cross.
    """
    if end.kind == "wires":
        return _fixed("+", "−")
    if end.kind in ("usb-c", "usb-a") or end.plug in USB_PLUGS:
        return _fixed("VBUS", "GND")
    names = ("centre", "sleeve") if barrel(end.plug) else ("contact 1", "contact 2")
    sleeve = None if centre is None else OTHER[centre]
    return (
        Contact(name=names[0], conductor=centre),
        Contact(name=names[1], conductor=sleeve, row=LOWEST),
    )


def _fixed(positive: str, negative: str) -> tuple[Contact, ...]:
    return (
        Contact(name=positive, conductor="positive"),
        Contact(name=negative, conductor="negative", row=LOWEST),
    )


def stations(front: Front, appliance: Appliance) -> tuple[Station, ...]:
    """Port, parts and device in order."""
    walk = _Walk(front, appliance)
    return tuple(replace(s, number=k) for k, s in enumerate(walk.all(), start=1))


def trouble(front: Front, appliance: Appliance) -> str:
    """Why the last joint is not to be made; empty where it may be."""
    end = front.end
    if front.rails is not None:
        return ""
    if (end.plug or end.kind) != appliance.plug:
        return MISFIT
    if end.kind != "barrel" or end.plug in USB_PLUGS:
        return ""
    undecided = any(part.setting == NOT_YET for part in front.parts)
    if undecided or end.centre is None or appliance.centre is None:
        return UNKNOWN
    return WRONG if appliance.kind != "either" and appliance.centre != end.centre else ""


class _Walk:
    def __init__(self, front: Front, appliance: Appliance) -> None:
        self.front = front
        self.appliance = appliance
        self.trouble = trouble(front, appliance)

    def all(self) -> Iterator[Station]:
        front = self.front
        takes = front.parts[0].takes
        yield _station(
            kind="USB-A" if takes.kind == "usb-a" else "USB-C",
            name=f"{front.charger.id}, port {front.port}",
            stance="source",
            gives=contacts(takes, None),
        )
        for part in front.parts:
            yield self._part(part)
        yield self._device()

    def _part(self, part: Part) -> Station:
        wired = part.takes.kind == "wires"
        own = part.kind in _IN_LINE or part.kind == "lead"
        stance: Stance = "pair"
        if part.kind in _IN_LINE:
            stance = "in line"
        elif part.kind in _ACROSS:
            stance = "across"
        takes, gives = (
            contacts(part.takes, part.takes.centre),
            contacts(part.gives, self._out(part)),
        )
        blind = wired and any(contact.conductor is None for contact in gives)
        held_back = part.setting == NOT_YET or blind
        if held_back:
            takes = tuple(replace(c, name=f"to {c.name}") for c in gives)
        elif stance == "pair" and wired and part.gives.kind == "wires":
            takes, gives = _fixed("+ in", "− in"), _fixed("+ out", "− out")
        elif part.trigger is not None and part.gives.kind == "wires":
            gives = _fixed("+ out", "− out")
        elif stance == "in line":
            takes = (Contact(name="in", conductor="positive"),)
            gives = (Contact(name="out", conductor="positive"),)
        elif stance == "across":
            gives = ()
        feeds: tuple[int, ...] = ()
        if part is self.front.rails:
            takes = _fixed("+ in", "− in")
            lanes = _rail_lanes(self.front, self.appliance)
            gives = _outputs(part.rails, lanes)
            feeds = (*(lane.output for lane in lanes), len(part.rails))
        return _station(
            kind=part.kind,
            name=part.words or part.id,
            stance=stance,
            takes=takes,
            gives=gives,
            elements=part.elements,
            part=part,
            joint="open" if held_back else "solder" if wired else "made up",
            own_wires=own,
            under=_under(part),
            feeds=feeds,
        )

    def _out(self, part: Part) -> Centre | None:
        return None if part.setting == NOT_YET else part.gives.centre

    def _device(self) -> Station:
        appliance, end = self.appliance, self.front.end
        joint: Joint = "made up"
        if self.front.rails is not None:
            lanes = _rail_lanes(self.front, appliance)
            takes = (
                *(Contact(name=x.name, conductor="positive", row=x.row) for x in lanes),
                Contact(name=COMMON, conductor="negative", row=LOWEST),
            )
            joint = "solder"
        elif self.trouble == MISFIT:
            takes = contacts(_inlet(appliance), appliance.centre)
        elif end.kind == "wires":
            takes, joint = _fixed("+", "−"), "solder"
        else:
            centre = end.centre if appliance.kind == "either" and not self.trouble else None
            takes = contacts(end, centre or appliance.centre)
        return _station(
            kind="device",
            name=appliance.id,
            stance="sink",
            takes=takes,
            joint="open" if self.trouble else joint,
            under="takes either way round" if appliance.kind == "either" else "",
        )


def _inlet(appliance: Appliance) -> End:
    if appliance.plug == "wires":
        return End(kind="wires")
    return End(kind="barrel", plug=appliance.plug)


def _under(part: Part) -> str:
    """What has to be set on a part, and which core goes where in a plug that is made up."""
    end = part.gives
    if part.takes.kind != "wires" or end.centre is None or part.setting == NOT_YET:
        return part.setting
    inner = "centre" if end.centre == "positive" else "sleeve"
    return f"{part.setting or f'centre {end.centre}'}: + goes to the {inner}"


def _station(
    *,
    kind: str,
    name: str,
    stance: Stance,
    takes: tuple[Contact, ...] = (),
    gives: tuple[Contact, ...] = (),
    elements: tuple[Element, ...] = (),
    part: Part | None = None,
    joint: Joint = "made up",
    own_wires: bool = False,
    under: str = "",
    feeds: tuple[int, ...] = (),
) -> Station:
    return Station(
        number=0,
        kind=kind,
        name=name,
        stance=stance,
        takes=takes,
        gives=gives,
        elements=elements,
        part=part,
        joint=joint,
        own_wires=own_wires,
        under=under,
        feeds=feeds,
    )


@dataclass(frozen=True, kw_only=True)
class _RailLane:
    """A rail of the device, the output that gives it, and its row."""

    output: int
    name: str
    row: int


def _outputs(rails: Sequence[Rail], lanes: Sequence[_RailLane]) -> tuple[Contact, ...]:
    """Each output in the row of the first rail that it gives."""
    found, row = [], 0
    for k, rail in enumerate(rails):
        found.append(Contact(name=rail.name, conductor="positive", row=row))
        row += max(1, sum(lane.output == k for lane in lanes))
    return (*found, Contact(name=COMMON, conductor="negative", row=LOWEST))


def _rail_lanes(front: Front, appliance: Appliance) -> list[_RailLane]:
    """For each rail that is given: the output that is meant for it, by output."""
    part = front.rails
    if part is None:
        return []
    by_output: list[list[str]] = [[] for _ in part.rails]
    for need in appliance.rails:
        rail = given(part, need)
        if rail is not None:
            by_output[part.rails.index(rail)].append(need.name)
    found, row = [], 0
    for output, names in enumerate(by_output):
        found += [_RailLane(output=output, name=n, row=row + k) for k, n in enumerate(names)]
        row += max(1, len(names))
    return found
