"""What drawings as SVG are put together from: lines, boxes, text, hatching and dots.

Nothing refers to anything by name, so that any number of drawings may stand in one document,
and the same drawing gives the same bytes.
"""

import math
from collections.abc import Sequence

from sinkside.figures.labels import as_xml
from sinkside.figures.look import INK, PAPER, TYPEFACE

SIZE = 10.0
CELL = 6.1
"""Width of a character at that size, a little more than it takes."""


def number(value: float) -> str:
    """A coordinate, to a hundredth of a unit; never a minus before nought."""
    return f"{round(value, 2) + 0.0:.2f}".rstrip("0").rstrip(".")


def line(x1: float, y1: float, x2: float, y2: float, kind: str, weight: float) -> str:
    """A straight line."""
    return (
        f'<line class="{kind}" x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" '
        f'y2="{number(y2)}" stroke="{INK}" stroke-width="{number(weight)}"/>'
    )


def text(x: float, y: float, words: str, kind: str, *, bold: bool = False) -> str:
    """Words that begin there."""
    more = ' font-weight="700"' if bold else ""
    place = f'x="{number(x)}" y="{number(y)}"'
    return f'<text class="{kind}" {place} fill="{INK}"{more}>{as_xml(words)}</text>'


def box(
    x: float,
    y: float,
    width: float,
    height: float,
    kind: str,
    *,
    fill: str = PAPER,
    ink: str = INK,
    weight: float = 0.0,
    veil: bool = False,
) -> str:
    """A box; as a veil it lets what lies under it show faintly."""
    more = f' stroke="{ink}" stroke-width="{number(weight)}"' if weight else ""
    more += ' fill-opacity="0.85"' if veil else ""
    return (
        f'<rect class="{kind}" x="{number(x)}" y="{number(y)}" width="{number(width)}" '
        f'height="{number(height)}" fill="{fill}"{more}/>'
    )


def circle(
    kind: str, x: float, y: float, radius: float, fill: str, weight: float, within: str = ""
) -> str:
    """A circle; what is within it, such as a title, is markup already."""
    return (
        f'<circle class="{kind}" cx="{number(x)}" cy="{number(y)}" r="{number(radius)}" '
        f'fill="{fill}" stroke="{INK}" stroke-width="{number(weight)}"'
        + (f">{within}</circle>" if within else "/>")
    )


def dotted(
    kind: str, pitch: float, weight: float, left: float, right: float, top: float, foot: float
) -> str:
    """Dots on a lattice that is the same for the whole drawing, alternate rows between."""
    half, found = pitch / 2, []
    for j in range(math.ceil((top + 1) / half), math.floor((foot - 1) / half) + 1):
        shift = half if j % 2 else 0.0
        first = math.ceil((left + 1 - shift) / pitch)
        last = math.floor((right - 1 - shift) / pitch)
        found += [
            f"M{number(i * pitch + shift)} {number(j * half)}h.01" for i in range(first, last + 1)
        ]
    return _stroked(kind, found, weight, ' stroke-linecap="round"')


def hatched(
    kind: str, pitch: float, weight: float, left: float, right: float, top: float, foot: float
) -> str:
    """Lines that rise to the right at 45°: x + y is the same along each."""
    found, step = [], pitch * math.sqrt(2)
    for k in range(math.ceil((left + top) / step), math.floor((right + foot) / step) + 1):
        total = k * step
        x1, x2 = max(left, total - foot), min(right, total - top)
        if x1 < x2:
            found.append(f"M{number(x1)} {number(total - x1)}L{number(x2)} {number(total - x2)}")
    return _stroked(kind, found, weight, "")


def _stroked(kind: str, strokes: Sequence[str], weight: float, more: str) -> str:
    if not strokes:
        return ""
    return (
        f'<path class="{kind}" d="{"".join(strokes)}" fill="none" stroke="{INK}" '
        f'stroke-width="{number(weight)}"{more}/>'
    )


def document(
    kind: str, title: str, desc: str, width: float, height: float, parts: Sequence[str]
) -> str:
    """A whole drawing on white paper; parts that are empty are left out."""
    size = f"{number(width)} {number(height)}"
    return "\n".join(
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}" '
            f'height="{number(height)}" viewBox="0 0 {size}" role="img" '
            f'font-family="{TYPEFACE}" font-size="{number(SIZE)}">',
            f"<title>{as_xml(title)}</title>",
            f"<desc>{as_xml(desc)}</desc>",
            box(0, 0, width, height, f"{kind}-paper"),
            *(part for part in parts if part),
            "</svg>\n",
        )
    )
