"""What was read of a charger, as a shelf entry for a site file, and as JSON.

The entry is the charger's, so its offers are not cut down to the lead that it was read through:
a plan picks its own lead. What that lead may have held back stands beside them.
"""

from collections.abc import Iterator

from sinkside.faults import NotUnderstood
from sinkside.faults.splice import scalar
from sinkside.hosts.charger import HostCharger, no_five_v
from sinkside.hosts.lead import Lead
from sinkside.hosts.ports import HostPort, Mode, Partner
from sinkside.hosts.supplies import FIVE_V
from sinkside.hosts.tree import shown
from sinkside.parts.charger import Offer
from sinkside.quantity import number
from sinkside.standards.pd_contract import NO_CONTRACT
from sinkside.standards.type_c_cable import CURRENT_WITH_MARK_A

_KINDS = {
    "power_brick": "a power brick",
    "psd": "a power bank, whose list changes with its charge",
    "hub": "a hub, which passes on what its own supply leaves over",
    "host": "a host, whose list changes with its own supply",
}


# YAML takes no more than 1024 characters for a key that stands on its own line (YAML 1.2.2,
# 7.4.2); quoted, one may take several.
LONGEST_NAME = 200


def shelf_entry(name: str, charger: HostCharger) -> str:
    """A shelf entry for a site file: one port, as it is while nothing else is plugged in.

    Parameters
    ----------
    name
        What the charger is called in the site file.

    Raises
    ------
    NotUnderstood
        It is no name, or the charger does not offer 5 V.
    """
    if not name.strip() or not name.isprintable():
        raise NotUnderstood(f"{name!r} is no name", "write a word, such as tower")
    if len(name) > LONGEST_NAME:
        raise NotUnderstood(
            f"a name of {len(name)} characters", f"{LONGEST_NAME} are taken", code="too-long"
        )
    if not any(offer.fixed_v == FIVE_V for offer in charger.offers):
        fault = no_five_v(charger.device)
        raise NotUnderstood(fault.wrong, fault.right, code=fault.code)
    listed = " ".join(_printed(offer) for offer in charger.offers)
    lines = [
        f"  {scalar(name)}:",
        "    is: charger",
        f'    ports: {{C1: "{listed}"}}  # this port alone; add the others, and together:',
    ]
    comments = list(charger.remarks)
    if charger.port is not None:
        comments = [*_port_words(charger, charger.port), *comments]
    lines += [f"    # {' '.join(comment.split())}" for comment in comments]
    return "\n".join(lines) + "\n"


def _printed(offer: Offer) -> str:
    amps = _short(offer.current_a, "A")
    if offer.profile == "fixed":
        return f"{offer.low_v:g}V⎓{amps}"
    return f"{offer.profile.upper()} {offer.low_v:g}-{offer.high_v:g}V⎓{amps}"


def _short(value: float, unit: str) -> str:
    return number(value, unit).replace(" ", "")


def _port_words(charger: HostCharger, port: HostPort) -> Iterator[str]:
    """Where the list was read, who sent it and through what: one comment each."""
    if charger.listed:
        revision = f", revision {charger.revision}" if charger.revision else ""
        yield f"read in {port.name} from the list that it sent ({shown(charger.device)}{revision})"
        yield from _contract_words(port)
        yield from _partner_words(port.partner)
        yield _lead_words(port, charger.offers)
    else:
        yield f"read in {port.name}: it sent no list, and advertises {port.mode} on CC"
        low, high = f"{NO_CONTRACT.low_v:g}", f"{NO_CONTRACT.high_v:g}"
        yield f"without a contract 5 V may be anything from {low} to {high} V"
        yield from _partner_words(port.partner)
        yield from _level_words(port)


def _contract_words(port: HostPort) -> Iterator[str]:
    if port.power_role == "source":
        yield f"{port.name} feeds it now: the list is what it would offer if the roles changed"
    elif port.mode not in (Mode.CONTRACT, None):
        yield f"{port.name} has no contract with it now"
    if port.revision.startswith("2"):
        # From memory: augmented objects came with R3.0, and are kept from older partners.
        yield f"{port.name} speaks revision {port.revision}, to which no source offers PPS or AVS"


def _partner_words(partner: Partner | None) -> Iterator[str]:
    if partner is not None and partner.kind:
        yield f"it calls itself {_KINDS.get(partner.kind, shown(partner.kind))}"


