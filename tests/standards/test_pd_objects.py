"""Power data objects: what the encoder refuses, what differs by revision, what is remarked on."""

from dataclasses import replace

import pytest

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_objects import (
    BatterySink,
    BatterySource,
    EprAvsSink,
    EprAvsSource,
    FixedSink,
    FixedSource,
    PpsSink,
    PpsSource,
    Revision,
    SinkObject,
    SourceObject,
    SprAvsSink,
    SprAvsSource,
    UnknownObject,
    VariableSink,
    VariableSource,
    decode_sink,
    decode_source,
    encode,
    remarks,
)

FIVE = FixedSource(voltage_mv=5000, current_ma=3000)


@pytest.mark.parametrize(
    ("obj", "revision", "text"),
    [
        (
            replace(FIVE, voltage_mv=60_000),
            Revision.R3_2,
            "fixed supply (source): voltage_mv is 60000; 0 to 51150 mV in steps of 50 mV",
        ),
        (
            replace(FIVE, voltage_mv=5020),
            Revision.R3_2,
            "fixed supply (source): voltage_mv is 5020; 0 to 51150 mV in steps of 50 mV",
        ),
        (
            replace(FIVE, current_ma=-10),
            Revision.R3_2,
            "fixed supply (source): current_ma is -10; 0 to 10230 mA in steps of 10 mA",
        ),
        (
            replace(FIVE, peak_current=4),
            Revision.R3_2,
            "fixed supply (source): peak_current is 4; 0 to 3 in steps of 1",
        ),
        (
            replace(FIVE, epr_capable=True),
            Revision.R3_0,
            "fixed supply (source): epr_capable is True; R3.0 has no such field",
        ),
        (
            replace(FIVE, unchunked=True),
            Revision.R2_0,
            "fixed supply (source): unchunked is True; R2.0 has no such field",
        ),
        (
            replace(FIVE, reserved=1 << 21),
            Revision.R3_2,
            "fixed supply (source): reserved is 0x200000; in R3.2 only 0x400000 is reserved",
        ),
        (
            PpsSource(minimum_mv=3300, maximum_mv=26_000, current_ma=3000),
            Revision.R3_2,
            "programmable supply (source): maximum_mv is 26000; 0 to 25500 mV in steps of 100 mV",
        ),
        (
            PpsSource(minimum_mv=3300, maximum_mv=11_000, current_ma=3000),
            Revision.R2_0,
            "programmable supply (source): there is none in R2.0; it came with R3.0",
        ),
        (
            BatterySource(minimum_mv=5000, maximum_mv=12_000, power_mw=27_100),
            Revision.R3_0,
            "battery supply (source): power_mw is 27100; 0 to 255750 mW in steps of 250 mW",
        ),
        (
            EprAvsSource(minimum_mv=15_000, maximum_mv=48_000, pdp_w=256),
            Revision.R3_1,
            "EPR adjustable supply (source): pdp_w is 256; 0 to 255 W in steps of 1 W",
        ),
        (
            SprAvsSource(current_9_to_15_v_ma=3005, current_15_to_20_v_ma=0),
            Revision.R3_2,
            "SPR adjustable supply (source): current_9_to_15_v_ma is 3005; "
            "0 to 10230 mA in steps of 10 mA",
        ),
        (
            FixedSink(voltage_mv=5000, operating_current_ma=500, fast_role_swap=1),
            Revision.R2_0,
            "fixed supply (sink): fast_role_swap is 1; R2.0 has no such field",
        ),
    ],
)
def test_the_encoder_refuses(obj: SourceObject | SinkObject, revision: Revision, text: str) -> None:
    with pytest.raises(NotUnderstood) as refused:
        encode(obj, revision)
    assert str(refused.value) == text


