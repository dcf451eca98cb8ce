"""The wiring of a path as data: boxes with named pins, and the wires between them, on paper."""

from dataclasses import dataclass

from sinkside.figures.wiring_stations import Conductor
from sinkside.figures.wiring_symbols import Mark, Point


@dataclass(frozen=True, kw_only=True)
class Pin:
    """A contact of a box at its place; `conductor` is None where nobody knows."""

    name: str
    label: str
    conductor: Conductor | None
    x: float
    y: float
    label_x: float
    label_y: float


@dataclass(frozen=True, kw_only=True)
class Words:
    """A line of text that begins there."""

    x: float
    y: float
    words: str
    kind: str


@dataclass(frozen=True, kw_only=True)
class Box:
    """A part, the port or the device, with what is drawn in it."""

    number: int
    kind: str
    name: str
    x: float
    y: float
    width: float
    height: float
    takes: tuple[Pin, ...]
    gives: tuple[Pin, ...]
    marks: tuple[Mark, ...]

    @property
    def pins(self) -> tuple[Pin, ...]:
        """All of them."""
        return (*self.takes, *self.gives)


@dataclass(frozen=True, kw_only=True)
class Wire:
    """A conductor as a line from a pin to a pin.

    Parameters
    ----------
    start, end
        Number of the box and name of the pin.
    colour
        In words; empty where two ends plug together.
    points
        The first is the pin that it starts at, or the joint with another wire that does.
    joints
        Which of its ends are to be soldered, as points.
    """

    conductor: Conductor
    colour: str
    start: tuple[int, str]
    end: tuple[int, str]
    points: tuple[Point, ...]
    joints: tuple[Point, ...]


@dataclass(frozen=True, kw_only=True)
class Wiring:
    """A whole drawing; `stubs` are the ends left open, `forks` where wires part."""

    boxes: tuple[Box, ...]
    wires: tuple[Wire, ...]
    stubs: tuple[tuple[Point, Point], ...]
    forks: tuple[Point, ...]
    words: tuple[Words, ...]
    note: str
    width: float
    height: float
