"""For each rule a path that fits, one that fails and one that nobody can tell, worked by hand.

Every figure is arithmetic that stands beside it; contract ±5 % is vSrcNew of USB PD (secondary
text), 4.75–5.5 V without a contract is vSafe5V (secondary text), 1.1–1.5 × of the rating is
where a source trips (from memory), 30 mV/µs its slew limit (secondary text).
"""

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest
from tests.paths import small_parts as small

from sinkside.paths.findings import findings
from sinkside.paths.judge import Path, judge
from sinkside.paths.rails import fed
from sinkside.quantity import Basis
from sinkside.rules.finding import Finding
from sinkside.rules.table import RULES
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Evidence, Observed

FITS, UNPROVEN, FAILS = Verdict.FITS, Verdict.UNPROVEN, Verdict.FAILS
Case = tuple[str, Verdict, Path]

PLATE, METER = (
    Evidence(observed=o, centre="positive") for o in (Observed.DEVICE_PRINT, Observed.INLET_METER)
)
AGAINST = Evidence(observed=Observed.INLET_METER, centre="negative")


def on(appliance: Any, *parts: Any, source: Any = None, **about: Any) -> Path:
    return small.path(appliance, *parts, source=source, **about)


def plain(*middle: Any, asks_v: float = 9.0, **trigger: Any) -> Sequence[Any]:
    return (small.cable(), small.trigger(asks_v, **trigger), *middle, small.lead())


def device(**changes: Any) -> Any:
    return small.device(**changes)


def evidence() -> list[Case]:
    """Two that agree fit, one alone or none is unproven, disagreement fails."""
    return [
        ("polarity", FITS, on(device(evidence=(PLATE, METER)))),
        ("polarity", UNPROVEN, on(device(evidence=(PLATE,)))),
        ("polarity", UNPROVEN, on(device(evidence=()))),
        ("polarity", FAILS, on(device(evidence=(PLATE, AGAINST)))),
        ("polarity", FAILS, on(device(evidence=(AGAINST,)))),
        (
            "polarity",
            FAILS,
            on(device(), small.cable(), small.trigger(), small.lead(centre="negative")),
        ),
        (
            "polarity",
            FITS,
            on(
                device(),
                small.cable(),
                small.trigger(),
                small.lead(centre="negative"),
                small.reverser(centre="positive"),
            ),
        ),
        ("direct-current", FITS, on(device(kind="dc"))),
        ("direct-current", UNPROVEN, on(device(kind="unknown"))),
        ("direct-current", FAILS, on(device(kind="ac"))),
    ]


def too_high() -> list[Case]:
    """9 V contract: 9.45 V at most; 5.5 V without contract; 21 V where it falls to 20 V."""
    two = small.charger(
        {"C1": "5:3 9:3 12:3 20:3", "C2": "5:3"}, {"C1+C2": {"C1": "5:3 9:3 20:3", "C2": "5:3"}}
    )
    greedy = plain(asks_v=12.0, falls_back=("highest",))
    unknown = plain(asks_v=12.0, falls_back=("next lower", "highest"))
    button = plain(presses_v=(9.0, 20.0))
    return [
        ("over-volts", FITS, on(device(harmed_above_v=9.45))),
        ("over-volts", UNPROVEN, on(device(harmed_above_v=(9.4, 12.0)))),
        ("over-volts", FAILS, on(device(harmed_above_v=9.44))),
        ("over-volts", FAILS, on(device(harmed_above_v=(9.0, 9.44)))),
        ("over-volts", FAILS, on(device(harmed_above_v=16.0), *greedy, source=two)),
        ("over-volts", FITS, on(device(harmed_above_v=21.0), *greedy, source=two)),
        ("over-volts", UNPROVEN, on(device(harmed_above_v=16.0), *unknown, source=two)),
        (
            "over-volts",
            FAILS,
            on(device(harmed_above_v=5.4), *plain(asks_v=5.0, gated=False)),
        ),
        ("over-volts", FITS, on(device(harmed_above_v=5.4), *plain(asks_v=5.0, gated=True))),
        ("over-volts", FITS, on(device(harmed_above_v=5.1), *plain(small.converter(5.0)))),
        ("button", FITS, on(device(harmed_above_v=21.0), *button)),
        ("button", UNPROVEN, on(device(harmed_above_v=(16.0, 25.0)), *button)),
        ("button", FAILS, on(device(harmed_above_v=16.0), *button)),
        ("part-volts", FITS, on(device(), *plain(asks_v=20.0))),
        (
            "part-volts",
            FAILS,
            on(device(harmed_above_v=30.0), *plain(asks_v=20.0, withstands_v=20.9)),
        ),
        (
            "part-volts",
            UNPROVEN,
            on(
                device(),
                *plain(asks_v=12.0, falls_back=("next lower", "highest"), withstands_v=16.0),
                source=two,
            ),
        ),
    ]


