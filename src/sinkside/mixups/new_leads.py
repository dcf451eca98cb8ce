"""What happens when the new lead made for one device is pushed into another.

The front of one path is joined to the back of another and judged by the same rules, in every
state of its supply. Unknown is never harmless.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.mating import fit
from sinkside.mixups.outcome import Cell, Outcome
from sinkside.mixups.picking import Codes, Picked, pick
from sinkside.paths.front import Front
from sinkside.paths.judge import ROW_OF, Judged, judge
from sinkside.paths.rows import Path
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance
from sinkside.standards.barrel import Fit

Leads: TypeAlias = Sequence[tuple[str, Front]]
Shorts: TypeAlias = Mapping[tuple[str, str], Verdict]
Indices: TypeAlias = NDArray[np.intp]

# Where these are open or broken it is the chain's own doing: in another inlet only what is worse
# than in its own is a mix-up.
OF_THE_CHAIN = ("part-volts", "fault-current")
NO_SHORTS: Shorts = {}


@dataclass(frozen=True, kw_only=True)
class Met:
    """Pairs of lead and inlet, judged as if each plug went into each inlet.

    Parameters
    ----------
    top_v
        The highest volts at the plug.
    states
        The state of the supply that they stand in, for people.
    """

    picked: Picked
    top_v: tuple[float, ...]
    states: tuple[str, ...]


def matrix(
    leads: Leads, inlets: Sequence[Appliance], shorts: Shorts = NO_SHORTS
) -> tuple[Cell, ...]:
    """Every new lead in every inlet.

    Parameters
    ----------
    leads
        The device that each front is made for, and the front.
    inlets
        All devices, also those that stay on their bricks.
    shorts
        For a device's lead and another's inlet: whether a charger's negative would then be
        shorted through signal leads. A pair that is not in it is not.
    """
    pairs = [(i, k) for i in range(len(leads)) for k in range(len(inlets))]
    fits = [fit(leads[i][1].end.plug, inlets[k].plug) for i, k in pairs]
    going = [n for n, found in enumerate(fits) if found is not Fit.DOES_NOT_GO_ON]
    met = meet(leads, inlets, [pairs[n] for n in going], shorts)
    place = {n: at for at, n in enumerate(going)}
    return tuple(
        _cell(leads[i][0], inlets[k], fits[n], met, place.get(n)) for n, (i, k) in enumerate(pairs)
    )


def _cell(lead: str, inlet: Appliance, found: Fit, met: Met, at: int | None) -> Cell:
    own = lead == inlet.id
    if at is None:
        return Cell(lead=lead, inlet=inlet.id, outcome=Outcome.NO_FIT, own=own, rule="plug")
    return Cell(
        lead=lead,
        inlet=inlet.id,
        outcome=met.picked.outcomes[at],
        loose=found is Fit.LOOSE,
        own=own,
        sure=met.picked.sure[at],
        rule=met.picked.rules[at],
        state=met.states[at],
        top_v=met.top_v[at],
        harmed_above_v=(inlet.harmed_above_v.low, inlet.harmed_above_v.high),
    )


def meet(
    leads: Leads,
    inlets: Sequence[Appliance],
    pairs: Sequence[tuple[int, int]],
    shorts: Shorts = NO_SHORTS,
) -> Met:
    """Judge pairs, by their places in `leads` and `inlets`, whether or not the plugs mate."""
    judged = judge([Path(front=leads[i][1], appliance=inlets[k]) for i, k in pairs])
    at = np.array(pairs, dtype=np.intp).reshape(-1, 2)
    codes = judged.verdicts
    own = _own(leads, inlets, at)
    for rule in OF_THE_CHAIN:
        codes[rule] = _worse_than_own(codes[rule], own)
    must = np.array([inlet.must_survive_fault for inlet in inlets], dtype=bool)[at[:, 1]]
    codes["single-fault"] = np.where(must, codes["single-fault"], 0).astype(np.int8)
    codes["ground-short"] = np.array(
        [shorts.get((leads[i][0], inlets[k].id), Verdict.FITS) for i, k in pairs], dtype=np.int8
    )
    refused = np.array([bool(inlet.refusals) for inlet in inlets], dtype=bool)[at[:, 1]]
    top_v, states = _highest(judged)
    return Met(picked=pick(codes, refused), top_v=top_v, states=states)


def _own(leads: Leads, inlets: Sequence[Appliance], at: Indices) -> Indices:
    """For each pair the place of the pair of that lead and its own inlet; -1 if it is not there."""
    own = np.full(len(leads), -1, dtype=np.intp)
    for n, (i, k) in enumerate(at.tolist()):
        if leads[i][0] == inlets[k].id:
            own[i] = n
    found: Indices = own[at[:, 0]]
    return found


def _worse_than_own(codes: Codes, own: Indices) -> Codes:
    """Codes of pairs, those that are no worse than the lead's own taken off.

    Of a lead whose own inlet is not looked at, nothing of this is a mix-up.
    """
    if not len(codes):
        return codes
    itself = own == np.arange(len(codes))
    worse = (own >= 0) & (codes > codes[own])
    return np.where(itself | worse, codes, Verdict.FITS).astype(np.int8)


def _highest(judged: Judged) -> tuple[tuple[float, ...], tuple[str, ...]]:
    """The highest volts at each plug, from the margin to the damage limit, and in what state."""
    row = ROW_OF["over-volts"]
    margins, deciding = judged.margins[row], judged.deciding[row]
    labels: dict[int, str] = {}
    volts, states = [], []
    for i, path in enumerate(judged.paths):
        if not np.isfinite(margins[i]):
            volts.append(0.0)  # its trigger lets nothing through
            states.append("")
            continue
        volts.append(round(path.appliance.harmed_above_v.low - float(margins[i]), 9))
        state = int(judged.rows.state[deciding[i]])
        if state not in labels:
            of, found = judged.rows.states[state]
            labels[state] = found.label(judged.paths[of].front)
        states.append(labels[state])
    return tuple(volts), tuple(states)
