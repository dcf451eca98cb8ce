"""What a meter is expected to show: a range with its middle, and how it is said."""

import math
from dataclasses import dataclass

from sinkside.quantity import Quantity, rounded, span

# Common meters show four digits.
DIGITS = 4


@dataclass(frozen=True, kw_only=True)
class Range:
    """A range of readings in SI units, inclusive.

    Parameters
    ----------
    low, nominal, high
        Rising; `high` is infinite where a gap or an insulation is measured.
    unit
        Without prefix: `V`, `A`, `Ω`, `W`.

    Raises
    ------
    ValueError
        The three do not rise, or one is not a number.
    """

    low: float
    nominal: float
    high: float
    unit: str

    def __post_init__(self) -> None:
        if not self.low <= self.nominal <= self.high:
            raise ValueError(f"{self.low}, {self.nominal}, {self.high} {self.unit} do not rise")

    def holds(self, value: float) -> bool:
        """Whether a reading is within the range."""
        return self.low <= value <= self.high

    def turned(self) -> "Range":
        """The same reading with the probes exchanged."""
        return Range(low=-self.high, nominal=-self.nominal, high=-self.low, unit=self.unit)

    @property
    def words(self) -> str:
        """The range in words: `8.41..9.45 V, about 9 V`."""
        if math.isinf(self.high):
            return f"more than {rounded(self.low, self.unit, DIGITS)}"
        if self.low == self.high:
            return rounded(self.low, self.unit, DIGITS)
        if self.low == 0.0 and self.unit == "Ω":
            # A common meter has no range of milliohms: 0.5 Ω is what it shows.
            small = 0.1 <= self.high < 1.0
            return f"at most {self.high:.4g} Ω" if small else f"at most {_told(self.high)}"
        return f"{self.span}, about {rounded(self.nominal, self.unit, DIGITS)}"

    @property
    def span(self) -> str:
        """The two ends alone."""
        if self.low == self.high or math.isinf(self.high):
            return self.words
        return span(*_outwards(self.low, self.high), self.unit)


def _told(ohm: float) -> str:
    return rounded(ohm, "Ω", DIGITS)


def _outwards(low: float, high: float) -> tuple[float, float]:
    """The ends to so many digits of the larger, each rounded away from the middle."""
    size = max(abs(low), abs(high))
    places = DIGITS - 1 - math.floor(math.log10(size))
    step = 10.0**-places
    # A thousandth of a step lets 8.55 stay 8.55, which floats may hold as 8.549999999.
    down, up = math.floor(low / step + 1e-3), math.ceil(high / step - 1e-3)
    return round(down * step, places), round(up * step, places)


def told(quantity: Quantity) -> str:
    """A quantity to as many digits as a meter shows: `63.31..203.3 mΩ (assumed)`."""
    found = Range(low=quantity.low, nominal=quantity.value, high=quantity.high, unit=quantity.unit)
    return f"{found.span} ({quantity.basis.value})"