def currents() -> list[Case]:
    """Lead and trigger carry 3 A unless said; a fault may draw 1.5 × 3 A = 4.5 A."""
    thin = small.lead(carries_a=0.5)
    weak = (small.cable(), small.trigger(carries_a=0.5), small.lead())
    port_1a = small.charger("5:1 9:1")
    return [
        ("load-side-current", FITS, on(device(steady_a=0.5), *plain()[:2], thin)),
        ("load-side-current", UNPROVEN, on(device(steady_a=(0.4, 0.6)), *plain()[:2], thin)),
        ("load-side-current", FAILS, on(device(steady_a=0.6), *plain()[:2], thin)),
        ("port-side-current", FITS, on(device(steady_a=0.5), *weak)),
        ("port-side-current", UNPROVEN, on(device(steady_a=(0.4, 0.6)), *weak)),
        ("port-side-current", FAILS, on(device(steady_a=0.6), *weak)),
        ("fault-current", FITS, on(device())),
        ("fault-current", FAILS, on(device(), *plain()[:2], small.lead(carries_a=2.9))),
        # A fuse of 0.3 A surely opens at 2.1 × 0.3 = 0.63 A, a lead of 0.5 A stands 0.75 A.
        ("fault-current", FITS, on(device(), *plain(small.fuse(0.3))[:3], thin)),
        ("fault-current", FAILS, on(device(), *plain(small.fuse(0.5))[:3], thin)),
        (
            "fault-current",
            FITS,
            on(device(), *plain()[:2], small.lead(carries_a=1.0), source=port_1a),
        ),
        ("fault-current", FAILS, on(device(jack_a=2.0))),
        ("fault-current", UNPROVEN, on(device(jack_a=(2.0, 5.0)))),
        ("port-current", FITS, on(device(peak_a=3.0))),
        ("port-current", UNPROVEN, on(device(peak_a=(1.0, 3.5)))),
        ("port-current", FAILS, on(device(peak_a=3.1))),
        ("fuse-holds", FITS, on(device(steady_a=0.5), *plain(small.fuse(0.5)))),
        ("fuse-holds", UNPROVEN, on(device(steady_a=(0.4, 0.6)), *plain(small.fuse(0.5)))),
        ("fuse-holds", FAILS, on(device(steady_a=0.6), *plain(small.fuse(0.5)))),
    ]


def heat() -> list[Case]:
    """9.45 V in, 5 V out, 0.5 A: 2.225 W, and 9.45 V · 8 mA = 0.0756 W of its own."""
    hot = small.regulator_heat
    return [
        ("regulator-heat", FITS, on(device(heat=hot(2.3006, 5.0, 0.008)))),
        ("regulator-heat", UNPROVEN, on(device(heat=hot((1.0, 3.0), 5.0)))),
        ("regulator-heat", UNPROVEN, on(device(heat=hot(2.3, (4.75, 5.25))))),
        ("regulator-heat", FAILS, on(device(heat=hot(2.3, 5.0, 0.008)))),
        ("lived-heat", FITS, on(device(heat=small.cool(9.45)))),
        ("lived-heat", UNPROVEN, on(device(heat=small.cool((9.0, 14.0))))),
        ("lived-heat", FAILS, on(device(heat=small.cool(9.4)))),
    ]


