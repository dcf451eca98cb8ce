"""What is not to be converted at all, why, and whom to ask."""

from sinkside.plates import Rating
from sinkside.site.appliance import InletKind, Refusal
from sinkside.site.mains_side import BUILT_IN, QUALIFIED, MainsSide, built_in_refusals
from sinkside.site.prints import MAINS_FROM_V, Prints, charges_cells
from sinkside.site.written import DeviceWritten

SPECIALIST = "whoever services it under its own rules"

_USES = {
    "medical": "a medical device is part of a tested whole with its supply",
    "alarm": "an alarm or life-safety device must not depend on a shared charger",
    "vehicle": "a vehicle's supply has surges that are out of scope here",
    "aircraft": "aircraft equipment is changed under its own rules only",
    "outdoor": "outdoor use asks for wet-location supplies",
    "fixed": "fixed wiring is under local codes",
    "machinery": "machinery that restarts by itself after a blink can hurt someone",
}


# No fixed offer of a charger is higher.
HIGHEST_OFFER_V = 48.0


def refusals(
    device: DeviceWritten, kind: InletKind, prints: Prints, *, mains_side: MainsSide = "never"
) -> tuple[Refusal, ...]:
    """Every reason to leave a device on its brick, whatever the calculation says."""
    found = []
    if device.use in _USES:
        found.append(Refusal(why=_USES[device.use], ask=SPECIALIST))
    if kind == "ac":
        found.append(
            Refusal(
                why="its inlet is fed with a.c.; what follows may need it (split rails, a "
                "doubler, a mains-frequency clock)",
                ask="someone who can confirm one full bridge without a tap behind the inlet",
            )
        )
    if device.inlet.conductors > 2:
        found.append(
            Refusal(
                why=f"its inlet has {device.inlet.conductors} conductors: an identity pin, data "
                "or a second rail",
                ask="someone with its service manual",
            )
        )
    inside = device.inside.is_
    if inside == "battery charger" or charges_cells(prints.brick):
        found.append(
            Refusal(
                why="its brick is the charger of its cells: the brick sets current and end of "
                "charge",
                ask="keep the original charger",
            )
        )
    if inside == "dry cells":
        found.append(
            Refusal(
                why="its jack leaves dry cells connected: they would be charged",
                ask="someone who can confirm that the jack disconnects the cells",
            )
        )
    sides = (*prints.own.input, *prints.own.output) if prints.own else ()
    unlabelled = prints.own is not None and not prints.own.input
    taken = tuple(r for r in sides if unlabelled or r in prints.own.input) if prints.own else ()
    if inside == BUILT_IN:
        found += built_in_refusals(device, mains_side)
    elif any(_is_mains(r) for r in taken):
        found += built_in_refusals(device, "never")
    if any(r.voltage_high_v > HIGHEST_OFFER_V and not _is_mains(r) for r in taken):
        found.append(Refusal(why="over what a charger offers, near 60 V d.c.", ask=QUALIFIED))
    return tuple(found)


def _is_mains(rating: Rating) -> bool:
    return rating.voltage_high_v > MAINS_FROM_V and rating.kind != "dc"
