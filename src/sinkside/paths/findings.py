"""Findings of a judged path, with what is unknown behind them, and their workings on demand."""

from collections.abc import Sequence

import numpy as np

from sinkside.paths.judge import (
    ROW_OF,
    RULES_BY_ID,
    Judged,
    margin_by,
    margin_of,
    margins_of,
    stakes_of,
)
from sinkside.paths.keep_alive import keep_alive_words, lasts
from sinkside.paths.rails import rail_current_words, rail_volts_words
from sinkside.paths.rows import Path, Row, rows_of
from sinkside.paths.states import supply
from sinkside.paths.symbols import symbols_of
from sinkside.paths.values import quantities_of
from sinkside.paths.views import CORNERS, PLAUSIBLE, OneKnown
from sinkside.quantity import Quantity
from sinkside.rules.finding import Finding
from sinkside.rules.symbols import SYMBOLS
from sinkside.rules.table import Rule
from sinkside.rules.verdict import TOUCH, Stakes, Verdict
from sinkside.working import Symbol, Working, names

RAIL_RULES = ("rail-volts", "rail-current")


def findings(judged: Judged, index: int) -> tuple[Finding, ...]:
    """Every finding of one path, in the order of the rule table; workings are left out."""
    path = judged.paths[index]
    found = []
    for rule in RULES_BY_ID.values():
        if rule.id in judged.categorical:
            if _says_nothing(rule, path):
                continue
            verdict = Verdict(int(judged.categorical[rule.id][index]))
            found.append(_categorical(rule, path, verdict, supply(path.front).questions))
        elif rule.id in ROW_OF:
            margin, row = judged.decides(rule.id, index)
            if np.isposinf(margin):
                continue
            verdict = judged.code(rule.id, index)
            found.append(_numeric(rule, path, verdict, margin, judged.rows[row]))
    return tuple(found)


def _says_nothing(rule: Rule, path: Path) -> bool:
    """Whether a rule is about rails where there are none, or about a contract that cannot die."""
    if rule.id in RAIL_RULES:
        return not path.appliance.rails
    return rule.id == "keep-alive" and lasts(path.front)


def _categorical(rule: Rule, path: Path, verdict: Verdict, questions: tuple[str, ...]) -> Finding:
    unknowns: tuple[str, ...] = ()
    words = ""
    device = path.appliance.id
    if rule.id == "polarity":
        words = polarity_words(path)
        unknowns = (f"{device}/polarity",)
    elif rule.id == "direct-current":
        unknowns = (f"{device}/kind of supply",)
    elif rule.id == "match-offered":
        unknowns = questions
    elif rule.id == "keep-alive":
        words = keep_alive_words(path.front)
        unknowns = (f"{path.front.trigger_id}/keep-alive",)
    elif rule.id == "rail-volts":
        words = rail_volts_words(path.front, path.appliance)
        unknowns = (f"{path.front.parts[-1].id}/rail volts",)
    elif rule.id == "rail-current":
        words = rail_current_words(path.front, path.appliance)
        unknowns = (f"{device}/rail currents",)
    return Finding(
        rule=rule.id,
        stakes=stakes_of(rule, path.appliance),
        verdict=verdict,
        margin=None,
        state="",
        unknowns=unknowns if verdict is Verdict.UNPROVEN else (),
        words=words,
    )


def polarity_words(path: Path) -> str:
    """What bears witness to the polarity, for people."""
    evidence = path.appliance.evidence
    if path.front.rails is not None:
        return "it has no plug that mates with anything: its poles are those of the build sheet"
    if path.appliance.kind == "either":
        return "a full bridge stands behind the inlet: either way round will do"
    if not evidence:
        return "nothing tells the polarity"
    said = ", ".join(f"{e.observed.value}: centre {e.centre}" for e in evidence)
    if len({e.centre for e in evidence}) > 1:
        return f"what tells its polarity disagrees ({said})"
    if path.front.end.centre not in (None, evidence[0].centre):
        return f"the plug has its centre {path.front.end.centre}, against: {said}"
    if len(evidence) == 1:
        return f"its polarity rests on one evidence alone ({said})"
    return said


def _numeric(rule: Rule, path: Path, verdict: Verdict, margin: float, row: Row) -> Finding:
    stakes = stakes_of(rule, path.appliance)
    unproven = verdict is Verdict.UNPROVEN
    return Finding(
        rule=rule.id,
        stakes=stakes,
        verdict=verdict,
        margin=margin,
        state=row.state.label(path.front),
        unknowns=weighty_unknowns(rule, path, row) if unproven else (),
        plausibility=plausibility(rule, path) if unproven and stakes is not Stakes.HARM else None,
    )


