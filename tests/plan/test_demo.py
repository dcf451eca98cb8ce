"""The demo site, end to end: every promise of a plan, held against the plan that comes out."""

import json
import math
import os
import subprocess
import sys
from collections import Counter
from itertools import combinations

import pytest

from sinkside import demo
from sinkside.cli.plan_json import as_json
from sinkside.mixups import Outcome
from sinkside.paths.findings import working
from sinkside.plan import Action, Plan, plan
from sinkside.plan.recheck import recheck
from sinkside.rules.table import BY_ID
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.read import read

GRAVE = (Stakes.HARM, Stakes.LOSS)


@pytest.fixture(scope="module")
def fernhollow() -> Plan:
    return plan(read(demo.text(), demo.FILE))


def test_every_device_has_an_action_and_a_reason(fernhollow: Plan) -> None:
    assert [d.id for d in fernhollow.devices] == [d.id for d in fernhollow.site.devices]
    assert [d.id for d in fernhollow.devices if not d.why] == []


def test_most_of_it_comes_off_its_bricks_and_nothing_that_is_chosen_fails(
    fernhollow: Plan,
) -> None:
    seated = [d for d in fernhollow.devices if d.chosen]
    assert len(seated) >= len(fernhollow.devices) / 2
    assert not fernhollow.fails
    assert [d.id for d in seated if d.verdict is Verdict.FAILS] == []


def test_between_them_the_devices_meet_every_branch(fernhollow: Plan) -> None:
    """What the scenario promises; each branch by the device that was written for it."""
    actions = {d.id: d.action for d in fernhollow.devices}
    assert {d for d, a in actions.items() if a is Action.REFUSED} == {"old-modem", "hum-analyser"}
    assert set(actions.values()) == set(Action)
    parts = {d.id: {p.id for p in d.chosen.front.parts} for d in fernhollow.devices if d.chosen}
    assert "resistor-pair" in parts["session-clock"]
    assert "step-up-24v" in parts["label-printer"]
    assert "pps-trigger-gated" in parts["field-recorder"]
    assert "step-down-7.5v" in parts["dictation-machine"]
    offered = {o.low_v for c in fernhollow.site.chargers for p in c.ports for o in p.offers}
    assert 7.5 not in offered
    assert fernhollow.device("tape-echo").appliance.kind == "either"
    asks = {
        d.id: d.chosen.front.trigger.asks_v
        for d in fernhollow.devices
        if d.chosen and d.appliance.plug == "5.5x2.1"
    }
    assert {9.0, 12.0, 20.0} <= set(asks.values())
    centres = {fernhollow.device(d).appliance.centre for d in ("network-switch", "field-recorder")}
    assert centres == {"positive", "negative"}
    without_12_v = [
        c.id
        for c in fernhollow.site.chargers
        if all(o.low_v != 12.0 for p in c.ports for o in p.offers)
    ]
    assert (len(fernhollow.site.chargers), without_12_v) == (3, ["single"])


def test_the_recheck_has_nothing_to_say(fernhollow: Plan) -> None:
    assert recheck(fernhollow) == ()
    assert [w for w in fernhollow.warnings if w.startswith("recheck:")] == []


def test_what_is_refused_has_no_seat_and_says_why(fernhollow: Plan) -> None:
    refused = [d for d in fernhollow.devices if d.appliance.refusals]
    assert "old-modem" in [d.id for d in refused]
    for device in refused:
        assert device.chosen is None
        assert device.action is Action.REFUSED
        assert device.why == device.appliance.refusals[0].why
    assert [d.id for d in fernhollow.devices if d.action is Action.REFUSED] == [
        d.id for d in refused
    ]


def test_the_action_follows_from_what_is_open(fernhollow: Plan) -> None:
    """Build: all fits. Try: all harm and loss fits. Else measure."""
    for device in fernhollow.devices:
        if device.chosen is None:
            assert device.action in (Action.LEAVE, Action.REFUSED)
            continue
        counting = [f for f in device.chosen.findings if f.stakes is not Stakes.NUISANCE]
        grave = [f for f in counting if f.stakes in GRAVE and f.verdict is not Verdict.FITS]
        slight = [f for f in counting if f.verdict is not Verdict.FITS]
        wanted = Action.MEASURE if grave else Action.TRY if slight else Action.BUILD
        assert device.action is wanted, device.id


def test_to_try_a_device_two_witnesses_of_its_polarity_agree(fernhollow: Plan) -> None:
    for device in fernhollow.devices:
        if device.action in (Action.BUILD, Action.TRY):
            evidence = device.appliance.evidence
            end = device.chosen.front.end  # type: ignore[union-attr]
            if end.centre is not None and device.appliance.kind != "either":
                assert len({e.observed for e in evidence}) >= 2, device.id
                assert {e.centre for e in evidence} == {end.centre}, device.id


def test_a_port_has_one_device_and_a_charger_is_owned(fernhollow: Plan) -> None:
    seats = [d.chosen.seat for d in fernhollow.devices if d.chosen]
    assert max(Counter((s.kind, s.unit, s.port) for s in seats).values()) == 1
    counts = {c.id: c.count for c in fernhollow.site.chargers}
    assert [s for s in seats if not 1 <= s.unit <= counts[s.kind]] == []


