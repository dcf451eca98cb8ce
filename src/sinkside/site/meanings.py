"""What every key of a site file means, with an example, for the schema and the reference page.

A table beside the models, not sentences in them: parts are written in the market as well. Tests
hold it against the models, key by key, and load every example.
"""

from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, kw_only=True)
class Meaning:
    """A sentence about a key, and a value as it would be written behind it."""

    says: str
    example: str


def _of(says: str, example: str) -> Meaning:
    return Meaning(says=says, example=example)


PART = {
    "is": _of("what kind of part it is; every other key depends on it", ""),
    "count": _of("how many lie there: one on the shelf, and none in a market", "2"),
    "price": _of("what one costs; not said is unknown, never nothing", "2.40 EUR"),
    "carries": _of("the most it carries for good", "3 A"),
    "withstands": _of("the most it stands between its two wires", "24 V"),
    "ohms": _of("both wires together, there and back", "40..120 mΩ"),
    "at": _of("the place where it lies, by name", "bench"),
    "like": _of("the part of a market that it is, but for what is said here", "fuse-2a"),
    "words": _of("what it is called on paper", "the red one"),
}
_CARRIES = {"carries": _of("the most it carries for good", "2 A")}
_PLUG = _of("outer by inner in mm, or the name of another plug or end", "5.5x2.1")

