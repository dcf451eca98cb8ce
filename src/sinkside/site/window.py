"""The window of a device: what harms it, and from what volts it runs.

From what is inside where that is known, else from the plate; then what it has lived on.
"""

from sinkside.parts import regulators
from sinkside.parts.regulators import Regulator
from sinkside.physics import rectifier
from sinkside.physics.linear_regulator import least_input_v
from sinkside.quantity import Basis, Quantity, disjoint, point, unknown
from sinkside.site.lived_on import LivedOn, other_current
from sinkside.site.notes import Notes
from sinkside.site.prints import MAINS_FROM_V, USB_PLUGS, Prints
from sinkside.site.rectified import highest_peak_v
from sinkside.site.written import FULL_BRIDGE, DeviceWritten

# What an inlet of which only the plate is known may stand and want, in units of its plate
# volts (common practice, no source).
HARMED_ABOVE = (1.05, 1.6)
RUNS_FROM = (0.8, 1.3)
# Inputs made for a USB host: from memory of what ports deliver, and of 5 V logic ratings.
USB_RUNS_FROM_V = (4.0, 4.75)
USB_HARMED_ABOVE_V = (5.5, 6.0)
LOGIC_RUNS_FROM_V = (4.5, 4.75)
FIVE_V = 5.0
# Beyond what a device has stood for years, how much more it may stand (common practice).
LITTLE_MORE = 1.2
# What stands between inlet and regulator: nothing, one diode, or a bridge (from memory).
BRIDGE_V = (2.0 * rectifier.FORWARD_LOADED_V[0], 2.0 * rectifier.FORWARD_LOADED_V[1])
IN_FRONT_V = {
    "nothing": (0.0, 0.0),
    "diode": (0.3, 1.0),
    "bridge": BRIDGE_V,
    "unknown": (0.0, BRIDGE_V[1]),
    **dict.fromkeys(FULL_BRIDGE, BRIDGE_V),
}


def window(
    device: DeviceWritten,
    prints: Prints,
    steady: Quantity,
    lived: LivedOn,
    notes: Notes,
    *,
    bridged: bool = False,
) -> tuple[Quantity, Quantity]:
    """The damage limit and the least volts, from the best that is known of each.

    Parameters
    ----------
    steady
        Its steady current: volts of a trial at another current prove nothing of it.
    lived
        What its old brick proves.
    bridged
        Whether one full bridge without a tap is confirmed: with the device off, two diodes of
        it keep a little off what stands behind.
    """
    kept_off_v = 2.0 * rectifier.FORWARD_IDLE_V if bridged else 0.0
    harmed, runs = _assumed_window(device, prints, kept_off_v, notes)
    inside = device.inside
    if inside.harmed_above is not None:
        harmed = notes.given("harmed above", inside.harmed_above)
    harmed = _by_capacitor(device, harmed, kept_off_v)
    if inside.runs_from is not None:
        runs = notes.given("runs from", inside.runs_from)
    if lived.stood_v is not None:
        harmed = _stood(lived.stood_v, harmed, notes)
    if lived.ran_v is not None:
        runs = _ran(lived.ran_v, runs, notes)
    runs = _tried(device, steady, runs, notes)
    if prints.plate_v is not None and harmed.high < prints.plate_v:
        notes.conflicts.append(
            f"it is said to be harmed above {harmed.high:g} V, under its own {prints.plate_v:g} V"
        )
    if runs.low > harmed.high:
        notes.conflicts.append(
            f"it is said to run from {runs.low:g} V, and to be harmed above {harmed.high:g} V"
        )
    return harmed, runs


def _by_capacitor(device: DeviceWritten, harmed: Quantity, kept_off_v: float) -> Quantity:
    """The damage limit with what the first capacitor is rated for: it lowers it, and before a
    regulator that is known it is what was still unknown of it."""
    capacitor = device.inside.input_capacitor
    if capacitor is None or capacitor.rated_v is None:
        return harmed
    limit, basis = capacitor.rated_v.low + kept_off_v, capacitor.rated_v.basis
    chip = regulators.find(device.inside.part) if device.inside.part else None
    regulated = device.inside.is_ == "linear regulator" and chip is not None
    if regulated and device.inside.harmed_above is None and basis is not Basis.ASSUMED:
        return point(min(limit, harmed.high), "V", basis, harmed.name)
    if limit >= harmed.high:
        return harmed
    return unknown(min(harmed.low, limit), limit, "V", basis, harmed.name)


def _assumed_window(
    device: DeviceWritten, prints: Prints, kept_off_v: float, notes: Notes
) -> tuple[Quantity, Quantity]:
    inside = device.inside
    chip = regulators.find(inside.part) if inside.part else None
    if inside.is_ == "linear regulator" and chip is not None:
        return _regulator_window(device, chip, prints, kept_off_v, notes)
    if device.inlet.plug in USB_PLUGS or inside.is_ == "5 V logic":
        return _five_volt_window(device, prints, notes)
    if prints.rms_v is not None:
        return _rectified_window(prints.rms_v, prints.low_v or 0.0, notes)
    if prints.low_v is None or prints.high_v is None:
        return (
            notes.assume("harmed above", 0.0, MAINS_FROM_V, "V", "no plate says any volts"),
            notes.assume("runs from", 0.0, MAINS_FROM_V, "V", "no plate says any volts"),
        )
    return _plate_window(prints.low_v, prints.high_v, prints.promised, notes)


