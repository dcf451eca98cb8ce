"""What is refused whatever the calculation says: uses, a.c., conductors, cells, mains, 60 V."""

import pytest
from tests.site.devices import BARREL, NINE_V, surveyed

from sinkside.site.appliance import Appliance
from sinkside.site.read import read
from sinkside.site.survey import survey

SPECIALIST = "whoever services it under its own rules"
QUALIFIED = "a qualified person, under local codes"
MAINS = "its supply is inside and on mains: what is there is not worked on here"


def refused(found: Appliance) -> list[tuple[str, str]]:
    return [(r.why, r.ask) for r in found.refusals]


def test_an_ordinary_device_is_not_refused() -> None:
    assert surveyed(NINE_V, BARREL).refusals == ()


@pytest.mark.parametrize(
    ("use", "why"),
    [
        ("medical", "a medical device is part of a tested whole with its supply"),
        ("alarm", "an alarm or life-safety device must not depend on a shared charger"),
        ("vehicle", "a vehicle's supply has surges that are out of scope here"),
        ("aircraft", "aircraft equipment is changed under its own rules only"),
        ("outdoor", "outdoor use asks for wet-location supplies"),
        ("fixed", "fixed wiring is under local codes"),
        ("machinery", "machinery that restarts by itself after a blink can hurt someone"),
    ],
)
def test_uses(use: str, why: str) -> None:
    text = f"site: {{name: T}}\ndevices:\n  d: {{use: {use}, {NINE_V}, {BARREL}}}\n"
    site = read(text, "s.yaml")
    assert refused(survey(site.devices[0], site.ambient)) == [(why, SPECIALIST)]


@pytest.mark.parametrize(
    "lines",
    [
        ('plate: "9 VAC 1000 mA"', BARREL),
        ('plate: "9 VAC 1000 mA"', BARREL, "brick: {kind: dc}"),
        ('plate: "9 VAC 1000 mA"', BARREL, "brick: {kind: dc (measured), original: no}"),
        ('plate: "9 VAC 1000 mA"', BARREL, 'brick: {plate: "OUTPUT 12V⎓ 1A", original: no}'),
        ('plate: "9 VAC 1000 mA"', BARREL, "inside: {is: linear regulator, part: 7805}"),
        (BARREL, 'brick: {plate: "OUTPUT 9V~ 1A"}'),
        (BARREL, "brick: {kind: ac (measured)}"),
    ],
)
def test_a_c_into_the_inlet(lines: tuple[str, ...]) -> None:
    assert refused(surveyed(*lines)) == [
        (
            "its inlet is fed with a.c.; what follows may need it (split rails, a doubler, a "
            "mains-frequency clock)",
            "someone who can confirm one full bridge without a tap behind the inlet",
        )
    ]


def test_more_than_two_conductors() -> None:
    assert refused(surveyed(NINE_V, "inlet: {plug: 5.5x2.1, conductors: 3}")) == [
        (
            "its inlet has 3 conductors: an identity pin, data or a second rail",
            "someone with its service manual",
        )
    ]


@pytest.mark.parametrize(
    "lines", [("inside: battery charger",), ("inside: {is: battery charger}",)]
)
def test_a_brick_that_charges_cells(lines: tuple[str, ...]) -> None:
    assert refused(surveyed(NINE_V, BARREL, *lines)) == [
        (
            "its brick is the charger of its cells: the brick sets current and end of charge",
            "keep the original charger",
        )
    ]


@pytest.mark.parametrize(
    "plate",
    [
        "Li-ion CHARGER OUTPUT 8.4V⎓ 1A",
        "BATTERY CHARGER OUTPUT 12V⎓ 500mA",
        "Ni-MH CHARGER DC 9V 200mA",
        "LEAD-ACID CHARGER 13.8V⎓ 1A",
    ],
)
def test_a_brick_that_says_that_it_charges_cells(plate: str) -> None:
    # The inside is not known, but the brick says it in print.
    found = surveyed(BARREL, f'brick: {{plate: "{plate}", original: yes}}')
    assert found.refusals or found.conflicts


def test_a_jack_that_leaves_dry_cells_connected() -> None:
    assert refused(surveyed(NINE_V, BARREL, "inside: dry cells")) == [
        (
            "its jack leaves dry cells connected: they would be charged",
            "someone who can confirm that the jack disconnects the cells",
        )
    ]


@pytest.mark.parametrize(
    "lines",
    [
        (NINE_V, BARREL, "inside: internal mains supply"),
        ('plate: "INPUT 230V~ 50Hz 20W"', BARREL),
        ('plate: "100-240V~ 50/60Hz 0.5A"', BARREL),
        ('plate: "120V 60Hz 15W"', BARREL),
        # The volts behind OUTPUT are what it gives to others, never what it takes.
        ('plate: "INPUT 230V~ 50Hz 20W OUTPUT 12V⎓ 1A"', BARREL),
    ],
)
def test_mains_inside(lines: tuple[str, ...]) -> None:
    assert refused(surveyed(*lines)) == [(MAINS, QUALIFIED)]


@pytest.mark.parametrize("plate", ["INPUT 230V~ 50Hz OUTPUT 9V⎓ 1A", "100-240V~ OUT 9V⎓ 1A"])
def test_a_brick_has_mains_on_its_plate_and_is_not_refused(plate: str) -> None:
    found = surveyed(BARREL, f'brick: {{plate: "{plate}"}}')
    assert (found.plate_v, found.refusals) == (9.0, ())


@pytest.mark.parametrize(
    "plate",
    [
        "DC IN 49V⎓ 1A",
        "54V⎓ 1A",
        "DC IN 60V⎓ 1A",
        "72V DC 1A",
        "DC IN 72V⎓ 1A",
        "DC IN 56V 1,000 mA",
    ],
)
def test_near_and_over_60_v_d_c(plate: str) -> None:
    # Safety extra-low voltage ends at 60 V d.c. (IEC 60950-1 wording, read in a secondary text).
    found = surveyed(f'plate: "{plate}"', BARREL)
    assert [r.ask for r in found.refusals] == [QUALIFIED]


@pytest.mark.parametrize("plate", ["DC IN 72V⎓ 1A", "DC IN 100V⎓ 1A"])
def test_high_d_c_is_not_called_mains(plate: str) -> None:
    assert MAINS not in [r.why for r in surveyed(f'plate: "{plate}"', BARREL).refusals]


def test_48_v_is_not_refused() -> None:
    assert surveyed('plate: "DC IN 48V⎓ 1A"', BARREL).refusals == ()


def test_every_reason_is_given() -> None:
    text = (
        'site: {name: T}\ndevices:\n  d: {use: medical, plate: "9 VAC 1 A", '
        "inlet: {plug: 5.5x2.1, conductors: 4}, inside: battery charger}\n"
    )
    site = read(text, "s.yaml")
    assert len(survey(site.devices[0], site.ambient).refusals) == 4
