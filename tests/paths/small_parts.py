"""Small parts with plain figures, so that every path of the tests can be redone by hand.

A figure may be a number (known), a pair (unknown between the two) or a Quantity.
"""

from dataclasses import replace
from typing import Any, TypeAlias

from sinkside.parts import regulators
from sinkside.parts.charger import Charger, Offer, Port
from sinkside.parts.elements import (
    Capacitance,
    Converter,
    FuseLink,
    RailsConverter,
    RampSwitch,
    Resistance,
)
from sinkside.parts.part import End, Part, Rail, TriggerTraits
from sinkside.paths.front import Front
from sinkside.paths.judge import Path
from sinkside.quantity import Basis, Quantity, point, unknown, varies
from sinkside.site.appliance import Appliance, Evidence, Heat, Observed
from sinkside.site.rails import RailNeed

Figure: TypeAlias = float | tuple[float, float] | Quantity

WIRES = End(kind="wires")
USB_C = End(kind="usb-c")
BARREL = "5.5x2.1"
TWO_EVIDENCES = (
    Evidence(observed=Observed.DEVICE_PRINT, centre="positive"),
    Evidence(observed=Observed.BRICK_METER, centre="positive"),
)
NO_HEAT = Heat(regulator=None, allowed_w=None, output_v=None, quiescent_a=None, cool_up_to_v=None)


def figure(value: Figure, unit: str, name: str = "") -> Quantity:
    """A number is known, a pair is unknown, a Quantity stays what it is (under that name)."""
    if isinstance(value, Quantity):
        return value.called(name) if name else value
    if isinstance(value, tuple):
        return unknown(*value, unit, name=name)
    return point(float(value), unit, Basis.MEASURED, name)


def swings(low: float, high: float, unit: str, name: str = "") -> Quantity:
    """A figure that moves between low and high in service."""
    return varies(low, high, unit, Basis.DATASHEET, name)


def offers(written: str) -> tuple[Offer, ...]:
    """`5:3 9:3 pps3.3-11:3` as offers: volts, colon, ampere."""
    found = []
    for entry in written.split():
        volts, amps = entry.split(":")
        if volts.startswith("pps"):
            low, high = map(float, volts.removeprefix("pps").split("-"))
            found.append(Offer(low_v=low, high_v=high, current_a=float(amps), profile="pps"))
        else:
            found.append(Offer(low_v=float(volts), high_v=float(volts), current_a=float(amps)))
    return tuple(sorted(found))


def charger(
    ports: dict[str, str] | str = "5:3 9:3 12:3 15:3 20:3",
    together: dict[str, dict[str, str]] | None = None,
    name: str = "shared",
    **changes: Any,
) -> Charger:
    """A charger; a plain text is one port C1; `together` is keyed `C1+C2`."""
    lists = {"C1": ports} if isinstance(ports, str) else ports
    table = tuple(
        (
            frozenset(key.split("+")),
            tuple(Port(name=port, offers=offers(written)) for port, written in then.items()),
        )
        for key, then in (together or {}).items()
    )
    plain: dict[str, Any] = {
        "id": name,
        "count": 1,
        "ports": tuple(Port(name=n, offers=offers(written)) for n, written in lists.items()),
        "together": table,
        "sharing": "table" if table else "independent",
        "on_change": "nothing",
        "off_time_s": None,
        "output_earth": "floating",
    }
    return Charger(**{**plain, **changes})


def part(kind: Any, ohm: Figure = 0.0, name: str = "", **changes: Any) -> Part:
    """A part between wires with a series resistance."""
    plain: dict[str, Any] = {
        "id": name or kind,
        "kind": kind,
        "takes": WIRES,
        "gives": WIRES,
        "elements": (Resistance(ohm=figure(ohm, "Ω", f"{name or kind}/ohms")),),
        "carries_a": 3.0,
        "withstands_v": 60.0,
        "price_cents": 100,
        "owned": 0,
        "joints": 2,
    }
    return Part(**{**plain, **changes})


