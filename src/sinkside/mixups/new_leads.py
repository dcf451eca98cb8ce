"""What happens when the new lead made for one device is pushed into another.

The front of one path is joined to the back of another and judged by the same rules, in every
state of its supply. Unknown is never harmless.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.mating import fit
from sinkside.mixups.outcome import Cell, Outcome
from sinkside.mixups.picking import Codes, Picked, Told, pick
from sinkside.paths.alone import polarity
from sinkside.paths.front import Front
from sinkside.paths.judge import Judged, judge
from sinkside.paths.rows import Path
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance
from sinkside.standards.barrel import Fit

Leads: TypeAlias = Sequence[tuple[str, Front]]
Shorts: TypeAlias = Mapping[tuple[str, str], Verdict]
Indices: TypeAlias = NDArray[np.intp]
Brings: TypeAlias = tuple[float, str]
Pairs: TypeAlias = Sequence[tuple[int, int]]
NO_FIT: Told = (Outcome.NO_FIT, True, "plug")

# Where these are open or broken it is the chain's own doing: in another inlet only what is worse
# than in its own is a mix-up.
OF_THE_CHAIN = ("part-volts", "fault-current")
NO_SHORTS: Shorts = {}


@dataclass(frozen=True, kw_only=True)
class Met:
    """Pairs of lead and inlet, judged as if each plug went into each inlet.

    Parameters
    ----------
    brings
        The highest volts at the plug of each lead, by its place, and the state of the supply that
        they stand in, for people.
    """

    picked: Picked
    brings: dict[int, Brings]


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
    at_sight = _at_sight(leads, inlets, pairs, fits)
    judged = _to_judge(pairs, fits, at_sight)
    met = meet(leads, inlets, [pairs[n] for n in judged], shorts)
    found = {n: met.picked.told(at) for at, n in enumerate(judged)} | at_sight
    return tuple(
        _cell(leads[i][0], inlets[k], fits[n], found.get(n, NO_FIT), met.brings.get(i))
        for n, (i, k) in enumerate(pairs)
    )


def _at_sight(
    leads: Leads, inlets: Sequence[Appliance], pairs: Pairs, fits: Sequence[Fit]
) -> dict[int, Told]:
    """What needs no figures: poles that are against each other, and an inlet for a.c."""
    found = {}
    for n, (i, k) in enumerate(pairs):
        (device, front), inlet = leads[i], inlets[k]
        if fits[n] is Fit.DOES_NOT_GO_ON or device == inlet.id:
            continue
        if inlet.kind == "ac":
            found[n] = (Outcome.AC_INLET, True, "direct-current")
        elif polarity(Path(front=front, appliance=inlet)) is Verdict.FAILS:
            found[n] = (Outcome.REVERSED, True, "polarity")
    return found


def _to_judge(pairs: Pairs, fits: Sequence[Fit], at_sight: Collection[int]) -> list[int]:
    """The pairs that are left, and one of each lead at least: it tells what volts it brings."""
    found, seen = [], set()
    going = [n for n, one in enumerate(fits) if one is not Fit.DOES_NOT_GO_ON]
    left = {pairs[n][0] for n in going if n not in at_sight}
    for n in going:
        lead = pairs[n][0]
        if n not in at_sight or (lead not in left and lead not in seen):
            found.append(n)
            seen.add(lead)
    return found


def _cell(lead: str, inlet: Appliance, found: Fit, told: Told, brings: Brings | None) -> Cell:
    outcome, sure, rule = told
    goes = found is not Fit.DOES_NOT_GO_ON
    limit = inlet.harmed_above_v
    return Cell(
        lead=lead,
        inlet=inlet.id,
        outcome=outcome,
        loose=found is Fit.LOOSE,
        own=lead == inlet.id,
        sure=sure,
        rule=rule,
        state=brings[1] if goes and brings else "",
        top_v=brings[0] if goes and brings else None,
        harmed_above_v=(limit.low, limit.high) if goes else None,
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
    return Met(picked=pick(codes, refused), brings=_brings(judged, [i for i, _ in pairs]))


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


def _brings(judged: Judged, leads: Sequence[int]) -> dict[int, Brings]:
    """The highest volts at each plug, from the margin to the damage limit, and in what state.

    They are the same into whatever inlet it goes.
    """
    found: dict[int, Brings] = {}
    for n, lead in enumerate(leads):
        if lead in found:
            continue
        path, (margin, row) = judged.paths[n], judged.decides("over-volts", n)
        if not np.isfinite(margin):
            found[lead] = (0.0, "")  # its trigger lets nothing through
            continue
        of, state = judged.rows.states[int(judged.rows.state[row])]
        volts = round(path.appliance.harmed_above_v.low - margin, 9)
        found[lead] = (volts, state.label(judged.paths[of].front))
    return found
