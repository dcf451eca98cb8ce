"""Plugs, their bands of volts, and touch current against published figures and common practice.

The status of each figure stands beside it. Shorts and loops are held against a general graph
library in `tests/grounds`, the separation against every answer in `tests/mixups`.
"""

import math
from itertools import pairwise

import pytest
from tests.grounds.graphs import feed, link
from tests.paths import small_parts as small

from sinkside.grounds.conductors import edges
from sinkside.grounds.touch import METER_OHM, Y_CAPACITOR_F, mains_of, touches, y_capacitor_a
from sinkside.mixups.mating import fit
from sinkside.rules.verdict import Verdict
from sinkside.standards.barrel import JEITA_SIZES, Fit, jeita_size
from sinkside.standards.safety_classes import TOUCH_CURRENT_A

# JEITA RC-5320A as given in published tables (secondary texts): number, band in V, plug in mm.
JEITA = [
    (1, 0.0, 3.15, 2.35, 0.7),
    (2, 3.15, 6.3, 4.0, 1.7),
    (3, 6.3, 10.5, 4.75, 1.7),
    (4, 10.5, 13.5, 5.5, 3.3),
    (5, 13.5, 18.0, 6.5, 4.4),
]


@pytest.mark.parametrize(("number", "low_v", "high_v", "outer_mm", "inner_mm"), JEITA)
def test_the_bands_of_jeita(
    number: int, low_v: float, high_v: float, outer_mm: float, inner_mm: float
) -> None:
    size = jeita_size((low_v + high_v) / 2)
    assert size is not None
    assert (size.number, size.plug.outer_mm, size.plug.inner_mm) == (number, outer_mm, inner_mm)
    assert jeita_size(high_v) == size
    assert jeita_size(low_v) != size


def test_no_two_plugs_of_jeita_carry_each_others_volts() -> None:
    """What the standard is for: a plug of one band goes on no jack of a lower one, but for two
    of like pin, of which the smaller barrel is loose in the larger hole."""
    names = [f"{row.plug.outer_mm:g}x{row.plug.inner_mm:g}" for row in JEITA_SIZES]
    for i, plug in enumerate(names):
        for k, jack in enumerate(names):
            wanted = Fit.GOES_ON if i == k else Fit.DOES_NOT_GO_ON
            if (i, k) == (1, 2):
                wanted = Fit.LOOSE
            assert fit(plug, jack) is wanted, (plug, jack)


@pytest.mark.parametrize(
    ("plug", "jack", "goes"),
    [
        ("5.5x2.5", "5.5x2.1", True),  # loose and warm
        ("5.5x2.1", "5.5x2.5", False),  # it does not go over the pin
        ("5.5x2.1", "5.5x2.1", True),
        ("5.5x2.5", "5.5x2.5", True),
    ],
)
def test_the_two_common_plugs(plug: str, jack: str, goes: bool) -> None:
    """Common practice, read in secondary texts: 0.4 mm that the eye does not see."""
    found = fit(plug, jack)
    assert (found is not Fit.DOES_NOT_GO_ON) == goes
    assert (found is Fit.LOOSE) == (plug != jack and goes)


def test_the_capacitor_of_a_class_two_supply() -> None:
    """2.2 nF at 230 V and 50 Hz let about 0.16 mA through (secondary text); by hand
    2·π·50 Hz·2.2 nF·230 V = 0.15896 mA."""
    assert Y_CAPACITOR_F == 2.2e-9
    found = y_capacitor_a(2.2e-9, 230.0, 50.0)
    assert found == pytest.approx(0.15896e-3, rel=1e-4)
    assert round(1e3 * found, 2) == 0.16
    assert found == pytest.approx(2 * math.pi * 50.0 * 2.2e-9 * 230.0)


@pytest.mark.parametrize(
    ("mains", "milliamperes"),
    [
        ("230 V 50 Hz", 0.159),
        ("120 V 60 Hz", 0.0995),
        ("100 V 50 Hz", 0.0691),
        ("100 V 60 Hz", 0.0829),
    ],
)
def test_the_mains_of_a_site(mains: str, milliamperes: float) -> None:
    """Arithmetic: I = 2πfCV."""
    assert 1e3 * y_capacitor_a(2.2e-9, *mains_of(mains)) == pytest.approx(milliamperes, rel=1e-2)


