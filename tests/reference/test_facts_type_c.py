"""USB Type-C: what cables may carry and lose, and what resistors on CC say, worked out by hand.

The standard was not at hand: limits of cables are from secondary notes on Type-C R2.0, pull-ups
were read in a maker's manual, the sink's comparators in a datasheet. Sums are arithmetic.
"""

import pytest

from sinkside.standards import pd_contract, usb_ports
from sinkside.standards import type_c_cable as cable
from sinkside.standards.type_c_cc import Advertised, advertised, cc_v, divider_v
from sinkside.standards.type_c_two_resistors import (
    Board,
    Cable,
    cable_matrix,
    expected_ohms,
    outcome,
)

DEFAULT, A1_5, A3_0 = Advertised.DEFAULT, Advertised.A1_5, Advertised.A3_0


@pytest.mark.parametrize(
    ("mark", "amps", "volts", "watts"),
    [
        (cable.EMarker.NONE, 3.0, 20.0, 60.0),
        (cable.EMarker.THREE_AMP, 3.0, 20.0, 60.0),
        (cable.EMarker.FIVE_AMP, 5.0, 20.0, 100.0),
        (cable.EMarker.EPR, 5.0, 48.0, 240.0),
    ],
)
def test_what_a_cable_may_carry(
    mark: cable.EMarker, amps: float, volts: float, watts: float
) -> None:
    """Every cable carries 3 A at up to 20 V; more wants a mark (secondary notes)."""
    limit = cable.cable_current_limit(mark)
    assert (limit.current_a, limit.nominal_v) == (amps, volts)
    assert limit.current_a * limit.nominal_v == watts


@pytest.mark.parametrize(
    ("rated_a", "vbus_mohm", "ground_mohm", "loop_mohm"),
    [(3.0, 166.7, 83.3, 250.0), (5.0, 100.0, 50.0, 150.0)],
)
def test_the_ohms_of_a_lawful_cable(
    rated_a: float, vbus_mohm: float, ground_mohm: float, loop_mohm: float
) -> None:
    """Type-C 4.4.1 (secondary notes): 500 mV on VBUS and 250 mV on ground at the rated current,
    contacts included: 0.5/3, 0.25/3, 0.75/3 Ω."""
    assert 1e3 * cable.vbus_limit_ohm(rated_a) == pytest.approx(vbus_mohm, abs=0.05)
    assert 1e3 * cable.ground_limit_ohm(rated_a) == pytest.approx(ground_mohm, abs=0.05)
    assert 1e3 * cable.loop_limit_ohm(rated_a) == pytest.approx(loop_mohm, abs=0.05)


def test_half_an_ampere_through_a_cable_for_three() -> None:
    """0.5 A · 250 mΩ = 125 mV both ways; the same as USB 2.0 allows for one conductor."""
    assert 0.5 * cable.loop_limit_ohm(3.0) == pytest.approx(0.125)
    assert cable.USB2_CONDUCTOR_DROP_V == 0.125


def test_mated_contacts_of_one_pole() -> None:
    """Type-C 3.7.8.1 (secondary notes): 40 mΩ new, 50 mΩ after stress; four side by side are
    40/4 = 10 mΩ and 50/4 = 12.5 mΩ."""
    assert 1e3 * cable.mated_contacts_ohm(0.040) == pytest.approx(10.0)
    assert 1e3 * cable.mated_contacts_ohm(0.050) == pytest.approx(12.5)
    assert (cable.CONTACT_INITIAL_OHM, cable.CONTACT_AGED_OHM) == (0.040, 0.050)


def test_extended_range_cables() -> None:
    """Works at 53.65 V, parts for 63 V (press on Type-C 2.1: secondary)."""
    assert (cable.EPR_FUNCTION_V, cable.EPR_PART_RATING_V) == (53.65, 63.0)
    assert cable.EPR_FUNCTION_V > 1.05 * 48.0


