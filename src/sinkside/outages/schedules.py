"""How an event runs on a port: the causes one after the other, each with the timers that bound it.

A schedule is the standard's sequence at its first attempt. Each delay is a quantity that varies
in service between the ends of its timer: nothing is known of where in it a charger lies, and
the next time it may lie elsewhere.
"""

from dataclasses import dataclass, replace

from sinkside.outages.port_machine import GIVES_NOTHING, Cause, PortState, Transition, after, follow
from sinkside.quantity import Basis, Quantity, point, unknown, varies
from sinkside.standards.pd_timers import QUICK_SETTLE_S, Timer, timer

_RESPONSES = ("R2.0 and R3.0", "R3.1 and later")
# How long a charger takes from mains to a live port (common practice, no source).
START_S = (0.3, 3.0)
# How long a hand takes to plug a lead in again (common practice, no source).
REPLUG_S = (0.2, 2.0)
# A mains cut of which nobody says how long it is.
UNKNOWN_CUT = unknown(0.1, 60.0, "s", name="length of the mains cut")


@dataclass(frozen=True, kw_only=True)
class Moment:
    """One cause, and how long after the one before.

    Parameters
    ----------
    bounds
        The timers that bound the delay, for people.
    waits
        Whether the port waits here until its receptacle has fallen to vSafe0V.
    """

    cause: Cause
    delay_s: Quantity
    bounds: str
    waits: bool = False


@dataclass(frozen=True, kw_only=True)
class Schedule:
    """An event on a port.

    Parameters
    ----------
    event
        For people.
    state
        Where the port is when it begins.
    retries
        What follows if the port trips meanwhile, from an output that is off.
    """

    event: str
    state: PortState
    moments: tuple[Moment, ...]
    retries: tuple[Moment, ...]

    @property
    def ends_in(self) -> PortState:
        """The state at its end."""
        state = self.state
        for moment in self.moments:
            state = after(state, moment.cause)
        return state

    def contract_absent_s(self) -> tuple[float, float]:
        """Shortest and longest time from the beginning until a contract stands again."""
        return (
            sum(moment.delay_s.low for moment in self.moments),
            sum(moment.delay_s.high for moment in self.moments),
        )

    def supply_absent_s(self) -> tuple[float, float]:
        """Shortest and longest time without anything on VBUS."""
        state, low, high = self.state, 0.0, 0.0
        for moment in self.moments:
            # The output is switched on and only rising while it is waited for 5 V.
            if state in GIVES_NOTHING or moment.cause is Cause.SAFE_5V:
                low, high = low + moment.delay_s.low, high + moment.delay_s.high
            state = after(state, moment.cause)
        return low, high

    def trace(self, port: str, start_s: float = 0.0) -> tuple[Transition, ...]:
        """The trace at nominal delays.

        Raises
        ------
        IllegalEvent
            The schedule holds something that cannot happen.
        """
        times, now = [], start_s
        for moment in self.moments:
            now += moment.delay_s.value
            times.append((now, moment.cause))
        return follow(port, self.state, times)

    def stretched(self, lasts_s: Quantity) -> "Schedule":
        """The same sequence drawn out or drawn together to what was measured of it.

        Parameters
        ----------
        lasts_s
            From its beginning until the contract stands again.

        Notes
        -----
        Every delay is taken as the same share of the whole as in the standard's sequence at
        its nominal; what the parts of a measured whole are, nobody has said.
        """
        whole = sum(moment.delay_s.value for moment in self.moments)
        moments = tuple(
            replace(
                moment,
                delay_s=_part_of(lasts_s, moment.delay_s.value / whole),
                bounds=f"its share of the measured {moment.bounds}",
            )
            for moment in self.moments
        )
        return replace(self, moments=moments)


def _part_of(whole: Quantity, share: float) -> Quantity:
    """A share of a quantity; it moves with the whole, and so has its name."""
    return replace(
        whole,
        low=share * whole.low,
        high=share * whole.high,
        nominal=None if whole.nominal is None else share * whole.nominal,
    )


def attach(charger: str, *, negotiates: bool = True, epr: bool = False) -> Schedule:
    """A sink is plugged into a dead port.

    Parameters
    ----------
    charger
        Its name, which the delays are named after.
    negotiates
        Whether the sink asks for a contract; two resistors do not.
    epr
        Whether the contract is above 100 W.
    """
    timers = _Timers(charger)
    return Schedule(
        event="it is plugged in",
        state=PortState.UNATTACHED,
        moments=(_now(Cause.SINK_SEEN), *timers.arriving(), *timers.agreed(negotiates, epr)),
        retries=timers.retried(negotiates, epr),
    )


