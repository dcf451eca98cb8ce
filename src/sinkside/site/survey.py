"""From what the person wrote of a device to what the judge reads: plate, brick, inside, meter.

Every figure that nobody gave is assumed here, with a range, and said so.
"""

from dataclasses import replace
from typing import Literal

from sinkside.plates import Rating
from sinkside.quantity import Basis, Quantity, unknown
from sinkside.site.appliance import Appliance, InletKind, Law
from sinkside.site.heat import heat
from sinkside.site.kinds import ANY_PEAK, KINDS
from sinkside.site.lived_on import LivedOn, lived_on
from sinkside.site.mains_side import MainsSide, cautions, rails_of
from sinkside.site.notes import Notes
from sinkside.site.prints import USB_PLUGS, Prints, evidence, kind, prints
from sinkside.site.rectified import DIRECT_OF_ALTERNATING, in_direct_current, is_confirmed, warn
from sinkside.site.refusals import refusals
from sinkside.site.window import window
from sinkside.site.written import DeviceWritten

# On what a word about the polarity counts.
COUNTED = (Basis.MEASURED, Basis.PLATE, Basis.DATASHEET)
# Plate current of a device, and what it really draws (common practice, no source).
STEADY_OF_PLATE = (0.3, 1.0)
# What a barrel jack is rated for: at least 2 A (JEITA RC-5320A, secondary text), many 5 A (from
# memory); one that has fed its device for years carries what that draws.
JACK_A = (2.0, 5.0)
# With nothing printed anywhere.
NO_REFERENCE_V = 12.0
ANY_STEADY_A = (0.02, 3.0)
# USB allows 10 µF; cheap gear takes more (from memory).
USB_CAPACITANCE_F = (1e-6, 100e-6)


