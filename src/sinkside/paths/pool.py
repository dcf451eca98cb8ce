"""Many paths as what they are made of: heads, ends and devices, each looked at once.

A search finds the same few ends behind every head. As objects of their own its paths are
thousands; as triples of indices they are three short lists and three arrays.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias, TypeVar, overload

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance

Indices: TypeAlias = NDArray[np.intp]
T = TypeVar("T")


@dataclass(frozen=True, kw_only=True)
class Path:
    """A front joined to a device."""

    front: Front
    appliance: Appliance


@dataclass(frozen=True, kw_only=True, eq=False)
class Pool(Sequence[Path]):
    """Paths as indices; as a sequence, one `Path` after the other, made when it is asked for.

    Parameters
    ----------
    heads
        Fronts as far as the trigger.
    ends
        What may follow a head, as far as the plug.
    devices
        What is fed at the end.
    head, end, device
        Of each path, shape (paths,).
    """

    heads: tuple[Front, ...]
    ends: tuple[tuple[Part, ...], ...]
    devices: tuple[Appliance, ...]
    head: Indices
    end: Indices
    device: Indices

    def __len__(self) -> int:
        return len(self.head)

    def front(self, index: int) -> Front:
        """The front of one path."""
        head, end = self.heads[self.head[index]], self.ends[self.end[index]]
        return Front(
            charger=head.charger,
            port=head.port,
            company=head.company,
            parts=(*head.parts, *end),
        )

    @overload
    def __getitem__(self, index: int) -> Path: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Path, ...]: ...
    def __getitem__(self, index: int | slice) -> Path | tuple[Path, ...]:
        if isinstance(index, slice):
            return tuple(self[i] for i in range(*index.indices(len(self))))
        return Path(front=self.front(index), appliance=self.devices[self.device[index]])

    @classmethod
    def of(cls, paths: Sequence[Path]) -> "Pool":
        """A pool of single paths."""
        if isinstance(paths, Pool):
            return paths
        heads, head = same(path.front.head for path in paths)
        ends, end = same(p.front.parts[len(p.front.head_parts) :] for p in paths)
        devices, device = same(path.appliance for path in paths)
        return cls(heads=heads, ends=ends, devices=devices, head=head, end=end, device=device)


def same(values: Iterable[T]) -> tuple[tuple[T, ...], Indices]:
    """Each value once, in the order of first appearance, and for each which of them it is."""
    place: dict[T, int] = {}
    at = [place.setdefault(value, len(place)) for value in values]
    return tuple(place), np.array(at, dtype=np.intp)


def firsts(keys: Indices) -> tuple[Indices, Indices]:
    """Where each different key stands first, and for each key which of them it is."""
    _, first, at = np.unique(keys, return_index=True, return_inverse=True)
    return first, at.reshape(-1)


def runs(starts: Sequence[int] | Indices, sizes: Sequence[int] | Indices) -> Indices:
    """The indices of several runs, one run after the other: start, start + 1 and so on."""
    starts, sizes = np.asarray(starts, dtype=np.intp), np.asarray(sizes, dtype=np.intp)
    before = np.cumsum(sizes) - sizes
    return np.repeat(starts - before, sizes) + np.arange(int(sizes.sum()))
