"""How hot a device may get: what it burnt on its old brick, and what its heat sink carries."""

from sinkside.parts import regulators
from sinkside.parts.regulators import Regulator
from sinkside.quantity import Basis, Quantity, disjoint, unknown
from sinkside.site.appliance import Heat
from sinkside.site.prints import MAINS_FROM_V, USB_PLUGS, Prints
from sinkside.site.window import HARMED_ABOVE, floor
from sinkside.site.written import DeviceWritten

# Heat sink and everything behind it, junction to the air around the case (common practice).
SINK_K_PER_W = {"none": (50.0, 65.0), "small": (18.0, 35.0), "large": (7.0, 15.0)}
# The air inside a closed case over that of the room (common practice).
CASE_RISE_K = 15.0
# Regulators up to here come in TO-92.
SMALL_CASE_A = 0.1


def heat(device: DeviceWritten, prints: Prints, steady: Quantity, ambient: Quantity) -> Heat:
    """What bounds the heat of a device on a new supply.

    Parameters
    ----------
    steady
        Its steady current, A.
    ambient
        Of the room, °C.
    """
    inside = device.inside
    chip = regulators.find(inside.part) if inside.part else None
    if inside.is_ == "linear regulator" and chip is not None:
        return _regulator_heat(device, prints, chip, steady, ambient)
    cool = None
    if inside.is_ in ("unknown", "linear regulator", "resistive") and (
        device.inlet.plug not in USB_PLUGS
    ):
        plate_v = prints.plate_v or prints.low_v or 0.0
        lived_v, _ = _lived_on(prints, steady)
        low = max(HARMED_ABOVE[0] * plate_v, floor(plate_v), lived_v)
        high = max(HARMED_ABOVE[1] * (prints.high_v or MAINS_FROM_V), low)
        cool = unknown(low, high, "V", name=f"{device.id}/runs cool up to")
    return Heat(regulator=None, allowed_w=None, output_v=None, quiescent_a=None, cool_up_to_v=cool)


def _regulator_heat(
    device: DeviceWritten, prints: Prints, chip: Regulator, steady: Quantity, ambient: Quantity
) -> Heat:
    """The power that a regulator may burn: by its heat sink, or as it has for years."""
    sink = device.inside.heat_sink
    low_k, high_k = SINK_K_PER_W.get(sink, (SINK_K_PER_W["large"][0], chip.bare_k_per_w))
    if sink == "none" or chip.carries_a <= SMALL_CASE_A:
        # A small plastic case sheds no more with a heat sink than without.
        low_k, high_k = 0.75 * chip.bare_k_per_w, chip.bare_k_per_w
    rise = max(0.0, chip.junction_limit_degc - ambient.high - CASE_RISE_K)
    low_w, high_w = rise / high_k, rise / low_k
    basis = Basis.ASSUMED
    output_low = chip.output_v * (1 - chip.tolerance)
    output_high = chip.output_v * (1 + chip.tolerance)
    lived_v, lived_a = _lived_on(prints, steady)
    lived_w = max(0.0, lived_v - output_high) * lived_a
    if lived_w > low_w:
        low_w, high_w, basis = lived_w, max(lived_w, high_w), Basis.LIVED_ON
    return Heat(
        regulator=chip,
        allowed_w=unknown(low_w, high_w, "W", basis, f"{device.id}/heat allowed"),
        output_v=unknown(
            output_low, output_high, "V", Basis.DATASHEET, f"{device.id}/regulator output"
        ),
        quiescent_a=unknown(
            chip.quiescent_low_a,
            chip.quiescent_high_a,
            "A",
            Basis.DATASHEET,
            f"{device.id}/regulator's own current",
        ),
        cool_up_to_v=None,
    )


def _lived_on(prints: Prints, steady: Quantity) -> tuple[float, float]:
    """Volts and the least current at which it has run for years; nought without its own brick.

    A reading at another current than its own, of a dummy load or nearly open, is none of it;
    nor are volts without their current, which may have been read at idle.
    """
    loaded = prints.its_brick.loaded if prints.its_brick else None
    if loaded is None or loaded.amps is None or loaded.volts.basis is not Basis.MEASURED:
        return 0.0, 0.0
    if disjoint(loaded.amps, steady):
        return 0.0, 0.0
    return loaded.volts.low, min(loaded.amps.low, steady.low)
