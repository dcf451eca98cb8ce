"""The backward/forward steady state of whole chains, with any branch solver put in."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .branch import Array, Branch, Mask
from .points import Points
from .solvers import Solver, without_diodes

CHUNK = 8_192


@dataclass(frozen=True, kw_only=True)
class Steady:
    """Both roots of the branch in force at the pins, and the current from the port.

    Parameters
    ----------
    pins_v, low_v
        High and low root at the device.
    port_a
        Current from the port at the high roots.
    port_low_v
        The low root before the converter, where it may latch; NaN if none.
    regulated, exists
        Whether the converter holds; whether there is an operating point.
    """

    pins_v: Array
    low_v: Array
    port_a: Array
    port_low_v: Array
    regulated: Mask
    exists: Mask


def steady(points: Points, solver: Solver) -> Steady:
    """Solve chains: what the load draws back to the port, then which regime holds."""
    through = solver(without_diodes(points.through))
    behind = solver(without_diodes(points.back))
    with np.errstate(invalid="ignore", divide="ignore"):
        behind_a = points.back.current_a(behind.high_v)
        power_w = points.back.source_v * behind_a / points.efficiency
        before_branch = replace(
            points.port,
            constant_a=points.quiescent_a,
            # NaN, no root behind, would stop the solver; it rules out `regulated` below
            power_w=np.where(np.isfinite(power_w), power_w, 0.0),
        )
        before = solver(without_diodes(before_branch))
        regulated = points.converts & np.isfinite(power_w) & (before.high_v >= points.needs_v)
        starved = points.converts & ~regulated
        dead = starved & ~points.passes
        pins = np.where(regulated, behind.high_v, np.where(dead, 0.0, through.high_v))
        low = np.where(regulated, behind.low_v, np.where(dead, np.nan, through.low_v))
        port_a = np.where(
            regulated,
            before_branch.current_a(before.high_v),
            np.where(dead, 0.0, points.through.current_a(through.high_v)),
        )
    return Steady(
        pins_v=pins,
        low_v=low,
        port_a=port_a,
        port_low_v=np.where(regulated, before.low_v, np.nan),
        regulated=regulated,
        exists=np.isfinite(pins),
    )


def steady_in_chunks(points: Points, solver: Solver, chunk: int = CHUNK) -> Steady:
    """The same in slices that stay in the cache."""
    if points.size <= chunk:
        return steady(points, solver)
    parts = [
        steady(points.part(slice(start, start + chunk)), solver)
        for start in range(0, points.size, chunk)
    ]
    return Steady(
        pins_v=np.concatenate([p.pins_v for p in parts]),
        low_v=np.concatenate([p.low_v for p in parts]),
        port_a=np.concatenate([p.port_a for p in parts]),
        port_low_v=np.concatenate([p.port_low_v for p in parts]),
        regulated=np.concatenate([p.regulated for p in parts]),
        exists=np.concatenate([p.exists for p in parts]),
    )


def branches_of(points: Points) -> tuple[Branch, Branch]:
    """The two branches whose load is given outright, for checks against outside solvers."""
    return points.through, points.back