def test_the_encoder_takes_whole_numbers_and_plain_truth_only() -> None:
    with pytest.raises(NotUnderstood) as refused:
        encode(replace(FIVE, voltage_mv=5000.0))  # type: ignore[arg-type]
    assert str(refused.value) == (
        "fixed supply (source): voltage_mv is 5000.0; 0 to 51150 mV in steps of 50 mV"
    )
    with pytest.raises(NotUnderstood) as refused:
        encode(replace(FIVE, usb_suspend=1))  # type: ignore[arg-type]
    assert str(refused.value) == "fixed supply (source): usb_suspend is 1; True or False"


@pytest.mark.parametrize("word", [-1, 2**32, True, 1.0])
def test_the_decoder_refuses_what_is_no_word(word: int) -> None:
    with pytest.raises(NotUnderstood) as refused:
        decode_source(word)
    assert str(refused.value) == f"{word!r} is not a word of 32 bits; 0 to 0xffffffff"


def test_bit_23_is_a_flag_since_r3_1_and_reserved_before() -> None:
    word = encode(FIVE) | 1 << 23
    assert decode_source(word, Revision.R3_1) == replace(FIVE, epr_capable=True)
    assert decode_source(word, Revision.R3_0) == replace(FIVE, reserved=1 << 23)


@pytest.mark.parametrize(
    ("word", "kind", "since"),
    [
        (0xC0DC213C, PpsSource, Revision.R3_0),
        (0xD7C096F0, EprAvsSource, Revision.R3_1),
        (0xE404B1F4, SprAvsSource, Revision.R3_2),
    ],
)
def test_an_augmented_object_is_unknown_before_its_revision(
    word: int, kind: type, since: Revision
) -> None:
    for revision in Revision:
        got = decode_source(word, revision)
        assert type(got) is (kind if revision >= since else UnknownObject)


@pytest.mark.parametrize(
    ("top", "kind", "since"),
    [
        (0x0, FixedSink, Revision.R2_0),
        (0x4, BatterySink, Revision.R2_0),
        (0x7, BatterySink, Revision.R2_0),
        (0x8, VariableSink, Revision.R2_0),
        (0xC, PpsSink, Revision.R3_0),
        (0xD, EprAvsSink, Revision.R3_1),
        (0xE, SprAvsSink, Revision.R3_2),
    ],
)
def test_kinds_of_sink_objects(top: int, kind: type, since: Revision) -> None:
    for revision in Revision:
        got = decode_sink(top << 28, revision)
        assert type(got) is (kind if revision >= since else UnknownObject)


def test_sink_objects_bit_by_bit() -> None:
    # Arithmetic: 240 W, 15.0 V, 48.0 V; then 5 A above 15 V and 3 A below.
    assert decode_sink(0xD << 28 | 480 << 17 | 150 << 8 | 240) == EprAvsSink(
        minimum_mv=15_000, maximum_mv=48_000, pdp_w=240
    )
    assert decode_sink(0xE << 28 | 300 << 10 | 500) == SprAvsSink(
        current_9_to_15_v_ma=3000, current_15_to_20_v_ma=5000
    )
    # The two bits in which sources tell their peak current are reserved for sinks.
    got = decode_sink(0xD << 28 | 0b11 << 26)
    assert got.reserved == 0b11 << 26


def test_the_reserved_augmented_type_is_kept_whole() -> None:
    got = decode_source(0xF1234567)
    assert got == UnknownObject(reserved=0xF1234567)
    assert encode(got) == 0xF1234567
    assert remarks(got) == ("object 0xf1234567 is of an unknown type",)


def test_power_limited_is_a_flag_of_sources_only() -> None:
    word = 0xC0DC213C | 1 << 27
    source, sink = decode_source(word), decode_sink(word)
    assert isinstance(source, PpsSource)
    assert source.power_limited
    assert isinstance(sink, PpsSink)
    assert sink.reserved == 1 << 27


def test_remarks() -> None:
    assert remarks(FIVE) == ()
    assert remarks(replace(FIVE, reserved=1 << 22)) == (
        "fixed supply (source): reserved bits set: 22",
    )
    assert remarks(VariableSource(minimum_mv=12_000, maximum_mv=9000, current_ma=1000)) == (
        "variable supply (source): minimum 12000 mV is above maximum 9000 mV",
    )
