"""Request data objects of USB Power Delivery: what a sink asks of an offer.

The layout depends on the kind of object asked for, so a request is read together with the
list of offers. Values are whole mV, mA, mW; `pd_fields` says why.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar, TypeAlias

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Field, Layout, Revision, Word, check_word, flag
from sinkside.standards.pd_objects import (
    BatterySource,
    EprAvsSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
    UnknownObject,
    encode,
)
from sinkside.working import Source, Status

# Three bits until R3.0, four for the longer lists of R3.1.
_POSITION = (
    Field(name="position", low=28, high=30, until=Revision.R3_0),
    Field(name="position", low=28, high=31, since=Revision.R3_1),
)
_FLAGS = (
    flag("epr_capable", 22, since=Revision.R3_1),
    flag("unchunked", 23, since=Revision.R3_0),
    flag("no_usb_suspend", 24),
    flag("usb_communications", 25),
    flag("capability_mismatch", 26),
)
# Deprecated, and zero, since R3.1.
_GIVE_BACK = flag("give_back", 27, until=Revision.R3_0)
_CURRENT = Field(name="current_ma", low=0, high=6, step=50, unit="mA")


@dataclass(frozen=True, kw_only=True)
class FixedRequest(Word):
    """A request for a fixed or a variable supply; mA in steps of 10.

    Parameters
    ----------
    position
        Of the offer in its list, from 1.
    operating_current_ma
        What the sink draws.
    limit_current_ma
        The most that it may come to draw; with `give_back`, the least that it can make do with.
    give_back
        Until R3.0.
    capability_mismatch
        The offer is less than the sink needs.
    usb_communications, no_usb_suspend
    unchunked
        Since R3.0.
    epr_capable
        Since R3.1.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="request for a fixed or variable supply",
        entries=(
            Field(name="limit_current_ma", low=0, high=9, step=10, unit="mA"),
            Field(name="operating_current_ma", low=10, high=19, step=10, unit="mA"),
            *_FLAGS,
            _GIVE_BACK,
            *_POSITION,
        ),
    )

    position: int
    operating_current_ma: int
    limit_current_ma: int
    give_back: bool = False
    capability_mismatch: bool = False
    usb_communications: bool = False
    no_usb_suspend: bool = False
    unchunked: bool = False
    epr_capable: bool = False


@dataclass(frozen=True, kw_only=True)
class BatteryRequest(Word):
    """A request for a battery supply; mW in steps of 250, flags as in `FixedRequest`."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="request for a battery supply",
        entries=(
            Field(name="limit_power_mw", low=0, high=9, step=250, unit="mW"),
            Field(name="operating_power_mw", low=10, high=19, step=250, unit="mW"),
            *_FLAGS,
            _GIVE_BACK,
            *_POSITION,
        ),
    )

    position: int
    operating_power_mw: int
    limit_power_mw: int
    give_back: bool = False
    capability_mismatch: bool = False
    usb_communications: bool = False
    no_usb_suspend: bool = False
    unchunked: bool = False
    epr_capable: bool = False


@dataclass(frozen=True, kw_only=True)
class PpsRequest(Word):
    """A request for a programmable supply (PPS); mV in steps of 20, mA of 50.

    The flags are those of `FixedRequest`. The voltage has 11 bits in R3.0, 12 since R3.1.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="request for a programmable supply",
        since=Revision.R3_0,
        entries=(
            _CURRENT,
            Field(name="voltage_mv", low=9, high=19, step=20, unit="mV", until=Revision.R3_0),
            Field(name="voltage_mv", low=9, high=20, step=20, unit="mV", since=Revision.R3_1),
            *_FLAGS,
            *_POSITION,
        ),
    )

    position: int
    voltage_mv: int
    current_ma: int
    capability_mismatch: bool = False
    usb_communications: bool = False
    no_usb_suspend: bool = False
    unchunked: bool = False
    epr_capable: bool = False


@dataclass(frozen=True, kw_only=True)
class AvsRequest(Word):
    """A request for an adjustable supply (AVS), of either range; mV in steps of 100, mA of 50.

    The flags are those of `FixedRequest`. The field counts 25 mV, its two lowest bits are zero;
    so here it counts 100 mV, and those two bits are reserved.
    """

    LAYOUT: ClassVar[Layout] = Layout(
        name="request for an adjustable supply",
        since=Revision.R3_1,
        entries=(
            _CURRENT,
            Field(name="voltage_mv", low=11, high=20, step=100, unit="mV"),
            *_FLAGS,
            *_POSITION,
        ),
    )

    position: int
    voltage_mv: int
    current_ma: int
    capability_mismatch: bool = False
    usb_communications: bool = False
    no_usb_suspend: bool = False
    unchunked: bool = False
    epr_capable: bool = False


Request: TypeAlias = FixedRequest | BatteryRequest | PpsRequest | AvsRequest

