"""The window: volts along the foot, what the device accepts lies open, the supply is bars.

What is drawn, without saying how: `window_text` and `window_svg` draw the same thing.
"""

import math
from dataclasses import dataclass, replace

import numpy as np

from sinkside.paths.front import Front
from sinkside.paths.rows import rows_of
from sinkside.paths.states import State
from sinkside.paths.symbols import symbols_of
from sinkside.paths.views import CORNERS
from sinkside.plan.model import Chosen
from sinkside.site.appliance import Appliance


@dataclass(frozen=True, kw_only=True)
class Bar:
    """One state of the supply at the inlet.

    Parameters
    ----------
    low_v, nominal_v, high_v
        From the lowest corner at the pins at the peak to the highest with the device off.
    match
        Whether it is the contract that was asked for.
    """

    label: str
    low_v: float
    nominal_v: float
    high_v: float
    match: bool


@dataclass(frozen=True, kw_only=True)
class Window:
    """The window of one device on one supply.

    Parameters
    ----------
    wont_run_v
        Below this it surely does not run.
    runs_v
        From here it surely runs; between the two nobody knows.
    stands_v
        Up to here it is surely not harmed.
    harmed_v
        Above this it surely is; between the two nobody knows.
    left_v, right_v
        The ends of the scale.
    """

    wont_run_v: float
    runs_v: float
    stands_v: float
    harmed_v: float
    left_v: float
    right_v: float
    bars: tuple[Bar, ...]


def window(appliance: Appliance, chosen: Chosen | None) -> Window:
    """The window of a device, with the states of its path if it has one."""
    bars = _bars(chosen) if chosen else ()
    if chosen is not None:  # of rails it is the input of the converter that is fed
        appliance = chosen.judged.paths[chosen.index].appliance
    runs, harm = appliance.runs_from_v, appliance.harmed_above_v
    edges = [runs.high, harm.low, *(bar.high_v for bar in bars)]
    right = max(1.15 * max(edges), min(harm.high * 1.08, 1.6 * max(edges)))
    lows = [runs.low, *(bar.low_v for bar in bars)]
    left = max(0.0, math.floor(min(lows) - 1.0))
    return Window(
        wont_run_v=runs.low,
        runs_v=runs.high,
        stands_v=harm.low,
        harmed_v=harm.high,
        left_v=left,
        right_v=math.ceil(right),
        bars=bars,
    )


def _bars(chosen: Chosen) -> tuple[Bar, ...]:
    path = chosen.judged.paths[chosen.index]
    rows = rows_of((path,))
    symbols, _ = symbols_of((path,), rows, CORNERS)
    low = symbols["V_feed_low"] - symbols["I_in"] * symbols["R_feed"]
    bars: dict[str, Bar] = {}
    converter = path.front.converter
    kinds: list[tuple[str, float]] = [(s.kind, s.nominal_v) for s in {row.state for row in rows}]
    shared: set[tuple[str, float]] = {kind for kind in kinds if kinds.count(kind) > 1}
    for i, row in enumerate(rows):
        state = row.state
        label = _label(state, path.front, shared)
        high = float(symbols["V_feed_high"][i, 0])
        bottom = float(np.nan_to_num(low[i, 0])) if state.kind == "match" else state.low_v
        middle = state.nominal_v if converter is None else converter.gives_v.value
        bar = Bar(
            label=label,
            low_v=min(bottom, high),
            nominal_v=min(max(middle, bottom), high),
            high_v=high,
            match=state.kind == "match",
        )
        known = bars.get(label)
        if known is None or bar.low_v < known.low_v:
            bars[label] = bar
    return tuple(sorted(bars.values(), key=lambda b: (not b.match, -b.nominal_v)))


def _label(state: State, front: Front, shared: set[tuple[str, float]]) -> str:
    """The state in a few words; the company is left out where it makes no other bar."""
    alike = (state.kind, state.nominal_v) in shared and not state.alternative
    plain = replace(state, company=front.occupancies) if alike else state
    said = plain.label(front)
    if state.kind != "match" or front.converter is None:
        return said
    return f"{front.converter.gives_v.value:g} V, from {said.removeprefix('contract ')}"


def ticks(drawn: Window) -> tuple[float, ...]:
    """Round volts for the scale: six to ten of them."""
    extent = drawn.right_v - drawn.left_v
    step = next((s for s in (0.5, 1.0, 2.0, 2.5, 5.0, 10.0) if extent / s <= 10), 20.0)
    first = math.ceil(drawn.left_v / step)
    last = math.floor(drawn.right_v / step)
    return tuple(k * step for k in range(first, last + 1))
