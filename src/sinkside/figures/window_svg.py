"""The window as SVG, for the page and for paper.

The band that the device accepts lies open, what harms it is hatched, what it does not run on
is dotted; where nobody knows, hatch and dots are thinner. The contract that was asked for is a
heavy bar, every other state an open one. Nothing is told by colour alone, and nothing refers
to anything by name, so that any number of drawings may stand in one document.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from sinkside.figures import svg
from sinkside.figures.labels import cells, spread, wrapped
from sinkside.figures.look import ACCENT, PAPER
from sinkside.figures.svg import CELL
from sinkside.figures.window import Bar, Window, ticks

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
            ground("window", zone, scale.x(zone.low_v), scale.x(zone.high_v), scale.top, foot)
            for zone in found
        ),
        *_edges(drawn, scale, foot),
        *_names(found, drawn, scale, width),
        *(line for row in rows for line in _row(row, scale)),
        *_foot(drawn, scale, foot, width),
    ]
    return svg.document("window", title, description(drawn), width, foot + _SCALE, parts)


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


def ground(kind: str, zone: Zone, left: float, right: float, top: float, foot: float) -> str:
    """Dots or lines, each drawn where it is seen: there is no pattern to refer to by name."""
    name = f"{kind}-" + zone.name.replace(" ", "-").replace("'", "")
    if zone.dots is not None:
        return svg.dotted(name, zone.dots, zone.weight, left, right, top, foot)
    if zone.hatch is not None:
        return svg.hatched(name, zone.hatch, zone.weight, left, right, top, foot)
    return ""


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
            # Where nothing is drawn it is read best; else the side with more room leaves more
            # of the narrow zone beside the bar to be seen.
            clear_left = scale.x(bar.low_v) - max(scale.x(drawn.runs_v), scale.left)
            clear_right = min(scale.x(drawn.stands_v), scale.right) - scale.x(bar.high_v)
            clear = needs <= max(clear_left, clear_right)
            rightwards = clear_right >= clear_left if clear else right >= left
            lines, side = (bar.label,), "right" if rightwards else "left"
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
        parts.append(svg.box(x - 1.5, base - 8.5, width + 2, 11.0, "window-plate"))
        parts.append(svg.text(x, base, line, "window-label"))
    return [*parts, *_bar(bar, xs, y)]


def _bar(bar: Bar, xs: tuple[float, float, float], y: float) -> list[str]:
    """A bar from its lowest to its highest with a tick at nominal: heavy if it is the match."""
    low, middle, high = xs
    half = 3.2 if bar.match else 2.2
    kind = "window-match" if bar.match else "window-other"
    fill = ACCENT if bar.match else PAPER
    return [
        svg.box(low, y - half, high - low, 2 * half, f"window-bar {kind}", fill=fill, weight=0.9),
        svg.line(middle, y - 6, middle, y + 6, "window-nominal", 1.7),
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
        svg.line(scale.x(v), scale.top, scale.x(v), foot, "window-edge", 1.1 if sure else 0.5)
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
        parts.append(svg.text(at - need / 2, 10.0, word, "window-zone"))
        parts.append(svg.line(at, 12.5, middle, scale.top + 2, "window-leader", 0.5))
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
    parts = [svg.line(scale.left, foot, scale.right, foot, "window-scale", 0.9)]
    if drawn.runs_v < drawn.stands_v:
        low, high = scale.x(drawn.runs_v), scale.x(drawn.stands_v)
        parts.append(svg.line(low, foot, high, foot, "window-accepted", 2.8))
    ends = -math.inf
    for volts in ticks(drawn):
        x, label = scale.x(volts), f"{volts:g}"
        half = cells(label) * CELL / 2
        parts.append(svg.line(x, foot, x, foot + 4, "window-tick", 0.9))
        if x - half > ends:
            parts.append(svg.text(x - half, foot + 13, label, "window-volts"))
            ends = x + half + 3
    parts.append(svg.text(width - _EDGE - CELL, foot + 13, "V", "window-unit"))
    return parts
