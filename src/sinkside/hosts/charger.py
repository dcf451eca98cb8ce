"""The chargers that a host is plugged into: a list from one tree, the port from the other."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TypeVar

from sinkside.faults import Fault, Faulty, NotUnderstood
from sinkside.hosts import tree
from sinkside.hosts.ports import TYPEC_TREE, HostPort, Mode, partner_of, read_ports
from sinkside.hosts.supplies import FIVE_V, PD_TREE, read_list, source_lists
from sinkside.parts.charger import Offer
from sinkside.standards.type_c_cc import PULL_UPS, Advertised

T = TypeVar("T")

PLUG_IN = "plug the charger in first"
LEVELS = {
    Mode.DEFAULT: Advertised.DEFAULT,
    Mode.A1_5: Advertised.A1_5,
    Mode.A3_0: Advertised.A3_0,
}


@dataclass(frozen=True, kw_only=True)
class HostCharger:
    """A charger that is plugged into a host.

    Parameters
    ----------
    device
        The kernel's name of the partner's power delivery device, such as `pd1`; without a
        list, of the partner itself, such as `port0-partner`.
    revision
        As the kernel tells it; empty if it does not, and without a list.
    remarks
        What was left out or looks odd, in words.
    port
        Where it is plugged in; None if no port says that the list is its partner's.
    listed
        Whether it sent a list; without one it advertises a current at 5 V.
    """

    device: str
    revision: str
    offers: tuple[Offer, ...]
    remarks: tuple[str, ...]
    port: HostPort | None = None
    listed: bool = True


def chargers(root: Path) -> tuple[HostCharger, ...]:
    """Every source that the host under `root` is fed by, or could be.

    Parameters
    ----------
    root
        The folder that stands for /sys.

    Raises
    ------
    Faulty
        A folder cannot be read or a value is not understood, with every such fault; or there
        is no charger, with what was looked for and where.
    """
    faults: list[Fault] = []
    nothing: list[Fault] = []
    lists = _looked(source_lists, root / PD_TREE, faults, nothing)
    ports = _looked(read_ports, root / TYPEC_TREE, faults, nothing)
    found = _listed(lists or [], ports or [], faults)
    if lists is not None:  # then it matters little whether there is the other tree
        wrong = f"{tree.shown(str(root / PD_TREE))} has no source"
        nothing = [Fault(code="no-source", wrong=wrong, right=PLUG_IN)]
    if ports == []:
        wrong = f"{tree.shown(str(root / TYPEC_TREE))} has no port"
        nothing.append(Fault(code="no-port", wrong=wrong, right="it has no USB Type-C controller"))
    found += _unlisted(ports or [], found, faults, nothing)
    if faults:
        raise Faulty(faults)
    if not found:
        raise Faulty(nothing)
    return tuple(found)


def _looked(
    reader: Callable[[Path, list[Fault]], list[T]],
    place: Path,
    faults: list[Fault],
    nothing: list[Fault],
) -> list[T] | None:
    """What a reader finds; None, and why, if there is no tree."""
    try:
        return reader(place, faults)
    except NotUnderstood as error:
        (nothing if error.fault.code == "no-tree" else faults).append(error.fault)
        return None


def _listed(
    lists: list[tuple[Path, Path]], ports: list[HostPort], faults: list[Fault]
) -> list[HostCharger]:
    """The chargers that sent a list."""
    own = frozenset[str]().union(*(port.own for port in ports))
    plugged = {port.name: port for port in ports if port.partner is not None}
    linked = {p.partner.device: p for p in plugged.values() if p.partner and p.partner.device}
    found = []
    for device, listed in lists:
        port = linked.get(device.name) or plugged.get(partner_of(device))
        if device.name in own or (port is None and ports and not plugged):
            continue  # what the host itself offers to others
        offers, remarks = _with_five_v(device, listed, faults)
        if port is None and ports:
            remarks.append(
                f"no port says that {tree.shown(device.name)} is its partner's list: "
                "it may be this host's own"
            )
        found.append(
            HostCharger(
                device=device.name,
                revision=tree.revision(device / "revision"),
                offers=offers,
                remarks=tuple(remarks),
                port=port,
            )
        )
    return found


def _with_five_v(
    device: Path, listed: Path, faults: list[Fault]
) -> tuple[tuple[Offer, ...], list[str]]:
    """A list that has 5 V in it, as every source's has (USB PD 6.4.1, from memory)."""
    before = len(faults)
    offers, remarks = read_list(listed, faults)
    if len(faults) == before and not any(offer.fixed_v == FIVE_V for offer in offers):
        faults.append(no_five_v(device.name))
    return offers, remarks


