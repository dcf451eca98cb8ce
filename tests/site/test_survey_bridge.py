"""A.c. into the inlet, and what changes once one full bridge without a tap is confirmed.

The peak of a sine is √2 of its r.m.s. value; behind a transformer it is a little flatter, 1.3 ×
open and 1.15 × under the load of a capacitor (from memory). A diode takes 0.3 V with nothing
behind it, 0.5 to 1.0 V under load (from memory).
"""

from math import sqrt

import pytest
from tests.paths import small_parts as small
from tests.site.devices import BARREL, NINE_V, ends, surveyed, told

from sinkside.faults import Faulty
from sinkside.mixups import Outcome, matrix
from sinkside.paths.findings import findings
from sinkside.paths.judge import Path, judge
from sinkside.quantity import Basis
from sinkside.site.appliance import Appliance

A_C = 'plate: "9 VAC 1000 mA"'
FULL = "in_front: full bridge without tap (measured)"
BRIDGED = f"inside: {{{FULL}}}"
REGULATED = "inside: {is: linear regulator, part: 7805, heat_sink: large, " + FULL
READ = "brick: {kind: ac (measured), open: 11 V (measured), loaded: 10 V at 400 mA (measured)}"
CLOCK = (
    "it was fed with a.c.: a clock or a motor that counts the periods of the mains stands still, "
    "or goes wrong, on d.c."
)


def verdicts(appliance: Appliance, centre: str = "positive", volts: float = 12.0) -> dict[str, str]:
    chain = (small.cable(), small.trigger(volts), small.lead(centre=centre))
    path = Path(front=small.front(None, *chain), appliance=appliance)
    return {f.rule: f.verdict.word for f in findings(judge([path]), 0)}


@pytest.mark.parametrize(
    "inside",
    [
        "unknown",
        "{in_front: bridge (measured)}",
        "{in_front: full bridge without tap}",
        "{in_front: full bridge without tap (assumed)}",
        "{in_front: full bridge without tap (plate)}",
        "{in_front: full bridge without tap (lived-on)}",
    ],
)
def test_without_a_confirmed_bridge_it_stays_refused(inside: str) -> None:
    found = surveyed(A_C, BARREL, f"inside: {inside}")
    assert found.kind == "ac"
    assert len(found.refusals) == 1
    assert verdicts(found)["direct-current"] == "fails"


@pytest.mark.parametrize(
    "inside",
    [
        "{in_front: full bridge without tap (measured)}",
        "{in_front: full bridge without tap (datasheet)}",
        '{in_front: "full bridge, no tap (measured)"}',
        "\n  in_front: full bridge, no tap (datasheet)",
    ],
)
def test_with_one_it_takes_d_c_of_either_polarity(inside: str) -> None:
    found = surveyed(A_C, BARREL, f"inside: {inside}")
    assert (found.kind, found.refusals, found.evidence) == ("either", (), ())
    for centre in ("positive", "negative"):
        told = verdicts(found, centre)
        assert (told["polarity"], told["direct-current"]) == ("fits", "fits")


def test_a_bridge_by_hearsay_is_told() -> None:
    assert told(surveyed(A_C, BARREL, "inside: {in_front: full bridge without tap}")) == (
        "that one full bridge without a tap follows its inlet rests on nothing and is not "
        "counted: add (measured) or (datasheet)"
    )


def test_a_bridge_that_may_be_half_a_one_is_no_word() -> None:
    with pytest.raises(Faulty, match="full bridge without tap"):
        surveyed(A_C, BARREL, "inside: {in_front: full bridge (measured)}")


@pytest.mark.parametrize(
    ("lines", "verdict"),
    [
        ((NINE_V, BARREL, BRIDGED), "fits"),
        ((NINE_V, BARREL), "fails"),
        (('plate: "9V⎓ 0.5A"', BARREL), "unproven"),
    ],
)
def test_polarity_against_a_mark(lines: tuple[str, ...], verdict: str) -> None:
    # Its plate says centre negative, the plug has it positive.
    assert verdicts(surveyed(*lines), "positive")["polarity"] == verdict


@pytest.mark.parametrize(
    ("lines", "verdict"),
    [
        ((A_C, BARREL, BRIDGED), "fits"),
        (('plate: "9V 1A"', BARREL, BRIDGED), "fits"),
        (('plate: "9V 1A"', BARREL), "unproven"),
        ((A_C, BARREL), "fails"),
    ],
)
def test_direct_current(lines: tuple[str, ...], verdict: str) -> None:
    assert verdicts(surveyed(*lines))["direct-current"] == verdict


