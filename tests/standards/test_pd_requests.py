"""Requests: read against the list of offers, and by revision."""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_objects import (
    BatterySource,
    EprAvsSource,
    FixedSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
    UnknownObject,
    VariableSource,
    decode_source,
)
from sinkside.standards.pd_requests import (
    AvsRequest,
    BatteryRequest,
    FixedRequest,
    PpsRequest,
    Request,
    decode_request,
    encode_epr_request,
    encode_request,
    request_kind,
)

FIVE = FixedSource(voltage_mv=5000, current_ma=3000)
PPS = PpsSource(minimum_mv=3300, maximum_mv=11_000, current_ma=3000)
AVS = EprAvsSource(minimum_mv=15_000, maximum_mv=28_000, pdp_w=140)
ASKS_AVS = AvsRequest(position=8, voltage_mv=24_000, current_ma=5000)


@pytest.mark.parametrize(
    ("offer", "kind"),
    [
        (FIVE, FixedRequest),
        (VariableSource(minimum_mv=9000, maximum_mv=15_000, current_ma=3000), FixedRequest),
        (BatterySource(minimum_mv=5000, maximum_mv=12_000, power_mw=27_000), BatteryRequest),
        (PPS, PpsRequest),
        (AVS, AvsRequest),
        (SprAvsSource(current_9_to_15_v_ma=3000, current_15_to_20_v_ma=0), AvsRequest),
    ],
)
def test_each_offer_takes_its_kind_of_request(offer: SourceObject, kind: type[Request]) -> None:
    assert request_kind(offer) is kind


def test_an_unknown_object_cannot_be_asked_for() -> None:
    with pytest.raises(NotUnderstood) as refused:
        request_kind(UnknownObject(reserved=0xF0000000))
    assert str(refused.value) == "object 0xf0000000 is of an unknown type; it cannot be asked for"


def test_the_same_word_means_what_the_offer_makes_of_it() -> None:
    word = 0x2003E92C
    assert decode_request(word, [FIVE, FIVE]) == FixedRequest(
        position=2, operating_current_ma=2500, limit_current_ma=3000
    )
    as_pps = decode_request(word, [FIVE, PPS])
    assert isinstance(as_pps, PpsRequest)
    assert encode_request(as_pps) == word


def test_a_position_beyond_the_list_is_refused() -> None:
    with pytest.raises(NotUnderstood) as refused:
        decode_request(0x2003E92C, [FIVE])
    assert str(refused.value) == "the request is for position 2; the list has 1 to 1"


def test_positions_have_three_bits_until_r3_0() -> None:
    nine = FixedRequest(position=9, operating_current_ma=1000, limit_current_ma=1000)
    assert encode_request(nine) == 0x90019064
    with pytest.raises(NotUnderstood) as refused:
        encode_request(nine, Revision.R3_0)
    assert str(refused.value) == (
        "request for a fixed or variable supply: position is 9; 0 to 7 in steps of 1"
    )


def test_give_back_ends_with_r3_0() -> None:
    request = FixedRequest(
        position=1, operating_current_ma=1000, limit_current_ma=500, give_back=True
    )
    assert encode_request(request, Revision.R3_0) == 0x18019032
    with pytest.raises(NotUnderstood) as refused:
        encode_request(request, Revision.R3_1)
    assert str(refused.value) == (
        "request for a fixed or variable supply: give_back is True; R3.1 has no such field"
    )


def test_adjustable_voltage_goes_in_steps_of_100_mv() -> None:
    with pytest.raises(NotUnderstood) as refused:
        encode_request(AvsRequest(position=5, voltage_mv=12_025, current_ma=3000))
    assert str(refused.value) == (
        "request for an adjustable supply: voltage_mv is 12025; 0 to 102300 mV in steps of 100 mV"
    )


def test_programmable_voltage_has_one_bit_more_since_r3_1() -> None:
    high = PpsRequest(position=1, voltage_mv=40_960, current_ma=1000)
    encode_request(high, Revision.R3_1)
    with pytest.raises(NotUnderstood) as refused:
        encode_request(high, Revision.R3_0)
    assert str(refused.value) == (
        "request for a programmable supply: voltage_mv is 40960; 0 to 40940 mV in steps of 20 mV"
    )


def test_an_epr_request_carries_a_copy_of_the_object() -> None:
    request_word, copy = encode_epr_request(ASKS_AVS, AVS)
    assert request_word >> 28 == 8
    assert decode_source(copy) == AVS


def test_an_epr_request_is_refused() -> None:
    with pytest.raises(NotUnderstood) as refused:
        encode_epr_request(ASKS_AVS, AVS, Revision.R3_0)
    assert str(refused.value) == "EPR_Request: there is none in R3.0; it came with R3.1"
    with pytest.raises(NotUnderstood) as refused:
        encode_epr_request(ASKS_AVS, FIVE)
    assert str(refused.value) == (
        "request for an adjustable supply: the object at position 8 is a fixed supply (source); "
        "it takes a request for a fixed or variable supply"
    )
