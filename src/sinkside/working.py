"""How a figure came about: formula, symbols, result and source, so that a reader can redo it.

A formula is plain arithmetic in the syntax that Python and a pocket calculator share.
It is evaluated by `evaluate`, for the program and for whoever checks the program: the
printed formula with the printed symbols gives the printed result.
"""

import ast
import operator
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from enum import StrEnum
from functools import lru_cache
from typing import Any


class Status(StrEnum):
    """How far a figure can be leaned on."""

    READ = "read in the named text"
    SECONDARY = "read in a secondary text"
    MEMORY = "from memory"
    ARITHMETIC = "arithmetic"
    PRACTICE = "common practice, no source"


@dataclass(frozen=True, kw_only=True)
class Source:
    """Where a figure or a formula comes from."""

    document: str
    clause: str = ""
    status: Status

    def __str__(self) -> str:
        if self.status is Status.PRACTICE and not self.document:
            return str(self.status)
        where = ", ".join(part for part in (self.document, self.clause) if part)
        return f"{where} ({self.status})"


PRACTICE = Source(document="", status=Status.PRACTICE)


@dataclass(frozen=True, kw_only=True)
class Symbol:
    """One symbol of a formula: the value used, the range it came from, and what that rests on."""

    symbol: str
    meaning: str
    value: float
    low: float
    high: float
    unit: str
    basis: str


@dataclass(frozen=True, kw_only=True)
class Working:
    """A figure with its derivation."""

    formula: str
    symbols: tuple[Symbol, ...]
    result: float
    unit: str
    source: Source

    def again(self) -> float:
        """Evaluate the formula once more, from the symbols as they are shown."""
        return float(evaluate(self.formula, {s.symbol: s.value for s in self.symbols}))


# Arrays and floats both pass through: the operators are those of the operands.
type_of_value = Any

_BINARY: dict[type[ast.operator], Callable[[Any, Any], Any]] = {
    ast.Add: operator.add,
    ast.Sub: operator.sub,
    ast.Mult: operator.mul,
    ast.Div: operator.truediv,
    ast.Pow: operator.pow,
}


def evaluate(formula: str, values: Mapping[str, type_of_value]) -> type_of_value:
    """Evaluate an arithmetic formula on floats or on numpy arrays.

    Parameters
    ----------
    formula
        Names, numbers, ``+ - * / **`` and parentheses.
    values
        A float or an array for each name.

    Raises
    ------
    KeyError
        A name of the formula has no value.
    ValueError
        The formula holds anything else.

    Examples
    --------
    >>> evaluate("V_port - I * R", {"V_port": 9.0, "I": 2.0, "R": 0.25})
    8.5
    """
    return _value(_parsed(formula), values)


def names(formula: str) -> tuple[str, ...]:
    """The names in a formula, in order of first appearance."""
    found = [n for n in ast.walk(_parsed(formula)) if isinstance(n, ast.Name)]
    found.sort(key=lambda n: (n.lineno, n.col_offset))
    return tuple(dict.fromkeys(n.id for n in found))


@lru_cache(maxsize=1024)
def _parsed(formula: str) -> ast.expr:
    try:
        return ast.parse(formula, mode="eval").body
    except SyntaxError:
        raise ValueError(f"not arithmetic: {formula}") from None


def _value(node: ast.expr, values: Mapping[str, type_of_value]) -> type_of_value:
    match node:
        case ast.Name(id=name):
            return values[name]
        case ast.Constant(value=int() | float() as number) if not isinstance(number, bool):
            return number
        case ast.UnaryOp(op=ast.USub(), operand=operand):
            return -_value(operand, values)
        case ast.BinOp(left=left, op=op, right=right) if type(op) in _BINARY:
            return _BINARY[type(op)](_value(left, values), _value(right, values))
        case _:
            raise ValueError(f"not arithmetic: {ast.unparse(node)}")
