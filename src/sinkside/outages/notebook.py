"""What is noted of every run while it is watched."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from sinkside.outages import modes as m
from sinkside.outages.circuit import Array, Index
from sinkside.outages.lanes import Lanes
from sinkside.outages.network import DEVICE, Network
from sinkside.outages.outcome import Accounts, Outcome, Trace
from sinkside.outages.step import Start


class Notebook:
    """Outages, extremes and waveforms of a batch of runs.

    Parameters
    ----------
    grid_s
        Times at which to keep the waveforms; None for none.
    """

    def __init__(self, network: Network, lanes: Lanes, grid_s: Array | None) -> None:
        self._network, self._lanes, self._grid_s = network, lanes, grid_s
        self.found = _blank_outcome(lanes.size)
        self._changes: list[list[float]] = [[] for _ in range(lanes.size)]
        self._trace = None if grid_s is None else _blank_trace(grid_s, lanes.size)

    def outcome(self, accounts: Accounts | None) -> Outcome:
        """What came of the runs, once all are over."""
        return Outcome(
            **self.found,
            changes_s=tuple(tuple(times) for times in self._changes),
            accounts=accounts,
            trace=self._trace,
        )

    def watch(self, at: Index) -> None:
        """From here on some runs are watched."""
        lanes = self._lanes
        lanes.watched[at] = True
        out = at[lanes.modes[DEVICE, at] == m.DeviceMode.OUT]
        lanes.since_s[out] = lanes.t[out]
        self.found["lost_s"][lanes.id[out]] = lanes.t[out]
        self.found["outages"][lanes.id[out]] += 1

    def end(self, at: Index) -> None:
        """Close the books of runs that are over."""
        lanes, found = self._lanes, self.found
        if not at.size:
            return
        lanes.over[at] = True
        run = lanes.id[at]
        out = lanes.modes[DEVICE, at] == m.DeviceMode.OUT
        found["out_at_end"][run] = out
        lasted = np.where(out, lanes.t[at] - lanes.since_s[at], 0.0)
        found["longest_out_s"][run] = np.fmax(found["longest_out_s"][run], lasted)
        found["out_s"][run] += lasted

    def device(self, at: Index, runs: NDArray[np.bool_]) -> None:
        """The device of some runs starts to do its work, or stops."""
        lanes, found = self._lanes, self.found
        at, runs = at[lanes.watched[at]], runs[lanes.watched[at]]
        run, t = lanes.id[at], lanes.t[at]
        for one, when in zip(run, t, strict=True):
            self._changes[one].append(float(when))
        back, out = run[runs], run[~runs]
        found["back_s"][back] = t[runs]
        lasted = t[runs] - lanes.since_s[at[runs]]
        found["longest_out_s"][back] = np.fmax(found["longest_out_s"][back], lasted)
        found["out_s"][back] += lasted
        lanes.since_s[at[~runs]] = t[~runs]
        found["lost_s"][out] = np.where(
            np.isnan(found["lost_s"][out]), t[~runs], found["lost_s"][out]
        )
        found["outages"][out] += 1

    def receptacle(self, at: Index) -> None:
        """A receptacle has fallen to vSafe0V: who waited for that goes on."""
        lanes = self._lanes
        self.found["dead_s"][lanes.id[at]] = lanes.t[at]
        waited = at[lanes.waiting[at]]
        more = lanes.t[waited] - lanes.corner_s[waited]
        self.found["waited_s"][lanes.id[waited]] += more
        lanes.shift[waited] += more
        lanes.corner_s[waited] = lanes.t[waited]
        lanes.waiting[waited] = False

    def extremes(self, chosen: NDArray[np.bool_], values: Array, t_s: Array) -> None:
        """Volts at the pins and current of the port, at one instant."""
        n, at = self._network, np.flatnonzero(chosen)
        pins = values[n.pins_v, at]
        self._extreme(at, pins, pins, values[n.out_a, at], t_s[at])

    def crests(
        self, chosen: NDArray[np.bool_], values: tuple[Array, Array, Array], h: Array
    ) -> None:
        """The same within whole steps: where a parabola through three places has its crest.

        Notes
        -----
        Through the beginning, the middle and the end. Only for steps that lively modes bound:
        what rings is then never stepped over by more than a radian, and the parabola is within
        some thousandths of its crest.
        """
        n, at = self._network, np.flatnonzero(chosen)
        if not at.size:
            return
        pins = [v[n.pins_v, at] for v in values]
        amps = [v[n.out_a, at] for v in values]
        peak, place = _crest(*amps)
        least = -_crest(*(-v for v in pins))[0]
        self._extreme(at, least, _crest(*pins)[0], peak, self._lanes.t[at] + place * h[at])

    def _extreme(self, at: Index, least_v: Array, most_v: Array, peak_a: Array, t_s: Array) -> None:
        found, run = self.found, self._lanes.id[at]
        found["least_v"][run] = np.fmin(found["least_v"][run], least_v)
        found["most_v"][run] = np.fmax(found["most_v"][run], most_v)
        more = peak_a > found["peak_a"][run]
        found["peak_a"][run[more]] = peak_a[more]
        found["peak_s"][run[more]] = t_s[more]

    def record(self, start: Start, span: Array) -> None:
        """Keep the waveforms on the grid that falls into these steps."""
        if self._trace is None or self._grid_s is None:
            return
        n, lanes = self._network, self._lanes
        first = np.searchsorted(self._grid_s, lanes.t, side="left")
        last = np.searchsorted(self._grid_s, lanes.t + span, side="right")
        counts = np.where(span > 0.0, last - first, 0)
        if not counts.sum():
            return
        lane = np.repeat(np.arange(lanes.size), counts)
        offset = np.arange(lane.size) - np.repeat(np.cumsum(counts) - counts, counts)
        place = np.repeat(first, counts) + offset
        part = start.at(lane)
        later = self._grid_s[place] - lanes.t[lane]
        x = part.equations.vector(part.t_s + later, part.after(later)[0])
        values = part.equations.values(x)
        run = lanes.id[lane]
        self._trace.pins_v[run, place] = values[n.pins_v]
        self._trace.port_v[run, place] = values[n.receptacle_v]
        self._trace.port_a[run, place] = values[n.out_a]


def _crest(first: Array, middle: Array, last: Array) -> tuple[Array, Array]:
    """The highest of a parabola through three even places, and where: a share of the way."""
    bend, tilt = first - 2.0 * middle + last, last - first
    down = np.where(bend < 0.0, bend, -1.0)
    place = -tilt / (4.0 * down)
    inside = (bend < 0.0) & (np.abs(place) <= 0.5)
    return (
        np.where(inside, middle - tilt * tilt / (8.0 * down), middle),
        0.5 + np.where(inside, place, 0.0),
    )


def _blank_trace(grid_s: Array, runs: int) -> Trace:
    empty = [np.full((runs, grid_s.size), np.nan) for _ in range(3)]
    return Trace(t_s=grid_s, pins_v=empty[0], port_v=empty[1], port_a=empty[2])


def _blank_outcome(runs: int) -> dict[str, Any]:
    """The fields of an outcome before anything has happened."""
    counts = ("outages", "trips", "steps", "switches")
    flags = ("out_at_end", "never_settles", "blocked")
    times = ("lost_s", "back_s", "peak_s", "dead_s")
    sums = ("longest_out_s", "out_s", "waited_s")
    return {
        **{name: np.zeros(runs, dtype=np.int64) for name in counts},
        **{name: np.zeros(runs, dtype=bool) for name in flags},
        **{name: np.full(runs, np.nan) for name in times},
        **{name: np.zeros(runs) for name in sums},
        "least_v": np.full(runs, np.inf),
        "most_v": np.full(runs, -np.inf),
        "peak_a": np.full(runs, -np.inf),
    }
