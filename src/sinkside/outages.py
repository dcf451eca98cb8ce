"""Who goes out, and for how long, when something else is plugged into the same charger.

By the measured off time where there is one, else by the sequence of a hard reset; a charger
that restarts all its ports in firmware has no bound in any standard.
"""

from dataclasses import dataclass

import numpy as np

from sinkside.parts.charger import Charger
from sinkside.quantity import Basis, Quantity, unknown
from sinkside.rules.finding import Finding
from sinkside.rules.table import BY_ID
from sinkside.rules.verdict import Stakes, Verdict, decide
from sinkside.site.appliance import Appliance
from sinkside.standards.pd_timers import hard_reset_gap
from sinkside.working import Symbol, Working

# What a restart of all ports in firmware may take where nobody timed it (from memory).
LONGEST_RESTART_S = 30.0


@dataclass(frozen=True, kw_only=True)
class Interruption:
    """What a change on one port of a charger does to its other ports.

    Parameters
    ----------
    gap_s
        How long their contract is gone; None if it is not.
    """

    charger: str
    event: str
    gap_s: Quantity | None
    words: str


def interruption(charger: Charger) -> Interruption:
    """What the other ports of a charger see when something is plugged into one."""
    event = f"something is plugged into or pulled from {charger.id}"
    if len(charger.ports) == 1:
        return Interruption(charger=charger.id, event=event, gap_s=None, words="it has one port")
    match charger.on_change:
        case "nothing":
            return Interruption(
                charger=charger.id, event=event, gap_s=None, words="its ports keep going"
            )
        case "steps":
            return Interruption(
                charger=charger.id,
                event=event,
                gap_s=None,
                words="its ports step to another offer without a gap",
            )
        case "drops all":
            return Interruption(
                charger=charger.id, event=event, gap_s=_gap(charger), words="it drops all ports"
            )
        case _:
            gap = unknown(0.0, LONGEST_RESTART_S, "s", name=f"{charger.id}/off time")
            return Interruption(
                charger=charger.id,
                event=event,
                gap_s=gap,
                words="nobody has seen what it does: many drop all ports",
            )


def _gap(charger: Charger) -> Quantity:
    if charger.off_time_s is not None:
        return charger.off_time_s
    least = hard_reset_gap().contract_absent_low_s
    return unknown(least, LONGEST_RESTART_S, "s", Basis.ASSUMED, name=f"{charger.id}/off time")


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
    grave = appliance.blink == "never" or appliance.starved_loses
    stakes = Stakes.LOSS if grave else Stakes.MISBEHAVES
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
        working=_working(ride, gap, worst),
    )


def _working(ride: Quantity, gap: Quantity, margin: float) -> Working:
    rule = BY_ID["blink"]
    return Working(
        formula=rule.formula,
        symbols=(
            Symbol(
                symbol="T_ride",
                meaning="how long the device rides through a gap",
                value=ride.low,
                low=ride.low,
                high=ride.high,
                unit="s",
                basis=ride.basis.value,
            ),
            Symbol(
                symbol="T_gap",
                meaning="how long the contract is gone",
                value=gap.high,
                low=gap.low,
                high=gap.high,
                unit="s",
                basis=gap.basis.value,
            ),
        ),
        result=margin,
        unit="s",
        source=rule.source,
    )
