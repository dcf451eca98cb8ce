"""A diode on the way: it takes its forward volts at the least volts, and nothing at the most.

A straight line, 0.5 V and 0.1 Ω, on a contract of 9 or 15 V ±5 % (vSrcNew of USB PD, secondary
text). All figures by Ohm's law, beside each check.
"""

import pytest
from tests.paths import small_parts as small

from sinkside.parts.elements import Diode
from sinkside.parts.part import Part
from sinkside.paths.judge import judge
from sinkside.paths.rows import Path


def diode(name: str = "diode") -> Part:
    line = Diode(
        forward_v=small.figure(0.5, "V", f"{name}/forward volts"),
        slope_ohm=small.figure(0.1, "Ω", f"{name}/slope"),
    )
    return small.part("diode", name=name, elements=(line,))


def margin(rule: str, path: Path) -> float:
    judged = judge([path])
    row = next(i for i, r in enumerate(judged.rules) if r.id == rule)
    return float(judged.margins[row, 0])


def test_the_pins_get_less_by_what_the_diode_takes() -> None:
    """8.55 − 0.5 − 1 · (0.1 + 0.3) = 7.65 V, of which 6 V are needed."""
    thing = small.device(peak_a=1.0, steady_a=1.0)
    path = small.path(thing, small.cable(), small.trigger(), diode(), small.lead(0.3))
    assert margin("under-volts", path) == pytest.approx(1.65)


def test_two_diodes_take_twice_as_much() -> None:
    """8.55 − 1 − 1 · (0.2 + 0.3) = 7.05 V."""
    thing = small.device(peak_a=1.0, steady_a=1.0)
    two = (diode("first"), diode("second"))
    path = small.path(thing, small.cable(), small.trigger(), *two, small.lead(0.3))
    assert margin("under-volts", path) == pytest.approx(1.05)


def test_a_power_asks_for_more_current_behind_a_diode() -> None:
    """8.55 − 0.5 = 8.05 V behind 0.4 Ω, 9 W: V² − 8.05·V + 3.6 = 0, V = 7.5747 V and 1.188 A."""
    thing = small.device(peak_a=1.0, steady_a=1.0, laws=("constant power",))
    path = small.path(thing, small.cable(), small.trigger(), diode(), small.lead(0.3))
    assert margin("under-volts", path) == pytest.approx(7.5747 - 6.0, abs=1e-4)
    assert margin("port-current", path) == pytest.approx(3.0 - 9.0 / 7.5747, abs=1e-4)
    # (8.05 V)² ÷ 4 ÷ 0.4 Ω = 40.5 W can be had at most.
    assert margin("operating-point", path) == pytest.approx(8.05**2 / 1.6 - 9.0)


def test_a_diode_before_a_converter_costs_headroom() -> None:
    """14.25 − 0.5 − 0.1 · I before it: 9 W ÷ 0.9 = 10 W make V² − 13.75·V + 1 = 0, V = 13.677 V."""
    thing = small.device(peak_a=1.0, steady_a=1.0)
    step_down = small.converter(9.0, headroom=0.5, efficiency=0.9)
    path = small.path(
        thing, small.cable(), small.trigger(15.0), diode(), step_down, small.lead(0.3)
    )
    assert margin("converter-headroom", path) == pytest.approx(13.6769 - 9.5, abs=1e-4)
    # Behind the converter it costs the pins nothing: 9 − 0.3 V.
    assert margin("under-volts", path) == pytest.approx(2.7)


def test_a_diode_behind_a_converter_costs_the_pins() -> None:
    """9 − 0.5 − 1 · (0.1 + 0.3) = 8.1 V, however much the port has to spare."""
    thing = small.device(peak_a=1.0, steady_a=1.0)
    step_down = small.converter(9.0, headroom=0.5)
    path = small.path(
        thing, small.cable(), small.trigger(15.0), step_down, diode(), small.lead(0.3)
    )
    assert margin("under-volts", path) == pytest.approx(2.1)


def test_a_diode_behind_a_step_down_at_full_duty_costs_the_pins_too() -> None:
    """8.55 − 0.5 − 1 · (0.2 of its switch + 0.1 + 0.3) = 7.45 V, where 9 V are set."""
    thing = small.device(peak_a=1.0, steady_a=1.0)
    step_down = small.converter(9.0, headroom=0.5, pass_ohm=0.2)
    path = small.path(thing, small.cable(), small.trigger(), step_down, diode(), small.lead(0.3))
    assert margin("under-volts", path) == pytest.approx(1.45)


def test_no_diode_is_counted_on_to_keep_volts_away() -> None:
    """With the device off next to nothing flows, and next to nothing drops: 9.45 V of 16 V."""
    path = small.path(None, small.cable(), small.trigger(), diode(), small.lead())
    assert margin("over-volts", path) == pytest.approx(16.0 - 9.45)
