"""How the plug of a lead and the inlet of its device can be changed for another, together.

On the lead: another lead, another plug, or an adapter that stays on it. On the device: an adapter
that is tied to it, from a socket of the new plug to a plug of its own. Nothing of the device
itself is changed, and no old brick is cut: all of it can be taken off again.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.connectors import Connector, Connectors
from sinkside.mixups.ends import Choice, EndOf, Parts
from sinkside.mixups.mating import barrel
from sinkside.parts.elements import Resistance
from sinkside.parts.part import Centre, End, Part
from sinkside.parts.written.leads import BARREL_CONTACT_OHM
from sinkside.paths.front import Front
from sinkside.paths.judge import Judged, judge
from sinkside.paths.rank import UNKNOWN_PRICE_CENTS
from sinkside.paths.rows import Path
from sinkside.quantity import unknown
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS

# Convention for plugs that are soldered anew: the common one, as in JEITA RC-5320A.
CONVENTION: Centre = "positive"
SOCKET_JOINTS, PLUG_JOINTS = 2, 2
# A hand's breadth of wire between the two (from memory).
PIGTAIL_WIRE_OHM = (0.002, 0.010)


@dataclass(frozen=True, kw_only=True)
class Supplies:
    """What changes can be made of.

    Parameters
    ----------
    parts
        What shelf and market hold, once per setting.
    solder
        Whether joints may be made.
    """

    parts: tuple[Part, ...]
    connectors: Connectors
    solder: bool
    plugs: Mapping[str, tuple[Part, ...]] = field(default_factory=dict)
    leads: Mapping[str, tuple[Part, ...]] = field(default_factory=dict)

    @classmethod
    def of(cls, parts: tuple[Part, ...], connectors: Connectors, *, solder: bool) -> "Supplies":
        """The same, with plugs and leads by what they end in."""
        plugs: dict[str, tuple[Part, ...]] = {}
        leads: dict[str, tuple[Part, ...]] = {}
        for part in parts:
            by_plug = {"plug": plugs, "lead": leads}.get(part.kind)
            if by_plug is not None:
                by_plug[part.gives.plug] = (*by_plug.get(part.gives.plug, ()), part)
        return cls(parts=parts, connectors=connectors, solder=solder, plugs=plugs, leads=leads)

    @property
    def families(self) -> tuple[str, ...]:
        """The plugs that a socket or an adapter can be had for."""
        found = [c.socket for c in (*self.connectors.sockets, *self.connectors.adapters)]
        return tuple(dict.fromkeys(found))

    def has_stock(self, parts: Parts) -> bool:
        """Whether any of these lies on the shelf, where two changes may want the same one."""
        owned = {p.id for p in self.parts if p.owned}
        return any(part in owned for part, _ in parts)


@dataclass(frozen=True, kw_only=True)
class _Way:
    """One way to change one side: what is behind it in the chain, and what it takes."""

    end: EndOf
    chain: tuple[Part, ...]
    parts: Parts
    joints: int
    words: str


def end_of_lead(end: End) -> EndOf:
    """What a lead ends in."""
    return EndOf(plug=end.plug, centre=end.centre, fixed_poles=end.plug in USB_PLUGS)


def end_of_inlet(appliance: Appliance) -> EndOf:
    """What an inlet takes."""
    fixed = appliance.plug in USB_PLUGS
    return EndOf(plug=appliance.plug, centre=appliance.centre, fixed_poles=fixed)


def choices(
    leads: Sequence[tuple[str, Front]], appliances: Sequence[Appliance], supplies: Supplies
) -> dict[str, tuple[Choice, ...]]:
    """For each device with a new lead every change that makes its path no worse.

    Parameters
    ----------
    leads
        The device that each front is made for, and the front.
    appliances
        All devices.

    Notes
    -----
    The contacts and the wire that a change adds are judged with the path, by every rule in every
    state: a change after which any verdict is worse than before is not offered. While the poles of
    an inlet are not known no adapter can be wired for it.
    """
    by_id = {appliance.id: appliance for appliance in appliances}
    paths: list[Path] = []
    changes: list[tuple[str, int, int, Choice]] = []
    found: dict[str, list[Choice]] = {}
    for device, front in leads:
        appliance = by_id[device]
        found[device] = [Choice(lead=end_of_lead(front.end), inlet=end_of_inlet(appliance))]
        base = len(paths)
        paths.append(Path(front=front, appliance=appliance))
        for choice, chain in _changes(front, appliance, supplies):
            changes.append((device, base, len(paths), choice))
            paths.append(Path(front=replace(front, parts=chain), appliance=appliance))
    if changes:
        codes = _codes(judge(paths))
        for device, base, place, choice in changes:
            if (codes[:, place] <= codes[:, base]).all():
                found[device].append(choice)
    return {device: _pruned(every, supplies) for device, every in found.items()}


def _codes(judged: Judged) -> NDArray[np.int8]:
    """Every verdict on every path, shape (rules, paths)."""
    return np.vstack([judged.codes, *judged.categorical.values()])


def _changes(
    front: Front, appliance: Appliance, supplies: Supplies
) -> Iterator[tuple[Choice, tuple[Part, ...]]]:
    """Every change of both sides to the same plug, and the chain that it makes."""
    own = end_of_lead(front.end)
    if barrel(own.plug) is None or appliance.centre is None or front.end.centre is None:
        return
    for plug in supplies.families:
        if plug == appliance.plug:
            continue
        for lead in _on_lead(front, plug, supplies):
            for device in _on_device(appliance, plug, lead.end, supplies):
                choice = Choice(
                    lead=lead.end,
                    inlet=device.end,
                    parts=_added(lead.parts, device.parts),
                    joints=lead.joints + device.joints,
                    words=(lead.words, device.words),
                )
                yield choice, (*lead.chain, *device.chain)


def _added(*several: Parts) -> Parts:
    total: Counter[str] = Counter()
    for parts in several:
        for part, count in parts:
            total[part] += count
    return tuple(sorted((part, count) for part, count in total.items() if count))


def _end(plug: str, centre: Centre, supplies: Supplies) -> EndOf:
    """An end of a new plug: a keyed one has its poles fixed by the convention."""
    if plug in supplies.connectors.keyed:
        return EndOf(plug=plug, fixed_poles=True)
    return EndOf(plug=plug, centre=centre)


def _on_lead(front: Front, plug: str, supplies: Supplies) -> Iterator[_Way]:
    """A lead that ends in the new plug: another lead, a plug soldered on, or an adapter.

    A plug that is soldered may have either pole inside: the common one, or the one it had, which a
    ready-made adapter on the other side wants.
    """
    last, before = front.parts[-1], front.parts[:-1]
    had = front.end.centre
    centres = tuple(dict.fromkeys(c for c in (CONVENTION, had) if c is not None))
    for part in supplies.leads.get(plug, ()):
        centre = part.gives.centre
        if last.kind == "lead" and supplies.solder and centre in centres:
            parts = _added(((part.id, 1),), ((last.id, -1),))
            words = f"make it up with a {part.words or part.id}, centre {centre}"
            chain = (*before, part)
            yield _Way(
                end=_end(plug, centre, supplies), chain=chain, parts=parts, joints=0, words=words
            )
    if supplies.solder and last.kind != "reverser":
        for centre, (id_, carries_a, words) in _plugs(plug, centres, supplies):
            chain = (*before, replace(last, carries_a=min(last.carries_a, carries_a)))
            yield _Way(
                end=_end(plug, centre, supplies),
                chain=chain,
                parts=((id_, 1),),
                joints=PLUG_JOINTS,
                words=f"in place of its plug solder on a {words}{_poles(plug, centre, supplies)}",
            )
    for adapter in supplies.connectors.adapters:
        if (adapter.socket, adapter.plug) == (front.end.plug, plug) and had is not None:
            chain = (*front.parts, _adapter_part(front.end, adapter.plug, had, adapter.carries_a))
            yield _Way(
                end=_end(plug, had, supplies),
                chain=chain,
                parts=((adapter.id, 1),),
                joints=0,
                words=f"put an {adapter.words} on it and fix it there",
            )


def _poles(plug: str, centre: Centre, supplies: Supplies) -> str:
    return ", pole 1 plus" if plug in supplies.connectors.keyed else f", centre {centre}"


def _plugs(
    plug: str, centres: Sequence[Centre], supplies: Supplies
) -> Iterator[tuple[Centre, tuple[str, float, str]]]:
    """A plug to solder on, once for each way it may be poled: its id, amps and words."""
    for connector in supplies.connectors.plugs:
        if connector.plug == plug:
            yield CONVENTION, (connector.id, connector.carries_a, connector.words)
    for part in supplies.plugs.get(plug, ()):
        centre = part.gives.centre
        if centre is not None and centre in centres:
            yield centre, (part.id, part.carries_a, part.words or part.id)


def _on_device(appliance: Appliance, plug: str, lead: EndOf, supplies: Supplies) -> Iterator[_Way]:
    """An adapter tied to the device, from a socket for the new plug to a plug of its own."""
    centre, tie = appliance.centre, supplies.connectors.tie
    if centre is None:
        return
    for socket in supplies.connectors.sockets if supplies.solder else ():
        if socket.socket != plug:
            continue
        for pole, (id_, carries_a, words) in _plugs(appliance.plug, (centre,), supplies):
            if pole != centre:
                continue
            amps = min(socket.carries_a, carries_a)
            yield _Way(
                end=lead,
                chain=(_adapter_part(None, appliance.plug, centre, amps),),
                parts=_added(((socket.id, 1),), ((id_, 1),), ((tie.id, 1),)),
                joints=SOCKET_JOINTS + PLUG_JOINTS,
                words=f"tie to {appliance.id} an adapter: {socket.words}"
                f"{_poles(plug, lead.centre or CONVENTION, supplies)}, to a {words}, "
                f"centre {centre}",
            )
    for adapter in supplies.connectors.adapters:
        straight = lead.centre == centre
        if (adapter.socket, adapter.plug) == (plug, appliance.plug) and straight:
            yield _Way(
                end=lead,
                chain=(_adapter_part(None, appliance.plug, centre, adapter.carries_a),),
                parts=_added(((adapter.id, 1),), ((tie.id, 1),)),
                joints=0,
                words=f"tie an {adapter.words} to {appliance.id}",
            )


def _adapter_part(takes: End | None, plug: str, centre: Centre, carries_a: float) -> Part:
    """One more pair of contacts in the chain, and a hand's breadth of wire."""
    low, high = (c + w for c, w in zip(BARREL_CONTACT_OHM, PIGTAIL_WIRE_OHM, strict=True))
    return Part(
        id=f"adapter to {plug}",
        kind="lead",
        takes=takes or End(kind="wires"),
        gives=End(kind="barrel", plug=plug, centre=centre),
        elements=(Resistance(ohm=unknown(low, high, "Ω", name=f"adapter to {plug}/ohms")),),
        carries_a=carries_a,
        withstands_v=60.0,
        price_cents=0,
        owned=0,
        joints=0,
    )


