"""The heads of chains: a cable and a trigger that go together, on one port; cheap rejects first."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from functools import lru_cache

from sinkside.parts.charger import Charger
from sinkside.parts.part import Part, TriggerTraits
from sinkside.paths.drawers import Drawers, cheap
from sinkside.paths.settings import asked_volts
from sinkside.site.appliance import Appliance
from sinkside.standards.type_c_cable import CURRENT_WITHOUT_MARK_A, SPR_NOMINAL_V

# What the lead behind the trigger reaches by itself.
TAIL_REACH_M = 0.5


@dataclass(frozen=True, kw_only=True)
class Limits:
    """What the person allows.

    Parameters
    ----------
    solder
        Whether joints may be made at all.
    reach_m
        How far the device is from the charger; None if nobody said.
    """

    solder: bool
    reach_m: float | None = 0.0


@dataclass(kw_only=True)
class Rejects:
    """Why chains were not even built: reasons with how often, and one example each."""

    reasons: Counter[str] = field(default_factory=Counter)
    examples: dict[str, str] = field(default_factory=dict)

    def add(self, reason: str, example: str) -> None:
        """Count one more chain that was left out for a reason."""
        self.reasons[reason] += 1
        self.examples.setdefault(reason, example)

    def add_all(self, others: "Rejects", times: int = 1) -> None:
        """Count what was left out elsewhere, as often as it came about."""
        for reason, count in others.reasons.items():
            self.reasons[reason] += times * count
            self.examples.setdefault(reason, others.examples[reason])


def heads(
    appliance: Appliance,
    charger: Charger,
    port: str,
    drawers: Drawers,
    limits: Limits,
    rejects: Rejects,
) -> Iterator[tuple[Part, ...]]:
    """A cable and a trigger that go together, or a moulded lead that has a cable of its own."""
    cables = _cables(charger, port, drawers.cables, limits, rejects)
    for cable in cables:
        for trigger in _triggers(appliance, charger, port, drawers.triggers, rejects):
            if trigger.gives.kind != "wires":
                if cable is cables[0] and _plugs_in(charger, port, trigger, rejects):
                    yield (trigger,)
            elif _talk(cable, trigger, cables, rejects):
                yield (cable, trigger)


def _plugs_in(charger: Charger, port: str, trigger: Part, rejects: Rejects) -> bool:
    """Whether a lead that is moulded onto its trigger goes into the port."""
    if charger.port(port).receptacle == "C":
        return True
    rejects.add("a USB-C plug does not go into a USB-A port", trigger.id)
    return False


def _talk(cable: Part, trigger: Part, cables: list[Part], rejects: Rejects) -> bool:
    """Whether a cable lets a trigger have what it asks for, and is not more than that takes."""
    traits = trigger.trigger
    if traits is None:
        return False
    if cable.takes.kind == "usb-a":
        if not traits.by_resistors:
            rejects.add(
                "a lead from A to C carries no negotiation: it gives 5 V, by two resistors",
                cable.id,
            )
        return traits.by_resistors
    if not _extended(traits):
        # Where a plainer lead carries the same, the marked one stays for what needs it.
        plainer = (c for c in cables if not c.epr and c.carries_a >= cable.carries_a)
        return not cable.epr or next(plainer, None) is None
    if not any(c.epr for c in cables):
        rejects.add(
            f"{traits.asks_v:g} V wants a lead that is marked EPR, and none reaches", trigger.id
        )
    return cable.epr


def _extended(traits: TriggerTraits) -> bool:
    """Whether a trigger asks for what is offered in the extended range only."""
    return traits.programmable_v is None and traits.asks_v > SPR_NOMINAL_V


def _cables(
    charger: Charger, port: str, parts: Sequence[Part], limits: Limits, rejects: Rejects
) -> list[Part]:
    """The cheapest cable that reaches: without a mark; over 3 A with one; over 20 V with EPR."""
    if limits.reach_m is None:
        rejects.add(f"how far it is to {charger.id} is not said", "add to: under places:")
        return []
    reach = limits.reach_m - TAIL_REACH_M
    offers = charger.port(port)
    fits = "usb-c" if offers.receptacle == "C" else "usb-a"
    for part in parts:
        if part.owned and part.takes.kind != fits:
            rejects.add(f"{part.id} does not go into {charger.id} {port}", part.id)
    cables = sorted(
        (p for p in parts if p.takes.kind == fits and p.length_m >= reach),
        key=cheap,
    )
    if not cables:
        rejects.add(f"no cable reaches {charger.id}, {limits.reach_m:g} m away", "cable")
        return []
    plain = [p for p in cables if not p.e_marked]
    marked = [p for p in cables if p.e_marked]
    extended = [p for p in cables if p.epr]
    kept = plain[:1]
    if offers.largest_a > CURRENT_WITHOUT_MARK_A or not plain:
        kept += marked[:1]
    if any(o.low_v > SPR_NOMINAL_V for o in offers.offers) and not any(c.epr for c in kept):
        kept += extended[:1]
    return kept


def _triggers(
    appliance: Appliance, charger: Charger, port: str, parts: Sequence[Part], rejects: Rejects
) -> Iterator[Part]:
    """Triggers that ask for what the port offers at least when it is alone."""
    offers = charger.port(port).offers
    listed = {o.fixed_v for o in offers}
    for part in parts:
        traits = part.trigger
        if traits is None:
            continue
        if traits.programmable_v is not None:
            yield from _programmed(appliance, charger, port, part, rejects)
        elif traits.asks_v not in listed:
            rejects.add(f"{charger.id} {port} does not offer {traits.asks_v:g} V", part.id)
        elif _extended(traits) and not traits.epr:
            rejects.add(
                f"asks for {traits.asks_v:g} V, and nothing says that it speaks the extended "
                "range: add epr: yes (datasheet)",
                part.id,
            )
        else:
            yield part


def _programmed(
    appliance: Appliance, charger: Charger, port: str, part: Part, rejects: Rejects
) -> Iterator[Part]:
    """A programmable trigger at each of the volts that are worth asking for."""
    traits = part.trigger
    ranges = [o for o in charger.port(port).offers if o.profile == "pps"]
    if appliance.rails or traits is None or traits.programmable_v is None:
        return
    if not ranges:
        rejects.add(f"{charger.id} {port} offers no programmable range", part.id)
        return
    if traits.keeps_alive is False:
        rejects.add("its contract dies within 15 s: it sends no keep-alive", part.id)
        return
    low, high = traits.programmable_v
    for volts in asked_volts(appliance):
        if not low <= volts <= high:
            rejects.add(f"cannot ask for {volts:g} V", part.id)
        elif not any(o.low_v <= volts <= o.high_v for o in ranges):
            rejects.add(f"no range of {charger.id} {port} has {volts:g} V in it", part.id)
        else:
            yield _asking(part, volts)


@lru_cache(maxsize=1000)
def _asking(part: Part, volts: float) -> Part:
    return part.asking(volts)
