"""What a source of a given power offers by default: the source power rules of USB PD.

Real chargers leave out objects that the rules ask for: plan from the charger's own list, and
take these only where nothing but the watts is known. Volts and amperes are SI floats;
`as_object` turns an offer into a power data object.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.faults import NotUnderstood
from sinkside.standards.pd_fields import Revision
from sinkside.standards.pd_objects import (
    EprAvsSource,
    FixedSource,
    PpsSource,
    SourceObject,
    SprAvsSource,
)
from sinkside.standards.type_c_cable import EMarker, cable_current_limit
from sinkside.working import Source, Status


class OfferKind(StrEnum):
    """Kinds of offer that the rules speak of."""

    FIXED = "fixed"
    PPS = "PPS"
    SPR_AVS = "SPR AVS"
    EPR_AVS = "EPR AVS"


@dataclass(frozen=True, kw_only=True)
class Offer:
    """One offer that a source makes by default, or may make.

    Parameters
    ----------
    kind
        Fixed, PPS or AVS.
    low_v, high_v
        Nominal volts; equal if fixed.
    current_a
        Most current, A, throughout the range; of `EPR_AVS` up to where `power_w` is less.
    current_above_15_v_a
        Of `SPR_AVS`, in the upper range; 0 if it has none.
    power_w
        Of `EPR_AVS`: the rated power, W.
    required
        Whether the rules ask for it. What is optional must not be planned with.
    source
        Document, clause, status.
    """

    kind: OfferKind
    low_v: float
    high_v: float
    current_a: float
    current_above_15_v_a: float = 0.0
    power_w: float = 0.0
    required: bool
    source: Source


LEAST_W = 0.5
MOST_SPR_W = 100.0
MOST_EPR_W = 240.0
"""Powers that the rules cover."""

FIXED_STEPS_W: Mapping[float, float] = {5.0: 0.0, 9.0: 15.0, 15.0: 27.0, 20.0: 45.0}
"""Fixed voltages of the standard power range, and the power above which each is required."""

EPR_STEPS_W: Mapping[float, float] = {28.0: 100.0, 36.0: 140.0, 48.0: 180.0}
"""Fixed voltages of the extended power range, and the power above which each is required."""

FULL_CURRENT_A = 3.0
"""Of every fixed voltage but the highest, and of the highest without a 5 A cable."""

AVS_LEAST_W = 27.0
"""Above it a source of R3.2 must offer SPR AVS."""

AVS_WIDE_W = 45.0
"""Above it SPR AVS goes to 20 V, else to 15 V."""

PPS_HIGH_V: Mapping[float, float] = {5.0: 5.9, 9.0: 11.0, 15.0: 16.0, 20.0: 21.0}
"""Upper end of each programmable range, by its nominal voltage."""

PPS_LOW_V: Mapping[Revision, float] = {
    Revision.R3_0: 3.0,
    Revision.R3_1: 3.3,
    Revision.R3_2: 5.0,
}
"""Lower end of the programmable ranges; late editions of R3.0 have 3.3 V already."""

_RULES = "USB Power Delivery, source power rules, as given in published readings"
_NOTES = "USB Power Delivery R3.1 and R3.2, as given in test-lab notes"


def _secondary(document: str) -> Source:
    return Source(document=document, clause="ch. 10", status=Status.SECONDARY)


_MEMORY = Source(
    document="USB Power Delivery, source power rules", clause="ch. 10", status=Status.MEMORY
)

SOURCES: Mapping[str, Source] = {
    "LEAST_W": _secondary(_RULES),
    "MOST_SPR_W": _secondary(_RULES),
    "MOST_EPR_W": _secondary(_NOTES),
    "FIXED_STEPS_W": _secondary(_RULES),
    "EPR_STEPS_W": _MEMORY,  # 140 W was read in secondary texts, 180 and 240 W were not
    "FULL_CURRENT_A": _secondary(_RULES),
    "AVS_LEAST_W": _secondary(_NOTES),
    "AVS_WIDE_W": _secondary(_NOTES),
    "PPS_HIGH_V": _secondary("USB Power Delivery R3.x, as given in published PPS tables"),
    "PPS_LOW_V": _secondary("USB Power Delivery R3.x, as given in published PPS tables"),
}


def default_offers(
    power_w: float,
    revision: Revision = Revision.R3_2,
    cable: EMarker = EMarker.NONE,
) -> tuple[Offer, ...]:
    """What the power rules ask of a source, and what they allow besides.

    Parameters
    ----------
    power_w
        Rated power of the port (PDP), W, 0.5 to 240.
    revision
        Decides about PPS and AVS.
    cable
        Between source and sink: more than 3 A, and more than 20 V, need its mark. For a cable
        fixed to the charger give what it can do.

    Returns
    -------
    tuple of Offer
        In the order of a list of objects; see `Offer.required`.

    Raises
    ------
    NotUnderstood
        The power is outside the rules.

    Notes
    -----
    The highest fixed voltage V carries P/V, the lower ones 3 A. 12 V is optional at any power.
    More than 3 A below 20 V is optional too, and not listed.

    References
    ----------
    USB PD chapter 10, read in secondary texts; 12 V current, PPS list, SPR AVS currents, and
    the rows above 140 W, from memory.

    Examples
    --------
    >>> [(o.high_v, o.current_a) for o in default_offers(50.0, Revision.R2_0) if o.required]
    [(5.0, 3.0), (9.0, 3.0), (15.0, 3.0), (20.0, 2.5)]
    """
    if not LEAST_W <= power_w <= MOST_EPR_W:
        raise NotUnderstood(
            f"the power rules do not cover a source of {power_w:g} W",
            f"they cover {LEAST_W:g} to {MOST_EPR_W:g} W",
            code="power-rules",
        )
    limit = cable_current_limit(cable)
    spr_w = min(power_w, MOST_SPR_W)
    offers = [*_fixed(spr_w, limit.current_a)]
    if revision >= Revision.R3_0:
        offers += _programmable(spr_w, revision, limit.current_a)
    if revision >= Revision.R3_2 and power_w > AVS_LEAST_W:
        offers.append(_spr_adjustable(spr_w, limit.current_a))
    if revision >= Revision.R3_1 and power_w > MOST_SPR_W and cable is EMarker.EPR:
        offers += _extended(power_w, limit.current_a)
    return tuple(offers)


def as_object(offer: Offer) -> SourceObject:
    """The power data object of an offer, its current rounded down to the field's step.

    Parameters
    ----------
    offer
        From `default_offers`.
    """
    low_mv, high_mv = _milli(offer.low_v, 50), _milli(offer.high_v, 50)
    match offer.kind:
        case OfferKind.FIXED:
            return FixedSource(voltage_mv=low_mv, current_ma=_milli(offer.current_a, 10))
        case OfferKind.PPS:
            return PpsSource(
                minimum_mv=low_mv, maximum_mv=high_mv, current_ma=_milli(offer.current_a, 50)
            )
        case OfferKind.SPR_AVS:
            return SprAvsSource(
                current_9_to_15_v_ma=_milli(offer.current_a, 10),
                current_15_to_20_v_ma=_milli(offer.current_above_15_v_a, 10),
            )
        case OfferKind.EPR_AVS:
            return EprAvsSource(minimum_mv=low_mv, maximum_mv=high_mv, pdp_w=int(offer.power_w))


def _fixed(power_w: float, most_a: float) -> Iterator[Offer]:
    steps = [v for v, above_w in FIXED_STEPS_W.items() if power_w > above_w]
    for nominal_v in sorted({*steps, 12.0} if power_w > FIXED_STEPS_W[9.0] else steps):
        optional = nominal_v not in steps
        highest = nominal_v == steps[-1] or optional
        # Above 60 W the highest voltage is 20 V, and alone may carry more than 3 A.
        ceiling_a = most_a if nominal_v == 20.0 else FULL_CURRENT_A
        yield Offer(
            kind=OfferKind.FIXED,
            low_v=nominal_v,
            high_v=nominal_v,
            current_a=min(ceiling_a, power_w / nominal_v) if highest else FULL_CURRENT_A,
            required=not optional,
            source=_MEMORY if optional else SOURCES["FIXED_STEPS_W"],
        )


def _programmable(power_w: float, revision: Revision, most_a: float) -> Iterator[Offer]:
    steps = [v for v, above_w in FIXED_STEPS_W.items() if power_w > above_w]
    # The 5 V range serves only sources without a higher one, and R3.2 has dropped it.
    ranges = [v for v in steps if v > 5.0] or ([5.0] if revision < Revision.R3_2 else [])
    for nominal_v in ranges:
        ceiling_a = most_a if nominal_v == 20.0 else FULL_CURRENT_A
        highest = nominal_v == ranges[-1]
        yield Offer(
            kind=OfferKind.PPS,
            low_v=PPS_LOW_V[revision],
            high_v=PPS_HIGH_V[nominal_v],
            current_a=min(ceiling_a, power_w / nominal_v) if highest else FULL_CURRENT_A,
            required=False,
            source=_MEMORY,
        )


def _spr_adjustable(power_w: float, most_a: float) -> Offer:
    wide = power_w > AVS_WIDE_W
    return Offer(
        kind=OfferKind.SPR_AVS,
        low_v=9.0,
        high_v=20.0 if wide else 15.0,
        current_a=FULL_CURRENT_A if wide else min(FULL_CURRENT_A, power_w / 15.0),
        current_above_15_v_a=min(most_a, power_w / 20.0) if wide else 0.0,
        required=True,
        source=_MEMORY,  # that it is required was read; its currents were not
    )


def _extended(power_w: float, most_a: float) -> Iterator[Offer]:
    steps = [v for v, above_w in EPR_STEPS_W.items() if power_w > above_w]
    source = SOURCES["MOST_EPR_W"] if power_w <= EPR_STEPS_W[36.0] else _MEMORY
    for nominal_v in steps:
        yield Offer(
            kind=OfferKind.FIXED,
            low_v=nominal_v,
            high_v=nominal_v,
            current_a=min(most_a, power_w / nominal_v),
            required=True,
            source=source,
        )
    yield Offer(
        kind=OfferKind.EPR_AVS,
        low_v=15.0,
        high_v=steps[-1],
        current_a=most_a,
        power_w=power_w,
        required=True,
        source=source,
    )


def _milli(value: float, step: int) -> int:
    """Thousandths, down to a multiple of `step`; a hair of rounding below one counts as on it."""
    return int(value * 1000 / step + 1e-6) * step
