"""Old bricks: what is read of them, what they bring, and workings that can be redone.

Outside checks: volts open 1.3 to 1.75 times the plate and mains +10 % (common practice; single
bricks in secondary texts, FACTS of the trade); Ohm's law by hand.
"""

from typing import Any

import numpy as np
import pytest
from tests.mixups.hand import CELLS, brick, inlet
from tests.paths import small_parts as small

from sinkside.mixups.brick_cells import brick_matrix, working
from sinkside.mixups.brick_figures import Inlets, at_inlets, volts_at
from sinkside.mixups.old_brick import OldBrick, old_bricks
from sinkside.mixups.picking import HARM_RULES
from sinkside.physics.unregulated import between_v
from sinkside.site.read import read
from sinkside.site.survey import survey

DEVICE = 'use: ordinary, plate: "9V DC 500mA", inlet: {plug: 5.5x2.1}'


def of(said: str, *, staying: bool = False, device: str = DEVICE) -> tuple[OldBrick, ...]:
    """The old bricks of a site with one device."""
    found = read(f"site: {{name: T}}\ndevices:\n  radio: {{{device}{said}}}\n", "t.yaml")
    appliances = [survey(d, found.ambient) for d in found.devices]
    return old_bricks(found.devices, appliances, {"radio"} if staying else set())


def test_a_brick_that_does_not_regulate() -> None:
    (found,) = of(', brick: {plate: "OUTPUT 9V DC 800mA ⊕–C–⊖", open: 13.6 V (measured)}')
    assert (found.kind, found.plate_v, found.regulates) == ("dc", (9.0, 9.0), False)
    assert found.open_v == pytest.approx((13.6, 14.96))
    assert found.carries_a == (0.8, 0.8)
    assert (found.centre, found.centre_is_sure) == ("negative", False)


def test_a_brick_that_regulates_is_not_moved_by_the_mains() -> None:
    (found,) = of(', brick: {plate: "OUTPUT 9V DC 800mA", open: 9.3 V (measured)}')
    assert (found.regulates, found.open_v) == (True, (9.3, 9.3))


@pytest.mark.parametrize(
    ("plate_v", "open_v"), [(12, 19.2), (12, 18.0), (12, 21.0), (9, 14.0), (9, 12.0), (6.3, 8.2)]
)
def test_bricks_that_are_told_of_do_not_regulate_and_stay_in_the_band(
    plate_v: float, open_v: float
) -> None:
    """Open over plate of single bricks: 1.6, 1.5 to 1.75, 1.56, 1.33, 1.3 (secondary texts)."""
    said = f', brick: {{plate: "OUTPUT {plate_v}V DC 1A", open: {open_v} V (measured)}}'
    device = f'use: ordinary, plate: "{plate_v}V DC 500mA", inlet: {{plug: 5.5x2.1}}'
    (measured,) = of(said, device=device)
    assert measured.regulates is False
    (plate_only,) = of(f', brick: {{plate: "OUTPUT {plate_v}V DC 1A"}}', device=device)
    low, high = plate_only.open_v
    assert low <= open_v <= high


def test_only_the_plate() -> None:
    (found,) = of(', brick: {plate: "OUTPUT 9V DC 800mA"}')
    assert found.regulates is None
    assert found.open_v == pytest.approx((8.55, 17.325))


def test_a_meter_on_the_brick_settles_its_poles() -> None:
    (found,) = of(', brick: {plate: "OUTPUT 9V DC 1A", centre: positive (measured)}')
    assert (found.centre, found.centre_is_sure) == ("positive", True)


def test_a_print_against_a_meter_settles_nothing() -> None:
    (found,) = of(', brick: {plate: "OUTPUT 9V DC 1A ⊕–C–⊖", centre: positive (measured)}')
    assert (found.centre, found.centre_is_sure) == (None, False)


def test_a_brick_has_the_poles_of_its_own_device() -> None:
    """Two objects agree on the device: it ran on that brick."""
    device = (
        'use: ordinary, plate: "9V DC 500mA ⊖–C–⊕", '
        "inlet: {plug: 5.5x2.1, centre: positive (measured)}"
    )
    (found,) = of(', brick: {plate: "OUTPUT 9V DC 1A"}', device=device)
    assert (found.centre, found.centre_is_sure) == ("positive", True)


def test_that_it_is_ac_is_heard_on_any_basis() -> None:
    assert of(", brick: {kind: ac}")[0].kind == "ac"
    assert of(", brick: {kind: dc (measured)}")[0].kind == "dc"
    (found,) = of(', brick: {plate: "OUTPUT 9 VAC 1A", kind: dc (measured)}')
    assert found.kind == "unknown"


