"""Which chains are built: all that join up, none that cannot be, and why the others were not."""

from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.parts import market
from sinkside.parts.part import End, Part
from sinkside.paths.front import Front
from sinkside.paths.judge import Path, judge
from sinkside.paths.rank import keys
from sinkside.paths.search import Limits, Rejects, fronts, settings
from sinkside.paths.settings import asked_volts
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Evidence, Observed

NEGATIVE = tuple(
    Evidence(observed=o, centre="negative") for o in (Observed.DEVICE_PRINT, Observed.BRICK_METER)
)
BOARDS: tuple[Part, ...] = (
    small.cable(length_m=1.0),
    small.trigger(9.0),
    small.trigger(12.0, name="twelve"),
    small.lead(),
)


def built(
    appliance: Any = None, parts: Any = BOARDS, *, source: Any = None, **limits: Any
) -> tuple[list[Front], Rejects]:
    source = source or small.charger("5:3 9:3")
    rejects = Rejects()
    company = frozenset(source.names)
    found = fronts(
        appliance or small.device(),
        source,
        "C1",
        company,
        tuple(parts),
        Limits(**{"solder": True, **limits}),
        rejects,
    )
    return list(found), rejects


def kinds(front: Front) -> tuple[str, ...]:
    return tuple(p.kind for p in front.parts)


def test_a_chain_joins_end_to_end_and_ends_in_the_plug() -> None:
    for appliance in (small.device(), small.device(evidence=NEGATIVE), small.device(plug="4x1.7")):
        found, _ = built(appliance, market.parts(), source=small.charger("5:3 9:3 15:3 20:3"))
        assert found
        for front in found:
            assert front.parts[0].takes.kind == "usb-c"
            assert front.end.plug == appliance.plug
            for a, b in zip(front.parts, front.parts[1:], strict=False):
                assert a.gives.joins(b.takes), front.id
                assert None in (a.gives.centre, b.takes.centre) or a.gives == b.takes


def test_a_chain_has_at_most_one_of_each_and_a_fuse_where_its_lead_begins() -> None:
    found, _ = built(small.device(capacitance_f=1e-3), market.parts())
    for front in found:
        for kind in ("cable", "trigger", "fuse", "converter", "soft start", "lead"):
            assert kinds(front).count(kind) <= 1
        if "fuse" in kinds(front):
            before = kinds(front)[: kinds(front).index("fuse")]
            assert before[-1] in ("trigger", "converter")


def test_no_chain_is_built_twice() -> None:
    found, _ = built(small.device(capacitance_f=1e-3), market.parts())
    assert len({f.id for f in found}) == len(found)


def test_volts_that_the_port_does_not_offer_are_not_asked_for() -> None:
    found, rejects = built()
    assert {f.trigger.asks_v for f in found} == {9.0}
    assert rejects.reasons["shared C1 does not offer 12 V"] == 1


def test_a_programmable_range_offers_no_fixed_volts() -> None:
    found, _ = built(source=small.charger("5:3 pps3.3-21:3"))
    assert found == []


def test_no_chain_puts_the_poles_where_all_evidence_says_that_they_are_not() -> None:
    parts = (*BOARDS, small.reverser(centre="negative"), small.reverser(centre="positive"))
    found, rejects = built(small.device(evidence=NEGATIVE), parts)
    assert {f.end.centre for f in found} == {"negative"}
    assert {kinds(f)[-1] for f in found} == {"reverser"}
    assert rejects.reasons["its plug has the other polarity"] == 1


def test_without_evidence_either_pole_is_built_and_left_to_the_judge() -> None:
    parts = (*BOARDS, small.lead(centre="negative", name="other"))
    found, _ = built(small.device(evidence=()), parts)
    assert {f.end.centre for f in found} == {"positive", "negative"}


def test_who_does_not_solder_gets_chains_without_joints() -> None:
    moulded = small.trigger(9.0, gives=small.lead().gives, joints=0, name="moulded")
    found, rejects = built(parts=(*BOARDS, moulded), solder=False)
    assert [f.joints for f in found] == [0]
    assert rejects.reasons["asks for joints, and the rules say no soldering"] == 1


