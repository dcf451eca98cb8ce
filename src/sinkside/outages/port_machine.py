"""What a source port may do, and in which order: one table of transitions.

USB Type-C has the port find a sink and switch VBUS on and off; above it the policy engine of USB
Power Delivery negotiates. Both are one machine here, since one has to be in its attached state
for the other to run. The machine is pure: it knows no clock and no volts, only what follows what.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.working import Source, Status

SOURCE = Source(
    document="USB Type-C R2.0 and USB Power Delivery R3.x, source state diagrams",
    clause="4.5.2 and 8.3.3.2",
    status=Status.MEMORY,
)
"""Names of states as in the headers and drivers read; the diagrams themselves from memory."""


class PortState(StrEnum):
    """States by the standards' own names; of a source only."""

    DISABLED = "Disabled"
    """No mains, or firmware that starts: nothing on CC and nothing on VBUS."""
    ERROR_RECOVERY = "ErrorRecovery"
    UNATTACHED = "Unattached.SRC"
    ATTACH_WAIT = "AttachWait.SRC"
    ATTACHED = "Attached.SRC"
    STARTUP = "PE_SRC_Startup"
    DISCOVERY = "PE_SRC_Discovery"
    SEND_CAPABILITIES = "PE_SRC_Send_Capabilities"
    NEGOTIATE = "PE_SRC_Negotiate_Capability"
    RESPONSE = "PE_SRC_Capability_Response"
    TRANSITION_SUPPLY = "PE_SRC_Transition_Supply"
    READY = "PE_SRC_Ready"
    PE_DISABLED = "PE_SRC_Disabled"
    """The partner talks no Power Delivery: 5 V stay."""
    HARD_RESET = "PE_SRC_Hard_Reset"
    HARD_RESET_RECEIVED = "PE_SRC_Hard_Reset_Received"
    TRANSITION_TO_DEFAULT = "PE_SRC_Transition_to_default"


class Cause(StrEnum):
    """What moves a port: a message, a timer that ends, volts that are reached, or the world."""

    MAINS_LOST = "mains lost"
    MAINS_BACK = "mains back"
    RESTART = "firmware restart"
    STARTED = "firmware up"
    SINK_SEEN = "SRC.Rd"
    SINK_GONE = "SRC.Open"
    DEBOUNCED = "tCCDebounce"
    SAFE_0V = "vSafe0V"
    SAFE_5V = "vSafe5V"
    CAPABILITIES = "Source_Capabilities"
    NO_ANSWER = "no GoodCRC"
    CAPABILITY_TIMER = "tTypeCSendSourceCap"
    CAPS_COUNT = "nCapsCount"
    REQUEST = "Request"
    ACCEPT = "Accept"
    REJECT = "Reject"
    CONTRACT_STANDS = "contract stands"
    READY = "PS_RDY"
    RESPONSE_TIMER = "tSenderResponse"
    NO_RESPONSE_TIMER = "tNoResponse"
    PPS_TIMEOUT = "tPPSTimeout"
    EPR_TIMEOUT = "tSourceEPRKeepAlive"
    NEW_OFFER = "the offer changes"
    EPR_ENTERED = "EPR_Mode"
    OVER_CURRENT = "over-current"
    RESET_RECEIVED = "Hard Reset received"
    RESET_SENT = "Hard Reset sent"
    HARD_RESET_TIMER = "tPSHardReset"
    RECOVERED = "tSrcRecover"
    ERROR_RECOVERED = "tErrorRecovery"


S, C = PortState, Cause
_DARK: Mapping[Cause, PortState] = {C.MAINS_LOST: S.DISABLED, C.RESTART: S.DISABLED}
_PULLED: Mapping[Cause, PortState] = {**_DARK, C.SINK_GONE: S.UNATTACHED}
_RESET: Mapping[Cause, PortState] = {
    C.RESET_RECEIVED: S.HARD_RESET_RECEIVED,
    C.RESET_SENT: S.HARD_RESET,
    C.OVER_CURRENT: S.HARD_RESET,
}

