"""How the values of a file are read: each field type is a reader with its unit and its bounds.

A fact about a device or a part must say what it rests on, or be a range: a bare point
that rests on nothing is refused, because it would look like knowledge.
"""

import re
from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Annotated, Any, TypeAlias

from pydantic import (
    BeforeValidator,
    GetCoreSchemaHandler,
    GetJsonSchemaHandler,
    WithJsonSchema,
)
from pydantic_core import CoreSchema
from pydantic_core.core_schema import no_info_plain_validator_function

from sinkside import quantity
from sinkside.faults import NotUnderstood
from sinkside.quantity import Basis, Quantity, Spread


def _fact(
    unit: str, at_least: float | None = None, spread: Spread = Spread.UNKNOWN
) -> Callable[[Any], Any]:
    def read(value: Any) -> Any:
        if value is None or value == "unknown" or isinstance(value, Quantity):
            return value if isinstance(value, Quantity) else None
        found = quantity.read(_text(value, unit), unit, spread=spread, at_least=at_least)
        return with_basis(found, value)

    return read


def with_basis(found: Quantity, value: Any) -> Quantity:
    """Refuse a bare point that rests on nothing: it would look like knowledge."""
    if found.low == found.high and found.basis is Basis.ASSUMED and found.low != 0:
        raise NotUnderstood(
            f"{value!r} says nothing of what it rests on",
            "add (measured), (datasheet) or (plate), or give a range",
            code="no-basis",
        )
    return found


def _figure(unit: str, at_least: float | None = None) -> Callable[[Any], Any]:
    """A figure that needs no basis: a length to be cut, a strap setting, a rating by design."""

    def read(value: Any) -> Any:
        if isinstance(value, Quantity):
            return value
        return quantity.read(
            _text(value, unit), unit, basis=Basis.DATASHEET, spread=Spread.VARIES, at_least=at_least
        )

    return read


def _single(unit: str, low: float, high: float) -> Callable[[Any], Any]:
    """A figure that is one value, between limits: a strap setting, a rating."""
    figure = _figure(unit, 0.0)

    def read(value: Any) -> Any:
        found = figure(value)
        if isinstance(found, Quantity) and (
            found.low != found.high or not low <= found.low <= high
        ):
            raise NotUnderstood(
                f"{value!r} is not one value from {low:g} to {high:g} {unit}",
                f"write it like {max(low, min(high, 9)):g} {unit}",
            )
        return found

    return read


def _range(unit: str) -> Callable[[Any], Any]:
    """A figure that has two ends: what a converter accepts, say."""
    figure = _figure(unit, 0.0)

    def read(value: Any) -> Any:
        found = figure(value)
        if isinstance(found, Quantity) and found.low == found.high:
            raise NotUnderstood(f"{value!r} is no range", f"write it like 10..28 {unit}")
        return found

    return read


# What a part that is made for a value is good to where its sheet says nothing (common practice).
MADE_TO = 0.05


def _made(unit: str) -> Callable[[Any], Any]:
    """A figure that a part is made to: never exact, ±5 % where nothing is said."""
    figure = _figure(unit, 0.0)

    def read(value: Any) -> Any:
        found = figure(value)
        if isinstance(found, Quantity) and found.low == found.high:
            low, high = found.low * (1 - MADE_TO), found.high * (1 + MADE_TO)
            return replace(found, low=low, high=high)
        return found

    return read


def _share(value: Any) -> Any:
    """Two shares of one, such as an efficiency from 0.82 to 0.94."""
    if isinstance(value, tuple):
        return value
    example = "write it like [0.82, 0.94]"
    if not isinstance(value, list) or len(value) != 2:
        raise NotUnderstood(f"{value!r} is not a low and a high share", example)
    texts = [v for v in value if isinstance(v, str) and _SHARE.match(v)]
    shares = [float(v) for v in texts]
    if len(shares) != 2 or not 0.0 < shares[0] <= shares[1] < 1.0:
        raise NotUnderstood(f"{value!r} is not a low and a high share of one", example)
    return tuple(shares)


