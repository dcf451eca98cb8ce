"""The waveform at the pins as SVG: volts in time, with the device's window behind it.

Time runs along the foot, from the event on. The band that the device accepts lies open, what
harms it is hatched, what it does not run on is dotted, as in the window. The nominal run is
a heavy line, every other one thin with a dash of its own, and each is named at its end: nothing
is told by colour alone.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sinkside.figures import svg
from sinkside.figures.labels import cells, spread
from sinkside.figures.look import ACCENT, INK
from sinkside.figures.svg import CELL
from sinkside.figures.window import Window
from sinkside.figures.window_svg import Zone, ground, zones
from sinkside.outages.table import Curve

NARROWEST = 320.0
"""The least width at which scale and names stand beside each other."""

_LEFT, _TOP, _FOOT, _EDGE = 34.0, 18.0, 30.0, 3.0
_NAME_GAP, _LINE = 6.0, 12.0
_DASHES = ("", "5 3", "1.5 2.5", "8 2 1.5 2")
_STEPS_S = (0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.25, 0.5, 1.0, 2.0, 5.0, 10.0, 30.0, 60.0)
_STEPS_V = (0.5, 1.0, 2.0, 2.5, 5.0, 10.0)


@dataclass(frozen=True, kw_only=True)
class _Plot:
    """Seconds to the right, volts upwards."""

    left: float
    right: float
    top: float
    foot: float
    from_s: float
    to_s: float
    low_v: float
    high_v: float

    def x(self, seconds: float) -> float:
        share = (seconds - self.from_s) / (self.to_s - self.from_s)
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)

    def y(self, volts: float) -> float:
        share = (volts - self.low_v) / (self.high_v - self.low_v)
        return self.foot - min(max(share, 0.0), 1.0) * (self.foot - self.top)


def waveform_svg(
    curves: Sequence[Curve],
    drawn: Window,
    *,
    title: str = "Waveform",
    width: float = 560.0,
    height: float = 240.0,
) -> str:
    """Draw waveforms over a device's window.

    Parameters
    ----------
    curves
        Of the pins; the first is the nominal one.
    drawn
        The window of the device; its bars are not drawn.
    title
        What the drawing is of, for those who hear it.
    width, height
        In units of a tenth of the type size.

    Raises
    ------
    ValueError
        There is no curve, the drawing is narrower than `NARROWEST`, or time has no extent.

    Notes
    -----
    The same curves give the same bytes.
    """
    if not curves:
        raise ValueError("a waveform needs at least one curve")
    if width < NARROWEST:
        raise ValueError(f"a waveform needs a width of {NARROWEST:g} or more, not {width:g}")
    plot = _plot(curves, drawn, width, height)
    if not plot.from_s < plot.to_s:
        raise ValueError("a waveform needs a curve that lasts")
    found = zones(_upright(drawn, plot))
    parts = [
        *(
            ground("waveform", z, plot.left, plot.right, plot.y(z.high_v), plot.y(z.low_v))
            for z in found
        ),
        *_edges(drawn, plot),
        *_scales(plot),
        *_zone_names(found, plot),
        *(_curve(curve, number, plot) for number, curve in enumerate(curves)),
        *_names(curves, plot),
    ]
    return svg.document("waveform", title, description(curves, drawn), width, height, parts)


def description(curves: Sequence[Curve], drawn: Window) -> str:
    """The drawing in words: each curve's ends, its least, and how long it is too low."""
    said = [
        f"The device runs from {drawn.runs_v:.2f} V, and stands {drawn.stands_v:.2f} V.",
    ]
    for curve in curves:
        least = int(np.argmin(curve.pins_v))
        under = _under_s(curve, drawn.runs_v)
        said.append(
            f"{curve.label}: from {curve.pins_v[0]:.2f} V to {curve.pins_v[-1]:.2f} V in "
            f"{curve.t_s[-1]:.2f} s, least {curve.pins_v[least]:.2f} V at "
            f"{curve.t_s[least]:.3f} s, {under:.3f} s under what it runs from, highest "
            f"{curve.pins_v.max():.2f} V."
        )
    return " ".join(said)


def _under_s(curve: Curve, volts: float) -> float:
    """How long a curve is under volts, by straight lines between its samples."""
    low, spans = curve.pins_v < volts, np.diff(curve.t_s)
    return float(np.sum(spans * 0.5 * (low[1:].astype(float) + low[:-1].astype(float))))


def _plot(curves: Sequence[Curve], drawn: Window, width: float, height: float) -> _Plot:
    names = max(cells(c.label) for c in curves) * CELL
    highest = max(float(c.pins_v.max()) for c in curves)
    # The damage limit is shown unless it would press all else into the lower half.
    top_v = max(highest * 1.08, drawn.runs_v * 1.1, min(drawn.stands_v * 1.12, 2.0 * highest))
    return _Plot(
        left=_LEFT,
        right=width - _NAME_GAP - names - _EDGE,
        top=_TOP,
        foot=height - _FOOT,
        from_s=min(float(c.t_s[0]) for c in curves),
        to_s=max(float(c.t_s[-1]) for c in curves),
        low_v=0.0,
        high_v=float(math.ceil(top_v)),
    )


