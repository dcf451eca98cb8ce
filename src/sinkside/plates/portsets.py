"""Ports that are named apart and used together, and powers that say the same."""

from collections.abc import Sequence, Set
from dataclasses import replace

from sinkside.plates.items import Amount, Item, Label, Ports
from sinkside.plates.neighbours import is_word

_SAME_W = 1e-9
_LEADS_TO_POWER = {"NAME", "COLON", "LPAR", "EQ", "MAX", "FILLER", "DOT"}


def headed_by(items: Sequence[Item], index: int) -> Ports | None:
    """The ports that a power at an index stands with, and nothing else: `C1+C2 output: 45W`."""
    for item in reversed(items[max(0, index - 6) : index]):
        if isinstance(item, Ports):
            return item
        if not (isinstance(item, Label) or is_word(item, _LEADS_TO_POWER)):
            return None
    return None


def meant(ports: Ports, headed: Set[str]) -> tuple[Ports, bool]:
    """Whether ports with ratings are meant one by one, and whether that is doubtful.

    Parameters
    ----------
    ports
        Ports with power or with volts.
    headed
        Names of the ports that had ratings of their own before; with "and" between them they
        can only be meant together the second time.
    """
    if len(ports.names) < 2 or ports.together:
        return ports, False
    again = headed >= set(ports.names)
    return replace(ports, together=again and ports.loosely), again or ports.loosely


def goes_on(items: Sequence[Item], index: int) -> bool:
    """Whether a port with power stands behind another and a plus: `C1 45W + C2 20W`."""
    if index < 2 or not is_word(items[index - 1], {"WITH"}):
        return False
    at = index - 2
    while at > 0 and is_word(items[at], {"RPAR", "MAX"}):
        at -= 1
    first = items[at]
    return isinstance(first, Ports) and first.power is not None


def together(first: Ports, second: Ports) -> Ports:
    """Make one of ports with a plus between their powers: `C1 45W + C2 20W`.

    Parameters
    ----------
    first, second
        Ports with power.
    """
    power = first.power
    if power and second.power:
        amounts = (*power.amounts, *second.power.amounts)
        power = replace(power, amounts=amounts, summed=True, end=second.power.end)
    return replace(
        second,
        names=(*first.names, *second.names),
        together=True,
        usb=first.usb or second.usb,
        power=power,
        start=first.start,
    )


def same_sum(first: Sequence[Amount], second: Sequence[Amount]) -> bool:
    """Whether powers in W come to the same sum: `65W` and `45W+20W`."""
    sums = [sum(amount.high for amount in amounts) for amounts in (first, second)]
    return abs(sums[0] - sums[1]) <= _SAME_W
