"""Which devices must not share a charger's negative, because a signal lead ties their grounds.

The outputs of one charger have one negative. A device whose signal ground is its positive
pole lifts the shield of its leads to its supply volts; a device at the other end whose
ground is its negative pole pulls the same shield to nought: a dead short through the lead.

Two devices of different groups of leads can meet too: where a second charger joins the two
groups by its own negative. So opposite grounds are kept apart whenever both are linked to
anything; the recheck of a plan walks the whole of it.
"""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import combinations

from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance
from sinkside.site.written import LinkWritten


@dataclass(frozen=True, kw_only=True, order=True)
class Clash:
    """Two devices whose grounds meet through signal leads.

    Parameters
    ----------
    verdict
        `FAILS`: on a common negative it is a short. `UNPROVEN`: it may be one.
    """

    a: str
    b: str
    verdict: Verdict
    words: str
    unknowns: tuple[str, ...] = ()


def clashes(appliances: Sequence[Appliance], links: Sequence[LinkWritten]) -> tuple[Clash, ...]:
    """Every pair of linked devices that is, or may be, shorted by a common negative."""
    found = []
    sure = _joined(appliances, [k for k in links if k.shield == "both ends"])
    maybe = _joined(appliances, [k for k in links if k.shield in ("both ends", "unknown")])
    size = Counter(maybe.values())
    for a, b in combinations(sorted(appliances, key=lambda x: x.id), 2):
        if maybe[a.id] != maybe[b.id]:
            clash = _across(a, b) if min(size[maybe[a.id]], size[maybe[b.id]]) > 1 else None
        else:
            clash = _clash(a, b, certain=sure[a.id] == sure[b.id])
        if clash is not None:
            found.append(clash)
    return tuple(found)


def _joined(appliances: Sequence[Appliance], links: Sequence[LinkWritten]) -> dict[str, str]:
    """For each device the name of the group whose shields it shares."""
    group = {a.id: a.id for a in appliances}
    for link in links:
        if link.from_ in group and link.to in group:
            old, new = group[link.from_], group[link.to]
            group = {device: new if g == old else g for device, g in group.items()}
    return group


def _across(a: Appliance, b: Appliance) -> Clash | None:
    """Two devices of different groups of leads, which another charger may join."""
    grounds = {a.ground, b.ground}
    if "isolated" in grounds or grounds == {"negative"}:
        return None
    unknown = tuple(f"{x.id}/ground" for x in (a, b) if x.ground == "unknown")
    if unknown:
        who = " and ".join(name.split("/")[0] for name in unknown)
        return Clash(
            a=a.id,
            b=b.id,
            verdict=Verdict.UNPROVEN,
            words=f"the signal ground of {who} is not known; another charger that feeds linked "
            "gear of both may close a short",
            unknowns=unknown,
        )
    words = (
        f"{a.id} has its {a.ground} pole on signal ground, {b.id} its {b.ground} pole: another "
        "charger that feeds linked gear of both would close a short"
    )
    return Clash(a=a.id, b=b.id, verdict=Verdict.FAILS, words=words)


def _clash(a: Appliance, b: Appliance, *, certain: bool) -> Clash | None:
    grounds = {a.ground, b.ground}
    if "isolated" in grounds or grounds == {"negative"}:
        return None
    unknown = tuple(f"{x.id}/ground" for x in (a, b) if x.ground == "unknown")
    if unknown:
        return Clash(
            a=a.id,
            b=b.id,
            verdict=Verdict.UNPROVEN,
            words=f"the signal ground of {' and '.join(n.split('/')[0] for n in unknown)} is not "
            "known; if it is not the negative pole, the lead between them is a short",
            unknowns=unknown,
        )
    words = (
        f"{a.id} has its {a.ground} pole on signal ground, {b.id} its {b.ground} pole: "
        "with a common negative the shield between them shorts a supply"
    )
    if certain:
        return Clash(a=a.id, b=b.id, verdict=Verdict.FAILS, words=words)
    return Clash(
        a=a.id,
        b=b.id,
        verdict=Verdict.UNPROVEN,
        words=f"{words}, if the shield is tied at both ends",
        unknowns=(f"{a.id}-{b.id}/shield",),
    )
