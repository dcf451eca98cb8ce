"""One test point: where the probes go, what the meter shows, and what to do if it does not."""

from dataclasses import dataclass
from enum import Enum

from sinkside.making.readings import Range

METER_WORDS = (
    "The ranges are those of the chain. The error of the meter comes on top of them: a common "
    "one is within 1 % and a few counts on volts, 2 % on amps, and shows the ohms of its own "
    "leads, which are to be taken off (common practice, no source)."
)


class Stage(Enum):
    """When a reading is taken, in this order."""

    COLD = "before power"
    UNLOADED = "powered, nothing on the plug"
    DUMMY = "with the dummy load"
    DEVICE = "with the device"


class Mode(Enum):
    """What the meter is set to."""

    OHMS = "ohms"
    VOLTS = "d.c. volts"
    AMPS = "d.c. amps, 10 A range, in series"
    USB_METER = "USB power meter in the port"


@dataclass(frozen=True, kw_only=True)
class Probe:
    """A test point.

    Parameters
    ----------
    where, red, black
        The place, and where the two probes go.
    state
        The state of the supply, in words; empty before power.
    required
        Whether it has to be read. Other states need not be made to come about: the reading is
        what to expect if they do.
    expected
        What this chain can show, with every figure between its ends; as the meter shows it, so
        below nought where the red probe is on the negative pole.
    stop_below, stop_above
        Beyond these nothing is plugged into the device; None where there is no such limit. As
        the meter shows it, too.
    limits
        The same in words.
    if_low, if_high
        What to do where the reading, its sign left aside, is under or over what is expected.
    rests_on
        What the range comes from, in words.
    """

    number: int
    stage: Stage
    where: str
    red: str
    black: str
    mode: Mode
    state: str
    required: bool
    expected: Range
    stop_below: float | None
    stop_above: float | None
    limits: str
    if_low: str
    if_high: str
    note: str = ""
    rests_on: tuple[str, ...] = ()
