"""Workings: what is printed can be redone, and nothing but arithmetic is evaluated.

The reference for arithmetic is Python's own evaluation of the same text.
"""

import math
import re

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.working import PRACTICE, Source, Status, Symbol, Working, evaluate, names

VALUES = {"V_port": 9.0, "I": 2.0, "R": 0.25, "R_b": 4.0}


def symbol(name: str, value: float) -> Symbol:
    return Symbol(
        symbol=name, meaning=name, value=value, low=value, high=value, unit="V", basis="measured"
    )


@pytest.mark.parametrize(
    ("formula", "result"),
    [
        ("V_port - I * R", 8.5),
        ("-V_port", -9.0),
        ("V_port ** 2 / (4 * R)", 81.0),
        ("V_port / R - -I", 38.0),
        ("2 ** 3 ** 2", 512.0),
        ("7", 7.0),
        ("1e-3 * I", 0.002),
    ],
)
def test_arithmetic(formula: str, result: float) -> None:
    assert evaluate(formula, VALUES) == result


@pytest.mark.parametrize(
    ("formula", "told"),
    [
        ("f(R)", "not arithmetic: f(R)"),
        ("R.real", "not arithmetic: R.real"),
        ("R[0]", "not arithmetic: R[0]"),
        ("1j", "not arithmetic: 1j"),
        ("'R'", "not arithmetic: 'R'"),
        ("+R", "not arithmetic: +R"),
        ("~R", "not arithmetic: ~R"),
        ("not R", "not arithmetic: not R"),
        ("R // 2", "not arithmetic: R // 2"),
        ("R % 2", "not arithmetic: R % 2"),
        ("R @ R", "not arithmetic: R @ R"),
        ("R < I", "not arithmetic: R < I"),
        ("R and I", "not arithmetic: R and I"),
        ("R if I else R", "not arithmetic: R if I else R"),
        ("lambda: R", "not arithmetic: lambda: R"),
        ("[R]", "not arithmetic: [R]"),
        ("True", "not arithmetic: True"),
    ],
)
def test_anything_else_is_refused(formula: str, told: str) -> None:
    with pytest.raises(ValueError) as error:  # noqa: PT011
        evaluate(formula, VALUES)
    assert str(error.value) == told


@pytest.mark.parametrize("formula", ["R -", "", "R = 1"])
def test_what_cannot_be_parsed_is_a_value_error_too(formula: str) -> None:
    with pytest.raises(ValueError):  # noqa: PT011
        evaluate(formula, VALUES)


def test_a_name_without_a_value() -> None:
    with pytest.raises(KeyError, match="'V_harm'"):
        evaluate("V_harm - R", VALUES)


@pytest.mark.parametrize(
    ("formula", "found"),
    [
        ("V_port - I * R", ("V_port", "I", "R")),
        ("R - R * R", ("R",)),
        ("V + V_run", ("V", "V_run")),
        ("(R_b + 1) * 2 + R", ("R_b", "R")),
        ("I_port * R + I", ("I_port", "R", "I")),
        ("3", ()),
    ],
)
def test_names_in_order_of_first_appearance(formula: str, found: tuple[str, ...]) -> None:
    assert names(formula) == found


def test_arrays_pass_through() -> None:
    volts = np.array([9.0, 12.0])
    assert evaluate("V - I * R", {"V": volts, "I": 2.0, "R": 0.25}).tolist() == [8.5, 11.5]


def test_a_working_gives_its_result_again() -> None:
    found = Working(
        formula="V_port - I * R",
        symbols=(symbol("V_port", 9.0), symbol("I", 2.0), symbol("R", 0.25)),
        result=8.5,
        unit="V",
        source=PRACTICE,
    )
    assert found.again() == found.result


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (PRACTICE, "common practice, no source"),
        (Source(document="Ohm's law", status=Status.ARITHMETIC), "Ohm's law (arithmetic)"),
        (
            Source(document="IEC 60127-2", clause="sheet 3", status=Status.MEMORY),
            "IEC 60127-2, sheet 3 (from memory)",
        ),
        (
            Source(document="a workshop", status=Status.PRACTICE),
            "a workshop (common practice, no source)",
        ),
    ],
)
def test_a_source_says_how_far_it_can_be_leaned_on(source: Source, words: str) -> None:
    assert str(source) == words


LEAVES = st.sampled_from(["V_port", "I", "R", "R_b", "2", "0.5"])
FORMULAS = st.recursive(
    LEAVES,
    lambda inner: st.one_of(
        st.builds(lambda a, op, b: f"({a} {op} {b})", inner, st.sampled_from("+-*/"), inner),
        st.builds(lambda a: f"(-{a})", inner),
    ),
    max_leaves=12,
)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(FORMULAS)
def test_agrees_with_python(formula: str) -> None:
    try:
        expected = eval(formula, {"__builtins__": {}}, VALUES)
    except ZeroDivisionError:
        with pytest.raises(ZeroDivisionError):
            evaluate(formula, VALUES)
        return
    found = evaluate(formula, VALUES)
    assert found == expected or (math.isnan(found) and math.isnan(expected))


@settings(derandomize=True, max_examples=100, deadline=None)
@given(FORMULAS)
def test_names_are_those_that_are_needed(formula: str) -> None:
    needed = {name: VALUES[name] for name in names(formula)}
    assert set(needed) == {name for name in VALUES if re.search(rf"\b{name}\b", formula)}
