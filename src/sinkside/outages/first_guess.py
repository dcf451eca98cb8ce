"""What the closed forms say of a reservoir at one place of a chain: the first guess."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.outages import closed_forms
from sinkside.outages.assumed import limit_a
from sinkside.outages.cases import Case, timed
from sinkside.outages.reservoir_parts import (
    DIODE_OHM,
    DIODE_V,
    FUSE_DROP_V,
    RAMP_TOLERANCE,
    SWITCH_OHM,
)
from sinkside.parts.part import Part
from sinkside.paths.rails import fed
from sinkside.paths.values import series_ohm

# Of what the port gives, this part may go into charging.
CHARGE_SHARE = 0.8
# A new reservoir has about so many times the capacitance of an old one.
NEW_OVER_OLD = 1.9
# A bleeder beside the feed is at least so many times its charging resistor, and so keeps no more
# than this part of the volts from it.
BLEED_OVER_CHARGE = 20.0


Arrangement: TypeAlias = Literal["in the feed", "beside the feed"]


@dataclass(frozen=True, kw_only=True)
class Guess:
    """A first guess.

    Parameters
    ----------
    needs_f
        Capacitance that has to be left of an old reservoir; infinite where none will do.
    from_v, to_v
        Volts of the reservoir at rest, at least, and the least that will do.
    high_v
        Volts that it may stand at.
    load_a
        What the load draws, at most.
    spare_a
        What the port has left for charging.
    seconds
        How long it has to feed the load, what charging adds left aside.
    why
        Why none will do.
    """

    needs_f: float
    from_v: float
    to_v: float
    high_v: float
    load_a: float
    spare_a: float
    seconds: float
    why: str = ""


def first_guess(case: Case, at: int, arrangement: Arrangement) -> Guess:
    """The closed forms for a reservoir before the part of that number.

    Notes
    -----
    C = 2P·t/(V₁² − V₂²) and C = I·t/(V₁ − V₂), the larger of those whose law may hold. V₁ is
    what the feed gives at least, less diode, switch and resistance at the load's current; V₂
    what the device runs from at most, and the drop behind; before a converter, what that needs;
    beside the feed, one diode more. The device's own capacitor is left out.

    In the feed the ramp has to climb to V₂ again before the feed takes over, and it takes the
    longer the larger the reservoir: t = T + k·C. With h seconds held up by a farad,
    C = T/(h − k); where k is not below h, no reservoir is large enough, for it is charged more
    slowly than it is emptied.                                                        Eq. (1)
    """
    front, device = case.front, fed(case.front, case.appliance)
    states = [*case.happening.after, *([case.happening.before] if case.happening.before else [])]
    converter, seconds = front.converter, _seconds(case)
    constant = set(device.laws) - {"constant power"}
    amps = device.steady_a.high if constant else 0.0
    watts = device.steady_a.high * device.reference_v if "constant power" in device.laws else 0.0
    low_v, high_v = min(s.low_v for s in states), max(s.high_v for s in states)
    runs_v = max(device.runs_from_v.high, 0.1)
    if converter is not None and at <= front.split:
        # Before a converter everything is a constant power.
        watts = max(converter.gives_v.high * amps, watts) / converter.efficiency.low
        amps = 0.0
        headroom = converter.headroom_v.high if converter.direction == "step-down" else 0.0
        needs_v = converter.gives_v.low + headroom if headroom else 0.0
        runs_v = max(needs_v, converter.accepts_low_v)
    elif converter is not None:
        low_v, high_v = converter.gives_v.low, converter.gives_v.high
    load_a = max(amps, watts / runs_v)
    beside = arrangement == "beside the feed"
    switch = 0.0 if beside else SWITCH_OHM[1]
    from_v = low_v - DIODE_V[1] - load_a * (_ohm(front.parts[:at]) + DIODE_OHM[1] + switch)
    to_v = runs_v + load_a * _ohm(front.parts[at:])
    if beside:
        from_v *= BLEED_OVER_CHARGE / (BLEED_OVER_CHARGE + 1.0)
        to_v += DIODE_V[1] + load_a * DIODE_OHM[1] + FUSE_DROP_V[1]
    trips = min(limit_a(front, s).low for s in case.happening.after)
    spare_a = max(CHARGE_SHARE * trips - load_a, 0.0)
    needs, why = math.inf, "there are too few volts to spare for its diodes"
    if from_v > to_v and spare_a > 0.0:
        held = _held_s(from_v, to_v, amps, watts)
        climbs = 0.0 if beside else _climbs_s(to_v, spare_a)
        needs = seconds / (held - climbs) if held > climbs else math.inf
        why = "it would be charged more slowly than it is emptied"
    return Guess(
        needs_f=needs,
        from_v=from_v,
        to_v=to_v,
        high_v=high_v,
        load_a=load_a,
        spare_a=spare_a,
        seconds=seconds,
        why=why,
    )


def _held_s(from_v: float, to_v: float, amps: float, watts: float) -> float:
    """Seconds that one farad holds up, the shorter of the laws that may hold."""
    held = [closed_forms.constant_power_s(1.0, from_v, to_v, watts)] if watts else []
    if amps:
        held.append(closed_forms.constant_current_s(1.0, from_v, to_v, amps, 0.0))
    return min(held, default=math.inf)


def _climbs_s(to_v: float, spare_a: float) -> float:
    """Seconds that a ramp, slow enough for one farad when new, climbs to the least volts."""
    slow = (1.0 + RAMP_TOLERANCE) / (1.0 - RAMP_TOLERANCE)
    return slow * closed_forms.ramp_s(NEW_OVER_OLD, to_v, spare_a)


def _seconds(case: Case) -> float:
    """How long it has to be bridged, at most: what the device itself rides through is off it."""
    schedule = case.happening.schedule
    gap = schedule.contract_absent_s()[1] if schedule else 0.0
    rides = case.appliance.ride_through_s.low if timed(case.appliance) else 0.0
    return max(gap - rides, 1e-3)


def _ohm(parts: Sequence[Part]) -> float:
    return sum(q.high for q in series_ohm(tuple(parts)))
