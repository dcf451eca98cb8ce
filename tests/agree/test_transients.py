"""The transients of a path against ngspice, a general circuit simulator.

Netlists are written by `netlist` from plain figures; it knows nothing of the program. The
simulator runs with a relative tolerance of 1e-5, a hundredth of its own default, and steps short
enough for its switches: it throws them in the step in which they are passed, not where.
"""

import numpy as np
import pytest
from tests.agree import netlist
from tests.agree.transient_circuits import CIRCUITS
from tests.outages import as_arrays
from tests.outages.plain import Plain, Stage

from sinkside.outages.effort import Effort
from sinkside.outages.integrate import integrate

pytestmark = pytest.mark.skipif(not netlist.available(), reason="ngspice is not installed")

RELTOL = 1e-5
STEP_S, STAGE_STEP_S = 2e-5, 4e-6
"""Longest steps there; where a converter starts with two amperes, every microsecond counts."""
OF_SWING, CROSSING_S = 5e-3, 50e-6
NEAR_S = 5e-6
"""A port is switched over a microsecond there and at once here: so far curves may lie in time."""


def crossings(given: Plain, found: netlist.Waveform) -> list[float]:
    """When the device goes out and comes back, by straight lines between the points."""
    level = found.enabled - 0.5 if given.locks else found.pins_v - given.runs_from_v
    before = np.flatnonzero((level[1:] > 0) != (level[:-1] > 0))
    share = level[before] / (level[before] - level[before + 1])
    spans = found.t_s[before + 1] - found.t_s[before]
    return [float(t) for t in found.t_s[before] + share * spans]


def test_there_are_enough_circuits_of_every_kind() -> None:
    kinds = {p.power_w > 0 for c in CIRCUITS.values() for p in c.pieces}
    assert len(CIRCUITS) >= 24
    assert kinds == {True, False}


@pytest.mark.parametrize("name", CIRCUITS)
def test_waveform_and_crossings(name: str) -> None:
    given = CIRCUITS[name]
    stage = any(isinstance(b, Stage) for b in given.branches)
    found = netlist.simulate(given, reltol=RELTOL, longest_s=STAGE_STEP_S if stage else STEP_S)
    inside = found.t_s < given.corners[-1][0] - 2 * NEAR_S
    times = found.t_s[inside]
    grid = np.unique(np.concatenate([times, times - NEAR_S, times + NEAR_S]).clip(0.0))
    outcome = integrate(
        as_arrays.circuit(given), as_arrays.course(given), grid_s=grid, accounts=True
    )
    assert outcome.trace is not None
    curve = outcome.trace.pins_v[0]
    swing = np.ptp(found.pins_v)
    near = np.stack([np.interp(times + d, grid, curve) for d in (-NEAR_S, 0.0, NEAR_S)])
    off = np.maximum(
        found.pins_v[inside] - near.max(axis=0), near.min(axis=0) - found.pins_v[inside]
    )
    assert off.max() / swing <= OF_SWING

    own, theirs = outcome.changes_s[0], crossings(given, found)
    assert len(own) == len(theirs)
    for ours, other in zip(own, theirs, strict=True):
        assert abs(ours - other) <= CROSSING_S


@pytest.mark.parametrize("name", CIRCUITS)
def test_a_hundred_times_tighter_changes_nothing_that_matters(name: str) -> None:
    """The usual tolerance against its hundredth: the same count, and crossings within 50 µs."""
    given = CIRCUITS[name]
    circuit, course = as_arrays.circuit(given), as_arrays.course(given)
    grid = np.linspace(0.0, 0.499, 500)
    usual = integrate(circuit, course, grid_s=grid)
    tight = integrate(circuit, course, effort=Effort(relative=1e-5, absolute=1e-6), grid_s=grid)
    assert usual.trace is not None
    assert tight.trace is not None
    swing = np.ptp(tight.trace.pins_v)
    assert np.abs(usual.trace.pins_v - tight.trace.pins_v).max() / swing <= OF_SWING
    assert len(usual.changes_s[0]) == len(tight.changes_s[0])
    assert np.allclose(usual.changes_s[0], tight.changes_s[0], rtol=0.0, atol=CROSSING_S)