TRANSITIONS: Mapping[PortState, Mapping[Cause, PortState]] = {
    S.DISABLED: {C.MAINS_BACK: S.UNATTACHED, C.STARTED: S.UNATTACHED},
    S.ERROR_RECOVERY: {**_DARK, C.ERROR_RECOVERED: S.UNATTACHED},
    S.UNATTACHED: {**_DARK, C.SINK_SEEN: S.ATTACH_WAIT},
    # VBUS has to stand at vSafe0V before it may be switched on.
    S.ATTACH_WAIT: {**_PULLED, C.SAFE_0V: S.ATTACH_WAIT, C.DEBOUNCED: S.ATTACHED},
    S.ATTACHED: {**_PULLED, C.SAFE_5V: S.STARTUP, C.OVER_CURRENT: S.ERROR_RECOVERY},
    S.STARTUP: {**_PULLED, **_RESET, C.CAPABILITIES: S.SEND_CAPABILITIES},
    S.DISCOVERY: {
        **_PULLED,
        **_RESET,
        C.CAPABILITY_TIMER: S.SEND_CAPABILITIES,
        C.CAPS_COUNT: S.PE_DISABLED,
        C.NO_RESPONSE_TIMER: S.HARD_RESET,
    },
    S.SEND_CAPABILITIES: {
        **_PULLED,
        **_RESET,
        C.REQUEST: S.NEGOTIATE,
        C.NO_ANSWER: S.DISCOVERY,
        C.RESPONSE_TIMER: S.HARD_RESET,
        C.NO_RESPONSE_TIMER: S.HARD_RESET,
    },
    S.NEGOTIATE: {**_PULLED, **_RESET, C.ACCEPT: S.TRANSITION_SUPPLY, C.REJECT: S.RESPONSE},
    S.RESPONSE: {**_PULLED, **_RESET, C.CONTRACT_STANDS: S.READY, C.NO_ANSWER: S.HARD_RESET},
    S.TRANSITION_SUPPLY: {**_PULLED, **_RESET, C.READY: S.READY, C.NO_ANSWER: S.HARD_RESET},
    S.READY: {
        **_PULLED,
        **_RESET,
        C.REQUEST: S.NEGOTIATE,
        C.NEW_OFFER: S.SEND_CAPABILITIES,
        C.EPR_ENTERED: S.SEND_CAPABILITIES,
        C.PPS_TIMEOUT: S.HARD_RESET,
        C.EPR_TIMEOUT: S.HARD_RESET,
    },
    S.PE_DISABLED: {**_PULLED, **_RESET},
    S.HARD_RESET: {**_PULLED, C.HARD_RESET_TIMER: S.TRANSITION_TO_DEFAULT},
    S.HARD_RESET_RECEIVED: {**_PULLED, C.HARD_RESET_TIMER: S.TRANSITION_TO_DEFAULT},
    S.TRANSITION_TO_DEFAULT: {
        **_PULLED,
        C.SAFE_0V: S.TRANSITION_TO_DEFAULT,
        C.RECOVERED: S.TRANSITION_TO_DEFAULT,
        C.SAFE_5V: S.STARTUP,
    },
}
"""Every state with all that may move it, and where to."""

GIVES_NOTHING = frozenset(
    {
        S.DISABLED,
        S.ERROR_RECOVERY,
        S.UNATTACHED,
        S.ATTACH_WAIT,
        S.TRANSITION_TO_DEFAULT,
    }
)
"""States in which the port takes VBUS away, and bleeds it."""


class IllegalEvent(Exception):
    """Something that cannot happen to a port in its state; the text lists what can."""

    def __init__(self, state: PortState, cause: Cause, but: tuple[Cause, ...] = ()) -> None:
        allowed = ", ".join(sorted(c for c in TRANSITIONS[state] if c not in but))
        super().__init__(f"{cause} cannot happen in {state}; there it can be: {allowed}")
        self.state, self.cause = state, cause


def after(state: PortState, cause: Cause) -> PortState:
    """The state that a cause leads to.

    Raises
    ------
    IllegalEvent
        It cannot happen in that state.

    Examples
    --------
    >>> after(PortState.ATTACH_WAIT, Cause.DEBOUNCED).value
    'Attached.SRC'
    """
    try:
        return TRANSITIONS[state][cause]
    except KeyError:
        raise IllegalEvent(state, cause) from None


@dataclass(frozen=True, kw_only=True)
class Transition:
    """One line of a trace: when, which port, from where, to where, and why."""

    time_s: float
    port: str
    before: PortState
    after: PortState
    cause: Cause

    def __str__(self) -> str:
        return f"{self.time_s:9.4f} s  {self.port}  {self.before} → {self.after}  ({self.cause})"


def follow(
    port: str, state: PortState, causes: Iterable[tuple[float, Cause]]
) -> tuple[Transition, ...]:
    """The trace of a port through causes in order of time.

    Parameters
    ----------
    port
        Its name.
    state
        Where it starts.
    causes
        Times, s, and what happens then.

    Raises
    ------
    IllegalEvent
        One of them cannot happen where the port then is.
    """
    trace = []
    for time_s, cause in causes:
        later = after(state, cause)
        trace.append(Transition(time_s=time_s, port=port, before=state, after=later, cause=cause))
        state = later
    return tuple(trace)
