"""Small sites in which one thing decides, and attacks on what a plan may call fit.

Every figure of the sites is invented; what is expected stands beside each.
"""

from typing import Any

import pytest

from sinkside.plan import Action, Plan, plan
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.read import read


def switching(runs_from_v: float, harmed_above_v: float) -> str:
    return (
        f"{{is: switching regulator, runs_from: {runs_from_v} V (datasheet), "
        f"harmed_above: {harmed_above_v} V (datasheet), input_capacitor: 47 µF 35 V (plate)}}"
    )


PLAIN = {
    "plate": '"DC IN 9V⎓ 500mA ⊖–C–⊕"',
    "inside": switching(6, 30),
    "draws": "{steady: 300 mA (measured), peak: 400 mA (measured)}",
    "blink": "any",
}
NINE = '"5V⎓3A 9V⎓3A"'
TWELVE = '"5V⎓3A 12V⎓3A"'


def device(name: str, ground: str = "negative (measured)", **changes: str) -> str:
    inlet = f"{{plug: 5.5x2.1, centre: positive (measured), ground: {ground}}}"
    lines = {"use": "ordinary", "inlet": inlet, **PLAIN, **changes}
    return f"  {name}:\n" + "".join(f"    {k}: {v}\n" for k, v in lines.items())


def charger(name: str, ports: str, **about: str) -> str:
    said = {"output_earth": "floating", "on_change": "nothing", **about}
    told = ", ".join(f"{k}: {v}" for k, v in said.items())
    return f"  {name}: {{is: charger, {told}, ports: {{{ports}}}}}\n"


def site(*devices: str, shelf: str = "", rules: str = "", links: str = "[]", **more: str) -> Plan:
    said = f"solder: yes{', ' if rules else ''}{rules}"
    text = (
        f"site: {{name: Mill Lane}}\nrules: {{{said}}}\ndevices:\n{''.join(devices)}"
        + (f"shelf:\n{shelf}" if shelf else "")
        + f"links: {links}\n"
        + "".join(f"{k}: {v}\n" for k, v in more.items())
    )
    return plan(read(text, "site.yaml"))


def seats(found: Plan) -> dict[str, tuple[str, int] | None]:
    return {
        d.id: (d.chosen.seat.kind, d.chosen.seat.unit) if d.chosen else None for d in found.devices
    }


def of_rule(found: Plan, name: str, rule: str) -> list[Finding]:
    chosen = found.device(name).chosen
    return [f for f in chosen.findings if f.rule == rule] if chosen else []


@pytest.mark.parametrize(
    ("shelf", "rules", "why"),
    [
        ("", "", "there is no charger on the shelf"),
        (charger("one", f"C1: {NINE}"), "solder: no", None),
    ],
)
def test_a_device_that_no_chain_reaches_stays_on_its_brick(
    shelf: str, rules: str, why: str | None
) -> None:
    inlet = "{plug: 4x1.7, centre: positive (measured)}"
    text = f"site: {{name: Mill Lane}}\nrules: {{{rules}}}\ndevices:\n" + device(
        "radio", inlet=inlet
    )
    found = plan(read(text + (f"shelf:\n{shelf}" if shelf else ""), "site.yaml"))
    radio = found.device("radio")
    assert (radio.action, radio.chosen) == (Action.LEAVE, None)
    assert radio.why
    assert why is None or radio.why == why


def test_a_device_that_suits_is_built() -> None:
    found = site(device("radio"), shelf=charger("one", f"C1: {NINE}"))
    assert found.device("radio").action is Action.BUILD
    assert found.warnings == ()


def test_two_devices_take_two_chargers_of_a_kind() -> None:
    found = site(device("radio"), device("drum"), shelf=charger("one", f"C1: {NINE}", count="2"))
    assert sorted(filter(None, seats(found).values())) == [("one", 1), ("one", 2)]


def test_the_ports_run_out() -> None:
    found = site(device("radio"), device("drum"), shelf=charger("one", f"C1: {NINE}"))
    left = [d for d in found.devices if d.chosen is None]
    assert len(left) == 1
    assert "are taken" in left[0].why


