"""Chargers as a Linux host sees them: the trees under /sys/class, read into a shelf entry.

Two trees tell of a charger. `usb_power_delivery` has the list that it sent, one folder for each
object. `typec` has the ports: whose list it is, whether there is a contract, what current is
advertised without one, and what the lead's mark says.

References
----------
Linux sysfs ABI documents `usb_power_delivery` and `typec`, and the class drivers behind them
(read).
"""

from sinkside.hosts.charger import HostCharger, chargers
from sinkside.hosts.lead import Lead
from sinkside.hosts.ports import TYPEC_TREE, HostPort, Mode, Partner
from sinkside.hosts.shelf import as_json, shelf_entry
from sinkside.hosts.supplies import PD_TREE

__all__ = [
    "PD_TREE",
    "TYPEC_TREE",
    "HostCharger",
    "HostPort",
    "Lead",
    "Mode",
    "Partner",
    "as_json",
    "chargers",
    "shelf_entry",
]
