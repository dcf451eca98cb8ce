"""Where every run that is not over stands."""

import numpy as np
from numpy.typing import NDArray

from sinkside.outages.circuit import Array, Index
from sinkside.outages.course import Course
from sinkside.outages.equations import Equations, Line, Lines
from sinkside.outages.network import Network

FIRST_S = 1e-4
"""The first step that is tried."""


class Lanes:
    """Where every run that is not over stands; every array has the runs last."""

    def __init__(self, network: Network, course: Course, *, accounts: bool) -> None:
        runs = course.runs
        nothing, never = np.zeros(runs), np.full(runs, np.inf)
        self.id: Index = np.arange(runs)
        self.t: Array = course.t_s[0].copy()
        self.y: Array = np.zeros((network.states, runs))
        self.modes = network.start()
        self.segment: Index = np.full(runs, -1, dtype=np.intp)
        self.stop: Index = np.full(runs, course.last, dtype=np.intp)
        self.shift: Array = nothing.copy()
        self.h: Array = np.full(runs, FIRST_S)
        self.rows: Array = np.zeros((network.rows, network.columns, runs))
        if accounts:
            self.rest_a: Array = np.zeros((2, runs))
            self.unknowns: Array = np.zeros((network.unknowns, network.columns, runs))
        self.power_w: Array = nothing.copy()
        self.bleed_s: Array = nothing.copy()
        self.limit_a: Array = nothing.copy()
        self.from_s: Array = nothing.copy()
        self.port_v: Array = nothing.copy()
        self.port_v_per_s: Array = nothing.copy()
        self.line_from_s: Array = nothing.copy()
        self.line_v: Array = nothing.copy()
        self.line_v_per_s: Array = nothing.copy()
        self.start_from_s: Array = nothing.copy()
        self.start_v_per_s: Array = nothing.copy()
        self.line_end_v: Array = nothing.copy()
        self.corner_s: Array = course.t_s[0].copy()
        self.patience_s: Array = course.patience_s.copy()
        self.deadline_s: Array = never.copy()
        self.limiting_s: Array = -never
        self.calm_s: Array = -never
        self.hold_s: Array = never.copy()
        self.waiting = np.zeros(runs, dtype=bool)
        self.watched = np.zeros(runs, dtype=bool)
        self.over = np.zeros(runs, dtype=bool)
        self.since_s: Array = np.full(runs, np.nan)

    @property
    def size(self) -> int:
        return int(self.id.size)

    def keep(self, kept: NDArray[np.bool_]) -> None:
        """Drop what is over."""
        for name, values in vars(self).items():
            setattr(self, name, np.ascontiguousarray(values[..., kept]))

    def equations(self, network: Network) -> Equations:
        """The equations of all of them, each in its mode."""
        lines = Lines(
            port=Line(from_s=self.from_s, v=self.port_v, v_per_s=self.port_v_per_s),
            ramp=Line(from_s=self.line_from_s, v=self.line_v, v_per_s=self.line_v_per_s),
            start=Line(from_s=self.start_from_s, v=np.zeros(self.size), v_per_s=self.start_v_per_s),
        )
        return Equations(network, self.rows, self.power_w, lines)
