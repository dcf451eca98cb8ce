"""What is read of chargers and leads, and what several devices do to each other, by hand.

Where a figure comes from, and whether it was read, secondary, from memory or arithmetic, is said
at each.
"""

import json
import sys
from pathlib import Path

import pytest
from tests.reference.facts_sites import (
    CABLE,
    FIXED,
    LEAD,
    draws,
    fuse,
    inlet,
    regulator,
    site,
    switching,
    trigger,
)

from sinkside.cli import main
from sinkside.grounds.at_site import Report
from sinkside.hosts import chargers
from sinkside.outages.reservoirs import reservoirs
from sinkside.parts.charger import Offer
from sinkside.parts.elements import Resistance
from sinkside.parts.part import Part
from sinkside.parts.port_list import read as read_port
from sinkside.plan import plan
from sinkside.plan.blinks import Outcome, blinks
from sinkside.plan.kept_apart import kept_apart
from sinkside.rules.verdict import Verdict
from sinkside.site.read import read


def volts_and_amps(offers: tuple[Offer, ...]) -> list[tuple[str, float, float, float]]:
    """Profile, least and most volts, and amps."""
    return sorted((o.profile, o.low_v, o.high_v, o.current_a) for o in offers)


def test_a_port_s_words() -> None:
    """5 V 3 A, 9 V 3 A, 15 V 3 A, 20 V 3.25 A and PPS 3.3–11 V 3 A as bit vectors (arithmetic
    from layouts that were read)."""
    offers, guessed = read_port("0x0001912C 0x0002D12C 0x0004B12C 0x00064145 0xC0DC213C")
    assert not guessed
    assert volts_and_amps(offers) == [
        ("fixed", 5.0, 5.0, 3.0),
        ("fixed", 9.0, 9.0, 3.0),
        ("fixed", 15.0, 15.0, 3.0),
        ("fixed", 20.0, 20.0, 3.25),
        ("pps", 3.3, 11.0, 3.0),
    ]


@pytest.mark.parametrize(
    ("watts", "expected"),
    [
        ("18 W", {5.0: 3.0, 9.0: 2.0}),
        ("30 W", {5.0: 3.0, 9.0: 3.0, 15.0: 2.0}),
        ("50 W", {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 2.5}),
        ("60 W", {5.0: 3.0, 9.0: 3.0, 15.0: 3.0, 20.0: 3.0}),
    ],
)
def test_a_port_in_watts_is_a_guess(watts: str, expected: dict[float, float]) -> None:
    """The power rules (secondary) as a default; real chargers leave some out (from memory)."""
    offers, guessed = read_port(watts)
    assert guessed
    found = {o.low_v: o.current_a for o in offers if o.profile == "fixed"}
    assert found == pytest.approx(expected)


@pytest.mark.parametrize(("watts", "amps"), [("65 W", 3.25), ("87 W", 4.35), ("100 W", 5.0)])
def test_a_port_of_more_than_60_w_gives_more_than_3_a_at_20_v(watts: str, amps: float) -> None:
    """20 V @ x/20 up to 5 A, which needs a 5 A cable (secondary): the cable limits what goes
    through it, not what the port has."""
    offers, _ = read_port(watts)
    assert [o.current_a for o in offers if o.fixed_v == 20.0] == pytest.approx([amps])


def test_a_charger_as_the_kernel_shows_it(tmp_path: Path) -> None:
    """A published sample of a 67 W class (read): SPR AVS 4000mA and 3350mA at position 5. A gap
    after it is normal: objects that a kernel does not know are left out."""
    listed = tmp_path / "class/usb_power_delivery/pd1/source-capabilities"
    figures = {
        "1:fixed_supply": {"voltage": "5000mV", "maximum_current": "3000mA"},
        "2:fixed_supply": {"voltage": "9000mV", "maximum_current": "3000mA"},
        "3:fixed_supply": {"voltage": "15000mV", "maximum_current": "3000mA"},
        "4:fixed_supply": {"voltage": "20000mV", "maximum_current": "3350mA"},
        "5:spr_adjustable_voltage_supply": {
            "maximum_current_9V_to_15V": "4000mA",
            "maximum_current_15V_to_20V": "3350mA",
            "peak_current": "0",
        },
        "7:programmable_supply": {
            "minimum_voltage": "3300mV",
            "maximum_voltage": "16000mV",
            "maximum_current": "3000mA",
            "pps_power_limited": "1",
        },
    }
    for name, files in figures.items():
        (listed / name).mkdir(parents=True)
        for file, text in files.items():
            (listed / name / file).write_text(f"{text}\n", encoding="utf-8")
    (listed.parent / "revision").write_text("3.2\n", encoding="utf-8")
    [found] = chargers(tmp_path)
    assert volts_and_amps(found.offers) == sorted(
        [
            ("fixed", 5.0, 5.0, 3.0),
            ("fixed", 9.0, 9.0, 3.0),
            ("fixed", 15.0, 15.0, 3.0),
            ("fixed", 20.0, 20.0, 3.35),
            ("avs", 9.0, 15.0, 4.0),
            ("avs", 15.0, 20.0, 3.35),
            ("pps", 3.3, 16.0, 3.0),
        ]
    )
    assert [o.power_limited for o in found.offers if o.profile == "pps"] != ["no"]
    assert [r for r in found.remarks if r.startswith("7:programmable_supply")] == [
        "7:programmable_supply may give less than its current: the rated power limits it"
    ]


