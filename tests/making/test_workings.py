"""The appendix: every finding of every chain, each figure to be redone."""

import pytest
from tests.making import sites

from sinkside.making.workings import appendices, appendix
from sinkside.plan import Plan


def test_every_finding_stands_there_and_every_working_can_be_redone(demo_plan: Plan) -> None:
    found = {a.device: a for a in appendices(demo_plan)}
    assert set(found) == {d.id for d in demo_plan.devices if d.chosen}
    redone = 0
    for device in demo_plan.devices:
        if device.chosen is None:
            continue
        worked = found[device.id].findings
        assert [w.rule for w in worked] == [f.rule for f in device.chosen.findings]
        for one, finding in zip(worked, device.chosen.findings, strict=True):
            assert one.verdict == finding.verdict.word
            assert one.source
            if one.working is not None:
                assert one.working.again() == pytest.approx(one.working.result, abs=1e-9)
                assert one.margin
                redone += 1
    assert redone > 150


def test_what_is_open_names_what_is_not_known() -> None:
    plan = sites.planned(sites.OTHERS)
    worked = appendix(plan.device("unknown-poles"))
    assert worked is not None
    polarity = next(w for w in worked.findings if w.rule == "polarity")
    assert (polarity.verdict, polarity.stakes, polarity.margin) == ("unproven", "harm", "")
    assert polarity.unknowns == ("unknown-poles/polarity",)
    assert polarity.working is None
    assert appendix(plan.device("clinic-pump")) is None
