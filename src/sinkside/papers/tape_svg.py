"""A label for 9 mm tape, as SVG in millimetres: the poles drawn, and two lines beside them.

Nothing is told by colour: it is black on white, and a printer of one colour loses nothing.
"""

from sinkside.figures.labels import as_xml, cells
from sinkside.figures.look import INK, PAPER, TYPEFACE
from sinkside.figures.svg import number
from sinkside.making.labels import Label
from sinkside.papers.polarity_svg import ASPECT, has_drawing, polarity_parts

TAPE_MM = 9.0
LEAST_CAP_MM = 1.8
"""Least height of a capital. At arm's length, 0.39 m, it is seen under 16 minutes of arc, below
which text is no longer read at ease (ISO 9241-303, character height; from memory): 390 mm ·
tan(16/60°) = 1.8 mm. A label on a lead is read at less."""
CAP = 0.729
"""Height of a capital over the size, of the first of the faces (its table OS/2)."""
SIZE_MM = 2.8
# Printers of 9 mm tape leave about 1 mm white at each edge (common practice, no source).
_EDGE_MM, _ENDS_MM, _GAP_MM = 1.35, 2.5, 2.0
_POLES_MM = 5.6
_ADVANCE = 0.61


def tape_svg(label: Label) -> str:
    """Draw a label for tape.

    Notes
    -----
    It is 9 mm high and as long as it has to be. Capitals are 2.0 mm high: 2.8 mm times `CAP`.
    """
    poles = has_drawing(label.polarity)
    left = _ENDS_MM + (_POLES_MM * ASPECT + _GAP_MM if poles else 0.0)
    longest = max((cells(line) for line in label.tape), default=0)
    width = left + longest * _ADVANCE * SIZE_MM + _ENDS_MM
    said = "; ".join((*label.lines, label.polarity.value))
    first = _EDGE_MM + CAP * SIZE_MM if len(label.tape) > 1 else (TAPE_MM + CAP * SIZE_MM) / 2
    last = TAPE_MM - _EDGE_MM - 0.24 * SIZE_MM
    pitch = (last - first) / max(1, len(label.tape) - 1)
    lines = "".join(
        f'<text x="{number(left)}" y="{number(first + k * pitch)}"'
        f"{' font-weight=' + chr(34) + '700' + chr(34) if k == 0 else ''}>{as_xml(line)}</text>"
        for k, line in enumerate(label.tape)
    )
    symbol = polarity_parts(label.polarity, _ENDS_MM, (TAPE_MM - _POLES_MM) / 2, _POLES_MM)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{number(width)}mm" '
        f'height="{number(TAPE_MM)}mm" viewBox="0 0 {number(width)} {number(TAPE_MM)}" '
        f'role="img" font-family="{TYPEFACE}" font-size="{number(SIZE_MM)}" fill="{INK}">'
        f"<title>{as_xml(f'{label.on} of {label.device}')}</title><desc>{as_xml(said)}</desc>"
        f'<rect width="{number(width)}" height="{number(TAPE_MM)}" fill="{PAPER}"/>'
        f"{symbol}{lines}</svg>\n"
    )
