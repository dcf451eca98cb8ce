"""Single figures as published: the tables of the room written a second time, in their own units.

The status stands beside each block. The two copies were typed apart, so this finds slips of the
pen and later drift; whether the source is right it cannot tell.
"""

import pytest

from sinkside.standards import (
    barrel,
    copper,
    fuse_gates,
    pd_contract,
    pd_timers,
    preferred_values,
    safety_classes,
    type_c_cable,
    usb_ports,
)
from sinkside.standards.ecodesign import TEST_LOADS
from sinkside.standards.pd_message import (
    CONTROL_MESSAGES,
    DATA_MESSAGES,
    EXTENDED_BYTES,
    EXTENDED_MESSAGES,
    SPECIFICATION_REVISIONS,
)
from sinkside.standards.pd_overload import OVERLOADS
from sinkside.standards.power_rules import OfferKind, default_offers
from sinkside.standards.type_c_cc import PULL_UPS, RA_HIGH_OHM, RA_LOW_OHM, Advertised

# USB Type-C R2.0 and USB PD R3.x, ms; "-" where there is no limit. Read in the Zephyr headers
# usbc_tc.h and usbc_pd.h, in published lists of timers (secondary) or from memory, as the
# source of each row says.
TIMERS_MS = """
tVBUSON                                  -     -   275
tVBUSOFF                                 -     -   650
tCCDebounce                            100     -   200
tPDDebounce                             10     -    20
tSinkAdj                                 -     -    60
tErrorRecovery                          25     -     -
tErrorRecovery|while sourcing VCONN    240     -     -
tFirstSourceCap                          -     -   250
tTypeCSendSourceCap                    100     -   200
tTypeCSinkWaitCap                      310     -   620
tNoResponse                           4500     -  5500
tSenderResponse|R2.0 and R3.0           24    27    30
tSenderResponse|R3.1 and later          27     -    33
tReceiverResponse                        -     -    15
tSinkRequest                           100     -     -
tSrcTransition                          25     -    35
tSnkTransition                          25     -    35
tPSTransition|SPR                      450     -   550
tPSTransition|EPR                      830     -  1020
tSrcReady|SPR                            -     -   285
tSrcReady|EPR                            -     -   720
tSrcSettle                               -     -   275
tPpsSrcTransSmall                        -     -    25
tPpsSrcTransLarge                        -     -   275
tAvsSrcTransSmall                        -     -    50
tAvsSrcTransLarge                        -     -   700
tSnkStdby                                -     -    15
tSnkNewPower                             -     -    15
tPPSRequest                              -     - 10000
tPPSTimeout                          12000     - 15000
tSinkEPRKeepAlive                      250     -   500
tSourceEPRKeepAlive                    750   875  1000
tEnterEPR                              450     -   550
tPSHardReset                            25     -    35
tSafe0V                                  -     -   650
tSafe5V                                  -     -   275
tSrcRecover|SPR                        660     -  1000
tSrcRecover|EPR                       1085     -  1425
tSrcTurnOn                               -     -   275
"""


def test_timers() -> None:
    rows = {}
    for line in TIMERS_MS.strip().splitlines():
        name, *limits = line.rsplit(maxsplit=3)
        key, _, scope = name.strip().partition("|")
        rows[key, scope] = tuple(None if ms == "-" else int(ms) / 1000 for ms in limits)
    assert {(t.name, t.scope): (t.min_s, t.nom_s, t.max_s) for t in pd_timers.TIMERS} == rows