def test_the_limit_and_what_a_meter_reads_at_it() -> None:
    """0.25 mA of class II is common practice here; across 22 kΩ it reads I·22 kΩ (from memory)."""
    assert TOUCH_CURRENT_A == 0.25e-3
    assert pytest.approx(5.5) == TOUCH_CURRENT_A * METER_OHM


def joined(chargers: int, **about: object) -> tuple[tuple[object, ...], dict[str, object]]:
    """So many devices in a row of signal leads, each on a charger of its own."""
    names = [f"d{i}" for i in range(chargers)]
    sources = {n: small.charger("5:3", name=f"c-{n}", **about) for n in names}
    conduct = edges(
        [small.device(n) for n in names],
        {n: feed(n, sources[n]) for n in names},
        [link(a, b) for a, b in pairwise(names)],
    )
    return conduct, {n: feed(n, sources[n]) for n in names}


@pytest.mark.parametrize(
    ("chargers", "verdict"),
    [
        (1, Verdict.FITS),  # 0.16 mA
        (2, Verdict.UNPROVEN),  # 0.32 mA in phase, really 0.3 to 0.7 of it
        (5, Verdict.UNPROVEN),  # 0.3 × 0.79 mA is 0.24 mA
        (6, Verdict.FAILS),  # 0.3 × 0.95 mA is 0.29 mA
    ],
)
def test_joined_class_two_supplies_add_up(chargers: int, verdict: Verdict) -> None:
    conduct, feeds = joined(chargers)
    classes = {f"c-d{i}": "II" for i in range(chargers)}
    (found,) = touches(conduct, feeds, classes, "230 V 50 Hz")  # type: ignore[arg-type]
    assert found.verdict is verdict
    assert found.most_a == pytest.approx(chargers * 0.15896e-3, rel=1e-4)
    assert found.working is not None
    assert found.working.again() == pytest.approx(found.most_a)


def test_supplies_of_which_the_class_is_not_known_may_add_nothing() -> None:
    conduct, feeds = joined(9)
    (found,) = touches(conduct, feeds, {}, "230 V 50 Hz")  # type: ignore[arg-type]
    assert (found.verdict, found.least_a) == (Verdict.UNPROVEN, 0.0)


def test_an_earthed_output_takes_it_to_earth() -> None:
    conduct, feeds = joined(4, output_earth="earthed")
    (found,) = touches(conduct, feeds, {}, "230 V 50 Hz")  # type: ignore[arg-type]
    assert (found.earthed, found.most_a, found.verdict) == (True, 0.0, Verdict.FITS)
    assert found.words.endswith("tied to mains earth, which takes what 4 supplies let through")
    (unsure,) = touches(*joined(4, output_earth="unknown"), {}, "230 V 50 Hz")  # type: ignore[arg-type]
    assert (unsure.earthed, unsure.verdict) == (False, Verdict.UNPROVEN)


def test_what_is_not_joined_does_not_add_up() -> None:
    names = ["a", "b"]
    feeds = {n: feed(n, small.charger("5:3", name=f"c-{n}")) for n in names}
    conduct = edges([small.device(n) for n in names], feeds, [])
    found = touches(conduct, feeds, {}, "230 V 50 Hz")
    assert [touch.devices for touch in found] == [("a",), ("b",)]
    assert {touch.verdict for touch in found} == {Verdict.FITS}


def test_what_to_measure_is_said() -> None:
    conduct, feeds = joined(2)
    (found,) = touches(conduct, feeds, {}, "230 V 50 Hz")  # type: ignore[arg-type]
    assert found.words == (
        "d0, d1: 2 supplies let up to 0.32 mA through, against 0.25 mA; measure a.c. volts across "
        "22 kΩ from a bare part of it to mains earth: 5.5 V are 0.25 mA"
    )