def test_grounds_that_clash_are_never_on_one_negative(fernhollow: Plan) -> None:
    certain = [c for c in fernhollow.clashes if c.verdict is Verdict.FAILS]
    assert ("fuzz-box", "mixer") in [(c.a, c.b) for c in certain]
    for clash in certain:
        pair = [fernhollow.device(name).chosen for name in (clash.a, clash.b)]
        if any(chosen is None or chosen.front.isolated for chosen in pair):
            continue
        (a, b) = ((c.seat.kind, c.seat.unit) for c in pair if c is not None)
        assert a != b


def test_what_must_not_blink_is_not_known_to_blink(fernhollow: Plan) -> None:
    switch = fernhollow.device("network-switch")
    assert switch.chosen is not None
    blinks = [f for f in switch.chosen.findings if f.rule == "blink"]
    assert [f.verdict for f in blinks if f.verdict is Verdict.FAILS] == []
    mates = [
        d.id
        for d in fernhollow.devices
        if d.chosen
        and (d.chosen.seat.kind, d.chosen.seat.unit)
        == (switch.chosen.seat.kind, switch.chosen.seat.unit)
    ]
    charger = next(c for c in fernhollow.site.chargers if c.id == switch.chosen.seat.kind)
    assert mates == ["network-switch"] or charger.on_change in ("nothing", "steps")


def test_every_level_is_proven_best(fernhollow: Plan) -> None:
    assert [level.name for level in fernhollow.levels if not level.proven] == []
    assert fernhollow.levels[0].value == len([d for d in fernhollow.devices if d.chosen])


def test_the_budget_is_kept(fernhollow: Plan) -> None:
    price = {p.id: p.price_cents for p in fernhollow.site.parts}
    assert None not in [price[part] for part, _ in fernhollow.bought]
    cents = sum((price[part] or 0) * count for part, count in fernhollow.bought)
    assert cents <= (fernhollow.site.rules.budget or 0)


def test_the_diagonal_of_the_mix_ups_is_the_plan(fernhollow: Plan) -> None:
    """A device's own lead in its own inlet is its own path: the two must say the same."""
    own = {c.lead: c.outcome for c in fernhollow.mixups if c.own}
    assert set(own) == {d.id for d in fernhollow.devices if d.chosen}
    for device in fernhollow.devices:
        if device.chosen is None:
            continue
        of_path = [f for f in device.chosen.findings if BY_ID[f.rule].judged != "company"]
        harm = max(f.verdict for f in of_path if f.stakes is Stakes.HARM)
        rest = max(f.verdict for f in of_path if f.stakes in (Stakes.LOSS, Stakes.MISBEHAVES))
        wanted = {
            (Verdict.FITS, Verdict.FITS): Outcome.FINE,
            (Verdict.FITS, Verdict.UNPROVEN): Outcome.WONT_RUN,
        }.get((harm, rest), Outcome.UNKNOWN)
        assert own[device.id] is wanted, device.id


def test_mix_ups_cover_every_lead_in_every_inlet(fernhollow: Plan) -> None:
    leads = [d.id for d in fernhollow.devices if d.chosen]
    inlets = [d.id for d in fernhollow.devices]
    cells = [(c.lead, c.inlet) for c in fernhollow.mixups]
    assert cells == [(lead, inlet) for lead in leads for inlet in inlets]


def test_a_harmful_mix_up_is_warned_of(fernhollow: Plan) -> None:
    harmful = {c.lead for c in fernhollow.mixups if not c.own and c.outcome.harmful}
    told = {lead for lead in harmful if any(f"plug for {lead}" in w for w in fernhollow.warnings)}
    assert harmful == told


def test_every_working_can_be_redone(fernhollow: Plan) -> None:
    count = 0
    for device in fernhollow.devices:
        chosen = device.chosen
        for finding in chosen.findings if chosen else ():
            shown = finding.working
            if shown is None and finding.about.judged != "company":
                shown = working(finding, chosen.judged, chosen.index)  # type: ignore[union-attr]
            if shown is not None:
                assert shown.result == finding.margin, (device.id, finding.rule)
                # Without a working point the formula gives no number at all.
                again = shown.again()
                assert again == shown.result or (math.isnan(again) and shown.result == -math.inf)
                count += 1
    assert count > 40


def test_a_plan_reads_the_same_in_another_process(fernhollow: Plan) -> None:
    """Sets and hashes of words come in another order there."""
    program = (
        "import json; from sinkside import demo; from sinkside.cli.plan_json import as_json;"
        "from sinkside.plan import plan; from sinkside.site.read import read;"
        "print(json.dumps(as_json(plan(read(demo.text(), demo.FILE)))))"
    )
    run = subprocess.run(
        [sys.executable, "-c", program],
        env={"PYTHONHASHSEED": "7", "PYTHONPATH": os.pathsep.join(sys.path)},
        capture_output=True,
        text=True,
        check=True,
        timeout=300,
    )
    assert json.loads(run.stdout) == json.loads(json.dumps(as_json(fernhollow)))


def test_no_two_findings_of_one_path_are_of_one_rule_unless_of_company(fernhollow: Plan) -> None:
    for device in fernhollow.devices:
        rules = [f.rule for f in device.chosen.findings] if device.chosen else []
        twice = {a for a, b in combinations(rules, 2) if a == b}
        assert twice <= {"ground-short"}, device.id
