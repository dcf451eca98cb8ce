"""Headers of USB Power Delivery messages, and the names of the messages."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import ClassVar

from sinkside.standards.pd_fields import Field, Layout, Revision, Word, flag
from sinkside.working import Source, Status

CHUNK_BYTES = 26
"""Most data of an extended message in one chunk."""

EXTENDED_BYTES = 260
"""Most data of an extended message."""

SPECIFICATION_REVISIONS: Mapping[int, str] = {0: "1.0", 1: "2.0", 2: "3.x"}
"""By the code in the header; 3 is reserved. The header does not tell 3.0 from 3.2."""

CONTROL_MESSAGES: Mapping[int, str] = {
    1: "GoodCRC", 2: "GotoMin", 3: "Accept", 4: "Reject", 6: "PS_RDY", 7: "Get_Source_Cap",
    8: "Get_Sink_Cap", 12: "Wait", 13: "Soft_Reset", 14: "Data_Reset",
    15: "Data_Reset_Complete", 16: "Not_Supported",
}  # fmt: skip
"""By type, of messages without data objects; those that matter here."""

DATA_MESSAGES: Mapping[int, str] = {
    1: "Source_Capabilities", 2: "Request", 4: "Sink_Capabilities", 6: "Alert",
    9: "EPR_Request", 10: "EPR_Mode", 11: "Source_Info", 15: "Vendor_Defined",
}  # fmt: skip
"""By type, of messages with data objects."""

EXTENDED_MESSAGES: Mapping[int, str] = {
    17: "EPR_Source_Capabilities", 18: "EPR_Sink_Capabilities",
}  # fmt: skip
"""By type, of extended messages."""

_HEADER = "USB Power Delivery R3.x, as given in Zephyr usbc_pd.h and Linux include/linux/usb/pd.h"


def _read(clause: str) -> Source:
    return Source(document=_HEADER, clause=clause, status=Status.READ)


SOURCES: Mapping[str, Source] = {
    "Header": _read("Table 6-1"),
    "ExtendedHeader": _read("Table 6-3"),
    "CHUNK_BYTES": _read("Table 6-3"),
    "EXTENDED_BYTES": _read("Table 6-3"),
    "SPECIFICATION_REVISIONS": _read("Table 6-1"),
    "CONTROL_MESSAGES": _read("Table 6-5"),
    "DATA_MESSAGES": _read("Table 6-6"),
    "EXTENDED_MESSAGES": _read("Table 6-48"),
}


@dataclass(frozen=True, kw_only=True)
class Header(Word):
    """The header of a message between port partners, 16 bits.

    Parameters
    ----------
    message_type
        A key of one of the three tables of names.
    dfp
        The sender is the downstream-facing port (the host's side of the data).
    specification_revision
        A key of `SPECIFICATION_REVISIONS`.
    source
        The sender is the source of power.
    message_id
        0 to 7.
    data_objects
        How many follow; 0 in a control message.
    extended
        An extended header follows.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="message header",
        width=16,
        entries=(
            Field(name="message_type", low=0, high=4),
            flag("dfp", 5),
            Field(name="specification_revision", low=6, high=7),
            flag("source", 8),
            Field(name="message_id", low=9, high=11),
            Field(name="data_objects", low=12, high=14),
            flag("extended", 15),
        ),
    )

    message_type: int
    dfp: bool
    specification_revision: int
    source: bool
    message_id: int
    data_objects: int = 0
    extended: bool = False

    @property
    def name(self) -> str:
        """The message's name, or its type where the tables have none."""
        if self.extended:
            kind, names = "extended", EXTENDED_MESSAGES
        elif self.data_objects:
            kind, names = "data", DATA_MESSAGES
        else:
            kind, names = "control", CONTROL_MESSAGES
        return names.get(self.message_type, f"{kind} message of type {self.message_type}")


@dataclass(frozen=True, kw_only=True)
class ExtendedHeader(Word):
    """The second header of an extended message, 16 bits.

    Parameters
    ----------
    data_size
        Bytes of the whole message.
    request_chunk
        The sender asks for a chunk.
    chunk_number
        Of this chunk, from 0.
    chunked
        The message comes in chunks.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="extended message header",
        width=16,
        since=Revision.R3_0,
        entries=(
            Field(name="data_size", low=0, high=8),
            flag("request_chunk", 10),
            Field(name="chunk_number", low=11, high=14),
            flag("chunked", 15),
        ),
    )

    data_size: int
    request_chunk: bool = False
    chunk_number: int = 0
    chunked: bool = True


def decode_header(word: int) -> Header:
    """The header that 16 bits stand for.

    Parameters
    ----------
    word
        16 bits.

    Raises
    ------
    NotUnderstood
        Not a word of 16 bits.
    """
    return Header.unpack(word, Revision.R3_2)


def encode_header(header: Header) -> int:
    """The 16 bits of a header.

    Parameters
    ----------
    header
        The header.

    Raises
    ------
    NotUnderstood
        A value is outside its field.
    """
    return header.pack(Revision.R3_2)


def decode_extended_header(word: int) -> ExtendedHeader:
    """The extended header that 16 bits stand for.

    Parameters
    ----------
    word
        16 bits.

    Raises
    ------
    NotUnderstood
        Not a word of 16 bits.
    """
    return ExtendedHeader.unpack(word, Revision.R3_2)


def encode_extended_header(header: ExtendedHeader) -> int:
    """The 16 bits of an extended header.

    Parameters
    ----------
    header
        The header.

    Raises
    ------
    NotUnderstood
        A value is outside its field.
    """
    return header.pack(Revision.R3_2)
