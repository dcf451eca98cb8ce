"""First power-up: the order of things, the guard, and what is signed for."""

from tests.making import sites

from sinkside.making.first_power import STOPS, FirstPower, first_power
from sinkside.making.words import charger_name
from sinkside.plan import Plan

REMOVED = "internal supply removed and blanked off by a qualified person"


def of(plan: Plan, name: str) -> FirstPower:
    found = first_power(plan, plan.device(name))
    assert found is not None
    return found


def seat_of(plan: Plan, name: str) -> str:
    """Which charger and port, as the plan has them."""
    chosen = plan.device(name).chosen
    assert chosen is not None
    return f"{charger_name(chosen)}, port {chosen.seat.port}"


def before(power: FirstPower, first: str, then: str) -> bool:
    """Whether one thing is done before another."""
    texts = [step.do for step in power.actions]
    places = [next(i for i, text in enumerate(texts) if what in text) for what in (first, then)]
    return places[0] < places[1]


def test_nothing_then_a_dummy_load_then_the_device(demo_plan: Plan) -> None:
    power = of(demo_plan, "mixer")
    assert [step.number for step in power.actions] == list(range(1, len(power.actions) + 1))
    assert before(
        power,
        "All readings before power",
        f"Plug in the USB-C end at {seat_of(demo_plan, 'mixer')}.",
    )
    assert before(power, "Read sign and volts at the plug", "Put the dummy load on")
    assert before(power, "Put the dummy load on", "Push the plug into the device")
    assert before(power, "Push the plug into", "work it hard")
    assert any("18 Ω ±5 %, 25 W or more across the plug" in step.do for step in power.actions)


def test_every_step_under_power_says_at_what_to_stop(demo_plan: Plan) -> None:
    for device in demo_plan.devices:
        power = first_power(demo_plan, device)
        for step in power.actions if power else ():
            if "Plug in the USB-C end" in step.do or "switch it on" in step.do:
                assert step.stop_if
    assert "smell, smoke, hum" in STOPS[0]


def test_the_guard_is_the_fuse_of_the_chain_or_one_that_is_put_in(demo_plan: Plan) -> None:
    """Without one: 0.211 A · 1.5 = 0.316 A, and the next of R 10 above is 0.4 A (ISO 3)."""
    power = of(demo_plan, "field-recorder")
    chosen = demo_plan.device("field-recorder").chosen
    assert chosen is not None
    (part,) = [p for p in chosen.front.parts if p.fuse]
    assert part.fuse is not None
    assert power.guard_a == part.fuse.rated_a
    assert power.guard.startswith(
        f"its own fuse ({part.words}) is in its holder before anything is plugged in; nothing "
    )
    bare = of(sites.planned(sites.MOULDED), "plain")
    assert bare.guard_a == 0.4
    assert bare.guard == (
        "the chain has no fuse: for the first power-up put one of 400 mA in series with the plug, "
        "or feed the plug from a bench supply that is limited to 400 mA"
    )


def test_what_is_to_be_measured_first_stops_at_once(demo_plan: Plan) -> None:
    power = of(demo_plan, "cassette-deck")
    assert power.actions[0].do == (
        "Stop here until what stands at the top of the sheet is measured and planned anew."
    )
    assert power.sign_off[0].text.startswith("measured first, and planned anew")
    assert power.sign_off[0].wants_name


def test_a_plug_of_unknown_poles_has_no_first_power_up() -> None:
    found = sites.planned(sites.OTHERS)
    assert first_power(found, found.device("unknown-poles")) is None
    assert first_power(found, found.device("clinic-pump")) is None


def test_the_mains_side_is_signed_for_and_never_a_step() -> None:
    found = sites.planned(sites.RAILS)
    power = of(found, "old-player")
    assert power.sign_off[0].text == REMOVED
    assert power.sign_off[0].wants_name
    assert before(power, "Read each rail", "join the leads from the rails")
    assert before(power, "Put the dummy load on", "join the leads from the rails")
    mains = [step.do for step in power.actions if REMOVED in step.do]
    assert mains == [
        "With nothing plugged in, join the leads from the rails to the device. Before that: "
        f"{REMOVED}."
    ]


def test_a_programmable_contract_is_watched_for_an_hour(demo_plan: Plan) -> None:
    assert "Stay with it for an hour" in of(demo_plan, "field-recorder").actions[-1].do
    assert "Stay with it for half an hour" in of(demo_plan, "mixer").actions[-1].do
    assert "Watch that it runs at full work." in of(demo_plan, "fuzz-box").actions[-1].do
