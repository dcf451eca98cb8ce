"""Every working can be redone: the formula that is shown, with the symbols shown, gives the result.

The evaluation here is Python's own, on the text of the formula, and not the program's.
"""

import math
import random
from functools import cache

import pytest
from tests.paths import random_paths

from sinkside.paths.findings import findings, working
from sinkside.paths.judge import CORNERS, judge, margin_of
from sinkside.paths.rows import rows_of
from sinkside.rules.symbols import SYMBOLS, Good
from sinkside.rules.verdict import TOUCH, Verdict
from sinkside.working import Working, names

SEEDS = range(3)
# Symbols that are one fact and not calculated from several: they are shown at their bad end.
PLAIN = (
    "V_harm",
    "V_run",
    "V_port_low",
    "V_port_high",
    "P_allow",
    "V_out",
    "I_q",
    "V_cool",
    "C_in",
)
PATHS = 30


@cache
def workings(seed: int) -> list[tuple[Verdict, float, Working]]:
    draw = random.Random(300 + seed)
    judged = judge([random_paths.path(draw) for _ in range(PATHS)])
    found = []
    for i in range(PATHS):
        for finding in findings(judged, i):
            shown = working(finding, judged, i)
            if shown is not None and finding.margin is not None:
                found.append((finding.verdict, finding.margin, shown))
    assert len(found) > 5 * PATHS
    return found


def redone(shown: Working) -> float:
    values = {s.symbol: s.value for s in shown.symbols}
    try:
        return float(eval(shown.formula, {"__builtins__": {}}, values))
    except ZeroDivisionError:
        return math.inf


@pytest.mark.parametrize("seed", SEEDS)
def test_the_formula_shown_with_the_symbols_shown_gives_the_result(seed: int) -> None:
    for _, margin, shown in workings(seed):
        if math.isinf(margin):
            assert math.isnan(redone(shown))
            continue
        assert shown.result == margin
        assert redone(shown) == pytest.approx(margin, rel=1e-12, abs=1e-12)
        assert shown.again() == margin


@pytest.mark.parametrize("seed", SEEDS)
def test_a_verdict_agrees_with_the_result_shown(seed: int) -> None:
    """The result is at the worst corner: it holds there or the rule does not fit."""
    for verdict, margin, _ in workings(seed):
        assert (margin >= -TOUCH) is (verdict is Verdict.FITS)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_symbol_of_the_formula_is_shown_once_with_its_unit(seed: int) -> None:
    for _, _, shown in workings(seed):
        assert [s.symbol for s in shown.symbols] == list(names(shown.formula))
        for symbol in shown.symbols:
            kind = SYMBOLS[symbol.symbol]
            assert (symbol.unit, symbol.meaning) == (kind.unit, kind.meaning)
            assert symbol.basis


@pytest.mark.parametrize("seed", SEEDS)
def test_the_value_of_a_symbol_lies_in_its_range_at_the_bad_end(seed: int) -> None:
    for _, _, shown in workings(seed):
        for s in shown.symbols:
            if math.isnan(s.value):
                continue
            assert s.low <= s.value <= s.high
            if s.symbol not in PLAIN:
                continue
            bad = s.low if SYMBOLS[s.symbol].good is Good.HIGH else s.high
            assert s.value == pytest.approx(bad, rel=1e-9), s.symbol


def test_the_margin_shown_is_the_least_of_all_states_and_laws() -> None:
    draw = random.Random(77)
    for path in [random_paths.path(draw) for _ in range(20)]:
        judged = judge([path])
        rows = rows_of([path])
        for finding in findings(judged, 0):
            shown = working(finding, judged, 0)
            if shown is None or math.isinf(shown.result):
                continue
            every = margin_of(finding.about, path, rows, CORNERS).min(axis=1)
            assert shown.result == min(m for m in every if not math.isnan(m))
