"""The site: what the person says, read and checked, and nothing that was concluded from it."""

from dataclasses import dataclass

from sinkside.parts.charger import Charger
from sinkside.parts.part import Part
from sinkside.quantity import Quantity
from sinkside.site.written import (
    DeviceWritten,
    GroupWritten,
    LinkWritten,
    PlaceWritten,
    RulesWritten,
)


@dataclass(frozen=True, kw_only=True)
class Site:
    """One site file.

    Parameters
    ----------
    parts
        Everything a chain can be made of: the market that comes with the program, the
        site's own, and the shelf, once per setting.
    """

    name: str
    mains: str
    ambient: Quantity
    currency: str
    tariff: str | None
    rules: RulesWritten
    places: tuple[PlaceWritten, ...]
    devices: tuple[DeviceWritten, ...]
    chargers: tuple[Charger, ...]
    parts: tuple[Part, ...]
    links: tuple[LinkWritten, ...]
    groups: tuple[GroupWritten, ...]

    def device(self, name: str) -> DeviceWritten:
        """The device of that name; KeyError if there is none."""
        for device in self.devices:
            if device.id == name:
                return device
        raise KeyError(name)

    def distance_m(self, a: str | None, b: str | None) -> float | None:
        """How far one place is from another; nought within one, None if nobody said."""
        if not a or not b or a == b:
            return 0.0
        for here, there in ((a, b), (b, a)):
            place = next(p for p in self.places if p.id == here)
            if there in place.to:
                return place.to[there].high
        return None

    def ambient_at(self, place: str | None) -> Quantity:
        """The ambient at a place, or the site's."""
        here = next((p.ambient for p in self.places if p.id == place and p.ambient), None)
        return here or self.ambient
