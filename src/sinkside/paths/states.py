"""The states that the supply of a path can be in: the match, each fallback, before contract."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from sinkside.frozen import hash_once
from sinkside.parts.charger import Occupied, Offer
from sinkside.parts.part import Fallback, TriggerTraits
from sinkside.paths.front import Front
from sinkside.quantity import number
from sinkside.standards.pd_contract import NO_CONTRACT, contract_band

# A lone pair of resistors is promised no more than a default USB port gives.
RESISTOR_LEAST_A = 0.5
FIVE_V = 5.0  # on every list (USB PD 6.4.1, from memory)
STILL_OFFERED = "its volts stay on the list"


@hash_once
@dataclass(frozen=True, kw_only=True)
class State:
    """One state of the supply.

    Parameters
    ----------
    low_v, nominal_v, high_v
        Of the port at its receptacle.
    offer_low_a, offer_high_a
        The current that is promised; one value unless unknown.
    alternative
        Which answer to a question that nobody has settled this state belongs to; empty if
        the state comes about whatever the answer.
    company
        The ports in use, where that matters to people.
    """

    kind: Literal["match", "fallback", "press", "before contract"]
    low_v: float
    nominal_v: float
    high_v: float
    offer_low_a: float
    offer_high_a: float
    alternative: str
    company: tuple[Occupied, ...]

    def label(self, front: Front) -> str:
        """For people: `match 9 V, C1 alone`."""
        volts = number(self.nominal_v, "V")
        if self.kind == "before contract":
            return f"before contract, {volts}"
        where = _company(self.company, front)
        how = f", if so: {self.alternative}" if self.alternative else ""
        return f"{self.kind} {volts}{where}{how}"


def _company(company: tuple[Occupied, ...], front: Front) -> str:
    if len(front.charger.ports) == 1 or len(company) == len(front.occupancies):
        return ""
    sets = [
        f"{front.port} alone" if o == {front.port} else "+".join(sorted(o)) + " in use"
        for o in company
    ]
    return ", " + " or ".join(sets)


@dataclass(frozen=True, kw_only=True)
class Supply:
    """All states of a front, and whether the match is offered in all of them.

    Parameters
    ----------
    answers
        To what nobody knows; of them one is true. Empty if everything is known.
    offered
        True: in every reachable company. False: in some it is not. None: nobody knows.
    questions
        Names of what is not known about the supply.
    """

    states: tuple[State, ...]
    answers: tuple[str, ...]
    offered: bool | None
    questions: tuple[str, ...]


def supply(front: Front) -> Supply:
    """Every state that the supply of a front can be in."""
    return _supply(front.head)


@lru_cache(maxsize=10_000)
def _supply(front: Front) -> Supply:
    trigger = front.trigger
    if trigger.by_resistors:
        return _bare(front)
    states: dict[tuple[object, ...], State] = {}
    answers: list[str] = []
    offered: bool | None = True
    questions: list[str] = []
    for company in front.occupancies:
        offers = front.charger.offers(front.port, company)
        listed = offers if offers is not None else front.charger.port(front.port).offers
        surely = _matching(listed, trigger.asks_v) is not None and (
            offers is not None or trigger.asks_v == FIVE_V
        )
        if offers is None:
            questions.append(f"{front.charger.id}/sharing")
        if offers is None:
            offered = None if offered is not False else False
        elif not surely:
            offered = False
        if not surely:
            answers += _answers(trigger, listed, offers is not None)
        for state in _states_of(front, company, listed, offers is not None, surely):
            key = (state.kind, state.nominal_v, state.offer_low_a, state.alternative)
            if key in states:
                state = replace(state, company=(*states[key].company, company))
            states[key] = state
    if len(trigger.falls_back) > 1 and answers:
        questions.append(f"{_trigger_id(front)}/fallback")
    before = () if trigger.gated else (_before(front),)
    return Supply(
        states=(*states.values(), *_presses(front), *before),
        answers=tuple(dict.fromkeys(answers)),
        offered=offered,
        questions=tuple(dict.fromkeys(questions)),
    )


def _answers(trigger: TriggerTraits, listed: tuple[Offer, ...], known: bool) -> list[str]:
    """The answers to what nobody knows: how the trigger falls back, and onto which list.

    No answer at all stands where both are known: then the fallback is certain.
    """
    found = [] if known or _matching(listed, trigger.asks_v) is None else [STILL_OFFERED]
    for rule in trigger.falls_back:
        places = _fallbacks(listed, trigger.asks_v, rule, known)
        found += [_answer(rule, offer) for offer in places] or [rule]
    certain = known and len(trigger.falls_back) == 1
    return [] if certain else found


def _answer(rule: Fallback, offer: Offer) -> str:
    return f"{rule}: {offer.low_v:g} V"


def _states_of(
    front: Front, company: Occupied, listed: tuple[Offer, ...], known: bool, surely: bool
) -> Iterator[State]:
    """What a trigger gets from a list; every shorter list if nobody knows the list."""
    trigger = front.trigger
    match = _matching(listed, trigger.asks_v)
    if match is not None:
        # What a shared port still promises is not known: anything up to what it gives alone.
        answer = "" if surely else STILL_OFFERED
        yield _state(front, "match", match, company, answer, known)
        if surely:
            return
    certain = known and len(trigger.falls_back) == 1
    for rule in trigger.falls_back:
        for offer in _fallbacks(listed, trigger.asks_v, rule, known):
            answer = "" if certain else _answer(rule, offer)
            yield _state(front, "fallback", offer, company, answer, known)


def _presses(front: Front) -> Iterator[State]:
    """What presses of a trigger's button can reach on this port, whatever is plugged in."""
    offers = front.charger.port(front.port).offers
    for volts in front.trigger.presses_v:
        offer = _matching(offers, volts)
        if offer is not None and volts != front.trigger.asks_v:
            state = _state(front, "fallback", offer, frozenset({front.port}), "", True)
            yield replace(state, kind="press", company=front.occupancies)


