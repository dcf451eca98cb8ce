"""The tree `typec`: the host's ports, what is plugged into each, and through which lead.

References
----------
Linux sysfs ABI document `typec`, and the class driver behind it (read): roles stand in brackets
where there is a choice; `portN-partner` is there while something is plugged in; the link
`usb_power_delivery` leads from a partner to its list, and from a port to the host's own.
"""

import os
import re
from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path

from sinkside.faults import Fault, NotUnderstood
from sinkside.hosts import tree
from sinkside.hosts.cable_words import is_captive
from sinkside.hosts.lead import Lead, identity, read_lead

TYPEC_TREE = Path("class/typec")
_PORT = re.compile(r"port(?P<number>\d{1,3})", re.ASCII)
_PARTNER = re.compile(r"(?P<port>port\d{1,3})-partner", re.ASCII)
# What the kernel writes where Discover Identity told no product type.
_NO_TYPE = {"undefined", "not_ufp", "not_dfp"}


class Mode(StrEnum):
    """Where the power in a port comes from: a level of CC, or a contract."""

    DEFAULT = "default"
    A1_5 = "1.5A"
    A3_0 = "3.0A"
    CONTRACT = "usb_power_delivery"


@dataclass(frozen=True, kw_only=True)
class Partner:
    """What is plugged into a port.

    Parameters
    ----------
    kind
        Such as `power_brick`, `hub` or `psd` (a power bank); empty if it did not tell.
    talks
        Whether it speaks Power Delivery; None if not known.
    accessory
        The accessory mode that it is in; empty for none.
    captive
        Whether it says that it ends in a plug of its own.
    device
        The kernel's name of its power delivery device; empty if it has none.
    """

    kind: str = ""
    talks: bool | None = None
    accessory: str = ""
    captive: bool = False
    device: str = ""


@dataclass(frozen=True, kw_only=True)
class HostPort:
    """A port of the host.

    Parameters
    ----------
    folder
        Where it was read.
    mode
        None if the kernel's word for it cannot be read or is not known.
    power_role, data_role
        What the host is now: `sink` or `source`, `device` or `host`; empty if not known.
    revision
        Of Power Delivery, that the port itself speaks; empty if none or not known.
    own
        Names of the power delivery devices that are the host's own.
    """

    folder: Path
    mode: Mode | None
    power_role: str
    data_role: str
    revision: str
    partner: Partner | None
    lead: Lead
    own: frozenset[str]

    @property
    def name(self) -> str:
        """Its name in the tree, such as `port0`."""
        return self.folder.name


def read_ports(place: Path, faults: list[Fault]) -> list[HostPort]:
    """Every port of the tree, in order of number.

    Raises
    ------
    NotUnderstood
        There is no such tree, or it cannot be read.
    """
    named = [(int(m["number"]), f) for f in tree.folders(place) if (m := _PORT.fullmatch(f.name))]
    found = []
    for _, folder in sorted(named):
        try:
            found.append(_port(folder))
        except NotUnderstood as error:
            faults.append(error.fault)
    return found


def partner_of(device: Path) -> str:
    """The port whose partner a power delivery device hangs under; empty if it hangs elsewhere."""
    above = _PARTNER.fullmatch(Path(os.path.realpath(device)).parent.name)
    return above["port"] if above else ""


def _port(folder: Path) -> HostPort:
    mode = tree.word(folder / "power_operation_mode")
    return HostPort(
        folder=folder,
        mode=Mode(mode) if mode in set(Mode) else None,
        power_role=_role(folder / "power_role", {"sink", "source"}),
        data_role=_role(folder / "data_role", {"device", "host"}),
        revision=tree.revision(folder / "usb_power_delivery_revision"),
        partner=_partner(folder.with_name(f"{folder.name}-partner")),
        lead=read_lead(folder),
        own=_own(folder),
    )


def _own(folder: Path) -> frozenset[str]:
    """The lists that the host itself may send: the one that is linked, and those to choose from."""
    choice = tree.text(folder / "select_usb_power_delivery") or ""
    names = {name.strip("[]") for name in choice.split()} | {
        tree.link_name(folder / "usb_power_delivery")
    }
    return frozenset(names - {""})


def _partner(folder: Path) -> Partner | None:
    if not tree.is_folder(folder):
        return None
    kind = tree.word(folder / "type")
    accessory = tree.word(folder / "accessory_mode")
    talks = tree.word(folder / "supports_usb_power_delivery")
    return Partner(
        kind="" if kind in _NO_TYPE else kind,
        talks={"yes": True, "no": False}.get(talks),
        accessory="" if accessory == "none" else accessory,
        captive=is_captive(identity(folder, "id_header")),
        device=tree.link_name(folder / "usb_power_delivery"),
    )


def _role(file: Path, known: set[str]) -> str:
    """The role in brackets, as in `source [sink]`."""
    now = [word for word in (tree.text(file) or "").split() if word.startswith("[")]
    role = now[0][1:-1] if len(now) == 1 and now[0].endswith("]") else ""
    return role if role in known else ""
