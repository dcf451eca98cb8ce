"""Chains as netlists for ngspice, written from the elements of their parts and nothing else.

What solves chains in the program is not used, nor what it is fed with. Each chain is a circuit of
its own in one deck. All start from their high side, every capacitor at the volts that it has with
no load, and are followed until they stand still: a load of constant power comes to rest at its high
root, or falls past it to where it is a mere resistance, as a regulator that has lost its volts.

- A diode is a straight line, a voltage and a resistance; `curves` puts a junction in its place.
- A step-down gives what it is set to, or its input less what its switch takes, whichever is less;
  a step-up what it is set to, or its input, whichever is more; an isolated one what it is set to.
- Whatever converts takes the power that it gives over its efficiency; whatever passes takes the
  current that it gives. Its own current comes on top of both. From one to the other it goes evenly
  within a millivolt.
- Below the least volts that it accepts a step-up or an isolated converter is off, evenly within
  a millivolt too; a circuit at rest there switches on and off in truth, and is told as not working.
"""

import subprocess
from collections.abc import Sequence
from dataclasses import dataclass
from math import exp, inf, log, nan
from pathlib import Path
from typing import Literal, TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.elements import Converter, Diode, FuseLink, RampSwitch, Resistance
from sinkside.parts.part import Part
from sinkside.quantity import Quantity

Trace: TypeAlias = NDArray[np.float64]
Regime: TypeAlias = Literal["no converter", "converts", "passes", "between", "off"]
Law: TypeAlias = Literal["current", "power", "resistance", "regulator"]

SECONDS = 1.0
"""How long the circuits are followed; their time constants are a thousandth of it and less."""
TOGETHER = 50
EDGE_V = 1e-3
# Below this share of its source a constant power has no high root left: it is at least half of it.
COLLAPSED = 0.4
# Below this a constant current fades to nothing, for no load gives power.
EMPTY_V = 0.05
THERMAL_V = 0.025865  # kT/q at 27 °C, where ngspice works


@dataclass(frozen=True, kw_only=True)
class SpiceLoad:
    """What hangs on the pins.

    Parameters
    ----------
    amount
        A, W or S; of a linear regulator the ampere behind it.
    output_v, dropout_v, own_a
        Of a linear regulator.
    """

    law: Law
    amount: float
    output_v: float = 0.0
    dropout_v: float = 0.0
    own_a: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Curve:
    """A junction that stands for a straight line: I = I_s·(exp(V/n·V_t) − 1)."""

    saturation_a: float
    emission: float


@dataclass(frozen=True, kw_only=True)
class Circuit:
    """A port, the parts behind it in order, and a load.

    Parameters
    ----------
    limit_a
        Where its converter limits its output; it does not, unless said.
    curves
        What stands for its diodes, in order; straight lines if none.
    """

    port_v: float
    parts: tuple[Part, ...]
    load: SpiceLoad
    limit_a: float = inf
    curves: tuple[Curve, ...] = ()


@dataclass(frozen=True, kw_only=True)
class Solved:
    """Where a circuit came to rest.

    Parameters
    ----------
    before_v
        Before its converter; NaN if it has none.
    works
        Whether its load and its converter get the volts without which they fall out.
    regime
        Of its converter; `between` where it neither converts nor passes but something of both,
        which in truth is a switching from one to the other.
    limits
        Whether its converter limits.
    moves_v
        How far the pins still moved in the last fiftieth of the time.
    """

    port_a: float
    pins_v: float
    in_a: float
    before_v: float
    works: bool
    regime: Regime
    limits: bool
    moves_v: float


def value(quantity: Quantity) -> float:
    """A quantity that is a point."""
    if quantity.low != quantity.high:
        raise ValueError(f"{quantity.name} is no point")
    return quantity.low


def through(curve: Curve, amps: float) -> float:
    """Volts of a junction at a current: n·V_t·ln(1 + I/I_s)."""
    return curve.emission * THERMAL_V * log(1.0 + amps / curve.saturation_a)


def curve_through(line: Diode, low_a: float, high_a: float) -> Curve:
    """The junction that meets a straight line at two currents."""
    low_v, high_v = (value(line.forward_v) + a * value(line.slope_ohm) for a in (low_a, high_a))
    scale = (high_v - low_v) / log(high_a / low_a)  # far above I_s, the one is nothing
    return Curve(saturation_a=high_a / exp(high_v / scale), emission=scale / THERMAL_V)


def solve(circuits: Sequence[Circuit], folder: Path) -> list[Solved]:
    """Follow all circuits, so many in one run of ngspice as make it quick."""
    return [
        solved
        for first in range(0, len(circuits), TOGETHER)
        for solved in _together(circuits[first : first + TOGETHER], folder)
    ]


def _together(circuits: Sequence[Circuit], folder: Path) -> list[Solved]:
    netlists = [_netlist(circuit, str(k)) for k, circuit in enumerate(circuits)]
    lines = [line for one in netlists for line in one.lines]
    asked = [name for one in netlists for name in one.asked]
    traces = _run(lines, asked, SECONDS, SECONDS / 50, folder)
    return [_rest(c, one, traces) for c, one in zip(circuits, netlists, strict=True)]


