"""Words of USB Power Delivery against known values.

Two are independent, read in an open-source file that was not used to write the codec. The
others are arithmetic from the tables of USB PD (6.4.1, 6.4.2), redone here by hand.
"""

from dataclasses import replace

import pytest

from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_objects import (
    BatterySource,
    EprAvsSource,
    FixedSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
    VariableSource,
    decode_source,
    encode,
)
from sinkside.standards.pd_requests import (
    AvsRequest,
    FixedRequest,
    PpsRequest,
    Request,
    decode_request_as,
    encode_request,
)


def fixed(voltage_mv: int, current_ma: int) -> FixedSource:
    return FixedSource(voltage_mv=voltage_mv, current_ma=current_ma)


# Read in an open-source file (status: secondary).
INDEPENDENT: list[tuple[int, SourceObject]] = [
    (
        0xE404B1F4,
        SprAvsSource(current_9_to_15_v_ma=3000, current_15_to_20_v_ma=5000, peak_current=1),
    ),
    (0xD7C096F0, EprAvsSource(minimum_mv=15_000, maximum_mv=48_000, pdp_w=240, peak_current=1)),
]

# Arithmetic.
WORDS: list[tuple[int, SourceObject]] = [
    (0x0001912C, fixed(5000, 3000)),
    (0x0002D12C, fixed(9000, 3000)),
    (0x0003C12C, fixed(12_000, 3000)),
    (0x0004B12C, fixed(15_000, 3000)),
    (0x00064145, fixed(20_000, 3250)),
    (0x000641F4, fixed(20_000, 5000)),
    (0xC0DC213C, PpsSource(minimum_mv=3300, maximum_mv=11_000, current_ma=3000)),
    (0xC1A43264, PpsSource(minimum_mv=5000, maximum_mv=21_000, current_ma=5000)),
    (0x92C2D12C, VariableSource(minimum_mv=9000, maximum_mv=15_000, current_ma=3000)),
    (0x4F01906C, BatterySource(minimum_mv=5000, maximum_mv=12_000, power_mw=27_000)),
]

# Arithmetic.
REQUESTS: list[tuple[int, Request]] = [
    (0x2003E92C, FixedRequest(position=2, operating_current_ma=2500, limit_current_ma=3000)),
    (0x5003843C, PpsRequest(position=5, voltage_mv=9000, current_ma=3000)),
    (0x5003C03C, AvsRequest(position=5, voltage_mv=12_000, current_ma=3000)),
]


@pytest.mark.parametrize(("word", "obj"), [*INDEPENDENT, *WORDS])
def test_power_data_objects(word: int, obj: SourceObject) -> None:
    assert encode(obj, Revision.R3_2) == word
    assert decode_source(word, Revision.R3_2) == obj


@pytest.mark.parametrize(("word", "request_"), REQUESTS)
def test_request_data_objects(word: int, request_: Request) -> None:
    assert encode_request(request_, Revision.R3_2) == word
    assert decode_request_as(type(request_), word, Revision.R3_2) == request_


@pytest.mark.parametrize(
    ("flag", "bit"),
    [
        # USB PD 6.4.2: read in Zephyr usbc_pd.h, but for bit 22 (R3.1) in an open-source PD
        # header (secondary).
        ("epr_capable", 22),
        ("unchunked", 23),
        ("no_usb_suspend", 24),
        ("usb_communications", 25),
        ("capability_mismatch", 26),
    ],
)
def test_flags_of_requests(flag: str, bit: int) -> None:
    for word, request_ in REQUESTS:
        flagged = decode_request_as(type(request_), word | 1 << bit, Revision.R3_2)
        assert getattr(flagged, flag) is True
        assert getattr(request_, flag) is False
        assert encode_request(flagged) == word | 1 << bit


@pytest.mark.parametrize(
    ("flag", "bit"),
    [
        # USB PD R3.2 Tables 6.8 and 6.10, read in Zephyr usbc_pd.h; bit 23 (R3.1) in an
        # open-source PD header (secondary).
        ("epr_capable", 23),
        ("unchunked", 24),
        ("dual_role_data", 25),
        ("usb_communications", 26),
        ("unconstrained", 27),
        ("usb_suspend", 28),
        ("dual_role_power", 29),
    ],
)
def test_flags_of_the_first_object(flag: str, bit: int) -> None:
    assert encode(replace(fixed(5000, 3000), **{flag: True})) == 0x0001912C | 1 << bit


def test_power_limited() -> None:
    # USB PD R3.2 Table 6.13, read in Zephyr usbc_pd.h.
    limited = PpsSource(minimum_mv=3300, maximum_mv=11_000, current_ma=3000, power_limited=True)
    assert encode(limited) == 0xC0DC213C | 1 << 27


def test_sixty_volts_do_not_become_eight_point_eight() -> None:
    # 60 000 / 50 = 1200, and 1200 masked to ten bits is 176, which is 8 800 mV (arithmetic).
    assert decode_source((60_000 // 50 & 0x3FF) << 10 | 300) == fixed(8800, 3000)
    with pytest.raises(ValueError, match="voltage_mv is 60000"):
        encode(fixed(60_000, 3000))
