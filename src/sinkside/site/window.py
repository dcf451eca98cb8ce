"""The window of a device: what harms it, and from what volts it runs.

From what is inside where that is known, else from the plate; then what it has lived on.
"""

from sinkside.parts import regulators
from sinkside.quantity import Basis, Quantity, point, unknown
from sinkside.site.notes import Notes
from sinkside.site.prints import MAINS_FROM_V, USB_PLUGS, Prints
from sinkside.site.written import DeviceWritten

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
IN_FRONT_V = {
    "nothing": (0.0, 0.0),
    "diode": (0.3, 1.0),
    "bridge": (1.0, 2.0),
    "unknown": (0.0, 2.0),
}


def window(device: DeviceWritten, prints: Prints, notes: Notes) -> tuple[Quantity, Quantity]:
    """The damage limit and the least volts, from the best that is known of each."""
    harmed, runs = _assumed_window(device, prints, notes)
    inside = device.inside
    capacitor = inside.input_capacitor
    if inside.harmed_above is not None:
        harmed = notes.given("harmed above", inside.harmed_above)
    if capacitor and capacitor.rated_v and capacitor.rated_v.low < harmed.high:
        limit = capacitor.rated_v.low
        harmed = unknown(min(harmed.low, limit), limit, "V", Basis.DATASHEET, harmed.name)
        if inside.is_ == "linear regulator":
            harmed = point(limit, "V", capacitor.rated_v.basis, harmed.name)
    if inside.runs_from is not None:
        runs = notes.given("runs from", inside.runs_from)
    return _lived_on(device, prints.brick_is_own, harmed, runs, notes)


def _assumed_window(
    device: DeviceWritten, prints: Prints, notes: Notes
) -> tuple[Quantity, Quantity]:
    inside = device.inside
    chip = regulators.find(inside.part) if inside.part else None
    usb_like = device.inlet.plug in USB_PLUGS or inside.is_ == "5 V logic"
    if inside.is_ == "linear regulator" and chip is not None:
        low, high = IN_FRONT_V[inside.in_front or "unknown"]
        runs = notes.assume(
            "runs from",
            round(chip.output_v * (1 - chip.tolerance) + chip.headroom_low_v + low, 6),
            round(chip.output_v * (1 + chip.tolerance) + chip.headroom_high_v + high, 6),
            "V",
            f"output of the {chip.part} and its headroom, and what stands in front of it",
        )
        plate_v = prints.low_v or chip.output_v + chip.headroom_high_v
        harmed = notes.assume(
            "harmed above",
            min(chip.withstands_v, HARMED_ABOVE[0] * plate_v),
            chip.withstands_v,
            "V",
            f"the {chip.part} stands {chip.withstands_v:g} V, the capacitor before it is not known",
        )
        return harmed, runs
    if usb_like:
        low, high = LOGIC_RUNS_FROM_V if inside.is_ == "5 V logic" else USB_RUNS_FROM_V
        return (
            notes.assume("harmed above", *USB_HARMED_ABOVE_V, "V", "a 5 V input"),
            notes.assume("runs from", low, high, "V", "a 5 V input"),
        )
    if prints.low_v is None or prints.high_v is None:
        return (
            notes.assume("harmed above", 0.0, MAINS_FROM_V, "V", "no plate says any volts"),
            notes.assume("runs from", 0.0, MAINS_FROM_V, "V", "no plate says any volts"),
        )
    return _plate_window(prints.low_v, prints.high_v, prints.plate_v is not None, notes)


def floor(low_v: float) -> float:
    """What every input for so many volts stands: one for 5 V stands what a port may give.

    A port without a contract may stand at 5.5 V, and 5 V gear has run from ports for decades
    (common practice, no source).
    """
    return USB_HARMED_ABOVE_V[0] if low_v == FIVE_V else 0.0


def _plate_window(
    low_v: float, high_v: float, clear: bool, notes: Notes
) -> tuple[Quantity, Quantity]:
    """The window of an inlet of which only the plate is known.

    A plate with a range, such as 9-12 V, promises that it runs and stands all of it; a plate
    that is not clear promises nothing but that its volts are among those.
    """
    ranged = clear and low_v < high_v
    harmed = notes.assume(
        "harmed above",
        max(HARMED_ABOVE[0] * (high_v if clear else low_v), floor(low_v)),
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


def _lived_on(
    device: DeviceWritten, own: bool, harmed: Quantity, runs: Quantity, notes: Notes
) -> tuple[Quantity, Quantity]:
    """Open volts of its own old brick prove that it stands them; loaded volts that it runs."""
    brick = device.brick if own else None
    if brick and brick.open is not None and brick.open.basis is Basis.MEASURED:
        stood = brick.open.low
        if harmed.high < stood and harmed.basis is Basis.ASSUMED:
            # What it has stood for years outweighs any rule of thumb.
            top = stood * LITTLE_MORE
            harmed = Quantity(low=stood, high=top, unit="V", basis=Basis.LIVED_ON, name=harmed.name)
        elif harmed.high < stood:
            notes.conflicts.append(
                f"its old brick gives {stood:g} V open, above the {harmed.high:g} V taken as its "
                "damage limit: measure again, or the brick is not its own"
            )
        elif harmed.low < stood:
            harmed = Quantity(
                low=stood, high=harmed.high, unit="V", basis=Basis.LIVED_ON, name=harmed.name
            )
    for seen in (brick.loaded if brick else None, device.ran):
        if seen is None or seen.volts.basis is not Basis.MEASURED:
            continue
        ran = seen.volts.high
        if ran < runs.low and runs.basis is Basis.ASSUMED:
            runs = Quantity(
                low=RUNS_FROM[0] * ran, high=ran, unit="V", basis=Basis.LIVED_ON, name=runs.name
            )
        elif ran < runs.low:
            notes.conflicts.append(
                f"it ran at {ran:g} V, below the {runs.low:g} V taken as the least: "
                "the figure of its inside is too high"
            )
            runs = point(ran, "V", Basis.LIVED_ON, runs.name)
        elif ran < runs.high:
            runs = Quantity(low=runs.low, high=ran, unit="V", basis=Basis.LIVED_ON, name=runs.name)
    return harmed, runs
