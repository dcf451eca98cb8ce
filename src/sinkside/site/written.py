"""The site file as a person writes it. Every key of the file is a field here."""

import re
from functools import lru_cache
from typing import Annotated, Any, Literal, TypeAlias, get_args

from pydantic import AfterValidator, BeforeValidator, Field, GetJsonSchemaHandler, WithJsonSchema
from pydantic_core import CoreSchema

from sinkside import plates, quantity
from sinkside.faults import NotUnderstood
from sinkside.faults.written import Named, Written
from sinkside.parts import port_list
from sinkside.parts.charger import CONTINUOUS, Charger, Occupied, Offer, Port
from sinkside.parts.fields import (
    Ambient,
    Amps,
    Cents,
    Count,
    Efficiency,
    Metres,
    Plug,
    Said,
    Seconds,
    VaryingSeconds,
    Volts,
    YesNo,
    said,
    with_basis,
)
from sinkside.parts.written import AnyPart, AnyPartUnion
from sinkside.quantity import Basis, Quantity, varies
from sinkside.site.rails import Rails

Use: TypeAlias = Literal[
    "ordinary", "medical", "alarm", "vehicle", "aircraft", "outdoor", "fixed", "machinery"
]
InsideKind: TypeAlias = Literal[
    "unknown",
    "linear regulator",
    "switching regulator",
    "5 V logic",
    "resistive",
    "heater",
    "lamp",
    "motor",
    "lit diodes",
    "amplifier",
    "charge pump",
    "battery charger",
    "dry cells",
    "internal mains supply",
]


def as_text(example: str) -> WithJsonSchema:
    """For editors: a value that is written as text."""
    return WithJsonSchema({"type": ["string", "null"], "examples": [example]})


def _currency(value: Any) -> Any:
    if isinstance(value, str) and re.fullmatch(r"[A-Z]{3}", value):
        return value
    raise NotUnderstood(f"{value!r} is no currency", "write three capitals, like EUR")


def _tariff(value: Any) -> Any:
    good = r"\s*\d{1,4}(?:[.,]\d{1,4})?\s*[A-Z]{3}/kWh\s*"
    if value is None or (isinstance(value, str) and re.fullmatch(good, value)):
        return value
    raise NotUnderstood(f"{value!r} is no tariff", "write it like 0.31 EUR/kWh")


def _plate(value: Any) -> Any:
    """A plate as it is printed, read when it is asked for; what cannot be one is told here."""
    if isinstance(value, str):
        plates.refuse_too_long(value)
    return value


def _around(value: Quantity | None) -> Quantity | None:
    """Around old gear that somebody looks after; colder and hotter its parts are not made for."""
    low, high = AROUND_DEGC
    if value is not None and not low <= value.low <= value.high <= high:
        raise NotUnderstood(
            f"{quantity.span(value.low, value.high, '°C')} is no ambient of such gear",
            f"from {low:g} to {high:g} °C are taken",
        )
    return value


# The industrial range of parts (common practice, no source).
AROUND_DEGC = (-40.0, 85.0)
Around: TypeAlias = Annotated[Ambient, AfterValidator(_around)]


def _conductors(value: int) -> int:
    if not 2 <= value <= MOST_CONDUCTORS:
        raise NotUnderstood(
            f"{value} is no number of conductors", f"an inlet has 2 to {MOST_CONDUCTORS}"
        )
    return value


MOST_CONDUCTORS = 24
Plate: TypeAlias = Annotated[str | None, BeforeValidator(_plate)]


class SiteHeader(Written):
    """What the whole site shares."""

    name: str
    mains: Literal["230 V 50 Hz", "120 V 60 Hz", "100 V 50 Hz", "100 V 60 Hz"] = "230 V 50 Hz"
    ambient: Around = varies(15.0, 35.0, "°C", Basis.ASSUMED)
    currency: Annotated[str, BeforeValidator(_currency)] = "EUR"
    tariff: Annotated[str | None, BeforeValidator(_tariff)] = None


class RulesWritten(Written):
    """What the person is able and willing to do."""

    solder: YesNo = False
    open_cases: YesNo = False
    mains_side: Literal["never", "qualified"] = "never"
    changes: Literal["reversible only", "any"] = "reversible only"
    budget: Cents = None
    spare_ports: Literal["may be used", "blocked"] = "may be used"
    single_fault: Literal["residual risk", "must survive"] = "residual risk"


class PlaceWritten(Written):
    """A place that devices and chargers stand at."""

    id: str
    ambient: Around | None = None
    to: dict[str, Metres] = Field(default_factory=dict)

    def __hash__(self) -> int:
        return hash((self.id, self.ambient, frozenset(self.to.items())))


