"""The circuits that are compared; all parts and figures are invented, of ordinary size."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from .circuit import Circuit, Load, Stage
from .sequence import Array, Sequence, hard_reset, ramped

END_S = 3.2
LEAK_S = 1e-4
RAMP_S, ARRIVES_V, CONTRACT_V = 0.04, 4.0, 9.0
RAMP_SWITCH = "constant power, ramp switch"
_FAR_V = 1e6


@dataclass(frozen=True, kw_only=True)
class Draw:
    """What varies between runs, shape (runs,)."""

    off_s: Array
    gap_s: Array
    contract_s: Array
    farad_ratio: Array
    load_ratio: Array
    ohm_ratio: Array

    @property
    def zero(self) -> Array:
        """A zero for every run."""
        return np.zeros_like(self.off_s)


def nominal() -> Draw:
    """One run with every figure as written."""
    one = np.ones(1)
    return Draw(
        off_s=one,
        gap_s=0.9 * one,
        contract_s=0.5 * one,
        farad_ratio=one,
        load_ratio=one,
        ohm_ratio=one,
    )


def drawn(runs: int, seed: int) -> Draw:
    """Runs whose gap is drawn over 0.66 to 1.5 s and whose parts over their tolerances."""
    draw = np.random.default_rng(seed)
    return Draw(
        off_s=draw.uniform(0.95, 1.05, runs),
        gap_s=draw.uniform(0.66, 1.5, runs),
        contract_s=draw.uniform(0.3, 0.6, runs),
        farad_ratio=draw.uniform(0.8, 1.2, runs),
        load_ratio=draw.uniform(0.7, 1.3, runs),
        ohm_ratio=draw.uniform(0.7, 1.5, runs),
    )


def port_sequence(draw: Draw) -> Sequence:
    """The port's own sequence."""
    return hard_reset(
        draw.off_s, draw.gap_s, draw.contract_s, contract_v=CONTRACT_V + draw.zero, end_s=END_S
    )


def _pieces(*pieces: tuple[Array, Array, Array, float, float]) -> Load:
    shape = np.zeros_like(pieces[0][0])
    return Load(
        constant_a=np.stack([p[0] for p in pieces]),
        power_w=np.stack([p[1] for p in pieces]),
        conductance_s=np.stack([p[2] for p in pieces]),
        leaves_low_v=np.stack([p[3] + shape for p in pieces]),
        leaves_high_v=np.stack([p[4] + shape for p in pieces]),
    )


def resistance(draw: Draw, ohm: float) -> Load:
    """A resistance; a piece below 0.5 V marks that it is out."""
    g = draw.load_ratio / ohm
    return _pieces((draw.zero, draw.zero, g, 0.5, _FAR_V), (draw.zero, draw.zero, g, -_FAR_V, 0.6))


def constant_current(draw: Draw, amps: float, knee_v: float) -> Load:
    """A constant current down to the knee, a resistance below it."""
    a = amps * draw.load_ratio
    return _pieces(
        (a, draw.zero, draw.zero, knee_v, _FAR_V),
        (draw.zero, draw.zero, a / knee_v, -_FAR_V, knee_v),
    )


def constant_power(draw: Draw, watts: float, stops_v: float, starts_v: float) -> Load:
    """A constant power with under-voltage lock-out and restart; locked out it leaks."""
    p = watts * draw.load_ratio
    return _pieces(
        (draw.zero, p, draw.zero, stops_v, _FAR_V),
        (draw.zero, draw.zero, LEAK_S + draw.zero, -_FAR_V, starts_v),
    )


def linear_regulator(
    draw: Draw, set_v: float, dropout_v: float, ohm: float, quiescent_a: float
) -> Load:
    """A linear regulator into a resistance: in regulation, in dropout, and below."""
    g = draw.load_ratio / ohm
    q = quiescent_a + draw.zero
    return _pieces(
        (q + set_v * g, draw.zero, draw.zero, set_v + dropout_v, _FAR_V),
        (q - dropout_v * g, draw.zero, g, dropout_v, set_v + dropout_v),
        (draw.zero, draw.zero, q / dropout_v, -_FAR_V, dropout_v),
    )