def _regulator_window(
    device: DeviceWritten, chip: Regulator, prints: Prints, kept_off_v: float, notes: Notes
) -> tuple[Quantity, Quantity]:
    low, high = IN_FRONT_V[device.inside.in_front or "unknown"]
    output_low, output_high = (chip.output_v * (1 + s * chip.tolerance) for s in (-1, 1))
    runs = notes.assume(
        "runs from",
        round(least_input_v(output_low, chip.headroom_low_v, low), 6),
        round(least_input_v(output_high, chip.headroom_high_v, high), 6),
        "V",
        f"output of the {chip.part} and its headroom, and what stands in front of it",
    )
    plate_v = prints.low_v or chip.output_v + chip.headroom_high_v
    stands_v = chip.withstands_v + kept_off_v
    harmed = notes.assume(
        "harmed above",
        min(stands_v, HARMED_ABOVE[0] * plate_v),
        stands_v,
        "V",
        f"the {chip.part} stands {chip.withstands_v:g} V, the capacitor before it is not known",
    )
    return harmed, runs


def _five_volt_window(
    device: DeviceWritten, prints: Prints, notes: Notes
) -> tuple[Quantity, Quantity]:
    """An input made for 5 V; where the plate says other volts, both are kept open."""
    logic = device.inside.is_ == "5 V logic"
    low, high = LOGIC_RUNS_FROM_V if logic else USB_RUNS_FROM_V
    top = USB_HARMED_ABOVE_V[1]
    if prints.high_v is not None and not 4.0 <= prints.high_v <= 6.0:
        notes.conflicts.append(
            f"its plate says {prints.high_v:g} V, its {'inside' if logic else 'plug'} 5 V"
        )
        high = max(high, RUNS_FROM[1] * prints.high_v)
        top = max(top, HARMED_ABOVE[1] * prints.high_v)
    return (
        notes.assume("harmed above", USB_HARMED_ABOVE_V[0], top, "V", "a 5 V input"),
        notes.assume("runs from", low, high, "V", "a 5 V input"),
    )


def floor(low_v: float) -> float:
    """What every input for so many volts stands: one for 5 V stands what a port may give.

    A port without a contract may stand at 5.5 V, and 5 V gear has run from ports for decades
    (common practice, no source).
    """
    return USB_HARMED_ABOVE_V[0] if low_v == FIVE_V else 0.0


def _plate_window(
    low_v: float, high_v: float, promised: bool, notes: Notes
) -> tuple[Quantity, Quantity]:
    """The window of an inlet of which only the plate is known.

    A device with a range on it, such as 9-12 V, promises that it runs and stands all of it; a
    plate that is not clear, or a brick, promises nothing but that its volts are among those.
    """
    ranged = promised and low_v < high_v
    harmed = notes.assume(
        "harmed above",
        max(HARMED_ABOVE[0] * (high_v if promised else low_v), floor(low_v)),
        HARMED_ABOVE[1] * high_v,
        "V",
        "the inside is not known",
    )
    runs = notes.assume(
        "runs from",
        RUNS_FROM[0] * low_v,
        low_v if ranged else RUNS_FROM[1] * high_v,
        "V",
        "the inside is not known",
    )
    return harmed, runs


def _rectified_window(
    rms_v: tuple[float, float], peak_v: float, notes: Notes
) -> tuple[Quantity, Quantity]:
    """The window in d.c. of an inlet of which only a.c. volts are known.

    It has stood the peaks of the wave, and the highest that such bricks give was within what it
    was made for; it runs from no more than the peak asks for, as d.c. gear does from its plate.
    """
    why = "the peaks of its a.c. volts, the inside is not known"
    harmed = notes.assume(
        "harmed above",
        round(HARMED_ABOVE[0] * peak_v, 2),
        round(LITTLE_MORE * highest_peak_v(rms_v[1]), 2),
        "V",
        why,
    )
    runs = notes.assume(
        "runs from",
        RUNS_FROM[0] * rms_v[0],
        round(RUNS_FROM[1] * rectifier.SINE_CREST * rms_v[1], 2),
        "V",
        why,
    )
    return harmed, runs


def _tried(device: DeviceWritten, steady: Quantity, runs: Quantity, notes: Notes) -> Quantity:
    """The least volts with those of a trial, if it was at the current that it draws."""
    seen = device.ran
    if seen is None or seen.volts.basis is not Basis.MEASURED:
        return runs
    if seen.amps is not None and disjoint(seen.amps, steady):
        notes.conflicts.append(other_current(seen, steady))
        return runs
    return _ran(seen.volts.high, runs, notes)


def _stood(stood: float, harmed: Quantity, notes: Notes) -> Quantity:
    if harmed.high >= stood:
        low = max(harmed.low, stood)
        basis = Basis.LIVED_ON if low > harmed.low else harmed.basis
        return Quantity(low=low, high=harmed.high, unit="V", basis=basis, name=harmed.name)
    if harmed.basis is Basis.ASSUMED:
        # What it has stood for years outweighs any rule of thumb.
        top = stood * LITTLE_MORE
        return Quantity(low=stood, high=top, unit="V", basis=Basis.LIVED_ON, name=harmed.name)
    notes.conflicts.append(
        f"its old brick gives {stood:g} V open, above the {harmed.high:g} V taken as its "
        "damage limit: measure again, or the brick is not its own"
    )
    return harmed


def _ran(ran: float, runs: Quantity, notes: Notes) -> Quantity:
    if ran >= runs.high:
        return runs
    if ran >= runs.low:
        low = runs.low
    elif runs.basis is Basis.ASSUMED:
        low = RUNS_FROM[0] * ran
    else:
        notes.conflicts.append(
            f"it ran at {ran:g} V, below the {runs.low:g} V taken as the least: "
            "the figure of its inside is too high"
        )
        low = ran
    return Quantity(low=low, high=ran, unit="V", basis=Basis.LIVED_ON, name=runs.name)
