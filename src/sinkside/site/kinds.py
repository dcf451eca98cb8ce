"""What each word for the inside of a device is taken to mean, where nothing better is known."""

from collections.abc import Mapping
from dataclasses import dataclass

from sinkside.physics.loads import COLD_FILAMENT, LOUD_AMPLIFIER, STALLED_MOTOR
from sinkside.site.appliance import Law
from sinkside.site.written import InsideKind

# Input capacitance of old gear (common practice, no source).
CAPACITANCE_F = (1e-3, 10e-3)
# Over its plate or its steady current, what any device may ask for at the start (common practice).
ANY_PEAK = (1.0, 2.0)


@dataclass(frozen=True, kw_only=True)
class Kind:
    """What stands behind an inlet.

    Parameters
    ----------
    laws
        How its current may depend on the volts; several where the truth lies between them, or
        nobody knows which it is.
    peak_ratio
        Its peak over its steady current at most, where no peak is given.
    peak_why
        Why, for people.
    starts_hard
        Whether it asks for that peak whatever its old brick could give.
    capacitance_f
        Behind its inlet, where none is given.
    capacitance_why
        Why, for people.
    heats
        Whether higher volts make it hotter, and nothing but experience bounds that.
    """

    laws: tuple[Law, ...]
    peak_ratio: float = ANY_PEAK[1]
    peak_why: str = "no peak is given"
    starts_hard: bool = False
    capacitance_f: tuple[float, float] = CAPACITANCE_F
    capacitance_why: str = "old gear commonly has this"
    heats: bool = True


EITHER: tuple[Law, ...] = ("constant current", "constant power")
BETWEEN: tuple[Law, ...] = ("resistance", "constant current")
# A suppression capacitor, or a few of them.
SMALL_F = (0.0, 100e-6)

KINDS: Mapping[InsideKind, Kind] = {
    "unknown": Kind(laws=EITHER),
    "linear regulator": Kind(laws=("constant current",)),
    "switching regulator": Kind(laws=("constant power",), heats=False),
    "5 V logic": Kind(laws=EITHER, heats=False),
    "resistive": Kind(
        laws=("resistance",),
        capacitance_f=(0.0, 10e-6),
        capacitance_why="a plain resistance",
    ),
    "heater": Kind(
        laws=("resistance",),
        capacitance_f=SMALL_F,
        capacitance_why="a heater and its switch",
    ),
    "lamp": Kind(
        laws=BETWEEN,
        peak_ratio=COLD_FILAMENT[1],
        peak_why=f"a cold filament takes {COLD_FILAMENT[0]:g} to {COLD_FILAMENT[1]:g} times its "
        "current for some ten milliseconds",
        starts_hard=True,
        capacitance_f=SMALL_F,
        capacitance_why="a filament has next to none",
    ),
    "motor": Kind(
        laws=BETWEEN,
        peak_ratio=STALLED_MOTOR[1],
        peak_why=f"a motor that stands takes {STALLED_MOTOR[0]:g} to {STALLED_MOTOR[1]:g} times "
        "its current",
        starts_hard=True,
        capacitance_f=(0.0, CAPACITANCE_F[1]),
        capacitance_why="a motor alone has next to none, its electronics may have some",
    ),
    "lit diodes": Kind(
        laws=("resistance", "lit diodes"),
        capacitance_f=SMALL_F,
        capacitance_why="diodes and resistors have next to none",
    ),
    "amplifier": Kind(
        laws=BETWEEN,
        peak_ratio=LOUD_AMPLIFIER[1],
        peak_why=f"loud passages take up to {LOUD_AMPLIFIER[1]:g} times the current",
        starts_hard=True,
    ),
    "charge pump": Kind(
        laws=BETWEEN,
        capacitance_f=(1e-6, CAPACITANCE_F[1]),
        capacitance_why="a charge pump runs from little, what surrounds it may have more",
    ),
    "battery charger": Kind(laws=EITHER, heats=False),
    "dry cells": Kind(laws=EITHER, heats=False),
    "internal mains supply": Kind(laws=EITHER, heats=False),
}
