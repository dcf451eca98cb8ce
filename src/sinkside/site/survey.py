"""From what the person wrote of a device to what the judge reads: plate, brick, inside, meter.

Every figure that nobody gave is assumed here, with a range, and said so.
"""

from dataclasses import dataclass, field
from typing import Literal

from sinkside import plates
from sinkside.parts import regulators
from sinkside.plates import PlateReading, Rating
from sinkside.quantity import Basis, Quantity, number, point, span, unknown
from sinkside.site.appliance import Appliance, Evidence, Heat, Law, Observed
from sinkside.site.refusals import refusals
from sinkside.site.written import DeviceWritten

# What an inlet of which only the plate is known may stand and want, in units of its plate
# volts (common practice, no source).
HARMED_ABOVE = (1.05, 1.6)
RUNS_FROM = (0.8, 1.3)
STEADY_OF_PLATE = (0.3, 1.0)
PEAK_OF_PLATE = (1.0, 2.0)
# Inputs made for a USB host: from memory of what ports deliver, and of 5 V logic ratings.
USB_RUNS_FROM_V = (4.0, 4.75)
USB_HARMED_ABOVE_V = (5.5, 6.0)
LOGIC_RUNS_FROM_V = (4.5, 4.75)
USB_PLUGS = ("usb-c", "micro-usb", "mini-usb", "usb-b")
# Input capacitance of old gear (common practice, no source).
CAPACITANCE_F = (1e-3, 10e-3)
# What stands between inlet and regulator: nothing, one diode, or a bridge (from memory).
IN_FRONT_V = {
    "nothing": (0.0, 0.0),
    "diode": (0.3, 1.0),
    "bridge": (1.0, 2.0),
    "unknown": (0.0, 1.4),
}
# Heat sink and everything behind it, junction to the air around the case (common practice).
SINK_K_PER_W = {"none": (50.0, 65.0), "small": (18.0, 35.0), "large": (7.0, 15.0)}
SINK_K_PER_W["unknown"] = (7.0, 65.0)
CASE_RISE_K = 15.0
# From here up a voltage on a plate is mains, or out of scope.
MAINS_FROM_V = 60.0
KINDS: tuple[Literal["dc", "ac"], ...] = ("dc", "ac")
# With nothing printed anywhere.
NO_REFERENCE_V = 12.0
ANY_STEADY_A = (0.02, 3.0)


@dataclass
class _Notes:
    """What comes up on the way."""

    device: str
    assumptions: dict[str, str] = field(default_factory=dict)
    conflicts: list[str] = field(default_factory=list)

    def assume(self, topic: str, low: float, high: float, unit: str, why: str) -> Quantity:
        quantity = unknown(low, high, unit, name=f"{self.device}/{topic}")
        shown = span(low, high, unit) if low != high else number(low, unit)
        self.assumptions[topic] = f"{topic}: {shown}, {why}"
        return quantity

    def still_assumed(self, *final: Quantity) -> tuple[str, ...]:
        """What was assumed and nothing better has replaced."""
        topics = [q.name.rpartition("/")[2] for q in final if q.basis is Basis.ASSUMED]
        return tuple(self.assumptions[t] for t in topics if t in self.assumptions)

    def given(self, topic: str, quantity: Quantity) -> Quantity:
        return quantity.called(f"{self.device}/{topic}")


def survey(device: DeviceWritten, ambient: Quantity) -> Appliance:
    """Put together what is known of a device.

    Parameters
    ----------
    device
        As the person wrote it.
    ambient
        Of the place where it stands, °C.
    """
    notes = _Notes(device.id)
    prints = _prints(device, notes)
    kind = _kind(device, prints)
    harmed, runs = _window(device, prints, notes)
    steady, peak = _draws(device, prints, notes)
    capacitance, ride_through = _capacitance(device, notes), _ride_through(device, notes)
    return Appliance(
        id=device.id,
        plug=device.inlet.plug,
        plate_v=prints.plate_v,
        kind=kind,
        harmed_above_v=harmed,
        runs_from_v=runs,
        reference_v=_reference_v(device, prints),
        laws=_laws(device),
        steady_a=steady,
        peak_a=peak,
        capacitance_f=capacitance,
        heat=_heat(device, prints, steady, ambient),
        evidence=_evidence(device, prints),
        ground=_ground(device),
        starved_loses=device.starved == "loses data",
        blink=device.blink,
        ride_through_s=ride_through,
        plugged=device.plugged,
        at=device.at,
        refusals=refusals(device, kind, prints.own, prints.plate_v),
        assumptions=notes.still_assumed(harmed, runs, steady, peak, capacitance, ride_through),
        conflicts=tuple(notes.conflicts),
    )


