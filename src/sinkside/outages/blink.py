"""The finding on one device when the port that feeds it is interrupted."""

import numpy as np

from sinkside.outages.interruption import Interruption
from sinkside.outages.ride_through import stakes_of, working
from sinkside.quantity import Quantity
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Verdict, decide
from sinkside.site.appliance import Appliance
from sinkside.working import Symbol


def blink(appliance: Appliance, found: Interruption) -> Finding | None:
    """The finding on one device behind one charger; None where it does not matter.

    Parameters
    ----------
    appliance
        The device, with what it rides through.
    found
        What happens on its charger.
    """
    if appliance.blink == "any":
        return None
    stakes = stakes_of(appliance)
    state = found.event
    if found.gap_s is None:
        return Finding(
            rule="blink",
            stakes=stakes,
            verdict=Verdict.FITS,
            margin=None,
            state=state,
            words=found.words,
        )
    ride, gap = appliance.ride_through_s, found.gap_s
    worst = ride.low - gap.high
    best = (ride.low if ride.known else ride.high) - (gap.high if gap.known else gap.low)
    verdict = Verdict(int(decide(np.array(worst), np.array(best))))
    unknowns = tuple(q.name for q in (ride, gap) if not q.known)
    return Finding(
        rule="blink",
        stakes=stakes,
        verdict=verdict,
        margin=worst,
        state=state,
        unknowns=unknowns if verdict is Verdict.UNPROVEN else (),
        words=found.words,
        working=working(ride, _gap(gap), worst),
    )


def _gap(gap: Quantity) -> Symbol:
    return Symbol(
        symbol="T_gap",
        meaning="how long the contract is gone",
        value=gap.high,
        low=gap.low,
        high=gap.high,
        unit="s",
        basis=gap.basis.value,
    )