def part(words: str) -> Part:
    """A part as it is written on the shelf."""
    text = site(*inlet(), ports=FIXED, thing=words)
    return next(p for p in read(text, "site.yaml").parts if p.id == "thing")


def ohms(words: str) -> tuple[float, float]:
    """Least and most ohms of a part, both ways."""
    [found] = [e.ohm for e in part(words).elements if isinstance(e, Resistance)]
    return found.low, found.high


def test_ohms_of_a_lead_of_which_only_the_gauge_is_known() -> None:
    """22 AWG, 2 m: 4 m·52.96 mΩ/m = 211.8 mΩ (a table that was read), a new barrel 30 mΩ: 241.8
    mΩ. At worst 1.6 times the copper and an old barrel of 150 mΩ (from memory): 488.9 mΩ."""
    low_ohm, high_ohm = ohms("{is: lead, plug: 5.5x2.1, length: 2 m, gauge: 22 AWG}")
    assert low_ohm == pytest.approx(0.2418, abs=2e-4)
    assert high_ohm == pytest.approx(0.4889, abs=2e-4)


@pytest.mark.parametrize(
    ("mark", "most_ohm"), [("no", 0.250), ("3 A", 0.250), ("5 A", 0.150), ("EPR", 0.150)]
)
def test_ohms_of_a_cable_of_which_nothing_is_known(mark: str, most_ohm: float) -> None:
    """750 mV at the rated current, contacts included (secondary notes on Type-C 4.4.1)."""
    assert ohms(f"{{is: cable, length: 1 m, e_marked: {mark}}}")[1] == pytest.approx(most_ohm)


@pytest.mark.parametrize(
    ("standard", "carries_a", "opens_at"), [("IEC 60127", 1.0, 2.1), ("UL 248-14", 0.75, 2.0)]
)
def test_a_fuse_on_the_shelf(standard: str, carries_a: float, opens_at: float) -> None:
    """100 % and 2.1 times (secondary, memory), 75 % and twice (secondary, read)."""
    found = part(f"{{is: fuse, rating: 1 A, standard: {standard}, speed: time-lag}}")
    assert found.carries_a == pytest.approx(carries_a)
    assert found.fuse is not None
    assert found.fuse.opens_at_ratio == opens_at


def test_an_old_electrolytic_has_two_thirds() -> None:
    """−20 % by tolerance and −20 % at the end of its life (a rule, rest from memory): 0.64."""
    found = next(r for r in reservoirs(12.0, 1e-3, 10e-3) if r.kind == "electrolytic")
    assert found.farad.low == pytest.approx(0.64 * found.nominal_f)
    assert found.farad.high == pytest.approx(1.20 * found.nominal_f)


def test_the_working_that_json_shows(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsysbinary: pytest.CaptureFixture[bytes]
) -> None:
    """A 7805 on 9 V: 8.55 − 0.6·0.5 − 7.75 = 0.50 V, and each of the four is told."""
    file = tmp_path / "site.yaml"
    text = site(
        *inlet(), regulator("7805"), draws("0.5 A", "0.6 A"), ports=FIXED,
        cable=CABLE, trigger=trigger("9 V"), fuse=fuse("0.5 A"), lead=LEAD,
    )  # fmt: skip
    file.write_text(text, encoding="utf-8")
    monkeypatch.setattr(sys, "argv", ["sinkside", "plan", str(file), "--json"])
    with pytest.raises(SystemExit) as left:
        main()
    assert left.value.code == 0
    [device] = json.loads(capsysbinary.readouterr().out)["devices"]
    assert (device["verdict"], device["chosen"]["contract_v"]) == ("fits", 9.0)
    [under] = [f for f in device["chosen"]["findings"] if f["rule"] == "under-volts"]
    assert under["margin"] == pytest.approx(0.50)
    values = {s["symbol"]: s["value"] for s in under["working"]["symbols"]}
    assert values == pytest.approx({"V_feed_low": 8.55, "I_in": 0.6, "R_feed": 0.5, "V_run": 7.75})


