"""Guards, reservoirs, plugs and rails as they are written, and what each becomes.

Resettable fuses: what one holds falls with the temperature, 85 °C 56 %, 60 °C 71 %, −40 °C 145 %
of the rating at 25 °C (one maker's table, secondary source).
"""

import pytest
from tests.parts.sheets import parts, told

from sinkside.faults import Faulty, NotUnderstood
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Crowbar,
    Diode,
    Inductance,
    RampSwitch,
    Thermistor,
)

HOLD_UP = "is: hold-up, farads: 8..12 mF, rated: 25 V, carries: 3 A"


def test_a_resettable_fuse() -> None:
    (found,) = parts("is: resettable fuse, holds: 500 mA")
    (thermistor,) = [e for e in found.elements if isinstance(e, Thermistor)]
    assert (thermistor.holds_a, found.carries_a) == (0.5, 0.5)
    assert thermistor.trips_at_ratio >= 2.0


@pytest.mark.parametrize("holds", ["0 A", "max 1 A"])
def test_a_resettable_fuse_that_holds_nothing(holds: str) -> None:
    assert len(told(f"is: resettable fuse, holds: {holds}")) == 1


def test_a_diode() -> None:
    (found,) = parts("is: diode, forward: 0.25..0.55 V, carries: 3 A")
    (diode,) = [e for e in found.elements if isinstance(e, Diode)]
    assert (diode.forward_v.low, diode.forward_v.high) == (0.25, 0.55)
    assert diode.forward_v.name == "p/forward volts"


def test_a_diode_of_which_nothing_is_known() -> None:
    (found,) = parts("is: diode, forward: unknown, carries: 1 A")
    (diode,) = [e for e in found.elements if isinstance(e, Diode)]
    # Schottky about 0.35 V at half an ampere, silicon up to 1.1 V (secondary source).
    assert diode.forward_v.low <= 0.35
    assert diode.forward_v.high >= 1.1


def test_a_reservoir_stands_behind_a_diode() -> None:
    (found,) = parts(HOLD_UP)
    kinds = [type(e) for e in found.elements]
    assert kinds.index(Diode) < kinds.index(Capacitance)
    assert found.withstands_v == 25.0


def test_a_reservoir_has_a_rating() -> None:
    assert told(HOLD_UP.replace(", rated: 25 V", "")) == [
        "m:2:3: 'rated' is missing in 'p'; add it"
    ]


def test_a_filter() -> None:
    (found,) = parts("is: filter, henries: 0.8..1.2 mH, farads: 380..560 µF, carries: 1 A")
    (choke,) = [e for e in found.elements if isinstance(e, Inductance)]
    assert (choke.henry.low, choke.henry.high) == (0.8e-3, 1.2e-3)
    assert found.carries_a == 1.0


def test_a_crowbar() -> None:
    (found,) = parts("is: crowbar, trips: 5.8..6.8 V, carries: 20 A")
    assert found.elements == (Crowbar(trips_low_v=5.8, trips_high_v=6.8),)


@pytest.mark.parametrize(
    "entry",
    [
        "is: crowbar, trips: 13.5 V, carries: 20 A",
        "is: converter, direction: step-down, gives: 12 V, accepts: 14..28 V, carries: 2 A",
        'is: rails, accepts: 16..28 V, rails: {"5 V": {gives: 5 V, carries: 4 A}}',
    ],
)
def test_nothing_that_is_made_is_exact(entry: str) -> None:
    # A device that stands 12.0 V is not safe behind "12 V": refuse a bare value, or spread it.
    try:
        (found,) = parts(entry)
    except (Faulty, NotUnderstood):
        return
    for element in found.elements:
        if isinstance(element, Crowbar):
            assert element.trips_low_v < element.trips_high_v
        elif found.converter is not None:
            assert found.converter.gives_v.low < found.converter.gives_v.high
    for rail in found.rails:
        assert rail.low_v < rail.high_v


def test_a_bleeder() -> None:
    (found,) = parts("is: bleeder, across: 0.95..1.05 kΩ")
    (bleeder,) = [e for e in found.elements if isinstance(e, Bleeder)]
    assert (bleeder.ohm.low, bleeder.ohm.high) == (950.0, 1050.0)


@pytest.mark.parametrize("across", ["0 Ω", "max 1 kΩ"])
def test_a_bleeder_is_no_short(across: str) -> None:
    assert len(told(f"is: bleeder, across: {across}")) == 1


@pytest.mark.parametrize(("said", "every"), [("", False), (", every_step: yes", True)])
def test_a_soft_start_ramps_once_unless_it_says_otherwise(said: str, every: bool) -> None:
    (found,) = parts(f"is: soft start, ramp: 40..160 ms, accepts: 4..26 V, carries: 3 A{said}")
    (ramp,) = [e for e in found.elements if isinstance(e, RampSwitch)]
    assert ramp.every_step is every


def test_a_plug_is_soldered_either_way() -> None:
    found = parts("is: plug, plug: 5.5x2.1")
    assert [(p.gives.centre, p.made_either_way, p.joints) for p in found] == [
        ("positive", True, 2),
        ("negative", True, 2),
    ]


def test_rails() -> None:
    (found,) = parts(
        'is: rails, accepts: 16..28 V, rails: {"5 V": {gives: 4.85..5.15 V, carries: 4 A}, '
        '"12 V": {gives: 11.6..12.4 V, carries: 3 A}}'
    )
    assert [(r.name, r.low_v, r.high_v, r.carries_a) for r in found.rails] == [
        ("5 V", 4.85, 5.15, 4.0),
        ("12 V", 11.6, 12.4, 3.0),
    ]
    assert found.withstands_v == 28.0


def test_rails_without_a_rail() -> None:
    assert len(told("is: rails, accepts: 16..28 V, rails: {}")) == 1
