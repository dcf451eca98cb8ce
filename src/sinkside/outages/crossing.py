"""Where, inside a step, the first guard is passed."""

import numpy as np

from sinkside.outages.circuit import Array, Index
from sinkside.outages.equations import Equations
from sinkside.outages.network import Network
from sinkside.outages.step import Start

PASSED = 1e-8
"""A guard counts as passed beyond this, V or A: above rounding, far below what anyone asks."""

_SEARCHES = 60
# It is found when it lies beyond by less than this, V or A, or in time by less than that.
_CLOSE, _FOUND_S = 1e-6, 1e-8


def passed(
    network: Network, start: Start, step: Array, half: Array, end: Array
) -> tuple[Array, Index, Array]:
    """Where the first guard passes zero in steps on which one does.

    Parameters
    ----------
    start, step
        Where the steps begin, and how long they are.
    half, end
        All guards in the middle and at the end, shape (guards, runs); one of them is passed.

    Returns
    -------
    share, guard, y
        Of the step; which guard; and the states there.

    Notes
    -----
    Between a place where all guards hold and one where some do not, the guard that is furthest
    beyond is followed: by inverse quadratic interpolation where that may be trusted, else by
    bisection. It ends at most a millionth of a volt or ampere, or 10 ns, beyond zero.

    References
    ----------
    Chandrupatla, Advances in Engineering Software 28, 1997 (from memory).
    """
    early = half.min(axis=0) < -PASSED
    # What is passed from the start is passed at once.
    first = np.maximum(_guards(network, start.equations, start.t_s, start.y), 0.0)
    # a: the latest place; b: the other end of the bracket; c: the place before.
    a, b, c = np.where(early, 0.0, 0.5), np.where(early, 0.5, 1.0), np.where(early, 1.0, 0.0)
    g_a, g_b, g_c = (
        PASSED + np.where(early, x, y) for x, y in ((first, half), (half, end), (end, first))
    )
    share, guard, y = b.copy(), np.zeros(step.size, dtype=np.intp), start.y.copy()
    left, part = np.arange(step.size), start
    for number in range(_SEARCHES):
        beyond = np.where(g_a.min(axis=0) < 0.0, g_a, g_b)
        which = np.argmin(beyond, axis=0)[None]
        f_a, f_b, f_c = (np.take_along_axis(g, which, axis=0)[0] for g in (g_a, g_b, g_c))
        guess = a + _share(a, b, c, f_a, f_b, f_c, step[left]) * (b - a)
        at = part.after(guess * step[left])[0]
        found = PASSED + _guards(network, part.equations, part.t_s + guess * step[left], at)
        least = found.min(axis=0)
        least = np.where(np.isnan(least), -1.0, least)
        same = (least < 0.0) == (g_a.min(axis=0) < 0.0)
        c, g_c = np.where(same, a, b), np.where(same, g_a, g_b)
        b, g_b = np.where(same, b, a), np.where(same, g_b, g_a)
        a, g_a = guess, found
        near = np.abs(a - b) * step[left] <= _FOUND_S
        # The place must lie beyond, or the mode would hold on.
        done = (least < 0.0) & ((least > -_CLOSE) | near) | (number == _SEARCHES - 1)
        share[left[done]], y[:, left[done]] = guess[done], at[:, done]
        guard[left[done]] = np.argmin(found[:, done], axis=0)
        if done.all():
            break
        if done.any():
            kept = np.flatnonzero(~done)
            left, part = left[kept], part.at(kept)
            a, b, c = a[kept], b[kept], c[kept]
            g_a, g_b, g_c = g_a[:, kept], g_b[:, kept], g_c[:, kept]
    return share, guard, y


def _guards(network: Network, equations: Equations, t_s: Array, y: Array) -> Array:
    """Every guard of each run at a place."""
    rows = equations.rows[network.first_guard : network.pins_v]
    found: Array = np.einsum("rcn,cn->rn", rows, equations.vector(t_s, y))
    return found


def _share(a: Array, b: Array, c: Array, f_a: Array, f_b: Array, f_c: Array, step: Array) -> Array:
    """How far to go from a to b."""
    xi = (a - b) / (c - b)
    phi = (f_a - f_b) / (f_c - f_b)
    trusted = (phi * phi < xi) & ((1.0 - phi) ** 2 < 1.0 - xi)
    curved = f_a / (f_b - f_a) * f_c / (f_b - f_c)
    curved = curved + (c - a) / (b - a) * f_a / (f_c - f_a) * f_b / (f_c - f_b)
    least_share = np.minimum(0.4 * _FOUND_S / np.maximum(np.abs(b - a) * step, 1e-300), 0.5)
    t = np.where(trusted & np.isfinite(curved), curved, 0.5)
    return np.clip(t, least_share, 1.0 - least_share)
