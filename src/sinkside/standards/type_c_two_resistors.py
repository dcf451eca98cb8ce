"""A board that asks for 5 V by two resistors: how it reads, and what it does in every cable.

The faults look alike under a single cable. Trying a lead from A to C, a plain and a marked
cable from C to C, both ways up, tells them apart. The outcomes are computed from what the
source sees on its CC pin, not listed.
"""

import math
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum

from sinkside.standards.type_c_cc import (
    RA_HIGH_OHM,
    RA_LOW_OHM,
    RD_OHM,
    RD_TOLERANCE,
    RD_TOLERANCE_DEFAULT_ONLY,
)
from sinkside.working import Source, Status


class Board(StrEnum):
    """How the resistors are fitted."""

    RIGHT = "one on each CC pin"
    NONE = "none"
    CC1_ONLY = "on CC1 only"
    CC2_ONLY = "on CC2 only"
    SHARED = "one shared by both CC pins"


class Cable(StrEnum):
    """Kinds of cable that behave differently."""

    A_TO_C = "A to C"
    PLAIN = "C to C, plain"
    MARKED = "C to C, marked"


@dataclass(frozen=True, kw_only=True)
class Span:
    """A resistance with its limits, Ω; infinite when open."""

    low_ohm: float
    high_ohm: float


OPEN = Span(low_ohm=math.inf, high_ohm=math.inf)
SHORT = Span(low_ohm=0.0, high_ohm=0.0)
RD = Span(low_ohm=RD_OHM * (1 - RD_TOLERANCE), high_ohm=RD_OHM * (1 + RD_TOLERANCE))
RA = Span(low_ohm=RA_LOW_OHM, high_ohm=RA_HIGH_OHM)

RD_SEEN_LOW_OHM = RD_OHM * (1 - RD_TOLERANCE_DEFAULT_ONLY)
"""A source takes at least this for a sink's resistor."""

SOURCES: Mapping[str, Source] = {
    "OPEN": Source(document="nothing fitted", status=Status.ARITHMETIC),
    "SHORT": Source(document="joined by copper", status=Status.ARITHMETIC),
    "RD": Source(
        document="USB Type-C R2.0, as given in published notes",
        clause="Table 4-25",
        status=Status.SECONDARY,
    ),
    "RA": Source(
        document="USB Type-C R2.0, as given in published notes",
        clause="Table 4-26",
        status=Status.SECONDARY,
    ),
    "RD_SEEN_LOW_OHM": Source(
        document="USB Type-C R2.0, as given in published notes",
        clause="Table 4-25",
        status=Status.SECONDARY,
    ),
    "cable_matrix": Source(
        document="USB Type-C R2.0, as given in published notes",
        clause="accessory detection",
        status=Status.SECONDARY,
    ),
}


@dataclass(frozen=True, kw_only=True)
class PinReadings:
    """What an ohmmeter shows at the board's receptacle, nothing plugged in.

    Parameters
    ----------
    cc1, cc2
        From the pin to ground.
    between
        From CC1 to CC2: tells a shared resistor from two.
    """

    cc1: Span
    cc2: Span
    between: Span


@dataclass(frozen=True, kw_only=True)
class Outcome:
    """What one cable, one way up, does with one board.

    Parameters
    ----------
    board, cable
        Which.
    turned
        Whether the plug at the board is turned over, so that CC meets CC2.
    seen
        What the source's CC pin sees to ground; open for a lead from A to C, whose source
        does not look.
    vbus
        Whether there is 5 V.
    why
        One sentence.
    """

    board: Board
    cable: Cable
    turned: bool
    seen: Span
    vbus: bool
    why: str


def expected_ohms(board: Board) -> PinReadings:
    """What an ohmmeter shows at a board's receptacle.

    Parameters
    ----------
    board
        How the resistors are fitted.

    Notes
    -----
    Only for bare resistors: a trigger or a port controller does not read as 5.1 kΩ.
    """
    both = Span(low_ohm=2 * RD.low_ohm, high_ohm=2 * RD.high_ohm)
    match board:
        case Board.RIGHT:
            return PinReadings(cc1=RD, cc2=RD, between=both)
        case Board.NONE:
            return PinReadings(cc1=OPEN, cc2=OPEN, between=OPEN)
        case Board.CC1_ONLY:
            return PinReadings(cc1=RD, cc2=OPEN, between=OPEN)
        case Board.CC2_ONLY:
            return PinReadings(cc1=OPEN, cc2=RD, between=OPEN)
        case Board.SHARED:
            return PinReadings(cc1=RD, cc2=RD, between=SHORT)


def outcome(board: Board, cable: Cable, *, turned: bool) -> Outcome:
    """What a cable, one way up, does with a board.

    Parameters
    ----------
    board, cable
        Which.
    turned
        Whether the plug at the board is turned over, so that CC meets CC2.

    Notes
    -----
    The CC wire ends on one pin of the board; the plug's other pin is open in a plain cable and
    carries Ra in a marked one. With a shared resistor that Ra lies across Rd, the source sees
    Ra on both its pins, takes it for an audio accessory, and gives no voltage.

    References
    ----------
    USB Type-C R2.0, read in a secondary text.
    """
    if cable is Cable.A_TO_C:
        return Outcome(
            board=board,
            cable=cable,
            turned=turned,
            seen=OPEN,
            vbus=True,
            why="a Type-A port gives 5 V without asking; it tells nothing about the resistors",
        )
    pins = expected_ohms(board)
    seen = pins.cc2 if turned else pins.cc1
    if cable is Cable.MARKED and board is Board.SHARED:
        seen = _parallel(seen, RA)
    vbus = RD_SEEN_LOW_OHM <= seen.low_ohm < math.inf
    if vbus:
        why = "the source sees Rd"
    elif seen == OPEN:
        why = "the source sees nothing on CC"
    else:
        why = "the source sees Ra on both pins and takes it for an audio accessory"
    return Outcome(board=board, cable=cable, turned=turned, seen=seen, vbus=vbus, why=why)


def cable_matrix(board: Board) -> tuple[Outcome, ...]:
    """Every cable, both ways up, with one board.

    Parameters
    ----------
    board
        How the resistors are fitted.
    """
    return tuple(
        outcome(board, cable, turned=turned) for cable in Cable for turned in (False, True)
    )


def boards_that_explain(tried: Mapping[tuple[Cable, bool], bool]) -> tuple[Board, ...]:
    """The ways of fitting that agree with what was tried.

    Parameters
    ----------
    tried
        For each cable and whether it was turned over: was there 5 V?

    Returns
    -------
    tuple of Board
        Empty if none does: something else is wrong.
    """
    return tuple(
        board
        for board in Board
        if all(
            outcome(board, cable, turned=turned).vbus == vbus
            for (cable, turned), vbus in tried.items()
        )
    )


def _parallel(one: Span, other: Span) -> Span:
    def joined(a: float, b: float) -> float:
        return a * b / (a + b)

    return Span(
        low_ohm=joined(one.low_ohm, other.low_ohm), high_ohm=joined(one.high_ohm, other.high_ohm)
    )
