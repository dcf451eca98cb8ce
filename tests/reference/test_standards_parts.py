"""Barrel plugs, preferred values and fuses against published tables."""

import pytest

from sinkside.standards.barrel import JEITA_RATED_A, JEITA_SIZES, Fit, Jack, Plug, jack_for, mates
from sinkside.standards.fuse_gates import chip_fuse_rating_a, pptc_hold_ratio, pulse_ratio
from sinkside.standards.preferred_values import SERIES, nearest


def test_jeita_bands_are_joined_and_rated_alike() -> None:
    # JEITA RC-5320A as given in published tables (secondary).
    assert [(s.low_v, s.high_v) for s in JEITA_SIZES] == [
        (0.0, 3.15),
        (3.15, 6.3),
        (6.3, 10.5),
        (10.5, 13.5),
        (13.5, 18.0),
    ]
    assert [str(s.plug) for s in JEITA_SIZES] == [
        "2.35×0.7 mm",
        "4×1.7 mm",
        "4.75×1.7 mm",
        "5.5×3.3 mm",
        "6.5×4.4 mm",
    ]
    assert JEITA_RATED_A == 2.0


@pytest.mark.parametrize(
    ("number", "hole_mm", "pin_mm"), [(1, 2.75, 0.65), (2, 4.4, 1.65), (3, 5.15, 1.65)]
)
def test_jeita_jacks(number: int, hole_mm: float, pin_mm: float) -> None:
    # JEITA RC-5320A as given in published tables (secondary); rows 1 to 3 give the jack.
    assert jack_for(JEITA_SIZES[number - 1].plug) == Jack(hole_mm=hole_mm, pin_mm=pin_mm)


def test_the_two_look_alikes() -> None:
    # Common practice, read in secondary texts: a 2.1 mm plug does not go on a 2.5 mm pin; a
    # 2.5 mm plug goes on a 2.1 mm pin and makes contact now and then.
    small, large = Plug(outer_mm=5.5, inner_mm=2.1), Plug(outer_mm=5.5, inner_mm=2.5)
    assert mates(small, jack_for(large)) is Fit.DOES_NOT_GO_ON
    assert mates(large, jack_for(small)) is Fit.LOOSE


def test_listed_series() -> None:
    # IEC 60063: E3, E6, E12 are every 8th, 4th, 2nd value of E24 (encyclopedia entry, read);
    # the three short lists are written here from memory.
    assert SERIES["E3"] == (1.0, 2.2, 4.7)
    assert SERIES["E6"] == (1.0, 1.5, 2.2, 3.3, 4.7, 6.8)
    assert SERIES["E12"] == (1.0, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2)


def test_where_e24_is_not_the_rounded_power() -> None:
    # IEC 60063 (encyclopedia entry, read): at 2.7 to 4.7 and at 8.2.
    odd = [v for k, v in enumerate(SERIES["E24"]) if v != round(10 ** (k / 24), 1)]
    assert odd == [2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2]


# IEC 60063 E96, written from memory, in hundredths.
E96 = """
100 102 105 107 110 113 115 118 121 124 127 130 133 137 140 143 147 150 154 158 162 165 169 174
178 182 187 191 196 200 205 210 215 221 226 232 237 243 249 255 261 267 274 280 287 294 301 309
316 324 332 340 348 357 365 374 383 392 402 412 422 432 442 453 464 475 487 499 511 523 536 549
562 576 590 604 619 634 649 665 681 698 715 732 750 768 787 806 825 845 866 887 909 931 953 976
"""


def test_computed_series() -> None:
    listed = tuple(int(figures) / 100 for figures in E96.split())
    assert SERIES["E96"] == listed
    assert SERIES["E48"] == listed[::2]


def test_the_resistor_that_a_sink_needs_is_a_preferred_value() -> None:
    # USB Type-C R2.0 Table 4-25 (secondary): Rd is 5.1 kΩ; 56 kΩ, 22 kΩ, 10 kΩ pull up.
    for value_ohm in (5100.0, 56e3, 22e3, 10e3):
        assert nearest(value_ohm) == value_ohm


def test_chip_fuse() -> None:
    # A maker's guide (secondary): 1.5 A at a temperature factor of 0.95 needs 2.255 A.
    assert chip_fuse_rating_a(1.5, 0.95) == pytest.approx(2.255, abs=1e-3)


def test_pulses_and_resettable_fuses() -> None:
    # A maker's guide (pulses, secondary), one maker's derating table (secondary).
    assert [pulse_ratio(n) for n in (100, 1_000, 10_000, 100_000)] == [0.48, 0.38, 0.29, 0.22]
    assert pptc_hold_ratio(40.0) == pytest.approx(0.88)
    assert pptc_hold_ratio(60.0) == pytest.approx(0.71)
