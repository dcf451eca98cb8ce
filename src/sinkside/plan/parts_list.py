"""The parts list of a plan: what it takes, what of that is owned, what is to be bought and spare.

What lies on the shelf goes to those who are built first: a device that is to be measured before
anything is made comes after the others, and what is bought for it can wait.
"""

from collections import Counter, defaultdict
from dataclasses import dataclass

from sinkside.parts.part import Part, PartKind
from sinkside.plan.model import Action, DevicePlan, Plan

# In this order devices are served from the shelf.
_ORDER = tuple(Action)


@dataclass(frozen=True, kw_only=True)
class Use:
    """One part of one kind in one device's chain.

    Parameters
    ----------
    setting
        What is to be set on it, in words; empty if nothing.
    bought
        Whether it has to be bought for that.
    """

    device: str
    part: str
    setting: str
    bought: bool


@dataclass(frozen=True, kw_only=True)
class Line:
    """One kind of part.

    Parameters
    ----------
    needed, owned
        How many the plan takes, and how many are on the shelf.
    waits
        How many of those to be bought are for devices that are to be measured first.
    price_cents
        Of one; None if nobody knows.
    """

    part: str
    words: str
    kind: PartKind
    needed: int
    owned: int
    waits: int
    price_cents: int | None
    uses: tuple[Use, ...]

    @property
    def from_shelf(self) -> int:
        """How many are taken from the shelf."""
        return min(self.needed, self.owned)

    @property
    def to_buy(self) -> int:
        """How many are to be bought."""
        return self.needed - self.from_shelf

    @property
    def spare(self) -> int:
        """How many stay on the shelf."""
        return self.owned - self.from_shelf

    @property
    def cents(self) -> int | None:
        """What those to be bought cost; None if nobody knows, nought if there are none."""
        if not self.to_buy:
            return 0
        return None if self.price_cents is None else self.to_buy * self.price_cents


@dataclass(frozen=True, kw_only=True)
class ChargerLine:
    """One kind of charger: how many are owned, how many are used, and the ports left on those."""

    charger: str
    owned: int
    used: int
    ports_left: int


@dataclass(frozen=True, kw_only=True)
class Sum:
    """A sum of money of which a part may not be known.

    Parameters
    ----------
    cents
        Of what has a price.
    unpriced
        How many pieces have none: the sum is at least `cents`, and no more is known.
    """

    cents: int
    unpriced: int


@dataclass(frozen=True, kw_only=True)
class DeviceParts:
    """What one device takes."""

    device: str
    waits: bool
    uses: tuple[Use, ...]
    to_buy: Sum


@dataclass(frozen=True, kw_only=True)
class PartsList:
    """The parts list of a plan.

    Parameters
    ----------
    lines
        Parts that are needed, or owned and left over, in order of their ids.
    total, now
        What is to be bought in all, and without what can wait.
    budget_cents
        None without one.
    """

    currency: str
    lines: tuple[Line, ...]
    chargers: tuple[ChargerLine, ...]
    devices: tuple[DeviceParts, ...]
    total: Sum
    now: Sum
    budget_cents: int | None

    @property
    def spare(self) -> tuple[Line, ...]:
        """Lines of which something stays on the shelf."""
        return tuple(line for line in self.lines if line.spare)


def parts_list(plan: Plan) -> PartsList:
    """The parts list of a plan.

    Notes
    -----
    What a device costs hangs on who is served from the shelf first; the sum over all devices
    does not, and is the total. A part whose price is not known is counted, never taken as free.
    """
    parts: dict[str, Part] = {}
    for part in plan.site.parts:  # once for each setting; all have the same price and number
        parts.setdefault(part.id, part)
    devices = sorted(
        (d for d in plan.devices if d.chosen), key=lambda d: (_ORDER.index(d.action), d.id)
    )
    left = {name: part.owned for name, part in parts.items()}
    uses = {d.id: _uses(d, left) for d in devices}
    waits = {d.id for d in devices if d.action is Action.MEASURE}
    of_part: dict[str, list[Use]] = defaultdict(list)
    for some in uses.values():
        for use in some:
            of_part[use.part].append(use)
    lines = tuple(
        _line(part, of_part[name], waits)
        for name, part in sorted(parts.items())
        if of_part[name] or part.owned
    )
    bought = [u for some in uses.values() for u in some if u.bought]
    return PartsList(
        currency=plan.site.currency,
        lines=lines,
        chargers=_chargers(plan),
        devices=tuple(
            DeviceParts(
                device=d.id,
                waits=d.id in waits,
                uses=uses[d.id],
                to_buy=_sum([u for u in uses[d.id] if u.bought], parts),
            )
            for d in devices
        ),
        total=_sum(bought, parts),
        now=_sum([u for u in bought if u.device not in waits], parts),
        budget_cents=plan.site.rules.budget,
    )


def _uses(device: DevicePlan, left: dict[str, int]) -> tuple[Use, ...]:
    """The parts of a device's chain, taken from what is left on the shelf while there is any."""
    found = []
    for part in device.chosen.front.parts if device.chosen else ():
        bought = left.get(part.id, 0) == 0
        if not bought:
            left[part.id] -= 1
        found.append(Use(device=device.id, part=part.id, setting=part.setting, bought=bought))
    return tuple(found)


def _line(part: Part, uses: list[Use], waits: set[str]) -> Line:
    return Line(
        part=part.id,
        words=part.words or part.id,
        kind=part.kind,
        needed=len(uses),
        owned=part.owned,
        waits=sum(u.bought and u.device in waits for u in uses),
        price_cents=part.price_cents,
        uses=tuple(sorted(uses, key=lambda u: (u.device, u.setting))),
    )


def _sum(bought: list[Use], parts: dict[str, Part]) -> Sum:
    prices = [parts[u.part].price_cents for u in bought]
    return Sum(cents=sum(p for p in prices if p is not None), unpriced=prices.count(None))


def _chargers(plan: Plan) -> tuple[ChargerLine, ...]:
    seats = [d.chosen.seat for d in plan.devices if d.chosen]
    used = {kind: {s.unit for s in seats if s.kind == kind} for kind in {s.kind for s in seats}}
    taken = Counter(s.kind for s in seats)
    return tuple(
        ChargerLine(
            charger=c.id,
            owned=c.count,
            used=len(used.get(c.id, ())),
            ports_left=len(used.get(c.id, ())) * len(c.ports) - taken[c.id],
        )
        for c in sorted(plan.site.chargers, key=lambda c: c.id)
    )
