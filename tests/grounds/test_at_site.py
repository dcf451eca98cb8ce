"""What is told of a site: rings in words, what feeds back, who tingles, and as JSON."""

import json

import jsonschema
import pytest
from tests.grounds.sites import site, told
from tests.paths import small_parts as small

from sinkside.cli.conductors_json import SCHEMA, as_json
from sinkside.grounds import clashes
from sinkside.grounds.at_site import mixed_up
from sinkside.rules.verdict import Verdict

CHARGER = small.charger("5:3 9:3", name="shared")
PLAIN = "inlet: {plug: 5.5x2.1}"
LINK = "[{from: fuzz, to: mixer, kind: audio, shield: both ends}]"


def test_a_short_in_words() -> None:
    found = told(
        site({"fuzz": PLAIN, "mixer": PLAIN}, LINK),
        {"fuzz": "positive", "mixer": "negative"},
        {"fuzz": (CHARGER, 1), "mixer": (CHARGER, 1)},
    )
    (ring,) = found.shorts
    assert ring.words == (
        "a short of 8.55 to 9.45 V: the shield of the audio lead from fuzz to mixer; the signal "
        "ground of mixer is its negative pole; the return of the power lead of mixer; the return "
        "of the power lead of fuzz; the signal ground of fuzz is its positive pole"
    )
    assert ring.remedies[0].words == "feed fuzz from spare, which has nothing plugged in and floats"
    assert found.loops == ()


def test_a_loop_in_words() -> None:
    found = told(
        site({"fuzz": PLAIN, "mixer": PLAIN}, LINK),
        {"fuzz": "negative", "mixer": "negative"},
        {"fuzz": (CHARGER, 1), "mixer": (CHARGER, 1)},
    )
    (ring,) = found.loops
    assert ring.words.startswith("a loop that can hum: the shield of the audio lead")
    assert found.shorts == ()


def test_what_nobody_measured_in_words() -> None:
    found = told(
        site({"fuzz": PLAIN, "mixer": PLAIN}, LINK),
        {"fuzz": "unknown", "mixer": "negative"},
        {"fuzz": (CHARGER, 1), "mixer": (CHARGER, 1)},
    )
    (ring,) = found.shorts
    assert ring.words.startswith("perhaps a short of up to 9.45 V: ")
    assert ring.words.endswith("(look at: fuzz/ground)")


def test_two_linked_devices_are_told_as_a_short_just_where_they_clash() -> None:
    """The pairs that the assignment keeps apart are those that are shorts on one charger."""
    for a in ("negative", "positive", "mid", "isolated", "unknown"):
        for b in ("negative", "positive", "mid", "isolated", "unknown"):
            found = site({"fuzz": PLAIN, "mixer": PLAIN}, LINK)
            report = told(
                found, {"fuzz": a, "mixer": b}, {"fuzz": (CHARGER, 1), "mixer": (CHARGER, 1)}
            )
            pair = [small.device("fuzz", ground=a), small.device("mixer", ground=b)]
            clash = clashes(pair, found.links)
            assert [r.meeting.verdict for r in report.shorts] == [c.verdict for c in clash], (a, b)


DATA = "[{from: logger, to: computer, kind: data}]"


def test_a_data_lead_feeds_back_both_ways() -> None:
    found = told(
        site({"logger": PLAIN, "computer": PLAIN}, DATA),
        {"logger": "negative", "computer": "negative"},
        {"logger": (CHARGER, 1)},
    )
    ways = [(f.through, f.source, f.into, f.likely) for f in found.back_feeds]
    assert ways == [("data", "logger", "computer", True), ("data", "computer", "logger", True)]
    assert found.back_feeds[0].words == (
        "with logger on and computer off, 5 V of USB, or the lines of a serial lead, reach its "
        "supply through its input diodes"
    )


