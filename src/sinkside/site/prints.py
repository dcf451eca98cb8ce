"""What is printed on a device and on its brick, and how far it can be believed."""

from dataclasses import dataclass
from typing import Literal

from sinkside import plates
from sinkside.plates import PlateReading, Rating
from sinkside.quantity import Basis
from sinkside.site.appliance import Evidence, Observed
from sinkside.site.notes import Notes
from sinkside.site.written import DeviceWritten

# From here up a voltage on a plate is mains, or out of scope.
MAINS_FROM_V = 60.0
KINDS: tuple[Literal["dc", "ac"], ...] = ("dc", "ac")
USB_PLUGS = ("usb-c", "micro-usb", "mini-usb", "usb-b")


@dataclass(frozen=True)
class Prints:
    """What is printed on a device and on its brick, as far as it can be believed.

    `low_v` and `high_v` span every low voltage that may be meant for the inlet; `plate_v` is
    None unless they are one rating that is printed without doubt.
    """

    own: PlateReading | None
    own_rating: Rating | None
    brick: PlateReading | None
    brick_rating: Rating | None
    low_v: float | None
    high_v: float | None
    plate_v: float | None
    brick_is_own: bool


def prints(device: DeviceWritten, notes: Notes) -> Prints:
    own = plates.read(device.plate) if device.plate else None
    written = device.brick
    brick = plates.read(written.plate) if written and written.plate else None
    own_ratings, brick_ratings = low_ratings(own), low_ratings(brick)
    ratings = own_ratings or brick_ratings
    doubt = own if own_ratings else brick
    for unclear in doubt.ambiguities if doubt else ():
        notes.conflicts.append(f"its plate is unclear at {unclear.text!r}: {unclear.why}")
    volts = {(r.voltage_low_v, r.voltage_high_v) for r in ratings}
    if len(volts) > 1:
        told = " and ".join(f"{high:g} V" for _, high in sorted(volts))
        notes.conflicts.append(f"its plate names several volts: {told}; which is the inlet's?")
    clear = len(volts) == 1
    low = min((r.voltage_low_v for r in ratings), default=None)
    high = max((r.voltage_high_v for r in ratings), default=None)
    is_own = written is not None and written.original is not False
    if own_ratings and brick_ratings and is_own:
        its = max(r.voltage_high_v for r in brick_ratings)
        if high is not None and low is not None and not 0.9 * low <= its <= 1.1 * high:
            is_own = False
            notes.conflicts.append(
                f"its brick says {its:g} V, the device {high:g} V: taken as not its own, and "
                "nothing is concluded from it"
            )
    return Prints(
        own=own,
        own_rating=own_ratings[0] if len(own_ratings) == 1 else None,
        brick=brick,
        brick_rating=brick_ratings[0] if len(brick_ratings) == 1 else None,
        low_v=low,
        high_v=high,
        plate_v=high if clear else None,
        brick_is_own=is_own,
    )


def low_ratings(reading: PlateReading | None) -> tuple[Rating, ...]:
    """The low-voltage ratings of a plate: those of the input if it has any."""
    if reading is None:
        return ()
    for side in (reading.input, reading.output):
        low = tuple(r for r in side if 0.0 < r.voltage_high_v < MAINS_FROM_V)
        if low:
            return low
    return ()


def kind(device: DeviceWritten, prints: Prints) -> Literal["dc", "ac", "unknown"]:
    """D.c. or a.c., by all prints and a meter on the brick; what disagrees tells nothing."""
    brick = device.brick
    if device.inside.is_ == "5 V logic" or device.inlet.plug in USB_PLUGS:
        return "dc"
    ratings = (*low_ratings(prints.own), *low_ratings(prints.brick))
    said = {r.kind for r in ratings if r.kind != "unknown"}
    if brick and brick.kind and brick.kind.basis is Basis.MEASURED and prints.brick_is_own:
        said |= {kind for kind in KINDS if kind == brick.kind}
    return said.pop() if len(said) == 1 else "unknown"


def evidence(device: DeviceWritten, prints: Prints) -> tuple[Evidence, ...]:
    """Who bears witness to the polarity: each object once.

    The plate of a brick and a meter on it are two only where somebody has said that the brick
    is the original one: swapped bricks are the classic accident.
    """
    found: list[Evidence] = []

    def add(observed: Observed, said: str | None) -> None:
        if said == "positive":
            found.append(Evidence(observed=observed, centre="positive"))
        elif said == "negative":
            found.append(Evidence(observed=observed, centre="negative"))

    stated = device.inlet.centre
    add(Observed.DEVICE_PRINT, prints.own.centre if prints.own else None)
    if stated and stated.basis is Basis.MEASURED:
        add(Observed.INLET_METER, stated)
    elif stated and stated.basis in (Basis.PLATE, Basis.DATASHEET):
        add(Observed.DEVICE_PRINT, stated)
    old = device.brick
    if old is not None and prints.brick_is_own:
        metered = old.centre is not None and old.centre.basis is Basis.MEASURED
        if metered:
            add(Observed.BRICK_METER, old.centre)
        printed = prints.brick.centre if prints.brick else None
        against = metered and printed not in ("unknown", None, old.centre)
        if old.original or not metered or against:
            add(Observed.BRICK_PRINT, printed)
    return tuple(dict.fromkeys(found))
