"""What a front and a device give to the symbols of the rules, seen through a view.

The one place where parts and appliances become numbers. `quantities_of` tells which
quantities stand behind a symbol, for the workings and for what to measure.
"""

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.elements import Diode, RampSwitch, Resistance
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.states import State
from sinkside.paths.views import View
from sinkside.physics import loads
from sinkside.physics.operating_point import Load
from sinkside.quantity import Basis, Quantity, point, unknown, varies
from sinkside.site.appliance import Appliance, Law
from sinkside.standards.pd_contract import (
    OVERCURRENT_TRIP_HIGH,
    OVERCURRENT_TRIP_LOW,
    SLEW_LIMIT_V_PER_S,
)

Array: TypeAlias = NDArray[np.float64]

# A part carries half as much again as its rating for as long as a fault may last: what a
# 3 A cable must stand behind a source that trips at up to 1.5 × (common practice, no source).
FAULT_OF_RATING = 1.5
# Where a converter limits, in units of its rating: datasheets of common chips say little over
# their rating to two and a half times it (from memory).
CONVERTER_LIMIT = (1.1, 2.5)
# More than any charge of old gear asks for.
NEVER_TRIPS_A = 1e6
# How fast a source steps: the limit of the standard, down to a slow source (from memory).
SLOWEST_STEP_V_PER_S = 100.0

NONE = float("inf")


def series_ohm(parts: tuple[Part, ...]) -> tuple[Quantity, ...]:
    """The series resistances of parts; a converter's own is not among them."""
    return tuple(
        ohm
        for part in parts
        for element in part.elements
        for ohm in (
            (element.ohm,)
            if isinstance(element, Resistance)
            else (element.slope_ohm,)
            if isinstance(element, Diode)
            else ()
        )
    )


def ramp_of(front: Front) -> Quantity | None:
    """The ramp time that softens the step to the contract; None if nothing does.

    A plain soft start has done its work when the port's 5 V arrive: behind a trigger that
    passes them on, the later step goes straight through it.
    """
    return next(
        (
            e.ramp_s
            for p in front.parts
            for e in p.elements
            if isinstance(e, RampSwitch) and (e.every_step or front.trigger.gated)
        ),
        None,
    )


def fault_a(front: Front) -> Quantity:
    """Largest current that can flow for long in lead, plug and jack.

    It is the port's trip, or what surely opens a fuse. Behind a converter it is what the
    converter gives before it limits, or what a shorted one lets through; a fuse before it
    does not see the first, one behind it sees both.
    """
    port = OVERCURRENT_TRIP_HIGH * front.charger.largest_a(front.port)
    before = min([port, *_opens(front.parts[: front.split])])
    behind = _opens(front.parts[front.split :])
    converter = front.converter
    low, high = before, before
    if converter is not None:
        low, high = (max(before, ratio * converter.carries_a) for ratio in CONVERTER_LIMIT)
    at = front.parts[min(front.split, len(front.parts) - 1)]
    return limit(min([low, *behind]), min([high, *behind]), at)


def limit(low_a: float, high_a: float, part: Part) -> Quantity:
    """The current that a part lets through in a fault."""
    return unknown(low_a, high_a, "A", name=f"{part.id}/current limit")


def _opens(parts: tuple[Part, ...]) -> list[float]:
    return [f.rated_a * f.opens_at_ratio for p in parts if (f := p.fuse)]


@dataclass(frozen=True, kw_only=True)
class BackValues:
    """A device in numbers, under one law of its current."""

    jack_a: Array
    harm_v: Array
    run_v: Array
    asleep_below_v: Array
    wakes_v: Array
    idle_a: Array
    reference_v: float
    peak_a: Array
    steady_a: Array
    peak_w: Array
    steady_w: Array
    peak_s: Array
    steady_s: Array
    capacitance_f: Array
    allow_w: Array
    output_v: Array
    quiescent_a: Array
    cool_v: Array
    has_regulator: bool
    has_cool: bool
    constant_power: bool


def back_values(appliance: Appliance, law: Law, view: View) -> BackValues:
    """A device seen through a view."""
    zero = np.zeros(view.columns)
    heat = appliance.heat
    steady = view.at(appliance.steady_a, "high")
    # A peak is never less than the steady current, whatever is said of it.
    peak = np.maximum(view.at(appliance.peak_a, "high"), steady)
    starting, running = (_load(appliance, law, amps, view) for amps in (peak, steady))
    power = law == "constant power"
    return BackValues(
        jack_a=FAULT_OF_RATING * view.at(appliance.jack_a, "low"),
        harm_v=view.at(appliance.harmed_above_v, "low"),
        run_v=view.at(appliance.runs_from_v, "high"),
        asleep_below_v=np.full(view.columns, appliance.runs_from_v.low),
        wakes_v=view.at(appliance.runs_from_v, "low"),
        idle_a=view.at(idle(appliance), "low"),
        reference_v=appliance.reference_v,
        peak_a=starting.constant_a,
        steady_a=running.constant_a,
        peak_w=starting.power_w,
        steady_w=running.power_w,
        peak_s=starting.conductance_s,
        steady_s=running.conductance_s,
        capacitance_f=view.at(appliance.capacitance_f, "high"),
        allow_w=view.at(heat.allowed_w, "low") if heat.allowed_w else zero,
        output_v=view.at(heat.output_v, "low") if heat.output_v else zero,
        quiescent_a=view.at(heat.quiescent_a, "high") if heat.quiescent_a else zero,
        cool_v=view.at(heat.cool_up_to_v, "low") if heat.cool_up_to_v else zero,
        has_regulator=heat.regulator is not None,
        has_cool=heat.cool_up_to_v is not None and not power,
        constant_power=power,
    )