def _circuit(
    draw: Draw,
    load: Load,
    *,
    ohm: float,
    farad: float,
    forward_v: float | None = None,
    esr_ohm: float = 0.0,
    henry: float | None = None,
    sequence: Sequence | None = None,
    stage: Stage | None = None,
) -> Circuit:
    return Circuit(
        sequence=sequence or port_sequence(draw),
        path_ohm=ohm * draw.ohm_ratio,
        forward_v=(forward_v or 0.0) + draw.zero,
        diode=forward_v is not None,
        henry=None if henry is None else henry + draw.zero,
        farad=farad * draw.farad_ratio,
        esr_ohm=esr_ohm + draw.zero,
        load=load,
        stage=stage,
    )


def _resistive(draw: Draw) -> Circuit:
    return _circuit(draw, resistance(draw, 15.0), ohm=0.35, farad=2.2e-3)


def _regulator(draw: Draw) -> Circuit:
    load = linear_regulator(draw, 5.0, 2.0, 12.0, 0.005)
    return _circuit(draw, load, ohm=0.4, farad=4.7e-3, forward_v=0.35, esr_ohm=0.08)


def _current(draw: Draw) -> Circuit:
    return _circuit(
        draw, constant_current(draw, 0.4, 1.0), ohm=0.4, farad=1e-3, forward_v=0.35, esr_ohm=0.1
    )


def _power(draw: Draw) -> Circuit:
    load = constant_power(draw, 5.0, 6.5, 7.5)
    return _circuit(draw, load, ohm=0.4, farad=2.2e-3, forward_v=0.35)


def _hiccup(draw: Draw) -> Circuit:
    # 6.6 W behind 3 Ω at 8.65 V: the most is 6.24 W, so it starts, collapses and starts again
    return _circuit(draw, constant_power(draw, 6.6, 5.0, 7.5), ohm=3.0, farad=1e-3, forward_v=0.35)


def _ringing(draw: Draw) -> Circuit:
    load = constant_power(draw, 5.0, 6.0, 7.0)
    return _circuit(draw, load, ohm=0.12, farad=1e-4, esr_ohm=0.03, henry=2.2e-5)


def _soft_start(draw: Draw) -> Circuit:
    sequence = ramped(port_sequence(draw), RAMP_S + draw.zero, ARRIVES_V)
    load = constant_power(draw, 5.0, 6.5, 7.5)
    return _circuit(draw, load, ohm=0.3, farad=4.7e-3, forward_v=0.1, sequence=sequence)


def _staged(draw: Draw) -> Circuit:
    stage = Stage(
        set_v=5.0 + draw.zero,
        needs_v=5.4 + draw.zero,
        starts_v=6.5 + draw.zero,
        limit_a=2.0 + draw.zero,
        efficiency=0.88 + draw.zero,
        back_ohm=0.05 + draw.zero,
        # isolated: starved it passes nothing on
        pass_ohm=np.inf + draw.zero,
        farad=2.2e-4 + draw.zero,
    )
    load = constant_current(draw, 0.8, 0.5)
    return _circuit(draw, load, ohm=0.4, farad=1e-2, forward_v=0.35, stage=stage)


def _stiff(draw: Draw) -> Circuit:
    return _circuit(draw, constant_power(draw, 5.0, 6.5, 7.5), ohm=0.15, farad=1e-5)


Build: TypeAlias = Callable[[Draw], Circuit]

CIRCUITS: dict[str, Build] = {
    "resistance": _resistive,
    "linear regulator, diode": _regulator,
    "constant current, diode": _current,
    "constant power, diode": _power,
    "constant power, hiccup": _hiccup,
    "constant power, inductance": _ringing,
    RAMP_SWITCH: _soft_start,
    "converter, hold-up": _staged,
    "constant power, 1.5 µs": _stiff,
}
