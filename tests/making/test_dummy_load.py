"""Dummy loads against hand arithmetic, IEC 60063, and what parts and ports are rated for."""

from dataclasses import replace

import pytest
from tests.making import sites

from sinkside.making.dummy_load import RATED_W, dummy_loads
from sinkside.plan import Plan

# IEC 60063, E12 and E24, as printed in resistor handbooks (from memory).
E12 = (10, 12, 15, 18, 22, 27, 33, 39, 47, 56, 68, 82)
E24 = (*E12, 11, 13, 16, 20, 24, 30, 36, 43, 51, 62, 75, 91)


def significant(ohm: float) -> int:
    """The first two digits of a value."""
    while ohm >= 100:
        ohm /= 10
    while ohm < 10:
        ohm *= 10
    return round(ohm)


def test_every_value_is_preferred_and_every_rating_is_sold(demo_plan: Plan) -> None:
    for device in demo_plan.devices:
        for load in dummy_loads(demo_plan, device):
            series = {"E12": E12, "E24": E24}[load.series]
            assert significant(load.ohm) in series
            assert load.ohm == pytest.approx(significant(load.ohm) * 10 ** _decade(load.ohm))
            assert load.rated_w in RATED_W
            assert load.burns_w <= 0.5 * load.rated_w


def _decade(ohm: float) -> int:
    decade = -3
    while ohm / 10**decade >= 100:
        decade += 1
    return decade


def test_the_load_of_a_recorder_is_worked_by_hand(demo_plan: Plan) -> None:
    """9.9 V programmable through 0.625 Ω in the middle of everything, at 340 mA (measured).

    Lead 0.15625, trigger 0.05, fuse 0.15625, soft start 0.035 and lead 0.1333 Ω are 0.5308 Ω: at
    the plug 9.9 − 0.34 · 0.5308 = 9.7195 V. R = 9.7195/0.34 = 28.587 Ω; next below in E12 is 27 Ω.
    Most volts 1.05 · 9.9 = 10.395 V into 25.65 Ω burn 4.2127 W: 10 W at half their rating.
    """
    (load,) = dummy_loads(demo_plan, demo_plan.device("field-recorder"))
    assert load.volts_v == pytest.approx(9.7195, abs=5e-5)
    assert load.amps_a == pytest.approx(0.34)
    assert (load.ohm, load.series, load.pieces) == (27.0, "E12", 1)
    assert load.burns_w == pytest.approx(4.2127, abs=5e-5)
    assert load.rated_w == 10.0
    assert load.words == "27 Ω ±5 %, 10 W or more"
    wanted, burnt = load.working
    assert wanted.again() == pytest.approx(28.587, abs=5e-4)
    assert burnt.again() == pytest.approx(load.total_w)


def test_no_dummy_load_asks_more_than_fuse_or_port_stand(demo_plan: Plan) -> None:
    """20 V at 1.15 A want 17 Ω; 15 Ω would ask 1.4 A of a 1.25 A fuse, so it is 18 Ω.

    26 W are too many for one resistor at half its rating: two rows of two are four times the watts
    and the ohms of one (Ohm's law).
    """
    (load,) = dummy_loads(demo_plan, demo_plan.device("capture-computer"))
    assert load.ohm == load.total_ohm == 18.0
    assert (load.pieces, load.arrangement) == (4, "2 rows of 2, the rows side by side")
    assert load.total_w == pytest.approx(21.0**2 / (18.0 * 0.95))
    assert 21.0 / (18.0 * 0.95) <= 1.25 < 21.0 / (15.0 * 0.95)


def test_a_fuse_behind_a_converter_bounds_the_load_too() -> None:
    """5 V at 0.28 A want 16.5 Ω. By Ohm's law 15 Ω − 5 % take 5.1/(14.25 + 0.24) = 0.352 A, and the
    next of E24, 16 Ω, 5.1/(15.2 + 0.24) = 0.330 A, of a 315 mA fuse; 18 Ω take 0.294 A.
    """
    text = sites.OTHERS.replace(
        "steady: 0.2 A (measured), peak: 0.25 A", "steady: 0.28 A (measured), peak: 0.3 A", 1
    )
    found = sites.planned(text)
    chosen = found.device("usb-thing").chosen
    assert chosen is not None
    assert "fuse-315ma" in [part.id for part in chosen.front.parts[chosen.front.split :]]
    (load,) = dummy_loads(found, found.device("usb-thing"))
    assert load.ohm == 18.0


def test_a_place_hotter_than_the_rating_asks_for_a_larger_resistor(demo_plan: Plan) -> None:
    """At 85 °C a resistor that is rated to 70 and done at 275 °C has 190/205 of its watts."""
    device = demo_plan.device("session-clock")
    (cool,) = dummy_loads(demo_plan, device)
    hot_site = replace(
        demo_plan.site,
        places=(),
        ambient=replace(demo_plan.site.ambient, low=85.0, high=85.0, nominal=85.0),
    )
    (hot,) = dummy_loads(replace(demo_plan, site=hot_site), device)
    assert hot.burns_w == cool.burns_w
    assert 0.5 * 2.0 * 190 / 205 < hot.burns_w < 0.5 * 2.0
    assert (cool.rated_w, hot.rated_w) == (2.0, 3.0)
    assert hot.ohm == cool.ohm


def test_each_rail_that_is_needed_has_its_own_dummy_load() -> None:
    """3.3 V at 0.8 A: 4.125 Ω, so 3.9 Ω; 5 V at 1.4 A: 3.571 Ω, so 3.3 Ω."""
    found = sites.planned(sites.RAILS)
    loads = dummy_loads(found, found.devices[0])
    assert [(x.at, x.ohm) for x in loads] == [("the rail 3.3 V", 3.9), ("the rail 5 V", 3.3)]
    assert loads[0].burns_w == pytest.approx(3.4**2 / (3.9 * 0.95))


def test_what_has_no_chain_has_no_dummy_load(demo_plan: Plan) -> None:
    assert dummy_loads(demo_plan, demo_plan.device("old-modem")) == ()
    assert dummy_loads(demo_plan, demo_plan.device("slide-viewer")) == ()