def test_a_brick_that_is_not_its_own() -> None:
    (found,) = of(', brick: {plate: "OUTPUT 18V DC 1A", original: no}')
    assert (found.own, found.carries_a) == (False, (1.0, 1.0))
    (unsaid,) = of(", brick: {original: no}")
    assert (unsaid.kind, unsaid.plate_v) == ("unknown", None)
    assert unsaid.open_v == (0.0, 60.0)


def test_which_bricks_are_there() -> None:
    assert of("") == ()
    assert of(", brick: {kept: no}") == ()
    (found,) = of("", staying=True)
    assert (found.in_use, found.own, found.plate_v) == (True, True, (9.0, 9.0))
    device = 'use: ordinary, plate: "230V~", inlet: {plug: other}, inside: internal mains supply'
    assert of("", staying=True, device=device) == ()


def test_a_foreign_brick_in_its_device_is_judged() -> None:
    """18 V out of somebody else's brick."""
    mine = small.device("radio", harmed_above_v=14.0)
    (found,) = brick_matrix(of(', brick: {plate: "OUTPUT 18V DC 1A", original: no}'), [mine])
    assert (found.own, found.word) == (True, "over-voltage")


def test_its_own_brick_is_its_own() -> None:
    """Its open volts are what it stood for years, whatever a rule of thumb says of its limit."""
    mine = small.device("radio", harmed_above_v=10.0)
    (found,) = brick_matrix(
        of(', brick: {plate: "OUTPUT 9V DC 1A", open: 13.6 V (measured)}'), [mine]
    )
    assert (found.word, found.harmful, found.own) == ("its own", False, True)
    assert found.told == "up to 14.96 V (no load); it is harmed above 10 V"


LINE = CELLS[41]["brick"]  # 13.6 V open, 11.2 V at 0.34 A, plate 9 V and 0.8 A


@pytest.mark.parametrize("load_a", [0.0, 0.1, 0.2, 0.34, 0.5, 0.7])
def test_the_line_lies_within_the_bounds_of_its_physics(load_a: float) -> None:
    """By `between_v`, which is tested by itself, times mains of 0.9 to 1.1."""
    low, high = volts_at(brick(LINE), np.array([[load_a, load_a]]))[0]
    least, most = between_v((13.6, 13.6), (11.2, 11.2), (0.34, 0.34), (load_a, load_a))
    assert (low, high) == pytest.approx((0.9 * least, min(1.1 * most, 1.1 * 13.6)))


def test_beyond_its_rating_nothing_holds_it_up() -> None:
    low, _ = volts_at(brick(LINE), np.array([[0.9, 0.9]]))[0]
    assert low == 0.0


def test_more_load_never_brings_more_volts() -> None:
    for said in (LINE, {"plate_v": 9, "plate_a": 0.5}, {"plate_v": 9, "open_v": 9.3, "plate_a": 1}):
        source = brick({"plug": "5.5x2.1", **said})
        amps = np.linspace(0.0, 1.5, 40)
        found = volts_at(source, np.stack([amps, amps], axis=1))
        assert (np.diff(found, axis=0) <= 1e-12).all()
        assert (found[:, 0] <= found[:, 1]).all()


@pytest.mark.parametrize(
    ("laws", "steady"),
    [
        (("constant current",), (0.3, 0.3)),
        (("constant power",), (0.3 * 9.0 / 14.96, 0.3 * 9.0 / 10.08)),
        (("resistance",), (0.3 * 10.08 / 9.0, 0.3 * 14.96 / 9.0)),
        (("constant current", "constant power"), (0.3 * 9.0 / 14.96, 0.3)),
    ],
)
def test_currents_follow_the_law_of_the_device(laws: Any, steady: tuple[float, float]) -> None:
    """0.3 A at 9 V; the brick gives 10.08 V (11.2 V, mains low) to 14.96 V (open, mains high)."""
    thing = small.device(laws=laws, steady_a=0.3, peak_a=0.3, reference_v=9.0)
    found = at_inlets(brick(LINE), Inlets.of([thing]))
    assert found.steady_a[0] == pytest.approx(steady)


BRICKS = [said for said in CELLS if "brick" in said]


@pytest.mark.parametrize("said", BRICKS, ids=lambda s: s["why"][:30])
def test_every_working_can_be_redone_and_says_what_the_square_says(said: dict[str, Any]) -> None:
    source, into = brick(said["brick"]), inlet(said["inlet"])
    for rule in ("over-volts", "load-side-current", "under-volts"):
        shown = working(source, into, rule)
        assert shown.again() == pytest.approx(shown.result)
        (cell,) = brick_matrix([source], [into])
        if cell.rule == rule and rule in HARM_RULES:
            assert shown.result < 0.0


def test_a_rule_that_has_no_figures_here_has_no_working() -> None:
    with pytest.raises(KeyError):
        working(brick(LINE), small.device(), "fuse-holds")
