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
    front_drop_v, back_drop_v
        What diodes on the way take, beside their slope.
    set_low_v, set_high_v
        Output of the converter.
    needs_v
        Least volts before the converter at which it holds its output.
    efficiency, quiescent_a, pass_ohm
        Of the converter.
    converts, passes, lifts
        Whether there is a converter, whether it passes its input through when starved, and
        whether it does so when its input is above what it is set to.
    """

    port_v: Array
    front_ohm: Array
    back_ohm: Array
    front_drop_v: Array
    back_drop_v: Array
    set_low_v: Array
    set_high_v: Array
    needs_v: Array
    efficiency: Array
    quiescent_a: Array
    pass_ohm: Array
    converts: Mask
    passes: Mask
    lifts: Mask


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
    passing_a
        Out of the port, were the converter just about to hold: what the device takes, and its own.
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
    passing_a: Array
    regulated: Mask
    dead: Mask


def steady(chains: Chains, load: Load) -> Steady:
    """Solve chains with a load at their pins.

    Notes
    -----
    Behind a converter that holds its output, the load meets a source of the set volts. Before
    it the port sees the constant power set volts × current ÷ efficiency, and the converter's
    own current. A diode is a straight line: its forward volts off the source, its slope among
    the ohms. A starved step-down is a resistance, and so is a step-up whose input is above
    what it is set to; any other starved converter gives nothing. A converter that passes its
    input through draws its own current all the same, from behind what stands before it.

    Where no operating point exists the currents are NaN, which no margin passes.
    """
    zero = np.zeros_like(chains.port_v)
    through_ohm = chains.front_ohm + np.where(
        chains.converts, chains.pass_ohm + chains.back_ohm, 0.0
    )
    fed_v = chains.port_v - chains.front_drop_v
    own_v = np.where(chains.converts, chains.front_ohm * chains.quiescent_a, 0.0)
    through_v = fed_v - own_v - chains.back_drop_v
    held_v = chains.set_low_v - chains.back_drop_v
    through = operating_point(through_v, through_ohm, load)
    behind = operating_point(held_v, chains.back_ohm, load)
    before = operating_point(
        fed_v,
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
    with np.errstate(invalid="ignore"):
        passed_v = through.v + chains.back_ohm * through.i_a + chains.back_drop_v
        lifted = regulated & chains.lifts & (passed_v > chains.set_low_v)
        dead = starved & ~chains.passes
        # Starved, a step-down gives no more than it gets, and no more than it is set to.
        holds = ~lifted & (regulated | (starved & ~dead & (through.v > behind.v)))
    passed_a = through.i_a + np.where(chains.converts, chains.quiescent_a, 0.0)
    # Within its tolerance nobody knows whether a step-up works or passes.
    with np.errstate(invalid="ignore"):
        either = lifted & (passed_v <= chains.set_high_v)
    return Steady(
        feed_v=np.where(holds, held_v, np.where(dead, 0.0, through_v)),
        feed_ohm=np.where(holds, chains.back_ohm, through_ohm),
        in_a=np.where(holds, behind.i_a, np.where(dead, 0.0, through.i_a)),
        port_a=np.where(
            holds,
            before.i_a,
            np.where(dead, 0.0, np.where(either, np.fmax(before.i_a, passed_a), passed_a)),
        ),
        held_a=behind.i_a,
        held_port_a=before.i_a,
        passing_a=behind.i_a + np.where(chains.converts, chains.quiescent_a, 0.0),
        regulated=regulated,
        dead=dead,
    )