@pytest.mark.parametrize(
    ("reach_m", "builds"), [(0.0, True), (1.5, True), (1.6, False), (None, False)]
)
def test_a_cable_has_to_reach(reach_m: float | None, builds: bool) -> None:
    """A 1 m cable, and half a metre of lead behind it."""
    found, rejects = built(reach_m=reach_m)
    assert bool(found) is builds
    assert bool(rejects.reasons["no cable reaches shared, 1.6 m away"]) is (reach_m == 1.6)
    assert bool(rejects.reasons["how far it is to shared is not said"]) is (reach_m is None)


def test_no_converter_is_built_that_the_contract_would_harm_or_starve() -> None:
    board = small.converter(5.0, accepts=(12.0, 20.0))
    for asks_v, builds in ((9.0, False), (15.0, True), (20.0, False)):
        parts = (small.cable(), small.trigger(asks_v), board, small.lead())
        found, _ = built(
            small.device(runs_from_v=4.0), parts, source=small.charger(f"5:3 {asks_v:g}:3")
        )
        assert any(f.converter for f in found) is builds


def test_a_step_up_is_never_set_below_what_it_is_fed() -> None:
    """It cannot: it passes its input."""
    board = small.converter((5.0, 24.0), "step-up", adjustable=True, accepts=(4.5, 24.0))
    for asks_v in (9.0, 20.0):
        parts = (small.cable(), small.trigger(asks_v), board, small.lead())
        source = small.charger(f"5:3 {asks_v:g}:3")
        found, _ = built(small.device(harmed_above_v=30.0, runs_from_v=11.0), parts, source=source)
        for front in found:
            if front.converter:
                assert front.converter.gives_v.low > asks_v * 1.05


def test_settings_run_the_device_and_do_not_surely_harm_it() -> None:
    """It runs from 6 V, its plate says 9 V, it has run cool up to 12 V; a setting slips 3 %."""
    *low, plate, high = settings(small.device(heat=small.cool((12.0, 14.0))))
    assert low
    assert all(6.0 < 0.97 * volts < 7.0 for volts in low)
    assert plate == 9.0
    assert 1.03 * high <= 12.0 < 1.03 * (high + 0.2)
    assert settings(small.device(harmed_above_v=9.0)) == tuple(low)


def test_the_smallest_fuse_that_carries_the_device_is_taken() -> None:
    fuses = tuple(small.fuse(a, name=f"fuse {a}") for a in (0.25, 0.5, 0.8))
    found, _ = built(small.device(steady_a=(0.3, 0.5)), (*BOARDS, *fuses))
    taken = {p.id for f in found for p in f.parts if p.fuse}
    assert taken == {"fuse 0.5"}


def test_a_rejected_chain_has_an_example() -> None:
    _, rejects = built(small.device(plug="9.9x9.1"))
    assert set(rejects.examples) == set(rejects.reasons)
    assert rejects.reasons["no part ends in a 9.9x9.1 plug"] == 1


PROGRAMMED = small.trigger(21.0, programmable_v=(3.3, 21.0), keeps_alive=True, name="programmed")
PPS_BOARDS = (*BOARDS, PROGRAMMED)


def test_a_programmable_trigger_is_set_for_the_device() -> None:
    """It runs from 6 V at 0.5 A, and its plate says 9 V; both lie in the one range."""
    found, _ = built(parts=PPS_BOARDS, source=small.charger("5:3 pps3.3-11:3"))
    asked = {f.trigger.asks_v for f in found}
    assert asked == set(asked_volts(small.device()))
    assert {f.parts[1].setting for f in found} == {f"set to ask for {v:g} V" for v in asked}
    assert all(f.converter is None for f in found)


def test_volts_in_no_single_range_are_not_asked_for() -> None:
    """The range is split over two objects, and 9 V lie between them."""
    source = small.charger("5:3 pps3.3-8:3 pps10-11:3")
    found, rejects = built(parts=PPS_BOARDS, source=source)
    assert 9.0 not in {f.trigger.asks_v for f in found}
    assert rejects.reasons["no range of shared C1 has 9 V in it"] == 1