def replug(charger: str, *, negotiates: bool = True, epr: bool = False) -> Schedule:
    """A sink is pulled out and plugged in again."""
    timers = _Timers(charger)
    return Schedule(
        event="it is pulled out and plugged in again",
        state=_standing(negotiates),
        moments=(
            _now(Cause.SINK_GONE),
            Moment(
                cause=Cause.SINK_SEEN,
                delay_s=unknown(*REPLUG_S, "s", name="time to plug it in again"),
                bounds="a hand",
            ),
            *timers.arriving(),
            *timers.agreed(negotiates, epr),
        ),
        retries=timers.retried(negotiates, epr),
    )


def hard_reset(charger: str, *, negotiates: bool = True, epr: bool = False) -> Schedule:
    """The sink sends a Hard Reset, or the source finds it necessary."""
    return _reset(charger, Cause.RESET_RECEIVED, "a Hard Reset", negotiates, epr)


def over_current(charger: str, *, negotiates: bool = True, epr: bool = False) -> Schedule:
    """The source lets go for too much current, and tries again (USB PD 7.1.7.1, from memory)."""
    return _reset(charger, Cause.OVER_CURRENT, "the port trips and tries again", negotiates, epr)


def pps_timeout(charger: str) -> Schedule:
    """A sink on a programmable contract has said nothing for too long."""
    timers = _Timers(charger)
    return Schedule(
        event="its programmable contract is not kept alive",
        state=PortState.READY,
        moments=(
            timers.at(Cause.PPS_TIMEOUT, "tPPSTimeout"),
            *timers.reset(epr=False),
            *timers.agreed(negotiates=True, epr=False),
        ),
        retries=timers.retried(negotiates=True, epr=False),
    )


def renegotiation(charger: str) -> Schedule:
    """The source changes what it offers: a step to another voltage, without a gap."""
    timers = _Timers(charger)
    return Schedule(
        event="the offer changes",
        state=PortState.READY,
        moments=(
            _now(Cause.NEW_OFFER),
            timers.reply(Cause.REQUEST),
            timers.reply(Cause.ACCEPT),
            timers.moved("SPR"),
        ),
        retries=timers.retried(negotiates=True, epr=False),
    )


def mains_cut(
    charger: str, lasts_s: Quantity, *, negotiates: bool = True, epr: bool = False
) -> Schedule:
    """Mains go and come back.

    Parameters
    ----------
    lasts_s
        The cut. What the charger itself bridges, some 10 to 20 ms, is left out.
    """
    return _dark(
        charger, Cause.MAINS_LOST, Cause.MAINS_BACK, lasts_s, "a mains cut", negotiates, epr
    )


def firmware_restart(
    charger: str, lasts_s: Quantity, *, negotiates: bool = True, epr: bool = False
) -> Schedule:
    """The charger starts its firmware anew, and with it all its ports; no standard bounds it."""
    return _dark(
        charger, Cause.RESTART, Cause.STARTED, lasts_s, "a restart of all ports", negotiates, epr
    )


def _dark(
    charger: str,
    goes: Cause,
    comes: Cause,
    lasts_s: Quantity,
    event: str,
    negotiates: bool,
    epr: bool,
) -> Schedule:
    timers = _Timers(charger)
    return Schedule(
        event=event,
        state=_standing(negotiates),
        moments=(
            _now(goes),
            Moment(cause=comes, delay_s=lasts_s, bounds="its length"),
            Moment(
                cause=Cause.SINK_SEEN,
                delay_s=unknown(*START_S, "s", name=f"{charger}/start"),
                bounds="the start of the charger",
            ),
            *timers.arriving(),
            *timers.agreed(negotiates, epr),
        ),
        retries=timers.retried(negotiates, epr),
    )


def _reset(charger: str, cause: Cause, event: str, negotiates: bool, epr: bool) -> Schedule:
    timers = _Timers(charger)
    return Schedule(
        event=event,
        state=_standing(negotiates),
        moments=(_now(cause), *timers.reset(epr=epr), *timers.agreed(negotiates, epr)),
        retries=timers.retried(negotiates, epr),
    )


