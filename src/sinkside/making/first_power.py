"""First power-up: through a dummy load, in a fixed order, with what to stop at and what to sign."""

import math
from collections.abc import Iterator
from dataclasses import dataclass

from sinkside.making.dummy_load import Resistor, dummy_loads
from sinkside.making.of_plan import contract, fed, undecided
from sinkside.making.words import charger_name, watch
from sinkside.parts.part import Part
from sinkside.paths.rails import REMOVED
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.quantity import number, rounded
from sinkside.standards.pd_contract import OVERCURRENT_TRIP_HIGH

__all__ = ["Box", "FirstPower", "PowerStep", "Resistor", "first_power"]

# A fuse in a lead that has none, or a current limit, over what is meant to flow.
OVER_STEADY = 1.5
# Rated currents of miniature fuses are those of the series R 10 (IEC 60127, ISO 3, from memory).
R10 = (1.0, 1.25, 1.6, 2.0, 2.5, 3.15, 4.0, 5.0, 6.3, 8.0)
FUSES_FROM_A = 0.1


@dataclass(frozen=True, kw_only=True)
class PowerStep:
    """One thing to do, and at what to stop; `stop_if` is empty where there is nothing."""

    number: int
    do: str
    stop_if: str


@dataclass(frozen=True, kw_only=True)
class Box:
    """One box to tick, or to fill."""

    text: str
    wants_reading: bool = False
    wants_name: bool = False


@dataclass(frozen=True, kw_only=True)
class FirstPower:
    """The first power-up of one chain.

    Parameters
    ----------
    dummies
        The dummy load; of a converter with several outputs one for each rail.
    guard, guard_a
        What stands between a fault and the device, in words; and the current to which a bench
        supply is to be limited, or that a fuse is to have where the chain has none.
    """

    dummies: tuple[Resistor, ...]
    guard: str
    guard_a: float
    actions: tuple[PowerStep, ...]
    stops: tuple[str, ...]
    sign_off: tuple[Box, ...]

    @property
    def dummy(self) -> Resistor:
        """The first, and mostly only, dummy load."""
        return self.dummies[0]


STOPS = (
    "smell, smoke, hum, or anything but the dummy load, which gets hot, too hot to keep a finger "
    "on for five seconds",
    "a reading with the wrong sign, outside what is expected there, or beyond a stop limit",
    "volts that come and go: the port trips and tries again",
    "a fuse that opens: find out why; never a larger one, never a bridge over it",
)


def first_power(plan: Plan, device: DevicePlan) -> FirstPower | None:
    """The first power-up of a device's chain.

    Returns
    -------
    FirstPower or None
        None without a chain, without a contract, and while nobody knows which way round the plug
        is to be made up.
    """
    chosen = device.chosen
    if chosen is None or contract(chosen) is None or undecided(chosen):
        return None
    dummies = dummy_loads(plan, device)
    steady_a = max(d.amps_a for d in dummies)
    guard_a = _guard_a(chosen, steady_a)
    actions = enumerate(_actions(device, chosen, dummies), 1)
    return FirstPower(
        dummies=dummies,
        guard=_guard(chosen, guard_a),
        guard_a=guard_a,
        actions=tuple(PowerStep(number=n, do=do, stop_if=stop) for n, (do, stop) in actions),
        stops=STOPS,
        sign_off=tuple(_boxes(device, chosen)),
    )


def _guard_a(chosen: Chosen, steady_a: float) -> float:
    """The chain's own fuse; without one the next rating over half as much again as flows."""
    fuses = [p.fuse.rated_a for p in chosen.front.parts if p.fuse]
    if fuses:
        return min(fuses)
    wanted = max(OVER_STEADY * steady_a, FUSES_FROM_A)
    decade = 10.0 ** math.floor(math.log10(wanted))
    return next(r * decade for r in (*R10, 10.0) if r * decade >= wanted * (1 - 1e-9))


def _guard(chosen: Chosen, guard_a: float) -> str:
    fuse = next((p for p in chosen.front.parts if p.fuse), None)
    if fuse is not None:
        return (
            f"its own fuse ({fuse.words or fuse.id}) is in its holder before anything is plugged "
            f"in; {_not_fused(chosen, fuse)}"
        )
    return (
        f"the chain has no fuse: for the first power-up put one of {number(guard_a, 'A')} in "
        f"series with the plug, or feed the plug from a bench supply that is limited to "
        f"{number(guard_a, 'A')}"
    )


def _not_fused(chosen: Chosen, fuse: Part) -> str:
    """What stands before the fuse, and what limits there."""
    front = chosen.front
    ahead = front.parts[: front.parts.index(fuse)]
    names = [f"the {p.words or p.id}" for p in ahead if p.kind != "cable"]
    least_a = OVERCURRENT_TRIP_HIGH * front.charger.largest_a(front.port)
    converts = any(p.converter is not None for p in ahead)
    where = "it stands behind the converter: nothing before it" if converts else "nothing before it"
    return (
        f"{where} ({', '.join(('the USB-C lead', *names))}) is fused: there only the port's own "
        f"limit acts, which may let {rounded(least_a, 'A')} flow"
    )


