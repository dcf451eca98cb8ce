"""Pages read back with programs that did not write them: poppler's pdftotext, and MuPDF."""

import re
import subprocess
import unicodedata

import numpy as np
import pymupdf
from numpy.typing import NDArray

UNSEEN = "\u200b\u200e"
MM = 72 / 25.4
_RIGHT_TO_LEFT = re.compile("[\u0590-\u08ff]")


def opened(pdf: bytes) -> pymupdf.Document:
    return pymupdf.open(stream=pdf, filetype="pdf")


def squeezed(text: str) -> str:
    """Without spaces, breaks and what is not seen: where lines break does not matter."""
    return re.sub(rf"[\s{UNSEEN}]+", "", unicodedata.normalize("NFC", text))


def text_of(pdf: bytes) -> str:
    call = ["pdftotext", "-raw", "-", "-"]
    done = subprocess.run(call, input=pdf, check=True, capture_output=True)
    return squeezed(done.stdout.decode())


def words(page: pymupdf.Page) -> list[tuple[float, float, float, float, str]]:
    """Boxes of words, in points; not of those that run from right to left.

    MuPDF gives such words boxes as wide as all of them together.
    """
    return [
        tuple(w[:5])
        for w in page.get_text("words")
        if w[4].strip(UNSEEN) and not _RIGHT_TO_LEFT.search(w[4])
    ]


def overlaps(page: pymupdf.Page) -> list[tuple[str, str]]:
    """Words that lie on one another."""
    found = words(page)
    if not found:
        return []
    left, top, right, bottom = np.array([w[:4] for w in found]).T
    # A word's box has the height of its line; the letters stand in the middle of it.
    rim = 0.3 * (bottom - top)
    across = np.minimum.outer(right, right) - np.maximum.outer(left, left)
    down = np.minimum.outer(bottom - rim, bottom - rim) - np.maximum.outer(top + rim, top + rim)
    hits = np.argwhere(np.triu((across > 0.6) & (down > 0), 1))
    return [(found[i][4], found[j][4]) for i, j in hits]


def picture(page: pymupdf.Page, ppi: int) -> NDArray[np.uint8]:
    """The page as grey values, one row of picture elements after the other."""
    drawn = page.get_pixmap(dpi=ppi, colorspace=pymupdf.csGRAY)
    return np.frombuffer(drawn.samples, np.uint8).reshape(drawn.height, drawn.stride)[
        :, : drawn.width
    ]


def ink_mm(page: pymupdf.Page, ppi: int = 72) -> tuple[float, float, float, float]:
    """White at the left, top, right and bottom of everything that is drawn, in mm."""
    dark = picture(page, ppi) < 200
    rows, columns = np.flatnonzero(dark.any(axis=1)), np.flatnonzero(dark.any(axis=0))
    scale = 25.4 / ppi
    return (
        columns[0] * scale,
        rows[0] * scale,
        (dark.shape[1] - 1 - columns[-1]) * scale,
        (dark.shape[0] - 1 - rows[-1]) * scale,
    )
