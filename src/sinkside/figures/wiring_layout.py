"""Where everything in a wiring drawing goes.

Boxes stand from left to right and go on in a further row where the paper ends. The wires of a
pair run in lanes, the upper one positive behind wire ends and the contact in the middle of a
plug behind a plug. No two wires cross outside a box.
"""

from collections.abc import Sequence
from dataclasses import dataclass

from sinkside.figures.labels import cells, wrapped
from sinkside.figures.svg import CELL
from sinkside.figures.wiring import Box, Pin, Wire, Wiring, Words
from sinkside.figures.wiring_stations import (
    COLOURS,
    LOWEST,
    OWN_COLOUR,
    Conductor,
    Contact,
    Station,
    stations,
    trouble,
)
from sinkside.figures.wiring_symbols import ACROSS_INSET, ROW, Point, inside
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance

NARROWEST = 420.0
"""The least width at which two boxes and the words between them have room."""

_EDGE, _STEP, _GAP = 8.0, 6.0, 50.0
_TURN = _EDGE + 3 * _STEP
_LINE = 12.0
_HEAD, _TAIL = 22.0, 20.0
_LANES, _TALL_LANES = 40.0, 72.0
_WIDE, _IN_LINE, _CONVERTER, _RAILS = 104.0, 98.0, 116.0, 136.0
_BETWEEN_LABELS = 22.0
_TWIN = 10.0
# Of the name of a contact, in cells: a rail may have any.
_ROOM = 11
_FED_ROOM = 14
_MOULDED = 144.0
_MOST_NAME, _MOST_UNDER = 4, 3
_LEGEND = "heavy line +, thin line −; filled: to be soldered; ring: nothing to solder"
_RING_OUT = "its own: a tail or core that the part brings, of any colour: ring it out"


@dataclass
class _Lane:
    """A conductor on its way to the next pin."""

    conductor: Conductor | None
    start: tuple[int, str]
    points: list[Point]


def wiring(front: Front, appliance: Appliance, *, width: float = 520.0) -> Wiring:
    """Lay out the wiring of a path.

    Parameters
    ----------
    width
        In units of a tenth of the type size; the height follows.

    Raises
    ------
    ValueError
        The drawing is narrower than `NARROWEST`.
    """
    if width < NARROWEST:
        raise ValueError(f"a wiring drawing needs a width of {NARROWEST:g} or more, not {width:g}")
    return _Layout(width, trouble(front, appliance)).of(stations(front, appliance))


