"""A QR code as SVG: what a reader at the bench takes a sheet's or a card's identity from."""

import segno

from sinkside.figures.labels import as_xml
from sinkside.figures.look import INK, PAPER

QUIET = 4
"""Modules left white around the symbol (ISO/IEC 18004, clause on the quiet zone; from memory)."""


def qr_svg(text: str, *, title: str) -> str:
    """Draw a QR code: one unit of the drawing is one module.

    Parameters
    ----------
    text
        What it holds, as UTF-8.
    title
        What the drawing is of, for those who hear it.

    Raises
    ------
    ValueError
        The text is longer than the largest symbol holds.

    Notes
    -----
    Error correction M: about 15 % of the symbol may be dirty (ISO/IEC 18004; from memory). Runs
    of dark modules are one bar each, so that no hairline shows between them.
    """
    symbol = segno.make(text, error="m", boost_error=False, micro=False, encoding="utf-8")
    rows = [bytes(row) for row in symbol.matrix]
    size = len(rows) + 2 * QUIET
    bars = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            run = 0
            while x + run < len(row) and row[x + run]:
                run += 1
            if run:
                bars.append(f"M{x + QUIET} {y + QUIET}h{run}v1h-{run}z")
            x += run or 1
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{size}" height="{size}" '
        f'viewBox="0 0 {size} {size}" role="img" shape-rendering="crispEdges">'
        f"<title>{as_xml(title)}</title>"
        f'<rect width="{size}" height="{size}" fill="{PAPER}"/>'
        f'<path d="{"".join(bars)}" fill="{INK}"/></svg>\n'
    )
