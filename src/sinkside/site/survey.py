"""From what the person wrote of a device to what the judge reads: plate, brick, inside, meter.

Every figure that nobody gave is assumed here, with a range, and said so.
"""

from typing import Literal

from sinkside.quantity import Basis, Quantity
from sinkside.site.appliance import Appliance, Law
from sinkside.site.heat import heat
from sinkside.site.notes import Notes
from sinkside.site.prints import USB_PLUGS, Prints, evidence, kind, prints
from sinkside.site.refusals import refusals
from sinkside.site.window import window
from sinkside.site.written import DeviceWritten

# Plate current of a device, and what it really draws (common practice, no source).
STEADY_OF_PLATE = (0.3, 1.0)
PEAK_OF_PLATE = (1.0, 2.0)
# What a barrel jack is rated for at least (JEITA RC-5320A, secondary text); one that has fed
# its device for years carries what that draws.
JACK_A = 2.0
# With nothing printed anywhere.
NO_REFERENCE_V = 12.0
ANY_STEADY_A = (0.02, 3.0)
# Input capacitance of old gear (common practice, no source).
CAPACITANCE_F = (1e-3, 10e-3)
# USB allows 10 µF; cheap gear takes more (from memory).
USB_CAPACITANCE_F = (1e-6, 100e-6)


def survey(
    device: DeviceWritten, ambient: Quantity, *, must_survive_fault: bool = False
) -> Appliance:
    """Put together what is known of a device.

    Parameters
    ----------
    device
        As the person wrote it.
    ambient
        Of the place where it stands, °C.
    must_survive_fault
        Whether one fault upstream counts as harm, not as a residual risk.
    """
    notes = Notes(device.id)
    if device.blink == "any" and device.starved == "loses data":
        notes.conflicts.append("it may blink, and starving it loses data: which of the two?")
    stated = device.inlet.centre
    if stated and stated != "unknown" and stated.basis is Basis.ASSUMED:
        notes.conflicts.append(
            f"that its centre is {stated} rests on nothing and is not counted: add (measured) for "
            "a meter inside, or (plate) for a mark on it"
        )
    printed = prints(device, notes)
    supply = kind(device, printed)
    harmed, runs = window(device, printed, notes)
    steady, peak = _draws(device, printed, notes)
    capacitance, ride_through = _capacitance(device, notes), _ride_through(device, notes)
    return Appliance(
        id=device.id,
        plug=device.inlet.plug,
        plate_v=printed.plate_v,
        kind=supply,
        harmed_above_v=harmed,
        runs_from_v=runs,
        reference_v=_reference_v(device, printed),
        laws=_laws(device),
        steady_a=steady,
        peak_a=peak,
        capacitance_f=capacitance,
        heat=heat(device, printed, steady, ambient),
        evidence=evidence(device, printed),
        ground=_ground(device),
        starved_loses=device.starved == "loses data",
        jack_a=max(JACK_A, steady.high),
        held_on=device.held_on,
        blink=device.blink,
        ride_through_s=ride_through,
        plugged=device.plugged,
        must_survive_fault=must_survive_fault,
        at=device.at,
        refusals=refusals(device, supply, printed.own, printed.plate_v),
        assumptions=notes.still_assumed(harmed, runs, steady, peak, capacitance, ride_through),
        conflicts=tuple(notes.conflicts),
    )


def _draws(device: DeviceWritten, prints: Prints, notes: Notes) -> tuple[Quantity, Quantity]:
    """Steady and peak current: as given, else from the device's plate, else from the brick's."""
    own, feed = prints.own_rating, prints.brick_rating
    plate_a = own and (own.current_a or (own.power_w or 0.0) / own.voltage_high_v)
    brick_a = feed and (feed.current_a or (feed.power_w or 0.0) / feed.voltage_high_v)
    steady, peak = device.draws.steady, device.draws.peak
    if steady is None and prints.brick_is_own and device.brick and device.brick.loaded:
        steady = device.brick.loaded.amps
    if steady is not None:
        steady = notes.given("steady current", steady)
    elif plate_a:
        low, high = (factor * plate_a for factor in STEADY_OF_PLATE)
        steady = notes.assume("steady current", low, high, "A", "a share of the plate's current")
    elif brick_a:
        steady = notes.assume(
            "steady current", 0.0, brick_a, "A", "no more than the brick was made for"
        )
    else:
        steady = notes.assume("steady current", *ANY_STEADY_A, "A", "nothing says its current")
    if peak is not None:
        return steady, notes.given("peak current", peak)
    if steady.basis is Basis.MEASURED:
        low, high = steady.low, max(PEAK_OF_PLATE[1] * steady.high, plate_a or 0.0)
    elif plate_a:
        low, high = (factor * plate_a for factor in PEAK_OF_PLATE)
    else:
        low, high = steady.low, steady.high
    if own and own.peak_current_a:
        low = high = own.peak_current_a
    return steady, notes.assume("peak current", low, high, "A", "no peak is given")


def _reference_v(device: DeviceWritten, prints: Prints) -> float:
    """Volts at which its current is meant; with a constant power the higher asks for more."""
    loaded = device.brick.loaded if device.brick else None
    lived = loaded.volts.high if loaded else None
    if prints.high_v is not None:
        return max(prints.high_v, lived or 0.0)
    return NO_REFERENCE_V if lived is None else lived


def _laws(device: DeviceWritten) -> tuple[Law, ...]:
    match device.inside.is_:
        case "linear regulator":
            return ("constant current",)
        case "switching regulator":
            return ("constant power",)
        case "resistive":
            return ("resistance",)
        case _:
            return ("constant current", "constant power")


def _capacitance(device: DeviceWritten, notes: Notes) -> Quantity:
    capacitor = device.inside.input_capacitor
    if capacitor is not None:
        return notes.given("input capacitance", capacitor.farad)
    if device.inlet.plug in USB_PLUGS:
        return notes.assume("input capacitance", *USB_CAPACITANCE_F, "F", "a USB input")
    if device.inside.is_ == "resistive":
        return notes.assume("input capacitance", 0.0, 10e-6, "F", "a plain resistance")
    return notes.assume("input capacitance", *CAPACITANCE_F, "F", "old gear commonly has this")


def _ground(
    device: DeviceWritten,
) -> Literal["negative", "positive", "mid", "isolated", "unknown"]:
    known: tuple[Literal["negative", "positive", "mid", "isolated"], ...] = (
        "negative",
        "positive",
        "mid",
        "isolated",
    )
    return next((word for word in known if word == device.inlet.ground), "unknown")


def _ride_through(device: DeviceWritten, notes: Notes) -> Quantity:
    if device.ride_through is not None:
        return notes.given("ride-through", device.ride_through)
    return notes.assume("ride-through", 0.0, 5.0, "s", "nobody has timed it")
