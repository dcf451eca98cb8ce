"""Read the text of a rating plate."""

import re
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from functools import lru_cache

from sinkside.faults import NotUnderstood
from sinkside.plates.codes import codes_set_apart
from sinkside.plates.contexts import resolved
from sinkside.plates.drawings import drawings
from sinkside.plates.gathering import gathered
from sinkside.plates.glyphs import Glyphs, alike, turned
from sinkside.plates.items import Item
from sinkside.plates.lexemes import Lexeme, pieces
from sinkside.plates.links import linked
from sinkside.plates.misreadings import WHY, straightened
from sinkside.plates.naming import named
from sinkside.plates.polarity import settled as settled_polarity
from sinkside.plates.portnames import ports_named
from sinkside.plates.reading import Ambiguity, Ignored, PlateReading, Rating, SharedPower
from sinkside.plates.results import Worked
from sinkside.plates.settling import settled

LONGEST_TEXT = 4000
# Readings are kept by their text: survey, check and judge ask for the same plate again.
_KEPT = 4096
_LONGEST_KEPT = 400

_LINE_BREAK = re.compile(r"\r\n|[\r\n]")
# Between two pieces that say nothing, this says nothing either.
_NOTHING = re.compile(r"[\s.,:;/()\[\]|#'\"&-]*")


def read(text: str) -> PlateReading:
    """Read the text of a rating plate.

    Parameters
    ----------
    text
        The plate as printed, typed by a person, in any of many languages; several lines are
        welcome.

    Returns
    -------
    PlateReading
        Ratings, polarity and shared power, with every doubt and with all that was left aside.

    Raises
    ------
    NotUnderstood
        The text is longer than a plate can be.

    Notes
    -----
    Conventions (common practice, no source): a rating without a label is an output, an unlabelled
    mains voltage an input; an equals sign directly behind volts means direct current; what is not
    printed is never guessed.

    Examples
    --------
    >>> plate = read("OUTPUT: 9V⎓1.3A ⊖–C–⊕")
    >>> plate.output[0].voltage_high_v, plate.output[0].current_a, plate.centre
    (9.0, 1.3, 'positive')
    """
    refuse_too_long(text)
    return (_kept if len(text) <= _LONGEST_KEPT else _read)(text)


def refuse_too_long(text: str) -> None:
    """Refuse a text that no plate can have; nothing else about a text makes it no plate.

    Raises
    ------
    NotUnderstood
        The text is longer than a plate can be.
    """
    if len(text) > LONGEST_TEXT:
        raise NotUnderstood(
            f"a plate of {len(text)} characters",
            f"give at most {LONGEST_TEXT} characters, the ratings among them",
            code="plate-too-long",
        )


def _read(text: str) -> PlateReading:
    # The parser's tables take a while to build, so that who reads no plate does not pay for them.
    from sinkside.plates.grammar import items, symbols

    glyphs = alike(text)
    found = gathered(
        items(_classified(glyphs.text, drawings(glyphs.text, symbols))), _starts(glyphs.text)
    )
    result = settled(found)
    centre, unclear = settled_polarity(found.evidences)
    places = _Places(text, glyphs)
    doubts = [places.ambiguity(item.start, item.end, why) for item, why in result.doubts]
    doubts += [places.ambiguity(piece.start, piece.end, piece.why) for piece in unclear]
    doubts += [
        places.ambiguity(said.start, said.end, "polarity on a plate that gives alternating current")
        for said in found.evidences[:1]
        if {worked.kind for worked in result.output} == {"ac"}
    ]
    turning = turned(glyphs.text)
    if turning is not None:
        why = "a hidden sign turns the order of what follows: what is shown is not what is read"
        doubts.append(places.ambiguity(turning, turning + 1, why))
    return PlateReading(
        input=tuple(map(places.rating, result.input)),
        output=tuple(map(places.rating, result.output)),
        centre=centre,
        shared=tuple(
            SharedPower(
                ports=shared.names,
                power_w=shared.power_w,
                ratings=tuple(map(places.rating, shared.ratings)),
                line=places.line(shared.ports.start),
                column=places.column(shared.ports.start),
            )
            for shared in result.shared
        ),
        total_power_w=result.total_power_w,
        ambiguities=tuple(sorted(set(doubts))),
        ignored=places.ignored(result.ignored),
    )


_kept = lru_cache(maxsize=_KEPT)(_read)


def _classified(text: str, drawn: Sequence[Lexeme]) -> list[Lexeme]:
    """The pieces of a mapped text as terminals of the grammar."""
    text, misread = straightened(text)
    row: list[Lexeme] = []
    start = 0
    for drawing in drawn:
        row += [*pieces(text, start, drawing.start), drawing]
        start = drawing.end
    row += pieces(text, start, len(text))
    starts = [piece.start for piece in row]
    for first, behind in misread:
        for piece in row[bisect_left(starts, first) : bisect_left(starts, behind)]:
            piece.note = WHY if piece.kind == "NUMBER" else piece.note
    return resolved(linked(codes_set_apart(ports_named(named(row)))))


def _starts(text: str) -> list[int]:
    """Where the lines of a text start."""
    return [0, *(match.end() for match in _LINE_BREAK.finditer(text))]


class _Places:
    """Spans of the mapped text as places in the text as given."""

    def __init__(self, text: str, glyphs: Glyphs) -> None:
        self.text = text
        self.glyphs = glyphs
        self.starts = _starts(text)

    def line(self, index: int) -> int:
        """The line of a mapped index, from 1."""
        return bisect_right(self.starts, self.glyphs.offset(index))

    def column(self, index: int) -> int:
        """The column of a mapped index, from 1."""
        return self.glyphs.offset(index) - self.starts[self.line(index) - 1] + 1

    def slice(self, start: int, end: int) -> str:
        """A span as given."""
        return self.text[self.glyphs.offset(start) : self.glyphs.offset(end)]

    def rating(self, worked: Worked) -> Rating:
        """A rating with its place."""
        return Rating(
            voltage_low_v=worked.volts.low,
            voltage_high_v=worked.volts.high,
            kind=worked.kind,
            current_a=worked.current_a,
            peak_current_a=worked.peak_current_a,
            power_w=worked.power_w,
            port=worked.draft.ports.name if worked.draft.ports else None,
            profile=worked.draft.profile,
            line=self.line(worked.volts.start),
            column=self.column(worked.volts.start),
        )

    def ambiguity(self, start: int, end: int, why: str) -> Ambiguity:
        """A doubtful span with its place."""
        return Ambiguity(
            text=self.slice(start, end), line=self.line(start), column=self.column(start), why=why
        )

    def ignored(self, items: Sequence[Item]) -> tuple[Ignored, ...]:
        """Spans that say nothing, neighbours joined."""
        spans: list[tuple[int, int]] = []
        for item in sorted(items, key=lambda item: item.start):
            if spans and self.says_nothing(spans[-1][1], item.start):
                spans[-1] = (spans[-1][0], max(spans[-1][1], item.end))
            else:
                spans.append((item.start, item.end))
        return tuple(
            Ignored(text=self.slice(start, end), line=self.line(start), column=self.column(start))
            for start, end in spans
        )

    def says_nothing(self, start: int, end: int) -> bool:
        """Whether a gap between two spans holds no more than punctuation on one line."""
        gap = self.glyphs.text[start:end]
        return _NOTHING.fullmatch(gap) is not None and not _LINE_BREAK.search(gap)
