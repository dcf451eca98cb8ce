"""The states that the supply of a path can be in: the match, each fallback, before contract.

A fixed trigger has its match where its very volts are listed. A programmable one has it where
one object has its volts within its range: every object by itself, for a range that is split
over two is not the range of both. Offers above 20 V are only made through a lead that is marked
for them, to a trigger that speaks the extended range.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

from sinkside.frozen import hash_once
from sinkside.parts.charger import Occupied, Offer
from sinkside.parts.part import Fallback, TriggerTraits
from sinkside.paths.front import Front
from sinkside.quantity import number
from sinkside.standards.pd_contract import NO_CONTRACT, contract_band, pps_band
from sinkside.standards.type_c_cable import (
    CURRENT_WITH_MARK_A,
    CURRENT_WITHOUT_MARK_A,
    SPR_NOMINAL_V,
)

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
    kind
        `contract lost`: no keep-alive was sent in time, and a hard reset has ended a
        programmable contract.
    alternative
        Which answer to a question that nobody has settled this state belongs to; empty if
        the state comes about whatever the answer.
    company
        The ports in use, where that matters to people.
    """

    kind: Literal["match", "fallback", "press", "before contract", "contract lost"]
    low_v: float
    nominal_v: float
    high_v: float
    offer_low_a: float
    offer_high_a: float
    alternative: str
    company: tuple[Occupied, ...]

    def label(self, front: Front) -> str:
        """For people: `contract 9 V, C1 alone`."""
        volts = number(self.nominal_v, "V")
        if self.kind in ("before contract", "contract lost"):
            return f"{self.kind}, {volts}"
        where = _company(self.company, front)
        how = f", if so: {self.alternative}" if self.alternative else ""
        kind = "contract" if self.kind == "match" else self.kind
        return f"{kind} {volts}{where}{how}"


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
    if not front.negotiates:
        off = () if trigger.gated else (_before(front),)
        return Supply(states=off, answers=(), offered=False, questions=())
    states: dict[tuple[object, ...], State] = {}
    answers: list[str] = []
    offered: bool | None = True
    questions: list[str] = []
    for company in front.occupancies:
        offers = front.charger.offers(front.port, company)
        every = offers if offers is not None else front.charger.port(front.port).offers
        listed, reached = _within_reach(front, every, offers is not None)
        known = offers is not None and reached
        matches = _matches(front, listed)
        surely = bool(matches) and (known or _fixed_five(trigger))
        if offers is None:
            questions.append(f"{front.charger.id}/sharing")
        if not reached:
            questions.append(f"{front.trigger_id}/fallback")
        if not known:
            offered = None if offered is not False else False
        elif not surely:
            offered = False
        if surely:
            answers += [_object(m) for m in matches] if len(matches) > 1 else []
        else:
            answers += _answers(front, listed, known)
        for state in _states_of(front, company, listed, known, surely):
            key = (
                *(state.kind, state.nominal_v, state.alternative),
                *(state.offer_low_a, state.offer_high_a),
            )
            if key in states:
                state = replace(state, company=(*states[key].company, company))
            states[key] = state
    if len(trigger.falls_back) > 1 and answers:
        questions.append(f"{front.trigger_id}/fallback")
    before = () if trigger.gated else (_before(front), *_lost(front))
    return Supply(
        states=(*states.values(), *_presses(front), *before),
        answers=tuple(dict.fromkeys(answers)),
        offered=offered,
        questions=tuple(dict.fromkeys(questions)),
    )


def _within_reach(
    front: Front, listed: tuple[Offer, ...], known: bool
) -> tuple[tuple[Offer, ...], bool]:
    """What of a list the port offers to this front, and whether that is sure.

    Above 20 V it offers through a lead that is marked for it, to a trigger that enters the
    extended range. Of a trigger of which nobody says that, it may be true all the same; it
    matters where there are such offers, and the trigger does not have its volts without them.
    """
    plain = tuple(o for o in listed if o.profile == "pps" or o.high_v <= SPR_NOMINAL_V)
    if len(plain) == len(listed) or not front.marked_epr:
        return plain, True
    if front.trigger.epr:
        return listed, True
    return (plain, True) if known and _matches(front, plain) else (listed, False)


def _matches(front: Front, listed: tuple[Offer, ...]) -> tuple[Offer, ...]:
    """The objects of a list from which the trigger can have its volts.

    Which of several ranges it asks from is its own business: each that promises other current
    than the rest is one.
    """
    trigger = front.trigger
    if trigger.programmable_v is None:
        fixed = _matching(listed, trigger.asks_v)
        return () if fixed is None else (fixed,)
    ranges = (o for o in listed if o.profile == "pps" and o.low_v <= trigger.asks_v <= o.high_v)
    return tuple({_promised(front, o, trigger.asks_v, listed): o for o in ranges}.values())


