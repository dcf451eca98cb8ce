"""Which chains are built: all that join up, none that cannot be, and why the others were not."""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.parts import market
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.search import Limits, Rejects, fronts, settings
from sinkside.site.appliance import Evidence, Observed

NEGATIVE = tuple(
    Evidence(observed=o, centre="negative") for o in (Observed.DEVICE_PRINT, Observed.BRICK_METER)
)
BOARDS: tuple[Part, ...] = (
    small.cable(length_m=1.0),
    small.trigger(9.0),
    small.trigger(12.0, name="twelve"),
    small.lead(),
)


def built(
    appliance: Any = None, parts: Any = BOARDS, *, source: Any = None, **limits: Any
) -> tuple[list[Front], Rejects]:
    source = source or small.charger("5:3 9:3")
    rejects = Rejects()
    company = frozenset(source.names)
    found = fronts(
        appliance or small.device(),
        source,
        "C1",
        company,
        tuple(parts),
        Limits(**{"solder": True, **limits}),
        rejects,
    )
    return list(found), rejects


def kinds(front: Front) -> tuple[str, ...]:
    return tuple(p.kind for p in front.parts)


def test_a_chain_joins_end_to_end_and_ends_in_the_plug() -> None:
    for appliance in (small.device(), small.device(evidence=NEGATIVE), small.device(plug="4x1.7")):
        found, _ = built(appliance, market.parts(), source=small.charger("5:3 9:3 15:3 20:3"))
        assert found
        for front in found:
            assert front.parts[0].takes.kind == "usb-c"
            assert front.end.plug == appliance.plug
            for a, b in zip(front.parts, front.parts[1:], strict=False):
                assert a.gives.joins(b.takes), front.id
                assert None in (a.gives.centre, b.takes.centre) or a.gives == b.takes


def test_a_chain_has_at_most_one_of_each_and_a_fuse_where_its_lead_begins() -> None:
    found, _ = built(small.device(capacitance_f=1e-3), market.parts())
    for front in found:
        for kind in ("cable", "trigger", "fuse", "converter", "soft start", "lead"):
            assert kinds(front).count(kind) <= 1
        if "fuse" in kinds(front):
            before = kinds(front)[: kinds(front).index("fuse")]
            assert before[-1] in ("trigger", "converter")


def test_no_chain_is_built_twice() -> None:
    found, _ = built(small.device(capacitance_f=1e-3), market.parts())
    assert len({f.id for f in found}) == len(found)


def test_volts_that_the_port_does_not_offer_are_not_asked_for() -> None:
    found, rejects = built()
    assert {f.trigger.asks_v for f in found} == {9.0}
    assert rejects.reasons["shared C1 does not offer 12 V"] == 1


def test_a_programmable_range_offers_no_fixed_volts() -> None:
    found, _ = built(source=small.charger("5:3 pps3.3-21:3"))
    assert found == []


def test_no_chain_puts_the_poles_where_all_evidence_says_that_they_are_not() -> None:
    parts = (*BOARDS, small.reverser(centre="negative"), small.reverser(centre="positive"))
    found, rejects = built(small.device(evidence=NEGATIVE), parts)
    assert {f.end.centre for f in found} == {"negative"}
    assert {kinds(f)[-1] for f in found} == {"reverser"}
    assert rejects.reasons["its plug has the other polarity"] == 1


def test_without_evidence_either_pole_is_built_and_left_to_the_judge() -> None:
    parts = (*BOARDS, small.lead(centre="negative", name="other"))
    found, _ = built(small.device(evidence=()), parts)
    assert {f.end.centre for f in found} == {"positive", "negative"}


def test_who_does_not_solder_gets_chains_without_joints() -> None:
    moulded = small.trigger(9.0, gives=small.lead().gives, joints=0, name="moulded")
    found, rejects = built(parts=(*BOARDS, moulded), solder=False)
    assert [f.joints for f in found] == [0]
    assert rejects.reasons["asks for joints, and the rules say no soldering"] == 1


@pytest.mark.parametrize(
    ("reach_m", "builds"), [(0.0, True), (1.5, True), (1.6, False), (None, False)]
)
def test_a_cable_has_to_reach(reach_m: float | None, builds: bool) -> None:
    """A 1 m cable, and half a metre of lead behind it."""
    found, rejects = built(reach_m=reach_m)
    assert bool(found) is builds
    assert bool(rejects.reasons["no cable reaches shared, 1.6 m away"]) is (reach_m == 1.6)
    assert bool(rejects.reasons["how far it is to shared is not said"]) is (reach_m is None)


def test_no_converter_is_built_that_the_contract_would_harm_or_starve() -> None:
    board = small.converter(5.0, accepts=(12.0, 20.0))
    for asks_v, builds in ((9.0, False), (15.0, True), (20.0, False)):
        parts = (small.cable(), small.trigger(asks_v), board, small.lead())
        found, _ = built(
            small.device(runs_from_v=4.0), parts, source=small.charger(f"5:3 {asks_v:g}:3")
        )
        assert any(f.converter for f in found) is builds


def test_a_step_up_is_never_set_below_what_it_is_fed() -> None:
    """It cannot: it passes its input."""
    board = small.converter((5.0, 24.0), "step-up", adjustable=True, accepts=(4.5, 24.0))
    for asks_v in (9.0, 20.0):
        parts = (small.cable(), small.trigger(asks_v), board, small.lead())
        source = small.charger(f"5:3 {asks_v:g}:3")
        found, _ = built(small.device(harmed_above_v=30.0, runs_from_v=11.0), parts, source=source)
        for front in found:
            if front.converter:
                assert front.converter.gives_v.low > asks_v * 1.05


def test_settings_run_the_device_and_do_not_surely_harm_it() -> None:
    """It runs from 6 V, its plate says 9 V, it has run cool up to 12 V; a setting slips 3 %."""
    *low, plate, high = settings(small.device(heat=small.cool((12.0, 14.0))))
    assert low
    assert all(6.0 < 0.97 * volts < 7.0 for volts in low)
    assert plate == 9.0
    assert 1.03 * high <= 12.0 < 1.03 * (high + 0.2)
    assert settings(small.device(harmed_above_v=9.0)) == tuple(low)


def test_the_smallest_fuse_that_carries_the_device_is_taken() -> None:
    fuses = tuple(small.fuse(a, name=f"fuse {a}") for a in (0.25, 0.5, 0.8))
    found, _ = built(small.device(steady_a=(0.3, 0.5)), (*BOARDS, *fuses))
    taken = {p.id for f in found for p in f.parts if p.fuse}
    assert taken == {"fuse 0.5"}


def test_a_rejected_chain_has_an_example() -> None:
    _, rejects = built(small.device(plug="9.9x9.1"))
    assert set(rejects.examples) == set(rejects.reasons)
    assert rejects.reasons["no part ends in a 9.9x9.1 plug"] == 1
