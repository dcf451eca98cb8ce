"""The reader of rating plates against 450 plates that were written without running it on them.

Each corpus says at its head how it was made and which conventions it follows (common practice, no
source). The second tells more: kinds of adjustable supply, sets of ports, and the total power.
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

CORPORA = {"plates_corpus.yaml": 300, "plates_corpus_second.yaml": 150}
SECOND = "plates_corpus_second.yaml"
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
    if "+" in name:
        return "+".join(str(plain_port(part)) for part in name.split("+"))
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


def further_differences(reading: PlateReading, expect: dict[str, Any]) -> tuple[str, ...]:
    """What the second corpus tells besides: kinds of supply, sets of ports, the total power."""
    found = []
    got = Counter((*figures(r), r.profile) for r in (*reading.input, *reading.output))
    wanted = Counter(map(expected_with_profile, (*expect["input"], *expect["output"])))
    if got != wanted:
        found.append(f"profile: got {list(got - wanted)}, not {list(wanted - got)}")
    if "shared" in expect:
        said = Counter(
            (s.ports, s.power_w, tuple((*figures(r), r.profile) for r in s.ratings))
            for s in reading.shared
        )
        listed = Counter(map(expected_shared, expect["shared"]))
        if said != listed:
            found.append(f"shared: got {list(said - listed)}, not {list(listed - said)}")
    if reading.total_power_w != expect.get("total_power_w", reading.total_power_w):
        found.append(f"total: got {reading.total_power_w}, not {expect['total_power_w']}")
    return tuple(found)


def expected_with_profile(rating: dict[str, Any]) -> tuple[Any, ...]:
    """What the second corpus says of a rating."""
    return (*expected_figures(rating), rating.get("profile", "fixed"))


def expected_shared(one: dict[str, Any]) -> tuple[Any, ...]:
    """What the second corpus says of a set of ports."""
    ratings = tuple(map(expected_with_profile, one.get("ratings", [])))
    return tuple(map(str, one["ports"])), tuple(map(float, one["power_w"])), ratings


def all_differences(corpus: str, text: str, expect: dict[str, Any]) -> tuple[str, ...]:
    """Whatever of a plate is read otherwise than its corpus expects."""
    reading = read(text)
    further = further_differences(reading, expect) if corpus == SECOND else ()
    return (*differences(reading, expect), *further)


@cache
def entries(corpus: str) -> list[dict[str, Any]]:
    """The plates of a corpus."""
    text = Path(__file__).with_name(corpus).read_text(encoding="utf-8")
    found: list[dict[str, Any]] = yaml.safe_load(text)
    return found


@cache
def outcomes(corpus: str) -> tuple[Outcome, ...]:
    """All plates of a corpus, read."""
    found = []
    for entry in entries(corpus):
        reading = read(entry["text"])
        found.append(
            Outcome(
                id=entry["id"],
                differs=all_differences(corpus, entry["text"], entry["expect"]),
                doubted=bool(reading.ambiguities),
                must_doubt=entry["expect"]["ambiguous"],
            )
        )
    return tuple(found)


@pytest.mark.parametrize(("corpus", "size"), CORPORA.items())
def test_the_corpus_is_whole(corpus: str, size: int) -> None:
    assert len(outcomes(corpus)) == size
    assert len({outcome.id for outcome in outcomes(corpus)}) == size


def test_no_plate_stands_in_both() -> None:
    texts = [" ".join(entry["text"].split()) for corpus in CORPORA for entry in entries(corpus)]
    assert len(set(texts)) == sum(CORPORA.values())


@pytest.mark.parametrize("corpus", CORPORA)
def test_at_least_95_percent_of_the_plates_are_fully_read(corpus: str) -> None:
    differing = [outcome for outcome in outcomes(corpus) if outcome.differs]
    assert len(differing) <= 0.05 * len(outcomes(corpus)), differing


@pytest.mark.parametrize("corpus", CORPORA)
def test_no_plate_is_read_wrongly_without_a_doubt(corpus: str) -> None:
    silent = [outcome for outcome in outcomes(corpus) if outcome.differs and not outcome.doubted]
    assert silent == []


@pytest.mark.parametrize("corpus", CORPORA)
def test_what_a_careful_reader_must_doubt_is_doubted(corpus: str) -> None:
    assert [o.id for o in outcomes(corpus) if o.must_doubt and not o.doubted] == []


def test_power_that_ports_share_is_read() -> None:
    wrong = []
    for entry in entries("plates_corpus.yaml"):
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
    for entry in entries("plates_corpus.yaml"):
        found = differences(read(retyped(entry["text"])), entry["expect"])
        if found:
            changed.append((entry["id"], found))
    assert changed == []


# There the colon alone makes the word for a brick, "Alimentation", the label of a device's input.
LABELS_BY_COLON = {"l-de-geraet", "l-fr-polarite", "l-it-assorbimento", "l-ru-old"}


@pytest.mark.parametrize("retyped", RETYPED.values(), ids=RETYPED)
def test_a_plate_typed_in_another_way_is_not_misread_without_a_doubt(
    retyped: Callable[[str], str],
) -> None:
    misread = []
    for entry in entries(SECOND):
        text = retyped(entry["text"])
        found = all_differences(SECOND, text, entry["expect"])
        colon_lost = entry["id"] in LABELS_BY_COLON and ":" not in text
        if found and not read(text).ambiguities and not colon_lost:
            misread.append((entry["id"], found))
    assert misread == []


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
        ("USB-C1+USB-A", "C1+A"),
        (None, None),
    ],
)
def test_names_of_ports_are_compared_without_the_words_left_out(
    name: str | None, plain: str | None
) -> None:
    assert plain_port(name) == plain