def _pruned(found: Sequence[Choice], supplies: Supplies) -> tuple[Choice, ...]:
    """The choices without those that another beats in money and joints, and does the same.

    One that takes something from the shelf stays: what it costs hangs on what others take.
    """
    prices = prices_of(supplies)
    kept: list[Choice] = []
    for i, choice in enumerate(found):
        beaten = any(
            (other.lead, other.inlet) == (choice.lead, choice.inlet)
            and not supplies.has_stock(other.parts)
            and not supplies.has_stock(choice.parts)
            and (*_cost(other, prices), k) < (*_cost(choice, prices), i)
            and other.joints <= choice.joints
            for k, other in enumerate(found)
        )
        if not beaten or not choice.changes:
            kept.append(choice)
    return tuple(kept)


def _cost(choice: Choice, prices: Mapping[str, int]) -> tuple[int, int]:
    return sum(prices[part] * count for part, count in choice.parts), choice.joints


def prices_of(supplies: Supplies) -> dict[str, int]:
    """The price of everything that a change may take, in cents; an unknown one counts as dear."""
    hardware = supplies.connectors
    every: list[Part | Connector] = [
        *supplies.parts,
        *(*hardware.sockets, *hardware.plugs, *hardware.adapters, hardware.tie, hardware.bag),
    ]
    return {
        one.id: UNKNOWN_PRICE_CENTS if one.price_cents is None else one.price_cents for one in every
    }
