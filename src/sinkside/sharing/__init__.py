"""Which device on which port of which charger by which path: proven best, level by level."""

from sinkside.sharing.assign import Assignment, assign
from sinkside.sharing.in_order import Level
from sinkside.sharing.loadings import TooMany
from sinkside.sharing.question import Forbidden, Kind, Option, Question, Seat

__all__ = [
    "Assignment",
    "Forbidden",
    "Kind",
    "Level",
    "Option",
    "Question",
    "Seat",
    "TooMany",
    "assign",
]
