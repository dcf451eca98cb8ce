"""The lead between a host and its charger: what its mark says, and what it may hold back.

A source offers no more than the lead carries, as far as it knows the lead. So a list that stops
at 3 A may be the charger's limit or the lead's, and the list alone does not tell which.
"""

import re
from dataclasses import dataclass
from pathlib import Path

from sinkside.hosts import tree
from sinkside.hosts.cable_words import (
    HIGHEST_V,
    Connector,
    ProductType,
    cable_word,
    must_be_r3,
    product_type,
)
from sinkside.standards.pd_fields import Revision
from sinkside.standards.type_c_cable import (
    CURRENT_WITH_MARK_A,
    EPR_NOMINAL_V,
    CableLimit,
    EMarker,
    cable_current_limit,
)

_WORD = re.compile(r"0x[0-9a-f]{1,8}", re.ASCII | re.IGNORECASE)
_KINDS: dict[int, str] = {
    ProductType.PASSIVE: "passive",
    ProductType.ACTIVE: "active",
    ProductType.POWERED_DEVICE: "vpd",
}
_PLUGS: dict[int, str] = {
    Connector.TYPE_A: "type-a",
    Connector.TYPE_B: "type-b",
    Connector.TYPE_C: "type-c",
    Connector.CAPTIVE: "captive",
}


@dataclass(frozen=True, kw_only=True)
class Lead:
    """A lead as far as the host knows it; without a mark it knows nothing of it.

    Parameters
    ----------
    kind
        `passive`, `active` or `vpd`; empty if not known.
    plug
        Its far end: `type-a`, `type-b`, `type-c` or `captive`; empty if not known.
    marked
        Whether an electronic mark answers from inside it.
    current_a
        What the mark says, A; None if it says nothing or is not shown.
    highest_v
        What the mark says, V; None as above, and if it cannot be told by which revision to
        read it.
    carries_power
        False if the mark says that VBUS does not go through.
    """

    kind: str = ""
    plug: str = ""
    marked: bool = False
    current_a: float | None = None
    highest_v: float | None = None
    carries_power: bool = True

    @property
    def e_marker(self) -> EMarker:
        """What may be counted on; a lead of which nothing is known counts as unmarked."""
        if self.current_a == CURRENT_WITH_MARK_A:
            epr = self.highest_v is not None and self.highest_v >= EPR_NOMINAL_V
            return EMarker.EPR if epr else EMarker.FIVE_AMP
        return EMarker.NONE if self.current_a is None else EMarker.THREE_AMP

    @property
    def limit(self) -> CableLimit:
        """Most that a contract through it may have."""
        return cable_current_limit(self.e_marker)


def read_lead(port: Path) -> Lead:
    """The lead in a port, from the folders beside the port's own.

    Parameters
    ----------
    port
        Folder of the port in the tree `typec`; the lead's is `portN-cable`. There is a
        `portN-plug0` for a mark that answers, and a `portN-plug1` for one at the far end.
    """
    folder = port.with_name(f"{port.name}-cable")
    plugs = [port.with_name(f"{port.name}-plug{end}") for end in (0, 1)]
    if not tree.is_folder(folder):
        return Lead(marked=any(tree.is_folder(plug) for plug in plugs))
    marked = any(tree.is_folder(plug) for plug in plugs)
    kind, plug = tree.word(folder / "type"), tree.word(folder / "plug_type")
    header = identity(folder, "id_header")
    told = Lead(
        kind=kind if kind in _KINDS.values() else _KINDS.get(product_type(header), ""),
        plug=plug if plug in _PLUGS.values() else "",
        marked=marked or bool(header),
    )
    word = identity(folder, "product_type_vdo1")
    if not word or told.kind not in ("passive", "active"):
        return told
    revision = _revision(tree.revision(folder / "usb_power_delivery_revision"), header, word)
    return _marked(told, word, revision)


def _marked(told: Lead, word: int, revision: Revision | None) -> Lead:
    """A lead with what its product type word says."""
    kind = ProductType.ACTIVE if told.kind == "active" else ProductType.PASSIVE
    # The current stands in the same place in every revision; the voltage does not.
    said = cable_word(word, kind, revision or Revision.R2_0)
    return Lead(
        kind=told.kind,
        plug=told.plug or _PLUGS[said.connector],
        marked=True,
        current_a=said.current_a,
        highest_v=None if revision is None else HIGHEST_V[said.voltage],
        # A passive cable is wires: VBUS goes through, whatever an old mark says.
        carries_power=told.kind == "passive" or said.carries_power,
    )


def identity(folder: Path, name: str) -> int:
    """A word of Discover Identity; 0, as the kernel has it, while there is none."""
    said = tree.text(folder / "identity" / name) or ""
    return int(said, 16) if _WORD.fullmatch(said) else 0


def _revision(told: str, header: int, word: int) -> Revision | None:
    """By which revision to read a cable's word."""
    if told.startswith("3") or (not told and must_be_r3(header, word)):
        return Revision.R3_1
    return Revision.R2_0 if told.startswith(("1", "2")) else None