def _level_words(port: HostPort) -> Iterator[str]:
    """What a charger without a list may keep back, and who is to blame."""
    if port.partner is not None and port.partner.talks:
        yield "it speaks Power Delivery: under a contract it may offer more than this"
    # A lead from A to C makes the level itself, and only default is right there: its charger
    # may not even be able to give that.
    lead, default = port.lead, port.mode is Mode.DEFAULT
    if _is_captive(port):
        yield "the lead is fixed to the charger"
    elif lead.plug == "type-a" and default:
        yield "the lead is what limits it: it ends in a type-A plug, and always reads as default"
    elif lead.plug == "type-a":
        yield "the lead ends in a type-A plug and has a wrong pull-up: its charger may give less"
    elif lead.marked or lead.plug:
        yield "the lead is not what limits it: every lead from C to C carries this"
    elif default:
        yield "the lead may be what limits it: one from A to C always reads as default"
    else:
        yield "every lead from C to C carries this; one from A to C that reads so is faulty"


def _is_captive(port: HostPort) -> bool:
    return port.lead.plug == "captive" or (port.partner is not None and port.partner.captive)


def _lead_words(port: HostPort, offers: tuple[Offer, ...]) -> str:
    """Whether the lead may be what limits the list."""
    lead, limit = port.lead, port.lead.limit
    if _is_captive(port):
        return "the lead is fixed to the charger, which knows it: this is what comes out of its end"
    if not lead.carries_power:
        return f"{_mark(lead)}, but not for power: read it again through another lead"
    most_a = max(offer.current_a for offer in offers)
    most_v = max(offer.fixed_v or 0.0 for offer in offers)
    amps, volts = _said(limit.current_a, "A"), _said(limit.nominal_v, "V")
    better = f"a lead marked for {_said(CURRENT_WITH_MARK_A, 'A')}"
    if lead.current_a is None and most_a > limit.current_a:
        # A source that keeps to the standard has read such a mark before it offers so much.
        effect = f"more than {amps} is offered through {better} alone, so it seems to be one"
    elif most_a > limit.current_a or most_v > limit.nominal_v:
        effect = f"no contract through it may take more than {amps} or {volts}, whatever is offered"
    elif most_a == limit.current_a < CURRENT_WITH_MARK_A:
        effect = f"what stops at {amps} may stop because of it: read it again through {better}"
    else:
        effect = "it limits nothing of this"
    return f"{_mark(lead)}: {effect}"


def _mark(lead: Lead) -> str:
    """What is known of a lead, as the head of a sentence."""
    kind = f"{lead.kind} " if lead.kind in ("active", "passive") else ""
    if lead.current_a is not None:
        volts = "" if lead.highest_v is None else f" and {_said(lead.highest_v, 'V')}"
        return f"the {kind}lead is marked for {_said(lead.current_a, 'A')}{volts}"
    count_on = f"count on {_said(lead.limit.current_a, 'A')}"
    if lead.marked:
        return f"the {kind}lead is marked, and for how much is not shown ({count_on})"
    return f"nothing is known of the {kind}lead, as of one without a mark ({count_on})"


def _said(value: float, unit: str) -> str:
    return f"{value:g} {unit}"


def as_json(charger: HostCharger) -> dict[str, object]:
    """A charger as JSON takes it; what the port says is there if the port is known."""
    document: dict[str, object] = {
        "device": charger.device,
        "revision": charger.revision,
        "offers": [
            {
                "profile": o.profile,
                "low_v": o.low_v,
                "high_v": o.high_v,
                "current_a": o.current_a,
            }
            for o in charger.offers
        ],
        "remarks": list(charger.remarks),
    }
    return document if charger.port is None else document | _port_json(charger.port)


def _port_json(port: HostPort) -> dict[str, object]:
    partner, lead = port.partner, port.lead
    return {
        "port": {
            "name": port.name,
            "mode": None if port.mode is None else port.mode.value,
            "power_role": port.power_role,
            "data_role": port.data_role,
            "revision": port.revision,
            "partner": partner and {"kind": partner.kind, "talks": partner.talks},
        },
        "lead": {
            "kind": lead.kind,
            "plug": lead.plug,
            "marked": lead.marked,
            "current_a": lead.current_a,
            "highest_v": lead.highest_v,
            "carries_power": lead.carries_power,
        },
    }
