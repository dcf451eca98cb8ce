"""A plan: for each device an action, the path that was chosen, and why the others lost."""

from dataclasses import dataclass, field
from enum import Enum

from sinkside.grounds import Clash
from sinkside.mixups import Cell
from sinkside.paths.front import Front
from sinkside.paths.judge import Judged
from sinkside.rules.finding import Finding
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.sharing import Level, Question, Seat
from sinkside.site.appliance import Appliance
from sinkside.site.site import Site


class Action(Enum):
    """What to do with a device; it comes before any verdict."""

    BUILD = "build it"
    TRY = "try it"
    MEASURE = "measure first"
    LEAVE = "leave it on its brick"
    REFUSED = "refused"


@dataclass(frozen=True, kw_only=True)
class Chosen:
    """The path that a device was given.

    Parameters
    ----------
    index
        Of the path in `judged`.
    findings
        Those of the path alone, and those of its company.
    risks
        Residual risks, in words.
    """

    front: Front
    seat: Seat
    judged: Judged = field(repr=False, hash=False, compare=False)
    index: int
    findings: tuple[Finding, ...]
    risks: tuple[str, ...]

    @property
    def verdict(self) -> Verdict:
        """The worst of what counts."""
        return max(
            (f.verdict for f in self.findings if f.stakes is not Stakes.NUISANCE),
            default=Verdict.FITS,
        )

    def open(self, *stakes: Stakes) -> tuple[Finding, ...]:
        """Findings of those stakes that do not fit."""
        return tuple(
            f for f in self.findings if f.stakes in stakes and f.verdict is not Verdict.FITS
        )


@dataclass(frozen=True, kw_only=True)
class Reject:
    """Chains that lost, grouped by the reason that weighed most."""

    reason: str
    count: int
    example: str


@dataclass(frozen=True, kw_only=True)
class DevicePlan:
    """One device.

    Parameters
    ----------
    action, why
        What to do, and in a few words why.
    """

    appliance: Appliance
    action: Action
    why: str
    chosen: Chosen | None
    rejected: tuple[Reject, ...]
    chains: int

    @property
    def id(self) -> str:
        """The device's name."""
        return self.appliance.id

    @property
    def verdict(self) -> Verdict | None:
        """The verdict on its path; None without one."""
        return self.chosen.verdict if self.chosen else None


@dataclass(frozen=True, kw_only=True)
class Plan:
    """The whole plan of a site.

    Parameters
    ----------
    question
        What was asked of the sharing: other wishes can be put to it.
    """

    site: Site
    question: Question = field(repr=False, hash=False, compare=False)
    devices: tuple[DevicePlan, ...]
    levels: tuple[Level, ...]
    bought: tuple[tuple[str, int], ...]
    clashes: tuple[Clash, ...]
    mixups: tuple[Cell, ...]
    warnings: tuple[str, ...]

    def device(self, name: str) -> DevicePlan:
        """The plan of one device; KeyError if there is none of that name."""
        for device in self.devices:
            if device.id == name:
                return device
        raise KeyError(name)

    @property
    def fails(self) -> bool:
        """Whether any chosen path fails."""
        return any(d.verdict is Verdict.FAILS for d in self.devices)
