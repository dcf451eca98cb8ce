"""Numbers learn their unit, and dashes, tildes and slashes whether they span a range."""

from collections.abc import Sequence

from sinkside.plates.lexemes import Lexeme

_RATED = {"V", "A", "W", "HZ", "OTHER"}
_SPANS = {"DASH", "TILDE", "OBELUS", "DOTS", "TO", "DASHES"}
_PARTS = {"SLASH", "OR", "COMMA"}
_MAINS_LOW_V, _MAINS_HIGH_V = (85.0, 130.0), (180.0, 300.0)


def linked(pieces: Sequence[Lexeme]) -> list[Lexeme]:
    """Give each number the unit that it ends in, and each sign between numbers its meaning.

    Parameters
    ----------
    pieces
        Pieces with codes set apart.

    Returns
    -------
    list of Lexeme
        Numbers as `V_NUMBER` and so on, `NUMBER` for one without a unit; `RANGE` for a sign that
        spans a range, `CHOICE` for one that parts alternatives.
    """
    row = list(pieces)
    for index in range(len(row) - 1, -1, -1):
        if row[index].kind != "NUMBER":
            continue
        unit = _unit_behind(row, index)
        if unit:
            row[index].kind = f"{unit}_NUMBER"
        elif _leads_thousands(row, index):
            _join_thousands(row, index)
    for index in range(1, len(row) - 1):
        if row[index - 1].kind in _RATED and row[index].kind in _SPANS:
            _link_units(row, index)
        elif row[index].kind in _PARTS and row[index + 1].kind == f"{row[index - 1].kind}_NUMBER":
            _part_units(row, index)
    return [piece for piece in row if piece.kind != "GONE"]


def _leads_thousands(row: list[Lexeme], index: int) -> bool:
    """Whether `1 500 mA` is one number: a space, three digits, milliamperes."""
    number, *after = row[index : index + 3]
    if len(after) < 2 or after[0].kind != "A_NUMBER" or after[1].value != 1e-3:
        return False
    digits = number.text.isdigit() and len(number.text) < 3 and number.text[0] != "0"
    return digits and len(after[0].text) == 3 and 0 < after[0].start - number.end < 4


def _join_thousands(row: list[Lexeme], index: int) -> None:
    number, rest = row[index : index + 2]
    rest.value = float(number.value) * 1000.0 + float(rest.value)
    rest.start, rest.text = number.start, f"{number.text} {rest.text}"
    rest.note = "a space between thousands, or two numbers"
    number.kind = "GONE"


def _unit_behind(row: list[Lexeme], index: int) -> str:
    """The unit of the number at an index; signs on the way to it are given their meaning."""
    after = row[index + 1].kind if index + 1 < len(row) else "NL"
    if after in _RATED:
        return "X" if after == "OTHER" else after
    if index + 2 >= len(row) or not row[index + 2].kind.endswith("_NUMBER"):
        return ""
    if index > 1 and row[index - 1].kind == "TIMES" and row[index - 2].kind == "NUMBER":
        # `5.5x2.1 / 9V` ends the size of a plug.
        return ""
    number, sign, following = row[index : index + 3]
    unit = following.kind.removesuffix("_NUMBER")
    spans = sign.kind in _SPANS or sign.text == "a"
    if spans and not (sign.kind == "DASHES" and sign.text != "--"):
        if unit in {"V", "A"} and _counts_something(row, index):
            following.note = "a range, or the number of an output before its rating"
            return ""
        sign.kind = "RANGE"
        return unit
    if sign.kind == "COMMA" and unit == "V" and _in_a_list(row, index):
        sign.kind = "CHOICE"
        return unit
    if sign.kind == "SLASH":
        spaced = number.end < sign.start and sign.end < following.start
        if spaced and unit != "HZ":
            sign.note = "a list, or one figure with alternatives"
        sign.kind = "CHOICE"
        return unit
    return ""


def _in_a_list(row: list[Lexeme], index: int) -> bool:
    """Whether a number is one of three or more with commas: `3; 4,5; 6; 9 V`."""
    more_behind = index + 3 < len(row) and row[index + 3].kind == "CHOICE"
    more_before = index > 1 and row[index - 1].kind == "COMMA" and row[index - 2].kind == "NUMBER"
    return more_behind or more_before


def _counts_something(row: list[Lexeme], index: int) -> bool:
    """Whether `OUTPUT 1 - 12V` counts the output; a range of volts would start a bit higher."""
    number, sign, following = row[index : index + 3]
    spaced = number.end < sign.start and sign.end < following.start
    digit = len(number.text) == 1 and number.text in "12"
    return spaced and digit and index > 0 and row[index - 1].kind in {"INPUT", "OUTPUT"}


def _link_units(row: list[Lexeme], index: int) -> None:
    """Decide whether a sign between `9V` and `12V` spans a range."""
    unit, sign, number = row[index - 1 : index + 2]
    if number.kind != f"{unit.kind}_NUMBER" or not row[index - 2].kind.endswith("_NUMBER"):
        return
    low, high = float(row[index - 2].value), float(number.value)
    left, right = unit.end == sign.start, sign.end == number.start
    mains = _within(low, _MAINS_LOW_V) and _within(high, _MAINS_HIGH_V)
    if unit.kind != "V" or mains or sign.kind in {"TO", "OBELUS", "DOTS"}:
        sign.kind = "RANGE"
    elif sign.kind == "DASHES" or low >= high:
        return
    elif left == right:
        sign.kind = "RANGE"
    elif sign.kind == "TILDE":
        sign.note = "a range, or two alternating voltages"
    elif left:
        sign.kind = "RANGE"
        sign.note = "a range, or a sign for direct current"
    else:
        sign.note = "a range, or a negative voltage"


def _part_units(row: list[Lexeme], index: int) -> None:
    """`3V/6V/9V` and `12V or 24V` are alternatives that share what follows."""
    unit, sign = row[index - 1 : index + 1]
    if not row[index - 2].kind.endswith("_NUMBER"):
        return
    if sign.kind == "COMMA":
        if unit.kind != "V":
            return
        sign.note = "a list that shares what follows it, or separate voltages"
    sign.kind = "CHOICE"


def _within(value: float, bounds: tuple[float, float]) -> bool:
    return bounds[0] <= value <= bounds[1]
