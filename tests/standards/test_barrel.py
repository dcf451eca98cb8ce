"""What mates: common practice, no source, but for the rows of the table."""

import pytest

from sinkside.standards.barrel import (
    JEITA_SIZES,
    SOLD_SIZES,
    Fit,
    Jack,
    JeitaSize,
    Plug,
    jack_for,
    jeita_size,
    mates,
)


def plug(outer_mm: float, inner_mm: float, length_mm: float | None = None) -> Plug:
    return Plug(outer_mm=outer_mm, inner_mm=inner_mm, length_mm=length_mm)


@pytest.mark.parametrize("size", SOLD_SIZES, ids=str)
def test_every_plug_goes_on_the_jack_it_is_made_for(size: Plug) -> None:
    assert mates(size, jack_for(size)) is Fit.GOES_ON


@pytest.mark.parametrize("row", JEITA_SIZES, ids=lambda r: f"#{r.number}")
def test_jeita_plugs_keep_apart(row: JeitaSize) -> None:
    fits = [mates(row.plug, jack_for(other.plug)) for other in JEITA_SIZES]
    assert fits.count(Fit.GOES_ON) == 1
    assert fits[row.number - 1] is Fit.GOES_ON


@pytest.mark.parametrize(
    ("pushed", "into", "fit"),
    [
        (plug(5.5, 2.1), plug(5.5, 2.5), Fit.DOES_NOT_GO_ON),
        (plug(5.5, 2.5), plug(5.5, 2.1), Fit.LOOSE),
        (plug(5.0, 2.1), plug(5.5, 2.1), Fit.LOOSE),
        (plug(5.5, 2.1), plug(5.0, 2.1), Fit.DOES_NOT_GO_ON),
        (plug(3.5, 1.35), plug(3.5, 1.1), Fit.LOOSE),
        (plug(3.5, 1.1), plug(3.5, 1.35), Fit.DOES_NOT_GO_ON),
        (plug(3.8, 1.05), plug(3.8, 1.1), Fit.GOES_ON),
        (plug(5.5, 2.1, 8.0), plug(5.5, 2.1, 9.5), Fit.LOOSE),
        (plug(5.5, 2.1, 14.0), plug(5.5, 2.1, 9.5), Fit.GOES_ON),
        (plug(5.5, 2.1), plug(5.5, 2.1, 9.5), Fit.GOES_ON),
    ],
)
def test_mating(pushed: Plug, into: Plug, fit: Fit) -> None:
    assert mates(pushed, jack_for(into)) is fit


def test_a_clearance_of_exactly_the_limit_still_counts_as_contact() -> None:
    pin = Jack(hole_mm=5.9, pin_mm=2.05)
    assert mates(plug(5.5, 2.3), pin) is Fit.GOES_ON
    assert mates(plug(5.5, 2.31), pin) is Fit.LOOSE
    assert mates(plug(5.3, 2.1), pin) is Fit.GOES_ON
    assert mates(plug(5.29, 2.1), pin) is Fit.LOOSE
    assert mates(plug(5.9, 2.05), pin) is Fit.GOES_ON


def test_centre_pins() -> None:
    with_pin = Plug(outer_mm=5.5, inner_mm=3.3, centre_pin_mm=1.0)
    without = plug(5.5, 3.3)
    assert mates(with_pin, jack_for(without)) is Fit.DOES_NOT_GO_ON
    assert mates(without, jack_for(with_pin)) is Fit.LOOSE
    assert mates(with_pin, Jack(hole_mm=5.9, pin_mm=3.25, takes_centre_pin=True)) is Fit.GOES_ON


@pytest.mark.parametrize(
    ("nominal_v", "number"),
    [(3.0, 1), (3.15, 1), (5.0, 2), (6.3, 2), (9.0, 3), (12.0, 4), (15.0, 5), (18.0, 5)],
)
def test_the_size_for_a_voltage(nominal_v: float, number: int) -> None:
    size = jeita_size(nominal_v)
    assert size is not None
    assert size.number == number


@pytest.mark.parametrize("nominal_v", [0.0, 18.5, 24.0])
def test_no_size_outside_the_table(nominal_v: float) -> None:
    assert jeita_size(nominal_v) is None
