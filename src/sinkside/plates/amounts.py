"""Figures on a plate: ranges, alternatives, decimal commas and thousands."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from sinkside.plates.items import Amount, Mark, Quantity
from sinkside.plates.lexemes import Lexeme, may_be_thousands

_JOINS = {"RANGE", "CHOICE", "SUM"}
_FRACTIONS = {(1.0, 2.0), (1.0, 4.0), (3.0, 4.0)}


@dataclass(frozen=True, kw_only=True, slots=True)
class Chain:
    """Numbers in a row that share one unit, as printed."""

    amounts: tuple[Amount, ...]
    notes: tuple[str, ...]
    thousands: str
    start: int
    end: int


def chain(pieces: Sequence[Lexeme]) -> Chain:
    """Read numbers that are joined by range signs and slashes.

    Parameters
    ----------
    pieces
        Numbers with `RANGE` or `CHOICE` between them; `BIPOLAR` may stand first.

    Notes
    -----
    Two numbers with a range sign are a range, more than two are alternatives, as on a plug-in
    supply with a switch: `3-6-9-12 V`. A zero in the middle is a winding with a centre tap.
    """
    groups: list[list[Lexeme]] = [[]]
    for piece in pieces:
        if piece.kind == "CHOICE":
            groups.append([])
        elif piece.kind not in {"RANGE", "BIPOLAR"}:
            groups[-1].append(piece)
    # Three or more numbers with slashes are a list, however they are spaced.
    listed = len(groups) > 2
    notes = [p.note for p in pieces if p.note and not (listed and p.kind == "CHOICE")]
    amounts: list[Amount] = []
    for group in groups:
        amounts.extend(_group(group, notes))
    if len(groups) == 2 and (amounts[0].high, amounts[-1].low) in _FRACTIONS:
        notes.append("a fraction, or two values")
    if len(groups) > 1 and any(len(group) > 1 for group in groups):
        notes.append("ranges and alternatives in one figure")
    if pieces[0].kind == "BIPOLAR":
        amounts.extend([replace(a, low=-a.high, high=-a.low) for a in amounts])
    unsure = [piece.text for piece in pieces if may_be_thousands(piece)]
    return Chain(
        amounts=tuple(amounts),
        notes=tuple(notes),
        thousands=unsure[0] if unsure else "",
        start=pieces[0].start,
        end=pieces[-1].end,
    )


def _group(numbers: Sequence[Lexeme], notes: list[str]) -> list[Amount]:
    """The amounts of numbers with range signs between them."""
    values = [float(number.value) for number in numbers]
    first = numbers[0].start
    if len(values) == 2 and values[0] != values[1]:
        return [Amount(low=min(values), high=max(values), start=first)]
    if len(values) > 2 and 0.0 in values[1:-1]:
        notes.append("a winding with a centre tap")
        return [Amount(low=values[0], high=values[0], start=first)]
    if len(values) == 2:
        notes.append("the same value twice")
    singles = numbers[:1] if len(values) == 2 else numbers
    return [Amount(low=float(n.value), high=float(n.value), start=n.start) for n in singles]


def quantity(chains: Sequence[Chain], signs: Sequence[Lexeme], marks: Sequence[Mark]) -> Quantity:
    """Put numbers and units together.

    Parameters
    ----------
    chains
        One chain, or several with a unit each.
    signs
        The units, and the signs between one unit and the next number.
    marks
        Signs for the kind of current directly behind a voltage.
    """
    units = [sign for sign in signs if sign.kind not in _JOINS]
    joins = [sign.kind for sign in signs if sign.kind in _JOINS]
    notes = [note for part in chains for note in part.notes]
    notes.extend(sign.note for sign in signs if sign.note and sign.kind in _JOINS)
    amounts: list[Amount] = []
    for part, unit, join in zip(chains, units, ["", *joins], strict=True):
        worth = float(unit.value)
        if part.thousands and not _surely_decimal(part.thousands, unit):
            notes.append(f"the mark in '{part.thousands}' may part decimals or thousands")
            # Nobody prints 1.5 mA on a plate, nor 1500 V on a low-voltage one.
            worth *= 1000.0 if worth == 1e-3 else 1.0
        scaled = [replace(a, low=_si(a.low, worth), high=_si(a.high, worth)) for a in part.amounts]
        if join == "RANGE":
            before = amounts.pop()
            low, high = sorted((before.low, scaled.pop(0).high))
            amounts.append(replace(before, low=low, high=high))
        amounts.extend(scaled)
    ends = [unit.end for unit in units] + [mark.end for mark in marks]
    return Quantity(
        unit=units[0].kind,
        amounts=tuple(amounts),
        marks=tuple(marks),
        notes=tuple(dict.fromkeys(notes)),
        apparent=any(unit.note == "apparent" for unit in units),
        summed="SUM" in joins,
        start=chains[0].start,
        end=max(ends),
    )


def _surely_decimal(number: str, unit: Lexeme) -> bool:
    """Whether a point with three digits can only be a decimal point: `1.500 A`, `12.000 V`."""
    return "." in number and unit.value == 1.0 and unit.kind in {"V", "A"}


def _si(value: float, worth: float) -> float:
    """A figure in SI units, without the dust of the multiplication: 300 mA is 0.3 A."""
    return float(f"{value * worth:.12g}")
