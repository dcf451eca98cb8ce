"""The whole report of a site: what is proposed, that it makes no path worse, and its limits."""

import json
from collections import Counter
from dataclasses import replace
from typing import Any

import jsonschema
from tests.mixups.sites import made_up, plain, site, told
from tests.paths import small_parts as small

from sinkside.cli.plugs_json import SCHEMA, as_json
from sinkside.mixups.at_site import Report
from sinkside.mixups.connectors import connectors
from sinkside.mixups.mating import fit
from sinkside.mixups.replug import Supplies, choices
from sinkside.mixups.sentences import doing, staying
from sinkside.parts import market
from sinkside.paths.judge import judge
from sinkside.paths.rows import Path
from sinkside.rules.verdict import Verdict
from sinkside.standards.barrel import Fit

SOURCE = small.charger("5:3 9:3 12:3 15:3 20:3")
BRICK = ', brick: {plate: "OUTPUT 20V DC 1A", open: 21 V (measured), centre: positive (measured)}'


def device(name: str, **changes: Any) -> Any:
    return small.device(name, capacitance_f=1e-6, **changes)


def two(
    *, solder: str = "yes", rules: str = "", plugged: str = "when used", shelf: str = "{}"
) -> Report:
    """A 9 V box and a 20 V box on the same plug; the lead of 20 V kills the box of 9 V."""
    found = site({"nine": plain(), "twenty": plain()}, solder=solder, rules=rules, shelf=shelf)
    return told(found, *world(plugged))


def world(plugged: str = "when used") -> tuple[list[Any], list[tuple[str, Any]]]:
    nine = device("nine", plugged=plugged)
    twenty = device(
        "twenty", harmed_above_v=25.0, runs_from_v=15.0, reference_v=20.0, plugged=plugged
    )
    fronts = [
        ("nine", small.front(SOURCE, *made_up(9.0))),
        ("twenty", small.front(SOURCE, *made_up(20.0))),
    ]
    return [nine, twenty], fronts


def test_the_square_that_harms() -> None:
    found = two()
    assert [(c.lead, c.inlet, c.word) for c in found.harmful] == [
        ("twenty", "nine", "over-voltage")
    ]


def test_one_tie_is_the_cheapest() -> None:
    found = two(plugged="always").separation
    assert doing(found) == (
        "tie to its device, so that it cannot be plugged elsewhere, the lead of twenty",
    )
    assert (found.cents, found.joints, found.left, found.proven) == (30, 0, (), True)


def test_a_lead_that_is_put_away_after_use_is_not_tied_but_changed() -> None:
    found = two()
    assert found.without_ties is None
    ((who, choice),) = found.separation.chosen
    assert found.separation.tied == ()
    assert choice.lead.plug == choice.inlet.plug != "5.5x2.1"
    assert found.separation.left == ()
    assert who in ("nine", "twenty")
    assert found.separation.joints == choice.joints


def test_beside_ties_the_price_of_plugs_alone_is_told() -> None:
    found = two(plugged="always")
    assert found.without_ties is not None
    assert found.without_ties.tied == ()
    assert found.without_ties.left == ()
    assert found.without_ties.cents > found.separation.cents


def test_without_a_soldering_iron_adapters_do() -> None:
    found = two(solder="no").separation
    ((_, choice),) = found.chosen
    assert choice.joints == 0
    assert {part for part, n in choice.parts if n > 0} <= {
        *(a.id for a in connectors().adapters),
        "tie",
    }


def test_without_money_it_is_told_what_stays() -> None:
    found = two(rules=", budget: 0.10 EUR")
    assert found.separation.chosen == ()
    assert staying(found.separation) == ("the lead of twenty still goes into nine, and harms it",)
    label = next(x for x in found.labels if x.on == "lead of twenty")
    assert label.lines == (
        "twenty ONLY",
        "20 V d.c., USB-C contract",
        "5.5x2.1, centre positive",
        "NEVER into nine: over-voltage",
    )
    assert next(x for x in found.labels if x.on == "inlet of nine").lines == (
        "nine: its own lead ONLY",
        "never: lead of twenty",
    )


