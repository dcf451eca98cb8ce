"""Words of USB Power Delivery, put together bit by bit by hand from the layouts of the headers.

Layouts were read in open-source headers (fields, units, bits); sums beside each word are
arithmetic. The extended range's request of two objects, and the order of lists, from memory.
"""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.standards import pd_message as message
from sinkside.standards import pd_objects as objects
from sinkside.standards import pd_requests as requests
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_lists import avs_limit_ma, list_faults, request_faults
from sinkside.standards.pd_overload import peak_ratio
from sinkside.standards.pd_sink_objects import FixedSink
from sinkside.standards.pd_source_objects import (
    BatterySource,
    EprAvsSource,
    FixedSource,
    PpsSource,
    SprAvsSource,
    VariableSource,
)

# volts/50 mV « 10, amps/10 mA:
SOURCES = [
    (FixedSource(voltage_mv=5000, current_ma=2400), 0x000190F0),  # 100«10 = 19000, 240 = F0
    (FixedSource(voltage_mv=9000, current_ma=2220), 0x0002D0DE),  # 180«10 = 2D000, 222 = DE
    (FixedSource(voltage_mv=12000, current_ma=1500), 0x0003C096),  # 240«10 = 3C000, 150 = 96
    (FixedSource(voltage_mv=28000, current_ma=5000), 0x0008C1F4),  # 560«10 = 8C000, 500 = 1F4
    (FixedSource(voltage_mv=36000, current_ma=5000), 0x000B41F4),  # 720«10 = B4000
    (FixedSource(voltage_mv=48000, current_ma=5000), 0x000F01F4),  # 960«10 = F0000
    # Peak current 1 in bits 21:20 is 100000; unconstrained is bit 27, 8000000.
    (
        FixedSource(voltage_mv=5000, current_ma=3000, peak_current=1, unconstrained=True),
        0x0811912C,
    ),
    # Type 10, 80000000; most 400«20 = 19000000, least 100«10 = 19000, 200 = C8.
    (VariableSource(minimum_mv=5000, maximum_mv=20000, current_ma=2000), 0x990190C8),
    # Type 01, 40000000; most 400«20 = 19000000, least 200«10 = 32000, 60 W/250 mW = 240 = F0.
    (BatterySource(minimum_mv=10000, maximum_mv=20000, power_mw=60000), 0x590320F0),
    # C0000000; 16 V/100 mV = 160«17 = 1400000; 33«8 = 2100; 3 A/50 mA = 60 = 3C.
    (PpsSource(minimum_mv=3300, maximum_mv=16000, current_ma=3000), 0xC140213C),
    # 210«17 = 1A40000; power limited, bit 27, 8000000: C0 + 08 + 01A4…
    (
        PpsSource(minimum_mv=3300, maximum_mv=21000, current_ma=3000, power_limited=True),
        0xC9A4213C,
    ),
    # D0000000; 280«17 = 2300000; 150«8 = 9600; 140 = 8C.
    (EprAvsSource(minimum_mv=15000, maximum_mv=28000, pdp_w=140), 0xD230968C),
    # E0000000; the published sample 4000 mA and 3350 mA: 400«10 = 64000, 335 = 14F.
    (SprAvsSource(current_9_to_15_v_ma=4000, current_15_to_20_v_ma=3350), 0xE006414F),
]


@pytest.mark.parametrize(("offer", "word"), SOURCES, ids=lambda value: str(value)[:40])
def test_words_of_a_source(offer: objects.SourceObject, word: int) -> None:
    assert objects.encode(offer) == word
    assert objects.decode_source(word) == offer


def test_words_read_in_a_source_file() -> None:
    """0xE404B1F4: E0000000, peak 1«26 = 4000000, 4B1F4 = 300«10 + 500: 3 A to 15 V and 5 A to
    20 V. 0xD7C096F0: D0000000, 480«17 = 3C00000 and 1«26 = 4000000, 150«8 = 9600,
    F0 = 240: 15 V to 48 V, 240 W, peak 1."""
    assert objects.decode_source(0xE404B1F4) == SprAvsSource(
        current_9_to_15_v_ma=3000, current_15_to_20_v_ma=5000, peak_current=1
    )
    assert objects.decode_source(0xD7C096F0) == EprAvsSource(
        minimum_mv=15000, maximum_mv=48000, pdp_w=240, peak_current=1
    )


def test_a_sink_s_word() -> None:
    """12 V, 1.5 A: 3C096; higher capability, bit 28: 10000000; fast role swap 2 in 24:23,
    1000000."""
    sink = FixedSink(
        voltage_mv=12000, operating_current_ma=1500, higher_capability=True, fast_role_swap=2
    )
    assert objects.encode(sink) == 0x1103C096
    assert objects.decode_sink(0x1103C096) == sink


