"""The contacts of a plug as SVG, seen from the side on which they are soldered.

References
----------
USB Type-C Cable and Connector Specification, receptacle pin names (from memory): GND A1, A12, B1,
B12; VBUS A4, A9, B4, B9; CC1 A5; CC2 B5. Which lug of a barrel plug is the short one: common
practice, no source, so that the drawing asks for a meter.
"""

from collections.abc import Iterator

from sinkside.figures import svg
from sinkside.figures.labels import cells, wrapped
from sinkside.figures.look import ACCENT, INK, PAPER
from sinkside.figures.plug_section_svg import named_box, pole_words
from sinkside.figures.svg import CELL, number
from sinkside.figures.wiring_stations import COLOURS, OTHER, SIGNS, UNKNOWN, barrel
from sinkside.parts.part import Centre
from sinkside.standards.type_c_cc import RD_OHM

NARROWEST = 200.0
"""The least width at which two rows of twelve contacts have room."""

SIDE = "seen from the solder side"
RING_OUT = "ring out each lug with a meter before it is soldered"

# Receptacle contacts by their place in a row, 1 to 12.
_TYPE_C_A = {1: "GND", 4: "VBUS", 5: "CC1", 9: "VBUS", 12: "GND"}
_TYPE_C_B = {1: "GND", 4: "VBUS", 5: "CC2", 9: "VBUS", 12: "GND"}
# First and last contact of the older USB plugs.
_USB_LAST = {"micro-usb": 5, "mini-usb": 5, "usb-b": 4}
_EDGE, _LINE, _PITCH = 8.0, 13.0, 14.0


def pinout_svg(plug: str, centre: Centre | None, *, width: float = 200.0) -> str:
    """Draw the contacts of a plug as a solderer sees them.

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
        raise ValueError(f"a pinout needs a width of {NARROWEST:g} or more, not {width:g}")
    if barrel(plug):
        parts, y, said = list(_barrel(centre)), 94.0, _barrel_words(centre)
    elif plug == "usb-c":
        parts, y, said = list(_type_c(width)), 108.0, _type_c_words()
    elif plug == "wires":
        parts, y, said = list(_wires()), 62.0, ()
    else:
        parts, y, said = list(named_box("pinout", plug, width)), 56.0, _other_words(plug)
    for sentence in (SIDE, *said):
        for line in wrapped(sentence, int((width - 2 * _EDGE) / CELL), 4):
            y += _LINE
            parts.append(svg.text(_EDGE, y, line, "pinout-words"))
    title = f"Contacts of a {plug} {'socket' if plug == 'usb-c' else 'plug'}, {SIDE}"
    return svg.document("pinout", title, ". ".join((SIDE, *said)) + ".", width, y + _EDGE, parts)


def _barrel(centre: Centre | None) -> Iterator[str]:
    """The lug of the centre in the middle, that of the sleeve at the rim."""
    x, y, radius = 50.0, 52.0, 34.0
    sleeve = None if centre is None else OTHER[centre]
    yield svg.circle("pinout-rim", x, y, radius, PAPER, 1.4)
    yield svg.circle("pinout-insulation", x, y, radius - 9, PAPER, 0.8)
    yield svg.box(x - 5, y - 8, 10, 16, "pinout-centre", fill=ACCENT)
    left, top = x - 14, y + radius - 8
    yield svg.box(left, top, 28, 14, "pinout-sleeve", weight=1.2)
    yield svg.hatched("pinout-sleeve-hatch", 3.0, 0.8, left, left + 28, top, top + 14)
    for at, name, pole, from_x in (
        (y, "centre lug", centre, x + 5),
        (top + 7, "sleeve lug", sleeve, x + 14),
    ):
        yield svg.line(from_x, at, x + radius + 8, at, "pinout-leader", 0.8)
        yield svg.text(x + radius + 12, at + 3.5, f"{name} {SIGNS[pole]}", "pinout-contact")


def _barrel_words(centre: Centre | None) -> tuple[str, ...]:
    if centre is None:
        return (UNKNOWN, RING_OUT)
    sleeve = OTHER[centre]
    return (
        f"centre lug, often the short one: {centre} ({SIGNS[centre]})",
        f"sleeve lug, often with the cable clamp: {sleeve} ({SIGNS[sleeve]})",
        RING_OUT,
    )


def _type_c(width: float) -> Iterator[str]:
    """The receptacle from behind: row A runs from right to left, row B from left to right."""
    left = (width - 11 * _PITCH) / 2
    rows = (("A", _TYPE_C_A, 48.0, True), ("B", _TYPE_C_B, 66.0, False))
    yield (
        f'<rect class="pinout-shell" x="{number(left - 14)}" y="36" '
        f'width="{number(11 * _PITCH + 28)}" height="42" rx="20" fill="{PAPER}" '
        f'stroke="{INK}" stroke-width="1.4"/>'
    )
    for row, names, y, mirrored in rows:
        for place in range(1, 13):
            x = left + _PITCH * ((12 - place) if mirrored else (place - 1))
            name = names.get(place, "")
            yield from _contact(x, y, name)
            if name:
                yield from _leader(x, y, f"{row}{place}", name, up=row == "A")


def _contact(x: float, y: float, name: str) -> Iterator[str]:
    kind = name.lower() or "other"
    fill = ACCENT if name == "VBUS" else PAPER
    yield svg.box(x - 4, y - 5, 8, 10, f"pinout-{kind}", fill=fill, weight=1.0 if name else 0.5)
    if name == "GND":
        yield svg.hatched("pinout-gnd-hatch", 2.5, 0.8, x - 4, x + 4, y - 5, y + 5)
    if name.startswith("CC"):
        yield svg.line(x - 4, y, x + 4, y, "pinout-cc-bar", 1.0)


def _leader(x: float, y: float, place: str, name: str, *, up: bool) -> Iterator[str]:
    """The name of a contact; of CC one line further out, where its neighbour leaves room."""
    further = name.startswith("CC")
    reach = 31.0 if further else 17.0
    end = y - reach if up else y + reach
    words = f"{name} {place}" if further else name
    yield svg.line(x, y - 5 if up else y + 5, x, end, "pinout-leader", 0.6)
    baseline = end - 2 if up else end + 9
    yield svg.text(x - cells(words) * CELL / 2, baseline, words, "pinout-contact")


def _type_c_words() -> tuple[str, ...]:
    return (
        "socket; on a board go by the print at its pads",
        "VBUS, solid: positive (+)",
        "GND, hatched: negative (−)",
        f"CC1 and CC2, barred: in a two-resistor socket {RD_OHM / 1000:.2g} kΩ from each to GND",
    )


def _wires() -> Iterator[str]:
    for pole, y, weight in (("positive", 22.0, 3.4), ("negative", 46.0, 1.4)):
        colour = ACCENT if pole == "positive" else INK
        sign = "+" if pole == "positive" else "−"
        said = f"{sign} {pole}, {COLOURS['positive' if sign == '+' else 'negative']}"
        yield (
            f'<path class="pinout-{pole}" d="M{number(_EDGE)} {number(y)}H60" fill="none" '
            f'stroke="{colour}" stroke-width="{number(weight)}"/>'
        )
        yield svg.text(68, y + 3.5, said, "pinout-contact")


def _other_words(plug: str) -> tuple[str, ...]:
    last = _USB_LAST.get(plug)
    if last is None:
        return (*pole_words(plug, None), RING_OUT)
    return (
        "contact 1, VBUS: positive (+)",
        f"contact {last}, GND: negative (−)",
        "the others stay free",
        RING_OUT,
    )