class InletWritten(Written):
    """The inlet of a device."""

    plug: Plug
    centre: Annotated[Said | None, said("positive", "negative", "unknown")] = None
    ground: Annotated[Said | None, said("negative", "positive", "mid", "isolated", "unknown")] = (
        None
    )
    conductors: Annotated[Count, AfterValidator(_conductors)] = 2


_CAPACITOR = re.compile(r"^(?P<farad>.+?[µuμm]?F)\s+(?P<volts>[\d.,]+\s*V)\s*(?P<basis>\(.*\))?$")


class Capacitor(Written):
    """An input capacitor as printed on it: `2200 µF 16 V (datasheet)`."""

    farad: Quantity
    rated_v: Quantity | None


def _capacitor(value: Any) -> Any:
    if value is None or value == "unknown" or isinstance(value, Capacitor):
        return value if isinstance(value, Capacitor) else None
    if not isinstance(value, str):
        raise NotUnderstood("a capacitor is wanted here", "write it like 2200 µF 16 V (datasheet)")
    found = _CAPACITOR.match(value.strip())
    farad = found["farad"] if found else value
    tail = (found["basis"] or "(plate)") if found else ""
    printed = quantity.read(f"{farad} {tail}", "F", basis=Basis.PLATE, at_least=0.0)
    if printed.low == printed.high:  # aluminium electrolytics are ±20 % (common practice)
        printed = quantity.unknown(0.8 * printed.low, 1.2 * printed.low, "F", printed.basis)
    rated = quantity.read(f"{found['volts']} {tail}", "V") if found else None
    return Capacitor(farad=printed, rated_v=rated)


# With the comma it wants quotes between braces, so it may be said without.
FULL_BRIDGE = ("full bridge, no tap", "full bridge without tap")


class InsideWritten(Written):
    """What follows the inlet."""

    is_: InsideKind = Field(alias="is", default="unknown")
    part: str | None = None
    in_front: Annotated[
        Said | None, said("nothing", "diode", "bridge", *FULL_BRIDGE, "unknown")
    ] = None
    heat_sink: Literal["none", "small", "large", "unknown"] = "unknown"
    input_capacitor: Annotated[
        Capacitor | None,
        BeforeValidator(_capacitor),
        as_text("2200 µF 16 V (plate)"),
    ] = None
    runs_from: Volts = None
    harmed_above: Volts = None
    rails: Rails = ()


def _inside(value: Any) -> Any:
    """`inside: unknown` is short for `inside: {is: unknown}`."""
    return {"is": value} if isinstance(value, str) else ({} if value is None else value)


class _WordOrMapping:
    """For editors: one word may stand for the whole mapping."""

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        return {"anyOf": [{"enum": list(get_args(InsideKind))}, handler(core)]}


class DrawsWritten(Written):
    """What a device draws."""

    steady: Amps = None
    idle: Amps = None
    peak: Amps = None
    peak_time: Seconds = None


_LOADED = re.compile(r"^(?P<volts>.+?V)\s+at\s+(?P<amps>[^()]+?A)\s*(?P<basis>\(.*\))?$")


class Loaded(Written):
    """Volts at a current: `10.9 V at 600 mA (measured)`."""

    volts: Quantity
    amps: Quantity | None


def _loaded(value: Any) -> Any:
    if value is None or value == "unknown" or isinstance(value, Loaded):
        return value if isinstance(value, Loaded) else None
    if not isinstance(value, str):
        raise NotUnderstood("volts under load are wanted", "write 10.9 V at 600 mA (measured)")
    found = _LOADED.match(value.strip())
    if found is None:
        return Loaded(volts=with_basis(quantity.read(value, "V", at_least=0.0), value), amps=None)
    tail = found["basis"] or ""
    return Loaded(
        volts=with_basis(quantity.read(f"{found['volts']} {tail}", "V", at_least=0.0), value),
        amps=quantity.read(f"{found['amps']} {tail}", "A", at_least=0.0),
    )


class BrickWritten(Written):
    """The device's own old brick, and what a meter says of it."""

    plate: Plate = None
    open: Volts = None
    loaded: Annotated[
        Loaded | None, BeforeValidator(_loaded), as_text("10.9 V at 600 mA (measured)")
    ] = None
    centre: Annotated[Said | None, said("positive", "negative", "unknown")] = None
    kind: Annotated[Said | None, said("dc", "ac", "unknown")] = None
    original: YesNo | None = None
    kept: YesNo = True