def pair(*, mains: str, charger: str, count: int, ports: str, ride: str = "") -> str:
    """Two devices joined by a screened lead, on one charger or on two of a kind."""
    lines = (
        "use: ordinary",
        *inlet(),
        switching("7 V", "15 V"),
        draws("0.3 A", "0.4 A"),
        ride or "blink: any",
    )
    device = "\n".join(f"    {line}" for line in lines)
    device = device.replace("(measured)}", "(measured), ground: negative (measured)}", 1)
    one_kind = (
        "{is: charger, sharing: independent (measured), output_earth: floating (measured), "
        f"class: II, count: {count}, {charger} ports: {ports}}}"
    )
    return f"""site: {{name: Bench, mains: {mains}}}
rules: {{solder: yes, open_cases: yes, spare_ports: blocked}}
devices:
  one:
{device}
  two:
{device}
shelf:
  charger: {one_kind}
  cable: {{count: 2, {CABLE[1:]}
  trigger: {{count: 2, {trigger("9 V")[1:]}
  fuse: {{count: 2, {fuse("0.4 A")[1:]}
  lead: {{count: 2, {LEAD[1:]}
links:
  - {{from: one, to: two, kind: audio, shield: both ends}}
"""


ONE_PORT = '{C1: "5V⎓3A 9V⎓3A"}'
TWO_PORTS = '{C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A 9V⎓3A"}'


def conductors(mains: str, count: int, ports: str) -> Report:
    """What is said of what conducts."""
    text = pair(mains=mains, charger="on_change: nothing (measured),", count=count, ports=ports)
    return kept_apart(plan(read(text, "site.yaml"))).conductors


@pytest.mark.parametrize(
    ("mains", "count", "ports", "milliamps", "verdict"),
    [
        ("230 V 50 Hz", 1, TWO_PORTS, 0.159, Verdict.FITS),
        ("230 V 50 Hz", 2, ONE_PORT, 0.318, Verdict.UNPROVEN),
        ("120 V 60 Hz", 2, ONE_PORT, 0.199, Verdict.FITS),
    ],
)
def test_touch_current_adds_up_over_joined_gear(
    mains: str, count: int, ports: str, milliamps: float, verdict: Verdict
) -> None:
    """2π·50·2.2e-9·230 = 0.159 mA a supply, 2π·60·2.2e-9·120 = 0.0995 mA (arithmetic; 2.2 nF is
    common practice, no source), against 0.25 mA (common practice). The sum in phase is an upper
    bound; 0.3 to 0.7 of it is usual (from memory): 0.318 mA is not sure to be over."""
    [touch] = [t for t in conductors(mains, count, ports).touches if len(t.devices) == 2]
    assert 1e3 * touch.most_a == pytest.approx(milliamps, abs=6e-4)
    assert touch.verdict is verdict


@pytest.mark.parametrize(
    ("charger", "ride", "outcomes"),
    [
        # A re-negotiation without VBUS off is a step, and no gap (from memory).
        ("on_change: steps (measured),", "0.02..0.06 s", {Outcome.STEPS}),
        # A hard reset takes at least 0.66 s of 5 V: 20 to 60 ms never bridge it.
        ("on_change: drops all (measured),", "0.02..0.06 s", {Outcome.OUT}),
        # 4 s bridge a measured 1.4 to 1.9 s.
        ("on_change: drops all (measured), off_time: 1.4..1.9 s (measured),", "4..5 s",
         {Outcome.RIDES}),
        # With no measured time, firmware may take 5 s and more (from memory): 4 s are not enough.
        ("on_change: drops all (measured),", "4..4.5 s", {Outcome.MAY, Outcome.OUT}),
    ],
)  # fmt: skip
def test_who_goes_out_when_a_neighbour_is_plugged(
    charger: str, ride: str, outcomes: set[Outcome]
) -> None:
    """Many chargers drop all ports when one is plugged (secondary)."""
    text = pair(
        mains="230 V 50 Hz", charger=charger, count=1, ports=TWO_PORTS,
        ride=f"ride_through: {ride} (measured)\n    blink: any",
    )  # fmt: skip
    found = blinks(plan(read(text, "site.yaml")))
    cells = [
        found.cell(cause, device).outcome
        for cause in found.causes
        for device in found.devices
        if cause.device not in (None, device) and cause.how == "plugged"
    ]
    assert cells
    assert set(cells) <= outcomes
