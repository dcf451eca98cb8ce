"""Events on a charger, and what each does to each of its ports.

An attach, a detach or a replugged lead concerns its own port by the standard, and the others by
what the charger does on any change: nothing, a step, or a drop of all. A Hard Reset, a
programmable contract that is not kept alive, and too much current concern their own port
alone. A mains cut concerns all.
"""

from dataclasses import dataclass
from enum import StrEnum

from sinkside.outages import schedules
from sinkside.outages.interruption import dropped_s, interruption
from sinkside.outages.port_machine import Cause, IllegalEvent, PortState
from sinkside.outages.schedules import Schedule
from sinkside.parts.charger import Occupied
from sinkside.paths.front import Front
from sinkside.paths.states import State, supply
from sinkside.quantity import Quantity, number

_EPR_ABOVE_V = 21.0


class Kind(StrEnum):
    """What can happen to a port."""

    ATTACH = "attach"
    DETACH = "detach"
    REPLUG = "replug"
    HARD_RESET = "hard reset"
    PPS_TIMEOUT = "PPS time-out"
    OVER_CURRENT = "over-current"
    MAINS_CUT = "mains cut"


_ON_CHANGE = (Kind.ATTACH, Kind.DETACH, Kind.REPLUG)


@dataclass(frozen=True, kw_only=True)
class Event:
    """Something that happens on one charger.

    Parameters
    ----------
    charger, unit
        Which kind of charger, and which of that kind.
    port
        Where it happens; a mains cut concerns all ports.
    lasts_s
        Of a mains cut.
    """

    kind: Kind
    charger: str
    unit: int = 1
    port: str = ""
    lasts_s: Quantity | None = None

    def sentence(self) -> str:
        """For people."""
        where = f"{self.charger} {self.port}".strip()
        match self.kind:
            case Kind.ATTACH:
                return f"something is plugged into {where}"
            case Kind.DETACH:
                return f"something is pulled from {where}"
            case Kind.REPLUG:
                return f"something is pulled from {where} and plugged in again"
            case Kind.HARD_RESET:
                return f"a Hard Reset on {where}"
            case Kind.PPS_TIMEOUT:
                return f"the programmable contract on {where} is not kept alive"
            case Kind.OVER_CURRENT:
                return f"{where} trips"
            case Kind.MAINS_CUT:
                length = "" if self.lasts_s is None else f" for {_length(self.lasts_s)}"
                return f"{self.charger} is without mains{length}"


def _length(lasts_s: Quantity) -> str:
    if lasts_s.low == lasts_s.high:
        return number(lasts_s.low, "s")
    return f"{number(lasts_s.low, 's')} to {number(lasts_s.high, 's')}"


@dataclass(frozen=True, kw_only=True)
class Happening:
    """What an event does to one port with a front on it.

    Parameters
    ----------
    schedule
        None where nothing happens to it.
    before
        The state of its supply before; None where it was dead.
    after
        The states that may come; several where nobody knows which.
    words
        Why, for people.
    meant
        Whether it is what somebody did to this very device: its going out is no surprise.
    perhaps
        Whether it may be, as far as anybody knows, that nothing happens at all.
    """

    schedule: Schedule | None
    before: State | None
    after: tuple[State, ...]
    words: str
    meant: bool = False
    perhaps: bool = False


def happening(event: Event, front: Front, occupied: Occupied) -> Happening:
    """What an event does to the port of a front.

    Parameters
    ----------
    event
        On the charger of that front.
    occupied
        The ports in use before the event, that of the front included unless it is attached.

    Raises
    ------
    IllegalEvent
        It cannot happen to such a port: a time-out of a programmable contract where the
        contract is a fixed one, say.
    """
    own = event.kind is Kind.MAINS_CUT or event.port == front.port
    later = _later(event, occupied)
    if own:
        return _own(event, front, occupied, later)
    before = _standing(front, occupied)
    if event.kind not in _ON_CHANGE:
        words = "it concerns the other port alone"
        return Happening(schedule=None, before=before, after=(), words=words)
    after = _states(front, later)
    found = interruption(front.charger)
    charger = front.charger
    if charger.on_change == "nothing" or len(charger.ports) == 1:
        return Happening(schedule=None, before=before, after=after, words=found.words)
    if charger.on_change == "steps":
        schedule = schedules.renegotiation(charger.id) if _negotiates(front) else None
        return Happening(schedule=schedule, before=before, after=after, words=found.words)
    reset = schedules.hard_reset(charger.id, negotiates=_negotiates(front), epr=_epr(before))
    return Happening(
        schedule=reset.stretched(dropped_s(charger)),
        before=before,
        after=after,
        words=found.words,
        perhaps=charger.on_change == "unknown",
    )


def _later(event: Event, occupied: Occupied) -> Occupied:
    match event.kind:
        case Kind.ATTACH:
            return occupied | {event.port}
        case Kind.DETACH:
            return occupied - {event.port}
        case _:
            return occupied


def _own(event: Event, front: Front, occupied: Occupied, later: Occupied) -> Happening:
    """What happens to the port that the event is about."""
    charger, asks = front.charger.id, _negotiates(front)
    before = None if event.kind is Kind.ATTACH else _standing(front, occupied)
    after = _states(front, later)
    epr = _epr(after[0] if after else before)
    schedule = None
    match event.kind:
        case Kind.ATTACH:
            schedule = schedules.attach(charger, negotiates=asks, epr=epr)
        case Kind.REPLUG:
            schedule = schedules.replug(charger, negotiates=asks, epr=epr)
        case Kind.HARD_RESET:
            schedule = schedules.hard_reset(charger, negotiates=asks, epr=epr)
        case Kind.OVER_CURRENT:
            schedule = schedules.over_current(charger, negotiates=asks, epr=epr)
        case Kind.PPS_TIMEOUT:
            if front.trigger.programmable_v is None:
                raise NotProgrammable
            schedule = schedules.pps_timeout(charger)
        case Kind.MAINS_CUT:
            lasts = event.lasts_s or schedules.UNKNOWN_CUT
            schedule = schedules.mains_cut(charger, lasts, negotiates=asks, epr=epr)
    return Happening(
        schedule=schedule,
        before=before,
        after=after if schedule else (),
        words=schedule.event if schedule else "it is pulled out",
        meant=event.kind in _ON_CHANGE,
    )


class NotProgrammable(IllegalEvent):
    """A time-out of a programmable contract on a port that has a fixed one."""

    def __init__(self) -> None:
        super().__init__(PortState.READY, Cause.PPS_TIMEOUT, but=(Cause.PPS_TIMEOUT,))


def _negotiates(front: Front) -> bool:
    return not front.trigger.by_resistors


def _epr(state: State | None) -> bool:
    return state is not None and state.nominal_v > _EPR_ABOVE_V


def _states(front: Front, occupied: Occupied) -> tuple[State, ...]:
    """The states of the contract that may stand while those ports are in use."""
    contracts = [s for s in supply(front).states if s.kind in ("match", "fallback")]
    found = tuple(s for s in contracts if occupied in s.company)
    # In a company that the plan did not reckon with, any of them may stand.
    return found or tuple(contracts)


def _standing(front: Front, occupied: Occupied) -> State | None:
    """The state before an event: the match where it may stand, else whatever may."""
    found = _states(front, occupied)
    return next((s for s in found if s.kind == "match"), found[0] if found else None)