def cable(ohm: Figure = 0.0, **changes: Any) -> Part:
    """A USB-C lead."""
    plain: dict[str, Any] = {"takes": USB_C, "gives": USB_C, "withstands_v": 21.0, "joints": 0}
    return part("cable", ohm, **{**plain, **changes})


def trigger(
    asks_v: float = 9.0,
    falls_back: Any = ("next lower",),
    ohm: Figure = 0.0,
    *,
    gated: bool = True,
    by_resistors: bool = False,
    presses_v: tuple[float, ...] = (),
    programmable_v: tuple[float, float] | None = None,
    keeps_alive: bool | None = None,
    epr: bool = False,
    **changes: Any,
) -> Part:
    """A trigger with wire ends; a programmable one is set to what it asks for."""
    plain: dict[str, Any] = {"takes": USB_C, "withstands_v": 21.0}
    traits = TriggerTraits(
        asks_v=asks_v,
        falls_back=falls_back,
        gated=gated,
        by_resistors=by_resistors,
        presses_v=presses_v,
        programmable_v=programmable_v,
        keeps_alive=keeps_alive,
        epr=epr,
    )
    return part("trigger", ohm, trigger=traits, **{**plain, **changes})


def lead(ohm: Figure = 0.0, centre: Any = "positive", plug: str = BARREL, **changes: Any) -> Part:
    """A lead to a barrel plug."""
    return part("lead", ohm, **{"gives": End(kind="barrel", plug=plug, centre=centre), **changes})


def fuse(rated_a: float, ohm: Figure = 0.0, opens_at: float = 2.1, **changes: Any) -> Part:
    """A fuse that carries its rating for good."""
    link = FuseLink(
        rated_a=rated_a,
        opens_at_ratio=opens_at,
        melts_a2s=figure(changes.pop("melts_a2s", 1e6), "A²s", "fuse/melting pulse"),
    )
    elements = (link, Resistance(ohm=figure(ohm, "Ω", "fuse/ohms")))
    return part("fuse", **{"elements": elements, "carries_a": rated_a, **changes})


def converter(
    gives: Figure = 5.0,
    direction: Any = "step-down",
    *,
    accepts: tuple[float, float] = (4.5, 28.0),
    headroom: Figure = 0.5,
    efficiency: Figure = 0.9,
    quiescent: Figure = 0.0,
    pass_ohm: Figure = 0.05,
    carries: float = 3.0,
    adjustable: bool = False,
    name: str = "converter",
    **changes: Any,
) -> Part:
    """A converter with wire ends."""
    element = Converter(
        direction=direction,
        gives_v=figure(gives, "V", f"{name}/volts"),
        accepts_low_v=accepts[0],
        accepts_high_v=accepts[1],
        headroom_v=figure(headroom, "V", f"{name}/headroom"),
        efficiency=figure(efficiency, "1", f"{name}/efficiency"),
        quiescent_a=figure(quiescent, "A", f"{name}/quiescent current"),
        pass_ohm=figure(pass_ohm, "Ω", f"{name}/ohms at full duty"),
        carries_a=carries,
        adjustable=adjustable,
    )
    plain: dict[str, Any] = {
        "elements": (element,),
        "carries_a": carries,
        "withstands_v": accepts[1],
    }
    return part("converter", name=name, **{**plain, **changes})


def rails(
    *outputs: tuple[float, float, float],
    accepts: tuple[float, float] = (16.0, 28.0),
    efficiency: Figure = 0.8,
    farad: Figure = 1e-6,
    name: str = "rails",
    **changes: Any,
) -> Part:
    """A converter with several outputs, each from low to high volts at so many ampere."""
    elements = (
        RailsConverter(
            accepts_low_v=accepts[0],
            accepts_high_v=accepts[1],
            efficiency=figure(efficiency, "1", f"{name}/efficiency"),
        ),
        Capacitance(
            farad=figure(farad, "F", f"{name}/input capacitance"), esr_ohm=figure(0.0, "Ω")
        ),
    )
    plain: dict[str, Any] = {
        "elements": elements,
        "carries_a": 5.0,
        "withstands_v": accepts[1],
        "rails": tuple(
            Rail(name=f"{low:g}..{high:g} V", low_v=low, high_v=high, carries_a=amps)
            for low, high, amps in outputs
        ),
    }
    return part("rails", name=name, **{**plain, **changes})


