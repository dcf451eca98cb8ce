"""Codes, serial numbers, dates and fuses of a plate, told from figures by how they are set."""

import re
from collections.abc import Sequence

from sinkside.plates.lexemes import Lexeme, leading_zero
from sinkside.plates.words import folded, kind_of_word

_UNITS = {"V", "A", "W", "HZ", "OTHER"}
_RATED = {"V", "A", "W"}
_DIGITS = {"NUMBER", "SERIAL", "MUDDLE"}
_BETWEEN = {"DASH", "DOT"}
_NEVER_IN_A_CODE = {"PORT", "USB_PORT", "DRAWING", "TIMES", "RULE"}
_FUSE = re.compile(r"[TFM]L?[0-9]+(?:[.,][0-9]+)?m?A[LHE]?(?:[0-9]+V)?", re.IGNORECASE)
_AFTER_A_CODE_LABEL = {"COLON", "DOT", "NAME", "DASH", "EQ"}
_SMALL_WORDS = {"FILLER", "OR", "AND", "TO"}
_MAY_BE_A_CODE = {"WORD", "NOISE", *_DIGITS, *_UNITS}
_GOES_ON = {"SLASH", "TILDE", "TIMES", "OBELUS", "DOTS", "TO", *_UNITS}
_ENDS = [[Lexeme(kind="NL", start=0, end=0, text="")]] * 2
_RATES = {"DC", "AC", "BOTH", "EQ", "TILDE", "EQUALS", "DASHES", "NUMBER"}

# Figures beyond these stand on no plate of low-voltage gear: common practice, no source.
_LARGEST = {"V": 1000.0, "A": 200.0, "W": 5000.0}


def codes_set_apart(pieces: Sequence[Lexeme]) -> list[Lexeme]:
    """Make one piece of each code, so that its digits are not read as figures.

    Parameters
    ----------
    pieces
        Pieces named by the vocabulary, ports gathered.

    Returns
    -------
    list of Lexeme
        Codes as `NOISE`, fuses as `FUSE`; what may be a code or a rating as `MUDDLE`.
    """
    groups = _groups(pieces)
    found: list[Lexeme] = []
    expected = False
    for index, group in enumerate(groups):
        after, following = (g[0].kind for g in [*groups[index + 1 : index + 3], *_ENDS][:2])
        if after == "DASH" and following in _DIGITS:
            # `AC100 - 240V`
            after = "TO"
        if expected and len(group) == 1 and group[0].kind in _AFTER_A_CODE_LABEL:
            found.extend(group)
            continue
        if expected and group[0].kind == "SLASH" and found[-1].end == group[0].start:
            found.extend(group)
            continue
        swallowed = expected and not _rates(group, after) and _may_be_a_code(group)
        if swallowed or _is_code(group, after):
            found.append(_as_code(group, expected))
        else:
            found.extend(group)
        tight = index + 1 < len(groups) and group[-1].end == groups[index + 1][0].start
        expected = group[-1].kind == "CODE" or (swallowed and tight and after == "SLASH")
    return found


def _groups(pieces: Sequence[Lexeme]) -> list[list[Lexeme]]:
    """Runs of pieces that touch each other and could be one code; anything else by itself."""
    groups: list[list[Lexeme]] = []
    for index, piece in enumerate(pieces):
        joins = _joins(piece)
        if piece.kind in _BETWEEN:
            after = pieces[index + 1] if index + 1 < len(pieces) else None
            joins = after is not None and _joins(after) and after.start == piece.end
        last = groups[-1][-1] if groups else None
        touches = last is not None and last.end == piece.start
        if joins and touches and last is not None and (_joins(last) or last.kind in _BETWEEN):
            groups[-1].append(piece)
        else:
            groups.append([piece])
    return groups


def _joins(piece: Lexeme) -> bool:
    if piece.kind in _NEVER_IN_A_CODE:
        return False
    return piece.text[0].isdigit() or (piece.text[0].isalpha() and piece.text[0] < "\u3000")


def _rates(group: Sequence[Lexeme], after: str) -> bool:
    """Whether a group behind the label of a code reads as a rating all the same."""
    if group[0].kind != "NUMBER":
        return False
    units = [piece.kind for piece in group if piece.kind in _RATED]
    return len(units) > 1 or (after in _RATES if units else after in _RATED)


def _may_be_a_code(group: Sequence[Lexeme]) -> bool:
    return len(group) > 1 or group[0].kind in _MAY_BE_A_CODE


def _is_code(group: Sequence[Lexeme], after: str) -> bool:
    # A lone letter is part of a code, whatever it means between spaces.
    kinds = [
        "WORD" if piece.kind in _SMALL_WORDS and len(piece.text) == 1 else piece.kind
        for piece in group
    ]
    if len(group) == 1:
        return False
    if "SERIAL" in kinds or (kinds[0] == "WORD" and set(kinds) & _DIGITS):
        return True
    for index, (left, right) in enumerate(zip(kinds, [*kinds[1:], after], strict=True)):
        inside = index + 1 < len(kinds)
        if inside and {left, right} & _DIGITS and "WORD" in {left, right}:
            return True
        if left not in _DIGITS or right in _UNITS:
            if left in _DIGITS and leading_zero(group[index]):
                return True
            continue
        word_before = index > 0 and kinds[index - 1] not in _DIGITS | _UNITS | _BETWEEN
        word_by_dash = (
            index > 1
            and kinds[index - 1] in _BETWEEN
            and (kinds[index - 2] not in _DIGITS | _UNITS)
        )
        goes_on = right in _GOES_ON or (
            right in _BETWEEN and index + 2 < len(kinds) and kinds[index + 2] in _DIGITS
        )
        if (word_before or word_by_dash) and not goes_on:
            return True
        if right in _BETWEEN and index + 2 < len(kinds) and kinds[index + 2] == "WORD":
            return True
    return False


def _as_code(group: Sequence[Lexeme], labelled: bool) -> Lexeme:
    """One piece for a code; a muddle if it may be a rating after all."""
    text = "".join(piece.text for piece in group)
    made = Lexeme(kind="NOISE", start=group[0].start, end=group[-1].end, text=text)
    if _FUSE.fullmatch(text) and not labelled:
        made.kind = "FUSE"
        return made
    if kind_of_word(folded(text)) == "CELL":
        made.kind = "CELL"
        return made
    units = [piece for piece in group if piece.kind in _RATED]
    starts_as_figure = group[0].kind == "NUMBER" and len(group) > 1 and group[1].kind in _RATED
    if not starts_as_figure:
        return made
    plausible = float(group[0].value) * float(group[1].value) <= _LARGEST[group[1].kind]
    whole = len(group) == 2 and (plausible or not labelled)
    if whole or {unit.kind for unit in units} >= {"V", "A"}:
        made.kind = "MUDDLE"
        made.note = "a code or a rating"
    return made
