"""What to do, and what stays, in sentences."""

from sinkside.mixups.labels import name_of
from sinkside.mixups.separate import Separation
from sinkside.rules.verdict import Verdict


def doing(separation: Separation) -> tuple[str, ...]:
    """What to do to keep plugs apart, one sentence a device or a lead.

    Every change of a plug is one of both sides, the lead and the device: half of it is worse than
    none.
    """
    found = [
        f"{device}: {'; '.join(choice.words)} (both, or neither)"
        for device, choice in separation.chosen
    ]
    for device, source in separation.tied:
        name = name_of(device, source)
        if source == "lead":
            found.append(f"tie the {name} to {device}, so that it cannot be plugged elsewhere")
        elif (device, source) in separation.stored:
            found.append(f"put the {name} away in a bag that is shut and labelled")
        else:
            found.append(f"tie the lead of the {name} to {device}")
    return tuple(found)


def staying(separation: Separation) -> tuple[str, ...]:
    """The pairs that stay harmful, one sentence each."""
    return tuple(
        f"the {name_of(pair.lead, pair.source)} still goes into {pair.inlet}, and "
        f"{'harms' if pair.verdict is Verdict.FAILS else 'may harm'} it"
        for pair in separation.left
    )
