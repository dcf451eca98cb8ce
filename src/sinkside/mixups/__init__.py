"""Which plug kills which device: every lead in every inlet, and how to keep them apart.

What every plan asks for stands here; the old bricks (`brick_cells`), what keeps plugs apart
(`separate`) and the report of a whole site (`at_site`) are imported from their modules, so that
a plan does not wait for them.
"""

from sinkside.mixups.new_leads import matrix
from sinkside.mixups.outcome import Cell, Outcome

__all__ = ["Cell", "Outcome", "matrix"]
