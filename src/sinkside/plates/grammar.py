"""The grammar at work: classified pieces in, items out; imported only when a plate is read.

The parser sees kinds alone, so that plates of the same shape share one derivation.
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any, TypeAlias, TypeVar

from lark import Lark, Token, Tree, UnexpectedInput
from lark.lexer import Lexer

from sinkside.plates.amounts import Chain, chain, quantity
from sinkside.plates.items import (
    Drawn,
    Item,
    Label,
    Mark,
    Pole,
    PoleRun,
    Ports,
    Quantity,
    Word,
)
from sinkside.plates.lexemes import Lexeme
from sinkside.plates.reading import type_of_centre

_T = TypeVar("_T")
# The number of a piece to take up, or a rule with how many of what was taken up it takes in.
_Step: TypeAlias = "int | tuple[Callable[[list[Any]], Any], int]"
_KEPT = 1024
# A longer row is hardly ever seen twice.
_LONGEST_KEPT = 64

_CENTRES: dict[str, type_of_centre] = {
    "positive": "positive",
    "negative": "negative",
    "unknown": "unknown",
}


class _Classified(Lexer):
    """Hands the kinds of the scanner's pieces to the parser as they are, numbered."""

    def __init__(self, _conf: object) -> None:
        pass

    def lex(self, kinds: Sequence[str]) -> Iterator[Token]:  # type: ignore[override]
        for number, kind in enumerate(kinds):
            token = Token(kind, "")
            token.value = number
            yield token


class _Items:
    """Makes the items, a method a rule of the grammar."""

    def plate(self, children: list[Item]) -> list[Item]:
        return children

    def _amount(self, children: list[Lexeme]) -> Chain:
        return chain(children)

    v_amount = a_amount = w_amount = hz_amount = x_amount = _amount

    def _quantity(self, children: list[Chain | Lexeme | Mark]) -> Quantity:
        return quantity(
            _only(Chain, children),
            _only(Lexeme, children),
            _only(Mark, children),
        )

    volts = amps = watts = hertz = other = _quantity

    def _word(self, children: list[Lexeme]) -> Word:
        first, last = children[0], children[-1]
        return Word(
            kind=first.kind, text=first.text, note=first.note, start=first.start, end=last.end
        )

    bare = profile = role = aside = usb = adapter = fuse = cell = _word
    separator = noise = muddle = _word

    def multiple(self, children: list[Lexeme]) -> Word:
        return replace(self._word(children), kind="MULTIPLE")

    def mark(self, children: list[Lexeme]) -> Mark:
        piece = children[0]
        says = piece.kind.removesuffix("_AHEAD")
        return Mark(says=says, note=piece.note, start=piece.start, end=piece.end)

    ahead = mark

    def label(self, children: list[Lexeme]) -> Label:
        first, last = children[0], children[-1]
        return Label(side=first.kind, colon=last.kind == "COLON", start=first.start, end=last.end)

    def port(self, children: list[Lexeme]) -> Lexeme:
        return children[0]

    def port_group(self, children: list[Lexeme]) -> Ports:
        pieces = children
        named = [piece for piece in pieces if piece.kind != "JOIN"]
        return Ports(
            names=tuple(str(piece.value) for piece in named),
            together=any(piece.kind == "JOIN" and piece.text == "+" for piece in pieces),
            loosely=any(piece.kind == "JOIN" and piece.text not in "+/," for piece in pieces),
            usb=any(piece.kind == "USB_PORT" for piece in named),
            start=pieces[0].start,
            end=pieces[-1].end,
        )

    def port_head(self, children: list[Ports | Lexeme]) -> Ports:
        (ports,) = _only(Ports, children)
        tail = _only(Lexeme, children)
        if not tail:
            return ports
        kinds = {piece.kind for piece in tail}
        return replace(
            ports,
            usb=ports.usb or "USB" in kinds,
            colon=bool(kinds & {"COLON", "EQ"}),
            end=tail[-1].end,
        )

    def ports(self, children: list[Ports]) -> Ports:
        return children[0]

    def shared(self, children: list[Ports | Quantity]) -> Ports:
        (ports,), (power,) = _only(Ports, children), _only(Quantity, children)
        return replace(ports, power=power, end=power.end)

    def pole(self, children: list[Lexeme]) -> Pole:
        piece = children[0]
        return Pole(kind=piece.kind, start=piece.start, end=piece.end)

    joiner = pole

    def polarity(self, children: list[Pole]) -> PoleRun:
        return PoleRun(poles=tuple(children), start=children[0].start, end=children[-1].end)

    def drawn(self, children: list[Lexeme]) -> Drawn:
        piece = children[0]
        centre: type_of_centre = _CENTRES[str(piece.value)]
        return Drawn(centre=centre, why=piece.note, start=piece.start, end=piece.end)

    def drawn_pole(self, children: list[Lexeme]) -> list[str]:
        kinds = {piece.kind for piece in children}
        return ["PLUS" if kinds & {"PLUS", "RINGED_PLUS"} else "MINUS"]

    def part(self, children: list[Lexeme]) -> list[str]:
        kinds = [piece.kind for piece in children]
        return [kind for kind in kinds if kind != "DASH"]

    def last_arc(self, _children: list[Lexeme]) -> list[str]:
        return ["LPAR", "MINUS"]

    def drawing(self, children: list[list[str]]) -> list[str]:
        return [symbol for child in children for symbol in child]


