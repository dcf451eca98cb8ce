"""Timers of USB Type-C and USB Power Delivery, and the gap that a Hard Reset makes of them.

Timers have the standard's names. A limit that the standard leaves open, or that was not read,
is None. Where revisions or modes differ, the same name stands once for each scope.

A Hard Reset is what a sink sees when its contract is torn down. A new agreement without one
is only a step to another voltage and leaves no gap. A charger that restarts its ports in
firmware is bound by no standard: see `FIRMWARE_RESTART_S`.
"""

from collections.abc import Mapping
from dataclasses import dataclass

from sinkside.faults import NotUnderstood
from sinkside.working import Source, Status


@dataclass(frozen=True, kw_only=True)
class Timer:
    """One timer of the standard.

    Parameters
    ----------
    name
        As the standard spells it.
    min_s, nom_s, max_s
        In s; None where there is no such limit, or none was read.
    source
        Document, clause and status.
    scope
        The mode or the revision it applies to; empty if to all.
    """

    name: str
    min_s: float | None = None
    nom_s: float | None = None
    max_s: float | None = None
    source: Source
    scope: str = ""


def _zephyr_tc(clause: str) -> Source:
    return Source(
        document="USB Type-C R2.0, as given in the Zephyr header usbc_tc.h",
        clause=clause,
        status=Status.READ,
    )


def _zephyr_pd(clause: str) -> Source:
    return Source(
        document="USB Power Delivery R3.0, as given in the Zephyr header usbc_pd.h",
        clause=clause,
        status=Status.READ,
    )


# Read in texts that cite the standard but have no name worth looking for.
_POLICY = Source(
    document="USB Power Delivery R3.2, as given in an open-source source policy",
    status=Status.SECONDARY,
)
_LIST = Source(
    document="USB Power Delivery R3.x, as given in a published list of timers",
    status=Status.SECONDARY,
)
_CONTROLLER = Source(
    document="USB Power Delivery R3.x, as given in a source controller's list of timers",
    status=Status.SECONDARY,
)
_COMPLIANCE = Source(
    document="USB Power Delivery R3.x, as given in published compliance limits",
    status=Status.SECONDARY,
)
_LINUX = Source(
    document="USB Power Delivery R3.x, as used by the Linux port manager tcpm.c",
    status=Status.READ,
)
_MEMORY = Source(document="USB Power Delivery R3.1 and later", status=Status.MEMORY)

TIMERS: tuple[Timer, ...] = (
    # Attaching, USB Type-C
    Timer(name="tVBUSON", max_s=0.275, source=_zephyr_tc("Table 4-29")),
    Timer(name="tVBUSOFF", max_s=0.650, source=_zephyr_tc("Table 4-29")),
    Timer(name="tCCDebounce", min_s=0.100, max_s=0.200, source=_zephyr_tc("Table 4-31")),
    Timer(name="tPDDebounce", min_s=0.010, max_s=0.020, source=_zephyr_tc("Table 4-31")),
    Timer(name="tSinkAdj", max_s=0.060, source=_zephyr_tc("")),
    Timer(name="tErrorRecovery", min_s=0.025, source=_zephyr_tc("")),
    Timer(name="tErrorRecovery", min_s=0.240, source=_zephyr_tc(""), scope="while sourcing VCONN"),
    # Finding each other, USB PD
    Timer(name="tFirstSourceCap", max_s=0.250, source=_LIST),
    Timer(name="tTypeCSendSourceCap", min_s=0.100, max_s=0.200, source=_zephyr_pd("Table 6-68")),
    Timer(name="tTypeCSinkWaitCap", min_s=0.310, max_s=0.620, source=_zephyr_pd("Table 6-68")),
    Timer(name="tNoResponse", min_s=4.5, max_s=5.5, source=_zephyr_pd("Table 6-68")),
    # Negotiating
    Timer(
        name="tSenderResponse",
        min_s=0.024,
        nom_s=0.027,
        max_s=0.030,
        source=_zephyr_pd("Table 6-68"),
        scope="R2.0 and R3.0",
    ),
    Timer(name="tSenderResponse", min_s=0.027, max_s=0.033, source=_MEMORY, scope="R3.1 and later"),
    Timer(name="tReceiverResponse", max_s=0.015, source=_LIST),
    Timer(name="tSinkRequest", min_s=0.100, source=_zephyr_pd("Table 6-68")),
    # Moving the output
    Timer(name="tSrcTransition", min_s=0.025, max_s=0.035, source=_CONTROLLER),
    Timer(name="tSnkTransition", min_s=0.025, max_s=0.035, source=_CONTROLLER),
    Timer(
        name="tPSTransition",
        min_s=0.450,
        max_s=0.550,
        source=_zephyr_pd("Table 6-68"),
        scope="SPR",
    ),
    Timer(
        name="tPSTransition",
        min_s=0.830,
        max_s=1.020,
        source=_zephyr_pd("Table 6-68"),
        scope="EPR",
    ),
    Timer(name="tSrcReady", max_s=0.285, source=_POLICY, scope="SPR"),
    Timer(name="tSrcReady", max_s=0.720, source=_MEMORY, scope="EPR"),
    Timer(name="tSrcSettle", max_s=0.275, source=_POLICY),
    Timer(name="tPpsSrcTransSmall", max_s=0.025, source=_CONTROLLER),
    Timer(name="tPpsSrcTransLarge", max_s=0.275, source=_CONTROLLER),
    Timer(name="tAvsSrcTransSmall", max_s=0.050, source=_MEMORY),
    Timer(name="tAvsSrcTransLarge", max_s=0.700, source=_POLICY),
    Timer(name="tSnkStdby", max_s=0.015, source=_LINUX),
    Timer(name="tSnkNewPower", max_s=0.015, source=_LINUX),
    # Keeping a contract alive
    Timer(name="tPPSRequest", max_s=10.0, source=_LIST),
    Timer(name="tPPSTimeout", min_s=12.0, max_s=15.0, source=_CONTROLLER),
    Timer(name="tSinkEPRKeepAlive", min_s=0.250, max_s=0.500, source=_LIST),
    Timer(name="tSourceEPRKeepAlive", min_s=0.750, nom_s=0.875, max_s=1.000, source=_LIST),
    Timer(name="tEnterEPR", min_s=0.450, max_s=0.550, source=_LIST),
    # Hard Reset
    Timer(name="tPSHardReset", min_s=0.025, max_s=0.035, source=_zephyr_pd("Table 6-68")),
    Timer(name="tSafe0V", max_s=0.650, source=_zephyr_pd("Table 7-24")),
    Timer(name="tSafe5V", max_s=0.275, source=_zephyr_pd("Table 7-24")),
    Timer(name="tSrcRecover", min_s=0.660, max_s=1.000, source=_COMPLIANCE, scope="SPR"),
    Timer(name="tSrcRecover", min_s=1.085, max_s=1.425, source=_MEMORY, scope="EPR"),
    Timer(name="tSrcTurnOn", max_s=0.275, source=_COMPLIANCE),
)

