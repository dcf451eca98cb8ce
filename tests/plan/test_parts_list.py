"""The parts list: counted by hand on a small site, and safe to open whatever names it holds."""

import csv
import io
import re
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from sinkside.figures.parts_list import (
    HEAD,
    parts_csv,
    parts_markdown,
    parts_text,
    sum_words,
    totals,
)
from sinkside.plan import Action, Plan, plan
from sinkside.plan.parts_list import Line, PartsList, Sum, Use, parts_list
from sinkside.site.read import read

DRUM = """
    use: ordinary
    plate: "DC IN 9V⎓ 500mA ⊖–C–⊕"
    inlet: {plug: 5.5x2.1, centre: positive (measured), ground: negative (measured)}
    inside:
      is: switching regulator
      runs_from: 6 V (datasheet)
      harmed_above: 30 V (datasheet)
      input_capacitor: 47 µF 35 V (plate)
    draws: {steady: 300 mA (measured), peak: 400 mA (measured)}
    blink: any
    ride_through: 50 ms (measured)
"""
SITE = f"""
site: {{name: Mill Lane, currency: EUR}}
rules: {{solder: yes, budget: 100 EUR, spare_ports: blocked}}
devices:
  drum: {DRUM}
  organ: {DRUM}
shelf:
  pair:
    is: charger
    count: 2
    output_earth: floating
    on_change: nothing
    ports: {{C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A 9V⎓3A"}}
    together: {{C1+C2: {{C1: "5V⎓3A 9V⎓2A", C2: "5V⎓3A 9V⎓2A"}}}}
  cable-c-1m: {{count: 3}}
  strap-trigger-9v: {{count: 1}}
"""


@pytest.fixture(scope="module")
def made() -> Plan:
    return plan(read(SITE, "site.yaml"))


def line(found: PartsList, part: str) -> Line:
    return next(x for x in found.lines if x.part == part)


def test_what_is_owned_is_used_first_and_the_rest_is_spare(made: Plan) -> None:
    found = parts_list(made)
    cable, trigger = line(found, "cable-c-1m"), line(found, "strap-trigger-9v")
    assert (cable.needed, cable.owned, cable.to_buy, cable.spare) == (2, 3, 0, 1)
    assert (trigger.needed, trigger.owned, trigger.to_buy, trigger.spare) == (2, 1, 1, 0)
    assert [(u.device, u.bought) for u in trigger.uses] == [("drum", False), ("organ", True)]
    assert found.spare == (cable,)
    assert [(c.charger, c.owned, c.used, c.ports_left) for c in found.chargers] == [
        ("pair", 2, 2, 2)
    ]


def test_it_buys_what_the_plan_buys_for_the_price_the_plan_counts(made: Plan) -> None:
    found = parts_list(made)
    assert tuple((x.part, x.to_buy) for x in found.lines if x.to_buy) == made.bought
    cents = next(level.value for level in made.levels if level.name == "cents")
    assert (found.total.cents, found.total.unpriced) == (cents, 0)
    assert sum(d.to_buy.cents for d in found.devices) == cents
    assert sum(x.cents or 0 for x in found.lines) == cents


def test_a_price_that_nobody_knows_is_not_nothing(made: Plan) -> None:
    parts = tuple(
        replace(p, price_cents=None) if p.id == "strap-trigger-9v" else p for p in made.site.parts
    )
    known, found = parts_list(made), parts_list(with_site(made, parts=parts))
    assert line(found, "strap-trigger-9v").cents is None
    assert (found.total.cents, found.total.unpriced) == (known.total.cents - 400, 1)
    assert [d.to_buy.unpriced for d in found.devices] == [0, 1]
    assert sum_words(found.total, "EUR") == (
        f"{found.total.cents / 100:.2f} EUR, and 1 of unknown price"
    )
    assert '"unknown","unknown","EUR","drum, organ"' in parts_csv(found)


def with_site(made: Plan, **changes: Any) -> Plan:
    return replace(made, site=replace(made.site, **changes))


def test_what_is_measured_first_comes_last_and_can_wait(made: Plan) -> None:
    """The drum would have had the trigger on the shelf; now the organ has it."""
    drum, organ = made.devices
    found = parts_list(replace(made, devices=(replace(drum, action=Action.MEASURE), organ)))
    trigger = line(found, "strap-trigger-9v")
    assert [(u.device, u.bought) for u in trigger.uses] == [("drum", True), ("organ", False)]
    assert (trigger.to_buy, trigger.waits) == (1, 1)
    assert found.now.cents == next(d for d in found.devices if not d.waits).to_buy.cents
    assert totals(found)[1].endswith("; the rest waits until drum is measured")
    assert parts_list(made).now == parts_list(made).total


