"""How hot a device may get: what it burnt on its old brick, and what its heat sink carries."""

from sinkside.parts import regulators
from sinkside.parts.regulators import Regulator
from sinkside.physics.linear_regulator import (
    allowed_w,
    chain_k_per_w,
    dissipation_w,
    junction_degc,
)
from sinkside.physics.rectifier import FULL_WAVE_MEAN
from sinkside.quantity import Basis, Quantity, number, unknown
from sinkside.site.appliance import Heat
from sinkside.site.kinds import KINDS
from sinkside.site.lived_on import LivedOn
from sinkside.site.notes import Notes
from sinkside.site.prints import MAINS_FROM_V, USB_PLUGS, Prints
from sinkside.site.window import HARMED_ABOVE, floor
from sinkside.site.written import DeviceWritten

# From the junction to the case of a TO-220: 78xx datasheets (read).
JUNCTION_CASE_K_PER_W = 5.0
# Through grease at the best, through a pad at the worst (secondary text).
CASE_SINK_K_PER_W = (0.5, 2.0)
# From a heat sink to the air around it (common practice).
SINK_AIR_K_PER_W = {"small": (12.5, 28.0), "large": (1.5, 8.0)}
# A small plastic case on a board sheds a little more than in free air (common practice).
ON_A_BOARD = 0.75
# The air inside a closed case over that of the room (common practice).
CASE_RISE_K = 15.0
# Regulators up to here come in TO-92.
SMALL_CASE_A = 0.1
# No junction has lived above this: the absolute maximum of the 78xx (read), and about where they
# switch themselves off (from memory).
SWITCHES_OFF_DEGC = 150.0


def heat(
    device: DeviceWritten,
    prints: Prints,
    lived: LivedOn,
    ambient: Quantity,
    notes: Notes,
) -> Heat:
    """What bounds the heat of a device on a new supply.

    Parameters
    ----------
    lived
        What its old brick proves.
    ambient
        Of the room, °C.
    """
    inside = device.inside
    chip = regulators.find(inside.part) if inside.part else None
    if inside.is_ == "linear regulator" and chip is not None:
        return _regulator_heat(device, chip, lived, ambient, notes)
    cool = None
    if KINDS[inside.is_].heats and device.inlet.plug not in USB_PLUGS:
        low = max(_promised_v(prints), lived.warm_v)
        high = max(HARMED_ABOVE[1] * (prints.high_v or MAINS_FROM_V), low)
        cool = unknown(low, high, "V", name=f"{device.id}/runs cool up to")
    return Heat(regulator=None, allowed_w=None, output_v=None, quiescent_a=None, cool_up_to_v=cool)


def _promised_v(prints: Prints) -> float:
    """Volts at which every device with such a plate keeps cool enough.

    Of a.c. volts the mean counts, and the least that a bridge makes of them is the mean of the
    wave itself.
    """
    if prints.rms_v is not None:
        return FULL_WAVE_MEAN * prints.rms_v[0]
    plate_v = prints.plate_v or prints.low_v or 0.0
    return max(HARMED_ABOVE[0] * plate_v, floor(plate_v))


def _chain_k_per_w(chip: Regulator, sink: str) -> tuple[float, float]:
    """Junction to the air around the case, low and high."""
    if sink == "none" or chip.carries_a <= SMALL_CASE_A:
        # A small plastic case sheds no more with a heat sink than without.
        return ON_A_BOARD * chip.bare_k_per_w, chip.bare_k_per_w
    best = SINK_AIR_K_PER_W.get(sink, SINK_AIR_K_PER_W["large"])[0]
    low = chain_k_per_w(JUNCTION_CASE_K_PER_W, CASE_SINK_K_PER_W[0], best)
    if sink not in SINK_AIR_K_PER_W:
        return low, chip.bare_k_per_w
    worst = SINK_AIR_K_PER_W[sink][1]
    return low, chain_k_per_w(JUNCTION_CASE_K_PER_W, CASE_SINK_K_PER_W[1], worst)


def _regulator_heat(
    device: DeviceWritten, chip: Regulator, lived: LivedOn, ambient: Quantity, notes: Notes
) -> Heat:
    """The power that a regulator may burn: by its heat sink, or as it has for years."""
    low_k, high_k = _chain_k_per_w(chip, device.inside.heat_sink)
    hottest = ambient.high + CASE_RISE_K
    low_w, high_w = (
        max(0.0, allowed_w(chip.junction_limit_degc, hottest, k)) for k in (high_k, low_k)
    )
    basis = Basis.ASSUMED
    output_low = chip.output_v * (1 - chip.tolerance)
    output_high = chip.output_v * (1 + chip.tolerance)
    before_w = max(0.0, dissipation_w(lived.warm_v, output_high, lived.warm_a, 0.0))
    before_degc = junction_degc(ambient.low, before_w, low_k)
    if before_degc > SWITCHES_OFF_DEGC:
        notes.conflicts.append(
            f"on its old brick its {chip.part} would have burnt {number(round(before_w, 1), 'W')} "
            f"and stood at {before_degc:.0f} °C, where it switches itself off: its heat sink or "
            "the reading is another"
        )
    elif before_w > low_w:
        low_w, high_w, basis = before_w, max(before_w, high_w), Basis.LIVED_ON
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
