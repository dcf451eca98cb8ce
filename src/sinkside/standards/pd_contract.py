"""Volts and currents that a USB Power Delivery contract promises, and that it does not.

A contract is an agreement on a voltage and a current. It fixes what arrives at the
receptacle of the source; the cable may take a further 0.75 V. It limits nothing at the level
of the sink: the source protects its own port. The text of USB PD itself was not at hand; the
status of every figure stands in `SOURCES`.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from sinkside.standards.arrays import Numbers
from sinkside.working import Source, Status


@dataclass(frozen=True)
class Band:
    """A voltage with its limits, in volts: lowest, nominal, highest.

    Parameters
    ----------
    low_v, nominal_v, high_v
        In V, rising.
    """

    low_v: float
    nominal_v: float
    high_v: float


FIXED_VOLTAGES_V: tuple[float, ...] = (5.0, 9.0, 12.0, 15.0, 20.0, 28.0, 36.0, 48.0)
"""Voltages of fixed supplies. 12 V is optional at any power: never assume it."""

NO_CONTRACT = Band(4.75, 5.0, 5.5)
"""vSafe5V: at the source's receptacle, before or without a contract (resistors alone)."""

CONTRACT_TOLERANCE = 0.05
"""vSrcNew: under any explicit contract, 5 V included, at the source's receptacle."""

PPS_TOLERANCE = 0.05
"""vPpsNew: of the requested voltage, while the source is not limiting its current."""

PPS_VALID_MARGIN_V = 0.1
"""vPpsValid: beyond vPpsNew, while the output moves."""

PPS_SHUTDOWN_RATIO = 0.85
"""vPpsShutdown: when limiting, a source may hold down to this part of the object's minimum."""

PPS_LEAST_CURRENT_LIMIT_A = 1.0
"""A programmable supply cannot be asked to limit below this."""

TRANSITION_MARGIN_V = 0.5
"""vSrcValid: beyond vSrcNew, while the output moves from one voltage to another."""

CABLE_DROP_V = 0.75
"""VBUS 0.5 V and ground 0.25 V, at the cable's rated current, both mated contacts included."""

DEFAULT_SINK_MINIMUM_V = 4.0
"""Least voltage that a sink on 5 V must work with."""

SAFE_0V_V = 0.8
"""vSafe0V: at or below it VBUS counts as removed; a reservoir above it blocks re-attaching."""

SINK_DISCONNECT_LOW_V = 0.8
SINK_DISCONNECT_HIGH_V = 3.67
"""vSinkDisconnect: between the two a sink on 5 V decides that it has been unplugged."""

SLEW_LIMIT_V_PER_S = 30e3
"""vSrcSlewPos: 30 mV/µs, the fastest that a source may raise its output."""

BULK_LIMIT_BEFORE_CONTRACT_F = 10e-6
"""cSnkBulk: most capacitance that a sink may show at its receptacle when it attaches."""

BULK_LIMIT_AFTER_CONTRACT_F = 100e-6
"""cSnkBulkPd: most capacitance under a contract without a limiter of its surge."""

STANDBY_LIMIT_W = 2.5
"""pSnkStdby: most power that a sink may draw while the source moves its output."""

STANDBY_LIMIT_NEWER_A = 0.5
"""iSnkStdby: the same as a current, in newer revisions, for adjustable steps above 1 V."""

OVERCURRENT_TRIP_LOW = 1.1
OVERCURRENT_TRIP_HIGH = 1.5
"""Where a source trips, as a part of the *port's* rating, often not of the contract's."""

_TCPCI = "USB Power Delivery R3.x, constants of the Linux driver tcpci.c"
_TYPE_C_NOTES = "USB Type-C R2.0, as given in published notes"
_SINK_SHEET = "USB Power Delivery R3.x, as given in a sink controller's datasheet"
_SINK_NOTES = "USB Power Delivery R3.x, as given in design notes for sinks"

