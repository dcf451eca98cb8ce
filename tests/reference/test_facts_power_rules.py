"""What a source of so many watts offers, by the published readings of the power rules.

The standard itself was not at hand: up to 100 W from an encyclopedia entry and a published
reading, 140 W from a test lab's notes (both secondary), 180 W and 240 W from memory. Real
chargers leave some out (practice, from memory): these are defaults only.
"""

import pytest

from sinkside.standards.pd_fields import Revision
from sinkside.standards.power_rules import Offer, OfferKind, default_offers
from sinkside.standards.type_c_cable import EMarker


def fixed(offers: tuple[Offer, ...], *, required: bool = True) -> dict[float, float]:
    """Amps by volts of the fixed offers."""
    return {
        offer.low_v: offer.current_a
        for offer in offers
        if offer.kind is OfferKind.FIXED and offer.required is required
    }


@pytest.mark.parametrize(
    ("watts", "expected"),
    [
        (2.5, {5: 0.5}),  # x/5
        (7.5, {5: 1.5}),
        (15, {5: 3.0}),
        (18, {5: 3.0, 9: 2.0}),  # x/9
        (20, {5: 3.0, 9: 2.222}),
        (27, {5: 3.0, 9: 3.0}),
        (30, {5: 3.0, 9: 3.0, 15: 2.0}),  # x/15
        (45, {5: 3.0, 9: 3.0, 15: 3.0}),
        (50, {5: 3.0, 9: 3.0, 15: 3.0, 20: 2.5}),  # x/20
        (60, {5: 3.0, 9: 3.0, 15: 3.0, 20: 3.0}),
        (65, {5: 3.0, 9: 3.0, 15: 3.0, 20: 3.25}),
        (100, {5: 3.0, 9: 3.0, 15: 3.0, 20: 5.0}),
    ],
)
def test_fixed_offers_that_the_rules_ask_for(watts: float, expected: dict[float, float]) -> None:
    found = fixed(default_offers(watts, cable=EMarker.FIVE_AMP))
    assert found == pytest.approx(expected, abs=1e-3)


@pytest.mark.parametrize(
    ("watts", "expected"),
    [
        (120, {28: 4.2857}),  # x/28
        (140, {28: 5.0}),
        (160, {28: 5.0, 36: 4.4444}),  # x/36
        (180, {28: 5.0, 36: 5.0}),
        (200, {28: 5.0, 36: 5.0, 48: 4.1667}),  # x/48
        (240, {28: 5.0, 36: 5.0, 48: 5.0}),
    ],
)
def test_fixed_offers_above_100_w(watts: float, expected: dict[float, float]) -> None:
    found = fixed(default_offers(watts, cable=EMarker.EPR))
    assert {v: a for v, a in found.items() if v > 20} == pytest.approx(expected, abs=1e-4)
    assert found[20.0] == 5.0


@pytest.mark.parametrize("watts", [65.0, 100.0, 140.0])
def test_an_unmarked_cable_holds_every_offer_to_3_a_and_20_v(watts: float) -> None:
    """Without a mark a source must not offer more than 3 A (secondary notes)."""
    found = fixed(default_offers(watts, cable=EMarker.NONE))
    assert max(found) == 20.0
    assert found[20.0] == 3.0


@pytest.mark.parametrize("watts", [15.0, 27.0, 45.0, 65.0, 100.0])
def test_12_v_is_never_asked_for(watts: float) -> None:
    """Optional since R2.0 v1.2 (secondary): never to be counted on."""
    assert 12.0 not in fixed(default_offers(watts, cable=EMarker.FIVE_AMP))


@pytest.mark.parametrize(("watts", "amps"), [(18.0, 1.5), (30.0, 2.5), (36.0, 3.0), (60.0, 3.0)])
def test_12_v_where_it_is_offered(watts: float, amps: float) -> None:
    """x/12, to 3 A with a plain cable (the current from memory)."""
    assert fixed(default_offers(watts), required=False)[12.0] == pytest.approx(amps)


@pytest.mark.parametrize(
    ("watts", "high_v"), [(15.0, None), (27.0, None), (30.0, 15.0), (45.0, 15.0), (65.0, 20.0)]
)
def test_adjustable_supply_of_the_standard_range(watts: float, high_v: float | None) -> None:
    """R3.2 asks for it above 27 W, to 15 V up to 45 W and to 20 V above (a test lab's notes)."""
    found = [
        offer
        for offer in default_offers(watts)
        if offer.kind is OfferKind.SPR_AVS and offer.required
    ]
    assert [(offer.low_v, offer.high_v) for offer in found] == (
        [] if high_v is None else [(9.0, high_v)]
    )


def test_adjustable_supply_came_with_r3_2() -> None:
    kinds = {offer.kind for offer in default_offers(65.0, Revision.R3_0)}
    assert OfferKind.SPR_AVS not in kinds


@pytest.mark.parametrize(("watts", "high_v"), [(140.0, 28.0), (180.0, 36.0), (240.0, 48.0)])
def test_adjustable_supply_of_the_extended_range(watts: float, high_v: float) -> None:
    """15 V up to 28, 36 or 48 V (trade page, test-lab notes: secondary)."""
    found = [
        (offer.low_v, offer.high_v, offer.power_w)
        for offer in default_offers(watts, cable=EMarker.EPR)
        if offer.kind is OfferKind.EPR_AVS
    ]
    assert found == [(15.0, high_v, watts)]


@pytest.mark.parametrize(
    ("watts", "tops"),
    [
        (15.0, [5.9]),
        (18.0, [11.0]),
        (27.0, [11.0]),
        (45.0, [11.0, 16.0]),
        (60.0, [11.0, 16.0, 21.0]),
    ],
)
def test_programmable_ranges(watts: float, tops: list[float]) -> None:
    """5 V, 9 V, 15 V and 20 V Prog reach 5.9, 11, 16 and 21 V (read in a vendor's table); which
    of them at how many watts: from memory. All of them are optional."""
    found = [offer for offer in default_offers(watts, Revision.R3_1) if offer.kind is OfferKind.PPS]
    assert sorted(offer.high_v for offer in found) == tops
    assert not any(offer.required for offer in found)


@pytest.mark.parametrize(
    ("revision", "low_v"), [(Revision.R3_0, 3.0), (Revision.R3_1, 3.3), (Revision.R3_2, 5.0)]
)
def test_the_least_of_a_programmable_range(revision: Revision, low_v: float) -> None:
    """Revisions differ (a table by revision: secondary; 3.3 V also read in a vendor's)."""
    found = [offer for offer in default_offers(27.0, revision) if offer.kind is OfferKind.PPS]
    assert [offer.low_v for offer in found] == [low_v]


def test_r3_2_has_no_programmable_5_v() -> None:
    """Dropped with R3.2 (a table by revision: secondary)."""
    found = [o for o in default_offers(15.0, Revision.R3_2) if o.kind is OfferKind.PPS]
    assert found == []
