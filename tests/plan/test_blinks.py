"""Who blinks whom: every cell by hand, on two chargers that do different things on a change."""

from dataclasses import replace

import pytest
from tests.plan.test_parts_list import DRUM

from sinkside.figures.blinks_text import blinks_text
from sinkside.plan import Plan, plan
from sinkside.plan.blinks import Blinks, Cause, Outcome, blinks
from sinkside.quantity import Basis, point
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.read import read

SITE = f"""
site: {{name: Mill Lane, currency: EUR}}
rules: {{solder: yes, spare_ports: may be used}}
devices:
  drum: {DRUM}
  organ: {DRUM}
  lamp: {DRUM}
shelf:
  trio:
    is: charger
    count: 1
    output_earth: floating
    on_change: drops all (measured)
    off_time: 1.4..1.9 s (measured)
    ports: {{C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A 9V⎓3A", C3: "5V⎓3A 9V⎓3A"}}
    together: {{
      C1+C2: {{C1: "5V⎓3A 9V⎓2A", C2: "5V⎓3A 9V⎓2A"}},
      C1+C3: {{C1: "5V⎓3A 9V⎓2A", C3: "5V⎓3A 9V⎓2A"}},
      C2+C3: {{C2: "5V⎓3A 9V⎓2A", C3: "5V⎓3A 9V⎓2A"}},
      C1+C2+C3: {{C1: "5V⎓3A 9V⎓2A", C2: "5V⎓3A 9V⎓2A", C3: "5V⎓3A 9V⎓2A"}}}}
  one:
    is: charger
    count: 1
    output_earth: floating
    ports: {{C1: "5V⎓3A"}}
"""


@pytest.fixture(scope="module")
def made() -> Plan:
    """Three alike on one charger; how long they last is set for each test."""
    found = plan(read(SITE, "site.yaml"))
    assert [d.chosen.seat.kind for d in found.devices if d.chosen] == ["trio"] * 3
    return found


def lasting(made: Plan, name: str, seconds: float) -> Plan:
    """The plan with a device that rides through so many seconds."""
    ride = point(seconds, "s", Basis.MEASURED, f"{name}/ride-through")
    return changed(made, name, ride_through_s=ride)


def changed(made: Plan, name: str, **changes: object) -> Plan:
    devices = tuple(
        replace(d, appliance=replace(d.appliance, **changes)) if d.id == name else d  # type: ignore[arg-type]
        for d in made.devices
    )
    return replace(made, devices=devices)


def with_charger(made: Plan, **changes: object) -> Plan:
    chargers = tuple(
        replace(c, **changes) if c.id == "trio" else c  # type: ignore[arg-type]
        for c in made.site.chargers
    )
    return replace(made, site=replace(made.site, chargers=chargers))


def by(found: Blinks, device: str | None, how: str = "plugged") -> Cause:
    return next(c for c in found.causes if (c.device, c.how) == (device, how))


def outcome(found: Blinks, cause: str, device: str, how: str = "plugged") -> Outcome:
    return found.cell(by(found, cause, how), device).outcome


def test_a_gap_is_ridden_out_only_where_it_is_shorter_than_what_is_ridden_through(
    made: Plan,
) -> None:
    """The gap is 1.4 to 1.9 s, and varies."""
    for seconds, expected in (
        (2.0, Outcome.RIDES),
        (1.9, Outcome.RIDES),  # a limit is inclusive
        (1.6, Outcome.OUT),  # some change is longer
        (0.05, Outcome.OUT),
    ):
        found = blinks(lasting(made, "organ", seconds))
        assert outcome(found, "drum", "organ") is expected
        assert outcome(found, "organ", "organ") is Outcome.ITSELF


def test_what_nobody_has_timed_may_go_either_way() -> None:
    site = SITE.replace("ride_through: 50 ms (measured)", "ride_through: unknown", 1)
    found = blinks(plan(read(site, "site.yaml")))
    assert outcome(found, "organ", "drum") is Outcome.MAY
    assert outcome(found, "drum", "organ") is Outcome.OUT


def test_what_a_device_does_not_mind_has_no_verdict(made: Plan) -> None:
    found = blinks(made)  # blink: any
    cell = found.cell(by(found, "drum"), "organ")
    assert (cell.outcome, cell.verdict, cell.stakes) == (Outcome.OUT, None, None)
    assert cell.words == "goes out, and does not mind"
    never = blinks(changed(made, "organ", blink="never"))
    cell = never.cell(by(never, "drum"), "organ")
    assert (cell.verdict, cell.stakes) == (Verdict.FAILS, Stakes.LOSS)
    assert cell.words == "goes out, fails"
    brief = blinks(changed(made, "organ", blink="brief"))
    assert brief.cell(by(brief, "drum"), "organ").stakes is Stakes.MISBEHAVES


