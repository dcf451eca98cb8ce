"""Which path of a device is the better one: one key, from the gravest to the slightest."""

from typing import NamedTuple

from sinkside.paths.findings import residual_risks, runs_plausibly
from sinkside.paths.judge import Judged
from sinkside.paths.rows import Path
from sinkside.quantity import Basis
from sinkside.rules.verdict import Stakes, Verdict
from sinkside.site.appliance import Appliance


class Key(NamedTuple):
    """The order of preference; smaller is better, field by field.

    Parameters
    ----------
    fails
        Whether anything that counts fails.
    harm_unproven
        How many rules leave harm, or loss of data or work, open.
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


def cents(path: Path) -> int:
    """What of a path is to be bought."""
    return sum(
        UNKNOWN_PRICE_CENTS if p.price_cents is None else p.price_cents
        for p in path.front.parts
        if p.owned == 0
    )


def keys(judged: Judged) -> list[Key]:
    """The key of each path of one device."""
    fails = judged.worst(Stakes.HARM, Stakes.LOSS, Stakes.MISBEHAVES) == Verdict.FAILS
    harm = judged.unproven(Stakes.HARM, Stakes.LOSS)
    misbehaves = judged.unproven(Stakes.MISBEHAVES) > 0
    found = [
        Key(
            fails=bool(fails[i]),
            harm_unproven=int(harm[i]),
            misbehaves_unproven=bool(misbehaves[i]),
            implausible=UNLIKELY if misbehaves[i] else LIKELY,
            irreversible=0,
            risks=len(residual_risks(judged, i)),
            volts=path.front.trigger.asks_v + _set_volts(path) / 1000,
            stages=len(path.front.parts),
            cents=cents(path),
            id=path.front.id,
        )
        for i, path in enumerate(judged.paths)
    ]
    bands: dict[tuple[float, bool], int] = {}
    if judged.paths and not knows_window(judged.paths[0].appliance):
        return [key._replace(implausible=LIKELY) for key in found]
    for i in sorted(_open_paths(found), key=found.__getitem__):
        feed = _feed(judged.paths[i])
        if feed not in bands:
            bands[feed] = _band(runs_plausibly(judged, i))
        found[i] = found[i]._replace(implausible=bands[feed])
    return found


def knows_window(appliance: Appliance) -> bool:
    """Whether more is known of what a device runs from than a rule of thumb on its plate.

    Where it is not, the plain chain at plate volts is the one to try: odds drawn from a rule
    of thumb are no reason to build a longer one.
    """
    return appliance.runs_from_v.basis is not Basis.ASSUMED or appliance.heat.regulator is not None


def _set_volts(path: Path) -> float:
    converter = path.front.converter
    return converter.gives_v.value if converter else 0.0


def _open_paths(found: list[Key]) -> list[int]:
    """Paths that may run, among those that leave least harm open."""
    open_ = [i for i, key in enumerate(found) if key.misbehaves_unproven and not key.fails]
    least = min((found[i].harm_unproven for i in open_), default=0)
    return [i for i in open_ if found[i].harm_unproven == least]


def _feed(path: Path) -> tuple[float, bool]:
    """What the device is fed: paths that feed the same are as plausible as each other.

    They differ in milliohms only, which is nothing beside what is not known of the device.
    """
    converter = path.front.converter
    volts = converter.gives_v.value if converter else path.front.trigger.asks_v
    return volts, converter is not None


def _band(tenths: int) -> int:
    return LIKELY if tenths >= 3 else UNLIKELY
