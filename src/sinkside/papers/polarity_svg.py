"""The drawing of the poles of a round plug, by IEC 60417-5926: which of them is in the centre.

A dot stands for the centre contact and an open ring around it for the sleeve; each is joined to a
ring that holds its sign. Sign and place say the same, and the words stand beside it.
"""

import math

from sinkside.figures.look import INK, PAPER
from sinkside.figures.svg import number
from sinkside.making.labels import Polarity

ASPECT = 3.4
"""Width over height."""
_DRAWN = (Polarity.CENTRE_POSITIVE, Polarity.CENTRE_NEGATIVE)
# Half the angle that the ring is open, where the wire of the centre goes through.
_OPEN = math.radians(38.0)


def has_drawing(polarity: Polarity) -> bool:
    """Whether there are two poles of which one is in the centre."""
    return polarity in _DRAWN


def polarity_parts(polarity: Polarity, x: float, y: float, height: float) -> str:
    """The elements of the drawing, with its upper left corner there; nothing without a centre.

    Parameters
    ----------
    height
        In the units of the drawing that it becomes part of; it is `ASPECT` times as wide.

    References
    ----------
    IEC 60417-5926, as given in equipment manuals (secondary).
    """
    if not has_drawing(polarity):
        return ""
    inside, outside = ("+", "−") if polarity is Polarity.CENTRE_POSITIVE else ("−", "+")
    weight = height * 0.085
    middle = y + height / 2
    sign, sleeve = height * 0.36, height * 0.44
    left, centre, right = x + sign + weight, x + ASPECT / 2 * height, x + ASPECT * height
    right -= sign + weight
    dx, dy = sleeve * math.cos(_OPEN), sleeve * math.sin(_OPEN)
    n = number
    return (
        f'<g class="polarity" fill="none" stroke="{INK}" stroke-width="{n(weight)}">'
        f'<path d="M{n(left + sign)} {n(middle)}H{n(centre - sleeve)}M{n(centre)} {n(middle)}'
        f"H{n(right - sign)}M{n(centre + dx)} {n(middle - dy)}A{n(sleeve)} {n(sleeve)} 0 1 0 "
        f'{n(centre + dx)} {n(middle + dy)}"/>'
        f'<circle cx="{n(centre)}" cy="{n(middle)}" r="{n(height * 0.13)}" fill="{INK}"/>'
        f"{_sign(outside, left, middle, sign)}{_sign(inside, right, middle, sign)}</g>"
    )


def _sign(sign: str, x: float, y: float, radius: float) -> str:
    arm = radius * 0.55
    upright = f"M{number(x)} {number(y - arm)}v{number(2 * arm)}" if sign == "+" else ""
    return (
        f'<circle cx="{number(x)}" cy="{number(y)}" r="{number(radius)}"/>'
        f'<path d="M{number(x - arm)} {number(y)}h{number(2 * arm)}{upright}"/>'
    )


def polarity_svg(polarity: Polarity) -> str:
    """The drawing by itself; empty where there is none."""
    if not has_drawing(polarity):
        return ""
    width, height = 10 * ASPECT, 10.0
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}" height="{number(height)}"'
        f' viewBox="0 0 {number(width)} {number(height)}" role="img"><title>{polarity.value}'
        f'</title><rect width="{number(width)}" height="{number(height)}" fill="{PAPER}"/>'
        f"{polarity_parts(polarity, 0.0, 0.0, height)}</svg>\n"
    )
