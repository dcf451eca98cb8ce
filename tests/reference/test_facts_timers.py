"""Timers of USB Type-C and Power Delivery, bands of volts, slew: against the published figures.

Most timers were read in an open-source stack, which names the standard's tables; some in other
open sources and datasheets, and some only in secondary texts or from memory, as is said below.
"""

import pytest

from sinkside.standards import pd_contract as contract
from sinkside.standards import pd_timers as timers

# Name, least and most in s; None where the text gives no such bound.
READ = [
    ("tVBUSON", None, 0.275),
    ("tVBUSOFF", None, 0.650),
    ("tCCDebounce", 0.100, 0.200),
    ("tPDDebounce", 0.010, 0.020),
    ("tFirstSourceCap", None, 0.250),
    ("tTypeCSendSourceCap", 0.100, 0.200),
    ("tTypeCSinkWaitCap", 0.310, 0.620),
    ("tSenderResponse", 0.024, 0.030),
    ("tReceiverResponse", None, 0.015),
    ("tSrcTransition", 0.025, 0.035),
    ("tSnkTransition", 0.025, 0.035),
    ("tPSHardReset", 0.025, 0.035),
    ("tSafe0V", None, 0.650),
    ("tSafe5V", None, 0.275),
    ("tSrcTurnOn", None, 0.275),
    ("tNoResponse", 4.5, 5.5),
    ("tSnkStdby", None, 0.015),
    ("tSnkNewPower", None, 0.015),
    ("tEnterEPR", 0.450, 0.550),
]


def found(name: str) -> list[timers.Timer]:
    """Every timer of that name, whatever its scope."""
    return [timer for timer in timers.TIMERS if timer.name == name]


@pytest.mark.parametrize(("name", "min_s", "max_s"), READ)
def test_timers_that_were_read(name: str, min_s: float | None, max_s: float | None) -> None:
    assert (min_s, max_s) in [(timer.min_s, timer.max_s) for timer in found(name)]


@pytest.mark.parametrize(
    ("name", "spans"),
    [
        ("tPSTransition", [(0.450, 0.550), (0.830, 1.020)]),  # SPR, EPR; read
        ("tSrcRecover", [(0.660, 1.000), (1.085, 1.425)]),  # SPR read; EPR from memory
        ("tErrorRecovery", [(0.025, None), (0.240, None)]),  # with VCONN the longer; read
        ("tSenderResponse", [(0.024, 0.030), (0.027, 0.033)]),  # later editions: from memory
    ],
)
def test_timers_that_differ_by_range(name: str, spans: list[tuple[float, float | None]]) -> None:
    """Where sources or ranges differ, both stand."""
    assert sorted((t.min_s, t.max_s) for t in found(name)) == spans


def test_a_source_is_ready_in_285_ms() -> None:
    """Read in an open source file; 720 ms in the extended range from memory."""
    assert sorted(timer.max_s or 0.0 for timer in found("tSrcReady")) == [0.285, 0.720]


def test_programmable_contracts_die_without_being_asked_again() -> None:
    """At the latest every 10 s; a source may give up from 12 s (a list of timers, open source)."""
    asks = min(timer.max_s for timer in found("tPPSRequest") if timer.max_s is not None)
    gives_up = min(timer.min_s for timer in found("tPPSTimeout") if timer.min_s is not None)
    assert (asks, gives_up) == (10.0, 12.0)


def test_counters() -> None:
    """nCapsCount 50 and nHardResetCount 2, read in an open-source stack."""
    assert (timers.CAPS_COUNT, timers.HARD_RESET_COUNT) == (50, 2)


def test_the_gap_of_a_hard_reset() -> None:
    """Arithmetic: off 0.66 to 1.0 s, then 5 V within 0.275 s, falling for up to 0.65 s before:
    5 V absent at least 0.66 ≈ 0.7 s, at most 0.65 + 1.0 + 0.275 = 1.925 ≈ 1.9 s. The contract
    comes 0.3 to 0.9 s later: 1.0 to 2.8 s in all (from memory)."""
    gap = timers.hard_reset_gap()
    assert gap.five_volts_absent_low_s == pytest.approx(0.7, abs=0.05)
    assert gap.five_volts_absent_high_s == pytest.approx(1.9, abs=0.05)
    assert gap.contract_absent_low_s == pytest.approx(1.0, abs=0.1)
    assert gap.contract_absent_high_s == pytest.approx(2.8, abs=0.1)
    later_s = gap.contract_absent_high_s - gap.five_volts_absent_high_s
    assert later_s == pytest.approx(0.9, abs=0.1)


