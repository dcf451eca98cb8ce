"""Lists of power data objects: how long, in what order, and whether a request is within one."""

from collections.abc import Mapping, Sequence
from itertools import pairwise

from sinkside.faults import Fault
from sinkside.standards.pd_objects import (
    BatterySource,
    EprAvsSource,
    FixedSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
    UnknownObject,
    VariableSource,
    remarks,
)
from sinkside.standards.pd_requests import (
    AvsRequest,
    BatteryRequest,
    FixedRequest,
    PpsRequest,
    Request,
    request_kind,
)
from sinkside.working import Source, Status

SPR_LENGTH = 7
"""Most objects in a message of the standard power range."""

EPR_LENGTH = 11
"""Most objects in a message of the extended power range, the first seven included."""

FIRST_MV = 5000
"""The first object of every list is a fixed supply of this."""

SPR_HIGHEST_MV = 20000
"""Highest fixed supply of the standard power range."""

SOURCES: Mapping[str, Source] = {
    "SPR_LENGTH": Source(
        document="USB Power Delivery, as given in the Zephyr header usbc_pd.h",
        clause="6.4.1",
        status=Status.READ,
    ),
    "EPR_LENGTH": Source(document="USB Power Delivery R3.1", clause="6.5.15", status=Status.MEMORY),
    "FIRST_MV": Source(document="USB Power Delivery", clause="6.4.1", status=Status.MEMORY),
    "SPR_HIGHEST_MV": Source(document="USB Power Delivery", clause="6.4.1", status=Status.MEMORY),
    "order": Source(document="USB Power Delivery", clause="6.4.1", status=Status.MEMORY),
}

_PADDING = FixedSource(voltage_mv=0, current_ma=0)


def list_faults(offers: Sequence[SourceObject], *, epr: bool = False) -> tuple[Fault, ...]:
    """Where a source's list breaks the rules of the standard.

    Parameters
    ----------
    offers
        In order, as received; zero words that pad an EPR list included.
    epr
        Whether the list came in an EPR_Source_Capabilities message.

    Returns
    -------
    tuple of Fault
        Empty if the list keeps the rules. Real chargers break some of them and still work:
        plan from the list, and say so.

    References
    ----------
    USB PD 6.4.1 and R3.1 6.5.15, from memory, but for the length of 7.
    """
    longest = EPR_LENGTH if epr else SPR_LENGTH
    found = []
    if not offers:
        return (_fault("the list is empty", "it has 5 V at least"),)
    if len(offers) > longest:
        found.append(_fault(f"the list has {len(offers)} objects", f"it may have {longest}"))
    first = offers[0]
    if not isinstance(first, FixedSource) or first.voltage_mv != FIRST_MV:
        found.append(
            _fault(f"object 1 is a {_described(first)}", "it must be a fixed supply of 5 V")
        )
    for position, offer in enumerate(offers, start=1):
        found += _object_faults(position, offer, epr=epr)
    found += _order_faults(offers[:SPR_LENGTH], 1)
    found += _order_faults(offers[SPR_LENGTH:], SPR_LENGTH + 1)
    return tuple(found)


def request_faults(request: Request, offers: Sequence[SourceObject]) -> tuple[Fault, ...]:
    """Where a request goes beyond the list of offers.

    Parameters
    ----------
    request
        What the sink asks.
    offers
        The source's list, in order.

    Returns
    -------
    tuple of Fault
        Empty if a source must be able to accept.
    """
    if not 1 <= request.position <= len(offers):
        return (
            _fault(
                f"the request is for position {request.position}",
                f"the list has 1 to {len(offers)}",
            ),
        )
    offer = offers[request.position - 1]
    if isinstance(offer, UnknownObject) or not isinstance(request, request_kind(offer)):
        return (
            _fault(
                f"a {request.LAYOUT.name} is for position {request.position}",
                f"there is a {_described(offer)}",
            ),
        )
    return tuple(
        _fault(f"the request is for {got} {unit}", f"position {request.position} has {allowed}")
        for got, low, high, unit in _asked(request, offer)
        if not low <= got <= high
        for allowed in (f"{low} to {high} {unit}",)
    )


