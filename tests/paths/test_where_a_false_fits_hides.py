"""Attacks: paths on which a rule could say `fits` while something breaks. A false fits is the
worst that the program can say.

The figures beside each case are arithmetic; circuit laws are Ohm's and the conservation of
energy. Contract ±5 %, 4.75–5.5 V without one: see `test_rules_one_by_one`.
"""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.parts.charger import Charger
from sinkside.paths.findings import findings
from sinkside.paths.judge import Path, judge
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance

FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS


def verdict(path: Path, rule: str) -> Verdict:
    (found,) = (f for f in findings(judge([path]), 0) if f.rule == rule)
    return found.verdict


def chain(*middle: Any, asks_v: float = 9.0, lead: Any = None, **trigger: Any) -> tuple[Any, ...]:
    return (small.cable(), small.trigger(asks_v, **trigger), *middle, lead or small.lead())


def sometimes_without_12_v(instead: str) -> Charger:
    """A port that offers 12 V alone, and only `instead` while its neighbour is in use."""
    return small.charger(
        {"C1": "5:3 9:3 12:3 20:3", "C2": "5:3"}, {"C1+C2": {"C1": instead, "C2": "5:3"}}
    )


def test_a_step_up_passes_an_input_that_is_above_its_setting() -> None:
    """Set to 12 V and fed 15 V, its diode conducts: 15.75 V at a device that stands 13 V."""
    path = small.path(
        small.device(harmed_above_v=13.0),
        *chain(small.converter(12.0, "step-up"), asks_v=15.0),
    )
    assert verdict(path, "over-volts") is FAILS


def test_a_step_up_passes_the_highest_that_a_trigger_falls_back_to() -> None:
    path = small.path(
        small.device(harmed_above_v=16.0),
        *chain(small.converter(13.0, "step-up"), asks_v=12.0, falls_back=("highest",)),
        source=sometimes_without_12_v("5:3 20:3"),
    )
    assert verdict(path, "over-volts") is FAILS


def test_a_step_up_heats_a_regulator_by_the_input_that_it_passes() -> None:
    """(15.75 − 5) V · 0.5 A = 5.4 W, not (12 − 5) V · 0.5 A = 3.5 W."""
    hot = small.device(heat=small.regulator_heat(4.0, 5.0))
    path = small.path(hot, *chain(small.converter(12.0, "step-up"), asks_v=15.0))
    assert verdict(path, "regulator-heat") is FAILS


# Where it surely still runs, it draws its power; below what it runs from, nobody knows.
AT_5_V = [(4.0, FAILS), (6.0, UNPROVEN)]


@pytest.mark.parametrize(("runs_from_v", "wanted"), AT_5_V)
@pytest.mark.parametrize(
    ("rule", "rating"), [("load-side-current", "lead"), ("port-side-current", "trigger")]
)
def test_less_volts_ask_for_more_current_where_a_trigger_falls_back(
    rule: str, rating: str, runs_from_v: float, wanted: Verdict
) -> None:
    """12 W at 12 V is 1.05 A at most; at 5 V it is 2.5 A, over a rating of 2 A."""
    carries = {rating: {"carries_a": 2.0}}
    parts = (
        small.cable(),
        small.trigger(12.0, ("5 V",), **carries.get("trigger", {})),
        small.lead(**carries.get("lead", {})),
    )
    path = small.path(watts_12(runs_from_v), *parts, source=sometimes_without_12_v("5:3"))
    assert verdict(path, rule) is wanted


@pytest.mark.parametrize(("runs_from_v", "wanted"), AT_5_V)
def test_less_volts_ask_for_more_current_before_the_contract_too(
    runs_from_v: float, wanted: Verdict
) -> None:
    """12 W at 4.75 V is 2.5 A through a lead of 2 A, for as long as no contract comes."""
    for gated, expected in ((True, FITS), (False, wanted)):
        parts = chain(asks_v=12.0, gated=gated, lead=small.lead(carries_a=2.0))
        path = small.path(watts_12(runs_from_v), *parts)
        assert verdict(path, "load-side-current") is expected


def watts_12(runs_from_v: float) -> Appliance:
    """A device that takes 12 W at any volts that it runs from."""
    return small.device(
        laws=("constant power",), steady_a=1.0, reference_v=12.0, runs_from_v=runs_from_v
    )


