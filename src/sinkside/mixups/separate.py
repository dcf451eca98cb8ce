"""The cheapest way to let no harmful plug go into any inlet, proven.

For each device one of several choices: as it is, or its lead and its inlet changed to another
plug. For each lead a tie to its device, so that it cannot be plugged elsewhere. Integer
programming: what is changed must still mate with its own, what would harm must not mate.
"""

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from sinkside.mixups.ends import Choice, EndOf, LeadEnd, Parts, Question
from sinkside.mixups.outcome import SourceKind
from sinkside.mixups.proven import INFINITE, Level, Model
from sinkside.rules.verdict import Verdict

LEFT = (
    ("sure", "pairs that harm and are left"),
    ("may", "pairs that may harm and are left"),
)
COST = (("cents", "cents"), ("joints", "joints"))


@dataclass(frozen=True, kw_only=True)
class Left:
    """A pair that stays harmful."""

    lead: str
    source: SourceKind
    inlet: str
    verdict: Verdict


@dataclass(frozen=True, kw_only=True)
class Separation:
    """What to do, and what is left.

    Parameters
    ----------
    chosen
        The device and the choice, of all that are changed.
    tied
        The leads that are tied or shut away: device, and whose lead it is.
    stored
        Those of them that are shut away.
    bought
        How many of each part are to be bought for this; less than nothing where some of the
        plan's are no longer wanted.
    cents
        What that costs.
    """

    chosen: tuple[tuple[str, Choice], ...]
    tied: tuple[tuple[str, SourceKind], ...]
    stored: frozenset[tuple[str, SourceKind]]
    left: tuple[Left, ...]
    bought: Parts
    cents: int
    joints: int
    levels: tuple[Level, ...]

    @property
    def proven(self) -> bool:
        """Whether every level is proven best."""
        return all(level.proven for level in self.levels)


def separate(question: Question) -> Separation:
    """The least change after which no harmful plug goes in; what cannot be helped is told.

    Returns
    -------
    Separation
        The same for the same question.

    Notes
    -----
    First it is asked whether every pair that anything can be done about can be kept apart, which
    is soon told; only where that cannot be is every pair weighed against the others.
    """
    hard = _Separating(question, soft=False)
    found = hard.model.solve(COST)
    if found is not None:
        return hard.told(*found)
    soft = _Separating(question, soft=True)
    found = soft.model.solve((*LEFT, *COST))
    if found is None:
        raise ValueError("to change nothing is a solution")
    return soft.told(*found)