def offered() -> list[Case]:
    lists = {"C1": "5:3 9:3 12:3", "C2": "5:3"}
    table = small.charger(lists, {"C1+C2": {"C1": "5:3 9:3", "C2": "5:3"}})
    unknown = small.charger(lists, sharing="unknown")
    twelve = plain(asks_v=12.0)
    return [
        ("match-offered", FITS, on(device(), *plain(), source=table)),
        ("match-offered", FAILS, on(device(), *twelve, source=table)),
        ("match-offered", UNPROVEN, on(device(), *twelve, source=unknown)),
        (
            "match-offered",
            FITS,
            on(device(), *twelve, source=unknown, company=frozenset(("C1",))),
        ),
        ("port-current", UNPROVEN, on(device(), *plain(), source=unknown)),
    ]


def too_low() -> list[Case]:
    """8.55 V at least, less 1 A through the ohms; a step-down needs its volts and headroom."""
    ohm = (small.cable(0.2), small.trigger(), small.lead(0.35))
    watts = device(laws=("constant power",), peak_a=1.0, steady_a=1.0, runs_from_v=5.0)
    # 8.55² ÷ 4 ÷ 2 = 9.138 W through 2 Ω at most; 9 W of it are asked for.
    thick, thin, perhaps = (
        (small.cable(), small.trigger(), small.lead(r)) for r in (2.0, 2.1, (1.0, 2.1))
    )
    # 5 V · 1 A ÷ 0.8 = 6.25 W: before it V² − 8.55·V + 6.25·R = 0, and it needs 5.5 + ….
    conv = {"efficiency": 0.8, "accepts": (4.5, 28.0)}
    return [
        ("under-volts", FITS, on(device(peak_a=1.0, runs_from_v=8.0), *ohm)),
        ("under-volts", UNPROVEN, on(device(peak_a=1.0, runs_from_v=(7.0, 8.1)), *ohm)),
        ("under-volts", UNPROVEN, on(device(peak_a=(0.1, 1.1), runs_from_v=8.0), *ohm)),
        ("under-volts", FAILS, on(device(peak_a=1.0, runs_from_v=8.01), *ohm)),
        ("operating-point", FITS, on(watts, *thick)),
        ("operating-point", UNPROVEN, on(watts, *perhaps)),
        ("operating-point", FAILS, on(watts, *thin)),
        (
            "converter-headroom",
            FITS,
            on(device(), *plain(small.converter(8.0, headroom=0.55, **conv))),
        ),
        (
            "converter-headroom",
            UNPROVEN,
            on(device(), *plain(small.converter(8.0, headroom=(0.5, 2.0), **conv))),
        ),
        (
            "converter-headroom",
            FAILS,
            on(device(), *plain(small.converter(8.0, headroom=0.56, **conv))),
        ),
    ]


def rush() -> list[Case]:
    """30 kV/s into 80 µF is 2.4 A, and 0.5 A of load; the port trips at 3.3 A at least."""
    soft = plain(small.soft_start(0.1))
    return [
        ("inrush", FITS, on(device(capacitance_f=80e-6))),
        ("inrush", UNPROVEN, on(device(capacitance_f=(80e-6, 100e-6)))),
        # Even a source as slow as 100 V/s pushes 3 A into 30 mF.
        ("inrush", FAILS, on(device(capacitance_f=30e-3))),
        # 9.45 V in 0.1 s is 94.5 V/s: 2.8 A into 29.6 mF.
        ("inrush", FITS, on(device(capacitance_f=29.6e-3), *soft)),
        ("inrush", FAILS, on(device(capacitance_f=29.7e-3), *soft)),
    ]


