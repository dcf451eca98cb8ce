"""Every test point of a chain, with the reading that is expected there.

A reading has two pairs of limits. The *expected* range is what this chain can show, with every
figure anywhere between its ends. The *stop* limits are those of the device and of the parts:
beyond them nothing is plugged into the device, whatever the chain may be able to show.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sinkside.making import draws
from sinkside.making.causes import (
    AMPS_COUNTS_A,
    AMPS_SHARE,
    no_volts,
    opened,
    other_volts,
    state_words,
)
from sinkside.making.cold import cold
from sinkside.making.dummy_load import (
    Resistor,
    device_side_a,
    dummy_loads,
    port_side_a,
)
from sinkside.making.levels import Reading, reading
from sinkside.making.of_plan import (
    centre,
    contract,
    fed,
    fixed_poles,
    limits,
    states,
    undecided,
)
from sinkside.making.probe import METER_WORDS, Mode, Probe, Stage
from sinkside.making.readings import Range, told
from sinkside.making.stops import NOT_EXPECTED, stops_of
from sinkside.parts.part import Part
from sinkside.paths.rails import RAIL_TOLERANCE, given
from sinkside.paths.states import State
from sinkside.paths.values import series_ohm
from sinkside.plan.model import Chosen, DevicePlan, Plan
from sinkside.quantity import Basis, rounded, varies
from sinkside.standards.pd_contract import SAFE_0V_V

__all__ = ["METER_WORDS", "Mode", "Probe", "Stage", "probes"]

_SIGN = "the plug is wired the wrong way round, or the probes are: stop, and make sure"
_LOW = {
    Stage.DUMMY: "a poor joint or a thin lead: find where the volts are lost, point by point",
    Stage.DEVICE: "it draws more than was known, or a contact is poor: read the amps, then each "
    "point before it",
}
_HIGH = {
    Stage.DUMMY: "the dummy load is not joined, or of more ohms than it should be",
    Stage.DEVICE: "it is not switched on, or not at work; over the stop limit pull the USB-C end",
}
_OFF_LOW = "it gives less than the port: nothing is lost while nothing hangs on it"
_OFF_HIGH = "STOP, pull the USB-C end: more than this state can give"
_NO_REST = "at the worst there is no working point: it may come and go, or trip the port"
_LESS_A = "it is not at work, or draws less than was known: write it down"
_MORE_A = "something draws that should not, or it draws more than was known: stop, and look"

_LEAST_HOLD = "with the meter's least hold, started after the device is on"
_TURNED = (
    "the red probe is on the SLEEVE for this one, so that no minus is shown: the least hold of a "
    "minus would keep the largest volts"
)
_MOST_HOLD = (
    "With the meter's most hold, and no minus shown (else exchange its two leads first, for the "
    "most hold of a minus keeps the smallest); a short peak hides from it, and a fuse lets it pass"
)
# Behind an output switch that is open stands next to nothing: over vSafe0V, and no device is
# harmed by it (USB PD allows 0.8 V; what is over that is common practice, no source).
DARK_STOP_V = 1.0


@dataclass(frozen=True, kw_only=True)
class _Place:
    """A place where volts are read.

    Parameters
    ----------
    after
        Behind how many parts.
    stands_v
        What is behind it stands so many volts; None where nobody said.
    """

    after: int
    where: str
    red: str
    black: str
    stands_v: float | None
    plug: bool = False


@dataclass(frozen=True, kw_only=True)
class _Chain:
    """What the test points of one chain are made of."""

    device: DevicePlan
    chosen: Chosen
    match: State
    places: tuple[_Place, ...]
    dummies: tuple[Resistor, ...]

    def read(self, state: State, draw: draws.Draw) -> Reading:
        """Volts at all places, and the currents."""
        return reading(self.chosen.front, state, draw, tuple(p.after for p in self.places))


def probes(plan: Plan, device: DevicePlan) -> tuple[Probe, ...]:
    """Every test point of a device's chain, in the order in which they are read.

    Parameters
    ----------
    plan, device
        A finished plan, and one of its devices.

    Returns
    -------
    tuple of Probe
        Empty without a chain.
    """
    chosen = device.chosen
    match = contract(chosen) if chosen else None
    if chosen is None or match is None:
        return ()
    chain = _Chain(
        device=device,
        chosen=chosen,
        match=match,
        places=tuple(_places(chosen)),
        dummies=dummy_loads(plan, device),
    )
    found = (*cold(chosen), *_unloaded(chain))
    if not undecided(chosen):
        found = (*found, *_dummy(chain), *_at_work(chain))
    return tuple(replace(probe, number=n) for n, probe in enumerate(found, 1))


def _places(chosen: Chosen) -> Iterator[_Place]:
    front = chosen.front
    head = len(front.head_parts)
    for i, part in enumerate(front.parts[:-1], 1):
        name = part.words or part.id
        if i == head or part.fuse is not None or part.converter is not None:
            yield _Place(
                after=i,
                where=f"after the {name}",
                red=f"load end of the {name}" if part.fuse else f"positive output of the {name}",
                black="negative beside it" if part.fuse else "negative output of the same",
                stands_v=_stands(chosen, i),
            )
    end = len(front.parts)
    if front.rails is not None:
        name = front.rails.words or front.rails.id
        yield _Place(
            after=end - 1,
            where=f"at the input of the {name}",
            red="positive input",
            black="negative input",
            stands_v=limits(chosen).stands_v,
            plug=True,
        )
        return
    if undecided(chosen):
        return  # there is no plug to read at before the polarity is known
    fixed = fixed_poles(chosen)
    yield _Place(
        after=end,
        where="at the plug",
        red="supply contact" if fixed else "centre",
        black="ground contact" if fixed else "sleeve",
        stands_v=limits(chosen).stands_v,
        plug=True,
    )


def _upright(place: _Place, chosen: Chosen) -> _Place:
    """A plug with the red probe on its positive contact, so that a hold keeps what it should."""
    if place.red != "centre" or centre(chosen) != "negative":
        return place
    return replace(place, red="sleeve", black="centre")


def _stands(chosen: Chosen, place: int) -> float:
    """What everything stands that is behind a place as far as the converter, or the device."""
    front = chosen.front
    ahead = front.parts[place : front.split + 1] if place <= front.split else front.parts[place:]
    ratings = [part.withstands_v for part in ahead]
    if front.converter is None or place > front.split:
        ratings.append(limits(chosen).stands_v)
    return min(ratings)


def _unloaded(chain: _Chain) -> Iterator[Probe]:
    """Nothing on the plug: every place in the contract, the plug alone in every other state."""
    chosen = chain.chosen
    found = chain.read(chain.match, draws.nothing())
    for place, volts in zip(chain.places, found.volts, strict=True):
        yield _volts(chain, chain.match, Stage.UNLOADED, place, volts, required=True)
    yield from _rails(chain, Stage.UNLOADED)
    for state in states(chosen):
        if state != chain.match and chain.places:
            volts = chain.read(state, draws.nothing()).volts[-1]
            yield _volts(chain, state, Stage.UNLOADED, chain.places[-1], volts, required=False)
    if chosen.front.trigger.gated and chain.places:
        dark = Range(low=0.0, nominal=0.0, high=SAFE_0V_V, unit="V")
        probe = _volts(chain, chain.match, Stage.UNLOADED, chain.places[0], dark, required=False)
        yield replace(
            probe,
            state="before contract, output switch open",
            stop_above=DARK_STOP_V,
            limits=f"STOP if it is over {DARK_STOP_V:g} V, or a minus is shown. {NOT_EXPECTED}",
            if_low="",
            if_high="STOP, pull the USB-C end: the output switch lets volts through; it is not the "
            "trigger that was planned",
            note="at the moment of plugging in, or on a charger that has not these volts",
            rests_on=("vSafe0V of USB PD",),
        )


def _dummy(chain: _Chain) -> Iterator[Probe]:
    """The dummy load on: the converter and the plug, and the two currents."""
    yield from _rails(chain, Stage.DUMMY)
    if chain.chosen.front.rails is not None:
        return
    load = chain.dummies[0]
    found = chain.read(chain.match, draws.resistor(load.total_ohm, load.tolerance))
    split = chain.chosen.front.split
    for place, volts in zip(chain.places, found.volts, strict=True):
        if place.plug or place.after > split:
            yield _volts(chain, chain.match, Stage.DUMMY, place, volts, required=True)
    yield _into(chain, Stage.DUMMY, found.into, "in series with the dummy load")
    yield _from_port(chain, Stage.DUMMY, found.out_of_port)


def _at_work(chain: _Chain) -> Iterator[Probe]:
    """The device on: volts and amps at its steady current and at its peak."""
    appliance = fed(chain.chosen)
    steady = chain.read(chain.match, draws.at_work(appliance))
    peak = chain.read(chain.match, draws.at_peak(appliance))
    plug = chain.places[-1]
    series = f"in series with the {'input' if chain.chosen.front.rails else 'plug'}"
    volts = _volts(chain, chain.match, Stage.DEVICE, plug, steady.volts[-1], required=True)
    yield volts if steady.always else replace(volts, note=f"{volts.note} {_NO_REST}".strip())
    upright = _upright(plug, chain.chosen)
    lowest = _volts(chain, chain.match, Stage.DEVICE, upright, peak.volts[-1], required=False)
    held = _LEAST_HOLD if upright == plug else f"{_TURNED}; {_LEAST_HOLD}"
    held = held if peak.always else f"{held}; {_NO_REST}"
    yield replace(lowest, where=f"{plug.where}, at its peak", note=held)
    yield from _rails(chain, Stage.DEVICE)
    yield _into(chain, Stage.DEVICE, steady.into, f"{series}, at its steady current")
    top = _into(chain, Stage.DEVICE, peak.into, f"{series}, at its peak")
    yield replace(
        top,
        required=False,
        stop_above=None,
        limits="",
        note=f"{top.note}. {_MOST_HOLD}",
    )
    yield _from_port(chain, Stage.DEVICE, steady.out_of_port)


def _volts(
    chain: _Chain, state: State, stage: Stage, place: _Place, volts: Range, *, required: bool
) -> Probe:
    front = chain.chosen.front
    least_v, lack = _too_low(chain, state, place)
    harmed = "the device" if place.plug and chain.chosen.front.rails is None else "what follows"
    negative = place.red == "centre" and centre(chain.chosen) == "negative"
    stops = stops_of(
        place.stands_v, least_v, minus=negative, harm=f"{harmed} may be harmed", lack=lack
    )
    minus = "the meter shows MINUS: the centre is negative. "
    plus = "the meter shows no sign: the centre is positive. "
    signs = place.red == "centre" and centre(chain.chosen) is not None
    off = state.kind != "match"
    return Probe(
        number=0,
        stage=stage,
        where=place.where,
        red=place.red,
        black=place.black,
        mode=Mode.VOLTS,
        state=state_words(state, front),
        required=required,
        expected=volts.turned() if negative else volts,
        stop_below=stops.below,
        stop_above=stops.above,
        limits=stops.words,
        if_low=_OFF_LOW if off else _LOW.get(stage, no_volts(front)),
        if_high=_OFF_HIGH if off else _HIGH.get(stage, other_volts(front, place.after)),
        note=f"{minus if negative else plus}Otherwise {_SIGN}" if signs else "",
        rests_on=(
            *_rests_on(chain, state, place),
            *(() if stage is Stage.UNLOADED else _draws(chain, stage)),
        ),
    )


def _too_low(chain: _Chain, state: State, place: _Place) -> tuple[float | None, str]:
    """What is too little for the device; off the contract nothing is, for nothing is harmed."""
    if not place.plug or state.kind != "match":
        return None, ""
    runs = fed(chain.chosen).runs_from_v
    if chain.device.appliance.starved_loses:
        return runs.high, "what it works on may be lost"
    return runs.low, "it does not run"


def _rests_on(chain: _Chain, state: State, place: _Place) -> Iterator[str]:
    """The figures behind a range of volts: of what feeds the place, and of what is on the way."""
    front = chain.chosen.front
    start = 0
    if front.converter is not None and place.after > front.split:
        start = front.split + 1
        yield f"{_name(front.parts[front.split])}: {told(front.converter.gives_v)}"
    else:
        yield f"port: {told(varies(state.low_v, state.high_v, 'V', Basis.STANDARD))}"
    for part in front.parts[start : place.after]:
        for ohm in series_ohm((part,)):
            yield f"{_name(part)}: {told(ohm)}"


def _name(part: Part) -> str:
    return part.words or part.id


def _into(chain: _Chain, stage: Stage, amps: Range, where: str) -> Probe:
    return _amps(
        chain, stage, amps, where, Mode.AMPS, device_side_a(chain.chosen.front, chain.match)
    )


def _from_port(chain: _Chain, stage: Stage, amps: Range) -> Probe:
    where = f"between port {chain.chosen.seat.port} and the lead"
    most = port_side_a(chain.chosen.front, chain.match)
    return _amps(chain, stage, amps, where, Mode.USB_METER, most)


def _amps(chain: _Chain, stage: Stage, amps: Range, where: str, mode: Mode, most_a: float) -> Probe:
    usb = mode is Mode.USB_METER
    front = chain.chosen.front
    # Behind a converter other amps flow than out of the port; rails are opened for no meter.
    usb_does = front.converter is None
    return Probe(
        number=0,
        stage=stage,
        where=where,
        red="" if usb else "the side of the charger",
        black="" if usb else "the side of the load",
        mode=mode,
        state=state_words(chain.match, chain.chosen.front),
        required=stage is Stage.DEVICE and usb == usb_does,
        expected=_shown(amps),
        stop_below=None,
        stop_above=most_a,
        limits=f"Stop if it is over {rounded(most_a, 'A')}: a part or the port is over its rating",
        if_low=_LESS_A if stage is Stage.DEVICE else _HIGH[Stage.DUMMY],
        if_high=_MORE_A,
        note="" if usb else opened(front, closed=stage is Stage.DEVICE, usb_does=usb_does),
        rests_on=tuple(_draws(chain, stage)),
    )


def _shown(amps: Range) -> Range:
    """Amps as a meter shows them, its own error included: never a point."""
    return Range(
        low=max(0.0, amps.low * (1 - AMPS_SHARE) - AMPS_COUNTS_A),
        nominal=amps.nominal,
        high=amps.high * (1 + AMPS_SHARE) + AMPS_COUNTS_A,
        unit="A",
    )


def _draws(chain: _Chain, stage: Stage) -> Iterator[str]:
    if stage is Stage.DUMMY:
        yield f"dummy load: {chain.dummies[0].words}"
        return
    appliance = fed(chain.chosen)
    yield f"steady: {told(appliance.steady_a)}"
    yield f"peak: {told(appliance.peak_a)}"
    yield f"how it hangs on the volts: {' or '.join(appliance.laws)}"


def _rails(chain: _Chain, stage: Stage) -> Iterator[Probe]:
    """Each output of a converter that has several; the limits are those of what it feeds."""
    part = chain.chosen.front.rails
    for need in chain.device.appliance.rails if part is not None else ():
        rail = given(part, need) if part is not None else None
        if rail is None:
            continue
        low, high = sorted((1 + side * RAIL_TOLERANCE) * need.volts_v for side in (-1, 1))
        middle = (rail.low_v + rail.high_v) / 2
        yield Probe(
            number=0,
            stage=stage,
            where=f"rail {need.name}",
            red=f"output {rail.name}",
            black="common of the outputs",
            mode=Mode.VOLTS,
            state=state_words(chain.match, chain.chosen.front),
            required=True,
            expected=Range(low=rail.low_v, nominal=middle, high=rail.high_v, unit="V"),
            stop_below=low,
            stop_above=high,
            limits=f"STOP if it is under {rounded(low, 'V', 4)} or over {rounded(high, 'V', 4)}, "
            f"its sign included: it is the wrong converter for this rail. {NOT_EXPECTED}",
            if_low="a converter may want a least load on this rail: read it with the dummy load; "
            "else it is overloaded",
            if_high="a converter may want a least load on this rail: read it with the dummy load",
            rests_on=(f"{_name(part) if part else ''}: what its sheet says of the output",),
        )
