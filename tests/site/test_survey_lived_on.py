"""What a device has lived on: only its own brick proves anything, and only what was measured."""

import pytest
from tests.site.devices import BARREL, NINE_V, ends, surveyed, told

from sinkside.faults import Faulty
from sinkside.quantity import Basis

LIVED = "open: 13.6 V (measured), loaded: 10.4 V at 340 mA (measured)"


def test_open_volts_prove_that_it_stands_them_and_loaded_volts_that_it_runs() -> None:
    found = surveyed(NINE_V, BARREL, f"brick: {{{LIVED}}}")
    assert ends(found.harmed_above_v) == (13.6, 14.4)
    assert ends(found.runs_from_v) == (7.2, 10.4)
    assert (found.harmed_above_v.basis, found.runs_from_v.basis) == (
        Basis.LIVED_ON,
        Basis.LIVED_ON,
    )


def test_of_a_range_of_readings_only_the_safe_end_counts() -> None:
    found = surveyed(
        NINE_V, BARREL, "brick: {open: 12.8..13.6 V (measured), loaded: 10..10.4 V (measured)}"
    )
    assert found.harmed_above_v.low == 12.8
    assert found.runs_from_v.high == 10.4


@pytest.mark.parametrize("basis", ["datasheet", "plate", "standard", "assumed"])
def test_what_was_not_measured_proves_nothing(basis: str) -> None:
    found = surveyed(
        NINE_V, BARREL, f"brick: {{open: 13..14 V ({basis}), loaded: 8..10 V ({basis})}}"
    )
    assert ends(found.harmed_above_v) == (9.45, 14.4)
    assert ends(found.runs_from_v) == (7.2, 11.7)


def test_a_look_alike_brick_proves_nothing() -> None:
    brick = f'{{plate: "OUTPUT 9V⎓ 1A ⊕–C–⊖", original: no, {LIVED}, centre: negative (measured)}}'
    with_it, without = surveyed(NINE_V, BARREL, f"brick: {brick}"), surveyed(NINE_V, BARREL)
    assert with_it.harmed_above_v == without.harmed_above_v
    assert with_it.runs_from_v == without.runs_from_v
    assert with_it.evidence == without.evidence
    assert with_it.heat == without.heat


@pytest.mark.parametrize(
    "brick",
    [
        '{plate: "OUTPUT 12V⎓ 1A ⊖–C–⊕", original: no}',
        '{plate: "OUTPUT 12V⎓ 1A", original: no, kind: dc (measured), open: 17 V (measured)}',
        "{original: no, open: 17 V (measured), loaded: 12 V at 1 A (measured)}",
    ],
)
def test_of_a_device_without_a_plate_a_look_alike_brick_tells_nothing(brick: str) -> None:
    # Its own brick is lost and this one came from a drawer: its volts, kind and amps are its own.
    with_it, without = surveyed(BARREL, f"brick: {brick}"), surveyed(BARREL)
    for topic in ("plate_v", "kind", "harmed_above_v", "runs_from_v", "evidence", "heat"):
        assert getattr(with_it, topic) == getattr(without, topic), topic
    assert (with_it.steady_a, with_it.peak_a) == (without.steady_a, without.peak_a)


def test_a_look_alike_brick_does_not_tell_the_kind_of_supply() -> None:
    # The plate of the device says 9 V and not which; a d.c. brick from a drawer adds nothing.
    brick = 'brick: {plate: "OUTPUT 9V⎓ 1A", original: no}'
    assert surveyed('plate: "9V 1A"', BARREL, brick).kind == "unknown"


def test_a_brick_of_other_volts_is_not_its_own_and_proves_nothing() -> None:
    found = surveyed(
        NINE_V,
        BARREL,
        'brick: {plate: "OUTPUT 12V⎓ 1A ⊕–C–⊖", open: 17 V (measured), '
        "loaded: 12 V at 340 mA (measured), centre: negative (measured)}",
    )
    assert ends(found.harmed_above_v) == (9.45, 14.4)
    assert len(found.evidence) == 1
    assert "its brick says 12 V, the device 9 V" in told(found)


