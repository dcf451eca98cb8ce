"""The words of a cable's mark: layouts put together by hand, and round trips.

Layouts: Linux include/linux/usb/pd_vdo.h (read); every word here is arithmetic from them. Bit 17
since R3.1: published readings of marked cables (read). Words of real cables stand in
`tests/reference/test_hosts_sysfs.py`.
"""

import random

import pytest

from sinkside.faults import NotUnderstood
from sinkside.hosts.cable_words import (
    CURRENT_A,
    HIGHEST_V,
    ActiveCable,
    Connector,
    PassiveCable,
    ProductType,
    cable_word,
    is_captive,
    must_be_r3,
    product_type,
)
from sinkside.standards.pd_fields import Revision

# Hardware 1, firmware 2, version 0, to C, latency 2, 50 V, 5 A, speed 3.
PASSIVE_50_V = 1 << 28 | 2 << 24 | 2 << 18 | 1 << 17 | 2 << 13 | 3 << 9 | 2 << 5 | 3
# Version 3, captive, latency 1, termination 3, 20 V, no SBU, 3 A, power, far controller, speed 2.
ACTIVE_3_A = 3 << 21 | 3 << 18 | 1 << 13 | 3 << 11 | 0 << 9 | 1 << 8 | 1 << 5 | 1 << 4 | 1 << 3 | 2
# R2.0: to A, every data pair can be turned (bits 10:7), 3 A, power goes through.
OLD_3_A = 0 << 18 | 1 << 13 | 0b1111 << 7 | 1 << 5 | 1 << 4 | 1


def test_a_passive_cable() -> None:
    assert cable_word(PASSIVE_50_V, ProductType.PASSIVE, Revision.R3_1) == PassiveCable(
        hardware=1, firmware=2, epr_capable=True, latency=2, voltage=3, current=2, speed=3
    )


def test_an_active_cable() -> None:
    assert cable_word(ACTIVE_3_A, ProductType.ACTIVE, Revision.R3_0) == ActiveCable(
        version=3,
        connector=Connector.CAPTIVE,
        termination=3,
        current=1,
        speed=2,
        without_sbu=True,
        carries_power=True,
        second_controller=True,
    )


def test_an_old_cable_is_not_read_by_the_new_layout() -> None:
    old = cable_word(OLD_3_A, ProductType.PASSIVE, Revision.R2_0)
    assert old == PassiveCable(
        connector=Connector.TYPE_A, directions=0b1111, current=1, speed=1, carries_power=True
    )
    # The same word by the new layout would be a cable for 50 V.
    wrong = cable_word(OLD_3_A, ProductType.PASSIVE, Revision.R3_0)
    assert (HIGHEST_V[old.voltage], HIGHEST_V[wrong.voltage]) == (20.0, 50.0)


@pytest.mark.parametrize(("code", "amps"), [(0, None), (1, 3.0), (2, 5.0), (3, None)])
@pytest.mark.parametrize("kind", [ProductType.PASSIVE, ProductType.ACTIVE])
@pytest.mark.parametrize("revision", list(Revision))
def test_the_current_stands_in_the_same_place_everywhere(
    code: int, amps: float | None, kind: ProductType, revision: Revision
) -> None:
    assert cable_word(code << 5, kind, revision).current_a == amps
    assert CURRENT_A.get(code) == amps


@pytest.mark.parametrize("kind", [PassiveCable, ActiveCable])
@pytest.mark.parametrize("revision", list(Revision))
def test_every_word_packs_again(
    kind: type[PassiveCable] | type[ActiveCable], revision: Revision
) -> None:
    draw = random.Random(1)
    for word in [0, 0xFFFF_FFFF, *(draw.getrandbits(32) for _ in range(200))]:
        assert kind.unpack(word, revision).pack(revision) == word


@pytest.mark.parametrize("word", [-1, 1 << 32])
def test_what_is_no_word(word: int) -> None:
    with pytest.raises(NotUnderstood) as caught:
        cable_word(word, ProductType.PASSIVE, Revision.R3_0)
    assert str(caught.value) == f"{word} is not a word of 32 bits; 0 to 0xffffffff"


@pytest.mark.parametrize(
    ("header", "kind", "captive"),
    [
        *((0x1800_0000, 3, False), (0x2000_0000, 4, False), (0x3000_0000, 6, False)),
        *((3 << 23 | 3 << 21, 0, True), (3 << 23 | 2 << 21, 0, False), (0, 0, False)),
    ],
)
def test_an_id_header(header: int, kind: int, captive: bool) -> None:
    assert (product_type(header), is_captive(header)) == (kind, captive)


@pytest.mark.parametrize(
    ("header", "word", "sure"),
    [
        *((0x1800_0000, OLD_3_A, False), (0x1860_0000, OLD_3_A, True)),
        *((0x1800_0000, PASSIVE_50_V, True), (0x1800_0000, ACTIVE_3_A, True)),
        *((0x1800_0000, 3 << 9 | 2 << 5, False), (0, 0, False)),
    ],
)
def test_a_word_that_can_only_be_a_newer_one(header: int, word: int, sure: bool) -> None:
    assert must_be_r3(header, word) is sure
