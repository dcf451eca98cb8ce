"""Drawings for a paper: each as SVG with the words that say the same.

On paper a drawing is set in one typeface, and what that lacks stands as code points before
anything is measured; on a page of the web the reader's machine lends what is lacking.
"""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from typing import Any, TypeAlias, TypeVar

from sinkside.papers import printable
from sinkside.papers.issue import Json

Spell: TypeAlias = Callable[[str], str]
T = TypeVar("T")


def on_paper(text: str) -> str:
    """The text in the letters of the face that drawings are set in."""
    return printable.printable(text, printable.DRAWING)


def as_written(text: str) -> str:
    """The text as it is."""
    return text


def respelled(value: T, spell: Spell) -> T:
    """A drawing with all its words spelled anew, before it is laid out.

    Parameters
    ----------
    value
        A frozen dataclass of strings, numbers, tuples and others of its kind.
    """
    found: T = _respelled(value, spell)
    return found


def _respelled(value: Any, spell: Spell) -> Any:  # of whatever kind the fields are
    if isinstance(value, Enum):
        return value
    if isinstance(value, str):
        return spell(value)
    if isinstance(value, tuple):
        return tuple(_respelled(entry, spell) for entry in value)
    if is_dataclass(value) and not isinstance(value, type):
        changed = {}
        for field in fields(value):
            before = getattr(value, field.name)
            after = _respelled(before, spell)
            if after is not before and after != before:
                changed[field.name] = after
        return replace(value, **changed) if changed else value
    return value


def drawing(svg: str, alt: str) -> dict[str, Json]:
    """A drawing as a template takes it."""
    return {"svg": svg, "alt": alt}


def drawable(data: Json) -> bool:
    """Whether every drawing among data can be set on paper as it is."""
    if isinstance(data, Mapping):
        if "svg" in data and not printable.drawable(str(data["svg"])):
            return False
        return all(drawable(value) for key, value in data.items() if key != "svg")
    if isinstance(data, Sequence) and not isinstance(data, str):
        return all(map(drawable, data))
    return True