def test_a_trigger_that_asks_only_once_is_not_built_with() -> None:
    once = small.trigger(21.0, programmable_v=(3.3, 21.0), keeps_alive=False, name="once")
    found, rejects = built(parts=(*BOARDS, once), source=small.charger("5:3 pps3.3-11:3"))
    assert found == []
    assert rejects.reasons["its contract dies within 15 s: it sends no keep-alive"] == 1


def test_a_port_without_a_range_is_told() -> None:
    _, rejects = built(parts=PPS_BOARDS)
    assert rejects.reasons["shared C1 offers no programmable range"] == 1


def test_programmable_volts_come_in_steps_of_twenty_millivolts() -> None:
    """And are at most three: enough, the plate's, and those at which it has run cool."""
    cool = small.device(heat=small.cool((12.0, 14.0)), runs_from_v=6.11)
    asked = asked_volts(cool)
    assert len(asked) == 3
    for volts in asked:
        assert round(volts * 1000) % 20 == 0
    low, plate, high = asked
    # Enough through 0.6 Ω and a fuse: 0.95 · V − 0.5 A · 1.0 Ω ≥ 6.11 V.
    assert 0.95 * low - 0.5 * 1.0 >= 6.11 > 0.95 * (low - 0.02) - 0.5 * 1.0
    assert plate == 9.0
    assert 1.05 * high <= 12.0 < 1.05 * (high + 0.02)


def test_where_enough_may_harm_the_most_that_surely_does_not_is_asked_for() -> None:
    """8.2 V and 0.5 V to lose would be 9.16 V; it stands 9.5 V, and 1.05 · 9.04 V = 9.492 V."""
    narrow = small.device(harmed_above_v=9.5, runs_from_v=8.2, plate_v=None)
    assert asked_volts(narrow) == (9.04,)
    assert asked_volts(small.device(harmed_above_v=6.2, plate_v=None)) == ()


def test_at_equal_merit_a_fixed_object_is_preferred() -> None:
    """9 V fixed, and 9 V programmed by a trigger that keeps its contract alive."""
    source = small.charger("5:3 9:3 pps3.3-11:3")
    found, _ = built(parts=(*BOARDS, small.fuse(1.0, 0.1), PROGRAMMED), source=source)
    nine = [f for f in found if f.trigger.asks_v == 9.0]
    judged = judge([Path(front=f, appliance=small.device()) for f in nine])
    assert (judged.worst(*Stakes) == Verdict.FITS).all()
    ranked = keys(judged)
    best = min(range(len(ranked)), key=ranked.__getitem__)
    assert {f.trigger.programmable_v for f in nine} == {None, (3.3, 21.0)}
    assert nine[best].trigger.programmable_v is None


def test_a_lead_from_a_to_c_is_for_five_volts_by_resistors() -> None:
    a_to_c = small.cable(length_m=1.0, takes=End(kind="usb-a"), name="a-c")
    pair = small.trigger(5.0, by_resistors=True, gated=False, name="pair")
    source = small.charger({"USB-A": "5:2.4 9:2"})
    rejects = Rejects()
    found = fronts(
        small.device(runs_from_v=4.0),
        source,
        "USB-A",
        frozenset(("USB-A",)),
        (*BOARDS, a_to_c, pair),
        Limits(solder=True),
        rejects,
    )
    assert {tuple(p.id for p in f.parts[:2]) for f in found} == {("a-c", "pair")}
    wanted = "a lead from A to C carries no negotiation: it gives 5 V, by two resistors"
    assert rejects.reasons[wanted] == 1


def test_a_lead_from_a_to_c_does_not_go_into_a_usb_c_port() -> None:
    mine = small.cable(length_m=1.0, takes=End(kind="usb-a"), name="a-c", owned=1)
    found, rejects = built(parts=(*BOARDS, mine))
    assert {f.parts[0].id for f in found} == {"cable"}
    assert rejects.reasons["a-c does not go into shared C1"] == 1


