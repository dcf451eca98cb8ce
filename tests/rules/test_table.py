"""The rule table agrees with itself, and every symbol with the direction it declares."""

import re
from itertools import product

import numpy as np
import pytest

from sinkside.rules.not_judged import NOT_JUDGED
from sinkside.rules.symbols import SYMBOLS, Good
from sinkside.rules.table import BY_ID, RULES, Rule
from sinkside.rules.verdict import Stakes
from sinkside.working import evaluate, names

FORMULAS = [rule for rule in RULES if rule.formula]


def test_ids_are_unique_hyphenated_words() -> None:
    ids = [rule.id for rule in RULES]
    assert len(ids) == len(set(ids)) == len(BY_ID)
    assert [i for i in ids if not re.fullmatch(r"[a-z]+(-[a-z]+)*", i)] == []


@pytest.mark.parametrize("rule", RULES, ids=lambda r: r.id)
def test_a_rule_says_what_it_is_about(rule: Rule) -> None:
    assert rule.title
    assert rule.breaks
    assert rule.job
    assert bool(rule.formula) == bool(rule.unit)
    assert str(rule.source)


@pytest.mark.parametrize("rule", FORMULAS, ids=lambda r: r.id)
def test_a_formula_is_made_of_declared_symbols(rule: Rule) -> None:
    assert [n for n in names(rule.formula) if n not in SYMBOLS] == []


def test_every_declared_symbol_stands_in_a_formula() -> None:
    used = {n for rule in FORMULAS for n in names(rule.formula)}
    assert sorted(set(SYMBOLS) - used) == []


@pytest.mark.parametrize("rule", FORMULAS, ids=lambda r: r.id)
def test_a_symbol_moves_a_margin_the_way_that_it_declares(rule: Rule) -> None:
    """By the sign of differences over a grid of sane figures, all other symbols held."""
    symbols = names(rule.formula)
    grid = [(3.0, 5.0, 8.0)] * len(symbols)
    for k, name in enumerate(symbols):
        rises = []
        for rest in product(*(g for i, g in enumerate(grid) if i != k)):
            values = dict(zip((n for n in symbols if n != name), rest, strict=True))
            # Heat is only a matter where the regulator gets more volts than it gives.
            if "V_out" in symbols and not _hotter(values, name):
                continue
            low, high = (evaluate(rule.formula, values | {name: v}) for v in (6.0, 7.0))
            rises.append(high - low)
        sign = 1 if SYMBOLS[name].good is Good.HIGH else -1
        assert rises
        assert (sign * np.array(rises) >= 0.0).all(), name
        assert (sign * np.array(rises) > 0.0).any(), name


def _hotter(values: dict[str, float], moved: str) -> bool:
    feed = 6.0 if moved == "V_feed_high" else values["V_feed_high"]
    out = 7.0 if moved == "V_out" else values["V_out"]
    return feed >= out


def test_harm_is_judged_in_every_state_or_on_the_path_as_a_whole() -> None:
    """Off the match only harm is judged: so harm is never judged at the match alone."""
    assert [r.id for r in RULES if r.stakes is Stakes.HARM and r.judged == "match"] == []


def test_only_what_is_or_may_become_harm_is_judged_in_every_state() -> None:
    """A single fault is harm where the rules of the site say that it must be survived."""
    judged = {r.id: r.stakes for r in RULES if r.judged == "every state"}
    assert {i for i, s in judged.items() if s is not Stakes.HARM} <= {"single-fault"}


def test_every_row_of_the_trade_has_a_rule_or_says_why_not() -> None:
    """The list of what goes wrong has rows 1 to 38, with four more beside 37."""
    rows = {str(n) for n in range(1, 39)} | {f"37{letter}" for letter in "abcd"}
    judged = {row for rule in RULES for row in rule.job}
    assert judged | set(NOT_JUDGED) == rows
