"""What is concluded from a.c. readings, held against the circuit that gives them, walked in time.

A transformer behind some ohms, its top flattened or not, a full bridge of 0.7 V diodes, a
capacitor and a constant current: Ohm's law and C·dV/dt, in 1 000 steps a period.
"""

from dataclasses import dataclass
from functools import cache
from itertools import product

import numpy as np
import pytest
from tests.site.devices import BARREL, surveyed

STEPS, PERIODS, KEPT = 1_000, 30, 4
DIODE_V = 0.7
CASES = list(product((0.3, 2.0, 6.0), (0.05, 0.2, 0.5), (1e-3, 4.7e-3), (1.0, 0.93), (50.0, 60.0)))


@dataclass(frozen=True)
class Walked:
    """What a meter reads before the bridge, and what there is behind it."""

    open_rms_v: float
    open_peak_v: float
    rms_v: float
    rms_a: float
    trough_v: float
    mean_v: float


@cache
def walked(ohm: float, load_a: float, farad: float, flat: float, mains_hz: float) -> Walked:
    step = 1.0 / (mains_hz * STEPS)
    one = 16.5 * np.clip(np.sin(2.0 * np.pi * np.arange(STEPS) / STEPS), -flat, flat)
    behind = float(one.max()) - 2.0 * DIODE_V
    at_inlet, amps, volts = [], [], []
    for n in range(PERIODS * STEPS):
        source = abs(float(one[n % STEPS]))
        now = max(0.0, (source - 2.0 * DIODE_V - behind) / ohm)
        behind = max(0.0, behind + (now - load_a) * step / farad)
        if n >= (PERIODS - KEPT) * STEPS:
            at_inlet.append(source - now * ohm)
            amps.append(now)
            volts.append(behind)
    return Walked(
        open_rms_v=_rms(one),
        open_peak_v=float(one.max()),
        rms_v=_rms(np.array(at_inlet)),
        rms_a=_rms(np.array(amps)),
        trough_v=min(volts),
        mean_v=float(np.mean(volts)),
    )


def _rms(values: np.ndarray) -> float:
    return float(np.sqrt((values**2).mean()))


@pytest.mark.parametrize("inside", ["is: linear regulator", "is: lamp"])
@pytest.mark.parametrize("case", CASES)
def test_nothing_is_concluded_that_the_circuit_does_not_bear_out(
    case: tuple[float, float, float, float, float], inside: str
) -> None:
    ohm, load_a, farad, flat, mains_hz = case
    true = walked(ohm, load_a, farad, flat, mains_hz)
    found = surveyed(
        BARREL,
        f"inside: {{{inside}, in_front: full bridge without tap (measured), "
        f"input_capacitor: {farad * 1e6:g} µF 35 V}}",
        f"brick: {{kind: ac (measured), open: {true.open_rms_v:.6f} V (measured), "
        f"loaded: {true.rms_v:.6f} V at {true.rms_a:.6f} A (measured)}}",
    )
    # The current: what flows behind the bridge lies in what is taken of what flows before it.
    assert found.steady_a.low <= load_a <= found.steady_a.high
    # It stood the peak less two diodes at light load; switched off they keep off 0.3 V of d.c.
    assert found.harmed_above_v.low - 2.0 * 0.3 <= true.open_peak_v - 2.0 * 0.5 + 1e-6
    # It ran: with so many volts at the inlet it has at least those that it had.
    had_v = true.trough_v if inside == "is: linear regulator" else true.mean_v
    assert found.runs_from_v.high >= had_v + 2.0 * DIODE_V - 1e-6
    # It kept cool: with no more at the inlet, and least on the diodes, it burns no more.
    assert found.heat.cool_up_to_v is not None
    assert found.heat.cool_up_to_v.low - 2.0 * 0.5 <= true.mean_v + 1e-6
