"""An inlet that was fed with a.c., once one full bridge without a tap behind it is confirmed.

Everything that was read of it and of its brick is turned into what it amounted to in d.c. at the
same inlet; from there on it is surveyed like any other. On d.c. the same two diodes of the
bridge conduct, at less than the peaks of their current on a.c.
"""

from dataclasses import replace
from math import inf
from typing import Literal

from sinkside.physics import rectifier
from sinkside.physics.unregulated import OPEN_OVER_PLATE
from sinkside.quantity import Basis, Quantity
from sinkside.site.notes import Notes
from sinkside.site.prints import Prints
from sinkside.site.written import FULL_BRIDGE, BrickWritten, DeviceWritten, Loaded

# What a word about the bridge has to rest on.
COUNTED = (Basis.MEASURED, Basis.DATASHEET)
# Direct current behind a bridge over the r.m.s. current before it, which flows in pulses, the
# shorter the stiffer the brick: a quarter to all of it (0.29 to 0.72 in walked circuits; 1 ÷ 1.6
# to 1 ÷ 1.8 at full load is common practice, no source).
DIRECT_OF_ALTERNATING = (0.25, 1.0)
# Insides that look at the volts of each moment; for the others their mean counts.
OF_THE_MOMENT = ("linear regulator", "switching regulator", "5 V logic")


def is_confirmed(device: DeviceWritten, notes: Notes) -> bool:
    """Whether one full bridge without a tap follows the inlet, by more than hearsay."""
    said = device.inside.in_front
    if said is None or said not in FULL_BRIDGE:
        return False
    if said.basis not in COUNTED:
        notes.conflicts.append(
            "that one full bridge without a tap follows its inlet rests on nothing and is not "
            "counted: add (measured) or (datasheet)"
        )
    return said.basis in COUNTED


def warn(fed: Literal["ac", "unknown"], notes: Notes) -> None:
    """What a confirmed bridge does not settle."""
    was = "was fed with a.c." if fed == "ac" else "may have been fed with a.c."
    notes.conflicts += [
        f"it {was}: a clock or a motor that counts the periods of the mains stands still, or goes "
        "wrong, on d.c.",
        "on d.c. one pair of its bridge's diodes carries all the current: feel the bridge for "
        "heat in the first hour",
        "its signal ground hangs behind a diode of its bridge: the shield of a lead to gear on "
        "the same charger would carry its supply current",
    ]


def in_direct_current(
    device: DeviceWritten,
    prints: Prints,
    capacitance: Quantity,
    fed: Literal["ac", "unknown"],
) -> tuple[DeviceWritten, Prints]:
    """A device and its prints in terms of d.c. at the same inlet.

    Parameters
    ----------
    capacitance
        Behind its inlet, F: it sets the ripple.
    fed
        Where nobody knows what it was fed with, its readings may as well be of d.c.; what
        follows holds of both.

    Notes
    -----
    Open volts: the peak that it has stood, at least. Loaded volts: from the least that the mean
    behind its bridge can have been, which bounds its heat, to the most that the trough can
    have been, which it ran from; of an inside that does not look at the moment, the mean.
    """
    given = device.draws
    draws = given.model_copy(
        update={
            "steady": _direct(given.steady),
            "idle": _direct(given.idle),
            "peak": _direct(given.peak),
        }
    )
    brick = prints.its_brick and _brick(device, prints.its_brick, capacitance, fed)
    crest = rectifier.OPEN_CREST[0] if fed == "ac" else 1.0
    low_v, high_v = prints.low_v, prints.high_v
    rms_v = None if low_v is None or high_v is None else (low_v, high_v)
    return (
        device.model_copy(update={"draws": draws, "brick": brick}),
        replace(
            prints,
            rms_v=rms_v,
            low_v=rms_v and crest * rms_v[0],
            high_v=rms_v and rectifier.SINE_CREST * rms_v[1],
            plate_v=None,
            promised=False,
            its_brick=brick,
        ),
    )


def highest_peak_v(rms_v: float) -> float:
    """Most volts that a brick with so many on its plate has ever put on the inlet, V."""
    return rectifier.no_load_peak_v(rms_v, OPEN_OVER_PLATE[1], rectifier.MAINS_HIGH)


def _direct(amps: Quantity | None) -> Quantity | None:
    """What an alternating current amounts to behind the bridge."""
    if amps is None:
        return None
    low, high = DIRECT_OF_ALTERNATING
    return replace(amps, low=low * amps.low, high=high * amps.high, nominal=None)


def _brick(
    device: DeviceWritten, brick: BrickWritten, capacitance: Quantity, fed: Literal["ac", "unknown"]
) -> BrickWritten:
    changes = {
        "open": brick.open and _stood(brick.open, fed),
        "loaded": brick.loaded and _ran_on(device, brick.loaded, capacitance, fed),
    }
    return brick.model_copy(update=changes)


def _stood(volts: Quantity, fed: Literal["ac", "unknown"]) -> Quantity:
    """Peaks: with the device off, next to nothing drops on the diodes on d.c."""
    crest = rectifier.OPEN_CREST[0] if fed == "ac" else 1.0
    behind = rectifier.peak_v(volts.low, crest, rectifier.FORWARD_LIGHT_V)
    low = max(0.0, behind + 2.0 * rectifier.FORWARD_IDLE_V)
    high = rectifier.SINE_CREST * volts.high
    return replace(volts, low=low, high=high, nominal=None)


def _ran_on(
    device: DeviceWritten, read: Loaded, capacitance: Quantity, fed: Literal["ac", "unknown"]
) -> Loaded:
    amps = _direct(read.amps)
    least, most = _ripple(amps, capacitance) if amps else (0.0, inf)
    light, heavy = rectifier.FORWARD_LOADED_V
    mean = rectifier.FULL_WAVE_MEAN * read.volts.low - 2.0 * heavy
    if fed == "ac":
        lowest = rectifier.peak_v(read.volts.low, rectifier.LOADED_CREST[0], heavy)
        mean = max(mean, rectifier.mean_v(lowest, most))
    mean = max(0.0, mean) + 2.0 * light
    # Seen from the inlet the diodes take the same of both, or less on d.c.
    peak = rectifier.SINE_CREST * read.volts.high
    reached = max(0.0, rectifier.peak_v(read.volts.high, rectifier.SINE_CREST, heavy))
    least = min(least, rectifier.MOST_RIPPLE * reached) if fed == "ac" else 0.0
    momentary = device.inside.is_ in OF_THE_MOMENT
    ran = rectifier.trough_v(peak, least) if momentary else rectifier.mean_v(peak, least)
    volts = replace(read.volts, low=min(mean, ran), high=ran, nominal=None)
    return Loaded(volts=volts, amps=amps)


def _ripple(amps: Quantity, capacitance: Quantity) -> tuple[float, float]:
    """Least and most that the capacitor can sink between two peaks, V."""
    slow, fast = rectifier.MAINS_HZ
    short, long = rectifier.ALONE
    least = rectifier.ripple_v(amps.low, fast, capacitance.high, short) if capacitance.high else 0.0
    most = rectifier.ripple_v(amps.high, slow, capacitance.low, long) if capacitance.low else inf
    return least, most