def test_a_moulded_lead_does_not_go_into_a_usb_a_port() -> None:
    moulded = small.trigger(9.0, gives=small.lead().gives, joints=0, name="moulded")
    a_to_c = small.cable(length_m=1.0, takes=End(kind="usb-a"), name="a-c")
    rejects = Rejects()
    source = small.charger({"USB-A": "5:2.4 9:2"})
    parts = (moulded, a_to_c)
    allowed = Limits(solder=True)
    company = frozenset(("USB-A",))
    found = fronts(small.device(), source, "USB-A", company, parts, allowed, rejects)
    assert list(found) == []
    assert rejects.reasons["a USB-C plug does not go into a USB-A port"] == 1


def test_a_splitter_is_refused_in_words() -> None:
    splitter = small.part("splitter", name="y-lead")
    found, rejects = built(parts=(*BOARDS, splitter))
    assert found
    assert not any(p.kind == "splitter" for f in found for p in f.parts)
    wanted = "splits one contract between two devices: one contract, one device"
    assert rejects.examples[wanted] == "y-lead"


EPR_LEAD = small.cable(
    length_m=1.0, e_marked=True, epr=True, carries_a=5.0, price_cents=900, name="epr"
)


@pytest.mark.parametrize(
    ("parts", "builds", "why"),
    [
        ((EPR_LEAD, small.trigger(28.0, epr=True)), True, None),
        (
            (EPR_LEAD, small.trigger(28.0)),
            False,
            "asks for 28 V, and nothing says that it speaks the extended range: add epr: yes "
            "(datasheet)",
        ),
        (
            (small.cable(length_m=1.0), small.trigger(28.0, epr=True)),
            False,
            "28 V wants a lead that is marked EPR, and none reaches",
        ),
    ],
)
def test_above_twenty_volts_lead_and_trigger_have_to_be_for_it(
    parts: tuple[Part, ...], builds: bool, why: str | None
) -> None:
    device = small.device(harmed_above_v=40.0, runs_from_v=20.0)
    found, rejects = built(device, (*parts, small.lead()), source=small.charger("5:3 20:5 28:5"))
    assert bool(found) is builds
    if why is not None:
        assert rejects.reasons[why] == 1


def test_a_lead_that_is_marked_for_more_stays_for_what_needs_it() -> None:
    """28 V go through the EPR lead, 20 V at 5 A through the plainer marked one."""
    leads = (
        small.cable(length_m=1.0, name="plain"),
        small.cable(length_m=1.0, e_marked=True, carries_a=5.0, name="marked"),
        EPR_LEAD,
    )
    parts = (*leads, small.trigger(20.0), small.trigger(28.0, epr=True, name="epr28"), small.lead())
    device = small.device(harmed_above_v=40.0, runs_from_v=15.0)
    found, _ = built(device, parts, source=small.charger("5:3 20:5 28:5"))
    used = {(f.parts[0].id, f.trigger.asks_v) for f in found}
    assert used == {("plain", 20.0), ("marked", 20.0), ("epr", 28.0)}


def test_where_only_an_epr_lead_is_at_hand_it_serves_for_all() -> None:
    found, _ = built(parts=(EPR_LEAD, *BOARDS[1:]))
    assert {f.parts[0].id for f in found} == {"epr"}


def test_a_printer_of_24_v_runs_from_28_v_through_a_step_down() -> None:
    """28 V − 5 % = 26.6 V, enough for 24.5 V at most and 1 V of headroom through half an ohm."""
    printer = small.device(
        plug="5.5x2.5", harmed_above_v=26.0, runs_from_v=21.0, plate_v=24.0, reference_v=24.0
    )
    found, _ = built(printer, market.parts(), source=small.charger("5:3 9:3 15:3 20:5 28:5"))
    judged = judge([Path(front=f, appliance=printer) for f in found])
    fits = judged.worst(Stakes.HARM, Stakes.LOSS, Stakes.MISBEHAVES) == Verdict.FITS
    by_28_v = [f for f, ok in zip(found, fits, strict=True) if ok and f.trigger.asks_v == 28.0]
    assert by_28_v
    for front in by_28_v:
        assert front.parts[0].epr
        assert front.trigger.epr
        assert front.converter is not None
