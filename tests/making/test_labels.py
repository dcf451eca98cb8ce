"""Labels: nothing by colour alone, short forms for tape, and none where nothing is made."""

import unicodedata
from dataclasses import replace

import pytest
from tests.making import sites

from sinkside.making.labels import TAPE_CELLS, Label, Polarity, all_labels, labels
from sinkside.making.words import charger_name
from sinkside.plan import Action, Plan

COLOURS = ("red", "black", "blue", "green", "yellow", "white", "orange")


def of(plan: Plan, name: str) -> dict[str, Label]:
    return {label.on: label for label in labels(plan, plan.device(name))}


def test_every_label_says_in_words_what_its_drawing_says(demo_plan: Plan) -> None:
    for label in all_labels(demo_plan):
        told = " ".join((*label.lines, *label.tape)).lower().split()
        assert not set(COLOURS) & set(told)
        if label.polarity in (Polarity.CENTRE_POSITIVE, Polarity.CENTRE_NEGATIVE):
            assert any(label.polarity.value in line for line in label.lines)
            sign = "+" if label.polarity is Polarity.CENTRE_POSITIVE else "−"
            assert label.tape[0].split()[3] == sign


@pytest.mark.parametrize(
    ("long", "cut"),
    [
        ("an old thing with a name that goes on and on for sixty signs", "an old thing wi…"),
        ("録音機テープ録音機テープ", "録音機テープ録…"),  # a wide sign takes two cells
    ],
)
def test_tape_takes_two_short_lines_whatever_the_name(demo_plan: Plan, long: str, cut: str) -> None:
    device = demo_plan.device("mixer")
    called = replace(device, appliance=replace(device.appliance, id=long))
    written = demo_plan.site.device("mixer").model_copy(update={"id": long})
    site = replace(demo_plan.site, devices=(*demo_plan.site.devices, written))
    found = (*labels(replace(demo_plan, site=site), called), *all_labels(demo_plan))
    for label in found:
        assert len(label.tape) <= 2
        assert all(0 < wide(line) <= TAPE_CELLS for line in label.tape)
    assert found[0].device == long
    assert found[0].tape[1] == f"{cut} {found[0].code}"


def wide(line: str) -> int:
    """Cells by Unicode Standard Annex 11: wide and full-width signs take two."""
    return sum(2 if unicodedata.east_asian_width(c) in "WF" else 1 for c in line)


def test_a_lead_says_volts_poles_amps_device_charger_and_code(demo_plan: Plan) -> None:
    lead = of(demo_plan, "mixer")["lead"]
    chosen = demo_plan.device("mixer").chosen
    assert chosen is not None
    assert lead.lines == (
        "mixer",
        "12 V, centre positive, sleeve negative",
        "at most 800 mA",
        f"from {charger_name(chosen)}, port {chosen.seat.port}",
        f"lead {lead.code}",
        "nothing else on this plug",
    )
    assert lead.tape == ("12 V centre + 800 mA", f"mixer {lead.code}")
    assert lead.warning == "nothing else on this plug"


def test_a_port_says_its_contract_and_a_plug_what_comes_out(demo_plan: Plan) -> None:
    found = of(demo_plan, "dictation-machine")
    assert found["port"].volts == "12 V"
    assert found["port"].polarity is Polarity.NONE
    assert found["plug"].volts == "7.5 V"
    assert found["plug"].polarity is Polarity.CENTRE_NEGATIVE


def test_a_device_behind_a_full_bridge_takes_either_way_round(demo_plan: Plan) -> None:
    found = of(demo_plan, "tape-echo")
    assert found["device"].polarity is Polarity.EITHER
    assert found["device"].tape[0] == "12 V either 800 mA"
    assert found["plug"].polarity is Polarity.CENTRE_NEGATIVE


def test_amps_are_never_more_than_the_port_gives() -> None:
    """A moulded lead for 3 A on a port of 1.5 A."""
    assert of(sites.planned(sites.MOULDED), "plain")["lead"].amps == "1.5 A"


def test_what_is_not_made_has_a_label_on_its_brick_alone(demo_plan: Plan) -> None:
    for device in demo_plan.devices:
        on = [label.on for label in labels(demo_plan, device)]
        brick = demo_plan.site.device(device.id).brick
        if device.action in (Action.BUILD, Action.TRY):
            assert on[:4] == ["lead", "plug", "port", "device"]
            assert on[4:] == ["old brick"] * (brick is not None)
        else:
            assert on == ["old brick"] * (brick is not None)


def test_a_brick_that_was_not_kept_has_no_label() -> None:
    assert "old brick" not in of(sites.planned(sites.MOULDED), "plain")


def test_a_usb_plug_and_rails_have_no_centre() -> None:
    assert of(sites.planned(sites.OTHERS), "usb-thing")["plug"].tape[0] == "5 V USB 315 mA"
    rails = of(sites.planned(sites.RAILS), "old-player")
    assert "plug" not in rails
    assert rails["device"].lines[-1] == "its mains inlet is blanked off, and stays so"
