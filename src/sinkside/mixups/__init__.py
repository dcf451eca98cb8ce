"""Which plug kills which device: every lead in every inlet, and how to keep them apart."""

from sinkside.mixups.at_site import Report, report
from sinkside.mixups.brick_cells import brick_matrix
from sinkside.mixups.json_shape import SCHEMA, as_json
from sinkside.mixups.new_leads import matrix
from sinkside.mixups.old_brick import OldBrick, old_bricks
from sinkside.mixups.outcome import Cell, Outcome
from sinkside.mixups.separate import Separation

__all__ = [
    "SCHEMA",
    "Cell",
    "OldBrick",
    "Outcome",
    "Report",
    "Separation",
    "as_json",
    "brick_matrix",
    "matrix",
    "old_bricks",
    "report",
]
