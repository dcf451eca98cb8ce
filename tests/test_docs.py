"""The examples in README and docs are run as they stand; what they promise comes out."""

import re
from pathlib import Path

import pytest

from sinkside.plan import Action, Plan, plan
from sinkside.site.read import read

ROOT = Path(__file__).parent.parent
YAML = re.compile(r"^```yaml\n(.*?)^```$", re.MULTILINE | re.DOTALL)


def examples(page: str) -> list[str]:
    """The YAML blocks of a page."""
    return YAML.findall((ROOT / page).read_text(encoding="utf-8"))


def planned(text: str) -> Plan:
    return plan(read(text, "example.yaml"))


def actions(found: Plan) -> dict[str, Action]:
    return {device.id: device.action for device in found.devices}


def test_the_site_of_the_readme_is_a_whole_one() -> None:
    (text,) = examples("README.md")
    found = planned(text)
    assert not found.fails
    assert not [w for w in found.warnings if w.startswith("recheck:")]
    assert actions(found)["radio"] in (Action.BUILD, Action.TRY)


def test_the_tutorial_comes_out_as_it_says() -> None:
    plates_only, measured = (planned(text) for text in examples("docs/tutorial/first-plan.md"))
    assert set(actions(plates_only).values()) == {Action.MEASURE}
    assert set(actions(measured).values()) == {Action.TRY}


@pytest.mark.parametrize("command", ["demo", "check", "plan", "plate", "pdo", "charger", "papers"])
def test_every_command_is_in_the_readme(command: str) -> None:
    assert f"sinkside {command}" in (ROOT / "README.md").read_text(encoding="utf-8")
