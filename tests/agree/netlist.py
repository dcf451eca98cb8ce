"""Plain circuits as netlists for ngspice, run in batch mode. Nothing of the program is imported.

Straight diodes, constant powers, ramp switches and converters are behavioural sources; lock-outs
are switches with hysteresis. Where a port is switched, it is over one microsecond.
"""

import re
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from tests.outages.plain import Plain, Ramp, Shunt, Stage, Wire

LEAK_OHM = 1e6
# Without it the simulator gives up at the kinks of a node between two diodes.
STRAY_F = 1e-9
SWITCH_S = 1e-6
CROWBAR_S = 20.0
FLOOR_V = 1.0
# How fast the line of a slew limiter follows volts that rise slowly or fall, and by how much it
# stands above them.
FOLLOWS_PER_S, ABOVE_V = 2e5, 1e-3
_TIME = re.compile(r"Total analysis time \(seconds\) = ([0-9.e+-]+)")


@dataclass(frozen=True)
class Waveform:
    """What the simulator found.

    Parameters
    ----------
    t_s, pins_v, port_a
        At its own time points.
    enabled
        1 while a load with lock-out is enabled; empty for other loads.
    analysis_s
        Its own analysis time, of one run.
    """

    t_s: np.ndarray
    pins_v: np.ndarray
    port_a: np.ndarray
    enabled: np.ndarray
    analysis_s: float


def available() -> bool:
    """Whether the simulator is installed."""
    return shutil.which("ngspice") is not None


def simulate(given: Plain, *, reltol: float, longest_s: float, repeats: int = 1) -> Waveform:
    """Run a circuit from dead; `repeats` runs it again and again to time it."""
    end = given.corners[-1][0]
    nodes = "v(pins) i(vport)" + " v(en)" * given.locks
    tran = f"tran 5e-4 {end:g} 0 {longest_s:g} uic"
    again = [f"repeat {repeats - 1}", tran, "destroy all", "end"] if repeats > 1 else []
    with tempfile.TemporaryDirectory() as folder:
        raw, deck = Path(folder, "raw"), Path(folder, "deck")
        lines = [
            given.name,
            *netlist(given),
            f".options reltol={reltol:g} vntol={1e-3 * reltol:g} abstol={1e-6 * reltol:g}",
            ".control",
            "set wr_singlescale",
            "set numdgt=14",
            *again,
            tran,
            "rusage all",
            f"wrdata {raw} {nodes}",
            ".endc",
            ".end",
        ]
        deck.write_text("\n".join(lines) + "\n", encoding="ascii")
        done = subprocess.run(
            ["ngspice", "-b", str(deck)], capture_output=True, text=True, check=False, timeout=300
        )
        times = _TIME.findall(done.stdout + done.stderr)
        if not raw.exists() or not times:
            raise RuntimeError(f"{given.name}: {(done.stdout + done.stderr)[-1500:]}")
        found = np.loadtxt(raw)
    return Waveform(
        t_s=found[:, 0],
        pins_v=found[:, 1],
        port_a=found[:, 2],
        enabled=found[:, 3] if given.locks else np.zeros(0),
        analysis_s=float(times[-1]) / repeats,
    )


def netlist(given: Plain) -> list[str]:
    """The elements of a circuit."""
    last = len(given.shunts) - 1
    lines = _port(given)
    for k, branch in enumerate(given.branches):
        match branch:
            case Wire():
                lines += _wire(k, branch)
            case Ramp():
                lines += _ramp(k, branch)
            case Stage():
                lines += _stage(k, branch)
    for k, shunt in enumerate(given.shunts):
        lines += _shunt(k, shunt)
    return [*lines, f"Vpins n{last} pins 0", *_load(given)]


def _port(given: Plain) -> list[str]:
    """Volts behind a resistance, one way, up to a limit; off, a bleed across the receptacle."""
    volts = " ".join(f"{t:.9g} {v:.9g}" for t, v, _ in given.corners)
    steps = [(0.0, float(given.corners[0][2]))]
    for (_, _, before), (t, _, after) in zip(given.corners, given.corners[1:-1], strict=False):
        if before != after:
            steps += [(t - 0.5 * SWITCH_S, float(before)), (t + 0.5 * SWITCH_S, float(after))]
    steps.append((given.corners[-1][0], steps[-1][1]))
    on = " ".join(f"{t:.12g} {s:g}" for t, s in steps)
    return [
        f"Vp p 0 PWL({volts})",
        f"Von on 0 PWL({on})",
        f"Bport 0 q I=V(on)*max(0,min({given.limit_a:g},(V(p)-V(q))/{given.source_ohm:g}))",
        "Vport q n0 0",
        f"Bbleed n0 0 I=(1-V(on))*V(n0)/{given.bleed_ohm:g}",
    ]


def _wire(k: int, wire: Wire) -> list[str]:
    a, b = f"n{k}", f"n{k + 1}"
    lines = []
    if wire.henry is not None:
        lines.append(f"L{k} {a} m{k} {wire.henry:g} ic=0")
        a = f"m{k}"
    if wire.forward_v is None:
        return [*lines, f"R{k} {a} {b} {wire.ohm:g}"]
    return [*lines, f"B{k} {a} {b} I=max(0,(V({a})-V({b})-{wire.forward_v:g})/{wire.ohm:g})"]


