"""The smallest pieces of a plate's text: numbers, words and signs, each with its place."""

import re
from dataclasses import dataclass

from sinkside.plates.glyphs import THIN_SPACE
from sinkside.plates.words import LONGEST_UNSPACED, UNSPACED


@dataclass(kw_only=True, slots=True)
class Lexeme:
    """One piece of the text, from raw sign to classified token.

    Parameters
    ----------
    kind
        What it is; later passes refine it until it names a terminal of the grammar.
    start, end
        Its span in the mapped text.
    text
        The mapped text of the span.
    value
        Of a number its value; of a unit what it is worth; of a named thing its name.
    note
        Why the piece can be read in more than one way, if it can.
    """

    kind: str
    start: int
    end: int
    text: str
    value: float | str = 0.0
    note: str = ""


# Scripts written without spaces, looked up by the longest match.
_UNSPACED = "\u3040-\u30ff\u3400-\u4dbf\u4e00-\u9fff\uac00-\ud7af\uf900-\ufaff"
_LETTER = rf"[^\W\d_{_UNSPACED}]"
_ANY_LETTER = r"[^\W\d_]"
_NOT_BEFORE_LETTER = rf"(?!{_ANY_LETTER})"

# Words take in abbreviations with points or slashes: `D.C.`, `V.DC`, `I/P`, `V·A`, `c/s`, `AC/DC`.
_PIECE = re.compile(
    rf"""
      (?P<RULE>(?<![^\r\n])[-=_*~\#.\ ]{{4,}}(?![^\r\n]))
    | (?P<NL>\r\n|[\r\n])
    | (?P<SPACE>[\ {THIN_SPACE}]+)
    | (?P<NUMBER>
          [0-9]{{1,3}}(?:[{THIN_SPACE}'][0-9]{{3}})+(?![0-9])(?:[.,][0-9]+)?
        | [0-9]+(?:[.,][0-9]+)*[½¼¾]?
        | (?<![\w.,])\.[0-9]+
        | [½¼¾])
    | (?P<WORD>
          (?<![^\W\d_])(?:(?i:ac|dc)[/-](?i:ac|dc)){_NOT_BEFORE_LETTER}
        | (?<![^\W\d_])(?i:[dac]\.\ [cad]\.)
        | (?<![^\W\d_]){_ANY_LETTER}(?:\.{_ANY_LETTER}{_NOT_BEFORE_LETTER})+\.?
        | (?<![^\W\d_])(?i:v\.(?:dc|ac)){_NOT_BEFORE_LETTER}
        | (?<![^\W_])(?i:[iops]/[np]|d/c|c/s){_NOT_BEFORE_LETTER}
        | (?<=[0-9\ ])(?i:v[·.]a){_NOT_BEFORE_LETTER}
        | (?<=[0-9])(?i:c/s){_NOT_BEFORE_LETTER}
        | {_LETTER}+ | [°℃℉Ω㎂㎃㎄㎷㎸㎹㎽㎾㎐㎑㎜№])
    | (?P<SCRIPT>[{_UNSPACED}]+)
    | (?P<EQUALS>={{2,}}(?![-_])|=(?:\ =)+(?![-_=]))
    | (?P<DASHES>[-_=]{{3,}}|--|__|(?:-\ ){{2,}}-(?![0-9])|(?:_\ ){{2,}}_)
    | (?P<PLUS_MINUS>\+/-(?=\ ?[0-9.]))
    | (?P<DOTS>\.(?:\ ?\.)+|[…‥⋯])
    | (?P<OTHER>.)
    """,
    re.VERBOSE | re.DOTALL,
)

_SIGNS = {
    ":": "COLON",
    "/": "SLASH",
    "|": "BAR",
    ",": "COMMA",
    ";": "COMMA",
    "(": "LPAR",
    "[": "LPAR",
    "{": "LPAR",
    ")": "RPAR",
    "]": "RPAR",
    "}": "RPAR",
    "+": "PLUS",
    "-": "DASH",
    "=": "EQ",
    "~": "TILDE",
    "⎓": "DC",
    "≂": "BOTH",
    "⊕": "RINGED_PLUS",
    "⊖": "RINGED_MINUS",
    "×": "TIMES",
    "*": "TIMES",
    "&": "AND",
    "÷": "OBELUS",
    "±": "PLUS_MINUS",
    "@": "AT",
    ".": "DOT",
    "_": "DASH",
}

_FRACTIONS = {"½": 0.5, "¼": 0.25, "¾": 0.75}

# A figure of a plate has few digits; a longer run is a serial number.
_MOST_DIGITS = 7


def pieces(text: str, start: int, end: int) -> list[Lexeme]:
    """Cut a stretch of mapped text into pieces, spaces left out.

    Parameters
    ----------
    text
        The mapped text.
    start, end
        The stretch of it.
    """
    found: list[Lexeme] = []
    for match in _PIECE.finditer(text, start, end):
        kind = str(match.lastgroup)
        piece = match.group()
        if kind == "SPACE":
            continue
        if kind == "SCRIPT":
            found.extend(_unspaced(piece, match.start()))
            continue
        if kind == "OTHER":
            kind = _SIGNS.get(piece, "NOISE")
        lexeme = Lexeme(kind=kind, start=match.start(), end=match.end(), text=piece)
        if kind == "NUMBER":
            _value(lexeme)
        found.append(lexeme)
    return found


def _unspaced(script: str, start: int) -> list[Lexeme]:
    """Divide Chinese, Japanese or Korean into known words and what lies between them."""
    found: list[Lexeme] = []
    index = 0
    unknown = 0
    while index < len(script):
        longest = min(LONGEST_UNSPACED, len(script) - index)
        size = next((n for n in range(longest, 0, -1) if script[index : index + n] in UNSPACED), 0)
        if size:
            if unknown < index:
                found.append(_script_word(script, start, unknown, index))
            found.append(_script_word(script, start, index, index + size))
            unknown = index + size
        index += size or 1
    if unknown < index:
        found.append(_script_word(script, start, unknown, index))
    return found


def _script_word(script: str, start: int, first: int, last: int) -> Lexeme:
    return Lexeme(kind="SCRIPT", start=start + first, end=start + last, text=script[first:last])


def _value(lexeme: Lexeme) -> None:
    """Work out a number; one comma or point parts decimals, two different ones thousands too."""
    text = lexeme.text
    extra = _FRACTIONS.get(text[-1], 0.0)
    if extra:
        text = text[:-1]
    for mark in (THIN_SPACE, "'"):
        text = text.replace(mark, "")
    marks = [sign for sign in text if sign in ".,"]
    groups = re.split("[.,]", text)
    if sum(map(len, groups)) > _MOST_DIGITS:
        lexeme.kind = "SERIAL"
        return
    if len(marks) <= 1:
        lexeme.value = float(text.replace(",", ".") or 0) + extra
        return
    if all(len(group) == 3 for group in groups[1:-1]) and marks[0] != marks[-1]:
        lexeme.value = float("".join(groups[:-1]) + "." + groups[-1])
        return
    lexeme.kind = "MUDDLE"


def may_be_thousands(lexeme: Lexeme) -> bool:
    """Whether a mark with three digits after it may part thousands: `1,500`, not `0,500`."""
    return bool(re.fullmatch(r"[1-9][0-9]{0,2}[.,][0-9]{3}", lexeme.text))


def leading_zero(lexeme: Lexeme) -> bool:
    """Whether a number starts like a serial number or a date: `0912`."""
    return len(lexeme.text) > 1 and lexeme.text[0] == "0" and lexeme.text[1].isdigit()
