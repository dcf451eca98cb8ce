"""Message headers: names and refusals."""

import pytest

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_message import (
    ExtendedHeader,
    Header,
    decode_extended_header,
    decode_header,
    encode_extended_header,
    encode_header,
)


def header(message_type: int, data_objects: int = 0, *, extended: bool = False) -> Header:
    return Header(
        message_type=message_type,
        dfp=True,
        specification_revision=2,
        source=True,
        message_id=3,
        data_objects=data_objects,
        extended=extended,
    )


@pytest.mark.parametrize(
    ("got", "name"),
    [
        (header(1), "GoodCRC"),
        (header(6), "PS_RDY"),
        (header(1, 4), "Source_Capabilities"),
        (header(2, 1), "Request"),
        (header(17, 2, extended=True), "EPR_Source_Capabilities"),
        (header(30, 1), "data message of type 30"),
    ],
)
def test_the_type_is_named_with_the_count_of_objects(got: Header, name: str) -> None:
    assert got.name == name


def test_a_header_bit_by_bit() -> None:
    # 4 objects, id 3, source, R3.x, DFP, type 1: 0_100_011_1_10_1_00001 (arithmetic).
    assert encode_header(header(1, 4)) == 0b0100_0111_1010_0001
    assert decode_header(0b0100_0111_1010_0001) == header(1, 4)


def test_an_extended_header_bit_by_bit() -> None:
    # Chunked, chunk 2, 60 bytes: 1_0010_0_0_000111100 (arithmetic).
    got = ExtendedHeader(data_size=60, chunk_number=2)
    assert encode_extended_header(got) == 0b1001_0000_0011_1100
    assert decode_extended_header(0b1001_0010_0011_1100).reserved == 1 << 9


def test_a_header_that_does_not_fit_is_refused() -> None:
    with pytest.raises(NotUnderstood) as refused:
        encode_header(header(1, 8))
    assert str(refused.value) == "message header: data_objects is 8; 0 to 7 in steps of 1"
    with pytest.raises(NotUnderstood) as refused:
        decode_header(0x10000)
    assert str(refused.value) == "65536 is not a word of 16 bits; 0 to 0xffff"
