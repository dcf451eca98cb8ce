"""Which measurement is advised, that it can be made, and that what is unknown has one at all."""

import random

import pytest
from tests.paths import random_paths

from sinkside.advice import CATALOGUE, Advice, advise
from sinkside.paths.findings import findings
from sinkside.paths.judge import judge
from sinkside.plan import Action, Plan, plan
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.read import read

SHELF = """
shelf:
  one: {is: charger, count: 4, on_change: nothing, ports: {C1: "5V⎓3A 9V⎓3A 15V⎓2A 20V⎓1.5A"}}
"""
PLATE_ONLY = """
  radio: {use: ordinary, plate: "DC 9V⎓ 500mA ⊖–C–⊕", inlet: {plug: 5.5x2.1}, blink: any}
"""
BARE = """
  radio: {use: ordinary, inlet: {plug: 5.5x2.1}, blink: any}
"""
BRICK_DONE = """
  radio:
    use: ordinary
    plate: "DC 9V⎓ 500mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1}
    blink: any
    brick:
      plate: "OUTPUT 9V⎓ 500mA ⊖–C–⊕"
      original: yes
      centre: positive (measured)
      open: 13 V (measured)
      loaded: 9.4 V at 300 mA (measured)
"""
LOOK_ALIKE = BRICK_DONE.replace("original: yes", "original: no")


def planned(device: str, rules: str = "solder: yes") -> Plan:
    text = f"site: {{name: Mill Lane}}\nrules: {{{rules}}}\ndevices:{device}{SHELF}"
    return plan(read(text, "site.yaml"))


def advised(device: str, rules: str = "solder: yes") -> tuple[Advice, ...]:
    found = planned(device, rules)
    return advise(found.device("radio"), found)


def ids(advice: tuple[Advice, ...]) -> list[str]:
    return [a.measurement.id for a in advice]


def test_gear_of_which_only_the_plate_is_known_is_told_to_measure_its_old_brick_first() -> None:
    """Two minutes with a meter on the old brick is the best single fact there is."""
    found = planned(PLATE_ONLY)
    assert found.device("radio").action is Action.MEASURE
    first, *_ = advise(found.device("radio"), found)
    assert (first.measurement.id, first.minutes) == ("old-brick", 2)
    assert "polarity" in first.settles


def test_what_has_been_measured_is_not_asked_for_again() -> None:
    assert "old-brick" not in ids(advised(BRICK_DONE))


def test_a_look_alike_brick_is_not_worth_a_minute() -> None:
    assert "old-brick" not in ids(advised(LOOK_ALIKE))


@pytest.mark.parametrize(
    ("rules", "opens"), [("solder: yes", False), ("solder: yes, open_cases: yes", True)]
)
def test_a_case_is_opened_only_by_who_may(rules: str, opens: bool) -> None:
    advice = advised(PLATE_ONLY, rules)
    assert any(a.measurement.opens_case for a in advice) is opens


def test_the_most_telling_for_its_minutes_comes_first() -> None:
    """What settles harm or loss comes before the rest; then by weight for each minute."""
    found = planned(PLATE_ONLY, "solder: yes, open_cases: yes")
    device = found.device("radio")
    assert device.chosen is not None
    weight = {
        f.rule: 4.0 if f.stakes in (Stakes.HARM, Stakes.LOSS) else 1.0
        for f in device.chosen.findings
    }
    advice = advise(device, found)
    worth = [
        (any(weight[r] == 4.0 for r in a.settles), sum(weight[r] for r in a.settles) / a.minutes)
        for a in advice
    ]
    assert len(worth) > 1
    assert worth == sorted(worth, reverse=True)


def test_advice_settles_what_is_open_and_nothing_else() -> None:
    for text in (PLATE_ONLY, BARE, BRICK_DONE):
        found = planned(text, "solder: yes, open_cases: yes")
        device = found.device("radio")
        assert device.chosen is not None
        unproven = {f.rule for f in device.chosen.findings if f.verdict is Verdict.UNPROVEN}
        for advice in advise(device, found):
            assert advice.settles
            assert set(advice.settles) <= unproven


def test_every_open_finding_of_weight_has_a_measurement() -> None:
    """A measurement can always settle it, and the finding names which."""
    for text in (PLATE_ONLY, BARE, BRICK_DONE):
        found = planned(text, "solder: yes, open_cases: yes")
        device = found.device("radio")
        assert device.chosen is not None
        settled = {rule for a in advise(device, found) for rule in a.settles}
        unproven = {
            f.rule
            for f in device.chosen.findings
            if f.verdict is Verdict.UNPROVEN and f.stakes is not Stakes.NUISANCE
        }
        assert unproven <= settled, text


def test_a_device_without_a_path_gets_no_advice() -> None:
    text = PLATE_ONLY.replace("ordinary", "medical")
    assert advised(text) == ()


def test_every_unknown_that_a_path_can_have_is_the_topic_of_a_measurement() -> None:
    topics = {topic for m in CATALOGUE for topic in m.topics}
    draw = random.Random(11)
    paths = [random_paths.path(draw) for _ in range(60)]
    judged = judge(paths)
    named = {
        name.rpartition("/")[2]
        for i in range(len(paths))
        for f in findings(judged, i)
        for name in f.unknowns
    }
    assert sorted(named - topics) == []


@pytest.mark.parametrize("measurement", CATALOGUE, ids=lambda m: m.id)
def test_a_measurement_says_how_with_what_and_what_follows(measurement: object) -> None:
    for slot in ("title", "kit", "how", "decides", "topics"):
        assert getattr(measurement, slot), slot
    assert 1 <= measurement.minutes <= 30  # type: ignore[attr-defined]


@pytest.mark.parametrize("text", [PLATE_ONLY, BARE, BRICK_DONE])
def test_the_reading_to_expect_is_told(text: str) -> None:
    appliance = planned(text).device("radio").appliance
    for measurement in CATALOGUE:
        told = measurement.expect(appliance)
        assert told
        assert "nan" not in told
        assert "None" not in told


def test_a_reading_inside_the_window_that_is_told_narrows_what_is_open() -> None:
    """What each outcome decides must be so: with the brick measured, less is open than before."""
    before, after = (planned(t).device("radio").chosen for t in (PLATE_ONLY, BRICK_DONE))
    assert before is not None
    assert after is not None
    assert len(after.open(Stakes.HARM)) < len(before.open(Stakes.HARM))
