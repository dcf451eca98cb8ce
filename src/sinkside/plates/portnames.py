"""Names of ports: `USB-C1`, `Type-C`, `C1`, `A`, `OUTPUT 2`, `V1:`, however they are typed."""

from collections.abc import Sequence
from dataclasses import replace

from sinkside.plates.lexemes import Lexeme
from sinkside.plates.naming import key

_LETTERS = {"a", "b", "c"}
_GLUED = {"usbc": "c", "usba": "a", "usbb": "b", "typec": "c", "typea": "a", "typeb": "b"}
_PORT_WORDS = {"port", "ports", "порт", "端口", "接口", "ポート", "포트", "anschluss", "puerto"}
_OUTPUT_WORDS = {"v", "ch", "dc", "p", "vo", "u"}
_LABELS = {"INPUT", "OUTPUT", "INPUT_WEAK", "OUTPUT_WEAK"}
_UNITS = {"V", "A", "W", "HZ", "OTHER"}
_PORTS = {"PORT", "USB_PORT"}
_SPANS = {"DASH", "TILDE", "SLASH", "TO", "TIMES", "OBELUS", "DOTS", "COMMA"}
_JOINS = {"PLUS", "AND", "SLASH", "COMMA"}
_OPENS_A_RATING = {"NUMBER", "DC", "AC", "PLUS"}
_BEHIND_A_NUMBER = {"COLON", "EQ", "LPAR", "RPAR", "NL", "BAR"} | _OPENS_A_RATING | _JOINS
_BEHIND_A_PORT = _BEHIND_A_NUMBER | {"INPUT", "OUTPUT", "TOTAL", "MAX"}

_PROFILES = {"PPS", "AVS"}

type_of_taken = tuple[list[Lexeme], int]


def ports_named(pieces: Sequence[Lexeme]) -> list[Lexeme]:
    """Gather the pieces of each port's name into one `PORT` or `USB_PORT`.

    Parameters
    ----------
    pieces
        Pieces named by the vocabulary.
    """
    row = _Row(pieces)
    found: list[Lexeme] = []
    index = 0
    while index < len(pieces):
        if found and found[-1].kind in _PORTS:
            row.known.add(str(found[-1].value).lower())
        before = found[-2:] if found else []
        taken = row.port(index) or row.joined(index, before) or row.behind_a_label(index)
        if taken is None:
            found.append(pieces[index])
            index += 1
            continue
        lexemes, index = taken
        found.extend(lexemes)
    return found


