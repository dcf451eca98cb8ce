"""What happens when the plug of an old brick is pushed into another device.

By the rules of the rule table; the figures of the brick are in `brick_figures`. Unknown is never
harmless: a brick of which nothing is said may harm whatever it goes into.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from sinkside.mixups.brick_figures import Array, Inlets, Mask, Symbols, at_inlets
from sinkside.mixups.mating import barrel, fit
from sinkside.mixups.old_brick import OldBrick
from sinkside.mixups.outcome import Cell, Outcome
from sinkside.mixups.picking import Codes, Picked, pick
from sinkside.paths.judge import RULES_BY_ID
from sinkside.rules.symbols import SYMBOLS
from sinkside.rules.verdict import TOUCH, Verdict, decide
from sinkside.site.appliance import Appliance
from sinkside.site.prints import USB_PLUGS
from sinkside.standards.barrel import Fit
from sinkside.working import Symbol, Working, evaluate, names

# Plates that differ by less name the same volts.
SAME_PLATE = 0.05


@dataclass(frozen=True, kw_only=True)
class BrickMet:
    """One brick at every inlet, judged as if its plug went into each.

    Parameters
    ----------
    top_v
        The highest volts that it brings: r.m.s. by the plates where both are a.c.
    states
        When it brings them, for people.
    """

    picked: Picked
    top_v: tuple[float, ...]
    states: tuple[str, ...]


def brick_matrix(bricks: Sequence[OldBrick], inlets: Sequence[Appliance]) -> tuple[Cell, ...]:
    """Every old brick in every inlet.

    Parameters
    ----------
    bricks
        Those that are there.
    inlets
        All devices.
    """
    figures = Inlets.of(inlets)
    return tuple(
        cell for brick in bricks for cell in _row(brick, inlets, meet_brick(brick, inlets, figures))
    )


def _row(brick: OldBrick, inlets: Sequence[Appliance], met: BrickMet) -> list[Cell]:
    cells = []
    for k, inlet in enumerate(inlets):
        found = fit(brick.plug, inlet.plug)
        itself = brick.own and brick.device == inlet.id
        goes = found is not Fit.DOES_NOT_GO_ON
        outcome = met.picked.outcomes[k] if goes else Outcome.NO_FIT
        cells.append(
            Cell(
                lead=brick.device,
                inlet=inlet.id,
                source="brick",
                # It has run on it for years.
                outcome=Outcome.OWN if itself else outcome,
                loose=found is Fit.LOOSE,
                own=brick.device == inlet.id,
                sure=itself or not goes or met.picked.sure[k],
                rule="" if itself else met.picked.rules[k] if goes else "plug",
                state=met.states[k] if goes else "",
                top_v=met.top_v[k] if goes else None,
                harmed_above_v=(inlet.harmed_above_v.low, inlet.harmed_above_v.high)
                if goes
                else None,
            )
        )
    return cells


def meet_brick(brick: OldBrick, inlets: Sequence[Appliance], figures: Inlets) -> BrickMet:
    """One brick at every inlet, judged as if its plug went into each."""
    symbols = at_inlets(brick, figures).symbols(figures)
    codes = {rule: _codes(rule, found) for rule, found in symbols.items()}
    codes["lived-heat"] = _lived_heat(codes["lived-heat"], figures)
    codes["alternating-current"] = _of_each(inlets, lambda a: alternating_current(brick, a))
    codes["direct-current"] = _of_each(inlets, lambda a: direct_current(brick, a))
    codes["polarity"] = _of_each(inlets, lambda a: polarity(brick, a))
    codes["under-volts"] = np.where(
        _same_plate(brick, figures), Verdict.FITS, codes["under-volts"]
    ).astype(np.int8)
    refused = np.array([_refused(brick, a) for a in inlets], dtype=bool)
    top = tuple(round(float(v), 9) for v in symbols["over-volts"]["V_feed_high"][:, 0])
    by_plates = figures.takes_ac & (brick.kind == "ac")
    states = tuple("by the plates" if plates else "no load" for plates in by_plates.tolist())
    return BrickMet(picked=pick(codes, refused), top_v=top, states=states)


def _codes(rule: str, symbols: Symbols) -> Codes:
    margin = evaluate(RULES_BY_ID[rule].formula, symbols)
    return decide(margin[:, 0], margin[:, 1])


def _lived_heat(codes: Codes, figures: Inlets) -> Codes:
    """A load of constant power burns no more at more volts: where it may be one, that is open."""
    power = figures.laws["constant power"]
    others = [mask for law, mask in figures.laws.items() if law != "constant power"]
    only = power & ~np.any(others, axis=0)
    open_ = np.where(power & (codes == Verdict.FAILS), Verdict.UNPROVEN, codes)
    return np.where(only, Verdict.FITS, open_).astype(np.int8)


def _of_each(inlets: Sequence[Appliance], of: Callable[[Appliance], Verdict]) -> Codes:
    return np.array([of(inlet) for inlet in inlets], dtype=np.int8)


def alternating_current(brick: OldBrick, inlet: Appliance) -> Verdict:
    """Whether a.c. may come into an inlet that is not made for it.

    Behind a confirmed full bridge it may come.
    """
    if brick.kind == "dc" or inlet.kind in ("ac", "either"):
        return Verdict.FITS
    certain = brick.kind == "ac" and inlet.kind == "dc"
    return Verdict.FAILS if certain else Verdict.UNPROVEN


def direct_current(brick: OldBrick, inlet: Appliance) -> Verdict:
    """Whether d.c. may come into an inlet that is made for a.c."""
    if brick.kind == "ac" or inlet.kind in ("dc", "either"):
        return Verdict.FITS
    certain = brick.kind == "dc" and inlet.kind == "ac"
    return Verdict.FAILS if certain else Verdict.UNPROVEN


def polarity(brick: OldBrick, inlet: Appliance) -> Verdict:
    """Two witnesses of the inlet that agree with a plug of which more than a print is known.

    A.c. has no poles, and behind a confirmed bridge either way round will do.
    """
    if brick.kind == "ac" or inlet.kind in ("ac", "either") or brick.plug in USB_PLUGS:
        return Verdict.FITS
    if brick.centre is None or barrel(brick.plug) is None:
        return Verdict.UNPROVEN
    if any(e.centre != brick.centre for e in inlet.evidence):
        return Verdict.FAILS
    two = len({e.observed for e in inlet.evidence}) >= 2
    return Verdict.FITS if two and brick.centre_is_sure else Verdict.UNPROVEN


def _same_plate(brick: OldBrick, figures: Inlets) -> Mask:
    """Whether an a.c. brick has the a.c. volts of a device's plate on its own: then it runs."""
    if brick.kind != "ac" or brick.plate_v is None:
        return np.zeros_like(figures.takes_ac)
    low, high = brick.plate_v
    with np.errstate(invalid="ignore"):
        near = (low >= (1 - SAME_PLATE) * figures.plate_v) & (
            high <= (1 + SAME_PLATE) * figures.plate_v
        )
    return figures.takes_ac & near


