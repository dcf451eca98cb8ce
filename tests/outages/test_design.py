"""A reservoir for an interruption: preferred values, a first guess by hand, and proof in time.

Hand calculations use t = C·ΔV/I and t = C·(V₁² − V₂²)/2P (textbook), preferred values those of
IEC 60063 (secondary text). Tolerances and prices are the program's own assumptions.
"""

from dataclasses import replace
from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.outages.cases import Case
from sinkside.outages.charged_capacitance import ChargedCapacitance
from sinkside.outages.design import Design, NoDesign, ReservoirLimits, size
from sinkside.outages.first_guess import first_guess
from sinkside.outages.follows import Ending, follow
from sinkside.outages.happenings import Event, Kind, happening
from sinkside.outages.reservoirs import ramps, reservoirs
from sinkside.parts.elements import Bleeder, Capacitance, Diode, RampSwitch
from sinkside.parts.part import End
from sinkside.quantity import Basis, point, unknown, varies
from sinkside.standards.preferred_values import SERIES

TWO = {"C1": "5:3 9:3 20:3", "C2": "5:3 9:3"}
BOTH = frozenset({"C1", "C2"})
OPEN = unknown(0.0, 5.0, "s", Basis.ASSUMED, "thing/ride-through")
OWN_PORT = "give it a port of its own, on a charger that nothing else comes and goes on"


def case(*parts: Any, gap: tuple[float, float] = (1.0, 1.5), **device: Any) -> Case:
    off = varies(*gap, "s", Basis.MEASURED, "shared/off time")
    source = small.charger(TWO, on_change="drops all", off_time_s=off)
    front = small.front(source, *(parts or (small.cable(0.2), small.trigger(), small.lead(0.3))))
    event = Event(kind=Kind.ATTACH, charger="shared", port="C2")
    about = {"blink": "brief", "ride_through_s": OPEN, "capacitance_f": 1e-6, **device}
    return Case(
        front=front, appliance=small.device(**about), happening=happening(event, front, BOTH)
    )


LIGHT = {"steady_a": 0.02, "peak_a": 0.03}


def mantissa(value: float) -> float:
    return float(f"{value:.6e}".split("e")[0])


def test_reservoirs_are_preferred_values_within_the_limit() -> None:
    found = list(reservoirs(9.5, 5e-3, 1.0))
    assert found
    for r in found:
        series = "E6" if r.kind == "electrolytic" else "E3"
        assert mantissa(r.each_f) in SERIES[series]
        assert r.nominal_f <= 1.0
        assert r.nominal_f == pytest.approx(r.each_f / r.in_row)
        assert r.rated_v >= 9.5
        # What is left of it when it is old will do.
        assert r.farad.low >= 5e-3 * (1 - 1e-9)
        assert r.farad.low < r.nominal_f < r.farad.high
        assert r.esr_ohm.low < r.esr_ohm.high


def test_an_electrolytic_is_bought_for_the_day_it_is_old() -> None:
    """5 mF, less 20 % tolerance and 20 % age, ask for 7.8 mF: 10 mF; 16 V for 9.5 V."""
    first = next(r for r in reservoirs(9.5, 5e-3, 1.0) if r.kind == "electrolytic")
    assert (first.nominal_f, first.rated_v, first.in_row) == (10e-3, 16.0, 1)
    assert first.farad.low == pytest.approx(6.4e-3)


def test_cells_stand_in_a_row() -> None:
    """2.5 V a cell: four for 9.5 V; each four times the bank."""
    first = next(r for r in reservoirs(9.5, 0.1, 10.0) if r.kind == "double-layer cells")
    assert (first.in_row, first.rated_v) == (4, 10.0)
    assert first.each_f == 1.0
    assert first.nominal_f == 0.25


def test_ramps_are_preferred_values() -> None:
    assert ramps(0.05, 3) == (0.068, 0.1, 0.15)