CAPS_COUNT = 50
"""nCapsCount: Source_Capabilities sent without an answer before the source gives up."""

HARD_RESET_COUNT = 2
"""nHardResetCount: Hard Resets without an answer before a partner counts as unable to talk."""

QUICK_SETTLE_S = 0.260
"""What one source controller takes to settle; tSrcReady has an upper limit only."""

PPS_LARGE_STEP_V = 0.5
"""A programmable step above this is a large one."""

AVS_LARGE_STEP_V = 1.0
"""An adjustable step of at least this is a large one."""

FIRMWARE_RESTART_S = 5.0
"""Least to plan with for a charger that restarts all its ports; no standard bounds it: measure."""

SOURCES: Mapping[str, Source] = {
    "CAPS_COUNT": _zephyr_pd("Table 6-70"),
    "HARD_RESET_COUNT": _zephyr_pd("Table 6-70"),
    "QUICK_SETTLE_S": Source(document="datasheet of a source controller", status=Status.SECONDARY),
    "PPS_LARGE_STEP_V": Source(document="USB Power Delivery R3.x", status=Status.MEMORY),
    "AVS_LARGE_STEP_V": _LINUX,
    "FIRMWARE_RESTART_S": Source(
        document="common practice with multi-port chargers", status=Status.MEMORY
    ),
    "HARD_RESET_GAP": Source(
        document="USB Power Delivery R3.x, Hard Reset sequence, sum of the timers",
        status=Status.ARITHMETIC,
    ),
}


def timer(name: str, scope: str = "") -> Timer:
    """One timer by the standard's name.

    Parameters
    ----------
    name
        Such as ``tSrcRecover``.
    scope
        Such as ``SPR``, for a name that has several.

    Raises
    ------
    NotUnderstood
        No such timer, or no such scope.
    """
    scopes = {t.scope: t for t in TIMERS if t.name == name}
    if not scopes:
        raise NotUnderstood(f"no timer {name!r} in the table", code="unknown-timer")
    if scope not in scopes:
        allowed = ", ".join(repr(s) for s in scopes)
        raise NotUnderstood(
            f"timer {name} has no scope {scope!r}", f"it has {allowed}", code="unknown-timer"
        )
    return scopes[scope]


@dataclass(frozen=True, kw_only=True)
class Step:
    """One step of a sequence, with the shortest and the longest time that it takes.

    Parameters
    ----------
    what
        What happens.
    bounds
        The timers that bound it.
    low_s, high_s
        In s.
    five_volts_absent
        Whether VBUS is outside vSafe5V in this step.
    """

    what: str
    bounds: str
    low_s: float
    high_s: float
    five_volts_absent: bool = False


