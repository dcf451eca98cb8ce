"""Every rule on every path in every state at every corner, as arrays.

Rows are (path, alternative, state); columns are those of the view. One pass computes the
symbols of the rules for all rows, then each rule's margin from its formula.
"""

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.front import Front
from sinkside.paths.solve import Chains, Steady, steady
from sinkside.paths.states import State, Supply, supply
from sinkside.paths.values import (
    BackValues,
    FrontValues,
    back_values,
    front_values,
    offer,
    rise,
    trip,
)
from sinkside.paths.views import CORNERS, View
from sinkside.physics.operating_point import Load
from sinkside.rules.table import RULES, Rule
from sinkside.rules.verdict import Stakes, Verdict, decide
from sinkside.site.appliance import Appliance, Law
from sinkside.site.prints import USB_PLUGS
from sinkside.working import evaluate

Array: TypeAlias = NDArray[np.float64]
Symbols: TypeAlias = dict[str, Array]


@dataclass(frozen=True, kw_only=True)
class Path:
    """A front joined to a device."""

    front: Front
    appliance: Appliance


@dataclass(frozen=True, kw_only=True)
class Row:
    """One path in one state under one answer to what is not known."""

    path: int
    alternative: int
    law: Law
    state: State


@dataclass(frozen=True, kw_only=True)
class Judged:
    """Verdicts on paths.

    Parameters
    ----------
    codes
        Verdict of each formula rule on each path, shape (rules, paths).
    margins
        Least margin at the worst corner, same shape; infinite where the rule does not apply.
    deciding
        Row that decides, same shape.
    categorical
        Verdicts of the categorical rules of single paths, by rule id, shape (paths,).
    loss_w
        Most that is burnt between port and inlet at the steady current, shape (paths,).
    """

    paths: tuple[Path, ...]
    supplies: tuple[Supply, ...]
    rows: tuple[Row, ...]
    rules: tuple[Rule, ...]
    codes: NDArray[np.int8]
    margins: Array
    deciding: NDArray[np.intp]
    categorical: dict[str, NDArray[np.int8]]
    loss_w: Array

    def unproven(self, *stakes: Stakes) -> NDArray[np.int64]:
        """How many rules of those stakes are unproven on each path."""
        count = np.zeros(len(self.paths), dtype=np.int64)
        for i, rule in enumerate(self.rules):
            at_stake = _stakes_masks(rule, self.paths, stakes)
            count += at_stake & (self.codes[i] == Verdict.UNPROVEN)
        for name, codes in self.categorical.items():
            if RULES_BY_ID[name].stakes in stakes:
                count += codes == Verdict.UNPROVEN
        return count

    def worst(self, *stakes: Stakes) -> NDArray[np.int8]:
        """The worst verdict of each path over rules of those stakes."""
        worst = np.zeros(len(self.paths), dtype=np.int8)
        for i, rule in enumerate(self.rules):
            at_stake = _stakes_masks(rule, self.paths, stakes)
            worst = np.maximum(worst, np.where(at_stake, self.codes[i], 0)).astype(np.int8)
        for name, codes in self.categorical.items():
            if RULES_BY_ID[name].stakes in stakes:
                worst = np.maximum(worst, codes)
        return worst


RULES_BY_ID = {rule.id: rule for rule in RULES}
FORMULA_RULES = tuple(rule for rule in RULES if rule.formula and rule.judged != "company")


def stakes_of(rule: Rule, appliance: Appliance) -> Stakes:
    """What a broken rule costs with this device: starving some devices loses data."""
    if rule.id == "single-fault" and appliance.must_survive_fault:
        return Stakes.HARM
    if rule.id == "under-volts" and appliance.starved_loses:
        return Stakes.LOSS
    return rule.stakes


def _stakes_masks(
    rule: Rule, paths: Sequence[Path], stakes: tuple[Stakes, ...]
) -> NDArray[np.bool_]:
    if rule.id not in ("under-volts", "single-fault"):
        return np.full(len(paths), rule.stakes in stakes)
    return np.array([stakes_of(rule, p.appliance) in stakes for p in paths], dtype=bool)


