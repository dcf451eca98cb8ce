"""The rules without a formula that concern a single path.

Each hangs on a head, on what a path ends in, or on the device: it is asked once of each.
"""

from collections.abc import Callable
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.front import Front
from sinkside.paths.keep_alive import keep_alive
from sinkside.paths.pool import Path, Pool, firsts, same
from sinkside.paths.rails import rail_current, rail_volts
from sinkside.paths.states import supply
from sinkside.rules.verdict import Verdict
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS

Codes: TypeAlias = NDArray[np.int8]


def categorical(pool: Pool) -> dict[str, Codes]:
    """Verdicts of each rule without a formula, by its id, shape (paths,)."""
    return {
        "polarity": _of_last(polarity, pool),
        "direct-current": _codes([direct_current(d) for d in pool.devices])[pool.device],
        "match-offered": _codes([match_offered(h) for h in pool.heads])[pool.head],
        "keep-alive": _codes([keep_alive(h) for h in pool.heads])[pool.head],
        "rail-volts": _of_last(lambda p: rail_volts(p.front, p.appliance), pool),
        "rail-current": _of_last(lambda p: rail_current(p.front, p.appliance), pool),
    }


def _codes(verdicts: list[Verdict]) -> Codes:
    return np.array(verdicts, dtype=np.int8)


def _of_last(of: Callable[[Path], Verdict], pool: Pool) -> Codes:
    """A rule that hangs on the last part and the device: asked of one path of each such pair."""
    _, last = same(chain[-1:] for chain in (*(h.parts for h in pool.heads), *pool.ends))
    of_head, of_end = last[: len(pool.heads)], last[len(pool.heads) :]
    bare = np.array([not end for end in pool.ends], dtype=bool)
    at = np.where(bare[pool.end], of_head[pool.head], of_end[pool.end])
    first, pair = firsts(at * len(pool.devices) + pool.device)
    return _codes([of(pool[i]) for i in first.tolist()])[pair]


def polarity(path: Path) -> Verdict:
    """Two evidences that agree with the plug fit; one, or none, is unproven; against is failing.

    Behind a confirmed full bridge either way round will do.
    """
    end, evidence = path.front.end, path.appliance.evidence
    if path.front.rails is not None:
        return Verdict.FITS  # nothing mates with it: the poles are those of the build sheet
    if end.plug in USB_PLUGS or path.appliance.kind == "either":
        return Verdict.FITS  # the poles of these plugs are fixed
    if end.kind != "barrel" or end.centre is None:
        return Verdict.UNPROVEN
    if any(e.centre != end.centre for e in evidence):
        return Verdict.FAILS
    return Verdict.FITS if len({e.observed for e in evidence}) >= 2 else Verdict.UNPROVEN


def direct_current(appliance: Appliance) -> Verdict:
    """Whether the inlet takes d.c."""
    kinds = {
        "dc": Verdict.FITS,
        "either": Verdict.FITS,
        "unknown": Verdict.UNPROVEN,
        "ac": Verdict.FAILS,
    }
    return kinds[appliance.kind]


def match_offered(front: Front) -> Verdict:
    """Whether the volts asked for are there in every company."""
    offered = supply(front).offered
    if offered is None:
        return Verdict.UNPROVEN
    return Verdict.FITS if offered else Verdict.FAILS