def test_a_mark_is_kept_to_where_there_is_one() -> None:
    assert surveyed(NINE_V, BARREL, BRIDGED).centre == "negative"
    assert surveyed(A_C, BARREL, BRIDGED).centre == "positive"
    against = "inlet: {plug: 5.5x2.1, centre: positive (measured)}"
    both = surveyed(NINE_V, against, BRIDGED)
    assert (both.evidence, both.conflicts) == ((), ())


def test_a_d_c_device_with_a_bridge_is_not_warned_of_its_clock() -> None:
    assert surveyed(NINE_V, BARREL, BRIDGED).conflicts == ()


def test_an_a_c_one_is() -> None:
    assert surveyed(A_C, BARREL, BRIDGED).conflicts == (
        CLOCK,
        "on d.c. one pair of its bridge's diodes carries all the current: feel the bridge for "
        "heat in the first hour",
        "its signal ground hangs behind a diode of its bridge: the shield of a lead to gear on "
        "the same charger would carry its supply current",
    )


@pytest.mark.parametrize(
    "lines",
    [
        ("inlet: {plug: 5.5x2.1, conductors: 3}", BRIDGED),
        (BARREL, f"inside: {{is: battery charger, {FULL}}}"),
    ],
)
def test_a_bridge_settles_no_other_refusal(lines: tuple[str, str]) -> None:
    assert len(surveyed(A_C, *lines).refusals) == 1


def test_only_its_a_c_volts_are_known() -> None:
    found = surveyed(A_C, BARREL, BRIDGED)
    # It stood the peaks of 9 V, and the most that such a brick gives is √2 · 9 · 1.75 · 1.1 V;
    # it may want 1.3 × the peak, or as little as 0.8 × the r.m.s. value.
    assert ends(found.harmed_above_v) == (12.29, 29.4)
    assert ends(found.runs_from_v) == (7.2, 16.55)
    assert found.plate_v is None
    # The mean of the bare wave is 2√2/π of 9 V.
    assert found.heat.cool_up_to_v is not None
    assert found.heat.cool_up_to_v.low == pytest.approx(8.103, abs=1e-3)


def test_what_is_behind_the_bridge_has_two_diodes_before_it() -> None:
    found = surveyed(A_C, BARREL, REGULATED + ", input_capacitor: 2200 µF 25 V (plate)}")
    # 4.75 + 1.5 + 2 · 0.5 and 5.25 + 2.5 + 2 · 1.0; 25 V + 2 · 0.3 with the device off.
    assert ends(found.runs_from_v) == (7.25, 9.75)
    assert ends(found.harmed_above_v) == (25.6, 25.6)
    without = surveyed(A_C, BARREL, REGULATED + "}")
    assert ends(without.harmed_above_v) == (12.285, 35.6)


def test_open_volts_are_the_peak_that_it_has_stood() -> None:
    # 1.3 · 11 V − 2 · 0.5 V behind the bridge, and 2 · 0.3 V before it.
    found = surveyed(A_C, BARREL, BRIDGED, READ)
    assert found.harmed_above_v.low == pytest.approx(1.3 * 11 - 0.4)
    assert found.harmed_above_v.basis is Basis.LIVED_ON


def test_loaded_volts_are_the_mean_that_it_ran_on() -> None:
    # √2 · 10 V, less half of at least 0.4 · 0.1 A/(2 · 60 Hz · 10 mF).
    found = surveyed(A_C, BARREL, BRIDGED, READ)
    assert found.runs_from_v.high == pytest.approx(sqrt(2) * 10 - 0.4 * 0.1 / 1.2 / 2)
    assert found.runs_from_v.basis is Basis.LIVED_ON


def test_a_regulator_ran_from_the_trough() -> None:
    # √2 · 10 V less 0.4 · 0.1 A/(2 · 60 Hz · 1.2 mF); a 7812 may want up to 17.1 V.
    found = surveyed(
        'plate: "12 VAC 1000 mA"',
        BARREL,
        f"inside: {{is: linear regulator, part: 7812, {FULL}, input_capacitor: 1000 µF 35 V}}",
        READ,
    )
    assert found.runs_from_v.high == pytest.approx(sqrt(2) * 10 - 0.4 * 0.1 / (120 * 1.2e-3))


