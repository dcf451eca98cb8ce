"""Whose grounds must not meet, and what else conducts: shorts, loops, back-feed, touch current."""

from sinkside.grounds.at_site import Report, mixed_up, report
from sinkside.grounds.clashes import Clash, clashes
from sinkside.grounds.remedies import NEVER

__all__ = ["NEVER", "Clash", "Report", "clashes", "mixed_up", "report"]
