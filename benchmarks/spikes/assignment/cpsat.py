"""The independent check: the question in OR-Tools CP-SAT, with a formulation of its own.

It knows neither dominance, nor alike devices, nor caps: ports are occupied or not, and a seat
implies that each loaded set in which its path would not hold does not come about.
"""

from __future__ import annotations

import pickle
import sys
import time
from collections import defaultdict

from ortools.sat.python import cp_model

from .question import LEVELS, Answer, Option, Question, Seat, levels_of


def solve(question: Question, *, seconds: float) -> Answer:
    """Minimise the levels in order; bounds are -1 for levels that were not reached."""
    end = time.perf_counter() + seconds
    model = cp_model.CpModel()
    seats = _seats(model, question)
    levels = _levels(model, question, seats)
    bounds: list[int] = []
    chosen: list[tuple[Seat, Option]] = []
    for level in levels:
        left = end - time.perf_counter()
        if left <= 0:
            break
        model.minimize(level)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 2
        solver.parameters.max_time_in_seconds = left
        status = solver.solve(model)
        if status not in (cp_model.OPTIMAL, cp_model.FEASIBLE):
            break
        chosen = [(seat, option) for taken, seat, option in seats if solver.value(taken)]
        bounds.append(round(solver.best_objective_bound))
        if status != cp_model.OPTIMAL:
            break
        model.add(level == round(solver.objective_value))
        model.clear_hints()  # type: ignore[no-untyped-call]  # the one untyped method
        for taken, _, _ in seats:
            model.add_hint(taken, solver.value(taken))
    return Answer(
        seats=tuple(sorted(seat for seat, _ in chosen)),
        levels=levels_of(question, chosen),
        bounds=tuple(bounds) + (-1,) * (len(LEVELS) - len(bounds)),
    )


Place = tuple[str, int]
# all earthed chargers count as one place for grounds
_EARTH: Place = ("", -1)
Taken = tuple[cp_model.IntVar, Seat, Option]


def _seats(model: cp_model.CpModel, question: Question) -> list[Taken]:
    counts = {kind.id: kind.count for kind in question.kinds}
    seats: list[Taken] = []
    for device in question.devices:
        own = []
        for option in device.options:
            for unit in range(counts[option.kind]):
                taken = model.new_bool_var("")
                own.append(taken)
                seats.append(
                    (
                        taken,
                        Seat(
                            device=device.id,
                            kind=option.kind,
                            unit=unit,
                            port=option.port,
                            path=option.path,
                        ),
                        option,
                    )
                )
        model.add_at_most_one(own)
    return seats


def _levels(
    model: cp_model.CpModel, question: Question, seats: list[Taken]
) -> list[cp_model.LinearExprT]:
    used = _chargers(model, question, seats)
    _pairs(model, question, seats)
    cents = cp_model.LinearExpr.sum([option.cents * taken for taken, _, option in seats])
    for part in question.parts:
        drawn = sum(
            number * taken
            for taken, _, option in seats
            for name, number in option.parts
            if name == part.id
        )
        if part.cents is None:
            model.add(drawn <= part.stock)
        else:
            missing = model.new_int_var(0, 2 * len(question.devices), "")
            model.add(missing >= drawn - part.stock)
            cents += part.cents * missing
    if question.budget_cents is not None:
        model.add(cents <= question.budget_cents)
    unserved = len(question.devices) - sum(taken for taken, _, _ in seats)
    sums: list[cp_model.LinearExprT] = [
        sum(option.costs[number] * taken for taken, _, option in seats) for number in range(6)
    ]
    sums[3] = cents
    return [unserved, *sums, sum(used)]


def _chargers(
    model: cp_model.CpModel, question: Question, seats: list[Taken]
) -> list[cp_model.IntVar]:
    at: dict[tuple[str, int, int], list[tuple[cp_model.IntVar, Option]]] = defaultdict(list)
    for taken, seat, option in seats:
        at[seat.kind, seat.unit, seat.port].append((taken, option))
    everyone = []
    for kind in question.kinds:
        before = None
        for unit in range(kind.count):
            used = model.new_bool_var("")
            everyone.append(used)
            ports = [model.new_bool_var("") for _ in kind.ports]
            model.add_max_equality(used, ports)
            if before is not None:
                model.add_implication(used, before)
            before = used
            for port, occupied in enumerate(ports):
                sitting = at[kind.id, unit, port]
                model.add(sum(taken for taken, _ in sitting) == occupied)
                for taken, option in sitting:
                    for broken in _least_broken(option, len(ports)):
                        others = [ports[q] for q in range(len(ports)) if broken >> q & 1]
                        model.add_bool_or([~taken, *(~other for other in others)])
    return everyone


def _least_broken(option: Option, ports: int) -> list[int]:
    """Smallest sets of other ports whose loading breaks the path."""
    own = 1 << option.port
    broken = [m for m in range(1 << ports) if m & own and m not in option.loaded]
    return [m & ~own for m in broken if not any(n != m and n & m == n for n in broken)]


def _pairs(model: cp_model.CpModel, question: Question, seats: list[Taken]) -> None:
    earthed = {kind.id for kind in question.kinds if kind.earthed}
    when_used = {device.id for device in question.devices if device.plugged_when_used}
    units = [(kind.id, unit) for kind in question.kinds for unit in range(kind.count)]
    # who is on which charger without isolation, on any earthed one, blinking, or moving
    states: dict[tuple[str, str, Place], list[cp_model.IntVar]] = defaultdict(list)
    for taken, seat, option in seats:
        place = seat.kind, seat.unit
        if not option.isolated:
            states["joined", seat.device, place].append(taken)
            if seat.kind in earthed:
                states["joined", seat.device, _EARTH].append(taken)
        if option.blinks:
            states["blinks", seat.device, place].append(taken)
        if seat.device in when_used:
            states["moves", seat.device, place].append(taken)
    for one, other in question.clashes:
        for place in [*units, _EARTH]:
            both = states["joined", one, place] + states["joined", other, place]
            model.add_at_most_one(both)
    blinking = [key for key in states if key[0] == "blinks"]
    for _, device, place in blinking:
        for other in sorted(when_used - {device}):
            if ("moves", other, place) in states:
                model.add_at_most_one(
                    states["blinks", device, place] + states["moves", other, place]
                )


def main() -> None:
    """Answer one pickled (question, seconds) from standard input on standard output."""
    question, seconds = pickle.load(sys.stdin.buffer)
    pickle.dump(solve(question, seconds=seconds), sys.stdout.buffer)


if __name__ == "__main__":
    main()