@pytest.mark.parametrize(
    ("on_change", "expected"),
    [
        ("drops all", Outcome.OUT),
        ("steps", Outcome.STEPS),
        ("nothing", Outcome.KEEPS),
        ("unknown", Outcome.MAY),
    ],
)
def test_what_a_charger_does_on_a_change_decides(
    made: Plan, on_change: str, expected: Outcome
) -> None:
    found = blinks(with_charger(made, on_change=on_change))
    assert outcome(found, "drum", "organ") is expected


def test_switching_leaves_the_contract_standing(made: Plan) -> None:
    found = blinks(made)
    assert outcome(found, "drum", "organ", "switched") is Outcome.KEEPS
    cuts = with_charger(made, cuts_off_a=point(0.05, "A", Basis.MEASURED, "trio/cut-off"))
    assert outcome(blinks(cuts), "drum", "organ", "switched") is Outcome.MAY


def test_a_spare_port_counts_unless_it_is_blocked(made: Plan) -> None:
    two = replace(made, devices=tuple(d for d in made.devices if d.id != "lamp"))
    found = blinks(two)
    spare = by(found, None)
    assert found.cell(spare, "drum").outcome is Outcome.OUT
    rules = two.site.rules.model_copy(update={"spare_ports": "blocked"})
    blocked = blinks(replace(two, site=replace(two.site, rules=rules)))
    assert all(c.device for c in blocked.causes)


def test_devices_on_other_chargers_are_apart(made: Plan) -> None:
    lamp = made.device("lamp")
    assert lamp.chosen is not None
    moved = replace(lamp.chosen, seat=replace(lamp.chosen.seat, kind="one", port="C1"))
    devices = tuple(replace(d, chosen=moved) if d.id == "lamp" else d for d in made.devices)
    found = blinks(replace(made, devices=devices))
    assert outcome(found, "lamp", "drum") is Outcome.APART
    assert outcome(found, "drum", "lamp") is Outcome.APART
    assert outcome(found, "drum", "organ") is Outcome.OUT


def test_each_use_of_what_is_plugged_when_used_counts(made: Plan) -> None:
    found = blinks(changed(made, "drum", plugged="when used"))
    assert by(found, "drum").every_use
    assert not by(found, "drum", "switched").every_use
    text = " ".join(" ".join(blinks_text(found)).split())
    assert "each time drum is used" in text


def test_the_worst_cell_is_the_finding_that_the_plan_judges_by() -> None:
    site = SITE.replace("blink: any", "blink: brief").replace("50 ms", "1.5..3 s")
    made = plan(read(site, "site.yaml"))
    found = blinks(made)
    for device in made.devices:
        if device.chosen is None:
            continue
        judged = [f.verdict for f in device.chosen.findings if f.rule == "blink"]
        cells = [c for c in found.cells if c.device == device.id and c.verdict is not None]
        assert judged == [max(c.verdict for c in cells if c.verdict is not None)]


def test_the_text_has_a_table_and_a_sentence_for_each(made: Plan) -> None:
    rides = lasting(changed(made, "organ", blink="never"), "organ", 2.5)
    assert blinks_text(blinks(rides), 80) == [
        "trio: what is plugged or pulled, and what becomes of",
        "                        drum             lamp             organ",
        "drum                    itself           goes out         rides it out",
        "lamp                    goes out         itself           rides it out",
        "organ                   goes out         goes out         itself",
        "drum goes out for 1.4 s to 1.9 s when lamp or organ is plugged or pulled; it",
        "  rides through 50 ms: which does not matter to it.",
        "lamp goes out for 1.4 s to 1.9 s when drum or organ is plugged or pulled; it",
        "  rides through 50 ms: which does not matter to it.",
        "organ rides out a gap of 1.4 s to 1.9 s: it lasts 2.5 s.",
    ]


def test_who_is_not_there_has_no_cell(made: Plan) -> None:
    found = blinks(made)
    with pytest.raises(KeyError):
        found.cell(found.causes[0], "kettle")
    assert blinks_text(blinks(replace(made, devices=()))) == []
