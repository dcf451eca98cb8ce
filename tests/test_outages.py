"""Who goes out when something else is plugged in: gaps, ride-through, and what nobody knows.

Hard reset of USB PD (timers as in `sinkside.standards.pd_timers`, read in open-source headers):
off after 25–35 ms, no VBUS for 0.66–1.0 s, back within 0.275 s; the gap to a full contract is
1.0 s at the very least (from memory, practice). A restart in firmware has no bound.
"""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.outages import blink, interruption
from sinkside.quantity import Basis, unknown, varies
from sinkside.rules.verdict import Stakes, Verdict

TWO = {"C1": "5:3 9:3", "C2": "5:3"}
FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS
MEASURED = varies(1.4, 1.9, "s", Basis.MEASURED, "shared/off time")


def charger(on_change: str = "drops all", **changes: Any) -> Any:
    return small.charger(TWO, on_change=on_change, **changes)


@pytest.mark.parametrize(
    ("source", "words"),
    [
        (small.charger(on_change="drops all"), "it has one port"),
        (charger("nothing"), "its ports keep going"),
        (charger("steps"), "its ports step to another offer without a gap"),
    ],
)
def test_where_there_is_no_gap(source: Any, words: str) -> None:
    found = interruption(source)
    assert (found.gap_s, found.words) == (None, words)
    assert found.event == "something is plugged into or pulled from shared"


def test_a_measured_gap_is_taken_as_measured() -> None:
    assert interruption(charger(off_time_s=MEASURED)).gap_s == MEASURED


def test_without_a_watch_the_gap_is_a_hard_reset_or_anything_longer() -> None:
    gap = interruption(charger()).gap_s
    assert gap is not None
    assert not gap.known
    assert 0.6 <= gap.low <= 1.0
    assert gap.high >= 5.0  # a restart of all ports in firmware: assume 5 s and more


def test_of_a_charger_that_nobody_has_seen_nothing_is_concluded() -> None:
    gap = interruption(charger("unknown", off_time_s=MEASURED)).gap_s
    assert gap is not None
    assert (gap.low, gap.known) == (0.0, False)
    assert gap.high >= MEASURED.high


@pytest.mark.parametrize(
    ("ride", "source", "verdict"),
    [
        (2.0, charger(off_time_s=MEASURED), FITS),
        (1.9, charger(off_time_s=MEASURED), FITS),
        (1.89, charger(off_time_s=MEASURED), FAILS),
        ((0.2, 0.4), charger(off_time_s=MEASURED), FAILS),
        ((1.0, 2.5), charger(off_time_s=MEASURED), UNPROVEN),
        (0.05, charger(), FAILS),
        (3.0, charger(), UNPROVEN),
        (0.0, charger("unknown"), UNPROVEN),
        ((0.0, 5.0), charger("unknown"), UNPROVEN),
        (100.0, charger("unknown"), FITS),
        (0.0, charger("nothing"), FITS),
        (0.0, charger("steps"), FITS),
    ],
)
def test_a_gap_against_what_the_device_rides_through(
    ride: Any, source: Any, verdict: Verdict
) -> None:
    """Fits: the shortest ride-through covers the longest gap. Fails: the longest does not."""
    found = blink(small.device(blink="brief", ride_through_s=ride), interruption(source))
    assert found is not None
    assert found.verdict is verdict
    assert bool(found.unknowns) is (verdict is UNPROVEN)


def test_a_ride_through_that_varies_counts_at_its_shortest() -> None:
    swings = small.swings(1.0, 5.0, "s", "thing/ride-through")
    found = blink(
        small.device(blink="brief", ride_through_s=swings),
        interruption(charger(off_time_s=MEASURED)),
    )
    assert found is not None
    assert found.verdict is FAILS


@pytest.mark.parametrize(
    ("appliance", "stakes"),
    [
        (small.device(blink="never"), Stakes.LOSS),
        (small.device(blink="brief"), Stakes.MISBEHAVES),
        (small.device(blink="brief", starved_loses=True), Stakes.LOSS),
        (small.device(blink="never", starved_loses=True), Stakes.LOSS),
    ],
)
def test_what_a_blink_costs(appliance: Any, stakes: Stakes) -> None:
    found = blink(appliance, interruption(charger()))
    assert found is not None
    assert found.stakes is stakes


def test_who_may_blink_has_no_finding() -> None:
    assert blink(small.device(blink="any"), interruption(charger())) is None


def test_what_is_not_known_is_named() -> None:
    open_ride = unknown(0.5, 3.0, "s", name="thing/ride-through")
    found = blink(small.device(blink="never", ride_through_s=open_ride), interruption(charger()))
    assert found is not None
    assert found.unknowns == ("thing/ride-through", "shared/off time")


def test_the_working_can_be_redone() -> None:
    found = blink(
        small.device(blink="brief", ride_through_s=(0.2, 0.4)),
        interruption(charger(off_time_s=MEASURED)),
    )
    assert found is not None
    assert found.working is not None
    assert found.working.again() == found.working.result == found.margin == 0.2 - 1.9
