"""What is printed on a device and on its brick, and how far it can be believed.

A brick that is not the device's own tells nothing of the device: neither volts nor current,
neither kind nor polarity.
"""

from dataclasses import dataclass
from typing import Literal

from sinkside import plates
from sinkside.plates import PlateReading, Rating
from sinkside.quantity import Basis
from sinkside.site.appliance import Evidence, Observed
from sinkside.site.notes import Notes
from sinkside.site.written import BrickWritten, DeviceWritten

# From here up a voltage on a plate is mains, or out of scope.
MAINS_FROM_V = 60.0
KINDS: tuple[Literal["dc", "ac"], ...] = ("dc", "ac")
USB_PLUGS = ("usb-c", "micro-usb", "mini-usb", "usb-b")
# Words on a brick that charges cells; in capitals, as they are printed.
CHARGER_WORDS = ("CHARGER", "LI-ION", "LIION", "NI-MH", "NIMH", "NI-CD", "NICD", "LEAD-ACID")


@dataclass(frozen=True, kw_only=True)
class Prints:
    """What is printed on a device and on its own brick.

    Parameters
    ----------
    own, brick
        The readings of the two plates; `brick` is None for a brick that is not its own.
    own_rating, brick_rating
        The one low-voltage rating of each, where there is just one.
    low_v, high_v
        Spanning every low voltage that may be meant for the inlet.
    plate_v
        The volts of the inlet, where the plate names one.
    promised
        Whether the device itself says that it takes all from `low_v` to `high_v`.
    its_brick
        What the person says of the brick, if it is its own.
    rms_v
        The a.c. volts that a confirmed bridge turns into d.c., low and high; None of d.c. The
        other volts are then what they amount to in d.c.
    """

    own: PlateReading | None
    own_rating: Rating | None
    brick: PlateReading | None
    brick_rating: Rating | None
    low_v: float | None
    high_v: float | None
    plate_v: float | None
    promised: bool
    its_brick: BrickWritten | None
    rms_v: tuple[float, float] | None = None


def prints(device: DeviceWritten, notes: Notes) -> Prints:
    """Read both plates, and drop the brick where it cannot be the device's own."""
    own = plates.read(device.plate) if device.plate else None
    own_ratings = inlet_ratings(own)
    its_brick, brick = _its_brick(device, own_ratings, notes)
    brick_ratings = low_ratings(brick.output if brick else ())
    ratings, doubt = (own_ratings, own) if own_ratings else (brick_ratings, brick)
    for unclear in doubt.ambiguities if doubt else ():
        notes.conflicts.append(f"its plate is unclear at {unclear.text!r}: {unclear.why}")
    if own_ratings and _has_negative(own):
        notes.conflicts.append("its plate names a negative rail: one plug cannot be all of it")
    volts = sorted({(r.voltage_low_v, r.voltage_high_v) for r in ratings})
    if len(volts) > 1:
        told = " and ".join(f"{high:g} V" for _, high in volts)
        notes.conflicts.append(f"its plate names several volts: {told}; which is the inlet's?")
    promised = len(volts) == 1 and bool(own_ratings) and not _has_negative(own)
    one = len(volts) == 1 and (promised or volts[0][0] == volts[0][1])
    clear = one and not (own_ratings and _has_negative(own))
    return Prints(
        own=own,
        own_rating=own_ratings[0] if len(own_ratings) == 1 else None,
        brick=brick,
        brick_rating=brick_ratings[0] if len(brick_ratings) == 1 else None,
        low_v=min((r.voltage_low_v for r in ratings), default=None),
        high_v=max((r.voltage_high_v for r in ratings), default=None),
        plate_v=volts[0][1] if clear else None,
        promised=promised,
        its_brick=its_brick,
    )


def _its_brick(
    device: DeviceWritten, own_ratings: tuple[Rating, ...], notes: Notes
) -> tuple[BrickWritten | None, PlateReading | None]:
    """The brick and its plate, unless it is said or shown not to be the device's own."""
    written = device.brick
    if written is None or written.original is False:
        return None, None
    reading = plates.read(written.plate) if written.plate else None
    ratings = low_ratings(reading.output if reading else ())
    doubt = _cannot_be(written, max((r.voltage_high_v for r in own_ratings + ratings), default=0.0))
    if doubt:
        notes.conflicts.append(f"{doubt}: nothing is concluded from its brick; read it again")
        return None, None
    if not ratings or not own_ratings:
        return written, reading
    its = max(r.voltage_high_v for r in ratings)
    low = min(r.voltage_low_v for r in own_ratings)
    high = max(r.voltage_high_v for r in own_ratings)
    if 0.9 * low <= its <= 1.1 * high:
        return written, reading
    notes.conflicts.append(
        f"its brick says {its:g} V, the device {high:g} V: taken as not its own, and "
        "nothing is concluded from it"
    )
    return None, None


