"""What flows into a device and out of a port, at most: over settings, states and the unknown."""

from dataclasses import fields, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.pool import Indices
from sinkside.paths.solve import Chains, Steady, steady
from sinkside.physics.operating_point import Load

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]


def uppers(chains: Chains, f: dict[str, Array], high: Array) -> tuple[Chains, ...]:
    """The chains as a resistance draws most through them: least ohms, the highest setting, and
    the port at its highest volts or, behind a converter, at its lowest."""
    upper = replace(
        chains,
        front_ohm=f["front_least_ohm"],
        back_ohm=f["back_least_ohm"],
        front_drop_v=np.zeros_like(f["front_drop_v"]),
        back_drop_v=np.zeros_like(f["back_drop_v"]),
        # A step-up passes an input that is higher than what it is set to.
        set_low_v=np.where(
            f["steps_up"].astype(bool)[:, None], np.maximum(f["set_high_v"], high), f["set_high_v"]
        ),
    )
    low = replace(upper, front_ohm=chains.front_ohm)
    return low, replace(upper, port_v=np.broadcast_to(high, chains.port_v.shape))


def currents(
    low: Steady,
    uppers: tuple[Chains, ...],
    siemens: Array,
    resistive: Mask,
    holdable: Mask,
) -> tuple[Array, Array, Array]:
    """Most current into the device, out of the port, and out of it with the output held."""
    found = _most(low, holdable)
    (some,) = np.nonzero(resistive.any(axis=1))
    if not len(some):
        return found
    # The others are as they were: only a resistance draws more at the upper end.
    siemens, held = siemens[some], holdable[some]
    nothing = np.zeros_like(siemens)
    for chains in uppers:
        more = _most(steadied(_taken(chains, some), nothing, nothing, siemens), held)
        for most, upper in zip(found, more, strict=True):
            most[some] = np.where(resistive[some], np.fmax(most[some], upper), most[some])
    return found


def _taken(chains: Chains, some: Indices) -> Chains:
    """Some of the chains."""
    return Chains(**{field.name: getattr(chains, field.name)[some] for field in fields(Chains)})


def _most(found: Steady, holdable: Mask) -> tuple[Array, Array, Array]:
    """Currents into the device and out of the port, at whichever is more of what may be.

    A converter that is starved at this corner may hold its output at another: what flows then
    is what currents and heat are judged by. Where either is no number, so is the most.
    """
    may_hold = holdable & ~found.regulated
    return (
        np.where(may_hold, np.maximum(found.in_a, found.held_a), found.in_a),
        # Between passing and holding, the port gives what the device takes.
        np.where(
            may_hold,
            np.maximum(found.port_a, np.maximum(found.held_port_a, found.passing_a)),
            found.port_a,
        ),
        found.held_port_a.copy(),
    )


def good_end(most: Array, passing: Array) -> Array:
    """A bound from above, and at corners a bound from below in the good column.

    A converter that never gets what it needs may pass its input, or not start at all.
    """
    if most.shape[1] != 2:
        return most
    return np.stack([most[:, 0], np.fmin(most, passing)[:, 1]], axis=1)


def bounded(amps: Array, match: Mask, asleep: Mask, fault: Array) -> Array:
    """Steady currents off the match.

    There a load of constant power finds no working point at all, or lies below the volts it
    runs from. In the first case the port's trip is the bound; in the second nobody knows
    whether it sleeps or pulls all it can: the good end of that is nothing.
    """
    off = ~match[:, None]
    bounded = np.where(off & np.isnan(amps), fault, amps)
    if bounded.shape[1] == 2:
        bounded = bounded.copy()
        bounded[:, 1] = np.where(asleep[:, 1], 0.0, bounded[:, 1])
    return bounded


def steadied(chains: Chains, amps: Array, watts: Array, siemens: Array) -> Steady:
    return steady(chains, Load(constant_a=amps, power_w=watts, conductance_s=siemens))


def starting(peak: Steady, b: dict[str, Array], volts: Array, before: Mask) -> Array:
    """Most that a device draws as it starts.

    A load of constant power asks for most as it wakes, at the least volts that it works from;
    where the volts do not get there, as before a contract, it sleeps.
    """
    with np.errstate(divide="ignore", invalid="ignore"):
        waking = np.where(b["peak_w"] > 0.0, b["peak_w"] / b["wakes_v"], 0.0)
        # A resistance takes most at the highest volts that it is given.
        warm = b["peak_a"] + b["peak_s"] * volts
        started = np.where(b["peak_s"] > 0.0, np.maximum(peak.in_a, warm), peak.in_a)
        started = np.maximum(started, waking)
        asleep = (b["peak_w"] > 0.0) & (volts < b["wakes_v"])
    early = np.where(asleep, 0.0, np.fmax(started, waking))
    return np.where(before[:, None], early, started)
