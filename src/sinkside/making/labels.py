"""What stands on the labels of lead, plug, port, device and old brick.

Colour means nothing here: volts, pole and device are always written out, and the drawing of the
poles says what the words beside it say.
"""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Literal, TypeAlias

from sinkside.figures.labels import cells
from sinkside.making.dummy_load import device_side_a
from sinkside.making.of_plan import centre, code, contract, fed, fixed_poles, polarity
from sinkside.making.words import charger_name
from sinkside.plan.model import Action, Chosen, DevicePlan, Plan
from sinkside.quantity import number, rounded

On: TypeAlias = Literal["lead", "plug", "port", "device", "old brick"]
NOTHING_ELSE = "nothing else on this plug"
MAINS_BLANKED = "its mains inlet is blanked off, and stays so"
# 9 mm tape takes two lines of letters 2.5 to 3 mm high; so many of them, or half as many wide
# ones, are about 45 mm long (common practice, no source).
TAPE_CELLS = 24
TAPE_LINES = 2
MOVED = (Action.BUILD, Action.TRY)


class Polarity(Enum):
    """The drawing of the poles (IEC 60417-5926), by its kind."""

    CENTRE_POSITIVE = "centre positive"
    CENTRE_NEGATIVE = "centre negative"
    FIXED = "fixed by the plug"
    EITHER = "either way round"
    NONE = "no plug with poles"


_SHORT = {
    Polarity.CENTRE_POSITIVE: "centre +",
    Polarity.CENTRE_NEGATIVE: "centre −",
    Polarity.FIXED: "USB",
    Polarity.EITHER: "either",
    Polarity.NONE: "",
}


@dataclass(frozen=True, kw_only=True)
class Label:
    """One label.

    Parameters
    ----------
    code
        Of the chain; empty on what has none.
    polarity
        Which drawing of the poles goes on it.
    amps
        The most that may be drawn through it, in words.
    lines
        The whole label, line by line.
    tape
        The same for 9 mm tape: at most two lines of at most `TAPE_CELLS` cells each.
    warning
        What is not to be done, in words; empty if nothing.
    """

    on: On
    device: str
    code: str
    polarity: Polarity
    volts: str
    amps: str
    charger: str
    port: str
    lines: tuple[str, ...]
    tape: tuple[str, ...]
    warning: str


def labels(plan: Plan, device: DevicePlan) -> tuple[Label, ...]:
    """The labels for one device.

    Returns
    -------
    tuple of Label
        For lead, plug, port and device where something is made; for the old brick wherever one
        is on record. What is to be measured first has no new labels yet.
    """
    made: tuple[Label, ...] = ()
    if device.chosen is not None and device.action in MOVED:
        made = tuple(_made(device, device.chosen))
    return (*made, *_old_brick(plan, device))


def all_labels(plan: Plan) -> tuple[Label, ...]:
    """The labels for every device, in the order of the plan."""
    return tuple(label for device in plan.devices for label in labels(plan, device))


def symbol(chosen: Chosen) -> Polarity:
    """Which drawing of the poles a chain's plug has."""
    if fixed_poles(chosen):
        return Polarity.FIXED
    return {
        "positive": Polarity.CENTRE_POSITIVE,
        "negative": Polarity.CENTRE_NEGATIVE,
        None: Polarity.NONE,
    }[centre(chosen)]


def volts_of(chosen: Chosen) -> str:
    """The volts that a chain is meant to give, in words."""
    converter = chosen.front.converter
    volts = chosen.front.trigger.asks_v if converter is None else converter.gives_v.value
    return number(round(volts, 3), "V")


def _made(device: DevicePlan, chosen: Chosen) -> Iterator[Label]:
    state = contract(chosen)
    if state is None:
        return
    volts, amps = volts_of(chosen), rounded(device_side_a(chosen.front, state), "A")
    charger, port = charger_name(chosen), chosen.seat.port
    mark = code(device)
    poles = polarity(chosen)
    from_ = f"from {charger}, port {port}"
    asked = number(chosen.front.trigger.asks_v, "V")
    rated = _rated(volts, symbol(chosen), amps)
    rails = chosen.front.rails is not None
    every: tuple[tuple[On, tuple[str, ...], tuple[str, ...], str], ...] = (
        (
            "lead",
            (
                device.id,
                volts if rails else f"{volts}, {poles}",
                *(f"at most {amps}", from_, f"lead {mark}"),
            ),
            (rated, _cut(device.id, mark)),
            "" if rails else NOTHING_ELSE,
        ),
        (
            "plug",
            (f"{volts}, {poles}", device.id),
            (rated, _cut(device.id, mark)),
            "" if rails else NOTHING_ELSE,
        ),
        (
            "port",
            (f"port {port}", device.id, f"{asked} contract, lead {mark}"),
            (f"{port} {device.id}", f"{asked}, {mark}"),
            "this lead alone, and no hub between",
        ),
        (
            "device",
            (
                device.id,
                f"runs on {volts}" if rails else f"runs on {volts}, {poles}",
                f"with lead {mark} alone",
                from_,
            ),
            (_rated(volts, _drawn("device", chosen), amps), f"lead {mark} alone"),
            MAINS_BLANKED if rails else "no other plug, even if it goes in",
        ),
    )
    for on, lines, tape, warning in every:
        if on == "plug" and rails:
            continue
        yield Label(
            on=on,
            device=device.id,
            code=mark,
            polarity=_drawn(on, chosen),
            volts=asked if on == "port" else volts,
            amps=amps,
            charger=charger,
            port=port,
            lines=(*lines, warning) if warning else lines,
            tape=tuple(_short(line, TAPE_CELLS) for line in tape[:TAPE_LINES]),
            warning=warning,
        )


def _drawn(on: On, chosen: Chosen) -> Polarity:
    """The drawing of the poles on one label: a port has none, and some devices do not care."""
    if on == "port":
        return Polarity.NONE
    either = on == "device" and fed(chosen).kind == "either"
    return Polarity.EITHER if either else symbol(chosen)


def _rated(volts: str, poles: Polarity, amps: str) -> str:
    return " ".join(t for t in (volts, _SHORT[poles], amps) if t)


def _old_brick(plan: Plan, device: DevicePlan) -> Iterator[Label]:
    brick = plan.site.device(device.id).brick
    if brick is None or not brick.kept:
        return
    own = brick.original is not False
    whose = f"{'own' if own else 'stand-in'} brick of"
    moved = device.action in MOVED
    yield Label(
        on="old brick",
        device=device.id,
        code="",
        polarity=Polarity.NONE,
        volts="",
        amps="",
        charger="",
        port="",
        lines=(
            f"{whose} {device.id}",
            *((brick.plate,) if brick.plate else ()),
            "kept to go back to it" if moved else "in use",
        ),
        tape=(_cut(whose, ""), _cut(device.id, "")),
        warning="for this device alone",
    )


def _cut(text: str, behind: str) -> str:
    """A text and what stands behind it, the text cut where both would not go on the tape."""
    tail = f" {behind}" if behind else ""
    return _short(text, TAPE_CELLS - cells(tail)) + tail


def _short(text: str, room: int) -> str:
    """A text of at most so many cells; one that is cut ends in an ellipsis."""
    if cells(text) <= room:
        return text
    while text and cells(text) > room - 1:
        text = text[:-1]
    return f"{text.rstrip()}…"
