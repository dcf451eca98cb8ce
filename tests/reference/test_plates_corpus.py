"""The reader of rating plates against 300 plates that were written without seeing it.

The corpus says at its head how it was made and which conventions it follows (common practice, no
source).
"""

import re
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import yaml

from sinkside.plates import PlateReading, Rating, read

CORPUS = Path(__file__).with_name("plates_corpus.yaml")
FIELDS = ("voltage_low_v", "voltage_high_v", "kind", "current_a", "power_w", "peak_current_a")


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """How one plate was read.

    Parameters
    ----------
    id
        The entry's name.
    differs
        What was read otherwise than expected, in words; empty if fully read.
    doubted
        Whether the reader told at least one ambiguity.
    must_doubt
        Whether a careful reader must.
    """

    id: str
    differs: tuple[str, ...]
    doubted: bool
    must_doubt: bool


def plain_port(name: str | None) -> str | None:
    """A port's name without the words that our reader leaves out: `USB-C1` is `C1`."""
    if name is None:
        return None
    parts = [re.sub(r"(?i)usb|type|port|output|[ -]", "", part) for part in name.split("/")]
    bare = [part or "USB" for part in parts]
    return "/".join("USB" + part if part.isdigit() and "USB" in name else part for part in bare)


def figures(rating: Rating) -> tuple[Any, ...]:
    """What of a rating is compared."""
    return (*(getattr(rating, field) for field in FIELDS), rating.port)


def expected_figures(rating: dict[str, Any]) -> tuple[Any, ...]:
    """What the corpus says of a rating, as `figures` gives it."""
    return (*(rating.get(field) for field in FIELDS), plain_port(rating["port"]))


def differences(reading: PlateReading, expect: dict[str, Any]) -> tuple[str, ...]:
    """What was read otherwise than expected; the order of ratings does not count."""
    found = []
    for side, ratings in (("input", reading.input), ("output", reading.output)):
        got = Counter(map(figures, ratings))
        wanted = Counter(map(expected_figures, expect[side]))
        if got != wanted:
            found.append(f"{side}: got {list(got - wanted)}, not {list(wanted - got)}")
    if reading.centre != expect["centre"]:
        found.append(f"centre: got {reading.centre}, not {expect['centre']}")
    return tuple(found)


@cache
def entries() -> list[dict[str, Any]]:
    """The plates of the corpus."""
    found: list[dict[str, Any]] = yaml.safe_load(CORPUS.read_text(encoding="utf-8"))
    return found


@cache
def outcomes() -> tuple[Outcome, ...]:
    """All plates of the corpus, read."""
    found = []
    for entry in entries():
        reading = read(entry["text"])
        found.append(
            Outcome(
                id=entry["id"],
                differs=differences(reading, entry["expect"]),
                doubted=bool(reading.ambiguities),
                must_doubt=entry["expect"]["ambiguous"],
            )
        )
    return tuple(found)


def test_the_corpus_is_whole() -> None:
    assert len(outcomes()) == 300
    assert len({outcome.id for outcome in outcomes()}) == 300


def test_at_least_95_percent_of_the_plates_are_fully_read() -> None:
    differing = [outcome for outcome in outcomes() if outcome.differs]
    assert len(differing) <= 0.05 * len(outcomes()), differing


def test_no_plate_is_read_wrongly_without_a_doubt() -> None:
    silent = [outcome for outcome in outcomes() if outcome.differs and not outcome.doubted]
    assert silent == []


def test_what_a_careful_reader_must_doubt_is_doubted() -> None:
    assert [o.id for o in outcomes() if o.must_doubt and not o.doubted] == []


def test_power_that_ports_share_is_read() -> None:
    wrong = []
    for entry in entries():
        for line in entry["expect"].get("shared", []):
            heading, figures = line.split(":")
            ports = tuple(plain_port(name) for name in heading.split("+"))
            power_w = tuple(float(watts) for watts in re.findall(r"([0-9.]+)W", figures))
            found = [s for s in read(entry["text"]).shared if s.ports == ports]
            if [s.power_w for s in found] != [power_w]:
                wrong.append((entry["id"], line, found))
    assert wrong == []


FULL_WIDTH = {code: code + 0xFEE0 for code in range(0x21, 0x7F)} | {0x20: 0x3000}

# The same plate typed in another way, which must change nothing.
RETYPED: dict[str, Callable[[str], str]] = {
    "in capitals": str.upper,
    "in full width": lambda text: text.translate(FULL_WIDTH),
    "with wide gaps": lambda text: text.replace(" ", "  "),
    "on one line": lambda text: text.replace("\n", "  "),
    "with other line ends": lambda text: text.replace("\n", "\r\n"),
    "with long dashes": lambda text: re.sub("(?<=[0-9])-(?=[0-9])", "–", text),
    "with ranges apart": lambda text: re.sub("(?<=[0-9])-(?=[0-9])", " - ", text),
    "with DC for the sign": lambda text: text.replace("⎓", " DC "),
    "with bars for the sign": lambda text: text.replace("⎓", " === "),
    "with another tilde": lambda text: text.replace("~", "∼"),
    "with decimal commas": lambda text: re.sub(r"(?<=[0-9])\.(?=[0-9])", ",", text),
    "with units apart": lambda text: re.sub(r"(?<=[0-9])(?=(?:m?A|VA?|W|Hz)\b)", " ", text),
    "with units close": lambda text: re.sub(r"(?<=[0-9]) (?=(?:m?A|VA?|W|Hz)\b)", "", text),
    "without colons": lambda text: text.replace(":", " "),
    "among codes": lambda text: f"MODEL: ZX-1205A\n{text}\nMADE IN NOWHERE 2021-05 E123456 IP20",
    "with a serial number": lambda text: f"POWER SUPPLY {text} S/N 00123456",
}


@pytest.mark.parametrize("retyped", RETYPED.values(), ids=RETYPED)
def test_a_plate_typed_in_another_way_reads_the_same(retyped: Callable[[str], str]) -> None:
    changed = []
    for entry in entries():
        found = differences(read(retyped(entry["text"])), entry["expect"])
        if found:
            changed.append((entry["id"], found))
    assert changed == []


@pytest.mark.parametrize(
    ("name", "plain"),
    [
        ("USB-C1", "C1"),
        ("USB-C 2", "C2"),
        ("Type-C", "C"),
        ("USB Type-C", "C"),
        ("USB2", "USB2"),
        ("USB-C1/USB-C2", "C1/C2"),
        ("OUTPUT 2", "2"),
        ("A", "A"),
        (None, None),
    ],
)
def test_names_of_ports_are_compared_without_the_words_left_out(
    name: str | None, plain: str | None
) -> None:
    assert plain_port(name) == plain
