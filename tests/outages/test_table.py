"""The table of an event for a plan, waveforms, a live lead, and the seats of the demo."""

from functools import cache

import numpy as np
import pytest
from tests.paths import small_parts as small

from sinkside import demo
from sinkside.outages.happenings import Event, Kind, happening
from sinkside.outages.hot_plug import hot_plug
from sinkside.outages.table import Seated, curves, table
from sinkside.paths.states import supply
from sinkside.plan.conductor import plan
from sinkside.rules.verdict import Verdict
from sinkside.site.read import read

TWO = {"C1": "5:3 9:3", "C2": "5:3 9:3"}
SHARED = small.charger(TWO, on_change="drops all", count=2)
ONE = small.charger(name="single")


def seat(port: str, name: str, unit: int = 1, **changes: object) -> Seated:
    about = {"blink": "never", **changes}
    return Seated(
        front=small.front(SHARED, port=port), appliance=small.device(name, **about), unit=unit
    )


SEATS = (
    seat("C1", "switch"),
    seat("C2", "lamp"),
    seat("C1", "echo", unit=2),
    Seated(front=small.front(ONE), appliance=small.device("deck"), unit=1),
)


def test_who_is_told() -> None:
    event = Event(kind=Kind.REPLUG, charger="shared", port="C2", unit=1)
    lines = table(event, SEATS, plausible=0)
    assert [line.seated.appliance.id for line in lines] == ["switch", "lamp"]
    switch, lamp = lines
    assert switch.finding is not None
    assert switch.finding.verdict is Verdict.FAILS
    assert switch.finding.state == "something is pulled from shared C2 and plugged in again"
    assert lamp.finding is None  # it is what was pulled out
    assert lamp.follows is not None


def test_of_the_other_charger_of_a_kind_nothing_is_told() -> None:
    event = Event(kind=Kind.REPLUG, charger="shared", port="C1", unit=2)
    assert [line.seated.appliance.id for line in table(event, SEATS, plausible=0)] == ["echo"]


def test_a_port_is_empty_until_something_is_attached() -> None:
    event = Event(kind=Kind.ATTACH, charger="shared", port="C2", unit=1)
    switch, lamp = table(event, SEATS, plausible=0)
    assert switch.happening.before is not None
    assert lamp.happening.before is None


def test_waveforms_begin_before_the_event_and_show_its_end() -> None:
    event = Event(kind=Kind.REPLUG, charger="shared", port="C2")
    drawn = curves(SEATS[0], happening(event, SEATS[0].front, frozenset({"C1", "C2"})))
    assert [c.label for c in drawn] == ["nominal", "longest outage", "highest inrush"]
    for curve in drawn:
        assert curve.t_s[0] < 0.0
        assert (np.diff(curve.t_s) > 0.0).all()
        assert curve.pins_v[0] == pytest.approx(curve.pins_v[-1], rel=1e-3)
        assert curve.pins_v.min() < 1.0
        assert not np.isnan(curve.port_a).any()


def test_where_nothing_happens_there_is_no_waveform() -> None:
    event = Event(kind=Kind.HARD_RESET, charger="shared", port="C2")
    assert curves(SEATS[0], happening(event, SEATS[0].front, frozenset({"C1", "C2"}))) == ()


def test_a_live_lead_on_a_small_capacitor_rings_and_on_a_large_one_does_not() -> None:
    """9.45 V at the most rise to nearly twice that on 10 µF; on 1 mF there is no overshoot.

    ζ = ½R·√(C/L), with at least 0.5 Ω here and 1 µH at most: 0.8 and 7.9; with 0.05 Ω 0.08.
    """
    front = small.front(SHARED, small.cable(0.02), small.trigger(), small.lead(0.03))
    (state,) = [s for s in supply(front).states if s.kind == "match"][:1]
    small_one = hot_plug(
        front, small.device(capacitance_f=10e-6, harmed_above_v=16.0), "constant current", state
    )
    assert 1.4 * 9.45 < small_one.peak_v.worst < 2.0 * 9.45
    assert small_one.margin_v == pytest.approx(16.0 - small_one.peak_v.worst)
    large = hot_plug(front, small.device(capacitance_f=1e-3), "constant current", state)
    assert large.peak_v.worst <= 9.45 * 1.001


def test_behind_a_converter_a_live_lead_rings_on_its_output() -> None:
    front = small.front(
        small.charger(TWO, on_change="drops all"),
        small.cable(0.02),
        small.trigger(),
        small.converter(5.0),
        small.lead(0.03),
    )
    state = next(s for s in supply(front).states if s.kind == "match")
    found = hot_plug(front, small.device(capacitance_f=10e-6), "constant current", state)
    assert 5.0 < found.peak_v.worst < 10.0


@cache
def demo_seats() -> tuple[Seated, ...]:
    made = plan(read(demo.text(), "site.yaml"))
    return tuple(
        Seated(front=d.chosen.front, appliance=d.appliance, unit=d.chosen.seat.unit)
        for d in made.devices
        if d.chosen
    )


def test_every_event_on_every_charger_of_the_demo() -> None:
    seats = demo_seats()
    told = set()
    for seat_ in seats:
        charger, port = seat_.front.charger.id, seat_.front.port
        for kind in (Kind.REPLUG, Kind.HARD_RESET, Kind.OVER_CURRENT, Kind.MAINS_CUT):
            event = Event(kind=kind, charger=charger, port=port, unit=seat_.unit)
            for line in table(event, seats, plausible=4):
                told.add(line.seated.appliance.id)
                assert line.follows is None or line.follows.peak_a.worst < 60.0
    assert told == {s.appliance.id for s in seats}
