"""One test point: where the probes go, what the meter shows, and what to do if it does not."""

from dataclasses import dataclass
from enum import Enum

from sinkside.making.readings import Range

METER_WORDS = (
    "Outside what is expected do not go on. The ranges of volts are those of the chain; the error "
    "of the meter comes on top of them, and a common one is within 1 % and a few counts. The "
    "ranges of amps hold it already: 2 % and two counts of 10 mA. A meter shows the ohms of its "
    "own leads, which are to be taken off (common practice, no source)."
)
# Of a common meter on d.c. volts, and of the last digits of its 20 V or 60 V range (common
# practice, no source).
VOLTS_SHARE, VOLTS_COUNTS_V = 0.01, 0.05


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
        the meter shows it, too, so that a reading of the wrong sign is beyond one of them.
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

    @property
    def in_sizes(self) -> bool:
        """Whether a minus is expected, so that low and high are told of the size alone."""
        return self.expected.low < 0.0

    def stops(self, shown: float) -> bool:
        """Whether a reading, as the meter shows it, is beyond a stop limit, its sign included."""
        below = self.stop_below is not None and shown < self.stop_below
        return below or (self.stop_above is not None and shown > self.stop_above)

    def goes_on(self, shown: float) -> bool:
        """Whether a reading is as expected, the error of a common meter allowed for."""
        error = VOLTS_SHARE * abs(shown) + VOLTS_COUNTS_V if self.mode is Mode.VOLTS else 0.0
        low, high = self.expected.low - error, self.expected.high + error
        return low <= shown <= high and not self.stops(shown)