def test_what_is_switched_together_hardly_feeds_back() -> None:
    found = told(
        site(
            {"logger": PLAIN, "computer": PLAIN},
            DATA,
            "[{name: lab, together: [logger, computer], switch: bench strip}]",
        ),
        {"logger": "negative", "computer": "negative"},
        {},
    )
    assert {f.likely for f in found.back_feeds} == {False}


@pytest.mark.parametrize(("on_change", "likely"), [("drops all", False), ("nothing", True)])
def test_what_one_charger_drops_goes_off_together(on_change: str, likely: bool) -> None:
    source = small.charger({"C1": "5:3 9:3", "C2": "5:3 9:3"}, on_change=on_change)
    found = told(
        site({"logger": PLAIN, "computer": PLAIN}, DATA),
        {"logger": "negative", "computer": "negative"},
        {"logger": (source, 1), "computer": (source, 1)},
    )
    assert {f.likely for f in found.back_feeds} == {likely}


def test_a_motor_pushes_back() -> None:
    found = told(
        site({"turntable": f"inside: {{is: motor}}, {PLAIN}"}), {"turntable": "negative"}, {}
    )
    (feed,) = found.back_feeds
    assert (feed.through, feed.source, feed.likely) == ("motor", "turntable", True)


def test_audio_leads_do_not_feed_back() -> None:
    found = told(
        site({"fuzz": PLAIN, "mixer": PLAIN}, LINK), {"fuzz": "negative", "mixer": "negative"}, {}
    )
    assert found.back_feeds == ()


def test_what_is_assumed_is_said() -> None:
    found = told(
        site({"fuzz": PLAIN, "mixer": PLAIN}, LINK),
        {"fuzz": "negative", "mixer": "negative"},
        {"fuzz": (CHARGER, 1)},
    )
    assert found.assumed == (
        "the bricks of mixer are taken to float: one with an earth pin may not",
        "of shared the class of protection is not known: its share of touch current is between "
        "nothing and that of class II",
    )


def test_the_report_as_json_keeps_to_its_schema() -> None:
    links = f"{LINK[:-1]}, {DATA[1:]}".replace("computer", "mixer")
    found = told(
        site({"fuzz": PLAIN, "mixer": PLAIN, "logger": PLAIN}, links),
        {"fuzz": "positive", "mixer": "negative", "logger": "negative"},
        dict.fromkeys(("fuzz", "mixer", "logger"), (CHARGER, 1)),
    )
    document = json.loads(json.dumps(as_json(found)))
    jsonschema.Draft202012Validator.check_schema(SCHEMA)
    jsonschema.validate(document, SCHEMA)
    assert [ring["kind"] for ring in document["shorts"]] == ["short"]
    assert document["back_feeds"]
    assert document["touch"]


def seat(source: object, unit: int = 1) -> tuple[object, int]:
    return small.front(source), unit  # type: ignore[arg-type]


def test_a_lead_in_the_wrong_inlet_can_short_a_charger() -> None:
    """The mixer is on the other charger; the radio's lead puts the fuzz box there as well."""
    other = small.charger("5:3 9:3", name="other")
    devices = [
        small.device("fuzz", ground="positive"),
        small.device("mixer", ground="negative"),
        small.device("radio", ground="isolated"),
    ]
    found = site({d.id: PLAIN for d in devices}, LINK)
    seats = {"fuzz": seat(CHARGER), "mixer": seat(other), "radio": seat(other)}
    shorted = mixed_up(seats, clashes(devices, found.links))  # type: ignore[arg-type]
    assert shorted == {("radio", "fuzz"): Verdict.FAILS}


def test_an_isolated_lead_shorts_nothing() -> None:
    devices = [small.device("fuzz", ground="positive"), small.device("mixer", ground="negative")]
    found = site({d.id: PLAIN for d in devices}, LINK)
    cut_off = small.front(
        CHARGER,
        small.cable(),
        small.trigger(12.0),
        small.converter(9.0, "isolated"),
        small.lead(),
    )
    seats = {"radio": (cut_off, 1), "mixer": (small.front(CHARGER), 1)}
    assert mixed_up(seats, clashes(devices, found.links)) == {}
