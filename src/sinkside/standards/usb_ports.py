"""What a USB port gives at 5 V without a Power Delivery contract, by kind."""

from collections.abc import Mapping

from sinkside.working import Source, Status

USB2_UNIT_LOAD_A = 0.1
USB2_CONFIGURED_A = 0.5
"""USB 2.0, before and after the host has configured the device."""

USB3_UNIT_LOAD_A = 0.15
USB3_CONFIGURED_A = 0.9
"""USB 3, before and after the host has configured the device."""

TYPE_C_DEFAULT_A = 0.5
"""A Type-C sink that carries no data, at the default level of CC."""

BATTERY_CHARGING_A = 1.5
"""A dedicated charging port of Battery Charging 1.2."""

USB2_HOST_LOW_V = 4.75
USB2_HOST_HIGH_V = 5.25
"""At a host's or a self-powered hub's port of USB 2.0."""

USB2_HUB_PORT_LOW_V = 4.40
"""At the device's end, behind a bus-powered hub of USB 2.0."""

_ENTRY = "USB 2.0 and USB 3, as given in an encyclopedia entry"

SOURCES: Mapping[str, Source] = {
    "USB2_UNIT_LOAD_A": Source(document=_ENTRY, status=Status.SECONDARY),
    "USB2_CONFIGURED_A": Source(document=_ENTRY, status=Status.SECONDARY),
    "USB3_UNIT_LOAD_A": Source(document=_ENTRY, status=Status.SECONDARY),
    "USB3_CONFIGURED_A": Source(document=_ENTRY, status=Status.SECONDARY),
    "TYPE_C_DEFAULT_A": Source(
        document="USB Type-C R2.0, as given in published notes", status=Status.SECONDARY
    ),
    "BATTERY_CHARGING_A": Source(
        document="Battery Charging 1.2, as given in an excerpt of IEC 63002",
        status=Status.SECONDARY,
    ),
    "USB2_HOST_LOW_V": Source(document=_ENTRY, status=Status.SECONDARY),
    "USB2_HOST_HIGH_V": Source(document=_ENTRY, status=Status.SECONDARY),
    "USB2_HUB_PORT_LOW_V": Source(document="USB 2.0", status=Status.MEMORY),
}
