"""Barrel plugs and jacks: the sizes of JEITA RC-5320A, the sizes commonly sold, and what mates.

Sizes are in millimetres, as in the standard and in the names of the parts (5.5×2.1), so that
they compare exactly. Neither size nor standard tells the polarity of a plug at hand, nor
whether it carries d.c. at all: measure it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.working import PRACTICE, Source, Status


class Fit(StrEnum):
    """What happens when a plug is pushed at a jack."""

    GOES_ON = "goes on"
    LOOSE = "goes on but loose"
    DOES_NOT_GO_ON = "does not go on"


@dataclass(frozen=True, kw_only=True)
class Plug:
    """A barrel plug.

    Parameters
    ----------
    outer_mm, inner_mm
        Outer and inner diameter of the barrel, mm.
    centre_pin_mm
        Diameter of a pin inside the barrel, mm; None for the usual plug, which has none.
    length_mm
        Of the barrel, mm; None if not known.
    """

    outer_mm: float
    inner_mm: float
    centre_pin_mm: float | None = None
    length_mm: float | None = None

    def __str__(self) -> str:
        return f"{self.outer_mm:g}×{self.inner_mm:g} mm"


@dataclass(frozen=True, kw_only=True)
class Jack:
    """A barrel jack.

    Parameters
    ----------
    hole_mm
        What a barrel must pass, mm.
    pin_mm
        What a barrel must go over, mm.
    takes_centre_pin
        Whether its pin is a tube for the centre pin of a plug.
    depth_mm
        Length of barrel that it needs, mm; None if not known.
    """

    hole_mm: float
    pin_mm: float
    takes_centre_pin: bool = False
    depth_mm: float | None = None


@dataclass(frozen=True, kw_only=True)
class JeitaSize:
    """One row of JEITA RC-5320A: a plug for a band of voltages.

    Parameters
    ----------
    number
        1 to 5.
    low_v, high_v
        The band, V. The upper end belongs to it, the lower end to the row before.
    plug
        The plug.
    """

    number: int
    low_v: float
    high_v: float
    plug: Plug


JEITA_SIZES: tuple[JeitaSize, ...] = (
    JeitaSize(number=1, low_v=0.0, high_v=3.15, plug=Plug(outer_mm=2.35, inner_mm=0.7)),
    JeitaSize(number=2, low_v=3.15, high_v=6.3, plug=Plug(outer_mm=4.0, inner_mm=1.7)),
    JeitaSize(number=3, low_v=6.3, high_v=10.5, plug=Plug(outer_mm=4.75, inner_mm=1.7)),
    # One source gives 3.4 mm for the inner diameter of number 4.
    JeitaSize(
        number=4,
        low_v=10.5,
        high_v=13.5,
        plug=Plug(outer_mm=5.5, inner_mm=3.3, centre_pin_mm=1.0),
    ),
    JeitaSize(
        number=5,
        low_v=13.5,
        high_v=18.0,
        plug=Plug(outer_mm=6.5, inner_mm=4.4, centre_pin_mm=1.4),
    ),
)

JEITA_RATED_A = 2.0
"""Rating of every JEITA size."""

SOLD_SIZES: tuple[Plug, ...] = tuple(
    Plug(outer_mm=outer_mm, inner_mm=inner_mm)
    for outer_mm, inner_mm in (
        (2.35, 0.7), (2.5, 0.7), (3.5, 1.1), (3.5, 1.35), (3.8, 1.05), (3.8, 1.35), (4.0, 1.7),
        (4.75, 1.7), (5.0, 2.1), (5.0, 2.5), (5.5, 2.1), (5.5, 2.5), (6.5, 3.0),
    )
)  # fmt: skip
"""Sizes commonly sold, without a centre pin."""

USUAL_LENGTH_MM = 9.5
"""Of the barrel; 8 to 14 mm are sold."""

HOLE_CLEARANCE_MM = 0.4
PIN_CLEARANCE_MM = 0.05
"""Jack over plug and barrel over pin, in the JEITA rows that give both."""

LOOSE_MM = 0.2
"""More clearance than the proper one by this, and the contact is not to be trusted."""

_TABLE = Source(document="JEITA RC-5320A, as given in published tables", status=Status.SECONDARY)

SOURCES: Mapping[str, Source] = {
    "JEITA_SIZES": _TABLE,
    "JEITA_RATED_A": _TABLE,
    "SOLD_SIZES": Source(
        document="published list of sizes; 3.5×1.1 and 2.5×0.7 from memory",
        status=Status.SECONDARY,
    ),
    "USUAL_LENGTH_MM": Source(document="published list of sizes", status=Status.SECONDARY),
    "HOLE_CLEARANCE_MM": _TABLE,
    "PIN_CLEARANCE_MM": _TABLE,
    "LOOSE_MM": PRACTICE,
}


def jeita_size(nominal_v: float) -> JeitaSize | None:
    """The JEITA size for a voltage, or None above 18 V or at 0 V and below.

    Parameters
    ----------
    nominal_v
        V.
    """
    return next((s for s in JEITA_SIZES if s.low_v < nominal_v <= s.high_v), None)


def jack_for(plug: Plug) -> Jack:
    """The jack that a plug is made for.

    Parameters
    ----------
    plug
        The nominal size that stands beside the jack's name.

    Notes
    -----
    Hole = outer diameter + 0.4 mm, pin = inner diameter − 0.05 mm: so in JEITA rows 1 to 3;
    applied to all other sizes by common practice, for want of a table.
    """
    return Jack(
        hole_mm=round(plug.outer_mm + HOLE_CLEARANCE_MM, 3),
        pin_mm=round(plug.inner_mm - PIN_CLEARANCE_MM, 3),
        takes_centre_pin=plug.centre_pin_mm is not None,
        depth_mm=plug.length_mm,
    )


def mates(plug: Plug, jack: Jack) -> Fit:
    """Whether a plug goes on a jack.

    Parameters
    ----------
    plug, jack
        Their sizes.

    Notes
    -----
    A barrel wider than the hole or narrower than the pin does not go on. One with 0.2 mm more
    clearance than proper goes on and makes contact now and then, and runs warm; so does one
    too short for the jack, and one whose centre pin has no partner. In doubt the rule says that
    a plug goes on, which is the safe side where a wrong plug does harm. It knows no spring
    forces: 0.4 mm cannot be seen, so try with a gauge before power.

    References
    ----------
    Common practice, no source; the 2.1 and 2.5 mm cases read in secondary texts.

    Examples
    --------
    >>> mates(Plug(outer_mm=5.5, inner_mm=2.1), jack_for(Plug(outer_mm=5.5, inner_mm=2.5)))
    <Fit.DOES_NOT_GO_ON: 'does not go on'>
    """
    hole_clearance_mm = round(jack.hole_mm - plug.outer_mm, 6)
    pin_clearance_mm = round(plug.inner_mm - jack.pin_mm, 6)
    if hole_clearance_mm < 0 or pin_clearance_mm < 0:
        return Fit.DOES_NOT_GO_ON
    if plug.centre_pin_mm is not None and not jack.takes_centre_pin:
        return Fit.DOES_NOT_GO_ON  # its pin meets the solid pin of the jack
    loose = (
        hole_clearance_mm > HOLE_CLEARANCE_MM + LOOSE_MM
        or pin_clearance_mm > PIN_CLEARANCE_MM + LOOSE_MM
        or (plug.centre_pin_mm is None and jack.takes_centre_pin)
        or _too_short(plug, jack)
    )
    return Fit.LOOSE if loose else Fit.GOES_ON


def _too_short(plug: Plug, jack: Jack) -> bool:
    if plug.length_mm is None or jack.depth_mm is None:
        return False
    return plug.length_mm < jack.depth_mm
