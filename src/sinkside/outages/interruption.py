"""Who goes out, and for how long, when something else is plugged into the same charger.

By the measured off time where there is one, else by the sequence of a hard reset; a charger
that restarts all its ports in firmware has no bound in any standard.
"""

from dataclasses import dataclass

from sinkside.outages.schedules import hard_reset
from sinkside.parts.charger import Charger
from sinkside.quantity import Basis, Quantity, unknown
from sinkside.standards.pd_timers import FIRMWARE_RESTART_S

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
                charger=charger.id, event=event, gap_s=dropped_s(charger), words=_dropping(charger)
            )
        case _:
            gap = unknown(0.0, LONGEST_RESTART_S, "s", name=f"{charger.id}/off time")
            return Interruption(
                charger=charger.id,
                event=event,
                gap_s=gap,
                words="nobody has seen what it does: many drop all ports",
            )


def _dropping(charger: Charger) -> str:
    if charger.off_time_s is not None:
        return "it drops all ports"
    low, high = hard_reset(charger.id).contract_absent_s()
    return (
        f"it drops all ports, and nobody has timed it: {low:.1f} to {high:.1f} s by a Hard Reset, "
        f"{FIRMWARE_RESTART_S:g} s and more where it starts its firmware anew"
    )


def dropped_s(charger: Charger) -> Quantity:
    """How long the contracts of the other ports are gone if a charger drops them.

    As measured; else a Hard Reset, or anything longer.
    """
    if charger.off_time_s is not None:
        return charger.off_time_s
    least, _ = hard_reset(charger.id).contract_absent_s()
    return unknown(least, LONGEST_RESTART_S, "s", Basis.ASSUMED, name=f"{charger.id}/off time")
