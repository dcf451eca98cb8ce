"""The power tree: loads by hand, sums, and both drawings read back from what they draw."""

import math
import re
import xml.etree.ElementTree as ET
from itertools import combinations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.plan.test_parts_list import DRUM

from sinkside.figures.labels import cells
from sinkside.figures.power_tree import Branch, Load, Tree, margin_words, power_trees
from sinkside.figures.power_tree_svg import NARROWEST, description, power_tree_svg, ticks
from sinkside.figures.power_tree_text import power_tree_text
from sinkside.figures.svg import SIZE
from sinkside.plan import Plan, plan
from sinkside.site.read import read

NS = "{http://www.w3.org/2000/svg}"
# Advance of every glyph of DejaVu Sans Mono, in parts of the type size: 1233 of 2048 units
# (its horizontal metrics table).
ADVANCE = 1233 / 2048

SITE = f"""
site: {{name: Mill Lane, currency: EUR}}
rules: {{solder: yes, spare_ports: may be used}}
places: {{bench: {{}}}}
devices:
  drum: {DRUM}
shelf:
  pair:
    is: charger
    count: 2
    at: bench
    output_earth: floating
    on_change: nothing
    ports: {{C1: "5V⎓3A 9V⎓3A", C2: "5V⎓3A"}}
    together: {{C1+C2: {{C1: "5V⎓3A 9V⎓2A", C2: "5V⎓1.5A"}}}}
"""


@pytest.fixture(scope="module")
def made() -> Plan:
    return plan(read(SITE, "site.yaml"))


def test_the_load_is_what_the_device_takes_at_the_lowest_volts(made: Plan) -> None:
    """0.4 A at 9 V is 3.6 W; of a contract of 9 V ± 5 % less some drop it is at least
    3.6/8.55 A and, with less than 0.6 V lost on the way, no more than 3.6/7.95 A."""
    tree = power_trees(made)[0]
    load = tree.branches[0].load
    assert load is not None
    assert 3.6 / 8.55 < load.peak_a < 3.6 / 7.95
    assert 2.7 / 8.55 < load.steady_a < 2.7 / 7.95
    assert (load.contract_v, load.contract) == (9.0, "9 V 2 A")


def test_the_state_is_the_one_in_which_a_neighbour_takes_most(made: Plan) -> None:
    """Alone the port offers 3 A, beside its neighbour 2 A: that is the worst one."""
    load = power_trees(made)[0].loads[0]
    assert (load.offer_a, load.state) == (2.0, "contract 9 V, C1+C2 in use")
    chosen = made.device("drum").chosen
    assert chosen is not None
    judged = next(f for f in chosen.findings if f.rule == "port-current")
    assert load.margin_a == pytest.approx(judged.margin)


def test_sums_are_over_all_ports_and_spare_ports_say_what_they_offer(made: Plan) -> None:
    used, unused = power_trees(made)
    load = used.loads[0]
    assert used.offered_w == 18.0
    assert used.steady_w == pytest.approx(9 * load.steady_a)
    assert [b.spare for b in used.branches] == ["", "free: 5 V 1.5 A"]
    assert (used.name, used.at, unused.name) == ("pair no. 1", "bench", "pair no. 2")
    assert unused.total == "nothing hangs on it"
    assert [b.spare for b in unused.branches] == ["free: 5 V 3 A, 9 V 3 A", "free: 5 V 3 A"]


def test_a_spare_port_that_is_blocked_or_of_which_nobody_knows_says_so() -> None:
    blocked = plan(read(SITE.replace("may be used", "blocked"), "site.yaml"))
    load = power_trees(blocked)[0].loads[0]
    assert (load.offer_a, load.state) == (3.0, "contract 9 V")
    assert power_trees(blocked)[0].branches[1].spare == "blocked"
    shared = '    together: {C1+C2: {C1: "5V⎓3A 9V⎓2A", C2: "5V⎓1.5A"}}\n'
    assert shared in SITE
    unknown = power_trees(plan(read(SITE.replace(shared, ""), "site.yaml")))
    assert "free, nobody knows what it offers then" in {
        b.spare for t in unknown for b in t.branches
    }


def load(device: str = "drum", offer: float = 2.0, steady: float = 0.5, peak: float = 1.0) -> Load:
    return Load(
        device=device,
        contract_v=9.0,
        programmed=False,
        offer_a=offer,
        steady_a=steady,
        peak_a=peak,
        state="contract 9 V",
        action="build it",
    )


def tree(*loads: Load | None, charger: str = "pair") -> Tree:
    return Tree(
        charger=charger,
        unit=1,
        count=1,
        at="",
        branches=tuple(
            Branch(port=f"C{k + 1}", load=x, spare="" if x else "blocked")
            for k, x in enumerate(loads)
        ),
    )


def test_margins_in_words() -> None:
    assert margin_words(load()) == "500 mA for long, 1 A at peaks, 1 A left"
    assert margin_words(load(peak=2.5)) == "500 mA for long, 2.5 A at peaks, 500 mA too much"
    assert margin_words(load(peak=2.0)) == "500 mA for long, 2 A at peaks, nothing left"
    assert margin_words(load(peak=math.nan)) == "no working point at all"
    assert load(peak=math.nan).margin_a == -math.inf
    assert "no bound" in tree(load(peak=math.nan)).total


