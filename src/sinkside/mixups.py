"""What happens when the plug made for one device is pushed into another.

The front of one path is joined to the back of another and judged by the same rules.
Unknown is never harmless.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum

from sinkside.paths.front import Front
from sinkside.paths.judge import Judged, judge
from sinkside.paths.rows import Path
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Appliance
from sinkside.standards.barrel import Fit, Plug, jack_for, mates


class Outcome(StrEnum):
    """What a plug in an inlet comes to."""

    OWN = "its own"
    NO_FIT = "will not go on"
    FINE = "fine"
    WONT_RUN = "will not run"
    REVERSED = "reversed"
    OVER_VOLTS = "over-voltage"
    AC_INLET = "d.c. into an a.c. inlet"
    HARM = "over a rating"
    UNKNOWN = "may harm"

    @property
    def harmful(self) -> bool:
        """Whether it harms, or nobody can say that it does not."""
        return self in (
            Outcome.REVERSED,
            Outcome.OVER_VOLTS,
            Outcome.AC_INLET,
            Outcome.HARM,
            Outcome.UNKNOWN,
        )


@dataclass(frozen=True, kw_only=True)
class Cell:
    """The lead of one device in the inlet of another (or of its own)."""

    lead: str
    inlet: str
    outcome: Outcome
    loose: bool = False
    own: bool = False


def matrix(leads: Sequence[tuple[str, Front]], inlets: Sequence[Appliance]) -> tuple[Cell, ...]:
    """Every lead in every inlet.

    Parameters
    ----------
    leads
        The device that each front is made for, and the front.
    inlets
        All devices, also those that stay on their bricks.
    """
    pairs = [(d, front, inlet) for d, front in leads for inlet in inlets]
    fits = [_fit(front, inlet) for _, front, inlet in pairs]
    going = [i for i, fit in enumerate(fits) if fit is not Fit.DOES_NOT_GO_ON]
    judged = judge([Path(front=pairs[i][1], appliance=pairs[i][2]) for i in going])
    outcomes = {i: _outcome(judged, k) for k, i in enumerate(going)}
    return tuple(
        Cell(
            lead=device,
            inlet=inlet.id,
            outcome=outcomes.get(i, Outcome.NO_FIT),
            loose=fits[i] is Fit.LOOSE,
            own=device == inlet.id,
        )
        for i, (device, _, inlet) in enumerate(pairs)
    )


def _fit(front: Front, inlet: Appliance) -> Fit:
    if front.end.plug == inlet.plug:
        return Fit.GOES_ON
    plug, other = _barrel(front.end.plug), _barrel(inlet.plug)
    if plug is None or other is None:
        return Fit.DOES_NOT_GO_ON
    return mates(plug, jack_for(other))


def _barrel(name: str) -> Plug | None:
    outer, _, inner = name.partition("x")
    if not inner:
        return None
    return Plug(outer_mm=float(outer), inner_mm=float(inner))


def _outcome(judged: Judged, i: int) -> Outcome:
    path = judged.paths[i]
    rule = {r.id: k for k, r in enumerate(judged.rules)}
    if path.appliance.kind == "ac":
        return Outcome.AC_INLET
    if judged.categorical["polarity"][i] == Verdict.FAILS:
        return Outcome.REVERSED
    if judged.codes[rule["over-volts"], i] == Verdict.FAILS:
        return Outcome.OVER_VOLTS
    harm = max(
        int(judged.codes[rule[name], i])
        for name in (
            "over-volts",
            "button",
            "regulator-heat",
            "lived-heat",
            "load-side-current",
            "port-side-current",
        )
    )
    harm = max(harm, *(int(judged.categorical[name][i]) for name in ("polarity", "direct-current")))
    if harm == Verdict.FAILS:
        return Outcome.HARM
    if harm == Verdict.UNPROVEN:
        return Outcome.UNKNOWN
    if path.appliance.refusals:
        return Outcome.UNKNOWN  # it is refused whatever the volts are
    if judged.worst(Stakes.MISBEHAVES, Stakes.LOSS)[i] != Verdict.FITS:
        return Outcome.WONT_RUN
    return Outcome.FINE