def peaks() -> list[Case]:
    """A converter of 1 A, whatever the port may give."""
    board = plain(small.converter(5.0, carries=1.0))
    return [
        ("converter-peak", FITS, on(device(peak_a=1.0), *board)),
        ("converter-peak", UNPROVEN, on(device(peak_a=(0.5, 1.1)), *board)),
        ("converter-peak", FAILS, on(device(peak_a=1.1), *board)),
    ]


def pulses() -> list[Case]:
    """1 mF at 9.45 V through 0.1 Ω: 1e-3 · 89.3 / 0.2 = 0.447 A²s; 10 000 pulses leave 29 %.

    A source that limits at 3 A would make it 3 · 1e-3 · 9.45 = 0.028 A²s, so more than that
    may still be stood, and no more than a third of it never is.
    """
    big = device(capacitance_f=1e-3)
    ramp = plain(small.fuse(1.0, 0.1, melts_a2s=0.0031), small.soft_start(0.1))
    return [
        ("fuse-pulse", FITS, on(big, *plain(small.fuse(1.0, 0.1, melts_a2s=1.54)))),
        ("fuse-pulse", UNPROVEN, on(big, *plain(small.fuse(1.0, 0.1, melts_a2s=1.53)))),
        ("fuse-pulse", FAILS, on(big, *plain(small.fuse(1.0, 0.1, melts_a2s=0.09)))),
        # Through a ramp of 0.1 s: (9.45 mC)² / 0.1 s = 0.893 mA²s, of 0.899 mA²s.
        ("fuse-pulse", FITS, on(big, *ramp)),
    ]


def long_runs() -> list[Case]:
    """Of 3 A a charger keeps up 60 % to 100 % for hours; in 50 °C three quarters of that."""
    hot = replace(small.charger(), ambient_degc=50.0)
    known = replace(small.charger(), continuous=(0.8, 0.8))
    return [
        ("continuous-load", FITS, on(device(steady_a=1.8))),
        ("continuous-load", UNPROVEN, on(device(steady_a=1.81))),
        ("continuous-load", FAILS, on(device(steady_a=3.01))),
        ("continuous-load", FITS, on(device(steady_a=1.35), source=hot)),
        ("continuous-load", FAILS, on(device(steady_a=2.26), source=hot)),
        ("continuous-load", FAILS, on(device(steady_a=2.41), source=known)),
    ]


def idling() -> list[Case]:
    """A pack that takes a port with less than 60 mA to be empty."""
    pack = replace(small.charger(), cuts_off_a=small.figure((0.05, 0.06), "A", "shared/cut-off"))
    sleeper = replace(device(), idle_a=small.figure(0.04, "A", "thing/idle current"))
    waker = replace(device(), idle_a=small.figure(0.06, "A", "thing/idle current"))
    return [
        ("idle-current", FITS, on(waker, source=pack)),
        ("idle-current", UNPROVEN, on(device(), source=pack)),
        ("idle-current", FAILS, on(sleeper, source=pack)),
    ]


def faults() -> list[Case]:
    """15 V through a shorted step-down is 15.75 V at the device."""
    chain = plain(small.converter(9.0), asks_v=15.0)
    return [
        ("single-fault", FITS, on(device(harmed_above_v=15.75), *chain)),
        ("single-fault", UNPROVEN, on(device(harmed_above_v=(12.0, 18.0)), *chain)),
        ("single-fault", FAILS, on(device(harmed_above_v=15.7), *chain)),
    ]


def alive() -> list[Case]:
    """Fixed contracts stay; programmable ones only where the trigger is known to ask again.

    Without a request for 12 to 15 s (tPPSTimeout, in a source controller's list of timers) the
    port ends it. Above 20 V the mode itself ends within 1 s of silence (tSourceEPRKeepAlive).
    """
    programmed = {"asks_v": 9.5, "programmable_v": (3.3, 21.0)}
    source = small.charger("5:3 9:3 28:3 pps3.3-11:3")

    def by(**trigger: Any) -> Path:
        return on(device(), *plain(**trigger), source=source)

    return [
        ("keep-alive", FITS, by(**programmed, keeps_alive=True)),
        ("keep-alive", UNPROVEN, by(**programmed)),
        ("keep-alive", FAILS, by(**programmed, keeps_alive=False)),
        ("keep-alive", FITS, by(asks_v=28.0, epr=True)),
        ("keep-alive", UNPROVEN, by(asks_v=28.0)),
        ("keep-alive", FAILS, by(asks_v=28.0, epr=True, keeps_alive=False)),
    ]