# Open volts of a brick against its plate: 1.75 is the most that is told of (common practice).
MOST_OPEN = 2.5


def _cannot_be(brick: BrickWritten, plate_v: float) -> str:
    """What is wrong with the readings of a brick; empty if they can be true."""
    if brick.open is None:
        return ""
    # By its high end, so that a wider reading is never believed where a close one is not.
    if plate_v and brick.open.high > MOST_OPEN * plate_v:
        return f"{brick.open.high:g} V open is far above the {plate_v:g} V on the plate"
    if brick.loaded is not None and brick.loaded.volts.low > brick.open.high:
        return f"{brick.loaded.volts.low:g} V loaded is above {brick.open.high:g} V open"
    return ""


def low_ratings(ratings: tuple[Rating, ...]) -> tuple[Rating, ...]:
    """Those of low voltage: more than nothing, and less than mains."""
    return tuple(r for r in ratings if 0.0 < r.voltage_high_v <= MAINS_FROM_V)


def inlet_ratings(reading: PlateReading | None) -> tuple[Rating, ...]:
    """The low-voltage ratings that a device's plate gives for its inlet.

    What stands behind an output, on a plate that also names an input, is what it gives.
    """
    if reading is None:
        return ()
    return low_ratings(reading.input if reading.input else reading.output)


def _has_negative(reading: PlateReading | None) -> bool:
    sides = (*reading.input, *reading.output) if reading else ()
    return any(r.voltage_low_v < 0.0 for r in sides)


def charges_cells(reading: PlateReading | None) -> bool:
    """Whether a plate says in print that it charges cells."""
    printed = " ".join(i.text for i in reading.ignored).upper() if reading else ""
    return any(word in printed for word in CHARGER_WORDS)


def kind(device: DeviceWritten, prints: Prints) -> Literal["dc", "ac", "unknown"]:
    """D.c. or a.c., by all prints, the brick and the inside; what disagrees tells nothing.

    That it is a.c. is heard on any basis; that it is d.c. only on a good one.
    """
    ratings = (
        *inlet_ratings(prints.own),
        *low_ratings(prints.brick.output if prints.brick else ()),
    )
    if any(r.kind == "ac" for r in inlet_ratings(prints.own)):
        return "ac"  # it says so itself; a brick that says other is the wrong brick
    said: set[Literal["dc", "ac"]] = {r.kind for r in ratings if r.kind != "unknown"}
    brick = prints.its_brick
    if brick and brick.kind:
        heard = brick.kind == "ac" or brick.kind.basis is not Basis.ASSUMED
        said |= {kind for kind in KINDS if kind == brick.kind and heard}
    if device.inside.is_ == "5 V logic" or device.inlet.plug in USB_PLUGS:
        said.add("dc")
    return said.pop() if len(said) == 1 else "unknown"


def evidence(device: DeviceWritten, prints: Prints) -> tuple[Evidence, ...]:
    """Who bears witness to the polarity: each object once.

    The plate of a brick and a meter on it are two only where somebody has said that the brick
    is the original one: swapped bricks are the classic accident. Witnesses that disagree are
    all heard.
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
    elif stated and stated.basis in PRINTED:
        add(Observed.DEVICE_PRINT, stated)
    brick = prints.its_brick
    if brick is not None:
        said = brick.centre
        metered = said if said and said.basis is Basis.MEASURED else None
        printed: set[str] = {prints.brick.centre if prints.brick else "unknown"}
        if said and said.basis in PRINTED:
            printed.add(str(said))
        add(Observed.BRICK_METER, metered)
        for centre in sorted(printed):
            if brick.original or not metered or centre != metered:
                add(Observed.BRICK_PRINT, centre)
    return tuple(dict.fromkeys(found))


PRINTED = (Basis.PLATE, Basis.DATASHEET)
