"""Quantities as people write them: a range with a unit, and what that rests on.

`9 V`, `9 V ±10 %`, `8.2..9.4 V (measured)`, `max 500 mA (plate)`, `unknown`. Units and
prefixes come off here and go on again here; everywhere else numbers are SI floats.
"""

import math
import re
from dataclasses import dataclass, replace
from decimal import Decimal
from enum import Enum
from functools import lru_cache

from sinkside.faults import NotUnderstood
from sinkside.frozen import hash_once


class Basis(Enum):
    """What a fact rests on, the best first; measured and lived-on stand level in rank."""

    MEASURED = "measured"
    LIVED_ON = "lived-on"
    DATASHEET = "datasheet"
    PLATE = "plate"
    STANDARD = "standard"
    ASSUMED = "assumed"

    def __lt__(self, other: "Basis") -> bool:
        return self.rank < other.rank

    def __gt__(self, other: "Basis") -> bool:
        return self.rank > other.rank

    @property
    def rank(self) -> int:
        """Position in the order of trust; measured and lived-on stand level."""
        return {"measured": 0, "lived-on": 0, "datasheet": 1, "plate": 2, "standard": 3}.get(
            self.value, 4
        )


class Spread(Enum):
    """Why a quantity has a low and a high."""

    VARIES = "varies"
    """It moves in service: a tolerance, a timer, the ambient, the load."""
    UNKNOWN = "unknown"
    """It has one true value that nobody has looked at yet."""


@hash_once
@dataclass(frozen=True, kw_only=True)
class Quantity:
    """A physical quantity in SI units.

    Parameters
    ----------
    low, high
        The ends of its range, inclusive; equal when the value is known.
    unit
        The SI unit without prefix: `V`, `A`, `W`, `Ω`, `F`, `H`, `s`, `Hz`, `°C`, `K/W`, `m`.
    nominal
        The value named by whoever wrote it; None where only a range or a limit is known.
    basis
        What it rests on.
    spread
        Whether the range is service (`varies`) or ignorance (`unknown`).
    name
        What it is the quantity of. One name is one draw everywhere: two quantities of the
        same name take the same value in the same plausible case.
    """

    low: float
    high: float
    unit: str
    nominal: float | None = None
    basis: Basis = Basis.ASSUMED
    spread: Spread = Spread.UNKNOWN
    name: str = ""

    def __post_init__(self) -> None:
        if not (math.isfinite(self.low) and math.isfinite(self.high)):
            raise ValueError("a quantity has finite ends")
        if self.low > self.high:
            raise ValueError(f"a quantity's low end {self.low} is above its high end {self.high}")
        if self.nominal is not None and not self.low <= self.nominal <= self.high:
            raise ValueError(f"a quantity's nominal {self.nominal} is not between its ends")

    @property
    def known(self) -> bool:
        """Whether nothing is left to find out (it may still vary in service)."""
        return self.spread is Spread.VARIES or self.low == self.high

    @property
    def value(self) -> float:
        """The nominal value, or the middle of the range where there is none."""
        return (self.low + self.high) / 2 if self.nominal is None else self.nominal

    def times(self, low: float, high: float, *, basis: Basis, name: str) -> "Quantity":
        """The quantity times an unknown factor between low and high; a new unknown."""
        return Quantity(
            low=self.low * low, high=self.high * high, unit=self.unit, basis=basis, name=name
        )

    def called(self, name: str) -> "Quantity":
        """The same quantity under a name."""
        return replace(self, name=name)

    def __str__(self) -> str:
        return write(self)


def point(value: float, unit: str, basis: Basis, name: str = "") -> Quantity:
    """A quantity that is known exactly."""
    return Quantity(low=value, high=value, nominal=value, unit=unit, basis=basis, name=name)


def unknown(
    low: float, high: float, unit: str, basis: Basis = Basis.ASSUMED, name: str = ""
) -> Quantity:
    """One true value, somewhere between low and high."""
    return Quantity(low=low, high=high, unit=unit, basis=basis, name=name)


