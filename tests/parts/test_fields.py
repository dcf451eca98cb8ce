"""How single values of a file are read: what is taken, what is refused, and in which words."""

from typing import Annotated, Any

import pytest

from sinkside.faults import Faulty
from sinkside.faults.marked_yaml import load
from sinkside.faults.written import Written, read
from sinkside.parts.fields import (
    Ambient,
    Amps,
    Cents,
    Count,
    Metres,
    Plug,
    Said,
    Seconds,
    VaryingSeconds,
    Volts,
    YesNo,
    said,
)
from sinkside.quantity import Basis, Spread


class Sheet(Written):
    volts: Volts = None
    amps: Amps = None
    seconds: Seconds = None
    off_time: VaryingSeconds = None
    ambient: Ambient | None = None
    length: Metres | None = None
    yes: YesNo | None = None
    price: Cents = None
    count: Count | None = None
    plug: Plug | None = None
    pole: Annotated[Said | None, said("negative", "positive", "next lower", "unknown")] = None


def value(line: str) -> Any:
    return getattr(read(Sheet, load(line, "s")), line.partition(":")[0])


def told(line: str) -> str:
    with pytest.raises(Faulty) as error:
        value(line)
    return str(error.value)


@pytest.mark.parametrize(
    ("line", "low", "high", "basis"),
    [
        ("volts: 9 V (measured)", 9.0, 9.0, Basis.MEASURED),
        ("volts: 8..9 V", 8.0, 9.0, Basis.ASSUMED),
        ("volts: 9 V ±5 %", 8.55, 9.45, Basis.ASSUMED),
        ("volts: max 9 V", 0.0, 9.0, Basis.ASSUMED),
        ("amps: 0 A", 0.0, 0.0, Basis.ASSUMED),
        ("seconds: 20..60 ms (measured)", 0.02, 0.06, Basis.MEASURED),
    ],
)
def test_facts(line: str, low: float, high: float, basis: Basis) -> None:
    found = value(line)
    assert (found.low, found.high, found.basis) == (low, high, basis)
    assert found.spread is Spread.UNKNOWN


@pytest.mark.parametrize("line", ["volts: unknown", "volts: ", "volts: ~", "plug: wires"])
def test_nothing_known(line: str) -> None:
    assert value(line) in (None, "wires")


def test_a_time_that_differs_from_case_to_case_varies() -> None:
    assert value("off_time: 1.6..1.9 s (measured)").spread is Spread.VARIES


@pytest.mark.parametrize(
    ("line", "fault"),
    [
        (
            "volts: 9 V",
            "s:1:8: '9 V' says nothing of what it rests on; add (measured), (datasheet) or "
            "(plate), or give a range",
        ),
        (
            "volts: 9..9 V",
            "s:1:8: '9..9 V' says nothing of what it rests on; add (measured), (datasheet) or "
            "(plate), or give a range",
        ),
        (
            "volts: -9 V (measured)",
            "s:1:8: '-9 V (measured)' is out of all reason for a low-voltage device; V from 0 to "
            "10000 are taken",
        ),
        ("volts: 9 A (measured)", "s:1:8: '9 A (measured)' is in A; V is wanted here"),
        ("volts: [9 V]", "s:1:8: a quantity is wanted here; write it like 9 V"),
        ("volts: {is: 9 V}", "s:1:8: a quantity is wanted here; write it like 9 V"),
        (
            "volts: Unknown",
            "s:1:8: 'Unknown' is not a quantity in V; write it like 9 V, 8.2..9.4 V, 9 V ±10 % or "
            "max 9 V, with (measured) behind",
        ),
        (
            "ambient: 15..32",
            "s:1:10: '15..32' is not a quantity in °C; write it like 9 °C, 8.2..9.4 °C, 9 °C "
            "±10 % or max 9 °C, with (measured) behind",
        ),
        ("length: 5 cm", "s:1:9: '5 cm' is in cm; m is wanted here"),
    ],
)
def test_facts_refused(line: str, fault: str) -> None:
    assert told(line) == fault


def test_the_code_of_a_fact_that_rests_on_nothing() -> None:
    with pytest.raises(Faulty) as error:
        value("amps: 610 mA")
    assert [f.code for f in error.value.faults] == ["no-basis"]


@pytest.mark.parametrize(
    ("text", "truth"), [("yes", True), ("true", True), ("no", False), ("false", False)]
)
@pytest.mark.parametrize("quote", ["", "'"])
def test_truth(text: str, truth: bool, quote: str) -> None:
    assert value(f"yes: {quote}{text}{quote}") is truth


