"""Old bricks at inlets in numbers: the symbols of the rules, worst and best, for every pair.

Where the judge of paths has a contract and a chain of parts, an old brick has a line: volts open,
volts at one current, and a falling convex curve between. The rules are those of the rule table,
with these figures in their symbols.
"""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.old_brick import MAINS, REGULATED, OldBrick, Range
from sinkside.physics.loads import KNEE_OF_RATED
from sinkside.physics.rectifier import FULL_WAVE_MEAN, SINE_CREST
from sinkside.physics.unregulated import OPEN_OVER_PLATE, line_v
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance, Law

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
Symbols: TypeAlias = dict[str, Array]

LOW, HIGH = 0, 1
NEVER = 1e9
"""A limit where there is none: more than any figure of a low-voltage device."""
LEAST_V = 1e-3


@dataclass(frozen=True, kw_only=True)
class Inlets:
    """Inlets in numbers, shape (inlets, 2) from least to most, or (inlets,)."""

    harm_v: Array
    run_v: Array
    plate_v: Array
    reference_v: Array
    steady_a: Array
    peak_a: Array
    allow_w: Array
    output_v: Array
    quiescent_a: Array
    cool_v: Array
    takes_ac: Mask
    laws: dict[Law, Mask]

    @classmethod
    def of(cls, appliances: Sequence[Appliance]) -> "Inlets":
        """From what is known of each device."""

        def ends(of: Callable[[Appliance], Quantity | None], without: float = 0.0) -> Array:
            found = (of(a) for a in appliances)
            pairs = [(without, without) if q is None else (q.low, q.high) for q in found]
            return np.array(pairs, dtype=np.float64).reshape(-1, 2)

        laws: tuple[Law, ...] = ("constant current", "constant power", "resistance", "lit diodes")
        steady = ends(lambda a: a.steady_a)
        return cls(
            harm_v=ends(lambda a: a.harmed_above_v),
            run_v=ends(lambda a: a.runs_from_v),
            plate_v=np.array([a.plate_v or np.nan for a in appliances], dtype=np.float64),
            reference_v=np.array([a.reference_v for a in appliances], dtype=np.float64),
            steady_a=steady,
            # A peak is never less than the steady current, whatever is said of it.
            peak_a=np.maximum(ends(lambda a: a.peak_a), steady),
            allow_w=ends(lambda a: a.heat.allowed_w, NEVER),
            output_v=ends(lambda a: a.heat.output_v),
            quiescent_a=ends(lambda a: a.heat.quiescent_a),
            cool_v=ends(lambda a: a.heat.cool_up_to_v, NEVER),
            takes_ac=_flags(a.kind == "ac" for a in appliances),
            laws={law: _flags(law in a.laws for a in appliances) for law in laws},
        )


def _flags(values: Iterable[bool]) -> Mask:
    return np.fromiter(values, dtype=bool)


@dataclass(frozen=True, kw_only=True)
class AtInlets:
    """One brick at every inlet: what it brings and what flows, shape (inlets, 2)."""

    open_v: Array
    steady_v: Array
    peak_v: Array
    steady_a: Array
    peak_a: Array
    rated_a: Range

    def symbols(self, inlets: Inlets) -> dict[str, Symbols]:
        """For each rule its symbols, shape (inlets, 2): everything at its bad end, then unknowns
        at their good one. Nothing of a brick varies by itself but with what is not known of it."""
        return {
            "over-volts": {
                "V_harm": inlets.harm_v,
                "V_feed_high": _high_first(self.open_v),
            },
            "load-side-current": {
                "I_rated": np.broadcast_to(np.array(self.rated_a), self.steady_a.shape),
                "I_steady": _high_first(self.steady_a),
            },
            "regulator-heat": {
                "P_allow": inlets.allow_w,
                "V_feed_high": _high_first(self.steady_v),
                "V_out": inlets.output_v,
                "I_steady": _high_first(self.steady_a),
                "I_q": _high_first(inlets.quiescent_a),
            },
            "lived-heat": {
                "V_cool": inlets.cool_v,
                "V_feed_high": _high_first(self.steady_v),
            },
            "under-volts": {
                "V_feed_low": self.peak_v,
                "I_in": _high_first(self.peak_a),
                "R_feed": np.zeros_like(self.peak_v),  # the line has it already
                "V_run": _high_first(inlets.run_v),
            },
        }


def _high_first(ends: Array) -> Array:
    return ends[:, ::-1]