def test_no_part_of_the_plan_is_taken() -> None:
    """One lead to 5.5×2.5 lies there; the plan needs it for a third box, so another is bought."""
    appliances, fronts = world()
    third = device("third", plug="5.5x2.5", plugged="when used")
    chain = ("third", small.front(SOURCE, *made_up(9.0, plug="5.5x2.5")))
    found = site(
        {"nine": plain(), "twenty": plain(), "third": plain(plug="5.5x2.5")},
        shelf="{lead-5.5x2.5: {count: 1}}",
    )
    report = told(found, [*appliances, third], [*fronts, chain])
    used = Counter(
        part for _, choice in report.separation.chosen for part, n in choice.parts if n > 0
    )
    bought = dict(report.separation.bought)
    for part, count in used.items():
        owned = next((p.owned for p in found.parts if p.id == part), 0)
        planned = sum(p.id == part for _, front in (*fronts, chain) for p in front.parts)
        assert bought.get(part, 0) >= count - max(0, owned - planned)


def test_a_lead_that_is_swapped_is_not_bought_any_more() -> None:
    """The plan buys two leads to 5.5×2.1: the one that is swapped for another is given back."""
    appliances, fronts = world()
    found = site({"nine": plain(), "twenty": plain()})
    report = told(found, appliances, fronts, (("lead-5.5x2.1", 2),))
    swapped = [c for _, c in report.separation.chosen if ("lead-5.5x2.1", -1) in c.parts]
    assert dict(report.separation.bought).get("lead-5.5x2.1", 0) == -len(swapped)


def test_every_choice_mates_with_itself_and_is_said() -> None:
    appliances, fronts = world()
    supplies = Supplies.of(market.parts(), connectors(), solder=True)
    found = choices(fronts, appliances, supplies)
    assert set(found) == {"nine", "twenty"}
    for every in found.values():
        assert len(every) > 5
        assert not every[0].changes
        for choice in every:
            assert fit(choice.lead.plug, choice.inlet.plug) is Fit.GOES_ON
            assert choice.lead == choice.inlet
            assert bool(choice.words) == choice.changes


def test_a_change_that_would_starve_the_device_is_not_offered() -> None:
    """0.16 Ω more at 1.5 A are 0.24 V: more than this box has to spare."""
    supplies = Supplies.of(market.parts(), connectors(), solder=True)
    tight = device("tight", steady_a=1.5, peak_a=1.5, runs_from_v=8.2)
    chain = small.front(SOURCE, small.cable(), small.trigger(9.0), made_up(9.0)[-1])
    base = judge([Path(front=chain, appliance=tight)])
    assert base.code("under-volts", 0) == 0
    assert len(choices([("tight", chain)], [tight], supplies)["tight"]) == 1
    easy = replace(tight, runs_from_v=small.figure(6.0, "V", "tight/runs from"))
    assert len(choices([("tight", chain)], [easy], supplies)["tight"]) > 1


def test_while_the_poles_are_not_known_no_plug_is_changed() -> None:
    supplies = Supplies.of(market.parts(), connectors(), solder=True)
    unclear = device("unclear", evidence=())
    chain = small.front(SOURCE, *made_up(9.0))
    assert len(choices([("unclear", chain)], [unclear], supplies)["unclear"]) == 1


def test_nothing_is_done_to_what_others_service() -> None:
    found = site({"nine": plain(), "twenty": plain()})
    medical = replace(
        found, devices=tuple(d.model_copy(update={"use": "medical"}) for d in found.devices)
    )
    report = told(medical, *world("always"))
    assert (report.separation.chosen, report.separation.tied) == ((), ())
    assert len(report.separation.left) == 1


def test_old_bricks_that_are_kept_are_shut_away() -> None:
    found = site(
        {
            "nine": plain(),
            "twenty": plain(BRICK, volts=20),
        }
    )
    report = told(found, *world("always"))
    brick = {(c.lead, c.inlet): c.word for c in report.cells if c.source == "brick"}
    assert brick == {("twenty", "nine"): "over-voltage", ("twenty", "twenty"): "its own"}
    assert "put away in a bag that is shut and labelled the old brick of twenty" in doing(
        report.separation
    )


