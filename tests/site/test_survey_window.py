"""The window of a device: what is taken for granted of plate, inside and capacitor, and no more.

Assumptions for an inlet of unknown inside (common practice, no source): harmed above somewhere in
1.05 to 1.6 × plate volts, runs from somewhere in 0.8 to 1.3 ×; inputs made for USB hosts 5.5 V.
Regulators: datasheet figures, see the tests against published sources.
"""

import pytest
from tests.site.devices import BARREL, NINE_V, USB_C, ends, surveyed, told

LINEAR = "inside: {{is: linear regulator, part: 7806, {}}}"


def test_only_the_plate_is_known() -> None:
    found = surveyed(NINE_V, BARREL)
    assert found.plate_v == 9.0
    assert ends(found.harmed_above_v) == (9.45, 14.4)
    assert ends(found.runs_from_v) == (7.2, 11.7)
    assert not found.harmed_above_v.known
    assert found.assumptions[:2] == (
        "harmed above: 9.45..14.4 V, the inside is not known",
        "runs from: 7.2..11.7 V, the inside is not known",
    )


def test_nothing_is_known() -> None:
    found = surveyed(BARREL)
    assert (found.plate_v, found.kind) == (None, "unknown")
    assert ends(found.harmed_above_v) == (0.0, 60.0)
    assert ends(found.runs_from_v) == (0.0, 60.0)
    assert found.heat.cool_up_to_v is not None
    assert found.heat.cool_up_to_v.low == 0.0


@pytest.mark.parametrize("inside", ["unknown", "resistive", "switching regulator"])
def test_a_kind_of_inside_without_figures_widens_nothing(inside: str) -> None:
    assert ends(surveyed(NINE_V, BARREL, f"inside: {inside}").harmed_above_v) == (9.45, 14.4)


@pytest.mark.parametrize("part", ["LM317", "79L05", "chip"])
def test_a_part_that_nobody_knows_tells_nothing(part: str) -> None:
    found = surveyed(NINE_V, BARREL, f"inside: {{is: linear regulator, part: {part}}}")
    assert ends(found.harmed_above_v) == (9.45, 14.4)
    assert ends(found.runs_from_v) == (7.2, 11.7)


@pytest.mark.parametrize(
    ("in_front", "runs"),
    [
        # 7806: 5.7 V + 1.5 V at least, 6.3 V + 2.5 V at most, and what stands before it.
        ("nothing", (7.2, 8.8)),
        ("diode", (7.5, 9.8)),
        ("bridge", (8.2, 10.8)),
        ("unknown", (7.2, 10.8)),
    ],
)
def test_a_linear_regulator_runs_from_its_output_and_headroom(
    in_front: str, runs: tuple[float, float]
) -> None:
    found = surveyed(NINE_V, BARREL, LINEAR.format(f"in_front: {in_front}"))
    assert ends(found.runs_from_v) == runs
    # It stands 35 V itself; of the capacitor before it only the plate speaks.
    assert ends(found.harmed_above_v) == (9.45, 35.0)


def test_a_7805_takes_what_it_is_commonly_fed() -> None:
    # A 7805 is commonly fed from about 8 V to about 12 V (common practice, no source).
    found = surveyed(
        NINE_V,
        BARREL,
        "inside: {is: linear regulator, part: 7805, in_front: nothing, "
        "input_capacitor: 1000 µF 16 V (plate)}",
    )
    assert found.runs_from_v.high <= 8.0
    assert found.harmed_above_v.low >= 12.6


def test_the_capacitor_before_a_regulator_sets_the_limit() -> None:
    found = surveyed(NINE_V, BARREL, LINEAR.format("input_capacitor: 2200 µF 16 V (plate)"))
    assert ends(found.harmed_above_v) == (16.0, 16.0)


def test_a_capacitor_lowers_what_an_unknown_inside_may_stand() -> None:
    found = surveyed(NINE_V, BARREL, "inside: {is: unknown, input_capacitor: 470 µF 10 V (plate)}")
    assert ends(found.harmed_above_v) == (9.45, 10.0)


def test_a_capacitor_raises_nothing_where_the_inside_is_unknown() -> None:
    found = surveyed(NINE_V, BARREL, "inside: {is: unknown, input_capacitor: 470 µF 63 V (plate)}")
    assert ends(found.harmed_above_v) == (9.45, 14.4)


def test_a_capacitor_does_not_raise_what_was_measured_of_the_damage_limit() -> None:
    # Somebody knows that it is harmed somewhere from 12 V up; 16 V on a capacitor does not help.
    found = surveyed(
        NINE_V,
        BARREL,
        LINEAR.format("harmed_above: 12..18 V (datasheet), input_capacitor: 2200 µF 16 V (plate)"),
    )
    assert ends(found.harmed_above_v) == (12.0, 16.0)


def test_a_capacitor_that_nobody_has_read_is_no_limit() -> None:
    # An assumed value has a spread: 25 V by hearsay must not make 20 V safe.
    found = surveyed(NINE_V, BARREL, LINEAR.format("input_capacitor: 2200 µF 25 V (assumed)"))
    assert found.harmed_above_v.low == pytest.approx(9.45)


def test_a_capacitor_under_the_plate_volts_is_a_contradiction() -> None:
    found = surveyed(NINE_V, BARREL, LINEAR.format("input_capacitor: 2200 µF 6.3 V (plate)"))
    assert found.harmed_above_v.high <= 6.3
    assert found.conflicts