class DeviceWritten(Written):
    """A device as found."""

    id: str
    use: Use
    plate: Plate = None
    inlet: InletWritten
    inside: Annotated[InsideWritten, BeforeValidator(_inside), _WordOrMapping] = InsideWritten()
    draws: DrawsWritten = DrawsWritten()
    starved: Literal["loses data", "misbehaves"] = "misbehaves"
    blink: Literal["never", "brief", "any"] = "brief"
    ride_through: Seconds = None
    plugged: Literal["always", "when used"] = "always"
    at: str | None = None
    brick: BrickWritten | None = None
    held_on: tuple[str, ...] = ()
    ran: Annotated[
        Loaded | None, BeforeValidator(_loaded), as_text("10.9 V at 600 mA (measured)")
    ] = None
    words: str = ""


class PortWritten(Written):
    """What a port offers, and whether that is only a guess from its watts."""

    offers: tuple[Offer, ...]
    guessed: bool

    def port(self, name: str) -> Port:
        """The port under its name."""
        return Port(name=name, offers=self.offers, guessed=self.guessed)


def _port(value: Any) -> Any:
    if isinstance(value, PortWritten):
        return value
    if not isinstance(value, str):
        raise NotUnderstood("a port's list is wanted here", "write it like 5V⎓3A 9V⎓3A")
    return _listed(value)


@lru_cache(maxsize=1024)
def _listed(text: str) -> PortWritten:
    """A list as it is printed, kept: chargers of one kind say the same."""
    offers, guessed = port_list.read(text)
    return PortWritten(offers=offers, guessed=guessed)


Offers: TypeAlias = Annotated[
    PortWritten,
    BeforeValidator(_port),
    WithJsonSchema({"type": "string", "examples": ["5V⎓3A 9V⎓3A", "0x0001912C", "65 W"]}),
]


class ChargerWritten(Written):
    """A charger on the shelf."""

    id: str
    is_: Literal["charger"] = Field(alias="is")
    count: Count = 1
    at: str | None = None
    output_earth: Annotated[Said | None, said("floating", "earthed", "unknown")] = None
    class_: Literal["I", "II"] | None = Field(alias="class", default=None)
    on_change: Annotated[Said | None, said("drops all", "steps", "nothing", "unknown")] = None
    off_time: VaryingSeconds = None
    continuous: Efficiency = CONTINUOUS
    cuts_off_below: Amps = None
    sharing: Annotated[Said | None, said("independent", "unknown")] = None
    ports: dict[str, Offers]
    together: dict[str, dict[str, Offers]] = Field(default_factory=dict)
    words: str = ""

    def charger(self) -> Charger:
        """The charger that this describes."""
        together = tuple(
            (self._occupied(ports), tuple(p.port(n) for n, p in then.items()))
            for ports, then in self.together.items()
        )
        single = len(self.ports) == 1
        return Charger(
            id=self.id,
            count=self.count,
            ports=tuple(p.port(n) for n, p in self.ports.items()),
            together=together,
            sharing="table"
            if together
            else "independent"
            if single or self.sharing == "independent"
            else "unknown",
            on_change=_word(self.on_change, ("drops all", "steps", "nothing")),
            off_time_s=self.off_time and self.off_time.called(f"{self.id}/off time"),
            output_earth=_word(self.output_earth, ("floating", "earthed")),
            protection=self.class_ or "unknown",
            continuous=self.continuous,
            cuts_off_a=self.cuts_off_below and self.cuts_off_below.called(f"{self.id}/cut-off"),
            at=self.at or "",
            words=self.words,
        )

    def _occupied(self, ports: str) -> Occupied:
        return frozenset(name.strip() for name in ports.split("+"))


def _word(given: Said | None, allowed: tuple[Any, ...]) -> Any:
    return next((w for w in allowed if w == given), "unknown")


AnyShelf: TypeAlias = Annotated[ChargerWritten | AnyPartUnion, Field(discriminator="is_")]


class LinkWritten(Written):
    """A signal lead between two devices."""

    from_: str = Field(alias="from")
    to: str
    kind: Literal["audio", "video", "data"] = "audio"
    shield: Literal["both ends", "one end", "isolated", "unknown"] = "unknown"


class GroupWritten(Written):
    """Devices that run at the same time."""

    name: str
    together: tuple[str, ...]
    switch: str | None = None


class SiteWritten(Written):
    """The whole file."""

    site: SiteHeader
    rules: RulesWritten = RulesWritten()
    places: Named[PlaceWritten] = ()
    devices: Named[DeviceWritten]
    shelf: Named[AnyShelf] = ()
    market: Named[AnyPart] = ()
    links: tuple[LinkWritten, ...] = ()
    groups: tuple[GroupWritten, ...] = ()
