"""Whether a device rides through what happens to its port: a finding, with its working.

The interruption fails the device if its worst case is longer than what the device rides
through, whatever nobody knows; a ride-through that nobody has timed leaves it unproven, and
a timed cut settles it. What the path's own reservoirs bridge is in the figures: where the pins
never fall under what the device runs from, nothing has to be ridden through.
"""

import math
from collections.abc import Sequence

import numpy as np

from sinkside.outages import build
from sinkside.outages.cases import Case
from sinkside.outages.effort import USUAL, Effort
from sinkside.outages.follows import CASES, Answer, Follows, follow
from sinkside.outages.ride_through import stakes_of, working
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Verdict, decide, fold
from sinkside.working import Symbol


def finding(case: Case, follows: Follows | None, event: str) -> Finding | None:
    """The finding on one device when something happens to its port.

    Parameters
    ----------
    follows
        What follows; None where nothing happens to its port.
    event
        In a sentence, for people.

    Returns
    -------
    Finding or None
        None where it may go out, did not run before, or is what was pulled out.
    """
    appliance = case.appliance
    if appliance.blink == "any" or case.happening.meant:
        return None
    if follows is None:
        return Finding(
            rule="blink",
            stakes=stakes_of(appliance),
            verdict=Verdict.FITS,
            margin=None,
            state=event,
            words=case.happening.words,
        )
    ran = [a for a in follows.answers if not math.isnan(a.worst_s)]
    if not ran:
        return None
    ride = appliance.ride_through_s
    worst = np.array([ride.low - a.worst_s for a in ran])
    least = [0.0 if case.happening.perhaps else a.least_s for a in ran]
    best = (ride.low if ride.known else ride.high) - np.array(least)
    verdict = fold(decide(worst, best))
    deciding = ran[int(np.argmin(worst))]
    margin = float(worst.min())
    return Finding(
        rule="blink",
        stakes=stakes_of(appliance),
        verdict=verdict,
        margin=margin if math.isfinite(margin) else None,
        state=event,
        unknowns=_unknowns(case) if verdict is Verdict.UNPROVEN else (),
        plausibility=follows.rides if verdict is Verdict.UNPROVEN else None,
        words=_words(case, follows),
        working=working(ride, _gap(deciding), margin) if math.isfinite(margin) else None,
    )


def findings(
    cases: Sequence[Case], event: str, *, effort: Effort = USUAL, plausible: int = CASES
) -> tuple[Finding | None, ...]:
    """The findings of many cases of one event, followed together.

    Parameters
    ----------
    plausible
        How many plausible cases to follow; 0 gives the verdict alone.
    """
    wanted = [case for case in cases if case.appliance.blink != "any"]
    followed = dict(
        zip(map(id, wanted), follow(wanted, effort=effort, plausible=plausible), strict=True)
    )
    return tuple(finding(case, followed.get(id(case)), event) for case in cases)


def _words(case: Case, follows: Follows) -> str:
    worst = follows.worst_ending.value
    return f"{case.happening.words}: at worst it {worst}"


def _unknowns(case: Case) -> tuple[str, ...]:
    """What nobody knows: what it rides through first, for that is five minutes with a plug."""
    schedule = case.happening.schedule
    delays = [m.delay_s for m in schedule.moments] if schedule else []
    ride = case.appliance.ride_through_s
    found = [ride, *delays, *build.quantities(case.front.parts, case.appliance)]
    return tuple(dict.fromkeys(q.name for q in found if not q.known and q.name))


def _gap(deciding: Answer) -> Symbol:
    return Symbol(
        symbol="T_gap",
        meaning="how long its feed is gone, by the transient of its path",
        value=deciding.worst_s,
        low=min(deciding.least_s, deciding.worst_s),
        high=deciding.worst_s,
        unit="s",
        basis="calculated",
    )