def varies(low: float, high: float, unit: str, basis: Basis, name: str = "") -> Quantity:
    """A value that moves between low and high in service."""
    return Quantity(low=low, high=high, unit=unit, basis=basis, spread=Spread.VARIES, name=name)


PREFIXES = {"p": -12, "n": -9, "µ": -6, "μ": -6, "u": -6, "m": -3, "": 0, "k": 3, "M": 6}
SPELLINGS = {
    "V": {"V", "Volt", "volt", "volts", "VDC", "Vdc"},
    "A": {"A", "Amp", "amp", "amps"},
    "W": {"W", "watt", "watts"},
    "VA": {"VA"},
    "Ω": {"Ω", "\u2126", "ohm", "ohms", "Ohm"},
    "F": {"F"},
    "H": {"H"},
    "s": {"s", "sec"},
    "Hz": {"Hz"},
    "m": {"m"},
    "°C": {"°C", "C", "degC"},
    "K/W": {"K/W", "°C/W"},
    "J": {"J"},
    "V/s": {"V/s"},
}
_NO_PREFIX = {"°C", "K/W"}
TIME_WORDS = {"min": 60, "h": 3600, "d": 86400}
LIMITS = {  # beyond these a figure is a slip of the pen, not a low-voltage device
    "V": (-1e4, 1e4),
    "A": (-1e3, 1e3),
    "W": (0.0, 1e5),
    "VA": (0.0, 1e5),
    "Ω": (0.0, 1e9),
    "F": (0.0, 1e4),
    "H": (0.0, 1e3),
    "s": (0.0, 1e6),
    "Hz": (0.0, 1e10),
    "m": (0.0, 1e4),
    "°C": (-100.0, 1000.0),
    "K/W": (0.0, 1e4),
    "J": (0.0, 1e9),
    "V/s": (0.0, 1e9),
}
# Nothing on a bench is as small: a thousandth of a picofarad is 1e-15 F.
LEAST = Decimal("1e-18")

_SCALES: dict[str, dict[str, Decimal]] = {
    unit: {
        prefix + spelling: Decimal(1).scaleb(power)
        for spelling in spellings
        for prefix, power in PREFIXES.items()
        if not prefix or unit not in _NO_PREFIX
    }
    for unit, spellings in SPELLINGS.items()
}
_SCALES["s"] |= {word: Decimal(seconds) for word, seconds in TIME_WORDS.items()}
_BASES = {basis.value: basis for basis in Basis}
_SPREADS = {spread.value: spread for spread in Spread}

_NUMBER = r"[+\-−]?(?:\d+(?:[.,]\d+)?|[.,]\d+)(?:[eE][+\-]?\d{1,3})?"
_UNIT = r"[A-Za-zµμΩ\u2126°%/]+"
_TAIL = r"\s*(?:\((?P<basis>[^()]*)\))?\s*$"
# No text has two of these shapes; the commonest is tried first.
_SHAPES = tuple(
    re.compile(r"^\s*" + body + _TAIL)
    for body in (
        rf"(?P<value>{_NUMBER})\s*(?P<unit>{_UNIT})",
        rf"(?P<low>{_NUMBER})\s*(?P<low_unit>{_UNIT})?\s*(?:\.{{2,3}}(?!\.)|…|–|to)\s*(?P<high>{_NUMBER})\s*(?P<unit>{_UNIT})",
        rf"(?P<value>{_NUMBER})\s*(?P<unit>{_UNIT})\s*(?:±|\+/-|\+-)\s*(?P<tol>{_NUMBER})\s*(?P<tol_unit>{_UNIT})",
        rf"max\.?\s+(?P<max>{_NUMBER})\s*(?P<unit>{_UNIT})",
    )
)
_THOUSANDS = re.compile(r"(?<![\d.,])[1-9]\d{0,2}(?:,\d{3})+(?![\d,]|\.\d)")
_EXAMPLES = "write it like 9 {u}, 8.2..9.4 {u}, 9 {u} ±10 % or max 9 {u}, with (measured) behind"
LONGEST = 120
_KEPT = 4096


