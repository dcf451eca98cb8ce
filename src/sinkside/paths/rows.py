"""The rows that paths are judged in: every state under every answer to what is open."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import overload

import numpy as np

from sinkside.paths.pool import Indices, Path, Pool, firsts, runs
from sinkside.paths.states import State, Supply, supply
from sinkside.site.appliance import Law

__all__ = ["Path", "Row", "Rows", "rows_of"]


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


def rows_of(paths: Sequence[Path]) -> Rows:
    """Every row of some paths, grouped by path and alternative.

    Paths with the same head and the same device have the same rows: they are worked out once.
    """
    pool = Pool.of(paths)
    laws: dict[Law, int] = {}
    states: list[tuple[int, State]] = []
    blocks: list[tuple[int, int, int]] = []
    starts, sizes = [], []
    first, kind = firsts(pool.head * len(pool.devices) + pool.device)
    for i in first.tolist():
        found = supply(pool.heads[pool.head[i]])
        starts.append(len(blocks))
        blocks += _block(found, pool.devices[pool.device[i]].laws, laws, len(states))
        sizes.append(len(blocks) - starts[-1])
        states += [(i, state) for state in found.states]
    sizes_of = np.array(sizes, dtype=np.intp)[kind]
    columns = np.array(blocks, dtype=np.intp).reshape(-1, 3)
    taken = columns[runs(np.array(starts, dtype=np.intp)[kind], sizes_of)]
    return Rows(
        path=np.repeat(np.arange(len(pool)), sizes_of),
        alternative=np.ascontiguousarray(taken[:, 0]),
        law=np.ascontiguousarray(taken[:, 1]),
        state=np.ascontiguousarray(taken[:, 2]),
        laws=tuple(laws),
        states=tuple(states),
    )


def _block(
    found: Supply, under: tuple[Law, ...], laws: dict[Law, int], first: int
) -> list[tuple[int, int, int]]:
    """Answer, law and state of each row of a path; states are counted from `first`."""
    return [
        (number, laws.setdefault(law, len(laws)), first + i)
        for number, (law, answer) in enumerate(
            (law, answer) for law in under for answer in found.answers or ("",)
        )
        for i, state in enumerate(found.states)
        if state.alternative in ("", answer)
    ]


def _indices(values: Iterable[int]) -> Indices:
    return np.fromiter(values, dtype=np.intp)
