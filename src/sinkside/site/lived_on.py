"""What a device has lived on: the volts of its own old brick at the current that it draws.

A reading at another current than its own is still a reading of the brick: with the open volts
it bounds what the brick gives at the device's current.
"""

from dataclasses import dataclass

from sinkside.physics.unregulated import between_v
from sinkside.quantity import Basis, Quantity, disjoint, span
from sinkside.site.notes import Notes
from sinkside.site.prints import Prints
from sinkside.site.written import Loaded


@dataclass(frozen=True, kw_only=True)
class LivedOn:
    """What its own old brick proves of a device.

    Parameters
    ----------
    stood_v
        Volts that it has surely stood, V; None if nobody measured them.
    ran_v
        Volts at most at which it has run, V; None likewise.
    warm_v, warm_a
        Volts and current at least at which it has kept cool enough, V and A; nought likewise.
    """

    stood_v: float | None = None
    ran_v: float | None = None
    warm_v: float = 0.0
    warm_a: float = 0.0


def lived_on(prints: Prints, steady: Quantity, notes: Notes) -> LivedOn:
    """What follows from the readings of its own brick.

    Parameters
    ----------
    steady
        Its steady current: that is what it has lived at.

    Notes
    -----
    Volts without their current may have been read at idle: they prove that it runs, and
    nothing of its heat. It never had more than the open volts, and ran.
    """
    brick = prints.its_brick
    if brick is None:
        return LivedOn()
    is_open = brick.open is not None and brick.open.basis is Basis.MEASURED
    opened = brick.open if is_open else None
    stood = opened.low if opened else None
    read = brick.loaded
    if read is None or read.volts.basis is not Basis.MEASURED:
        return LivedOn(stood_v=stood, ran_v=opened.high if opened else None)
    if read.amps is None:
        return LivedOn(stood_v=stood, ran_v=_least(read.volts.high, opened))
    if not disjoint(read.amps, steady):
        return LivedOn(
            stood_v=stood,
            ran_v=_least(read.volts.high, opened),
            warm_v=read.volts.low,
            warm_a=min(read.amps.low, steady.low),
        )
    if opened is None:
        notes.conflicts.append(other_current(read, steady))
        return LivedOn()
    low, high = between_v(
        (opened.low, opened.high),
        (read.volts.low, read.volts.high),
        (read.amps.low, read.amps.high),
        (steady.low, steady.high),
    )
    notes.conflicts.append(
        f"{read.volts.high:g} V was read at {read.amps.value:g} A, and it draws "
        f"{steady.value:g} A: taken as a reading of the brick, which gives "
        f"{span(round(low, 2), round(high, 2), 'V')} then"
    )
    return LivedOn(stood_v=stood, ran_v=high, warm_v=low, warm_a=steady.low)


def other_current(read: Loaded, steady: Quantity) -> str:
    """That a reading proves nothing, for people."""
    amps = read.amps.value if read.amps else 0.0
    return (
        f"{read.volts.high:g} V was read at {amps:g} A, and it draws {steady.value:g} A: nothing "
        "is concluded from that reading"
    )


def _least(volts: float, opened: Quantity | None) -> float:
    return volts if opened is None else min(volts, opened.high)