@pytest.mark.parametrize("rule", ["load-side-current", "port-side-current"])
def test_a_resistance_draws_most_at_the_highest_volts_and_the_least_ohms(rule: str) -> None:
    """0.5 A at 9 V is 18 Ω: 9.45 V drive 0.525 A, over 0.5 A; at 8.55 V it is 0.475 A."""
    lamp = small.device(laws=("resistance",), steady_a=0.5)
    limit = {"carries_a": 0.5}
    parts = (small.cable(), small.trigger(**limit), small.lead(**limit))
    assert verdict(small.path(lamp, *parts), rule) is FAILS


def test_a_resistance_draws_more_than_its_fuse_and_its_port_give_at_the_highest_volts() -> None:
    lamp = small.device(laws=("resistance",), steady_a=0.5, peak_a=0.5)
    fused = small.path(lamp, *chain(small.fuse(0.5)))
    weak = small.path(lamp, source=small.charger("5:3 9:0.5"))
    assert verdict(fused, "fuse-holds") is FAILS
    assert verdict(weak, "port-current") is FAILS


def test_ohms_that_are_not_known_do_not_make_a_resistance_draw_less() -> None:
    """18 Ω behind 0 to 4 Ω: from 0.39 to 0.525 A at 9.45 V."""
    lamp = small.device(laws=("resistance",), steady_a=0.5)
    parts = chain(lead=small.lead((0.0, 4.0), carries_a=0.5))
    assert verdict(small.path(lamp, *parts), "load-side-current") is UNPROVEN


def test_a_resistance_behind_a_converter_draws_by_its_highest_setting() -> None:
    """9 V ±3 % into 18 Ω: 0.515 A, and 0.515 A · 9.27 V ÷ (0.9 · 14.25 V) = 0.372 A."""
    lamp = small.device(laws=("resistance",), steady_a=0.5, peak_a=0.5)
    board = small.converter(small.swings(8.73, 9.27, "V"))
    on_lead = small.path(lamp, *chain(board, asks_v=15.0, lead=small.lead(carries_a=0.5)))
    on_port = small.path(lamp, *chain(board, asks_v=15.0), source=small.charger("5:3 15:0.37"))
    assert verdict(on_lead, "load-side-current") is FAILS
    assert verdict(on_port, "port-current") is FAILS


def test_a_step_down_out_of_its_headroom_gives_no_more_than_it_is_set_to() -> None:
    """Set to 7.5 V and fed 8.55 V: with 0.5 V of headroom it gives 7.5 V, with 2 V no more."""
    board = small.converter(7.5, headroom=(0.5, 2.0))
    path = small.path(small.device(runs_from_v=8.0), *chain(board))
    assert verdict(path, "under-volts") is FAILS


def test_headroom_that_is_not_known_does_not_make_a_power_draw_less() -> None:
    """14.4 W at 7.5 V is 1.92 A through a lead of 1.8 A; at 8.5 V it would be 1.7 A."""
    watts = small.device(laws=("constant power",), steady_a=1.6, reference_v=9.0)
    board = small.converter(7.5, headroom=(0.5, 2.0))
    path = small.path(watts, *chain(board, lead=small.lead(carries_a=1.8)))
    assert verdict(path, "load-side-current") is not FITS


@pytest.mark.parametrize("rule", ["load-side-current", "regulator-heat"])
def test_a_converter_that_starves_at_the_lowest_volts_runs_at_the_highest(rule: str) -> None:
    """It takes 9 V and more: dead at 8.55 V, alive at 9.45 V, and then the device draws 0.5 A."""
    hot = small.device(heat=small.regulator_heat(0.5, 5.0))
    board = small.converter(9.0, "isolated", accepts=(9.0, 18.0))
    path = small.path(hot, *chain(board, lead=small.lead(carries_a=0.4)))
    assert verdict(path, rule) is FAILS


def test_a_converter_that_may_starve_is_not_thought_to_draw_nothing() -> None:
    """Ohms before it are not known: at the worst of them it is dead, at the best it runs."""
    board = small.converter(9.0, "isolated", accepts=(8.3, 18.0))
    parts = (small.cable((0.0, 1.0)), small.trigger(), board, small.lead(carries_a=0.4))
    assert verdict(small.path(small.device(), *parts), "load-side-current") is not FITS


