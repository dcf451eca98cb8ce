"""Which device on which port of which charger by which path: proven best, level by level."""

from sinkside.sharing.assign import Assignment, assign
from sinkside.sharing.in_order import Level
from sinkside.sharing.question import Forbidden, Kind, Option, Question, Seat
from sinkside.sharing.why_not import Cure, Reason, WhyNot, why_not
from sinkside.sharing.wishes import (
    NeverBlinks,
    OffItsBrick,
    OnKind,
    SparePortsUsable,
    Wish,
    Within,
)

__all__ = [
    "Assignment",
    "Cure",
    "Forbidden",
    "Kind",
    "Level",
    "NeverBlinks",
    "OffItsBrick",
    "OnKind",
    "Option",
    "Question",
    "Reason",
    "Seat",
    "SparePortsUsable",
    "WhyNot",
    "Wish",
    "Within",
    "assign",
    "why_not",
]
