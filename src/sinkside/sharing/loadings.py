"""Loadings of a charger: which device on which port, and what being together means.

A loading is listed only if nothing forbids its devices to be together. What it means for
each seat is plain data: the company it is judged in, and what is left open by the company.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from sinkside.sharing.question import Company, Kind, Question


@dataclass(frozen=True, kw_only=True, order=True)
class Place:
    """One seat of a loading as its paths see it.

    Parameters
    ----------
    harm, misbehaves
        What the company leaves open, whatever the path.
    isolated
        Whether only a path that is cut off from the charger's negative will do.
    """

    device: str
    port: str
    company: tuple[str, ...]
    harm: bool
    misbehaves: bool
    isolated: bool


@dataclass(frozen=True, kw_only=True)
class Loading:
    """Devices on ports of one charger."""

    kind: str
    places: tuple[Place, ...]


class TooMany(Exception):
    """More loadings than are taken one by one."""


MOST_LOADINGS = 200_000


def loadings(question: Question, kind: Kind) -> tuple[Loading, ...]:
    """Every allowed loading of a kind of charger, the empty one left out.

    Raises
    ------
    TooMany
        Past `MOST_LOADINGS`.
    """
    by_port = {
        port: sorted({o.device for o in question.options if (o.kind, o.port) == (kind.id, port)})
        for port in kind.ports
    }
    found = []
    for seats in _fillings(kind.ports, by_port, {}):
        if seats:
            found += list(_variants(question, kind, seats))
        if len(found) > MOST_LOADINGS:
            raise TooMany(kind.id)
    return tuple(found)


def _fillings(
    ports: tuple[str, ...], by_port: dict[str, list[str]], taken: dict[str, str]
) -> Iterator[dict[str, str]]:
    """Every way to put devices on ports, no device twice."""
    if not ports:
        yield dict(taken)
        return
    port, rest = ports[0], ports[1:]
    yield from _fillings(rest, by_port, taken)
    for device in by_port[port]:
        if device not in taken.values():
            yield from _fillings(rest, by_port, taken | {port: device})


def _variants(question: Question, kind: Kind, seats: dict[str, str]) -> Iterator[Loading]:
    """A filling as a loading; of two that must not share a negative, one has to be isolated."""
    company = kind.company(frozenset(seats))
    blink = {device: _blink(question, kind, seats, device) for device in seats.values()}
    if 3 in blink.values():
        return
    together = set(seats.values())
    pairs = [f for f in question.forbidden if {f.a, f.b} <= together]
    certain = [(f.a, f.b) for f in pairs if f.certain]
    all_pairs = [(f.a, f.b) for f in pairs]
    ways = dict.fromkeys((*_separations(certain), *_separations(all_pairs)))
    for isolated in ways:
        harm = {
            device
            for f in pairs
            if not f.certain and not {f.a, f.b} & isolated
            for device in (f.a, f.b)
        }
        yield Loading(
            kind=kind.id,
            places=tuple(
                _place(device, port, company, blink[device], device in harm, device in isolated)
                for port, device in seats.items()
            ),
        )


def _place(
    device: str, port: str, company: Company, blink: int, harm: bool, isolated: bool
) -> Place:
    return Place(
        device=device,
        port=port,
        company=tuple(sorted(company)),
        harm=harm or blink == 2,
        misbehaves=blink == 1,
        isolated=isolated,
    )


def _separations(pairs: list[tuple[str, str]]) -> Iterator[frozenset[str]]:
    """Every smallest set of devices to isolate so that each pair has one in it."""
    found: set[frozenset[str]] = {frozenset()}
    for a, b in pairs:
        found = {s if {a, b} & s else s | {x} for s in found for x in (a, b)}
    yield from sorted((s for s in found if not any(t < s for t in found)), key=sorted)


def _blink(question: Question, kind: Kind, seats: dict[str, str], device: str) -> int:
    """What a change on the other ports means to a device in this loading.

    A lead that is always plugged can still be pulled: any neighbour, and any spare port that
    may be used, can change.
    """
    company = kind.company(frozenset(seats))
    return question.blinks.get((device, kind.id), 0) if len(company) > 1 else 0