@pytest.mark.parametrize(
    ("nominal_v", "sink_v"),
    [
        (5.0, 4.00),  # 4.75 − 0.75
        (9.0, 7.80),  # 8.55 − 0.75
        (12.0, 10.65),  # 11.40 − 0.75
        (15.0, 13.50),  # 14.25 − 0.75
        (20.0, 18.25),  # 19.00 − 0.75
        (28.0, 25.85),  # 26.60 − 0.75
        (36.0, 33.45),  # 34.20 − 0.75
        (48.0, 44.85),  # 45.60 − 0.75
    ],
)
def test_the_least_at_the_sink(nominal_v: float, sink_v: float) -> None:
    """0.95·V − 0.75 V (5 % and 750 mV read in an open driver, then arithmetic)."""
    assert pd_contract.sink_minimum_v(nominal_v) == pytest.approx(sink_v)


@pytest.mark.parametrize(
    ("level", "volts"),
    [
        (DEFAULT, 0.408),  # 80 µA · 5.1 kΩ
        (A1_5, 0.918),  # 180 µA · 5.1 kΩ
        (A3_0, 1.683),  # 330 µA · 5.1 kΩ
    ],
)
def test_volts_of_a_current_source_on_rd(level: Advertised, volts: float) -> None:
    """Currents read in a maker's manual, 5.1 kΩ from notes on Type-C R2.0, Table 4-25."""
    assert cc_v(level, 5100.0) == pytest.approx(volts)
    assert advertised(volts) == (level,)


@pytest.mark.parametrize(
    ("level", "corner_v"),
    [
        (DEFAULT, 0.2938),  # 64 µA (−20 %) · 4590 Ω (−10 %)
        (DEFAULT, 0.5386),  # 96 µA (+20 %) · 5610 Ω (+10 %)
        (A1_5, 0.7601),  # 165.6 µA (−8 %) · 4590 Ω
        (A1_5, 1.0906),  # 194.4 µA (+8 %) · 5610 Ω
        (A3_0, 1.3935),  # 303.6 µA (−8 %) · 4590 Ω
        (A3_0, 1.9994),  # 356.4 µA (+8 %) · 5610 Ω
    ],
)
def test_the_corners_of_tolerance_mean_one_thing(level: Advertised, corner_v: float) -> None:
    """The bands 0.25–0.61, 0.70–1.16 and 1.31–2.04 V (edges read in a datasheet, 2.04 V from
    memory) take in every corner of ±20 % and ±8 % on Rp and ±10 % on Rd (from memory)."""
    assert advertised(corner_v) == (level,)


@pytest.mark.parametrize(
    ("supply_v", "pull_up_ohm", "volts", "level"),
    [
        (5.0, 56e3, 0.4173, DEFAULT),  # 5·5.1/61.1
        (5.0, 22e3, 0.9410, A1_5),  # 5·5.1/27.1
        (5.0, 10e3, 1.6887, A3_0),  # 5·5.1/15.1
        (3.3, 36e3, 0.4095, DEFAULT),  # 3.3·5.1/41.1
        (3.3, 12e3, 0.9842, A1_5),  # 3.3·5.1/17.1
        (3.3, 4.7e3, 1.7173, A3_0),  # 3.3·5.1/9.8
    ],
)
def test_pull_up_resistors(
    supply_v: float, pull_up_ohm: float, volts: float, level: Advertised
) -> None:
    """The six resistors, read in a maker's manual, as dividers with 5.1 kΩ."""
    assert divider_v(supply_v, pull_up_ohm, 5100.0) == pytest.approx(volts, abs=1e-4)
    assert advertised(volts) == (level,)


def test_a_wrong_pull_up_in_a_lead_from_type_a() -> None:
    """Such a lead must use 56 kΩ to VBUS. One with 10 kΩ says 3 A of a port that may have 0.5 A:
    at 5.5 V 5.5·5.1/15.1 = 1.858 V, still in the band of 3 A."""
    assert divider_v(5.5, 10e3, 5100.0) == pytest.approx(1.858, abs=1e-3)
    assert advertised(1.858) == (A3_0,)


