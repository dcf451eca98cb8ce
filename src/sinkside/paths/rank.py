"""Which path of a device is the better one: one key, from the gravest to the slightest."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, NamedTuple, overload

import numpy as np
from numpy.typing import NDArray

from sinkside.parts.elements import Converter
from sinkside.parts.part import Part
from sinkside.paths.findings import run_plausibly
from sinkside.paths.front import step
from sinkside.paths.judge import ROW_OF, Judged
from sinkside.paths.pool import Indices, Path, Pool, firsts, same
from sinkside.paths.risks import risks_of
from sinkside.quantity import Basis, Quantity
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Appliance


class Key(NamedTuple):
    """The order of preference; smaller is better, field by field.

    Parameters
    ----------
    fails
        Whether anything that counts fails.
    harm_unproven
        How many rules leave harm, or loss of data or work, open; volts that would harm at more
        than a quarter of what is not known of the device count twice.
    misbehaves_unproven
        Whether it is not certain to run.
    implausible
        1 if the odds are against its running, else 0.
    irreversible
        Changes to the device itself: none, in a chain that ends in a plug.
    risks
        How many residual risks stay. They come before money: a fuse is never left out to
        save its price.
    volts
        The contract: the lowest sufficient one first, for when something upstream fails; of
        two settings of a converter the lower.
    stages
        How many parts: of two chains that do the same, the shorter.
    cents
        What is to be bought; an unknown price counts as dear.
    id
        So that nothing is left to chance.
    """

    fails: bool
    harm_unproven: int
    misbehaves_unproven: bool
    implausible: int
    irreversible: int
    risks: int
    volts: float
    stages: int
    cents: int
    id: str


UNKNOWN_PRICE_CENTS = 100_000
LIKELY, UNLIKELY = 0, 1
# Of two chains that leave harm open, the one that goes a little beyond what is known is the
# better: 20 V into a 19 V device before 24 V (judgement).
LITTLE_BEYOND = 0.25


class Keys(Sequence[Key]):
    """Keys in columns; as a sequence, one `Key` after the other, made when it is asked for.

    Of a large site there are hundreds of thousands, and objects that are kept cost memory, and
    time whenever the collector of garbage looks them through.
    """

    def __init__(self, columns: Sequence[Sequence[Any]]) -> None:
        self.columns = columns

    def __len__(self) -> int:
        return len(self.columns[-1])

    @overload
    def __getitem__(self, index: int) -> Key: ...
    @overload
    def __getitem__(self, index: slice) -> tuple[Key, ...]: ...
    def __getitem__(self, index: int | slice) -> Key | tuple[Key, ...]:
        if isinstance(index, slice):
            return tuple(map(Key._make, zip(*(c[index] for c in self.columns), strict=True)))
        return Key._make([column[index] for column in self.columns])


@dataclass(frozen=True, kw_only=True)
class Ranked:
    """Paths of one device with their keys, and their places from the best to the last."""

    keys: Sequence[Key]
    order: tuple[int, ...]


def cents(path: Path) -> int:
    """What of a path is to be bought."""
    return _cents(path.front.parts)


def keys(judged: Judged) -> list[Key]:
    """The key of each path of one device."""
    return list(ranked(judged).keys)


def ranked(judged: Judged) -> Ranked:
    """The paths of one device in order.

    The odds that a path runs are worked out where they can decide: among paths that may run, and
    that leave least harm open.
    """
    pool = judged.pool
    if not len(pool):
        return Ranked(keys=(), order=())
    converters, converter = _converters(pool)
    set_v = np.array([c.gives_v.value if c else 0.0 for c in converters])[converter]
    asked_v = np.array([head.trigger.asks_v for head in pool.heads])[pool.head]
    misbehaves = judged.unproven(Stakes.MISBEHAVES) > 0
    fails = judged.worst(Stakes.HARM, Stakes.LOSS, Stakes.MISBEHAVES) == Verdict.FAILS
    columns = _Columns(
        fails=fails,
        harm_unproven=_doubts(judged),
        misbehaves_unproven=misbehaves,
        implausible=np.where(misbehaves, UNLIKELY, LIKELY),
        irreversible=np.zeros(len(pool), dtype=np.intp),
        risks=_risks(judged, converters, converter),
        volts=asked_v + set_v / 1000,
        stages=_of_parts(len, pool),
        cents=_of_parts(_cents, pool),
    )
    names = _names(pool)
    if knows_window(pool.devices[pool.device[0]]):
        converts = np.array([c is not None for c in converters])[converter]
        feed_v = np.where(converts, set_v, asked_v)
        feeds = list(zip(feed_v.tolist(), converts.tolist(), strict=True))
        _weigh_odds(judged, columns, feeds, _order(columns, names))
    else:
        columns.implausible[:] = LIKELY
    values = [column.tolist() for column in columns]
    return Ranked(
        keys=Keys([*values, names]),
        order=tuple(_order(columns, names)),
    )


def _doubts(judged: Judged) -> NDArray[np.int64]:
    """How many rules leave harm or loss open; twice those whose volts go far beyond the known."""
    pool, doubts = judged.pool, judged.unproven(Stakes.HARM, Stakes.LOSS)
    unknown: tuple[tuple[str, list[Quantity | None]], ...] = (
        ("over-volts", [d.harmed_above_v for d in pool.devices]),
        ("lived-heat", [d.heat.cool_up_to_v for d in pool.devices]),
    )
    for rule, ranges in unknown:
        width = np.array([q.high - q.low if q else np.inf for q in ranges])[pool.device]
        beyond = -judged.least_of(rule) > LITTLE_BEYOND * width
        doubts += beyond & (judged.codes[ROW_OF[rule]] == Verdict.UNPROVEN)
    return doubts


class _Columns(NamedTuple):
    """Keys without their names, as arrays."""

    fails: NDArray[np.bool_]
    harm_unproven: NDArray[np.int64]
    misbehaves_unproven: NDArray[np.bool_]
    implausible: Indices
    irreversible: Indices
    risks: Indices
    volts: NDArray[np.float64]
    stages: Indices
    cents: Indices


def _weigh_odds(
    judged: Judged,
    columns: _Columns,
    feeds: Sequence[tuple[float, bool]],
    order: Sequence[int],
) -> None:
    """Weigh the odds that open paths run: those that feed the same are as plausible as each other.

    They differ in milliohms only, which is nothing beside what is not known of the device: the
    best of them stands for all.
    """
    open_ = _open(columns)
    best: dict[tuple[float, bool], int] = {}
    for i in order:
        if open_[i]:
            best.setdefault(feeds[i], i)
    odds = run_plausibly(judged, list(best.values()))
    bands = {feed: _band(tenths) for feed, tenths in zip(best, odds, strict=True)}
    for i in np.flatnonzero(open_).tolist():
        columns.implausible[i] = bands[feeds[i]]


def _band(tenths: int) -> int:
    return LIKELY if tenths >= 3 else UNLIKELY


def _order(columns: _Columns, names: Sequence[str]) -> list[int]:
    """Places from the least key to the greatest; names count where all else is the same."""
    order: Indices = np.lexsort(columns[::-1])
    other = np.zeros(len(order) - 1, dtype=bool)
    for column in columns:
        other |= column[order[1:]] != column[order[:-1]]
    found: list[int] = order.tolist()
    cuts = [0, *(np.flatnonzero(other) + 1).tolist(), len(found)]
    for start, stop in pairwise(cuts):
        if stop - start > 1:
            found[start:stop] = sorted(found[start:stop], key=names.__getitem__)
    return found


def knows_window(appliance: Appliance) -> bool:
    """Whether more is known of what a device runs from than a rule of thumb on its plate.

    Where it is not, the plain chain at plate volts is the one to try: odds drawn from a rule
    of thumb are no reason to build a longer one.
    """
    return appliance.runs_from_v.basis is not Basis.ASSUMED or appliance.heat.regulator is not None


def _open(columns: _Columns) -> NDArray[np.bool_]:
    """Paths that may run, among those that leave least harm open."""
    open_ = columns.misbehaves_unproven & ~columns.fails
    least = columns.harm_unproven[open_].min(initial=np.iinfo(np.int64).max)
    found: NDArray[np.bool_] = open_ & (columns.harm_unproven == least)
    return found


def _of_parts(of: Callable[[tuple[Part, ...]], int], pool: Pool) -> Indices:
    """A sum over the parts of each path."""
    heads = np.array([of(head.parts) for head in pool.heads], dtype=np.intp)
    ends = np.array([of(end) for end in pool.ends], dtype=np.intp)
    found: Indices = heads[pool.head] + ends[pool.end]
    return found


def _cents(parts: tuple[Part, ...]) -> int:
    return sum(
        UNKNOWN_PRICE_CENTS if p.price_cents is None else p.price_cents
        for p in parts
        if p.owned == 0
    )


def _converters(pool: Pool) -> tuple[tuple[Converter | None, ...], Indices]:
    """The converters, and which of them each path has; none is one of them."""
    in_heads = [head.converter for head in pool.heads]
    in_ends = [next((c for p in end if (c := p.converter)), None) for end in pool.ends]
    found, at = same((*in_heads, *in_ends))
    of_head, of_end = at[: len(in_heads)][pool.head], at[len(in_heads) :][pool.end]
    in_head = np.array([c is not None for c in in_heads], dtype=bool)[pool.head]
    return found, np.where(in_head, of_head, of_end)


def _risks(judged: Judged, converters: Sequence[Converter | None], converter: Indices) -> Indices:
    """How many residual risks stay on each path: asked once of each sort of chain."""
    pool = judged.pool
    triggers, trigger = same(head.trigger for head in pool.heads)
    fused = _of_parts(lambda parts: sum(p.fuse is not None for p in parts), pool) > 0
    rails = _of_parts(lambda parts: sum(p.rails_converter is not None for p in parts), pool) > 0
    converts = np.array([c is not None for c in converters], dtype=bool)[converter]
    shorts = converts & (judged.codes[ROW_OF["single-fault"]] != Verdict.FITS)
    sort = trigger[pool.head] * len(converters) + converter
    first, at = firsts(((sort * 2 + fused) * 2 + rails) * 2 + shorts)
    traits = zip(
        trigger[pool.head[first]].tolist(),
        converter[first].tolist(),
        fused[first].tolist(),
        shorts[first].tolist(),
        rails[first].tolist(),
        strict=True,
    )
    counts = [len(risks_of(triggers[t], converters[c], *rest)) for t, c, *rest in traits]
    found: Indices = np.array(counts, dtype=np.intp)[at]
    return found


def _names(pool: Pool) -> list[str]:
    """The `id` of the front of each path."""
    heads = [head.id for head in pool.heads]
    ends = ["".join(f", {step(part)}" for part in end) for end in pool.ends]
    pairs = zip(pool.head.tolist(), pool.end.tolist(), strict=True)
    # In every company a chain has the same: kept once, for there are many.
    shared: dict[str, str] = {}
    names = (heads[head] + ends[end] for head, end in pairs)
    return [shared.setdefault(name, name) for name in names]
