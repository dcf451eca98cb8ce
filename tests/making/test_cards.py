"""The card of who uses a device, and the card of who goes back to its brick."""

from dataclasses import replace

from tests.making import sites

from sinkside.making.cards import (
    RevertCard,
    UserCard,
    revert_card,
    revert_cards,
    user_card,
    user_cards,
)
from sinkside.making.of_plan import code
from sinkside.plan import Action, Plan
from sinkside.plan.blinks import Outcome, blinks


def user(plan: Plan, name: str) -> UserCard:
    return user_card(plan, plan.device(name))


def revert(plan: Plan, name: str) -> RevertCard:
    return revert_card(plan, plan.device(name))


def seat(plan: Plan, name: str) -> str:
    """The charger, which of several, and the port, as the plan has them."""
    chosen = plan.device(name).chosen
    assert chosen is not None
    count = {c.id: c.count for c in plan.site.chargers}[chosen.seat.kind]
    which = f"{chosen.seat.kind} no. {chosen.seat.unit}" if count > 1 else chosen.seat.kind
    return f"{which}, port {chosen.seat.port}"


def test_every_device_has_both_cards(demo_plan: Plan) -> None:
    names = [d.id for d in demo_plan.devices]
    assert [c.device for c in user_cards(demo_plan)] == names
    assert [c.device for c in revert_cards(demo_plan)] == names
    moved = {d.id for d in demo_plan.devices if d.action in (Action.BUILD, Action.TRY)}
    for card in (*user_cards(demo_plan), *revert_cards(demo_plan)):
        assert card.on_brick == (card.device not in moved)


def test_a_card_by_itself_is_the_same_as_among_all(demo_plan: Plan) -> None:
    for card in user_cards(demo_plan):
        assert user(demo_plan, card.device) == card


def test_a_user_is_told_which_plug_goes_where(demo_plan: Plan) -> None:
    mark = code(demo_plan.device("mixer"))
    assert user(demo_plan, "mixer").plug_in == (
        f"The lead marked {mark} (12 V, centre positive, sleeve negative) goes from "
        f"{seat(demo_plan, 'mixer')} to mixer.",
        "The plug into the device first, the USB-C end last. Pull them the other way round.",
    )


def test_what_blinks_is_what_the_whole_matrix_says(demo_plan: Plan) -> None:
    matrix = blinks(demo_plan)
    for card in user_cards(demo_plan):
        if card.on_brick:
            assert card.blinks == ()
            continue
        out = (Outcome.OUT, Outcome.MAY)
        itself = [c for c in matrix.cells if c.device == card.device and c.outcome in out]
        others = [c for c in matrix.cells if c.cause.device == card.device and c.outcome in out]
        assert len(card.blinks) == len(itself) + len(others)
    mixer = demo_plan.device("mixer").chosen
    assert mixer is not None
    (beside,) = [
        d.id
        for d in demo_plan.devices
        if d.chosen
        and d.id != "mixer"
        and (d.chosen.seat.kind, d.chosen.seat.unit) == (mixer.seat.kind, mixer.seat.unit)
    ]
    # The charger of the demo drops all of its ports for so long at every change.
    assert user(demo_plan, "mixer").blinks == (
        f"When this is plugged in or pulled, {beside} may go out for 1.4..1.9 s.",
        f"When {beside} is plugged in or pulled, this may go out for 1.4..1.9 s.",
    )


def test_a_user_is_told_what_the_plug_would_harm(demo_plan: Plan) -> None:
    never = user(demo_plan, "capture-computer").never
    harmed = {
        f"{c.inlet} ({c.outcome.value})"
        for c in demo_plan.mixups
        if c.lead == "capture-computer" and c.harmful and not c.own and c.source == "lead"
    }
    assert harmed
    assert never[0].startswith("Nothing else on this plug: it harms, or may harm, ")
    assert all(name in never[0] for name in harmed)


def test_what_is_on_trial_is_not_left_alone(demo_plan: Plan) -> None:
    assert (
        "Not left alone while it is on trial: watch that it runs at full work; that its fuse "
        "outlives many plug-ins; that the port does not trip at plug-in."
    ) in user(demo_plan, "fuzz-box").never
    assert not [line for line in user(demo_plan, "mixer").never if "trial" in line]


def test_trouble_begins_with_smell_heat_and_hum(demo_plan: Plan) -> None:
    assert user(demo_plan, "mixer").trouble[0] == (
        "Smell, smoke, hum, or too hot to touch: pull the USB-C end first, then the plug. Leave it "
        "so."
    )
    stays = user(demo_plan, "slide-viewer")
    assert stays.trouble[0].endswith("pull the brick from the wall. Leave it so.")
    assert stays.never[0].startswith("No new lead goes into it, even where the plug fits.")


def test_what_waits_for_a_measurement_stays_on_its_brick(demo_plan: Plan) -> None:
    card = user(demo_plan, "cassette-deck")
    assert card.on_brick
    assert card.plug_in[0].startswith("It stays on its own supply until it has been measured: ")


def test_going_back_names_the_brick_its_poles_and_the_order(demo_plan: Plan) -> None:
    card = revert(demo_plan, "dictation-machine")
    mark = code(demo_plan.device("dictation-machine"))
    assert card.steps == (
        "Switch dictation-machine off, if it can be.",
        f"Pull the USB-C end at {seat(demo_plan, 'dictation-machine')}.",
        f"Pull the plug of lead {mark} from the device; put the lead away, tagged.",
        "Take the brick with the tag of dictation-machine: brick marked “OUTPUT 7.5V⎓ 500mA "
        "⊕–C–⊖”.",
        "Plug it into the wall without the device; read volts and poles: centre negative. Pull it.",
        "Plug it into the device first, then into the wall.",
    )
    assert card.irreversible == ()
    assert card.kept.startswith("kept, with a tag")
    assert revert(demo_plan, "tape-echo").polarity == "a.c., which has no poles"


def test_a_brick_that_is_gone_is_not_replaced_by_one_that_looks_alike(demo_plan: Plan) -> None:
    card = revert(sites.planned(sites.MOULDED), "plain")
    assert card.kept == "not kept"
    assert card.steps[-1].startswith("Its brick is not on record as kept: do not take one that")
    assert "no brick is on record to go back to" in card.words
    assert revert(demo_plan, "mixer").kept == "not on record"


def test_a_supply_that_was_taken_out_stays_out() -> None:
    card = revert(sites.planned(sites.RAILS), "old-player")
    removed = "internal supply removed and blanked off by a qualified person"
    assert card.irreversible == (removed,)
    assert card.steps[-1] == f"Without a qualified person there is no going back: {removed}."


def test_poles_that_disagree_on_record_are_said_to(demo_plan: Plan) -> None:
    device = demo_plan.device("dictation-machine")
    first = device.appliance.evidence[-1]
    other = replace(first, centre="positive" if first.centre == "negative" else "negative")
    both = replace(device.appliance, evidence=(*device.appliance.evidence, other))
    card = revert_card(demo_plan, replace(device, appliance=both))
    assert card.polarity == "poles that disagree on record"
