"""What each word for the inside stands for, where nothing better is known.

Laws, starting currents and capacitances are common practice of the trade without a source, unless
another is named beside the check.
"""

import pytest
from tests.paths import small_parts as small
from tests.site.devices import BARREL, ends, surveyed, told

from sinkside.paths.findings import findings
from sinkside.paths.judge import Path, judge
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance

TWELVE_V = 'plate: "DC IN 12V⎓ 500mA ⊖–C–⊕"'
MEASURED = "draws: {steady: 300 mA (measured)}"
FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS


def of(kind: str, *lines: str) -> Appliance:
    return surveyed(TWELVE_V, BARREL, f"inside: {kind}", *lines)


@pytest.mark.parametrize(
    ("kind", "laws"),
    [
        ("heater", ("resistance",)),
        # A filament between a resistance and a constant current, a motor likewise.
        ("lamp", ("resistance", "constant current")),
        ("motor", ("resistance", "constant current")),
        ("amplifier", ("resistance", "constant current")),
        ("charge pump", ("resistance", "constant current")),
        # A row of diodes that needs next to no volts, and one that needs nearly all.
        ("lit diodes", ("resistance", "lit diodes")),
    ],
)
def test_the_law_of_its_current(kind: str, laws: tuple[str, ...]) -> None:
    assert of(kind).laws == laws


@pytest.mark.parametrize(
    ("kind", "ratio"),
    [
        ("unknown", 2.0),
        ("heater", 2.0),
        ("lit diodes", 2.0),
        ("charge pump", 2.0),
        ("lamp", 15.0),
        ("motor", 8.0),
        ("amplifier", 4.0),
    ],
)
def test_where_no_peak_is_given_the_start_is_thought_of(kind: str, ratio: float) -> None:
    # Of the plate's 0.5 A; it may also start softly.
    assert ends(of(kind).peak_a) == (0.5, ratio * 0.5)
    # Of what was measured, or twice what the plate says.
    assert ends(of(kind, MEASURED).peak_a) == (0.3, max(ratio * 0.3, 1.0))


@pytest.mark.parametrize("kind", ["lamp", "motor", "amplifier"])
def test_a_peak_that_somebody_saw_is_not_argued_with(kind: str) -> None:
    found = of(kind, "draws: {steady: 300 mA (measured), peak: 0.4 A (measured)}")
    assert ends(found.peak_a) == (0.4, 0.4)


@pytest.mark.parametrize(
    ("kind", "why"),
    [
        (
            "lamp",
            "peak current: 0.5..7.5 A, a cold filament takes 8 to 15 times its current for some "
            "ten milliseconds",
        ),
        ("motor", "peak current: 0.5..4 A, a motor that stands takes 3 to 8 times its current"),
        ("amplifier", "peak current: 0.5..2 A, loud passages take up to 4 times the current"),
    ],
)
def test_why_is_told(kind: str, why: str) -> None:
    assert [a for a in of(kind).assumptions if a.startswith("peak current")] == [why]


def test_a_small_brick_does_not_bound_how_a_lamp_starts() -> None:
    # Its brick sags for some milliseconds, and nobody sees it.
    brick = 'brick: {plate: "OUTPUT 12V⎓ 300mA"}'
    assert ends(surveyed(BARREL, "inside: lamp", brick).peak_a) == (0.0, 4.5)
    assert ends(surveyed(BARREL, "inside: unknown", brick).peak_a) == (0.0, 0.3)


@pytest.mark.parametrize(
    ("kind", "farad"),
    [
        ("unknown", (1e-3, 10e-3)),
        ("amplifier", (1e-3, 10e-3)),
        ("heater", (0.0, 100e-6)),
        ("lamp", (0.0, 100e-6)),
        ("lit diodes", (0.0, 100e-6)),
        ("motor", (0.0, 10e-3)),
        ("charge pump", (1e-6, 10e-3)),
    ],
)
def test_input_capacitance(kind: str, farad: tuple[float, float]) -> None:
    assert ends(of(kind).capacitance_f) == farad


@pytest.mark.parametrize(
    "kind",
    ["unknown", "resistive", "heater", "lamp", "motor", "lit diodes", "amplifier", "charge pump"],
)
def test_more_volts_make_it_hotter(kind: str) -> None:
    assert ends(of(kind).heat.cool_up_to_v) == (12.6, 19.2)


@pytest.mark.parametrize("kind", ["switching regulator", "5 V logic"])
def test_a_switching_regulator_gets_no_hotter(kind: str) -> None:
    assert of(kind).heat.cool_up_to_v is None


def test_a_stalled_motor_loses_nothing_unless_somebody_says_so() -> None:
    assert not of("motor").starved_loses
    assert of("motor", "starved: loses data").starved_loses