def at_inlets(brick: OldBrick, inlets: Inlets) -> AtInlets:
    """What one brick brings to every inlet, and what flows.

    Notes
    -----
    Currents are taken at the brick's volts open and at its volts under the device's current at
    its own volts, and then the volts again at those currents: bounds on both sides, no solution.
    A.c. behind a bridge comes to between its mean and its peak in d.c. terms. At an inlet for
    a.c. the two plates are compared: both name the volts at full load (common practice).
    """
    shape = inlets.steady_a.shape
    opened = np.broadcast_to(np.array(brick.open_v, dtype=np.float64), shape)
    low = volts_at(brick, inlets.peak_a)
    steady = currents(inlets, inlets.steady_a, low[:, LOW], opened[:, HIGH])
    peak = currents(inlets, inlets.peak_a, low[:, LOW], opened[:, HIGH])
    found = [opened, volts_at(brick, steady), volts_at(brick, peak)]
    if brick.kind == "ac":
        direct = np.array([FULL_WAVE_MEAN, SINE_CREST])
        plate = _as_plate(brick, inlets)
        found = [np.where(inlets.takes_ac[:, None], plate, volts * direct) for volts in found]
    return AtInlets(
        open_v=found[0],
        steady_v=found[1],
        peak_v=found[2],
        steady_a=steady,
        peak_a=peak,
        rated_a=brick.carries_a,
    )


def _as_plate(brick: OldBrick, inlets: Inlets) -> Array:
    """Volts of an a.c. brick as a plate has them."""
    ends = brick.plate_v or (brick.open_v[0] / OPEN_OVER_PLATE[1], brick.open_v[1])
    return np.broadcast_to(np.array(ends, dtype=np.float64), inlets.harm_v.shape)


def volts_at(brick: OldBrick, amps: Array) -> Array:
    """Volts of a brick at currents from least to most, shape (inlets, 2).

    Notes
    -----
    With volts open and one reading under load the falling convex curve is bounded as in
    `sinkside.physics.unregulated.between_v`, times what the mains may do. With the plate alone it
    gives at least the plate's volts, with the mains low, up to its rated current. Beyond that
    current nothing holds it up.
    """
    least, most = amps[:, LOW], amps[:, HIGH]
    high = np.full(least.shape, brick.open_v[1])
    low = np.zeros_like(least)
    mains = (1.0, 1.0) if brick.regulates else MAINS
    if brick.plate_v is not None:
        share = REGULATED[0] if brick.regulates else mains[0]
        low = np.full(least.shape, share * brick.plate_v[0])
    if brick.loaded_v is not None and brick.loaded_a is not None and brick.loaded_a[0] > 0.0:
        reached = most <= brick.loaded_a[0]
        low = np.where(reached, np.maximum(low, mains[0] * brick.loaded_v[0]), low)
        if brick.read_open_v is not None and not brick.regulates:
            bound = _between(brick.read_open_v, brick.loaded_v, brick.loaded_a, least, most)
            low, high = mains[0] * bound[0], np.minimum(high, mains[1] * bound[1])
    low = np.where(most > brick.carries_a[1], 0.0, low)
    return np.stack([np.minimum(low, high), high], axis=1)


def _between(
    opened: Range, loaded_v: Range, loaded_a: Range, least: Array, most: Array
) -> tuple[Array, Array]:
    """The bounds of `between_v`, for many currents."""
    open_, volts, at = (np.array(ends, dtype=np.float64) for ends in (opened, loaded_v, loaded_a))
    over = line_v(open_[1], volts[1], at[1], least)
    high = np.where(least < loaded_a[1], np.minimum(opened[1], over), loaded_v[1])
    under = np.maximum(0.0, line_v(open_[1], volts[0], at[0], most))
    low = np.where(most > loaded_a[0], np.minimum(loaded_v[0], under), loaded_v[0])
    return low, np.maximum(low, high)


def currents(inlets: Inlets, amps: Array, low_v: Array, high_v: Array) -> Array:
    """What devices draw between two volts, from their currents at their own volts.

    Parameters
    ----------
    amps
        At the reference volts, from least to most, A, shape (inlets, 2).
    low_v, high_v
        Of the brick, V, shape (inlets,).

    Notes
    -----
    Constant current as said; constant power I·V₀/V, down to the least volts that it may run
    from; a resistance I·V/V₀; lit diodes I·(V − V_k)/(V₀ − V_k). Of several laws one is true:
    the least and the most of them.
    """
    reference = inlets.reference_v
    wakes = np.maximum(np.maximum(low_v, inlets.run_v[:, LOW]), LEAST_V)
    knee = KNEE_OF_RATED * reference
    least, most = amps[:, LOW], amps[:, HIGH]
    by_law: dict[Law, tuple[Array, Array]] = {
        "constant current": (least, most),
        "constant power": (
            least * reference / np.maximum(high_v, LEAST_V),
            most * reference / wakes,
        ),
        "resistance": (least * low_v / reference, most * high_v / reference),
        "lit diodes": (
            least * np.maximum(0.0, low_v - knee) / (reference - knee),
            most * np.maximum(0.0, high_v - knee) / (reference - knee),
        ),
    }
    low = np.full(least.shape, NEVER)
    high = np.zeros_like(most)
    for law, (at_least, at_most) in by_law.items():
        low = np.where(inlets.laws[law], np.minimum(low, at_least), low)
        high = np.where(inlets.laws[law], np.maximum(high, at_most), high)
    return np.stack([np.minimum(low, high), high], axis=1)