def test_the_first_guess_by_hand() -> None:
    """9 V less 5 %, less a diode of 0.55 V, less 20 mA in 0.2 + 0.1 + 0.06 Ω; down to 6 V and
    20 mA in 0.3 Ω; 1.5 s: C = 0.02·1.5/(7.9928 − 6.006) = 15.1 mF, if charging took no time.

    Charging does: the port spares 0.8·3.3 A − 20 mA; a new reservoir has 1.9 times the farads of
    an old one, and the ramp is within 40 %: 1.4/0.6·1.9·6.006/2.62 = 10.16 s a farad climbed,
    against 99.3 s a farad held. So C = 1.5/(99.34 − 10.16) = 16.8 mF.
    """
    found = first_guess(case(**LIGHT), 2, "in the feed")
    assert found.from_v == pytest.approx(9 * 0.95 - 0.55 - 0.02 * 0.36)
    assert found.to_v == pytest.approx(6.0 + 0.02 * 0.3)
    assert found.spare_a == pytest.approx(0.8 * 3.3 - 0.02)
    assert found.seconds == pytest.approx(1.5)
    held = (found.from_v - found.to_v) / 0.02
    assert held == pytest.approx(99.34, abs=0.01)
    assert found.needs_f == pytest.approx(1.5 / (held - 10.16), rel=1e-3)


def test_beside_the_feed_it_takes_one_diode_more_and_no_time_to_climb() -> None:
    found = first_guess(case(**LIGHT), 2, "beside the feed")
    # A bleeder of twenty times the charging resistor keeps a twenty-first of its volts.
    assert found.from_v == pytest.approx((9 * 0.95 - 0.55 - 0.02 * 0.3) * 20 / 21)
    assert found.to_v == pytest.approx(6.0 + 0.02 * 0.3 + 0.55 + 0.02 * 0.1 + 0.2)
    assert found.needs_f == pytest.approx(0.02 * 1.5 / (found.from_v - found.to_v))


def test_a_constant_power_by_hand() -> None:
    """C = 2P·t/(V₁² − V₂²), with 0.02 A at 9 V."""
    found = first_guess(case(laws=("constant power",), **LIGHT), 2, "beside the feed")
    assert found.needs_f == pytest.approx(2 * 0.18 * 1.5 / (found.from_v**2 - found.to_v**2))


def test_a_small_load_is_bridged() -> None:
    given = case(**LIGHT)
    found = size(given, ReservoirLimits())
    assert isinstance(found, Design)
    assert found.least_v >= found.runs_from_v == 6.0
    assert found.peak_a <= found.trip_a
    assert found.standby_w <= ReservoirLimits().standby_w
    assert found.reservoir.nominal_f <= ReservoirLimits().farad
    assert found.stored_j == pytest.approx(0.5 * found.reservoir.farad.high * (9 * 1.05) ** 2)
    # What was sized is proven by what follows, with every plausible case.
    (follows,) = follow([replace(given, front=found.front)])
    assert follows is not None
    assert follows.worst_ending is Ending.RIDES
    assert follows.rides == 10


def test_half_of_what_the_guess_asks_for_does_not_do() -> None:
    given = case(**LIGHT)
    found = size(given, ReservoirLimits())
    assert isinstance(found, Design)
    half = point(0.5 * found.guess.needs_f, "F", Basis.MEASURED, "reservoir/farads")
    shrunk = tuple(
        replace(
            part,
            elements=tuple(
                replace(e, farad=half) if isinstance(e, Capacitance) else e for e in part.elements
            ),
        )
        for part in found.front.parts
    )
    (follows,) = follow([replace(given, front=replace(found.front, parts=shrunk))], plausible=0)
    assert follows is not None
    assert follows.worst_ending is Ending.BLINKS


