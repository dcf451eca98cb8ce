"""Any word, in any revision, comes back bit for bit, and every value that fits comes back equal."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_message import (
    decode_extended_header,
    decode_header,
    encode_extended_header,
    encode_header,
)
from sinkside.standards.pd_objects import (
    BatterySource,
    EprAvsSource,
    FixedSink,
    FixedSource,
    PpsSource,
    SprAvsSource,
    VariableSource,
    decode_sink,
    decode_source,
    encode,
)
from sinkside.standards.pd_requests import (
    AvsRequest,
    BatteryRequest,
    FixedRequest,
    PpsRequest,
    Request,
    decode_request_as,
    encode_request,
    requested_position,
)

# Through bytes: integers of a range come out small, and the kind stands in the highest bits.
WORDS = st.binary(min_size=4, max_size=4).map(lambda b: int.from_bytes(b, "big"))
HALF_WORDS = st.integers(0, 2**16 - 1)
REVISIONS = st.sampled_from(Revision)
REQUESTS = st.sampled_from([FixedRequest, BatteryRequest, PpsRequest, AvsRequest])

pytestmark = pytest.mark.filterwarnings("error")


def grid(step: int, bits: int) -> st.SearchStrategy[int]:
    """Every value that a field of so many bits holds."""
    return st.integers(0, 2**bits - 1).map(lambda count: count * step)


@settings(derandomize=True, max_examples=500)
@given(WORDS, REVISIONS)
def test_any_source_word(word: int, revision: Revision) -> None:
    assert encode(decode_source(word, revision), revision) == word


@settings(derandomize=True, max_examples=500)
@given(WORDS, REVISIONS)
def test_any_sink_word(word: int, revision: Revision) -> None:
    assert encode(decode_sink(word, revision), revision) == word


@settings(derandomize=True, max_examples=500)
@given(WORDS, REVISIONS, REQUESTS)
def test_any_request_word(word: int, revision: Revision, kind: type[Request]) -> None:
    if revision < kind.LAYOUT.since:
        with pytest.raises(NotUnderstood, match="there is none in"):
            decode_request_as(kind, word, revision)
        return
    request = decode_request_as(kind, word, revision)
    assert encode_request(request, revision) == word
    assert request.position == requested_position(word, revision)


@settings(derandomize=True, max_examples=200)
@given(HALF_WORDS)
def test_any_header(word: int) -> None:
    assert encode_header(decode_header(word)) == word
    assert encode_extended_header(decode_extended_header(word)) == word


SOURCE_OBJECTS = st.one_of(
    st.builds(
        FixedSource,
        voltage_mv=grid(50, 10),
        current_ma=grid(10, 10),
        peak_current=grid(1, 2),
        epr_capable=st.booleans(),
        unchunked=st.booleans(),
        dual_role_data=st.booleans(),
        usb_communications=st.booleans(),
        unconstrained=st.booleans(),
        usb_suspend=st.booleans(),
        dual_role_power=st.booleans(),
        reserved=st.just(0),
    ),
    st.builds(
        VariableSource,
        minimum_mv=grid(50, 10),
        maximum_mv=grid(50, 10),
        current_ma=grid(10, 10),
        reserved=st.just(0),
    ),
    st.builds(
        BatterySource,
        minimum_mv=grid(50, 10),
        maximum_mv=grid(50, 10),
        power_mw=grid(250, 10),
        reserved=st.just(0),
    ),
    st.builds(
        PpsSource,
        minimum_mv=grid(100, 8),
        maximum_mv=grid(100, 8),
        current_ma=grid(50, 7),
        power_limited=st.booleans(),
        reserved=st.just(0),
    ),
    st.builds(
        EprAvsSource,
        minimum_mv=grid(100, 8),
        maximum_mv=grid(100, 9),
        pdp_w=grid(1, 8),
        peak_current=grid(1, 2),
        reserved=st.just(0),
    ),
    st.builds(
        SprAvsSource,
        current_9_to_15_v_ma=grid(10, 10),
        current_15_to_20_v_ma=grid(10, 10),
        peak_current=grid(1, 2),
        reserved=st.just(0),
    ),
)


@settings(derandomize=True, max_examples=500)
@given(SOURCE_OBJECTS)
def test_any_source_object(obj: FixedSource) -> None:
    assert decode_source(encode(obj)) == obj


@settings(derandomize=True, max_examples=300)
@given(st.integers(-100, 120_000), st.integers(-100, 20_000))
def test_a_value_is_kept_or_refused_never_changed(voltage_mv: int, current_ma: int) -> None:
    fits = (
        0 <= voltage_mv <= 51150
        and voltage_mv % 50 == 0
        and 0 <= current_ma <= 10230
        and current_ma % 10 == 0
    )
    wanted = FixedSink(voltage_mv=voltage_mv, operating_current_ma=current_ma)
    if fits:
        assert decode_sink(encode(wanted)) == wanted
    else:
        with pytest.raises(NotUnderstood, match="in steps of"):
            encode(wanted)
