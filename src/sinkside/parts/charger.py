"""A charger: its ports, what each offers, and how that changes with what else is plugged in."""

from dataclasses import dataclass
from itertools import combinations
from typing import Literal, TypeAlias

from sinkside.frozen import hash_once
from sinkside.quantity import Quantity, unknown

Occupied: TypeAlias = frozenset[str]

# What part of its offer a charger keeps up for hours (common practice, no source): 60 to 100 %
# where nobody says, and above 40 °C around it 2.5 % less for each kelvin.
CONTINUOUS = (0.6, 1.0)
DERATED_ABOVE_DEGC = 40.0
DERATED_PER_K = 0.025


@hash_once
@dataclass(frozen=True, kw_only=True, order=True)
class Offer:
    """One entry of a port's list: fixed volts, or a range that can be asked for in steps.

    Parameters
    ----------
    power_limited
        Of a programmable range: whether the source may give less than its current where volts
        times current are more than its rated power.
    """

    low_v: float
    high_v: float
    current_a: float
    profile: Literal["fixed", "pps", "avs"] = "fixed"
    power_limited: Literal["no", "yes", "unknown"] = "unknown"

    @property
    def fixed_v(self) -> float | None:
        """The volts of a fixed offer."""
        return self.low_v if self.profile == "fixed" else None


@hash_once
@dataclass(frozen=True, kw_only=True)
class Port:
    """A port and what it offers while no other port is in use.

    Parameters
    ----------
    guessed
        Whether the offers are what the power rules ask for, and nobody has seen its list.
    """

    name: str
    offers: tuple[Offer, ...]
    guessed: bool = False

    @property
    def receptacle(self) -> Literal["A", "C"]:
        """What goes into it: a port of which the name begins with USB-A has no contract at all."""
        return "A" if self.name.upper().startswith("USB-A") else "C"

    @property
    def largest_a(self) -> float:
        """The largest current that it offers at any volts: what its protection is sized for."""
        return max(offer.current_a for offer in self.offers)


@hash_once
@dataclass(frozen=True, kw_only=True)
class Charger:
    """A kind of charger, of which `count` are owned.

    Parameters
    ----------
    together
        For each set of ports in use, what each of them offers then.
    sharing
        `table`: as `together` says. `independent`: ports do not know each other.
        `unknown`: nothing is known of what a second plug does.
    on_change
        What a change on one port does to the others.
    off_time_s
        How long the others are without their contract then; None if not known.
    output_earth
        Whether the negative of its outputs is tied to mains earth.
    protection
        Its class of protection against shock, IEC 61140.
    continuous
        What part of its offer it keeps up for hours.
    cuts_off_a
        The current under which it takes its ports to be empty; None if it does not.
    """

    id: str
    count: int
    ports: tuple[Port, ...]
    together: tuple[tuple[Occupied, tuple[Port, ...]], ...]
    sharing: Literal["table", "independent", "unknown"]
    on_change: Literal["drops all", "steps", "nothing", "unknown"]
    off_time_s: Quantity | None
    output_earth: Literal["floating", "earthed", "unknown"]
    protection: Literal["I", "II", "unknown"] = "unknown"
    continuous: tuple[float, float] = CONTINUOUS
    ambient_degc: float = 25.0
    cuts_off_a: Quantity | None = None
    at: str = ""
    words: str = ""

    @property
    def names(self) -> tuple[str, ...]:
        """The names of its ports."""
        return tuple(port.name for port in self.ports)

    def port(self, name: str) -> Port:
        """The port of that name."""
        return next(port for port in self.ports if port.name == name)

    def offers(self, name: str, occupied: Occupied) -> tuple[Offer, ...] | None:
        """What a port offers while those ports are in use; None if nobody knows."""
        alone = self.port(name)
        if alone.guessed:
            return None
        if occupied <= {name} or self.sharing == "independent":
            return alone.offers
        for ports, then in self.together:
            if ports == occupied:
                listed = next((p for p in then if p.name == name), None)
                return None if listed is None or listed.guessed else listed.offers
        return None

    def five_v_a(self, name: str) -> float:
        """The least current that a port offers at 5 V in any company."""
        lists = [self.port(name), *(p for _, then in self.together for p in then if p.name == name)]
        return min((o.current_a for p in lists for o in p.offers if o.fixed_v == 5.0), default=0.5)

    def long_share(self) -> Quantity:
        """What part of its offer it keeps up for hours where it stands."""
        heat = 1.0 - DERATED_PER_K * max(0.0, self.ambient_degc - DERATED_ABOVE_DEGC)
        low, high = (max(0.0, heat) * share for share in self.continuous)
        return unknown(low, high, "1", name=f"{self.id}/continuous load")

    def largest_a(self, name: str) -> float:
        """The largest current that a port offers in any company: what its trip is sized for."""
        lists = [self.port(name), *(p for _, then in self.together for p in then if p.name == name)]
        return max(port.largest_a for port in lists)

    def occupancies(self, name: str) -> tuple[Occupied, ...]:
        """Every set of ports in use that has this port in it, smallest first."""
        others = [n for n in self.names if n != name]
        return tuple(
            frozenset((name, *more))
            for size in range(len(others) + 1)
            for more in combinations(others, size)
        )
