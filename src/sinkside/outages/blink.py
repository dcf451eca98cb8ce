"""The finding on one device when the port that feeds it is interrupted."""

from sinkside.outages.interruption import Interruption
from sinkside.outages.ride_through import rides, stakes_of, working
from sinkside.quantity import Quantity
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Verdict
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
    verdict, margin = rides(ride, gap), ride.low - gap.high
    unknowns = tuple(q.name for q in (ride, gap) if not q.known)
    return Finding(
        rule="blink",
        stakes=stakes,
        verdict=verdict,
        margin=margin,
        state=state,
        unknowns=unknowns if verdict is Verdict.UNPROVEN else (),
        words=found.words,
        working=working(ride, _gap(gap), margin),
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
