"""What is lost when a diode is a straight line: forward volts at no current, and a slope."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from .branch import Array, Branch, Mask
from .solvers import closed_form, newton

_RATED_A = 1.0
# what an ordinary 1 A diode may ever be asked to carry here
_MOST_A = 2.0


@dataclass(frozen=True, kw_only=True)
class Loss:
    """Errors of one straight line against the exponential at the pins.

    Parameters
    ----------
    median_mv, worst_mv
        Of |error| of the pins' volts, mV, where both have a root.
    optimistic_mv
        Worst where the line brings *more* volts than the exponential, mV.
    pessimistic_mv
        Worst where it brings fewer, mV.
    lost, invented
        Points whose operating point the line loses, and whose lack of one it hides.
    points
        How many were compared.
    """

    line: str
    median_mv: float
    worst_mv: float
    optimistic_mv: float
    pessimistic_mv: float
    lost: int
    invented: int
    points: int


def losses(branch: Branch) -> list[Loss]:
    """Compare lines on the points that have a diode and load it with at most `_MOST_A`."""
    part, own_a = _loaded(branch.at(np.flatnonzero(np.any(branch.thermal_v > 0.0, axis=0))))
    fit = np.flatnonzero(own_a <= _MOST_A)
    part, own_a = part.at(fit), own_a[fit]
    true_v = newton(part).high_v
    rated = np.full_like(own_a, _RATED_A)
    none = np.zeros_like(own_a)
    lines = {
        "volts at 1 A, no slope": (part.diode_v(rated), none),
        "chord 0.1 to 1 A": _chord(part, 0.1 * rated, rated),
        "chord 10 mA to 1 A": _chord(part, 0.01 * rated, rated),
        "chord ½ to 2 × the true current": _chord(part, 0.5 * own_a, 2.0 * own_a),
        "tangent at 2 × the true current": _tangent(part, 2.0 * own_a),
        "tangent at ½ × the true current": _tangent(part, 0.5 * own_a),
    }
    return [_loss(name, part, true_v, *line) for name, line in lines.items()]


def _loaded(branch: Branch) -> tuple[Branch, Array]:
    """The branch with its currents; without a root, that at half the source's volts."""
    with np.errstate(invalid="ignore"):
        true_a = branch.current_a(newton(branch).high_v)
    stuck_a = 0.5 * branch.source_v / branch.series_ohm
    return branch, np.where(np.isfinite(true_a), true_a, stuck_a)


def idle_error_mv(branch: Branch, idle_a: float) -> float:
    """By how much "volts at 1 A" brings too few volts at a small current; the worst, mV."""
    part = branch.at(np.flatnonzero(np.any(branch.thermal_v > 0.0, axis=0)))
    size = part.source_v.shape
    rise = part.diode_v(np.full(size, _RATED_A)) - part.diode_v(np.full(size, idle_a))
    return float(1e3 * rise.max())


def _chord(branch: Branch, low_a: Array, high_a: Array) -> tuple[Array, Array]:
    low_v, high_v = branch.diode_v(low_a), branch.diode_v(high_a)
    slope = (high_v - low_v) / (high_a - low_a)
    return low_v - slope * low_a, slope


def _tangent(branch: Branch, i_a: Array) -> tuple[Array, Array]:
    slope = branch.diode_ohm(i_a)
    return branch.diode_v(i_a) - slope * i_a, slope


def _loss(name: str, branch: Branch, true_v: Array, forward_v: Array, slope_ohm: Array) -> Loss:
    line = replace(
        branch.straight,
        source_v=branch.source_v - forward_v,
        series_ohm=branch.series_ohm + slope_ohm,
    )
    with np.errstate(invalid="ignore", divide="ignore"):
        v = closed_form(line).high_v
    both: Mask = np.isfinite(v) & np.isfinite(true_v)
    error = 1e3 * (v[both] - true_v[both])
    return Loss(
        line=name,
        median_mv=float(np.median(np.abs(error))),
        worst_mv=float(np.abs(error).max()),
        optimistic_mv=float(max(error.max(), 0.0)),
        pessimistic_mv=float(max(-error.min(), 0.0)),
        lost=int(np.sum(np.isfinite(true_v) & ~np.isfinite(v))),
        invented=int(np.sum(np.isfinite(v) & ~np.isfinite(true_v))),
        points=int(both.size),
    )
