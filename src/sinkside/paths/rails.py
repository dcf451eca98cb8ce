"""A converter with several outputs in the place of a supply that is built in.

To what feeds it, it is one load of constant power: what its rails give, and what is lost in it.
Behind it the rails are compared with what the device was fed from inside.
"""

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache
from typing import NamedTuple

from sinkside.parts.elements import Capacitance
from sinkside.parts.part import Part, Rail
from sinkside.paths.front import Front
from sinkside.quantity import Basis, Quantity, point, unknown
from sinkside.rules.verdict import TOUCH, Verdict
from sinkside.site.appliance import Appliance, Heat
from sinkside.site.rails import RailNeed

# Logic and drives are commonly made for rails within ±5 % (common practice, no source).
RAIL_TOLERANCE = 0.05
REMOVED = "internal supply removed and blanked off by a qualified person"
NO_HEAT = Heat(regulator=None, allowed_w=None, output_v=None, quiescent_a=None, cool_up_to_v=None)


def fed(front: Front, appliance: Appliance) -> Appliance:
    """What a front feeds: the device, or the input of the converter that gives its rails."""
    if front.rails is None:
        return appliance
    return input_of(front.rails, appliance)


@lru_cache(maxsize=1000)
def input_of(part: Part, appliance: Appliance) -> Appliance:
    """The input of a converter with several outputs, as a device of constant power.

    Notes
    -----
    P = Σ V·I / η over the rails, each at its highest volts and current and the efficiency at its
    lowest for the most, the other way round for the least. What the device does when it is
    starved, or blinks, stays that of the device. Currents are stated as the most that a rail is
    asked for, so steady and peak are one figure.
    """
    converter = part.rails_converter
    if converter is None:
        raise ValueError(f"{part.id} has no rails")
    reference_v = converter.accepts_low_v
    amps = _input_a(part, appliance, converter.efficiency, reference_v)
    capacitance = next(e.farad for e in part.elements if isinstance(e, Capacitance))
    return replace(
        appliance,
        plug=part.gives.plug,
        plate_v=None,
        kind="dc",
        harmed_above_v=point(
            converter.accepts_high_v, "V", Basis.DATASHEET, f"{part.id}/accepts at most"
        ),
        runs_from_v=point(reference_v, "V", Basis.DATASHEET, f"{part.id}/accepts from"),
        reference_v=reference_v,
        laws=("constant power",),
        steady_a=amps,
        peak_a=amps,
        capacitance_f=capacitance,
        heat=NO_HEAT,
        evidence=(),
        jack_a=point(part.carries_a, "A", Basis.DATASHEET, f"{part.id}/input"),
        held_on=(),
        idle_a=None,
    )


def _input_a(
    part: Part, appliance: Appliance, efficiency: Quantity, reference_v: float
) -> Quantity:
    low, high, basis = 0.0, 0.0, Basis.MEASURED
    for need in appliance.rails:
        current, rail = need.current_a, given(part, need)
        if current is None:
            raise ValueError(f"{need.name} of {appliance.id} has no current")
        low += (rail.low_v if rail else need.volts_v) * current.low
        high += (rail.high_v if rail else need.volts_v) * current.high
        basis = max(basis, current.basis)
    exact = all(need.current_a and need.current_a.known for need in appliance.rails)
    name = f"{part.id}/efficiency" if exact else f"{appliance.id}/rail currents"
    return unknown(
        low / (efficiency.high * reference_v),
        high / (efficiency.low * reference_v),
        "A",
        basis,
        name,
    )


def given(part: Part, need: RailNeed) -> Rail | None:
    """The output of a converter that is meant for a rail: of those that are near the nearest.

    None if none is near.
    """
    near = [r for r in part.rails if _near(r, need)]
    return min(near, key=lambda r: abs((r.low_v + r.high_v) / 2 - need.volts_v), default=None)


def _window(need: RailNeed) -> tuple[float, float]:
    return (1 - RAIL_TOLERANCE) * need.volts_v, (1 + RAIL_TOLERANCE) * need.volts_v


def _near(rail: Rail, need: RailNeed) -> bool:
    low, high = _window(need)
    return rail.high_v >= low - TOUCH and rail.low_v <= high + TOUCH


def lacks(part: Part, appliance: Appliance) -> RailNeed | None:
    """A rail that a device needs and a converter surely does not give."""
    return next((need for need in appliance.rails if given(part, need) is None), None)


class _Judged(NamedTuple):
    """A verdict on one rail, or on several that hang on one output, and why."""

    verdict: Verdict
    words: str


def rail_volts(front: Front, appliance: Appliance) -> Verdict:
    """Whether every rail that a device needs is given within ±5 %.

    What a converter says of its output holds both what differs from one to the next and what
    drifts: where that reaches over the edge, a meter tells.
    """
    return max((found.verdict for found in _volts(front, appliance)), default=Verdict.FITS)


def rail_current(front: Front, appliance: Appliance) -> Verdict:
    """Whether every output is rated for the most that is asked of it; open until measured."""
    return max((found.verdict for found in _currents(front, appliance)), default=Verdict.FITS)


def rail_volts_words(front: Front, appliance: Appliance) -> str:
    """What is given for every rail, for people."""
    return "; ".join(found.words for found in _volts(front, appliance))


def rail_current_words(front: Front, appliance: Appliance) -> str:
    """What is asked of every output and what it is rated for, for people."""
    return "; ".join(found.words for found in _currents(front, appliance))


def _volts(front: Front, appliance: Appliance) -> Iterator[_Judged]:
    for need in appliance.rails:
        rail = given(front.rails, need) if front.rails else None
        if rail is None:
            yield _Judged(Verdict.FAILS, f"nothing gives {need.name}")
            continue
        low, high = _window(need)
        inside = rail.low_v >= low - TOUCH and rail.high_v <= high + TOUCH
        yield _Judged(
            Verdict.FITS if inside else Verdict.UNPROVEN,
            f"{need.name} wants {low:.4g} to {high:.4g} V and gets {rail.low_v:.4g} to "
            f"{rail.high_v:.4g} V",
        )


def _currents(front: Front, appliance: Appliance) -> Iterator[_Judged]:
    """By output: two rails of the same volts may hang on one."""
    asked: dict[Rail, list[RailNeed]] = {}
    for need in appliance.rails:
        rail = given(front.rails, need) if front.rails else None
        if rail is not None:
            asked.setdefault(rail, []).append(need)
    for rail, needs in asked.items():
        currents = [need.current_a for need in needs if need.current_a is not None]
        low, high = sum(c.low for c in currents), sum(c.high for c in currents)
        measured = all(need.measured for need in needs)
        if low > rail.carries_a + TOUCH:
            verdict = Verdict.FAILS
        elif high <= rail.carries_a + TOUCH and measured:
            verdict = Verdict.FITS
        else:
            verdict = Verdict.UNPROVEN
        most = f"{low:.3g} A" if low == high else f"{low:.3g} to {high:.3g} A"
        rests = "measured" if measured else "not measured"
        names = " and ".join(need.name for need in needs)
        yield _Judged(verdict, f"{names}: {most} at most ({rests}), from {rail.carries_a:.3g} A")