def test_a_firmware_restart_has_no_bound_of_the_standard() -> None:
    """Assume at least 5 s (from memory)."""
    assert timers.FIRMWARE_RESTART_S >= 5.0


@pytest.mark.parametrize(
    ("nominal_v", "low_v", "high_v"),
    [
        (5.0, 4.75, 5.25),
        (9.0, 8.55, 9.45),
        (12.0, 11.40, 12.60),
        (15.0, 14.25, 15.75),
        (20.0, 19.0, 21.0),
        (28.0, 26.6, 29.4),
        (48.0, 45.6, 50.4),
    ],
)
def test_five_per_cent_under_a_contract(nominal_v: float, low_v: float, high_v: float) -> None:
    """vSrcNew ±5 % at the source's receptacle (R3.2: secondary; 95 % read in a driver)."""
    band = contract.contract_band(nominal_v)
    assert (band.low_v, band.high_v) == pytest.approx((low_v, high_v))


def test_5_v_without_a_contract_may_stand_higher() -> None:
    """vSafe5V is 4.75 to 5.5 V (secondary notes, 4.75 V read); a contract for 5 V ends at
    5.25 V (from memory)."""
    assert (contract.NO_CONTRACT.low_v, contract.NO_CONTRACT.high_v) == (4.75, 5.5)
    assert contract.contract_band(5.0).high_v == pytest.approx(5.25)


@pytest.mark.parametrize(
    ("from_v", "to_v", "low_v", "high_v"),
    [
        (5.0, 9.0, 4.25, 9.95),  # 4.75 − 0.5, 9.45 + 0.5
        (9.0, 5.0, 4.25, 9.95),
        (9.0, 20.0, 8.05, 21.5),  # 8.55 − 0.5, 21.0 + 0.5
    ],
)
def test_what_shows_while_a_contract_changes(
    from_v: float, to_v: float, low_v: float, high_v: float
) -> None:
    """vSrcValid: 0.5 V beyond vSrcNew during a transition (read in a driver)."""
    band = contract.transition_band(from_v, to_v)
    assert (band.low_v, band.high_v) == pytest.approx((low_v, high_v))


def test_a_programmable_contract() -> None:
    """±5 %, valid to 0.1 V beyond, shut down below 85 % of the object's least; read in a driver.
    12 V: 11.4 to 12.6 V. A limit of current goes down to 1 A and no lower (from memory)."""
    band = contract.pps_band(12.0)
    assert (band.low_v, band.high_v) == pytest.approx((11.4, 12.6))
    assert contract.PPS_VALID_MARGIN_V == 0.1
    assert contract.PPS_SHUTDOWN_RATIO == 0.85
    assert contract.PPS_LEAST_CURRENT_LIMIT_A == 1.0


@pytest.mark.parametrize(
    ("farad", "amps"),
    [(22e-6, 0.66), (100e-6, 3.0), (10e-6, 0.30), (470e-6, 14.1)],
)
def test_what_a_step_drives_into_a_capacitor(farad: float, amps: float) -> None:
    """I = C·30 mV/µs: 22e-6·30e3 = 0.66 A (PD design notes: secondary)."""
    assert contract.step_inrush_a(farad) == pytest.approx(amps)


def test_capacitors_at_the_sink() -> None:
    """10 µF before a contract, 100 µF after one without a limit of surge (a sink controller's
    datasheet, read)."""
    assert pytest.approx(10e-6) == contract.BULK_LIMIT_BEFORE_CONTRACT_F
    assert pytest.approx(100e-6) == contract.BULK_LIMIT_AFTER_CONTRACT_F


def test_thresholds_of_vbus() -> None:
    """vSafe0V 0.8 V, vSinkDisconnect 0.8 to 3.67 V (read in an open-source stack); standby 2.5 W
    in older revisions and 500 mA in newer ones (read in a driver's patches)."""
    assert contract.SAFE_0V_V == 0.8
    assert (contract.SINK_DISCONNECT_LOW_V, contract.SINK_DISCONNECT_HIGH_V) == (0.8, 3.67)
    assert (contract.STANDBY_LIMIT_W, contract.STANDBY_LIMIT_NEWER_A) == (2.5, 0.5)


def test_where_a_source_trips() -> None:
    """1.1 to 1.5 times the port's rating, not the contract's (from memory)."""
    assert (contract.OVERCURRENT_TRIP_LOW, contract.OVERCURRENT_TRIP_HIGH) == (1.1, 1.5)
