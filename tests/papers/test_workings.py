"""The appendix: the printed formula with the printed figures gives the printed result."""

import math

import pytest
from tests.papers.pages import squeezed, text_of

from sinkside.making.workings import appendices
from sinkside.papers.issue import Issue
from sinkside.papers.workings import workings_data
from sinkside.plan import Plan


def test_printed_figures_give_the_printed_result(demo_plan: Plan, issue: Issue) -> None:
    done = 0
    for device in workings_data(appendices(demo_plan), issue)["devices"]:  # type: ignore[union-attr]
        for finding in device["findings"]:  # type: ignore[index,union-attr,call-overload]
            working = finding["working"]
            if working is None:
                continue
            values = {s["symbol"]: float(s["value"]) for s in working["symbols"]}
            # By the interpreter's own arithmetic, not by the program's.
            again = eval(working["formula"], {"__builtins__": {}}, values)
            printed = float(working["result"].split()[0])
            if math.isfinite(printed):
                size = max(abs(v) for v in values.values() if math.isfinite(v))
                assert again == pytest.approx(printed, rel=1e-7, abs=1e-7 * max(size, 1e-3))
            done += 1
    assert done > 60


def test_every_finding_is_on_paper(demo_plan: Plan, demo_papers: dict[str, bytes]) -> None:
    text = text_of(demo_papers["workings.pdf"])
    for found in appendices(demo_plan):
        assert squeezed(found.chain) in text
        for worked in found.findings:
            assert squeezed(worked.title[1:]) in text
            if worked.working is not None:
                assert squeezed(worked.working.formula) in text