def _ramp(k: int, ramp: Ramp) -> list[str]:
    """A line on a capacitor of 1 µF; the switch conducts under it."""
    a, b, w = f"n{k}", f"n{k + 1}", f"w{k}"
    rate = 1e-6 * ramp.rate_v_per_s
    if ramp.every_step:
        follow = f"{1e-6 * FOLLOWS_PER_S:g}*(V({a})+{ABOVE_V:g}-V({w}))"
        rise = f"max(-1,min({rate:g},{follow}))"
    else:
        rise = f"(V({w})<20 ? {rate:g} : 0)"
    return [
        *_lock(f"arr{k}", a, ramp.lost_v, ramp.arrives_v),
        f"Cw{k} {w} 0 1u ic=0",
        f"Bw{k} 0 {w} I=V(arr{k})>0.5 ? {rise} : -1e-2*V({w})",
        f"B{k} {a} {b} I=V(arr{k})*(max(0,(min(V({w}),V({a}))-V({b}))/{ramp.ohm:g})"
        f"+min(0,(V({a})-V({b}))/{ramp.ohm:g}))",
    ]


def _stage(k: int, stage: Stage) -> list[str]:
    """A source of at most the set volts, limited; before it the power that it gives.

    Its set volts come along a line, on a capacitor of 1 µF, while it is up; a step-up's are there.
    """
    a, b, w = f"n{k}", f"n{k + 1}", f"v{k}"
    target = {
        "step-down": f"min(V({w}),{stage.ratio:g}*V({a}))",
        "step-up": f"max({stage.set_v:g},V({a}))",
        "isolated": f"V({w})",
    }[stage.direction]
    rate = 1e-6 * stage.set_v / stage.start_s
    r = stage.back_ohm
    return [
        *_lock(f"up{k}", a, stage.stops_v, stage.starts_v),
        f"Cv{k} {w} 0 1u ic=0",
        f"Bv{k} 0 {w} I=V(up{k})>0.5 ? min({rate:g},10*({stage.set_v:g}-V({w}))) : -10*V({w})",
        f"Bi{k} i{k} 0 V=V(up{k})*max(0,min({stage.limit_a:g},({target}-V({b}))/{r:g}))",
        f"Ri{k} i{k} 0 1meg",
        f"Bo{k} 0 {b} I=V(i{k})",
        f"Bn{k} {a} 0 I=V(up{k})*({stage.quiescent_a:g}"
        f"+(V({b})+V(i{k})*{r:g})*V(i{k})/{stage.efficiency:g}/max(V({a}),{FLOOR_V:g}))",
    ]


def _shunt(k: int, shunt: Shunt) -> list[str]:
    node = f"n{k}"
    lines = [f"Rl{k} {node} 0 {LEAK_OHM:g}", f"Cl{k} {node} 0 {STRAY_F:g} ic=0"]
    if shunt.siemens:
        lines.append(f"Rb{k} {node} 0 {1 / shunt.siemens:g}")
    if shunt.crowbar_v is not None:
        # It lets go of nothing above -1 V: it has fired for good.
        lines += _lock(f"fired{k}", node, -1.0, shunt.crowbar_v)
        lines.append(f"Bf{k} {node} 0 I=V(fired{k})*V({node})*{CROWBAR_S:g}")
    if shunt.farad is not None and shunt.charging is not None:
        way = shunt.charging
        return [
            *lines,
            f"Rch{k} {node} t{k} {way.ohm:g}",
            f"Bd{k} t{k} {node} I=max(0,(V(t{k})-V({node})-{way.forward_v:g})/{way.slope_ohm:g})",
            f"Re{k} t{k} c{k} {shunt.esr_ohm:g}",
            f"C{k} c{k} 0 {shunt.farad:g} ic=0",
            f"Rown{k} c{k} 0 {1 / way.own_siemens:g}",
        ]
    if shunt.farad is not None:
        lines += [
            f"Re{k} {node} c{k} {shunt.esr_ohm:g}",
            f"C{k} c{k} 0 {shunt.farad:g} ic=0",
        ]
    return lines


def _lock(name: str, node: str, low_v: float, high_v: float) -> list[str]:
    """A node that is 1 V above the higher and 0 V below the lower volts, with memory."""
    return [
        f"V{name} one{name} 0 1",
        f"S{name} one{name} {name} {node} 0 sw{name}",
        f".model sw{name} sw vt={0.5 * (high_v + low_v):g} vh={0.5 * (high_v - low_v):g}"
        " ron=1 roff=1e12",
        f"R{name} {name} 0 1meg",
    ]


def _load(given: Plain) -> list[str]:
    laws = [
        f"({p.constant_a:.9g}+{p.power_w:.9g}/max(V(pins),{FLOOR_V:g})"
        f"+{p.conductance_s:.9g}*V(pins))"
        for p in given.pieces
    ]
    if given.locks:
        stops, starts = given.pieces[0].leaves_low_v, given.pieces[1].leaves_high_v
        law = f"V(en)*{laws[0]}+(1-V(en))*{laws[1]}"
        return [*_lock("en", "pins", stops, starts), f"Bl pins 0 I={law}"]
    law = laws[-1]
    for piece, own in zip(reversed(given.pieces[:-1]), reversed(laws[:-1]), strict=True):
        law = f"(V(pins)>{piece.leaves_low_v:g} ? {own} : {law})"
    return [f"Bl pins 0 I={law}"]