def _trigger_id(front: Front) -> str:
    return next(p.id for p in front.parts if p.trigger is not None)


def _matching(offers: tuple[Offer, ...], volts: float) -> Offer | None:
    return next((o for o in offers if o.fixed_v == volts), None)


def _fallbacks(
    offers: tuple[Offer, ...], asked_v: float, rule: Fallback, known: bool
) -> tuple[Offer, ...]:
    """Where a trigger may end that cannot have its volts."""
    fixed = sorted(o for o in offers if o.profile == "fixed")
    lower = [o for o in fixed if o.low_v < asked_v]
    match rule:
        case "off":
            return ()
        case "5 V":
            return tuple(o for o in fixed if o.low_v == 5.0)
        case "next lower":
            return tuple(lower if not known else lower[-1:])
        case "highest":
            other = [o for o in fixed if o.low_v != asked_v]
            return tuple(other if not known else other[-1:])


def _state(
    front: Front,
    kind: Literal["match", "fallback"],
    offer: Offer,
    company: Occupied,
    alternative: str,
    known: bool,
) -> State:
    band = contract_band(offer.low_v)
    cable_a = 5.0 if any(p.e_marked for p in front.parts) else 3.0
    amps = min(offer.current_a, cable_a)
    return State(
        kind=kind,
        low_v=band.low_v,
        nominal_v=band.nominal_v,
        high_v=band.high_v,
        offer_low_a=amps if known else 0.0,
        offer_high_a=amps,
        alternative=alternative,
        company=(company,),
    )


def _before(front: Front) -> State:
    return State(
        kind="before contract",
        low_v=NO_CONTRACT.low_v,
        nominal_v=NO_CONTRACT.nominal_v,
        high_v=NO_CONTRACT.high_v,
        offer_low_a=RESISTOR_LEAST_A,
        offer_high_a=3.0,
        alternative="",
        company=front.occupancies,
    )


def _bare(front: Front) -> Supply:
    """Two resistors: the port's 5 V as it comes, with what current nobody promised."""
    five = _matching(front.charger.port(front.port).offers, FIVE_V) or Offer(
        low_v=FIVE_V, high_v=FIVE_V, current_a=RESISTOR_LEAST_A
    )
    state = State(
        kind="match",
        low_v=NO_CONTRACT.low_v,
        nominal_v=NO_CONTRACT.nominal_v,
        high_v=NO_CONTRACT.high_v,
        offer_low_a=min(RESISTOR_LEAST_A, five.current_a),
        offer_high_a=min(3.0, five.current_a),
        alternative="",
        company=front.occupancies,
    )
    return Supply(
        states=(state,),
        answers=(),
        offered=True,
        questions=(f"{front.charger.id}/advertised current",),
    )
