"""What is proposed is done to random sites, and the matrix is made again: what was to be kept
apart is apart, what is told to stay stays, and every device still runs on its own lead."""

import random
from dataclasses import replace
from functools import cache
from typing import Any

from tests.mixups.sites import made_up, plain, site, told
from tests.paths import small_parts as small

from sinkside.mixups import matrix
from sinkside.mixups.at_site import Report
from sinkside.mixups.brick_cells import brick_matrix
from sinkside.mixups.ends import EndOf
from sinkside.mixups.old_brick import OldBrick
from sinkside.parts.part import End
from sinkside.paths.front import Front
from sinkside.site.appliance import Appliance, Evidence, Observed

SOURCE = small.charger("5:3 9:3 12:3 15:3 20:3")
VOLTS = (9, 12, 15, 20)
WITNESSES = (Observed.DEVICE_PRINT, Observed.INLET_METER)


def world(draw: random.Random) -> tuple[Any, list[Appliance], list[tuple[str, Front]]]:
    """A few boxes of several volts and poles, some with a brick, some that stay on it."""
    names = [f"d{i}" for i in range(draw.randint(3, 6))]
    said, appliances, fronts = {}, [], []
    for name in names:
        volts, plug = draw.choice(VOLTS), draw.choice(("5.5x2.1", "5.5x2.5"))
        centre = draw.choice(("positive", "positive", "negative"))
        brick = ""
        if draw.random() < 0.4:
            opened = volts * draw.choice((1.02, 1.5))
            kind = draw.choice(("V DC", "V DC", " VAC"))
            pole = f", centre: {centre} (measured)" if draw.random() < 0.6 else ""
            meter = f", open: {opened:.1f} V (measured)" if draw.random() < 0.6 else ""
            brick = f', brick: {{plate: "OUTPUT {volts}{kind} 1A"{meter}{pole}}}'
        said[name] = plain(brick, plug, volts)
        stands = volts * 1.05 * draw.choice((1.0, 1.3, 1.6))
        moved = draw.random() < 0.85
        appliances.append(
            small.device(
                name,
                plug=plug,
                plate_v=float(volts),
                reference_v=float(volts),
                harmed_above_v=(stands, stands * draw.choice((1.0, 1.3))),
                runs_from_v=0.8 * volts,
                steady_a=0.3,
                peak_a=0.3,
                evidence=tuple(
                    Evidence(observed=seen, centre=centre)
                    for seen in WITNESSES[: draw.choice((1, 2, 2, 2))]
                ),
                plugged=draw.choice(("always", "when used")),
            )
        )
        if moved:
            fronts.append((name, small.front(SOURCE, *made_up(volts, centre, plug))))
    budget = draw.choice(("", "", ", budget: 3 EUR"))
    return site(said, rules=budget), appliances, fronts


def ended(front: Front, end: EndOf) -> Front:
    """The lead with its new plug; of a keyed pair the convention is plus in the middle."""
    new = End(kind="barrel", plug=end.plug, centre="positive" if end.fixed_poles else end.centre)
    return replace(front, parts=(*front.parts[:-1], replace(front.parts[-1], gives=new)))


def adapted(appliance: Appliance, end: EndOf) -> Appliance:
    """The device with its adapter: as much is known of its poles as before."""
    centre: Any = "positive" if end.fixed_poles else end.centre
    seen = tuple(replace(e, centre=centre) for e in appliance.evidence)
    return replace(appliance, plug=end.plug, evidence=seen)


def again(
    report: Report, appliances: list[Appliance], fronts: list[tuple[str, Front]]
) -> set[tuple[str, str, str]]:
    """The pairs that harm, or may, once everything is done."""
    new = dict(report.separation.chosen)
    inlets = [adapted(a, new[a.id].inlet) if a.id in new else a for a in appliances]
    leads = [(d, ended(f, new[d].lead) if d in new else f) for d, f in fronts]
    # A brick that is its own goes on fitting the plug that it was made for.
    bricks: tuple[OldBrick, ...] = report.bricks
    cells = (*matrix(leads, inlets), *brick_matrix(bricks, inlets))
    tied = set(report.separation.tied)
    for cell in cells:
        if cell.own and cell.source == "lead":
            before = next(
                c
                for c in report.cells
                if (c.lead, c.source, c.inlet) == (cell.lead, cell.source, cell.inlet)
            )
            assert cell.word == before.word
    return {
        (c.lead, c.source, c.inlet)
        for c in cells
        if c.harmful and not c.own and (c.lead, c.source) not in tied
    }


SEEDS = range(36)


@cache
def reported(seed: int) -> tuple[Report, list[Appliance], list[tuple[str, Front]]]:
    """The report of a random site."""
    found, appliances, fronts = world(random.Random(seed))
    return told(found, appliances, fronts), appliances, fronts


def test_what_is_told_to_stay_stays_and_nothing_else() -> None:
    for seed in SEEDS:
        report, appliances, fronts = reported(seed)
        left = {(p.lead, p.source, p.inlet) for p in report.separation.left}
        assert again(report, appliances, fronts) == left, seed
        other = report.without_ties
        if other is not None:
            plugs_only = replace(report, separation=other)
            left = {(p.lead, p.source, p.inlet) for p in other.left}
            assert again(plugs_only, appliances, fronts) == left, seed


def test_the_random_sites_are_of_every_kind() -> None:
    reports = [reported(seed)[0] for seed in SEEDS]
    assert sum(bool(r.separation.chosen) for r in reports) > 6
    assert sum(bool(r.separation.tied) for r in reports) > 12
    assert sum(bool(r.separation.left) for r in reports) > 3
    assert sum(bool(r.harmful) for r in reports) > 24
    assert sum(r.without_ties is not None for r in reports) > 6
    assert sum(bool(r.bricks) for r in reports) > 18