@pytest.mark.parametrize(
    ("got", "published"),
    [
        # USB PD: counters read in Zephyr usbc_pd.h; step sizes and restart from memory.
        (pd_timers.CAPS_COUNT, 50),
        (pd_timers.PPS_LARGE_STEP_V * 1000, 500),
        (pd_timers.AVS_LARGE_STEP_V * 1000, 1000),
        (pd_timers.FIRMWARE_RESTART_S, 5),
        (pd_timers.QUICK_SETTLE_S * 1000, 260),
        # USB PD: Linux tcpci.c (read), design notes and datasheets (secondary), memory.
        (pd_contract.PPS_VALID_MARGIN_V * 1000, 100),
        (pd_contract.PPS_SHUTDOWN_RATIO * 100, 85),
        (pd_contract.PPS_LEAST_CURRENT_LIMIT_A, 1),
        (pd_contract.BULK_LIMIT_BEFORE_CONTRACT_F * 1e6, 10),
        (pd_contract.BULK_LIMIT_AFTER_CONTRACT_F * 1e6, 100),
        (pd_contract.STANDBY_LIMIT_NEWER_A * 1000, 500),
        (pd_contract.SAFE_0V_V, 0.8),
        (pd_contract.SINK_DISCONNECT_LOW_V, 0.8),
        (pd_contract.SINK_DISCONNECT_HIGH_V, 3.67),
        (pd_contract.DEFAULT_SINK_MINIMUM_V, 4.0),
        (pd_contract.OVERCURRENT_TRIP_LOW, 1.1),
        (pd_contract.OVERCURRENT_TRIP_HIGH, 1.5),
        # USB Type-C R2.0 and R2.1 (secondary).
        (type_c_cable.mated_contacts_ohm(type_c_cable.CONTACT_INITIAL_OHM) * 1000, 10),
        (type_c_cable.mated_contacts_ohm(type_c_cable.CONTACT_AGED_OHM) * 1000, 12.5),
        (type_c_cable.EPR_FUNCTION_V, 53.65),
        (type_c_cable.EPR_PART_RATING_V, 63),
        (type_c_cable.CONNECTOR_RISE_K, 30),
        (type_c_cable.USB2_CONDUCTOR_DROP_V * 1000, 125),
        (RA_LOW_OHM, 800),
        (RA_HIGH_OHM, 1200),
        # USB 2.0, USB 3, Battery Charging 1.2 (secondary; 4.40 V from memory).
        (usb_ports.USB2_UNIT_LOAD_A * 1000, 100),
        (usb_ports.USB2_CONFIGURED_A * 1000, 500),
        (usb_ports.USB3_UNIT_LOAD_A * 1000, 150),
        (usb_ports.USB3_CONFIGURED_A * 1000, 900),
        (usb_ports.TYPE_C_DEFAULT_A * 1000, 500),
        (usb_ports.BATTERY_CHARGING_A, 1.5),
        (usb_ports.USB2_HOST_LOW_V, 4.75),
        (usb_ports.USB2_HOST_HIGH_V, 5.25),
        (usb_ports.USB2_HUB_PORT_LOW_V, 4.40),
        # Barrels: published list of sizes (secondary); looseness is common practice, no source.
        (barrel.USUAL_LENGTH_MM, 9.5),
        (barrel.LOOSE_MM, 0.2),
        # Copper: unknown leads from memory.
        (copper.CHEAP_LEAD_FACTOR, 1.6),
        # Safety: IEC 60950-1 (read), IEC 62368-1 (secondary, and memory for ES1, ES2 and times).
        (safety_classes.SELV_AC_PEAK_V, 42.4),
        (safety_classes.SELV_60364_DC_V, 120),
        (safety_classes.SELV_60364_AC_RMS_V, 50),
        (safety_classes.ES1_AC_RMS_V, 30),
        (safety_classes.ES1_AC_PEAK_V, 42.4),
        (safety_classes.ES2_AC_RMS_V, 50),
        (safety_classes.PS1_AFTER_S, 3),
        (safety_classes.PS2_AFTER_S, 5),
        (safety_classes.FUSED_SOURCE_VA, 250),
        (safety_classes.CAPACITOR_DISCHARGE_S, 2),
        (safety_classes.TOUCH_CURRENT_A * 1000, 0.25),
    ],
)
def test_single_figures(got: float, published: float) -> None:
    assert got == pytest.approx(published)


def test_pull_ups() -> None:
    # USB Type-C R2.0 Table 4-24 as given in a maker's manual, and a port controller's datasheet
    # (secondary); 2.04 V from memory. A, µA ± %, kΩ to 3.3 V, kΩ to 5 V, ± %, V, V.
    rows = {
        Advertised.DEFAULT: (0.5, 80, 20, 36, 56, 20, 0.25, 0.61),
        Advertised.A1_5: (1.5, 180, 8, 12, 22, 5, 0.70, 1.16),
        Advertised.A3_0: (3.0, 330, 8, 4.7, 10, 5, 1.31, 2.04),
    }
    for level, row in rows.items():
        up = PULL_UPS[level]
        assert (
            up.current_a,
            up.source_a * 1e6,
            up.source_tolerance * 100,
            up.to_3_3_v_ohm / 1e3,
            up.to_5_v_ohm / 1e3,
            up.resistor_tolerance * 100,
            up.cc_low_v,
            up.cc_high_v,
        ) == pytest.approx(row)


def test_message_types_that_the_kernel_header_does_not_have() -> None:
    # USB PD Tables 6-5, 6-6, 6-48 as given in Zephyr usbc_pd.h (read).
    assert {9: "EPR_Request", 10: "EPR_Mode", 11: "Source_Info"}.items() <= DATA_MESSAGES.items()
    assert {14: "Data_Reset", 15: "Data_Reset_Complete"}.items() <= CONTROL_MESSAGES.items()
    assert EXTENDED_MESSAGES == {17: "EPR_Source_Capabilities", 18: "EPR_Sink_Capabilities"}
    assert EXTENDED_BYTES == 260
    assert SPECIFICATION_REVISIONS == {0: "1.0", 1: "2.0", 2: "3.x"}