def test_volts_between_the_bands_mean_either() -> None:
    """A sink's comparators trip anywhere in 0.61–0.70 V and 1.16–1.31 V (read in a datasheet)."""
    assert set(advertised(0.65)) == {DEFAULT, A1_5}
    assert set(advertised(1.23)) == {A1_5, A3_0}


def test_volts_that_mean_nothing() -> None:
    """Under 0.15 V nothing is attached (datasheet); over 2.04 V no level reaches (memory)."""
    assert advertised(0.10) == ()
    assert advertised(2.40) == ()


def test_ohms_of_a_board_that_is_right() -> None:
    """One 5.1 kΩ ±10 % on each pin: 4590 to 5610 Ω; two in a row between the pins."""
    found = expected_ohms(Board.RIGHT)
    assert (found.cc1.low_ohm, found.cc1.high_ohm) == pytest.approx((4590.0, 5610.0))
    assert (found.cc2.low_ohm, found.cc2.high_ohm) == pytest.approx((4590.0, 5610.0))
    assert (found.between.low_ohm, found.between.high_ohm) == pytest.approx((9180.0, 11220.0))


def test_a_board_that_is_right_works_in_every_cable() -> None:
    assert all(cell.vbus for cell in cable_matrix(Board.RIGHT))


@pytest.mark.parametrize("turned", [False, True])
def test_one_resistor_shared_by_both_pins(turned: bool) -> None:
    """In a marked cable 5.1 kΩ beside Ra of 1 kΩ is 5100·1000/6100 = 836 Ω, within 800–1200 Ω:
    both pins read Ra, an audio accessory, and no VBUS comes (secondary notes). A plain cable
    joins one CC only, and sees 5.1 kΩ."""
    marked = outcome(Board.SHARED, Cable.MARKED, turned=turned)
    assert not marked.vbus
    assert marked.seen.low_ohm <= 836.0 <= marked.seen.high_ohm
    assert outcome(Board.SHARED, Cable.PLAIN, turned=turned).vbus


@pytest.mark.parametrize("turned", [False, True])
def test_no_resistor_gets_nothing_from_a_type_c_source(turned: bool) -> None:
    """A source's VBUS is cold until it sees Rd; a type A port is live always (secondary)."""
    assert not outcome(Board.NONE, Cable.PLAIN, turned=turned).vbus
    assert not outcome(Board.NONE, Cable.MARKED, turned=turned).vbus
    assert outcome(Board.NONE, Cable.A_TO_C, turned=turned).vbus


@pytest.mark.parametrize("board", [Board.CC1_ONLY, Board.CC2_ONLY])
def test_one_pin_only_works_one_way_up(board: Board) -> None:
    """One Rd per CC pin: the plain cable's one CC meets it one way up, and not the other."""
    ways = [outcome(board, Cable.PLAIN, turned=turned).vbus for turned in (False, True)]
    assert sorted(ways) == [False, True]


def test_what_ports_give_without_a_contract() -> None:
    """Loads of USB 2.0, USB 3, Type-C and BC 1.2 (an encyclopedia entry: secondary); the hub's
    4.40 V from memory."""
    assert (usb_ports.USB2_UNIT_LOAD_A, usb_ports.USB2_CONFIGURED_A) == (0.1, 0.5)
    assert (usb_ports.USB3_UNIT_LOAD_A, usb_ports.USB3_CONFIGURED_A) == (0.15, 0.9)
    assert (usb_ports.TYPE_C_DEFAULT_A, usb_ports.BATTERY_CHARGING_A) == (0.5, 1.5)
    assert (usb_ports.USB2_HOST_LOW_V, usb_ports.USB2_HOST_HIGH_V) == (4.75, 5.25)
    assert usb_ports.USB2_HUB_PORT_LOW_V == 4.40
    assert pd_contract.DEFAULT_SINK_MINIMUM_V == 4.0
