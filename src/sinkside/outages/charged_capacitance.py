"""A reservoir beside its feed: charged through a resistor, giving through a diode."""

from dataclasses import dataclass

from sinkside.parts.elements import Capacitance
from sinkside.quantity import Quantity


@dataclass(frozen=True, kw_only=True)
class ChargedCapacitance(Capacitance):
    """A shunt capacitance that does not lie straight across the pair.

    For whoever looks at the steady state it is the capacitance that it is.

    Parameters
    ----------
    charge_ohm
        The resistor that it is charged through.
    forward_v, slope_ohm
        The diode that bridges the resistor when it gives; its slope has the fuse in a row in it.
    bleed_ohm
        Across the capacitance itself.
    """

    charge_ohm: Quantity
    forward_v: Quantity
    slope_ohm: Quantity
    bleed_ohm: Quantity
