"""Every assignment of a tiny question, tried one by one; shares only the check of a plan."""

from __future__ import annotations

from .question import NotAPlan, Option, Question, Seat, Vector, levels_of


def best_levels(question: Question) -> Vector:
    """Find the least vector of levels by trying every seat of every device in turn.

    Notes
    -----
    A partial plan that breaks a hard condition stays broken when devices are added, and no level
    falls when devices are added; both cut the search without losing the optimum.
    """
    best: Vector | None = None
    total = len(question.devices)

    def extend(number: int, chosen: list[tuple[Seat, Option]]) -> None:
        nonlocal best
        try:
            levels = levels_of(question, chosen)
        except NotAPlan:
            return
        so_far = (number - len(chosen), *levels[1:])
        if best is not None and so_far >= best:
            return
        if number == total:
            best = so_far
            return
        device = question.devices[number]
        counts = {kind.id: kind.count for kind in question.kinds}
        for option in sorted(device.options, key=lambda option: option.costs):
            taken = {seat.unit for seat, _ in chosen if seat.kind == option.kind}
            # an untouched charger is like any other untouched one of its kind
            for unit in range(min(counts[option.kind], max(taken, default=-1) + 2)):
                seat = Seat(
                    device=device.id,
                    kind=option.kind,
                    unit=unit,
                    port=option.port,
                    path=option.path,
                )
                extend(number + 1, [*chosen, (seat, option)])
        extend(number + 1, chosen)

    extend(0, [])
    if best is None:
        raise NotAPlan("not even the empty plan is allowed")
    return best
