"""What datasheets say of the linear regulators that are found inside old gear."""

import re
from dataclasses import dataclass

from sinkside.working import Source, Status


@dataclass(frozen=True, kw_only=True)
class Regulator:
    """A linear regulator.

    Parameters
    ----------
    output_v
        Nominal output, V.
    tolerance
        Of the output over temperature and load, as a fraction.
    headroom_low_v, headroom_high_v
        Between which its dropout lies, V. Datasheets give only a typical value at 25 °C
        and full current; the high end is a planning figure (common practice).
    withstands_v
        Absolute maximum input, V.
    quiescent_low_a, quiescent_high_a
        Its own current, A.
    carries_a
        Rated load current, A.
    bare_k_per_w
        Junction to air without a heat sink, K/W.
    junction_limit_degc
        Highest junction temperature to plan with, °C.
    """

    part: str
    output_v: float
    tolerance: float
    headroom_low_v: float
    headroom_high_v: float
    withstands_v: float
    quiescent_low_a: float
    quiescent_high_a: float
    carries_a: float
    bare_k_per_w: float
    junction_limit_degc: float
    source: Source


_LM7805 = Source(document="LM7805 datasheet, 2006", status=Status.READ)
_78L = Source(document="78L05 datasheets", status=Status.READ)

_FAMILY = re.compile(r"^(?:[A-Z]{0,4})78(?P<small>L|M)?(?P<volts>\d\d)[A-Z]*$")
_VOLTS = {"05": 5.0, "06": 6.0, "08": 8.0, "09": 9.0, "10": 10.0, "12": 12.0, "15": 15.0}
_VOLTS |= {"18": 18.0, "24": 24.0}


def find(part: str) -> Regulator | None:
    """The regulator of a part number such as 7805, 78L09 or LM7812CV; None if not known."""
    found = _FAMILY.match(part.upper().replace("-", "").replace(" ", ""))
    if found is None or found["volts"] not in _VOLTS:
        return None
    volts = _VOLTS[found["volts"]]
    if found["small"] == "L":
        return Regulator(
            part=part,
            output_v=volts,
            tolerance=0.05,
            headroom_low_v=1.5,
            headroom_high_v=2.2,
            withstands_v=30.0 if volts <= 10 else 35.0 if volts <= 18 else 40.0,
            quiescent_low_a=0.002,
            quiescent_high_a=0.006,
            carries_a=0.1,
            bare_k_per_w=200.0,
            junction_limit_degc=125.0,
            source=_78L,
        )
    return Regulator(
        part=part,
        output_v=volts,
        tolerance=0.05,
        headroom_low_v=1.5,
        headroom_high_v=2.5,
        withstands_v=40.0 if volts == 24.0 else 35.0,
        quiescent_low_a=0.003,
        quiescent_high_a=0.008,
        carries_a=0.5 if found["small"] == "M" else 1.0,
        bare_k_per_w=65.0,
        junction_limit_degc=125.0,
        source=_LM7805,
    )
