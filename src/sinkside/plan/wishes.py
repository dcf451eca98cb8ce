"""Other wishes, put to a finished plan: what stands in their way, and what it costs to have them.

Those who have a seat in the plan keep one; they may be moved.
"""

from dataclasses import replace

from sinkside import outages
from sinkside.plan.model import Action, DevicePlan, Plan
from sinkside.rules.verdict import Verdict
from sinkside.sharing import NeverBlinks, OffItsBrick, WhyNot, Wish, why_not


def put(plan: Plan, wish: Wish) -> WhyNot:
    """Put a wish to a plan.

    Raises
    ------
    ValueError
        It is a wish for a device that the plan does not know.
    """
    device = getattr(wish, "device", None)
    if device is not None and all(d.id != device for d in plan.devices):
        raise ValueError(f"a wish for {device!r}, which is no device of the plan")
    seats = frozenset(d.id for d in plan.devices if d.chosen)
    return why_not(plan.question, seats, wish, currency=plan.site.currency)


def left_out(plan: Plan, device: DevicePlan) -> WhyNot | None:
    """Why a device that could be moved has no seat; None for those that have one or cannot be."""
    if device.action is not Action.LEAVE or not _could_move(plan, device.id):
        return None
    return put(plan, OffItsBrick(device=device.id))


def _could_move(plan: Plan, device: str) -> bool:
    return any(option.device == device for option in plan.question.options)


def never_blinks(plan: Plan, device: str) -> NeverBlinks:
    """The wish that a device is never put out by a neighbour, whatever it minds today."""
    strict = replace(plan.device(device).appliance, blink="never")
    kinds = set()
    for charger in plan.site.chargers:
        found = outages.blink(strict, outages.interruption(charger))
        if found is not None and found.verdict is not Verdict.FITS:
            kinds.add(charger.id)
    return NeverBlinks(device=device, kinds=frozenset(kinds))
