"""The current that flows through whoever touches a group of joined gear: the tingle.

A class II supply has a capacitor from mains to its output, against radio noise. Through it flows
a little current all the time; joined gear adds up what its supplies let through.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Literal, TypeAlias

from sinkside.grounds.conductors import EARTH, Edge, Feed, negative_of
from sinkside.grounds.meetings import groups
from sinkside.rules.verdict import TOUCH, Verdict
from sinkside.standards.safety_classes import TOUCH_CURRENT_A
from sinkside.working import Source, Status, Symbol, Working, evaluate

ProtectionClass: TypeAlias = Literal["I", "II", "unknown"]

# Common practice; 2.2 nF lets 0.16 mA through at 230 V and 50 Hz (secondary text).
Y_CAPACITOR_F = 2.2e-9
# What is really measured over the sum of all in phase (from memory).
REAL_SHARE = (0.3, 1.0)
METER_OHM = 22e3
"""Across this a meter reads the current, as volts."""
FORMULA = "6.283185307179586 * f_mains * C_y * V_mains * N"
_SOURCE = Source(
    document="a capacitor on mains, the sum in phase an upper bound", status=Status.ARITHMETIC
)


@dataclass(frozen=True, kw_only=True)
class Touch:
    """One group of joined gear.

    Parameters
    ----------
    devices
        In it.
    supplies
        The chargers and bricks whose capacitors feed it.
    earthed
        Whether it is tied to mains earth for sure, which takes the current.
    least_a, most_a
        What may flow through whoever touches it, A.
    """

    devices: tuple[str, ...]
    supplies: tuple[str, ...]
    earthed: bool
    least_a: float
    most_a: float
    verdict: Verdict
    words: str
    working: Working | None


def y_capacitor_a(farad: float, mains_v: float, mains_hz: float) -> float:
    """Current through a capacitor on mains.

    Parameters
    ----------
    farad
        F.
    mains_v, mains_hz
        R.m.s. volts and frequency of the mains, V and Hz.

    Returns
    -------
    float
        A, r.m.s.

    Notes
    -----
    I = 2π·f·C·V                                                               Eq. (1)

    References
    ----------
    Arithmetic; that 2.2 nF gives 0.16 mA at 230 V and 50 Hz: secondary text.

    Examples
    --------
    >>> round(1e3 * y_capacitor_a(2.2e-9, 230.0, 50.0), 2)
    0.16
    """
    return float(
        evaluate(FORMULA, {"f_mains": mains_hz, "C_y": farad, "V_mains": mains_v, "N": 1.0})
    )


def mains_of(text: str) -> tuple[float, float]:
    """Volts and hertz of mains as the site says them: `230 V 50 Hz`."""
    volts, _, hertz, _ = text.split()
    return float(volts), float(hertz)


def touches(
    edges: Sequence[Edge],
    feeds: Mapping[str, Feed],
    classes: Mapping[str, ProtectionClass],
    mains: str,
) -> tuple[Touch, ...]:
    """Every group of gear with a supply in it, the worst first.

    Parameters
    ----------
    edges
        All that conducts, also what may: the widest groups.
    classes
        Of each kind of charger; what is not in it is not known.
    mains
        As the site says it.

    Notes
    -----
    Each class II supply adds Eq. (1) of `y_capacitor_a`. The sum in phase is an upper bound; what
    is measured is often 0.3 to 0.7 of it. A supply of which the class is not known, and an old
    brick, adds between nothing and that: a plain transformer hardly anything. A group that is
    tied to earth for sure lets it go there.
    """
    certain = [edge for edge in edges if edge.certain]
    earth = next((nodes for nodes in groups(certain) if EARTH in nodes), frozenset())
    found = [_touch(nodes, nodes <= earth, feeds, classes, mains) for nodes in groups(edges)]
    told = [touch for touch in found if touch is not None]
    return tuple(sorted(told, key=lambda t: (-t.verdict, -t.most_a, t.devices)))


def _touch(
    nodes: frozenset[str],
    earthed: bool,
    feeds: Mapping[str, Feed],
    classes: Mapping[str, ProtectionClass],
    mains: str,
) -> Touch | None:
    prefix = "negative pole of "
    devices = tuple(sorted(n.removeprefix(prefix) for n in nodes if n.startswith(prefix)))
    bricks = [n for n in nodes if n.startswith(("old brick of ", "own mains supply of "))]
    units = {negative_of(f.charger, f.unit): f.charger.id for f in feeds.values() if not f.isolated}
    here = {node: kind for node, kind in units.items() if node in nodes}
    supplies = tuple(sorted([*here, *bricks]))
    if not devices or not supplies:
        return None
    sure = sum(classes.get(kind, "unknown") == "II" for kind in here.values())
    volts, hertz = mains_of(mains)
    one = y_capacitor_a(Y_CAPACITOR_F, volts, hertz)
    least, most = REAL_SHARE[0] * sure * one, REAL_SHARE[1] * len(supplies) * one
    if earthed:
        least = most = 0.0
    verdict = _verdict(least, most)
    return Touch(
        devices=devices,
        supplies=supplies,
        earthed=earthed,
        least_a=least,
        most_a=most,
        verdict=verdict,
        words=_words(devices, len(supplies), verdict, earthed, most),
        working=None if earthed else _working(len(supplies), volts, hertz, most),
    )


def _verdict(least_a: float, most_a: float) -> Verdict:
    if most_a <= TOUCH_CURRENT_A + TOUCH * TOUCH_CURRENT_A:
        return Verdict.FITS
    return Verdict.FAILS if least_a > TOUCH_CURRENT_A else Verdict.UNPROVEN


def _words(
    devices: tuple[str, ...], supplies: int, verdict: Verdict, earthed: bool, most_a: float
) -> str:
    who = ", ".join(devices)
    many = "one supply lets" if supplies == 1 else f"{supplies} supplies let"
    if earthed:
        return f"{who}: tied to mains earth, which takes what {many} through"
    limit = 1e3 * TOUCH_CURRENT_A
    said = f"{who}: {many} up to {1e3 * most_a:.2f} mA through"
    if verdict is Verdict.FITS:
        return f"{said}, not over {limit:g} mA"
    return (
        f"{said}, against {limit:g} mA; measure a.c. volts across 22 kΩ from a bare part of it to "
        f"mains earth: {TOUCH_CURRENT_A * METER_OHM:g} V are {limit:g} mA"
    )


def _working(supplies: int, volts: float, hertz: float, most_a: float) -> Working:
    def symbol(name: str, meaning: str, value: float, unit: str, basis: str) -> Symbol:
        return Symbol(
            symbol=name,
            meaning=meaning,
            value=value,
            low=value,
            high=value,
            unit=unit,
            basis=basis,
        )

    return Working(
        formula=FORMULA,
        symbols=(
            symbol("f_mains", "frequency of the mains", hertz, "Hz", "site"),
            symbol("C_y", "capacitor from mains to output", Y_CAPACITOR_F, "F", "assumed"),
            symbol("V_mains", "volts of the mains", volts, "V", "site"),
            symbol("N", "supplies that feed the group", float(supplies), "1", "plan"),
        ),
        result=most_a,
        unit="A",
        source=_SOURCE,
    )
