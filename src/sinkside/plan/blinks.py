"""Who blinks whom: what plugging or switching one device does to every other one in a plan."""

from collections.abc import Iterator
from dataclasses import dataclass
from enum import Enum
from typing import Literal, TypeAlias

from sinkside import outages
from sinkside.outages.ride_through import rides, stakes_of
from sinkside.parts.charger import Charger
from sinkside.plan.model import Chosen, Plan
from sinkside.quantity import Quantity
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Appliance

How: TypeAlias = Literal["plugged", "switched"]


class Outcome(Enum):
    """What becomes of a device when something happens to another one."""

    ITSELF = "itself"
    APART = "on another charger"
    KEEPS = "keeps going"
    STEPS = "steps without a gap"
    RIDES = "rides it out"
    MAY = "may go out"
    OUT = "goes out"


@dataclass(frozen=True, kw_only=True)
class Cause:
    """What happens: to a device, or to a port that nothing is planned for.

    Parameters
    ----------
    device
        None for a spare port.
    every_use
        Whether it happens each time the device is used, because its lead is plugged then.
    """

    charger: str
    unit: int
    port: str
    device: str | None
    how: How
    every_use: bool = False


@dataclass(frozen=True, kw_only=True)
class Cell:
    """What one cause does to one device.

    Parameters
    ----------
    gap_s, ride_s
        How long its contract is gone, and what it rides through; None where there is no gap.
    verdict
        Whether that is as the device may have it; None where it does not care, or where
        nothing happens to it.
    stakes
        Of the verdict.
    """

    cause: Cause
    device: str
    outcome: Outcome
    gap_s: Quantity | None
    ride_s: Quantity | None
    verdict: Verdict | None
    stakes: Stakes | None

    @property
    def words(self) -> str:
        """The cell in words: what happens, and the verdict where there is one."""
        if self.verdict is not None:
            return f"{self.outcome.value}, {self.verdict.word}"
        free = self.outcome in (Outcome.MAY, Outcome.OUT)
        return f"{self.outcome.value}, and does not mind" if free else self.outcome.value


@dataclass(frozen=True, kw_only=True)
class Blinks:
    """The whole matrix: causes down, devices across, in the order of their seats."""

    causes: tuple[Cause, ...]
    devices: tuple[str, ...]
    cells: tuple[Cell, ...]

    def cell(self, cause: Cause, device: str) -> Cell:
        """The cell of a cause and a device; KeyError if there is none."""
        if cause not in self.causes or device not in self.devices:
            raise KeyError((cause, device))
        return self.cells[self.causes.index(cause) * len(self.devices) + self.devices.index(device)]

    def of(self, device: str) -> tuple[Cell, ...]:
        """Everything that may put a device out."""
        return tuple(
            c for c in self.cells if c.device == device and c.outcome in (Outcome.MAY, Outcome.OUT)
        )


def blinks(plan: Plan) -> Blinks:
    """Who puts out whom, for a plan as a whole.

    Notes
    -----
    A lead that is plugged or pulled changes what is occupied; a device that is switched does
    not, for its trigger keeps the contract. That stops being true on a charger that takes a
    port for empty below some current: there, switching may do what plugging does.
    """
    seated = sorted(
        ((d.chosen, d.appliance) for d in plan.devices if d.chosen), key=lambda x: x[0].seat
    )
    chargers = {c.id: c for c in plan.site.chargers}
    gaps = {name: outages.interruption(charger).gap_s for name, charger in chargers.items()}
    causes = tuple(_causes(plan, seated, chargers))
    return Blinks(
        causes=causes,
        devices=tuple(chosen.seat.device for chosen, _ in seated),
        cells=tuple(
            _cell(cause, chosen, appliance, chargers[chosen.seat.kind], gaps[chosen.seat.kind])
            for cause in causes
            for chosen, appliance in seated
        ),
    )


def _causes(
    plan: Plan, seated: list[tuple[Chosen, Appliance]], chargers: dict[str, Charger]
) -> Iterator[Cause]:
    hows: tuple[How, ...] = ("plugged", "switched")
    for how in hows:
        for chosen, appliance in seated:
            seat = chosen.seat
            yield Cause(
                charger=seat.kind,
                unit=seat.unit,
                port=seat.port,
                device=seat.device,
                how=how,
                every_use=how == "plugged" and appliance.plugged == "when used",
            )
    if plan.site.rules.spare_ports == "blocked":
        return
    taken = {(c.seat.kind, c.seat.unit, c.seat.port) for c, _ in seated}
    for kind, unit in sorted({(c.seat.kind, c.seat.unit) for c, _ in seated}):
        for port in chargers[kind].names:
            if (kind, unit, port) not in taken:
                yield Cause(charger=kind, unit=unit, port=port, device=None, how="plugged")


def _cell(
    cause: Cause,
    chosen: Chosen,
    appliance: Appliance,
    charger: Charger,
    dropped_s: Quantity | None,
) -> Cell:
    """What one cause does to one device; its charger drops the other ports for so long, or not."""
    seat = chosen.seat
    gap = ride = verdict = stakes = None
    if cause.device == seat.device:
        outcome = Outcome.ITSELF
    elif (cause.charger, cause.unit) != (seat.kind, seat.unit):
        outcome = Outcome.APART
    elif cause.how == "switched" and charger.cuts_off_a is None:
        outcome = Outcome.KEEPS
    elif dropped_s is None:
        outcome = Outcome.STEPS if charger.on_change == "steps" else Outcome.KEEPS
    else:
        gap, ride = dropped_s, appliance.ride_through_s
        through = rides(ride, gap)
        if cause.how == "switched" and through is Verdict.FAILS:
            through = Verdict.UNPROVEN  # the port may be held by what the device draws when off
        outcome = {
            Verdict.FITS: Outcome.RIDES,
            Verdict.UNPROVEN: Outcome.MAY,
            Verdict.FAILS: Outcome.OUT,
        }[through]
        if appliance.blink != "any":
            verdict, stakes = through, stakes_of(appliance)
    return Cell(
        cause=cause,
        device=seat.device,
        outcome=outcome,
        gap_s=gap,
        ride_s=ride,
        verdict=verdict,
        stakes=stakes,
    )