@pytest.mark.parametrize("direction", ["isolated", "step-up"])
def test_a_part_behind_a_converter_stands_what_the_converter_gives(direction: str) -> None:
    """24 V at a soft start that stands 20 V."""
    board = small.converter(24.0, direction)
    path = small.path(
        small.device(harmed_above_v=30.0), *chain(board, small.soft_start(withstands_v=20.0))
    )
    assert verdict(path, "part-volts") is FAILS


def test_a_press_of_the_button_goes_over_what_the_parts_stand() -> None:
    """A press reaches 21 V, at a converter that takes 18 V."""
    board = small.converter(9.0, "isolated", accepts=(8.0, 18.0))
    path = small.path(small.device(harmed_above_v=30.0), *chain(board, presses_v=(9.0, 20.0)))
    assert verdict(path, "part-volts") is FAILS


@pytest.mark.parametrize(
    ("rule", "heat"),
    [
        ("regulator-heat", small.regulator_heat(3.0, 5.0)),
        ("lived-heat", small.cool(14.0)),
    ],
)
def test_a_press_of_the_button_makes_a_device_hot(rule: str, heat: Any) -> None:
    """(21 − 5) V · 0.5 A = 8 W where 3 W are allowed."""
    device = small.device(harmed_above_v=35.0, heat=heat)
    assert verdict(small.path(device, *chain(presses_v=(9.0, 20.0))), rule) is FAILS


@pytest.mark.parametrize(
    ("rule", "heat"),
    [
        ("regulator-heat", small.regulator_heat(4.0, 5.0)),
        ("lived-heat", small.cool(14.0)),
    ],
)
def test_a_device_gets_hot_where_the_trigger_falls_to_the_highest(rule: str, heat: Any) -> None:
    """It stands 35 V, so nothing breaks at once: (21 − 5) V · 0.5 A = 8 W cook it slowly."""
    path = small.path(
        small.device(harmed_above_v=35.0, heat=heat),
        *chain(asks_v=12.0, falls_back=("highest",)),
        source=sometimes_without_12_v("5:3 20:3"),
    )
    assert verdict(path, rule) is FAILS


def test_a_fuse_behind_a_converter_carries_what_the_converter_gives() -> None:
    """5 V at 1 A behind it is 0.39 A before it."""
    path = small.path(
        small.device(steady_a=1.0), *chain(small.converter(5.0), small.fuse(0.5), asks_v=15.0)
    )
    assert verdict(path, "fuse-holds") is FAILS


def test_a_fuse_before_a_converter_that_steps_up_carries_more_than_the_device_draws() -> None:
    """12 V · 0.5 A ÷ (0.8 · 8.55 V) = 0.88 A through a fuse of 0.8 A."""
    board = small.converter(12.0, "isolated", efficiency=0.8)
    path = small.path(small.device(), *chain(small.fuse(0.8), board))
    assert verdict(path, "fuse-holds") is FAILS


def test_a_fuse_before_a_step_down_is_not_held_against_the_current_behind_it() -> None:
    """5 V · 1 A ÷ (0.9 · 14.25 V) = 0.39 A through a fuse of 0.5 A: it holds."""
    path = small.path(
        small.device(steady_a=1.0), *chain(small.fuse(0.5), small.converter(5.0), asks_v=15.0)
    )
    assert verdict(path, "fuse-holds") is FITS


def test_a_fuse_before_a_step_down_does_not_guard_the_lead_behind_it() -> None:
    """It opens at 1.05 A of 15 V: 15.75 W, that is 3.2 A at 5 V, in a lead that stands 1.5 A."""
    board = small.converter(5.0, carries=3.0)
    path = small.path(
        small.device(),
        *chain(small.fuse(0.5), board, asks_v=15.0, lead=small.lead(carries_a=1.0)),
    )
    assert verdict(path, "fault-current") is FAILS


def test_a_port_may_give_more_in_company_than_alone() -> None:
    """Odd, but it can be written: then the trip is by the larger of the two."""
    source = small.charger(
        {"C1": "5:3 9:2", "C2": "5:3"}, {"C1+C2": {"C1": "5:5 9:2", "C2": "5:3"}}
    )
    path = small.path(small.device(), *chain(), source=source)
    assert verdict(path, "fault-current") is FAILS