# Positions count from 28 up; the limit stands in 9:0 and the operating current in 19:10.
REQUESTS = [
    # 3«28, 300«10 = 4B000, 300 = 12C.
    (
        requests.FixedRequest(position=3, operating_current_ma=3000, limit_current_ma=3000),
        0x3004B12C,
    ),
    # 1«28, mismatch bit 26 = 4000000, no suspend bit 24 = 1000000, 50«10 = C800, 90 = 5A.
    (
        requests.FixedRequest(
            position=1,
            operating_current_ma=500,
            limit_current_ma=900,
            capability_mismatch=True,
            no_usb_suspend=True,
        ),
        0x1500C85A,
    ),
    # 27 W/250 mW = 108 = 6C; 108«10 = 1B000.
    (
        requests.BatteryRequest(position=2, operating_power_mw=27000, limit_power_mw=27000),
        0x2001B06C,
    ),
    # 5.9 V/20 mV = 295«9 = 24E00; 2 A/50 mA = 40 = 28.
    (requests.PpsRequest(position=6, voltage_mv=5900, current_ma=2000), 0x60024E28),
    # 21 V/20 mV = 1050«9 = 83400; 3 A = 60 = 3C.
    (requests.PpsRequest(position=7, voltage_mv=21000, current_ma=3000), 0x7008343C),
    # 28 V/25 mV = 1120«9 = 8C000, its two lowest bits nought; 5 A = 100 = 64; position 8.
    (requests.AvsRequest(position=8, voltage_mv=28000, current_ma=5000), 0x8008C064),
]


@pytest.mark.parametrize(("request_", "word"), REQUESTS, ids=lambda value: str(value)[:40])
def test_words_of_a_request(request_: requests.Request, word: int) -> None:
    assert requests.encode_request(request_) == word
    assert requests.decode_request_as(type(request_), word, Revision.R3_2) == request_
    assert requests.requested_position(word) == request_.position


def test_three_bits_of_position_before_r3_1() -> None:
    """30:28 up to R3.0, 31:28 since R3.1 (two headers differ, both read): 0x9… is 1 or 9."""
    assert requests.requested_position(0x9004B12C, Revision.R3_0) == 1
    assert requests.requested_position(0x9004B12C, Revision.R3_1) == 9


def test_a_request_in_the_extended_range() -> None:
    """Two objects: the request and a copy of what it asks for (from memory)."""
    offer = FixedSource(voltage_mv=28000, current_ma=5000)
    request = requests.FixedRequest(
        position=8, operating_current_ma=5000, limit_current_ma=5000, epr_capable=True
    )
    # 8«28, EPR bit 22 = 400000, 500«10 = 7D000, 500 = 1F4.
    assert requests.encode_epr_request(request, offer) == (0x8047D1F4, 0x0008C1F4)


VOLTS = "0 to 51150 mV in steps of 50 mV"  # ten bits: 1023·50
AMPS = "0 to 10230 mA in steps of 10 mA"  # ten bits: 1023·10


@pytest.mark.parametrize(
    ("offer", "allowed"),
    [
        (FixedSource(voltage_mv=60000, current_ma=3000), VOLTS),  # 1200 − 1024 = 176: 8.8 V
        (FixedSource(voltage_mv=5030, current_ma=3000), VOLTS),
        (FixedSource(voltage_mv=-50, current_ma=3000), VOLTS),
        (FixedSource(voltage_mv=5000, current_ma=3005), AMPS),
        (FixedSource(voltage_mv=5000, current_ma=10240), AMPS),  # 1024 in ten bits is nought
        # Seven bits of 50 mA: 127·50; eight of 100 mV: 255·100; eight of 1 W.
        (
            PpsSource(minimum_mv=3300, maximum_mv=11000, current_ma=2220),
            "0 to 6350 mA in steps of 50 mA",
        ),
        (
            PpsSource(minimum_mv=3350, maximum_mv=11000, current_ma=2000),
            "0 to 25500 mV in steps of 100 mV",
        ),
        (
            EprAvsSource(minimum_mv=15000, maximum_mv=28000, pdp_w=256),
            "0 to 255 W in steps of 1 W",
        ),
    ],
)
def test_what_does_not_fit_is_refused_and_never_masked(
    offer: objects.SourceObject, allowed: str
) -> None:
    """Practice from memory: an encoder that masks turns 60 000 mV into 8800 mV without a word."""
    with pytest.raises(NotUnderstood) as refused:
        objects.encode(offer)
    assert str(refused.value).endswith(f"; {allowed}")