def no_five_v(device: str) -> Fault:
    """What is told of a source that offers no 5 V."""
    return Fault(
        code="no-5-v",
        wrong=f"{tree.shown(device)} offers no 5 V",
        right="every source does: unplug it and plug it in again",
    )


def _unlisted(
    ports: list[HostPort], found: list[HostCharger], faults: list[Fault], nothing: list[Fault]
) -> list[HostCharger]:
    """The chargers that sent no list, or whose list this kernel does not show."""
    named = {charger.port.name for charger in found if charger.port is not None}
    strays = any(charger.port is None for charger in found)
    more: list[HostCharger] = []
    hidden = []
    for port in ports:
        if port.name in named:
            continue
        level = _level(port)
        if isinstance(level, Advertised):
            more.append(_without_list(port, level))
        elif level is not None and level.code == "not-understood":
            faults.append(level)
        elif level is not None:
            nothing.append(level)
            hidden += [port.name] if level.code == "no-list" and not strays else []
    if hidden and (found or more):
        last = (more or found)[-1]
        remark = f"something has a contract in {', '.join(hidden)} too; its list is not shown"
        (more or found)[-1] = replace(last, remarks=(*last.remarks, remark))
    return more


def _level(port: HostPort) -> Advertised | Fault | None:
    """What a charger without a list advertises, or why it is none; None if the port is mute."""
    place = tree.shown(str(port.folder))
    if port.partner is None:
        return Fault(code="no-source", wrong=f"{place} has nothing plugged in", right=PLUG_IN)
    if port.partner.accessory:
        wrong = f"{place} has an accessory in it ({port.partner.accessory})"
        return Fault(code="no-source", wrong=wrong, right=PLUG_IN)
    if port.mode is None:
        return _odd_mode(port.folder / "power_operation_mode")
    if port.power_role != "sink":
        what = "feeds what is plugged in" if port.power_role else "does not say which side feeds"
        return Fault(code="no-source", wrong=f"{place} {what}", right=PLUG_IN)
    if port.mode not in LEVELS:
        return Fault(
            code="no-list",
            wrong=f"{place} has a contract, and this kernel does not show the charger's list",
            right="write what the charger has printed on it",
        )
    return LEVELS[port.mode]


def _odd_mode(file: Path) -> Fault | None:
    said = tree.text(file)
    place = tree.shown(str(file))
    if said is not None:
        wrong = f"{place}: {said[:40]!r} is no mode that the kernel writes"
        right = f"one of {', '.join(Mode)} is wanted"
        return Fault(code="not-understood", wrong=wrong, right=right)
    if not tree.is_there(file):
        return None
    right = "the kernel gives one for a port"
    return Fault(code="no-file", wrong=f"{place} cannot be read", right=right)


def _without_list(port: HostPort, level: Advertised) -> HostCharger:
    offer = Offer(low_v=FIVE_V, high_v=FIVE_V, current_a=PULL_UPS[level].current_a)
    return HostCharger(
        device=f"{port.name}-partner",
        revision="",
        offers=(offer,),
        remarks=(),
        port=port,
        listed=False,
    )
