"""300 chains against ngspice, which is given netlists and nothing of the program's own physics.

`spice_chains` says how a netlist is made of parts and what a circuit does; the comparison is with
the symbols that the rules are judged by. Ohm's law, the matched load V²/4R and what a converter is
are textbook; the figures are drawn. A difference counts from half a per cent of the port's volts,
and from half a per cent of the larger of the currents at port and device.
"""

import random
import shutil
from collections import Counter
from dataclasses import dataclass, replace
from math import isfinite, log
from pathlib import Path

import pytest
from tests.agree import drawn_chains as draws
from tests.agree import spice_chains as spice
from tests.agree.drawn_chains import Drawn
from tests.paths import small_parts as small

from sinkside.parts.elements import Diode
from sinkside.paths.rows import Path as Chain
from sinkside.paths.rows import rows_of
from sinkside.paths.symbols import symbols_of
from sinkside.paths.views import CORNERS
from sinkside.physics import rectifier

pytestmark = pytest.mark.skipif(shutil.which("ngspice") is None, reason="ngspice is not installed")

CHAINS = 300
NEAR = 0.005


@dataclass(frozen=True, kw_only=True)
class Program:
    """What the program says of a chain in its contract."""

    port_v: float
    port_a: float
    pins_v: float
    in_a: float
    highest_v: float
    rated_by_a: tuple[float, float]
    spare_a: float

    @property
    def works(self) -> bool:
        """Whether there is a working point, with something to work on."""
        return isfinite(self.in_a) and self.pins_v > 0.0


def program(chains: list[Chain]) -> list[Program]:
    """What the program says of chains, by the symbols of its rules."""
    rows = rows_of(chains)
    assert [row.path for row in rows] == list(range(len(chains))), "one state each, the contract"
    values, _ = symbols_of(chains, rows, CORNERS)
    found = []
    for i, row in enumerate(rows):
        s = {name: float(value[i, 0]) for name, value in values.items()}
        pins_v = s["V_feed_low"] - s["I_in"] * s["R_feed"]
        found.append(
            Program(
                port_v=row.state.low_v,
                # What is burnt on the way is what the port gives and the device does not take.
                port_a=(s["P_lost"] + pins_v * s["I_in"]) / row.state.low_v,
                pins_v=pins_v,
                in_a=s["I_in"],
                highest_v=s["V_feed_high"],
                rated_by_a=(s["I_steady"], s["I_port_steady"]),
                spare_a=s["I_conv_rated"] - s["I_start"],
            )
        )
    return found


def circuits(found: list[Drawn], says: list[Program]) -> list[spice.Circuit]:
    """The same chains for ngspice: of the program's answer the port's volts alone."""
    return [
        spice.Circuit(port_v=p.port_v, parts=d.chain.front.parts, load=d.load, limit_a=d.limit_a)
        for d, p in zip(found, says, strict=True)
    ]


def regime(one: Drawn, at: spice.Solved) -> str:
    """What a chain does in the circuit."""
    if at.limits:
        return "limits"
    converter = one.chain.front.converter
    if converter is None or at.regime == "off":
        return at.regime
    if at.regime == "passes":
        steps_down = converter.direction == "step-down"
        return "passes at full duty" if steps_down else "steps up and passes"
    return at.regime


def parted(one: Drawn, says: Program, at: spice.Solved) -> list[str]:
    """In what program and circuit differ."""
    if at.limits:
        # The program has no such regime: it says that the converter is asked for too much.
        told = says.in_a > one.limit_a and says.spare_a < 0.0 and says.in_a >= at.in_a
        return [] if told else [f"limits, and the program leaves {says.spare_a:.4g} A"]
    if says.works != at.works:
        return [f"works: program {says.works}, circuit {at.works}"]
    if not at.works:
        return []
    volts, amps = NEAR * says.port_v, NEAR * max(at.port_a, at.in_a)
    pairs = (
        ("pins", says.pins_v, at.pins_v, volts, "V"),
        ("into the device", says.in_a, at.in_a, amps, "A"),
        ("port", says.port_a, at.port_a, amps, "A"),
    )
    found = [
        f"{what}: program {ours:.4f} {unit}, circuit {theirs:.4f} {unit}"
        for what, ours, theirs, most, unit in pairs
        if not abs(ours - theirs) <= most
    ]
    bounds = zip(("steady", "port steady"), says.rated_by_a, (at.in_a, at.port_a), strict=True)
    found += [
        f"{what}: judged by {most:.4f} A, circuit {amps:.4f} A"
        for what, most, amps in bounds
        if most < amps - NEAR * at.in_a
    ]
    if says.highest_v < at.pins_v:
        found.append(f"highest volts {says.highest_v:.4f}, circuit {at.pins_v:.4f}")
    return found