def test_opposite_grounds_on_a_link_take_two_negatives() -> None:
    links = "[{from: drum, to: fuzz, kind: audio, shield: both ends}]"
    shelf = charger("pair", f"C1: {NINE}, C2: {NINE}", count="2", sharing="independent")
    found = site(device("drum"), device("fuzz", "positive (measured)"), shelf=shelf, links=links)
    assert sorted(filter(None, seats(found).values())) == [("pair", 1), ("pair", 2)]


def test_two_leads_and_two_chargers_close_no_loop() -> None:
    """Fuzz and radio want 9 V, mixer and amplifier 12 V; each charger has one of them.

    Fuzz lifts the shield of its lead to its positive, the mixer ties it to the other charger's
    negative, radio and amplifier tie both negatives together: 9 V into a dead short.
    """
    only_12 = switching(11, 14)
    only_9 = switching(8, 10)
    found = site(
        device("fuzz", "positive (measured)", inside=only_9),
        device("radio", inside=only_9),
        device("mixer", inside=only_12, plate='"DC IN 12V⎓ 500mA ⊖–C–⊕"'),
        device("amplifier", inside=only_12, plate='"DC IN 12V⎓ 500mA ⊖–C–⊕"'),
        shelf=charger("nine", f"C1: {NINE}, C2: {NINE}", sharing="independent")
        + charger("twelve", f"C1: {TWELVE}, C2: {TWELVE}", sharing="independent"),
        links="[{from: fuzz, to: mixer, shield: both ends}, "
        "{from: radio, to: amplifier, shield: both ends}]",
    )
    where = seats(found)
    shorted = where["fuzz"] == where["radio"] and None not in where.values()
    isolated = [d.id for d in found.devices if d.chosen and d.chosen.front.isolated]
    assert not shorted or {"fuzz", "radio"} & set(isolated)


@pytest.mark.parametrize(
    ("ground", "shield"), [("unknown", "both ends"), ("positive (measured)", "unknown")]
)
@pytest.mark.parametrize("kind", ["a", "b"])
def test_what_may_be_a_short_through_earth_is_open(ground: str, shield: str, kind: str) -> None:
    """Two one-port chargers with earthed negatives are one negative: it may be a short."""
    shelf = charger("a", f"C1: {NINE}", output_earth="earthed", count="2" if kind == "a" else "1")
    if kind == "b":
        shelf += charger("b", f"C1: {NINE}", output_earth="unknown")
    found = site(
        device("drum"),
        device("fuzz", ground),
        shelf=shelf,
        links=f"[{{from: drum, to: fuzz, shield: {shield}}}]",
        market="{isolated-9v: {is: converter, direction: isolated, gives: 8.7..9.3 V, "
        "accepts: 30..40 V, carries: 1 A}}",
    )
    for d in found.devices:
        if d.chosen and not any(e.chosen and e.chosen.front.isolated for e in found.devices):
            assert d.chosen.open(Stakes.HARM), d.id


def test_a_ground_that_nobody_measured_is_open_on_one_charger() -> None:
    found = site(
        device("drum"),
        device("fuzz", "unknown"),
        shelf=charger("pair", f"C1: {NINE}, C2: {NINE}", sharing="independent"),
        links="[{from: drum, to: fuzz, shield: both ends}]",
    )
    for name in ("drum", "fuzz"):
        chosen = found.device(name).chosen
        assert chosen is not None
        if not any(d.chosen and d.chosen.front.isolated for d in found.devices):
            (clash,) = of_rule(found, name, "ground-short")
            assert (clash.stakes, clash.verdict) == (Stakes.HARM, Verdict.UNPROVEN)
            assert found.device(name).action is Action.MEASURE


def test_one_fault_that_must_be_survived_is_survived() -> None:
    """It stands 14 V and runs from 6.5 V; the charger has 5 V and 20 V.

    A step-down from 20 V is a risk that may be taken, until it is said that it may not.
    """
    frail = switching(6.5, 14)
    found = site(
        device("radio", inside=frail),
        shelf=charger("one", 'C1: "5V⎓3A 20V⎓3A"'),
        rules="single_fault: must survive",
    )
    assert [
        f for f in of_rule(found, "radio", "single-fault") if f.verdict is not Verdict.FITS
    ] == []
    reasons = [r.reason for r in found.device("radio").rejected]
    assert "one fault in the converter puts the port's volts on the device" in reasons


