"""Everything that is to be said of mix-ups at a site: the matrix, what to do, and what stays."""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.brick_cells import brick_matrix, meet_brick
from sinkside.mixups.brick_figures import Inlets
from sinkside.mixups.connectors import connectors
from sinkside.mixups.elsewhere import Elsewhere, elsewhere
from sinkside.mixups.ends import Choice, EndOf, InletEnd, LeadEnd, Question
from sinkside.mixups.labels import Label, labels
from sinkside.mixups.new_leads import NO_SHORTS, Leads, Shorts, matrix, meet
from sinkside.mixups.old_brick import OldBrick, old_bricks
from sinkside.mixups.outcome import Cell
from sinkside.mixups.replug import Supplies, choices, end_of_inlet, end_of_lead, prices_of
from sinkside.mixups.separate import Separation, separate
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS
from sinkside.site.site import Site

Bought: TypeAlias = Iterable[tuple[str, int]]


@dataclass(frozen=True, kw_only=True)
class Report:
    """What is to be said of mix-ups at a site.

    Parameters
    ----------
    inlets
        The devices, in the order of the columns.
    bricks
        The old bricks that are there.
    cells
        Every lead and every old brick in every inlet, row by row.
    separation
        The cheapest way to keep them apart.
    without_ties
        The same where no new lead may be tied to its device, whatever it costs; None where none
        is tied anyway.
    elsewhere
        The new leads at the ports of other chargers.
    """

    inlets: tuple[str, ...]
    bricks: tuple[OldBrick, ...]
    cells: tuple[Cell, ...]
    separation: Separation
    without_ties: Separation | None
    elsewhere: tuple[Elsewhere, ...]
    labels: tuple[Label, ...]

    @property
    def harmful(self) -> tuple[Cell, ...]:
        """The pairs that harm, or may, as things are."""
        return tuple(c for c in self.cells if c.harmful and not c.own)


@dataclass(frozen=True, kw_only=True)
class Pairs:
    """Every plug of a site in every inlet.

    Parameters
    ----------
    appliances
        All devices of the site as surveyed, in its order.
    fronts
        For each device that moves to a charger, its chain.
    bought
        How many of each part the plan buys.
    shorts
        For a device's lead and another's inlet: whether a charger's negative would then be
        shorted through signal leads.
    bricks
        The old bricks that are there.
    cells
        Every lead and every old brick in every inlet, row by row.
    """

    site: Site
    appliances: Sequence[Appliance]
    fronts: Leads
    bought: Bought
    shorts: Shorts
    bricks: tuple[OldBrick, ...]
    cells: tuple[Cell, ...]

    @property
    def leads(self) -> Leads:
        """The chains that end in a plug."""
        return _plugged(self.fronts)

    def question(self) -> Question:
        """The question of keeping them apart."""
        site, supplies = (
            self.site,
            Supplies.of(self.site.parts, connectors(), solder=self.site.rules.solder),
        )
        ordinary = {device.id for device in site.devices if device.use == "ordinary"}
        by_id = {appliance.id: appliance for appliance in self.appliances}
        possible = choices([x for x in self.leads if x[0] in ordinary], self.appliances, supplies)
        prices = prices_of(supplies)
        spent = sum(prices[part] * count for part, count in self.bought)
        tie, bag = supplies.connectors.tie.id, supplies.connectors.bag.id
        # A lead that is unplugged after use is not tied; nothing is done to what others service.
        tied = {a.id: tie for a in self.appliances if a.plugged == "always" and a.id in ordinary}
        return Question(
            leads=(
                *(_lead_end(d, front, by_id[d], tied.get(d, "")) for d, front in self.leads),
                *(
                    _brick_end(brick, tied.get(brick.device, "") if brick.in_use else bag)
                    for brick in self.bricks
                ),
            ),
            inlets=tuple(_inlet_end(a, possible.get(a.id)) for a in self.appliances),
            harm=_harm(self.leads, self.bricks, self.appliances, self.shorts),
            prices=prices,
            planned=Counter(part.id for _, front in self.fronts for part in front.parts),
            owned={part.id: part.owned for part in site.parts},
            budget=None if site.rules.budget is None else site.rules.budget - spent,
        )


def pairs(
    site: Site,
    appliances: Sequence[Appliance],
    fronts: Leads,
    bought: Bought = (),
    shorts: Shorts = NO_SHORTS,
) -> Pairs:
    """What becomes of every plug in every inlet; the parameters are those of `Pairs`."""
    moved = {device for device, _ in fronts}
    bricks = old_bricks(site.devices, appliances, {a.id for a in appliances} - moved)
    return Pairs(
        site=site,
        appliances=appliances,
        fronts=fronts,
        bought=tuple(bought),
        shorts=shorts,
        bricks=bricks,
        cells=(
            *matrix(_plugged(fronts), appliances, shorts),
            *brick_matrix(bricks, appliances),
        ),
    )


def _plugged(fronts: Leads) -> Leads:
    return [(device, front) for device, front in fronts if front.end.plug]


def report(found: Pairs) -> Report:
    """Everything that is to be said of mix-ups at a site."""
    question = found.question()
    best = separate(question)
    untied = None
    if any(source == "lead" for _, source in best.tied):
        plain = tuple(
            replace(lead, tie="") if lead.source == "lead" else lead for lead in question.leads
        )
        untied = separate(replace(question, leads=plain, budget=None))
    return Report(
        inlets=tuple(a.id for a in found.appliances),
        bricks=found.bricks,
        cells=found.cells,
        separation=best,
        without_ties=untied,
        elsewhere=elsewhere(found.leads, found.appliances, found.site.chargers),
        labels=labels(found.leads, found.bricks, found.cells, best),
    )


def _lead_end(device: str, front: Front, appliance: Appliance, tie: str) -> LeadEnd:
    # While nobody knows the poles of its inlet, the plug of a lead is not to be made up.
    known = front.end.centre is not None and appliance.centre is not None
    return LeadEnd(device=device, end=end_of_lead(front.end), poles_known=known, tie=tie)


def _brick_end(brick: OldBrick, tie: str) -> LeadEnd:
    fixed = brick.plug in USB_PLUGS
    return LeadEnd(
        device=brick.device,
        source="brick",
        end=EndOf(plug=brick.plug, centre=brick.centre, fixed_poles=fixed),
        poles_known=brick.centre_is_sure,
        alternating=brick.kind == "ac",
        tie=tie,
        stored=not brick.in_use,
    )


def _inlet_end(appliance: Appliance, possible: tuple[Choice, ...] | None) -> InletEnd:
    end = end_of_inlet(appliance)
    return InletEnd(
        device=appliance.id,
        choices=possible or (Choice(lead=end, inlet=end),),
        witnesses=frozenset(e.centre for e in appliance.evidence),
        settled=len({e.observed for e in appliance.evidence}) >= 2,
        either=appliance.kind in ("either", "ac"),
    )


def _harm(
    leads: Leads, bricks: Sequence[OldBrick], appliances: Sequence[Appliance], shorts: Shorts
) -> NDArray[np.int8]:
    """What each lead does in each inlet if it goes on, polarity left aside."""
    pairs = [(i, k) for i in range(len(leads)) for k in range(len(appliances))]
    of_leads = meet(leads, appliances, pairs, shorts).picked.harm
    figures = Inlets.of(appliances)
    rows = [meet_brick(brick, appliances, figures).picked.harm for brick in bricks]
    return np.vstack([of_leads.reshape(len(leads), len(appliances)), *rows]).astype(np.int8)
