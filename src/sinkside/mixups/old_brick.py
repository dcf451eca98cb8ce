"""An old brick that is kept: a source with a plug, and mostly with a line that falls.

What is known of it: its plate, what a meter says of it, and that it has run its own device.
"""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside import plates
from sinkside.parts.part import Centre
from sinkside.physics.unregulated import OPEN_OVER_PLATE
from sinkside.plates import Rating
from sinkside.quantity import Basis, Quantity
from sinkside.site.appliance import Appliance
from sinkside.site.mains_side import BUILT_IN
from sinkside.site.notes import Notes
from sinkside.site.prints import MAINS_FROM_V, low_ratings, prints
from sinkside.site.written import BrickWritten, DeviceWritten

Range: TypeAlias = tuple[float, float]
SupplyKind: TypeAlias = Literal["dc", "ac", "unknown"]

# Up to here over its plate, volts open are those of a brick that regulates; one that does not
# gives 1.3 times its plate or more (common practice; the line between is drawn in the middle).
REGULATES_UP_TO = (1.0 + OPEN_OVER_PLATE[0]) / 2.0
# What a brick that regulates is good to (common practice).
REGULATED = (0.95, 1.05)
# How far mains may stand off where a brick was read, or off its plate's (EN 50160, from memory).
MAINS = (0.90, 1.10)
# A brick of which nothing is said may give up to what is no longer low voltage, and any current.
NOTHING_SAID_V = MAINS_FROM_V
NOTHING_SAID_A = 10.0


@dataclass(frozen=True, kw_only=True)
class OldBrick:
    """One old brick.

    Parameters
    ----------
    device
        The device that it belongs to.
    plug
        What its lead ends in: it goes into its own device.
    own
        Whether it is taken to be the device's own, which has run on it for years.
    in_use
        Whether the device stays on it, or it lies in a box.
    kind
        What it gives.
    centre, centre_is_sure
        The pole in the centre of its plug, and whether more than a print says so.
    plate_v
        Volts on its plate, r.m.s. if a.c.; None without.
    regulates
        Whether it holds its volts; None if nobody knows.
    read_open_v
        Volts with nothing on it as a meter read them; r.m.s. if a.c.; None if none did.
    loaded_v, loaded_a
        One reading under load, if there is one; the current may not have been read.
    carries_a
        The current that it is made for.
    """

    device: str
    plug: str
    own: bool
    in_use: bool
    kind: SupplyKind
    centre: Centre | None
    centre_is_sure: bool
    plate_v: Range | None
    regulates: bool | None
    read_open_v: Range | None
    loaded_v: Range | None
    loaded_a: Range | None
    carries_a: Range

    @property
    def open_v(self) -> Range:
        """Volts with nothing on it, least and most, whatever the mains; r.m.s. if a.c.

        Notes
        -----
        As a meter read them, and up to the mains' 10 % more unless it regulates; else between
        the plate's, for one that regulates, and 1.75 times those with the mains high. Under load
        it never gives more than open.
        """
        least = self.loaded_v[0] if self.loaded_v else 0.0
        if self.read_open_v is not None:
            low, high = self.read_open_v
            high = high if self.regulates else MAINS[1] * high
        elif self.plate_v is not None:
            low = REGULATED[0] * self.plate_v[0]
            high = OPEN_OVER_PLATE[1] * MAINS[1] * self.plate_v[1]
        else:
            low, high = 0.0, NOTHING_SAID_V
        return max(low, least), max(high, least)


def old_bricks(
    devices: Sequence[DeviceWritten], appliances: Sequence[Appliance], staying: Collection[str]
) -> tuple[OldBrick, ...]:
    """The old bricks that are there.

    Parameters
    ----------
    devices, appliances
        As the person wrote them, and as they were surveyed, in the same order.
    staying
        The devices that stay on their bricks.

    Notes
    -----
    A device that stays on its brick has one, also where nobody has described it: then nothing
    is known of it but what the device itself proves. One that moves to a charger, and of whose
    brick nothing is said, is taken to have none. A brick without a plate that has run its own
    device is taken to be for the volts on that one's plate (common practice, no source).
    """
    return tuple(
        _brick(device, appliance, in_use=device.id in staying)
        for device, appliance in zip(devices, appliances, strict=True)
        if _is_there(device, in_use=device.id in staying)
    )


