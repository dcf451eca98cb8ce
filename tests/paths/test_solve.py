"""The steady state of a chain: regimes, what is left of the volts, and where the power goes.

Figures by Ohm's law; energy balance is Tellegen's theorem: what the port gives is what the
device takes and what is burnt between.
"""

import math
import random
from dataclasses import fields
from typing import Any

import numpy as np
import pytest

from sinkside.paths.solve import Chains, Steady, steady
from sinkside.physics.operating_point import Load

PLAIN = {
    "port_v": 14.25,
    "front_ohm": 0.25,
    "back_ohm": 0.4,
    "front_drop_v": 0.0,
    "back_drop_v": 0.0,
    "set_low_v": 9.0,
    "set_high_v": 9.0,
    "needs_v": 10.0,
    "efficiency": 0.9,
    "quiescent_a": 0.0,
    "pass_ohm": 0.1,
}


def chain(*, converts: bool = True, passes: bool = True, **changes: float) -> Chains:
    """A chain of which every figure is known: what is least and what is most is the same."""
    known = {**PLAIN, **changes, "converts": converts, "passes": passes, "lifts": False}
    known |= {f"least_{name}": value for name, value in known.items()}
    known |= {"port_high_v": known["port_v"]}
    figures: dict[str, Any] = {f.name: np.array([[known[f.name]]]) for f in fields(Chains)}
    return Chains(**figures)


def load(amps: float = 0.0, watts: float = 0.0, siemens: float = 0.0) -> Load:
    return Load(
        constant_a=np.array([[amps]]),
        power_w=np.array([[watts]]),
        conductance_s=np.array([[siemens]]),
    )


def plain(found: Steady) -> dict[str, float]:
    return {name: float(getattr(found, name)[0, 0]) for name in found.__dataclass_fields__}


def test_without_a_converter_the_port_feeds_the_pins_through_all_resistance() -> None:
    found = plain(steady(chain(converts=False, back_ohm=0.0, front_ohm=0.5), load(amps=1.0)))
    assert (found["feed_v"], found["feed_ohm"], found["in_a"]) == (14.25, 0.5, 1.0)
    assert (found["port_a"], found["regulated"]) == (1.0, 0.0)


def test_a_converter_that_holds_its_output_is_the_source_and_the_port_brings_its_power() -> None:
    """9 V · 1 A ÷ 0.9 = 10 W out of 14.25 V behind 0.25 Ω: V² − 14.25·V + 2.5 = 0."""
    found = plain(steady(chain(), load(amps=1.0)))
    before = (14.25 + math.sqrt(14.25**2 - 10.0)) / 2
    assert (found["feed_v"], found["feed_ohm"], found["in_a"]) == (9.0, 0.4, 1.0)
    assert found["regulated"] == 1.0
    assert found["port_a"] == pytest.approx(10.0 / before, rel=1e-12)


def test_its_own_current_comes_on_top() -> None:
    idle = plain(steady(chain(quiescent_a=0.02), load()))
    assert idle["port_a"] == pytest.approx(0.02, rel=1e-12)


def test_a_starved_step_down_is_a_resistance() -> None:
    """9.5 V cannot give 9 V with 1 V of headroom: 9.5 V through 0.25 + 0.1 + 0.4 Ω at 1 A."""
    found = plain(steady(chain(port_v=9.5, set_low_v=9.6, set_high_v=9.6), load(amps=1.0)))
    assert found["regulated"] == 0.0
    assert found["feed_v"] - found["in_a"] * found["feed_ohm"] == pytest.approx(8.75)
    assert (found["in_a"], found["port_a"]) == (1.0, 1.0)


def test_a_starved_step_down_never_gives_more_than_it_is_set_to() -> None:
    """Set to 7.5 V with 2 V of headroom, fed 8.5 V: it gives 7.5 V at most, not 8.5 V."""
    starved = chain(
        port_v=8.5, front_ohm=0.0, back_ohm=0.0, set_low_v=7.5, set_high_v=7.5, needs_v=9.5
    )
    found = plain(steady(starved, load(amps=0.1)))
    assert found["regulated"] == 0.0
    assert found["feed_v"] - found["in_a"] * found["feed_ohm"] <= 7.5


def test_a_starved_isolated_converter_has_no_volts_to_give() -> None:
    found = plain(steady(chain(port_v=9.0, passes=False), load(amps=1.0)))
    assert (found["feed_v"], found["regulated"]) == (0.0, 0.0)


