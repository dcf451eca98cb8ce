"""Two cards for each device: one for who uses it, one for who goes back to its old brick."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from sinkside.making.labels import MOVED, NOTHING_ELSE, volts_of
from sinkside.making.of_plan import code, polarity
from sinkside.making.words import TINGLE, charger_name, watch
from sinkside.mixups import Cell
from sinkside.paths.rails import REMOVED
from sinkside.plan.blinks import Cell as Blink
from sinkside.plan.blinks import Outcome, blinks
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.quantity import span
from sinkside.site.appliance import Observed
from sinkside.site.written import BrickWritten

STOP = (
    "Smell, smoke, hum, or too hot to touch: pull the USB-C end first, then the plug. Leave it so."
)
STOP_BRICK = "Smell, smoke, hum, or too hot to touch: pull the brick from the wall. Leave it so."
COMES_AND_GOES = (
    "It goes out and comes back again and again: pull the USB-C end. Do not try another charger."
)
DEAD = (
    "It stays dead: pull the USB-C end, wait ten seconds, plug it in once more. No more than that."
)
FUSE = "Never put in a larger fuse, and never bridge one."
TELL = "Then tell whoever looks after the gear, with the code of this card."


@dataclass(frozen=True, kw_only=True)
class UserCard:
    """What the user of a device has to know.

    Parameters
    ----------
    on_brick
        Whether it stays on its old brick.
    plug_in
        Which plug goes where.
    normal
        What may look wrong and is not.
    blinks
        What goes out when, in both directions.
    never, trouble
        What not to do, and what to do if something is wrong.
    """

    device: str
    code: str
    on_brick: bool
    plug_in: tuple[str, ...]
    normal: tuple[str, ...]
    blinks: tuple[str, ...]
    never: tuple[str, ...]
    trouble: tuple[str, ...]


@dataclass(frozen=True, kw_only=True)
class RevertCard:
    """How a device goes back to its old brick.

    Parameters
    ----------
    steps
        Empty where it never left it.
    brick, polarity, kept
        The brick by what is printed on it, its poles, and where it is.
    irreversible
        What was changed on the device itself and stays changed; empty if nothing.
    words
        The whole in one line.
    """

    device: str
    code: str
    on_brick: bool
    steps: tuple[str, ...]
    brick: str
    polarity: str
    kept: str
    irreversible: tuple[str, ...]
    words: str


def user_card(plan: Plan, device: DevicePlan) -> UserCard:
    """The user's card of a device."""
    return _user_card(plan, device, _Neighbours(plan))


def user_cards(plan: Plan) -> tuple[UserCard, ...]:
    """The user's card of every device, in the order of the plan."""
    neighbours = _Neighbours(plan)
    return tuple(_user_card(plan, device, neighbours) for device in plan.devices)


def revert_card(plan: Plan, device: DevicePlan) -> RevertCard:
    """The card of going back to the old brick, of a device."""
    brick = plan.site.device(device.id).brick
    printed = _printed(brick)
    poles = _brick_poles(device, brick)
    kept = _kept(brick)
    chosen = device.chosen
    if chosen is None or device.action not in MOVED:
        return RevertCard(
            device=device.id,
            code="",
            on_brick=True,
            steps=(),
            brick=printed,
            polarity=poles,
            kept=kept,
            irreversible=(),
            words=f"It stays on its own supply: {printed}; {poles}. Nothing was changed.",
        )
    changed = _changed(chosen)
    return RevertCard(
        device=device.id,
        code=code(device),
        on_brick=False,
        steps=tuple(_steps(device, chosen, brick, poles)),
        brick=printed,
        polarity=poles,
        kept=kept,
        irreversible=changed,
        words=f"Pull the USB-C end at {charger_name(chosen)}, port {chosen.seat.port}; pull lead "
        f"{code(device)}; {_back(brick, poles)}. "
        f"{'; '.join(changed) or 'The device itself was not changed'}.",
    )


def revert_cards(plan: Plan) -> tuple[RevertCard, ...]:
    """The card of going back of every device, in the order of the plan."""
    return tuple(revert_card(plan, device) for device in plan.devices)