def by_rails(*needs: Any, outputs: Any = ((4.75, 5.25, 2.0),), **about: Any) -> Path:
    """A device with those rails inside, fed by a converter in their place."""
    chain = (small.cable(), small.trigger(20.0), small.rails(*outputs, **about))
    built = small.front(None, *chain)
    return Path(front=built, appliance=fed(built, device(evidence=(), rails=needs)))


def rails() -> list[Case]:
    """5 V ± 5 % is 4.75 to 5.25 V; of 2 A at most 2 A may be asked for, if it was measured."""
    two = small.need(5.0, 2.0)
    assumed = small.need(5.0, 2.0, Basis.ASSUMED)
    return [
        ("rail-volts", FITS, by_rails(two)),
        ("rail-volts", UNPROVEN, by_rails(two, outputs=((4.74, 5.0, 2.0),))),
        ("rail-volts", UNPROVEN, by_rails(two, outputs=((5.0, 5.26, 2.0),))),
        ("rail-volts", FAILS, by_rails(two, outputs=((5.3, 5.5, 2.0),))),
        ("rail-volts", FAILS, by_rails(two, small.need(12.0, 0.1))),
        ("rail-volts", FAILS, on(device(rails=(two,)))),
        ("rail-current", FITS, by_rails(two)),
        ("rail-current", UNPROVEN, by_rails(small.need(5.0, (1.9, 2.1)))),
        ("rail-current", UNPROVEN, by_rails(assumed)),
        ("rail-current", FAILS, by_rails(small.need(5.0, 2.1))),
        ("rail-current", FAILS, by_rails(small.need(5.0, 2.1, Basis.ASSUMED))),
        # Two needs of the same volts hang on one output.
        ("rail-current", FAILS, by_rails(small.need(5.0, 1.1), small.need(5.1, 1.0))),
        ("polarity", FITS, by_rails(two)),
        ("direct-current", FITS, by_rails(two)),
    ]


GROUPS: tuple[Callable[[], list[Case]], ...] = (
    evidence,
    too_high,
    currents,
    heat,
    offered,
    too_low,
    rush,
    peaks,
    pulses,
    long_runs,
    idling,
    faults,
    alive,
    rails,
)
CASES = [case for group in GROUPS for case in group()]


def finding(path: Path, rule: str) -> Finding:
    (found,) = (f for f in findings(judge([path]), 0) if f.rule == rule)
    return found


@pytest.mark.parametrize(
    ("rule", "verdict", "path"),
    CASES,
    ids=[f"{rule}-{verdict.word}-{n}" for n, (rule, verdict, _) in enumerate(CASES)],
)
def test_a_case_worked_by_hand(rule: str, verdict: Verdict, path: Path) -> None:
    assert finding(path, rule).verdict is verdict


def test_every_rule_of_a_single_path_has_a_case_for_each_verdict_that_it_can_have() -> None:
    seen = {(rule, verdict) for rule, verdict, _ in CASES}
    assert {(r.id, v) for r in RULES if r.judged != "company" for v in Verdict} - seen == set()


@pytest.mark.parametrize(
    ("rule", "stakes"),
    [("under-volts", Stakes.LOSS), ("over-volts", Stakes.HARM), ("fuse-holds", Stakes.LOSS)],
)
def test_what_starves_a_device_that_loses_data_is_a_loss(rule: str, stakes: Stakes) -> None:
    """Try it needs every finding of loss to fit: whatever cuts its volts costs the data."""
    path = on(device(starved_loses=True), *plain(small.fuse(1.0)))
    assert finding(path, rule).stakes is stakes


