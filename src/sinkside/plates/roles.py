"""Which figures are peaks, maxima and totals, and which are no ratings at all."""

from collections.abc import Sequence

from sinkside.plates.items import Item, Mark, Ports, Quantity, Word

_SKIPPED = {"NAME", "FILLER", "COLON", "EQ", "DOT", "MAX"}
_NUMBERS = {"MULTIPLE", "NUMBER", "NOISE"}

type_of_roles = list[set[str]]


def roles(items: Sequence[Item]) -> type_of_roles:
    """The roles that words give to the figures beside them.

    Parameters
    ----------
    items
        The items of a plate.

    Returns
    -------
    list of set
        For each item the kinds of the words that speak of it: `PEAK`, `MAX`, `TOTAL`, `ASIDE`,
        `FUSE`, `CELL`; empty for most.
    """
    found: type_of_roles = [set() for _ in items]
    for index, item in enumerate(items):
        if isinstance(item, Word) and item.kind in _RULES:
            _RULES[item.kind](items, index, found)
    return found


def _quantity(items: Sequence[Item], index: int | None, units: str) -> bool:
    item = items[index] if index is not None else None
    return isinstance(item, Quantity) and item.unit in tuple(units)


def _unit(item: Item) -> str:
    return item.unit if isinstance(item, Quantity) else ""


def _ahead(items: Sequence[Item], index: int, skipped: set[str]) -> int | None:
    """The next item that is not skipped, on the same line."""
    for at in range(index + 1, min(len(items), index + 8)):
        item = items[at]
        if not (isinstance(item, Word) and item.kind in skipped):
            return at
    return None


def _behind(items: Sequence[Item], index: int) -> int | None:
    """The item before, leaving out a word such as "max"."""
    for at in range(index - 1, max(-1, index - 4), -1):
        item = items[at]
        if not (isinstance(item, Word) and item.kind in {"MAX", "NAME"}):
            return at
    return None


def _peak(items: Sequence[Item], index: int, found: type_of_roles) -> None:
    """`peak 3A`, `3A peak`, `2A (peak: 3A)`; between two figures the larger is the peak.

    Notes
    -----
    Between figures of two kinds it speaks of the one before, `3A peak 24W`, unless a colon leads
    to the other.
    """
    after, before = _ahead(items, index, _SKIPPED | {"LPAR"}), _behind(items, index)
    candidates = [at for at in (before, after) if at is not None and _quantity(items, at, "AW")]
    if len({_unit(items[at]) for at in candidates}) == 2:
        sign = items[index + 1]
        leads = isinstance(sign, Word) and sign.kind in {"COLON", "EQ"}
        candidates = candidates[1:] if leads else candidates[:1]
    if candidates:
        # Of equal figures the one behind the word.
        largest = max(candidates, key=lambda at: (_highest(items[at]), at))
        found[largest].add("PEAK")


def _highest(item: Item) -> float:
    return max(a.high for a in item.amounts) if isinstance(item, Quantity) else 0.0


def _max(items: Sequence[Item], index: int, found: type_of_roles) -> None:
    """`18 W max` looks just back, `max. power: 18 W` ahead, `18 W power max` back.

    Notes
    -----
    Between amperes and watts it may speak of either: `20V 2.25A max 45W`.
    """
    after = _ahead(items, index, _SKIPPED | {"LPAR"})
    for at in (index - 1 if index else None, after, _behind(items, index)):
        if at is not None and _quantity(items, at, "AW"):
            found[at].add("MAX")
            if after is not None and _unit(items[at]) == "A" and _quantity(items, after, "W"):
                found[after].add("MAX")
            return


def _total(items: Sequence[Item], index: int, found: type_of_roles) -> None:
    """`total output power: 65 W` looks far ahead, `65 W total` just back."""
    for at in range(index + 1, min(len(items), index + 10)):
        item = items[at]
        if isinstance(item, Quantity):
            if item.unit == "W":
                found[at].add("TOTAL")
                return
            break
        if isinstance(item, Ports | Mark) or (isinstance(item, Word) and item.kind == "NL"):
            break
    before = _behind(items, index)
    if before is not None and _quantity(items, before, "W"):
        found[before].add("TOTAL")


def _aside(items: Sequence[Item], index: int, found: type_of_roles) -> None:
    after, before = _ahead(items, index, _SKIPPED), _behind(items, index)
    for at in (after, before):
        if at is not None and isinstance(items[at], Quantity):
            if _quantity(items, at, "VAW"):
                found[at].add("ASIDE")
            return


def _fuse(items: Sequence[Item], index: int, found: type_of_roles) -> None:
    """`FUSE: T2A 250V`: current and voltage behind the word, or the current before it."""
    at = _ahead(items, index, _SKIPPED | {"SLASH", "LPAR", "FUSE"} | _NUMBERS)
    if at is None or not _quantity(items, at, "VA"):
        before = _behind(items, index)
        if before is not None and _quantity(items, before, "A"):
            found[before].add("ASIDE")
        return
    units = {"V", "A"}
    while at is not None and _quantity(items, at, "".join(units)) and not found[at]:
        found[at].add("FUSE")
        units -= {_unit(items[at])}
        at = _ahead(items, at, {"SLASH", "AT", "COMMA"})


def _cell(items: Sequence[Item], index: int, found: type_of_roles) -> None:
    """`Batteries: 4 x 1.5V AA`, `9V battery`, but not `6V (4 x AA)`."""
    after = _ahead(items, index, _SKIPPED | _NUMBERS | {"CELL", "LPAR"})
    if after is not None and _quantity(items, after, "V"):
        found[after].add("CELL")
        return
    before = _behind(items, index)
    if before is not None and _is_bracket(items[before]) and _many(items, before - 1):
        before -= 1
    if before is not None and _quantity(items, before, "V"):
        found[before].add("CELL")


def _is_bracket(item: Item) -> bool:
    return isinstance(item, Word) and item.kind == "LPAR"


def _many(items: Sequence[Item], index: int) -> bool:
    """Whether a figure is one of several, as cells are: `4 x 1.5V (R14)`."""
    before = items[index - 1] if index > 0 else None
    return isinstance(before, Word) and before.kind == "MULTIPLE"


_RULES = {
    "PEAK": _peak,
    "MAX": _max,
    "TOTAL": _total,
    "ASIDE": _aside,
    "FUSE": _fuse,
    "CELL": _cell,
}
