"""Runs of one shape go together: many paths and questions in one integration."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from sinkside.outages.circuit import Array, Circuit
from sinkside.outages.course import Course, joined
from sinkside.outages.effort import USUAL, Effort
from sinkside.outages.integrate import integrate
from sinkside.outages.outcome import Outcome


@dataclass(frozen=True, kw_only=True)
class Job:
    """A circuit with the course of its port, of as many runs.

    Parameters
    ----------
    start_y
        States to begin with; None for a dead circuit.
    """

    circuit: Circuit
    course: Course
    start_y: Array | None = None

    @property
    def shape(self) -> tuple[object, ...]:
        """Jobs of the same shape can go together."""
        c = self.course
        corners = (c.t_s.shape[0], c.watched, c.retry, c.waits)
        return (self.circuit.shape, corners, self.start_y is None)


def together(
    jobs: Sequence[Job],
    *,
    effort: Effort = USUAL,
    accounts: bool = False,
    grid_s: Array | None = None,
) -> tuple[Outcome, ...]:
    """The outcomes of jobs, in their order; those of one shape are integrated at once."""
    groups: dict[tuple[object, ...], list[int]] = {}
    for number, job in enumerate(jobs):
        groups.setdefault(job.shape, []).append(number)
    found: dict[int, Outcome] = {}
    for members in groups.values():
        chosen = [jobs[number] for number in members]
        first, *others = [job.circuit for job in chosen]
        starts = [job.start_y for job in chosen if job.start_y is not None]
        outcome = integrate(
            first.joined(others) if others else first,
            joined([job.course for job in chosen]),
            effort=effort,
            accounts=accounts,
            grid_s=grid_s,
            start_y=np.concatenate(starts, axis=1) if starts else None,
        )
        begin = 0
        for number, job in zip(members, chosen, strict=True):
            found[number] = outcome.at(slice(begin, begin + job.circuit.runs))
            begin += job.circuit.runs
    return tuple(found[number] for number in range(len(jobs)))
