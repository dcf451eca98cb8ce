"""Power data objects of USB Power Delivery: what a source offers and what a sink wants.

Every kind and every revision from 2.0, taken apart and put together. Values are whole mV,
mA, mW; `pd_fields` says why. The layouts come from open-source headers that cite the
standard; `SOURCES` has the status of each.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar, TypeAlias

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Layout, Revision, Word, bits_set, check_word
from sinkside.standards.pd_sink_objects import (
    BatterySink,
    EprAvsSink,
    FixedSink,
    PpsSink,
    SprAvsSink,
    VariableSink,
)
from sinkside.standards.pd_source_objects import (
    BatterySource,
    EprAvsSource,
    FixedSource,
    PpsSource,
    SprAvsSource,
    VariableSource,
)
from sinkside.working import Source, Status

__all__ = [
    "SOURCES",
    "BatterySink",
    "BatterySource",
    "EprAvsSink",
    "EprAvsSource",
    "FixedSink",
    "FixedSource",
    "PpsSink",
    "PpsSource",
    "Revision",
    "SinkObject",
    "SourceObject",
    "SprAvsSink",
    "SprAvsSource",
    "UnknownObject",
    "VariableSink",
    "VariableSource",
    "decode_sink",
    "decode_source",
    "encode",
    "remarks",
]


@dataclass(frozen=True, kw_only=True)
class UnknownObject(Word):
    """An object of a type that the revision does not know; the whole word is in `reserved`."""

    LAYOUT: ClassVar[Layout] = Layout(name="object of an unknown type", entries=())


SourceObject: TypeAlias = (
    FixedSource
    | VariableSource
    | BatterySource
    | PpsSource
    | EprAvsSource
    | SprAvsSource
    | UnknownObject
)
SinkObject: TypeAlias = (
    FixedSink | VariableSink | BatterySink | PpsSink | EprAvsSink | SprAvsSink | UnknownObject
)

_SOURCE_KINDS: Mapping[int, type[SourceObject]] = {
    0b0000: FixedSource,
    0b0100: BatterySource,
    0b1000: VariableSource,
    0b1100: PpsSource,
    0b1101: EprAvsSource,
    0b1110: SprAvsSource,
}
_SINK_KINDS: Mapping[int, type[SinkObject]] = {
    0b0000: FixedSink,
    0b0100: BatterySink,
    0b1000: VariableSink,
    0b1100: PpsSink,
    0b1101: EprAvsSink,
    0b1110: SprAvsSink,
}
_HEADERS = Source(
    document="USB Power Delivery, as given in Zephyr usbc_pd.h and Linux include/linux/usb/pd.h",
    clause="6.4.1",
    status=Status.READ,
)
_PATCHES = Source(
    document="USB Power Delivery R3.2, as given in the Linux patches for SPR AVS of October 2025",
    clause="Tables 6.15 to 6.17",
    status=Status.READ,
)

SOURCES: Mapping[str, Source] = {
    "FixedSource": _HEADERS,
    "FixedSink": _HEADERS,
    "VariableSource": _HEADERS,
    "VariableSink": _HEADERS,
    "BatterySource": _HEADERS,
    "BatterySink": _HEADERS,
    "PpsSource": _HEADERS,
    "PpsSink": _HEADERS,
    "EprAvsSource": _PATCHES,
    "EprAvsSink": _PATCHES,
    "SprAvsSource": _PATCHES,
    "SprAvsSink": _PATCHES,
    "UnknownObject": _HEADERS,
}


def encode(obj: SourceObject | SinkObject, revision: Revision = Revision.R3_2) -> int:
    """The word of an object.

    Parameters
    ----------
    obj
        A power data object.
    revision
        Decides which kinds and which fields there are.

    Raises
    ------
    NotUnderstood
        A value is off its grid or outside its field, or the revision has no such kind or field.
        Nothing is ever masked.

    Examples
    --------
    >>> f"{encode(FixedSource(voltage_mv=9000, current_ma=3000)):#010x}"
    '0x0002d12c'
    """
    if revision < obj.LAYOUT.since:
        raise NotUnderstood(
            f"{obj.LAYOUT.name}: there is none in {revision}",
            f"it came with {obj.LAYOUT.since}",
            code="pd-kind",
        )
    return obj.pack(revision)


def decode_source(word: int, revision: Revision = Revision.R3_2) -> SourceObject:
    """The object that a source's word stands for.

    Parameters
    ----------
    word
        32 bits.
    revision
        Decides which kinds and which fields there are.

    Returns
    -------
    SourceObject
        Encodes to the same word; `UnknownObject` for a type that the revision does not know.

    Raises
    ------
    NotUnderstood
        Not a word of 32 bits.
    """
    check_word(word)
    kind = _SOURCE_KINDS.get(_type_bits(word), UnknownObject)
    if revision < kind.LAYOUT.since:
        return UnknownObject(reserved=word)
    return kind.unpack(word, revision)


def decode_sink(word: int, revision: Revision = Revision.R3_2) -> SinkObject:
    """The object that a sink's word stands for.

    Parameters
    ----------
    word
        32 bits.
    revision
        Decides which kinds and which fields there are.

    Returns
    -------
    SinkObject
        Encodes to the same word; `UnknownObject` for a type that the revision does not know.

    Raises
    ------
    NotUnderstood
        Not a word of 32 bits.
    """
    check_word(word)
    kind = _SINK_KINDS.get(_type_bits(word), UnknownObject)
    if revision < kind.LAYOUT.since:
        return UnknownObject(reserved=word)
    return kind.unpack(word, revision)


def remarks(obj: SourceObject | SinkObject) -> tuple[str, ...]:
    """What is odd about an object that was decoded, one sentence each; empty if nothing is.

    Parameters
    ----------
    obj
        A power data object.
    """
    if isinstance(obj, UnknownObject):
        return (f"object {obj.reserved:#010x} is of an unknown type",)
    said = []
    if obj.reserved:
        bits = ", ".join(str(bit) for bit in bits_set(obj.reserved))
        said.append(f"{obj.LAYOUT.name}: reserved bits set: {bits}")
    if not isinstance(obj, FixedSource | FixedSink | SprAvsSource | SprAvsSink) and (
        obj.minimum_mv > obj.maximum_mv
    ):
        said.append(
            f"{obj.LAYOUT.name}: minimum {obj.minimum_mv} mV is above maximum {obj.maximum_mv} mV"
        )
    return tuple(said)


def _type_bits(word: int) -> int:
    """The type, or for an augmented object its two sub-type bits as well."""
    kind = word >> 30
    return word >> 28 if kind == 0b11 else kind << 2
