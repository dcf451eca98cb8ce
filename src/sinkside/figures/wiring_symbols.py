"""What is drawn inside the boxes of a wiring drawing: the symbols, by what a part is made of.

Fuse, resistor, capacitor, choke, diode, switch, thyristor and converter are drawn after IEC 60617
(from memory); a part's stray resistance is not drawn.

References
----------
IEC 60617, Graphical symbols for diagrams (from memory): fuse, resistor, capacitor, inductor,
semiconductor diode, thyristor, contact, converter.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Literal, TypeAlias

from sinkside.figures.labels import cells
from sinkside.figures.svg import CELL
from sinkside.figures.wiring_stations import Station
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Converter,
    Crowbar,
    Diode,
    Element,
    FuseLink,
    Inductance,
    RampSwitch,
    Thermistor,
)
from sinkside.parts.part import Part
from sinkside.standards.type_c_cc import RD_OHM

Ink: TypeAlias = Literal["positive", "negative", "unknown", "symbol", "filled", "dot", "words"]
Point: TypeAlias = tuple[float, float]

_HALF = 5.0
# Where conductors begin to cross and have crossed, from the right edge.
_KNEE, _FAR = 44.0, 20.0


@dataclass(frozen=True, kw_only=True)
class Mark:
    """A line through points, a filled shape, a dot, or words that begin at the only point."""

    ink: Ink
    points: tuple[Point, ...]
    words: str = ""


@dataclass(frozen=True, kw_only=True)
class _Place:
    """The room in a box: its upper lane and its lower one."""

    left: float
    right: float
    top: float
    foot: float

    @property
    def middle(self) -> float:
        return (self.left + self.right) / 2


def inside(station: Station, x: float, top: float, wide: float, pitch: float) -> tuple[Mark, ...]:
    """What is drawn in a box that begins at `x` and whose upper lane is at `top`."""
    place = _Place(left=x, right=x + wide, top=top, foot=top + pitch)
    if station.stance == "source":
        return (_words(place.middle, (place.top + place.foot) / 2 + 3.5, station.kind),)
    if station.stance == "sink":
        return tuple(_load(station, place))
    if station.stance == "across":
        return tuple(_across(station, place))
    return tuple(_through(station, place))


def _through(station: Station, place: _Place) -> Iterator[Mark]:
    part = station.part
    converter = part.converter if part is not None else None
    if converter is not None or station.feeds:
        yield from _converter(station, place, converter)
        return
    yield from _lanes(station, place)
    if station.crosses or station.blind:
        place = replace(place, right=place.right - _KNEE)
    if part is not None and part.trigger is not None:
        yield from _trigger(part, place)
    yield from _elements(station.elements, place)


def _lanes(station: Station, place: _Place) -> Iterator[Mark]:
    """Both conductors through the box; they cross where the far end has them the other way."""
    knee, far = place.right - _KNEE, place.right - _FAR
    levels = (place.top, place.foot)
    gap = _gap(station, replace(place, right=knee) if station.crosses or station.blind else place)
    for k, contact in enumerate(station.takes):
        ink: Ink = contact.conductor or "unknown"
        y, other = levels[k], levels[1 - k]
        points: tuple[Point, ...] = ((place.left, y), (place.right, y))
        if station.crosses:
            points = ((place.left, y), (knee, y), (far, other), (place.right, other))
        elif station.blind:
            # It ends, and so does what comes from the contact.
            points = ((place.left, y), (knee, y))
            yield Mark(ink="unknown", points=((far, y), (place.right, y)))
        yield from _broken(ink, points, gap if k == 0 else None)


def _broken(ink: Ink, points: tuple[Point, ...], gap: tuple[float, float] | None) -> Iterator[Mark]:
    """The line, less the stretch in which a switch stands."""
    if gap is None:
        yield Mark(ink=ink, points=points)
        return
    y = points[0][1]
    yield Mark(ink=ink, points=(points[0], (gap[0], y)))
    yield Mark(ink=ink, points=((gap[1], y), *points[1:]))


def _gap(station: Station, place: _Place) -> tuple[float, float] | None:
    trigger = station.part.trigger if station.part is not None else None
    switched = any(isinstance(e, RampSwitch) for e in station.elements)
    if not switched and not (trigger is not None and trigger.gated):
        return None
    return place.middle - 9, place.middle + 9


def _elements(elements: tuple[Element, ...], place: _Place) -> Iterator[Mark]:
    """One symbol for each element that a bench can see, in order from the source."""
    shown = [e for e in elements if isinstance(e, _SHOWN)]
    step = (place.right - place.left - 16) / max(len(shown), 1)
    for k, element in enumerate(shown):
        x = place.left + 8 + step * (k + 0.5)
        y = place.top
        match element:
            case FuseLink():
                yield _rectangle(x - 13, y - _HALF, x + 13, y + _HALF)
            case Thermistor():
                yield _rectangle(x - 13, y - _HALF, x + 13, y + _HALF)
                yield _stroke((x - 16, y + 8), (x - 10, y + 8), (x + 10, y - 8))
            case Diode():
                yield Mark(ink="filled", points=((x - 5, y - 5), (x - 5, y + 5), (x + 5, y)))
                yield _stroke((x + 5, y - 5), (x + 5, y + 5))
            case Inductance():
                yield Mark(ink="filled", points=_corners(x - 13, y - 4, x + 13, y + 4))
            case RampSwitch():
                yield from _switch(x, y)
                yield _stroke((x - 12, y + 20), (x - 4, y + 20), (x + 6, y + 11), (x + 13, y + 11))
            case Capacitance():
                yield from _capacitor(x, place)
            case Bleeder():
                yield from _shunt_resistor(x, place.top, place.foot)
            case _:
                yield from _thyristor(x, place.top, place.foot)


_SHOWN = (
    *(FuseLink, Thermistor, Diode, Inductance, RampSwitch),
    *(Capacitance, Bleeder, Crowbar),
)


def _switch(x: float, y: float) -> Iterator[Mark]:
    yield _stroke((x - 9, y), (x + 7, y - 8))
    yield Mark(ink="dot", points=((x - 9, y),))
    yield Mark(ink="dot", points=((x + 9, y),))


def _capacitor(x: float, place: _Place) -> Iterator[Mark]:
    middle = (place.top + place.foot) / 2
    yield _stroke((x, place.top), (x, middle - 2.5))
    yield _stroke((x, place.foot), (x, middle + 2.5))
    for y in (middle - 2.5, middle + 2.5):
        yield _stroke((x - 8, y), (x + 8, y))
    for y in (place.top, place.foot):
        yield Mark(ink="dot", points=((x, y),))
    yield _words(x - 13, middle - 5, "+")


def _shunt_resistor(x: float, top: float, foot: float) -> Iterator[Mark]:
    middle = (top + foot) / 2
    yield _stroke((x, top), (x, middle - 9))
    yield _stroke((x, foot), (x, middle + 9))
    yield _rectangle(x - 4, middle - 9, x + 4, middle + 9)


def _thyristor(x: float, top: float, foot: float) -> Iterator[Mark]:
    middle = (top + foot) / 2
    yield _stroke((x, top), (x, foot))
    yield Mark(ink="filled", points=((x - 6, middle - 6), (x + 6, middle - 6), (x, middle + 4)))
    yield _stroke((x - 6, middle + 4), (x + 6, middle + 4))
    yield _stroke((x + 1, middle + 4), (x + 8, middle + 10))


def _across(station: Station, place: _Place) -> Iterator[Mark]:
    top, foot = place.top + ACROSS_INSET, place.foot - ACROSS_INSET
    for element in station.elements:
        if isinstance(element, Bleeder):
            yield from _shunt_resistor(place.middle, top, foot)
        elif isinstance(element, Crowbar):
            yield from _thyristor(place.middle, top, foot)


ACROSS_INSET = 12.0
"""From a lane to the box of a part that hangs across the pair."""


def _trigger(part: Part, place: _Place) -> Iterator[Mark]:
    trigger = part.trigger
    if trigger is None:
        return
    if trigger.gated:
        yield from _switch(place.middle, place.top)
    if trigger.by_resistors:
        yield from _pull_downs(place)
    else:
        said = f"asks {trigger.asks_v:g} V"
        yield _words(place.middle, (place.top + place.foot) / 2 + 3, said)


def _pull_downs(place: _Place) -> Iterator[Mark]:
    """A resistor from each CC contact to the negative, each its own."""
    ohms = f"{RD_OHM / 1000:.2g} kΩ"
    down = place.left + 90
    for name, y in (("CC1", place.top + 24), ("CC2", place.top + 48)):
        yield Mark(ink="words", points=((place.left + 5, y - 7),), words=name)
        yield _stroke((place.left, y), (place.left + 40, y))
        yield _rectangle(place.left + 40, y - 4, place.left + 66, y + 4)
        yield _stroke((place.left + 66, y), (down, y))
        yield Mark(ink="words", points=((place.left + 36, y - 7),), words=ohms)
    yield _stroke((down, place.top + 24), (down, place.foot))
    for y in (place.top + 48, place.foot):
        yield Mark(ink="dot", points=((down, y),))


def _converter(station: Station, place: _Place, converter: Converter | None) -> Iterator[Mark]:
    """A square with a diagonal; the negative goes past it, unless the two sides are apart."""
    apart = converter is not None and converter.direction == "isolated"
    left, right = place.left + 36, place.right - 38
    if station.feeds:
        left, right = place.left + 32, place.left + 60
    foot = place.foot + 7 if apart else place.foot - 8
    top = place.top - 7
    yield _rectangle(left, top, right, foot)
    yield _stroke((left, foot), (right, top))
    middle = (left + right) / 2
    yield _words(left + 9, top + 11, "=")
    yield _words(right - 9, foot - 4, "=")
    yield Mark(ink="positive", points=((place.left, place.top), (left, place.top)))
    if not apart:
        yield Mark(ink="negative", points=((place.left, place.foot), (place.right, place.foot)))
        yield Mark(ink="negative", points=((middle, foot), (middle, place.foot)))
        yield Mark(ink="dot", points=((middle, place.foot),))
    else:
        yield Mark(ink="negative", points=((place.left, place.foot), (left, place.foot)))
        yield Mark(ink="negative", points=((right, place.foot), (place.right, place.foot)))
    for contact in station.gives[:-1]:
        y = place.top + contact.row * ROW
        yield Mark(ink="positive", points=((right, y), (place.right, y)))


ROW = 24.0
"""From one of several outputs to the next."""


def _load(station: Station, place: _Place) -> Iterator[Mark]:
    """The device as a load between its contacts, with the signs that it wants."""
    if len(station.takes) != 2:
        yield _words(place.right - 20, (place.top + place.foot) / 2, "load")
        return
    x = place.right - 16
    middle = (place.top + place.foot) / 2
    for contact, y, end in zip(
        station.takes, (place.top, place.foot), (middle - 9, middle + 9), strict=True
    ):
        ink: Ink = contact.conductor or "unknown"
        yield Mark(ink=ink, points=((place.left, y), (x, y), (x, end)))
    yield _rectangle(x - 5, middle - 9, x + 5, middle + 9)
    yield _words(place.left + 40, middle + 3.5, "load")


def _words(middle: float, y: float, words: str) -> Mark:
    return Mark(ink="words", points=((middle - cells(words) * CELL / 2, y),), words=words)


def _stroke(*points: Point) -> Mark:
    return Mark(ink="symbol", points=points)


def _corners(left: float, top: float, right: float, foot: float) -> tuple[Point, ...]:
    return (left, top), (right, top), (right, foot), (left, foot)


def _rectangle(left: float, top: float, right: float, foot: float) -> Mark:
    return _stroke((left, top), (right, top), (right, foot), (left, foot), (left, top))
