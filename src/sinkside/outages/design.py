"""A reservoir that bridges an interruption, with all that it drags along: one coupled problem.

A reservoir has to be charged without tripping the port: along a soft start that acts at every
step (one that ramped at attach does nothing for the later step to the contract), or through a
resistor beside the feed. It must neither feed back into the path nor keep VBUS up, so there is a
diode; diode and resistance cost volts, which cost capacitance, which costs time to charge. It
has to be emptied before a hand goes in, so there is a bleeder, and what it can give into a short
asks for a fuse. A first guess is in closed form; what is proposed has been followed in time, old
and new, at its worst.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import islice
from typing import Literal, TypeAlias

from sinkside.outages import closed_forms
from sinkside.outages.assumed import limit_a
from sinkside.outages.batch import together
from sinkside.outages.cases import Case, job_of, timed
from sinkside.outages.effort import USUAL, Effort
from sinkside.outages.ends import Look, Question
from sinkside.outages.first_guess import BLEED_OVER_CHARGE, Arrangement, Guess, first_guess
from sinkside.outages.outcome import Outcome
from sinkside.outages.reservoir_parts import (
    FUSES_A,
    RAMP_TOLERANCE,
    beside_feed,
    in_feed,
    inserted,
)
from sinkside.outages.reservoirs import Reservoir, ramps, reservoirs
from sinkside.parts.part import Part
from sinkside.paths.front import Front
from sinkside.paths.rails import fed
from sinkside.paths.values import series_ohm
from sinkside.paths.views import CORNERS
from sinkside.quantity import rounded
from sinkside.standards.preferred_values import at_least, at_most

# What a wire-wound resistor of 5 W stands while a reservoir fills (common practice, no source).
CHARGE_W = 10.0
# A reservoir is empty that long after everything is pulled out, to volts that do nothing; longer
# where its bleeder would else keep it from being full.
EMPTY_IN_S, EMPTY_V = 600.0, 0.8
# A fuse for good carries the peak with a quarter to spare.
FUSE_MARGIN = 1.25
# Cents for all but the reservoir (round guesses): soft start or resistor, diodes, bleeder, fuse.
OTHER_CENTS: dict[Arrangement, int] = {
    "in the feed": 800 + 40 + 20 + 180,
    "beside the feed": 60 + 2 * 40 + 20 + 180,
}
_ARRANGEMENTS: tuple[Arrangement, ...] = ("in the feed", "beside the feed")
_KINDS = ("electrolytic", "double-layer cells")
_SIZES, _RAMPS = 5, 2
_LOOKS: tuple[Question, ...] = ("outage", "inrush", "re-attach")

Place: TypeAlias = Literal["before the converter", "behind the converter", "before the lead"]


@dataclass(frozen=True, kw_only=True)
class ReservoirLimits:
    """What a design may take.

    Parameters
    ----------
    farad
        Most nominal capacitance.
    cents
        Most that it may cost; None if that is no matter.
    standby_w
        Most that the bleeder may burn all day.
    """

    farad: float = 2.0
    cents: int | None = None
    standby_w: float = 2.0


@dataclass(frozen=True, kw_only=True)
class Design:
    """A reservoir with its soft start, diode, bleeder and fuse, followed in time.

    Parameters
    ----------
    place, arrangement
        Where it stands; before a converter more of its volts can be used.
    guess
        What the closed forms asked for.
    ramp_s, charge_ohm
        What it is charged along, in the feed, or through, beside it; None for the other.
    bleed_ohm, fuse_a
        Preferred values of the rest.
    front
        The front with all of it in place.
    least_v, runs_from_v
        Least volts at the pins at the worst corner, and what the device runs from.
    peak_a, trip_a
        Highest current out of the port, old or new, and where the port trips at least.
    standby_w, stored_j, empty_s
        What the bleeder burns; what is stored; how long it takes to be empty.
    full_s
        How long it takes to be full after the contract stands: until then it bridges nothing.
    """

    place: Place
    arrangement: Arrangement
    reservoir: Reservoir
    guess: Guess
    ramp_s: float | None
    charge_ohm: float | None
    bleed_ohm: float
    fuse_a: float
    front: Front
    least_v: float
    runs_from_v: float
    peak_a: float
    trip_a: float
    standby_w: float
    stored_j: float
    empty_s: float
    full_s: float
    cents: int

    def sentence(self) -> str:
        """For people."""
        r = self.reservoir
        what = f"{rounded(r.nominal_f, 'F')}, {r.rated_v:g} V"
        if r.in_row > 1:
            what = f"{r.in_row} cells of {rounded(r.each_f, 'F')} in a row, balanced ({what})"
        if self.ramp_s is not None:
            how = f"soft start of {rounded(self.ramp_s, 's')} at every step, Schottky diode"
        else:
            how = (
                f"Schottky diode; beside the feed, charged through "
                f"{rounded(self.charge_ohm or 0.0, 'Ω')} that a second diode bridges"
            )
        return (
            f"{self.place}: {how}, {what}, bleeder {rounded(self.bleed_ohm, 'Ω')} "
            f"({rounded(self.standby_w, 'W')} all day), fuse {self.fuse_a:g} A"
        )


@dataclass(frozen=True, kw_only=True)
class NoDesign:
    """Nothing fits; why, and what to do instead."""

    why: str
    instead: str = "give it a port of its own, on a charger that nothing else comes and goes on"


@dataclass(frozen=True, kw_only=True)
class _Option:
    """One combination of values, in place."""

    arrangement: Arrangement
    reservoir: Reservoir
    ramp_s: float | None
    charge_ohm: float | None
    bleed_ohm: float
    fuse_a: float
    front: Front
    cents: int
    outcomes: tuple[Outcome, ...] = ()


def size(case: Case, limits: ReservoirLimits, *, effort: Effort = USUAL) -> Design | NoDesign:
    """Size a reservoir for a device and an event.

    Parameters
    ----------
    case
        The device on its front without a reservoir, and what happens to its port.
    limits
        Of capacitance, cost and standby.

    Returns
    -------
    Design or NoDesign
        The cheapest that holds at every worst corner, for every law of the device's current
        and every state that may come after.

    Notes
    -----
    From the first guess preferred values upwards, and ramps upwards, are followed in time
    through the event, at the corners of the longest outage, of the highest inrush, and of what
    blocks the port. What never lets the device out for longer than it was timed to ride
    through, and never trips the port, is taken.
    """
    if case.happening.schedule is None:
        return NoDesign(why="nothing happens to its port", instead="nothing has to be bridged")
    if case.front.parts[-1].trigger is not None:
        return NoDesign(why="its lead is moulded to the trigger: there is no place for a reservoir")
    if not case.happening.after:
        return NoDesign(why="its port gives nothing afterwards")
    whys: list[str] = []
    best: Design | None = None
    for place, at in _places(case.front):
        for arrangement in _ARRANGEMENTS:
            guess = first_guess(case, at, arrangement)
            where = f"{place}, {arrangement}"
            if not math.isfinite(guess.needs_f):
                whys.append(f"{where}: {guess.why}")
                continue
            options = _options(case, at, arrangement, guess, limits)
            whys.append(f"{where}: {_lacking(guess, options, limits)}")
            for option in _holding(case, options, effort):
                design = _designed(case, place, guess, option)
                if best is None or _price(design) < _price(best):
                    best = design
    return best or NoDesign(why="; ".join(whys))


def _price(design: Design) -> tuple[int, float, float]:
    return design.cents, design.reservoir.nominal_f, design.full_s


def _lacking(guess: Guess, options: Sequence[_Option], limits: ReservoirLimits) -> str:
    """Why a place gives nothing."""
    needs = f"it takes {rounded(guess.needs_f, 'F')} of an old reservoir"
    if options:
        return f"{needs}, and none of {len(options)} that were followed in time held at its worst"
    said = [f"{rounded(limits.farad, 'F')} new", f"{rounded(limits.standby_w, 'W')} to bleed it"]
    if limits.cents is not None:
        said.append(f"{limits.cents / 100:.2f} of money")
    return f"{needs}, which is not to be had within {', '.join(said)}"


def _places(front: Front) -> Iterator[tuple[Place, int]]:
    """Where a reservoir may stand, with the number of the part that it stands before."""
    if front.converter is None:
        yield "before the lead", _before_lead(front, 0)
        return
    yield "before the converter", front.split
    yield "behind the converter", _before_lead(front, front.split + 1)


def _before_lead(front: Front, start: int) -> int:
    """Behind the last part that is neither lead nor what follows one."""
    ends = [i for i, p in enumerate(front.parts) if p.kind not in ("lead", "reverser", "plug")]
    return max([start, *(i + 1 for i in ends)])


def _options(
    case: Case, at: int, arrangement: Arrangement, guess: Guess, limits: ReservoirLimits
) -> list[_Option]:
    """Combinations that may do, by the closed forms."""
    device = fed(case.front, case.appliance)
    fuse_a = next((a for a in FUSES_A if a >= FUSE_MARGIN * device.peak_a.high), None)
    options: list[_Option] = []
    # The device's own capacitor may save a size; the guess leaves it out.
    every = list(reservoirs(guess.high_v, 0.7 * guess.needs_f, limits.farad))
    for reservoir in (r for kind in _KINDS for r in islice(_of(every, kind), _SIZES)):
        cents = reservoir.cents + OTHER_CENTS[arrangement]
        full_f = reservoir.farad.high
        bleed = at_most(closed_forms.bleed_ohm(EMPTY_IN_S, full_f, guess.high_v, EMPTY_V))
        if arrangement == "beside the feed":
            bleed = max(bleed, at_least(BLEED_OVER_CHARGE * _charge_ohm(guess)))
        dear = limits.cents is not None and cents > limits.cents
        if fuse_a is None or dear or guess.high_v**2 / bleed > limits.standby_w:
            continue
        for ramp, ohm, parts in _charged(case.front, arrangement, guess, reservoir, bleed, fuse_a):
            options.append(
                _Option(
                    arrangement=arrangement,
                    reservoir=reservoir,
                    ramp_s=ramp,
                    charge_ohm=ohm,
                    bleed_ohm=bleed,
                    fuse_a=fuse_a,
                    front=inserted(case.front, at, parts),
                    cents=cents,
                )
            )
    return options


def _charged(
    front: Front,
    arrangement: Arrangement,
    guess: Guess,
    reservoir: Reservoir,
    bleed_ohm: float,
    fuse_a: float,
) -> Iterator[tuple[float | None, float | None, tuple[Part, ...]]]:
    """Ramps, or resistors, that charge a new reservoir without more than the port has to spare."""
    wide = max(p.withstands_v for p in front.parts)
    if arrangement == "beside the feed":
        ohm = _charge_ohm(guess)
        yield None, ohm, beside_feed(reservoir, ohm, bleed_ohm, fuse_a, wide)
        return
    least = closed_forms.ramp_s(reservoir.farad.high, guess.high_v, guess.spare_a)
    for ramp in ramps(least / (1.0 - RAMP_TOLERANCE), _RAMPS):
        yield ramp, None, in_feed(reservoir, ramp, bleed_ohm, fuse_a, wide)


def _charge_ohm(guess: Guess) -> float:
    """The smallest charging resistor that neither trips the port nor burns."""
    return at_least(max(guess.high_v / guess.spare_a, guess.high_v**2 / CHARGE_W), "E12")


def _of(every: Sequence[Reservoir], kind: str) -> Iterator[Reservoir]:
    return (r for r in every if r.kind == kind)


def _holding(case: Case, options: Sequence[_Option], effort: Effort) -> Iterator[_Option]:
    """The options that hold at every worst corner."""
    feed = timed(case.appliance)
    jobs, owners = [], []
    for number, option in enumerate(options):
        changed = replace(case, front=option.front)
        for law in fed(case.front, case.appliance).laws:
            for after in case.happening.after:
                for question in _LOOKS:
                    look = Look(question, CORNERS)
                    jobs.append(job_of(changed, law, after, look, feed=feed))
                    owners.append((number, question))
    outcomes = together(jobs, effort=effort)
    allowed = case.appliance.ride_through_s.low if feed else 0.0
    for number, option in enumerate(options):
        own = [(q, o) for (n, q), o in zip(owners, outcomes, strict=True) if n == number]
        if all(_holds(question, o, allowed) for question, o in own):
            yield replace(option, outcomes=tuple(o for _, o in own))


def _holds(question: Question, outcome: Outcome, allowed_s: float) -> bool:
    """Whether the worst column neither goes out for too long nor trips the port."""
    if outcome.trips[0] or outcome.blocked[0] or outcome.never_settles[0]:
        return False
    if question != "outage":
        return True
    return not outcome.out_at_end[0] and bool(outcome.longest_out_s[0] <= allowed_s)


def _designed(case: Case, place: Place, guess: Guess, option: _Option) -> Design:
    r = option.reservoir
    ohm = sum(q.high for q in series_ohm(option.front.parts)) + (option.charge_ohm or 0.0)
    return Design(
        place=place,
        arrangement=option.arrangement,
        reservoir=r,
        guess=guess,
        ramp_s=option.ramp_s,
        charge_ohm=option.charge_ohm,
        bleed_ohm=option.bleed_ohm,
        fuse_a=option.fuse_a,
        front=option.front,
        least_v=float(min(o.least_v[0] for o in option.outcomes)),
        runs_from_v=fed(case.front, case.appliance).runs_from_v.high,
        peak_a=float(max(o.peak_a.max() for o in option.outcomes)),
        trip_a=min(limit_a(case.front, s).low for s in case.happening.after),
        standby_w=guess.high_v**2 / option.bleed_ohm,
        stored_j=0.5 * r.farad.high * guess.high_v**2,
        empty_s=option.bleed_ohm * r.farad.high * math.log(guess.high_v / EMPTY_V),
        full_s=(1.0 + RAMP_TOLERANCE) * (option.ramp_s or 0.0) + 4.0 * ohm * r.farad.high,
        cents=option.cents,
    )
