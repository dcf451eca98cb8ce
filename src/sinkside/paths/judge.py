"""Every rule on every path in every state at every corner, as arrays.

Rows are (path, alternative, state); columns are those of the view. What is reckoned is reckoned
on situations, which are rows without their names, and then said of the rows.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.frozen import once
from sinkside.paths.alone import categorical
from sinkside.paths.groups import Groups
from sinkside.paths.pool import Indices, Path, Pool
from sinkside.paths.rows import Row, Rows, rows_of
from sinkside.paths.situations import situations
from sinkside.paths.states import Supply, supply
from sinkside.paths.symbols import FORMULA_RULES, Symbols, reckoned, symbols_of
from sinkside.paths.views import CORNERS, View
from sinkside.rules.table import RULES, Rule
from sinkside.rules.verdict import Stakes, Verdict, decide
from sinkside.site.appliance import Appliance
from sinkside.working import evaluate

Array: TypeAlias = NDArray[np.float64]

__all__ = ["CORNERS", "Judged", "Path", "judge", "margin_of", "stakes_of", "symbols_of"]


@dataclass(frozen=True, kw_only=True, eq=False)
class Judged:
    """Verdicts on paths.

    Parameters
    ----------
    paths
        As they were given.
    pool
        The same paths as what they are made of.
    codes
        Verdict of each formula rule on each path, shape (rules, paths).
    categorical
        Verdicts of the categorical rules of single paths, by rule id, shape (paths,).
    loss_w
        Most that is burnt between port and inlet at the steady current, shape (paths,).
    situation
        Which situation each row is, shape (rows,).
    least
        The lesser of the two corners' margins, shape (rules, situations): infinite where the rule
        does not apply, less than any number where there is no working point.
    """

    paths: Sequence[Path]
    pool: Pool
    rows: Rows
    rules: tuple[Rule, ...]
    codes: NDArray[np.int8]
    categorical: dict[str, NDArray[np.int8]]
    loss_w: Array
    situation: Indices
    least: Array

    @once
    def supplies(self) -> tuple[Supply, ...]:
        """The supply of each path."""
        return tuple(supply(self.pool.heads[i]) for i in self.pool.head)

    @once
    def margins(self) -> Array:
        """Least margin of each formula rule on each path, shape (rules, paths)."""
        return self._leasts[0]

    @once
    def deciding(self) -> Indices:
        """Row that decides, same shape."""
        return self._leasts[1]

    @once
    def _leasts(self) -> tuple[Array, Indices]:
        if not len(self.rows):
            return np.full(self.codes.shape, np.inf), np.zeros(self.codes.shape, dtype=np.intp)
        groups = Groups(self.rows, len(self.paths))
        found = [groups.least(least[self.situation]) for least in self.least]
        return np.array([f[0] for f in found]), np.array([f[1] for f in found])

    def least_of(self, rule: str) -> Array:
        """Least margin of one formula rule on each path, shape (paths,)."""
        if not len(self.rows):
            return np.full(len(self.paths), np.inf)
        least: Array = Groups(self.rows, len(self.paths)).least(
            self.least[ROW_OF[rule]][self.situation]
        )[0]
        return least

    def decides(self, rule: str, index: int) -> tuple[float, int]:
        """The least margin of a formula rule on one path, and the row that it stands in."""
        start, stop = np.searchsorted(self.rows.path, (index, index + 1))
        if start == stop:
            return np.inf, 0
        margins = self.least[ROW_OF[rule], self.situation[start:stop]]
        at = int(margins.argmin())
        return float(margins[at]), int(start) + at

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
        for name, codes in self.verdicts.items():
            rule = RULES_BY_ID[name]
            counted = [stakes_of(rule, device) in stakes for device in self.pool.devices]
            yield np.array(counted, dtype=bool)[self.pool.device], codes


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
    pool = Pool.of(paths)
    rows = rows_of(pool)
    codes = np.zeros((len(FORMULA_RULES), len(pool)), dtype=np.int8)
    loss_w = np.zeros(len(pool))
    situation, least = np.zeros(0, dtype=np.intp), np.zeros((len(FORMULA_RULES), 0))
    if len(rows):
        found = situations(pool, rows, CORNERS)
        situation = found.of_row
        symbols, applies = reckoned(found)
        groups = Groups(rows, len(pool))
        least = np.full((len(FORMULA_RULES), len(found)), np.inf)
        for i, rule in enumerate(FORMULA_RULES):
            mask = applies[rule.id]
            margin = margin_by(rule, symbols)
            code = np.where(mask, decide(margin[:, 0], margin[:, 1]), Verdict.FITS)
            codes[i] = groups.fold(code.astype(np.int8)[situation])
            lesser = np.minimum(margin[:, 0], margin[:, 1])
            least[i] = np.where(mask, np.where(np.isnan(lesser), -np.inf, lesser), np.inf)
        spent = np.where(found.match[found.point], np.nan_to_num(symbols["P_lost"][:, 0]), 0.0)
        loss_w = -groups.least(-spent[situation])[0]
    return Judged(
        paths=paths if isinstance(paths, Pool) else tuple(paths),
        pool=pool,
        rows=rows,
        rules=FORMULA_RULES,
        codes=codes,
        categorical=categorical(pool),
        loss_w=loss_w,
        situation=situation,
        least=least,
    )


def margin_by(rule: Rule, symbols: Symbols) -> Array:
    """The margin of one rule by its formula, wherever it applies."""
    with np.errstate(invalid="ignore", divide="ignore", over="ignore"):
        margin: Array = evaluate(rule.formula, symbols)
    return margin


def margin_of(rule: Rule, path: Path, rows: Sequence[Row], view: View) -> Array:
    """The margin of one rule in some rows of one path, seen through a view."""
    return margins_of(rule, (path,), rows, view)


def margins_of(rule: Rule, paths: Sequence[Path], rows: Sequence[Row], view: View) -> Array:
    """The margin of one rule in some rows of some paths, seen through a view."""
    found = situations(paths, rows, view)
    symbols, applies = reckoned(found)
    margin: Array = np.where(applies[rule.id][:, None], margin_by(rule, symbols), np.inf)
    return margin[found.of_row]
