"""The words in which the electronic mark of a cable tells what the cable carries.

A marked cable answers Discover Identity with an ID header and a product type word. The meaning
of bits 10:7 changed between R2.0 and R3.0, from the direction of data pairs to the highest
voltage: read by the wrong revision, a cable for 20 V seems to be one for 50 V.

References
----------
Linux include/linux/usb/pd_vdo.h (read), which gives the words by PD R2.0 and R3.0. That bit 17
says "EPR" since R3.1: published readings of about a dozen marked cables (read); 30 V and 40 V are
out of use since then (from memory).
"""

from dataclasses import dataclass
from enum import IntEnum
from typing import ClassVar

from sinkside.standards.pd_fields import Field, Layout, Revision, Word, flag


class ProductType(IntEnum):
    """What answers from inside a cable, by bits 29:27 of the ID header."""

    PASSIVE = 3
    ACTIVE = 4
    POWERED_DEVICE = 6  # VPD: takes its power from VCONN


class Connector(IntEnum):
    """What the far end of a marked cable is."""

    TYPE_A = 0
    TYPE_B = 1
    TYPE_C = 2
    CAPTIVE = 3


# Code 0 was 1.5 A in R2.0 and "default" later: neither gives a figure to count on.
CURRENT_A = {1: 3.0, 2: 5.0}
HIGHEST_V = {0: 20.0, 1: 30.0, 2: 40.0, 3: 50.0}

_HEAD = (
    Field(name="hardware", low=28, high=31),
    Field(name="firmware", low=24, high=27),
    Field(name="version", low=21, high=23, since=Revision.R3_0),
    Field(name="connector", low=18, high=19),
    flag("epr_capable", 17, since=Revision.R3_1),
    Field(name="latency", low=13, high=16),
    Field(name="termination", low=11, high=12),
    Field(name="directions", low=7, high=10, until=Revision.R2_0),
    Field(name="voltage", low=9, high=10, since=Revision.R3_0),
    Field(name="current", low=5, high=6),
    Field(name="speed", low=0, high=2),
)


@dataclass(frozen=True, kw_only=True)
class _Cable(Word):
    """What both kinds of cable say.

    Parameters
    ----------
    hardware, firmware, version
        Of the cable, and of this word.
    connector
        A `Connector`.
    epr_capable
        Since R3.1.
    latency, termination, speed
        Codes; of no use to power.
    directions
        R2.0 alone: whether the direction of each data pair can be set.
    voltage, current
        Codes of `HIGHEST_V`, since R3.0, and of `CURRENT_A`.
    """

    hardware: int = 0
    firmware: int = 0
    version: int = 0
    connector: int = Connector.TYPE_C
    epr_capable: bool = False
    latency: int = 1
    termination: int = 0
    directions: int = 0
    voltage: int = 0
    current: int
    speed: int = 0

    @property
    def current_a(self) -> float | None:
        """The current that it is marked for, A; None if it names none."""
        return CURRENT_A.get(self.current)


@dataclass(frozen=True, kw_only=True)
class PassiveCable(_Cable):
    """A cable of wires and a mark; the power bits are those of R2.0, where both kinds had them."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="passive cable",
        entries=(
            *_HEAD,
            flag("carries_power", 4, until=Revision.R2_0),
            flag("second_controller", 3, until=Revision.R2_0),
        ),
    )

    carries_power: bool = True
    second_controller: bool = False


@dataclass(frozen=True, kw_only=True)
class ActiveCable(_Cable):
    """A cable with electronics in its data pairs; not every one of them carries power."""

    LAYOUT: ClassVar[Layout] = Layout(
        name="active cable",
        entries=(
            *_HEAD,
            flag("without_sbu", 8, since=Revision.R3_0),
            flag("active_sbu", 7, since=Revision.R3_0),
            flag("carries_power", 4),
            flag("second_controller", 3),
        ),
    )

    without_sbu: bool = False
    active_sbu: bool = False
    carries_power: bool
    second_controller: bool = False


CableWord = PassiveCable | ActiveCable


def product_type(id_header: int) -> int:
    """Bits 29:27 of an ID header; a `ProductType` if a cable sent it."""
    return id_header >> 27 & 0b111


def is_captive(id_header: int) -> bool:
    """Whether the sender of an ID header ends in a plug of its own: bits 22:21, since R3.0."""
    return id_header >> 21 & 0b11 == 0b11


def cable_word(word: int, kind: ProductType, revision: Revision) -> CableWord:
    """Take the first product type word of a cable apart.

    Raises
    ------
    NotUnderstood
        It is no word of 32 bits.

    Examples
    --------
    >>> cable_word(0x000A4643, ProductType.PASSIVE, Revision.R3_1).current_a
    5.0
    """
    if kind is ProductType.ACTIVE:
        return ActiveCable.unpack(word, revision)
    return PassiveCable.unpack(word, revision)


def must_be_r3(id_header: int, word: int) -> bool:
    """Whether a word has bits that R2.0 kept at zero, so that its voltage code can be read."""
    return bool(id_header >> 21 & 0b11 or word >> 21 & 0b111 or word >> 17 & 1)