@pytest.mark.parametrize(
    ("plate", "plate_v", "harmed", "runs"),
    [
        # A device that says 9 to 12 V promises all of it; 1.05 and 1.6 × 12, 0.8 × 9.
        ("DC IN 9-12V⎓ 1A", 12.0, (12.6, 19.2), (7.2, 9.0)),
        ("DC IN 7.5-15V 0.5A", 15.0, (15.75, 24.0), (6.0, 7.5)),
    ],
)
def test_a_device_with_a_range(
    plate: str, plate_v: float, harmed: tuple[float, float], runs: tuple[float, float]
) -> None:
    found = surveyed(f'plate: "{plate}"', BARREL)
    assert (found.plate_v, ends(found.harmed_above_v), ends(found.runs_from_v)) == (
        plate_v,
        harmed,
        runs,
    )


@pytest.mark.parametrize(
    "plate", ["OUTPUT 3-12V⎓ 1A", "OUTPUT 3/4.5/6/7.5/9/12V⎓ 800mA", "OUTPUT 5V⎓3A 9V⎓2A 12V⎓1.5A"]
)
def test_a_brick_with_several_volts_does_not_tell_which_the_device_wants(plate: str) -> None:
    # A brick with a switch gave what somebody set: the device may want the lowest of them.
    found = surveyed(BARREL, f'brick: {{plate: "{plate}", original: yes}}')
    assert found.plate_v is None
    assert found.harmed_above_v.low <= 5.5
    assert found.runs_from_v.high >= 12.0


@pytest.mark.parametrize("plate", ["DC IN 12V⎓1A 5V⎓1.5A", "DC IN 9V/12V 1A", "DC IN 9V 12V"])
def test_two_volts_on_one_plate_are_not_one(plate: str) -> None:
    found = surveyed(f'plate: "{plate}"', BARREL)
    assert found.plate_v is None
    # What an input for the lower of them surely stands: 5.5 V for 5 V, 1.05 × for 9 V.
    assert found.harmed_above_v.low == pytest.approx(5.5 if "5V" in plate else 9.45)
    assert "names several volts" in told(found)


def test_split_rails_are_not_one_voltage() -> None:
    # +12 V and -12 V through one plug: half of them is no supply.
    found = surveyed('plate: "DC IN +12V⎓1A -12V⎓0.3A"', BARREL)
    assert found.plate_v is None
    assert found.conflicts or found.refusals


def test_a_negative_voltage_is_no_positive_one() -> None:
    found = surveyed('plate: "DC IN -9V 100mA"', BARREL)
    assert found.plate_v is None
    assert found.harmed_above_v.low == 0.0


@pytest.mark.parametrize("plate", ["0V 5W", "DC IN 0V⎓ 1A", "DC IN ??V 1A", "MODEL 9"])
def test_a_plate_without_volts_is_none(plate: str) -> None:
    found = surveyed(f'plate: "{plate}"', BARREL)
    assert (found.plate_v, ends(found.harmed_above_v)) == (None, (0.0, 60.0))


def test_what_is_unclear_on_the_plate_is_told() -> None:
    found = surveyed('plate: "DC IN 9V 1,000 mA"', BARREL)
    assert found.conflicts == (
        "its plate is unclear at '1,000 mA': the mark in '1,000' may part decimals or thousands",
    )


@pytest.mark.parametrize("lines", [(USB_C,), (BARREL, "inside: 5 V logic")])
def test_inputs_for_5_v(lines: tuple[str, ...]) -> None:
    # Without a contract a port may give up to 5.5 V (USB Type-C, from memory).
    found = surveyed(*lines)
    assert found.harmed_above_v.low == 5.5
    assert found.runs_from_v.high == 4.75


@pytest.mark.parametrize(
    "lines",
    [
        ('plate: "DC IN 12V⎓ 2A"', BARREL, "inside: 5 V logic"),
        ('plate: "DC IN 9V⎓ 2A"', "inlet: {plug: usb-c}"),
        ('plate: "DC IN 12V⎓ 2A"', "inlet: {plug: micro-usb}"),
    ],
)
def test_a_plate_that_speaks_against_5_v(lines: tuple[str, ...]) -> None:
    # Both cannot be true: it must not be taken to run from 4.75 V, and it must be told.
    found = surveyed(*lines)
    assert found.harmed_above_v.low <= 5.5
    assert found.runs_from_v.high > 4.75
    assert found.conflicts


def test_what_somebody_knows_of_the_window() -> None:
    found = surveyed(
        NINE_V, BARREL, "inside: {runs_from: 6.5 V (datasheet), harmed_above: 16 V (datasheet)}"
    )
    assert (ends(found.runs_from_v), ends(found.harmed_above_v)) == ((6.5, 6.5), (16.0, 16.0))
    assert (found.runs_from_v.name, found.harmed_above_v.name) == ("d/runs from", "d/harmed above")


@pytest.mark.parametrize(
    "inside",
    [
        "{harmed_above: 8 V (measured)}",
        "{runs_from: 15 V (datasheet), harmed_above: 12 V (datasheet)}",
    ],
)
def test_a_window_that_cannot_be_is_told(inside: str) -> None:
    # Harmed under its own plate volts; running only where it is harmed.
    assert surveyed(NINE_V, BARREL, f"inside: {inside}").conflicts
