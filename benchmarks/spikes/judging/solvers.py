"""Four ways to the same two roots."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import TypeAlias

import numpy as np

from sinkside.physics.operating_point import Load, operating_point

from .branch import Array, Branch, Roots, nose_v

Solver: TypeAlias = Callable[[Branch], Roots]

_HALVINGS = 60
_NEWTONS = 80
_RELATIVE = 4e-16


def closed_form(branch: Branch) -> Roots:
    """Solve without diodes: two roots of a quadratic. Diodes are refused.

    Raises
    ------
    ValueError
        If the branch has diodes.
    """
    if branch.thermal_v.shape[0] and np.any(branch.thermal_v > 0.0):
        raise ValueError("the closed form knows no exponential diode; use `relinearised`")
    return _quadratic(branch, branch.source_v, branch.series_ohm)[0]


def shipped(branch: Branch) -> Roots:
    """The closed form as the program has it, with its current and its spare power."""
    point = operating_point(
        branch.source_v,
        branch.series_ohm,
        Load(
            constant_a=branch.constant_a,
            power_w=branch.power_w,
            conductance_s=branch.conductance_s,
        ),
    )
    return Roots(high_v=point.v, low_v=point.low_v)


def _quadratic(branch: Branch, source_v: Array, series_ohm: Array) -> tuple[Roots, Array]:
    """Roots of the straight branch, and the volts at its nose (its best guess if no root)."""
    a = 1.0 + series_ohm * branch.conductance_s
    b = source_v - series_ohm * branch.constant_a
    c = series_ohm * branch.power_w
    discriminant = b * b - 4.0 * a * c
    with np.errstate(invalid="ignore", divide="ignore"):
        root = np.sqrt(np.where(discriminant >= 0.0, discriminant, np.nan))
        high = np.where(b > 0.0, (b + root) / (2.0 * a), np.nan)
        low = np.where(c > 0.0, c / (a * high), np.nan)
    return Roots(high_v=high, low_v=low), b / (2.0 * a)


def relinearised(branch: Branch, rounds: int = 12) -> Roots:
    """Put each diode's tangent into the closed form, and again at the current that results.

    Notes
    -----
    Newton's method on the diode alone, with the load exact. A diode is concave in the current,
    so its tangent asks for too many volts: near the nose a round may find no root where there
    is one, and then goes on from the tangent's own nose. What has not settled after `rounds`
    goes to `newton`.
    """
    if not branch.thermal_v.shape[0]:
        return closed_form(branch)
    high = _settle(branch, high=True, rounds=rounds)
    low = np.full_like(high, np.nan)
    powered = np.flatnonzero(branch.power_w > 0.0)
    if powered.size:
        low[powered] = _settle(branch.at(powered), high=False, rounds=rounds)
    return Roots(high_v=high, low_v=low)


def _settle(branch: Branch, *, high: bool, rounds: int, counts: list[int] | None = None) -> Array:
    """One root by tangents; what does not settle by safeguarded Newton."""
    answer = np.full_like(branch.source_v, np.nan)
    active = np.arange(answer.size)
    part = branch
    guess = _first_guess(part, high=high)
    with np.errstate(invalid="ignore", divide="ignore"):
        i_a = part.current_a(guess)
        for _ in range(rounds):
            slope = part.diode_ohm(i_a)
            forward = part.diode_v(i_a) - slope * i_a
            roots, middle = _quadratic(part, part.source_v - forward, part.series_ohm + slope)
            v = roots.high_v if high else roots.low_v
            found = np.isfinite(v)
            nearby = np.where(found, v, np.maximum(middle, 1e-3 * part.source_v))
            # the error after a round is of the second order in the change of the round
            settled = found & (np.abs(v - guess) <= 1e-9 * v)
            answer[active[settled]] = v[settled]
            keep = ~settled
            if counts is not None:
                counts.append(int(np.count_nonzero(settled)))
            active, part, guess = active[keep], part.at(keep), nearby[keep]
            if not active.size:
                return answer
            i_a = part.current_a(guess)
    answer[active] = _one_side(part, high=high, halve=False)
    return answer


def settling(branch: Branch, *, high: bool, rounds: int = 12) -> tuple[list[int], int, int]:
    """How many branches settle in each round, how many go to Newton, and rootless of those."""
    powered = branch if high else branch.at(np.flatnonzero(branch.power_w > 0.0))
    counts: list[int] = []
    roots = _settle(powered, high=high, rounds=rounds, counts=counts)
    return counts, roots.size - sum(counts), int(np.count_nonzero(np.isnan(roots)))


def _first_guess(branch: Branch, *, high: bool) -> Array:
    roots, middle = _quadratic(branch, branch.source_v, branch.series_ohm)
    v = roots.high_v if high else roots.low_v
    return np.where(np.isfinite(v), v, np.maximum(middle, 1e-3 * branch.source_v))


def newton(branch: Branch) -> Roots:
    """Safeguarded Newton in a bracket between nose and source (high) or nose and 0 (low)."""
    return _both(branch, halve=False)


def bisection(branch: Branch) -> Roots:
    """Halve the same brackets sixty times."""
    return _both(branch, halve=True)


def _both(branch: Branch, *, halve: bool) -> Roots:
    high = _one_side(branch, high=True, halve=halve)
    low = np.full_like(high, np.nan)
    powered = np.flatnonzero((branch.power_w > 0.0) & np.isfinite(high))
    if powered.size:
        low[powered] = _one_side(branch.at(powered), high=False, halve=halve)
    return Roots(high_v=high, low_v=low)


def _one_side(branch: Branch, *, high: bool, halve: bool) -> Array:
    """One root in its bracket; NaN where S stays above V₀ even at the nose."""
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        nose = nose_v(branch)
        # at 0 V a load without power draws I₀; its S is finite there
        floor = np.where(branch.power_w > 0.0, nose, 1e-12 * branch.source_v)
        exists = branch.excess_v(floor)[0] <= 0.0
        far = branch.source_v if high else branch.series_ohm * branch.power_w / branch.source_v
    chosen = np.flatnonzero(exists)
    answer = np.full_like(branch.source_v, np.nan)
    if chosen.size:
        step = _halve if halve else _descend
        answer[chosen] = step(branch.at(chosen), floor[chosen], far[chosen])
    return answer


def _halve(branch: Branch, below: Array, above: Array) -> Array:
    """Bisect between volts where S ≤ V₀ and volts where S ≥ V₀."""
    for _ in range(_HALVINGS):
        middle = 0.5 * (below + above)
        over = branch.excess_v(middle)[0] > 0.0
        above = np.where(over, middle, above)
        below = np.where(over, below, middle)
    return 0.5 * (below + above)


def _descend(branch: Branch, below: Array, above: Array) -> Array:
    """Newton from the side where S ≥ V₀, halving where a step leaves the bracket."""
    answer = np.empty_like(below)
    active = np.arange(below.size)
    v = above.copy()
    for _ in range(_NEWTONS):
        excess, slope = branch.excess_v(v)
        over = excess > 0.0
        above = np.where(over, v, above)
        below = np.where(over, below, v)
        with np.errstate(divide="ignore", invalid="ignore"):
            next_v = v - excess / slope
        least, most = np.minimum(below, above), np.maximum(below, above)
        inside = (next_v >= least) & (next_v <= most)
        next_v = np.where(inside, next_v, 0.5 * (below + above))
        settled = (np.abs(next_v - v) <= _RELATIVE * v) | (most - least <= _RELATIVE * v)
        v = next_v
        if settled.any():
            answer[active[settled]] = v[settled]
            keep = ~settled
            active, branch = active[keep], branch.at(keep)
            v, below, above = v[keep], below[keep], above[keep]
            if not active.size:
                return answer
    answer[active] = v
    return answer


def without_diodes(branch: Branch) -> Branch:
    """Drop diode arrays that hold no diode, so that no logarithm is taken for nothing."""
    held = np.any(branch.thermal_v > 0.0, axis=1)
    return replace(branch, thermal_v=branch.thermal_v[held], saturation_a=branch.saturation_a[held])
