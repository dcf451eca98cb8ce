"""What a command answers; it is written once the command is done."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

DONE, FAILS, WRONG, OURS = 0, 1, 2, 70
"""Exit status: done, and no chosen path fails; done, and something fails; the input or the call
is wrong; our own fault."""


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What is going to stand on standard output: lines, one document, or a file.

    Parameters
    ----------
    status
        The exit status.
    lines
        For people, in what letters their terminal knows.
    document
        For programs: written as JSON in the place of the lines.
    file
        What belongs in a file: written as it is, unless a terminal shows it and there are lines.
    """

    status: int = DONE
    lines: Sequence[str] = ()
    document: Any = None
    file: bytes = b""