MEANINGS: dict[str, dict[str, Meaning]] = {
    "SiteWritten": {
        "site": _of("what the whole site shares", "{name: Repair evening}"),
        "rules": _of("what you are able and willing to do", "{solder: yes}"),
        "places": _of("where things stand, by name", "{bench: {}}"),
        "devices": _of(
            "what is to run, by name", "{radio: {use: ordinary, inlet: {plug: 5.5x2.1}}}"
        ),
        "shelf": _of("chargers and parts that you have, by name", "{fuse-800ma: {count: 2}}"),
        "market": _of(
            "parts that you could buy, beside those that the program knows",
            "{tip: {is: plug, plug: 4x1.7}}",
        ),
        "links": _of("signal leads between devices", "[{from: radio, to: mixer}]"),
        "groups": _of(
            "devices that run at the same time", "[{name: evening, together: [radio, mixer]}]"
        ),
    },
    "SiteHeader": {
        "name": _of("the name of the site, as it stands on every sheet", "Repair evening"),
        "mains": _of("the mains at the site", "120 V 60 Hz"),
        "ambient": _of("how cold and how warm it gets around the gear", "12..30 °C"),
        "currency": _of("the money that prices are added up in, in three capitals", "EUR"),
        "tariff": _of("what a kilowatt-hour costs", "0.31 EUR/kWh"),
    },
    "RulesWritten": {
        "solder": _of("whether you solder; else only made-up leads are used", "yes"),
        "open_cases": _of("whether you open a device", "no"),
        "mains_side": _of(
            "whether a qualified person is there to blank off a built-in mains supply", "never"
        ),
        "changes": _of("whether a device may be changed for good", "reversible only"),
        "budget": _of("the most that all parts together may cost", "160 EUR"),
        "spare_ports": _of(
            "whether something else may be plugged into a port that the plan leaves free",
            "blocked",
        ),
        "single_fault": _of(
            "whether one fault upstream is only named, or must do no harm", "must survive"
        ),
    },
    "PlaceWritten": {
        "ambient": _of("how cold and how warm it gets there, if not as at the site", "max 34 °C"),
        "to": _of("how far it is to other places, by name", "{bench: 4 m}"),
    },
    "DeviceWritten": {
        "use": _of("what it is for; all but `ordinary` is refused", "ordinary"),
        "plate": _of(
            "its rating plate as it is printed; `check` shows how it was read",
            '"DC IN 9V⎓ 500mA ⊕–C–⊖"',
        ),
        "inlet": _of("where the power goes in", "{plug: 5.5x2.1, centre: negative (measured)}"),
        "inside": _of(
            "what follows the inlet: one word, or a mapping",
            '{is: linear regulator, part: "7805", in_front: diode (measured)}',
        ),
        "draws": _of("the current that it takes", "{steady: 340 mA (measured), peak: 0.4..0.55 A}"),
        "starved": _of("what happens if its volts drop for a moment", "loses data"),
        "blink": _of("whether it may go out: never, for a moment, or for any time", "never"),
        "ride_through": _of("how long it runs on when its supply goes", "0.2..0.4 s (measured)"),
        "plugged": _of("whether its lead stays in while it is not used", "when used"),
        "at": _of("the place where it stands, by name", "bench"),
        "brick": _of(
            "its own old power brick, with what a meter says of it",
            '{plate: "OUTPUT 9V DC 800mA", open: 13.6 V (measured), original: yes}',
        ),
        "held_on": _of(
            "chargers that it was plugged into ten times without a trip", "[desk-charger]"
        ),
        "ran": _of(
            "volts at a current at which a trial has shown it to run", "9.1 V at 180 mA (measured)"
        ),
        "words": _of("anything else, for people", "the one with the loud hiss"),
    },
    "InletWritten": {
        "plug": _PLUG,
        "centre": _of("the polarity of its inner contact", "negative (measured)"),
        "ground": _of(
            "which pole is joined to its case and to the screens of its leads",
            "negative (measured)",
        ),
        "conductors": _of("how many contacts it has; more than two are refused", "2"),
    },
    "InsideWritten": {
        "is": _of("what takes the current", "linear regulator"),
        "part": _of("the number on the regulator", '"7806"'),
        "in_front": _of("what stands between inlet and regulator", "diode (measured)"),
        "heat_sink": _of("what cools the regulator", "small"),
        "input_capacitor": _of(
            "the first capacitor, as printed on it; 1 to 10 mF are assumed", "2200 µF 25 V (plate)"
        ),
        "runs_from": _of("the least volts at which it runs", "7.2..7.8 V (measured)"),
        "harmed_above": _of("the most volts that it stands", "18 V (datasheet)"),
        "rails": _of(
            "of a built-in mains supply: each rail, and the most that it is asked for",
            "{5 V: 2 A (measured), 12 V: 0.8..1.5 A}",
        ),
    },
    "DrawsWritten": {
        "steady": _of("at full work", "340 mA (measured)"),
        "idle": _of("switched on and doing nothing", "60 mA (measured)"),
        "peak": _of("for moments, when it starts above all", "0.4..0.55 A"),
        "peak_time": _of("how long such a moment is", "50..90 ms"),
    },
    "BrickWritten": {
        "plate": _of("what is printed on it", '"OUTPUT 9V DC 800mA"'),
        "open": _of("its volts without the device", "13.6 V (measured)"),
        "loaded": _of(
            "its volts with the device at work, and the current then",
            "11.2 V at 340 mA (measured)",
        ),
        "centre": _of("the polarity of its plug's inner contact", "positive (measured)"),
        "kind": _of("whether direct or alternating current comes out", "dc (measured)"),
        "original": _of("whether it is the one that came with the device", "yes"),
        "kept": _of("whether it stays as a way back", "yes"),
    },
    "ChargerWritten": {
        "is": _of("that it is a charger", "charger"),
        "count": _of("how many there are", "2"),
        "at": _of("the place where it stands, by name", "bench"),
        "output_earth": _of(
            "whether the negative of its outputs is joined to mains earth", "floating (measured)"
        ),
        "class": _of("its class of protection against shock", "II"),
        "on_change": _of(
            "what its other ports do when something is plugged in or out", "drops all (measured)"
        ),
        "off_time": _of("how long they are without their contract then", "1.4..1.9 s (measured)"),
        "continuous": _of("what share of its offers it keeps up for hours", "[0.7, 0.9]"),
        "cuts_off_below": _of(
            "the current under which it takes a port to be empty", "40..60 mA (datasheet)"
        ),
        "sharing": _of(
            "whether what a port offers depends on the others; `together` says how", "independent"
        ),
        "ports": _of(
            "what each port offers with nothing in the others: printed, as data objects in hex, or "
            "in watts",
            '{C1: "5V⎓3A 9V⎓3A 20V⎓3.25A", C2: 0x0001912C, A: 18 W}',
        ),
        "together": _of(
            "what the ports offer when these are in use",
            '{C1+C2: {C1: "5V⎓3A 9V⎓2A", C2: "5V⎓2A"}}',
        ),
        "words": _of("anything else, for people", "bought in spring"),
    },
    "PartWritten": PART,
    "CableWritten": {
        "is": _of("a lead to USB Type-C", "cable"),
        "e_marked": _of("what the chip in its plug says that it carries", "5 A"),
        "length": _of("from end to end", "1 m"),
        "ends": _of("what is at its two ends; one from Type-A negotiates nothing", "C to C"),
    },
    "TriggerWritten": {
        "is": _of("a board or lead that asks a port for volts", "trigger"),
        "straps": _of("the volts that it can be set to for good", "[9 V, 12 V]"),
        "button": _of("the volts that a button on it goes through", "[9 V, 15 V]"),
        "programmable": _of("the range of volts that it can ask for in small steps", "3.3..11 V"),
        "by": _of("how it asks: in words, or with two resistors for 5 V", "negotiation"),
        "falls_back": _of("what it does where its volts are not offered", "next lower (measured)"),
        "output_switch": _of(
            "whether its output stays off until the contract stands", "yes (datasheet)"
        ),
        "keeps_alive": _of(
            "whether it goes on asking, so that programmable volts stay", "yes (datasheet)"
        ),
        "epr": _of("whether it speaks the extended range, over 20 V", "yes (datasheet)"),
        "gives": _of("the end towards the device", "wires"),
        "centre": _of("of a barrel at that end: the polarity of its inner contact", "positive"),
    },
    "LeadWritten": {
        "is": _of("a two-core lead from bare ends to a plug", "lead"),
        "plug": _PLUG,
        "centre": _of("how it is connected, or that it may be made either way", "negative"),
        "length": _of("from end to end", "0.4 m"),
        "gauge": _of("of each core", "22 AWG"),
    },
    "PlugWritten": {"is": _of("a loose plug to solder", "plug"), "plug": _PLUG},
    "AdapterWritten": {
        "is": _of("a short lead from a jack to a plug of the same size", "adapter"),
        "plug": _PLUG,
        "swaps_poles": _of("whether it swaps the two poles", "yes"),
    },
    "SplitterWritten": {
        "is": _of("a lead from one port to two devices: known, and never built with", "splitter"),
    },
    "ConverterWritten": {
        "is": _of("a d.c.-d.c. converter with wire ends", "converter"),
        "direction": _of("which way it changes the volts", "step-down"),
        "gives": _of("its volts out, ±5 % if one figure", "11.8..12.2 V"),
        "adjustable": _of("whether somebody sets it with a trimmer", "no"),
        "accepts": _of("its volts in, from least to most", "14..28 V"),
        "headroom": _of("how far its input must be above its output", "0.5..1.5 V"),
        "efficiency": _of("what share comes out, at worst and at best", "[0.86, 0.95]"),
        **_CARRIES,
    },
    "RailsWritten": {
        "is": _of("a converter with several outputs", "rails"),
        "accepts": _of("its volts in, from least to most", "16..28 V"),
        "rails": _of("its outputs, by name", "{5 V: {gives: 4.85..5.15 V, carries: 4 A}}"),
        "efficiency": _of("what share comes out, at worst and at best", "[0.78, 0.9]"),
        "input_capacitance": _of("what stands across its input", "47..100 µF"),
    },
    "RailWritten": {
        "gives": _of("its volts, ±5 % if one figure", "4.85..5.15 V"),
        "carries": _of("the most it carries for good", "4 A"),
    },
    "FuseWritten": {
        "is": _of("a fuse in a holder with wire ends", "fuse"),
        "rating": _of("what is printed on it", "1.6 A"),
        "standard": _of("the standard that it is made to: the two rate otherwise", "UL 248-14"),
        "speed": _of("how it takes a surge", "time-lag"),
    },
    "ResettableFuseWritten": {
        "is": _of("a resettable fuse (PPTC)", "resettable fuse"),
        "holds": _of("what it carries for good at 25 °C", "1.1 A"),
    },
    "SoftStartWritten": {
        "is": _of("a switch that raises the volts slowly", "soft start"),
        "ramp": _of("how long that takes", "40..90 ms"),
        "every_step": _of("whether it does so at every change of the volts", "no"),
        "accepts": _of("its volts in, from least to most", "4..26 V"),
        **_CARRIES,
    },
    "DiodeWritten": {
        "is": _of("a diode in series", "diode"),
        "forward": _of("what it takes off the volts", "0.3..0.6 V"),
        **_CARRIES,
    },
    "HoldUpWritten": {
        "is": _of("a reservoir behind a diode, for short outages", "hold-up"),
        "farads": _of("its capacitance", "0.3..0.5 F"),
        "rated": _of("the most volts that it stands", "16 V"),
        "esr": _of("its series resistance", "20..60 mΩ"),
        "forward": _of("what its diode takes off the volts", "0.3..0.6 V"),
        **_CARRIES,
    },
    "FilterWritten": {
        "is": _of("a choke and a capacitor against hum", "filter"),
        "henries": _of("of the choke", "80..120 µH"),
        "farads": _of("of the capacitor", "80..120 µF"),
        **_CARRIES,
    },
    "CrowbarWritten": {
        "is": _of("shorts the pair when the volts rise too far", "crowbar"),
        "trips": _of("the volts at which it does, ±5 % if one figure", "13.5..14.5 V"),
        "carries": _of("what it carries until the fuse before it opens", "5 A"),
    },
    "BleederWritten": {
        "is": _of("a resistor across the pair that empties what is behind it", "bleeder"),
        "across": _of("its resistance", "0.95..1.05 kΩ"),
    },
    "LinkWritten": {
        "from": _of("the device at one end", "radio"),
        "to": _of("the device at the other", "mixer"),
        "kind": _of("what goes through it", "audio"),
        "shield": _of("at which ends its screen is joined, or that it is isolated", "both ends"),
    },
    "GroupWritten": {
        "name": _of("what the group is called", "evening"),
        "together": _of("the devices in it", "[radio, mixer]"),
        "switch": _of("what turns them on together", "bench strip"),
    },
}


def meaning(model: str, key: str) -> Meaning | None:
    """What a key means in a model; what every part may say holds for each kind of part."""
    own = MEANINGS.get(model, {})
    if "is" in own and model not in ("ChargerWritten", "InsideWritten"):
        return own.get(key) or PART.get(key)
    return own.get(key)


def described(schema: dict[str, Any]) -> dict[str, Any]:
    """A schema with a sentence at every key, for editors that show one.

    Parameters
    ----------
    schema
        Of the site file, as the models give it; it is changed in place.
    """
    for model, node in ((schema["title"], schema), *schema["$defs"].items()):
        for key, value in node["properties"].items():
            found = meaning(model, key)
            if found is not None:
                kind = value.get("description")
                value["description"] = f"{found.says}: {kind}" if kind else found.says
    return schema