class _Row:
    """The pieces of a plate in a row, with readers for each way to name a port."""

    def __init__(self, pieces: Sequence[Lexeme]) -> None:
        self.pieces = pieces
        self.known: set[str] = set()

    def word(self, index: int) -> str:
        """The spelling of the word at an index; empty for anything else."""
        if 0 <= index < len(self.pieces) and self.pieces[index].kind not in _UNITS:
            return key(self.pieces[index]) if self.pieces[index].text[:1].isalpha() else ""
        return ""

    def kind(self, index: int) -> str:
        """The kind of the piece at an index; beyond the last a new line."""
        return self.pieces[index].kind if 0 <= index < len(self.pieces) else "NL"

    def tight(self, index: int) -> bool:
        """Whether the piece at an index touches the one before it."""
        return 0 < index < len(self.pieces) and (
            self.pieces[index - 1].end == self.pieces[index].start
        )

    def over_dash(self, index: int) -> int:
        """The index behind a dash that joins two parts of a name."""
        joins = self.kind(index) == "DASH" and self.tight(index) and self.tight(index + 1)
        return index + 1 if joins else index

    def bare(self, index: int) -> bool:
        """Whether a number stands at an index that has no unit and begins no range of volts."""
        if self.kind(index) != "NUMBER" or self.kind(index + 1) in _UNITS:
            return False
        spans = self.kind(index + 1) in _SPANS and self.kind(index + 2) == "NUMBER"
        return not (spans and (self.kind(index + 3) in _UNITS | _SPANS))

    def digit(self, index: int) -> str:
        """A port's number at an index, or empty."""
        text = self.pieces[index].text if self.bare(index) else ""
        return text if len(text) == 1 and text.isdigit() else ""

    def numbered(self, index: int) -> tuple[str, int]:
        """A port's number at or behind an index, and the index behind it."""
        at = self.over_dash(index)
        digit = self.digit(at)
        if digit and (self.tight(at) or self.kind(at + 1) in _BEHIND_A_PORT):
            return digit, at + 1
        return "", index

    def made(self, kind: str, name: str, first: int, behind: int) -> type_of_taken:
        """One piece for all from `first` up to `behind`."""
        start, end = self.pieces[first].start, self.pieces[behind - 1].end
        text = " ".join(piece.text for piece in self.pieces[first:behind])
        return [Lexeme(kind=kind, start=start, end=end, text=text, value=name)], behind

    def port(self, index: int) -> type_of_taken | None:
        """A port's name that starts at an index."""
        word = self.word(index)
        if not word:
            return self.counted_again(index)
        if word in {"micro", "mini"} and self.word(self.over_dash(index + 1)) == "usb":
            at = self.over_dash(index + 1) + 1
            at = at + 1 if self.word(self.over_dash(at)) == "b" else at
            return self.made("USB_PORT", "USB", index, at)
        if word in {"usb", "type"} or word in _GLUED:
            return self.usb(index, word)
        if self.kind(index) == "USB":
            return self.version(index, index + 1)
        if self.kind(index) in _PROFILES:
            return self.profile(index)
        if word in _PORT_WORDS:
            return self.counted(index)
        return self.lettered(index, word)

    def usb(self, index: int, word: str) -> type_of_taken | None:
        """`USB`, `USB-C`, `USB Type-C 1`, `Type-C`, `USB2`, or `USB 3.0`, which is no port."""
        letter = _GLUED.get(word, "")
        at = index + 1
        if not letter:
            here = self.over_dash(at)
            if word == "usb" and self.word(here) == "type":
                here = self.over_dash(here + 1)
            inner = self.word(here)
            letter = _GLUED.get(inner, inner if inner in _LETTERS else "")
            at = here + 1 if letter else at
        if not letter and word == "type":
            return None
        digit, at = self.numbered(at)
        if letter or digit:
            return self.made("USB_PORT", (letter.upper() or "USB") + digit, index, at)
        behind = self.kind(at)
        if word == "usb" and (self.kind(index - 1), behind) == ("LPAR", "RPAR"):
            return self.made("USB_PORT", "USB", index, at)
        if behind in {"COLON", "EQ"} | _LABELS | _OPENS_A_RATING and not self.versioned(at):
            return self.made("USB_PORT", "USB", index, at)
        return self.version(index, at)

    def versioned(self, index: int) -> bool:
        """Whether the number at an index is a version, such as 3.0."""
        return self.bare(index) and "." in self.pieces[index].text

    def version(self, first: int, index: int) -> type_of_taken | None:
        """A standard with its version: `PD 3.0`."""
        return self.made("USB", "", first, index + 1) if self.versioned(index) else None

    def profile(self, index: int) -> type_of_taken | None:
        """`PPS1: 3.3-11V`, where the number only counts the ranges."""
        digit = self.digit(index + 1) if self.tight(index + 1) else ""
        heads = digit and self.kind(index + 2) in {"COLON", "EQ", "LPAR"}
        return self.made(self.kind(index), "", index, index + 2) if heads else None

    def counted_again(self, index: int) -> type_of_taken | None:
        """The first of `1+2: 30W+15W` behind `PORT 1: ... PORT 2: ...`."""
        digits = self.digit(index), self.digit(index + 2)
        joins = self.kind(index + 1) == "PLUS" and self.kind(index - 1) != "PLUS"
        if joins and "" not in digits and self.known.issuperset(digits):
            return self.made("PORT", digits[0], index, index + 1)
        return None

    def counted(self, index: int) -> type_of_taken | None:
        """`Port 2`, `Port A`, `Port C1`."""
        at = index + 1
        inner = self.port(at)
        if inner:
            return inner
        digit = self.digit(at)
        if digit:
            return self.made("PORT", digit, index, at + 1)
        letter = self.word(at)
        if len(letter) == 1 and (self.kind(at + 1) in {"COLON", "NUMBER"} or letter in self.known):
            return self.made("PORT", letter.upper(), index, at + 1)
        return None

    def lettered(self, index: int, word: str) -> type_of_taken | None:
        """`C1`, `A:`, `V1:`, `CH2:`."""
        text = self.pieces[index].text
        digit = self.digit(index + 1) if self.tight(index + 1) else ""
        colon = self.kind(index + 2) == "COLON"
        if word + digit in self.known and "PLUS" in {
            self.kind(index - 1),
            self.kind(index + (2 if digit else 1)),
        }:
            return self.made("PORT", text.upper() + digit, index, index + (2 if digit else 1))
        if digit and (word in {"a", "c"} or (colon and word in _OUTPUT_WORDS)):
            return self.made("PORT", text.upper() + digit, index, index + 2)
        first = self.kind(index - 1) == "NL"
        alone = word in {"a", "c"} and not digit and (text.isupper() or first)
        if alone and text.isupper() and first and self.kind(index + 1) == "NUMBER":
            return self.made("PORT", text, index, index + 1)
        around = (self.kind(index - 2), self.kind(index - 1), self.kind(index + 1))
        if alone and around[0] in _LABELS and around[1:] == ("LPAR", "RPAR"):
            return self.made("PORT", text, index, index + 1)
        if alone and text.isupper() and self.heads(index + 1, first=first):
            return self.made("PORT", text, index, index + 1)
        if alone and self.kind(index + 1) == "COLON" and self.kind(index - 1) != "NUMBER":
            return self.made("PORT", text.upper(), index, index + 1)
        if alone and self.kind(index + 1) == "PLUS" and self.names_a_port(index + 2):
            return self.made("PORT", text, index, index + 1)
        return None

    def heads(self, index: int, *, first: bool) -> bool:
        """Whether what stands behind a letter makes it a port: `A=22.5W`, `A OUTPUT: 5V`."""
        if self.kind(index) == "EQ" and self.kind(index + 1) == "NUMBER":
            unit = self.pieces[index + 2] if index + 2 < len(self.pieces) else None
            return unit is not None and unit.kind in {"V", "W"} and unit.end > unit.start
        if self.kind(index + 1) != "COLON":
            return False
        if self.kind(index) == "WORD":
            # `C1 SINGLE: 5V` and, on a later line, `A SINGLE: 5V`.
            return first and bool(self.known)
        labels = self.kind(index) in {"INPUT", "OUTPUT"}
        return labels and (first or self.tight(index))

    def names_a_port(self, index: int) -> bool:
        """Whether a port's name starts at an index."""
        return self.word(index) in {"a", "c"} | self.known or (
            self.word(index) in {"usb", "type"} | _GLUED.keys()
        )

    def behind_a_label(self, index: int) -> type_of_taken | None:
        """`OUTPUT 2`, `OUT#1`, `OUTPUT A:`."""
        if self.kind(index) not in _LABELS:
            return None
        at = self.over_dash(index + 1)
        if self.pieces[at].text in {"#", "№"} if at < len(self.pieces) else False:
            at += 1
        digit = self.digit(at)
        name = digit if digit not in {"", "0"} and self.kind(at + 1) in _BEHIND_A_NUMBER else ""
        if not name and len(self.word(at)) == 1 and self.kind(at + 1) == "COLON":
            name = self.word(at).upper()
        if not name:
            return None
        label = replace(self.pieces[index], kind=self.kind(index).removesuffix("_WEAK"))
        port, behind = self.made("PORT", name, at, at + 1)
        return [label, *port], behind

    def joined(self, index: int, before: Sequence[Lexeme]) -> type_of_taken | None:
        """The rest of `C1+A`, `C1/2` behind a port and a sign that joins."""
        if len(before) < 2 or before[1].kind not in _JOINS:
            return None
        port = before[0]
        if port.kind not in _PORTS:
            return None
        if self.kind(index) in _LABELS:
            # `OUTPUT 1 + OUTPUT 2`
            name = self.digit(index + 1) or self.word(index + 1)
            known = name in self.known
            return self.made(port.kind, name.upper(), index, index + 2) if known else None
        if self.word(index) in {"a", "c"} | self.known:
            return self.made(port.kind, self.pieces[index].text.upper(), index, index + 1)
        digit = self.digit(index) if self.tight(index) else ""
        if digit and self.kind(index + 1) in {"COLON", "EQ", "RPAR", "NUMBER", *_JOINS}:
            prefix = str(port.value).rstrip("0123456789")
            return self.made(port.kind, prefix + digit, index, index + 1)
        return None
