"""Telling people who wait what is being done: only on a terminal, and only after a second."""

import sys
import time
from types import TracebackType
from typing import Self

from sinkside.cli import streams

PATIENCE_S = 1.0


class Patience:
    """Shows the current step on standard error once a second has gone by."""

    def __init__(self) -> None:
        self.started = time.monotonic()
        self.shown = False
        self.on = streams.is_terminal(sys.stderr)

    def __enter__(self) -> Self:
        return self

    def say(self, step: str) -> None:
        """What is being done now."""
        if self.on and time.monotonic() - self.started > PATIENCE_S:
            streams.put_err(f"{step} …", fresh=True)
            self.shown = True

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        if self.shown:
            streams.put_err("", fresh=True)
