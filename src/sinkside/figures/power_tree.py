"""The power tree: what hangs on each port of each charger, and what is left there at the worst.

What is drawn, without saying how: `power_tree_text` and `power_tree_svg` draw the same thing.
"""

import math
from dataclasses import dataclass

from sinkside.parts.charger import Charger, Occupied, Offer
from sinkside.paths.rows import rows_of
from sinkside.paths.symbols import symbols_of
from sinkside.paths.views import CORNERS
from sinkside.plan.model import Chosen, DevicePlan, Plan
from sinkside.quantity import number, rounded


@dataclass(frozen=True, kw_only=True)
class Load:
    """A device on a port, in the state of its contract that leaves it least.

    Parameters
    ----------
    contract_v
        Volts that it asks for.
    programmed
        Whether it asks for them from a programmable range.
    offer_a
        The least current that the port promises in that state.
    steady_a, peak_a
        Out of the port, at the worst corner; NaN where there is no working point.
    state
        The state, in words.
    action
        What is to be done with the device, in words.
    """

    device: str
    contract_v: float
    programmed: bool
    offer_a: float
    steady_a: float
    peak_a: float
    state: str
    action: str

    @property
    def margin_a(self) -> float:
        """What is left of the offer at the peak; less than nothing where there is none."""
        margin = self.offer_a - self.peak_a
        return -math.inf if math.isnan(margin) else margin

    @property
    def contract(self) -> str:
        """The contract in words."""
        programmed = "PPS " if self.programmed else ""
        return f"{programmed}{number(self.contract_v, 'V')} {rounded(self.offer_a, 'A')}"


@dataclass(frozen=True, kw_only=True)
class Branch:
    """One port of one charger.

    Parameters
    ----------
    load
        None where nothing is planned for it.
    spare
        Of a port without a load: what it offers beside what is planned, in words.
    """

    port: str
    load: Load | None
    spare: str = ""


@dataclass(frozen=True, kw_only=True)
class Tree:
    """One charger, and its ports.

    Parameters
    ----------
    at
        Where it stands; empty if nobody said.
    """

    charger: str
    unit: int
    count: int
    at: str
    branches: tuple[Branch, ...]

    @property
    def name(self) -> str:
        """The charger in words, with its number if there are several alike."""
        return f"{self.charger} no. {self.unit}" if self.count > 1 else self.charger

    @property
    def loads(self) -> tuple[Load, ...]:
        """What hangs on it."""
        return tuple(b.load for b in self.branches if b.load)

    @property
    def offered_w(self) -> float:
        """What the contracts on it come to, each at the least that its port promises."""
        return sum(x.contract_v * x.offer_a for x in self.loads)

    @property
    def steady_w(self) -> float:
        """What is drawn for long with everything on it running, at contract volts."""
        return sum(x.contract_v * x.steady_a for x in self.loads)

    @property
    def peak_w(self) -> float:
        """What is drawn if every peak comes at once, at contract volts."""
        return sum(x.contract_v * x.peak_a for x in self.loads)

    @property
    def total(self) -> str:
        """The sums in words."""
        if not self.loads:
            return "nothing hangs on it"
        if math.isnan(self.peak_w):
            return "no working point: what it draws has no bound but its trip"
        share = f" ({100 * self.steady_w / self.offered_w:.0f} %)" if self.offered_w else ""
        return (
            f"{watts(self.steady_w)} for long, {watts(self.peak_w)} at peaks, of "
            f"{watts(self.offered_w)} in contracts{share}"
        )


def watts(value: float) -> str:
    """Watts with one place; what is less than a tenth is not taken for nothing."""
    return "< 0.1 W" if 0.0 < value < 0.05 else f"{value:.1f} W"


def margin_words(load: Load) -> str:
    """What is left on a port, in words."""
    if math.isnan(load.peak_a):
        return "no working point at all"
    steady, peak = rounded(load.steady_a, "A"), rounded(load.peak_a, "A")
    short = load.margin_a < -1e-9
    left = rounded(abs(load.margin_a), "A") if abs(load.margin_a) > 1e-9 else "nothing"
    return f"{steady} for long, {peak} at peaks, {left} {'too much' if short else 'left'}"


def power_trees(plan: Plan) -> tuple[Tree, ...]:
    """The power tree of every charger that is owned, in the order of their names.

    Notes
    -----
    Volts times amps are at the contract's nominal volts: at the lowest ones of the same
    contract a load of constant power takes some more amps, which are in `peak_a`, so the sums
    are a little high. All devices are taken to run, and to peak, at once.
    """
    seats = {
        (d.chosen.seat.kind, d.chosen.seat.unit, d.chosen.seat.port): d
        for d in plan.devices
        if d.chosen
    }
    return tuple(
        _tree(plan, charger, unit, seats)
        for charger in sorted(plan.site.chargers, key=lambda c: c.id)
        for unit in range(1, charger.count + 1)
    )


def _tree(
    plan: Plan, charger: Charger, unit: int, seats: dict[tuple[str, int, str], DevicePlan]
) -> Tree:
    loaded = frozenset(p for p in charger.names if (charger.id, unit, p) in seats)
    blocked = plan.site.rules.spare_ports == "blocked"
    branches = []
    for port in charger.names:
        device = seats.get((charger.id, unit, port))
        if device is not None and device.chosen is not None:
            branches.append(Branch(port=port, load=_load(device, device.chosen)))
        else:
            spare = _spare(charger, port, loaded, blocked=blocked)
            branches.append(Branch(port=port, load=None, spare=spare))
    return Tree(
        charger=charger.id, unit=unit, count=charger.count, at=charger.at, branches=tuple(branches)
    )


def _spare(charger: Charger, port: str, loaded: Occupied, *, blocked: bool) -> str:
    """What a port without a load is, and what it offers beside those that have one."""
    if blocked and loaded:
        return "blocked"
    offers = charger.offers(port, loaded | {port})
    if offers is None:
        return "free, nobody knows what it offers then"
    return "free: " + ", ".join(_offer(o) for o in offers)


def _offer(offer: Offer) -> str:
    amps = number(offer.current_a, "A")
    if offer.profile == "fixed":
        return f"{number(offer.low_v, 'V')} {amps}"
    return f"{offer.profile.upper()} {offer.low_v:g}..{offer.high_v:g} V {amps}"


def _load(device: DevicePlan, chosen: Chosen) -> Load:
    """The state of the contract with the least margin; without a contract the worst of all."""
    path = chosen.judged.paths[chosen.index]
    rows = rows_of((path,))
    symbols, _ = symbols_of((path,), rows, CORNERS)
    states = [row.state for row in rows]
    match = [i for i, state in enumerate(states) if state.kind == "match"]
    found = [
        Load(
            device=device.id,
            contract_v=states[i].nominal_v,
            programmed=path.front.trigger.programmable_v is not None,
            offer_a=float(symbols["I_offer"][i, 0]),
            steady_a=float(symbols["I_port_steady"][i, 0]),
            peak_a=float(symbols["I_port"][i, 0]),
            state=states[i].label(path.front),
            action=device.action.value,
        )
        for i in match or range(len(states))
    ]
    return min(found, key=lambda load: load.margin_a)
