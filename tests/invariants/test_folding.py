"""What is reckoned once for many chains is what each of them comes to by itself.

Search and judge fold what is alike: ends over triggers, companies of ports over figures, rows over
situations. Nothing is left out by that, so whole devices are compared with their chains one by one.
No outside source: the program's own promise.
"""

import random
from functools import cache

import numpy as np
import pytest
from tests.invariants.whole_sites import SITES

from sinkside.paths.front import Front
from sinkside.paths.judge import Judged, judge
from sinkside.paths.pool import Pool
from sinkside.paths.rank import keys, ranked
from sinkside.paths.search import Limits, Place, Rejects, fronts, search
from sinkside.site.appliance import Appliance
from sinkside.site.read import read
from sinkside.site.site import Site
from sinkside.site.survey import survey

OF_A_DEVICE = 12
SEED = 31


@cache
def read_site(name: str) -> Site:
    return read(SITES[name], name)


def appliances(site: Site) -> list[Appliance]:
    found = [survey(d, site.ambient_at(d.at)) for d in site.devices]
    return [a for a in found if not a.refusals]


def places(site: Site, appliance: Appliance) -> list[Place]:
    return [
        Place(
            charger=charger,
            port=port,
            companies=charger.occupancies(port),
            limits=Limits(solder=True, reach_m=site.distance_m(charger.at, appliance.at)),
        )
        for charger in site.chargers
        for port in charger.names
    ]


@cache
def searched(name: str) -> list[Pool]:
    site = read_site(name)
    return [
        search(appliance, places(site, appliance), site.parts, Rejects())
        for appliance in appliances(site)
    ]


@pytest.mark.parametrize("name", SITES)
def test_a_search_of_all_ports_is_that_of_each_port_in_each_company(name: str) -> None:
    site = read_site(name)
    for appliance, pool in zip(appliances(site), searched(name), strict=True):
        together, apart = Rejects(), Rejects()
        singly: list[Front] = []
        search(appliance, places(site, appliance), site.parts, together)
        for at in places(site, appliance):
            for company in at.companies:
                singly += fronts(
                    appliance, at.charger, at.port, company, site.parts, at.limits, apart
                )
        assert [pool.front(i) for i in range(len(pool))] == singly
        assert list(together.reasons.items()) == list(apart.reasons.items())
        assert together.examples == apart.examples


def told(judged: Judged, index: int) -> tuple[object, ...]:
    return (
        *(int(codes[index]) for codes in judged.verdicts.values()),
        *(repr(judged.decides(rule.id, index)[0]) for rule in judged.rules),
        repr(float(judged.loss_w[index])) if len(judged.rows) else "",
    )


@pytest.mark.parametrize("name", SITES)
def test_a_chain_among_thousands_is_judged_as_it_is_alone(name: str) -> None:
    draw = random.Random(SEED)
    for pool in searched(name):
        judged = judge(pool)
        for i in draw.sample(range(len(pool)), min(OF_A_DEVICE, len(pool))):
            alone = judge([pool[i]])
            if len(alone.rows):
                assert told(judged, i) == told(alone, 0)
            row, own = judged.decides("over-volts", i)[1], alone.decides("over-volts", 0)[1]
            if len(alone.rows):
                # The state is the chain's own, with its own companies.
                assert judged.rows[row].state == alone.rows[own].state


@pytest.mark.parametrize("name", SITES)
def test_what_decides_one_chain_is_what_decides_it_among_all(name: str) -> None:
    for pool in searched(name):
        judged = judge(pool)
        for i in range(0, len(pool), 97):
            for k, rule in enumerate(judged.rules):
                margin, row = judged.decides(rule.id, i)
                assert margin == judged.margins[k, i]
                if np.isfinite(margin):
                    assert row == judged.deciding[k, i]


@pytest.mark.parametrize("name", SITES)
def test_paths_come_in_the_order_of_their_keys(name: str) -> None:
    for pool in searched(name):
        judged = judge(pool)
        found = keys(judged)
        assert ranked(judged).order == tuple(sorted(range(len(pool)), key=found.__getitem__))
        assert [key.id for key in found] == [pool.front(i).id for i in range(len(pool))]
