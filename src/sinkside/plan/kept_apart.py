"""Everything about keeping things apart, from a plan: what the matrix shows, and what conducts."""

from dataclasses import dataclass

from sinkside.grounds.at_site import Report, Seated, mixed_up, report
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
    conductors: Report

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
    return KeptApart(
        site=plan.site.name,
        currency=plan.site.currency,
        plugs=at_site.report(pairs(plan)),
        conductors=conductors(plan),
    )


def pairs(plan: Plan) -> at_site.Pairs:
    """Every plug of a plan in every inlet of its site."""
    seated = _seated(plan)
    return at_site.pairs(
        plan.site,
        [device.appliance for device in plan.devices],
        [(name, front) for name, (front, _) in seated.items()],
        plan.bought,
        mixed_up(seated, plan.clashes),
    )


def conductors(plan: Plan) -> Report:
    """Shorts, loops, back-feed and touch current of a plan."""
    return report(
        plan.site,
        [device.appliance for device in plan.devices],
        _seated(plan),
        {c.id: c.protection for c in plan.site.chargers},
    )


def _seated(plan: Plan) -> Seated:
    return {d.id: (d.chosen.front, d.chosen.seat.unit) for d in plan.devices if d.chosen}