def _refused(brick: OldBrick, inlet: Appliance) -> bool:
    """Whether an inlet is refused for more than that it takes a.c., which this brick gives."""
    allowed = 1 if brick.kind == "ac" and inlet.kind == "ac" else 0
    return len(inlet.refusals) > allowed


def working(brick: OldBrick, inlet: Appliance, rule: str) -> Working:
    """How a margin of a brick at an inlet came about, everything at its bad end.

    Parameters
    ----------
    rule
        One of those that have figures here, by id.

    Raises
    ------
    KeyError
        The rule has none.
    """
    figures = Inlets.of((inlet,))
    symbols = at_inlets(brick, figures).symbols(figures)[rule]
    about = RULES_BY_ID[rule]
    margin = evaluate(about.formula, symbols)
    worst = int(margin[0, 1] < margin[0, 0] - TOUCH)
    return Working(
        formula=about.formula,
        symbols=tuple(_symbol(name, symbols[name][0], worst) for name in names(about.formula)),
        result=float(margin[0, worst]),
        unit=about.unit,
        source=about.source,
    )


def _symbol(name: str, ends: Array, worst: int) -> Symbol:
    kind = SYMBOLS[name]
    return Symbol(
        symbol=name,
        meaning=kind.meaning,
        value=float(ends[worst]),
        low=float(ends.min()),
        high=float(ends.max()),
        unit=kind.unit,
        basis="old brick and device",
    )
