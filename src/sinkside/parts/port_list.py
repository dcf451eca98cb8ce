"""What a port offers, in the three ways that people have it: printed, as words, or as watts.

`5V⎓3A 9V⎓3A PPS 3.3-11V⎓3A`, `0x0001912C 0x0002D12C`, or `65 W`. Watts alone become what
the standard's power rules ask for, and are marked as a guess: real chargers leave things out.
"""

import re
from typing import Literal

from sinkside import plates
from sinkside.faults import NotUnderstood
from sinkside.parts.charger import Offer
from sinkside.plates import Rating
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
# What the standard has: no fixed offer is higher, no contract takes more.
HIGHEST_V = 48.0
HIGHEST_A = 5.0
_LABEL = re.compile(r"[^\W\d_]{3,}")  # a word, such as INPUT on a plate that was pasted whole
_NEGATIVE = re.compile(r"[Vv⎓=][⎓=\s]*[-−]\s*\d")
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
    if reading.ambiguities:
        unclear = reading.ambiguities[0]
        wrong = f"{text!r} is unclear at {unclear.text!r}: {unclear.why}"
        raise NotUnderstood(wrong, "write it like 9V⎓3A")
    if len({r.port for r in reading.output}) > 1 or reading.shared:
        raise NotUnderstood(
            f"{text!r} lists several ports", "give each port its own line, and together:"
        )
    if reading.input and not _LABEL.search(text):
        raise NotUnderstood(f"{text!r} has mains among its offers", "write it like 5V⎓3A 9V⎓3A")
    return [_printed(text, rating) for rating in reading.output]


def _printed(text: str, rating: Rating) -> Offer:
    """A printed rating as an offer, if a port can have it."""
    low, high, amps = rating.voltage_low_v, rating.voltage_high_v, rating.current_a
    if amps is None:
        raise NotUnderstood(f"{text!r}: {low:g} V has no current", "write it like 9V⎓3A")
    wrong = None
    if rating.kind == "ac":
        wrong = f"{high:g} V a.c. is no offer of a port"
    elif rating.profile == "fixed" and low != high:
        wrong = f"{low:g}-{high:g} V is a range and not said to be PPS or AVS"
    elif not (low >= 3.0 and high <= HIGHEST_V):
        wrong = f"{low:g}..{high:g} V is no offer of a port"
    elif not 0.0 < amps <= HIGHEST_A or _NEGATIVE.search(text):
        wrong = f"{amps:g} A is no current of a port"
    if wrong:
        raise NotUnderstood(f"{text!r}: {wrong}", "write it like 9V⎓3A or PPS 3.3-11V⎓3A")
    return _offer(low, high, amps, rating.profile)


def _from_words(text: str) -> list[Offer]:
    found = []
    for word in text.replace(",", " ").split():
        offers = offers_of(decode_source(int(word, 16)))
        for offer in offers:
            if not (3.0 <= offer.low_v <= offer.high_v <= HIGHEST_V and offer.current_a > 0.0):
                low = "" if offer.low_v == offer.high_v else f"{offer.low_v:g}.."
                wrong = f"{low}{offer.high_v:g} V {offer.current_a:g} A"
                raise NotUnderstood(
                    f"{word} says {wrong}, which is no offer of a port", "read the words again"
                )
        found += offers
    return found


def offers_of(obj: SourceObject) -> list[Offer]:
    """What a source object offers to a trigger; none for kinds that no trigger asks for."""
    match obj:
        case FixedSource() if obj.voltage_mv:
            volts = obj.voltage_mv / 1000
            return [_offer(volts, volts, obj.current_ma / 1000, "fixed")]
        case PpsSource():
            low, high = obj.minimum_mv / 1000, obj.maximum_mv / 1000
            return [
                Offer(
                    low_v=low,
                    high_v=high,
                    current_a=obj.current_ma / 1000,
                    profile="pps",
                    power_limited="yes" if obj.power_limited else "no",
                )
            ]
        case SprAvsSource():
            upper = obj.current_15_to_20_v_ma / 1000
            lower = _offer(9.0, 15.0, obj.current_9_to_15_v_ma / 1000, "avs")
            return [lower, _offer(15.0, 20.0, upper, "avs")] if upper else [lower]
        case EprAvsSource() if obj.maximum_mv:
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
