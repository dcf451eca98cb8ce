"""The numbers behind rows: what a front, a port in a state and a device under a law come to.

A situation is a row's numbers without its names. Companies and ports that promise the same, and
states that a cable does not tell apart, are one situation: it is reckoned once and said of many.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.front_values import FrontValues, front_values
from sinkside.paths.part_figures import part_figures
from sinkside.paths.pool import Indices, Pool, firsts, same
from sinkside.paths.rows import Path, Row, Rows
from sinkside.paths.states import State
from sinkside.paths.values import CONVERTER_LIMIT, BackValues, back_values, limit, offer, rise, trip
from sinkside.paths.views import CORNERS, View
from sinkside.standards.pd_contract import OVERCURRENT_TRIP_HIGH

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
# How many figures of a port in a state are plain numbers; the rest are seen through a view.
PLAIN = 5


@dataclass(frozen=True, kw_only=True)
class Situations:
    """Situations as arrays, shape (situations,) or (situations, columns of the view).

    What a port promises changes nothing of what flows: the physics is reckoned at points, which
    are situations without their promises.

    Parameters
    ----------
    of_row
        Which situation each row is, shape (rows,).
    point
        At which point each situation is.
    f, b
        Fields of `FrontValues` and of `BackValues`, for each point.
    low_v, high_v
        Of the port, shape (points, 1).
    match, before
        Whether the state is the match, or comes before any contract, shape (points,).
    offer_a, trip_a, rise_v_per_s, long_share, cut_a
        Of the port in that state, and of its charger.
    fault_a
        Largest current that can flow for long in lead, plug and jack: see `values.fault_a`.
    held
        Whether this device has been tried on this charger and did not trip it.
    """

    of_row: Indices
    point: Indices
    f: dict[str, Array]
    b: dict[str, Array]
    low_v: Array
    high_v: Array
    match: Mask
    before: Mask
    offer_a: Array
    trip_a: Array
    rise_v_per_s: Array
    long_share: Array
    cut_a: Array
    fault_a: Array
    held: Mask

    def __len__(self) -> int:
        return len(self.point)


def situations(paths: Sequence[Path], rows: Sequence[Row], view: View) -> Situations:
    """The situations of rows, seen through a view."""
    pool, rows = Pool.of(paths), Rows.of(rows)
    chains, chain_of_path = _chains(pool, view)
    fronts = [pool.front(i) for i in chains.tolist()]
    values = front_values(fronts, view)
    ports, port_of_state = _ports(pool, rows.states, view)
    held = np.array(
        [[h.charger.id in d.held_on for d in pool.devices] for h in pool.heads], dtype=bool
    ).reshape(len(pool.heads), len(pool.devices))
    chain, device = chain_of_path[rows.path], pool.device[rows.path]
    port, tried = port_of_state[rows.state], held[pool.head[rows.path], device]
    back = device * len(rows.laws) + rows.law
    key = (chain * len(ports) + port) * (len(pool.devices) * len(rows.laws)) + back
    first, of_row = firsts(key * 2 + tried)
    chain, back, at_port = chain[first], back[first], ports[port[first]]
    _, volts = same(row.tobytes() for row in ports[:, :4])
    at_point, point = firsts((chain * len(ports) + volts[port[first]]) * (back.max() + 1) + back)
    offers, trips, rises, longs, cuts = (
        at_port[:, PLAIN + i * view.columns : PLAIN + (i + 1) * view.columns] for i in range(5)
    )
    return Situations(
        of_row=of_row,
        point=point,
        f={f.name: getattr(values, f.name)[chain[at_point]] for f in fields(FrontValues)},
        b=_backs(pool, rows, back[at_point], view),
        low_v=at_port[at_point, 0:1],
        high_v=at_port[at_point, 1:2],
        match=at_port[at_point, 2] > 0.0,
        before=at_port[at_point, 3] > 0.0,
        offer_a=offers,
        trip_a=trips,
        rise_v_per_s=rises,
        long_share=longs,
        cut_a=cuts,
        fault_a=_fault_a(fronts, values, chain, at_port[:, 4], view),
        held=tried[first],
    )


def _chains(pool: Pool, view: View) -> tuple[Indices, Indices]:
    """Of each chain that comes to other figures one path, and which chain each path has.

    At the corners a part is its figures. In other views its name tells what is drawn with what.
    """

    def like(parts: tuple[Part, ...]) -> tuple[object, ...]:
        return tuple(part_figures(p, view) for p in parts) if view is CORNERS else parts

    _, head = same((like(h.parts), h.trigger.gated, h.trigger.presses_v) for h in pool.heads)
    _, end = same(like(end) for end in pool.ends)
    return firsts(head[pool.head] * len(pool.ends) + end[pool.end])


def _fault_a(
    fronts: Sequence[Front], values: FrontValues, chain: Indices, trip_a: Array, view: View
) -> Array:
    """The bound by the port, by fuses, and by what a converter lets through; see `Situations`."""
    before = np.minimum(trip_a, values.opens_before_a[chain])
    behind, converts = values.opens_behind_a[chain], values.converts[chain]
    low, high = (
        np.minimum(
            np.where(converts, np.maximum(before, ratio * values.converter_a[chain]), before),
            behind,
        )
        for ratio in CONVERTER_LIMIT
    )
    if view is CORNERS:
        return np.stack([high, low], axis=1)
    parts = [front.parts[min(front.split, len(front.parts) - 1)] for front in fronts]
    bounds = zip(low.tolist(), high.tolist(), chain.tolist(), strict=True)
    seen = [view.at(limit(a, b, parts[c]), "high") for a, b, c in bounds]
    return np.array(seen).reshape(len(seen), view.columns)


def _ports(pool: Pool, states: Sequence[tuple[int, State]], view: View) -> tuple[Array, Indices]:
    """Each different port in a state as one row of figures, and which of them each state is."""
    look = _corners_at_port if view is CORNERS else _at_port
    figures = [look(pool.heads[pool.head[path]], state, view) for path, state in states]
    found, at = same(figures)
    return np.array([np.frombuffer(row) for row in found]).reshape(
        len(found), PLAIN + 5 * view.columns
    ), at


def _at_port(head: Front, state: State, view: View) -> bytes:
    """What a port gives and stands in a state: as bytes, so that like is found with like."""
    cuts = head.charger.cuts_off_a
    found = (
        np.array(
            [
                state.low_v,
                state.high_v,
                state.kind == "match",
                state.kind == "before contract",
                OVERCURRENT_TRIP_HIGH * head.charger.largest_a(head.port),
            ]
        ),
        view.at(offer(head, state), "low"),
        view.at(trip(head, state), "low"),
        view.at(rise(head), "high"),
        view.at(head.charger.long_share(), "low"),
        np.full(view.columns, -np.inf) if cuts is None else view.at(cuts, "high"),
    )
    return np.concatenate(found).tobytes()


# Heads come again with every device.
_corners_at_port = lru_cache(maxsize=50_000)(_at_port)


def _backs(pool: Pool, rows: Rows, backs: Indices, view: View) -> dict[str, Array]:
    """The devices, each once under each of its laws."""
    first, at = firsts(backs)
    pairs = [divmod(back, len(rows.laws)) for back in backs[first].tolist()]
    found = [back_values(pool.devices[d], rows.laws[law], view) for d, law in pairs]
    return {
        field.name: np.array([getattr(v, field.name) for v in found])[at]
        for field in fields(BackValues)
    }
