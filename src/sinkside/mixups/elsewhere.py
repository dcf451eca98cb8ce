"""What a new lead does to its own device when its other end goes into another charger.

The plug at the device is one half of a mix-up, the USB-C plug is the other: a trigger that does
not find its volts takes others.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sinkside.mixups.new_leads import Leads, meet
from sinkside.mixups.outcome import Outcome, word
from sinkside.parts.charger import Charger
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance


@dataclass(frozen=True, kw_only=True)
class Elsewhere:
    """A lead, with its own device, at a port that it is not planned for.

    Parameters
    ----------
    top_v, state
        The highest volts that come, and in what state of the supply.
    """

    lead: str
    charger: str
    port: str
    outcome: Outcome
    sure: bool
    rule: str
    top_v: float
    state: str

    @property
    def harmful(self) -> bool:
        """Whether it harms, or nobody can say that it does not."""
        return self.outcome.harmful

    @property
    def word(self) -> str:
        """The outcome as people read it."""
        return word(self.outcome, sure=self.sure)


def elsewhere(
    leads: Leads, appliances: Sequence[Appliance], chargers: Sequence[Charger]
) -> tuple[Elsewhere, ...]:
    """Every new lead at every other port that its plug goes into.

    Parameters
    ----------
    leads
        The device that each front is made for, and the front.
    appliances
        All devices.
    chargers
        All kinds of charger that are there; whatever else is plugged in, with any company.
    """
    inlets = {appliance.id: k for k, appliance in enumerate(appliances)}
    moved = [
        (device, replace(front, charger=charger, port=port, company=frozenset(charger.names)))
        for device, front in leads
        for charger in chargers
        for port in charger.names
        if _goes(front, charger, port)
    ]
    pairs = [(i, inlets[device]) for i, (device, _) in enumerate(moved)]
    met = meet(moved, appliances, pairs)
    return tuple(
        Elsewhere(
            lead=device,
            charger=front.charger.id,
            port=front.port,
            outcome=met.picked.outcomes[i],
            sure=met.picked.sure[i],
            rule=met.picked.rules[i],
            top_v=met.brings[i][0],
            state=met.brings[i][1],
        )
        for i, (device, front) in enumerate(moved)
    )


def _goes(front: Front, charger: Charger, port: str) -> bool:
    """Whether it is another port than the planned one, and of the same form."""
    if (charger.id, port) == (front.charger.id, front.port):
        return False
    wanted = "A" if front.parts[0].takes.kind == "usb-a" else "C"
    return charger.port(port).receptacle == wanted
