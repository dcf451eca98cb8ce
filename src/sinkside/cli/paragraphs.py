"""Sentences broken into lines for a terminal, without parting a figure from its unit."""

import re
import textwrap
from collections.abc import Iterator, Sequence

WIDTH = 98
_FIGURE = re.compile(r"(?<=\d) (?=(?:[mµk]?(?:A²s|[VAWΩFs])|mm?|min|EUR)\b)")


def wrapped(text: str, indent: int = 0) -> list[str]:
    """A sentence in lines, those after the first two columns further in."""
    joined = _FIGURE.sub("\N{NO-BREAK SPACE}", text)
    found = textwrap.wrap(
        joined,
        WIDTH,
        initial_indent=" " * indent,
        subsequent_indent=" " * (indent + 2),
        break_on_hyphens=False,
    )
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in found]


def listed(head: str, entries: Sequence[str]) -> Iterator[str]:
    """A head, what stands under it, and an empty line; nothing at all without entries."""
    if entries:
        yield head
        for entry in entries:
            yield from wrapped(f"- {entry}", indent=2)
        yield ""
