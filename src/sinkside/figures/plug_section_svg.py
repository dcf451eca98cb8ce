"""A plug in section as SVG: its diameters, and which pole its two contacts are.

The sleeve is hatched, the inner contact solid, what parts them is left white. Beside it stand
the polarity sign of rating plates and the poles in words.

References
----------
IEC 60417-5926, polarity of a d.c. power connector (from memory): a dot, which is the centre, in
a ring that is open towards one side, which is the sleeve, each joined to the sign of its pole.
"""

from collections.abc import Iterator

from sinkside.figures import svg
from sinkside.figures.labels import cells, wrapped
from sinkside.figures.look import ACCENT, INK, PAPER
from sinkside.figures.svg import CELL, number
from sinkside.figures.wiring_stations import OTHER, SIGNS, UNKNOWN, barrel
from sinkside.parts.part import Centre
from sinkside.site.prints import USB_PLUGS
from sinkside.standards.barrel import JEITA_SIZES

NARROWEST = 180.0
"""The least width at which the section and its diameters have room."""

_EDGE, _LINE = 8.0, 13.0
_TALL, _BODY, _WORDS = 64.0, 26.0, 108.0
_RING = 11.0


def plug_section_svg(plug: str, centre: Centre | None, *, width: float = 200.0) -> str:
    """Draw a barrel plug in section; any other plug as a box with its name.

    Parameters
    ----------
    plug
        Outer by inner diameter, mm, such as `5.5x2.1`, or the name of another plug.
    centre
        The pole in the centre; None where nobody knows, or where there is no centre.
    width
        In units of a tenth of the type size.

    Raises
    ------
    ValueError
        The drawing is narrower than `NARROWEST`.
    """
    if width < NARROWEST:
        raise ValueError(f"a plug needs a width of {NARROWEST:g} or more, not {width:g}")
    said = pole_words(plug, centre)
    if barrel(plug):
        parts = [*_section(plug, width), *_sign(centre, width / 2, _EDGE + _TALL + 58)]
        y = _EDGE + _TALL + 74.0
    else:
        parts = list(named_box("plug", plug, width))
        y = _EDGE + 44.0
    for sentence in said:
        for line in wrapped(sentence, int((width - 2 * _EDGE) / CELL), 3):
            y += _LINE
            parts.append(svg.text(_EDGE, y, line, "plug-words"))
    title = f"{plug} plug in section" if barrel(plug) else f"{plug} plug"
    return svg.document("plug", title, ". ".join(said) + ".", width, y + _EDGE, parts)


def pole_words(plug: str, centre: Centre | None) -> tuple[str, ...]:
    """The poles of a plug's contacts, one sentence each."""
    if plug in USB_PLUGS:
        return ("VBUS: positive (+)", "GND: negative (−)")
    if plug == "wires":
        return ("bare wires: mark + and − on both",)
    if centre is None or not barrel(plug):
        return (UNKNOWN,)
    sleeve = OTHER[centre]
    return (f"centre: {centre} ({SIGNS[centre]})", f"sleeve: {sleeve} ({SIGNS[sleeve]})")


def named_box(kind: str, plug: str, width: float) -> Iterator[str]:
    """A plug of which nothing is drawn but its name."""
    yield svg.box(_EDGE, _EDGE, width - 2 * _EDGE, 36, f"{kind}-box", weight=1.2)
    name = wrapped(plug, int((width - 4 * _EDGE) / CELL), 1)[0]
    yield svg.text((width - cells(name) * CELL) / 2, _EDGE + 21.5, name, f"{kind}-name")


def _section(plug: str, width: float) -> Iterator[str]:
    """Along the axis: body to the left, the opening to the right, its diameters beyond."""
    outer_mm, inner_mm = map(float, plug.split("x"))
    inner = _TALL * min(inner_mm / outer_mm, 0.9)
    wall = (_TALL - inner) / 2
    left, right = _EDGE + _BODY, width - _EDGE - _WORDS
    top, foot = _EDGE + 4, _EDGE + 4 + _TALL
    axis = (top + foot) / 2
    yield svg.box(_EDGE, top - 4, _BODY, _TALL + 8, "plug-body", weight=1.2)
    pin_mm = _pin_mm(outer_mm, inner_mm)
    # A third of the wall is the sleeve; with a pin inside all of it is.
    sleeve = wall if pin_mm is not None else wall / 2
    for y in (top, foot - sleeve):
        yield svg.hatched("plug-sleeve", 3.0, 0.8, left, right, y, y + sleeve)
        yield svg.box(left, y, right - left, sleeve, "plug-edge", fill="none", weight=1.0)
    if pin_mm is None:
        solid = wall / 4
        for y in (axis - inner / 2 - solid, axis + inner / 2):
            yield svg.box(left, y, right - left - 3, solid, "plug-centre", fill=ACCENT)
    else:
        pin = _TALL * pin_mm / outer_mm
        yield svg.box(left, axis - pin / 2, right - left - 6, pin, "plug-centre", fill=ACCENT)
    yield from _across(right + 8, axis - inner / 2, axis + inner / 2)
    yield from _across(right + 18, top, foot)
    diameters = [("outer", outer_mm, top + 8), ("inner", inner_mm, axis + 3.5)]
    if pin_mm is not None:
        diameters.append(("pin", pin_mm, foot - 1))
    for name, mm, y in diameters:
        yield svg.text(right + 26, y, f"{name} {mm:g} mm", "plug-diameter")
    yield svg.text(_EDGE, foot + 20, "hatched: sleeve", "plug-key")
    yield svg.text(_EDGE, foot + 32, "solid: centre", "plug-key")


def _pin_mm(outer_mm: float, inner_mm: float) -> float | None:
    for size in JEITA_SIZES:
        if (size.plug.outer_mm, size.plug.inner_mm) == (outer_mm, inner_mm):
            return size.plug.centre_pin_mm
    return None


def _across(x: float, top: float, foot: float) -> Iterator[str]:
    """A diameter: a line between two short ones."""
    yield svg.line(x, top, x, foot, "plug-across", 0.8)
    for end in (top, foot):
        yield svg.line(x - 4, end, x + 4, end, "plug-across", 0.8)


def _sign(centre: Centre | None, x: float, y: float) -> Iterator[str]:
    """The sign of the plate, in strokes of its own."""
    inner = SIGNS[centre]
    outer = SIGNS[None if centre is None else OTHER[centre]]
    far, small = 40.0, 8.0
    lift = _RING * 0.64
    out = _RING * 0.77
    yield (
        f'<path class="plug-ring" d="M{number(x + out)} {number(y - lift)}A{number(_RING)} '
        f'{number(_RING)} 0 1 0 {number(x + out)} {number(y + lift)}" fill="none" '
        f'stroke="{INK}" stroke-width="2"/>'
    )
    yield svg.circle("plug-dot", x, y, 3.4, INK, 1.2)
    yield svg.line(x, y, x + far - small, y, "plug-to-centre", 1.6)
    yield svg.line(x - _RING, y, x - far + small, y, "plug-to-sleeve", 1.6)
    for at, words, kind in ((x + far, inner, "centre"), (x - far, outer, "sleeve")):
        yield svg.circle(f"plug-{kind}-pole", at, y, small, PAPER, 1.2)
        yield svg.text(at - CELL / 2, y + 3.5, words, f"plug-{kind}-sign")
