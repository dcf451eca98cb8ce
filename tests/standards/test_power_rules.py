"""The power rules: what is required, what is optional, by power, revision and cable."""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_lists import list_faults
from sinkside.standards.pd_objects import PpsSource, encode
from sinkside.standards.power_rules import Offer, OfferKind, as_object, default_offers
from sinkside.standards.type_c_cable import EMarker

POWERS_W = (0.5, 7.5, 15.0, 18.0, 27.0, 30.0, 45.0, 50.0, 60.0, 67.0, 100.0, 140.0, 180.0, 240.0)


def of_kind(offers: tuple[Offer, ...], kind: OfferKind) -> list[Offer]:
    return [offer for offer in offers if offer.kind is kind]


@pytest.mark.parametrize("power_w", POWERS_W)
@pytest.mark.parametrize("revision", Revision)
@pytest.mark.parametrize("cable", EMarker)
def test_no_offer_exceeds_the_power_or_the_cable(
    power_w: float, revision: Revision, cable: EMarker
) -> None:
    for offer in default_offers(power_w, revision, cable):
        assert offer.current_a <= (5.0 if cable in (EMarker.FIVE_AMP, EMarker.EPR) else 3.0)
        if offer.kind is OfferKind.FIXED:
            assert offer.high_v * offer.current_a <= power_w + 1e-9
        assert offer.high_v <= 21.0 or cable is EMarker.EPR


@pytest.mark.parametrize("power_w", POWERS_W)
def test_twelve_volts_is_never_required(power_w: float) -> None:
    twelve = [o for o in default_offers(power_w) if o.low_v == o.high_v == 12.0]
    assert not any(offer.required for offer in twelve)
    assert bool(twelve) == (power_w > 15.0)


@pytest.mark.parametrize("power_w", POWERS_W)
def test_programmable_offers_are_optional_and_came_with_r3_0(power_w: float) -> None:
    assert not of_kind(default_offers(power_w, Revision.R2_0), OfferKind.PPS)
    assert not any(
        o.required for o in of_kind(default_offers(power_w, Revision.R3_1), OfferKind.PPS)
    )


@pytest.mark.parametrize(
    ("revision", "low_v"), [(Revision.R3_0, 3.0), (Revision.R3_1, 3.3), (Revision.R3_2, 5.0)]
)
def test_programmable_offers_begin_higher_in_later_revisions(
    revision: Revision, low_v: float
) -> None:
    ranges = of_kind(default_offers(60.0, revision), OfferKind.PPS)
    assert [(o.low_v, o.high_v, o.current_a) for o in ranges] == [
        (low_v, 11.0, 3.0),
        (low_v, 16.0, 3.0),
        (low_v, 21.0, 3.0),
    ]


def test_the_5_v_programmable_offer_is_gone_in_r3_2() -> None:
    assert [o.high_v for o in of_kind(default_offers(15.0, Revision.R3_1), OfferKind.PPS)] == [5.9]
    assert of_kind(default_offers(15.0, Revision.R3_2), OfferKind.PPS) == []


@pytest.mark.parametrize(
    ("power_w", "ranges"),
    [(27.0, []), (30.0, [(15.0, 2.0, 0.0)]), (60.0, [(20.0, 3.0, 3.0)])],
)
def test_adjustable_offers_are_required_above_27_w(
    power_w: float, ranges: list[tuple[float, float, float]]
) -> None:
    found = of_kind(default_offers(power_w), OfferKind.SPR_AVS)
    assert [(o.high_v, o.current_a, o.current_above_15_v_a) for o in found] == ranges
    assert all(o.required for o in found)
    assert not of_kind(default_offers(power_w, Revision.R3_1), OfferKind.SPR_AVS)


@pytest.mark.parametrize(
    ("power_w", "highest_v"),
    [
        (15.0, 5.0),
        (15.1, 9.0),
        (27.0, 9.0),
        (27.1, 15.0),
        (45.0, 15.0),
        (45.1, 20.0),
        (100.0, 20.0),
        (100.1, 28.0),
        (140.0, 28.0),
        (140.1, 36.0),
        (180.0, 36.0),
        (180.1, 48.0),
    ],
)
def test_the_highest_fixed_voltage_steps_just_above_each_limit(
    power_w: float, highest_v: float
) -> None:
    offers = of_kind(default_offers(power_w, cable=EMarker.EPR), OfferKind.FIXED)
    assert max(o.high_v for o in offers if o.required) == highest_v


@pytest.mark.parametrize("power_w", [0.4, 241.0])
def test_the_rules_have_ends(power_w: float) -> None:
    with pytest.raises(NotUnderstood) as refused:
        default_offers(power_w)
    assert str(refused.value) == (
        f"the power rules do not cover a source of {power_w:g} W; they cover 0.5 to 240 W"
    )


@pytest.mark.parametrize("power_w", [p for p in POWERS_W if p <= 100.0])
def test_the_required_offers_make_a_lawful_list(power_w: float) -> None:
    objects = [as_object(o) for o in default_offers(power_w) if o.required]
    assert list_faults(objects) == ()
    assert all(encode(obj) for obj in objects)


def test_currents_are_rounded_down_to_the_field() -> None:
    twenty = [o for o in default_offers(67.0, cable=EMarker.FIVE_AMP) if o.high_v == 21.0]
    assert as_object(twenty[0]) == PpsSource(minimum_mv=5000, maximum_mv=21_000, current_ma=3350)
    odd = [o for o in default_offers(20.0) if o.low_v == 9.0 and o.required]
    # 20/9 = 2.222 A (arithmetic).
    assert encode(as_object(odd[0])) & 0x3FF == 222
