"""What sheets, labels and cards look up in a plan: a path's device, its states, a short code."""

from dataclasses import dataclass, fields, is_dataclass, replace
from enum import Enum
from hashlib import blake2b

from sinkside.making.words import charger_name
from sinkside.parts.part import Centre
from sinkside.paths.rows import Path, rows_of
from sinkside.paths.search import NOT_YET
from sinkside.paths.states import State
from sinkside.plan.model import Chosen, DevicePlan
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS

# Digits and capitals that cannot be taken for one another by hand: no I, L, O, U.
_ALPHABET = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
_LETTERS = 6


@dataclass(frozen=True, kw_only=True)
class Limits:
    """The volts between which a device is to be fed.

    Parameters
    ----------
    runs_from_v
        It surely runs from here on.
    stands_v
        Up to here it is surely not harmed.
    """

    runs_from_v: float
    stands_v: float


def fed(chosen: Chosen) -> Appliance:
    """What a chain feeds: the device, or the input of the converter that gives its rails."""
    return chosen.judged.paths[chosen.index].appliance


def limits(chosen: Chosen) -> Limits:
    """The volts that what is fed may get."""
    appliance = fed(chosen)
    return Limits(runs_from_v=appliance.runs_from_v.high, stands_v=appliance.harmed_above_v.low)


def states(chosen: Chosen) -> tuple[State, ...]:
    """The states of the supply, the contract first; those that differ in nothing that a meter
    shows are one."""
    path = Path(front=chosen.front, appliance=fed(chosen))
    found: dict[tuple[object, ...], State] = {}
    for row in rows_of((path,)):
        state = row.state
        key = (state.kind, state.low_v, state.high_v)
        whatever = replace(state, company=chosen.front.occupancies, alternative="")
        found.setdefault(key, whatever)
    return tuple(sorted(found.values(), key=lambda s: s.kind != "match"))


def contract(chosen: Chosen) -> State | None:
    """The state that was asked for; None where it never comes about."""
    return next((s for s in states(chosen) if s.kind == "match"), None)


def undecided(chosen: Chosen) -> bool:
    """Whether nobody knows the polarity yet, so that the plug is not to be made up."""
    return any(part.setting == NOT_YET for part in chosen.front.parts)


def centre(chosen: Chosen) -> Centre | None:
    """The pole in the centre of the plug; None where it has no such thing, or nobody knows."""
    end = chosen.front.end
    return end.centre if end.kind == "barrel" and not undecided(chosen) else None


def fixed_poles(chosen: Chosen) -> bool:
    """Whether it ends in a USB plug, of which the standard fixes the poles."""
    return chosen.front.end.plug in USB_PLUGS


def polarity(chosen: Chosen) -> str:
    """The poles of the plug, in words."""
    if chosen.front.rails is not None:
        return "no plug: input and outputs as they are marked on the converter"
    if fixed_poles(chosen):
        return "a USB plug: its poles are fixed"
    if undecided(chosen):
        return "not known yet: the plug is not to be made up"
    inside = centre(chosen)
    if inside is None:
        return "no plug with a centre"
    outside = "positive" if inside == "negative" else "negative"
    either = "; the device takes either way round" if fed(chosen).kind == "either" else ""
    return f"centre {inside}, sleeve {outside}{either}"


def code(device: DevicePlan) -> str:
    """A short code of a chain with its settings and limits, such as `7Q4-F2K`.

    The same chain has the same code in every plan; another part, setting, port or limit gives
    another one. Empty without a chain.

    Notes
    -----
    Thirty bits of a hash: among 200 codes two are alike once in 54 000 sites (200²/2·2³⁰).
    """
    chosen = device.chosen
    if chosen is None:
        return ""
    appliance = fed(chosen)
    told = "\n".join(
        (
            device.id,
            charger_name(chosen),
            chosen.seat.port,
            *(_plain(part) for part in chosen.front.parts),
            *(_plain(state) for state in states(chosen)),
            *(_plain(getattr(appliance, name)) for name in _LIMITS),
        )
    )
    bits = int.from_bytes(blake2b(told.encode(), digest_size=8).digest(), "big")
    letters = "".join(_ALPHABET[(bits >> (5 * k)) & 31] for k in range(_LETTERS))
    return f"{letters[:3]}-{letters[3:]}"


_LIMITS = (
    *("plug", "kind", "harmed_above_v", "runs_from_v", "laws", "steady_a", "peak_a"),
    *("evidence", "jack_a", "blink"),
)
# What a part costs, and how many lie on the shelf, makes no other lead of it.
_NOT_MADE = ("price_cents", "owned", "words", "name", "basis", "company")


def _plain(value: object) -> str:
    """A value as text that is the same on every machine."""
    if isinstance(value, Quantity):
        return f"{value.low:.9g}..{value.high:.9g} {value.unit}"
    if isinstance(value, float):
        return f"{value:.9g}"
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, tuple):
        return "(" + ",".join(map(_plain, value)) + ")"
    if is_dataclass(value):
        kept = (f.name for f in fields(value) if f.name not in _NOT_MADE)
        return "{" + ",".join(f"{name}={_plain(getattr(value, name))}" for name in kept) + "}"
    return str(value)
