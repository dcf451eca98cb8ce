"""Where conductors close on themselves: loops, and shorts that force two potentials on one node.

An edge between two trees joins them. An edge within one tree closes a ring, and the volts around it
are what would drive a current: none is a loop that can hum, more is a short. The volts are summed
around each ring, and not kept at the roots: as ranges, stretches that two ways share would count
twice.
"""

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.grounds.conductors import Edge, Range
from sinkside.rules.verdict import TOUCH, Verdict

MeetingKind: TypeAlias = Literal["loop", "tied supplies", "short"]


@dataclass(frozen=True, kw_only=True)
class Meeting:
    """A ring of conductors.

    Parameters
    ----------
    kind
        `short`: two potentials are forced on one node. `tied supplies`: the volts around may be
        nothing, by the tolerance of two supplies. `loop`: there are none.
    certain
        Whether every conductor of it is there for sure, and its volts are known.
    edges
        In order around.
    volts_v
        That drive a current around it, least and most.
    unknowns
        What has to be looked at, by name.
    """

    kind: MeetingKind
    certain: bool
    edges: tuple[Edge, ...]
    volts_v: Range
    unknowns: tuple[str, ...] = ()

    @property
    def verdict(self) -> Verdict:
        """On whether it does harm; a loop does none, it can hum."""
        if self.kind == "loop":
            return Verdict.FITS
        return Verdict.FAILS if self.certain else Verdict.UNPROVEN

    @property
    def devices(self) -> tuple[str, ...]:
        """The devices that it runs through."""
        return tuple(dict.fromkeys(e.of for e in self.edges if e.kind in ("return", "pole")))


class _Forest:
    """Trees of nodes that hang together (union-find), and the edges that made them."""

    def __init__(self) -> None:
        self.parent: dict[str, str] = {}
        self.size: dict[str, int] = {}
        self.tree: dict[str, list[tuple[str, Edge]]] = {}

    def root(self, node: str) -> str:
        """The root of a node; ways are shortened as they are gone."""
        if node not in self.parent:
            self.parent[node], self.size[node], self.tree[node] = node, 1, []
        while self.parent[node] != node:
            self.parent[node] = self.parent[self.parent[node]]
            node = self.parent[node]
        return node

    def join(self, edge: Edge) -> bool:
        """Tie two nodes; False if they hang together already."""
        a, b = self.root(edge.a), self.root(edge.b)
        if a == b:
            return False
        if self.size[a] < self.size[b]:
            a, b = b, a
        self.parent[b] = a
        self.size[a] += self.size[b]
        self.tree[edge.a].append((edge.b, edge))
        self.tree[edge.b].append((edge.a, edge))
        return True

    def way(self, start: str, end: str) -> list[Edge]:
        """The edges of the tree from one node to another, which hang together."""
        before: dict[str, tuple[str, Edge]] = {}
        seen, here = {start}, deque([start])
        while end not in seen:
            node = here.popleft()
            for there, edge in self.tree[node]:
                if there not in seen:
                    seen.add(there)
                    before[there] = (node, edge)
                    here.append(there)
        found: list[Edge] = []
        while end != start:
            end, edge = before[end]
            found.append(edge)
        return found[::-1]


def _plus(a: Range, b: Range) -> Range:
    return a[0] + b[0], a[1] + b[1]


def _minus(a: Range) -> Range:
    return -a[1], -a[0]


def meetings(edges: Sequence[Edge]) -> tuple[Meeting, ...]:
    """Every independent ring, the sure ones first.

    Notes
    -----
    There are E − V + C of them (cycle rank). If none of these is a short, no ring at all is: the
    volts of any ring are sums of theirs (Kirchhoff). A ring through a ground of which nobody knows
    the pole can be a short, whatever the others are: with at most one of the poles it closes.
    """
    forest = _Forest()
    found = []
    for edge in sorted(edges, key=_order):
        if not forest.join(edge):
            ring = (edge, *forest.way(edge.b, edge.a))
            found.append(_meeting(ring))
    return tuple(sorted(found, key=lambda m: (not m.certain, m.kind == "loop")))


def _order(edge: Edge) -> tuple[bool, bool]:
    """What is sure first, and shields last: they are what can be changed."""
    return not edge.certain, edge.kind == "shield"


def _meeting(ring: tuple[Edge, ...]) -> Meeting:
    certain = all(edge.certain for edge in ring)
    low, high = _around(ring)
    kind: MeetingKind
    if any(edge.open_volts for edge in ring) or low > TOUCH or high < -TOUCH:
        kind = "short"
    elif high - low > TOUCH:
        kind = "tied supplies"
    else:
        kind = "loop"
    unknowns = (edge.unknown for edge in ring if edge.unknown)
    return Meeting(
        kind=kind,
        certain=certain,
        edges=ring,
        volts_v=_size(low, high),
        unknowns=tuple(dict.fromkeys(unknowns)),
    )


def _around(ring: Sequence[Edge]) -> Range:
    """The volts around a ring that begins with its first edge from a to b."""
    here, total = ring[0].a, (0.0, 0.0)
    for edge in ring:
        forward = edge.a == here
        total = _plus(total, edge.volts_v if forward else _minus(edge.volts_v))
        here = edge.b if forward else edge.a
    return total


def _size(low: float, high: float) -> Range:
    """Least and most of what may have either sign."""
    least = 0.0 if low <= 0.0 <= high else min(abs(low), abs(high))
    return least, max(abs(low), abs(high))


def groups(edges: Sequence[Edge]) -> tuple[frozenset[str], ...]:
    """The nodes that hang together."""
    forest = _Forest()
    for edge in edges:
        forest.join(edge)
    by_root: dict[str, set[str]] = {}
    for node in list(forest.parent):
        by_root.setdefault(forest.root(node), set()).add(node)
    return tuple(frozenset(nodes) for nodes in by_root.values())


def shorts(found: Sequence[Meeting]) -> Iterator[Meeting]:
    """Those that are more than loops."""
    return (meeting for meeting in found if meeting.kind != "loop")