def _fixed_five(trigger: TriggerTraits) -> bool:
    """Whether it asks for the fixed 5 V, which are on every list."""
    return trigger.asks_v == FIVE_V and trigger.programmable_v is None


def _object(offer: Offer) -> str:
    return f"it asks from {offer.low_v:g}..{offer.high_v:g} V at {offer.current_a:g} A"


def _answers(front: Front, listed: tuple[Offer, ...], known: bool) -> list[str]:
    """The answers to what nobody knows: how the trigger falls back, and onto which list.

    No answer at all stands where both are known: then the fallback is certain.
    """
    trigger = front.trigger
    found = [] if known or not _matches(front, listed) else [STILL_OFFERED]
    for rule in trigger.falls_back:
        places = _fallbacks(listed, trigger, rule, known)
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
    matches = _matches(front, listed)
    for match in matches:
        # What a shared port still promises is not known: anything up to what it gives alone.
        several = _object(match) if len(matches) > 1 else ""
        amps = _promised(front, match, trigger.asks_v, listed)
        answer = several if surely else STILL_OFFERED
        yield _state(front, "match", trigger.asks_v, amps, company, answer, known)
    if surely:
        return
    certain = known and len(trigger.falls_back) == 1
    for rule in trigger.falls_back:
        for offer in _fallbacks(listed, trigger, rule, known):
            answer = "" if certain else _answer(rule, offer)
            amps = _promised(front, offer, offer.low_v, listed)
            yield _state(front, "fallback", offer.low_v, amps, company, answer, known)


def _presses(front: Front) -> Iterator[State]:
    """What presses of a trigger's button can reach on this port, whatever is plugged in."""
    offers = front.charger.port(front.port).offers
    for volts in front.trigger.presses_v:
        offer = _matching(offers, volts)
        reached = volts <= SPR_NOMINAL_V or front.marked_epr
        if offer is not None and reached and volts != front.trigger.asks_v:
            amps = _promised(front, offer, volts, offers)
            state = _state(front, "fallback", volts, amps, frozenset({front.port}), "", True)
            yield replace(state, kind="press", company=front.occupancies)


def _matching(offers: tuple[Offer, ...], volts: float) -> Offer | None:
    return next((o for o in offers if o.fixed_v == volts), None)


def _fallbacks(
    offers: tuple[Offer, ...], trigger: TriggerTraits, rule: Fallback, known: bool
) -> tuple[Offer, ...]:
    """Where a trigger may end that cannot have its volts."""
    fixed = sorted(o for o in offers if o.profile == "fixed")
    lower = [o for o in fixed if o.low_v < trigger.asks_v]
    match rule:
        case "off":
            return ()
        case "5 V":
            return tuple(o for o in fixed if o.low_v == 5.0)
        case "next lower":
            return tuple(lower if not known else lower[-1:])
        case "highest":
            programmed = trigger.programmable_v is not None
            other = [o for o in fixed if programmed or o.low_v != trigger.asks_v]
            return tuple(other if not known else other[-1:])


def _state(
    front: Front,
    kind: Literal["match", "fallback"],
    volts: float,
    amps: tuple[float, float],
    company: Occupied,
    alternative: str,
    known: bool,
) -> State:
    programmed = kind == "match" and front.trigger.programmable_v is not None
    band = pps_band(volts) if programmed else contract_band(volts)
    return State(
        kind=kind,
        low_v=band.low_v,
        nominal_v=band.nominal_v,
        high_v=band.high_v,
        offer_low_a=amps[0] if known else 0.0,
        offer_high_a=amps[1],
        alternative=alternative,
        company=(company,),
    )


def _promised(
    front: Front, offer: Offer, volts: float, listed: tuple[Offer, ...]
) -> tuple[float, float]:
    """The least and the most current that an offer promises at some volts, through this lead.

    A programmable source may hold its current back where volts times current are more than its
    rated power, which is at least what its fixed offers come to.
    """
    marked = any(p.e_marked for p in front.parts)
    most = min(offer.current_a, CURRENT_WITH_MARK_A if marked else CURRENT_WITHOUT_MARK_A)
    if offer.profile != "pps" or offer.power_limited == "no":
        return most, most
    rated_w = max((o.low_v * o.current_a for o in listed if o.profile == "fixed"), default=0.0)
    return min(most, rated_w / volts), most


def _lost(front: Front) -> Iterator[State]:
    """The 5 V after a programmable contract has died for want of a keep-alive.

    Without a request in tPPSTimeout, 12 to 15 s, the source makes a hard reset: nothing for a
    while, then vSafe5V, as before any contract. Behind an output switch nothing comes of it.
    """
    if front.trigger.programmable_v is not None and front.trigger.keeps_alive is not True:
        yield replace(_before(front), kind="contract lost")


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