_READ = Source(
    document="USB Power Delivery, as given in Zephyr usbc_pd.h and Linux include/linux/usb/pd.h",
    clause="6.4.2",
    status=Status.READ,
)
_HEADER = Source(
    document="USB Power Delivery R3.1, as given in an open-source PD header",
    clause="6.4.2",
    status=Status.SECONDARY,
)

SOURCES: Mapping[str, Source] = {
    "FixedRequest": _READ,
    "BatteryRequest": _READ,
    "PpsRequest": _READ,  # 12 bits of voltage: _HEADER
    "AvsRequest": _HEADER,
    "encode_epr_request": Source(
        document="USB Power Delivery R3.1", clause="6.4.9", status=Status.MEMORY
    ),
}


def request_kind(offer: SourceObject) -> type[Request]:
    """The kind of request that an offer takes.

    Parameters
    ----------
    offer
        An object of the source's list.

    Raises
    ------
    NotUnderstood
        The offer is of an unknown type: it must not be asked for.
    """
    match offer:
        case UnknownObject():
            raise NotUnderstood(
                f"object {offer.reserved:#010x} is of an unknown type",
                "it cannot be asked for",
                code="pd-kind",
            )
        case BatterySource():
            return BatteryRequest
        case PpsSource():
            return PpsRequest
        case EprAvsSource() | SprAvsSource():
            return AvsRequest
        case _:
            return FixedRequest


def encode_request(request: Request, revision: Revision = Revision.R3_2) -> int:
    """The word of a request.

    Parameters
    ----------
    request
        What the sink asks.
    revision
        Decides which fields there are, and how wide.

    Raises
    ------
    NotUnderstood
        A value is off its grid or outside its field, or the revision has no such kind or field.

    Examples
    --------
    >>> asked = PpsRequest(position=5, voltage_mv=9000, current_ma=3000)
    >>> f"{encode_request(asked):#010x}"
    '0x5003843c'
    """
    _check_since(type(request), revision)
    return request.pack(revision)


def decode_request(
    word: int, offers: Sequence[SourceObject], revision: Revision = Revision.R3_2
) -> Request:
    """The request that a word stands for.

    Parameters
    ----------
    word
        32 bits.
    offers
        The source's list that it answers, in order: it decides what the bits mean.
    revision
        Decides which fields there are, and how wide.

    Raises
    ------
    NotUnderstood
        Not a word of 32 bits, or it asks for a position that the list does not have.
    """
    check_word(word)
    position = requested_position(word, revision)
    if not 1 <= position <= len(offers):
        raise NotUnderstood(
            f"the request is for position {position}",
            f"the list has 1 to {len(offers)}",
            code="pd-position",
        )
    return decode_request_as(request_kind(offers[position - 1]), word, revision)


def decode_request_as(kind: type[Request], word: int, revision: Revision) -> Request:
    """The request of a given kind that a word stands for; any position.

    Parameters
    ----------
    kind
        From `request_kind`.
    word
        32 bits.
    revision
        Decides which fields there are, and how wide.

    Raises
    ------
    NotUnderstood
        Not a word of 32 bits, or the revision has no such kind.
    """
    _check_since(kind, revision)
    return kind.unpack(word, revision)


def requested_position(word: int, revision: Revision = Revision.R3_2) -> int:
    """The position that a request's word asks for.

    Parameters
    ----------
    word
        32 bits.
    revision
        Three bits hold it until R3.0, four since R3.1.
    """
    bits = 0b1111 if revision >= Revision.R3_1 else 0b111
    return word >> 28 & bits


def encode_epr_request(
    request: Request, offer: SourceObject, revision: Revision = Revision.R3_2
) -> tuple[int, int]:
    """The two words of an EPR_Request: the request, and a copy of the object it asks for.

    Parameters
    ----------
    request
        What the sink asks.
    offer
        The object at the position that it asks for.
    revision
        R3.1 or later.

    Raises
    ------
    NotUnderstood
        The revision has no EPR mode, or the request is not of the offer's kind.

    References
    ----------
    USB PD R3.1 6.4.9, from memory.
    """
    if revision < Revision.R3_1:
        raise NotUnderstood(
            f"EPR_Request: there is none in {revision}", "it came with R3.1", code="pd-kind"
        )
    kind = request_kind(offer)
    if not isinstance(request, kind):
        raise NotUnderstood(
            f"{request.LAYOUT.name}: the object at position {request.position} "
            f"is a {offer.LAYOUT.name}",
            f"it takes a {kind.LAYOUT.name}",
            code="pd-kind",
        )
    return encode_request(request, revision), encode(offer, revision)


def _check_since(kind: type[Request], revision: Revision) -> None:
    if revision < kind.LAYOUT.since:
        raise NotUnderstood(
            f"{kind.LAYOUT.name}: there is none in {revision}",
            f"it came with {kind.LAYOUT.since}",
            code="pd-kind",
        )
