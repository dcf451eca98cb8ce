"""From plain data and a template to a PDF, or to pictures of its pages.

The data goes to the typesetter as one JSON string and is only ever set as text, so that no name
can be markup. Neither the clock nor the machine's typefaces are read: the same data gives the
same bytes.
"""

import json
import re
from collections.abc import Mapping, Sequence
from functools import cache
from importlib import resources

import typst

from sinkside.papers.issue import Json
from sinkside.papers.printable import printable

LOOK = "look.typ"
# A figure and its unit stay on one line.
_FIGURE = re.compile(r"(?<=\d) (?=(?:[mµk]?[VAWΩF]|mm²?|s|min)\b)")
# Drawings bring their own spelling with them: see `drawn`.
_DRAWN = "svg"


def pdf(template: str, data: Mapping[str, Json], *, look: str = LOOK) -> bytes:
    """Set data with a template, as a PDF file.

    Parameters
    ----------
    template
        Name of a file beside this one, without its ending.
    data
        What the look and the template ask for.
    look
        Name of the file that is set before the template; nothing if it is empty.

    Notes
    -----
    What the faces that come with the typesetter lack stands as code points: see `printable`.
    """
    source = (_source(look) if look else b"") + _source(f"{template}.typ")
    inputs = {"data": json.dumps(spelled(data), ensure_ascii=False)}
    made = _compiler().compile(input=source, format="pdf", sys_inputs=inputs)
    if not isinstance(made, bytes):
        raise TypeError(f"the typesetter gave {type(made).__name__}, not one file")
    return made


def spelled(data: Json) -> Json:
    """The same data with every string such as can be printed; a drawing is printable already."""
    if isinstance(data, str):
        return _FIGURE.sub("\N{NO-BREAK SPACE}", printable(data))
    if isinstance(data, Mapping):
        return {k: v if k == _DRAWN else spelled(v) for k, v in data.items()}
    if isinstance(data, Sequence):
        return [spelled(entry) for entry in data]
    return data


@cache
def _compiler() -> typst.Compiler:
    return typst.Compiler(font_paths=typst.Fonts(include_system_fonts=False))


@cache
def _source(name: str) -> bytes:
    return resources.files("sinkside.papers").joinpath(name).read_bytes()