SOURCES: Mapping[str, Source] = {
    "FIXED_VOLTAGES_V": Source(
        document="USB Power Delivery R3.2, source power rules, as given in published notes",
        clause="ch. 10",
        status=Status.SECONDARY,
    ),
    "NO_CONTRACT": Source(document=_TYPE_C_NOTES, clause="vSafe5V", status=Status.SECONDARY),
    "CONTRACT_TOLERANCE": Source(
        document="USB Power Delivery R3.2 v1.2, as given in an open-source source policy",
        clause="Table 4.6, vSrcNew",
        status=Status.SECONDARY,
    ),
    "PPS_TOLERANCE": Source(document=_TCPCI, clause="vPpsNew", status=Status.READ),
    "PPS_VALID_MARGIN_V": Source(document=_TCPCI, clause="vPpsValid", status=Status.READ),
    "PPS_SHUTDOWN_RATIO": Source(document=_TCPCI, clause="vPpsShutdown", status=Status.READ),
    "PPS_LEAST_CURRENT_LIMIT_A": Source(
        document="USB Power Delivery R3.x", clause="iPpsCLMin", status=Status.MEMORY
    ),
    "TRANSITION_MARGIN_V": Source(document=_TCPCI, clause="vSrcValid", status=Status.READ),
    "CABLE_DROP_V": Source(document=_TYPE_C_NOTES, clause="4.4.1", status=Status.SECONDARY),
    "DEFAULT_SINK_MINIMUM_V": Source(
        document="USB Type-C and USB 3, as given in an encyclopedia entry",
        status=Status.SECONDARY,
    ),
    "SAFE_0V_V": Source(
        document="USB Power Delivery R3.0, as given in the Zephyr header usbc_pd.h",
        clause="vSafe0V",
        status=Status.READ,
    ),
    "SINK_DISCONNECT_LOW_V": Source(
        document="USB Type-C R2.0, as given in the Zephyr header usbc_tc.h",
        clause="Table 4-3",
        status=Status.READ,
    ),
    "SINK_DISCONNECT_HIGH_V": Source(
        document="USB Type-C R2.0, as given in the Zephyr header usbc_tc.h",
        clause="Table 4-3",
        status=Status.READ,
    ),
    "SLEW_LIMIT_V_PER_S": Source(
        document=_SINK_NOTES, clause="vSrcSlewPos", status=Status.SECONDARY
    ),
    "BULK_LIMIT_BEFORE_CONTRACT_F": Source(
        document=_SINK_SHEET, clause="cSnkBulk", status=Status.SECONDARY
    ),
    "BULK_LIMIT_AFTER_CONTRACT_F": Source(
        document=_SINK_SHEET, clause="cSnkBulkPd", status=Status.SECONDARY
    ),
    "STANDBY_LIMIT_W": Source(
        document="USB Power Delivery R3.0 and R3.1, as used by the Linux port manager tcpm.c",
        clause="pSnkStdby",
        status=Status.READ,
    ),
    "STANDBY_LIMIT_NEWER_A": Source(
        document="USB Power Delivery R3.2, as used by the Linux port manager tcpm.c",
        clause="iSnkStdby",
        status=Status.READ,
    ),
    "OVERCURRENT_TRIP_LOW": Source(
        document="common practice of source controllers", status=Status.MEMORY
    ),
    "OVERCURRENT_TRIP_HIGH": Source(
        document="common practice of source controllers", status=Status.MEMORY
    ),
}


def contract_band(nominal_v: float) -> Band:
    """Voltage at the source's receptacle under an explicit contract.

    Parameters
    ----------
    nominal_v
        Of the fixed or adjustable (AVS) contract, V.

    Returns
    -------
    Band
        vSrcNew: 0.95, 1 and 1.05 times the nominal.

    Notes
    -----
    Settled voltage; see `transition_band` for the time while it moves. For AVS the same ±5 % is
    from memory. Ripple and load steps are inside the band.

    References
    ----------
    USB PD R3.2 v1.2 Table 4.6, read in a secondary text.

    Examples
    --------
    >>> contract_band(20.0)
    Band(low_v=19.0, nominal_v=20.0, high_v=21.0)
    """
    return Band(
        nominal_v * (1 - CONTRACT_TOLERANCE), nominal_v, nominal_v * (1 + CONTRACT_TOLERANCE)
    )


def pps_band(requested_v: float) -> Band:
    """Voltage at the source's receptacle under a programmable (PPS) contract.

    Parameters
    ----------
    requested_v
        V.

    Returns
    -------
    Band
        vPpsNew: 0.95, 1 and 1.05 times what was requested.

    Notes
    -----
    Holds below the current limit. At the limit the source falls, down to `PPS_SHUTDOWN_RATIO`
    times the minimum of the object, before it may shut down.

    References
    ----------
    USB PD vPpsNew, read in the Linux driver tcpci.c.
    """
    return Band(requested_v * (1 - PPS_TOLERANCE), requested_v, requested_v * (1 + PPS_TOLERANCE))


def transition_band(from_v: float, to_v: float) -> Band:
    """Everything that the receptacle may show while a fixed contract changes.

    Parameters
    ----------
    from_v, to_v
        Nominal voltages before and after, V.

    Returns
    -------
    Band
        From 0.5 V under the lower vSrcNew to 0.5 V over the higher; nominal is `to_v`.

    Notes
    -----
    Lasts at most tSrcReady; no gap in the supply. Without a contract before, give 5 V.

    References
    ----------
    USB PD vSrcValid, read in the Linux driver tcpci.c.
    """
    return Band(
        contract_band(min(from_v, to_v)).low_v - TRANSITION_MARGIN_V,
        to_v,
        contract_band(max(from_v, to_v)).high_v + TRANSITION_MARGIN_V,
    )


def sink_minimum_v(nominal_v: Numbers) -> Numbers:
    """Least voltage at the sink's end of a lawful cable that carries its rated current.

    Parameters
    ----------
    nominal_v
        Of the contract, V. Float or array.

    Returns
    -------
    float
        V, vSinkPD_min = 0.95 V_nominal − 0.75 V.

    References
    ----------
    USB Type-C R2.0 4.4.1 and Table 4-3, read in a secondary text; the 0.75 V also read in the
    Linux driver tcpci.c.

    Examples
    --------
    >>> round(sink_minimum_v(20.0), 2)
    18.25
    """
    return nominal_v * (1 - CONTRACT_TOLERANCE) - CABLE_DROP_V


def step_inrush_a(capacitance_f: Numbers) -> Numbers:
    """Current into a capacitor while the source raises its output as fast as it may.

    Parameters
    ----------
    capacitance_f
        Directly at the output, without a limiter, F. Float or array.

    Returns
    -------
    float
        A, I = C · dV/dt. The load's own current comes on top.

    References
    ----------
    USB PD vSrcSlewPos, read in a secondary text: 22 µF give 0.66 A.
    """
    return capacitance_f * SLEW_LIMIT_V_PER_S
