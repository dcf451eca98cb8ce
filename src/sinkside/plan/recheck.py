"""A walk over a finished plan that trusts nothing of how it was found.

It shares no code with the assignment: it counts ports, parts and money itself, looks the
offers up again for every set of ports that can be in use, and walks the signal leads.
"""

from collections import Counter
from collections.abc import Iterator
from itertools import combinations

from sinkside.parts.charger import Charger
from sinkside.plan.model import Chosen, DevicePlan, Plan
from sinkside.rules.verdict import Stakes, Verdict

COUNTING = (Stakes.HARM, Stakes.LOSS, Stakes.MISBEHAVES)


def recheck(plan: Plan) -> tuple[str, ...]:
    """What is wrong with a plan; empty if nothing is.

    Each entry begins with `recheck:`; any of them is a fault of the program, not of the site.
    """
    return tuple(f"recheck: {fault}" for fault in _faults(plan))


def _faults(plan: Plan) -> Iterator[str]:
    yield from _seats(plan)
    yield from _parts(plan)
    yield from _grounds(plan)
    for device in plan.devices:
        if device.appliance.refusals and device.chosen:
            yield f"{device.id} is refused and has a seat"
        if device.chosen:
            yield from _offers(plan, device.id, device.chosen)
            yield from _ends(device.id, device.appliance.plug, device.chosen)
            yield from _device_limits(plan, device)
            if any(f.verdict is Verdict.FAILS for f in device.chosen.open(*COUNTING)):
                yield f"{device.id} has a failing path"


def _chosen(plan: Plan) -> list[tuple[str, Chosen]]:
    return [(d.id, d.chosen) for d in plan.devices if d.chosen]


def _seats(plan: Plan) -> Iterator[str]:
    taken: dict[tuple[str, int, str], str] = {}
    for device, chosen in _chosen(plan):
        seat = chosen.seat
        charger = _charger(plan, seat.kind)
        where = (seat.kind, seat.unit, seat.port)
        if where in taken:
            yield f"{device} and {taken[where]} are on one port"
        taken[where] = device
        if not 1 <= seat.unit <= charger.count:
            yield f"{device} is on a {seat.kind} that is not owned"
        if (chosen.front.charger.id, chosen.front.port) != (seat.kind, seat.port):
            yield f"{device} has a path for another port"


def _charger(plan: Plan, name: str) -> Charger:
    return next(c for c in plan.site.chargers if c.id == name)


def _parts(plan: Plan) -> Iterator[str]:
    need = Counter(p.id for _, chosen in _chosen(plan) for p in chosen.front.parts)
    owned = {p.id: p.owned for p in plan.site.parts}
    price = {p.id: p.price_cents for p in plan.site.parts}
    bought = dict(plan.bought)
    for part, count in need.items():
        short = max(0, count - owned[part])
        if bought.get(part, 0) != short:
            yield f"{short} × {part} are to be bought, the list says {bought.get(part, 0)}"
    cents = sum((price[p] or 0) * n for p, n in bought.items())
    budget = plan.site.rules.budget
    if budget is not None and cents > budget:
        yield f"the parts cost {cents / 100:.2f}, over the budget of {budget / 100:.2f}"


def _offers(plan: Plan, device: str, chosen: Chosen) -> Iterator[str]:
    """In every set of ports that can be in use, the contract must be on the port's list."""
    seat, trigger = chosen.seat, chosen.front.trigger
    if trigger.by_resistors:
        return
    charger = _charger(plan, seat.kind)
    loaded = {
        c.seat.port
        for _, c in _chosen(plan)
        if (c.seat.kind, c.seat.unit) == (seat.kind, seat.unit)
    }
    pool = loaded if plan.site.rules.spare_ports == "blocked" else set(charger.names)
    others = sorted(pool - {seat.port})
    for size in range(len(others) + 1):
        for more in combinations(others, size):
            offers = charger.offers(seat.port, frozenset((seat.port, *more)))
            if offers is None:
                continue
            kind = "fixed" if trigger.programmable_v is None else "pps"
            if not any(o.low_v <= trigger.asks_v <= o.high_v for o in offers if o.profile == kind):
                yield f"{device}: {trigger.asks_v:g} V is not offered with {', '.join(more)} in use"