def _load(appliance: Appliance, law: Law, amps: Array, view: View) -> Load:
    """What a device draws under one law, from its current at its reference volts."""
    volts = appliance.reference_v
    match law:
        case "constant current":
            return loads.constant_current(amps)
        case "constant power":
            return loads.constant_power(amps, volts)
        case "resistance":
            return loads.resistance(amps, volts)
        case "lit diodes":
            # It runs, so they are lit; and over its damage limit another rule has spoken.
            runs, top = appliance.runs_from_v, max(appliance.harmed_above_v.low, volts)
            knee = np.minimum(loads.KNEE_OF_RATED * volts, view.at(runs, "high"))
            lit = unknown(min(runs.low, top), top, "V", name=f"{appliance.id}/volts on its diodes")
            return loads.lit_diodes(amps, volts, knee, view.at(lit, "high"))


def idle(appliance: Appliance) -> Quantity:
    """What a device draws while it idles: nothing is known of it but that it is no more."""
    if appliance.idle_a is not None:
        return appliance.idle_a
    return unknown(0.0, appliance.steady_a.high, "A", name=f"{appliance.id}/idle current")


def offer(front: Front, state: State) -> Quantity:
    """The current that a state promises."""
    topic = "advertised current" if front.trigger.by_resistors else "sharing"
    if state.offer_low_a == state.offer_high_a:
        return point(state.offer_low_a, "A", Basis.PLATE, f"{front.charger.id}/offer")
    return unknown(state.offer_low_a, state.offer_high_a, "A", name=f"{front.charger.id}/{topic}")


def trip(front: Front, state: State) -> Quantity:
    """The current at which the port lets go: at least a little over what it promised."""
    promised = offer(front, state)
    largest = front.charger.largest_a(front.port)
    if state.kind == "before contract":
        # Its hardware is made for the 5 V of its list, whatever it advertises until then.
        five = front.charger.five_v_a(front.port)
        promised = point(five, "A", Basis.PLATE, f"{front.charger.id}/offer")
    elif front.trigger.programmable_v is not None:
        # Programmable volts give way at the limit instead of tripping (USB PD 7.1.4.4, read in a
        # secondary text): a long charge may pass, or the source may give up on it.
        low = OVERCURRENT_TRIP_LOW * promised.low
        return unknown(low, max(low, NEVER_TRIPS_A), "A", name=f"{front.charger.id}/limit")
    if not promised.known:
        return unknown(
            OVERCURRENT_TRIP_LOW * promised.low,
            OVERCURRENT_TRIP_LOW * promised.high,
            "A",
            name=promised.name,
        )
    return varies(
        OVERCURRENT_TRIP_LOW * promised.low,
        OVERCURRENT_TRIP_HIGH * max(largest, promised.high),
        "A",
        Basis.ASSUMED,
        f"{front.charger.id}/trip",
    )


def rise(front: Front) -> Quantity:
    """How fast the volts rise at the inlet without a soft start."""
    return unknown(
        SLOWEST_STEP_V_PER_S, SLEW_LIMIT_V_PER_S, "V/s", name=f"{front.charger.id}/step speed"
    )


def quantities_of(
    symbol: str, front: Front, appliance: Appliance, state: State
) -> tuple[Quantity, ...]:
    """The quantities behind a symbol."""
    converter = front.converter
    behind = series_ohm(front.parts[front.split + 1 :])
    before = series_ohm(front.parts[: front.split])
    converting = (
        (converter.gives_v, converter.efficiency, converter.quiescent_a) if converter else ()
    )
    volts = varies(state.low_v, state.high_v, "V", Basis.STANDARD, f"{front.charger.id}/volts")
    heat = appliance.heat
    table: dict[str, tuple[Quantity | None, ...]] = {
        "V_harm": (appliance.harmed_above_v,),
        "V_run": (appliance.runs_from_v,),
        "V_feed_high": (converter.gives_v,) if converter else (volts,),
        "V_feed_low": (converter.gives_v,) if converter else (volts,),
        "V_port_high": (volts,),
        "V_port_low": (volts,),
        "R_feed": behind if converter else before,
        "R_front": before,
        "I_in": (appliance.peak_a,),
        "I_steady": (appliance.steady_a,),
        "I_port": (appliance.peak_a, *converting),
        "I_conv": (appliance.peak_a, *converting),
        "I_start": (appliance.peak_a, appliance.runs_from_v),
        "K_long": (front.charger.long_share(),),
        "I_idle": (idle(appliance),),
        "I_cut": (front.charger.cuts_off_a,),
        "J_fuse": tuple(p.fuse.melts_a2s for p in front.parts if p.fuse),
        "J_rush": (appliance.capacitance_f,),
        "I_port_steady": (appliance.steady_a, *converting),
        "I_through": (appliance.steady_a, *converting),
        "P_load": (appliance.peak_a,),
        "V_needs": (converter.gives_v, converter.headroom_v) if converter else (),
        "I_weakest": (appliance.jack_a,),
        "I_fault": (fault_a(front),),
        "I_offer": (offer(front, state),),
        "I_trip": (trip(front, state),),
        "C_in": (appliance.capacitance_f,),
        "S_rise": (volts, ramp_of(front)) if ramp_of(front) else (rise(front),),
        "P_allow": (heat.allowed_w,),
        "V_out": (heat.output_v,),
        "I_q": (heat.quiescent_a,),
        "V_cool": (heat.cool_up_to_v,),
    }
    return tuple(q for q in table.get(symbol, ()) if q is not None)
