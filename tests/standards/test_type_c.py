"""Cables, the configuration channel, and the board with two resistors."""

import math

import pytest

from sinkside.standards.type_c_cable import CableLimit, EMarker, cable_current_limit
from sinkside.standards.type_c_cc import PULL_UPS, Advertised, advertised, cc_v, divider_v
from sinkside.standards.type_c_two_resistors import (
    OPEN,
    RD,
    SHORT,
    Board,
    Cable,
    boards_that_explain,
    cable_matrix,
    expected_ohms,
    outcome,
)


@pytest.mark.parametrize(
    ("mark", "current_a", "nominal_v"),
    [
        (EMarker.NONE, 3.0, 20.0),
        (EMarker.THREE_AMP, 3.0, 20.0),
        (EMarker.FIVE_AMP, 5.0, 20.0),
        (EMarker.EPR, 5.0, 48.0),
    ],
)
def test_what_a_cable_allows(mark: EMarker, current_a: float, nominal_v: float) -> None:
    assert cable_current_limit(mark) == CableLimit(current_a=current_a, nominal_v=nominal_v)


@pytest.mark.parametrize(
    ("measured_v", "levels"),
    [
        (0.0, ()),
        (0.14, ()),
        (0.20, (Advertised.DEFAULT,)),
        (0.41, (Advertised.DEFAULT,)),
        (0.65, (Advertised.DEFAULT, Advertised.A1_5)),
        (0.92, (Advertised.A1_5,)),
        (1.23, (Advertised.A1_5, Advertised.A3_0)),
        (1.68, (Advertised.A3_0,)),
        (2.10, ()),
        (math.nan, ()),
    ],
)
def test_what_cc_volts_mean(measured_v: float, levels: tuple[Advertised, ...]) -> None:
    assert advertised(measured_v) == levels


@pytest.mark.parametrize("level", Advertised)
@pytest.mark.parametrize("rd_ohm", [RD.low_ohm, RD.high_ohm])
def test_every_lawful_pair_of_resistors_reads_as_its_level(
    level: Advertised, rd_ohm: float
) -> None:
    up = PULL_UPS[level]
    for part in (-1, 1):
        volts = cc_v(level, rd_ohm) * (1 + part * up.source_tolerance)
        assert advertised(volts)[:1] == (level,) or level in advertised(volts)


def test_a_lead_with_the_wrong_pull_up_promises_what_its_charger_may_not_have() -> None:
    assert advertised(divider_v(5.0, 56e3, 5100.0)) == (Advertised.DEFAULT,)
    assert advertised(divider_v(5.0, 10e3, 5100.0)) == (Advertised.A3_0,)


def pattern(board: Board) -> str:
    return "".join("1" if o.vbus else "0" for o in cable_matrix(board))


def test_every_fault_has_a_pattern_of_its_own() -> None:
    # Lead from A to C, plain, marked; each straight and turned. From how sources look for Rd
    # and Ra in USB Type-C R2.0 (read in a secondary text).
    assert {board: pattern(board) for board in Board} == {
        Board.RIGHT: "111111",
        Board.NONE: "110000",
        Board.CC1_ONLY: "111010",
        Board.CC2_ONLY: "110101",
        Board.SHARED: "111100",
    }


def test_a_marked_cable_alone_does_not_tell_none_from_shared() -> None:
    tried = {(Cable.MARKED, False): False, (Cable.MARKED, True): False}
    assert boards_that_explain(tried) == (Board.NONE, Board.SHARED)
    assert boards_that_explain({**tried, (Cable.PLAIN, False): True}) == (Board.SHARED,)
    assert boards_that_explain({(Cable.A_TO_C, False): False}) == ()


def test_a_shared_resistor_hides_behind_the_cable_mark() -> None:
    got = outcome(Board.SHARED, Cable.MARKED, turned=False)
    # 4590 ∥ 800 and 5610 ∥ 1200 Ω (arithmetic).
    assert got.seen.low_ohm == pytest.approx(681.3, abs=0.1)
    assert got.seen.high_ohm == pytest.approx(988.5, abs=0.1)
    assert got.why == "the source sees Ra on both pins and takes it for an audio accessory"


def test_the_ohmmeter_tells_a_shared_resistor_between_the_pins() -> None:
    right, shared = expected_ohms(Board.RIGHT), expected_ohms(Board.SHARED)
    assert (right.cc1, right.cc2) == (shared.cc1, shared.cc2) == (RD, RD)
    assert right.between.low_ohm == pytest.approx(9180.0)
    assert shared.between == SHORT
    assert expected_ohms(Board.CC2_ONLY).cc1 == OPEN
