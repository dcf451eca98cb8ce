"""What a port does in time: volts by straight lines, and the resistance that it stands behind."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Array: TypeAlias = NDArray[np.float64]
Index: TypeAlias = NDArray[np.intp]

BLEED_OHM = 500.0
_RISE_S = 2e-4
_FALL_S = 1e-3


@dataclass(frozen=True, kw_only=True)
class Sequence:
    """Port sequences of several runs.

    Parameters
    ----------
    t_s, v
        Corners of the volts, shape (corners, runs); before the first and after the last the
        volts stand still.
    port_ohm
        Resistance from corner k to corner k + 1, shape (corners − 1, runs).
    """

    t_s: Array
    v: Array
    port_ohm: Array

    def at(self, chosen: Index) -> Sequence:
        """The chosen runs."""
        return Sequence(
            t_s=self.t_s[:, chosen], v=self.v[:, chosen], port_ohm=self.port_ohm[:, chosen]
        )


def hard_reset(
    off_s: Array, gap_s: Array, contract_s: Array, *, contract_v: Array, end_s: float
) -> Sequence:
    """5 V, contract, hard reset at `off_s`, 5 V after `gap_s`, contract `contract_s` later.

    Notes
    -----
    The run begins dead: 5 V come at 20 ms and the first contract 0.25 s later. In the gap the
    port is 0 V behind a bleed of `BLEED_OHM`. Edges take 0.2 ms up and 1 ms down; of the order
    of the ≤ 30 mV/µs of the PD specification (secondary source), with the fall invented.
    """
    runs = np.zeros_like(off_s)
    on = 0.02 + runs
    first = on + 0.25
    back = off_s + gap_s
    again = back + contract_s
    five = 5.0 + runs
    corners = [
        (runs, runs, BLEED_OHM),
        (on, runs, 0.0),
        (on + _RISE_S, five, 0.0),
        (first, five, 0.0),
        (first + _RISE_S, contract_v, 0.0),
        (off_s, contract_v, BLEED_OHM),
        (off_s + _FALL_S, runs, BLEED_OHM),
        (back, runs, 0.0),
        (back + _RISE_S, five, 0.0),
        (again, five, 0.0),
        (again + _RISE_S, contract_v, 0.0),
        (runs + end_s, contract_v, 0.0),
    ]
    return Sequence(
        t_s=np.stack([t for t, _, _ in corners]),
        v=np.stack([v for _, v, _ in corners]),
        port_ohm=np.stack([ohm + runs for _, _, ohm in corners[:-1]]),
    )


def ramped(sequence: Sequence, ramp_s: Array, arrives_v: float) -> Sequence:
    """Behind a ramp switch: after each arrival the volts are held under a rising line.

    Notes
    -----
    The line starts when the port passes `arrives_v` on its way up, and rises at the contract's
    volts ÷ `ramp_s`. The first contract and the first return are each one arrival. Only for
    sequences of `hard_reset`, whose ramps end before the next rise of the port.
    """
    t, v, ohm = sequence.t_s, sequence.v, sequence.port_ohm
    rate = v[4] / ramp_s
    corners: list[tuple[Array, Array, Array]] = [(t[0], v[0], ohm[0])]
    for up, top, last in ((1, 2, 4), (7, 8, 10)):
        arrival = t[up] + _RISE_S * arrives_v / v[top]
        full = arrival + v[top] / rate
        # after 5 V the line stands far above the port's next edge only if the ramp is over
        late = arrival + v[last] / rate
        corners += [
            (t[up], v[up], ohm[up]),
            (arrival, v[up], ohm[up]),
            (full, v[top], ohm[up]),
            (np.maximum(t[last - 1], late), v[top], ohm[up]),
            (np.maximum(t[last - 1], late) + _RISE_S, v[last], ohm[up]),
        ]
        if up == 1:
            corners += [(t[5], v[5], ohm[5]), (t[6], v[6], ohm[6])]
    corners.append((t[-1], v[-1], ohm[-1]))
    return Sequence(
        t_s=np.stack([c[0] for c in corners]),
        v=np.stack([c[1] for c in corners]),
        port_ohm=np.stack([c[2] for c in corners[:-1]]),
    )