def need(volts: float, amps: Figure, basis: Basis = Basis.MEASURED) -> RailNeed:
    """A rail that a device is fed with from inside, and the most that it is asked for."""
    current = replace(figure(amps, "A"), basis=basis)
    return RailNeed(name=f"{volts:g} V", volts_v=volts, current_a=current)


def soft_start(
    ramp: Figure = 0.1, ohm: Figure = 0.0, *, every_step: bool = True, **changes: Any
) -> Part:
    """A soft start that limits every step, or only the first."""
    elements = (
        Resistance(ohm=figure(ohm, "Ω", "soft start/ohms")),
        RampSwitch(ramp_s=figure(ramp, "s", "soft start/ramp"), every_step=every_step),
    )
    return part("soft start", **{"elements": elements, **changes})


def reverser(plug: str = BARREL, centre: Any = "negative", **changes: Any) -> Part:
    """An adapter that gives that centre and takes the other."""
    other = "positive" if centre == "negative" else "negative"
    ends = {
        "takes": End(kind="barrel", plug=plug, centre=other),
        "gives": End(kind="barrel", plug=plug, centre=centre),
    }
    return part("reverser", **{**ends, "joints": 0, **changes})


def front(
    source: Charger | None = None,
    *parts: Part,
    port: str = "C1",
    company: frozenset[str] | None = None,
) -> Front:
    """A front; without parts a 9 V contract on a bare lead."""
    source = source or charger()
    return Front(
        charger=source,
        port=port,
        parts=parts or (cable(), trigger(), lead()),
        company=frozenset(source.names) if company is None else company,
    )


def device(name: str = "thing", **changes: Any) -> Appliance:
    """A device of 9 V and 0.5 A, all known: it stands 16 V and runs from 6 V."""
    figures: dict[str, tuple[Figure, str, str]] = {
        "harmed_above_v": (16.0, "V", "harmed above"),
        "runs_from_v": (6.0, "V", "runs from"),
        "steady_a": (0.5, "A", "steady current"),
        "peak_a": (0.5, "A", "peak current"),
        "capacitance_f": (1e-6, "F", "input capacitance"),
        "ride_through_s": (0.05, "s", "ride-through"),
        "jack_a": (10.0, "A", "jack"),
    }
    given = {
        key: figure(changes.pop(key, plain), unit, f"{name}/{topic}")
        for key, (plain, unit, topic) in figures.items()
    }
    plain: dict[str, Any] = {
        "id": name,
        "plug": BARREL,
        "plate_v": 9.0,
        "kind": "dc",
        "reference_v": 9.0,
        "laws": ("constant current",),
        "heat": NO_HEAT,
        "evidence": TWO_EVIDENCES,
        "ground": "negative",
        "starved_loses": False,
        "held_on": (),
        "must_survive_fault": False,
        "blink": "any",
        "plugged": "always",
        "at": None,
        "refusals": (),
        "assumptions": (),
        "conflicts": (),
    }
    return Appliance(**{**plain, **given, **changes})


def regulator_heat(
    allowed: Figure, output: Figure, quiescent: Figure = 0.0, name: str = "thing"
) -> Heat:
    """The heat of a linear regulator of which the three figures are given."""
    return Heat(
        regulator=regulators.find("7805"),
        allowed_w=figure(allowed, "W", f"{name}/heat allowed"),
        output_v=figure(output, "V", f"{name}/regulator output"),
        quiescent_a=figure(quiescent, "A", f"{name}/regulator's own current"),
        cool_up_to_v=None,
    )


def cool(up_to: Figure, name: str = "thing") -> Heat:
    """The heat of a device of which only the volts are known at which it has run."""
    return replace(NO_HEAT, cool_up_to_v=figure(up_to, "V", f"{name}/runs cool up to"))


def path(appliance: Appliance | None = None, *parts: Part, **about: Any) -> Path:
    """A front of those parts joined to a device."""
    source = about.pop("source", None)
    return Path(front=front(source, *parts, **about), appliance=appliance or device())