class _Layout:
    def __init__(self, width: float, note: str) -> None:
        self.width = width
        self.note = note
        self.boxes: list[Box] = []
        self.wires: list[Wire] = []
        self.stubs: list[tuple[Point, Point]] = []
        self.forks: list[Point] = []
        self.words: list[Words] = []
        self.lanes: list[_Lane] = []

    def of(self, found: Sequence[Station]) -> Wiring:
        y = _EDGE
        for k, row in enumerate(self._rows(found)):
            y = self._row(row, y, first=k == 0)
        own = any(wire.colour == OWN_COLOUR for wire in self.wires)
        y = self._foot("wiring-note", self.note, y)
        y = self._foot("wiring-legend", _LEGEND, y)
        y = self._foot("wiring-legend", _RING_OUT if own else "", y)
        return Wiring(
            boxes=tuple(self.boxes),
            wires=tuple(self.wires),
            stubs=tuple(self.stubs),
            forks=tuple(self.forks),
            words=tuple(self.words),
            note=self.note,
            width=self.width,
            height=y + _EDGE,
        )

    def _foot(self, kind: str, said: str, y: float) -> float:
        """A sentence under the drawing; where it ends."""
        lines = wrapped(said, int((self.width - 2 * _EDGE) / CELL), 2) if said else ()
        for words in lines:
            y += _LINE + 2
            self.words.append(Words(x=_EDGE, y=y, words=words, kind=kind))
        return y

    def _rows(self, found: Sequence[Station]) -> list[list[Station]]:
        """As many to a row as fit; several outputs stay beside what they feed."""
        rows: list[list[Station]] = [[]]
        x = _EDGE
        for k, station in enumerate(found):
            needs = _wide(station)
            more = _GAP + _wide(found[k + 1]) if station.feeds else 0.0
            room = self.width - _TURN
            if rows[-1] and x + needs + more > room:
                rows.append([])
                x = _left()
            rows[-1].append(station)
            x += needs + _GAP
        return rows

    def _row(self, row: Sequence[Station], y: float, *, first: bool) -> float:
        starts = self._starts(row, first)
        names = [self._wrapped(f"{s.number} {s.name}", s, x, _MOST_NAME) for s, x in starts]
        top = y + _LINE * max(map(len, names)) + 4 + _HEAD
        pitch = _pitch(row)
        if not first:
            self._turn(y, top, pitch)
            top += _turned(self.lanes)
            y += _turned(self.lanes)
        foot = top + pitch + _TAIL
        lowest = foot
        for (station, x), name in zip(starts, names, strict=True):
            for j, line in enumerate(name):
                above = top - _HEAD - 4 - _LINE * (len(name) - 1 - j)
                self.words.append(Words(x=x, y=above, words=line, kind="wiring-name"))
            self._join(station, x, top, pitch)
            said = station.under
            under = self._wrapped(said, station, x, _MOST_UNDER) if said else ()
            for j, line in enumerate(under):
                below = foot + _LINE * (j + 1)
                self.words.append(Words(x=x, y=below, words=line, kind="wiring-setting"))
            lowest = max(lowest, foot + _LINE * len(under) + (3 if under else 0))
        return lowest + 6

    def _starts(self, row: Sequence[Station], first: bool) -> list[tuple[Station, float]]:
        found = []
        x = _EDGE if first else _left()
        for station in row:
            found.append((station, x))
            x += _wide(station) + _GAP
        return found

    def _wrapped(self, words: str, station: Station, x: float, most: int) -> tuple[str, ...]:
        """Words over or under a box: as far as the next one, or where wires turn."""
        room = min(_wide(station) + _GAP - CELL, self.width - _TURN - x)
        return wrapped(words, int(room / CELL), most)

    def _turn(self, y: float, top: float, pitch: float) -> None:
        """Lead every lane round to the left of a new row, the upper one outermost, below."""
        count = len(self.lanes)
        for k, lane in enumerate(self.lanes):
            out = self.width - _EDGE - _STEP * k
            channel = y + _STEP * (count - k)
            back = _EDGE + _STEP * (count - 1 - k)
            level = top + _turned(self.lanes) + (pitch * k / max(count - 1, 1))
            was = lane.points[-1][1]
            lane.points += [(out, was), (out, channel), (back, channel), (back, level)]

    def _join(self, station: Station, x: float, top: float, pitch: float) -> None:
        """Put a box there, and end in it the lanes that it takes."""
        box = _box(station, x, top, pitch)
        self.boxes.append(box)
        middle = x - _GAP / 2
        if station.joint == "open":
            self._open(box, middle)
        elif station.stance == "across":
            self._tap(box, station)
        else:
            for k, pin in enumerate(box.takes):
                self._end(self.lanes[k], pin, station)
            if station.joint == "solder" and box.takes:
                self._say(station, box, middle)
        if station.stance == "in line":
            self.lanes[0] = _starts(box, box.gives[0])
        elif station.feeds:
            self.lanes = [_starts(box, box.gives[output]) for output in station.feeds]
        elif station.stance != "across":
            self.lanes = [_starts(box, pin) for pin in box.gives]

    def _end(self, lane: _Lane, pin: Pin, station: Station) -> None:
        x, y = lane.points[-1]
        if y != pin.y:  # a second rail on the same output
            lane.points += [(x + _TWIN, y), (x + _TWIN, pin.y)]
            self.forks.append((x + _TWIN, y))
        lane.points.append((pin.x, pin.y))
        first, last = lane.points[0], lane.points[-1]
        joints: tuple[Point, ...] = ()
        if station.joint == "solder":
            joints = (first,) if station.own_wires else (first, last)
        self._wire(lane, pin, station, tuple(lane.points), joints)

    def _wire(
        self,
        lane: _Lane,
        pin: Pin,
        station: Station,
        points: tuple[Point, ...],
        joints: tuple[Point, ...],
    ) -> None:
        conductor = lane.conductor or pin.conductor
        if conductor is None:
            raise ValueError("a joint of a polarity that nobody knows")
        self.wires.append(
            Wire(
                conductor=conductor,
                colour=_colour(station, conductor),
                start=lane.start,
                end=(station.number, pin.name),
                points=points,
                joints=joints,
            )
        )

    def _say(self, station: Station, box: Box, middle: float) -> None:
        """What is done at a joint, and in what colour."""
        pins = box.takes
        y = pins[0].y + 15.5
        if len(pins) > 1:
            y = (pins[-1].y + pins[-2].y) / 2 + 3.5
        self._centred(middle, y, "solder", "wiring-joint")
        for k in sorted({0, len(pins) - 1}):
            said = _colour(station, pins[k].conductor or "positive")
            self._centred(middle, pins[k].y + (14 if k else -8), said, "wiring-colour")

    def _centred(self, middle: float, y: float, words: str, kind: str) -> None:
        x = middle - cells(words) * CELL / 2
        self.words.append(Words(x=x, y=y, words=words, kind=kind))

    def _open(self, box: Box, middle: float) -> None:
        for lane, pin in zip(self.lanes, box.takes, strict=True):
            x, y = lane.points[0]
            self.stubs.append(((x, y), (x + 12, y)))
            self.stubs.append(((pin.x, pin.y), (pin.x - 12, pin.y)))
        between = (box.takes[0].y + box.takes[-1].y) / 2 + 3.5
        self._centred(middle, between, "open", "wiring-joint")
        self.lanes = []

    def _tap(self, box: Box, station: Station) -> None:
        """Across the pair: both conductors go on, and a branch of each ends in the box."""
        for lane, pin in zip(self.lanes, box.takes, strict=True):
            lower = pin is box.takes[-1]
            at = (pin.x, pin.y + (ACROSS_INSET if lower else -ACROSS_INSET))
            lane.points.append(at)
            self.forks.append(at)
            end = (pin.x, pin.y)
            self._wire(lane, pin, station, (at, end), (lane.points[0], end))
        self._centred(box.x - _GAP / 2, box.takes[0].y + 15.5, "solder", "wiring-joint")


