"""Where printed power belongs: to a rating, to ports, or to the plate."""

from collections.abc import Sequence
from itertools import groupby

from sinkside.plates.drafts import Draft, Loose, taken
from sinkside.plates.gathering import Gathered
from sinkside.plates.items import Amount, Ports, Quantity
from sinkside.plates.kinds import is_mains
from sinkside.plates.reading import type_of_kind
from sinkside.plates.results import Settled, Shared

# Watts may differ from volts times amperes by this much: plates round both.
_TOLERANCE = 0.15
# Below this an alternating supply is a transformer, whose plate gives volts times amperes; above
# it watts fall short of them by the power factor.
EXTRA_LOW_V = 60.0


def place_powers(found: Gathered, result: Settled) -> None:
    """Give totals, power of ports and lone figures their places.

    Parameters
    ----------
    found
        What the walk along the plate gathered; its drafts take lone figures.
    result
        Takes totals, shared power and doubts.
    """
    if found.total:
        _take_total(found.total, result)
    for ports in found.shared:
        if ports.power:
            _share(ports, ports.power, result)
    for _, stretch in groupby(found.drafts, key=lambda draft: id(draft.stretch)):
        _place_power_of_list(list(stretch), result)
    for loose in found.loose:
        _place(loose, found, result)


def figure(quantity: Quantity | None, index: int, count: int) -> float | None:
    """The figure that goes with one of several alternatives; None if they do not pair."""
    if quantity is None:
        return None
    if len(quantity.amounts) == count and not quantity.summed:
        return quantity.amounts[index].high
    return _most(quantity) if 1 in {count, len(quantity.amounts)} else None


def agrees(draft: Draft, volts: Amount, index: int = 0, said: type_of_kind = "unknown") -> bool:
    """Whether the power is volts times amperes within the tolerance, or nothing can be told."""
    count = len(draft.volts.amounts)
    power_w, current_a = figure(draft.power, index, count), figure(draft.current, index, count)
    if draft.power is None or power_w is None or current_a is None:
        return True
    low_w, high_w = sorted((abs(volts.low) * current_a, abs(volts.high) * current_a))
    if power_w > high_w * (1.0 + _TOLERANCE):
        return False
    active = not draft.power.apparent and abs(volts.high) > EXTRA_LOW_V and said != "dc"
    return active or power_w >= low_w * (1.0 - _TOLERANCE)


def _most(quantity: Quantity) -> float:
    if quantity.summed:
        return sum(amount.high for amount in quantity.amounts)
    return max(amount.high for amount in quantity.amounts)


def _take_total(power: Quantity, result: Settled) -> None:
    """Take a power as the total, or doubt it if another total is printed."""
    for note in power.notes:
        result.doubt(power, note)
    if result.total_power_w is None:
        result.total_power_w = _most(power)
    elif result.total_power_w != _most(power):
        result.doubt(power, "another total power is printed")


def _share(ports: Ports, power: Quantity, result: Settled) -> None:
    """Note the power of ports; figures that do not go with the ports are doubtful."""
    figures = tuple(amount.high for amount in power.amounts)
    _note_power(ports, figures, result)
    if len(figures) not in {1, len(ports.names)}:
        result.doubt(power, "not one figure for each port")
    for note in power.notes:
        result.doubt(power, note)


def _note_power(ports: Ports, power_w: tuple[float, ...], result: Settled) -> None:
    """Ports used together share the power, `C1/C2` have it each."""
    sets = [ports.names] if ports.together else [(name,) for name in ports.names]
    result.shared.extend(Shared(ports=ports, names=names, power_w=power_w) for names in sets)


def _place_power_of_list(drafts: Sequence[Draft], result: Settled) -> None:
    """A power behind a list is the port's or the plate's: `5V⎓2.4A / 9V⎓2A 18W MAX`."""
    last = drafts[-1]
    several = len(drafts) > 1 or len(last.volts.amounts) > 1
    if not several or last.power is None or any(draft.power for draft in drafts[:-1]):
        return
    own = len(last.volts.amounts) == 1 and agrees(last, last.volts.amounts[0])
    if own and not last.power_is_most and not last.power_apart:
        return
    if is_mains(last) and len(drafts) == 1:
        # `115/230V~ 20W`: what the device takes at either.
        return
    power, last.power = last.power, None
    if last.ports:
        _note_power(last.ports, (_most(power),), result)
    elif last.side == "INPUT" or is_mains(last):
        result.doubt(power, "a power for several input voltages")
    else:
        _take_total(power, result)


def _place(loose: Loose, found: Gathered, result: Settled) -> None:
    """Find a place for a figure that stands apart from its voltage."""
    lone, side = loose.quantity, loose.stretch.side
    mine = [draft for draft in found.drafts if draft.side == side]
    open_ones = [draft for draft in mine if _lacks(draft, lone.unit)]
    apart = loose.stretch.labelled and any(map(_labelled_ports, mine))
    alone = len(open_ones) == 1 and (lone.unit == "A" or (len(mine) == 1 and not apart))
    if alone and taken(open_ones[0], loose):
        return
    if lone.unit == "HZ":
        result.ignored.append(lone)
    elif lone.unit == "W" and side != "INPUT" and _is_total(lone, side, found):
        if apart:
            result.doubt(lone, "the power of all outputs, or of one that has no voltage here")
        else:
            _take_total(lone, result)
    else:
        result.doubt(lone, "belongs to no voltage")


def _lacks(draft: Draft, unit: str) -> bool:
    return {"A": draft.current, "W": draft.power, "HZ": draft.frequency}[unit] is None


def _labelled_ports(draft: Draft) -> bool:
    """Whether a voltage stands under a label with a port of its own: `USB-A OUTPUT: 5V`."""
    return draft.stretch.labelled and draft.ports is not None


def _is_total(lone: Quantity, side: str, found: Gathered) -> bool:
    """Whether a lone power is that of all outputs.

    Notes
    -----
    It is so labelled, or equal to the largest output, or no less than any ports have together.
    """
    if side == "OUTPUT":
        return True
    together = [_most(ports.power) for ports in found.shared if ports.power and ports.together]
    if together and _most(lone) >= max(together):
        return True
    largest = max(
        (
            abs(draft.volts.amounts[-1].high) * _most(draft.current)
            for draft in found.drafts
            if draft.current and draft.side != "INPUT" and not is_mains(draft)
        ),
        default=0.0,
    )
    return largest > 0.0 and abs(_most(lone) - largest) <= _TOLERANCE * largest