def test_a_reservoir_is_charged_isolated_fused_and_emptied() -> None:
    for arrangement in ("in the feed", "beside the feed"):
        found = _arranged(arrangement)
        elements = [e for p in found.front.parts for e in p.elements]
        assert any(isinstance(e, Diode) for e in elements)
        assert found.fuse_a > 0.03
        assert found.empty_s > 0.0
        if arrangement == "in the feed":
            # A ramp at attach alone would do nothing for the step to the contract.
            assert [e.every_step for e in elements if isinstance(e, RampSwitch)] == [True]
            assert any(isinstance(e, Bleeder) for e in elements)
            assert found.charge_ohm is None
        else:
            (beside,) = [e for e in elements if isinstance(e, ChargedCapacitance)]
            assert beside.bleed_ohm.low >= 19.0 * beside.charge_ohm.low
            assert found.ramp_s is None


def _arranged(arrangement: str) -> Design:
    """The cheapest of an arrangement: of a load that the other cannot bridge, or at its price."""
    from sinkside.outages import design

    kept = design._ARRANGEMENTS
    try:
        design._ARRANGEMENTS = (arrangement,)  # type: ignore[assignment]
        found = size(case(**LIGHT), ReservoirLimits())
    finally:
        design._ARRANGEMENTS = kept
    assert isinstance(found, Design)
    assert found.arrangement == arrangement
    return found


def test_before_a_converter_more_of_the_volts_can_be_used() -> None:
    """20 V down to what the converter needs, not 9 V down to what the device runs from."""
    step = small.converter(9.0, headroom=0.5, efficiency=0.9)
    parts = (small.cable(0.1), small.trigger(20.0), step, small.lead(0.1))
    given = case(*parts, steady_a=0.2, peak_a=0.2, runs_from_v=8.0)
    found = size(given, ReservoirLimits())
    assert isinstance(found, Design)
    assert found.place == "before the converter"
    assert found.front.parts[2].kind in ("diode", "soft start")


def test_what_fits_nowhere_gets_a_port_of_its_own() -> None:
    found = size(case(steady_a=1.0, peak_a=1.2), ReservoirLimits())
    assert isinstance(found, NoDesign)
    assert found.instead == OWN_PORT
    assert found.why.startswith("before the lead, in the feed: ")


def test_limits_are_kept() -> None:
    dear = size(case(**LIGHT), ReservoirLimits(cents=300))
    assert isinstance(dear, NoDesign)
    assert "3.00 of money" in dear.why
    large = size(case(**LIGHT), ReservoirLimits(farad=1e-3))
    assert isinstance(large, NoDesign)
    assert "1 mF new" in large.why


def test_what_the_device_rides_through_by_itself_need_not_be_bridged() -> None:
    timed = unknown(0.5, 0.6, "s", Basis.MEASURED, "thing/ride-through")
    found = first_guess(case(ride_through_s=timed, **LIGHT), 2, "beside the feed")
    assert found.seconds == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("given", "why", "instead"),
    [
        (
            case(
                small.cable(), small.trigger(gives=End(kind="barrel", plug=small.BARREL)), **LIGHT
            ),
            "its lead is moulded to the trigger: there is no place for a reservoir",
            OWN_PORT,
        ),
        (
            replace(
                case(**LIGHT),
                happening=replace(case(**LIGHT).happening, schedule=None),
            ),
            "nothing happens to its port",
            "nothing has to be bridged",
        ),
        (
            replace(case(**LIGHT), happening=replace(case(**LIGHT).happening, after=())),
            "its port gives nothing afterwards",
            OWN_PORT,
        ),
    ],
)
def test_where_there_is_nothing_to_size(given: Case, why: str, instead: str) -> None:
    assert size(given, ReservoirLimits()) == NoDesign(why=why, instead=instead)


def test_in_words() -> None:
    found = size(case(**LIGHT), ReservoirLimits())
    assert isinstance(found, Design)
    assert found.sentence().startswith("before the lead: ")
    assert "bleeder" in found.sentence()