def test_spare_ports_that_are_blocked_count_for_nothing() -> None:
    """In company the port has 5 V alone; blocked, nobody can come."""
    shelf = charger(
        "pair",
        f"C1: {NINE}, C2: {NINE}",
        together='{C1+C2: {C1: "5V⎓3A", C2: "5V⎓3A"}}',
        on_change="drops all",
    )
    for rules, action in (("spare_ports: blocked", Action.BUILD), ("", Action.LEAVE)):
        radio = device("radio", blink="never", ride_through="50 ms (measured)")
        found = site(radio, shelf=shelf, rules=rules)
        assert found.device("radio").action is action


def test_a_charger_that_nobody_knows_puts_nobody_at_ease() -> None:
    """Sharing unknown: what it promises in company is open, and whether it drops out."""
    shelf = charger("pair", f"C1: {NINE}, C2: {NINE}", on_change="unknown")
    found = site(device("radio", blink="never", ride_through="50 ms (measured)"), shelf=shelf)
    radio = found.device("radio")
    assert [f.verdict for f in of_rule(found, "radio", "match-offered")] == [Verdict.UNPROVEN]
    assert [f.verdict for f in of_rule(found, "radio", "port-current")] == [Verdict.UNPROVEN]
    assert [f.verdict for f in of_rule(found, "radio", "blink")] == [Verdict.UNPROVEN]
    assert radio.action is Action.MEASURE


def test_what_loses_data_is_not_tried_on_a_charger_that_nobody_knows() -> None:
    """In company the port may give 5 V or trip: that starves it, and the data are gone."""
    shelf = charger("pair", f"C1: {NINE}, C2: {NINE}")
    lossy = device("recorder", starved="loses data", blink="brief", ride_through="50 ms (measured)")
    found = site(lossy, shelf=shelf)
    assert found.device("recorder").action is Action.MEASURE


def test_no_money_buys_nothing() -> None:
    found = site(device("radio"), shelf=charger("one", f"C1: {NINE}"), rules="budget: 0 EUR")
    assert found.device("radio").chosen is None
    assert found.bought == ()


def test_a_part_of_unknown_price_is_not_free() -> None:
    """A lead without a price, of the only plug that fits: no budget covers it."""
    inlet = "{plug: 9.9x3.3, centre: positive (measured)}"
    market = "{odd-lead: {is: lead, plug: 9.9x3.3, length: 0.5 m, carries: 3 A}}"
    for rules, seated in (("budget: 100 EUR", False), ("", True)):
        found = site(
            device("radio", inlet=inlet),
            shelf=charger("one", f"C1: {NINE}"),
            rules=rules,
            market=market,
        )
        assert (found.device("radio").chosen is not None) is seated


@pytest.mark.parametrize("use", ["medical", "alarm", "vehicle", "aircraft", "outdoor", "fixed"])
def test_what_is_refused_takes_no_port_from_others(use: str) -> None:
    found = site(device("pump", use=use), device("radio"), shelf=charger("one", f"C1: {NINE}"))
    assert seats(found) == {"pump": None, "radio": ("one", 1)}
    assert found.device("pump").action is Action.REFUSED


def test_the_order_in_which_devices_are_written_changes_no_verdict() -> None:
    """Names break ties, so seats may differ; what is found on them may not."""
    written = [device(n) for n in ("drum", "radio", "organ")]
    shelf = charger("pair", f"C1: {NINE}, C2: {NINE}", sharing="independent") + charger(
        "one", f"C1: {NINE}"
    )
    values: list[Any] = []
    for order in (written, written[::-1]):
        found = site(*order, shelf=shelf)
        values.append([level.value for level in found.levels if level.name != "order of names"])
    assert values[0] == values[1]


def test_what_is_not_known_of_a_charger_bears_the_name_of_that_charger() -> None:
    """Two chargers that are alike, of both of which nothing is known."""
    ports = f"C1: {NINE}, C2: {NINE}"
    found = site(
        *(device(n) for n in ("drum", "radio", "organ")),
        shelf=charger("left", ports) + charger("right", ports),
    )
    assert {d.chosen.seat.kind for d in found.devices if d.chosen} == {"left", "right"}
    for d in found.devices:
        assert d.chosen is not None
        named = {u for f in d.chosen.findings for u in f.unknowns}
        of_chargers = {u.partition("/")[0] for u in named} & {"left", "right"}
        assert of_chargers == {d.chosen.seat.kind}, d.id
