"""What is on mains inside a device: never worked out here, and whom to ask."""

from collections.abc import Iterator
from typing import Literal, TypeAlias

from sinkside.site.appliance import Refusal
from sinkside.site.rails import RailNeed
from sinkside.site.written import DeviceWritten

MainsSide: TypeAlias = Literal["never", "qualified"]
QUALIFIED = "a qualified person, under local codes"
BUILT_IN = "internal mains supply"


def rails_of(device: DeviceWritten) -> tuple[RailNeed, ...]:
    """What a supply that is built in gives, where there is one."""
    return device.inside.rails if device.inside.is_ == BUILT_IN else ()


def built_in_refusals(device: DeviceWritten, mains_side: MainsSide) -> Iterator[Refusal]:
    """Why a supply that is built in is not replaced.

    Without somebody who may work on it that is always so; with one, where its rails are not
    stated or cannot be given.
    """
    rails = rails_of(device)
    if mains_side == "never":
        yield Refusal(
            why="its supply is inside and on mains: what is there is not worked on here",
            ask=QUALIFIED,
        )
        return
    if not rails:
        yield Refusal(
            why="its supply is inside, and what it gives is not stated: state volts and the most "
            "current of every rail, like rails: {5 V: 2 A (measured)}",
            ask=QUALIFIED,
        )
    negative = ", ".join(rail.name for rail in rails if rail.volts_v < 0.0)
    if negative:
        yield Refusal(
            why=f"its supply has a negative rail ({negative}), which nothing here gives",
            ask=QUALIFIED,
        )
    unsaid = ", ".join(rail.name for rail in rails if rail.current_a is None)
    if unsaid:
        yield Refusal(
            why=f"nothing says what its rails are asked for at most ({unsaid}): state it",
            ask=QUALIFIED,
        )


def cautions(device: DeviceWritten) -> tuple[Refusal, ...]:
    """What is to be left to others with a device that is converted all the same."""
    if device.inside.is_ != BUILT_IN:
        return ()
    return (
        Refusal(
            why="its supply is inside and on mains: taking it out, blanking off what is left, and "
            "the earth of its case are not worked out here",
            ask=QUALIFIED,
        ),
    )
