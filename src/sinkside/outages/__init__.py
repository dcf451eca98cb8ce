"""Who goes out, for how long and with what in its train, when something happens to a port.

From the outside in: `table` tells what an event does to a whole plan, `follow` what follows for
single devices, `size` bridges it with a reservoir. Below them schedules and the port's machine
give the port's volts in time, and a path's own elements are integrated behind them.
"""

from sinkside.outages.blink import blink
from sinkside.outages.cases import Case
from sinkside.outages.design import Design, NoDesign, ReservoirLimits, size
from sinkside.outages.follows import Ending, Extent, Follows, follow
from sinkside.outages.happenings import Event, Happening, Kind, happening
from sinkside.outages.hot_plug import HotPlug, hot_plug
from sinkside.outages.interruption import Interruption, interruption
from sinkside.outages.port_machine import IllegalEvent
from sinkside.outages.table import Curve, Line, Seated, curves, table
from sinkside.outages.verdict import finding

__all__ = [
    "Case",
    "Curve",
    "Design",
    "Ending",
    "Event",
    "Extent",
    "Follows",
    "Happening",
    "HotPlug",
    "IllegalEvent",
    "Interruption",
    "Kind",
    "Line",
    "NoDesign",
    "ReservoirLimits",
    "Seated",
    "blink",
    "curves",
    "finding",
    "follow",
    "happening",
    "hot_plug",
    "interruption",
    "size",
    "table",
]
