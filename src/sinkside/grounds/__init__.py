"""Whose grounds must not meet, and what else conducts: shorts, loops, back-feed, touch current.

What a plan needs stands here; the report on what conducts is in `at_site`, so that a plan does
not wait for it.
"""

from sinkside.grounds.clashes import Clash, clashes

__all__ = ["Clash", "clashes"]
