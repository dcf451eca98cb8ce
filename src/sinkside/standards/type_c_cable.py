"""What a USB Type-C cable may carry, and what it may lose.

Every lead from C to C carries 3 A. More needs an electronically marked cable, and a source
that has read the mark; more than 20 V needs a cable marked for extended power range (EPR). A
cable that is fixed to its charger is known to it and is not asked.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.standards.arrays import Numbers
from sinkside.working import Source, Status


class EMarker(StrEnum):
    """What the electronic mark of a cable says."""

    NONE = "none"
    THREE_AMP = "3 A"
    FIVE_AMP = "5 A"  # 20 V; deprecated since EPR, still common
    EPR = "5 A, 50 V"


@dataclass(frozen=True, kw_only=True)
class CableLimit:
    """Most that a source may offer through a cable.

    Parameters
    ----------
    current_a
        A.
    nominal_v
        Highest nominal voltage of a contract, V.
    """

    current_a: float
    nominal_v: float


CURRENT_WITHOUT_MARK_A = 3.0
"""What every cable from C to C must carry."""

CURRENT_WITH_MARK_A = 5.0
"""What a cable marked for it carries."""

SPR_NOMINAL_V = 20.0
"""Highest fixed voltage through a cable without the EPR mark; a PPS contract may reach 21 V."""

EPR_NOMINAL_V = 48.0
"""Highest fixed voltage through an EPR cable."""

EPR_FUNCTION_V = 53.65
"""An EPR cable must work up to here at least."""

EPR_PART_RATING_V = 63.0
"""Parts across VBUS in an EPR cable must be rated for this at least."""

VBUS_DROP_LIMIT_V = 0.5
GROUND_DROP_LIMIT_V = 0.25
"""At the cable's rated current, both mated contacts included."""

CONTACT_INITIAL_OHM = 0.040
CONTACT_AGED_OHM = 0.050
"""Low-level contact resistance of one contact, new and after stress."""

CONTACTS_IN_PARALLEL = 4
"""A full Type-C plug has four contacts for VBUS and four for ground."""

CONNECTOR_RISE_K = 30.0
"""Most that a mated connector may warm at 5 A."""

USB2_CONDUCTOR_DROP_V = 0.125
"""Of a USB 2.0 cable, each conductor, at 0.5 A, contacts included."""

_NOTES = "USB Type-C R2.0, as given in published notes"
_EPR_PRESS = "USB Type-C R2.1, as given in published articles"

SOURCES: Mapping[str, Source] = {
    "CURRENT_WITHOUT_MARK_A": Source(document=_NOTES, status=Status.SECONDARY),
    "CURRENT_WITH_MARK_A": Source(document=_NOTES, status=Status.SECONDARY),
    "SPR_NOMINAL_V": Source(document=_NOTES, status=Status.SECONDARY),
    "EPR_NOMINAL_V": Source(document=_EPR_PRESS, status=Status.SECONDARY),
    "EPR_FUNCTION_V": Source(document=_EPR_PRESS, status=Status.SECONDARY),
    "EPR_PART_RATING_V": Source(document=_EPR_PRESS, status=Status.SECONDARY),
    "VBUS_DROP_LIMIT_V": Source(document=_NOTES, clause="4.4.1", status=Status.SECONDARY),
    "GROUND_DROP_LIMIT_V": Source(document=_NOTES, clause="4.4.1", status=Status.SECONDARY),
    "CONTACT_INITIAL_OHM": Source(document=_NOTES, clause="3.7.8.1", status=Status.SECONDARY),
    "CONTACT_AGED_OHM": Source(document=_NOTES, clause="3.7.8.1", status=Status.SECONDARY),
    "CONTACTS_IN_PARALLEL": Source(document=_NOTES, clause="3.7.8.1", status=Status.SECONDARY),
    "CONNECTOR_RISE_K": Source(document=_NOTES, clause="3.7.8.4", status=Status.SECONDARY),
    "USB2_CONDUCTOR_DROP_V": Source(
        document="USB 2.0, cable table, as given in a published article", status=Status.SECONDARY
    ),
}


def cable_current_limit(e_marker: EMarker) -> CableLimit:
    """Most current and voltage that a source may offer through a detachable cable.

    Parameters
    ----------
    e_marker
        What the cable's mark says; an unknown cable counts as `EMarker.NONE`.

    Notes
    -----
    A cable limits, it does not supply: the contract is the least of source, cable and request.
    A lead from A to C carries no negotiation at all: 5 V only.

    References
    ----------
    USB Type-C R2.0 and R2.1, read in secondary texts.

    Examples
    --------
    >>> cable_current_limit(EMarker.NONE)
    CableLimit(current_a=3.0, nominal_v=20.0)
    """
    return CableLimit(
        current_a=CURRENT_WITH_MARK_A
        if e_marker in (EMarker.FIVE_AMP, EMarker.EPR)
        else CURRENT_WITHOUT_MARK_A,
        nominal_v=EPR_NOMINAL_V if e_marker is EMarker.EPR else SPR_NOMINAL_V,
    )


def vbus_limit_ohm(rated_a: Numbers) -> Numbers:
    """Most that the VBUS conductor of a lawful cable may have, both contacts included.

    Parameters
    ----------
    rated_a
        Current rating of the cable, A. Float or array.

    Returns
    -------
    float
        Ω: the drop limit over the rated current; 167 mΩ at 3 A, 100 mΩ at 5 A.

    References
    ----------
    USB Type-C R2.0 4.4.1, read in a secondary text.
    """
    return VBUS_DROP_LIMIT_V / rated_a


def ground_limit_ohm(rated_a: Numbers) -> Numbers:
    """Most that the ground return of a lawful cable may have, both contacts included.

    Parameters
    ----------
    rated_a
        Current rating of the cable, A. Float or array.

    Returns
    -------
    float
        Ω: the drop limit over the rated current; 83 mΩ at 3 A, 50 mΩ at 5 A.

    References
    ----------
    USB Type-C R2.0 4.4.1, read in a secondary text.
    """
    return GROUND_DROP_LIMIT_V / rated_a


def loop_limit_ohm(rated_a: Numbers) -> Numbers:
    """VBUS and ground of a lawful cable together: 250 mΩ at 3 A, 150 mΩ at 5 A.

    Parameters
    ----------
    rated_a
        Current rating of the cable, A. Float or array.

    Returns
    -------
    float
        Ω, there and back.
    """
    return vbus_limit_ohm(rated_a) + ground_limit_ohm(rated_a)


def mated_contacts_ohm(contact_ohm: Numbers, contacts: int = CONTACTS_IN_PARALLEL) -> Numbers:
    """Resistance of one pole of one mated connector.

    Parameters
    ----------
    contact_ohm
        Of one contact, Ω. Float or array.
    contacts
        How many share the current.

    Returns
    -------
    float
        Ω, if they share it evenly: 10 mΩ new, 12.5 mΩ aged.
    """
    return contact_ohm / contacts
