"""Safety classes of extra-low voltage and of limited power, and what may remain after unplugging.

These decide what a tool may say about a circuit, never that a circuit is safe: local codes and
licensed practice come first. Several rows are from memory; see `SOURCES`.
"""

from collections.abc import Mapping
from enum import StrEnum

from sinkside.working import Source, Status


class EnergyClass(StrEnum):
    """Electrical energy source classes of IEC 62368-1, by d.c. volts."""

    ES1 = "ES1"
    ES2 = "ES2"
    ES3 = "ES3"


class PowerClass(StrEnum):
    """Power source classes of IEC 62368-1, by watts."""

    PS1 = "PS1"
    PS2 = "PS2"
    PS3 = "PS3"


SELV_DC_V = 60.0
SELV_AC_PEAK_V = 42.4
"""Safety extra-low voltage in the wording of IEC 60950-1 and 60335."""

SELV_60364_DC_V = 120.0
SELV_60364_AC_RMS_V = 50.0
"""The same words in IEC 60364 and 61558 mean these: not used here, the lower ones are."""

ES1_DC_V = 60.0
ES1_AC_RMS_V = 30.0
ES1_AC_PEAK_V = 42.4
ES2_DC_V = 120.0
ES2_AC_RMS_V = 50.0
"""Upper limits of the classes, a.c. below 1 kHz."""

PS1_W = 15.0
PS1_AFTER_S = 3.0
PS2_W = 100.0
PS2_AFTER_S = 5.0
"""Upper limits of the classes, and after how long they are measured."""

LIMITED_SOURCE_A = 8.0
LIMITED_SOURCE_VA = 100.0
LIMITED_SOURCE_LOW_V = 20.0
LIMITED_SOURCE_MIDDLE_V = 30.0
"""Inherently limited power source: most current and power; volts at which the rule changes."""

FUSED_SOURCE_VA = 250.0
FUSED_SOURCE_FUSE_A = 5.0
"""Power source limited by a fuse: most power, and the largest fuse up to 20 V."""

CAPACITOR_DISCHARGE_S = 2.0
"""After unplugging, when IEC 62368-1 measures what remains at the pins."""

TOUCH_CURRENT_A = 0.25e-3
"""Of a group of joined class II devices, here: a practice, not a limit read in a standard."""

_LPS = Source(document="IEC 60950-1", clause="Table 2B", status=Status.READ)
_LPS_FUSED = Source(document="IEC 60950-1", clause="Table 2C", status=Status.READ)
_ES = Source(document="IEC 62368-1", clause="5.2.2", status=Status.MEMORY)
_SELV = Source(document="IEC 62282-5-1, term", status=Status.READ)

SOURCES: Mapping[str, Source] = {
    "SELV_DC_V": _SELV,
    "SELV_AC_PEAK_V": _SELV,
    "SELV_60364_DC_V": Source(document="IEC 60364, IEC 61558", status=Status.SECONDARY),
    "SELV_60364_AC_RMS_V": Source(document="IEC 60364, IEC 61558", status=Status.SECONDARY),
    "ES1_DC_V": _ES,
    "ES1_AC_RMS_V": _ES,
    "ES1_AC_PEAK_V": _ES,
    "ES2_DC_V": _ES,
    "ES2_AC_RMS_V": _ES,
    "PS1_W": Source(
        document="IEC 62368-1, as given in a published article", status=Status.SECONDARY
    ),
    "PS1_AFTER_S": Source(
        document="IEC 62368-1, as given in a published article", status=Status.SECONDARY
    ),
    "PS2_W": Source(document="IEC 62368-1 test-report form", status=Status.READ),
    "PS2_AFTER_S": Source(document="IEC 62368-1", status=Status.MEMORY),
    "LIMITED_SOURCE_A": _LPS,
    "LIMITED_SOURCE_VA": _LPS,
    "LIMITED_SOURCE_LOW_V": _LPS,
    "LIMITED_SOURCE_MIDDLE_V": _LPS,
    "FUSED_SOURCE_VA": _LPS_FUSED,
    "FUSED_SOURCE_FUSE_A": _LPS_FUSED,
    "CAPACITOR_DISCHARGE_S": Source(
        document="IEC 62368-1 test-report form", clause="5.5.2.2", status=Status.SECONDARY
    ),
    "TOUCH_CURRENT_A": Source(document="common practice for class II", status=Status.MEMORY),
}


def energy_class(dc_v: float) -> EnergyClass:
    """Class of a d.c. voltage.

    Parameters
    ----------
    dc_v
        Highest in normal use, V.

    References
    ----------
    IEC 62368-1, from memory.
    """
    if abs(dc_v) <= ES1_DC_V:
        return EnergyClass.ES1
    return EnergyClass.ES2 if abs(dc_v) <= ES2_DC_V else EnergyClass.ES3


def power_class(available_w: float) -> PowerClass:
    """Class of an available power.

    Parameters
    ----------
    available_w
        Most that can be drawn after 3 s (up to 15 W) or 5 s, W.

    References
    ----------
    IEC 62368-1; 15 and 100 W read in secondary texts, the times partly from memory.
    """
    if available_w <= PS1_W:
        return PowerClass.PS1
    return PowerClass.PS2 if available_w <= PS2_W else PowerClass.PS3


def limited_source_a(open_v: float) -> float:
    """Most current of an inherently limited power source.

    Parameters
    ----------
    open_v
        Its open voltage, d.c., V, above 0 and up to 60.

    Returns
    -------
    float
        A; 0 above 60 V, where there is no limited power source.

    References
    ----------
    IEC 60950-1 Table 2B, read; IEC 62368-1 Annex Q is the same, read in a secondary text.
    """
    if open_v > SELV_DC_V:
        return 0.0
    return LIMITED_SOURCE_A if open_v <= LIMITED_SOURCE_MIDDLE_V else 150.0 / open_v


def limited_source_va(open_v: float) -> float:
    """Most apparent power of an inherently limited power source.

    Parameters
    ----------
    open_v
        Its open voltage, d.c., V, above 0 and up to 60.

    Returns
    -------
    float
        VA: 5 A times the voltage up to 20 V, 100 VA above; 0 above 60 V.

    References
    ----------
    IEC 60950-1 Table 2B, read; IEC 62368-1 Annex Q is the same, read in a secondary text.
    """
    if open_v > SELV_DC_V:
        return 0.0
    return 5.0 * open_v if open_v <= LIMITED_SOURCE_LOW_V else LIMITED_SOURCE_VA


def fused_source_a(open_v: float) -> float:
    """Most current of a power source that a fuse limits, after one minute.

    Parameters
    ----------
    open_v
        Its open voltage, d.c., V, above 0 and up to 60.

    Returns
    -------
    float
        A; 0 above 60 V.

    References
    ----------
    IEC 60950-1 Table 2C, read.
    """
    return 0.0 if open_v > SELV_DC_V else 1000.0 / open_v


def fused_source_fuse_a(open_v: float) -> float:
    """Largest fuse of a power source that a fuse limits.

    Parameters
    ----------
    open_v
        Its open voltage, d.c., V, above 0 and up to 60.

    Returns
    -------
    float
        A; 5 A up to 20 V, then 100 VA over the voltage; 0 above 60 V.

    References
    ----------
    IEC 60950-1 Table 2C, read up to 20 V; above from memory.
    """
    if open_v > SELV_DC_V:
        return 0.0
    return FUSED_SOURCE_FUSE_A if open_v <= LIMITED_SOURCE_LOW_V else 100.0 / open_v
