"""A converter with several outputs as one load of constant power, worked by hand."""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.paths.findings import findings
from sinkside.paths.front import Front
from sinkside.paths.judge import Path, judge
from sinkside.paths.rails import REMOVED, fed, input_of
from sinkside.paths.risks import residual_risks
from sinkside.paths.search import Limits, Rejects, fronts
from sinkside.quantity import Basis
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance

OUTPUTS = ((4.9, 5.1, 4.0), (11.6, 12.4, 3.0))
# 5 V at 2 A and 12 V at 1.2 A, both measured.
DISK = small.device(
    "disk", plug="other", evidence=(), rails=(small.need(5.0, 2.0), small.need(12.0, 1.2))
)
BOARDS = (
    small.cable(length_m=1.0),
    small.trigger(20.0),
    small.trigger(9.0, name="nine"),
    small.fuse(2.5),
    small.fuse(1.0, name="small fuse"),
    small.rails(*OUTPUTS),
    small.lead(),
)


def chain(*middle: Any, appliance: Appliance = DISK, **about: Any) -> Path:
    last = small.rails(*OUTPUTS, **about)
    front = small.front(None, small.cable(), small.trigger(20.0), *middle, last)
    return Path(front=front, appliance=fed(front, appliance))


def built(
    appliance: Appliance = DISK, parts: Any = BOARDS, **limits: Any
) -> tuple[list[Front], Rejects]:
    source, rejects = small.charger("5:3 9:3 20:3"), Rejects()
    allowed = Limits(**{"solder": True, **limits})
    found = fronts(appliance, source, "C1", frozenset(("C1",)), tuple(parts), allowed, rejects)
    return list(found), rejects


def test_the_rails_together_are_one_load() -> None:
    """At most 5.1 V · 2 A + 12.4 V · 1.2 A = 25.08 W, 31.35 W before 80 %: 1.959 A at 16 V.

    At least 4.9 V · 2 A + 11.6 V · 1.2 A = 23.72 W, 26.36 W before 90 %: 1.647 A at 16 V.
    """
    load = input_of(small.rails(*OUTPUTS, efficiency=(0.8, 0.9)), DISK)
    assert load.laws == ("constant power",)
    assert load.reference_v == 16.0
    assert load.peak_a.high == pytest.approx(1.959375)
    assert load.peak_a.low == pytest.approx(23.72 / 0.9 / 16.0)
    assert load.steady_a == load.peak_a
    # The currents are known, so what is open is the efficiency.
    assert load.peak_a.name == "rails/efficiency"


def test_what_nobody_has_measured_is_the_currents() -> None:
    guessed = small.device(rails=(small.need(5.0, (1.0, 2.0), Basis.ASSUMED),))
    load = input_of(small.rails(*OUTPUTS), guessed)
    assert (load.peak_a.name, load.peak_a.basis) == ("thing/rail currents", Basis.ASSUMED)


def test_the_input_is_judged_where_the_device_was() -> None:
    """It takes 16 to 28 V and gets 19 to 21 V; 31.35 W at 19 V are 1.65 A of the 3 A offered."""
    found = {f.rule: f for f in findings(judge([chain()]), 0)}
    assert found["over-volts"].margin == pytest.approx(28.0 - 21.0)
    assert found["under-volts"].margin == pytest.approx(19.0 - 16.0)
    assert found["port-current"].margin == pytest.approx(3.0 - 1.65)
    assert [r for r, f in found.items() if f.verdict is not Verdict.FITS] == []


def test_what_no_figure_covers_is_told() -> None:
    risks = " ".join(residual_risks(judge([chain(small.fuse(2.5))]), 0))
    for word in ("least load", "order", "good", "tick", "fault"):
        assert word in risks, word


def test_a_device_with_rails_gets_a_chain_that_ends_in_their_converter() -> None:
    found, rejects = built()
    assert {f.parts[-1].id for f in found} == {"rails"}
    assert {f.trigger.asks_v for f in found} == {20.0}
    assert rejects.reasons["does not take 9 V"] == 1
    # The smallest fuse that carries 31.35 W at 16 V.
    assert {p.id for f in found for p in f.parts if p.fuse} == {"fuse"}


def test_the_chain_says_who_takes_the_old_supply_out_and_not_how() -> None:
    found, _ = built()
    for front in found:
        assert front.parts[-1].setting == REMOVED
        assert front.sentence().endswith(
            "rails (internal supply removed and blanked off by a qualified person)"
        )


def test_a_converter_that_lacks_a_rail_is_not_taken() -> None:
    found, rejects = built(small.device(rails=(small.need(3.3, 1.0),)))
    assert found == []
    assert rejects.reasons["gives no rail of 3.3 V"] == 2


def test_where_one_fault_must_be_survived_no_converter_gives_rails() -> None:
    found, rejects = built(small.device(rails=DISK.rails, must_survive_fault=True))
    assert found == []
    wanted = (
        "one fault in it puts the port's volts on a rail, and the rules say that this must be "
        "survived"
    )
    assert rejects.reasons[wanted] == 2


def test_who_does_not_solder_gets_none() -> None:
    found, rejects = built(solder=False)
    assert found == []
    assert rejects.reasons["asks for joints, and the rules say no soldering"] == 1


def test_a_front_without_rails_feeds_the_device_itself() -> None:
    front = small.front()
    assert fed(front, DISK) is DISK
