"""New leads in inlets: the own square says what the path says, and no rule is forgotten."""

import random
from dataclasses import replace

import pytest
from tests.paths import random_paths
from tests.paths import small_parts as small

from sinkside.mixups import Outcome, matrix
from sinkside.mixups.picking import GRAVEST, HARM_RULES, RUN_RULES
from sinkside.paths.judge import judge, stakes_of
from sinkside.rules.table import RULES
from sinkside.rules.verdict import Stakes, Verdict


def test_every_rule_of_one_path_is_told_somewhere() -> None:
    """A rule that is added to the table and not here would make a harmful square look fine."""
    single = [r for r in RULES if r.judged != "company"]
    harm = {r.id for r in single if r.stakes is Stakes.HARM}
    run = {r.id for r in single if r.stakes in (Stakes.MISBEHAVES, Stakes.LOSS)}
    assert harm <= set(HARM_RULES)
    assert run == set(RUN_RULES)
    made = {"alternating-current", "ground-short", "single-fault"}
    assert set(HARM_RULES) - harm == made
    assert len(dict(GRAVEST)) == len(GRAVEST)


@pytest.mark.parametrize("block", range(12))
def test_the_own_square_is_the_verdict_on_the_path(block: int) -> None:
    for seed in range(25 * block, 25 * block + 25):
        path = random_paths.path(random.Random(seed))
        judged = judge([path])
        harm = judged.worst(Stakes.HARM)[0]
        rest = judged.worst(Stakes.LOSS, Stakes.MISBEHAVES)[0]
        (found,) = matrix([(path.appliance.id, path.front)], [path.appliance])
        if found.outcome is Outcome.NO_FIT:
            continue
        assert found.own
        assert found.harmful == (harm != Verdict.FITS), seed
        if found.outcome is Outcome.UNKNOWN:
            assert harm == Verdict.UNPROVEN, seed
        if not found.harmful:
            wanted = {Verdict.FITS: "fine", Verdict.UNPROVEN: "may not run"}
            assert found.word == wanted.get(Verdict(int(rest)), "will not run"), seed


def test_one_fault_upstream_counts_where_it_must_be_survived() -> None:
    """Behind the step-down 5 V, before it 15 V; the device stands 9 V."""
    parts = (small.cable(), small.trigger(15.0), small.converter(5.0), small.lead(carries_a=99.0))
    plain = small.device("thing", harmed_above_v=9.0, runs_from_v=4.0)
    (fine,) = matrix([("thing", small.front(None, *parts))], [plain])
    strict = replace(plain, must_survive_fault=True)
    (harmed,) = matrix([("thing", small.front(None, *parts))], [strict])
    assert (fine.outcome, harmed.outcome, harmed.rule) == (
        Outcome.FINE,
        Outcome.HARM,
        "single-fault",
    )
    rule = next(r for r in RULES if r.id == "single-fault")
    assert (stakes_of(rule, plain), stakes_of(rule, strict)) == (Stakes.NUISANCE, Stakes.HARM)


def test_what_the_chain_does_by_itself_is_no_mix_up_elsewhere() -> None:
    """No fuse: in a fault the lead is over its rating, in its own inlet and in any other."""
    lead = small.front(None, small.cable(), small.trigger(), small.lead(carries_a=0.5))
    mine = small.device("mine", steady_a=0.1)
    yours = small.device("yours", steady_a=0.1)
    own, other = matrix([("mine", lead)], [mine, yours])
    assert (own.outcome, own.rule) == (Outcome.HARM, "fault-current")
    assert other.outcome is Outcome.FINE


def test_a_weaker_jack_than_its_own_is_a_mix_up() -> None:
    """Its own jack stands what the port gives in a fault, the other one does not."""
    lead = small.front(None, small.cable(), small.trigger(), small.lead(carries_a=9.0))
    mine = small.device("mine", steady_a=0.1)
    yours = small.device("yours", steady_a=0.1, jack_a=1.0)
    own, other = matrix([("mine", lead)], [mine, yours])
    assert own.outcome is Outcome.FINE
    assert (other.outcome, other.rule) == (Outcome.HARM, "fault-current")


def test_the_volts_are_told_with_their_state_and_the_limit() -> None:
    source = small.charger(
        {"C1": "5:3 12:3 20:3", "C2": "5:3"}, {"C1+C2": {"C1": "5:3 20:3", "C2": "5:3"}}
    )
    parts = (small.cable(), small.trigger(12.0, ("highest",)), small.lead())
    thing = small.device(harmed_above_v=(16.0, 18.0))
    (found,) = matrix([("x", small.front(source, *parts))], [thing])
    assert found.told == "up to 21 V (fallback 20 V, C1+C2 in use); it is harmed above 16 to 18 V"
    assert (found.word, found.rule, found.sure) == ("over-voltage", "over-volts", True)


def test_where_no_plug_goes_nothing_is_told() -> None:
    (found,) = matrix([("x", small.front())], [small.device(plug="micro-usb")])
    assert (found.told, found.rule) == ("", "plug")


def test_a_short_through_signal_leads_is_told() -> None:
    inlets = [small.device("fuzz"), small.device("mixer")]
    for verdict, word in ((Verdict.FAILS, "short"), (Verdict.UNPROVEN, "may harm")):
        own, other = matrix([("mixer", small.front())], inlets[::-1], {("mixer", "fuzz"): verdict})
        assert (own.word, other.word, other.rule) == ("fine", word, "ground-short")