def _actions(
    device: DevicePlan, chosen: Chosen, dummies: tuple[Resistor, ...]
) -> Iterator[tuple[str, str]]:
    rails = chosen.front.rails is not None
    out = "the rails" if rails else "the plug"
    many = "" if rails else "s"
    if device.action is Action.MEASURE:
        yield (
            "Stop here until what stands at the top of the sheet is measured and planned anew.",
            "",
        )
    yield (
        "All readings before power are taken, written down and within their ranges; "
        f"{'the fuse is in its holder' if _fused(chosen) else 'a fuse is in series'}; a second "
        f"person has checked the polarity; nothing hangs on {out}; the joints lie open and apart.",
        "any of that is not so",
    )
    yield (
        f"Plug in the USB-C end at {charger_name(chosen)}, port {chosen.seat.port}. Read "
        f"{'each rail' if rails else 'sign and volts at the plug'} first, then the other points "
        "with nothing on it.",
        STOPS[1],
    )
    yield (
        f"Pull the USB-C end. Wait until {out} read{many} less than half a volt.",
        "",
    )
    load = "; ".join(f"{d.words} across {d.at}" for d in dummies)
    yield (
        f"Put the dummy load on: {load}; on something that does not burn, nothing near it. It gets "
        f"hot.{_weaker(chosen, dummies)}",
        "",
    )
    yield (
        "Plug in the USB-C end. Take the readings with the dummy load within a minute, and again "
        "after ten minutes.",
        f"{STOPS[1]}; {STOPS[2]}; {STOPS[3]}",
    )
    yield (
        f"Feel {_felt(chosen)}: each may be warm.",
        STOPS[0],
    )
    yield "Pull the USB-C end. Let the dummy load cool before it is taken off.", ""
    yield (
        "Shrink the joints and close the case, as the order of assembly says. Plug in the USB-C "
        f"end, read {'each rail' if rails else 'sign and volts at the plug'} again, and pull it.",
        STOPS[1],
    )
    if rails:
        yield (
            "With nothing plugged in, join the leads from the rails to the device. Before that: "
            f"{REMOVED}.",
            "nobody has signed for that",
        )
    else:
        yield (
            "The device is switched off, and its old brick is unplugged from mains and device. "
            "Push the plug into the device; then plug in the USB-C end.",
            "the plug has to be forced, or sits loose",
        )
    yield (
        "Read the volts with the device in it at once; then switch it on, work it hard, and read "
        "volts and amps.",
        f"{STOPS[0]}; {STOPS[1]}",
    )
    told = "".join(f" Watch {thing}." for thing in watch(device))
    minutes = "an hour" if chosen.front.trigger.programmable_v is not None else "half an hour"
    yield f"Stay with it for {minutes} of full work, then read once more.{told}", STOPS[0]


def _felt(chosen: Chosen) -> str:
    """What may get warm, of what is there."""
    parts = chosen.front.parts
    found = [
        "the trigger",
        *(["the converter"] if any(p.kind in ("converter", "rails") for p in parts) else []),
        *(["the fuse holder"] if _fused(chosen) else []),
        *(["the joints"] if any(p.takes.kind == "wires" for p in parts) else []),
    ]
    last = "the plug" if chosen.front.rails is None else "the outputs"
    return f"{', '.join(found)} and {last}"


def _weaker(chosen: Chosen, dummies: tuple[Resistor, ...]) -> str:
    """That a dummy load takes less than the device may; empty where it does not."""
    if chosen.front.rails is not None:
        return ""
    takes_a = dummies[0].volts_v / dummies[0].total_ohm
    peak_a = fed(chosen).peak_a.high
    if takes_a >= peak_a:
        return ""
    return (
        f" It takes about {rounded(takes_a, 'A')}, less than the up to {rounded(peak_a, 'A')} of "
        "the device's peak: that the peak is carried is told by the device alone."
    )


def _fused(chosen: Chosen) -> bool:
    return any(p.fuse for p in chosen.front.parts)


def _boxes(device: DevicePlan, chosen: Chosen) -> Iterator[Box]:
    if device.action is Action.MEASURE:
        yield Box(
            text="measured first, and planned anew: this sheet is still the one", wants_name=True
        )
    if chosen.front.rails is not None:
        yield Box(text=REMOVED, wants_name=True)
    yield Box(text="readings before power are within their ranges")
    yield Box(text="polarity checked by a second person before power", wants_name=True)
    where = "rails" if chosen.front.rails is not None else "plug"
    yield Box(text=f"{where}, nothing on: sign and volts", wants_reading=True)
    yield Box(text=f"{where}, dummy load on: volts", wants_reading=True)
    yield Box(text="after ten minutes nothing but the dummy load is too hot to touch")
    yield Box(text=f"{where}, shrunk and closed: sign and volts", wants_reading=True)
    yield Box(text="device at work: volts", wants_reading=True)
    yield Box(text="device at work: amps", wants_reading=True)
    yield Box(text="labels are on lead, plug, port and device; the old brick is tagged and kept")
    yield Box(text="built by, on", wants_name=True)
    yield Box(text="checked by somebody else, on", wants_name=True)
