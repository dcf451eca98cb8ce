"""Charge and energy add up in every run: no outside source, Kirchhoff and Tellegen hold by law.

Circuits are drawn at random from every kind of branch, shunt and load, and led through random
courses with and without limits. What leaves the port is in the load, in heat or stored.
"""

import numpy as np
import pytest
from tests.outages import as_arrays
from tests.outages.plain import (
    Charging,
    Plain,
    Ramp,
    Shunt,
    Stage,
    Wire,
    current,
    power,
    regulator,
    resistance,
)

from sinkside.outages.integrate import integrate

SEEDS = range(60)
GAP = 2e-3


def drawn(seed: int) -> Plain:
    """A random circuit; the same seed gives the same."""
    draw = np.random.default_rng(seed)
    branches: list[Wire | Ramp | Stage] = []
    shunts = [Shunt()]
    for kind in draw.permutation(["wire", "diode", "choke", "ramp", "stage"])[
        : draw.integers(1, 4)
    ]:
        match kind:
            case "wire":
                branches.append(Wire(ohm=draw.uniform(0.05, 0.5)))
            case "diode":
                branches.append(Wire(ohm=draw.uniform(0.05, 0.5), forward_v=draw.uniform(0.2, 0.8)))
            case "choke":
                branches.append(Wire(ohm=draw.uniform(0.1, 0.5), henry=10 ** draw.uniform(-5, -3)))
                shunts[-1] = filled(draw)
            case "ramp":
                branches.append(
                    Ramp(rate_v_per_s=draw.uniform(60, 400), every_step=bool(draw.integers(2)))
                )
            case "stage":
                branches.append(
                    Stage(
                        direction="step-down",
                        set_v=draw.uniform(4.0, 6.5),
                        ratio=draw.uniform(0.85, 0.99),
                        starts_v=draw.uniform(5.5, 7.0),
                        stops_v=draw.uniform(4.5, 5.3),
                        limit_a=draw.uniform(0.8, 3.0),
                    )
                )
                shunts[-1] = filled(draw)
        shunts.append(filled(draw) if draw.integers(2) else Shunt(siemens=draw.uniform(0, 0.01)))
    branches.append(Wire(ohm=draw.uniform(0.05, 0.3)))
    shunts.append(filled(draw, beside=False))
    loads = (
        resistance(draw.uniform(8, 50)),
        current(draw.uniform(0.05, 0.6), draw.uniform(1.0, 3.0)),
        power(draw.uniform(0.5, 5.0), draw.uniform(2.5, 3.5), draw.uniform(3.8, 4.4)),
        regulator(draw.uniform(2.0, 3.0), draw.uniform(0.5, 1.5), draw.uniform(8, 40)),
    )
    return Plain(
        name=f"drawn {seed}",
        branches=tuple(branches),
        shunts=tuple(shunts),
        limit_a=draw.uniform(1.0, 8.0),
        bleed_ohm=draw.uniform(50, 1500),
        **loads[draw.integers(len(loads))],  # type: ignore[arg-type]
    )


def filled(draw: np.random.Generator, *, beside: bool = True) -> Shunt:
    """A capacitor, across or beside."""
    farad, esr = 10 ** draw.uniform(-5, -2), draw.uniform(0.005, 0.2)
    if not beside or draw.integers(3):
        return Shunt(farad=farad, esr_ohm=esr)
    way = Charging(
        ohm=draw.uniform(2.0, 20.0), forward_v=0.4, slope_ohm=0.1, own_siemens=draw.uniform(0, 0.01)
    )
    return Shunt(farad=farad, esr_ohm=esr, charging=way)


@pytest.mark.parametrize("seed", SEEDS)
def test_charge_and_energy_add_up(seed: int) -> None:
    given = drawn(seed)
    found = integrate(as_arrays.circuit(given), as_arrays.course(given), accounts=True).accounts
    assert found is not None
    assert found.charge_gap[0] <= GAP
    assert found.energy_gap[0] <= GAP
    # Heat is never negative, and no run gives back more than it got.
    assert found.lost_j[0] >= 0.0
    assert found.load_j[0] + found.lost_j[0] >= -1e-9
    assert found.port_j[0] + 1e-9 >= found.stored_j[0]