@dataclass(frozen=True)
class _Prints:
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


def _prints(device: DeviceWritten, notes: _Notes) -> _Prints:
    own = plates.read(device.plate) if device.plate else None
    written = device.brick
    brick = plates.read(written.plate) if written and written.plate else None
    own_ratings, brick_ratings = _low_ratings(own), _low_ratings(brick)
    ratings = own_ratings or brick_ratings
    doubt = own if own_ratings else brick
    for unclear in doubt.ambiguities if doubt else ():
        notes.conflicts.append(f"its plate is unclear at {unclear.text!r}: {unclear.why}")
    volts = {(r.voltage_low_v, r.voltage_high_v) for r in ratings}
    if len(volts) > 1:
        told = " and ".join(f"{high:g} V" for _, high in sorted(volts))
        notes.conflicts.append(f"its plate names several volts: {told}; which is the inlet's?")
    clear = len(volts) == 1 and not (doubt and doubt.ambiguities)
    low = min((r.voltage_low_v for r in ratings), default=None)
    high = max((r.voltage_high_v for r in ratings), default=None)
    is_own = written is not None and written.original
    if own_ratings and brick_ratings and is_own:
        its = max(r.voltage_high_v for r in brick_ratings)
        if high is not None and low is not None and not 0.9 * low <= its <= 1.1 * high:
            is_own = False
            notes.conflicts.append(
                f"its brick says {its:g} V, the device {high:g} V: taken as not its own, and "
                "nothing is concluded from it"
            )
    return _Prints(
        own=own,
        own_rating=own_ratings[0] if len(own_ratings) == 1 else None,
        brick=brick,
        brick_rating=brick_ratings[0] if len(brick_ratings) == 1 else None,
        low_v=low,
        high_v=high,
        plate_v=high if clear else None,
        brick_is_own=is_own,
    )


def _low_ratings(reading: PlateReading | None) -> tuple[Rating, ...]:
    """The low-voltage ratings of a plate: those of the input if it has any."""
    if reading is None:
        return ()
    for side in (reading.input, reading.output):
        low = tuple(r for r in side if 0.0 < r.voltage_high_v < MAINS_FROM_V)
        if low:
            return low
    return ()


def _reference_v(device: DeviceWritten, prints: _Prints) -> float:
    """Volts at which its current is meant; with a constant power the higher asks for more."""
    if prints.high_v is not None:
        return prints.high_v
    loaded = device.brick.loaded if device.brick else None
    return loaded.volts.high if loaded else NO_REFERENCE_V


def _kind(device: DeviceWritten, prints: _Prints) -> Literal["dc", "ac", "unknown"]:
    """D.c. or a.c.: a meter on the brick, else the prints; prints that disagree tell nothing."""
    brick = device.brick
    if brick and brick.kind and brick.kind.basis is Basis.MEASURED and prints.brick_is_own:
        return next((kind for kind in KINDS if kind == brick.kind), "unknown")
    if device.inside.is_ == "5 V logic" or device.inlet.plug in USB_PLUGS:
        return "dc"
    ratings = (*_low_ratings(prints.own), *_low_ratings(prints.brick))
    said = {r.kind for r in ratings if r.kind != "unknown"}
    return said.pop() if len(said) == 1 else "unknown"


def _window(device: DeviceWritten, prints: _Prints, notes: _Notes) -> tuple[Quantity, Quantity]:
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
    device: DeviceWritten, prints: _Prints, notes: _Notes
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


def _plate_window(
    low_v: float, high_v: float, clear: bool, notes: _Notes
) -> tuple[Quantity, Quantity]:
    """The window of an inlet of which only the plate is known.

    A plate with a range, such as 9-12 V, promises that it runs and stands all of it; a plate
    that is not clear promises nothing but that its volts are among those.
    """
    ranged = clear and low_v < high_v
    harmed = notes.assume(
        "harmed above",
        HARMED_ABOVE[0] * (high_v if clear else low_v),
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
    device: DeviceWritten, own: bool, harmed: Quantity, runs: Quantity, notes: _Notes
) -> tuple[Quantity, Quantity]:
    """Open volts of its own old brick prove that it stands them; loaded volts that it runs."""
    brick = device.brick if own else None
    if brick and brick.open is not None and brick.open.basis is Basis.MEASURED:
        stood = brick.open.low
        if harmed.high < stood:
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
        if ran < runs.low:
            notes.conflicts.append(
                f"it ran at {ran:g} V, below the {runs.low:g} V taken as the least: "
                "the figure of its inside is too high"
            )
            runs = point(ran, "V", Basis.LIVED_ON, runs.name)
        elif ran < runs.high:
            runs = Quantity(low=runs.low, high=ran, unit="V", basis=Basis.LIVED_ON, name=runs.name)
    return harmed, runs


