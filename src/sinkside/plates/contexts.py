"""Signs and short words whose meaning hangs on their neighbours."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from sinkside.plates.lexemes import Lexeme

_UNITS = {"V", "A", "W", "HZ", "OTHER"}
_RATED = {"V", "A", "W"}
_MARKS = {"DC", "AC", "BOTH"}
_LABELS = {"INPUT", "OUTPUT"}
_FIGURE = {"V", "A", "V_NUMBER", "A_NUMBER", "RANGE", "CHOICE"}
_PORTS = {"PORT", "USB_PORT"}
_PLACES = {"CENTRE", "SLEEVE", "GROUND"}
_CONTACTS = {"CENTRE", "SLEEVE"}
_TO_A_CONTACT = {"COLON", "EQ", "LPAR", "FILLER"}
_SAID_SIGNS = {"POSITIVE", "NEGATIVE", "RINGED_PLUS", "RINGED_MINUS", "PLUS"}
_JOINERS = {"COLON", "EQ", "LPAR", "FILLER", "SLASH", "PLUS", "MINUS", "POSITIVE", "NEGATIVE"}
_ENDS = {"NL", "COMMA", "RPAR", "BAR", "SLASH", "RULE"}
_BEFORE_A_WEAK_LABEL = _MARKS | _PORTS | _UNITS | _ENDS | {"DC_WEAK", "AC_WEAK", "USB", "LPAR"}
_PROSE = {"WORD", "SCRIPT", "NOISE", "FILLER"}


class _Row:
    """The pieces of a plate in a row; those to the left are settled, those to the right not."""

    def __init__(self, pieces: list[Lexeme]) -> None:
        self.pieces = pieces

    def kind(self, index: int) -> str:
        """The kind of the piece at an index; a new line beyond both ends."""
        return self.pieces[index].kind if 0 <= index < len(self.pieces) else "NL"

    def tight(self, index: int) -> bool:
        """Whether the piece at an index touches the one before it."""
        return 0 < index < len(self.pieces) and (
            self.pieces[index - 1].end == self.pieces[index].start
        )

    def place_before(self, index: int) -> str:
        """The contact that a sign at an index may belong to, looking back over joiners."""
        at = index - 1
        while self.kind(at) in _JOINERS and index - at < 5:
            at -= 1
        return self.kind(at) if self.kind(at) in _PLACES else ""

    def at_a_contact(self, index: int) -> bool:
        """Whether what stands at an index is said of the contact before it: `tip = +12V`."""
        at = index - 1
        while self.kind(at) in _TO_A_CONTACT and index - at < 5:
            at -= 1
        return self.kind(at) in _CONTACTS

    def place_after(self, index: int) -> str:
        """The contact that a sign at an index may belong to, looking on over joiners."""
        at = index + 1
        while self.kind(at) in {"FILLER", "RPAR"} and at - index < 5:
            at += 1
        return self.kind(at) if self.kind(at) in _PLACES else ""


def resolved(pieces: Sequence[Lexeme]) -> list[Lexeme]:
    """Settle what hangs on neighbours; every kind is a terminal of the grammar afterwards.

    Parameters
    ----------
    pieces
        Pieces with linked numbers.
    """
    row = _Row(list(pieces))
    for index, piece in enumerate(row.pieces):
        rule = _RULES.get(piece.kind)
        if rule:
            piece.kind = rule(row, index)
    return _without_orphans([piece for piece in row.pieces if piece.kind != "GONE"])


def _without_orphans(pieces: Sequence[Lexeme]) -> list[Lexeme]:
    """No unit stands without a number that the grammar can read."""
    found: list[Lexeme] = []
    for piece in pieces:
        before = found[-1] if found else None
        if piece.kind in _UNITS and not (before and before.kind.endswith("_NUMBER")):
            if before and before.kind == "MUDDLE" and piece.kind in _RATED:
                found[-1] = replace(
                    before,
                    end=piece.end,
                    text=f"{before.text} {piece.text}",
                    note=before.note or "several decimal marks in one number",
                )
                continue
            piece = replace(piece, kind="NOISE")
        found.append(piece)
    return [
        replace(piece, kind="NOISE") if piece.kind == "MUDDLE" and not piece.note else piece
        for piece in found
    ]


def _said_mark(row: _Row, index: int) -> str:
    """`DC: 12V AC: 230V` and `DC 9V AC 12V`: the word speaks of what follows."""
    kind, before, after = row.kind(index), row.kind(index - 1), row.kind(index + 1)
    if not row.pieces[index].text[0].isalnum() or before not in _RATED:
        return kind
    if after == "COLON":
        return f"{kind}_AHEAD"
    at = index - 1
    while row.kind(at) in _FIGURE:
        at -= 1
    led = row.kind(at) in _MARKS or row.kind(at).endswith("_AHEAD")
    return f"{kind}_AHEAD" if after == "V_NUMBER" and led else kind


def _tilde(_row: _Row, _index: int) -> str:
    return "AC"


def _equals(row: _Row, index: int) -> str:
    """`===` and `= =`: direct current beside a voltage, else a line across the plate."""
    beside = row.kind(index - 1) in _RATED | _MARKS or row.kind(index + 1) == "V_NUMBER"
    return "DC" if beside or _second_mark(row, index) else "RULE"


def _dashes(row: _Row, index: int) -> str:
    """`---` and `_ _ _`: direct current behind a voltage or current, or before a voltage."""
    before, after = row.kind(index - 1), row.kind(index + 1)
    if row.pieces[index].text == "--" and not row.tight(index) and after.endswith("_NUMBER"):
        return "DASH"
    if before == "V" or (before in _MARKS and row.kind(index - 2) == "V"):
        return "DC"
    if (before == "A" and not after.endswith("_NUMBER")) or _second_mark(row, index):
        return "DC"
    return "DC" if after == "V_NUMBER" and before not in _UNITS else "RULE"


def _eq(row: _Row, index: int) -> str:
    """`9V=1A`: directly behind volts the sign for direct current."""
    before, after = row.kind(index - 1), row.kind(index + 1)
    if before == "V" or (before in _MARKS and row.kind(index - 2) == "V"):
        return "DC"
    if _second_mark(row, index):
        return "DC"
    # Behind a label's colon it can be no sign of equality.
    return "DC" if before == "COLON" and after == "V_NUMBER" else "EQ"


def _second_mark(row: _Row, index: int) -> bool:
    """`24V~/=`: either kind of current will do; the slash between the signs says no more."""
    between = row.kind(index - 1) == "SLASH" and row.tight(index) and row.tight(index - 1)
    if not between or row.kind(index - 2) not in _MARKS or row.kind(index - 3) != "V":
        return False
    row.pieces[index - 1].kind = "GONE"
    return True


def _dash(row: _Row, index: int) -> str:
    before, after = row.kind(index - 1), row.kind(index + 1)
    left, right = row.tight(index), row.tight(index + 1)
    if before == "V" and left and not (right and after not in _ENDS):
        return "DC"
    if after == "V_NUMBER" and right and row.at_a_contact(index):
        return _contact_at(row, index, "LOOSE_MINUS")
    if after == "V_NUMBER" and right and (not left or before in _ENDS | _JOINERS | _MARKS):
        return _signed(row, index, -1.0)
    return _minus(row, index)


def _signed(row: _Row, index: int, sign: float) -> str:
    """Give the sign in front to the number behind it."""
    piece, number = row.pieces[index : index + 2]
    number.value = sign * float(number.value)
    number.start, number.text = piece.start, piece.text + number.text
    number.note = number.note or piece.note
    return "GONE"


def _contact_at(row: _Row, index: int, sign: str) -> str:
    """`12V DC, tip = +12V`: the sign is the contact's; volts that were told before are no more."""
    number = row.pieces[index + 1]
    told = any(p.kind == "V_NUMBER" and p.value == number.value for p in row.pieces[:index])
    if told and row.kind(index + 2) == "V":
        number.kind, row.pieces[index + 2].kind = "X_NUMBER", "OTHER"
    return sign