def rows_of(paths: Sequence[Path]) -> tuple[Row, ...]:
    """Every row of some paths, grouped by path and alternative."""
    rows = []
    for i, path in enumerate(paths):
        states = supply(path.front).states
        answers = list(dict.fromkeys(s.alternative for s in states if s.alternative)) or [""]
        number = 0
        for law in path.appliance.laws:
            for answer in answers:
                rows += [
                    Row(path=i, alternative=number, law=law, state=state)
                    for state in states
                    if state.alternative in ("", answer)
                ]
                number += 1
    return tuple(rows)


def judge(paths: Sequence[Path]) -> Judged:
    """Judge paths by every rule that concerns a single path."""
    paths = tuple(paths)
    rows = rows_of(paths)
    view = CORNERS
    symbols, applies = symbols_of(paths, rows, view)
    codes = np.zeros((len(FORMULA_RULES), len(paths)), dtype=np.int8)
    margins = np.full((len(FORMULA_RULES), len(paths)), np.inf)
    deciding = np.zeros((len(FORMULA_RULES), len(paths)), dtype=np.intp)
    loss_w = np.zeros(len(paths))
    if rows:
        groups = _Groups(rows, len(paths))
        for i, rule in enumerate(FORMULA_RULES):
            margin = _margin(rule, symbols)
            code = decide(margin[:, 0], margin[:, 1])
            mask = applies[rule.id]
            codes[i] = groups.fold(np.where(mask, code, Verdict.FITS))
            margins[i], deciding[i] = groups.least(np.where(mask, margin[:, 0], np.inf))
        match = applies["under-volts"]
        spent = np.where(match, np.nan_to_num(symbols["P_lost"][:, 0]), 0.0)
        loss_w = -groups.least(-spent)[0]
    return Judged(
        paths=paths,
        supplies=tuple(supply(p.front) for p in paths),
        rows=rows,
        rules=FORMULA_RULES,
        codes=codes,
        margins=margins,
        deciding=deciding,
        categorical=_categorical(paths),
        loss_w=loss_w,
    )


class _Groups:
    """Rows grouped by (path, alternative), and those by path; rows come in that order."""

    def __init__(self, rows: Sequence[Row], paths: int) -> None:
        self.paths = paths
        path = np.array([r.path for r in rows])
        key = path * 64 + np.array([r.alternative for r in rows])
        self.alternative_starts = np.flatnonzero(np.r_[True, key[1:] != key[:-1]])
        first = path[self.alternative_starts]
        self.path_starts = np.flatnonzero(np.r_[True, first[1:] != first[:-1]])
        self.present = first[self.path_starts]
        self.row_starts = np.flatnonzero(np.r_[True, path[1:] != path[:-1]])
        self.path_of_row = path

    def fold(self, codes: NDArray[np.int8]) -> NDArray[np.int8]:
        """States of one alternative all come about; of the alternatives, one is true."""
        by_answer = np.maximum.reduceat(codes, self.alternative_starts)
        worst = np.maximum.reduceat(by_answer, self.path_starts)
        best = np.minimum.reduceat(by_answer, self.path_starts)
        found = np.zeros(self.paths, dtype=np.int8)
        found[self.present] = np.where(
            best == Verdict.FAILS,
            Verdict.FAILS,
            np.where(worst == Verdict.FITS, Verdict.FITS, Verdict.UNPROVEN),
        )
        return found

    def least(self, margins: Array) -> tuple[Array, NDArray[np.intp]]:
        """The least margin of each path and the row it stands in; not-a-number is least."""
        ranked = np.where(np.isnan(margins), -np.inf, margins)
        order = np.lexsort((ranked, self.path_of_row))
        rows = order[self.row_starts]
        least = np.full(self.paths, np.inf)
        deciding = np.zeros(self.paths, dtype=np.intp)
        least[self.present] = margins[rows]
        deciding[self.present] = rows
        return least, deciding


def _margin(rule: Rule, symbols: Symbols) -> Array:
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        margin: Array = evaluate(rule.formula, symbols)
    return margin


def margin_of(rule: Rule, path: Path, rows: Sequence[Row], view: View) -> Array:
    """The margin of one rule in some rows of one path, seen through a view."""
    symbols, applies = symbols_of((path,), rows, view)
    return np.where(applies[rule.id][:, None], _margin(rule, symbols), np.inf)


