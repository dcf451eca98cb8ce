"""Reservoirs of preferred values: what can be bought, with its tolerance and its age.

Values from IEC 60063; tolerance, age and resistance from memory of data sheets, prices round
guesses. A reservoir is planned for the day it is old: its least capacitance is the nominal
less tolerance and age, its most resistance that of an old one; inrush is planned for the
day it is new.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from sinkside.quantity import Basis, Quantity, unknown
from sinkside.standards.preferred_values import at_least

# Aluminium electrolytic: ±20 %, 20 % lost at the end of its life, resistance up to three-fold.
ELECTROLYTIC_TOLERANCE, ELECTROLYTIC_AGE, ELECTROLYTIC_OLD_ESR = 0.20, 0.20, 3.0
ELECTROLYTIC_TAN_DELTA, ELECTROLYTIC_HZ = 0.2, 120.0
ELECTROLYTIC_RATED_V = (10.0, 16.0, 25.0, 35.0, 50.0, 63.0)
ELECTROLYTIC_MOST_F = 100e-3
# A capacitor works at no more than this part of its rated volts.
OF_RATED = 0.85
# Double-layer cells: ±20 %, 30 % lost and twice the resistance at the end; 2.7 V, used to 2.5 V.
CELL_TOLERANCE, CELL_AGE, CELL_OLD_ESR = 0.20, 0.30, 2.0
CELL_V = 2.5
CELL_LEAST_F, CELL_MOST_F = 1.0, 400.0
CELL_ESR_OHM, CELL_ESR_OHM_F = 3e-3, 0.1
# Cents: a base, and more for what is stored.
ELECTROLYTIC_CENTS, ELECTROLYTIC_CENTS_PER_FV = 40, 1_200.0
CELL_CENTS, CELL_CENTS_PER_F = 70, 6.0


@dataclass(frozen=True, kw_only=True)
class Reservoir:
    """One reservoir.

    Parameters
    ----------
    nominal_f
        Of the whole bank.
    in_row
        Cells in series; 1 for an electrolytic.
    each_f
        Of one cell or capacitor.
    """

    kind: Literal["electrolytic", "double-layer cells"]
    nominal_f: float
    rated_v: float
    in_row: int
    each_f: float
    farad: Quantity
    esr_ohm: Quantity
    cents: int


def reservoirs(volts: float, needs_f: float, most_f: float) -> Iterator[Reservoir]:
    """Reservoirs for so many volts, the smallest that may do first, up to a limit.

    Parameters
    ----------
    volts
        Highest that it will stand at.
    needs_f
        What has to be left of it when it is old.
    most_f
        Largest nominal capacitance.
    """
    rated = next((v for v in ELECTROLYTIC_RATED_V if OF_RATED * v >= volts), None)
    left = (1.0 - ELECTROLYTIC_TOLERANCE) * (1.0 - ELECTROLYTIC_AGE)
    if rated is not None:
        for farad in _from(needs_f / left, "E6"):
            if farad > min(most_f, ELECTROLYTIC_MOST_F) * (1 + 1e-9):
                break
            yield _electrolytic(farad, rated)
    cells = math.ceil(volts / CELL_V)
    left = (1.0 - CELL_TOLERANCE) * (1.0 - CELL_AGE)
    for each in _from(max(cells * needs_f / left, CELL_LEAST_F), "E3"):
        if each > CELL_MOST_F or each / cells > most_f * (1 + 1e-9):
            break
        yield _cells(each, cells)


def _from(least: float, series: str) -> Iterator[float]:
    """Preferred values upwards."""
    value = at_least(least, series)
    while True:
        yield value
        value = at_least(value * (1 + 1e-6), series)


def _electrolytic(farad: float, rated_v: float) -> Reservoir:
    name = f"reservoir {farad:g} F"
    low = farad * (1.0 - ELECTROLYTIC_TOLERANCE) * (1.0 - ELECTROLYTIC_AGE)
    high = farad * (1.0 + ELECTROLYTIC_TOLERANCE)
    new = ELECTROLYTIC_TAN_DELTA / (2.0 * math.pi * ELECTROLYTIC_HZ * farad)
    price = ELECTROLYTIC_CENTS + ELECTROLYTIC_CENTS_PER_FV * farad * rated_v
    return Reservoir(
        kind="electrolytic",
        nominal_f=farad,
        rated_v=rated_v,
        in_row=1,
        each_f=farad,
        farad=unknown(low, high, "F", Basis.ASSUMED, f"{name}/farads"),
        esr_ohm=unknown(0.5 * new, ELECTROLYTIC_OLD_ESR * new, "Ω", Basis.ASSUMED, f"{name}/esr"),
        cents=round(price),
    )


def _cells(each: float, cells: int) -> Reservoir:
    name = f"reservoir {cells} × {each:g} F"
    nominal = each / cells
    low = nominal * (1.0 - CELL_TOLERANCE) * (1.0 - CELL_AGE)
    high = nominal * (1.0 + CELL_TOLERANCE)
    new = cells * (CELL_ESR_OHM + CELL_ESR_OHM_F / each)
    return Reservoir(
        kind="double-layer cells",
        nominal_f=nominal,
        rated_v=cells * CELL_V,
        in_row=cells,
        each_f=each,
        farad=unknown(low, high, "F", Basis.ASSUMED, f"{name}/farads"),
        esr_ohm=unknown(0.5 * new, CELL_OLD_ESR * new, "Ω", Basis.ASSUMED, f"{name}/esr"),
        cents=round(cells * (CELL_CENTS + CELL_CENTS_PER_F * each)),
    )


def ramps(least_s: float, count: int) -> tuple[float, ...]:
    """Ramp times of preferred values, the shortest that may do first."""
    values = _from(max(least_s, 1e-3), "E6")
    return tuple(next(values) for _ in range(count))