def _is_there(device: DeviceWritten, *, in_use: bool) -> bool:
    if device.inside.is_ == BUILT_IN:
        return False
    if device.brick is None:
        return in_use
    return device.brick.kept or in_use


def _brick(device: DeviceWritten, appliance: Appliance, *, in_use: bool) -> OldBrick:
    written = device.brick or BrickWritten()
    own = written.original is not False and (
        device.brick is None or prints(device, Notes(device.id)).its_brick is not None
    )
    reading = plates.read(written.plate) if written.plate else None
    ratings = low_ratings(reading.output) if reading else ()
    plate_v = _spanned(ratings)
    if plate_v is None and own and appliance.plate_v is not None:
        plate_v = appliance.plate_v, appliance.plate_v
    kind = _kind(written, ratings, appliance if own else None)
    regulates = _regulates(written, plate_v, kind)
    printed = reading.centre if reading else "unknown"
    centre, sure = _centre(written, printed, appliance if own else None)
    loaded = written.loaded
    return OldBrick(
        device=device.id,
        plug=device.inlet.plug,
        own=own,
        in_use=in_use,
        kind=kind,
        centre=centre,
        centre_is_sure=sure,
        plate_v=plate_v,
        regulates=regulates,
        read_open_v=_ends(written.open),
        loaded_v=_ends(loaded.volts) if loaded else None,
        loaded_a=_ends(loaded.amps) if loaded else None,
        carries_a=_carries(ratings, appliance.steady_a if own else None),
    )


def _spanned(ratings: tuple[Rating, ...]) -> Range | None:
    """From the least to the most of what a plate names: which of several it gives is not known."""
    if not ratings:
        return None
    return min(r.voltage_low_v for r in ratings), max(r.voltage_high_v for r in ratings)


def _ends(quantity: Quantity | None) -> Range | None:
    return (quantity.low, quantity.high) if quantity is not None else None


def _kind(
    brick: BrickWritten, ratings: tuple[Rating, ...], its_device: Appliance | None
) -> SupplyKind:
    """D.c. or a.c.: by word and plate, else by what its own device takes.

    That it is a.c. is heard on any basis; that it is d.c. only on a good one.
    """
    said: set[SupplyKind] = {r.kind for r in ratings if r.kind != "unknown"}
    if brick.kind == "ac":
        said.add("ac")
    if brick.kind == "dc" and brick.kind.basis is not Basis.ASSUMED:
        said.add("dc")
    if len(said) == 1:
        return said.pop()
    if said or its_device is None:
        return "unknown"
    return its_device.kind if its_device.kind in ("dc", "ac") else "unknown"


def _regulates(brick: BrickWritten, plate_v: Range | None, kind: SupplyKind) -> bool | None:
    """By its volts open over those of its plate."""
    if kind == "ac":
        return False
    if brick.open is None or plate_v is None:
        return None
    if brick.open.high <= REGULATES_UP_TO * plate_v[0]:
        return True
    return False if brick.open.low > REGULATES_UP_TO * plate_v[1] else None


def _centre(
    brick: BrickWritten, printed: str, its_device: Appliance | None
) -> tuple[Centre | None, bool]:
    """The pole in the centre, and whether more than a print says so.

    Two objects that agree on the poles of its own device settle it: the device has run on it.
    """
    said = brick.centre if brick.centre in ("positive", "negative") else None
    words = {w for w in (said, printed) if w in ("positive", "negative")}
    if len(words) > 1:
        return None, False
    metered = said is not None and said.basis is Basis.MEASURED
    evidence = its_device.evidence if its_device else ()
    proven = its_device.centre if its_device and len({e.observed for e in evidence}) > 1 else None
    word = words.pop() if words else proven
    if proven is not None and word != proven:
        return None, False
    centre: Centre | None = (
        "positive" if word == "positive" else "negative" if word == "negative" else None
    )
    return centre, centre is not None and (metered or proven is not None)


def _carries(ratings: tuple[Rating, ...], lived_a: Quantity | None) -> Range:
    """The current that it is made for: its plate's, else at least what its device has drawn."""
    amps = [r.current_a or (r.power_w or 0.0) / r.voltage_high_v for r in ratings]
    if amps and all(amps):
        return min(amps), max(amps)
    least = lived_a.low if lived_a else 0.0
    return least, max(NOTHING_SAID_A, least)