def survey(
    device: DeviceWritten,
    ambient: Quantity,
    *,
    must_survive_fault: bool = False,
    mains_side: MainsSide = "never",
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
    mains_side
        Whether there is a qualified person for what is on mains.
    """
    notes = Notes(device.id)
    if device.blink == "any" and device.starved == "loses data":
        notes.conflicts.append("it may blink, and starving it loses data: which of the two?")
    stated = device.inlet.centre
    if stated and stated != "unknown" and stated.basis not in COUNTED:
        notes.conflicts.append(
            f"that its centre is {stated} rests on nothing and is not counted: add (measured) for "
            "a meter inside, or (plate) for a mark on it"
        )
    printed = prints(device, notes)
    fed = kind(device, printed)
    bridged = is_confirmed(device, notes)
    supply: InletKind = "either" if bridged else fed
    refused = refusals(device, supply, printed, mains_side=mains_side)
    seen = evidence(device, printed)
    if len({e.centre for e in seen}) > 1 and bridged:
        seen = ()  # either way round will do
    elif len({e.centre for e in seen}) > 1:
        told = ", ".join(f"{e.observed.value}: centre {e.centre}" for e in seen)
        notes.conflicts.append(f"what tells its polarity disagrees: {told}")
    brick_kind = device.brick.kind if device.brick else None
    if brick_kind == "ac" and fed != "ac":
        notes.conflicts.append("its brick is said to give a.c., and its plate says d.c.: leave it")
    capacitance, ride_through = _capacitance(device, notes), _ride_through(device, notes)
    if bridged and fed != "dc":
        warn(fed, notes)
        device, printed = in_direct_current(device, printed, capacitance, fed)
    steady, peak = _draws(device, printed, notes)
    lived = lived_on(printed, steady, notes)
    harmed, runs = window(device, printed, steady, lived, notes, bridged=bridged)
    laws = KINDS[device.inside.is_].laws
    return Appliance(
        id=device.id,
        plug=device.inlet.plug,
        plate_v=printed.plate_v,
        kind=supply,
        harmed_above_v=harmed,
        runs_from_v=runs,
        reference_v=_reference_v(printed, steady, lived, laws),
        laws=laws,
        steady_a=steady,
        peak_a=peak,
        capacitance_f=capacitance,
        heat=heat(device, printed, lived, ambient, notes),
        evidence=seen,
        ground=_ground(device),
        starved_loses=device.starved == "loses data",
        jack_a=_jack(device, steady),
        held_on=device.held_on,
        blink=device.blink,
        ride_through_s=ride_through,
        plugged=device.plugged,
        must_survive_fault=must_survive_fault,
        at=device.at,
        refusals=refused,
        assumptions=notes.still_assumed(harmed, runs, steady, peak, capacitance, ride_through),
        conflicts=tuple(notes.conflicts),
        idle_a=device.draws.idle and notes.given("idle current", device.draws.idle),
        rails=rails_of(device),
        cautions=() if refused else cautions(device),
    )


def _draws(device: DeviceWritten, prints: Prints, notes: Notes) -> tuple[Quantity, Quantity]:
    """Steady and peak current: as given, else from the device's plate, else from the brick's."""
    own, feed = prints.own_rating, prints.brick_rating
    plate_a, brick_a = _amps(own), _amps(feed)
    loaded = prints.its_brick.loaded if prints.its_brick else None
    given = device.draws.steady
    if given is None and loaded is not None and loaded.amps is not None:
        if loaded.amps.high < STEADY_OF_PLATE[0] * plate_a:
            notes.conflicts.append(
                f"its old brick was read at {loaded.amps.high:g} A, far below the {plate_a:g} A of "
                "its plate: at idle? read it again at full work"
            )
        else:
            given = loaded.amps
    if given is not None:
        steady = notes.given("steady current", given)
    elif plate_a:
        low, high = (factor * plate_a for factor in STEADY_OF_PLATE)
        low *= _least_share(prints)
        steady = notes.assume("steady current", low, high, "A", "a share of the plate's current")
    elif brick_a:
        why = "no more than the brick was made for"
        steady = notes.assume("steady current", 0.0, brick_a, "A", why)
    else:
        steady = notes.assume("steady current", *ANY_STEADY_A, "A", "nothing says its current")
    return steady, _peak(device, prints, steady, plate_a, notes)


def _least_share(prints: Prints) -> float:
    """Direct current at least over what a plate says, which may be of alternating current."""
    return DIRECT_OF_ALTERNATING[0] if prints.rms_v is not None else 1.0


def _amps(rating: Rating | None) -> float:
    """The current of a rating, by its watts where no amps are printed; nought if neither."""
    if rating is None:
        return 0.0
    return rating.current_a or (rating.power_w or 0.0) / rating.voltage_high_v


def _peak(
    device: DeviceWritten, prints: Prints, steady: Quantity, plate_a: float, notes: Notes
) -> Quantity:
    """The peak: never less than the steady current, and at least what the plate calls its peak."""
    peak = device.draws.peak
    if peak is not None and peak.high < steady.low:
        notes.conflicts.append(
            f"its peak of {peak.high:g} A is less than its steady {steady.low:g} A"
        )
        return replace(notes.given("peak current", peak), high=steady.high, nominal=None)
    if peak is not None:
        return notes.given("peak current", peak)
    kind = KINDS[device.inside.is_]
    hard = kind.peak_ratio * steady.high
    if steady.basis is not Basis.ASSUMED:
        low, high = steady.low, max(hard, ANY_PEAK[1] * plate_a)
    elif plate_a:
        low, high = ANY_PEAK[0] * _least_share(prints) * plate_a, kind.peak_ratio * plate_a
    else:
        low, high = steady.low, hard if kind.starts_hard else steady.high
    printed = prints.own_rating.peak_current_a if prints.own_rating else None
    if printed:
        low, high = steady.low, max(high, printed)
    why = "the peak on its plate is the most that it may ask for" if printed else kind.peak_why
    return notes.assume("peak current", low, high, "A", why)


def _reference_v(prints: Prints, steady: Quantity, lived: LivedOn, laws: tuple[Law, ...]) -> float:
    """Volts at which its current is meant, at the end where more flows than at the other.

    A constant power asks for more if it was meant at more volts, a conductance if at less. A
    current that was measured was measured on the old brick, one from a plate is meant at its
    volts.
    """
    measured = steady.basis is Basis.MEASURED
    if "resistance" in laws:
        meant = prints.rms_v[0] if prints.rms_v else prints.low_v
        return (lived.warm_v if measured else 0.0) or meant or NO_REFERENCE_V
    loaded = prints.its_brick.loaded if prints.its_brick else None
    known = (
        prints.high_v or 0.0,
        loaded.volts.high if loaded else 0.0,
        (lived.ran_v or 0.0) if measured else 0.0,
    )
    return max(known) or NO_REFERENCE_V


def _jack(device: DeviceWritten, steady: Quantity) -> Quantity:
    low, high = (max(rated, steady.low) for rated in JACK_A)
    return unknown(low, high, "A", name=f"{device.id}/jack")


def _capacitance(device: DeviceWritten, notes: Notes) -> Quantity:
    capacitor = device.inside.input_capacitor
    if capacitor is not None:
        return notes.given("input capacitance", capacitor.farad)
    if device.inlet.plug in USB_PLUGS:
        return notes.assume("input capacitance", *USB_CAPACITANCE_F, "F", "a USB input")
    kind = KINDS[device.inside.is_]
    return notes.assume("input capacitance", *kind.capacitance_f, "F", kind.capacitance_why)


def _ground(
    device: DeviceWritten,
) -> Literal["negative", "positive", "mid", "isolated", "unknown"]:
    said = device.inlet.ground
    if said is None or said.basis is Basis.ASSUMED:
        return "unknown"
    known: tuple[Literal["negative", "positive", "mid", "isolated"], ...] = (
        "negative",
        "positive",
        "mid",
        "isolated",
    )
    return next((word for word in known if word == said), "unknown")


def _ride_through(device: DeviceWritten, notes: Notes) -> Quantity:
    if device.ride_through is not None:
        return notes.given("ride-through", device.ride_through)
    return notes.assume("ride-through", 0.0, 5.0, "s", "nobody has timed it")
