"""Plates that are made up from known facts read back as these facts, or at least with a doubt.

The notations are those of the trade (common practice, no source). A fact that is read otherwise
without a doubt is the worst that a reader can do: nobody would look again.
"""

import random
from collections.abc import Callable
from dataclasses import dataclass, field

import pytest

from sinkside.plates import PlateReading, read
from sinkside.plates.vocabulary import WORDS

PLATES = 400
LISTS = (
    ((5.0, 3.0), (9.0, 3.0), (15.0, 3.0), (20.0, 3.25)),
    ((5.0, 3.0), (9.0, 2.22), (12.0, 1.67)),
    ((5.0, 2.4),),
    ((5.0, 3.0), (9.0, 2.0), (12.0, 1.5)),
)
# How a port is headed, and what its name is without the words that are left out.
PORTS = {
    **{"USB-C{}": "C{}", "C{}": "C{}", "Type-C{}": "C{}", "USB-C {}": "C{}", "PORT {}": "{}"},
    **{"USB Type-C{}": "C{}", "OUTPUT {}": "{}", "CH{}": "CH{}", "V{}": "V{}"},
}
OFFERS = ("{v}V⎓{a}A", "{v} V⎓ {a} A", "{v}V={a}A", "{v}VDC {a}A", "{v}.0V⎓{a}A")
SHARED = (
    *(
        "{ports}: {each}",
        "{ports}={each}",
        "{ports}: {sum}W ({each})",
        "{ports}: {each} ({sum}W Max)",
    ),
    *("{ports} {each}", "{ports} Output: {each}", "{ports} total: {each}"),
)
TOTALS = (
    "Total: {}W",
    "TOTAL OUTPUT: {}W MAX",
    "Gesamt max. {} W",
    "总功率：{}W",
    "Combined {}W Max",
)
LANGUAGES = ("en", "de", "fr", "es", "it", "pl", "cs", "sv", "fi", "ru", "zh", "ja", "ko")


@dataclass(kw_only=True)
class Facts:
    """What a plate that was made up says."""

    text: str
    output: list[tuple[float, str, float, float | None, float | None, str | None]]
    shared: list[tuple[tuple[str, ...], tuple[float, ...]]] = field(default_factory=list)
    total_power_w: float | None = None
    centre: str = "unknown"


def said(reading: PlateReading, text: str) -> Facts:
    """What of a reading is compared; sets of one port are the power behind its list."""
    return Facts(
        text=text,
        output=[
            (r.voltage_high_v, r.kind, r.current_a or 0.0, r.peak_current_a, r.power_w, r.port)
            for r in reading.output
        ],
        shared=[(s.ports, s.power_w) for s in reading.shared if len(s.ports) > 1],
        total_power_w=reading.total_power_w,
        centre=reading.centre,
    )


def charger(draw: random.Random) -> Facts:
    """A charger with ports, lists, power that they share, and a total."""
    heading = draw.choice(tuple(PORTS))
    count = draw.choice((1, 2, 3))
    numbers = "ABC" if heading == "PORT {}" and draw.random() < 0.5 else "123"
    heads = [heading.format(n) for n in numbers[:count]]
    names = [PORTS[heading].format(n) for n in numbers[:count]]
    usb = "USB" in heading or "Type" in heading  # whose lists need no sign for direct current
    offer = draw.choice((*OFFERS, "{v}V {a}A") if usb else OFFERS)
    parted = draw.choice((" ", ", ", " / ", "; ", " or "))
    lines, output = [], []
    for head, name in zip(heads, names, strict=True):
        listed = draw.choice(LISTS)
        lines.append(
            f"{head}: {parted.join(offer.format(v=f'{v:g}', a=f'{a:g}') for v, a in listed)}"
        )
        output += [(v, "dc", a, None, None, name) for v, a in listed]
    facts = Facts(text="", output=output)
    if count > 1:
        watts = tuple(float(draw.choice((45, 30, 20, 12))) for _ in names)
        each = draw.choice(("+", " + ")).join(f"{w:g}W" for w in watts)
        joined = draw.choice(("+", " + ")).join(heads)
        lines.append(draw.choice(SHARED).format(ports=joined, each=each, sum=f"{sum(watts):g}"))
        facts.shared = [(tuple(names), watts)]
    if draw.random() < 0.5:
        facts.total_power_w = float(draw.choice((65, 100)))
        lines.append(draw.choice(TOTALS).format(f"{facts.total_power_w:g}"))
    facts.text = "\n".join(lines)
    return facts


def words(kind: str, language: str) -> list[str]:
    """The words of one kind in one language."""
    lists = [w for languages, w in WORDS[kind].items() if language in languages.split()]
    return [
        word.strip()
        for listed in lists or [WORDS[kind].get("all", "")]
        for word in listed.split(",")
    ]


def brick(draw: random.Random) -> Facts:
    """A brick in one language: its output with peak, power and polarity, and its input."""
    language = draw.choice(LANGUAGES)
    volts, amps = draw.choice((5.0, 7.5, 9.0, 12.0, 13.8, 24.0)), draw.choice((0.3, 1.0, 1.5, 3.42))
    comma = language not in ("en", "zh", "ja", "ko")

    def figure(value: float) -> str:
        return f"{value:g}".replace(".", ",") if comma else f"{value:g}"

    direct = draw.choice(words("DC", language))
    sign = draw.choice(("{}V⎓", "{} V ⎓", "DC {}V", "{}V DC", "{}V===", f"{{}} V {direct}"))
    rated = f"{sign.format(figure(volts))} {figure(amps)}A"
    peak_a = power_w = None
    if draw.random() < 0.4:
        peak_a = 2 * amps
        shape = draw.choice((" ({} {})", ", {} {}", "; {}: {}"))
        rated += shape.format(draw.choice(words("PEAK", language)), f"{figure(peak_a)} A")
    if draw.random() < 0.4:
        power_w = round(volts * amps, 1)
        rated += f" {figure(power_w)}W"
    centre = draw.choice(("unknown", "positive", "negative"))
    if centre != "unknown":
        contact = draw.choice(words("CENTRE", language))
        pole = "+" if centre == "positive" else "-"
        rated += f"\n{contact} ({pole})"
    labels = [draw.choice(words(kind, language)) for kind in ("INPUT", "OUTPUT")]
    mains = draw.choice(("100-240V~ 50/60Hz 0.5A", "230 V~ 50 Hz 60 mA", "AC 100-240V 0.5A"))
    text = f"{labels[0]}: {mains}\n{labels[1]}: {rated}"
    output = [(volts, "dc", amps, peak_a, power_w, None)]
    return Facts(text=draw.choice((text, text.upper())), output=output, centre=centre)


@pytest.mark.parametrize("make", [charger, brick])
@pytest.mark.parametrize("seed", [1, 2])
def test_made_up_facts_read_back(make: Callable[[random.Random], Facts], seed: int) -> None:
    draw = random.Random(f"{make.__name__}/{seed}")
    otherwise, doubted = [], 0
    for _ in range(PLATES):
        facts = make(draw)
        reading = read(facts.text)
        if said(reading, facts.text) != facts:
            doubted += bool(reading.ambiguities)
            otherwise += [] if reading.ambiguities else [(facts, said(reading, facts.text))]
    assert otherwise == []
    assert doubted <= 0.02 * PLATES
