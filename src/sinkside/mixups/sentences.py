"""What to do, and what stays, in sentences."""

from sinkside.mixups.labels import name_of
from sinkside.mixups.separate import Separation
from sinkside.rules.verdict import Verdict

PLUGS_CARE = "A label does not hold a plug back: whoever is in a hurry plugs what goes in."


def doing(separation: Separation) -> tuple[str, ...]:
    """What to do to keep plugs apart: one sentence a change of plugs, one for all that is tied.

    Every change of a plug is one of both sides, the lead and the device: half of it is worse than
    none.
    """
    found = [
        f"{device}: {'; '.join(choice.words)} (both, or neither)"
        for device, choice in separation.chosen
    ]
    own = [d for d, source in separation.tied if source == "lead"]
    away = [d for d, source in separation.tied if (d, source) in separation.stored]
    kept = [
        d
        for d, source in separation.tied
        if source == "brick" and (d, source) not in separation.stored
    ]
    if own:
        found.append(f"tie to its device, so that it cannot be plugged elsewhere, {_leads(own)}")
    if away:
        found.append(f"put away in a bag that is shut and labelled {_bricks(away)}")
    if kept:
        found.append(f"tie to its device the lead of {_bricks(kept)}")
    return tuple(found)


def _leads(devices: list[str]) -> str:
    return f"{'the lead' if len(devices) == 1 else 'each the lead'} of {', '.join(devices)}"


def _bricks(devices: list[str]) -> str:
    return f"{'the old brick' if len(devices) == 1 else 'each old brick'} of {', '.join(devices)}"


def staying(separation: Separation) -> tuple[str, ...]:
    """The pairs that stay harmful, one sentence each."""
    return tuple(
        f"the {name_of(pair.lead, pair.source)} still goes into {pair.inlet}, and "
        f"{'harms' if pair.verdict is Verdict.FAILS else 'may harm'} it"
        for pair in separation.left
    )
