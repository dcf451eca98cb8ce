"""Everything about keeping things apart, from the plan of the demo site."""

import json

import jsonschema
import pytest

from sinkside import demo
from sinkside.cli.mixups_json import SCHEMA, as_json
from sinkside.figures.matrix_marks import matrix_of
from sinkside.figures.matrix_svg import matrix_svg
from sinkside.figures.matrix_text import matrix_text
from sinkside.plan import Plan, plan
from sinkside.plan.kept_apart import KeptApart, kept_apart
from sinkside.rules.table import BY_ID
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.read import read


@pytest.fixture(scope="module")
def fernhollow() -> Plan:
    return plan(read(demo.text(), demo.FILE))


@pytest.fixture(scope="module")
def told(fernhollow: Plan) -> KeptApart:
    return kept_apart(fernhollow)


def test_the_own_squares_are_the_verdicts_of_the_plan(fernhollow: Plan, told: KeptApart) -> None:
    own = {c.lead: c for c in told.plugs.cells if c.own and c.source == "lead"}
    seated = [d for d in fernhollow.devices if d.chosen and d.chosen.front.end.plug]
    assert set(own) == {d.id for d in seated}
    for device in seated:
        assert device.chosen is not None
        of_path = [f for f in device.chosen.findings if BY_ID[f.rule].judged != "company"]
        harm = max(f.verdict for f in of_path if f.stakes is Stakes.HARM)
        rest = max(f.verdict for f in of_path if f.stakes in (Stakes.LOSS, Stakes.MISBEHAVES))
        assert own[device.id].harmful == (harm is not Verdict.FITS)
        if not own[device.id].harmful:
            words = {Verdict.FITS: "fine", Verdict.UNPROVEN: "may not run"}
            assert own[device.id].word == words[rest]


def test_the_squares_of_the_plan_are_among_them(fernhollow: Plan, told: KeptApart) -> None:
    """But for shorts through signal leads, which the plan's matrix does not look for."""
    full = {(c.lead, c.inlet): c for c in told.plugs.cells if c.source == "lead"}
    for cell in fernhollow.mixups:
        found = full[cell.lead, cell.inlet]
        assert found == cell or found.rule == "ground-short"


def test_what_is_proposed_is_proven_and_leaves_nothing(told: KeptApart) -> None:
    best = told.plugs.separation
    assert best.proven
    assert best.left == ()
    assert not told.fails


def test_the_plan_has_no_short_that_it_knows_of(told: KeptApart) -> None:
    assert [r.words for r in told.conductors.shorts if r.meeting.certain] == []


def test_every_lead_has_its_label(told: KeptApart) -> None:
    rows = {(c.lead, c.source) for c in told.plugs.cells}
    labelled = [label.on for label in told.plugs.labels if not label.on.startswith("inlet")]
    assert len(labelled) == len(set(labelled)) == len(rows)


def test_as_json_it_keeps_to_its_schema(told: KeptApart) -> None:
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    document = json.loads(json.dumps(as_json(told)))
    jsonschema.validate(document, SCHEMA)
    assert document["never"].startswith("Never lift a protective earth")


def test_it_can_be_drawn(told: KeptApart) -> None:
    matrix = matrix_of(told.plugs.cells)
    assert max(map(len, matrix_text(matrix))) <= 98
    assert matrix_svg(matrix).startswith("<svg")
