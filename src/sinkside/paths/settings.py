"""Volts that are worth setting a part to, for one device: converters and programmable triggers."""

import math
from collections.abc import Callable
from functools import lru_cache

from sinkside.parts.part import SET_TOLERANCE
from sinkside.rules.verdict import TOUCH
from sinkside.site.appliance import Appliance
from sinkside.standards.pd_contract import PPS_TOLERANCE

# What fuse, soft start and lead behind a converter may come to: for a large fuse, and a small one.
BEHIND_OHM = (0.3, 0.5, 0.8)
# What cable, trigger and lead may come to where nothing converts between; and a fuse that just
# carries the device, in volts at its rating, of which there are none much smaller.
TO_THE_PINS_OHM = 0.6
FUSE_V, SMALLEST_FUSE_A = 0.2, 0.3
# The step of a programmable request (USB PD 6.4.2, read in Linux pd.h).
PPS_STEP_MV = 20


@lru_cache(maxsize=1000)
def settings(appliance: Appliance) -> tuple[float, ...]:
    """Volts worth setting a converter to.

    As low as the device surely runs from, what its plate says, and as high as it has proved
    to run cool enough; each only if it does not surely harm.
    """
    least, peak = appliance.runs_from_v.high, appliance.peak_a.high
    wanted = {math.ceil(10 * (least + ohm * peak) / (1 - SET_TOLERANCE)) / 10 for ohm in BEHIND_OHM}
    if appliance.plate_v:
        wanted.add(appliance.plate_v)
    cool = appliance.heat.cool_up_to_v
    if cool is not None:
        wanted.add(math.floor(10 * cool.low / (1 + SET_TOLERANCE)) / 10)
    top = appliance.harmed_above_v.high
    return tuple(sorted(v for v in wanted if v * (1 + SET_TOLERANCE) <= top))


@lru_cache(maxsize=1000)
def asked_volts(appliance: Appliance) -> tuple[float, ...]:
    """Programmable volts worth asking for, in steps of 20 mV.

    As low as the device surely runs from at its peak, or as high as surely does not harm it
    where that is less; what its plate says; and as high as it has proved to run cool enough.
    Each only if it does not surely harm.
    """
    least, peak = appliance.runs_from_v.high, appliance.peak_a.high
    if "constant power" in appliance.laws and least > 0.0:
        peak *= max(1.0, appliance.reference_v / least)
    ohm = TO_THE_PINS_OHM + FUSE_V / max(SMALLEST_FUSE_A, appliance.steady_a.high)
    enough = _step((least + ohm * peak) / (1 - PPS_TOLERANCE), math.ceil)
    harmless = _step(appliance.harmed_above_v.low / (1 + PPS_TOLERANCE), math.floor)
    wanted = {harmless if least < harmless < enough else enough}
    if appliance.plate_v:
        wanted.add(_step(appliance.plate_v, math.floor))
    cool = appliance.heat.cool_up_to_v
    if cool is not None:
        wanted.add(_step(cool.low / (1 + PPS_TOLERANCE), math.floor))
    top = appliance.harmed_above_v.high + TOUCH
    return tuple(sorted(v for v in wanted if 0.0 < v * (1 + PPS_TOLERANCE) <= top))


def _step(volts: float, to: Callable[[float], int]) -> float:
    """Volts that a request can have; a float that is a whole step already stays there."""
    return to(round(volts * 1000.0, 6) / PPS_STEP_MV) * PPS_STEP_MV / 1000.0