def test_at_its_least_volts_a_converter_still_holds() -> None:
    """10 W · 0.9 at 10 V before it: 1 A, so the port stands at 10.25 V behind 0.25 Ω."""
    at = plain(steady(chain(port_v=10.25), load(amps=1.0)))
    under = plain(steady(chain(port_v=10.25 - 1e-6), load(amps=1.0)))
    assert (at["regulated"], under["regulated"]) == (1.0, 0.0)


def test_a_power_that_cannot_be_had_is_no_number() -> None:
    """14.25² ÷ 4 ÷ 0.5 = 101.5 W is the most that 14.25 V behind 0.5 Ω gives."""
    found = plain(steady(chain(converts=False, front_ohm=0.5, back_ohm=0.0), load(watts=102.0)))
    assert math.isnan(found["in_a"])
    assert math.isnan(found["port_a"])


def test_a_converter_before_which_there_is_no_working_point_does_not_hold() -> None:
    """9 V · 8 A ÷ 0.9 = 80 W; 14.25 V behind 1 Ω gives 50.8 W at most."""
    found = plain(steady(chain(front_ohm=1.0, back_ohm=0.0), load(amps=8.0)))
    assert found["regulated"] == 0.0
    assert math.isnan(found["held_port_a"])


@pytest.mark.parametrize("law", ["amps", "watts", "siemens"])
def test_the_power_out_of_the_port_is_what_arrives_and_what_is_burnt(law: str) -> None:
    draw = random.Random(4)
    regimes = set()
    for _ in range(300):
        volts = draw.choice((4.75, 8.55, 11.4, 14.25, 19.0))
        set_v = draw.uniform(4.0, 12.0)
        chains = chain(
            converts=draw.random() < 0.8,
            port_v=volts,
            front_ohm=draw.uniform(0.01, 0.4),
            back_ohm=draw.uniform(0.01, 0.4),
            set_low_v=set_v,
            set_high_v=set_v,
            needs_v=set_v + draw.uniform(0.3, 2.0),
            efficiency=draw.uniform(0.7, 1.0),
            quiescent_a=draw.uniform(0.0, 0.02),
            pass_ohm=draw.uniform(0.02, 0.2),
        )
        amount = {"amps": 1.0, "watts": 8.0, "siemens": 0.12}[law] * draw.uniform(0.1, 1.5)
        found = plain(steady(chains, load(**{law: amount})))
        if math.isnan(found["in_a"]) or found["in_a"] == 0.0:
            continue
        figures = {k: float(getattr(chains, k)[0, 0]) for k in chains.__dataclass_fields__}
        pins_v = found["feed_v"] - found["in_a"] * found["feed_ohm"]
        assert found["in_a"] == pytest.approx(
            {"amps": amount, "watts": amount / pins_v, "siemens": amount * pins_v}[law], rel=1e-9
        )
        regimes.add((bool(figures["converts"]), bool(found["regulated"])))
        given_w, taken_w = volts * found["port_a"], pins_v * found["in_a"]
        if figures["converts"] and not found["regulated"]:
            most_v = set_v - found["in_a"] * figures["back_ohm"]
            assert pins_v <= most_v + 1e-9, "a step-down gives more than it is set to"
            if pins_v > most_v - 1e-9:  # it still holds, somewhere short of full duty
                assert given_w >= taken_w - 1e-9
                continue
        assert given_w == pytest.approx(taken_w + burnt_w(figures, found), rel=1e-9)
    assert regimes == {(True, True), (True, False), (False, False)}


def burnt_w(figures: dict[str, float], found: dict[str, float]) -> float:
    """What is burnt between port and pins."""
    in_a, port_a = found["in_a"], found["port_a"]
    if not figures["converts"]:
        return in_a**2 * figures["front_ohm"]
    if not found["regulated"]:
        before_v = figures["port_v"] - port_a * figures["front_ohm"]
        own_w = before_v * figures["quiescent_a"]
        behind_w = in_a**2 * (figures["pass_ohm"] + figures["back_ohm"])
        return port_a**2 * figures["front_ohm"] + behind_w + own_w
    out_w = figures["set_low_v"] * in_a
    before_v = figures["port_v"] - port_a * figures["front_ohm"]
    lost_w = out_w / figures["efficiency"] - out_w + before_v * figures["quiescent_a"]
    return in_a**2 * figures["back_ohm"] + port_a**2 * figures["front_ohm"] + lost_w
