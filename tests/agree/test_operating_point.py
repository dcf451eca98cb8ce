"""The closed form of the operating point against a root finder and a circuit simulator.

`scipy.optimize.brentq` brackets the same root of V₀ − R·I(V) = V; ngspice solves the netlist.
Neither knows the closed form. Its matched-load limit V²/4R is textbook arithmetic.
"""

import re
import shutil
import subprocess
from pathlib import Path

import numpy as np
import pytest
from scipy.optimize import brentq
from tests.paths import small_parts as small

from sinkside.paths.judge import CORNERS, symbols_of
from sinkside.paths.judge import Path as Chain
from sinkside.paths.rows import rows_of
from sinkside.physics.operating_point import Load, operating_point

POINTS = 3000


def random_points() -> tuple[np.ndarray, np.ndarray, Load]:
    """Points of which a third lies well inside, a third near the limit, a third beyond it."""
    draw = np.random.default_rng(20)
    volts = draw.uniform(4.0, 50.0, POINTS)
    ohm = 10 ** draw.uniform(-3.0, 1.0, POINTS)
    amps = draw.uniform(0.0, 0.5, POINTS) * volts / ohm * draw.integers(0, 2, POINTS)
    siemens = draw.uniform(0.0, 1.0, POINTS) * draw.integers(0, 2, POINTS)
    rest = volts - ohm * amps
    most = rest**2 / (4 * ohm * (1 + ohm * siemens))
    near = np.array([-1e-3, -1e-6, -1e-9, 1e-9, 1e-6, 1e-3])
    share = np.where(
        np.arange(POINTS) % 3 == 0,
        draw.uniform(0.0, 0.95, POINTS),
        np.where(
            np.arange(POINTS) % 3 == 1,
            1 + near[draw.integers(0, len(near), POINTS)],
            draw.uniform(1.01, 3.0, POINTS),
        ),
    )
    return volts, ohm, Load(constant_a=amps, power_w=share * most, conductance_s=siemens)


def excess(v: float, source: float, r: float, amps: float, watts: float, siemens: float) -> float:
    """What the source can bring at those volts beyond what the load takes, times R."""
    return v * (source - v - r * (amps + siemens * v)) - r * watts


def test_both_roots_agree_with_a_root_finder() -> None:
    volts, ohm, load = random_points()
    found = operating_point(volts, ohm, load)
    checked = 0
    for k in range(POINTS):
        source, r, watts = volts[k], ohm[k], load.power_w[k]
        args = (source, r, load.constant_a[k], watts, load.conductance_s[k])
        top = (source - r * load.constant_a[k]) / (1 + r * load.conductance_s[k])
        if excess(top / 2, *args) <= 0.0:  # the parabola does not reach up: no working point
            assert np.isnan(found.v[k]) or found.spare_w[k] == pytest.approx(0.0, abs=1e-9 * watts)
            continue
        if watts == 0.0:
            continue
        high = brentq(excess, top / 2, top, args, xtol=1e-13, rtol=1e-15)
        low = brentq(excess, 0.0, top / 2, args, xtol=1e-13, rtol=1e-15)
        # Near the limit both roots are as uncertain as the square root of the rounding.
        wide = 1e-9 * source if excess(top / 2, *args) > 1e-6 * source**2 else 1e-6 * source
        assert found.v[k] == pytest.approx(high, abs=wide)
        assert found.low_v[k] == pytest.approx(low, abs=wide)
        checked += 1
    assert checked > POINTS / 2


def test_spare_power_is_what_can_be_added_before_the_point_is_gone() -> None:
    volts, ohm, load = random_points()
    found = operating_point(volts, ohm, load)
    spare = np.isfinite(found.spare_w) & (np.abs(found.spare_w) > 1e-9 * load.power_w)
    assert spare.sum() > POINTS / 2
    for factor, there in ((1 - 1e-9, True), (1 + 1e-9, False)):
        power_w = load.power_w + factor * found.spare_w
        moved = Load(
            constant_a=load.constant_a,
            power_w=power_w + (-1 if there else 1) * 1e-9 * np.abs(load.power_w),
            conductance_s=load.conductance_s,
        )
        exists = ~np.isnan(operating_point(volts, ohm, moved).v)
        assert (exists[spare] == there).all()


ngspice = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not installed")


def spice(netlist: str, folder: Path, *nodes: str) -> list[float]:
    """Node volts of an operating point."""
    file = folder / "chain.cir"
    asked = "\n".join(f"print v({node})" for node in nodes)
    file.write_text(f"chain\n{netlist}\n.control\nop\n{asked}\n.endc\n.end\n")
    run = subprocess.run(
        ["ngspice", "-b", str(file)], capture_output=True, text=True, check=False, timeout=60
    )
    found = dict(re.findall(r"v\((\w+)\) = ([-+0-9.e]+)", run.stdout))
    return [float(found[node]) for node in nodes]


def symbols(chain: Chain) -> dict[str, float]:
    """The symbols of its first row at the worst corner."""
    values, _ = symbols_of((chain,), rows_of((chain,))[:1], CORNERS)
    return {name: float(value[0, 0]) for name, value in values.items()}


@ngspice
def test_a_chain_into_a_constant_power_agrees_with_a_simulator(tmp_path: Path) -> None:
    """9 V at its least, 8.55 V, through 0.15 + 0.05 + 0.3 Ω into 9 W."""
    chain = small.path(
        small.device(laws=("constant power",), peak_a=1.0),
        small.cable(0.15),
        small.trigger(9.0, ohm=0.05),
        small.lead(0.3),
    )
    found = symbols(chain)
    (pins,) = spice(
        "V1 port 0 8.55\nR1 port a 0.15\nR2 a b 0.05\nR3 b pins 0.3\n"
        "B1 pins 0 I=9/v(pins)\n.nodeset v(pins)=8",
        tmp_path,
        "pins",
    )
    assert found["V_feed_low"] - found["I_in"] * found["R_feed"] == pytest.approx(pins, abs=1e-4)


@ngspice
def test_a_chain_with_a_converter_agrees_with_a_simulator(tmp_path: Path) -> None:
    """15 V at its least, 14.25 V, a 9 V converter of 85 % and 10 mA, and a lamp of 1 A at 9 V."""
    chain = small.path(
        small.device(laws=("resistance",), peak_a=1.0, steady_a=1.0),
        small.cable(0.2),
        small.trigger(15.0, ohm=0.05),
        small.converter(9.0, efficiency=0.85, quiescent=0.01),
        small.lead(0.4),
    )
    found = symbols(chain)
    before, pins = spice(
        "V1 port 0 14.25\nR1 port before 0.25\n"
        "B1 before 0 I=0.01+9*i(V2)/0.85/v(before)\n"
        "B2 set 0 V=9\nV2 set out 0\nR2 out pins 0.4\nR3 pins 0 9\n.nodeset v(before)=14",
        tmp_path,
        "before",
        "pins",
    )
    assert found["V_feed_low"] - found["I_in"] * found["R_feed"] == pytest.approx(pins, abs=1e-5)
    assert 14.25 - found["I_port"] * 0.25 == pytest.approx(before, abs=1e-4)
