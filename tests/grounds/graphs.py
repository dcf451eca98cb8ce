"""Random sites of linked gear, and what a general graph library says of them.

`networkx` knows nothing of supplies: it counts cycles, finds bridges, and walks potentials.
"""

import random
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import product
from typing import Any

import networkx as nx
from tests.paths import small_parts as small

from sinkside.grounds.conductors import Edge, Feed, edges
from sinkside.site.appliance import Appliance
from sinkside.site.written import LinkWritten

KNOWN = ("negative", "negative", "negative", "positive", "mid", "isolated")
KINDS = ("audio", "audio", "video", "data")
SHIELDS = ("both ends", "both ends", "one end", "isolated", "unknown")


def link(a: str, b: str, kind: str = "audio", shield: str = "both ends") -> LinkWritten:
    """A signal lead."""
    return LinkWritten(**{"from": a, "to": b, "kind": kind, "shield": shield})


def feed(
    device: str, charger: Any, unit: int = 1, volts: Any = 9.0, isolated: bool = False
) -> Feed:
    """A feed of exact volts, or of a range."""
    ends = volts if isinstance(volts, tuple) else (volts, volts)
    return Feed(device=device, charger=charger, unit=unit, volts_v=ends, isolated=isolated)


def site(
    draw: random.Random, devices: int, *, unknown: float = 0.0
) -> tuple[list[Appliance], dict[str, Feed], list[LinkWritten]]:
    """Devices on few chargers, linked at random; some grounds, shields and earths not looked at."""
    chargers = [
        small.charger(
            "5:3",
            name=f"c{i}",
            output_earth=draw.choice(("floating", "floating", "earthed"))
            if draw.random() >= unknown
            else "unknown",
        )
        for i in range(max(1, devices // 2))
    ]
    names = [f"d{i}" for i in range(devices)]
    appliances = [
        small.device(n, ground="unknown" if draw.random() < unknown else draw.choice(KNOWN))
        for n in names
    ]
    feeds = {
        n: feed(n, draw.choice(chargers), 1, draw.choice((5.0, 9.0, 12.0)), draw.random() < 0.1)
        for n in names
        if draw.random() < 0.85
    }
    links = []
    for _ in range(draw.randint(0, devices + 1)):
        a, b = draw.sample(names, 2)
        shield = draw.choice(SHIELDS[:4]) if unknown == 0.0 else draw.choice(SHIELDS)
        links.append(link(a, b, "audio" if unknown == 0.0 else draw.choice(KINDS), shield))
    return appliances, feeds, links


def exact(found: Sequence[Edge]) -> list[Edge]:
    """The same edges with the middle of their volts, so that a graph either closes or does not."""
    return [
        replace(e, volts_v=((e.volts_v[0] + e.volts_v[1]) / 2,) * 2) if not e.open_volts else e
        for e in found
    ]


def graph(found: Sequence[Edge]) -> Any:
    """The edges as a multigraph of the library."""
    made = nx.MultiGraph()
    for edge in found:
        made.add_edge(edge.a, edge.b)
    return made


def rank(found: Sequence[Edge]) -> int:
    """How many independent cycles the library finds."""
    made = graph(found)
    return int(
        made.number_of_edges() - made.number_of_nodes() + nx.number_connected_components(made)
    )


def closes(found: Sequence[Edge]) -> bool:
    """Whether one potential a node satisfies every edge (Kirchhoff): no ring holds volts."""
    made = nx.MultiDiGraph()
    for edge in found:
        made.add_edge(edge.a, edge.b, volts=edge.volts_v[0])
    at: dict[str, float] = {}
    for part in nx.weakly_connected_components(made):
        start = min(part)
        at[start] = 0.0
        for a, b in nx.bfs_edges(made.to_undirected(), start):
            forward = made.get_edge_data(a, b)
            at[b] = at[a] + (
                forward[0]["volts"] if forward else -made.get_edge_data(b, a)[0]["volts"]
            )
    return all(abs(at[a] + volts - at[b]) < 1e-6 for a, b, volts in made.edges(data="volts"))


def completions(found: Sequence[Edge]) -> Iterator[list[Edge]]:
    """Every answer to what nobody has looked at: not there, or there, with each possible pole."""
    sure = [e for e in found if e.certain]
    answers = [
        (None, *(replace(e, volts_v=(v, v)) for v in (0.0, e.volts_v[1], e.volts_v[1] / 2)))
        if e.open_volts
        else (None, e)
        for e in found
        if not e.certain
    ]
    for answer in product(*answers):
        yield [*sure, *(e for e in answer if e is not None)]


def conductors(
    said: tuple[list[Appliance], Mapping[str, Feed], list[LinkWritten]],
) -> list[Edge]:
    """The edges of a site with exact volts."""
    return exact(edges(*said))
