"""Source power rules of USB PD chapter 10 against published examples."""

import pytest

from sinkside.standards.pd_fields import Revision
from sinkside.standards.power_rules import OfferKind, default_offers
from sinkside.standards.type_c_cable import EMarker


def fixed_currents(power_w: float, revision: Revision, cable: EMarker) -> dict[float, float]:
    return {
        offer.low_v: offer.current_a
        for offer in default_offers(power_w, revision, cable)
        if offer.required and offer.kind is OfferKind.FIXED
    }


def test_a_50_w_source() -> None:
    # Encyclopedia entry on USB PD: 3 A at 5, 9, 15 V and 2.5 A at 20 V (status: secondary).
    assert fixed_currents(50.0, Revision.R3_0, EMarker.NONE) == {
        5.0: 3.0,
        9.0: 3.0,
        15.0: 3.0,
        20.0: 2.5,
    }


@pytest.mark.parametrize(
    ("power_w", "currents"),
    [
        # Published readings of the power rules (status: secondary).
        (10.0, {5.0: 2.0}),
        (18.0, {5.0: 3.0, 9.0: 2.0}),
        (30.0, {5.0: 3.0, 9.0: 3.0, 15.0: 2.0}),
        (60.0, {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 3.0}),
        (100.0, {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 5.0}),
        # Test-lab notes on PD 3.1 (status: secondary).
        (140.0, {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 5.0, 28.0: 5.0}),
        # From memory.
        (180.0, {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 5.0, 28.0: 5.0, 36.0: 5.0}),
        (240.0, {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 5.0, 28.0: 5.0, 36.0: 5.0, 48.0: 5.0}),
    ],
)
def test_fixed_supplies_by_power(power_w: float, currents: dict[float, float]) -> None:
    assert fixed_currents(power_w, Revision.R3_1, EMarker.EPR) == pytest.approx(currents)


@pytest.mark.parametrize(("power_w", "high_v"), [(140.0, 28.0), (180.0, 36.0), (240.0, 48.0)])
def test_the_adjustable_range_above_100_w(power_w: float, high_v: float) -> None:
    # 140 W from test-lab notes on PD 3.1 (secondary), the others from memory.
    (offer,) = (
        o
        for o in default_offers(power_w, Revision.R3_1, EMarker.EPR)
        if o.kind is OfferKind.EPR_AVS
    )
    assert (offer.low_v, offer.high_v, offer.power_w) == (15.0, high_v, power_w)


def test_without_a_marked_cable_no_more_than_60_w() -> None:
    # USB Type-C R2.0 (secondary): more than 3 A needs an electronically marked 5 A cable.
    offers = fixed_currents(240.0, Revision.R3_1, EMarker.NONE)
    assert max(volts * amperes for volts, amperes in offers.items()) == 60.0
