"""The states that the supply of a path can be in: the match, each fallback, before contract."""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from sinkside.frozen import hash_once
from sinkside.parts.charger import Occupied, Offer
from sinkside.parts.part import Fallback
from sinkside.paths.front import Front
from sinkside.quantity import number
from sinkside.standards.pd_contract import NO_CONTRACT, contract_band

# A lone pair of resistors is promised no more than a default USB port gives.
RESISTOR_LEAST_A = 0.5


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

    kind: Literal["match", "fallback", "before contract"]
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
        how = f", if the trigger falls back so: {self.alternative}" if self.alternative else ""
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
    offered
        True: in every reachable company. False: in some it is not. None: nobody knows.
    questions
        Names of what is not known about the supply.
    """

    states: tuple[State, ...]
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
    offered: bool | None = True
    questions: list[str] = []
    for company in front.occupancies:
        offers = front.charger.offers(front.port, company)
        if offers is None:
            offered = None if offered is not False else False
            questions.append(f"{front.charger.id}/sharing")
        elif not _matching(offers, trigger.asks_v):
            offered = False
        for state in _states_of(front, company, offers):
            key = (state.kind, state.nominal_v, state.offer_low_a, state.alternative)
            if key in states:
                state = replace(state, company=(*states[key].company, company))
            states[key] = state
    if len(trigger.falls_back) > 1 and any(s.kind == "fallback" for s in states.values()):
        questions.append(f"{_trigger_id(front)}/fallback")
    before = () if trigger.gated else (_before(front),)
    return Supply(
        states=(*states.values(), *before),
        offered=offered,
        questions=tuple(dict.fromkeys(questions)),
    )


def _trigger_id(front: Front) -> str:
    return next(p.id for p in front.parts if p.trigger is not None)


def _states_of(
    front: Front, company: Occupied, offers: tuple[Offer, ...] | None
) -> Iterator[State]:
    """What a trigger gets from a list; every shorter list if nobody knows the list."""
    trigger = front.trigger
    known = offers is not None
    listed = offers if offers is not None else front.charger.port(front.port).offers
    match = _matching(listed, trigger.asks_v)
    if match is not None:
        # What a shared port still promises is not known: anything up to what it gives alone.
        yield _state(front, "match", match, company, "", known)
        if known:
            return
    several = len(trigger.falls_back) > 1
    for rule in trigger.falls_back:
        for offer in _fallbacks(listed, trigger.asks_v, rule, known):
            yield _state(front, "fallback", offer, company, rule if several else "", known)


def _matching(offers: tuple[Offer, ...], volts: float) -> Offer | None:
    return next((o for o in offers if o.fixed_v == volts), None)


def _fallbacks(
    offers: tuple[Offer, ...], asked_v: float, rule: Fallback, known: bool
) -> tuple[Offer, ...]:
    """Where a trigger may end that cannot have its volts."""
    fixed = [o for o in offers if o.profile == "fixed"]
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
    five = front.charger.port(front.port).offers[0]
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
        states=(state,), offered=True, questions=(f"{front.charger.id}/advertised current",)
    )
