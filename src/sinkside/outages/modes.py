"""Everything in a circuit that switches: its modes, and where each guard leads.

In a mode the equations are smooth. A guard is a figure that is not negative while the mode
holds; when it turns negative the mode gives way to the one that its table names.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import IntEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

Modes: TypeAlias = NDArray[np.int8]


class PortMode(IntEnum):
    """What the port does."""

    OFF = 0
    BLOCKED = 1
    """On, but what is behind it stands higher: a port takes no current back."""
    HOLDS = 2
    """It holds its volts."""
    LIMITS = 3
    """It holds its largest current, until its patience is over."""


class WireMode(IntEnum):
    """What a branch with a diode does."""

    BLOCKS = 0
    CONDUCTS = 1


class RampMode(IntEnum):
    """What a ramp switch does."""

    OPEN = 0
    WAITS = 1
    """The line runs, and is still below what stands behind the switch."""
    RAMPS = 2
    ON = 3


class StageMode(IntEnum):
    """What a converter does."""

    OFF = 0
    HOLDS = 1
    PASSES = 2
    """At full duty, or a step-up whose input is above its set volts."""
    LIMITS = 3
    IDLE_HELD = 4
    """It would hold its volts, but what is behind it stands higher."""
    IDLE_PASSING = 5
    STARTS = 6
    """It lets its set volts come along a line."""
    IDLE_STARTING = 7


class CrowbarMode(IntEnum):
    """What a crowbar does."""

    WAITS = 0
    SHORTS = 1


class ChargingMode(IntEnum):
    """What stands between a node and a reservoir beside it."""

    CHARGES = 0
    GIVES = 1


class ReceptacleMode(IntEnum):
    """Whether the receptacle stands above the volts that count as none (vSafe0V)."""

    DEAD = 0
    LIVE = 1


class DeviceMode(IntEnum):
    """Whether the device does its work."""

    OUT = 0
    RUNS = 1


# Where each guard leads from each mode; a mode that a table leaves out has no such guard.
PORT_HOLDS: Mapping[IntEnum, IntEnum] = {
    PortMode.BLOCKED: PortMode.HOLDS,
    PortMode.HOLDS: PortMode.BLOCKED,
    PortMode.LIMITS: PortMode.HOLDS,
}
PORT_LIMIT: Mapping[IntEnum, IntEnum] = {PortMode.HOLDS: PortMode.LIMITS}
WIRE: Mapping[IntEnum, IntEnum] = {
    WireMode.BLOCKS: WireMode.CONDUCTS,
    WireMode.CONDUCTS: WireMode.BLOCKS,
}
RAMP_LINE: Mapping[IntEnum, IntEnum] = {
    RampMode.OPEN: RampMode.WAITS,
    RampMode.WAITS: RampMode.RAMPS,
    RampMode.RAMPS: RampMode.ON,
}
RAMP_LOST: Mapping[IntEnum, IntEnum] = {
    RampMode.WAITS: RampMode.OPEN,
    RampMode.RAMPS: RampMode.OPEN,
    RampMode.ON: RampMode.OPEN,
}
RAMP_BACK: Mapping[IntEnum, IntEnum] = {RampMode.RAMPS: RampMode.WAITS}
STAGE_TARGET: Mapping[IntEnum, IntEnum] = {
    StageMode.OFF: StageMode.IDLE_STARTING,
    StageMode.STARTS: StageMode.HOLDS,
    StageMode.IDLE_STARTING: StageMode.STARTS,
    StageMode.HOLDS: StageMode.PASSES,
    StageMode.PASSES: StageMode.HOLDS,
    StageMode.LIMITS: StageMode.HOLDS,
    StageMode.IDLE_HELD: StageMode.HOLDS,
    StageMode.IDLE_PASSING: StageMode.PASSES,
}
STAGE_OTHER: Mapping[IntEnum, IntEnum] = {
    StageMode.STARTS: StageMode.IDLE_STARTING,
    StageMode.IDLE_STARTING: StageMode.IDLE_HELD,
    StageMode.HOLDS: StageMode.IDLE_HELD,
    StageMode.PASSES: StageMode.IDLE_PASSING,
    StageMode.LIMITS: StageMode.PASSES,
    StageMode.IDLE_HELD: StageMode.IDLE_PASSING,
    StageMode.IDLE_PASSING: StageMode.IDLE_HELD,
}
STAGE_LIMIT: Mapping[IntEnum, IntEnum] = {
    StageMode.STARTS: StageMode.LIMITS,
    StageMode.HOLDS: StageMode.LIMITS,
    StageMode.PASSES: StageMode.LIMITS,
}
STAGE_DUTY: Mapping[IntEnum, IntEnum] = {
    StageMode.STARTS: StageMode.PASSES,
    StageMode.IDLE_STARTING: StageMode.IDLE_PASSING,
}
STAGE_LOST: Mapping[IntEnum, IntEnum] = {
    StageMode.STARTS: StageMode.OFF,
    StageMode.IDLE_STARTING: StageMode.OFF,
    StageMode.HOLDS: StageMode.OFF,
    StageMode.PASSES: StageMode.OFF,
    StageMode.LIMITS: StageMode.OFF,
    StageMode.IDLE_HELD: StageMode.OFF,
    StageMode.IDLE_PASSING: StageMode.OFF,
}
CROWBAR: Mapping[IntEnum, IntEnum] = {CrowbarMode.WAITS: CrowbarMode.SHORTS}
CHARGING: Mapping[IntEnum, IntEnum] = {
    ChargingMode.CHARGES: ChargingMode.GIVES,
    ChargingMode.GIVES: ChargingMode.CHARGES,
}
RECEPTACLE: Mapping[IntEnum, IntEnum] = {
    ReceptacleMode.DEAD: ReceptacleMode.LIVE,
    ReceptacleMode.LIVE: ReceptacleMode.DEAD,
}
DEVICE: Mapping[IntEnum, IntEnum] = {
    DeviceMode.OUT: DeviceMode.RUNS,
    DeviceMode.RUNS: DeviceMode.OUT,
}


@dataclass(frozen=True, kw_only=True)
class Guard:
    """One guard of a circuit.

    Parameters
    ----------
    mode
        The row of the modes that it may change.
    after
        The mode that follows, by the mode that was left.
    """

    mode: int
    after: tuple[int, ...]


def guard(mode: int, leads: Mapping[IntEnum, IntEnum], kind: type[IntEnum]) -> Guard:
    """A guard from its table; where the table is silent the mode stays."""
    return Guard(mode=mode, after=tuple(int(leads.get(m, m)) for m in kind))