def _upright(drawn: Window, plot: _Plot) -> Window:
    """The same window over the volts of this scale."""
    return Window(
        wont_run_v=drawn.wont_run_v,
        runs_v=drawn.runs_v,
        stands_v=drawn.stands_v,
        harmed_v=drawn.harmed_v,
        left_v=plot.low_v,
        right_v=plot.high_v,
        bars=(),
    )


def _curve(curve: Curve, number: int, plot: _Plot) -> str:
    """One waveform; samples that would not be seen are left out."""
    points: list[str] = []
    last = (-math.inf, -math.inf)
    for seconds, volts in zip(curve.t_s.tolist(), curve.pins_v.tolist(), strict=True):
        place = (round(plot.x(seconds), 1), round(plot.y(volts), 1))
        if place != last:
            points.append(f"{svg.number(place[0])} {svg.number(place[1])}")
            last = place
    dash = _DASHES[number % len(_DASHES)]
    weight, colour = (2.2, ACCENT) if number == 0 else (1.0, INK)
    more = f' stroke-dasharray="{dash}"' if dash else ""
    return (
        f'<path class="waveform-curve" d="M{"L".join(points)}" fill="none" stroke="{colour}" '
        f'stroke-width="{svg.number(weight)}" stroke-linejoin="round"{more}/>'
    )


def _names(curves: Sequence[Curve], plot: _Plot) -> list[str]:
    """Each curve by its name, as near to its end as the others let it be."""
    ends = sorted((plot.y(float(c.pins_v[-1])), number) for number, c in enumerate(curves))
    placed = spread([y for y, _ in ends], [_LINE] * len(ends), 1.0, (plot.top, plot.foot))
    parts = []
    for (y, number), at in zip(ends, placed, strict=True):
        x, end = plot.right + _NAME_GAP, plot.x(float(curves[number].t_s[-1]))
        here, there, back = (svg.number(v) for v in (end, plot.right, x - 1))
        level, at_name = svg.number(y), svg.number(at)
        parts.append(
            f'<path class="waveform-leader" d="M{here} {level}L{there} {level}L{back} {at_name}" '
            f'fill="none" stroke="{INK}" stroke-width="0.4"/>'
        )
        parts.append(svg.text(x, at + 3.5, curves[number].label, "waveform-name"))
    return parts


def _zone_names(found: Sequence[Zone], plot: _Plot) -> list[str]:
    """The zones by name at the left edge, where they are high enough for it."""
    parts = []
    for zone in found:
        top, foot = plot.y(zone.high_v), plot.y(zone.low_v)
        if foot - top < _LINE:
            continue
        y = 0.5 * (top + foot) + 3.5
        need = cells(zone.name) * CELL
        parts.append(svg.box(plot.left + 3, y - 9, need + 3, 11.5, "waveform-plate", veil=True))
        parts.append(svg.text(plot.left + 4.5, y, zone.name, "waveform-zone"))
    return parts


def _edges(drawn: Window, plot: _Plot) -> list[str]:
    """Where a zone begins or ends: the limits that are sure are drawn heavier."""
    limits = (
        (drawn.wont_run_v, 0.5),
        (drawn.runs_v, 1.1),
        (drawn.stands_v, 1.1),
        (drawn.harmed_v, 0.5),
    )
    return [
        svg.line(plot.left, plot.y(v), plot.right, plot.y(v), "waveform-edge", weight)
        for v, weight in limits
        if plot.low_v < v < plot.high_v
    ]


def _scales(plot: _Plot) -> list[str]:
    parts = [
        svg.line(plot.left, plot.foot, plot.right, plot.foot, "waveform-scale", 0.9),
        svg.line(plot.left, plot.top, plot.left, plot.foot, "waveform-scale", 0.9),
    ]
    ends = -math.inf
    for seconds in _ticks(plot.from_s, plot.to_s, _STEPS_S, 8):
        x, label = plot.x(seconds), f"{seconds:g}"
        half = cells(label) * CELL / 2
        parts.append(svg.line(x, plot.foot, x, plot.foot + 4, "waveform-tick", 0.9))
        if x - half > ends:
            parts.append(svg.text(x - half, plot.foot + 13, label, "waveform-seconds"))
            ends = x + half + 3
    for volts in _ticks(plot.low_v, plot.high_v, _STEPS_V, 9):
        y, label = plot.y(volts), f"{volts:g}"
        need = cells(label) * CELL
        parts.append(svg.line(plot.left - 4, y, plot.left, y, "waveform-tick", 0.9))
        parts.append(svg.text(plot.left - 6 - need, y + 3.5, label, "waveform-volts"))
    zero = plot.x(0.0)
    if plot.from_s < 0.0 < plot.to_s:
        parts.append(svg.line(zero, plot.top, zero, plot.foot, "waveform-event", 0.5))
    note = "s from the event"
    parts.append(svg.text(plot.right - cells(note) * CELL, plot.foot + 25, note, "waveform-unit"))
    parts.append(svg.text(_EDGE, 11.0, "V at the pins", "waveform-unit"))
    return parts


def _ticks(low: float, high: float, steps: Sequence[float], most: int) -> list[float]:
    step = next((s for s in steps if (high - low) / s <= most), (high - low) / most)
    first, last = math.ceil(low / step - 1e-9), math.floor(high / step + 1e-9)
    return [round(k * step, 9) for k in range(first, last + 1)]