_SHARE = re.compile(r"^0?\.\d{1,4}$")


def _gauge(value: Any) -> Any:
    found = _GAUGE.match(value) if isinstance(value, str) else None
    if found is None or not 10 <= int(found[1]) <= 36:
        raise NotUnderstood(f"{value!r} is no wire gauge", "write it like 20 AWG, from 10 to 36")
    return f"{int(found[1])} AWG"


_GAUGE = re.compile(r"^\s*(\d{1,2})\s*AWG\s*$")


def _text(value: Any, unit: str) -> str:
    if not isinstance(value, str):
        raise NotUnderstood("a quantity is wanted here", f"write it like 9 {unit}")
    return value


def _shown(unit: str) -> WithJsonSchema:
    """For editors: a quantity is text, with an example."""
    return WithJsonSchema(
        {
            "type": ["string", "null"],
            "description": f"a quantity in {unit}, `unknown`, or nothing",
            "examples": [f"9 {unit} (measured)", f"8.2..9.4 {unit}", f"max 9 {unit} (plate)"],
        }
    )


Volts: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("V", 0.0)), _shown("V")]
Amps: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("A", 0.0)), _shown("A")]
Watts: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("W", 0.0)), _shown("W")]
Ohms: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("Ω", 0.0)), _shown("Ω")]
Farads: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("F", 0.0)), _shown("F")]
Henries: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("H", 0.0)), _shown("H")]
KelvinPerWatt: TypeAlias = Annotated[
    Quantity | None, BeforeValidator(_fact("K/W", 0.0)), _shown("K/W")
]
Seconds: TypeAlias = Annotated[Quantity | None, BeforeValidator(_fact("s", 0.0)), _shown("s")]
VaryingSeconds: TypeAlias = Annotated[
    Quantity | None, BeforeValidator(_fact("s", 0.0, Spread.VARIES)), _shown("s")
]
Ambient: TypeAlias = Annotated[Quantity, BeforeValidator(_figure("°C")), _shown("°C")]
Metres: TypeAlias = Annotated[Quantity, BeforeValidator(_figure("m", 0.0)), _shown("m")]
StrapVolts: TypeAlias = Annotated[Quantity, BeforeValidator(_single("V", 3.3, 48.0)), _shown("V")]
RatedAmps: TypeAlias = Annotated[Quantity, BeforeValidator(_single("A", 0.01, 100.0)), _shown("A")]
VoltRange: TypeAlias = Annotated[Quantity, BeforeValidator(_range("V")), _shown("V")]
MadeVolts: TypeAlias = Annotated[Quantity, BeforeValidator(_made("V")), _shown("V")]
Efficiency: TypeAlias = Annotated[
    tuple[float, float],
    BeforeValidator(_share),
    WithJsonSchema({"type": "array", "examples": [[0.82, 0.94]]}),
]
Gauge: TypeAlias = Annotated[
    str, BeforeValidator(_gauge), WithJsonSchema({"type": "string", "examples": ["20 AWG"]})
]
FigureVolts: TypeAlias = Annotated[Quantity, BeforeValidator(_figure("V", 0.0)), _shown("V")]
FigureAmps: TypeAlias = Annotated[Quantity, BeforeValidator(_figure("A", 0.0)), _shown("A")]


def _yes_no(value: Any) -> Any:
    if isinstance(value, bool):
        return value
    if value in ("yes", "true"):
        return True
    if value in ("no", "false"):
        return False
    raise NotUnderstood(f"{value!r} is neither yes nor no", "write yes or no", code="yes-or-no")


YesNo: TypeAlias = Annotated[
    bool,
    BeforeValidator(_yes_no),
    WithJsonSchema({"enum": ["yes", "no", "true", "false", True, False]}),
]

_WITH_BASIS = re.compile(r"^\s*(?P<word>[^()]+?)\s*(?:\((?P<basis>[a-z-]+)\))?\s*$")


