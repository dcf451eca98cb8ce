"""Everything about keeping things apart, from a plan: what the matrix shows, and what conducts."""

from dataclasses import dataclass

from sinkside import grounds
from sinkside.mixups import at_site
from sinkside.plan.model import Plan
from sinkside.rules.verdict import Verdict


@dataclass(frozen=True, kw_only=True)
class KeptApart:
    """What is to be said of plugs and of grounds.

    Parameters
    ----------
    site, currency
        By name.
    plugs
        Every lead in every inlet, and how to keep them apart.
    conductors
        Shorts, loops, back-feed and touch current.
    """

    site: str
    currency: str
    plugs: at_site.Report
    conductors: grounds.Report

    @property
    def fails(self) -> bool:
        """Whether something surely harms, whatever is done of what is proposed."""
        left = any(pair.verdict is Verdict.FAILS for pair in self.plugs.separation.left)
        shorts = any(r.meeting.verdict is Verdict.FAILS for r in self.conductors.shorts)
        return left or shorts


def kept_apart(plan: Plan) -> KeptApart:
    """What is to be said of plugs and of grounds at a site.

    Parameters
    ----------
    plan
        A finished plan: its leads are those that it chose.
    """
    appliances = [device.appliance for device in plan.devices]
    chosen = [(device.id, device.chosen) for device in plan.devices if device.chosen]
    seated = {name: (path.front, path.seat.unit) for name, path in chosen}
    return KeptApart(
        site=plan.site.name,
        currency=plan.site.currency,
        plugs=at_site.report(
            plan.site,
            appliances,
            [(name, path.front) for name, path in chosen],
            plan.bought,
            grounds.mixed_up(seated, plan.clashes),
        ),
        conductors=grounds.report(
            plan.site, appliances, seated, {c.id: c.protection for c in plan.site.chargers}
        ),
    )
