"""What a port does in time, for many runs: volts by straight lines from corner to corner."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sinkside.outages.circuit import Array, Index


@dataclass(frozen=True, kw_only=True)
class Course:
    """The course of a port.

    Parameters
    ----------
    t_s, v
        Corners of the volts, shape (corners, runs); times never fall.
    on
        Whether the port gives anything from corner k to corner k + 1, shape (corners − 1, runs).
    bleed_s
        Conductance across the receptacle there: the port takes its volts away.
    limit_a
        Largest current there.
    patience_s
        How long the port stands its largest current before it trips, shape (runs,).
    watched
        The corner from which the runs are watched: what comes before brings them to rest.
    retry
        The corner at which the port goes on after a trip; None if it does not trip. What comes
        before is the course without a trip, and ends one corner earlier.
    waits
        Corners at which the port goes on only once its receptacle has fallen to vSafe0V: until
        then the corner, and all that follow, are put off.
    """

    t_s: Array
    v: Array
    on: NDArray[np.bool_]
    bleed_s: Array
    limit_a: Array
    patience_s: Array
    watched: int = 0
    retry: int | None = None
    waits: tuple[int, ...] = ()

    @property
    def runs(self) -> int:
        """How many runs."""
        return int(self.t_s.shape[1])

    @property
    def last(self) -> int:
        """The corner at which the course ends if the port does not trip."""
        return (self.t_s.shape[0] if self.retry is None else self.retry) - 1

    @property
    def from_s(self) -> Array:
        """When watching begins."""
        begins: Array = self.t_s[self.watched]
        return begins

    def at(self, runs: Index) -> "Course":
        """The chosen runs."""
        return Course(
            t_s=self.t_s[:, runs],
            v=self.v[:, runs],
            on=self.on[:, runs],
            bleed_s=self.bleed_s[:, runs],
            limit_a=self.limit_a[:, runs],
            patience_s=self.patience_s[runs],
            watched=self.watched,
            retry=self.retry,
            waits=self.waits,
        )


def joined(courses: list[Course]) -> Course:
    """The runs of courses of the same corners, one after the other.

    Raises
    ------
    ValueError
        Their corners do not correspond.
    """
    first = courses[0]
    kinds = {(c.t_s.shape[0], c.watched, c.retry, c.waits) for c in courses}
    if len(kinds) > 1:
        raise ValueError("courses of different corners cannot go together")
    return Course(
        t_s=np.concatenate([c.t_s for c in courses], axis=1),
        v=np.concatenate([c.v for c in courses], axis=1),
        on=np.concatenate([c.on for c in courses], axis=1),
        bleed_s=np.concatenate([c.bleed_s for c in courses], axis=1),
        limit_a=np.concatenate([c.limit_a for c in courses], axis=1),
        patience_s=np.concatenate([c.patience_s for c in courses]),
        watched=first.watched,
        retry=first.retry,
        waits=first.waits,
    )