def test_a_brick_in_use_is_tied() -> None:
    found = site({"nine": plain(), "modem": plain(', brick: {plate: "OUTPUT 9 VAC 1A"}')})
    appliances, fronts = world("always")
    modem = device("modem", kind="ac", evidence=())
    report = told(found, [appliances[0], modem], fronts[:1])
    words = {(c.lead, c.source, c.inlet): c.word for c in report.cells}
    assert words["modem", "brick", "nine"] == "a.c. into d.c."
    assert words["modem", "brick", "modem"] == "its own"
    assert words["nine", "lead", "modem"] == "d.c. into an a.c. inlet"
    assert set(doing(report.separation)) == {
        "tie to its device, so that it cannot be plugged elsewhere, the lead of nine",
        "tie to its device the lead of the old brick of modem",
    }


def test_a_short_through_a_signal_lead_is_kept_apart_as_well() -> None:
    found = site({"a": plain(), "b": plain()})
    both = [device("a", plugged="always"), device("b", plugged="always")]
    fronts = [(n, small.front(SOURCE, *made_up(9.0))) for n in ("a", "b")]
    plain_report = told(found, both, fronts)
    assert plain_report.harmful == ()
    assert doing(plain_report.separation) == ()
    shorted = told(found, both, fronts, shorts={("a", "b"): Verdict.FAILS})
    assert [(c.lead, c.inlet, c.word) for c in shorted.harmful] == [("a", "b", "short")]
    assert shorted.separation.tied == (("a", "lead"),)


def test_a_lead_at_another_charger() -> None:
    """12 V are not offered there, and its trigger takes the highest."""
    other = small.charger("5:3 20:3", name="other")
    a_port = small.charger({"USB-A1": "5:2"}, name="old")
    found = replace(site({"box": plain()}), chargers=(SOURCE, other, a_port))
    chain = small.front(
        SOURCE, small.cable(), small.trigger(12.0, ("highest",)), *made_up(12.0)[2:]
    )
    report = told(found, [device("box")], [("box", chain)])
    assert [(e.charger, e.port, e.word, e.harmful) for e in report.elsewhere] == [
        ("other", "C1", "over-voltage", True)
    ]
    assert report.elsewhere[0].top_v == 21.0


def test_a_site_without_leads() -> None:
    found = site({"nine": plain(", brick: {kept: no}")})
    appliances, _ = world()
    report = told(found, appliances[:1], [])
    assert [(c.source, c.word) for c in report.cells] == [("brick", "its own")]
    assert report.separation.chosen == ()


def test_the_report_as_json_keeps_to_its_schema() -> None:
    found = site(
        {
            "nine": plain(),
            "twenty": plain(', brick: {plate: "OUTPUT 20V DC 1A", open: 21 V (measured)}'),
        }
    )
    for report in (told(found, *world("always")), two(), two(rules=", budget: 0 EUR")):
        document = json.loads(json.dumps(as_json(report)))
        jsonschema.validate(document, SCHEMA)
    jsonschema.Draft202012Validator.check_schema(SCHEMA)


def test_the_same_site_has_the_same_report() -> None:
    assert two() == two()


def test_a_brick_of_which_only_a_print_tells_the_poles_is_kept_apart() -> None:
    """It stays in use and cannot be tied, so the box that it may harm gets another plug."""
    appliances, fronts = world()
    radio = device("radio", kind="either", evidence=(), plugged="when used")
    for meter, changed in (("", 1), (", centre: positive (measured)", 0)):
        brick = f', brick: {{plate: "OUTPUT 9V DC 1A ⊖–C–⊕", open: 9.3 V (measured){meter}}}'
        found = site({"nine": plain(), "radio": plain(brick)})
        report = told(found, [appliances[0], radio], fronts[:1])
        into = next(c for c in report.cells if (c.source, c.inlet) == ("brick", "nine"))
        assert into.harmful == bool(changed)
        assert len(report.separation.chosen) == changed
