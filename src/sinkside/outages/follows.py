"""What follows for one device when something happens to the port that feeds it.

Every figure is told at its nominal and at its worst over timers and tolerances. The worst is
that of the corner of its own question, and of the plausible cases, should one of them be worse.
How many of ten plausible cases are ridden through is a band for ranking, not a probability.
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.outages.assumed import limit_a
from sinkside.outages.batch import Job, together
from sinkside.outages.cases import Case, job_of, timed
from sinkside.outages.circuit import Array
from sinkside.outages.effort import USUAL, Effort
from sinkside.outages.ends import NOMINAL, Few, Look, Question
from sinkside.outages.outcome import Outcome
from sinkside.paths.front import Front
from sinkside.paths.rails import fed
from sinkside.paths.states import State
from sinkside.paths.views import CORNERS, View
from sinkside.site.appliance import Law

Codes: TypeAlias = NDArray[np.int8]

CASES = 64
"""How many plausible cases are followed."""


class Ending(StrEnum):
    """How an event ends for a device, from good to bad."""

    RIDES = "rides through"
    BLINKS = "goes out and comes back"
    MOTORBOATS = "goes out and comes back without end"
    WAITS = "stays out: the port waits for VBUS to fall"
    HICCUPS = "stays out: the port trips each time it tries"
    STAYS_OUT = "stays out"
    IDLE = "did not run before"


_ORDER = tuple(Ending)


@dataclass(frozen=True, kw_only=True)
class Extent:
    """A figure at its nominal and at its worst."""

    nominal: float
    worst: float


@dataclass(frozen=True, kw_only=True)
class Follows:
    """What follows for one device.

    Parameters
    ----------
    ending, worst_ending
        At nominal, and the worst that may be.
    out_s
        How long it is out; infinite where it stays out. If its ride-through was timed, this is
        how long its feed is gone, for the timing has the device's own capacitor in it.
    least_v, peak_a
        Least volts at its pins, and largest current out of the port.
    port_a2s, pins_a2s
        What the event adds to ∫I²dt, at the port and in the lead: the pulse that a fuse sees.
    port_j
        Energy out of the port, from the event on until what was emptied is filled again.
    fuse_share
        That pulse in parts of what melts the weakest fuse of the path; 0 without a fuse.
    trips
        How often the port trips, up to where it is no longer followed.
    dead_wait_s
        How long the port has to wait for VBUS to fall to vSafe0V before it may go on.
    rides
        In how many of ten plausible cases it rides through; None where that is no question.
    law
        The law of its current under which the worst comes about.
    after
        The state of its supply after the event under which the worst comes about.
    answers
        The same for each answer to what nobody knows, of which one is true.
    """

    ending: Ending
    worst_ending: Ending
    out_s: Extent
    least_v: Extent
    peak_a: Extent
    port_a2s: Extent
    pins_a2s: Extent
    port_j: Extent
    fuse_share: Extent
    trips: Extent
    dead_wait_s: Extent
    rides: int | None
    law: Law
    after: State
    answers: tuple["Answer", ...]


@dataclass(frozen=True, kw_only=True)
class Answer:
    """What follows under one law of the device's current and one state after the event.

    Parameters
    ----------
    nominal_s, worst_s, least_s
        How long it is out: at nominal; at the worst of everything; with every unknown at its
        good end and every variation at its bad one. NaN where it did not run before.
    rides
        Share of the plausible cases that it rides through; None where none was followed.
    """

    law: Law
    after: State
    ending: Ending
    worst_ending: Ending
    nominal_s: float
    worst_s: float
    least_s: float
    least_v: Extent
    peak_a: Extent
    port_a2s: Extent
    pins_a2s: Extent
    port_j: Extent
    fuse_share: Extent
    trips: Extent
    dead_wait_s: Extent
    rides: float | None


@dataclass(frozen=True, kw_only=True)
class _Asked:
    """One question put to one case: its job, and where its outcome belongs.

    Parameters
    ----------
    feed
        Whether the device's own capacitor was left out, to time the feed alone.
    """

    case: int
    law: Law
    after: State
    question: Question
    part: str
    feed: bool
    job: Job


def follow(
    cases: Sequence[Case], *, effort: Effort = USUAL, plausible: int = CASES
) -> tuple[Follows | None, ...]:
    """What follows in each case; None where nothing happens to the port.

    Parameters
    ----------
    plausible
        How many plausible cases to follow; 0 for corners alone.
    """
    asked = [a for i, case in enumerate(cases) for a in _asked(i, case, plausible)]
    outcomes = together([a.job for a in asked], effort=effort, accounts=True)
    found: list[Follows | None] = []
    for number, case in enumerate(cases):
        own = [(a, o) for a, o in zip(asked, outcomes, strict=True) if a.case == number]
        found.append(_weighed(case, own, effort) if own else None)
    return tuple(found)


def _asked(number: int, case: Case, plausible: int) -> Iterator[_Asked]:
    if case.happening.schedule is None:
        return
    for law in fed(case.front, case.appliance).laws:
        for after in case.happening.after:
            views: list[tuple[str, Question, View]] = [
                ("nominal", "outage", NOMINAL),
                ("corner", "outage", CORNERS),
                ("corner", "inrush", CORNERS),
                ("corner", "re-attach", CORNERS),
            ]
            if plausible:
                views.append(("cases", "outage", Few(plausible)))
            for part, question, view in views:
                look = Look(question, view)
                kinds = (
                    (False, True) if question == "outage" and timed(case.appliance) else (False,)
                )
                for feed in kinds:
                    job = job_of(case, law, after, look, feed=feed)
                    yield _Asked(
                        case=number,
                        law=law,
                        after=after,
                        question=question,
                        part=part,
                        feed=feed,
                        job=job,
                    )


def endings(outcome: Outcome, effort: Effort, *, from_rest: bool, from_s: Array) -> Codes:
    """How each run ended, as places in `Ending`."""
    codes = np.full(outcome.outages.shape, _ORDER.index(Ending.RIDES), dtype=np.int8)
    codes[outcome.outages > 0] = _ORDER.index(Ending.BLINKS)
    codes[outcome.out_at_end] = _ORDER.index(Ending.STAYS_OUT)
    codes[outcome.trips >= effort.trip_limit] = _ORDER.index(Ending.HICCUPS)
    codes[outcome.blocked] = _ORDER.index(Ending.WAITS)
    codes[outcome.never_settles] = _ORDER.index(Ending.MOTORBOATS)
    if from_rest:
        codes[outcome.lost_s <= from_s] = _ORDER.index(Ending.IDLE)
    return codes


class _Runs:
    """The outcomes of one case, one law and one state after, by question."""

    def __init__(
        self, own: Sequence[tuple[_Asked, Outcome]], effort: Effort, *, rest: bool
    ) -> None:
        self._own, self._effort, self._rest = own, effort, rest

    def of(self, part: str, question: Question, *, feed: bool = False) -> tuple[Outcome, Codes]:
        """An outcome, and its endings."""
        asked, outcome = next(
            (a, o) for a, o in self._own if (a.part, a.question, a.feed) == (part, question, feed)
        )
        codes = endings(outcome, self._effort, from_rest=self._rest, from_s=asked.job.course.from_s)
        return outcome, codes

    def out_s(self, part: str, *, feed: bool) -> Array:
        """How long each run is out, infinite where it stays out, NaN where it did not run."""
        outcome, codes = self.of(part, "outage")
        out = _out_s(outcome, codes)
        if not feed:
            return out
        bare, bare_codes = self.of(part, "outage", feed=True)
        gone = _out_s(bare, bare_codes)
        # Without the device's own capacitor it may never settle, though it does with it: then
        # the feed is gone from the event on, until the device is back, at the most.
        asked = next(a for a, o in self._own if o is outcome)
        until_back = outcome.back_s - asked.job.course.from_s
        unsettled = np.isinf(gone) & ~np.isinf(out) & ~np.isnan(until_back)
        gone = np.where(unsettled, until_back, gone)
        # Charging its own capacitor again may keep it out a little longer than the feed is gone.
        late = np.nan_to_num(outcome.back_s - bare.back_s, nan=0.0)
        gone = gone + np.where(outcome.outages > 0, np.maximum(late, 0.0), 0.0)
        return np.where(np.isinf(out), out, np.fmax(gone, out))


def _out_s(outcome: Outcome, codes: Codes) -> Array:
    stays = codes >= _ORDER.index(Ending.MOTORBOATS)
    out = np.where(stays, np.inf, outcome.longest_out_s)
    return np.where(codes == _ORDER.index(Ending.IDLE), np.nan, out)


def _weighed(case: Case, own: Sequence[tuple[_Asked, Outcome]], effort: Effort) -> Follows:
    """The figures of a case, the worst over laws and states after."""
    answers = []
    for law in fed(case.front, case.appliance).laws:
        for after in case.happening.after:
            some = [(a, o) for a, o in own if a.law == law and a.after == after]
            answers.append(_answer(case, law, after, some, effort))
    worst = max(answers, key=lambda a: (_ORDER.index(a.worst_ending), np.nan_to_num(a.worst_s)))
    shares = [a.rides for a in answers if a.rides is not None]

    def widest(name: str, most: Callable[[Iterable[float]], float] = max) -> Extent:
        extents = [getattr(a, name) for a in answers]
        return Extent(
            nominal=most(e.nominal for e in extents), worst=most(e.worst for e in extents)
        )

    return Follows(
        ending=max((a.ending for a in answers), key=_ORDER.index),
        worst_ending=worst.worst_ending,
        out_s=Extent(
            nominal=max(a.nominal_s for a in answers), worst=max(a.worst_s for a in answers)
        ),
        least_v=widest("least_v", min),
        peak_a=widest("peak_a"),
        port_a2s=widest("port_a2s"),
        pins_a2s=widest("pins_a2s"),
        fuse_share=widest("fuse_share"),
        port_j=widest("port_j"),
        trips=widest("trips"),
        dead_wait_s=widest("dead_wait_s"),
        rides=round(10 * sum(shares) / len(shares)) if shares else None,
        law=worst.law,
        after=worst.after,
        answers=tuple(answers),
    )


def _answer(
    case: Case,
    law: Law,
    after: State,
    own: Sequence[tuple[_Asked, Outcome]],
    effort: Effort,
) -> Answer:
    """The figures under one law and one state after."""
    rest, feed = case.happening.before is not None, timed(case.appliance)
    runs = _Runs(own, effort, rest=rest)
    nominal, nominal_codes = runs.of("nominal", "outage")
    inrush, _ = runs.of("corner", "inrush")
    again, again_codes = runs.of("corner", "re-attach")
    corner, corner_codes = runs.of("corner", "outage")
    everything = [corner_codes[:1], again_codes[:1]]
    outs, corner_out = [], runs.out_s("corner", feed=feed)
    outs += [corner_out[:1], _out_s(again, again_codes)[:1]]
    least = [corner_out[1:]]
    volts, amps = [nominal.least_v, corner.least_v], [nominal.peak_a, inrush.peak_a]
    rides = None
    if any(a.part == "cases" for a, _ in own):
        cases, codes = runs.of("cases", "outage")
        out = runs.out_s("cases", feed=feed)
        outs.append(out)
        least.append(out)
        everything.append(codes)
        volts.append(cases.least_v)
        amps.append(cases.peak_a)
        ride = Look("outage", Few(out.size)).at(case.appliance.ride_through_s, "ride-through")
        ran = ~np.isnan(out)
        rides = float(np.mean(out[ran] <= ride[ran])) if ran.any() else None
    books = [o.accounts for o in (nominal, inrush) if o.accounts is not None]
    pulses = [
        _most(getattr(books[0], name), getattr(books[1], name))
        for name in ("port_a2s", "pins_a2s", "port_j")
    ]
    shares = _fuse_shares(case.front, pulses)
    codes = np.concatenate(everything)
    ran_codes = codes[codes != _ORDER.index(Ending.IDLE)]
    worst_ending = _ORDER[int(ran_codes.max())] if ran_codes.size else Ending.IDLE
    return Answer(
        law=law,
        after=after,
        ending=_ORDER[int(nominal_codes[0])],
        worst_ending=worst_ending,
        nominal_s=float(runs.out_s("nominal", feed=feed)[0]),
        worst_s=_over(np.fmax, outs),
        least_s=_over(np.fmin, [*least, *outs]),
        least_v=Extent(nominal=float(nominal.least_v[0]), worst=_over(np.fmin, volts)),
        peak_a=Extent(
            nominal=float(nominal.peak_a[0]), worst=_limited(_over(np.fmax, amps), case, after)
        ),
        port_a2s=pulses[0],
        pins_a2s=pulses[1],
        fuse_share=Extent(nominal=shares[0], worst=shares[1]),
        port_j=pulses[2],
        trips=Extent(
            nominal=float(nominal.trips[0]),
            worst=float(max(inrush.trips[0], corner.trips[0], again.trips[0])),
        ),
        dead_wait_s=Extent(
            nominal=float(nominal.waited_s[0]),
            worst=float(effort.wait_limit_s if again.blocked[0] else again.waited_s[0]),
        ),
        rides=rides,
    )


def _limited(peak_a: float, case: Case, after: State) -> float:
    """The highest peak: what comes to the port's limit may come to the highest that it may have."""
    limit = limit_a(case.front, after)
    return max(peak_a, limit.high) if peak_a >= limit.low * (1.0 - 1e-9) else peak_a


def _most(nominal: Array, corner: Array) -> Extent:
    """The first run is the nominal; what a trip cuts short in a corner is not worse for it."""
    return Extent(nominal=float(nominal[0]), worst=float(max(nominal.max(), corner.max())))


def _over(most: np.ufunc, parts: Sequence[Array]) -> float:
    """The extreme of all values, those that are no number left aside unless there are no others."""
    return float(most.reduce(np.concatenate(parts)))


def _fuse_shares(front: Front, pulses: Sequence[Extent]) -> tuple[float, float]:
    """The pulse in parts of what melts a fuse, the worst of the path, at nominal and at worst.

    A fuse before a converter sees the pulse of the port, one behind it that of the lead.
    """
    nominal = worst = 0.0
    for place, part in enumerate(front.parts):
        if part.fuse is None:
            continue
        pulse = pulses[0] if place < front.split else pulses[1]
        melts = part.fuse.melts_a2s
        nominal = max(nominal, pulse.nominal / melts.value)
        worst = max(worst, pulse.worst / melts.low)
    return nominal, worst