def read(
    text: str,
    unit: str,
    *,
    basis: Basis = Basis.ASSUMED,
    spread: Spread = Spread.UNKNOWN,
    at_least: float | None = None,
) -> Quantity:
    """Read a quantity as a person writes it.

    Parameters
    ----------
    text
        Such as `610 mA (measured)`. A comma may stand for the decimal point.
    unit
        The unit that is expected, without prefix.
    basis, spread
        What holds if the text does not say.
    at_least
        A lower bound that the subject sets: a current is never negative, say.

    Raises
    ------
    NotUnderstood
        With what is wrong and what would be right.

    Examples
    --------
    >>> read("max 500 mA (plate)", "A").high
    0.5
    """
    return _read(text, unit, basis, spread, at_least)


@lru_cache(maxsize=_KEPT)
def _read(text: str, unit: str, basis: Basis, spread: Spread, at_least: float | None) -> Quantity:
    """The same, kept by its arguments: a site says the same figure many times."""
    example = _EXAMPLES.format(u=unit)
    if len(text) > LONGEST:
        raise NotUnderstood(f"{len(text)} characters are no quantity", example)
    unclear = _THOUSANDS.search(text)
    if unclear:
        raise NotUnderstood(
            f"{text!r}: {unclear[0]} may mean thousands or a decimal comma",
            f"write {unclear[0].replace(',', '')} or {unclear[0].replace(',', '.')}",
            code="unclear-number",
        )
    found = next((m for shape in _SHAPES if (m := shape.match(text))), None)
    if found is None:
        raise NotUnderstood(f"{text!r} is not a quantity in {unit}", example)
    part = found.groupdict()
    basis, spread = _basis_and_spread(part["basis"], basis, spread)
    scale = _scale(part["unit"], unit, text)
    nominal: Decimal | None = None
    if part.get("max"):
        low, high = Decimal(0), _decimal(part["max"]) * scale
    elif part.get("low"):
        low_scale = _scale(part["low_unit"], unit, text) if part["low_unit"] else scale
        low, high = _decimal(part["low"]) * low_scale, _decimal(part["high"]) * scale
        nominal = low if low == high else None
    else:
        nominal = _decimal(part["value"]) * scale
        tolerance = _tolerance(part, nominal, unit, text)
        low, high = nominal - tolerance, nominal + tolerance
    if low > high:
        raise NotUnderstood(
            f"{text!r} runs from high to low", "write the lower end of the range first"
        )
    bottom, top = LIMITS[unit]
    bottom = bottom if at_least is None else max(bottom, at_least)
    if not (bottom <= low and high <= top):
        raise NotUnderstood(
            f"{text!r} is out of all reason for a low-voltage device",
            f"{unit} from {bottom:g} to {top:g} are taken",
        )
    if any(0 < abs(end) < LEAST for end in (low, high)):
        raise NotUnderstood(
            f"{text!r} is out of all reason for a low-voltage device",
            f"what is less than {LEAST:g} {unit} is nothing: write 0 {unit}",
        )
    return Quantity(
        low=float(low),
        high=float(high),
        nominal=None if nominal is None else float(nominal),
        unit=unit,
        basis=basis,
        spread=spread,
    )


def _decimal(digits: str) -> Decimal:
    return Decimal(digits.replace(",", ".").replace("−", "-"))


def _scale(written: str, unit: str, text: str) -> Decimal:
    scale = _SCALES[unit].get(written)
    if scale is not None:
        return scale
    raise NotUnderstood(f"{text!r} is in {written}", f"{unit} is wanted here")


