"""Corners of the port's course, trips, waits and ends."""

import numpy as np

from sinkside.outages import modes as m
from sinkside.outages.circuit import Index
from sinkside.outages.course import Course
from sinkside.outages.effort import Effort
from sinkside.outages.lanes import Lanes
from sinkside.outages.network import PORT, RECEPTACLE
from sinkside.outages.notebook import Notebook
from sinkside.outages.switchboard import Switchboard


class Corners:
    """Moves runs along the courses of their ports."""

    def __init__(
        self, course: Course, lanes: Lanes, notes: Notebook, board: Switchboard, effort: Effort
    ) -> None:
        self._course, self._lanes = course, lanes
        self._notes, self._board, self._effort = notes, board, effort

    def turn(self) -> None:
        """Move runs that stand at a corner, a deadline or the end of a wait."""
        lanes, course = self._lanes, self._course
        tripping = np.flatnonzero(~lanes.over & (lanes.t >= lanes.deadline_s))
        if tripping.size:
            self._trip(tripping)
        while True:
            at = np.flatnonzero(~lanes.over & ~lanes.waiting & (lanes.t >= lanes.corner_s))
            if not at.size:
                break
            ended = lanes.segment[at] + 1 >= lanes.stop[at]
            self._notes.end(at[ended])
            at = at[~ended]
            waits = np.isin(lanes.segment[at] + 1, course.waits)
            waits &= lanes.modes[RECEPTACLE, at] == m.ReceptacleMode.LIVE
            lanes.waiting[at[waits]] = True
            lanes.hold_s[at[waits]] = lanes.t[at[waits]] + self._effort.wait_limit_s
            at = at[~waits]
            if at.size:
                self._enter(at, lanes.segment[at] + 1)
        late = np.flatnonzero(lanes.waiting & ~lanes.over & (lanes.t >= lanes.hold_s))
        self._notes.found["blocked"][lanes.id[late]] = True
        self._notes.end(late)

    def _enter(self, at: Index, segment: Index) -> None:
        """Let runs enter a segment of the port's course."""
        lanes, course = self._lanes, self._course
        run = lanes.id[at]
        starts = lanes.t[at]
        ends = course.t_s[segment + 1, run] + lanes.shift[at]
        v0, v1 = course.v[segment, run], course.v[segment + 1, run]
        span = ends - starts
        lanes.segment[at] = segment
        lanes.corner_s[at] = ends
        lanes.from_s[at], lanes.port_v[at] = starts, v0
        lanes.port_v_per_s[at] = np.where(span > 0.0, (v1 - v0) / np.where(span > 0, span, 1), 0.0)
        watched = (segment >= course.watched) & ~lanes.watched[at]
        if watched.any():
            self._notes.watch(at[watched])
        on, bleed, limit = (
            field[segment, run] for field in (course.on, course.bleed_s, course.limit_a)
        )
        was = lanes.modes[PORT, at]
        port = np.where(on, np.where(was == m.PortMode.OFF, m.PortMode.BLOCKED, was), 0)
        changed = (port != was) | (bleed != lanes.bleed_s[at]) | (limit != lanes.limit_a[at])
        lanes.modes[PORT, at] = port
        lanes.deadline_s[at] = np.where(port == m.PortMode.LIMITS, lanes.deadline_s[at], np.inf)
        lanes.bleed_s[at], lanes.limit_a[at] = bleed, limit
        first = segment == 0
        self._board.compile(at[changed | first])

    def _trip(self, at: Index) -> None:
        """The port has held its limit for too long: it lets go, and tries again."""
        lanes, course = self._lanes, self._course
        if course.retry is None:
            return
        run = lanes.id[at]
        self._notes.found["trips"][run] += 1
        lanes.deadline_s[at] = np.inf
        lanes.waiting[at] = False
        lanes.stop[at] = course.t_s.shape[0] - 1
        lanes.shift[at] = lanes.t[at] - course.t_s[course.retry, run]
        self._enter(at, np.full(at.size, course.retry, dtype=np.intp))
        weary = self._notes.found["trips"][run] >= self._effort.trip_limit
        self._notes.end(at[weary])
