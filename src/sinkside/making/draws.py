"""What may hang on a plug at the bench: nothing, a dummy load, the device at work or at peak."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.physics import loads
from sinkside.physics.operating_point import Load
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance, Law

Array: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Draw:
    """A load of which not everything is known: its ends, one entry of the arrays for each.

    Parameters
    ----------
    load
        Shape (ends,).
    nominal
        Shape (1,): the same with everything in its middle.
    idle
        Whether nothing but the meter hangs there.
    """

    load: Load
    nominal: Load
    idle: bool = False


def nothing() -> Draw:
    """No load: what a meter takes is left out (10 MΩ at 20 V is 2 µA)."""
    none = _load(np.zeros(1))
    return Draw(load=none, nominal=none, idle=True)


def resistor(ohm: float, tolerance: float) -> Draw:
    """A dummy load of so many ohms."""
    ends = 1.0 / (ohm * np.array([1.0 + tolerance, 1.0 - tolerance]))
    return Draw(
        load=_load(np.zeros(2), siemens=ends),
        nominal=_load(np.zeros(1), siemens=np.array([1.0 / ohm])),
    )


def at_work(appliance: Appliance) -> Draw:
    """A device at its steady current, under each way in which that may hang on the volts."""
    return _device(appliance, appliance.steady_a, appliance.steady_a.value)


def at_peak(appliance: Appliance) -> Draw:
    """A device at its peak; a peak is never less than the steady current."""
    low, high = (
        max(getattr(appliance.peak_a, end), getattr(appliance.steady_a, end))
        for end in ("low", "high")
    )
    peak = Quantity(low=low, high=high, unit="A")
    return _device(appliance, peak, max(appliance.peak_a.value, appliance.steady_a.value))


def _device(appliance: Appliance, amps: Quantity, middle_a: float) -> Draw:
    ends = np.array([amps.low, amps.high])
    found = [load for law in appliance.laws for load in _under(appliance, law, ends)]
    middle = next(_under(appliance, appliance.laws[0], np.array([middle_a])))
    return Draw(load=_all(found), nominal=middle)


def _under(appliance: Appliance, law: Law, amps: Array) -> Iterator[Load]:
    """A current at the reference volts as a load.

    Lit diodes are a straight line above their knee (`loads.diodes_a`): I = I₁·(V − V_f)/(V₁ − V_f),
    which is a conductance less a constant current. The knee lies anywhere up to the most that the
    judge allows for; without a knee they are a resistance.
    """
    volts = appliance.reference_v
    match law:
        case "constant current":
            yield loads.constant_current(amps)
        case "constant power":
            yield loads.constant_power(amps, volts)
        case "resistance":
            yield loads.resistance(amps, volts)
        case "lit diodes":
            knee = min(loads.KNEE_OF_RATED * volts, appliance.runs_from_v.high)
            siemens = amps / (volts - knee)
            yield _load(-siemens * knee, siemens=siemens)
            yield loads.resistance(amps, volts)


def _load(amps: Array, siemens: Array | None = None) -> Load:
    zero = np.zeros_like(amps)
    return Load(constant_a=amps, power_w=zero, conductance_s=zero if siemens is None else siemens)


def _all(found: Sequence[Load]) -> Load:
    return Load(
        constant_a=np.concatenate([x.constant_a for x in found]),
        power_w=np.concatenate([x.power_w for x in found]),
        conductance_s=np.concatenate([x.conductance_s for x in found]),
    )