def test_300_chains_come_to_rest_where_the_program_says(tmp_path: Path) -> None:
    found = [draws.drawn(number) for number in range(CHAINS)]
    says = program([one.chain for one in found])
    at = spice.solve(circuits(found, says), tmp_path)
    assert max(solved.moves_v for solved in at) < 1e-6, "a circuit has not come to rest"
    where = [regime(one, solved) for one, solved in zip(found, at, strict=True)]
    apart = [
        f"chain {n} ({where[n]}, {found[n].load.law}): {'; '.join(faults)}"
        for n in range(CHAINS)
        if (faults := parted(found[n], says[n], at[n]))
    ]
    assert apart == []
    # By the discriminant alone, worked where the chains are drawn.
    rootless = ("over the limit", "out of reach")
    for one, solved in zip(found, at, strict=True):
        if solved.regime == "no converter":
            assert solved.works == (one.about not in rootless)
    met = Counter(where)
    assert sum(met[r] for r in ("passes at full duty", "steps up and passes", "limits")) >= 40
    powers = [one.about for one in found if one.load.law == "power"]
    assert powers.count("near the limit") >= len(powers) / 4
    assert [one.about for one in found].count("over the limit") >= 20
    regimes = ("no converter", "converts", "passes at full duty", "steps up and passes")
    laws = {(where[n], found[n].load.law) for n in range(CHAINS) if at[n].works}
    assert {(r, law) for r in regimes for law in draws.LAWS} <= laws


def test_between_converting_and_passing_the_program_errs_to_the_safe_side(tmp_path: Path) -> None:
    """There the losses of conversion are just not affordable: true volts, and less current."""
    found = []
    for number in range(40):
        draw = random.Random(f"edge {number}")
        asks_v = draw.choice(draws.CONTRACTS_V[1:])
        before, behind = [*draws.head(draw, asks_v), draws.lead_before(draw)], draws.tail(draw)
        feed, efficiency = draws.way(0.95 * asks_v, before), draw.uniform(0.75, 0.9)
        amps = feed.amps(feed.watts(draw.uniform(0.1, 0.5)))
        # At full duty it gives a little more than it is set to, and converting it cannot hold it.
        lost_v = feed.ohm * amps * (1.0 / efficiency - 1.0)
        set_v = feed.volts - feed.ohm * amps - draw.uniform(0.2, 0.8) * lost_v
        converter = small.converter(set_v, accepts=(1.0, 60.0), efficiency=efficiency, pass_ohm=0.0)
        back = draws.way(set_v, behind)
        load = draws.loaded(draw, "current", amps, back.volts - back.ohm * amps)
        found.append(draws.joined("between", [*before, converter, *behind], *load))
    says = program([one.chain for one in found])
    at = spice.solve(circuits(found, says), tmp_path)
    met = 0
    for one, ours, theirs in zip(found, says, at, strict=True):
        if theirs.regime != "between" or theirs.pins_v <= 0.0:
            continue
        met += 1
        assert ours.pins_v == pytest.approx(theirs.pins_v, abs=NEAR * ours.port_v)
        assert ours.in_a == pytest.approx(theirs.in_a, rel=NEAR)
        # No number is no margin: where conversion has no working point the rule does not hold.
        assert not ours.port_a < theirs.port_a, one.chain.front.id
    assert met >= 30


# What diodes of a generic kind take at 0.1 A and at 1 A, V (from memory).
SILICON, SCHOTTKY = (0.78, 0.89), (0.30, 0.37)
LOADS_A = (0.001, 0.01, 0.03, 0.1, 0.25, 0.39, 0.6, 1.0, 2.0, 3.0)


