"""Every range of a test point against a walk in plain numbers, and against ngspice."""

import random
import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from tests.agree import drawn_chains
from tests.agree import spice_chains as spice
from tests.making import walk
from tests.paths import small_parts as small

from sinkside.making import draws
from sinkside.making.causes import state_words
from sinkside.making.first_power import first_power
from sinkside.making.levels import reading
from sinkside.making.of_plan import fed, states
from sinkside.making.probe import Mode, Probe, Stage
from sinkside.making.test_points import probes
from sinkside.parts.elements import Diode
from sinkside.paths.front import Front
from sinkside.paths.rows import rows_of
from sinkside.paths.states import State, supply
from sinkside.plan import Plan
from sinkside.plan.model import Chosen

DRAWS = 60
# The walk halves eighty times and the program takes a root: both are far closer than this.
NEAR = 1e-6


def place_of(probe: Probe, front: Front) -> int:
    """Behind how many parts a test point lies, from its words."""
    for i, part in enumerate(front.parts, 1):
        if probe.where == f"after the {part.words or part.id}":
            return i
    assert probe.where.startswith("at the plug"), probe.where
    return len(front.parts)


def state_of(probe: Probe, chosen: Chosen) -> State | None:
    """The state that a test point is about; None behind an output switch that is open."""
    found = {state_words(s, chosen.front): s for s in states(chosen)}
    return found.get(probe.state)


def law_of(probe: Probe, plan: Plan, chosen: Chosen, draw: random.Random) -> walk.Law:
    """What hangs on the plug while a test point is read, somewhere between its ends."""
    if probe.stage is Stage.UNLOADED:
        return lambda _: 0.0
    if probe.stage is Stage.DUMMY:
        power = first_power(plan, plan.device(chosen.seat.device))
        assert power is not None
        ohm = power.dummy.total_ohm * draw.uniform(0.95, 1.05)
        return lambda v: v / ohm
    appliance = fed(chosen)
    if "at its peak" in probe.where:
        least = draw.uniform(appliance.steady_a.low, appliance.steady_a.high)
        return walk.device(appliance, appliance.peak_a, least, draw)
    return walk.device(appliance, appliance.steady_a, 0.0, draw)


def shown(probe: Probe, chosen: Chosen, walked: walk.Walked) -> float:
    """What the meter shows at a test point."""
    if probe.mode is Mode.AMPS:
        return walked.load_a
    if probe.mode is Mode.USB_METER:
        return walked.port_a
    volts = walked.after_v[place_of(probe, chosen.front) - 1]
    negative = probe.red == "centre" and chosen.front.end.centre == "negative"
    return -volts if negative else volts


def test_every_range_of_the_demo_holds_what_a_walk_finds_anywhere_inside(demo_plan: Plan) -> None:
    checked = 0
    for device in demo_plan.devices:
        chosen = device.chosen
        for probe in probes(demo_plan, device):
            state = state_of(probe, chosen) if chosen and probe.state else None
            if chosen is None or state is None:
                continue
            draw = random.Random(f"{device.id} {probe.number}")
            for _ in range(DRAWS):
                idle = probe.stage is Stage.UNLOADED
                figures = walk.drawn(chosen.front, state, draw, idle=idle)
                law = law_of(probe, demo_plan, chosen, draw)
                walked = walk.walk(chosen.front, figures, law)
                assert walked is not None, (device.id, probe.where)
                found = shown(probe, chosen, walked)
                low, high = probe.expected.low - NEAR, probe.expected.high + NEAR
                assert low <= found <= high, (device.id, probe.stage, probe.where, probe.state)
                checked += 1
    assert checked > 60 * 100


