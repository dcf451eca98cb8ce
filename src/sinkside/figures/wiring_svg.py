"""The wiring of a path as SVG: what is soldered to what, from the port to the inlet.

The positive conductor is a heavy line, the negative a thin one, every contact has its sign and
every wire its colour in words: nothing is told by colour alone.
"""

from collections.abc import Iterator, Sequence

from sinkside.figures import svg
from sinkside.figures.labels import as_xml
from sinkside.figures.look import ACCENT, INK, PAPER
from sinkside.figures.svg import number
from sinkside.figures.wiring import Box, Wiring
from sinkside.figures.wiring_layout import wiring
from sinkside.figures.wiring_symbols import Mark, Point
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance

_WEIGHTS = {"positive": 2.2, "negative": 1.0, "unknown": 1.0, "symbol": 1.2}
_PIN, _DOT, _JOINT = 2.6, 1.8, 3.4


def wiring_svg(front: Front, appliance: Appliance, *, width: float = 520.0) -> str:
    """Draw the wiring of a path, from the port to the device's inlet.

    Parameters
    ----------
    width
        In units of a tenth of the type size; the height follows.

    Raises
    ------
    ValueError
        The drawing is narrower than 420.

    Notes
    -----
    The same path gives the same bytes. Where the polarity of the inlet is not known the last
    joint is left open, and a sentence says so.
    """
    drawn = wiring(front, appliance, width=width)
    parts = [
        *(_wire(f"wiring-{w.conductor}", w.points, w.conductor) for w in drawn.wires),
        *(_wire("wiring-stub", stub, "unknown") for stub in drawn.stubs),
        *(part for box in drawn.boxes for part in _box(box)),
        *(_circle("wiring-solder", joint, _JOINT, INK) for joint in _joints(drawn)),
        *(_circle("wiring-fork", fork, _DOT, INK) for fork in drawn.forks),
        *(_circle("wiring-end", stub[1], _PIN, PAPER) for stub in drawn.stubs),
        *(svg.text(w.x, w.y, w.words, w.kind) for w in drawn.words),
    ]
    title = f"Wiring of {appliance.id}"
    return svg.document("wiring", title, description(drawn), drawn.width, drawn.height, parts)


def description(drawn: Wiring) -> str:
    """The drawing in words: every wire from where to where, and in what colour."""
    names = {box.number: f"{box.number} {box.name}" for box in drawn.boxes}
    said = [
        f"{names[w.start[0]]}, {w.start[1]}, to {names[w.end[0]]}, {w.end[1]}: {w.conductor}"
        + (f", {w.colour}" if w.colour else "")
        + (", to be soldered." if w.joints else ".")
        for w in drawn.wires
    ]
    return " ".join([*said, f"{drawn.note}." if drawn.note else ""]).strip()


def _joints(drawn: Wiring) -> tuple[Point, ...]:
    """Each once: several wires may meet at one pin."""
    return tuple(dict.fromkeys(joint for w in drawn.wires for joint in w.joints))


def _box(box: Box) -> Iterator[str]:
    yield svg.box(box.x, box.y, box.width, box.height, "wiring-box", weight=0.9)
    for mark in box.marks:
        yield _mark(mark)
    for pin in box.pins:
        title = f"<title>{as_xml(f'{box.number} {pin.name}')}</title>"
        yield _circle("wiring-pin", (pin.x, pin.y), _PIN, PAPER, title)
        yield svg.text(pin.label_x, pin.label_y, pin.label, "wiring-pin-name")


def _mark(mark: Mark) -> str:
    if mark.ink == "words":
        return svg.text(*mark.points[0], mark.words, "wiring-inside-words")
    if mark.ink == "dot":
        return _circle("wiring-inside-dot", mark.points[0], _DOT, INK)
    if mark.ink == "filled":
        return f'<polygon class="wiring-filled" points="{_points(mark.points)}" fill="{INK}"/>'
    return _wire(f"wiring-inside-{mark.ink}", mark.points, mark.ink)


def _wire(kind: str, points: Sequence[Point], ink: str) -> str:
    colour = ACCENT if ink == "positive" else INK
    return (
        f'<polyline class="{kind}" points="{_points(points)}" fill="none" stroke="{colour}" '
        f'stroke-width="{number(_WEIGHTS[ink])}"/>'
    )


def _points(points: Sequence[Point]) -> str:
    return " ".join(f"{number(x)},{number(y)}" for x, y in points)


def _circle(kind: str, at: Point, radius: float, fill: str, within: str = "") -> str:
    return svg.circle(kind, *at, radius, fill, 0.9, within)
