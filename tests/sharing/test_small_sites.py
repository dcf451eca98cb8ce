"""Small sites with charger tables against every answer there is, and against ports without them.

The draws are gear and chargers with tables that bind: what a port gives beside its neighbours
decides, and there is not room for all.
"""

import random
from dataclasses import replace
from itertools import combinations

import pytest
from tests.sharing.every_answer import best_of_all
from tests.sharing.questions import COMPARED, option, worth

from sinkside.sharing import Assignment, Kind, Option, Question, assign

SITES, AT_ONCE = 300, 30
DEVICES = ("d0", "d1", "d2", "d3")
VOLTS = (5, 9, 12)
PORTS = ("C1", "C2", "C3")


def table(draw: random.Random, ports: tuple[str, ...]) -> dict[frozenset[str], dict[str, float]]:
    """Watts of each port in each company: split evenly, or kept by the first, or a fixed step."""
    total, style = draw.choice((18.0, 30.0, 45.0)), draw.choice(("even", "first", "step"))
    found = {}
    for size in range(1, len(ports) + 1):
        for some in combinations(ports, size):
            shares = {
                "even": [1 / size] * size,
                "first": [0.7 if size > 1 else 1.0, *[0.3 / max(1, size - 1)] * (size - 1)],
                "step": [1.0 if size == 1 else 0.4] * size,
            }[style]
            found[frozenset(some)] = dict(zip(some, (total * s for s in shares), strict=True))
    return found


def site(seed: int, *, independent: bool = False) -> Question:
    """A question in which a path holds where every reachable company gives it watts enough."""
    draw = random.Random(f"small site {seed}")
    blocked = seed % 2 == 0
    need = {d: (draw.choice(VOLTS), draw.choice((4.0, 8.0, 12.0, 16.0))) for d in DEVICES}
    options: list[Option] = []
    kinds = []
    for name, count in (("a", 1), ("b", 1)):
        ports = PORTS[: draw.choice((1, 2, 2, 3) if name == "a" else (1, 2))]
        kinds.append(Kind(id=name, count=count, ports=ports, spare_ports_blocked=blocked))
        watts = table(draw, ports)
        for device, (volts, load) in need.items():
            for port in ports:
                for company in companies(ports, port, blocked=blocked):
                    reached = [
                        watts[frozenset((port,))][port] if independent else watts[c][port]
                        for c in watts
                        if port in c and c <= company
                    ]
                    for extra, parts, risks in ((1.0, ("cable",), 1), (1.1, ("cable", "fuse"), 0)):
                        if min(reached) < load * extra:
                            continue
                        options.append(
                            option(
                                f"{device}|{name}|{port}|{len(options)}",
                                device,
                                name,
                                port,
                                company,
                                misbehaves_unproven=min(reached) < 1.2 * load * extra,
                                risks=risks,
                                decivolts=10 * volts,
                                milliwatts=int(100 * extra * load),
                                parts=parts,
                            )
                        )
    return Question(
        kinds=tuple(kinds),
        options=tuple(options),
        stock={"cable": 2, "fuse": draw.choice((0, 1, 4))},
        prices={"cable": 400, "fuse": 180},
        budget=draw.choice((None, 600)),
    )


def companies(ports: tuple[str, ...], port: str, *, blocked: bool) -> list[frozenset[str]]:
    others = [p for p in ports if p != port]
    if not blocked:
        return [frozenset(ports)]
    sizes = range(len(others) + 1)
    return [frozenset((port, *more)) for n in sizes for more in combinations(others, n)]


def values_of(solved: Assignment) -> tuple[int, ...]:
    return tuple(level.value for level in solved.levels)[: len(COMPARED)]


@pytest.mark.parametrize("first", range(0, SITES, AT_ONCE))
def test_small_sites_with_tables_are_planned_as_well_as_can_be(first: int) -> None:
    for seed in range(first, first + AT_ONCE):
        asked = site(seed)
        solved = assign(asked)
        assert worth(asked, solved.seats) == values_of(solved), seed
        assert values_of(solved) == best_of_all(asked), seed


def test_tables_and_want_of_room_bind_in_a_third_of_them() -> None:
    otherwise = left_out = 0
    for seed in range(SITES):
        values = values_of(assign(site(seed)))
        otherwise += values_of(assign(site(seed, independent=True))) != values
        left_out += values[0] < len(DEVICES)
    assert 3 * otherwise >= SITES, otherwise
    assert 3 * left_out >= SITES, left_out


def four_ports(*, blocked: bool) -> Question:
    """One charger of 40 W in all: 40 W for one, 20 W each for two, 10 W each for four."""
    ports = ("C1", "C2", "C3", "C4")
    kind = Kind(id="desk", count=1, ports=ports, spare_ports_blocked=blocked)
    loads = {"lamp": 9.0, "radio": 18.0, "router": 18.0, "printer": 35.0}
    options = tuple(
        option(f"{device}|{port}|{'+'.join(sorted(company))}", device, "desk", port, company)
        for device, load in loads.items()
        for port in ports
        for company in companies(ports, port, blocked=blocked)
        if 40.0 / len(company) >= load
    )
    return Question(kinds=(kind,), options=options)


def served(asked: Question) -> list[str]:
    return sorted(s.device for s in assign(asked).seats)


def test_four_ports_by_hand() -> None:
    """Blocked: two of lamp, radio, router fit at 20 W each; three have 13.3 W each, which is
    enough for the lamp alone. So two. If spare ports may be used each has 10 W: the lamp."""
    assert len(served(four_ports(blocked=True))) == 2
    assert "printer" not in served(four_ports(blocked=True))
    assert served(four_ports(blocked=False)) == ["lamp"]


def test_two_chargers_by_hand() -> None:
    """Two on each of two chargers would be four, but the printer needs one for itself, and the
    other one has watts for two: so three. With a third charger all four are off their bricks."""
    asked = four_ports(blocked=True)
    for count, off in ((2, 3), (3, 4)):
        more = replace(asked, kinds=(replace(asked.kinds[0], count=count),))
        seats = assign(more).seats
        assert len(seats) == off
        units = [s.unit for s in seats]
        alone = [s.unit for s in seats if s.device == "printer"]
        assert all(units.count(unit) == 1 for unit in alone)