OHMS, SLOPE = (0.05, 0.25), (0.01, 0.1)
LINE = Diode(
    forward_v=small.figure((0.3, 0.6), "V", "diode/forward volts"),
    slope_ohm=small.figure(SLOPE, "Ω", "diode/slope"),
)
DIODE = small.part("diode", elements=(LINE,), name="diode")
HEAD = (small.cable(OHMS), small.trigger(12.0, ohm=(0.02, 0.08), gated=False))
DOWN = {
    "headroom": (0.5, 2.0),
    "efficiency": (0.8, 0.95),
    "quiescent": (0.0, 0.02),
    "pass_ohm": (0.02, 0.15),
}
# Fronts that the demo does not have: diodes, each kind of converter, held, starved, on the edge.
FRONTS = {
    "diode": (*HEAD, DIODE, small.lead(OHMS)),
    "held": (*HEAD, small.converter((8.7, 9.3), **DOWN), small.lead(OHMS)),
    "on the edge": (*HEAD, small.converter((10.2, 10.9), **DOWN), DIODE, small.lead(OHMS)),
    "starved": (*HEAD, small.converter((12.5, 13.0), **DOWN), small.lead(OHMS)),
    "step-up": (
        *(*HEAD, DIODE),
        small.converter((23.3, 24.7), "step-up", efficiency=(0.8, 0.94), quiescent=(0.0, 0.02)),
        small.lead(OHMS),
    ),
    "isolated": (
        *HEAD,
        small.converter((11.6, 12.4), "isolated", efficiency=(0.78, 0.88), quiescent=(0.0, 0.02)),
        *(DIODE, small.lead(OHMS)),
    ),
}


@pytest.mark.parametrize("name", FRONTS)
def test_ranges_of_every_kind_of_chain_hold_what_a_walk_finds(name: str) -> None:
    front = small.front(small.charger(), *FRONTS[name])
    thing = small.device(
        laws=("constant current", "constant power"), steady_a=(0.2, 0.7), reference_v=9.0
    )
    state = next(row.state for row in rows_of((small.path(thing, *FRONTS[name]),)))
    places = tuple(range(1, len(front.parts) + 1))
    hangs: dict[str, tuple[draws.Draw, Callable[[random.Random], walk.Law]]] = {
        "nothing": (draws.nothing(), lambda _: lambda _: 0.0),
        "resistor": (draws.resistor(22.0, 0.05), lambda d: ohmic(22.0 * d.uniform(0.95, 1.05))),
        "device": (
            draws.at_work(thing),
            lambda d: walk.device(thing, thing.steady_a, 0.0, d),
        ),
    }
    for about, (load, law) in hangs.items():
        found = reading(front, state, load, places)
        assert found.always
        draw = random.Random(f"{name} {about}")
        for _ in range(300):
            figures = walk.drawn(front, state, draw, idle=load.idle)
            walked = walk.walk(front, figures, law(draw))
            assert walked is not None
            for place, volts in zip(places, found.volts, strict=True):
                value = walked.after_v[place - 1]
                assert volts.low - NEAR <= value <= volts.high + NEAR, (about, place)
            assert found.into.low - NEAR <= walked.load_a <= found.into.high + NEAR, about
            port = found.out_of_port
            assert port.low - NEAR <= walked.port_a <= port.high + NEAR, about


def ohmic(ohm: float) -> walk.Law:
    return lambda v: v / ohm


def test_ends_of_a_range_are_met_at_corners_worked_by_hand() -> None:
    """9 V ±5 % behind 0.1 to 0.3 Ω into 10 Ω ±5 %: a divider, by Ohm's law.

    Lowest 8.55 V · 9.5/(9.5 + 0.3) = 8.2883 V, highest 9.45 V · 10.5/(10.5 + 0.1) = 9.3608 V.
    Currents 8.55/(10.5 + 0.3) = 0.79167 A and 9.45/(9.5 + 0.1) = 0.984375 A.
    """
    parts = (small.cable((0.1, 0.3)), small.trigger(9.0), small.lead())
    front = small.front(small.charger(), *parts)
    state = next(row.state for row in rows_of((small.path(None, *parts),)))
    found = reading(front, state, draws.resistor(10.0, 0.05), (3,))
    assert found.volts[0].low == pytest.approx(8.2883, abs=5e-5)
    assert found.volts[0].high == pytest.approx(9.3608, abs=5e-5)
    assert found.into.low == pytest.approx(0.79167, abs=5e-6)
    assert found.out_of_port.high == pytest.approx(0.984375, abs=5e-7)
    assert found.volts[0].nominal == pytest.approx(9.0 * 10.0 / 10.2)


