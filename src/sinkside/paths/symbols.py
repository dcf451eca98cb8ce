"""The symbols of the rules for every row of some paths, as arrays, and where each rule applies.

Rows are (path, answer, state); columns are those of the view. This is where parts, devices and
the port's states meet; the physics is in `solve`, the figures come from `values`.
"""

from collections.abc import Sequence
from dataclasses import fields, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.front_values import FrontValues, front_values
from sinkside.paths.rows import Path, Row, Rows, distinct
from sinkside.paths.solve import Chains, Steady, steady
from sinkside.paths.values import (
    BackValues,
    back_values,
    offer,
    rise,
    trip,
)
from sinkside.paths.views import View
from sinkside.physics.operating_point import Load
from sinkside.rules.table import RULES

Array: TypeAlias = NDArray[np.float64]
Symbols: TypeAlias = dict[str, Array]
# A trial at its own volts says what happens up to a little more.
TRIED_UP_TO = 1.1
FORMULA_RULES = tuple(rule for rule in RULES if rule.formula and rule.judged != "company")


def symbols_of(
    paths: Sequence[Path], rows: Sequence[Row], view: View
) -> tuple[Symbols, dict[str, NDArray[np.bool_]]]:
    """The symbols of the rules in every row, shape (rows, columns), and where each rule applies."""
    rows = Rows.of(rows)
    f = _fronts(paths, rows, view)
    b = _backs(paths, rows, view)
    low, high, match, before = _port(rows)
    offers, trips, rises = _current_limits(paths, rows, view)
    longs, cuts = _charger(paths, rows, view)
    converts = f["converts"].astype(bool)[:, None]
    steps_down = f["steps_down"].astype(bool)[:, None]
    chains = Chains(
        port_v=np.broadcast_to(low, f["front_ohm"].shape),
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
        converts=converts,
        passes=steps_down,
        lifts=f["steps_up"].astype(bool)[:, None],
    )
    peak = _steady(chains, b["peak_a"], b["peak_w"], b["peak_s"])
    long = _steady(chains, b["steady_a"], b["steady_w"], b["steady_s"])
    feed_high = _feed_high(f, high)
    resistive = (b["steady_s"] > 0.0) | (b["peak_s"] > 0.0)
    uppers = _uppers(chains, f, high)
    asleep = ~match[:, None] & (high < b["asleep_below_v"]) & (b["peak_w"] > 0.0)
    bounds = (match, asleep, f["fault_a"])
    # At its highest volts the port may feed a converter enough to hold its output.
    lowest = f["needs_v"] - (f["set_high_v"] - f["set_low_v"])
    least_needs = lowest.min(axis=1, keepdims=True)
    holdable = converts & (least_needs <= high)
    steady_now = _currents(long, uppers, b["steady_s"], resistive, holdable)
    peak_now = _currents(peak, uppers, b["peak_s"], resistive, holdable)
    in_a, port_a = (_bounded(amps, *bounds) for amps in steady_now[:2])
    peak_port_a, held_a = peak_now[1:]
    with np.errstate(divide="ignore", invalid="ignore"):
        ramped = np.where(f["ramp_s"] > 0.0, feed_high / f["ramp_s"], rises)
        # No more flows into the capacitor than the leads behind its source let through.
        least_ohm = f["back_least_ohm"] + np.where(converts, 0.0, f["front_least_ohm"])
        ramped = np.fmin(ramped, feed_high / (least_ohm * b["capacitance_f"]))
    column = np.ones_like(chains.port_v)
    # The part that comes nearest to its limit stands before the converter, or behind it.
    behind = converts & (
        f["rated_load_v"][:, None] - feed_high < f["rated_v"][:, None] - high * column
    )
    symbols: Symbols = {
        "V_harm": b["harm_v"],
        "V_run": b["run_v"],
        "V_feed_high": feed_high,
        "V_feed_low": peak.feed_v,
        "R_feed": peak.feed_ohm,
        "I_in": peak.in_a,
        "I_port": peak_port_a,
        "I_conv": held_a,
        "I_steady": in_a,
        "I_port_steady": port_a,
        "P_load": b["peak_w"],
        "I_offer": offers,
        "I_trip": trips,
        "S_rise": ramped,
        "C_in": b["capacitance_f"],
        "R_front": f["front_ohm"],
        "V_needs": f["needs_v"],
        "V_port_low": chains.port_v - f["front_drop_v"],
        "V_port_high": high * column,
        "V_at_part": np.where(behind, feed_high, high * column),
        "I_rated": f["rated_a"][:, None] * column,
        "I_rated_port": f["rated_port_a"][:, None] * column,
        "V_rated": np.where(behind, f["rated_load_v"][:, None], f["rated_v"][:, None]) * column,
        "I_weakest": np.minimum(f["weakest_a"][:, None], b["jack_a"]),
        "I_fault": f["fault_a"],
        "I_fuse": f["fuse_a"][:, None] * column,
        "I_through": np.where(
            f["fuse_in_front"].astype(bool)[:, None],
            _good_end(port_a, np.where(holdable, long.port_a, 0.0)),
            in_a,
        ),
        "K_up": _step_up(f, chains),
        "I_start": _starting(peak, b, feed_high, before),
        "K_long": longs,
        # Behind a converter that steps down the port sees less; its own current is left out.
        "I_idle": b["idle_a"]
        * np.where(converts, np.minimum(1.0, f["set_low_v"] / (f["efficiency_most"] * high)), 1.0),
        "I_cut": cuts,
        "J_fuse": f["fuse_pulse_a2s"],
        "J_rush": _pulse(f, b, feed_high, least_ohm, offers),
        "I_conv_rated": f["converter_a"][:, None] * column,
        "V_press": f["press_v"][:, None] * column,
        "P_allow": b["allow_w"],
        "V_out": b["output_v"],
        "I_q": b["quiescent_a"],
        "V_cool": b["cool_v"],
        "P_lost": chains.port_v * long.port_a
        - (long.feed_v - long.in_a * long.feed_ohm) * long.in_a,
    }
    held = np.array([_held(path) for path in paths], dtype=bool)[rows.path]
    # It was tried at its own volts: at more, the trial says nothing.
    held = held & (feed_high.max(axis=1) <= TRIED_UP_TO * b["reference_v"])
    return symbols, _applies(match, before, held, cuts, f, b)


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