def behind_bridges(
    volts: float, hz: float, loads: Sequence[tuple[float, float]], curve: Curve, folder: Path
) -> list[tuple[float, float]]:
    """Trough and peak of the volts of capacitors behind full bridges, all on volts like these.

    Parameters
    ----------
    volts
        R.m.s. of a sine; d.c. if `hz` is nought.
    loads
        What flows out of each capacitor, A, and its size, F.
    """
    lines = [f".model junction d(is={curve.saturation_a!r} n={curve.emission!r})"]
    for k, (amps, farad) in enumerate(loads):
        wave = f"sin(0 {2.0**0.5 * volts!r} {hz!r})" if hz else repr(volts)
        lines += [
            f"vin_{k} a_{k} b_{k} {wave}",
            *(f"d{i}_{k} {a} {b} junction" for i, (a, b) in enumerate(_bridge(k))),
            f"c_{k} dc_{k} 0 {farad!r} ic=0",
            f"i_{k} dc_{k} 0 {amps!r}",
        ]
    asked = [f"v(dc_{k})" for k in range(len(loads))]
    traces = _run(lines, asked, 0.5, 1e-4, folder)
    return [(float(traces[name].min()), float(traces[name].max())) for name in asked]


def _bridge(k: int) -> tuple[tuple[str, str], ...]:
    """The four diodes, from anode to cathode."""
    a, b, out = f"a_{k}", f"b_{k}", f"dc_{k}"
    return (a, out), (b, out), ("0", a), ("0", b)


def _run(
    lines: Sequence[str], asked: Sequence[str], seconds: float, step_s: float, folder: Path
) -> dict[str, Trace]:
    """The vectors asked for in the last fiftieth of the time, all from the volts on capacitors."""
    text = [
        "circuits",
        *lines,
        ".options method=gear reltol=1e-5 abstol=1e-10 vntol=1e-8 itl4=200",
        *(f".save {name}" for name in asked),
        f".tran {step_s} {seconds} {0.98 * seconds} {step_s} uic",
        ".end",
    ]
    deck, raw = folder / "circuits.cir", folder / "circuits.raw"
    deck.write_text("\n".join(text) + "\n", encoding="ascii")
    run = subprocess.run(
        ["ngspice", "-b", "-r", str(raw), str(deck)],
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )
    if run.returncode != 0 or not raw.exists():
        raise AssertionError(f"ngspice gave up:\n{run.stdout[-2000:]}\n{run.stderr[-2000:]}")
    return _traces(raw)


@dataclass(frozen=True, kw_only=True)
class _Netlist:
    """One circuit in lines, and the vectors to look at."""

    lines: tuple[str, ...]
    port: str
    pins: str
    into: str
    converter: tuple[Converter, str, str] | None
    collapsed_v: float

    @property
    def asked(self) -> tuple[str, ...]:
        return (self.port, self.pins, self.into, *(self.converter[1:] if self.converter else ()))


def _netlist(circuit: Circuit, k: str) -> _Netlist:
    """The netlist of one circuit; every name in it ends in the circuit's number."""
    lines = [f"vport_{k} n0_{k} 0 {circuit.port_v!r}"]
    at, ohm, unloaded_v, least_v = 0, 0.0, circuit.port_v, circuit.port_v
    curves = list(circuit.curves)
    converter = None
    for element in (e for part in circuit.parts for e in part.elements):
        a, b, name = f"n{at}_{k}", f"n{at + 1}_{k}", f"{at}_{k}"
        match element:
            case Resistance() if value(element.ohm) == 0.0:
                continue  # ngspice would make a milliohm of it
            case Resistance():
                lines.append(f"r{name} {a} {b} {value(element.ohm)!r}")
                ohm += value(element.ohm)
            case Diode() if curves:
                lines += _junction(curves.pop(0), name, a, b)
            case Diode():
                lines.append(f"v{name} {a} d{name} {value(element.forward_v)!r}")
                lines.append(f"r{name} d{name} {b} {value(element.slope_ohm)!r}")
                unloaded_v -= value(element.forward_v)
            case Converter():
                lines.append(f"c{name} {a} 0 {SECONDS / 1000 / ohm!r} ic={unloaded_v!r}")
                lines += _converter(element, circuit.limit_a, name, a, b)
                converter = (element, f"v({a})", f"i(vout{name})")
                unloaded_v, ohm = _unloaded_v(element, unloaded_v), 0.0
            case FuseLink() | RampSwitch():
                continue
            case _:
                raise ValueError(f"no netlist for {element}")
        at += 1
        least_v = min(least_v, unloaded_v)
    lines += [
        f"vpins_{k} n{at}_{k} pins_{k} 0",
        f"cpins_{k} pins_{k} 0 {SECONDS / 5000 / ohm!r} ic={unloaded_v!r}",
        *_load(circuit.load, k, COLLAPSED * least_v),
    ]
    return _Netlist(
        lines=tuple(lines),
        port=f"i(vport_{k})",
        pins=f"v(pins_{k})",
        into=f"i(vpins_{k})",
        converter=converter,
        collapsed_v=COLLAPSED * least_v if circuit.load.law == "power" else EMPTY_V,
    )


