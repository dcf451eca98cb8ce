"""Who goes out, for how long and with what in its train, when something happens to a port.

From the outside in: `table` tells what an event does to a whole plan, `follows` what follows for
single devices, `design` bridges it with a reservoir. Below them `schedules` and `port_machine`
give the port's volts in time, and a path's own elements are integrated behind them.

What every plan asks for stands here; what follows an event in time is imported from its module,
so that a plan does not wait for it.
"""

from sinkside.outages.blink import blink
from sinkside.outages.interruption import Interruption, interruption

__all__ = ["Interruption", "blink", "interruption"]