@pytest.mark.parametrize("text", ["on", "off", "Yes", "YES", "True", "y", "n", "1", "0"])
def test_truth_has_four_words(text: str) -> None:
    assert told(f"yes: {text}") == f"s:1:6: {text!r} is neither yes nor no; write yes or no"


@pytest.mark.parametrize(
    ("text", "cents"),
    [
        ("2.40 EUR", 240),
        ("2,4 EUR", 240),
        ("0 EUR", 0),
        ("0.29 EUR", 29),
        ("19.99 USD", 1999),
        ("999999999 EUR", 99_999_999_900),
    ],
)
def test_money(text: str, cents: int) -> None:
    assert value(f"price: {text}") == cents


@pytest.mark.parametrize(
    "text", ["2.40", "EUR 2.40", "2.40 eur", "-2 EUR", "1,200 EUR", "2.405 EUR", "free", "1e3 EUR"]
)
def test_money_refused(text: str) -> None:
    assert told(f"price: {text}") == f"s:1:8: {text!r} is not a price; write it like 2.40 EUR"


def test_no_price_is_not_nothing() -> None:
    assert value("price: ") is None


@pytest.mark.parametrize(("text", "count"), [("3", 3), ("0", 0), ("007", 7), ("9999", 9999)])
def test_counts(text: str, count: int) -> None:
    assert value(f"count: {text}") == count


@pytest.mark.parametrize("text", ["-1", "2.5", "10000", "three", "1e3", "²", "yes"])
def test_counts_refused(text: str) -> None:
    assert told(f"count: {text}") == (
        f"s:1:8: {text!r} is not a count; write a whole number such as 3"
    )


@pytest.mark.parametrize(
    ("text", "plug"),
    [
        ("5.5x2.1", "5.5x2.1"),
        ("5,5×2,1 mm", "5.5x2.1"),
        ("5.50 x 2.10mm", "5.5x2.1"),
        ("10x5", "10x5"),
        ("usb-c", "usb-c"),
        ("wires", "wires"),
        ("other", "other"),
    ],
)
def test_plugs(text: str, plug: str) -> None:
    assert value(f"plug: {text}") == plug


@pytest.mark.parametrize("text", ["2.1x5.5", "5.5x5.5", "0.5x0.1", "13x2", "5.5x0"])
def test_impossible_plugs(text: str) -> None:
    assert told(f"plug: {text}") == (
        f"s:1:7: {text!r} is no plug; outer by inner in mm, like 5.5x2.1"
    )


@pytest.mark.parametrize("text", ["5.5", "barrel", "5.5x2.1x9", "5.5-2.1", "USB-C", "' '"])
def test_unknown_plugs(text: str) -> None:
    shown = text.strip("'") or "' '"
    assert told(f"plug: {text}") == (
        f"s:1:7: {shown!r} is not a plug that is known; write outer x inner in mm, like 5.5x2.1, "
        "or wires, usb-c, micro-usb, mini-usb, usb-b, other"
    )


@pytest.mark.parametrize(
    ("text", "word", "basis"),
    [
        ("negative (measured)", "negative", Basis.MEASURED),
        ("negative", "negative", Basis.ASSUMED),
        ("next lower (lived-on)", "next lower", Basis.LIVED_ON),
        ("  positive  (plate)", "positive", Basis.PLATE),
        ("unknown", "unknown", Basis.ASSUMED),
    ],
)
def test_words_with_a_basis(text: str, word: str, basis: Basis) -> None:
    found = value(f"pole: {text}")
    assert (found, found.basis) == (word, basis)


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("neg", "'neg' is not known here; known are negative, positive, next lower, unknown"),
        (
            "Negative",
            "'Negative' is not known here; known are negative, positive, next lower, unknown",
        ),
        (
            "negative (measured) (plate)",
            "'negative (measured) (plate)' is not known here; known are negative, positive, next "
            "lower, unknown",
        ),
        (
            "negative (guess)",
            "(guess) is no basis; use measured, lived-on, datasheet, plate, standard, assumed",
        ),
        (
            "[negative]",
            "['negative'] is not known here; known are negative, positive, next lower, unknown",
        ),
    ],
)
def test_words_refused(text: str, fault: str) -> None:
    assert told(f"pole: {text}") == f"s:1:7: {fault}"