def avs_limit_ma(offer: EprAvsSource | SprAvsSource, voltage_mv: int) -> int:
    """Most current that an adjustable offer gives at a voltage, in whole steps of 50 mA.

    Parameters
    ----------
    offer
        The object.
    voltage_mv
        At which, mV, above 0.

    Notes
    -----
    EPR: the lesser of 5 A and rated power over voltage. SPR: the current of the range, 15 V
    itself belonging to the lower one; 0 outside.
    """
    if isinstance(offer, EprAvsSource):
        limit_ma = min(5000, offer.pdp_w * 1_000_000 // voltage_mv)
    elif 9000 <= voltage_mv <= 15000:
        limit_ma = offer.current_9_to_15_v_ma
    elif 15000 < voltage_mv <= 20000:
        limit_ma = offer.current_15_to_20_v_ma
    else:
        limit_ma = 0
    return limit_ma // 50 * 50


def _asked(request: Request, offer: SourceObject) -> list[tuple[int, int, int, str]]:
    """What is asked, and the least and the most that the offer has: value, low, high, unit."""
    match request, offer:
        case FixedRequest(), FixedSource() | VariableSource():
            asked = [(request.operating_current_ma, 0, offer.current_ma, "mA")]
            if not request.give_back and not request.capability_mismatch:
                asked.append((request.limit_current_ma, 0, offer.current_ma, "mA"))
            return asked
        case BatteryRequest(), BatterySource():
            asked = [(request.operating_power_mw, 0, offer.power_mw, "mW")]
            if not request.give_back and not request.capability_mismatch:
                asked.append((request.limit_power_mw, 0, offer.power_mw, "mW"))
            return asked
        case PpsRequest(), PpsSource():
            return [
                (request.voltage_mv, offer.minimum_mv, offer.maximum_mv, "mV"),
                (request.current_ma, 0, offer.current_ma, "mA"),
            ]
        case AvsRequest(), EprAvsSource():
            volts = (request.voltage_mv, offer.minimum_mv, offer.maximum_mv, "mV")
        case AvsRequest(), SprAvsSource():
            highest = 20000 if offer.current_15_to_20_v_ma else 15000
            volts = (request.voltage_mv, 9000, highest, "mV")
        case _:
            return []
    if not volts[1] <= volts[0] <= volts[2] or not isinstance(offer, EprAvsSource | SprAvsSource):
        return [volts]
    return [volts, (request.current_ma, 0, avs_limit_ma(offer, volts[0]), "mA")]


def _object_faults(position: int, offer: SourceObject, *, epr: bool) -> list[Fault]:
    found = [_fault(f"object {position}: {remark}") for remark in remarks(offer)]
    if isinstance(offer, FixedSource) and position > 1 and _flags(offer):
        flags = ", ".join(_flags(offer))
        found.append(_fault(f"object {position} sets {flags}", "only object 1 may"))
    beyond = isinstance(offer, EprAvsSource) or (
        isinstance(offer, FixedSource) and offer.voltage_mv > SPR_HIGHEST_MV
    )
    if beyond and (not epr or position <= SPR_LENGTH):
        found.append(
            _fault(
                f"object {position} is a {_described(offer)}",
                f"it belongs at position {SPR_LENGTH + 1} or after, in an EPR message",
            )
        )
    if not epr and offer == _PADDING:
        found.append(_fault(f"object {position} is all zero", "only an EPR list is padded"))
    known = not isinstance(offer, UnknownObject) and offer != _PADDING
    if epr and position > SPR_LENGTH and not beyond and known:
        found.append(
            _fault(
                f"object {position} is a {_described(offer)}",
                f"it belongs at position {SPR_LENGTH} or before",
            )
        )
    return found


def _order_faults(offers: Sequence[SourceObject], first: int) -> list[Fault]:
    """Fixed by voltage, battery and variable by minimum, augmented by maximum, in that order."""
    ranked = [
        (position, offer)
        for position, offer in enumerate(offers, start=first)
        if offer != _PADDING and not isinstance(offer, UnknownObject)
    ]
    return [
        _fault(
            f"object {after[0]}, a {_described(after[1])}, follows object {before[0]}, "
            f"a {_described(before[1])}",
            "fixed, battery, variable, augmented; each rising",
        )
        for before, after in pairwise(ranked)
        if _rank(before[1]) >= _rank(after[1])
    ]


def _rank(offer: SourceObject) -> tuple[int, int, int]:
    match offer:
        case FixedSource():
            return (0, offer.voltage_mv, 0)
        case BatterySource():
            return (1, offer.minimum_mv, offer.maximum_mv)
        case VariableSource():
            return (2, offer.minimum_mv, offer.maximum_mv)
        case PpsSource():
            return (3, offer.maximum_mv, offer.minimum_mv)
        case SprAvsSource():
            return (4, 0, 0)
        case _:
            return (5, 0, 0)


def _described(offer: SourceObject) -> str:
    match offer:
        case FixedSource():
            return f"{offer.LAYOUT.name} of {offer.voltage_mv} mV"
        case SprAvsSource() | UnknownObject():
            return offer.LAYOUT.name
        case _:
            return f"{offer.LAYOUT.name} of {offer.minimum_mv} to {offer.maximum_mv} mV"


def _flags(offer: FixedSource) -> list[str]:
    names = [f.name for f in offer.LAYOUT.entries if f.step == 0]
    return [name for name in names if getattr(offer, name)]


def _fault(wrong: str, right: str = "") -> Fault:
    return Fault(code="pd-list", wrong=wrong, right=right)
