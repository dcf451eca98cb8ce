"""What a device draws, and how hot it may get: shares of the plate, the meter, the old brick.

A device draws 0.3 to 1 × its plate current when steady and 1 to 2 × at the peak; the amps of a
brick are only an upper bound (common practice, no source).
"""

import pytest
from tests.site.devices import BARREL, NINE_V, ends, surveyed

from sinkside.faults import Faulty
from sinkside.quantity import Basis

LINEAR = "inside: {{is: linear regulator, part: {}, in_front: nothing{}}}"
LIVED = "brick: {{open: 13.6 V (measured), loaded: {} V at {} (measured)}}"


@pytest.mark.parametrize(
    ("lines", "steady", "peak"),
    [
        ((NINE_V, BARREL), (0.15, 0.5), (0.5, 1.0)),
        (('plate: "DC IN 9V 4.5W"', BARREL), (0.15, 0.5), (0.5, 1.0)),
        ((BARREL, 'brick: {plate: "OUTPUT 9V⎓ 300mA"}'), (0.0, 0.3), (0.0, 0.3)),
        ((BARREL,), (0.02, 3.0), (0.02, 3.0)),
        ((NINE_V, BARREL, "draws: {peak: 0.6..0.9 A (datasheet)}"), (0.15, 0.5), (0.6, 0.9)),
        (
            (NINE_V, BARREL, "draws: {steady: 340 mA (measured), peak: 500 mA (measured)}"),
            (0.34, 0.34),
            (0.5, 0.5),
        ),
    ],
)
def test_current(
    lines: tuple[str, ...], steady: tuple[float, float], peak: tuple[float, float]
) -> None:
    found = surveyed(*lines)
    assert (ends(found.steady_a), ends(found.peak_a)) == (steady, peak)
    assert (found.steady_a.name, found.peak_a.name) == ("d/steady current", "d/peak current")


def test_a_small_steady_current_does_not_argue_away_the_peak_of_the_plate() -> None:
    # 100 mA while idle, and 2 A on the plate: the motor has not been heard yet.
    found = surveyed('plate: "DC IN 12V⎓ 2A"', BARREL, "draws: {steady: 100 mA (measured)}")
    assert found.peak_a.high >= 2.0


def test_a_peak_on_the_plate_is_not_the_whole_truth() -> None:
    found = surveyed('plate: "DC IN 12V⎓ 1A PEAK 3A"', BARREL)
    assert found.peak_a.high >= 3.0
    # An assumed value has a spread; a printed one rests on the plate.
    assert found.peak_a.low < found.peak_a.high or found.peak_a.basis is Basis.PLATE


def test_a_peak_under_the_steady_current_is_a_contradiction() -> None:
    found = surveyed(NINE_V, BARREL, "draws: {steady: 600 mA (measured), peak: 100 mA (measured)}")
    assert found.conflicts
    assert found.peak_a.high >= 0.6


def test_the_amps_of_a_look_alike_brick_bound_nothing() -> None:
    found = surveyed(BARREL, 'brick: {plate: "OUTPUT 9V⎓ 100mA", original: no}')
    assert found.steady_a.high == 3.0


def test_constant_power_measured_on_the_old_brick_is_meant_at_its_volts() -> None:
    # 610 mA at 12 V are 7.3 W, not the 5.5 W of 610 mA at the 9 V of the plate.
    found = surveyed(
        NINE_V,
        BARREL,
        "inside: switching regulator",
        "draws: {steady: 610 mA (measured)}",
        "brick: {loaded: 12 V at 610 mA (measured)}",
    )
    assert found.reference_v * found.steady_a.high >= 12 * 0.61 - 1e-9


@pytest.mark.parametrize(
    ("inside", "laws"),
    [
        ("unknown", ("constant current", "constant power")),
        ("5 V logic", ("constant current", "constant power")),
        ("linear regulator", ("constant current",)),
        ("switching regulator", ("constant power",)),
        ("resistive", ("resistance",)),
    ],
)
def test_how_the_current_depends_on_the_volts(inside: str, laws: tuple[str, ...]) -> None:
    assert surveyed(NINE_V, BARREL, f"inside: {inside}").laws == laws


@pytest.mark.parametrize(
    ("said", "farad"),
    [
        ("2200 µF 16 V (plate)", (1.76e-3, 2.64e-3)),
        ("470 uF 25V", (3.76e-4, 5.64e-4)),
        ("1..3 mF", (1e-3, 3e-3)),
        ("unknown", (1e-3, 1e-2)),
    ],
)
def test_input_capacitance(said: str, farad: tuple[float, float]) -> None:
    # Aluminium electrolytics are ±20 %; old gear has 1 to 10 mF (common practice, no source).
    found = surveyed(NINE_V, BARREL, f"inside: {{input_capacitor: {said}}}")
    assert ends(found.capacitance_f) == farad


def test_a_capacitor_with_a_comma_is_not_a_thousandth() -> None:
    with pytest.raises(Faulty, match="2,200"):
        surveyed(NINE_V, BARREL, 'inside: {input_capacitor: "2,200 µF 25 V"}')