def _only(kind: type[_T], children: Sequence[object]) -> list[_T]:
    return [child for child in children if isinstance(child, kind)]


_ITEMS = _Items()


@lru_cache(maxsize=1)
def _parser() -> Lark:
    return Lark.open_from_package(
        __package__,
        "grammar.lark",
        parser="lalr",
        lexer=_Classified,
        start=["plate", "drawing"],
    )


def items(pieces: Sequence[Lexeme]) -> list[Item]:
    """Parse the classified pieces of a plate.

    Parameters
    ----------
    pieces
        Pieces whose kinds are terminals of the grammar.

    Notes
    -----
    The grammar takes any order of what the scanner makes. Should it refuse one all the same, no
    figure may get lost: each number with a unit comes back as a muddle.
    """
    found = _parsed(pieces, "plate")
    if found is None:
        found = _parsed([_unread(piece) for piece in pieces], "plate")
    return found or []


def symbols(pieces: Sequence[Lexeme]) -> list[str] | None:
    """Parse a polarity drawing into its symbols from left to right; None if it is no drawing."""
    return _parsed(pieces, "drawing")


def _parsed(pieces: Sequence[Lexeme], start: str) -> list[Any] | None:
    """What the rules make of the pieces; None if the grammar refuses them."""
    kinds = tuple(piece.kind for piece in pieces)
    steps = (_kept if len(kinds) <= _LONGEST_KEPT else _derived)(kinds, start)
    if steps is None:
        return None
    found: list[Any] = []
    for step in steps:
        if isinstance(step, int):
            found.append(pieces[step])
        else:
            rule, size = step
            first = len(found) - size
            found[first:] = [rule(found[first:])]
    (result,) = found
    return list(result)


def _derived(kinds: tuple[str, ...], start: str) -> tuple[_Step, ...] | None:
    """How the grammar derives a row of kinds, inner rules first; None if it refuses them."""
    try:
        return tuple(_steps(_parser().parse(kinds, start=start)))
    except UnexpectedInput:
        return None


_kept = lru_cache(maxsize=_KEPT)(_derived)


def _steps(node: Tree[Token] | Token) -> Iterator[_Step]:
    if isinstance(node, Token):
        yield node.value
        return
    for child in node.children:
        yield from _steps(child)
    yield getattr(_ITEMS, node.data), len(node.children)


def _unread(piece: Lexeme) -> Lexeme:
    kind = "NOISE" if piece.kind in {"NUMBER", "X_NUMBER"} or not piece.text[:1].isdigit() else ""
    return replace(piece, kind=kind or "MUDDLE", note="this stretch could not be read")