def _device_limits(plan: Plan, device: DevicePlan) -> Iterator[str]:
    """Polarity, volts and blinking once more, from the device and the parts alone."""
    appliance, chosen = device.appliance, device.chosen
    if chosen is None:
        return
    rails = chosen.front.parts[-1].rails
    if rails and 1.05 * chosen.front.trigger.asks_v > chosen.front.parts[-1].withstands_v + 1e-9:
        yield f"the converter for {device.id} gets more volts than it stands"
    for need in appliance.rails:
        low, high = sorted((0.95 * need.volts_v, 1.05 * need.volts_v))
        near = [r for r in rails if r.low_v <= high + 1e-9 and r.high_v >= low - 1e-9]
        asked = need.current_a.low if need.current_a else 0.0
        if not any(r.carries_a >= asked - 1e-9 for r in near):
            yield f"{device.id} is not given its {need.name}"
    centre = chosen.front.end.centre
    bridged = appliance.kind == "either"
    if centre is not None and not bridged and any(e.centre != centre for e in appliance.evidence):
        yield f"{device.id} has a plug of the wrong pole"
    converter = chosen.front.converter
    top = converter.gives_v.high if converter else 1.05 * chosen.front.trigger.asks_v
    if not rails and top > appliance.harmed_above_v.high + 1e-9:
        yield f"{device.id} gets more volts than it stands"
    charger = _charger(plan, chosen.seat.kind)
    neighbours = [
        name
        for name, other in _chosen(plan)
        if (other.seat.kind, other.seat.unit) == (chosen.seat.kind, chosen.seat.unit)
        and name != device.id
    ]
    gap = charger.off_time_s.high if charger.off_time_s else 1.0
    drops = charger.on_change == "drops all" and bool(neighbours)
    if drops and appliance.blink == "never" and appliance.ride_through_s.high < gap:
        yield f"{device.id} must not blink, and {charger.id} drops it with {neighbours[0]}"


def _ends(device: str, plug: str, chosen: Chosen) -> Iterator[str]:
    if not chosen.front.parts[-1].rails and chosen.front.parts[-1].gives.plug != plug:
        yield f"{device} has an inlet for {plug}, the lead ends in another plug"
    for a, b in zip(chosen.front.parts, chosen.front.parts[1:], strict=False):
        if not a.gives.joins(b.takes):
            yield f"{device}: {a.id} does not join {b.id}"


def _grounds(plan: Plan) -> Iterator[str]:
    """Every potential in the plan, walked through negatives, poles and shields.

    A node reached by two ways at two potentials is a short. Nodes are the negative of each
    charger (earthed ones are one), and the signal ground of each device.
    """
    edges: dict[str, list[tuple[str, float]]] = {}

    def join(a: str, b: str, volts: float) -> None:
        edges.setdefault(a, []).append((b, volts))
        edges.setdefault(b, []).append((a, -volts))

    for device in plan.devices:
        chosen = device.chosen
        if chosen is None:
            negative = f"brick of {device.id}"
        elif chosen.front.isolated:
            negative = f"isolated side of {device.id}"
        elif _charger(plan, chosen.seat.kind).output_earth != "floating":
            negative = "earth"
        else:
            negative = f"{chosen.seat.kind} {chosen.seat.unit}"
        volts = _volts(chosen) if chosen else device.appliance.plate_v or 1.0
        lift = {"negative": 0.0, "positive": volts, "mid": volts / 2}.get(device.appliance.ground)
        if lift is not None:
            join(negative, f"ground of {device.id}", lift)
    for link in plan.site.links:
        if link.shield == "both ends":
            join(f"ground of {link.from_}", f"ground of {link.to}", 0.0)
    yield from _shorts(edges)


def _volts(chosen: Chosen) -> float:
    converter = chosen.front.converter
    return converter.gives_v.value if converter else chosen.front.trigger.asks_v


def _shorts(edges: dict[str, list[tuple[str, float]]]) -> Iterator[str]:
    potential: dict[str, float] = {}
    for start in edges:
        if start in potential:
            continue
        potential[start], edge = 0.0, [start]
        while edge:
            here = edge.pop()
            for there, volts in edges[here]:
                reached = potential[here] + volts
                if there not in potential:
                    potential[there] = reached
                    edge.append(there)
                elif abs(potential[there] - reached) > 1e-9:
                    yield f"{there} is forced to two potentials"