class _Neighbours:
    """Who shares a charger, and which plugs harm what, looked up once for a plan."""

    def __init__(self, plan: Plan) -> None:
        self.plan = plan
        self.on: dict[tuple[str, int], list[DevicePlan]] = defaultdict(list)
        self._blinks: dict[tuple[str, int], tuple[Blink, ...]] = {}
        for device in plan.devices:
            if device.chosen:
                self.on[device.chosen.seat.kind, device.chosen.seat.unit].append(device)
        self.by_lead: Mapping[str, list[Cell]] = defaultdict(list)
        self.by_inlet: Mapping[str, list[Cell]] = defaultdict(list)
        for cell in plan.mixups:
            if cell.source == "lead" and not cell.own and cell.harmful:
                self.by_lead[cell.lead].append(cell)
                self.by_inlet[cell.inlet].append(cell)

    def blinks(self, chosen: Chosen) -> tuple[Blink, ...]:
        """What the devices of one charger do to each other."""
        unit = (chosen.seat.kind, chosen.seat.unit)
        if unit not in self._blinks:
            alone = replace(self.plan, devices=tuple(self.on[unit]))
            self._blinks[unit] = blinks(alone).cells
        return self._blinks[unit]


def _user_card(plan: Plan, device: DevicePlan, neighbours: _Neighbours) -> UserCard:
    chosen = device.chosen
    if chosen is None or device.action not in MOVED:
        return _on_brick(plan, device, neighbours)
    return UserCard(
        device=device.id,
        code=code(device),
        on_brick=False,
        plug_in=tuple(_plug_in(device, chosen)),
        normal=tuple(_normal(device, chosen)),
        blinks=tuple(_blinks(device, chosen, neighbours)),
        never=tuple(_never(plan, device, chosen, neighbours)),
        trouble=(STOP, COMES_AND_GOES, DEAD, FUSE, TINGLE, TELL),
    )


def _on_brick(plan: Plan, device: DevicePlan, neighbours: _Neighbours) -> UserCard:
    brick = plan.site.device(device.id).brick
    wrong = _list(cell.lead for cell in neighbours.by_inlet[device.id])
    waits = device.action is Action.MEASURE
    return UserCard(
        device=device.id,
        code="",
        on_brick=True,
        plug_in=(
            f"It stays on its own supply{' until it has been measured' if waits else ''}: "
            f"{_printed(brick)}; {_brick_poles(device, brick)}.",
        ),
        normal=(),
        blinks=(),
        never=(
            "No new lead goes into it, even where the plug fits."
            + (f" Harmful, or not known to be harmless: those for {wrong}." if wrong else ""),
        ),
        trouble=(STOP_BRICK, TINGLE),
    )


def _plug_in(device: DevicePlan, chosen: Chosen) -> Iterator[str]:
    where = f"{charger_name(chosen)}, port {chosen.seat.port}"
    if chosen.front.rails is not None:
        yield f"Its lead {code(device)} goes into {where}; inside it is joined for good."
        return
    yield (
        f"The lead marked {code(device)} ({volts_of(chosen)}, {polarity(chosen)}) goes from "
        f"{where} to {device.id}."
    )
    yield "The plug into the device first, the USB-C end last. Pull them the other way round."
    if device.appliance.plugged == "when used":
        yield "Plug it in when it is used, and pull it afterwards."


def _normal(device: DevicePlan, chosen: Chosen) -> Iterator[str]:
    yield "Charger, lead and plug may be warm, never too hot to hold."
    if chosen.front.trigger.gated:
        yield "For a second or two after it is plugged in nothing happens."
    elif not chosen.front.trigger.by_resistors:
        yield "For a moment after it is plugged in it gets five volts; it may stir and start again."
    if device.appliance.blink != "any" and device.appliance.starved_loses:
        yield "Save what it works on before anything is plugged in or pulled at the same charger."