def test_what_its_regulator_burnt_on_a_c() -> None:
    # Behind the bridge at least 0.9003 · 16 − 2 = 12.4 V without any capacitor, with it
    # 1.15 · 16 − 2 − ½ · 0.8/(100 · 1.76 mF) = 14.1 V; 2 · 0.5 V more at the inlet.
    found = surveyed(
        'plate: "12 VAC 1000 mA"',
        BARREL,
        "inside: {is: linear regulator, part: 7805, heat_sink: none, "
        f"{FULL}, input_capacitor: 2200 µF 35 V}}",
        "draws: {steady: 0.8 A (measured)}",
        "brick: {kind: ac (measured), open: 18 V (measured), loaded: 16 V at 0.8 A (measured)}",
    )
    mean_v = 1.15 * 16 - 2 - 0.8 / (100 * 1.76e-3) / 2 + 1
    assert found.heat.allowed_w is not None
    assert found.heat.allowed_w.low == pytest.approx((mean_v - 5.25) * 0.2)
    assert found.heat.allowed_w.basis is Basis.LIVED_ON


def test_alternating_current_is_more_than_the_direct_current_that_it_feeds() -> None:
    # It flows in pulses: 1.6 to 1.8 × of the direct current at full load (common practice, no
    # source), and up to 3.4 × at light load of a stiff brick (walked, see below).
    measured = surveyed(A_C, BARREL, BRIDGED, "draws: {steady: 0.8 A (measured)}")
    assert ends(measured.steady_a) == (0.2, 0.8)
    plate = surveyed(A_C, BARREL, BRIDGED)
    assert (ends(plate.steady_a), ends(plate.peak_a)) == ((0.075, 1.0), (0.25, 2.0))


def test_where_nobody_knows_what_fed_it_both_are_thought_of() -> None:
    found = surveyed(
        'plate: "9V 1A"',
        BARREL,
        BRIDGED,
        "brick: {open: 11 V (measured), loaded: 10 V at 400 mA (measured)}",
    )
    assert found.kind == "either"
    # As d.c. it stood 11 V, less the difference of two diodes; as a.c. it may have had √2 · 10 V.
    assert found.harmed_above_v.low == pytest.approx(11 - 0.4)
    assert found.runs_from_v.high == pytest.approx(sqrt(2) * 10)
    assert found.heat.cool_up_to_v is not None
    assert found.heat.cool_up_to_v.low < 10.0
    assert found.conflicts[1] == CLOCK.replace("was fed", "may have been fed")


def test_a_known_a_c_device_can_be_built() -> None:
    found = surveyed(
        A_C,
        BARREL,
        REGULATED + ", input_capacitor: 100 µF 25 V (plate)}",
        "draws: {steady: 400 mA (measured), peak: 500 mA (measured)}",
        READ,
    )
    counted = {
        rule: verdict
        for rule, verdict in verdicts(found).items()
        if rule not in ("fault-current", "inrush")
    }
    assert set(counted.values()) == {"fits"}


@pytest.mark.parametrize(
    ("volts", "outcome"),
    [(9.0, Outcome.WONT_RUN), (12.0, Outcome.FINE), (20.0, Outcome.OVER_VOLTS)],
)
def test_a_lead_for_another_device_is_judged_like_any(volts: float, outcome: Outcome) -> None:
    # It runs from 7.25 to 9.75 V and stands 16.6 V; a lead of the wrong pole does not matter.
    inlet = surveyed(
        A_C,
        BARREL,
        "inside: {is: linear regulator, part: 7805, heat_sink: large, "
        f"{FULL}, input_capacitor: 10 µF 16 V (plate)}}",
        "draws: {steady: 200 mA (measured), peak: 250 mA (measured)}",
    )
    assert ends(inlet.harmed_above_v) == (16.6, 16.6)
    front = small.front(
        None, small.cable(), small.trigger(volts), small.lead(centre="negative", carries_a=5.0)
    )
    (cell,) = matrix([("other", front)], [inlet])
    assert cell.outcome is outcome


def test_without_the_bridge_any_d_c_lead_is_d_c_into_a_c() -> None:
    front = small.front(None, small.cable(), small.trigger(9.0), small.lead())
    (cell,) = matrix([("other", front)], [surveyed(A_C, BARREL)])
    assert cell.outcome is Outcome.AC_INLET
