"""What is still open over the whole site: measurements in the best order, risks, cautions."""

import heapq
from collections.abc import Iterator
from dataclasses import dataclass, field

from sinkside.advice import GRAVE_WEIGHT, SLIGHT_WEIGHT, Advice, advise
from sinkside.making.words import CAUTIONS, ground_warnings
from sinkside.plan.model import DevicePlan, Plan
from sinkside.rules.verdict import Stakes

# Measured at a charger, or at a trigger of a kind, once for every device that hangs on it.
ONCE_FOR_ALL = ("charger-company", "warm-charger", "fallback", "keep-alive")


@dataclass(frozen=True, kw_only=True)
class Settled:
    """What a measurement settles for one device, and what reading to expect there."""

    device: str
    rules: tuple[str, ...]
    expect: str


@dataclass(frozen=True, kw_only=True)
class OpenMeasurement:
    """One thing to measure, at one device, charger or part.

    Parameters
    ----------
    at
        At what it is measured.
    devices
        What is left for it to settle once those before it are done.
    worth
        What it settles for each minute: grave things weigh four times.
    """

    id: str
    title: str
    at: str
    kit: str
    minutes: int
    how: str
    decides: str
    opens_case: bool
    devices: tuple[Settled, ...]
    worth: float


@dataclass(frozen=True, kw_only=True)
class Risk:
    """What may go wrong although every rule holds."""

    device: str
    words: str


@dataclass(frozen=True, kw_only=True)
class OpenPoints:
    """Everything that is open at a site.

    Parameters
    ----------
    minutes
        Of all measurements together.
    """

    measurements: tuple[OpenMeasurement, ...]
    minutes: int
    risks: tuple[Risk, ...]
    warnings: tuple[str, ...]
    cautions: tuple[str, ...]


def open_points(plan: Plan) -> OpenPoints:
    """What is open in a plan.

    Notes
    -----
    The order is greedy: each time the measurement that settles most for its minutes of what those
    before it left open. That is not proved to be the best order of all. What nothing is left for
    is left out.
    """
    measurements = tuple(_in_order(_candidates(plan)))
    return OpenPoints(
        measurements=measurements,
        minutes=sum(m.minutes for m in measurements),
        risks=tuple(_risks(plan)),
        warnings=(*plan.warnings, *ground_warnings(plan)),
        cautions=CAUTIONS,
    )


@dataclass(kw_only=True)
class _Candidate:
    """A measurement at one object, and the findings that it would settle, with their weights."""

    advice: Advice
    at: str
    weights: dict[tuple[str, str], float] = field(default_factory=dict)
    expect: dict[str, str] = field(default_factory=dict)

    def worth(self, done: set[tuple[str, str]]) -> float:
        """What it settles of what is still open, for each minute."""
        left = sum(w for key, w in self.weights.items() if key not in done)
        return left / self.advice.minutes

    def rank(self, done: set[tuple[str, str]]) -> tuple[float, int, str, str]:
        """Its place in the order: the most worth first, then the shortest, then by name."""
        m = self.advice.measurement
        return (-self.worth(done), m.minutes, self.at, m.id)


def _candidates(plan: Plan) -> list[_Candidate]:
    """One for each measurement at each object: a charger is measured once for all on it."""
    found: dict[tuple[str, str], _Candidate] = {}
    for device in plan.devices:
        weights, objects = _findings(device)
        for advice in advise(device, plan):
            name = advice.measurement.id
            for rule in dict.fromkeys(advice.settles):
                at = objects[rule] if name in ONCE_FOR_ALL else device.id
                one = found.setdefault((name, at), _Candidate(advice=advice, at=at))
                one.weights[device.id, rule] = weights[rule]
                one.expect[device.id] = advice.expect
    return list(found.values())


def _findings(device: DevicePlan) -> tuple[dict[str, float], dict[str, str]]:
    """The weight of each rule that is open, and the object that its weightiest unknown is of."""
    weights: dict[str, float] = {}
    objects: dict[str, str] = {}
    for finding in device.chosen.findings if device.chosen else ():
        grave = finding.stakes in (Stakes.HARM, Stakes.LOSS)
        weights[finding.rule] = GRAVE_WEIGHT if grave else SLIGHT_WEIGHT
        first = finding.unknowns[0] if finding.unknowns else ""
        objects[finding.rule] = first.rpartition("/")[0] or device.id
    return weights, objects


def _in_order(candidates: list[_Candidate]) -> Iterator[OpenMeasurement]:
    """The best for its minutes first; what is worth less by now goes back into the heap.

    A worth only ever falls, so what is on top and still worth what it was is the best.
    """
    done: set[tuple[str, str]] = set()
    heap = [(*c.rank(done), k) for k, c in enumerate(candidates)]
    heapq.heapify(heap)
    while heap:
        before, *_, k = heapq.heappop(heap)
        candidate = candidates[k]
        worth = candidate.worth(done)
        if worth == 0.0:
            continue
        if worth < -before:
            heapq.heappush(heap, (*candidate.rank(done), k))
            continue
        yield _measurement(candidate, worth, done)
        done |= candidate.weights.keys()


def _measurement(
    candidate: _Candidate, worth: float, done: set[tuple[str, str]]
) -> OpenMeasurement:
    m = candidate.advice.measurement
    left: dict[str, list[str]] = {}
    for device, rule in candidate.weights:
        if (device, rule) not in done:
            left.setdefault(device, []).append(rule)
    return OpenMeasurement(
        id=m.id,
        title=m.title,
        at=candidate.at,
        kit=m.kit,
        minutes=m.minutes,
        how=m.how,
        decides=m.decides,
        opens_case=m.opens_case,
        devices=tuple(
            Settled(device=device, rules=tuple(rules), expect=candidate.expect[device])
            for device, rules in left.items()
        ),
        worth=worth,
    )


def _risks(plan: Plan) -> Iterator[Risk]:
    for device in plan.devices:
        for words in device.chosen.risks if device.chosen else ():
            yield Risk(device=device.id, words=words)
        for caution in device.appliance.cautions:
            yield Risk(device=device.id, words=caution.why)
