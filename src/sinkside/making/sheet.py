"""The build sheet of one device: what is made of what, in which order, and how it is proved."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sinkside.advice import Advice, advise
from sinkside.making.assembly import Step, steps
from sinkside.making.first_power import FirstPower, first_power
from sinkside.making.of_plan import code, contract, fed, polarity
from sinkside.making.probe import Probe, Stage
from sinkside.making.readings import told
from sinkside.making.test_points import probes
from sinkside.making.wires import Wire, wires
from sinkside.making.words import (
    CAUTIONS,
    CERTIFIES_NOT,
    OTHERS_FIRST,
    charger_name,
    doing,
    watch,
)
from sinkside.parts.part import Part
from sinkside.paths.rails import REMOVED
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.plan.parts_list import Use, parts_list
from sinkside.quantity import number, rounded
from sinkside.rules.verdict import Stakes

MADE = (Action.BUILD, Action.TRY, Action.MEASURE)
_BLINK = {
    "never": "it must never go out",
    "brief": "it may go out for a moment, if it rides through",
    "any": "it may go out",
}


@dataclass(frozen=True, kw_only=True)
class Fact:
    """One line of a list: what, and what of it."""

    label: str
    text: str


@dataclass(frozen=True, kw_only=True)
class ChainStep:
    """One part of a chain.

    Parameters
    ----------
    setting
        What is to be set on it; empty if nothing.
    joins
        How it meets the one before: `plugs in` or `is joined`.
    bought
        Whether it has to be bought for this.
    """

    number: int
    part: str
    words: str
    kind: str
    setting: str
    joins: str
    bought: bool


@dataclass(frozen=True, kw_only=True)
class Gate:
    """One measurement before which nothing is made."""

    title: str
    kit: str
    minutes: int
    how: str
    expect: str
    decides: str


@dataclass(frozen=True, kw_only=True)
class Sheet:
    """The build sheet of one device.

    Parameters
    ----------
    code
        Of the chain with its settings and limits; it stands on every label as well.
    action, headline
        What to do, and the same with what to watch or to measure.
    gates, gate_words
        What is to be measured before anything is made; empty unless that is the action.
    """

    device: str
    code: str
    action: str
    headline: str
    gates: tuple[Gate, ...]
    gate_words: str
    facts: tuple[Fact, ...]
    watch: tuple[str, ...]
    chain: tuple[ChainStep, ...]
    settings: tuple[Fact, ...]
    wires: tuple[Wire, ...]
    steps: tuple[Step, ...]
    polarity: str
    probes: tuple[Probe, ...]
    first_power: FirstPower | None
    risks: tuple[str, ...]
    cautions: tuple[str, ...]
    others_first: str
    certifies_not: str


def build_sheet(plan: Plan, device: DevicePlan) -> Sheet | None:
    """The build sheet of a device.

    Parameters
    ----------
    plan, device
        A finished plan, and one of its devices.

    Returns
    -------
    Sheet or None
        None for what is refused, and for what stays on its brick.
    """
    return _sheet(plan, device, _bought(plan))


def build_sheets(plan: Plan) -> tuple[Sheet, ...]:
    """The build sheets of all devices that have one, in the order of the plan."""
    bought = _bought(plan)
    found = (_sheet(plan, device, bought) for device in plan.devices)
    return tuple(sheet for sheet in found if sheet is not None)


def _bought(plan: Plan) -> Mapping[str, tuple[Use, ...]]:
    return {d.device: d.uses for d in parts_list(plan).devices}


def _sheet(plan: Plan, device: DevicePlan, bought: Mapping[str, tuple[Use, ...]]) -> Sheet | None:
    chosen = device.chosen
    if chosen is None or device.action not in MADE:
        return None
    cut = wires(plan, device)
    points = probes(plan, device)
    gates, unsettled = _gates(plan, device)
    return Sheet(
        device=device.id,
        code=code(device),
        action=device.action.value,
        headline=str(doing(device, plan)),
        gates=gates,
        gate_words=_gate_words(device, gates, unsettled),
        facts=tuple(_facts(device, chosen, points)),
        watch=watch(device) if device.action is Action.TRY else (),
        chain=tuple(_chain(chosen, bought.get(device.id, ()))),
        settings=tuple(_settings(chosen)),
        wires=cut,
        steps=steps(device, chosen, cut),
        polarity=polarity(chosen),
        probes=points,
        first_power=first_power(plan, device),
        risks=chosen.risks,
        cautions=(*_own_cautions(device, chosen), *CAUTIONS),
        others_first=OTHERS_FIRST,
        certifies_not=CERTIFIES_NOT,
    )


def _gates(plan: Plan, device: DevicePlan) -> tuple[tuple[Gate, ...], tuple[str, ...]]:
    """The measurements that settle what is grave and open, as few as do; and what none settles."""
    chosen = device.chosen
    if device.action is not Action.MEASURE or chosen is None:
        return (), ()
    left = {f.rule: f for f in chosen.open(Stakes.HARM, Stakes.LOSS)}
    found = []
    for advice in advise(device, plan):
        if left.keys() & set(advice.settles):
            found.append(_gate(advice))
            left = {rule: f for rule, f in left.items() if rule not in advice.settles}
    return tuple(found), tuple(dict.fromkeys(f.words or f.about.breaks for f in left.values()))


def _gate(advice: Advice) -> Gate:
    m = advice.measurement
    return Gate(
        title=m.title,
        kit=m.kit,
        minutes=m.minutes,
        how=m.how,
        expect=advice.expect,
        decides=m.decides,
    )


def _gate_words(device: DevicePlan, gates: tuple[Gate, ...], unsettled: tuple[str, ...]) -> str:
    if device.action is not Action.MEASURE:
        return ""
    first = "; ".join(f"{g.title} ({g.minutes} min)" for g in gates) or device.why
    more = f" No measurement listed here settles: {'; '.join(unsettled)}." if unsettled else ""
    return (
        f"NOTHING ON THIS SHEET IS TO BE MADE BEFORE THIS IS MEASURED: {first}.{more} Then plan "
        "anew: the chain, its polarity or its volts may come out otherwise."
    )


def _facts(device: DevicePlan, chosen: Chosen, points: tuple[Probe, ...]) -> Iterator[Fact]:
    appliance = fed(chosen)
    yield Fact(label="charger and port", text=f"{charger_name(chosen)}, port {chosen.seat.port}")
    yield Fact(label="contract", text=_contract(chosen))
    end = chosen.front.end
    if end.plug:
        yield Fact(label="plug", text=end.plug)
    yield Fact(label="polarity", text=polarity(chosen))
    at_plug = [
        p for p in points if p.stage is Stage.DEVICE and p.required and p.expected.unit == "V"
    ]
    if at_plug:
        volts = at_plug[0].expected
        volts = volts.turned() if volts.high < 0.0 else volts
        yield Fact(label="volts with the device at work", text=volts.words)
    what = "converter" if chosen.front.rails else "device"
    yield Fact(label=f"the {what} runs from", text=told(appliance.runs_from_v))
    yield Fact(label=f"the {what} is harmed above", text=told(appliance.harmed_above_v))
    yield Fact(label="it draws, steady", text=told(appliance.steady_a))
    yield Fact(label="it draws, at its peak", text=told(appliance.peak_a))
    if device.appliance.at:
        yield Fact(label="stands at", text=device.appliance.at)
    yield Fact(label="blinking", text=_BLINK[device.appliance.blink])


def _contract(chosen: Chosen) -> str:
    trigger = chosen.front.trigger
    volts = number(trigger.asks_v, "V")
    if trigger.by_resistors:
        return f"none: {volts} by two resistors, as the port gives it"
    kind = "programmable" if trigger.programmable_v is not None else "fixed"
    state = contract(chosen)
    amps = f", {rounded(state.offer_low_a, 'A')}" if state and state.offer_low_a else ""
    return f"{volts}{amps}, {kind}"


def _chain(chosen: Chosen, uses: tuple[Use, ...]) -> Iterator[ChainStep]:
    bought = [use.bought for use in uses] or [False] * len(chosen.front.parts)
    for n, (part, buy) in enumerate(zip(chosen.front.parts, bought, strict=True), 1):
        yield ChainStep(
            number=n,
            part=part.id,
            words=part.words or part.id,
            kind=part.kind,
            setting=part.setting,
            joins="is joined" if part.takes.kind == "wires" else "plugs in",
            bought=buy,
        )


def _settings(chosen: Chosen) -> Iterator[Fact]:
    for part in chosen.front.parts:
        converter = part.converter
        if converter is not None and converter.adjustable:
            text = f"{number(converter.gives_v.value, 'V')}; good is {told(converter.gives_v)}"
            yield Fact(label=f"trimmer of the {_name(part)}", text=text)
        elif part.trigger is not None:
            asks = number(part.trigger.asks_v, "V")
            text = part.setting or f"nothing to set: it asks for {asks}"
            yield Fact(label=_name(part), text=text)
        elif part.fuse is not None:
            text = f"{number(part.fuse.rated_a, 'A')}, and no other"
            yield Fact(label=_name(part), text=text)
        elif part.setting:
            yield Fact(label=_name(part), text=part.setting)


def _own_cautions(device: DevicePlan, chosen: Chosen) -> Iterator[str]:
    for caution in device.appliance.cautions:
        yield f"{caution.why}. {caution.ask}" if caution.ask else caution.why
    if chosen.front.rails is not None:
        yield f"{REMOVED[0].upper()}{REMOVED[1:]}: nothing on the mains side is done here."
    yield from device.appliance.conflicts


def _name(part: Part) -> str:
    return part.words or part.id