def test_a_conductance_is_meant_at_the_least_volts_that_it_may_be_meant_at() -> None:
    # 0.5 A at 11 V is 45 mS, at 12 V 42 mS: the plate's current is meant at the plate's volts.
    lived = "brick: {open: 16 V (measured), loaded: 14 V (measured)}"
    assert of("heater", lived).reference_v == 12.0
    # 300 mA on the old brick, read at 14 V.
    read = "brick: {open: 16 V (measured), loaded: 14 V at 300 mA (measured)}"
    assert of("heater", MEASURED, read).reference_v == 14.0
    # 14 V at 1 A is 15.4 V at most, and 14 V at least, at 300 mA.
    other = "brick: {open: 16 V (measured), loaded: 14 V at 1 A (measured)}"
    assert of("heater", MEASURED, other).reference_v == 14.0
    assert of("switching regulator", MEASURED, other).reference_v == pytest.approx(15.4)


def test_a_brick_that_gives_nothing_is_no_reference() -> None:
    found = surveyed(BARREL, "inside: heater", "brick: {loaded: 0 V at 1 A (measured)}")
    assert found.reference_v == 12.0


def judged(appliance: Appliance, rule: str, *, lead_a: float = 3.0, ohm: float = 0.2) -> Verdict:
    """On a 12 V contract, 11.4 to 12.6 V, of 3 A, through a lead."""
    chain = (small.cable(), small.trigger(12.0), small.lead(ohm, carries_a=lead_a))
    path = Path(front=small.front(None, *chain), appliance=appliance)
    (found,) = (f for f in findings(judge([path]), 0) if f.rule == rule)
    return found.verdict


def known(kind: str) -> Appliance:
    """Runs from 11 V, stands 12.6 V; 300 mA were read at 12.0 V on the old brick."""
    return of(
        f"{{is: {kind}, runs_from: 11 V (measured), harmed_above: 12.6 V (datasheet)}}",
        "draws: {steady: 300 mA (measured), peak: 0.3..0.35 A}",
        "brick: {open: 12.6 V (measured), loaded: 12 V at 300 mA (measured)}",
    )


@pytest.mark.parametrize(
    ("kind", "lead_a", "verdict"),
    [
        # 300 mA at 12 V are 315 mA of a resistance at 12.6 V.
        ("heater", 0.316, FITS),
        ("heater", 0.314, FAILS),
        ("lamp", 0.316, FITS),
        # As a constant current it is 300 mA, as a resistance 315: nobody knows.
        ("lamp", 0.31, UNPROVEN),
        ("lamp", 0.299, FAILS),
        ("motor", 0.31, UNPROVEN),
        ("amplifier", 0.31, UNPROVEN),
        ("charge pump", 0.31, UNPROVEN),
        # A row that begins to conduct at 10.8 V: 300 mA · (12.6 − 10.8)/(12 − 10.8) = 450 mA.
        ("lit diodes", 0.451, FITS),
        ("lit diodes", 0.449, UNPROVEN),
        ("lit diodes", 0.316, UNPROVEN),
    ],
)
def test_steady_current_against_a_lead(kind: str, lead_a: float, verdict: Verdict) -> None:
    found = judged(known(kind), "load-side-current", lead_a=lead_a, ohm=0.0)
    assert found is verdict


@pytest.mark.parametrize(
    ("kind", "draws", "verdict"),
    [
        # 15 × 190 mA are 2.85 A, within the 3 A of the port; 15 × 300 mA are not, or it starts
        # softly.
        ("lamp", "{steady: 190 mA (measured)}", FITS),
        ("lamp", "{steady: 300 mA (measured)}", UNPROVEN),
        ("lamp", "{steady: 300 mA (measured), peak: 4 A (measured)}", FAILS),
        # 8 × 370 mA are 2.96 A.
        ("motor", "{steady: 370 mA (measured)}", FITS),
        ("motor", "{steady: 400 mA (measured)}", UNPROVEN),
        ("motor", "{steady: 400 mA (measured), peak: 3.2 A (measured)}", FAILS),
    ],
)
def test_how_it_starts_against_the_port(kind: str, draws: str, verdict: Verdict) -> None:
    # Without a current on the plate, and meant at the 12.6 V that the port gives at most.
    found = surveyed('plate: "DC IN 12.6V⎓"', BARREL, f"inside: {kind}", f"draws: {draws}")
    assert judged(found, "port-current", ohm=0.0) is verdict


def test_a_heater_of_which_only_the_plate_is_known_is_told_as_such() -> None:
    found = of("heater")
    assert told(found) == ""
    assert found.assumptions[:2] == (
        "harmed above: 12.6..19.2 V, the inside is not known",
        "runs from: 9.6..15.6 V, the inside is not known",
    )