def _junction(curve: Curve, name: str, a: str, b: str) -> list[str]:
    model = f".model m{name} d(is={curve.saturation_a!r} n={curve.emission!r})"
    return [f"d{name} {a} {b} m{name}", model]


def _unloaded_v(converter: Converter, fed_v: float) -> float:
    set_v = value(converter.gives_v)
    match converter.direction:
        case "step-down":
            return min(set_v, fed_v)
        case "step-up":
            return max(set_v, fed_v)
        case "isolated":
            return set_v


def _converter(c: Converter, limit_a: float, name: str, a: str, b: str) -> list[str]:
    set_v, efficiency, own = value(c.gives_v), value(c.efficiency), value(c.quiescent_a)
    amps, fed = f"i(vout{name})", f"v({a})"
    source = f"{set_v!r}"
    if limit_a < inf:
        # It gives way by as much as it is set to within a hundredth of its limit.
        source = f"({set_v!r}-{100.0 * set_v / limit_a!r}*max(0,{amps}-{limit_a!r}))"
    on = _edge(f"{fed}-{c.accepts_low_v!r}")
    match c.direction:
        case "step-down":
            on, passed = "1", f"({fed}-{value(c.pass_ohm)!r}*{amps})"
            given, converts = f"min({source},{passed})", _edge(f"{passed}-{set_v!r}")
        case "step-up":
            given, converts = f"max({source},{fed})", _edge(f"{set_v!r}-{fed}")
        case "isolated":
            given, converts = source, "1"
    taken = f"v(s{name})*{amps}/({efficiency!r}*max({fed},0.1))"
    return [
        f"bout{name} s{name} 0 v={on}*{given}",
        f"vout{name} s{name} {b} 0",
        f"bin{name} {a} 0 i={on}*({own!r}+{converts}*{taken}+(1-{converts})*{amps})",
    ]


def _edge(volts: str) -> str:
    """Nought below no volts, one a millivolt above, evenly between."""
    return f"min(1,max(0,({volts})/{EDGE_V!r}))"


def _load(load: SpiceLoad, k: str, collapsed_v: float) -> list[str]:
    pins = f"pins_{k}"
    match load.law:
        case "current":
            return [f"bload_{k} {pins} 0 i={load.amount!r}*min(1,max(0,v({pins})/{EMPTY_V!r}))"]
        case "resistance":
            return [f"rload_{k} {pins} 0 {1.0 / load.amount!r}"]
        case "power":
            low, v = repr(collapsed_v), f"v({pins})"
            amps = f"{load.amount!r}/max({v},{low})*min(1,{v}/{low})"
            return [f"bload_{k} {pins} 0 i={amps}"]
        case "regulator":
            out, drop = load.output_v, load.dropout_v
            return [
                f"breg_{k} rs_{k} 0 v=min({out!r},max(0,v({pins})-{drop!r}))",
                f"vreg_{k} rs_{k} ro_{k} 0",
                f"rreg_{k} ro_{k} 0 {out / load.amount!r}",
                f"bload_{k} {pins} 0 i={load.own_a!r}+i(vreg_{k})",
            ]


def _traces(raw: Path) -> dict[str, Trace]:
    """The vectors of a binary raw file by name."""
    data = raw.read_bytes()
    mark = b"Binary:\n"
    head, body = data[: data.index(mark)], data[data.index(mark) + len(mark) :]
    lines = head.decode("ascii").splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("Variables:"))
    names = [line.split()[1] for line in lines[start + 1 :] if line.strip()]
    table = np.frombuffer(body, dtype="<f8").reshape(-1, len(names))
    return {name: table[:, i] for i, name in enumerate(names)}


def _rest(circuit: Circuit, netlist: _Netlist, traces: dict[str, Trace]) -> Solved:
    pins = traces[netlist.pins]
    works = bool(pins[-1] > netlist.collapsed_v)
    before_v, limits = nan, False
    regime: Regime = "no converter"
    if netlist.converter is not None:
        before_v, out_a = (float(traces[name][-1]) for name in netlist.converter[1:])
        limits = out_a > circuit.limit_a
        regime = _regime(netlist.converter[0], before_v, out_a)
        works &= regime != "off"
    return Solved(
        port_a=-float(traces[netlist.port][-1]),
        pins_v=float(pins[-1]),
        in_a=float(traces[netlist.into][-1]),
        before_v=before_v,
        works=works,
        regime=regime,
        limits=limits,
        moves_v=float(np.ptp(pins)),
    )


def _regime(converter: Converter, before_v: float, out_a: float) -> Regime:
    set_v = value(converter.gives_v)
    match converter.direction:
        case "step-down":
            over_v = before_v - value(converter.pass_ohm) * out_a - set_v
        case "step-up":
            over_v = set_v - before_v
        case "isolated":
            over_v = inf
    if converter.direction != "step-down" and before_v < converter.accepts_low_v + EDGE_V:
        return "off"
    if over_v >= EDGE_V:
        return "converts"
    return "between" if over_v > 0.0 else "passes"