def _standing(negotiates: bool) -> PortState:
    return PortState.READY if negotiates else PortState.PE_DISABLED


def _now(cause: Cause) -> Moment:
    return Moment(cause=cause, delay_s=point(0.0, "s", Basis.STANDARD), bounds="at once")


class _Timers:
    """The timers of one charger as quantities, and the sequences that they make."""

    def __init__(self, charger: str) -> None:
        self._charger = charger

    def at(self, cause: Cause, name: str, scope: str = "", *, waits: bool = False) -> Moment:
        """A cause after a timer; without a lower limit it may come at once."""
        given = timer(name, scope)
        delay_s = self._quantity(given, given.min_s or 0.0, _longest_s(given))
        return Moment(cause=cause, delay_s=delay_s, bounds=name, waits=waits)

    def reply(self, cause: Cause) -> Moment:
        """An answer: at once, or just before the other side gives up, in any revision."""
        name = "tSenderResponse"
        longest = max((timer(name, scope) for scope in _RESPONSES), key=_longest_s)
        delay_s = self._quantity(longest, 0.0, _longest_s(longest), nominal=False)
        return Moment(cause=cause, delay_s=delay_s, bounds=name)

    def moved(self, scope: str) -> Moment:
        """The output has moved: not before it may begin and has settled, not after the limit."""
        limit = timer("tPSTransition", scope)
        low = (timer("tSrcTransition").min_s or 0.0) + QUICK_SETTLE_S
        return Moment(
            cause=Cause.READY,
            delay_s=self._quantity(limit, low, _longest_s(limit)),
            bounds="tSrcTransition and a quick settling .. tPSTransition",
        )

    def arriving(self) -> tuple[Moment, ...]:
        """From a sink that is seen to 5 V."""
        return (
            self.at(Cause.DEBOUNCED, "tCCDebounce", waits=True),
            self.at(Cause.SAFE_5V, "tVBUSON"),
        )

    def reset(self, *, epr: bool) -> tuple[Moment, ...]:
        """From a Hard Reset to 5 V."""
        return (
            self.at(Cause.HARD_RESET_TIMER, "tPSHardReset"),
            self.at(Cause.SAFE_0V, "tSafe0V", waits=True),
            self.at(Cause.RECOVERED, "tSrcRecover", "EPR" if epr else "SPR"),
            self.at(Cause.SAFE_5V, "tSrcTurnOn"),
        )

    def agreed(self, negotiates: bool, epr: bool) -> tuple[Moment, ...]:
        """From 5 V to a contract; nothing where nobody asks for one."""
        if not negotiates:
            return ()
        first = (
            self.at(Cause.CAPABILITIES, "tFirstSourceCap"),
            self.reply(Cause.REQUEST),
            self.reply(Cause.ACCEPT),
            self.moved("SPR"),
        )
        if not epr:
            return first
        entering = self.at(Cause.EPR_ENTERED, "tEnterEPR")
        # tEnterEPR is a limit for giving up, not a time to wait.
        entering = replace(entering, delay_s=replace(entering.delay_s, low=0.0))
        offered = self.at(Cause.REQUEST, "tFirstSourceCap")
        answered = self.reply(Cause.REQUEST)
        together = replace(
            answered.delay_s,
            high=answered.delay_s.high + offered.delay_s.high,
            name=f"{self._charger}/tFirstSourceCap and tSenderResponse",
        )
        asked = replace(offered, delay_s=together, bounds="tFirstSourceCap and tSenderResponse")
        return (*first, entering, asked, self.reply(Cause.ACCEPT), self.moved("EPR"))

    def retried(self, negotiates: bool, epr: bool) -> tuple[Moment, ...]:
        """From an output that has let go to a contract: a Hard Reset without its beginning."""
        return (*self.reset(epr=epr)[1:], *self.agreed(negotiates, epr))

    def _quantity(self, given: Timer, low: float, high: float, *, nominal: bool = True) -> Quantity:
        found = varies(low, high, "s", Basis.STANDARD, f"{self._charger}/{given.name}")
        if nominal and given.nom_s is not None and low <= given.nom_s <= high:
            return replace(found, nominal=given.nom_s)
        return found


def _longest_s(given: Timer) -> float:
    if given.max_s is None:
        raise ValueError(f"{given.name} has no upper limit and bounds nothing")
    return given.max_s