@pytest.mark.parametrize(
    "rule",
    ["match-offered", "port-current", "operating-point", "converter-headroom", "under-volts"],
)
def test_every_way_to_starve_a_device_that_loses_data_is_a_loss(rule: str) -> None:
    lossy = device(starved_loses=True, laws=("constant power",))
    chain = (small.cable(), small.trigger(), small.converter(5.0), small.lead(0.1))
    assert finding(on(lossy, *chain), rule).stakes is Stakes.LOSS


@pytest.mark.parametrize(
    ("changes", "stakes"),
    [
        ({}, Stakes.MISBEHAVES),
        ({"blink": "brief"}, Stakes.MISBEHAVES),
        ({"blink": "never"}, Stakes.LOSS),
        ({"starved_loses": True}, Stakes.LOSS),
    ],
)
def test_a_contract_that_dies_is_a_loss_to_what_must_not_blink(
    changes: dict[str, Any], stakes: Stakes
) -> None:
    chain = plain(asks_v=9.5, programmable_v=(3.3, 21.0))
    source = small.charger("5:3 pps3.3-11:3")
    assert finding(on(device(**changes), *chain, source=source), "keep-alive").stakes is stakes


def test_what_becomes_of_a_contract_without_a_keep_alive_is_told() -> None:
    chain = plain(asks_v=9.5, programmable_v=(3.3, 21.0))
    found = finding(on(device(), *chain, source=small.charger("5:3 pps3.3-11:3")), "keep-alive")
    assert found.unknowns == ("trigger/keep-alive",)
    assert found.words == (
        "the trigger may send no keep-alive: 12 to 15 s after its request the port makes a hard "
        "reset, nothing for 0.7 to 1.9 s, then 5 V"
    )


def test_what_the_rails_are_asked_for_is_told() -> None:
    path = by_rails(
        small.need(5.0, (1.0, 2.1)), small.need(12.0, 0.5, Basis.ASSUMED), outputs=RAILS_5_12
    )
    assert finding(path, "rail-current").words == (
        "5 V: 1 to 2.1 A at most (measured), from 2 A; 12 V: 0.5 A at most (not measured), from 1 A"
    )
    assert finding(path, "rail-current").unknowns == ("thing/rail currents",)
    assert finding(path, "rail-volts").words == (
        "5 V wants 4.75 to 5.25 V and gets 4.9 to 5.1 V; 12 V wants 11.4 to 12.6 V and gets "
        "11.6 to 12.4 V"
    )
    assert finding(path, "polarity").words == (
        "it has no plug that mates with anything: its poles are those of the build sheet"
    )


RAILS_5_12 = ((4.9, 5.1, 2.0), (11.6, 12.4, 1.0))


def test_what_a_path_has_no_part_in_is_not_found_and_fits() -> None:
    """No rails, and a fixed contract, which stays by itself."""
    judged = judge([on(device())])
    about = {"rail-volts", "rail-current", "keep-alive"}
    assert not {f.rule for f in findings(judged, 0)} & about
    assert {name: judged.categorical[name][0] for name in about} == dict.fromkeys(about, FITS)


def test_a_fault_that_must_be_survived_is_harm() -> None:
    chain = plain(small.converter(9.0), asks_v=15.0)
    found = finding(
        on(device(must_survive_fault=True, harmed_above_v=15.7), *chain), "single-fault"
    )
    assert (found.stakes, found.verdict) == (Stakes.HARM, FAILS)


def test_a_fault_that_must_be_survived_counts_where_the_trigger_falls_to_the_highest() -> None:
    """A shorted step-down while the port stands at 20 V: 21 V at a device of 16 V."""
    source = small.charger(
        {"C1": "5:3 12:3 20:3", "C2": "5:3"}, {"C1+C2": {"C1": "5:3 20:3", "C2": "5:3"}}
    )
    chain = plain(small.converter(9.0), asks_v=12.0, falls_back=("highest",))
    path = on(device(must_survive_fault=True), *chain, source=source)
    assert finding(path, "single-fault").verdict is FAILS
