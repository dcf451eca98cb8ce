"""Labels in drawings: how wide they are, where they break, where they stand, safe to write."""

import textwrap
import unicodedata
from collections.abc import Sequence
from xml.sax.saxutils import escape

# They are seen only in what they do to their neighbours: they join letters, or part them, or
# keep a figure beside a letter that runs the other way on its side.
_UNSEEN = "\N{ZERO WIDTH NON-JOINER}\N{ZERO WIDTH JOINER}\N{LEFT-TO-RIGHT MARK}"


def clean(text: str) -> str:
    """The text without what is not text: breaks become spaces, controls the replacement sign."""
    return "".join(
        " " if c.isspace() else c if _printed(c) else "\N{REPLACEMENT CHARACTER}" for c in text
    )


def _printed(character: str) -> bool:
    return character in _UNSEEN or unicodedata.category(character) not in ("Cc", "Cf", "Cs", "Cn")


def as_xml(text: str) -> str:
    """The text as character data of an XML document."""
    return escape(clean(text))


def cells(text: str) -> int:
    """How many equal cells a text takes at the most.

    Notes
    -----
    Latin, Greek and Cyrillic are in the typeface and take one. What another face has to lend
    takes two, which is an em and more; marks that stand over a letter take none (common
    practice of terminals; Unicode Standard Annex 11 for the wide ones).
    """
    return sum(_cells(character) for character in clean(text))


def _cells(character: str) -> int:
    if unicodedata.combining(character) or character in _UNSEEN:
        return 0
    narrow = ord(character) < 0x0530 or 0x2010 <= ord(character) <= 0x22FF
    return 1 if narrow and unicodedata.east_asian_width(character) not in ("W", "F") else 2


def wrapped(text: str, room: int, most: int) -> tuple[str, ...]:
    """The text in lines of at most `room` cells, broken between words where it can be.

    What is beyond `most` lines is cut, and an ellipsis says so.
    """
    lines: list[str] = []
    line = ""
    for word in clean(text).split():
        for piece in _pieces(word, room):
            joined = f"{line} {piece}" if line else piece
            if cells(joined) <= room:
                line = joined
            else:
                lines.append(line)
                line = piece
    lines.append(line)
    if len(lines) <= most:
        return tuple(lines)
    last = lines[most - 1]
    while cells(last) >= room:
        last = last[:-1]
    return (*lines[: most - 1], last + "…")


def _pieces(word: str, room: int) -> list[str]:
    """The word, cut where it is longer than a line."""
    if cells(word) <= room:
        return [word]
    if all(_cells(c) == 1 for c in word):
        return textwrap.wrap(word, room)
    pieces = [""]
    for character in word:
        if cells(pieces[-1] + character) > room:
            pieces.append("")
        pieces[-1] += character
    return pieces


def spread(
    middles: Sequence[float], widths: Sequence[float], gap: float, ends: tuple[float, float]
) -> list[float]:
    """Places for labels in a row, as near to where they want to be as the others let them.

    Parameters
    ----------
    middles
        Where each wants its middle, from left to right.
    ends
        What they may not reach over; they are taken to fit between.

    Notes
    -----
    Labels that touch are moved as one block to the mean of what its members want, and blocks
    that then touch are joined: least squares under an order (pool adjacent violators).

    References
    ----------
    Barlow, Bartholomew, Bremner, Brunk, Statistical Inference under Order Restrictions, 1972
    (from memory).
    """
    offsets, edge = [], 0.0
    for width in widths:
        offsets.append(edge + width / 2)
        edge += width + gap
    wanted = [m - o for m, o in zip(middles, offsets, strict=True)]
    blocks: list[tuple[float, int]] = []
    for want in wanted:
        blocks.append((want, 1))
        while len(blocks) > 1 and blocks[-2][0] > blocks[-1][0]:
            (b, n), (a, m) = blocks.pop(), blocks.pop()
            blocks.append(((a * m + b * n) / (m + n), m + n))
    starts = [start for start, count in blocks for _ in range(count)]
    low, high = ends[0], ends[1] - (edge - gap)
    return [min(max(s, low), high) + o for s, o in zip(starts, offsets, strict=True)]