def symbols_of(
    paths: Sequence[Path], rows: Sequence[Row], view: View
) -> tuple[Symbols, dict[str, NDArray[np.bool_]]]:
    """The symbols of the rules in every row, shape (rows, columns), and where each rule applies."""
    front, front_row = _fronts(paths, rows, view)
    back, back_row = _backs(paths, rows, view)
    f = {name: values[front_row] for name, values in front.items()}
    b = {name: values[back_row] for name, values in back.items()}
    low, high, match = _port(rows)
    offers, trips, rises = _current_limits(paths, rows, view)
    converts = f["converts"].astype(bool)[:, None]
    steps_down = f["steps_down"].astype(bool)[:, None]
    chains = Chains(
        port_v=np.broadcast_to(low, f["front_ohm"].shape),
        front_ohm=f["front_ohm"],
        back_ohm=f["back_ohm"],
        set_low_v=f["set_low_v"],
        set_high_v=f["set_high_v"],
        needs_v=f["needs_v"],
        efficiency=f["efficiency"],
        quiescent_a=f["quiescent_a"],
        pass_ohm=f["pass_ohm"],
        converts=converts,
        passes=steps_down,
    )
    peak = _steady(chains, b["peak_a"], b["peak_w"], b["peak_s"])
    long = _steady(chains, b["steady_a"], b["steady_w"], b["steady_s"])
    feed_high = np.where(
        converts & steps_down,
        np.minimum(f["set_high_v"], high),
        np.where(converts, f["set_high_v"], high),
    )
    with np.errstate(divide="ignore", invalid="ignore"):
        ramped = np.where(f["ramp_s"] > 0.0, feed_high / f["ramp_s"], rises)
    column = np.ones_like(chains.port_v)
    symbols: Symbols = {
        "V_harm": b["harm_v"],
        "V_run": b["run_v"],
        "V_feed_high": feed_high,
        "V_feed_low": peak.feed_v,
        "R_feed": peak.feed_ohm,
        "I_in": peak.in_a,
        "I_port": peak.port_a,
        "I_conv": peak.converter_port_a,
        "I_steady": long.in_a,
        "I_port_steady": long.port_a,
        "P_load": b["peak_w"],
        "I_offer": offers,
        "I_trip": trips,
        "S_rise": ramped,
        "C_in": b["capacitance_f"],
        "R_front": f["front_ohm"],
        "V_needs": f["needs_v"],
        "V_port_low": chains.port_v,
        "V_port_high": high * column,
        "I_rated": f["rated_a"][:, None] * column,
        "I_rated_port": f["rated_port_a"][:, None] * column,
        "V_rated": f["rated_v"][:, None] * column,
        "I_weakest": np.minimum(f["weakest_a"][:, None], b["jack_a"]),
        "I_fault": f["fault_a"],
        "I_fuse": f["fuse_a"][:, None] * column,
        "I_through": np.where(f["fuse_in_front"].astype(bool)[:, None], long.port_a, long.in_a),
        "V_press": f["press_v"][:, None] * column,
        "P_allow": b["allow_w"],
        "V_out": b["output_v"],
        "I_q": b["quiescent_a"],
        "V_cool": b["cool_v"],
        "P_lost": chains.port_v * long.port_a
        - (long.feed_v - long.in_a * long.feed_ohm) * long.in_a,
    }
    held = np.array([_held(paths[r.path]) for r in rows], dtype=bool)
    return symbols, _applies(match, held, f, b)


def _steady(chains: Chains, amps: Array, watts: Array, siemens: Array) -> Steady:
    return steady(chains, Load(constant_a=amps, power_w=watts, conductance_s=siemens))


def _held(path: Path) -> bool:
    """Whether this device has been tried on this charger and did not trip it."""
    return path.front.charger.id in path.appliance.held_on


def _applies(
    match: NDArray[np.bool_], held: NDArray[np.bool_], f: dict[str, Array], b: dict[str, Array]
) -> dict[str, NDArray[np.bool_]]:
    """Where each rule has something to say."""
    always = np.ones_like(match)
    special = {
        "button": f["press_v"] > 0.0,
        "fault-current": always,
        "inrush": match & ~held,
        "regulator-heat": b["has_regulator"].astype(bool),
        "lived-heat": b["has_cool"].astype(bool),
        "operating-point": match & b["constant_power"].astype(bool),
        "converter-headroom": match & f["converts"].astype(bool),
        "port-side-current": match,
        "fuse-holds": match & np.isfinite(f["fuse_a"]),
        "single-fault": match & f["converts"].astype(bool),
    }
    return {
        rule.id: special.get(rule.id, always if rule.judged == "every state" else match)
        for rule in FORMULA_RULES
    }