def test_the_text_draws_shares_of_the_offer() -> None:
    """Of 38 cells between the ends, a quarter for long and half at peaks, each rounded up."""
    lines = power_tree_text((tree(load(), None),))
    assert lines == [
        "pair: 4.5 W for long, 9.0 W at peaks, of 18.0 W in contracts (25 %)",
        "├─ C1  9 V 2 A drum: build it",
        "│      │" + "═" * 10 + "─" * 9 + "·" * 19 + "│",
        "│      500 mA for long, 1 A at peaks, 1 A left [contract 9 V]",
        "└─ C2  blocked",
    ]
    assert power_tree_text((tree(load(peak=4.0)),))[2].endswith("─▶│")
    assert power_tree_text((tree(load(peak=math.nan)),))[2].endswith("─▶│")
    with pytest.raises(ValueError, match="a power tree needs 48 columns or more, not 20"):
        power_tree_text((), 20)


def rects(root: ET.Element, kind: str) -> list[tuple[float, float]]:
    return [
        (float(r.attrib["x"]), float(r.attrib["width"]))
        for r in root.iter(f"{NS}rect")
        if r.attrib["class"] == kind
    ]


def amps_of(root: ET.Element) -> tuple[float, float]:
    """The scale as a reader has it from two of its numbers: where nought is, units an ampere."""
    xs = [float(x.attrib["x1"]) for x in root.iter(f"{NS}line") if x.attrib["class"] == "tree-tick"]
    said = [float(x.text or "") for x in root.iter(f"{NS}text") if x.attrib["class"] == "tree-amps"]
    return xs[0], (xs[1] - xs[0]) / (said[1] - said[0])


def test_the_drawing_is_to_scale() -> None:
    trees = (tree(load(), load("organ", 3.0, 0.25, 0.25)), tree(load("lamp", 1.0, 0.5, 1.5)))
    root = ET.fromstring(power_tree_svg(trees))
    nought, unit = amps_of(root)
    offers = [round(w / unit, 2) for _, w in rects(root, "tree-offer")]
    steady = [round(w / unit, 2) for _, w in rects(root, "tree-steady")]
    peaks = [
        round((float(x.attrib["x1"]) - nought) / unit, 2)
        for x in root.iter(f"{NS}line")
        if x.attrib["class"] == "tree-peak"
    ]
    assert (offers, steady, peaks) == ([2.0, 3.0, 1.0], [0.5, 0.25, 0.5], [1.0, 0.25, 1.5])
    over = [x for x in root.iter(f"{NS}line") if x.attrib["class"] == "tree-limit"]
    assert [round((float(x.attrib["x1"]) - nought) / unit, 2) for x in over] == [1.0]


def inside_and_apart(root: ET.Element) -> None:
    """Every word stands within the drawing, and on no other word."""
    width, height = float(root.attrib["width"]), float(root.attrib["height"])
    boxes = []
    for text in root.iter(f"{NS}text"):
        x, y = float(text.attrib["x"]), float(text.attrib["y"])
        right = x + cells(text.text or "") * ADVANCE * SIZE
        assert x >= 0
        assert right <= width, text.text
        assert 8 <= y <= height - 2
        boxes.append((x, y - 8, right, y + 2.5))
    for a, b in combinations(boxes, 2):
        across, down = min(a[2], b[2]) - max(a[0], b[0]), min(a[3], b[3]) - max(a[1], b[1])
        assert not (across > 0.05 and down > 0.05)


@settings(max_examples=60, deadline=None)
@given(
    st.lists(
        st.one_of(
            st.none(),
            st.builds(
                load,
                st.text(max_size=300),
                st.floats(0, 5),
                st.floats(0, 5),
                st.one_of(st.floats(0, 5), st.just(math.nan)),
            ),
        ),
        max_size=4,
    ),
    st.text(max_size=200),
    st.sampled_from((NARROWEST, 560.0)),
)
def test_whatever_it_is_named_nothing_overlaps(
    loads: list[Load | None], name: str, width: float
) -> None:
    trees = (tree(*loads, charger=name), tree(load()))
    drawn = power_tree_svg(trees, width=width)
    inside_and_apart(ET.fromstring(drawn))
    assert drawn == power_tree_svg(trees, width=width)
    # Terminals draw the lines of boxes, and this arrow, in one cell.
    lines = [re.sub("[─-╿▶]", "x", line) for line in power_tree_text(trees, 60)]
    assert max(cells(line) for line in lines) <= 60


def test_the_drawing_refers_to_nothing_and_says_in_words_what_it_shows() -> None:
    drawn = power_tree_svg((tree(load("<b>&"), None),))
    assert not re.search(r"url\(|href|<style|<script| id=", drawn)
    assert description((tree(load(), None),)) == (
        "pair: 4.5 W for long, 9.0 W at peaks, of 18.0 W in contracts (25 %). C1: 9 V 2 A, drum, "
        "build it, 500 mA for long, 1 A at peaks, 1 A left, worst in contract 9 V. C2: blocked."
    )
    assert description(()) == "There is no charger."
    with pytest.raises(ValueError, match="a power tree needs a width of 320 or more, not 100"):
        power_tree_svg((), width=100)


def test_the_scale_has_round_numbers() -> None:
    assert ticks(3.0) == (0.0, 0.5, 1.0, 1.5, 2.0, 2.5, 3.0)
    assert ticks(0.05) == pytest.approx(
        (0.0, 0.005, 0.01, 0.015, 0.02, 0.025, 0.03, 0.035, 0.04, 0.045, 0.05)
    )
