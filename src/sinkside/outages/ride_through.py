"""What going out costs a device, and the working of a ride-through against a gap."""

import numpy as np

from sinkside.quantity import Quantity
from sinkside.rules.table import BY_ID
from sinkside.rules.verdict import Stakes, Verdict, decide
from sinkside.site.appliance import Appliance
from sinkside.working import Symbol, Working


def stakes_of(appliance: Appliance) -> Stakes:
    """What it costs this device to go out."""
    grave = appliance.blink == "never" or appliance.starved_loses
    return Stakes.LOSS if grave else Stakes.MISBEHAVES


def rides(ride: Quantity, gap: Quantity) -> Verdict:
    """Whether a device rides through a gap, for every gap and every ride-through.

    Parameters
    ----------
    ride, gap
        What it rides through, and how long its supply is gone, s.
    """
    worst = ride.low - gap.high
    best = (ride.low if ride.known else ride.high) - (gap.high if gap.known else gap.low)
    return Verdict(int(decide(np.array(worst), np.array(best))))


def working(ride: Quantity, gap: Symbol, margin: float) -> Working:
    """The working of the rule `blink`.

    Parameters
    ----------
    ride
        What the device rides through, s; taken at its least.
    gap
        The symbol `T_gap`, as far as it is known.
    margin
        In s.
    """
    rule = BY_ID["blink"]
    rides = Symbol(
        symbol="T_ride",
        meaning="how long the device rides through a gap",
        value=ride.low,
        low=ride.low,
        high=ride.high,
        unit="s",
        basis=ride.basis.value,
    )
    return Working(
        formula=rule.formula, symbols=(rides, gap), result=margin, unit="s", source=rule.source
    )
