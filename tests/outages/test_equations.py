"""Constant powers behind a resistance, and the linearised equations, against difference quotients.

The current of a constant power is the high root of V·I − R·I² = P (textbook).
"""

from dataclasses import replace

import numpy as np
import pytest
from tests.outages import as_arrays
from tests.outages.plain import LOADS, Plain, Shunt, Stage, Wire

from sinkside.outages.compiled import Drive, compiled
from sinkside.outages.equations import Equations, Line, Lines, followed, power_current
from sinkside.outages.modes import DeviceMode, PortMode, StageMode
from sinkside.outages.network import DEVICE, PIECE, PORT, Network


def test_a_constant_power_takes_the_high_root() -> None:
    volts, ohm, watts = np.array([20.0, 9.0]), np.array([1.0, 0.5]), np.array([75.0, 5.0])
    amps = power_current(volts, ohm, watts)
    assert amps * (volts - ohm * amps) == pytest.approx(watts)
    assert (volts - ohm * amps > volts / 2.0).all()


def test_without_a_root_it_takes_the_most_that_can_be_had() -> None:
    """V²/4R at half the volts: 20 V behind 1 Ω give 100 W and no more."""
    for watts in (100.0, 100.1, 1e6):
        amps = power_current(np.array([20.0]), np.array([1.0]), np.array([watts]))
        assert amps == pytest.approx(10.0)


def test_how_it_follows() -> None:
    draw = np.random.default_rng(3)
    volts, ohm = draw.uniform(5.0, 20.0, 200), draw.uniform(0.05, 2.0, 200)
    watts = draw.uniform(0.05, 0.95, 200) * volts**2 / (4.0 * ohm)
    amps = power_current(volts, ohm, watts)
    by_volts, by_watts = followed(volts, ohm, amps)
    step = 1e-6
    up = power_current(volts + step, ohm, watts) - power_current(volts - step, ohm, watts)
    assert by_volts == pytest.approx(up / (2 * step), rel=1e-5, abs=1e-7)
    up = power_current(volts, ohm, watts + step) - power_current(volts, ohm, watts - step)
    assert by_watts == pytest.approx(up / (2 * step), rel=1e-5, abs=1e-7)


STAGE = Stage(direction="step-down", set_v=5.0, ratio=0.9, starts_v=6.5, stops_v=5.6)
CIRCUIT = Plain(
    name="everything",
    branches=(Wire(ohm=0.2), Wire(ohm=0.3, henry=1e-3), STAGE, Wire(ohm=0.15)),
    shunts=(
        Shunt(farad=10e-6),
        Shunt(),
        Shunt(farad=100e-6, esr_ohm=0.05),
        Shunt(),
        Shunt(farad=470e-6, esr_ohm=0.1),
    ),
    **LOADS.power,  # type: ignore[arg-type]
)


@pytest.mark.parametrize(
    "stage", [StageMode.HOLDS, StageMode.PASSES, StageMode.LIMITS, StageMode.STARTS]
)
def test_the_jacobian_is_what_the_slopes_do(stage: StageMode) -> None:
    network = Network(as_arrays.circuit(CIRCUIT))
    modes = network.start()
    modes[PORT], modes[PIECE], modes[DEVICE] = PortMode.HOLDS, 0, DeviceMode.RUNS
    modes[network.mode_of[2]] = stage
    drive = Drive(bleed_s=np.zeros(1), limit_a=np.full(1, 20.0))
    rows, _ = compiled(network, np.arange(1), modes, drive)
    zero = np.zeros(1)
    lines = Lines(
        port=Line(from_s=zero, v=np.array([9.0]), v_per_s=np.array([300.0])),
        ramp=Line(from_s=zero, v=zero, v_per_s=zero),
        start=Line(from_s=zero, v=np.array([4.9]), v_per_s=np.array([1600.0])),
    )
    equations = Equations(network, rows, np.array([5.0]), lines)
    y = np.array([[8.9], [8.5], [4.7], [0.6]])
    t = np.array([2e-3])
    jacobian, drift = equations.linearised(equations.vector(t, y))
    step = 1e-6
    for state in range(4):
        moved = np.zeros((4, 1))
        moved[state] = step
        quotient = (equations.slope(t, y + moved) - equations.slope(t, y - moved)) / (2 * step)
        size = np.abs(quotient).max()
        assert jacobian[:, state] == pytest.approx(quotient, rel=1e-4, abs=1e-5 * size)
    quotient = (equations.slope(t + step, y) - equations.slope(t - step, y)) / (2 * step)
    assert drift == pytest.approx(quotient, rel=1e-4, abs=1e-5 * np.abs(quotient).max())


def test_a_converter_is_continuous_where_it_comes_to_full_duty() -> None:
    """At V_in = V_set/ratio its output and its input current are the same in either mode."""
    network = Network(as_arrays.circuit(CIRCUIT))
    found = []
    for stage in (StageMode.HOLDS, StageMode.PASSES):
        modes = network.start()
        modes[PORT], modes[PIECE] = PortMode.HOLDS, 0
        modes[network.mode_of[2]] = stage
        drive = Drive(bleed_s=np.zeros(1), limit_a=np.full(1, 20.0))
        rows, unknowns = compiled(network, np.arange(1), modes, drive)
        zero = np.zeros(1)
        still = Line(from_s=zero, v=zero, v_per_s=zero)
        lines = Lines(port=replace(still, v=np.array([9.0])), ramp=still, start=still)
        equations = Equations(network, rows, np.array([3.0]), lines)
        # Without current through its resistance the capacitor stands at the converter's input.
        y = np.array([[5.6], [5.0 / 0.9], [4.9], [0.0]])
        for _ in range(200):
            x = equations.vector(zero, y)
            into = np.einsum("rcn,cn->rn", unknowns, x)[network.into_a[2]]
            y[3] = into
        found.append(np.einsum("rcn,cn->rn", unknowns, equations.vector(zero, y)))
    # The leak of the node, 1 µS, is not in that.
    assert found[0] == pytest.approx(found[1], rel=1e-5, abs=1e-5)
