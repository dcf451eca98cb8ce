"""The cut list against copper tables and against how a fuse and a plug are wired."""

from itertools import pairwise

import pytest
from tests.making import sites

from sinkside.making.wires import METRIC_MM2, Wire, gauge_for, wires
from sinkside.plan import Plan
from sinkside.standards.copper import IEC_60228_CLASS_5_OHM_PER_KM

# Amperes of single wires in air: handbook table of wire gauges, as in HyperPhysics (from memory).
HANDBOOK_A = {24: 3.5, 22: 7.0, 20: 11.0, 18: 16.0, 16: 22.0}


def of(plan: Plan, name: str) -> tuple[Wire, ...]:
    return wires(plan, plan.device(name))


def test_metric_sizes_are_those_taken_for_a_gauge() -> None:
    """d = 0.127 mm · 92^((36 − n)/39) (ASTM B258): the metric size is within a quarter of it."""
    for awg, mm2 in METRIC_MM2.items():
        area = 3.14159265 / 4 * (0.127 * 92 ** ((36 - awg) / 39)) ** 2
        assert mm2 == pytest.approx(area, rel=0.25)
    assert {0.5, 0.75, 1.5} <= set(IEC_60228_CLASS_5_OHM_PER_KM)  # sizes of IEC 60228 itself


@pytest.mark.parametrize(
    ("amps", "awg"),
    [(0.5, 22), (6.99, 22), (7.0, 22), (7.5, 20), (11.5, 18), (22.0, 16), (40.0, 16)],
)
def test_a_wire_carries_what_may_flow_and_is_never_thin(amps: float, awg: int) -> None:
    assert gauge_for(amps) == awg
    if amps <= 22.0:
        assert HANDBOOK_A[awg] >= amps


def test_the_fuse_stands_in_the_positive_alone(demo_plan: Plan) -> None:
    found = of(demo_plan, "dictation-machine")
    into = [w for w in found if w.end.startswith("source end of the ")]
    assert [(w.conductor, w.start) for w in into] == [
        ("positive", "positive output of the fixed 7.5 V step-down")
    ]
    negative = [w for w in found if w.conductor == "negative"]
    assert [w.start for w in negative][1] == "negative output of the fixed 7.5 V step-down"
    assert negative[1].end.startswith("negative input of the soft-start board")


def test_each_conductor_goes_on_where_it_ended(demo_plan: Plan) -> None:
    for device in demo_plan.devices:
        if device.chosen is None:
            continue
        found = wires(demo_plan, device)
        assert [w.number for w in found] == list(range(1, len(found) + 1))
        for pole in ("positive", "negative"):
            along = [w for w in found if w.conductor == pole]
            assert along[0].start.startswith(f"{pole} output of the")
            for one, other in pairwise(along):
                joined = one.end.replace("source end", "load end").replace("input", "output")
                assert other.start == joined


def test_the_poles_end_on_the_contacts_of_the_plug(demo_plan: Plan) -> None:
    ends = {w.conductor: w.end for w in of(demo_plan, "dictation-machine")[-2:]}
    assert ends["positive"].endswith("that goes to the sleeve of the plug")
    assert ends["negative"].endswith("that goes to the centre of the plug")
    ends = {w.conductor: w.end for w in of(demo_plan, "mixer")[-2:]}
    assert ends["positive"].endswith("that goes to the centre of the plug")


def test_what_is_not_known_is_to_be_measured(demo_plan: Plan) -> None:
    for wire in of(demo_plan, "dictation-machine"):
        assert wire.length_m is None
        assert wire.length == ("as bought" if wire.own else "measure")
        tail = "tails" in wire.note
        assert wire.colour == (
            ("its own: no polarity, either end" if tail else "its own: ring it out, and mark it")
            if wire.own
            else {"positive": "red", "negative": "black"}[wire.conductor]
        )
        assert (wire.awg is None) == wire.own
    assert of(demo_plan, "dictation-machine")[0].gauge == "0.34 mm² or AWG 22"


def test_only_the_rails_that_are_needed_are_joined() -> None:
    found = of(sites.planned(sites.RAILS), "old-player")
    ends = [w.end for w in found if w.end.startswith("where the old supply")]
    assert ends == [
        "where the old supply fed 3.3 V",
        "where the old supply fed 5 V",
        "where the old supply's common was",
    ]


def test_a_moulded_lead_has_nothing_to_cut() -> None:
    assert of(sites.planned(sites.MOULDED), "plain") == ()