class _Separating:
    """The question as a model of whole numbers.

    Parameters
    ----------
    soft
        Whether a pair may be left, at a cost.
    """

    def __init__(self, question: Question, *, soft: bool) -> None:
        self.question = question
        self.soft = soft
        self.model = Model()
        self.uses: dict[str, dict[int, int]] = defaultdict(dict)
        self.places = {inlet.device: k for k, inlet in enumerate(question.inlets)}
        self.chosen = [
            [
                self._uses(self.model.column(1, {"joints": choice.joints}), choice.parts)
                for choice in inlet.choices
            ]
            for inlet in question.inlets
        ]
        for columns in self.chosen:
            self.model.row(1.0, 1.0, dict.fromkeys(columns, 1.0))
        self.tied = {
            i: self._uses(self.model.column(1), ((lead.tie, 1),))
            for i, lead in enumerate(question.leads)
            if lead.tie
        }
        self.left: dict[tuple[int, int, Verdict], int] = {}
        for i, k in self._pairs():
            self._keep_apart(i, k)
        self._money()

    def _uses(self, column: int, parts: Parts) -> int:
        for part, count in parts:
            self.uses[part][column] = self.uses[part].get(column, 0) + count
        return column

    def _pairs(self) -> Iterator[tuple[int, int]]:
        """Leads and inlets of other devices."""
        for i, lead in enumerate(self.question.leads):
            for k, inlet in enumerate(self.question.inlets):
                if lead.device != inlet.device:
                    yield i, k

    def _place(self, lead: LeadEnd) -> int | None:
        """The inlet whose choice a lead follows; None where it never changes."""
        return self.places.get(lead.device) if lead.source == "lead" else None

    def _keep_apart(self, i: int, k: int) -> None:
        """The ends of a lead that would harm in an inlet and those of the inlet: not both.

        Ends that are alike stand in one row: fewer rows, and closer to whole numbers.
        """
        lead = self.question.leads[i]
        place = self._place(lead)
        into: dict[EndOf, list[int]] = defaultdict(list)
        for choice, x in zip(self.question.inlets[k].choices, self.chosen[k], strict=True):
            into[choice.inlet].append(x)
        for end, columns in into.items():
            if place is None:
                verdict = self.question.verdict(i, lead.end, k, end)
                if verdict is not Verdict.FITS:
                    self._row(i, k, verdict, columns, most=0)
                continue
            harming: dict[Verdict, list[int]] = {Verdict.FAILS: [], Verdict.UNPROVEN: []}
            choices = self.question.inlets[place].choices
            for choice, x in zip(choices, self.chosen[place], strict=True):
                verdict = self.question.verdict(i, choice.lead, k, end)
                if verdict is not Verdict.FITS:
                    harming[verdict].append(x)
            for verdict, found in harming.items():
                if found:
                    self._row(i, k, verdict, [*found, *columns], most=1)

    def _row(self, i: int, k: int, verdict: Verdict, columns: list[int], *, most: int) -> None:
        entries = dict.fromkeys(columns, 1.0)
        if i in self.tied:
            entries[self.tied[i]] = -1.0
        elif most == 0 and len(columns) == len(self.question.inlets[k].choices):
            return  # nothing can be done about it: it is left whatever is chosen
        if self.soft:
            key = (i, k, verdict)
            if key not in self.left:
                level = "sure" if verdict is Verdict.FAILS else "may"
                self.left[key] = self.model.column(1, {level: 1})
            entries[self.left[key]] = -1.0
        self.model.row(-INFINITE, float(most), entries)

    def _money(self) -> None:
        """What is to be bought of each part, over what the plan buys already."""
        spent: dict[int, float] = {}
        for part, columns in sorted(self.uses.items()):
            owned = self.question.owned.get(part, 0)
            planned = self.question.planned.get(part, 0)
            most = sum(max(0, n) for n in columns.values()) + planned
            price = self.question.prices[part]
            buy = self.model.column(most, {"cents": price})
            # bought ≥ planned + used − owned
            row = {x: -float(n) for x, n in columns.items()} | {buy: 1.0}
            self.model.row(float(planned - owned), INFINITE, row)
            spent[buy] = float(price)
        if self.question.budget is not None and spent:
            limit = float(max(0, self.question.budget) + self._spent_before())
            self.model.row(-INFINITE, limit, spent)

    def _spent_before(self) -> int:
        """What the plan spends on the parts that are looked at, in cents."""
        return sum(self._bought_before(part) * self.question.prices[part] for part in self.uses)

    def _bought_before(self, part: str) -> int:
        planned, owned = self.question.planned, self.question.owned
        return max(0, planned.get(part, 0) - owned.get(part, 0))

    def _bought(self, part: str, used: int) -> int:
        """How many more than the plan buys."""
        planned, owned = self.question.planned.get(part, 0), self.question.owned.get(part, 0)
        return max(0, planned + used - owned) - self._bought_before(part)

    def told(self, values: NDArray[np.int64], levels: tuple[Level, ...]) -> Separation:
        """What the columns mean."""
        picked = [
            inlet.choices[next(n for n, x in enumerate(columns) if values[x])]
            for inlet, columns in zip(self.question.inlets, self.chosen, strict=True)
        ]
        tied = {i for i, x in self.tied.items() if values[x]}
        used = {p: sum(int(values[x]) * n for x, n in c.items()) for p, c in self.uses.items()}
        bought = {p: self._bought(p, n) for p, n in used.items()}
        left = tuple(self._left(picked, tied))
        sure = sum(pair.verdict is Verdict.FAILS for pair in left)
        cents = sum(self.question.prices[p] * n for p, n in bought.items())
        joints = sum(choice.joints for choice in picked)
        proven = all(level.proven for level in levels)
        counted = (sure, len(left) - sure, cents, joints)
        return Separation(
            chosen=tuple(
                (inlet.device, choice)
                for inlet, choice in zip(self.question.inlets, picked, strict=True)
                if choice.changes
            ),
            tied=tuple(
                (lead.device, lead.source)
                for i, lead in enumerate(self.question.leads)
                if i in tied
            ),
            stored=frozenset(
                (lead.device, lead.source)
                for i, lead in enumerate(self.question.leads)
                if i in tied and lead.stored
            ),
            left=left,
            bought=tuple(sorted((p, n) for p, n in bought.items() if n)),
            cents=cents,
            joints=joints,
            levels=tuple(
                Level(name=name, value=value, proven=proven)
                for (_, name), value in zip((*LEFT, *COST), counted, strict=True)
            ),
        )

    def _left(self, picked: list[Choice], tied: set[int]) -> Iterator[Left]:
        """The pairs that still harm, from the choices alone."""
        for i, k in self._pairs():
            lead, inlet = self.question.leads[i], self.question.inlets[k]
            place = self._place(lead)
            end = lead.end if place is None else picked[place].lead
            verdict = self.question.verdict(i, end, k, picked[k].inlet)
            if i not in tied and verdict is not Verdict.FITS:
                yield Left(
                    lead=lead.device, source=lead.source, inlet=inlet.device, verdict=verdict
                )
