"""The steady state of fronts and backs: demand is swept back and volts forward.

A front without a converter is one source behind one resistance. A converter cuts it in
two: the side behind it is a source of its own, whose power the side before it must bring.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.physics.operating_point import Load, operating_point

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]


@dataclass(frozen=True, kw_only=True)
class Chains:
    """Fronts as arrays, shape (rows, columns); every value at its bad end.

    Parameters
    ----------
    port_v
        Lowest volts of the port.
    front_ohm, back_ohm
        Before and behind the converter; all of it in front where there is none.
    set_low_v, set_high_v
        Output of the converter.
    needs_v
        Least volts before the converter at which it holds its output.
    efficiency, quiescent_a, pass_ohm
        Of the converter.
    converts, passes
        Whether there is a converter, and whether it passes its input through when starved.
    """

    port_v: Array
    front_ohm: Array
    back_ohm: Array
    set_low_v: Array
    set_high_v: Array
    needs_v: Array
    efficiency: Array
    quiescent_a: Array
    pass_ohm: Array
    converts: Mask
    passes: Mask


@dataclass(frozen=True, kw_only=True)
class Steady:
    """A steady state.

    Parameters
    ----------
    feed_v, feed_ohm
        The last source before the pins, and what stands between.
    in_a
        Current into the device.
    port_a
        Current out of the port.
    held_a, held_port_a
        The same two currents, were the converter's output held.
    regulated
        Whether the converter holds its output.
    dead
        Whether it gives nothing at all.
    """

    feed_v: Array
    feed_ohm: Array
    in_a: Array
    port_a: Array
    held_a: Array
    held_port_a: Array
    regulated: Mask
    dead: Mask


def steady(chains: Chains, load: Load) -> Steady:
    """Solve chains with a load at their pins.

    Notes
    -----
    Behind a converter that holds its output, the load meets a source of the set volts. Before
    it the port sees the constant power set volts × current ÷ efficiency, and the converter's
    own current. A starved step-down is a resistance; any other starved converter gives nothing.

    Where no operating point exists the currents are NaN, which no margin passes.
    """
    zero = np.zeros_like(chains.port_v)
    through_ohm = chains.front_ohm + np.where(
        chains.converts, chains.pass_ohm + chains.back_ohm, 0.0
    )
    through = operating_point(chains.port_v, through_ohm, load)
    behind = operating_point(chains.set_low_v, chains.back_ohm, load)
    before = operating_point(
        chains.port_v,
        chains.front_ohm,
        Load(
            constant_a=chains.quiescent_a,
            power_w=chains.set_high_v * behind.i_a / chains.efficiency,
            conductance_s=zero,
        ),
    )
    with np.errstate(invalid="ignore"):
        regulated = chains.converts & (before.v >= chains.needs_v - 1e-12)
    starved = chains.converts & ~regulated
    dead = starved & ~chains.passes
    with np.errstate(invalid="ignore"):
        # Starved, a step-down gives no more than it gets, and no more than it is set to.
        holds = regulated | (starved & ~dead & (through.v > behind.v))
    return Steady(
        feed_v=np.where(holds, chains.set_low_v, np.where(dead, 0.0, chains.port_v)),
        feed_ohm=np.where(holds, chains.back_ohm, through_ohm),
        in_a=np.where(holds, behind.i_a, np.where(dead, 0.0, through.i_a)),
        port_a=np.where(holds, before.i_a, np.where(dead, 0.0, through.i_a)),
        held_a=behind.i_a,
        held_port_a=before.i_a,
        regulated=regulated,
        dead=dead,
    )