def test_a_soft_start_that_has_done_its_work_at_five_volts_softens_no_later_step() -> None:
    """30 kV/s into 1 mF is 30 A."""
    big = small.device(capacitance_f=1e-3)
    softened = {
        (gated, every_step): verdict(
            small.path(big, *chain(small.soft_start(every_step=every_step), gated=gated)), "inrush"
        )
        for gated in (True, False)
        for every_step in (True, False)
    }
    assert softened == {
        (True, True): FITS,
        (True, False): FITS,
        (False, True): FITS,
        (False, False): UNPROVEN,
    }


def test_charging_a_capacitor_behind_a_converter_that_steps_up_costs_the_port_more() -> None:
    """120 V/s into 17 mF and 0.5 A: 2.54 A of 12 V; out of 8.55 V at 80 % it is 4.46 A.

    The port trips at 3.3 A at least.
    """
    board = small.converter(12.0, "isolated", efficiency=0.8, carries=4.0)
    path = small.path(small.device(capacitance_f=17e-3), *chain(board, small.soft_start(0.1)))
    assert verdict(path, "inrush") is FAILS


def test_a_peak_that_is_written_smaller_than_the_steady_current_hides_nothing() -> None:
    """2 A through 1 Ω leave 6.55 V, whatever the peak is said to be."""
    odd = small.device(steady_a=2.0, peak_a=0.1, runs_from_v=7.0)
    path = small.path(odd, *chain(lead=small.lead(1.0)))
    assert verdict(path, "under-volts") is FAILS


def test_a_programmable_range_is_never_taken_for_fixed_volts() -> None:
    path = small.path(
        small.device(),
        *chain(asks_v=9.0),
        source=small.charger(
            {"C1": "5:3 9:3", "C2": "5:3"}, {"C1+C2": {"C1": "pps3.3-11:3 5:3", "C2": "5:3"}}
        ),
    )
    assert verdict(path, "match-offered") is FAILS


def test_a_trigger_that_goes_to_the_highest_does_not_go_to_a_programmable_range() -> None:
    path = small.path(
        small.device(harmed_above_v=16.0),
        *chain(asks_v=12.0, falls_back=("highest",)),
        source=sometimes_without_12_v("5:3 9:3 pps3.3-21:3"),
    )
    assert verdict(path, "over-volts") is FITS


def test_what_a_shared_port_offers_is_not_known_so_the_worst_fallback_is_not_certain() -> None:
    """`fails` asks that it breaks for every unknown: the list in company may still have 12 V."""
    source = small.charger({"C1": "5:3 9:3 12:3 20:3", "C2": "5:3"}, sharing="unknown")
    path = small.path(
        small.device(harmed_above_v=16.0),
        *chain(asks_v=12.0, falls_back=("highest",)),
        source=source,
    )
    assert verdict(path, "over-volts") is UNPROVEN


def test_a_trigger_of_which_nothing_is_known_may_go_to_the_highest() -> None:
    path = small.path(
        small.device(harmed_above_v=16.0),
        *chain(asks_v=12.0, falls_back=("next lower", "5 V", "highest", "off")),
        source=sometimes_without_12_v("5:3 9:3 20:3"),
    )
    assert verdict(path, "over-volts") is UNPROVEN


def test_an_answer_to_one_unknown_law_does_not_hide_the_other() -> None:
    """0.5 A as a current is within 0.5 A; as 4.5 W it is 0.53 A at 8.55 V."""
    either = small.device(laws=("constant current", "constant power"))
    path = small.path(either, *chain(lead=small.lead(carries_a=0.5)))
    assert verdict(path, "load-side-current") is UNPROVEN


def test_a_trigger_that_may_as_well_stay_off_is_not_certain_to_draw_too_much() -> None:
    """At 5 V it would be 2.5 A through a lead of 2 A, however it falls back; or it stays off."""
    parts = chain(
        asks_v=12.0,
        falls_back=("next lower", "5 V", "highest", "off"),
        lead=small.lead(carries_a=2.0),
    )
    path = small.path(watts_12(4.0), *parts, source=sometimes_without_12_v("5:3"))
    assert verdict(path, "load-side-current") is UNPROVEN