def _port(rows: Sequence[Row]) -> tuple[Array, Array, NDArray[np.bool_]]:
    low = np.array([r.state.low_v for r in rows])[:, None]
    high = np.array([r.state.high_v for r in rows])[:, None]
    match = np.array([r.state.kind == "match" for r in rows], dtype=bool)
    return low, high, match


def _current_limits(
    paths: Sequence[Path], rows: Sequence[Row], view: View
) -> tuple[Array, Array, Array]:
    wanted = [(paths[r.path].front, r.state) for r in rows]
    keys = [(f.charger, f.port, f.trigger.by_resistors, state) for f, state in wanted]
    first = dict(zip(reversed(keys), reversed(wanted), strict=True))
    place = {key: i for i, key in enumerate(first)}
    at = np.array([place[key] for key in keys], dtype=np.intp)
    return (
        np.array([view.at(offer(f, state), "low") for f, state in first.values()])[at],
        np.array([view.at(trip(f, state), "low") for f, state in first.values()])[at],
        np.array([view.at(rise(f), "high") for f, _ in first.values()])[at],
    )


def _fronts(
    paths: Sequence[Path], rows: Sequence[Row], view: View
) -> tuple[dict[str, Array], NDArray[np.intp]]:
    fronts = dict.fromkeys(path.front for path in paths)
    place = {front: i for i, front in enumerate(fronts)}
    at = np.array([place[path.front] for path in paths], dtype=np.intp)
    return _stacked([front_values(f, view) for f in fronts], FrontValues), at[_path_of(rows)]


def _backs(
    paths: Sequence[Path], rows: Sequence[Row], view: View
) -> tuple[dict[str, Array], NDArray[np.intp]]:
    wanted = [(paths[row.path].appliance, row.law) for row in rows]
    place = {key: i for i, key in enumerate(dict.fromkeys(wanted))}
    stacked = _stacked([back_values(a, law, view) for a, law in place], BackValues)
    return stacked, np.array([place[key] for key in wanted], dtype=np.intp)


def _path_of(rows: Sequence[Row]) -> NDArray[np.intp]:
    return np.array([row.path for row in rows], dtype=np.intp)


def _stacked(
    values: Sequence[FrontValues] | Sequence[BackValues],
    kind: type[FrontValues] | type[BackValues],
) -> dict[str, Array]:
    return {f.name: np.array([getattr(v, f.name) for v in values]) for f in fields(kind)}


def _categorical(paths: Sequence[Path]) -> dict[str, NDArray[np.int8]]:
    return {
        "polarity": np.array([polarity(p) for p in paths], dtype=np.int8),
        "direct-current": np.array([direct_current(p) for p in paths], dtype=np.int8),
        "match-offered": np.array([match_offered(p) for p in paths], dtype=np.int8),
    }


def polarity(path: Path) -> Verdict:
    """Two evidences that agree with the plug fit; one, or none, is unproven; against is failing."""
    end, evidence = path.front.end, path.appliance.evidence
    if end.plug in USB_PLUGS:
        return Verdict.FITS  # the poles of these plugs are fixed
    if end.kind != "barrel" or end.centre is None:
        return Verdict.UNPROVEN
    if any(e.centre != end.centre for e in evidence):
        return Verdict.FAILS
    return Verdict.FITS if len({e.observed for e in evidence}) >= 2 else Verdict.UNPROVEN


def direct_current(path: Path) -> Verdict:
    """Whether the inlet takes d.c."""
    kinds = {"dc": Verdict.FITS, "unknown": Verdict.UNPROVEN, "ac": Verdict.FAILS}
    return kinds[path.appliance.kind]


def match_offered(path: Path) -> Verdict:
    """Whether the volts asked for are there in every company."""
    offered = supply(path.front).offered
    if offered is None:
        return Verdict.UNPROVEN
    return Verdict.FITS if offered else Verdict.FAILS
