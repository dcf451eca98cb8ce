"""The symbols of the rules for every row of some paths, as arrays, and where each rule applies.

Rows are (path, answer, state); columns are those of the view. Figures are reckoned on situations,
and each only when a rule asks for it. The physics is in `solve`, the figures come from `values`.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.frozen import once
from sinkside.paths.currents import bounded, currents, good_end, starting, steadied, uppers
from sinkside.paths.pool import Indices
from sinkside.paths.rows import Path, Row
from sinkside.paths.situations import Situations, situations
from sinkside.paths.solve import Chains, Steady
from sinkside.paths.views import View
from sinkside.rules.table import RULES

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]
Symbols: TypeAlias = Mapping[str, Array]
# A trial at its own volts says what happens up to a little more.
TRIED_UP_TO = 1.1
FORMULA_RULES = tuple(rule for rule in RULES if rule.formula and rule.judged != "company")


def symbols_of(
    paths: Sequence[Path], rows: Sequence[Row], view: View
) -> tuple[Symbols, dict[str, Mask]]:
    """The symbols of the rules in every row, shape (rows, columns), and where each rule applies."""
    found = situations(paths, rows, view)
    symbols, applies = reckoned(found)
    of_row = {rule: mask[found.of_row] for rule, mask in applies.items()}
    return _OfRows(symbols, found.of_row), of_row


def reckoned(found: Situations) -> tuple[Symbols, dict[str, Mask]]:
    """The symbols in every situation, shape (situations, columns), and where each rule applies."""
    figures = _Figures(found)
    return _Lazy(figures), _applies(figures)


class _OfRows(Mapping[str, Array]):
    """Symbols of situations, handed out for every row."""

    def __init__(self, symbols: Symbols, of_row: Indices) -> None:
        self.symbols = symbols
        self.of_row = of_row

    def __getitem__(self, name: str) -> Array:
        return self.symbols[name][self.of_row]

    def __iter__(self) -> Iterator[str]:
        return iter(self.symbols)

    def __len__(self) -> int:
        return len(self.symbols)


class _Lazy(Mapping[str, Array]):
    """Symbols by name, each worked out when it is first asked for."""

    def __init__(self, figures: "_Figures") -> None:
        self.figures = figures
        self.known: dict[str, Array] = {}

    def __getitem__(self, name: str) -> Array:
        if name not in self.known:
            of_point = _OF_POINTS.get(name)
            self.known[name] = (
                _OF_SITUATIONS[name](self.figures)
                if of_point is None
                else of_point(self.figures)[self.figures.s.point]
            )
        return self.known[name]

    def __iter__(self) -> Iterator[str]:
        yield from _OF_POINTS
        yield from _OF_SITUATIONS

    def __len__(self) -> int:
        return len(_OF_POINTS) + len(_OF_SITUATIONS)


class _Figures:
    """What several symbols have in common, worked out once."""

    def __init__(self, found: Situations) -> None:
        self.s = found
        self.f = found.f
        self.b = found.b
        self.converts = self.f["converts"].astype(bool)[:, None]
        self.steps_up = self.f["steps_up"].astype(bool)[:, None]
        self.column = np.ones_like(self.f["front_ohm"])

    @once
    def chains(self) -> Chains:
        """The fronts of the situations, the port at its lowest."""
        f = self.f
        return Chains(
            port_v=np.broadcast_to(self.s.low_v, f["front_ohm"].shape),
            front_ohm=f["front_ohm"],
            back_ohm=f["back_ohm"],
            front_drop_v=f["front_drop_v"],
            back_drop_v=f["back_drop_v"],
            set_low_v=f["set_low_v"],
            set_high_v=f["set_high_v"],
            needs_v=f["needs_v"],
            efficiency=f["efficiency"],
            quiescent_a=f["quiescent_a"],
            pass_ohm=f["pass_ohm"],
            converts=self.converts,
            passes=f["steps_down"].astype(bool)[:, None],
            lifts=self.steps_up,
        )

    @once
    def peak(self) -> Steady:
        """With the device at its peak."""
        b = self.b
        return steadied(self.chains, b["peak_a"], b["peak_w"], b["peak_s"])

    @once
    def long(self) -> Steady:
        """With the device at its steady current."""
        b = self.b
        return steadied(self.chains, b["steady_a"], b["steady_w"], b["steady_s"])

    @once
    def feed_high(self) -> Array:
        """Highest volts at the inlet."""
        return _feed_high(self.f, self.s.high_v)

    @once
    def uppers(self) -> tuple[Chains, ...]:
        """The chains as a resistance draws most through them."""
        return uppers(self.chains, self.f, self.s.high_v)

    @once
    def resistive(self) -> Mask:
        """Whether the device draws as a resistance."""
        return (self.b["steady_s"] > 0.0) | (self.b["peak_s"] > 0.0)

    @once
    def holdable(self) -> Mask:
        """Whether the port at its highest volts may feed a converter enough to hold its output."""
        f = self.f
        lowest = f["needs_v"] - (f["set_high_v"] - f["set_low_v"])
        found: Mask = self.converts & (lowest.min(axis=1, keepdims=True) <= self.s.high_v)
        return found

    @once
    def steady_now(self) -> tuple[Array, Array]:
        """Steady current into the device and out of the port, in every situation."""
        b = self.b
        found = currents(self.long, self.uppers, b["steady_s"], self.resistive, self.holdable)
        match, point = self.s.match, self.s.point
        asleep = ~match[:, None] & (self.s.high_v < b["asleep_below_v"]) & (b["peak_w"] > 0.0)
        in_a, port_a = (
            bounded(amps[point], match[point], asleep[point], self.s.fault_a) for amps in found[:2]
        )
        return in_a, port_a

    @once
    def peak_now(self) -> tuple[Array, Array, Array]:
        """Peak current into the device, out of the port, and out of it with the output held."""
        return currents(self.peak, self.uppers, self.b["peak_s"], self.resistive, self.holdable)

    @once
    def least_ohm(self) -> Array:
        """Least resistance between the capacitor and its source."""
        f = self.f
        return f["back_least_ohm"] + np.where(self.converts, 0.0, f["front_least_ohm"])

    @once
    def behind(self) -> Mask:
        """Whether the part that comes nearest to its limit stands behind the converter."""
        f = self.f
        return self.converts & (
            f["rated_load_v"][:, None] - self.feed_high
            < f["rated_v"][:, None] - self.s.high_v * self.column
        )


def _feed_high(f: dict[str, Array], high: Array) -> Array:
    """Highest volts at the inlet: a step-down gives no more than it gets or is set to, and a
    step-up passes an input that is higher than what it is set to."""
    found = np.where(f["steps_down"].astype(bool)[:, None], np.minimum(f["set_high_v"], high), 0.0)
    found = np.where(f["steps_up"].astype(bool)[:, None], np.maximum(f["set_high_v"], high), found)
    other = f["converts"].astype(bool) & ~(f["steps_down"] + f["steps_up"]).astype(bool)
    found = np.where(other[:, None], f["set_high_v"], found)
    return np.where(f["converts"].astype(bool)[:, None], found, high)


def _step_up(f: dict[str, Array], chains: Chains) -> Array:
    """Amps of the port for one amp behind a converter that steps up; one without."""
    with np.errstate(divide="ignore", invalid="ignore"):
        ratio = f["set_high_v"] / (f["efficiency"] * chains.port_v)
    return np.where(f["converts"].astype(bool)[:, None], np.maximum(1.0, ratio), 1.0)


def _pulse(at: _Figures) -> Array:
    """I²t of the charging pulse: I²·t through a ramp, else C·V²/2R through what is in the way.

    While a source limits, less flows for longer, and the I²t is less: at the good end of the
    corners it limits at what it offers.
    """
    farads, volts, ramp_s = at.b["capacitance_f"], at.feed_high, at.f["ramp_s"]
    with np.errstate(divide="ignore", invalid="ignore"):
        hard = farads * volts**2 / (2.0 * at.least_ohm)
        soft = (farads * volts) ** 2 / ramp_s
    found = np.where(ramp_s > 0.0, np.fmin(soft, hard), hard)[at.s.point]
    if found.shape[1] == 2:
        limited = at.s.offer_a * farads[at.s.point] * volts[at.s.point]
        found[:, 1] = np.fmin(found, limited)[:, 1]
    return found


def _ramped(at: _Figures) -> Array:
    """How fast the volts rise at the capacitor."""
    point, ramp_s = at.s.point, at.f["ramp_s"]
    with np.errstate(divide="ignore", invalid="ignore"):
        softened = (at.feed_high / ramp_s)[point]
        ramped = np.where((ramp_s > 0.0)[point], softened, at.s.rise_v_per_s)
        # No more flows into the capacitor than the leads behind its source let through.
        most = at.feed_high / (at.least_ohm * at.b["capacitance_f"])
        found: Array = np.fmin(ramped, most[point])
    return found


def _at_part_v(at: _Figures) -> Array:
    return np.where(at.behind, at.feed_high, at.s.high_v * at.column)


def _rated_v(at: _Figures) -> Array:
    f = at.f
    behind, before = f["rated_load_v"][:, None], f["rated_v"][:, None]
    return np.where(at.behind, behind, before) * at.column


def _through_fuse_a(at: _Figures) -> Array:
    in_a, port_a = at.steady_now
    passing = np.where(at.holdable, at.long.port_a, 0.0)[at.s.point]
    in_front = at.f["fuse_in_front"].astype(bool)[at.s.point, None]
    return np.where(in_front, good_end(port_a, passing), in_a)


def _idle_a(at: _Figures) -> Array:
    """Behind a converter that steps down the port sees less; its own current is left out."""
    f = at.f
    share = np.minimum(1.0, f["set_low_v"] / (f["efficiency_most"] * at.s.high_v))
    found: Array = at.b["idle_a"] * np.where(at.converts, share, 1.0)
    return found


def _lost_w(at: _Figures) -> Array:
    long = at.long
    found: Array = at.chains.port_v * long.port_a - (long.feed_v - long.in_a * long.feed_ohm) * (
        long.in_a
    )
    return found


_OF_POINTS: dict[str, Callable[[_Figures], Array]] = {
    "V_harm": lambda at: at.b["harm_v"],
    "V_run": lambda at: at.b["run_v"],
    "V_feed_high": lambda at: at.feed_high,
    "V_feed_low": lambda at: at.peak.feed_v,
    "R_feed": lambda at: at.peak.feed_ohm,
    "I_in": lambda at: at.peak.in_a,
    "I_port": lambda at: at.peak_now[1],
    "I_conv": lambda at: at.peak_now[2],
    "P_load": lambda at: at.b["peak_w"],
    "C_in": lambda at: at.b["capacitance_f"],
    "R_front": lambda at: at.f["front_ohm"],
    "V_needs": lambda at: at.f["needs_v"],
    "V_port_low": lambda at: at.chains.port_v - at.f["front_drop_v"],
    "V_port_high": lambda at: at.s.high_v * at.column,
    "V_at_part": _at_part_v,
    "I_rated": lambda at: at.f["rated_a"][:, None] * at.column,
    "I_rated_port": lambda at: at.f["rated_port_a"][:, None] * at.column,
    "V_rated": _rated_v,
    "I_weakest": lambda at: np.minimum(at.f["weakest_a"][:, None], at.b["jack_a"]),
    "I_fuse": lambda at: at.f["fuse_a"][:, None] * at.column,
    "K_up": lambda at: _step_up(at.f, at.chains),
    "I_start": lambda at: starting(at.peak, at.b, at.feed_high, at.s.before),
    "I_idle": _idle_a,
    "J_fuse": lambda at: at.f["fuse_pulse_a2s"],
    "I_conv_rated": lambda at: at.f["converter_a"][:, None] * at.column,
    "V_press": lambda at: at.f["press_v"][:, None] * at.column,
    "P_allow": lambda at: at.b["allow_w"],
    "V_out": lambda at: at.b["output_v"],
    "I_q": lambda at: at.b["quiescent_a"],
    "V_cool": lambda at: at.b["cool_v"],
    "P_lost": _lost_w,
}
_OF_SITUATIONS: dict[str, Callable[[_Figures], Array]] = {
    "I_steady": lambda at: at.steady_now[0],
    "I_port_steady": lambda at: at.steady_now[1],
    "I_offer": lambda at: at.s.offer_a,
    "I_trip": lambda at: at.s.trip_a,
    "S_rise": _ramped,
    "I_fault": lambda at: at.s.fault_a,
    "I_through": _through_fuse_a,
    "K_long": lambda at: at.s.long_share,
    "I_cut": lambda at: at.s.cut_a,
    "J_rush": _pulse,
}


def _applies(at: _Figures) -> dict[str, Mask]:
    """Where each rule has something to say."""
    f, b, match, point = at.f, at.b, at.s.match, at.s.point
    # It was tried at its own volts: at more, the trial says nothing.
    as_tried = at.feed_high.max(axis=1) <= TRIED_UP_TO * b["reference_v"]
    held = at.s.held & as_tried[point]
    always = np.ones_like(match)
    special = {
        "button": f["press_v"] > 0.0,
        "fault-current": always,
        "inrush": match | at.s.before,
        "regulator-heat": b["has_regulator"].astype(bool),
        "lived-heat": b["has_cool"].astype(bool),
        "operating-point": match & b["constant_power"].astype(bool),
        "converter-headroom": match & f["converts"].astype(bool),
        "fuse-holds": match & np.isfinite(f["fuse_a"]),
        "fuse-pulse": match & np.isfinite(f["fuse_a"]),
        "single-fault": f["converts"].astype(bool),
        "converter-peak": match & f["converts"].astype(bool),
    }
    found = {
        rule.id: special.get(rule.id, always if rule.judged == "every state" else match)[point]
        for rule in FORMULA_RULES
    }
    found["inrush"] &= ~held
    found["idle-current"] = match[point] & np.isfinite(at.s.cut_a[:, 0])
    return found
