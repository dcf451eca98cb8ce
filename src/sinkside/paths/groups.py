"""From rows to paths: states all come about, and of the answers to what is open one is true."""

from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.rows import Rows
from sinkside.rules.verdict import Verdict

Array: TypeAlias = NDArray[np.float64]


class Groups:
    """Rows grouped by (path, alternative), and those by path; rows come in that order."""

    def __init__(self, rows: Rows, paths: int) -> None:
        self.paths = paths
        path, answer = rows.path, rows.alternative
        other = (path[1:] != path[:-1]) | (answer[1:] != answer[:-1])
        self.alternative_starts = np.flatnonzero(np.r_[True, other])
        first = path[self.alternative_starts]
        self.path_starts = np.flatnonzero(np.r_[True, first[1:] != first[:-1]])
        self.present = first[self.path_starts]
        self.row_starts = np.flatnonzero(np.r_[True, path[1:] != path[:-1]])
        self.row_counts = np.diff(np.r_[self.row_starts, len(path)])
        self.path_of_row = path

    def fold(self, codes: NDArray[np.int8]) -> NDArray[np.int8]:
        """States of one alternative all come about; of the alternatives, one is true."""
        by_answer = np.maximum.reduceat(codes, self.alternative_starts)
        worst = np.maximum.reduceat(by_answer, self.path_starts)
        best = np.minimum.reduceat(by_answer, self.path_starts)
        found = np.zeros(self.paths, dtype=np.int8)
        found[self.present] = np.where(
            best == Verdict.FAILS,
            Verdict.FAILS,
            np.where(worst == Verdict.FITS, Verdict.FITS, Verdict.UNPROVEN),
        )
        return found

    def least(self, margins: Array) -> tuple[Array, NDArray[np.intp]]:
        """The least margin of each path and the row it stands in.

        Not-a-number means no working point at all: it is less than any margin.
        """
        ranked = np.where(np.isnan(margins), -np.inf, margins)
        lowest = np.minimum.reduceat(ranked, self.row_starts)
        low = np.flatnonzero(ranked == np.repeat(lowest, self.row_counts))
        path = self.path_of_row[low]
        least = np.full(self.paths, np.inf)
        deciding = np.zeros(self.paths, dtype=np.intp)
        least[self.present] = lowest
        # Of several rows that are as low, the first.
        deciding[self.present] = low[np.flatnonzero(np.r_[True, path[1:] != path[:-1]])]
        return least, deciding
