"""The window as SVG, for the page and for paper.

The band that the device accepts lies open, what harms it is hatched, what it does not run on
is dotted; where nobody knows, hatch and dots are thinner. The contract that was asked for is a
heavy bar, every other state an open one. Nothing is told by colour alone, and nothing refers
to anything by name, so that any number of drawings may stand in one document.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sinkside.figures.labels import as_xml, cells, spread, wrapped
from sinkside.figures.look import ACCENT, INK, PAPER, TYPEFACE
from sinkside.figures.window import Bar, Window, ticks

SIZE = 10.0
CELL = 6.1
"""Width of a character at that size, a little more than it takes."""
NARROWEST = 320.0
"""The least width at which the names of the zones stand beside each other."""

_LEFT, _RIGHT, _EDGE = 16.0, 22.0, 3.0
_NAMES, _ROW, _LINE, _SCALE = 20.0, 14.0, 12.0, 17.0
_GAP, _APART = 7.0, 8.0
# A charger of many ports has states that go on for lines; the description has them in full.
_MOST_LINES = 3


@dataclass(frozen=True, kw_only=True)
class Zone:
    """A stretch of volts that means one thing to the device.

    Parameters
    ----------
    dots, hatch
        Distance between dots, or between lines; None where there are none.
    weight
        Diameter of a dot, or width of a line.
    """

    name: str
    low_v: float
    high_v: float
    dots: float | None = None
    hatch: float | None = None
    weight: float = 0.0


@dataclass(frozen=True, kw_only=True)
class _Row:
    """Where a bar and its label stand; `bar_y` is its middle."""

    bar: Bar
    bar_y: float
    lines: tuple[str, ...]
    side: str


class _Scale:
    """Volts to the right, rows downwards."""

    def __init__(self, drawn: Window, width: float, top: float) -> None:
        self.left, self.right, self.top = _LEFT, width - _RIGHT, top
        self._from_v, self._to_v = drawn.left_v, drawn.right_v

    def x(self, volts: float) -> float:
        share = (volts - self._from_v) / (self._to_v - self._from_v)
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)


def window_svg(drawn: Window, *, title: str = "Window", width: float = 560.0) -> str:
    """Draw a window.

    Parameters
    ----------
    title
        What the drawing is of, for those who hear it.
    width
        In units of a tenth of the type size; the height follows.

    Raises
    ------
    ValueError
        The drawing is narrower than `NARROWEST`, or its scale has no extent.

    Notes
    -----
    The same window gives the same bytes.
    """
    if width < NARROWEST:
        raise ValueError(f"a window needs a width of {NARROWEST:g} or more, not {width:g}")
    if not (math.isfinite(drawn.right_v) and drawn.left_v < drawn.right_v):
        raise ValueError(f"a scale from {drawn.left_v:g} V to {drawn.right_v:g} V has no extent")
    scale = _Scale(drawn, width, _NAMES)
    rows, foot = _rows(drawn, scale)
    found = zones(drawn)
    parts = [
        *(
            _pattern(zone, scale.x(zone.low_v), scale.x(zone.high_v), scale.top, foot)
            for zone in found
        ),
        *_edges(drawn, scale, foot),
        *_names(found, drawn, scale, width),
        *(line for row in rows for line in _row(row, scale)),
        *_foot(drawn, scale, foot, width),
    ]
    return _document(title, description(drawn), width, foot + _SCALE, parts)


def zones(drawn: Window) -> tuple[Zone, ...]:
    """What the volts of the scale mean, from left to right; those that have an extent.

    What may not run and what may harm can lie over each other.
    """
    left, right = drawn.left_v, drawn.right_v
    every = (
        Zone(name="won't run", low_v=left, high_v=drawn.wont_run_v, dots=5.0, weight=1.4),
        Zone(name="may not run", low_v=drawn.wont_run_v, high_v=drawn.runs_v, dots=8.5, weight=1.0),
        Zone(name="accepts", low_v=drawn.runs_v, high_v=drawn.stands_v),
        Zone(name="may harm", low_v=drawn.stands_v, high_v=drawn.harmed_v, hatch=8.0, weight=0.4),
        Zone(name="harms", low_v=drawn.harmed_v, high_v=right, hatch=4.0, weight=0.9),
    )
    within = (
        Zone(
            name=z.name,
            low_v=max(z.low_v, left),
            high_v=min(z.high_v, right),
            dots=z.dots,
            hatch=z.hatch,
            weight=z.weight,
        )
        for z in every
    )
    return tuple(zone for zone in within if zone.low_v < zone.high_v)


def description(drawn: Window) -> str:
    """The drawing in words: the zones, then each bar and the zones that it touches."""
    found = zones(drawn)
    said = [f"{z.name} {z.low_v:.2f} to {z.high_v:.2f} V" for z in found]
    if not any(z.name == "accepts" for z in found):
        said.append("no volts are known that it surely accepts")
    sentences = [f"The device: {'; '.join(said)}."]
    for bar in drawn.bars:
        touched = [
            z.name
            for z in found
            if bar.low_v <= z.high_v
            and z.low_v <= bar.high_v
            and not (bar.low_v < bar.high_v and (bar.low_v == z.high_v or bar.high_v == z.low_v))
        ]
        sentences.append(
            f"{bar.label}: {bar.low_v:.2f} to {bar.high_v:.2f} V, nominal {bar.nominal_v:.2f} V, "
            f"in: {', '.join(touched)}."
        )
    return " ".join(sentences)


def _rows(drawn: Window, scale: _Scale) -> tuple[list[_Row], float]:
    """Every bar with the place of its label, and where the plot ends below."""
    rows, y = [], scale.top + 2.5
    lines: tuple[str, ...]
    for bar in drawn.bars:
        needs = cells(bar.label) * CELL + _GAP + 2
        left = scale.x(bar.low_v) - scale.left
        right = scale.right - scale.x(bar.high_v)
        if needs <= max(left, right):
            # The side with more room leaves more of the narrow zone beside the bar to be seen.
            lines, side = (bar.label,), "right" if right >= left else "left"
        else:
            room = int((scale.right - scale.left - 6) / CELL)
            lines, side = wrapped(bar.label, room, _MOST_LINES), "above"
            y += _LINE * len(lines)
        rows.append(_Row(bar=bar, bar_y=y + _ROW / 2, lines=lines, side=side))
        y += _ROW
    return rows, max(y + 2.5, scale.top + 24.0)


def _row(row: _Row, scale: _Scale) -> list[str]:
    bar, y = row.bar, row.bar_y
    xs = (scale.x(bar.low_v), scale.x(bar.nominal_v), scale.x(bar.high_v))
    parts = []
    for k, line in enumerate(row.lines):
        width = cells(line) * CELL
        if row.side == "above":
            x, base = scale.left + 3, y - _ROW / 2 - _LINE * (len(row.lines) - 1 - k) - 2.5
        else:
            x, base = (xs[2] + _GAP if row.side == "right" else xs[0] - _GAP - width), y + 3.5
        parts.append(_box(x - 1.5, base - 8.5, width + 2, 11.0, "window-plate", veil=True))
        parts.append(_text(x, base, line, "window-label"))
    return [*parts, *_bar(bar, xs, y)]


def _bar(bar: Bar, xs: tuple[float, float, float], y: float) -> list[str]:
    """A bar from its lowest to its highest with a tick at nominal: heavy if it is the match."""
    low, middle, high = xs
    half = 3.2 if bar.match else 2.2
    kind = "window-match" if bar.match else "window-other"
    fill = ACCENT if bar.match else PAPER
    return [
        _box(low, y - half, high - low, 2 * half, f"window-bar {kind}", fill=fill, weight=0.9),
        _line(middle, y - 6, middle, y + 6, "window-nominal", 1.7),
    ]


def _edges(drawn: Window, scale: _Scale, foot: float) -> list[str]:
    """Where a zone begins or ends: the limits that are sure are drawn heavier."""
    inside = dict.fromkeys(
        (v, sure)
        for v, sure in (
            (drawn.wont_run_v, False),
            (drawn.runs_v, True),
            (drawn.stands_v, True),
            (drawn.harmed_v, False),
        )
        if drawn.left_v < v < drawn.right_v
    )
    return [
        _line(scale.x(v), scale.top, scale.x(v), foot, "window-edge", 1.1 if sure else 0.5)
        for v, sure in inside
    ]


def _names(found: Sequence[Zone], drawn: Window, scale: _Scale, width: float) -> list[str]:
    """The zones by name, each as near above its middle as the others let it be."""
    middles = [(scale.x(z.low_v) + scale.x(z.high_v)) / 2 for z in found]
    words = [_with_limits(z, drawn) for z in found]
    needs = [cells(word) * CELL for word in words]
    if sum(needs) + _APART * (len(needs) - 1) > width - 2 * _EDGE:
        words = [z.name for z in found]
        needs = [cells(word) * CELL for word in words]
    placed = spread(middles, needs, _APART, (_EDGE, width - _EDGE))
    parts = []
    for word, middle, at, need in zip(words, middles, placed, needs, strict=True):
        parts.append(_text(at - need / 2, 10.0, word, "window-zone"))
        parts.append(_line(at, 12.5, middle, scale.top + 2, "window-leader", 0.5))
    return parts


def _with_limits(zone: Zone, drawn: Window) -> str:
    """The name of a zone; that which is accepted with its limits, rounded to the safe side."""
    if (zone.low_v, zone.high_v) != (drawn.runs_v, drawn.stands_v):
        return zone.name
    low = math.ceil(round(zone.low_v * 100, 6)) / 100
    high = math.floor(round(zone.high_v * 100, 6)) / 100
    return f"{zone.name} {low:g}..{high:g} V"


def _foot(drawn: Window, scale: _Scale, foot: float, width: float) -> list[str]:
    """The scale, with what is accepted drawn heavy along it."""
    parts = [_line(scale.left, foot, scale.right, foot, "window-scale", 0.9)]
    if drawn.runs_v < drawn.stands_v:
        low, high = scale.x(drawn.runs_v), scale.x(drawn.stands_v)
        parts.append(_line(low, foot, high, foot, "window-accepted", 2.8))
    ends = -math.inf
    for volts in ticks(drawn):
        x, label = scale.x(volts), f"{volts:g}"
        half = cells(label) * CELL / 2
        parts.append(_line(x, foot, x, foot + 4, "window-tick", 0.9))
        if x - half > ends:
            parts.append(_text(x - half, foot + 13, label, "window-volts"))
            ends = x + half + 3
    parts.append(_text(width - _EDGE - CELL, foot + 13, "V", "window-unit"))
    return parts


def _pattern(zone: Zone, left: float, right: float, top: float, foot: float) -> str:
    """Dots or lines, each drawn where it is seen: there is no pattern to refer to by name."""
    if zone.dots is not None:
        d = _dots(zone.dots, left, right, top, foot)
        more = ' stroke-linecap="round"'
    elif zone.hatch is not None:
        d, more = _hatch(zone.hatch, left, right, top, foot), ""
    else:
        return ""
    name = zone.name.replace(" ", "-").replace("'", "")
    return (
        f'<path class="window-{name}" d="{d}" fill="none" stroke="{INK}" '
        f'stroke-width="{_n(zone.weight)}"{more}/>'
    )


def _dots(pitch: float, left: float, right: float, top: float, foot: float) -> str:
    """Dots on a lattice that is the same for the whole drawing, alternate rows between."""
    found = []
    for j in range(math.ceil((top + 1) / (pitch / 2)), math.floor((foot - 1) / (pitch / 2)) + 1):
        shift = pitch / 2 if j % 2 else 0.0
        first = math.ceil((left + 1 - shift) / pitch)
        last = math.floor((right - 1 - shift) / pitch)
        found += [
            f"M{_n(i * pitch + shift)} {_n(j * pitch / 2)}h.01" for i in range(first, last + 1)
        ]
    return "".join(found)


def _hatch(pitch: float, left: float, right: float, top: float, foot: float) -> str:
    """Lines that rise to the right at 45°: x + y is the same along each."""
    found = []
    step = pitch * math.sqrt(2)
    for k in range(math.ceil((left + top) / step), math.floor((right + foot) / step) + 1):
        total = k * step
        x1, x2 = max(left, total - foot), min(right, total - top)
        if x1 < x2:
            found.append(f"M{_n(x1)} {_n(total - x1)}L{_n(x2)} {_n(total - x2)}")
    return "".join(found)


def _document(title: str, desc: str, width: float, height: float, parts: Sequence[str]) -> str:
    size = f"{_n(width)} {_n(height)}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{_n(width)}" height="{_n(height)}" '
            f'viewBox="0 0 {size}" role="img" font-family="{TYPEFACE}" font-size="{_n(SIZE)}">',
            f"<title>{as_xml(title)}</title>",
            f"<desc>{as_xml(desc)}</desc>",
            _box(0, 0, width, height, "window-paper"),
            *(part for part in parts if part),
            "</svg>\n",
        )
    )


def _box(
    x: float,
    y: float,
    width: float,
    height: float,
    kind: str,
    *,
    fill: str = PAPER,
    weight: float = 0.0,
    veil: bool = False,
) -> str:
    """A box; as a veil it lets what lies under it show faintly."""
    more = f' stroke="{INK}" stroke-width="{_n(weight)}"' if weight else ""
    more += ' fill-opacity="0.85"' if veil else ""
    return (
        f'<rect class="{kind}" x="{_n(x)}" y="{_n(y)}" width="{_n(width)}" '
        f'height="{_n(height)}" fill="{fill}"{more}/>'
    )


def _line(x1: float, y1: float, x2: float, y2: float, kind: str, weight: float) -> str:
    return (
        f'<line class="{kind}" x1="{_n(x1)}" y1="{_n(y1)}" x2="{_n(x2)}" y2="{_n(y2)}" '
        f'stroke="{INK}" stroke-width="{_n(weight)}"/>'
    )


def _text(x: float, y: float, text: str, kind: str) -> str:
    return f'<text class="{kind}" x="{_n(x)}" y="{_n(y)}" fill="{INK}">{as_xml(text)}</text>'


def _n(value: float) -> str:
    """A coordinate, to a hundredth of a unit; never a minus before nought."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")
