"""What going out costs a device, and the working of a ride-through against a gap."""

from sinkside.quantity import Quantity
from sinkside.rules.table import BY_ID
from sinkside.rules.verdict import Stakes
from sinkside.site.appliance import Appliance
from sinkside.working import Symbol, Working


def stakes_of(appliance: Appliance) -> Stakes:
    """What it costs this device to go out."""
    grave = appliance.blink == "never" or appliance.starved_loses
    return Stakes.LOSS if grave else Stakes.MISBEHAVES


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