def _left() -> float:
    return _EDGE + 2 * _STEP + _GAP


def _turned(lanes: Sequence[_Lane]) -> float:
    return _STEP * (len(lanes) + 1) if lanes else 0.0


def _colour(station: Station, conductor: Conductor) -> str:
    if station.joint != "solder":
        return ""
    return OWN_COLOUR if station.own_wires else COLOURS[conductor]


def _wide(station: Station) -> float:
    """So wide that the names of its contacts stand beside each other."""
    if station.stance == "in line":
        return _IN_LINE
    if station.feeds or len(station.takes) > 2:
        return _RAILS
    ends = (station.takes, station.gives)
    labels = sum(max((cells(c.label(_ROOM)) for c in found), default=0) for found in ends)
    part = station.part
    least = _CONVERTER if part and part.converter else _WIDE
    if (station.crosses or station.blind) and part and part.trigger:
        least = _MOULDED
    return max(least, labels * CELL + _BETWEEN_LABELS)


def _pitch(row: Sequence[Station]) -> float:
    """From the upper lane to the lower one, the same for a whole row."""
    rows = max(contact.row for s in row for contact in (*s.takes, *s.gives))
    tall = any(
        s.stance == "across" or (s.part and s.part.trigger and s.part.trigger.by_resistors)
        for s in row
    )
    return max(_TALL_LANES if tall else _LANES, ROW * (rows + 1))


def _starts(box: Box, pin: Pin) -> _Lane:
    return _Lane(conductor=pin.conductor, start=(box.number, pin.name), points=[(pin.x, pin.y)])


def _box(station: Station, x: float, top: float, pitch: float) -> Box:
    wide = _wide(station)
    y, height = top - _HEAD, _HEAD + pitch + _TAIL
    if station.stance == "in line":
        height = 2 * _HEAD - 4
    elif station.stance == "across":
        y, height = top + ACROSS_INSET, pitch - 2 * ACROSS_INSET
    return Box(
        number=station.number,
        kind=station.kind,
        name=station.name,
        x=x,
        y=y,
        width=wide,
        height=height,
        takes=tuple(_pin(station, c, x, top, pitch, right=False) for c in station.takes),
        gives=tuple(_pin(station, c, x, top, pitch, right=True) for c in station.gives),
        marks=inside(station, x, top, wide, pitch),
    )


def _pin(
    station: Station, contact: Contact, x: float, top: float, pitch: float, *, right: bool
) -> Pin:
    """A contact at the left or the right edge; of a part across the pair at top and foot."""
    wide, lower = _wide(station), contact.row == LOWEST
    label = contact.label(_FED_ROOM if station.stance == "sink" else _ROOM)
    y = top + (pitch if lower else ROW * contact.row)
    pin_x, label_x = x, x + 5
    label_y = y + (14 if lower else -8)
    if right:
        pin_x, label_x = x + wide, x + wide - 5 - cells(label) * CELL
    if station.stance == "across":
        pin_x, label_x = x + wide / 2, x + wide / 2 + 12
        y += -ACROSS_INSET if lower else ACROSS_INSET
        label_y = y + (-4 if lower else 11)
    return Pin(
        name=contact.name,
        label=label,
        conductor=contact.conductor,
        x=pin_x,
        y=y,
        label_x=label_x,
        label_y=label_y,
    )
