"""Whether a contract stays while nobody is near: some die unless the trigger asks again in time."""

from sinkside.paths.front import Front
from sinkside.rules.verdict import Verdict
from sinkside.standards.pd_timers import hard_reset_gap, timer
from sinkside.standards.type_c_cable import SPR_NOMINAL_V


def lasts(front: Front) -> bool:
    """Whether it asks for a fixed contract up to 20 V, which stays by itself."""
    return front.trigger.programmable_v is None and front.trigger.asks_v <= SPR_NOMINAL_V


def keep_alive(front: Front) -> Verdict:
    """A fixed contract stays by itself; a programmable one stays if its trigger asks again.

    Notes
    -----
    Above 20 V the trigger has to be heard every half second (tSinkEPRKeepAlive), or the port
    leaves the extended range within one second: one that is known to speak it does so, or its
    volts would not stand while they are looked at. Programmable volts stand for 12 to 15 s
    without a request (tPPSTimeout): long enough to be taken for good on the bench.
    """
    trigger = front.trigger
    if lasts(front):
        return Verdict.FITS
    if trigger.keeps_alive is None:
        extended = trigger.programmable_v is None and trigger.epr
        return Verdict.FITS if extended else Verdict.UNPROVEN
    return Verdict.FITS if trigger.keeps_alive else Verdict.FAILS


def keep_alive_words(front: Front) -> str:
    """What becomes of the contract, for people."""
    trigger = front.trigger
    if lasts(front):
        return "a fixed contract stays by itself"
    if trigger.programmable_v is None:
        late = timer("tSourceEPRKeepAlive")
        return (
            "the trigger has to be heard every half second, or the port leaves the extended range "
            f"after {late.min_s:g} to {late.max_s:g} s"
        )
    if trigger.keeps_alive:
        return f"the trigger asks again within {timer('tPPSRequest').max_s:g} s"
    late, gap = timer("tPPSTimeout"), hard_reset_gap()
    does = "sends no keep-alive" if trigger.keeps_alive is False else "may send no keep-alive"
    low, high = gap.five_volts_absent_low_s, gap.five_volts_absent_high_s
    return (
        f"the trigger {does}: {late.min_s:g} to {late.max_s:g} s after its request the port makes "
        f"a hard reset, nothing for {low:.1f} to {high:.1f} s, then 5 V"
    )