def test_a_plan_without_seats_takes_nothing_and_leaves_the_shelf(made: Plan) -> None:
    empty = replace(made, devices=(), bought=())
    found = parts_list(empty)
    assert [(x.part, x.needed, x.spare) for x in found.lines] == [
        ("cable-c-1m", 0, 3),
        ("strap-trigger-9v", 0, 1),
    ]
    assert found.total == Sum(cents=0, unpriced=0)
    assert totals(found)[0] == "to buy in all: 0.00 EUR"


def named(words: str, *, device: str = "drum", setting: str = "") -> PartsList:
    """A list of one part whose every text a person wrote."""
    use = Use(device=device, part=words, setting=setting, bought=True)
    return PartsList(
        currency="EUR",
        lines=(
            Line(
                part=words,
                words=words,
                kind="cable",
                needed=1,
                owned=0,
                waits=0,
                price_cents=450,
                uses=(use,),
            ),
        ),
        chargers=(),
        devices=(),
        total=Sum(cents=450, unpriced=0),
        now=Sum(cents=450, unpriced=0),
        budget_cents=None,
    )


FORMULAS = (
    "=1+1",
    '=HYPERLINK("http://x.invalid","a")',
    "+1",
    "-1+1",
    "-5.00",
    "@SUM(1)",
    "\t=1",
    "\r=1",
    "\n=1",
    " =1",
    "\ufeff=1",
    "＝1",
    "＋1",
    "－1",
    "＠a",
    "−1",
    "a\r\n=1",
    'a","=1',
    'a";=1',
)


@pytest.mark.parametrize("separator", [",", ";"])
@pytest.mark.parametrize("words", FORMULAS)
def test_no_cell_is_a_formula(words: str, separator: Any) -> None:
    """The signs that begin a formula in spreadsheets (common practice, no source)."""
    found = named(words, device=words, setting=words)
    text = parts_csv(found, separator=separator)
    rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=separator))
    assert [len(row) for row in rows] == [len(HEAD)] * 2
    for cell in rows[1]:
        assert cell.lstrip("\ufeff \t\r\n")[:1] not in tuple("=+-@＝＋－＠−") or not cell
    assert "=1\r\n" not in text


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=40))
def test_whatever_it_is_named_a_row_stays_a_row(words: str) -> None:
    text = parts_csv(named(words, device=words))
    rows = list(csv.reader(io.StringIO(text, newline="")))
    assert [len(row) for row in rows] == [len(HEAD)] * 2
    assert not any(cell[:1] in ("=", "+", "-", "@", "\t", "\r") for cell in rows[1] if cell)
    table = parts_markdown(named(words, device=words)).split("\n")
    assert len(re.findall(r"(?<!\\)(?:\\\\)*\|", table[2])) == 7
    assert "<" not in table[2]


def test_numbers_are_numbers_and_text_is_quoted() -> None:
    """RFC 4180, section 2: CR LF ends a line, a quote inside quotes is doubled."""
    text = parts_csv(named('5" lead'), byte_order_mark=True)
    assert text.startswith("\ufeff")
    assert text.splitlines()[1] == '"5"" lead","5"" lead",1,0,1,0,0,4.50,4.50,"EUR","drum"'
    assert text.endswith("\r\n")
    assert not parts_csv(named("a")).startswith("\ufeff")


def test_markdown_takes_nothing_for_markup() -> None:
    words = "[a](http://x.invalid) <b> *c* `d` | www.x.invalid e@x.invalid"
    assert parts_markdown(named(words)).split("\n")[2] == (
        r"| \[a\](http&#58;//x.invalid) &lt;b\> \*c\* \`d\` \| www&#46;x.invalid e&#64;x.invalid "
        "| 1 | 0 | 1 | 4.50 | drum |"
    )
    assert parts_markdown(named("1. a")).split("\n")[2].startswith("| &#49;. a |")


def test_the_terminal_has_a_line_for_each_part_and_no_longer_than_it_is_wide(made: Plan) -> None:
    found = parts_list(made)
    lines = list(parts_text(found, 80))
    needed = [x for x in found.lines if x.needed]
    assert [x.words[:20] for x in needed] == [
        text[:20].rstrip() for text in lines[1 : len(needed) + 1]
    ]
    assert max(len(text) for text in lines[: len(needed) + 1]) <= 80
    assert "drum: " in "\n".join(lines)
