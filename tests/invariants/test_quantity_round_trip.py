"""What is written of a quantity is read back equal, and no text makes the reader fall over."""

from decimal import Decimal
from typing import Literal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.faults import NotUnderstood
from sinkside.quantity import Basis, Quantity, Spread, read, write

pytestmark = pytest.mark.filterwarnings("error")

UNITS = st.sampled_from(["V", "A", "W", "VA", "Ω", "F", "H", "s", "Hz", "m", "°C", "K/W", "J"])
PREFIXES = st.sampled_from(["p", "n", "µ", "μ", "u", "m", ""])
WITHOUT_PREFIX = {"°C", "K/W"}
# As many figures as a good meter shows.
FIGURES = st.integers(1, 999_999)
PLACES = st.integers(0, 5)
SPREADS = st.sampled_from(Spread)
# What is typed, and every sign that the notation knows.
SIGNS = st.text(
    alphabet="0123456789.,+-−±%…–eEVAWΩ\u2126µμmkMFsh°C/()maxtoured \t\n٩９²\x00", max_size=40
)


@st.composite
def figures(draw: st.DrawFn) -> str:
    return f"{Decimal(draw(FIGURES)).scaleb(-draw(PLACES)):f}"


@st.composite
def texts(draw: st.DrawFn, shape: Literal["value", "range", "max", "tolerance"]) -> tuple[str, str]:
    """A quantity as text, and its unit."""
    unit = draw(UNITS)
    prefix = "" if unit in WITHOUT_PREFIX else draw(PREFIXES)
    a, b = sorted((draw(figures()), draw(figures())), key=Decimal)
    basis = draw(st.sampled_from(Basis))
    if shape == "tolerance" and unit == "°C":
        shape = "value"
    body = {
        "value": f"{a} {prefix}{unit}",
        "range": f"{a}..{b} {prefix}{unit}",
        "max": f"max {a} {prefix}{unit}",
        "tolerance": f"{a} {prefix}{unit} ±{draw(st.integers(1, 100))} %",
    }[shape]
    return f"{body} ({basis.value})", unit


def taken(text: str, unit: str, spread: Spread = Spread.UNKNOWN) -> Quantity | None:
    """The quantity, or None where it is out of all reason for its unit."""
    try:
        return read(text, unit, spread=spread)
    except NotUnderstood:
        return None


@settings(derandomize=True, max_examples=200, deadline=None)
@given(st.sampled_from(["value", "range", "max", "tolerance"]).flatmap(texts), SPREADS)
def test_what_is_written_is_read_back_equal(given_: tuple[str, str], spread: Spread) -> None:
    text, unit = given_
    once = taken(text, unit, spread)
    if once is None:
        return
    # A range without extent is a value; that one case stands in a test of its own.
    if once.low == once.high and once.nominal is None:
        return
    assert read(write(once), unit, spread=spread) == once


@settings(derandomize=True, max_examples=100, deadline=None)
@given(st.integers(1, 9999).map(lambda n: f"{Decimal(n) / 100:f}"), PREFIXES)
def test_a_prefix_is_a_power_of_ten(digits: str, prefix: str) -> None:
    power = {"p": -12, "n": -9, "µ": -6, "μ": -6, "u": -6, "m": -3, "": 0}[prefix]
    assert read(f"{digits} {prefix}F", "F").low == float(Decimal(digits).scaleb(power))


@settings(derandomize=True, max_examples=100, deadline=None)
@given(st.integers(0, 999), st.integers(0, 99), st.sampled_from(["V", "A"]))
def test_a_comma_stands_for_the_point(whole: int, part: int, unit: str) -> None:
    assert read(f"{whole},{part:02d} {unit}", unit) == read(f"{whole}.{part:02d} {unit}", unit)


@settings(derandomize=True, max_examples=100, deadline=None)
@given(st.sampled_from(["value", "range", "max", "tolerance"]).flatmap(texts))
def test_the_ends_hold_the_nominal(given_: tuple[str, str]) -> None:
    found = taken(*given_)
    if found is not None and found.nominal is not None:
        assert found.low <= found.nominal <= found.high


@settings(derandomize=True, max_examples=300, deadline=None)
@given(st.one_of(SIGNS, st.text(max_size=60)), UNITS)
def test_no_text_makes_it_fall_over(text: str, unit: str) -> None:
    found = taken(text, unit)
    if found is not None:
        again = read(write(found), unit)
        assert (again.low, again.high, again.basis) == pytest.approx(
            (found.low, found.high, found.basis)
        )