def test_off_its_contract_a_starved_converter_may_give_nothing() -> None:
    """5 V, where 9.2 V and more are wanted: a step-down passes them on, or does not start."""
    front = small.front(small.charger(), *FRONTS["held"])
    early = next(s for s in supply(front).states if s.kind == "before contract")
    found = reading(front, early, draws.nothing(), (3, 4))
    assert found.volts[1].low == 0.0
    assert found.volts[1].high == pytest.approx(5.5)


def test_an_isolated_converter_below_what_it_accepts_gives_nothing() -> None:
    parts = (
        *HEAD,
        small.converter(12.0, "isolated", accepts=(9.0, 18.0), quiescent=0.01),
        *(DIODE, small.lead(OHMS)),
    )
    front = small.front(small.charger(), *parts)
    early = next(s for s in supply(front).states if s.kind == "before contract")
    found = reading(front, early, draws.resistor(22.0, 0.05), (2, 3, 4, 5))
    assert [v.high for v in found.volts[1:]] == [0.0, 0.0, 0.0]
    assert found.volts[0].high == pytest.approx(5.5)


def test_a_peak_is_never_less_than_the_steady_current() -> None:
    thing = small.device(steady_a=(0.3, 0.5), peak_a=(0.1, 0.4))
    front = small.front(small.charger())
    state = next(row.state for row in rows_of((small.path(thing),)))
    found = reading(front, state, draws.at_peak(thing), (3,))
    assert (found.into.low, found.into.high) == (0.3, 0.5)


def test_what_has_no_working_point_is_told() -> None:
    """12 V through 2 Ω bring 18 W at the most (V²/4R, textbook): 30 W find no rest."""
    parts = (small.cable(2.0), small.trigger(12.0), small.lead())
    thing = small.device(laws=("constant power",), steady_a=30.0 / 9.0, reference_v=9.0)
    state = next(row.state for row in rows_of((small.path(thing, *parts),)))
    front = small.front(small.charger(), *parts)
    found = reading(front, state, draws.at_work(thing), (3,))
    assert not found.always
    assert found.volts[0].high == 0.0


@pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not installed")
def test_sixty_chains_of_known_figures_read_what_ngspice_reads(tmp_path: Path) -> None:
    """Netlists of `tests/agree`, which are made of the elements alone; each range is one point."""
    made = [drawn_chains.drawn(n) for n in range(80)]
    made = [one for one in made if one.limit_a == float("inf")][:60]
    rested = [next(iter(rows_of((one.chain,)))).state for one in made]
    circuits = [
        spice.Circuit(port_v=state.low_v, parts=one.chain.front.parts, load=one.load)
        for one, state in zip(made, rested, strict=True)
    ]
    apart, compared = [], 0
    for n, (one, state, at) in enumerate(
        zip(made, rested, spice.solve(circuits, tmp_path), strict=True)
    ):
        if not at.works or at.regime == "between":
            continue
        front = one.chain.front
        still = replace(state, nominal_v=state.low_v, high_v=state.low_v)
        places = tuple(sorted({front.split, len(front.parts)}))
        found = reading(front, still, draws.at_work(one.chain.appliance), places)
        pairs = [
            (found.volts[-1].high, at.pins_v, state.low_v),
            (found.into.high, at.in_a, max(at.port_a, at.in_a)),
            (found.out_of_port.high, at.port_a, max(at.port_a, at.in_a)),
        ]
        if front.converter is not None:
            pairs.append((found.volts[0].high, at.before_v, state.low_v))
        compared += 1
        apart += [
            (n, ours, theirs) for ours, theirs, of in pairs if abs(ours - theirs) > 0.005 * of
        ]
    assert apart == []
    assert compared >= 40
