"""The grammar at work: classified pieces in, items out; imported only when a plate is read."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import lru_cache
from typing import Any, TypeVar

from lark import Lark, Token, Transformer, UnexpectedInput
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

_CENTRES: dict[str, type_of_centre] = {
    "positive": "positive",
    "negative": "negative",
    "unknown": "unknown",
}


class _Classified(Lexer):
    """Hands the scanner's pieces to the parser as they are."""

    def __init__(self, _conf: object) -> None:
        pass

    def lex(self, pieces: Sequence[Lexeme]) -> Iterator[Token]:  # type: ignore[override]
        for piece in pieces:
            token = Token(piece.kind, piece.text)
            token.value = piece
            yield token


def _piece(token: Token) -> Lexeme:
    piece: Lexeme = token.value
    return piece


class _Items(Transformer[Token, list[Item]]):
    """Makes the items while the parser reduces; no tree is built."""

    def plate(self, children: list[Item]) -> list[Item]:
        return children

    def _amount(self, children: list[Token]) -> Chain:
        return chain([_piece(token) for token in children])

    v_amount = a_amount = w_amount = hz_amount = x_amount = _amount

    def _quantity(self, children: list[Chain | Token | Mark]) -> Quantity:
        return quantity(
            _only(Chain, children),
            [_piece(token) for token in _only(Token, children)],
            _only(Mark, children),
        )

    volts = amps = watts = hertz = other = _quantity

    def _word(self, children: list[Token]) -> Word:
        first, last = _piece(children[0]), _piece(children[-1])
        return Word(
            kind=first.kind, text=first.text, note=first.note, start=first.start, end=last.end
        )

    bare = profile = role = aside = usb = adapter = fuse = cell = _word
    separator = noise = muddle = _word

    def multiple(self, children: list[Token]) -> Word:
        return replace(self._word(children), kind="MULTIPLE")

    def mark(self, children: list[Token]) -> Mark:
        piece = _piece(children[0])
        says = piece.kind.removesuffix("_AHEAD")
        return Mark(says=says, note=piece.note, start=piece.start, end=piece.end)

    ahead = mark

    def label(self, children: list[Token]) -> Label:
        first, last = _piece(children[0]), _piece(children[-1])
        return Label(side=first.kind, colon=last.kind == "COLON", start=first.start, end=last.end)

    def port(self, children: list[Token]) -> Token:
        return children[0]

    def port_group(self, children: list[Token]) -> Ports:
        pieces = [_piece(token) for token in children]
        named = [piece for piece in pieces if piece.kind != "JOIN"]
        return Ports(
            names=tuple(str(piece.value) for piece in named),
            together=any(piece.kind == "JOIN" and piece.text == "+" for piece in pieces),
            usb=any(piece.kind == "USB_PORT" for piece in named),
            start=pieces[0].start,
            end=pieces[-1].end,
        )

    def port_head(self, children: list[Ports | Token]) -> Ports:
        (ports,) = _only(Ports, children)
        tail = [_piece(token) for token in _only(Token, children)]
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

    def pole(self, children: list[Token]) -> Pole:
        piece = _piece(children[0])
        return Pole(kind=piece.kind, start=piece.start, end=piece.end)

    joiner = pole

    def polarity(self, children: list[Pole]) -> PoleRun:
        return PoleRun(poles=tuple(children), start=children[0].start, end=children[-1].end)

    def drawn(self, children: list[Token]) -> Drawn:
        piece = _piece(children[0])
        centre: type_of_centre = _CENTRES[str(piece.value)]
        return Drawn(centre=centre, why=piece.note, start=piece.start, end=piece.end)

    def drawn_pole(self, children: list[Token]) -> list[str]:
        kinds = {_piece(token).kind for token in children}
        return ["PLUS" if kinds & {"PLUS", "RINGED_PLUS"} else "MINUS"]

    def part(self, children: list[Token]) -> list[str]:
        kinds = [_piece(token).kind for token in children]
        return [kind for kind in kinds if kind != "DASH"]

    def last_arc(self, _children: list[Token]) -> list[str]:
        return ["LPAR", "MINUS"]

    def drawing(self, children: list[list[str]]) -> list[str]:
        return [symbol for child in children for symbol in child]


def _only(kind: type[_T], children: Sequence[object]) -> list[_T]:
    return [child for child in children if isinstance(child, kind)]


@lru_cache(maxsize=1)
def _parser() -> Lark:
    return Lark.open_from_package(
        __package__,
        "grammar.lark",
        parser="lalr",
        lexer=_Classified,
        transformer=_Items(),
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
    try:
        return _parsed(pieces, "plate")
    except UnexpectedInput:
        return _parsed([_unread(piece) for piece in pieces], "plate")


def symbols(pieces: Sequence[Lexeme]) -> list[str] | None:
    """Parse a polarity drawing into its symbols from left to right; None if it is no drawing."""
    try:
        return _parsed(pieces, "drawing")
    except UnexpectedInput:
        return None


def _parsed(pieces: Sequence[Lexeme], start: str) -> list[Any]:
    # The transformer stands in for the tree, so the parser's own type does not hold.
    result: Any = _parser().parse(pieces, start=start)
    return list(result)


def _unread(piece: Lexeme) -> Lexeme:
    kind = "NOISE" if piece.kind in {"NUMBER", "X_NUMBER"} or not piece.text[:1].isdigit() else ""
    return replace(piece, kind=kind or "MUDDLE", note="this stretch could not be read")