@pytest.mark.parametrize(
    ("part", "sink", "k_per_w"),
    [
        # Junction to free air: TO-220 65 K/W, TO-92 162 to 200 K/W (read in datasheets).
        ("7805", "none", 65.0),
        ("7805", "unknown", 65.0),
        ("78L05", "none", 200.0),
        ("78L05", "unknown", 200.0),
        # No heat sink makes a small part as cool as a big one.
        ("78L05", "small", 162.0),
        ("78L05", "large", 162.0),
    ],
)
def test_a_regulator_surely_burns_no_more_than_its_case_sheds(
    part: str, sink: str, k_per_w: float
) -> None:
    found = surveyed(NINE_V, BARREL, LINEAR.format(part, f", heat_sink: {sink}"))
    assert found.heat.allowed_w is not None
    # 125 °C at most, 35 °C in the room and any rise in the case on top.
    assert found.heat.allowed_w.low <= (125 - 35) / k_per_w


def test_heat_that_it_has_lived_with() -> None:
    found = surveyed(
        NINE_V,
        BARREL,
        LINEAR.format("7805", ""),
        "draws: {steady: 340 mA (measured)}",
        LIVED.format("11.2", "340 mA"),
    )
    assert found.heat.allowed_w is not None
    # (11.2 V − 5.25 V) · 0.34 A, the least that it can have burnt.
    assert found.heat.allowed_w.low == pytest.approx(2.023)


@pytest.mark.parametrize(
    ("volts", "amps", "watts"),
    [
        # It draws 340 mA. 13.4 V nearly open: on the line through 13.6 V open it may have had
        # 13.4 − 0.2·(0.34 − 0.01)/0.01 = 6.8 V, and burnt (6.8 − 5.25)·0.34 W: proves nothing.
        ("13.4", "10 mA", (125 - 35 - 15) / 65),
        # 11 V under a dummy load of 1 A or 2 A: at less current it had more volts, never less.
        ("11", "1 A", (11 - 5.25) * 0.34),
        ("11", "2 A", (11 - 5.25) * 0.34),
    ],
)
def test_a_reading_at_another_current_is_a_reading_of_the_brick(
    volts: str, amps: str, watts: float
) -> None:
    # The volts of a brick fall with the current, steeply at first (from memory): between open
    # and the reading they are no less than the reading, beyond it no less than the line.
    found = surveyed(
        NINE_V,
        BARREL,
        LINEAR.format("7805", ", heat_sink: none"),
        "draws: {steady: 340 mA (measured)}",
        LIVED.format(volts, amps),
    )
    assert found.heat.allowed_w is not None
    assert found.heat.allowed_w.low == pytest.approx(watts)


@pytest.mark.parametrize(("amps", "volts"), [("10 mA", 9.45), ("1 A", 13.4)])
def test_so_are_volts_at_which_it_ran_cool(amps: str, volts: float) -> None:
    found = surveyed(
        NINE_V, BARREL, "draws: {steady: 340 mA (measured)}", LIVED.format("13.4", amps)
    )
    assert found.heat.cool_up_to_v is not None
    assert found.heat.cool_up_to_v.low == pytest.approx(volts)


def test_without_the_open_volts_a_reading_at_another_current_proves_nothing() -> None:
    lines = (NINE_V, BARREL, LINEAR.format("7805", ""), "draws: {steady: 340 mA (measured)}")
    found = surveyed(*lines, "brick: {loaded: 11 V at 1 A (measured)}")
    without = surveyed(*lines)
    assert (found.heat, found.runs_from_v) == (without.heat, without.runs_from_v)
    assert found.conflicts == (
        "11 V was read at 1 A, and it draws 0.34 A: nothing is concluded from that reading",
    )


def test_a_heat_at_which_the_regulator_switches_itself_off_is_not_believed() -> None:
    # (20 − 5.25) V · 0.9 A = 13.3 W through 48.75 K/W at least: no 78xx has lived with that
    # (150 °C absolute maximum, read in the MC7800 datasheet).
    found = surveyed(
        'plate: "DC IN 12V⎓ 1A"',
        BARREL,
        LINEAR.format("7805", ", heat_sink: none"),
        "draws: {steady: 900 mA (measured)}",
        "brick: {open: 22 V (measured), loaded: 20 V at 900 mA (measured)}",
    )
    assert found.heat.allowed_w is not None
    assert found.heat.allowed_w.basis is Basis.ASSUMED
    assert found.conflicts == (
        "on its old brick its 7805 would have burnt 13.3 W and stood at 662 °C, where it switches "
        "itself off: its heat sink or the reading is another",
    )


@pytest.mark.parametrize("ambient", ["120..150 °C", "-40..-10 °C", "max 38 °C", "999 °C"])
def test_any_ambient_can_be_surveyed(ambient: str) -> None:
    found = surveyed(NINE_V, BARREL, LINEAR.format("7805", ""), ambient=ambient)
    assert found.heat.allowed_w is not None
    assert 0.0 <= found.heat.allowed_w.low <= found.heat.allowed_w.high


def test_where_it_ran_cool_is_not_known_of_an_unknown_inside() -> None:
    found = surveyed(NINE_V, BARREL)
    assert ends(found.heat.cool_up_to_v) == (9.45, 14.4)


def test_ride_through() -> None:
    assert ends(surveyed(NINE_V, BARREL).ride_through_s)[0] == 0.0
    known = surveyed(NINE_V, BARREL, "ride_through: 20..60 ms (measured)")
    assert (ends(known.ride_through_s), known.ride_through_s.name) == (
        (0.02, 0.06),
        "d/ride-through",
    )
