"""A reservoir with what charges, isolates, fuses and empties it, as parts of a chain.

In the feed it is charged along a ramp, and all current goes through it: after a gap the ramp has
to climb to its volts before the feed takes over again. Beside the feed it is charged through a
resistor that a diode bridges when it gives: the feed is back at once, for one diode more.
"""

from dataclasses import replace

from sinkside.outages.charged_capacitance import ChargedCapacitance
from sinkside.outages.reservoirs import Reservoir
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Diode,
    Element,
    FuseLink,
    RampSwitch,
    Resistance,
)
from sinkside.parts.part import End, Part, PartKind
from sinkside.paths.front import Front
from sinkside.quantity import Quantity, unknown

# A Schottky diode of 3 A; a soft start's switch (from memory).
DIODE_V, DIODE_OHM = (0.25, 0.55), (0.01, 0.10)
SWITCH_OHM = (0.010, 0.060)
CARRIES_A = 3.0
# What a ramp that is made of a resistor and a capacitor is good to.
RAMP_TOLERANCE = 0.4
RESISTOR_TOLERANCE = 0.05
# Rated currents of miniature fuses: the R10 series (IEC 60127, from memory).
FUSES_A = (0.5, 0.63, 0.8, 1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3)
FUSE_DROP_V = (0.05, 0.2)
FUSE_OPENS_AT = 2.1
# Melting I²t of a quick fuse: about 0.2 to 2 times the square of its rating, in A²s.
FUSE_MELTS = (0.2, 2.0)


def in_feed(
    reservoir: Reservoir, ramp_s: float, bleed_ohm: float, fuse_a: float, withstands_v: float
) -> tuple[Part, ...]:
    """Soft start, reservoir behind its diode, bleeder, fuse, in this order.

    Parameters
    ----------
    ramp_s, bleed_ohm, fuse_a
        Nominal values.
    withstands_v
        What the parts beside the reservoir stand.
    """
    ramp = RampSwitch(ramp_s=_within(ramp_s, RAMP_TOLERANCE, "s", "ramp"), every_step=True)
    switch = Resistance(ohm=unknown(*SWITCH_OHM, "Ω", name="reservoir soft start/ohms"))
    bleeder = Bleeder(ohm=_within(bleed_ohm, RESISTOR_TOLERANCE, "Ω", "ohms across"))
    filled = Capacitance(farad=reservoir.farad, esr_ohm=reservoir.esr_ohm)
    link = FuseLink(
        rated_a=fuse_a,
        opens_at_ratio=FUSE_OPENS_AT,
        melts_a2s=unknown(
            FUSE_MELTS[0] * fuse_a**2,
            FUSE_MELTS[1] * fuse_a**2,
            "A²s",
            name="reservoir fuse/melting pulse",
        ),
    )
    return (
        _part("soft start", "reservoir soft start", (switch, ramp), withstands_v),
        _part("hold-up", "reservoir", (_diode("feed"), filled), reservoir.rated_v),
        _part("bleeder", "reservoir bleeder", (bleeder,), withstands_v),
        _part("fuse", "reservoir fuse", (link, _fuse_ohm(fuse_a)), withstands_v, fuse_a),
    )


def beside_feed(
    reservoir: Reservoir, charge_ohm: float, bleed_ohm: float, fuse_a: float, withstands_v: float
) -> tuple[Part, ...]:
    """A diode in the feed, and the reservoir behind resistor, diode and fuse beside it.

    Parameters
    ----------
    charge_ohm, bleed_ohm, fuse_a
        Nominal values.
    withstands_v
        What the diode stands.
    """
    bridge, fuse = _diode("reservoir"), _fuse_ohm(fuse_a).ohm
    slope = unknown(
        bridge.slope_ohm.low + fuse.low,
        bridge.slope_ohm.high + fuse.high,
        "Ω",
        name="reservoir diode and fuse/ohms",
    )
    branch = ChargedCapacitance(
        farad=reservoir.farad,
        esr_ohm=reservoir.esr_ohm,
        charge_ohm=_within(charge_ohm, RESISTOR_TOLERANCE, "Ω", "charging ohms"),
        forward_v=bridge.forward_v,
        slope_ohm=slope,
        bleed_ohm=_within(bleed_ohm, RESISTOR_TOLERANCE, "Ω", "ohms across"),
    )
    return (
        _part("diode", "feed diode", (_diode("feed"),), withstands_v),
        _part("hold-up", "reservoir", (branch,), reservoir.rated_v),
    )


def _diode(where: str) -> Diode:
    return Diode(
        forward_v=unknown(*DIODE_V, "V", name=f"{where} diode/forward volts"),
        slope_ohm=unknown(*DIODE_OHM, "Ω", name=f"{where} diode/ohms"),
    )


def _fuse_ohm(fuse_a: float) -> Resistance:
    least, most = FUSE_DROP_V
    return Resistance(ohm=unknown(least / fuse_a, most / fuse_a, "Ω", name="reservoir fuse/ohms"))


def _within(nominal: float, tolerance: float, unit: str, topic: str) -> Quantity:
    return unknown(
        (1.0 - tolerance) * nominal, (1.0 + tolerance) * nominal, unit, name=f"reservoir/{topic}"
    )


def inserted(front: Front, at: int, parts: tuple[Part, ...]) -> Front:
    """The front with parts before its part of that number; one soft start is enough."""
    ramps = any(p.kind == "soft start" for p in parts)
    kept = [p for p in front.parts if not (ramps and p.kind == "soft start")]
    gone = len(front.parts[:at]) - len([p for p in front.parts[:at] if p in kept])
    place = at - gone
    return replace(front, parts=(*kept[:place], *parts, *kept[place:]))


def _part(
    kind: PartKind,
    name: str,
    elements: tuple[Element, ...],
    withstands_v: float,
    carries_a: float = CARRIES_A,
) -> Part:
    return Part(
        id=name,
        kind=kind,
        takes=End(kind="wires"),
        gives=End(kind="wires"),
        elements=elements,
        carries_a=carries_a,
        withstands_v=withstands_v,
        price_cents=None,
        owned=0,
        joints=2,
    )
