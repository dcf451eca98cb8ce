"""The words of a plan: what is told of one device, of one left out, and never of harm."""

import re

import pytest

from sinkside import demo
from sinkside.cli.plan_text import lines
from sinkside.making.words import BARREL_FIRST, CAUTIONS, METER_FIRST
from sinkside.plan import Action, Plan, plan
from sinkside.rules.verdict import Stakes
from sinkside.site.read import read


@pytest.fixture(scope="module")
def fernhollow() -> Plan:
    return plan(read(demo.text(), demo.FILE))


def told(found: Plan, device: str | None = None, *, why: bool = False) -> str:
    return re.sub(r"\s+", " ", "\n".join(lines(found, device, why=why)))


def test_the_whole_plan_ends_with_every_caution(fernhollow: Plan) -> None:
    text = told(fernhollow)
    assert [c for c in CAUTIONS if c not in text] == []


def test_one_device_has_the_cautions_that_matter_and_points_to_the_rest(fernhollow: Plan) -> None:
    text = told(fernhollow, "mixer")
    assert METER_FIRST in text
    assert BARREL_FIRST in text
    assert CAUTIONS[3] not in text
    assert f"The plan of the whole site ends with all {len(CAUTIONS)} cautions." in text


def test_how_likely_it_is_stands_beside_misbehaving_only(fernhollow: Plan) -> None:
    grave = (Stakes.HARM, Stakes.LOSS)
    for device in fernhollow.devices:
        for line in told(fernhollow, device.id, why=True).split(" - ")[1:]:
            if line.startswith(("may harm", "may lose")):
                assert "plausible cases" not in line
    open_ = [f for d in fernhollow.devices if d.chosen for f in d.chosen.open(*grave)]
    assert open_, "nothing grave is open in the demo, so this shows nothing"


def test_who_is_left_out_is_told_who_has_its_port(fernhollow: Plan) -> None:
    (left,) = (d.id for d in fernhollow.devices if d.action is Action.LEAVE)
    text = told(fernhollow, left)
    assert "Who has the ports: single no. 1:" in text


def test_reasons_of_losers_begin_with_chains_and_then_parts_that_were_chosen(
    fernhollow: Plan,
) -> None:
    text = told(fernhollow, "field-recorder", why=True)
    head, _, parts = text.partition("Never built with, owned or chosen parts first: ")
    assert head.index("chains were judged") > head.index("Workings")
    chosen = fernhollow.device("field-recorder").chosen
    assert chosen is not None
    owned = {p.id for p in fernhollow.site.parts if p.owned}
    assert parts.split(":")[0] in owned | {p.id for p in chosen.front.parts}


def test_a_line_is_no_wider_than_the_terminal_it_is_set_for(fernhollow: Plan) -> None:
    assert [line for line in lines(fernhollow) if len(line) > 98] == []
