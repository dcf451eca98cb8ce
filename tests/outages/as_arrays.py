"""Plain circuits as the program's arrays of one run, or of several."""

from dataclasses import fields
from typing import Any

import numpy as np
from tests.outages import plain

from sinkside.outages import circuit as c
from sinkside.outages.course import Course


def circuit(given: plain.Plain, runs: int = 1) -> c.Circuit:
    """The circuit."""
    return c.Circuit(
        source_ohm=np.full(runs, given.source_ohm),
        branches=tuple(_branch(b, runs) for b in given.branches),
        shunts=tuple(_shunt(s, runs) for s in given.shunts),
        load=_load(given, runs),
    )


def course(given: plain.Plain, runs: int = 1) -> Course:
    """The course of its port."""
    times, volts, on = (np.array(row) for row in zip(*given.corners, strict=True))
    given_on = np.repeat(on[:-1, None].astype(bool), runs, axis=1)
    return Course(
        t_s=np.repeat(times[:, None], runs, axis=1),
        v=np.repeat(volts[:, None], runs, axis=1),
        on=given_on,
        bleed_s=np.where(given_on, 0.0, 1.0 / given.bleed_ohm),
        limit_a=np.full(given_on.shape, given.limit_a),
        patience_s=np.full(runs, 0.01),
    )


def _arrays(given: Any, runs: int, *names: str) -> dict[str, Any]:
    return {n: np.full(runs, float(getattr(given, n))) for n in names}


def _branch(given: Any, runs: int) -> c.Branch:
    if isinstance(given, plain.Wire):
        return c.Wire(
            ohm=np.full(runs, given.ohm),
            forward_v=np.full(runs, given.forward_v or 0.0),
            one_way=given.forward_v is not None,
            henry=None if given.henry is None else np.full(runs, given.henry),
        )
    if isinstance(given, plain.Ramp):
        names = ("ohm", "rate_v_per_s", "arrives_v", "lost_v")
        return c.Ramp(**_arrays(given, runs, *names), every_step=given.every_step)
    names = tuple(f.name for f in fields(given) if f.name != "direction")
    return c.Stage(direction=given.direction, **_arrays(given, runs, *names))


def _shunt(given: plain.Shunt, runs: int) -> c.Shunt:
    filled = given.farad is not None
    crowbar, charging = given.crowbar_v, given.charging
    names = ("ohm", "forward_v", "slope_ohm", "own_siemens")
    return c.Shunt(
        siemens=np.full(runs, given.siemens),
        farad=np.full(runs, given.farad) if filled else None,
        esr_ohm=np.full(runs, given.esr_ohm) if filled else None,
        crowbar_v=None if crowbar is None else np.full(runs, crowbar),
        charging=None if charging is None else c.Charging(**_arrays(charging, runs, *names)),
    )


def _load(given: plain.Plain, runs: int) -> c.Load:
    def rows(name: str) -> np.ndarray:
        return np.array([np.full(runs, getattr(p, name)) for p in given.pieces])

    names = ("constant_a", "power_w", "conductance_s", "leaves_low_v", "leaves_high_v")
    last = (*(False for _ in given.pieces[1:]), given.locks)
    return c.Load(
        **{n: rows(n) for n in names}, runs_from_v=np.full(runs, given.runs_from_v), locked=last
    )