def straight(diode_v: tuple[float, float]) -> Diode:
    """The line through the volts at 0.1 A and at 1 A."""
    slope_ohm = (diode_v[1] - diode_v[0]) / 0.9
    return Diode(
        forward_v=small.figure(diode_v[0] - 0.1 * slope_ohm, "V", "diode/forward volts"),
        slope_ohm=small.figure(slope_ohm, "Ω", "diode/slope"),
    )


@pytest.mark.parametrize(
    ("diode_v", "departs_mv"),
    [
        (SILICON, (208, 99, 49, 0, -25, -30, -24, 0, 89, 192)),
        (SCHOTTKY, (132, 63, 31, 0, -16, -19, -16, 0, 57, 122)),
    ],
)
def test_how_far_a_straight_diode_departs_from_a_junction(
    tmp_path: Path, diode_v: tuple[float, float], departs_mv: tuple[int, ...]
) -> None:
    """Millivolts at the pins that a junction leaves beyond the line through the same two points.

    Outside the two the line takes too much. At light load that hides volts, and the highest volts
    are judged without any diode. Between them it takes too little, and the lowest volts err to the
    wrong side: by s·(ln(x) − (x − 1)/x) at most, x = 9/ln(10), with I = I_s·exp(V/s) (arithmetic).
    """
    line = straight(diode_v)
    curve = spice.curve_through(line, 0.1, 1.0)
    parts = [small.cable(0.1), small.trigger(9.0), small.part("diode", elements=(line,))]
    parts.append(small.lead(0.1))
    load = ("constant current",)
    found = [
        draws.joined("diode", parts, spice.SpiceLoad(law="current", amount=amps), *load, amps)
        for amps in LOADS_A
    ]
    says = program([one.chain for one in found])
    lines = spice.solve(circuits(found, says), tmp_path)
    bent = spice.solve([replace(c, curves=(curve,)) for c in circuits(found, says)], tmp_path)
    assert [ours.pins_v for ours in says] == pytest.approx([at.pins_v for at in lines], abs=1e-5)
    off_mv = [1e3 * (b.pins_v - a.pins_v) for a, b in zip(lines, bent, strict=True)]
    assert off_mv == pytest.approx(departs_mv, abs=1.0)
    scale_mv, x = 1e3 * curve.emission * spice.THERMAL_V, 9.0 / log(10.0)
    assert -min(off_mv) == pytest.approx(scale_mv * (log(x) - (x - 1.0) / x), rel=0.01)
    assert all(ours.highest_v >= at.pins_v for ours, at in zip(says, bent, strict=True))


def test_bridges_of_junctions_take_what_the_rectifier_allows_for(tmp_path: Path) -> None:
    """12 V, sine or d.c., into generic silicon diodes, from a leak to 1 A, with 0.3 V of ripple."""
    leaks, loads = (1e-5, 1e-4, 1e-3), (0.003, 0.03, 0.3, 1.0)
    sizes = [(amps, amps / (2.0 * 50.0 * 0.3)) for amps in (*leaks, *loads)]
    curve = spice.curve_through(straight(SILICON), 0.1, 1.0)
    on_dc, on_ac = (spice.behind_bridges(12.0, hz, sizes, curve, tmp_path) for hz in (0.0, 50.0))
    light, heavy = rectifier.FORWARD_LOADED_V
    for (amps, farad), (_, dc_v), (trough_v, peak_v) in zip(sizes, on_dc, on_ac, strict=True):
        dc_taken_v = (12.0 - dc_v) / 2.0
        ac_taken_v = (12.0 * rectifier.SINE_CREST - peak_v) / 2.0
        assert dc_taken_v < ac_taken_v, "the same current flows all the time, not in pulses"
        if amps in leaks:
            # What a peak amounts to in d.c. at the same inlet: a diode takes that much less.
            assert dc_taken_v >= rectifier.FORWARD_IDLE_V
            less_v = rectifier.FORWARD_LIGHT_V - rectifier.FORWARD_IDLE_V
            assert ac_taken_v - dc_taken_v <= less_v
        else:
            assert light <= dc_taken_v
            assert ac_taken_v <= heavy
        least, most = (rectifier.ripple_v(amps, 50.0, farad, part) for part in rectifier.ALONE)
        assert least <= peak_v - trough_v <= most
