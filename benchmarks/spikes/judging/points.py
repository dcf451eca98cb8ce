"""Seeded points (path, state, corner), flat: what a big site would put to the solver."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Literal, TypeAlias, get_args

import numpy as np

from .branch import Array, Branch, Mask

Law: TypeAlias = Literal["current", "power", "conductance", "mixture"]
LAWS: tuple[Law, ...] = get_args(Law)

_CONTRACT_V = np.array([5.0, 9.0, 12.0, 15.0, 20.0])
_SET_V = np.array([3.3, 5.0, 6.0, 7.5, 9.0, 12.0])
# n·V_t at 27 °C and I_s of a silicon and a Schottky junction, of the size of 1 A parts (from
# memory of published SPICE models); drawn within ± half a decade.
_SILICON = (1.8 * 0.02585, 1e-8)
_SCHOTTKY = (1.1 * 0.02585, 2e-6)


@dataclass(frozen=True, kw_only=True)
class Points:
    """Chains as arrays: port, front diode, converter, back diode, load.

    Parameters
    ----------
    port, back
        The branches before and behind the converter; `back` starts at the converter's set
        volts and carries the load. `through` is both in a row, with the converter's pass
        resistance, and the whole front where there is no converter.
    """

    port: Branch
    back: Branch
    through: Branch
    needs_v: Array
    efficiency: Array
    quiescent_a: Array
    converts: Mask
    passes: Mask

    @property
    def size(self) -> int:
        """Number of points."""
        return int(self.needs_v.size)

    def part(self, chosen: slice) -> Points:
        """The points of a slice."""
        at = np.arange(self.size)[chosen]
        return Points(
            port=self.port.at(at),
            back=self.back.at(at),
            through=self.through.at(at),
            needs_v=self.needs_v[at],
            efficiency=self.efficiency[at],
            quiescent_a=self.quiescent_a[at],
            converts=self.converts[at],
            passes=self.passes[at],
        )

    @property
    def without_diodes(self) -> Points:
        """The same with every diode shorted."""
        return replace(
            self,
            port=self.port.straight,
            back=self.back.straight,
            through=self.through.straight,
        )


def generate(size: int, seed: int, *, law: Law | None = None, diodes: bool = True) -> Points:
    """Make points of which a quarter is near its limit and a quarter starved.

    Parameters
    ----------
    size, seed
        How many, and the seed.
    law
        The only law of the load; None draws among all four.
    diodes
        Whether two points in three have an exponential diode before or behind the converter.

    Notes
    -----
    By quarters: power at 95 to 99.9 % of what the branch that feeds the load can give (one in
    five 0.1 to 20 % above it: no root); a converter that needs more than the port brings, half
    of them passing through; a converter that holds; no converter. The limit of a constant
    current is the one that pulls the source to 0 V; a conductance has none and stays as drawn.
    """
    draw = np.random.default_rng(seed)
    quarter = np.arange(size) % 4
    port_v = draw.choice(_CONTRACT_V, size) * draw.uniform(0.95, 1.05, size)
    front_ohm = 10.0 ** draw.uniform(-1.5, 0.3, size)
    back_ohm = 10.0 ** draw.uniform(-2.0, -0.3, size)
    set_v = np.minimum(draw.choice(_SET_V, size), 0.8 * port_v)
    thermal_v, saturation_a = _diodes(draw, size, diodes)
    converts = (quarter == 1) | (quarter == 2) | ((quarter == 0) & (draw.random(size) < 0.5))
    feed_v = np.where(converts, set_v, port_v)
    power, current, conductance = _load(draw, size, feed_v, law)
    blank = np.zeros(size)
    back = Branch(
        source_v=feed_v,
        series_ohm=back_ohm,
        thermal_v=thermal_v[1:],
        saturation_a=saturation_a[1:],
        constant_a=current,
        power_w=power,
        conductance_s=conductance,
    )
    through = replace(
        back,
        source_v=port_v,
        series_ohm=front_ohm + back_ohm + np.where(converts, 0.08, 0.0),
        thermal_v=thermal_v,
        saturation_a=saturation_a,
    )
    # the limit that counts is that of the branch which feeds the load
    feeding = replace(
        through,
        source_v=feed_v,
        series_ohm=np.where(converts, back_ohm, through.series_ohm),
        thermal_v=np.where(converts, thermal_v * [[0.0], [1.0]], thermal_v),
    )
    near = quarter == 0
    scale = np.where(near, _scale_to_limit(draw, feeding), 1.0)
    back, through = (_scaled(branch, scale) for branch in (back, through))
    needs = np.where(quarter == 1, port_v * draw.uniform(1.01, 1.4, size), set_v + 0.3)
    return Points(
        port=Branch(
            source_v=port_v,
            series_ohm=front_ohm,
            thermal_v=thermal_v[:1],
            saturation_a=saturation_a[:1],
            constant_a=blank,
            power_w=blank,
            conductance_s=blank,
        ),
        back=back,
        through=through,
        needs_v=needs,
        efficiency=draw.uniform(0.78, 0.96, size),
        quiescent_a=draw.uniform(0.0005, 0.01, size),
        converts=converts,
        passes=draw.random(size) < 0.5,
    )


def _diodes(draw: np.random.Generator, size: int, present: bool) -> tuple[Array, Array]:
    """n·V_t and I_s of a front and a back diode; one in three has none, none has both."""
    where = draw.integers(0, 3, size)
    silicon = draw.random(size) < 0.5
    n_vt = np.where(silicon, _SILICON[0], _SCHOTTKY[0]) * draw.uniform(0.95, 1.1, size)
    i_s = np.where(silicon, _SILICON[1], _SCHOTTKY[1]) * 10.0 ** draw.uniform(-0.5, 0.5, size)
    if not present:
        where = np.zeros(size, dtype=np.int64)
    at = np.stack([where == 1, where == 2])
    return np.where(at, n_vt, 0.0), np.where(at, i_s, 1.0)


def _load(
    draw: np.random.Generator, size: int, feed_v: Array, law: Law | None
) -> tuple[Array, Array, Array]:
    """Power, current and conductance of about 0.2 to 8 W at the feeding volts."""
    watts = 10.0 ** draw.uniform(-0.7, 0.9, size)
    shares = draw.dirichlet((1.0, 1.0, 1.0), size).T
    chosen = draw.integers(0, 4, size) if law is None else np.full(size, LAWS.index(law))
    for number in range(3):
        only = np.zeros((3, 1))
        only[number] = 1.0
        shares = np.where(chosen == number, only, shares)
    current, power, conductance = shares
    return power * watts, current * watts / feed_v, conductance * watts / feed_v**2


def _scale_to_limit(draw: np.random.Generator, branch: Branch) -> Array:
    """By how much to multiply the load so that it stands at its share of the limit.

    Notes
    -----
    The most that a branch can give is found on the source's own curve: with V(I) = V₀ − R·I −
    diodes, the load k·(I₀ + P/V + G·V) meets it at I where k = I/(I₀ + P/V + G·V); the largest
    k over I is the limit. Sampled, then narrowed by golden section.
    """
    share = np.where(
        draw.random(branch.source_v.size) < 0.2,
        draw.uniform(1.001, 1.2, branch.source_v.size),
        draw.uniform(0.95, 0.999, branch.source_v.size),
    )
    most_a = branch.source_v / branch.series_ohm

    def scale(i_a: Array) -> Array:
        v = branch.source_v - branch.series_ohm * i_a - branch.diode_v(i_a)
        safe = np.where(v > 0.0, v, 1.0)
        return np.where(v > 0.0, i_a / branch.current_a(safe), 0.0)

    low, high = np.full_like(most_a, 1e-6), most_a
    golden = 0.5 * (np.sqrt(5.0) - 1.0)
    for _ in range(60):
        one, other = high - golden * (high - low), low + golden * (high - low)
        # beyond 0 V every value is 0, which must not draw the search to the right
        better = scale(one) >= scale(other)
        high, low = np.where(better, other, high), np.where(better, low, one)
    unlimited = (branch.power_w == 0.0) & (branch.constant_a == 0.0)
    return np.where(unlimited, 1.0, scale(0.5 * (low + high)) * share)


def _scaled(branch: Branch, by: Array) -> Branch:
    return replace(
        branch,
        constant_a=branch.constant_a * by,
        power_w=branch.power_w * by,
        conductance_s=branch.conductance_s * by,
    )
