"""Three sites by people who had read the README alone, against what they expected.

Each wrote a site file and worked out by hand what may come of every device, before the program was
run on it. What they expected is in `expected.yaml` beside the site, with the arithmetic: contract
±5 %, drop in the leads, two pieces of evidence of the polarity (common practice, no source).
"""

from pathlib import Path
from typing import Any

import pytest
import yaml

from sinkside.plan import plan
from sinkside.plan.model import Plan
from sinkside.rules.verdict import Verdict
from sinkside.site.read import read

HERE = Path(__file__).parent
SITES = ("home-rack", "repair-cafe", "school-lab")
# Every port is taken by what can be tried; measuring these would not give them one.
NO_PORT_LEFT = {("school-lab", "balance"), ("school-lab", "portable-scale")}


@pytest.fixture(scope="module", params=SITES)
def case(request: pytest.FixtureRequest) -> tuple[str, Plan, dict[str, Any]]:
    folder = HERE / request.param
    site = read((folder / "site.yaml").read_text(encoding="utf-8"), "site.yaml")
    expected = yaml.safe_load((folder / "expected.yaml").read_text(encoding="utf-8"))
    return request.param, plan(site), expected


def test_nothing_fits_that_must_not(case: tuple[str, Plan, dict[str, Any]]) -> None:
    _, found, expected = case
    assert {d.id for d in found.devices} == expected.keys()
    wrong = [d.id for d in found.devices if d.verdict is Verdict.FITS]
    assert [name for name in wrong if not expected[name]["may_fit"]] == []


def test_the_action_is_one_that_was_expected(case: tuple[str, Plan, dict[str, Any]]) -> None:
    name, found, expected = case
    for device in found.devices:
        if (name, device.id) in NO_PORT_LEFT:
            assert "are taken" in device.why
        else:
            assert device.action.value in expected[device.id]["actions"], device.id
