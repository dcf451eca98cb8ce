"""The short code of a chain, and what sheets look up in a plan."""

import re
from collections.abc import Callable
from dataclasses import replace

import pytest
from tests.making import sites

from sinkside.making.of_plan import centre, code, contract, limits, polarity, states
from sinkside.paths.judge import Judged
from sinkside.plan import DevicePlan, Plan
from sinkside.plan.model import Chosen
from sinkside.quantity import Basis, point
from sinkside.site.appliance import Appliance


def chosen_of(plan: Plan, name: str) -> Chosen:
    found = plan.device(name).chosen
    assert found is not None
    return found


def fed_with(device: DevicePlan, **changes: object) -> DevicePlan:
    """The same device with something else known of it."""
    chosen = device.chosen
    assert chosen is not None
    path = chosen.judged.paths[chosen.index]
    appliance: Appliance = replace(path.appliance, **changes)
    paths = list(chosen.judged.paths)
    paths[chosen.index] = replace(path, appliance=appliance)
    judged: Judged = replace(chosen.judged, paths=tuple(paths))
    return replace(device, appliance=appliance, chosen=replace(chosen, judged=judged))


def with_part(device: DevicePlan, place: int, **changes: object) -> DevicePlan:
    """The same device with a part of its chain changed."""
    chosen = device.chosen
    assert chosen is not None
    parts = list(chosen.front.parts)
    parts[place] = replace(parts[place], **changes)
    return replace(device, chosen=replace(chosen, front=replace(chosen.front, parts=tuple(parts))))


def test_every_chain_has_a_code_of_its_own_and_it_stays(demo_plan: Plan) -> None:
    codes = {d.id: code(d) for d in demo_plan.devices if d.chosen}
    assert len(set(codes.values())) == len(codes) == 12
    # 32 signs without I, L, O and U (Crockford's base 32, from memory).
    sign = "[0-9A-HJKMNP-TV-Z]"
    assert all(re.fullmatch(f"{sign}{{3}}-{sign}{{3}}", c) for c in codes.values())
    again = sites.planned(sites.MOULDED)
    twice = sites.planned(sites.MOULDED)
    assert code(again.devices[0]) == code(twice.devices[0])


CHANGES: dict[str, Callable[[DevicePlan], DevicePlan]] = {
    "a setting": lambda d: with_part(d, 1, setting="strapped to 15 V"),
    "another part": lambda d: with_part(d, 2, id="fuse-1a"),
    "a rating": lambda d: with_part(d, 3, carries_a=2.5),
    "a limit": lambda d: fed_with(d, harmed_above_v=point(19.0, "V", Basis.MEASURED)),
    "a need": lambda d: fed_with(d, runs_from_v=point(9.5, "V", Basis.DATASHEET)),
    "a current": lambda d: fed_with(d, steady_a=point(0.63, "A", Basis.MEASURED)),
    "a port": lambda d: _at_port(d, "C2"),
}
SAME: dict[str, Callable[[DevicePlan], DevicePlan]] = {
    "a price": lambda d: with_part(d, 1, price_cents=1234),
    "the stock": lambda d: with_part(d, 1, owned=9),
    "words": lambda d: with_part(d, 1, words="called otherwise"),
    "a basis": lambda d: fed_with(d, steady_a=point(0.62, "A", Basis.DATASHEET)),
    "a place": lambda d: fed_with(d, at="elsewhere"),
}


def _at_port(device: DevicePlan, port: str) -> DevicePlan:
    assert device.chosen is not None
    seat = replace(device.chosen.seat, port=port)
    return replace(device, chosen=replace(device.chosen, seat=seat))


@pytest.mark.parametrize("what", CHANGES)
def test_a_code_changes_with_chain_setting_and_limit(demo_plan: Plan, what: str) -> None:
    device = demo_plan.device("mixer")
    assert code(CHANGES[what](device)) != code(device)


@pytest.mark.parametrize("what", SAME)
def test_a_code_stays_where_nothing_is_made_otherwise(demo_plan: Plan, what: str) -> None:
    device = demo_plan.device("mixer")
    assert code(SAME[what](device)) == code(device)


def test_what_has_no_chain_has_no_code(demo_plan: Plan) -> None:
    assert code(demo_plan.device("old-modem")) == ""


def test_poles_are_said_in_words(demo_plan: Plan) -> None:
    assert polarity(chosen_of(demo_plan, "mixer")) == "centre positive, sleeve negative"
    assert polarity(chosen_of(demo_plan, "fuzz-box")) == "centre negative, sleeve positive"
    assert polarity(chosen_of(demo_plan, "tape-echo")) == (
        "centre negative, sleeve positive; the device takes either way round"
    )
    others = sites.planned(sites.OTHERS)
    assert polarity(chosen_of(others, "usb-thing")) == "a USB plug: its poles are fixed"
    undecided = chosen_of(others, "unknown-poles")
    assert polarity(undecided) == "not known yet: the plug is not to be made up"
    assert centre(undecided) is None
    rails = chosen_of(sites.planned(sites.RAILS), "old-player")
    assert polarity(rails).startswith("no plug")


def test_states_that_a_meter_cannot_tell_apart_are_one(demo_plan: Plan) -> None:
    found = states(chosen_of(demo_plan, "mixer"))
    assert [s.kind for s in found] == ["match", "before contract"]
    assert contract(chosen_of(demo_plan, "mixer")) == found[0]


def test_limits_are_those_of_the_device_at_their_careful_ends(demo_plan: Plan) -> None:
    found = limits(chosen_of(demo_plan, "dictation-machine"))
    assert (found.runs_from_v, found.stands_v) == (6.4, 11.4)