def test_a_brick_of_other_volts_does_not_tell_the_kind_either() -> None:
    found = surveyed('plate: "9V 1A"', BARREL, 'brick: {plate: "OUTPUT 12V⎓ 1A"}')
    assert found.kind == "unknown"


def test_open_volts_over_the_rating_of_the_capacitor_do_not_raise_it() -> None:
    found = surveyed(
        NINE_V,
        BARREL,
        "inside: {is: linear regulator, part: 7806, input_capacitor: 2200 µF 10 V (plate)}",
        "brick: {open: 13.6 V (measured)}",
    )
    assert found.harmed_above_v.high == 10.0
    assert found.conflicts == (
        "its old brick gives 13.6 V open, above the 10 V taken as its damage limit: measure "
        "again, or the brick is not its own",
    )


def test_it_ran_below_what_was_thought_the_least() -> None:
    found = surveyed(NINE_V, BARREL, "inside: {runs_from: 8 V (datasheet)}", "ran: 7 V (measured)")
    assert ends(found.runs_from_v) == (7.0, 7.0)
    assert found.conflicts == (
        "it ran at 7 V, below the 8 V taken as the least: the figure of its inside is too high",
    )


def test_volts_at_another_current_than_the_device_draws_do_not_prove_that_it_runs() -> None:
    # 8 V under a dummy load of 1 A: at its own 100 mA the device had up to 13.6 − 0.1·5.6 V.
    found = surveyed(
        NINE_V,
        BARREL,
        "draws: {steady: 100 mA (measured)}",
        "brick: {open: 13.6 V (measured), loaded: 8 V at 1 A (measured)}",
    )
    assert found.runs_from_v.high == pytest.approx(11.7)
    assert found.conflicts == (
        "8 V was read at 1 A, and it draws 0.1 A: taken as a reading of the brick, which gives "
        "8..13.04 V then",
    )


def test_on_the_line_of_its_brick_it_ran() -> None:
    # 10.4 V open and 9.4 V at 1 A are 10.1 V at most at 300 mA.
    found = surveyed(
        NINE_V,
        BARREL,
        "draws: {steady: 300 mA (measured)}",
        "brick: {open: 10.4 V (measured), loaded: 9.4 V at 1 A (measured)}",
    )
    assert ends(found.runs_from_v) == (7.2, 10.1)


def test_it_never_had_more_than_the_open_volts_and_ran() -> None:
    # A brick that regulates: 9.6 V open, and nothing was read under load.
    found = surveyed(NINE_V, BARREL, "brick: {open: 9.6 V (measured)}")
    assert ends(found.runs_from_v) == (7.2, 9.6)
    assert found.runs_from_v.basis is Basis.LIVED_ON


def test_a_trial_without_its_load_does_not_prove_that_it_runs() -> None:
    found = surveyed(
        NINE_V, BARREL, "draws: {steady: 300 mA (measured)}", "ran: 7.5 V at 10 mA (measured)"
    )
    assert found.runs_from_v.high == pytest.approx(11.7)


@pytest.mark.parametrize(
    "key", ["brick: {loaded: 10.9 V at 600 mA}", "ran: 8 V", "ran: 8 V at 1 A"]
)
def test_a_bare_reading_says_nothing_of_what_it_rests_on(key: str) -> None:
    # Elsewhere a point without a basis is refused, because it would look like knowledge.
    with pytest.raises(Faulty, match="says nothing of what it rests on"):
        surveyed(NINE_V, BARREL, key)


def test_without_any_plate_its_own_brick_still_counts() -> None:
    found = surveyed(BARREL, f"brick: {{{LIVED}}}")
    assert found.harmed_above_v.low == 13.6
    assert found.runs_from_v.high == 10.4
    assert found.heat.cool_up_to_v is not None
    assert found.heat.cool_up_to_v.low == 10.4