@dataclass(frozen=True, kw_only=True)
class HardResetGap:
    """How long what is missing, in s, and the steps that add up to it.

    Parameters
    ----------
    steps
        In order of time, from the Hard Reset to PS_RDY of the new contract.
    five_volts_absent_low_s, five_volts_absent_high_s
        No supply at all.
    contract_absent_low_s, contract_absent_high_s
        From the Hard Reset until the contract's voltage and current may be used again.
    """

    steps: tuple[Step, ...]
    five_volts_absent_low_s: float
    five_volts_absent_high_s: float
    contract_absent_low_s: float
    contract_absent_high_s: float


def hard_reset_gap(*, epr: bool = False) -> HardResetGap:
    """The gap in the supply that a Hard Reset makes.

    Parameters
    ----------
    epr
        Whether the contract was above 100 W, so that the sink must enter that mode again.

    Returns
    -------
    HardResetGap
        Low: the quickest charger and sink that the timers allow, settling like one source
        controller that was read. High: the slowest that still succeed at the first attempt.

    Notes
    -----
    Sum of the steps. tSrcRecover is counted from vSafe0V. Messages on the wire take below 1 ms
    and are left out. A repeated attempt, a sink that asks for 5 V first, and the time that the
    device itself takes to start come on top.

    References
    ----------
    USB PD Hard Reset sequence from memory; each timer with its status in `TIMERS`.
    The EPR recovery time is from memory.
    """
    mode = "EPR" if epr else "SPR"
    steps = (*_removal(mode), *_negotiation(), *(_epr_entry() if epr else ()))
    absent = [step for step in steps if step.five_volts_absent]
    return HardResetGap(
        steps=steps,
        five_volts_absent_low_s=sum(step.low_s for step in absent),
        five_volts_absent_high_s=sum(step.high_s for step in absent),
        contract_absent_low_s=sum(step.low_s for step in steps),
        contract_absent_high_s=sum(step.high_s for step in steps),
    )


def _removal(mode: str) -> tuple[Step, ...]:
    return (
        _step("the source keeps its output until it starts to remove it", "tPSHardReset"),
        _step("VBUS falls to 0 V", "tSafe0V", five_volts_absent=True),
        _step("the source stays off", "tSrcRecover", mode, five_volts_absent=True),
        _step("VBUS rises to 5 V", "tSrcTurnOn", five_volts_absent=True),
    )


def _negotiation() -> tuple[Step, ...]:
    return (
        _step("the source sends Source_Capabilities", "tFirstSourceCap"),
        # The responder has no minimum; past the sender's timer a new Hard Reset would follow.
        _reply("the sink sends Request"),
        _reply("the source sends Accept"),
        Step(
            what="the output moves, and the source sends PS_RDY",
            bounds="tSrcTransition + a quick settling … tPSTransition",
            low_s=_shortest_s("tSrcTransition") + QUICK_SETTLE_S,
            high_s=_longest_s("tPSTransition", "SPR"),
        ),
    )


def _epr_entry() -> tuple[Step, ...]:
    return (
        Step(
            what="the sink enters EPR mode",
            bounds="tEnterEPR",
            low_s=0.0,  # tEnterEPR is a limit for giving up, not a time to wait
            high_s=_longest_s("tEnterEPR"),
        ),
        _step("the source sends EPR_Source_Capabilities", "tFirstSourceCap"),
        _reply("the sink sends EPR_Request"),
        _reply("the source sends Accept"),
        Step(
            what="the output moves, and the source sends PS_RDY",
            bounds="tSrcTransition + a quick settling … tPSTransition",
            low_s=_shortest_s("tSrcTransition") + QUICK_SETTLE_S,
            high_s=_longest_s("tPSTransition", "EPR"),
        ),
    )


def _step(what: str, name: str, scope: str = "", *, five_volts_absent: bool = False) -> Step:
    return Step(
        what=what,
        bounds=name,
        low_s=_shortest_s(name, scope),
        high_s=_longest_s(name, scope),
        five_volts_absent=five_volts_absent,
    )


def _reply(what: str) -> Step:
    scopes = ("R2.0 and R3.0", "R3.1 and later")
    return Step(
        what=what,
        bounds="tSenderResponse",
        low_s=0.0,
        high_s=max(_longest_s("tSenderResponse", scope) for scope in scopes),
    )


def _shortest_s(name: str, scope: str = "") -> float:
    """No lower limit means that it may happen at once."""
    return timer(name, scope).min_s or 0.0


def _longest_s(name: str, scope: str = "") -> float:
    """No upper limit means that the timer bounds nothing: an error in the sequence above."""
    longest_s = timer(name, scope).max_s
    if longest_s is None:
        raise ValueError(f"{name} has no upper limit and cannot bound a step")
    return longest_s
