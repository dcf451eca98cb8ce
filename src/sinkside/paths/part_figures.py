"""Parts in numbers: all that fronts are reckoned from, one part at a time."""

from collections.abc import Callable
from functools import lru_cache
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.elements import Diode, RampSwitch
from sinkside.parts.part import Part
from sinkside.paths.values import series_ohm
from sinkside.paths.views import CORNERS, End, View
from sinkside.quantity import Quantity

Array: TypeAlias = NDArray[np.float64]

NONE = float("inf")


def part_figures(part: Part, view: View) -> bytes:
    """Every figure of a part: its `QUANTITIES` seen through a view, then its `SCALARS`.

    As bytes, so that parts that come to the same are found to be the same.
    """
    return _in_corners(part) if view is CORNERS else _figures(part, view)


@lru_cache(maxsize=20_000)
def _in_corners(part: Part) -> bytes:
    return _figures(part, CORNERS)


def _figures(part: Part, view: View) -> bytes:
    nothing = np.zeros(view.columns)
    seen = [of(part, view) for of in QUANTITIES.values()]
    plain = np.array([of(part) for of in SCALARS.values()], dtype=np.float64)
    return np.concatenate([*(nothing if v is None else v for v in seen), plain]).tobytes()


def _sum(quantities: tuple[Quantity, ...], view: View, bad: End) -> Array:
    return sum((view.at(q, bad) for q in quantities), start=np.zeros(view.columns))


def _most_ohm(part: Part, view: View) -> Array:
    return _sum(series_ohm((part,)), view, "high")


def _least_ohm(part: Part, view: View) -> Array:
    return _sum(series_ohm((part,)), view, "low")


def _forward_v(part: Part, view: View) -> Array | None:
    drops = tuple(e.forward_v for e in part.elements if isinstance(e, Diode))
    return _sum(drops, view, "high") if drops else None


def _melts(part: Part, view: View) -> Array | None:
    return view.at(part.fuse.melts_a2s, "low") if part.fuse else None


def _set_low(part: Part, view: View) -> Array | None:
    return view.at(part.converter.gives_v, "low") if part.converter else None


def _set_high(part: Part, view: View) -> Array | None:
    return view.at(part.converter.gives_v, "high") if part.converter else None


def _needs(part: Part, view: View) -> Array | None:
    """Least volts before the converter at which it holds its output."""
    converter = part.converter
    if converter is None:
        return None
    least = np.full(view.columns, converter.accepts_low_v)
    if converter.direction != "step-down":
        return least
    wanted = view.at(converter.gives_v, "high") + view.at(converter.headroom_v, "high")
    enough: Array = np.maximum(wanted, least)
    return enough


def _efficiency(part: Part, view: View) -> Array | None:
    return view.at(part.converter.efficiency, "low") if part.converter else None


def _efficiency_most(part: Part, view: View) -> Array | None:
    return view.at(part.converter.efficiency, "high") if part.converter else None


def _quiescent(part: Part, view: View) -> Array | None:
    return view.at(part.converter.quiescent_a, "high") if part.converter else None


def _pass_ohm(part: Part, view: View) -> Array | None:
    return view.at(part.converter.pass_ohm, "high") if part.converter else None


def _ramp(part: Part) -> RampSwitch | None:
    return next((e for e in part.elements if isinstance(e, RampSwitch)), None)


def _every_step(part: Part) -> bool:
    ramp = _ramp(part)
    return ramp is not None and ramp.every_step


def _ramp_s(part: Part, view: View) -> Array | None:
    ramp = _ramp(part)
    return view.at(ramp.ramp_s, "low") if ramp else None


def _opens_a(part: Part) -> float:
    """What surely opens the fuse in it."""
    return part.fuse.rated_a * part.fuse.opens_at_ratio if part.fuse else NONE


def _lead(part: Part) -> bool:
    """Whether it is a lead, or has one moulded on."""
    moulded = part.kind == "trigger" and part.gives.kind == "barrel"
    return part.kind in ("lead", "reverser") or moulded


def _steps(part: Part, direction: str) -> bool:
    return part.converter is not None and part.converter.direction == direction


QUANTITIES: dict[str, Callable[[Part, View], Array | None]] = {
    "most_ohm": _most_ohm,
    "least_ohm": _least_ohm,
    "forward_v": _forward_v,
    "melts_a2s": _melts,
    "set_low_v": _set_low,
    "set_high_v": _set_high,
    "needs_v": _needs,
    "efficiency": _efficiency,
    "efficiency_most": _efficiency_most,
    "quiescent_a": _quiescent,
    "pass_ohm": _pass_ohm,
    "ramp_s": _ramp_s,
}
SCALARS: dict[str, Callable[[Part], float]] = {
    "carries_a": lambda part: part.carries_a,
    "withstands_v": lambda part: part.withstands_v,
    "opens_a": _opens_a,
    "fuse": lambda part: part.fuse is not None,
    "cable": lambda part: part.kind == "cable",
    "port_side": lambda part: part.kind in ("cable", "trigger"),
    "lead": _lead,
    "converts": lambda part: part.converter is not None,
    "steps_down": lambda part: _steps(part, "step-down"),
    "steps_up": lambda part: _steps(part, "step-up"),
    "ramp": lambda part: _ramp(part) is not None,
    "every_step": _every_step,
}
