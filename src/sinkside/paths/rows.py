"""A path, and the rows that it is judged in: every state under every answer to what is open."""

from collections.abc import Sequence
from dataclasses import dataclass

from sinkside.paths.front import Front
from sinkside.paths.states import State, supply
from sinkside.site.appliance import Appliance, Law


@dataclass(frozen=True, kw_only=True)
class Path:
    """A front joined to a device."""

    front: Front
    appliance: Appliance


@dataclass(frozen=True, kw_only=True)
class Row:
    """One path in one state under one answer to what is not known."""

    path: int
    alternative: int
    law: Law
    state: State


def rows_of(paths: Sequence[Path]) -> tuple[Row, ...]:
    """Every row of some paths, grouped by path and alternative."""
    rows = []
    for i, path in enumerate(paths):
        found = supply(path.front)
        states, answers = found.states, found.answers or ("",)
        number = 0
        for law in path.appliance.laws:
            for answer in answers:
                rows += [
                    Row(path=i, alternative=number, law=law, state=state)
                    for state in states
                    if state.alternative in ("", answer)
                ]
                number += 1
    return tuple(rows)