def _draws(device: DeviceWritten, prints: _Prints, notes: _Notes) -> tuple[Quantity, Quantity]:
    """Steady and peak current: as given, else from the device's plate, else from the brick's."""
    own, feed = prints.own_rating, prints.brick_rating
    plate_a = own and (own.current_a or (own.power_w or 0.0) / own.voltage_high_v)
    brick_a = feed and (feed.current_a or (feed.power_w or 0.0) / feed.voltage_high_v)
    steady, peak = device.draws.steady, device.draws.peak
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
    if device.draws.steady is not None:
        low, high = steady.low, PEAK_OF_PLATE[1] * steady.high
    elif plate_a:
        low, high = (factor * plate_a for factor in PEAK_OF_PLATE)
    else:
        low, high = steady.low, steady.high
    if own and own.peak_current_a:
        low = high = own.peak_current_a
    return steady, notes.assume("peak current", low, high, "A", "no peak is given")


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


def _capacitance(device: DeviceWritten, notes: _Notes) -> Quantity:
    capacitor = device.inside.input_capacitor
    if capacitor is not None:
        return notes.given("input capacitance", capacitor.farad)
    if device.inside.is_ == "resistive":
        return notes.assume("input capacitance", 0.0, 10e-6, "F", "a plain resistance")
    return notes.assume("input capacitance", *CAPACITANCE_F, "F", "old gear commonly has this")


def _heat(device: DeviceWritten, prints: _Prints, steady: Quantity, ambient: Quantity) -> Heat:
    """Heat before and after: what it burnt on its old brick, and what its sink can carry."""
    inside = device.inside
    brick = device.brick if prints.brick_is_own else None
    loaded = brick.loaded if brick else None
    lived_v = loaded.volts.low if loaded and loaded.volts.basis is Basis.MEASURED else None
    chip = regulators.find(inside.part) if inside.part else None
    if inside.is_ == "linear regulator" and chip is not None:
        low_k, high_k = SINK_K_PER_W[inside.heat_sink]
        rise = chip.junction_limit_degc - ambient.high - CASE_RISE_K
        low_w, high_w = rise / high_k, rise / low_k
        basis = Basis.ASSUMED
        if lived_v is not None:
            lived_w = max(0.0, lived_v - chip.output_v) * steady.low
            if lived_w > low_w:
                low_w, high_w, basis = lived_w, max(lived_w, high_w), Basis.LIVED_ON
        return Heat(
            regulator=chip,
            allowed_w=unknown(low_w, high_w, "W", basis, f"{device.id}/heat allowed"),
            output_v=unknown(
                chip.output_v * (1 - chip.tolerance),
                chip.output_v * (1 + chip.tolerance),
                "V",
                Basis.DATASHEET,
                f"{device.id}/regulator output",
            ),
            quiescent_a=unknown(
                chip.quiescent_low_a,
                chip.quiescent_high_a,
                "A",
                Basis.DATASHEET,
                f"{device.id}/regulator's own current",
            ),
            cool_up_to_v=None,
        )
    cool = None
    if inside.is_ in ("unknown", "linear regulator", "resistive"):
        low = max(HARMED_ABOVE[0] * (prints.plate_v or prints.low_v or 0.0), lived_v or 0.0)
        if device.ran is not None and device.ran.volts.basis is Basis.MEASURED:
            low = max(low, device.ran.volts.low)
        high = max(HARMED_ABOVE[1] * (prints.high_v or MAINS_FROM_V), low)
        cool = unknown(low, high, "V", name=f"{device.id}/runs cool up to")
    return Heat(regulator=None, allowed_w=None, output_v=None, quiescent_a=None, cool_up_to_v=cool)


def _evidence(device: DeviceWritten, prints: _Prints) -> tuple[Evidence, ...]:
    """Who bears witness to the polarity: each object once."""
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
        add(Observed.BRICK_PRINT, prints.brick.centre if prints.brick else None)
        if old.centre and old.centre.basis is Basis.MEASURED:
            add(Observed.BRICK_METER, old.centre)
    return tuple(dict.fromkeys(found))


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


def _ride_through(device: DeviceWritten, notes: _Notes) -> Quantity:
    if device.ride_through is not None:
        return notes.given("ride-through", device.ride_through)
    return notes.assume("ride-through", 0.0, 5.0, "s", "nobody has timed it")
