"""The same circuits as netlists for a general simulator, run in batch mode."""

from __future__ import annotations

import re
import shutil
import subprocess
import tempfile
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from .circuit import Circuit, Load, Stage
from .circuits import END_S
from .compare import changes, halves
from .sequence import Array, Sequence

STEP_S = 5e-4
_SWITCH_S = 1e-6
_FLOOR_V = 2.0
_TIME = re.compile(r"Total analysis time \(seconds\) = ([0-9.e+-]+)")


class NoSimulator(Exception):
    """There is no ngspice, or it gave no result; the text says which."""


@dataclass(frozen=True, kw_only=True)
class Ramp:
    """A ramp switch: the port's volts at which it starts, and its rate."""

    arrives_v: float
    rate_v_per_s: float


@dataclass(frozen=True, kw_only=True)
class Run:
    """One simulated run.

    Parameters
    ----------
    t_s, v
        The simulator's own time points, and the pins' volts there.
    line_v
        The same after `linearize`, every `STEP_S`.
    changes_s
        When the load changed its piece: by the switch itself where it has one, else by the pins.
    analysis_s
        The simulator's own analysis time of one run, the mean over `repeats`.
    """

    t_s: Array
    v: Array
    line_v: Array
    changes_s: tuple[float, ...]
    analysis_s: float
    points: int


def available() -> bool:
    """Whether the simulator can be run."""
    return shutil.which("ngspice") is not None


def simulate(
    circuit: Circuit,
    port: Sequence,
    *,
    reltol: float,
    longest_s: float,
    ramp: Ramp | None = None,
    repeats: int = 1,
    diode_model: str | None = None,
) -> Run:
    """Run the first run of a circuit.

    Parameters
    ----------
    port
        The port's own sequence, before any ramp switch.
    longest_s
        Longest time step.
    diode_model
        A `.model` line named `dx` for an exponential diode in place of the straight one.
    """
    locked = _locks(circuit.load)
    with tempfile.TemporaryDirectory() as folder:
        raw, line = Path(folder, "raw"), Path(folder, "line")
        deck = [
            "outage",
            *_source(circuit, port, ramp, diode_model),
            *_behind(circuit),
            f".options reltol={reltol:g} vntol={1e-3 * reltol:g} abstol={1e-6 * reltol:g}",
            ".control",
            "set wr_singlescale",
            "set numdgt=14",
            *([f"repeat {repeats - 1}", _tran(longest_s), "destroy all", "end"] * (repeats > 1)),
            _tran(longest_s),
            "rusage all",
            f"wrdata {raw} v(pin)" + " v(en)" * locked,
            "linearize v(pin)",
            f"wrdata {line} v(pin)",
            ".endc",
            ".end",
        ]
        path = Path(folder, "deck")
        path.write_text("\n".join(deck) + "\n", encoding="ascii")
        done = subprocess.run(
            ["ngspice", "-b", str(path)], capture_output=True, text=True, check=False, timeout=120
        )
        text = done.stdout + done.stderr
        times = _TIME.findall(text)
        if not (raw.exists() and line.exists() and times):
            raise NoSimulator(text[-2000:])
        own, lined = np.loadtxt(raw), np.loadtxt(line)
    t_s, v = own[:, 0], own[:, 1]
    return Run(
        t_s=t_s,
        v=v,
        changes_s=halves(t_s, own[:, 2]) if locked else changes(circuit.load, t_s, v),
        line_v=lined[:, 1],
        analysis_s=float(times[-1]) / repeats,
        points=own.shape[0],
    )


def _tran(longest_s: float) -> str:
    return f"tran {STEP_S:g} {END_S:g} 0 {longest_s:g} uic"