def weighty_unknowns(rule: Rule, path: Path, row: Row) -> tuple[str, ...]:
    """What is not known and moves a margin, the weightiest first.

    The weight of an unknown is how far the margin rises when it alone is at its good end.
    """
    found = [
        q.name
        for symbol in names(rule.formula)
        for q in quantities_of(symbol, path.front, path.appliance, row.state)
        if not q.known and q.name
    ]
    candidates = list(dict.fromkeys(found))
    if row.state.alternative:
        candidates.append(f"{path.front.trigger_id}/fallback")
    one = Row(path=0, alternative=0, law=row.law, state=row.state)
    if len(candidates) > 1:
        worst = margin_of(rule, path, (one,), CORNERS)[0, 0]
        single = margin_of(rule, path, (one,), OneKnown(candidates))[0]
        with np.errstate(invalid="ignore"):  # both may be without any working point
            gain = np.nan_to_num(single - worst, nan=np.inf)
        weighty = [candidates[i] for i in np.argsort(-gain, kind="stable") if gain[i] > TOUCH]
        candidates = weighty or candidates  # some help only together
    if len(path.appliance.laws) > 1 and any(s in rule.formula for s in ("I_", "P_load")):
        candidates.append(f"{path.appliance.id}/inside")
    return tuple(candidates)


def plausibility(rule: Rule, path: Path) -> int:
    """In how many of ten plausible cases a rule holds; alternatives weigh alike.

    A band for ranking, not a probability.
    """
    return plausibilities(rule, (path,))[0]


def plausibilities(rule: Rule, paths: Sequence[Path]) -> list[int]:
    """In how many of ten plausible cases a rule holds on each of some paths."""
    rows = rows_of(paths)
    margins = margins_of(rule, paths, rows, PLAUSIBLE)
    holds = np.where(np.isnan(margins), False, margins >= -TOUCH)
    found = []
    for i in range(len(paths)):
        own = rows.path == i
        answers = rows.alternative[own]
        shares = [holds[own][answers == a].all(axis=0).mean() for a in np.unique(answers)]
        found.append(round(10 * float(np.mean(shares))))
    return found


def run_plausibly(judged: Judged, indices: Sequence[int]) -> list[int]:
    """In how many of ten plausible cases a device gets volts that it runs from, on some paths."""
    rule = RULES_BY_ID["under-volts"]
    codes = [judged.code(rule.id, i) for i in indices]
    open_ = [i for i, code in zip(indices, codes, strict=True) if code is Verdict.UNPROVEN]
    odds = iter(plausibilities(rule, [judged.paths[i] for i in open_]) if open_ else ())
    known = {Verdict.FITS: 10, Verdict.FAILS: 0}
    return [next(odds) if code is Verdict.UNPROVEN else known[code] for code in codes]


def working(finding: Finding, judged: Judged, index: int) -> Working | None:
    """How a margin came about: the rule's formula with the symbols of the deciding corner."""
    rule = RULES_BY_ID[finding.rule]
    if finding.margin is None:
        return None
    path = judged.paths[index]
    row = judged.rows[judged.decides(rule.id, index)[1]]
    one = Row(path=0, alternative=0, law=row.law, state=row.state)
    values, _ = symbols_of((path,), (one,), CORNERS)
    margin = margin_by(rule, values)[0]
    worst = int(np.nan_to_num(margin, nan=-np.inf).argmin())
    shown = tuple(
        _symbol(name, float(values[name][0, worst]), float(values[name][0, 1 - worst]), path, row)
        for name in names(rule.formula)
    )
    return Working(
        formula=rule.formula,
        symbols=shown,
        result=finding.margin,
        unit=rule.unit,
        source=rule.source,
    )


def _symbol(name: str, worst: float, best: float, path: Path, row: Row) -> Symbol:
    kind = SYMBOLS[name]
    behind = quantities_of(name, path.front, path.appliance, row.state)
    low, high = min(worst, best), max(worst, best)
    if len(behind) == 1 and behind[0].unit == kind.unit:
        low, high = min(low, behind[0].low), max(high, behind[0].high)
    return Symbol(
        symbol=name,
        meaning=kind.meaning,
        value=worst,
        low=low,
        high=high,
        unit=kind.unit,
        basis=_basis(behind),
    )


def _basis(behind: tuple[Quantity, ...]) -> str:
    """The weakest basis of what stands behind a symbol."""
    if not behind:
        return "calculated"
    return max(behind, key=lambda q: q.basis.rank).basis.value