class Said(str):
    """A word with what it rests on: `negative (measured)`."""

    __slots__ = ("basis",)
    basis: Basis

    def __new__(cls, word: str, basis: Basis) -> "Said":
        said = super().__new__(cls, word)
        said.basis = basis
        return said


class said:  # noqa: N801  it is used like a function, as a mark on a field
    """Read one of the allowed words, with its basis in parentheses behind it."""

    def __init__(self, *allowed: str) -> None:
        self.allowed = allowed

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return no_info_plain_validator_function(self._read)

    def __get_pydantic_json_schema__(
        self, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        words = "|".join(re.escape(word) for word in self.allowed)
        bases = "|".join(b.value for b in Basis)
        return {
            "type": ["string", "null", "boolean"],
            "pattern": rf"^({words})( \(({bases})\))?$",
            "examples": [f"{word} (measured)" for word in self.allowed if word != "unknown"],
        }

    def _read(self, value: Any) -> Any:
        if isinstance(value, Said) or value is None:
            return value
        found = _WITH_BASIS.match(value) if isinstance(value, str) else None
        if found is None or found["word"] not in self.allowed:
            known = ", ".join(self.allowed)
            raise NotUnderstood(f"{value!r} is not known here", f"known are {known}")
        basis = found["basis"] or Basis.ASSUMED.value
        if basis not in {b.value for b in Basis}:
            raise NotUnderstood(
                f"({basis}) is no basis", f"use {', '.join(b.value for b in Basis)}"
            )
        return Said(found["word"], Basis(basis))


class Money(int):
    """A sum in cents, and of what money."""

    currency: str

    def __new__(cls, cents: int, currency: str) -> "Money":
        sum_ = super().__new__(cls, cents)
        sum_.currency = currency
        return sum_


_MONEY = re.compile(r"^\s*(?P<sum>\d{1,9}(?:[.,]\d{1,2})?)\s*(?P<currency>[A-Z]{3})\s*$")


def _cents(value: Any) -> Any:
    if value is None or isinstance(value, Money):
        return value
    found = _MONEY.match(value) if isinstance(value, str) else None
    if found is None:
        raise NotUnderstood(f"{value!r} is not a price", "write it like 2.40 EUR")
    return Money(int(Decimal(found["sum"].replace(",", ".")) * 100), found["currency"])


Cents: TypeAlias = Annotated[
    Money | None,
    BeforeValidator(_cents),
    WithJsonSchema({"type": ["string", "null"], "examples": ["2.40 EUR"]}),
]


def _count(value: Any) -> Any:
    if isinstance(value, int):
        return value
    if isinstance(value, str) and value.isdecimal() and len(value) <= 4:
        return int(value)
    raise NotUnderstood(f"{value!r} is not a count", "write a whole number such as 3")


Count: TypeAlias = Annotated[
    int, BeforeValidator(_count), WithJsonSchema({"type": ["integer", "string"], "examples": [3]})
]

_PLUG = re.compile(r"^\s*(?P<od>\d+(?:[.,]\d+)?)\s*[x×]\s*(?P<id>\d+(?:[.,]\d+)?)\s*(?:mm)?\s*$")


def _plug(value: Any) -> Any:
    found = _PLUG.match(value) if isinstance(value, str) else None
    if found:
        od, inner = (Decimal(found[g].replace(",", ".")) for g in ("od", "id"))
        if not (1 <= od <= 12 and 0 < inner < od):
            raise NotUnderstood(f"{value!r} is no plug", "outer by inner in mm, like 5.5x2.1")
        return f"{od.normalize():f}x{inner.normalize():f}"
    if value in OTHER_PLUGS:
        return value
    raise NotUnderstood(
        f"{value!r} is not a plug that is known",
        f"write outer x inner in mm, like 5.5x2.1, or {', '.join(OTHER_PLUGS)}",
    )


OTHER_PLUGS = ("wires", "usb-c", "micro-usb", "mini-usb", "usb-b", "other")
Plug: TypeAlias = Annotated[
    str,
    BeforeValidator(_plug),
    WithJsonSchema({"type": "string", "examples": ["5.5x2.1", *OTHER_PLUGS]}),
]
