"""What `check` shows: how every plate was read, and which facts are assumed."""

from typing import Any

from sinkside import plates
from sinkside.cli import plate_text
from sinkside.parts.charger import Charger, Offer
from sinkside.quantity import Quantity, write
from sinkside.site.appliance import Appliance
from sinkside.site.site import Site
from sinkside.site.survey import survey
from sinkside.site.written import DeviceWritten

_ON_CHANGE = {
    "drops all": "all of them drop for a moment",
    "steps": "the others change without a gap",
    "nothing": "the others take no notice",
    "unknown": "what the others do is not known",
}


def lines(site: Site) -> list[str]:
    """The survey for people."""
    found = [f"{site.name}: devices: {len(site.devices)}, kinds of charger: {len(site.chargers)}"]
    for device in site.devices:
        appliance = survey(device, site.ambient_at(device.at))
        found += ["", device.id]
        for name, text in _plates(device):
            found += [f"  {line}" for line in plate_text.lines(name, text)]
        found += [f"  {line}" for line in _fact_lines(appliance)]
    for charger in site.chargers:
        found += ["", *_charger_lines(charger)]
        for port in charger.ports:
            listed = ", ".join(_offer_words(o) for o in port.offers)
            guess = "  (a guess from its watts: nobody has seen its list)" if port.guessed else ""
            found.append(f"  {port.name}: {listed}{guess}")
    return found


def _charger_lines(charger: Charger) -> list[str]:
    """How many there are, where, and what their ports mean to each other."""
    count = f"{charger.count} × " if charger.count > 1 else ""
    at = f", at {charger.at}" if charger.at else ""
    if len(charger.ports) == 1:
        return [f"{count}{charger.id}{at}"]
    shares = {
        "independent": "each port keeps its offer whatever the others do",
        "table": "what a port offers with others in use is told by a table",
    }.get(charger.sharing, "what a port offers with others in use is not known")
    return [
        f"{count}{charger.id}{at}: {shares}",
        f"  when something is plugged into one, {_ON_CHANGE[charger.on_change]}",
    ]


def _offer_words(offer: Offer) -> str:
    volts = f"{offer.low_v:g}" + (f"..{offer.high_v:g}" if offer.high_v != offer.low_v else "")
    kind = "" if offer.profile == "fixed" else f" {offer.profile.upper()}"
    return f"{volts} V {offer.current_a:g} A{kind}"


def _plates(device: DeviceWritten) -> list[tuple[str, str]]:
    found = [("plate", device.plate)] if device.plate else []
    if device.brick and device.brick.plate:
        found.append(("brick", device.brick.plate))
    return found


def _fact_lines(a: Appliance) -> list[str]:
    """What is known and assumed; of what is refused only why, for nothing else counts then."""
    warnings = [f"warning: {text}" for text in a.conflicts]
    if a.refusals:
        return [*(f"refused: {r.why}; ask {r.ask}" for r in a.refusals), *warnings]
    polarity = ", ".join(f"{e.observed.value}: centre {e.centre}" for e in a.evidence) or "unknown"
    found = [
        f"runs from {write(a.runs_from_v)}, harmed above {write(a.harmed_above_v)}",
        f"draws {write(a.steady_a)}, peak {write(a.peak_a)}",
        "polarity: " + ("either way round will do" if a.kind == "either" else polarity),
    ]
    return [*found, *(f"assumed {text}" for text in a.assumptions), *warnings]


def as_json(site: Site) -> dict[str, Any]:
    """The survey as one document."""
    devices = []
    for device in site.devices:
        a = survey(device, site.ambient_at(device.at))
        devices.append(
            {
                "id": device.id,
                "plates": {name: plates.read(text).as_json() for name, text in _plates(device)},
                "runs_from_v": quantity_json(a.runs_from_v),
                "harmed_above_v": quantity_json(a.harmed_above_v),
                "steady_a": quantity_json(a.steady_a),
                "peak_a": quantity_json(a.peak_a),
                "evidence": [
                    {"observed": e.observed.value, "centre": e.centre} for e in a.evidence
                ],
                "refusals": [{"why": r.why, "ask": r.ask} for r in a.refusals],
                "assumptions": list(a.assumptions),
                "warnings": list(a.conflicts),
            }
        )
    return {"sinkside": "check", "site": site.name, "devices": devices}


def quantity_json(q: Quantity) -> dict[str, Any]:
    """A quantity with its ends, basis and spread."""
    return {
        "nominal": q.nominal,
        "low": q.low,
        "high": q.high,
        "unit": q.unit,
        "basis": q.basis.value,
        "spread": q.spread.value,
    }
