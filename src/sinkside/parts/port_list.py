"""What a port offers, in the three ways that people have it: printed, as words, or as watts.

`5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A`, `0x0001912C 0x0002D12C`, or `65 W`. Watts alone become what
the standard's power rules ask for, and are marked as a guess: real chargers leave things out.
"""

import re
from typing import Literal

from sinkside import plates
from sinkside.faults import NotUnderstood
from sinkside.parts.charger import Offer
from sinkside.standards.pd_objects import (
    EprAvsSource,
    FixedSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
    decode_source,
)
from sinkside.standards.power_rules import OfferKind, default_offers

LONGEST = 1000
_WORDS = re.compile(r"^\s*0x[0-9a-fA-F]{1,8}(?:[\s,]+0x[0-9a-fA-F]{1,8})*\s*$")
_WATTS = re.compile(r"^\s*(?P<watts>\d{1,3}(?:[.,]\d{1,2})?)\s*W\s*$")


def read(text: str) -> tuple[tuple[Offer, ...], bool]:
    """Read what a port offers.

    Returns
    -------
    tuple
        The offers, lowest volts first, and whether they are a guess from watts alone.

    Raises
    ------
    NotUnderstood
        Nothing can be read, an entry has no current, or a word is not a source object.
    """
    if len(text) > LONGEST:
        raise NotUnderstood(f"{len(text)} characters are no port's list", "write 5V⎓3A 9V⎓3A")
    if _WORDS.match(text):
        return _sorted(text, _from_words(text)), False
    watts = _WATTS.match(text)
    if watts:
        return _sorted(text, _from_watts(float(watts["watts"].replace(",", ".")))), True
    return _sorted(text, _from_print(text)), False


def _sorted(text: str, offers: list[Offer]) -> tuple[Offer, ...]:
    if not offers:
        raise NotUnderstood(f"{text!r} lists no offer", "write it like 5V⎓3A 9V⎓3A")
    return tuple(sorted(set(offers)))


def _from_print(text: str) -> list[Offer]:
    reading = plates.read(f"USB-C {text}")
    offers = []
    for unclear in reading.ambiguities:
        raise NotUnderstood(
            f"{text!r} is unclear at {unclear.text!r}: {unclear.why}", "write 9V⎓3A"
        )
    for rating in (*reading.output, *reading.input):
        if rating.current_a is None:
            raise NotUnderstood(
                f"{text!r}: {rating.voltage_low_v:g} V has no current", "write it like 9V⎓3A"
            )
        offers.append(
            _offer(rating.voltage_low_v, rating.voltage_high_v, rating.current_a, rating.profile)
        )
    return offers


def _from_words(text: str) -> list[Offer]:
    found = []
    for word in text.replace(",", " ").split():
        found += offers_of(decode_source(int(word, 16)))
    return found


def offers_of(obj: SourceObject) -> list[Offer]:
    """What a source object offers to a trigger; none for kinds that no trigger asks for."""
    match obj:
        case FixedSource() if obj.voltage_mv:
            volts = obj.voltage_mv / 1000
            return [_offer(volts, volts, obj.current_ma / 1000, "fixed")]
        case PpsSource():
            low, high = obj.minimum_mv / 1000, obj.maximum_mv / 1000
            return [_offer(low, high, obj.current_ma / 1000, "pps")]
        case SprAvsSource():
            upper = obj.current_15_to_20_v_ma / 1000
            lower = _offer(9.0, 15.0, obj.current_9_to_15_v_ma / 1000, "avs")
            return [lower, _offer(15.0, 20.0, upper, "avs")] if upper else [lower]
        case EprAvsSource():
            low, high = obj.minimum_mv / 1000, obj.maximum_mv / 1000
            return [_offer(low, high, min(5.0, obj.pdp_w / high), "avs")]
        case _:
            return []


def _from_watts(watts: float) -> list[Offer]:
    return [
        _offer(o.low_v, o.high_v, o.current_a, "fixed")
        for o in default_offers(watts)
        if o.required and o.kind is OfferKind.FIXED
    ]


def _offer(
    low_v: float, high_v: float, current_a: float, profile: Literal["fixed", "pps", "avs"]
) -> Offer:
    return Offer(low_v=low_v, high_v=high_v, current_a=current_a, profile=profile)