def _blinks(device: DevicePlan, chosen: Chosen, neighbours: _Neighbours) -> Iterator[str]:
    """What puts it out, and what it puts out itself; a spare port counts too."""
    out = (Outcome.OUT, Outcome.MAY)
    for cell in neighbours.blinks(chosen):
        if cell.outcome not in out:
            continue
        cause = cell.cause
        done = "plugged in or pulled" if cause.how == "plugged" else "switched"
        gap = f" for {span(cell.gap_s.low, cell.gap_s.high, 's')}" if cell.gap_s else ""
        verb = "goes out" if cell.outcome is Outcome.OUT else "may go out"
        if cell.device == device.id:
            what = f"{cause.device}" if cause.device else f"something in spare port {cause.port}"
            yield f"When {what} is {done}, this {verb}{gap}."
        elif cause.device == device.id:
            yield f"When this is {done}, {cell.device} {verb}{gap}."


def _never(
    plan: Plan, device: DevicePlan, chosen: Chosen, neighbours: _Neighbours
) -> Iterator[str]:
    trigger = chosen.front.trigger
    if chosen.front.rails is None:
        harmed = _list(f"{c.inlet} ({c.outcome.value})" for c in neighbours.by_lead[device.id])
        yield f"{NOTHING_ELSE[0].upper()}{NOTHING_ELSE[1:]}" + (
            f": it harms, or may harm, {harmed}." if harmed else "."
        )
        wrong = _list(c.lead for c in neighbours.by_inlet[device.id])
        yield "No other plug into this device" + (
            f"; those for {wrong} go in, and harm or may harm it." if wrong else "."
        )
    if device.action is Action.TRY:
        seen = "; ".join(watch(device))
        yield "Not left alone while it is on trial" + (f": watch {seen}." if seen else ".")
    yield (
        f"Not into another charger or port than {charger_name(chosen)}, port {chosen.seat.port}: "
        "it was proved for that one alone."
    )
    yield "No hub, no adapter and no second device between."
    if plan.site.rules.spare_ports == "blocked":
        yield "Nothing into a port that is blocked."
    if trigger.presses_v:
        yield "Do not press the button on the trigger: it changes the volts."
    if chosen.front.converter is not None and chosen.front.converter.adjustable:
        yield "Do not touch the sealed trimmer: it sets the volts."


def _list(names: Iterator[str]) -> str:
    return ", ".join(dict.fromkeys(names))


def _steps(
    device: DevicePlan, chosen: Chosen, brick: BrickWritten | None, poles: str
) -> Iterator[str]:
    yield f"Switch {device.id} off, if it can be."
    yield f"Pull the USB-C end at {charger_name(chosen)}, port {chosen.seat.port}."
    if chosen.front.rails is not None:
        yield f"Without a qualified person there is no going back: {REMOVED}."
        return
    yield f"Pull the plug of lead {code(device)} from the device; put the lead away, tagged."
    if brick is None or not brick.kept:
        yield (
            "Its brick is not on record as kept: do not take one that looks alike. Find one by the "
            "device's plate, and read its volts and poles with a meter first."
        )
        return
    yield f"Take the brick with the tag of {device.id}: {_printed(brick)}."
    yield f"Plug it into the wall without the device; read volts and poles: {poles}. Pull it."
    yield "Plug it into the device first, then into the wall."


def _printed(brick: BrickWritten | None) -> str:
    if brick is None:
        return "no brick is on record"
    return f"brick marked “{brick.plate}”" if brick.plate else "a brick without a plate on record"


def _back(brick: BrickWritten | None, poles: str) -> str:
    if brick is None or not brick.kept:
        return "no brick is on record to go back to"
    return f"{_printed(brick)}, {poles}, goes back"


def _brick_poles(device: DevicePlan, brick: BrickWritten | None) -> str:
    """The poles of the brick itself, as its own plate or a meter on it told."""
    if brick is not None and brick.kind == "ac":
        return "a.c., which has no poles"
    of_brick = (Observed.BRICK_METER, Observed.BRICK_PRINT)
    said = {e.centre for e in device.appliance.evidence if e.observed in of_brick}
    if len(said) == 1:
        return f"centre {said.pop()}"
    return "poles that disagree on record" if said else "poles not on record"


def _kept(brick: BrickWritten | None) -> str:
    if brick is None:
        return "not on record"
    if not brick.kept:
        return "not kept"
    return "kept, with a tag that names the device; write here where it lies"


def _changed(chosen: Chosen) -> tuple[str, ...]:
    return (REMOVED,) if chosen.front.rails is not None else ()