def _source(
    circuit: Circuit, port: Sequence, ramp: Ramp | None, diode_model: str | None
) -> list[str]:
    """Port, bleed, ramp switch, diode and path; the last node is `a`."""
    t, v = port.t_s[:, 0], port.v[:, 0]
    conductance = 1.0 / (circuit.path_ohm[0] + port.port_ohm[:, 0])
    volts = " ".join(f"{a:.9g} {b:.9g}" for a, b in zip(t, v, strict=True))
    steps = [(0.0, conductance[0])]
    for corner, before, after in zip(t[1:-1], conductance[:-1], conductance[1:], strict=True):
        if before != after:
            steps += [(corner - 0.5 * _SWITCH_S, before), (corner + 0.5 * _SWITCH_S, after)]
    steps.append((t[-1], conductance[-1]))
    lines = [
        f"Vp p 0 PWL({volts})",
        "Vg g 0 PWL(" + " ".join(f"{a:.12g} {b:.12g}" for a, b in steps) + ")",
    ]
    source = "V(p)"
    if ramp is not None:
        lines += [
            f"Ba arr 0 V=V(p)>{ramp.arrives_v:g} ? 1 : 0",
            "Cr r 0 1u ic=0",
            f"Br 0 r I=V(arr)>0.5 ? (V(r)<20 ? {1e-6 * ramp.rate_v_per_s:g} : 0) : -1e-3*V(r)",
        ]
        source = "min(V(p),V(r))"
    into = "x" if circuit.henry is not None else "a"
    if diode_model is not None:
        lines += [f"Bs 0 y I=({source}-V(y))*V(g)", f"D1 y {into} dx", diode_model]
    elif circuit.diode:
        lines.append(f"Bs 0 {into} I=max(0,({source}-{circuit.forward_v[0]:g}-V({into}))*V(g))")
    else:
        lines.append(f"Bs 0 {into} I=({source}-V({into}))*V(g)")
    if circuit.henry is not None:
        lines.append(f"L1 x a {circuit.henry[0]:g} ic=0")
    return lines


def _behind(circuit: Circuit) -> list[str]:
    """Capacitor, converter and load; the load's node is `pin`."""
    pin = "a" if circuit.stage is None else "b"
    lines = [f"Vm {pin} pin 0"]
    if circuit.esr_ohm[0] > 0.0:
        lines += [f"Re a c {circuit.esr_ohm[0]:g}", f"C1 c 0 {circuit.farad[0]:g} ic=0"]
    else:
        lines.append(f"C1 a 0 {circuit.farad[0]:g} ic=0")
    if circuit.stage is not None:
        lines += _stage(circuit.stage)
    return lines + _load(circuit.load)


def _lock(name: str, node: str, stops_v: float, starts_v: float) -> list[str]:
    """A node `name` that is 1 V above the start and 0 V below the stop, with memory."""
    return [
        f"V{name} one{name} 0 1",
        f"S{name} one{name} {name} {node} 0 sw{name}",
        f".model sw{name} sw vt={0.5 * (starts_v + stops_v):g} vh={0.5 * (starts_v - stops_v):g}"
        " ron=1 roff=1e12",
        f"R{name} {name} 0 1meg",
    ]


def _locks(load: Load) -> bool:
    """Whether the load is two pieces with memory."""
    low, high = load.leaves_low_v, load.leaves_high_v
    return low.shape[0] == 2 and bool(high[1, 0] > low[0, 0])


def _load(load: Load) -> list[str]:
    """The load by its pieces: a lock where two overlap, else one expression."""
    currents = [
        f"({i:.9g}+{p:.9g}/max(V(pin),{_FLOOR_V:g})+{g:.9g}*V(pin))"
        for i, p, g in zip(
            load.constant_a[:, 0], load.power_w[:, 0], load.conductance_s[:, 0], strict=True
        )
    ]
    low, high = load.leaves_low_v[:, 0], load.leaves_high_v[:, 0]
    if _locks(load):
        return [
            *_lock("en", "pin", low[0], high[1]),
            f"Bl pin 0 I=V(en)*{currents[0]}+(1-V(en))*{currents[1]}",
        ]
    law = currents[-1]
    for current, bound in zip(reversed(currents[:-1]), reversed(low[:-1]), strict=True):
        law = f"(V(pin)>{bound:g} ? {current} : {law})"
    return [f"Bl pin 0 I={law}"]


def _stage(stage: Stage) -> list[str]:
    """The converter: current-limited set volts behind a resistance, constant power before."""
    set_v, limit, back = stage.set_v[0], stage.limit_a[0], stage.back_ohm[0]
    return [
        *_lock("up", "a", stage.needs_v[0], stage.starts_v[0]),
        f"Bw w 0 V=min({limit:g},({set_v:g}-V(b))/{back:g})",
        f"Bq q 0 V=(V(a)-V(b))*{1.0 / (back + stage.pass_ohm[0]):g}",
        f"Bi a 0 I=V(up)*(V(b)+V(w)*{back:g})*V(w)/{stage.efficiency[0]:g}/max(V(a),{_FLOOR_V:g})"
        "+(1-V(up))*V(q)",
        "Bo 0 b I=V(up)*V(w)+(1-V(up))*V(q)",
        f"C2 b 0 {stage.farad[0]:g} ic=0",
    ]
