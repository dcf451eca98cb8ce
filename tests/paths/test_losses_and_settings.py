"""What is burnt on the way, and a converter of which the setting moves: worked by hand.

Contract ±5 % is vSrcNew of USB PD (secondary text). All figures by Ohm's law, beside each check.
"""

import pytest
from tests.paths import small_parts as small

from sinkside.paths.judge import judge


def test_what_a_lead_burns() -> None:
    """1 A through 0.1 + 0.3 Ω: 0.4 W, whatever the volts."""
    thing = small.device(peak_a=1.0, steady_a=1.0)
    path = small.path(thing, small.cable(0.1), small.trigger(), small.lead(0.3))
    assert judge([path]).loss_w[0] == pytest.approx(0.4)


def test_what_a_converter_and_its_leads_burn() -> None:
    """9 V · 1 A ÷ 0.9 = 10 W from 14.25 V behind 0.25 Ω: V² − 14.25·V + 2.5 = 0, so V = 14.0723 V
    and 0.71061 A. Burnt: 0.25 · 0.71061² before it, 10 − 9 W in it, 0.3 · 1² behind it.
    """
    thing = small.device(peak_a=1.0, steady_a=1.0)
    step_down = small.converter(9.0, headroom=0.5, efficiency=0.9)
    path = small.path(thing, small.cable(0.25), small.trigger(15.0), step_down, small.lead(0.3))
    burnt_w = 0.25 * 0.71061**2 + 1.0 + 0.3
    assert judge([path]).loss_w[0] == pytest.approx(burnt_w, abs=1e-4)


def test_a_converter_that_holds_at_the_highest_volts_is_judged_as_holding() -> None:
    """Its volts move from 8.52 to 10 V: fed 9.45 V it holds, fed 8.55 V it is at full duty.

    At full duty 9 W draw 1.06 A. Holding they draw 9 ÷ 8.52 A of at most 10 V ÷ 0.9, which is
    11.74 W: 1.373 A of the lowest volts, and the trigger carries 1.3 A.
    """
    thing = small.device(peak_a=1.0, steady_a=1.0, laws=("constant power",))
    step_down = small.converter(small.swings(8.52, 10.0, "V"), headroom=0.5, efficiency=0.9)
    weak = small.trigger(carries_a=1.3)
    judged = judge([small.path(thing, small.cable(), weak, step_down, small.lead())])
    row = next(i for i, rule in enumerate(judged.rules) if rule.id == "port-side-current")
    port_a = 10.0 * (9.0 / 8.52) / 0.9 / 8.55
    assert judged.margins[row, 0] == pytest.approx(1.3 - port_a)
