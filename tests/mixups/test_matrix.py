"""Every plug in every inlet: what goes on, and what it does there.

A 2.1 mm plug does not go on a 2.5 mm pin; a 2.5 mm plug goes on a 2.1 mm pin, loosely (common
practice, secondary text). What then happens is judged by the same rules as a plan.
"""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.mixups import Cell, Outcome, matrix
from sinkside.site.appliance import Refusal

WIDE = "5.5x2.5"


def front(
    asks_v: float = 9.0, centre: str = "positive", plug: str = small.BARREL, **about: Any
) -> Any:
    parts = (small.cable(), small.trigger(asks_v), small.lead(centre=centre, plug=plug))
    return small.front(about.pop("source", None), *parts)


def cell(lead: Any, inlet: Any) -> Cell:
    (found,) = matrix([("maker", lead)], [inlet])
    return found


@pytest.mark.parametrize(
    ("lead", "inlet", "outcome"),
    [
        (front(), small.device(), Outcome.FINE),
        (front(centre="negative"), small.device(), Outcome.REVERSED),
        (front(20.0), small.device(harmed_above_v=16.0), Outcome.OVER_VOLTS),
        (front(20.0), small.device(harmed_above_v=(16.0, 30.0)), Outcome.UNKNOWN),
        (front(), small.device(runs_from_v=12.0), Outcome.WONT_RUN),
        (front(), small.device(kind="ac"), Outcome.AC_INLET),
        (front(), small.device(kind="unknown"), Outcome.UNKNOWN),
        (front(), small.device(evidence=small.TWO_EVIDENCES[:1]), Outcome.UNKNOWN),
        (front(), small.device(evidence=()), Outcome.UNKNOWN),
        (front(), small.device(steady_a=3.5), Outcome.OVERLOAD),
        (front(), small.device(heat=small.regulator_heat(1.0, 5.0)), Outcome.OVERHEATS),
        (front(plug=WIDE), small.device(plug=small.BARREL), Outcome.FINE),
        (front(), small.device(plug=WIDE), Outcome.NO_FIT),
        (front(plug="3.5x1.35"), small.device(), Outcome.NO_FIT),
        (front(), small.device(plug="other"), Outcome.NO_FIT),
    ],
)
def test_a_plug_in_an_inlet(lead: Any, inlet: Any, outcome: Outcome) -> None:
    assert cell(lead, inlet).outcome is outcome


def test_a_wide_plug_on_a_thin_pin_is_loose() -> None:
    assert cell(front(plug=WIDE), small.device()).loose
    assert not cell(front(), small.device()).loose


@pytest.mark.parametrize("inlet", [{"harmed_above_v": 16.0}, {"heat": small.cool(14.0)}])
def test_harm_in_a_state_off_the_match_is_harm(inlet: dict[str, Any]) -> None:
    """Its charger has no 12 V in company, and its trigger then takes 20 V."""
    source = small.charger(
        {"C1": "5:3 12:3 20:3", "C2": "5:3"}, {"C1+C2": {"C1": "5:3 20:3", "C2": "5:3"}}
    )
    parts = (small.cable(), small.trigger(12.0, ("highest",)), small.lead())
    inlet = {"harmed_above_v": 35.0, **inlet}
    assert cell(small.front(source, *parts), small.device(**inlet)).outcome.harmful


@pytest.mark.parametrize(
    "why",
    [
        "its jack leaves dry cells connected: they would be charged",
        "its brick is the charger of its cells: the brick sets current and end of charge",
        "its inlet has 3 conductors: an identity pin, data or a second rail",
    ],
)
def test_a_plug_in_a_refused_device_is_never_called_fine(why: str) -> None:
    """It is refused whatever the volts are: a plug that goes in and suits its volts harms."""
    refused = small.device(refusals=(Refusal(why=why, ask="whoever knows it"),))
    assert cell(front(), refused).outcome.harmful


def test_every_lead_meets_every_inlet_once() -> None:
    inlets = [small.device(n) for n in ("a", "b", "c")]
    cells = matrix([("a", front()), ("b", front(15.0))], inlets)
    assert [(c.lead, c.inlet) for c in cells] == [
        (x, y) for x in ("a", "b") for y in ("a", "b", "c")
    ]
    assert [c.own for c in cells] == [True, False, False, False, True, False]


def test_no_leads_have_no_cells() -> None:
    assert matrix([], [small.device()]) == ()


def test_leads_of_which_none_goes_in_anywhere() -> None:
    (found,) = matrix([("x", front(plug="3.5x1.35"))], [small.device()])
    assert found.outcome is Outcome.NO_FIT
