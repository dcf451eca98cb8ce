"""A path, and the rows that it is judged in: every state under every answer to what is open."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias, TypeVar, overload

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.front import Front
from sinkside.paths.states import State, Supply, supply
from sinkside.site.appliance import Appliance, Law

Indices: TypeAlias = NDArray[np.intp]
T = TypeVar("T")


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


@dataclass(frozen=True, kw_only=True)
class Rows(Sequence[Row]):
    """Rows as arrays of indices, shape (rows,); as a sequence, one `Row` after the other.

    Parameters
    ----------
    path, alternative
        Of each row: which path, and which answer to what is open there.
    law, state
        Which of `laws`, and which of `states`.
    states
        The states, each with one of the paths that it belongs to.
    """

    path: Indices
    alternative: Indices
    law: Indices
    state: Indices
    laws: tuple[Law, ...]
    states: tuple[tuple[int, State], ...]

    def __len__(self) -> int:
        return len(self.path)

    @overload
    def __getitem__(self, index: int) -> Row: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Row, ...]: ...
    def __getitem__(self, index: int | slice) -> Row | tuple[Row, ...]:
        if isinstance(index, slice):
            return tuple(self[i] for i in range(*index.indices(len(self))))
        return Row(
            path=int(self.path[index]),
            alternative=int(self.alternative[index]),
            law=self.laws[int(self.law[index])],
            state=self.states[int(self.state[index])][1],
        )

    @classmethod
    def of(cls, rows: Sequence[Row]) -> "Rows":
        """Rows from single ones."""
        if isinstance(rows, Rows):
            return rows
        laws = tuple(dict.fromkeys(row.law for row in rows))
        return cls(
            path=_indices(row.path for row in rows),
            alternative=_indices(row.alternative for row in rows),
            law=_indices(laws.index(row.law) for row in rows),
            state=np.arange(len(rows)),
            laws=laws,
            states=tuple((row.path, row.state) for row in rows),
        )


def distinct(values: Iterable[T]) -> tuple[tuple[T, ...], Indices]:
    """Each object once, and for each value which of them it is; by identity, which is quick."""
    place: dict[int, int] = {}
    found: list[T] = []
    at = []
    for value in values:
        if id(value) not in place:
            place[id(value)] = len(found)
            found.append(value)
        at.append(place[id(value)])
    return tuple(found), _indices(at)


def rows_of(paths: Sequence[Path]) -> Rows:
    """Every row of some paths, grouped by path and alternative."""
    return rows_and_supplies(paths)[0]


def rows_and_supplies(paths: Sequence[Path]) -> tuple[Rows, tuple[Supply, ...]]:
    """Every row of some paths, and the supply of each path.

    Paths with the same head and the same laws have the same rows: they are worked out once.
    """
    kinds: dict[object, int] = {}
    found: list[Supply] = []
    blocks: list[_Block] = []
    laws: dict[Law, int] = {}
    states: list[tuple[int, State]] = []
    kind_of = []
    for i, path in enumerate(paths):
        front = path.front
        key = (front.charger, front.port, front.company, front.head_parts, path.appliance.laws)
        kind = kinds.get(key)
        if kind is None:
            kind = kinds[key] = len(blocks)
            found.append(supply(front))
            blocks.append(_block(found[-1], path.appliance.laws, laws, len(states)))
            states += [(i, state) for state in found[-1].states]
        kind_of.append(kind)
    sizes = _indices(len(blocks[kind].state) for kind in kind_of)
    rows = Rows(
        path=np.repeat(np.arange(len(paths)), sizes),
        alternative=_joined(blocks[kind].alternative for kind in kind_of),
        law=_joined(blocks[kind].law for kind in kind_of),
        state=_joined(blocks[kind].state for kind in kind_of),
        laws=tuple(laws),
        states=tuple(states),
    )
    return rows, tuple(found[kind] for kind in kind_of)


@dataclass(frozen=True, kw_only=True)
class _Block:
    """The rows of every path of one kind."""

    alternative: Indices
    law: Indices
    state: Indices


def _block(found: Supply, under: tuple[Law, ...], laws: dict[Law, int], first: int) -> _Block:
    rows = [
        (number, laws.setdefault(law, len(laws)), first + i)
        for number, (law, answer) in enumerate(
            (law, answer) for law in under for answer in found.answers or ("",)
        )
        for i, state in enumerate(found.states)
        if state.alternative in ("", answer)
    ]
    return _Block(
        alternative=_indices(row[0] for row in rows),
        law=_indices(row[1] for row in rows),
        state=_indices(row[2] for row in rows),
    )


def _indices(values: Iterable[int]) -> Indices:
    return np.fromiter(values, dtype=np.intp)


def _joined(parts: Iterable[Indices]) -> Indices:
    return np.concatenate([np.zeros(0, dtype=np.intp), *parts])