def _uppers(chains: Chains, f: dict[str, Array], high: Array) -> tuple[Chains, ...]:
    """The chains as a resistance draws most through them: least ohms, the highest setting, and
    the port at its highest volts or, behind a converter, at its lowest."""
    upper = replace(
        chains,
        front_ohm=f["front_least_ohm"],
        back_ohm=f["back_least_ohm"],
        front_drop_v=np.zeros_like(f["front_drop_v"]),
        back_drop_v=np.zeros_like(f["back_drop_v"]),
        # A step-up passes an input that is higher than what it is set to.
        set_low_v=np.where(
            f["steps_up"].astype(bool)[:, None], np.maximum(f["set_high_v"], high), f["set_high_v"]
        ),
    )
    low = replace(upper, front_ohm=chains.front_ohm)
    return low, replace(upper, port_v=np.broadcast_to(high, chains.port_v.shape))


def _currents(
    low: Steady,
    uppers: tuple[Chains, ...],
    siemens: Array,
    resistive: NDArray[np.bool_],
    holdable: NDArray[np.bool_],
) -> tuple[Array, Array, Array]:
    """Most current into the device, out of the port, and out of it with the output held."""
    found: tuple[Array, ...] = _most(low, holdable)
    nothing = np.zeros_like(siemens)
    for chains in uppers:
        more = _most(_steady(chains, nothing, nothing, siemens), holdable)
        found = tuple(
            np.where(resistive, np.fmax(a, b), a) for a, b in zip(found, more, strict=True)
        )
    return found[0], found[1], found[2]


def _most(found: Steady, holdable: NDArray[np.bool_]) -> tuple[Array, Array, Array]:
    """Currents into the device and out of the port, at whichever is more of what may be.

    A converter that is starved at this corner may hold its output at another: what flows then
    is what currents and heat are judged by. Where either is no number, so is the most.
    """
    may_hold = holdable & ~found.regulated
    return (
        np.where(may_hold, np.maximum(found.in_a, found.held_a), found.in_a),
        # Between passing and holding, the port gives what the device takes.
        np.where(
            may_hold,
            np.maximum(found.port_a, np.maximum(found.held_port_a, found.passing_a)),
            found.port_a,
        ),
        found.held_port_a,
    )


def _good_end(most: Array, passing: Array) -> Array:
    """A bound from above, and at corners a bound from below in the good column.

    A converter that never gets what it needs may pass its input, or not start at all.
    """
    if most.shape[1] != 2:
        return most
    return np.stack([most[:, 0], np.fmin(most, passing)[:, 1]], axis=1)


def _bounded(
    amps: Array, match: NDArray[np.bool_], asleep: NDArray[np.bool_], fault: Array
) -> Array:
    """Steady currents off the match.

    There a load of constant power finds no working point at all, or lies below the volts it
    runs from. In the first case the port's trip is the bound; in the second nobody knows
    whether it sleeps or pulls all it can: the good end of that is nothing.
    """
    off = ~match[:, None]
    bounded = np.where(off & np.isnan(amps), fault, amps)
    if bounded.shape[1] == 2:
        bounded = bounded.copy()
        bounded[:, 1] = np.where(asleep[:, 1], 0.0, bounded[:, 1])
    return bounded


def _steady(chains: Chains, amps: Array, watts: Array, siemens: Array) -> Steady:
    return steady(chains, Load(constant_a=amps, power_w=watts, conductance_s=siemens))


def _held(path: Path) -> bool:
    """Whether this device has been tried on this charger and did not trip it."""
    return path.front.charger.id in path.appliance.held_on


