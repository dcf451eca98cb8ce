"""Every rule on every path in every state at every corner, as arrays.

Rows are (path, alternative, state); columns are those of the view. One pass computes the
symbols of the rules for all rows, then each rule's margin from its formula.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.keep_alive import keep_alive
from sinkside.paths.rails import rail_current, rail_volts
from sinkside.paths.rows import Path, Row, Rows, distinct, rows_and_supplies
from sinkside.paths.states import Supply, supply
from sinkside.paths.symbols import FORMULA_RULES, Symbols, symbols_of
from sinkside.paths.views import CORNERS, View
from sinkside.rules.table import RULES, Rule
from sinkside.rules.verdict import Stakes, Verdict, decide
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS
from sinkside.working import evaluate

Array: TypeAlias = NDArray[np.float64]


@dataclass(frozen=True, kw_only=True)
class Judged:
    """Verdicts on paths.

    Parameters
    ----------
    codes
        Verdict of each formula rule on each path, shape (rules, paths).
    margins
        Least margin at the worst corner, same shape; infinite where the rule does not apply,
        and less than any number where there is no working point.
    deciding
        Row that decides, same shape.
    categorical
        Verdicts of the categorical rules of single paths, by rule id, shape (paths,).
    loss_w
        Most that is burnt between port and inlet at the steady current, shape (paths,).
    """

    paths: tuple[Path, ...]
    supplies: tuple[Supply, ...]
    rows: Rows
    rules: tuple[Rule, ...]
    codes: NDArray[np.int8]
    margins: Array
    deciding: NDArray[np.intp]
    categorical: dict[str, NDArray[np.int8]]
    loss_w: Array

    @property
    def verdicts(self) -> dict[str, NDArray[np.int8]]:
        """Verdicts of every rule, with and without a formula, by its id, shape (paths,)."""
        return {rule.id: self.codes[i] for i, rule in enumerate(self.rules)} | self.categorical

    def code(self, rule: str, index: int) -> Verdict:
        """The verdict of a formula rule on one path."""
        return Verdict(int(self.codes[ROW_OF[rule], index]))

    def unproven(self, *stakes: Stakes) -> NDArray[np.int64]:
        """How many rules of those stakes are unproven on each path."""
        count = np.zeros(len(self.paths), dtype=np.int64)
        for at_stake, codes in self._at_stake(stakes):
            count += at_stake & (codes == Verdict.UNPROVEN)
        return count

    def worst(self, *stakes: Stakes) -> NDArray[np.int8]:
        """The worst verdict of each path over rules of those stakes."""
        worst = np.zeros(len(self.paths), dtype=np.int8)
        for at_stake, codes in self._at_stake(stakes):
            worst = np.maximum(worst, np.where(at_stake, codes, 0)).astype(np.int8)
        return worst

    def _at_stake(
        self, stakes: tuple[Stakes, ...]
    ) -> Iterator[tuple[NDArray[np.bool_], NDArray[np.int8]]]:
        """For each rule the paths with which it is of those stakes, and its verdicts."""
        devices, at = distinct(path.appliance for path in self.paths)
        for name, codes in self.verdicts.items():
            rule = RULES_BY_ID[name]
            counted = [stakes_of(rule, device) in stakes for device in devices]
            yield np.array(counted, dtype=bool)[at], codes


RULES_BY_ID = {rule.id: rule for rule in RULES}
# Where a formula rule stands in what is judged.
ROW_OF = {rule.id: i for i, rule in enumerate(FORMULA_RULES)}


# Every way in which a device may be left without what it needs.
STARVING = (
    "match-offered",
    "under-volts",
    "operating-point",
    "port-current",
    "converter-headroom",
    "converter-peak",
    "continuous-load",
    "idle-current",
    "fuse-holds",
)


def stakes_of(rule: Rule, appliance: Appliance) -> Stakes:
    """What a broken rule costs with this device: starving some devices loses data."""
    if rule.id == "single-fault" and appliance.must_survive_fault:
        return Stakes.HARM
    if rule.id in STARVING and appliance.starved_loses:
        return Stakes.LOSS
    if rule.id == "keep-alive" and (appliance.starved_loses or appliance.blink == "never"):
        return Stakes.LOSS
    return rule.stakes


def judge(paths: Sequence[Path]) -> Judged:
    """Judge paths by every rule that concerns a single path."""
    paths = tuple(paths)
    rows, supplies = rows_and_supplies(paths)
    codes = np.zeros((len(FORMULA_RULES), len(paths)), dtype=np.int8)
    margins = np.full((len(FORMULA_RULES), len(paths)), np.inf)
    deciding = np.zeros((len(FORMULA_RULES), len(paths)), dtype=np.intp)
    loss_w = np.zeros(len(paths))
    if len(rows):
        symbols, applies = symbols_of(paths, rows, CORNERS)
        groups = _Groups(rows, len(paths))
        for i, rule in enumerate(FORMULA_RULES):
            margin = _margin(rule, symbols)
            code = decide(margin[:, 0], margin[:, 1])
            mask = applies[rule.id]
            codes[i] = groups.fold(np.where(mask, code, Verdict.FITS))
            least = np.minimum(margin[:, 0], margin[:, 1])
            margins[i], deciding[i] = groups.least(np.where(mask, least, np.inf))
        match = applies["under-volts"]
        spent = np.where(match, np.nan_to_num(symbols["P_lost"][:, 0]), 0.0)
        loss_w = -groups.least(-spent)[0]
    return Judged(
        paths=paths,
        supplies=supplies,
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

    def __init__(self, rows: Rows, paths: int) -> None:
        self.paths = paths
        path, answer = rows.path, rows.alternative
        other = (path[1:] != path[:-1]) | (answer[1:] != answer[:-1])
        self.alternative_starts = np.flatnonzero(np.r_[True, other])
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
        """The least margin of each path and the row it stands in.

        Not-a-number means no working point at all: it is less than any margin.
        """
        ranked = np.where(np.isnan(margins), -np.inf, margins)
        order = np.lexsort((ranked, self.path_of_row))
        rows = order[self.row_starts]
        least = np.full(self.paths, np.inf)
        deciding = np.zeros(self.paths, dtype=np.intp)
        least[self.present] = ranked[rows]
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


def _categorical(paths: Sequence[Path]) -> dict[str, NDArray[np.int8]]:
    return {
        "polarity": np.array([polarity(p) for p in paths], dtype=np.int8),
        "direct-current": np.array([direct_current(p) for p in paths], dtype=np.int8),
        "match-offered": np.array([match_offered(p) for p in paths], dtype=np.int8),
        "keep-alive": np.array([keep_alive(p.front) for p in paths], dtype=np.int8),
        "rail-volts": np.array([rail_volts(p.front, p.appliance) for p in paths], dtype=np.int8),
        "rail-current": np.array(
            [rail_current(p.front, p.appliance) for p in paths], dtype=np.int8
        ),
    }


def polarity(path: Path) -> Verdict:
    """Two evidences that agree with the plug fit; one, or none, is unproven; against is failing.

    Behind a confirmed full bridge either way round will do.
    """
    end, evidence = path.front.end, path.appliance.evidence
    if path.front.rails is not None:
        return Verdict.FITS  # nothing mates with it: the poles are those of the build sheet
    if end.plug in USB_PLUGS or path.appliance.kind == "either":
        return Verdict.FITS  # the poles of these plugs are fixed
    if end.kind != "barrel" or end.centre is None:
        return Verdict.UNPROVEN
    if any(e.centre != end.centre for e in evidence):
        return Verdict.FAILS
    return Verdict.FITS if len({e.observed for e in evidence}) >= 2 else Verdict.UNPROVEN


def direct_current(path: Path) -> Verdict:
    """Whether the inlet takes d.c."""
    kinds = {
        "dc": Verdict.FITS,
        "either": Verdict.FITS,
        "unknown": Verdict.UNPROVEN,
        "ac": Verdict.FAILS,
    }
    return kinds[path.appliance.kind]


def match_offered(path: Path) -> Verdict:
    """Whether the volts asked for are there in every company."""
    offered = supply(path.front).offered
    if offered is None:
        return Verdict.UNPROVEN
    return Verdict.FITS if offered else Verdict.FAILS
