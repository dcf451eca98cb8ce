"""Labels on sheets of them, as plain data: the grid by its dimensions, and what stands on each."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from sinkside.making.labels import Label
from sinkside.papers.drawn import drawing
from sinkside.papers.issue import SIZES_MM, Issue, Json, Paper
from sinkside.papers.polarity_svg import polarity_svg

TITLE = "Labels"
LEAST_MM = (30.0, 15.0)
"""Width and height of a label on which something can still be read."""


@dataclass(frozen=True, kw_only=True)
class Grid:
    """Labels on a sheet: how many across and down, and what is left free around all of them.

    Parameters
    ----------
    top_mm, side_mm
        Above and below, left and right, in mm.
    """

    columns: int
    rows: int
    top_mm: float
    side_mm: float

    def label_mm(self, paper: Paper) -> tuple[float, float]:
        """Width and height of one label, in mm."""
        width, height = SIZES_MM[paper]
        return (width - 2 * self.side_mm) / self.columns, (height - 2 * self.top_mm) / self.rows


# 24 labels of 70 mm × 37 mm fill A4 but for 0.5 mm above and below; 30 of 66.7 mm × 25.4 mm fill
# US Letter with 12.7 mm above and below, and 7.9 mm left and right (common practice, no source).
USUAL: Mapping[Paper, Grid] = {
    "a4": Grid(columns=3, rows=8, top_mm=0.5, side_mm=0.0),
    "letter": Grid(columns=3, rows=10, top_mm=12.7, side_mm=7.9),
}


def labels_data(labels: Sequence[Label], grid: Grid, issue: Issue) -> dict[str, Json]:
    """All labels in the order of the plan, row by row on as many sheets as it takes."""
    width, height = grid.label_mm(issue.paper)
    return {
        **issue.head(TITLE),
        "columns": grid.columns,
        "rows": grid.rows,
        "top_mm": grid.top_mm,
        "side_mm": grid.side_mm,
        "width_mm": width,
        "height_mm": height,
        "labels": [_label(label) for label in labels],
    }


def _label(label: Label) -> dict[str, Json]:
    poles = polarity_svg(label.polarity)
    return {
        "on": label.on,
        "lines": [line for line in label.lines if line != label.warning],
        "warning": label.warning if label.warning in label.lines else "",
        "poles": drawing(poles, label.polarity.value) if poles else None,
    }