def _applies(
    match: NDArray[np.bool_],
    before: NDArray[np.bool_],
    held: NDArray[np.bool_],
    cuts: Array,
    f: dict[str, Array],
    b: dict[str, Array],
) -> dict[str, NDArray[np.bool_]]:
    """Where each rule has something to say."""
    always = np.ones_like(match)
    special = {
        "button": f["press_v"] > 0.0,
        "fault-current": always,
        "inrush": (match | before) & ~held,
        "idle-current": match & np.isfinite(cuts[:, 0]),
        "regulator-heat": b["has_regulator"].astype(bool),
        "lived-heat": b["has_cool"].astype(bool),
        "operating-point": match & b["constant_power"].astype(bool),
        "converter-headroom": match & f["converts"].astype(bool),
        "fuse-holds": match & np.isfinite(f["fuse_a"]),
        "fuse-pulse": match & np.isfinite(f["fuse_a"]),
        "single-fault": f["converts"].astype(bool),
        "converter-peak": match & f["converts"].astype(bool),
    }
    return {
        rule.id: special.get(rule.id, always if rule.judged == "every state" else match)
        for rule in FORMULA_RULES
    }


def _starting(peak: Steady, b: dict[str, Array], volts: Array, before: NDArray[np.bool_]) -> Array:
    """Most that a device draws as it starts.

    A load of constant power asks for most as it wakes, at the least volts that it works from;
    where the volts do not get there, as before a contract, it sleeps.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        waking = np.where(b["peak_w"] > 0.0, b["peak_w"] / b["wakes_v"], 0.0)
        # A resistance takes most at the highest volts that it is given.
        warm = b["peak_a"] + b["peak_s"] * volts
        started = np.where(b["peak_s"] > 0.0, np.maximum(peak.in_a, warm), peak.in_a)
        started = np.maximum(started, waking)
        asleep = (b["peak_w"] > 0.0) & (volts < b["wakes_v"])
    early = np.where(asleep, 0.0, np.fmax(started, waking))
    return np.where(before[:, None], early, started)


def _pulse(
    f: dict[str, Array], b: dict[str, Array], volts: Array, least_ohm: Array, offers: Array
) -> Array:
    """I²t of the charging pulse: I²·t through a ramp, else C·V²/2R through what is in the way.

    While a source limits, less flows for longer, and the I²t is less: at the good end of the
    corners it limits at what it offers.
    """
    farads = b["capacitance_f"]
    with np.errstate(divide="ignore", invalid="ignore"):
        hard = farads * volts**2 / (2.0 * least_ohm)
        soft = (farads * volts) ** 2 / f["ramp_s"]
    found = np.where(f["ramp_s"] > 0.0, np.fmin(soft, hard), hard)
    if found.shape[1] == 2:
        found[:, 1] = np.fmin(found, offers * farads * volts)[:, 1]
    return found


def _charger(paths: Sequence[Path], rows: Rows, view: View) -> tuple[Array, Array]:
    """What a charger keeps up for hours, and under what current it switches off."""
    chargers, of_path = distinct(path.front.charger for path in paths)
    at = of_path[rows.path]
    longs = [view.at(c.long_share(), "low") for c in chargers]
    never = np.full(view.columns, -np.inf)
    cuts = [never if (c := x.cuts_off_a) is None else view.at(c, "high") for x in chargers]
    return np.array(longs)[at], np.array(cuts)[at]


def _port(rows: Rows) -> tuple[Array, Array, NDArray[np.bool_], NDArray[np.bool_]]:
    states = [state for _, state in rows.states]
    low = np.array([s.low_v for s in states])[rows.state][:, None]
    high = np.array([s.high_v for s in states])[rows.state][:, None]
    match = np.array([s.kind == "match" for s in states], dtype=bool)[rows.state]
    before = np.array([s.kind == "before contract" for s in states], dtype=bool)[rows.state]
    return low, high, match, before


def _current_limits(paths: Sequence[Path], rows: Rows, view: View) -> tuple[Array, Array, Array]:
    fronts = [(paths[path].front, state) for path, state in rows.states]
    return (
        np.array([view.at(offer(f, state), "low") for f, state in fronts])[rows.state],
        np.array([view.at(trip(f, state), "low") for f, state in fronts])[rows.state],
        np.array([view.at(rise(f), "high") for f, _ in fronts])[rows.state],
    )


def _fronts(paths: Sequence[Path], rows: Rows, view: View) -> dict[str, Array]:
    """The fronts of the rows; one that stands in many paths is looked at once."""
    fronts, of_path = distinct(path.front for path in paths)
    at = of_path[rows.path]
    values = front_values(fronts, view)
    return {field.name: getattr(values, field.name)[at] for field in fields(FrontValues)}


def _backs(paths: Sequence[Path], rows: Rows, view: View) -> dict[str, Array]:
    """The devices of the rows, each once under each of its laws."""
    appliances, of_path = distinct(path.appliance for path in paths)
    device = of_path[rows.path]
    wanted, at = np.unique(np.column_stack([device, rows.law]), axis=0, return_inverse=True)
    found = [back_values(appliances[i], rows.laws[law], view) for i, law in wanted.tolist()]
    return {
        field.name: np.array([getattr(v, field.name) for v in found])[at.reshape(-1)]
        for field in fields(BackValues)
    }
