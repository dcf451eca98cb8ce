"""What an event does to a whole plan: who goes out, for how long, and what follows."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np

from sinkside.outages.batch import together
from sinkside.outages.cases import Case, job_of
from sinkside.outages.circuit import Array
from sinkside.outages.effort import USUAL, Effort
from sinkside.outages.ends import NOMINAL, Look
from sinkside.outages.follows import CASES, Follows, follow
from sinkside.outages.happenings import Event, Happening, Kind, happening
from sinkside.outages.verdict import finding
from sinkside.parts.charger import Occupied
from sinkside.paths.front import Front
from sinkside.paths.rails import fed
from sinkside.paths.views import CORNERS
from sinkside.rules.finding import Finding
from sinkside.site.appliance import Appliance, Law


@dataclass(frozen=True, kw_only=True)
class Seated:
    """A device on its path, on one of the chargers of a kind."""

    front: Front
    appliance: Appliance
    unit: int


@dataclass(frozen=True, kw_only=True)
class Line:
    """What an event does to one device.

    Parameters
    ----------
    follows
        None where nothing happens to its port.
    finding
        Whether it rides through; None where that is no question.
    """

    seated: Seated
    happening: Happening
    follows: Follows | None
    finding: Finding | None


Reached: TypeAlias = tuple[tuple[Seated, Case], ...]


def table(
    event: Event,
    seats: Sequence[Seated],
    *,
    effort: Effort = USUAL,
    plausible: int = CASES,
) -> tuple[Line, ...]:
    """What an event does to every device on its charger; see `reached` and `tables`."""
    return tables([(event, reached(event, seats))], effort=effort, plausible=plausible)[0]


def tables(
    events: Sequence[tuple[Event, Reached]],
    *,
    effort: Effort = USUAL,
    plausible: int = CASES,
) -> tuple[tuple[Line, ...], ...]:
    """What each of several events does to every device on its charger, each by itself.

    Parameters
    ----------
    events
        What happens, and whom it reaches.
    plausible
        How many plausible cases to follow; 0 for corners alone.

    Notes
    -----
    Devices on other chargers have no line: what happens on one charger does not reach another,
    unless mains go, which is an event of each. All are followed together, which takes hardly
    longer than one.
    """
    found = [(n, *one) for n, (_, reached_) in enumerate(events) for one in reached_]
    all_follow = follow([case for _, _, case in found], effort=effort, plausible=plausible)
    lines: list[list[Line]] = [[] for _ in events]
    for (number, seated, case), follows in zip(found, all_follow, strict=True):
        lines[number].append(
            Line(
                seated=seated,
                happening=case.happening,
                follows=follows,
                finding=finding(case, follows, events[number][0].sentence()),
            )
        )
    return tuple(map(tuple, lines))


def reached(event: Event, seats: Sequence[Seated]) -> Reached:
    """The devices on the charger of an event, and what happens to the port of each.

    Parameters
    ----------
    seats
        All that is plugged in; of a device that is attached by the event, its own seat too.

    Raises
    ------
    IllegalEvent
        It cannot happen to the port that it names.
    """
    here = [s for s in seats if (s.front.charger.id, s.unit) == (event.charger, event.unit)]
    occupied = _occupied(event, here)
    return tuple(
        (
            s,
            Case(
                front=s.front, appliance=s.appliance, happening=happening(event, s.front, occupied)
            ),
        )
        for s in here
    )


def _occupied(event: Event, here: Sequence[Seated]) -> Occupied:
    """The ports in use before the event."""
    ports = frozenset(s.front.port for s in here)
    return ports - {event.port} if event.kind is Kind.ATTACH else ports


@dataclass(frozen=True, kw_only=True)
class Curve:
    """The waveforms of one run.

    Parameters
    ----------
    t_s
        From the event on; before it, negative.
    """

    label: str
    t_s: Array
    pins_v: Array
    port_v: Array
    port_a: Array


def curves(
    seated: Seated,
    found: Happening,
    *,
    points: int = 600,
    effort: Effort = USUAL,
) -> tuple[Curve, ...]:
    """Waveforms of an event at one device: nominal, and at the corner of the longest outage.

    Parameters
    ----------
    found
        What the event does to its port.
    points
        How many samples; corners and their surroundings come on top.
    """
    if found.schedule is None or not found.after:
        return ()
    case = Case(front=seated.front, appliance=seated.appliance, happening=found)
    law: Law = fed(case.front, case.appliance).laws[0]
    looks = (
        ("nominal", Look("outage", NOMINAL)),
        ("longest outage", Look("outage", CORNERS)),
        ("highest inrush", Look("inrush", CORNERS)),
    )
    return tuple(_curve(label, case, law, look, points, effort) for label, look in looks)


def _curve(label: str, case: Case, law: Law, look: Look, points: int, effort: Effort) -> Curve:
    """The run of a look that its question is about: out for longest, or with the highest peak."""
    job = job_of(case, law, case.happening.after[0], look)
    shown = [
        _grid(job.course.t_s[:, run], job.course.watched, job.course.last, points)
        for run in range(look.columns)
    ]
    grid = np.unique(np.concatenate(shown))
    (outcome,) = together([job], effort=effort, grid_s=grid)
    assert outcome.trace is not None
    weight = outcome.peak_a if look.question == "inrush" else outcome.longest_out_s
    run = int(np.argmax(weight))
    trace = outcome.trace
    seen = ~np.isnan(trace.pins_v[run]) & (grid <= shown[run][-1])
    return Curve(
        label=label,
        t_s=grid[seen],
        pins_v=trace.pins_v[run, seen],
        port_v=trace.port_v[run, seen],
        port_a=trace.port_a[run, seen],
    )


def _grid(corners: Array, watched: int, last: int, points: int) -> Array:
    """Times that show every corner: even ones, and a spread of shorter and shorter ones behind."""
    begins = corners[watched]
    shown = corners[watched : last + 1]
    # The tail is long where a reservoir fills; what is told of it is its first second.
    ends = min(shown[-1], shown[-2] + 1.0) if shown.size > 1 else shown[-1]
    lead = 0.05 * (ends - begins)
    even = np.linspace(begins - lead, ends, points)
    behind = np.concatenate([[-1e-4, -1e-6], np.geomspace(1e-5, 0.3, 24)])
    near = (shown[:, None] + behind[None, :]).ravel()
    times = np.unique(np.concatenate([even, near]))
    inside: Array = times[(times >= begins - lead) & (times <= ends)]
    return inside
