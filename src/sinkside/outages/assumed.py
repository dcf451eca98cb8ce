"""What a transient needs to know and neither part nor device says: assumed, always with a range.

Each has the name that a statement of it would have, so that the same unknown is the same value
wherever it is drawn. All from memory or common practice, no source, unless said.
"""

from sinkside.paths.front import Front
from sinkside.paths.states import State
from sinkside.paths.values import CONVERTER_LIMIT, offer, trip
from sinkside.quantity import Basis, Quantity, unknown, varies
from sinkside.site.appliance import Appliance
from sinkside.standards.pd_contract import NO_CONTRACT, OVERCURRENT_TRIP_LOW

# A source stands its largest current for so long before it lets go: the shortest and the
# longest row of the overload table of USB PD, which it need not follow.
PATIENCE_S = (1e-3, 10e-3)
# Programmable volts give way at their limit (USB PD 7.1.4.4, secondary text): for so long at most.
GIVES_WAY_S = 10.0
# What takes VBUS away within tSafe0V (0.65 s) from 110 µF at 20 V is 1.8 kΩ or less; boards
# switch in tens of ohms and more.
DISCHARGE_OHM = (50.0, 1_500.0)
# Series resistance of the first capacitor of a device: large electrolytic, old electrolytic.
LARGE_FARAD = 100e-6
LARGE_ESR_OHM = (0.02, 0.3)
SMALL_ESR_OHM = (0.005, 0.2)
LEAST_FARAD = 0.1e-6
# Input capacitance of converter boards.
CONVERTER_FARAD = (10e-6, 220e-6)
CONVERTER_ESR_OHM = (0.01, 0.2)
# Soft start of converter chips.
CONVERTER_START_S = (1e-3, 10e-3)
# A converter that starts at so many volts stops at this part of them.
STOPS_AT = 0.9
# A switching input locks out between half of the volts that it runs from and those themselves,
# and starts again a little above.
LOCKS_OUT = (0.5, 1.0)
RESTARTS = (1.0, 1.15)
LEAST_HYSTERESIS = 1.02
# A constant current is one down to this part of the volts that the device runs from.
KNEE = 0.5
# What a device draws that is locked out.
ASLEEP_S = 1e-4
# Volts at which a ramp switch takes its input for present and for lost.
ARRIVES_V, LOST_V = 3.5, 1.0
# Loop inductance of a two-core lead: 0.5 to 1 µH a metre.
LEAD_H_PER_M = (0.5e-6, 1.0e-6)
LEAD_M = 0.5
# What a trigger board has across its input: cSnkBulk, 1 to 10 µF (USB Type-C, secondary text).
SINK_BULK_FARAD = (1e-6, 10e-6)
SINK_BULK_ESR_OHM = (0.005, 0.05)


def limit_a(front: Front, state: State) -> Quantity:
    """The largest current of a port: where it trips, or what a programmable contract limits to."""
    if front.trigger.programmable_v is None:
        return trip(front, state)
    promised = offer(front, state)
    most = OVERCURRENT_TRIP_LOW * promised.high
    return unknown(promised.low, most, "A", name=f"{front.charger.id}/limit")


def patience_s(front: Front) -> Quantity:
    """How long the port stands that; under a programmable contract perhaps as long as it takes."""
    low, high = PATIENCE_S
    if front.trigger.programmable_v is not None:
        high = GIVES_WAY_S
    return unknown(low, high, "s", name=f"{front.charger.id}/trip delay")


def discharge_ohm(charger: str) -> Quantity:
    """What the port bleeds VBUS with."""
    return unknown(*DISCHARGE_OHM, "Ω", name=f"{charger}/discharge")


def five_v(charger: str) -> Quantity:
    """VBUS before a contract: vSafe5V."""
    return varies(NO_CONTRACT.low_v, NO_CONTRACT.high_v, "V", Basis.STANDARD, f"{charger}/vSafe5V")


def input_esr_ohm(appliance: Appliance) -> Quantity:
    """Series resistance of the device's first capacitor."""
    large = appliance.capacitance_f.value >= LARGE_FARAD
    low, high = LARGE_ESR_OHM if large else SMALL_ESR_OHM
    return unknown(low, high, "Ω", name=f"{appliance.id}/input esr")


def lock_out(appliance: Appliance) -> Quantity:
    """Where a switching input locks out, in parts of the volts that the device runs from."""
    return unknown(*LOCKS_OUT, "1", name=f"{appliance.id}/lock-out")


def restart(appliance: Appliance) -> Quantity:
    """Where it starts again, in the same parts."""
    return unknown(*RESTARTS, "1", name=f"{appliance.id}/restart")


def converter_farad(part: str) -> Quantity:
    """Input capacitance of a converter board."""
    return unknown(*CONVERTER_FARAD, "F", name=f"{part}/input farads")


def converter_esr_ohm(part: str) -> Quantity:
    """Series resistance of that."""
    return unknown(*CONVERTER_ESR_OHM, "Ω", name=f"{part}/input esr")


def converter_start_s(part: str) -> Quantity:
    """How long a converter lets its volts come."""
    return unknown(*CONVERTER_START_S, "s", name=f"{part}/soft start")


def converter_limit_a(part: str, carries_a: float) -> Quantity:
    """Where a converter limits its output."""
    low, high = (ratio * carries_a for ratio in CONVERTER_LIMIT)
    return unknown(low, high, "A", name=f"{part}/current limit")


def lead_henry(metres: float, name: str) -> Quantity:
    """Loop inductance of a lead."""
    low, high = (per_m * metres for per_m in LEAD_H_PER_M)
    return unknown(low, high, "H", name=f"{name}/inductance")


def sink_bulk_farad(part: str) -> Quantity:
    """Capacitance across a trigger's input."""
    return unknown(*SINK_BULK_FARAD, "F", name=f"{part}/input farads")


def sink_bulk_esr_ohm(part: str) -> Quantity:
    """Series resistance of that."""
    return unknown(*SINK_BULK_ESR_OHM, "Ω", name=f"{part}/input esr")