def test_test_loads() -> None:
    # Ecodesign background report (secondary): % of the rated current.
    assert [part * 100 for part in TEST_LOADS] == [25, 50, 75, 100]


def test_overloads() -> None:
    # USB PD fixed-supply overload table as given in an open-source PD header (secondary): % of
    # the offered current, for 1 ms at 5 %, 2 ms at 10 %, 10 ms at 50 % of the time.
    rows = {1: (150, 125, 110), 2: (200, 150, 125), 3: (200, 175, 150)}
    assert OVERLOADS[0] == ()
    for code, percents in rows.items():
        found = OVERLOADS[code]
        assert tuple(row.ratio * 100 for row in found) == pytest.approx(percents)
        assert [row.duration_s * 1000 for row in found] == pytest.approx([1, 2, 10])
        assert [row.duty * 100 for row in found] == pytest.approx([5, 10, 50])


def test_conductors() -> None:
    # IEC 60228 (secondary), Ω/km for 0.5, 0.75, 1, 1.5, 2.5 mm²; DIN VDE 0295 (secondary).
    sizes = [0.5, 0.75, 1.0, 1.5, 2.5]
    for table, published in (
        (copper.IEC_60228_CLASS_2_OHM_PER_KM, [36.0, 24.5, 18.1, 12.1, 7.41]),
        (copper.IEC_60228_CLASS_5_OHM_PER_KM, [39.0, 26.0, 19.5, 13.3, 7.98]),
        (copper.IEC_60228_CLASS_5_TINNED_OHM_PER_KM, [40.1, 26.7, 20.0, 13.7, 8.21]),
    ):
        assert list(table) == sizes
        assert list(table.values()) == published
    assert list(copper.SMALL_CORE_OHM_PER_KM.items()) == [
        (0.14, (134, 138)),
        (0.25, (76, 79)),
        (0.34, (53, 56)),
    ]
    # HyperPhysics wire gauge table (read), A; a convention.
    assert list(copper.CHASSIS_A.items()) == [
        (16, 22), (18, 16), (20, 11), (22, 7), (24, 3.5), (26, 2.2), (28, 1.4), (30, 0.86),
    ]  # fmt: skip


def test_barrels() -> None:
    # JEITA RC-5320A (secondary): centre pins; published list of sizes (secondary).
    assert [s.plug.centre_pin_mm for s in barrel.JEITA_SIZES] == [None, None, None, 1.0, 1.4]
    assert " ".join(str(size).removesuffix(" mm") for size in barrel.SOLD_SIZES) == (
        "2.35×0.7 2.5×0.7 3.5×1.1 3.5×1.35 3.8×1.05 3.8×1.35 4×1.7 4.75×1.7 5×2.1 5×2.5 "
        "5.5×2.1 5.5×2.5 6.5×3"
    )


def test_fuses() -> None:
    # IEC 60127-2 from memory, UL 248-14 from a maker's guide (secondary): times rated current,
    # s before which and after which.
    inf = float("inf")
    gates = {
        fuse_gates.FuseStandard.IEC_60127_2_F: [(1, inf, inf), (1.5, 3600, inf), (2.1, 0, 1800)],
        fuse_gates.FuseStandard.IEC_60127_2_T: [
            (1, inf, inf),
            (1.5, 3600, inf),
            (2.1, 0, 120),
            (10, 0.02, 0.3),
        ],
        fuse_gates.FuseStandard.UL_248_14: [(1, inf, inf), (1.35, 0, 3600), (2, 0, 120)],
    }
    for standard, rows in gates.items():
        found = fuse_gates.GATES[standard]
        assert [(g.ratio, g.not_before_s, g.not_after_s) for g in found] == rows
    # One maker's derating table (secondary), °C and %.
    assert [(t, round(ratio * 100)) for t, ratio in fuse_gates.PPTC_HOLD_RATIO.items()] == [
        (-40, 145), (-20, 130), (0, 120), (25, 100), (40, 88), (50, 80), (60, 71), (70, 66),
        (85, 56),
    ]  # fmt: skip


def test_tolerances_of_the_series() -> None:
    # IEC 60063 (encyclopedia entry).
    percents = {name: round(part * 100) for name, part in preferred_values.TOLERANCE.items()}
    assert percents == {"E6": 20, "E12": 10, "E24": 5, "E48": 2, "E96": 1}


def test_the_spr_adjustable_range_begins_at_9_v() -> None:
    # Test-lab notes on PD 3.2 (secondary).
    ranges = [o for o in default_offers(60.0) if o.kind is OfferKind.SPR_AVS]
    assert [(o.low_v, o.high_v) for o in ranges] == [(9.0, 20.0)]