def _centre(row: _Row, index: int) -> str:
    """`PIN 1 +`: a contact with a number is one of several, and none is the centre."""
    number = row.pieces[index + 1].text if row.kind(index + 1) == "NUMBER" else ""
    return "NOISE" if number.isdigit() and not row.place_after(index) else "CENTRE"


def _minus(row: _Row, index: int) -> str:
    """A dash near a contact: its sign, a word's hyphen, or a mere dash."""
    after = row.kind(index + 1)
    before_place, after_place = row.place_before(index), row.place_after(index)
    if row.kind(index - 1) == "LPAR" and after == "RPAR":
        return "MINUS"
    if before_place:
        if after in _SAID_SIGNS or after == before_place:
            return "FILLER"
        spaced = not row.tight(index) and not row.tight(index + 1)
        ends = after in _ENDS | _PLACES | {"FILLER", "AND"}
        return "LOOSE_MINUS" if spaced and not ends else "MINUS"
    return "MINUS" if after_place else "DASH"


def _plus(row: _Row, index: int) -> str:
    before, after = row.kind(index - 1), row.kind(index + 1)
    if before in _PORTS and after in _PORTS:
        return "JOIN"
    if before in {"W", "RPAR"} and after in _PORTS:
        return "WITH"
    figure_before = before == "W" and row.kind(index - 2) == "W_NUMBER"
    if figure_before and after == "W_NUMBER":
        return "SUM"
    apart = before not in _UNITS or not row.tight(index)
    if after == "V_NUMBER" and row.tight(index + 1) and apart:
        if row.at_a_contact(index):
            return _contact_at(row, index, "PLUS")
        return _signed(row, index, 1.0)
    return "PLUS"


