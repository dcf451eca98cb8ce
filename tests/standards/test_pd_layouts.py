"""Layouts as a whole: fields lie apart, and each holds as much as its width and no more."""

import pytest

from sinkside.standards.pd_fields import Revision, Word
from sinkside.standards.pd_message import ExtendedHeader, Header
from sinkside.standards.pd_objects import (
    BatterySink,
    BatterySource,
    EprAvsSink,
    EprAvsSource,
    FixedSink,
    FixedSource,
    PpsSink,
    PpsSource,
    SprAvsSink,
    SprAvsSource,
    UnknownObject,
    VariableSink,
    VariableSource,
)
from sinkside.standards.pd_requests import AvsRequest, BatteryRequest, FixedRequest, PpsRequest

KINDS: list[type[Word]] = [
    BatterySink,
    BatterySource,
    EprAvsSink,
    EprAvsSource,
    FixedSink,
    FixedSource,
    PpsSink,
    PpsSource,
    SprAvsSink,
    SprAvsSource,
    UnknownObject,
    VariableSink,
    VariableSource,
    AvsRequest,
    BatteryRequest,
    FixedRequest,
    PpsRequest,
    ExtendedHeader,
    Header,
]


@pytest.mark.parametrize("kind", KINDS, ids=lambda k: k.__name__)
@pytest.mark.parametrize("revision", Revision)
def test_no_two_fields_share_a_bit(kind: type[Word], revision: Revision) -> None:
    layout = kind.LAYOUT
    taken = layout.tag_mask
    for field in layout.at(revision):
        assert not taken & field.mask, field.name
        taken |= field.mask
    assert taken < 1 << layout.width
    assert layout.tag & ~layout.tag_mask == 0
    assert taken ^ layout.reserved_mask(revision) == (1 << layout.width) - 1


@pytest.mark.parametrize(
    ("kind", "revision", "reserved"),
    [
        # USB PD R3.2 Tables 6.8 to 6.17 and 6.4.2, as the headers have them: bits that no field
        # covers, counted by hand.
        (FixedSource, Revision.R3_2, 1 << 22),
        (FixedSource, Revision.R3_0, 0b11 << 22),
        (FixedSource, Revision.R2_0, 0b111 << 22),
        (FixedSink, Revision.R3_2, 0b111 << 20),
        (FixedSink, Revision.R2_0, 0b11111 << 20),
        (VariableSource, Revision.R3_2, 0),
        (VariableSink, Revision.R3_2, 0),
        (BatterySource, Revision.R3_2, 0),
        (BatterySink, Revision.R3_2, 0),
        (PpsSource, Revision.R3_2, 0b11 << 25 | 1 << 16 | 1 << 7),
        (PpsSink, Revision.R3_2, 0b111 << 25 | 1 << 16 | 1 << 7),
        (EprAvsSource, Revision.R3_2, 1 << 16),
        (EprAvsSink, Revision.R3_2, 0b11 << 26 | 1 << 16),
        (SprAvsSource, Revision.R3_2, 0b111111 << 20),
        (SprAvsSink, Revision.R3_2, 0b11111111 << 20),
        (FixedRequest, Revision.R3_2, 1 << 27 | 0b11 << 20),
        (FixedRequest, Revision.R3_0, 1 << 31 | 0b111 << 20),
        (FixedRequest, Revision.R2_0, 1 << 31 | 0b1111 << 20),
        (BatteryRequest, Revision.R3_2, 1 << 27 | 0b11 << 20),
        (PpsRequest, Revision.R3_2, 1 << 27 | 1 << 21 | 0b11 << 7),
        (PpsRequest, Revision.R3_0, 1 << 31 | 1 << 27 | 0b111 << 20 | 0b11 << 7),
        (AvsRequest, Revision.R3_2, 1 << 27 | 1 << 21 | 0b1111 << 7),
        (Header, Revision.R3_2, 0),
        (ExtendedHeader, Revision.R3_2, 1 << 9),
    ],
)
def test_reserved_bits(kind: type[Word], revision: Revision, reserved: int) -> None:
    assert kind.LAYOUT.reserved_mask(revision) == reserved