@pytest.mark.parametrize(
    ("request_", "allowed"),
    [
        # Twelve bits of 20 mV: 4095·20; ten of 100 mV (their two lowest bits are nought).
        (
            requests.PpsRequest(position=2, voltage_mv=9010, current_ma=3000),
            "0 to 81900 mV in steps of 20 mV",
        ),
        (
            requests.AvsRequest(position=8, voltage_mv=28050, current_ma=5000),
            "0 to 102300 mV in steps of 100 mV",
        ),
        (
            requests.FixedRequest(position=16, operating_current_ma=100, limit_current_ma=100),
            "0 to 15 in steps of 1",
        ),
    ],
)
def test_a_request_off_its_grid_is_refused(request_: requests.Request, allowed: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        requests.encode_request(request_)
    assert str(refused.value).endswith(f"; {allowed}")


def test_headers() -> None:
    """Source_Capabilities with five objects, R3: 1 + DFP 20 + 2«6 = 80 + source 100 + 5«12 =
    5000: 51A1. GoodCRC of a sink, number 3: 1 + 80 + 3«9 = 600: 681. Request, one object, number
    2: 2 + 80 + 400 + 1000: 1482."""
    assert message.decode_header(0x51A1) == message.Header(
        message_type=1,
        dfp=True,
        specification_revision=2,
        source=True,
        message_id=0,
        data_objects=5,
    )
    names = [message.decode_header(word).name for word in (0x51A1, 0x0681, 0x1482)]
    assert names == ["Source_Capabilities", "GoodCRC", "Request"]


def test_extended_headers() -> None:
    """Eleven objects of four bytes are 44 = 2C, chunked 8000: 802C, and with 26 bytes a chunk a
    second one is asked for: 400 + 1«11 = 800 + 8000: 8C00."""
    assert message.decode_extended_header(0x802C) == message.ExtendedHeader(data_size=44)
    asks = message.ExtendedHeader(data_size=0, request_chunk=True, chunk_number=1)
    assert message.encode_extended_header(asks) == 0x8C00
    assert (message.CHUNK_BYTES, message.EXTENDED_BYTES) == (26, 260)


FIVE = FixedSource(voltage_mv=5000, current_ma=3000)
NINE = FixedSource(voltage_mv=9000, current_ma=3000)
VARIABLE = VariableSource(minimum_mv=9000, maximum_mv=15000, current_ma=3000)
BATTERY = BatterySource(minimum_mv=5000, maximum_mv=12000, power_mw=27000)
PPS = PpsSource(minimum_mv=3300, maximum_mv=11000, current_ma=3000)


def test_a_list_in_order() -> None:
    """5 V first; fixed ones ascending, battery, variable, then programmable ones (memory)."""
    assert list_faults((FIVE, NINE, BATTERY, VARIABLE, PPS)) == ()


@pytest.mark.parametrize(
    "offers",
    [
        (NINE, FIVE),
        (NINE,),
        (FIVE, PPS, NINE),
        (FIVE, VARIABLE, BATTERY),
        (FIVE, FixedSource(voltage_mv=15000, current_ma=3000), NINE),
        (FIVE, NINE, PPS, PPS, PPS, PPS, PPS, PPS),
    ],
)
def test_lists_out_of_order_or_too_long(offers: tuple[objects.SourceObject, ...]) -> None:
    """At most seven objects (read in a header); the order from memory."""
    assert list_faults(offers)


def test_requests_beyond_the_offer() -> None:
    within = requests.FixedRequest(position=2, operating_current_ma=3000, limit_current_ma=3000)
    beyond = requests.FixedRequest(position=2, operating_current_ma=3010, limit_current_ma=3010)
    absent = requests.FixedRequest(position=3, operating_current_ma=100, limit_current_ma=100)
    assert request_faults(within, (FIVE, NINE)) == ()
    assert request_faults(beyond, (FIVE, NINE))
    assert request_faults(absent, (FIVE, NINE))
    high = requests.PpsRequest(position=2, voltage_mv=12000, current_ma=1000)
    assert request_faults(high, (FIVE, PPS))


@pytest.mark.parametrize(
    ("voltage_mv", "most_ma"),
    [
        (28800, 5000),  # 144/28.8 = 5.000 A
        (28900, 4950),  # 4.983 A, in whole steps of 50 mA
        (30000, 4800),  # 144/30
        (36000, 4000),  # 144/36
        (20000, 5000),  # 7.2 A, but never more than 5 A
    ],
)
def test_an_adjustable_offer_of_144_w(voltage_mv: int, most_ma: int) -> None:
    """I = min(5 A, PDP/V) (a trade page and test-lab notes: secondary)."""
    offer = EprAvsSource(minimum_mv=15000, maximum_mv=36000, pdp_w=144)
    assert avs_limit_ma(offer, voltage_mv) == most_ma


@pytest.mark.parametrize(
    ("code", "seconds", "ratio"),
    [
        (0, 1e-3, 1.0),
        (1, 1e-3, 1.5),
        (1, 2e-3, 1.25),
        (1, 10e-3, 1.1),
        (2, 1e-3, 2.0),
        (2, 2e-3, 1.5),
        (2, 10e-3, 1.25),
        (3, 1e-3, 2.0),
        (3, 2e-3, 1.75),
        (3, 10e-3, 1.5),
        (3, 11e-3, 1.0),
    ],
)
def test_short_overloads(code: int, seconds: float, ratio: float) -> None:
    """Peak-current codes of a fixed supply, read in a header: 1, 2 and 10 ms."""
    assert peak_ratio(code, seconds) == ratio
