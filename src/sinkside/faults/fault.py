"""What is wrong with the input, where, and what would be right.

A small reader that knows no file raises `NotUnderstood`. Whoever knows the file
turns it into a `Fault` with a `Place`, collects all of them, and raises `Faulty`
once. Input never meets `assert`.
"""

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True, kw_only=True, order=True)
class Place:
    """A place in a text that a person wrote. Lines and columns count from 1."""

    file: str
    line: int
    column: int

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, kw_only=True)
class Fault:
    """One thing that is wrong: a fixed set of slots, rendered by whoever shows it.

    Parameters
    ----------
    code
        A stable, hyphenated name of the kind of fault, such as `unknown-key`.
    wrong
        What is wrong, with what was got.
    right
        What would be right, or what to do; may be empty.
    place
        Where, if the fault has a place.
    """

    code: str
    wrong: str
    right: str = ""
    place: Place | None = None

    def __str__(self) -> str:
        where = f"{self.place}: " if self.place else ""
        return f"{where}{self.wrong}" + (f"; {self.right}" if self.right else "")

    def at(self, place: Place) -> "Fault":
        """The same fault with a place."""
        return Fault(code=self.code, wrong=self.wrong, right=self.right, place=place)


class NotUnderstood(ValueError):
    """A text or a value that a reader refuses; it becomes a `Fault` once its place is known."""

    def __init__(self, wrong: str, right: str = "", code: str = "not-understood") -> None:
        super().__init__(wrong + (f"; {right}" if right else ""))
        self.fault = Fault(code=code, wrong=wrong, right=right)


class Faulty(Exception):
    """All the faults of one input, told together, in the order of their places."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(
            sorted(faults, key=lambda f: (f.place.line, f.place.column) if f.place else (0, 0))
        )
        super().__init__("\n".join(str(fault) for fault in self.faults))