def _join(row: _Row, index: int) -> str:
    """`C1/C2`, `C1 and C2`: each of two ports; `24 Vac/dc`: both kinds of current."""
    if (
        row.kind(index) == "SLASH"
        and row.kind(index - 1) in _MARKS
        and row.kind(index + 1) in _MARKS | {"TILDE"}
    ):
        return "GONE"
    both = row.kind(index - 1) in _PORTS and row.kind(index + 1) in _PORTS
    return "JOIN" if both else row.kind(index)


def _plus_minus(row: _Row, index: int) -> str:
    """`±15V` is two rails, `12V ±0.5V` a tolerance, `centre ±` nonsense about polarity."""
    if row.kind(index + 1) != "V_NUMBER":
        return "EITHER" if row.place_before(index) or row.place_after(index) else "NOISE"
    if row.kind(index - 1) != "V":
        return "BIPOLAR"
    if row.kind(index + 2) == "V":
        row.pieces[index + 1].kind, row.pieces[index + 2].kind = "X_NUMBER", "OTHER"
    return "NOISE"


def _weak_mark(row: _Row, index: int) -> str:
    """`12 V c.c.`, `ENTRADA CA`, `CA 120V`: a kind of current only beside what is rated."""
    before, after = row.kind(index - 1), row.kind(index + 1)
    kind = row.kind(index).removesuffix("_WEAK")
    if before == "V" or (before in {"DC", "AC", "LPAR"} and row.kind(index - 2) == "V"):
        return kind
    letters = row.pieces[index].text.replace(".", "").replace(" ", "").lower()
    if letters not in {"cc", "ca", "cd"}:
        return "NOISE"
    beside = {before, after} & {*_LABELS, "INPUT_WEAK", "OUTPUT_WEAK"} or after == "V_NUMBER"
    return kind if beside or (before in _UNITS and after in _ENDS) else "NOISE"


def _weak_label(row: _Row, index: int) -> str:
    """`DC IN`, `IN: 12V`, `9V OUT`: labels, unlike `MADE IN`."""
    label = row.kind(index).removesuffix("_WEAK")
    before, after = row.kind(index - 1), row.kind(index + 1)
    if after in {"COLON", "EQ"}:
        return label
    behind = before in _BEFORE_A_WEAK_LABEL
    if before in {"DC", "AC", "V"} and after not in _PROSE:
        return label
    if row.place_after(index):
        # "plus in het midden"
        return "FILLER"
    both = after == "SLASH" and row.kind(index + 2) in {"INPUT_WEAK", "OUTPUT_WEAK", *_LABELS}
    if both or (before == "SLASH" and row.kind(index - 2) in _LABELS):
        return label
    rated = after.endswith("_NUMBER") or after in _MARKS
    text = row.pieces[index].text
    cased = text.isupper() or (behind and text[0].isupper()) or before == "NL"
    return label if rated and cased else "NOISE"


def _colon_label(row: _Row, index: int) -> str:
    return "INPUT" if row.kind(index + 1) == "COLON" else "NOISE"


def _noise(_row: _Row, _index: int) -> str:
    return "NOISE"


_RULES: dict[str, Callable[[_Row, int], str]] = {
    "CENTRE": _centre,
    "DC": _said_mark,
    "AC": _said_mark,
    "TILDE": _tilde,
    "EQUALS": _equals,
    "DASHES": _dashes,
    "EQ": _eq,
    "DASH": _dash,
    "PLUS": _plus,
    "SLASH": _join,
    "AND": _join,
    "COMMA": _join,
    "PLUS_MINUS": _plus_minus,
    "DC_WEAK": _weak_mark,
    "AC_WEAK": _weak_mark,
    "INPUT_WEAK": _weak_label,
    "OUTPUT_WEAK": _weak_label,
    "INPUT_COLON": _colon_label,
    **dict.fromkeys(["WORD", "SCRIPT", "SERIAL", "TO", "OBELUS", "DOTS"], _noise),
}
