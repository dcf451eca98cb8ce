"""The question of keeping plugs apart, as plain data: ends, what may be done, what would harm."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.mating import fit
from sinkside.mixups.outcome import SourceKind
from sinkside.parts.part import Centre
from sinkside.rules.verdict import Verdict
from sinkside.standards.barrel import Fit

Parts: TypeAlias = tuple[tuple[str, int], ...]


@dataclass(frozen=True, kw_only=True)
class EndOf:
    """What a lead ends in, or what an inlet takes.

    Parameters
    ----------
    plug
        By name.
    centre
        The pole in the centre; None where nobody knows, or where the form fixes the poles.
    fixed_poles
        Whether the form fixes the poles, by a convention that both sides keep.
    """

    plug: str
    centre: Centre | None = None
    fixed_poles: bool = False


@dataclass(frozen=True, kw_only=True)
class Choice:
    """One way to end a lead and its device's inlet.

    Parameters
    ----------
    parts
        What it takes, by id; less than nothing where it frees some.
    words
        What to do, for people; empty where all stays as it is.
    """

    lead: EndOf
    inlet: EndOf
    parts: Parts = ()
    joints: int = 0
    words: tuple[str, ...] = ()

    @property
    def changes(self) -> bool:
        """Whether anything is changed."""
        return bool(self.words)


@dataclass(frozen=True, kw_only=True)
class LeadEnd:
    """A lead that ends in a plug.

    Parameters
    ----------
    device, source
        Whose it is, and whether it is the new lead or the old brick's.
    end
        What it ends in as it is.
    poles_known
        Whether the pole in its centre is certain.
    alternating
        Whether it brings a.c., which has no poles.
    tie
        The part that keeps it at its device, or shut away; empty where it cannot be.
    stored
        Whether it lies in a box, so that it is shut away and not tied.
    """

    device: str
    source: SourceKind = "lead"
    end: EndOf
    poles_known: bool = True
    alternating: bool = False
    tie: str = ""
    stored: bool = False


@dataclass(frozen=True, kw_only=True)
class InletEnd:
    """An inlet.

    Parameters
    ----------
    choices
        What may be done, the first of it nothing; a new lead of this device follows it.
    witnesses
        The poles that somebody has seen in its centre.
    settled
        Whether two objects agree on them.
    either
        Whether either polarity will do.
    """

    device: str
    choices: tuple[Choice, ...]
    witnesses: frozenset[Centre] = frozenset()
    settled: bool = True
    either: bool = False


@dataclass(frozen=True, kw_only=True)
class Question:
    """All that the separation needs to know.

    Parameters
    ----------
    harm
        What each lead does in each inlet if it goes on, polarity left aside, shape
        (leads, inlets).
    prices
        Of each part, in cents.
    planned, owned
        How many of each part the plan uses already, and how many there are.
    budget
        Most that may be spent on this, in cents; None without limit.
    """

    leads: tuple[LeadEnd, ...]
    inlets: tuple[InletEnd, ...]
    harm: NDArray[np.int8]
    prices: Mapping[str, int]
    planned: Mapping[str, int] = field(default_factory=dict)
    owned: Mapping[str, int] = field(default_factory=dict)
    budget: int | None = None

    def verdict(self, lead: int, at: EndOf, inlet: int, into: EndOf) -> Verdict:
        """What a lead with one end does in an inlet with another; `FITS` if it does not go on."""
        if fit(at.plug, into.plug) is Fit.DOES_NOT_GO_ON:
            return Verdict.FITS
        poles = _poles(self.leads[lead], at, self.inlets[inlet], into)
        return max(Verdict(int(self.harm[lead, inlet])), poles)


def _poles(lead: LeadEnd, at: EndOf, inlet: InletEnd, into: EndOf) -> Verdict:
    """Whether the poles agree."""
    if lead.alternating or inlet.either:
        return Verdict.FITS
    as_it_is = into == inlet.choices[0].inlet
    if at.fixed_poles and into.fixed_poles:
        # A socket that was wired to the device is right as far as its poles were known.
        return Verdict.FITS if as_it_is or inlet.settled else Verdict.UNPROVEN
    if at.centre is None:
        return Verdict.UNPROVEN
    known = lead.poles_known and inlet.settled
    if as_it_is:
        if any(centre != at.centre for centre in inlet.witnesses):
            return Verdict.FAILS
        return Verdict.FITS if known and inlet.witnesses else Verdict.UNPROVEN
    if into.centre is not None and into.centre != at.centre:
        return Verdict.FAILS
    return Verdict.FITS if known and into.centre is not None else Verdict.UNPROVEN
