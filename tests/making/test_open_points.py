"""What is open over a site: the order of measurements against trying every order."""

from itertools import permutations

import pytest
from tests.making import sites

from sinkside.advice import advise
from sinkside.making.open_points import OpenMeasurement, open_points
from sinkside.plan import Plan
from sinkside.rules.verdict import Stakes, Verdict


@pytest.fixture(scope="module")
def others() -> Plan:
    return sites.planned(sites.OTHERS)


def weights(plan: Plan) -> dict[tuple[str, str], float]:
    """What each open finding weighs: grave things four times."""
    grave = (Stakes.HARM, Stakes.LOSS)
    return {
        (d.id, f.rule): 4.0 if f.stakes in grave else 1.0
        for d in plan.devices
        for f in (d.chosen.findings if d.chosen else ())
        if f.verdict is Verdict.UNPROVEN
    }


def settled_by(m: OpenMeasurement) -> set[tuple[str, str]]:
    return {(s.device, rule) for s in m.devices for rule in s.rules}


def test_everything_that_can_be_settled_is_settled_once(demo_plan: Plan, others: Plan) -> None:
    for plan in (demo_plan, others):
        found = open_points(plan).measurements
        told = [key for m in found for key in settled_by(m)]
        assert len(told) == len(set(told))
        can = {(d.id, r) for d in plan.devices for a in advise(d, plan) for r in a.settles}
        assert set(told) == can
        assert can <= weights(plan).keys()


def test_worth_is_what_is_settled_for_each_minute_and_it_falls(others: Plan) -> None:
    found = open_points(others).measurements
    weight = weights(others)
    for m in found:
        assert m.worth == pytest.approx(sum(weight[key] for key in settled_by(m)) / m.minutes)
    worths = [m.worth for m in found]
    assert worths == sorted(worths, reverse=True)
    assert len(found) >= 4


def test_the_first_is_the_best_of_all(others: Plan) -> None:
    """Of every order of the first three, none settles more for its minutes at the first step."""
    found = open_points(others).measurements[:3]
    weight = weights(others)

    def first_worth(order: tuple[OpenMeasurement, ...]) -> float:
        return sum(weight[key] for key in settled_by(order[0])) / order[0].minutes

    assert max(map(first_worth, permutations(found))) == pytest.approx(found[0].worth)
    assert found[0].id == "old-brick"
    assert found[0].at == "unknown-poles"


def test_minutes_risks_and_warnings_are_those_of_the_whole_site(demo_plan: Plan) -> None:
    found = open_points(demo_plan)
    assert found.minutes == sum(m.minutes for m in found.measurements)
    risks = [(d.id, r) for d in demo_plan.devices if d.chosen for r in d.chosen.risks]
    assert set(risks) <= {(r.device, r.words) for r in found.risks}
    assert set(demo_plan.warnings) <= set(found.warnings)
    assert "Stop at smell, heat or hum." in found.cautions