def _tolerance(part: dict[str, str], nominal: Decimal, unit: str, text: str) -> Decimal:
    if not part.get("tol"):
        return Decimal(0)
    size = _decimal(part["tol"])
    if size < 0:
        raise NotUnderstood(f"{text!r} has a negative tolerance", "write ±5 %")
    if part["tol_unit"] == "%":
        if unit == "°C":
            raise NotUnderstood(f"{text!r} takes per cent of a temperature", "write ±3 °C")
        return abs(nominal) * size / 100
    return size * _scale(part["tol_unit"], unit, text)


def _basis_and_spread(words: str | None, basis: Basis, spread: Spread) -> tuple[Basis, Spread]:
    """What stands in parentheses: at most one basis and one spread."""
    if words is None:
        return basis, spread
    said = [w.strip() for w in words.split(",")]
    bases = [_BASES[word] for word in said if word in _BASES]
    spreads = [_SPREADS[word] for word in said if word in _SPREADS]
    if len(bases) > 1 or len(spreads) > 1 or len(bases) + len(spreads) != len(said):
        known = ", ".join(b.value for b in Basis)
        raise NotUnderstood(f"({words}) is no basis", f"use {known}")
    return (bases or [basis])[0], (spreads or [spread])[0]


def write(quantity: Quantity) -> str:
    """Write a quantity so that a person can read it and `read` gives the same back.

    The spread is not written: it belongs to the field that holds the quantity.
    """
    low, high, nominal = quantity.low, quantity.high, quantity.nominal
    tail = f" ({quantity.basis.value})"
    if low == high:
        return number(low, quantity.unit) + tail
    if nominal is not None and nominal not in (low, high):
        tolerance = _plain(Decimal(repr(high)) - Decimal(repr(nominal)))
        text = f"{number(nominal, quantity.unit)} ±{tolerance} {quantity.unit}"
        again = read(text, quantity.unit)
        if (again.low, again.high) == (low, high):
            return text + tail
    if low == 0 and nominal is None and quantity.spread is Spread.UNKNOWN:
        return f"max {number(high, quantity.unit)}{tail}"
    return f"{span(low, high, quantity.unit)}{tail}"


def span(low: float, high: float, unit: str) -> str:
    """A range with one prefix for both ends: `0.9..1.2 A`."""
    prefix = _prefix(max(abs(low), abs(high)), unit)
    return f"{_digits(low, prefix)}..{_digits(high, prefix)} {prefix}{unit}"


def number(value: float, unit: str) -> str:
    """A single value with a prefix that suits it: `610 mA`."""
    prefix = _prefix(abs(value), unit)
    return f"{_digits(value, prefix)} {prefix}{unit}"


def rounded(value: float, unit: str, digits: int = 3) -> str:
    """A value for people: so many significant digits, with a prefix that suits it."""
    if value == 0 or not math.isfinite(value):
        return f"{value:g} {unit}"
    places = digits - 1 - math.floor(math.log10(abs(value)))
    return number(round(value, places), unit)


def _prefix(size: float, unit: str) -> str:
    if unit in _NO_PREFIX or size == 0:
        return ""
    steps = ("M", "k", "", "m", "µ", "n", "p") if unit != "m" else ("",)
    for prefix in steps:
        if prefix in ("M", "k") and unit not in ("Ω", "Hz"):
            continue
        if size >= 10.0 ** PREFIXES[prefix] * (1 - 1e-12):
            return prefix
    return steps[-1]


def _digits(value: float, prefix: str) -> str:
    # Twelve digits: 9 * 1.05 is written 9.45, and no figure that a person wrote is changed.
    return _plain(Decimal(f"{value:.12g}").scaleb(-PREFIXES[prefix]))


def _plain(value: float | Decimal) -> str:
    exact = value if isinstance(value, Decimal) else Decimal(repr(value))
    return f"{exact.normalize():f}"


def better(a: Quantity, b: Quantity) -> Quantity:
    """Of two statements of the same thing, the one on the better basis (the first on a tie)."""
    return b if b.basis.rank < a.basis.rank else a


def disjoint(a: Quantity, b: Quantity) -> bool:
    """Whether two statements of the same thing cannot both be true."""
    return a.high < b.low or b.high < a.low
