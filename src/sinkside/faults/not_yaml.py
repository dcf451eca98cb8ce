"""Where a text stops being YAML, as a person would say it.

A parser tells where it could not go on. What is wrong often stands before that: a quote or a
bracket that is not closed, a key without its colon, a line that is set in by too much or too
little. It is looked for here, by how the lines around are set in.
"""

import re
from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from sinkside.faults.fault import Fault, Place

# What YAML counts as the end of a line; Python's own list is longer.
_BREAK = re.compile(r"\r\n|[\n\r\x85\u2028\u2029]")
_KEY = re.compile(r"\s*(?:\"[^\"]*\"|'[^']*'|[^\s#:'\"\[{][^#]*?):(?:\s|$)")
_OPENS = re.compile(r":\s*(?:#.*)?$")
_MARKS = re.compile(r"[\[\]{}'\"]")
# Deeper than any document that is taken.
DEEPEST = 32
# How many lines are looked at above and below the one that the parser complains of.
ABOVE, BELOW = 5000, 500
# How far a value stands from the first dash of its line.
FARTHEST = 80
_SET_IN = (
    "mapping values are not allowed in this context",
    "did not find expected key",
    "did not find expected '-' indicator",
    "block sequence entries are not allowed in this context",
    "did not find expected <document start>",
)


@dataclass(kw_only=True, slots=True)
class _Line:
    """One line: how far it is set in, and what is open at its start and at its end.

    `brackets` are the lines of the brackets that are open at its end; `quoted` says that a
    quote was opened in it and not closed.
    """

    text: str
    set_in: int
    says: bool
    within: bool
    brackets: tuple[int, ...]
    quoted: bool


def told(error: Any, text: str, file: str) -> Fault:
    """The fault of a text that is not YAML.

    Parameters
    ----------
    error
        What the parser raised, with its marks.
    text
        The whole text.
    file
        Its name.
    """
    mark = error.problem_mark or error.context_mark
    wrong = f"not YAML: {error.problem}"
    here = Place(file=file, line=mark.line + 1, column=mark.column + 1) if mark else None
    start = Place(file=file, line=1, column=1)
    right = "use spaces, not tabs" if "tab" in str(error.problem) else ""
    if mark is None or right:
        return Fault(code="not-yaml", wrong=wrong, right=right, place=here or start)
    every = _BREAK.split(text)
    first = _first(every, mark.line)
    lines = _lines(every[first : mark.line + BELOW], first)
    found = _Search(lines, first, min(mark.line - first, len(lines) - 1), error).culprit()
    if found is not None and found[0] != mark.line:
        line, right = found
        column = len(every[line]) - len(every[line].lstrip(" ")) + 1
        here = Place(file=file, line=line + 1, column=column)
    return Fault(code="not-yaml", wrong=wrong, right=right, place=here)


@dataclass(frozen=True, kw_only=True, slots=True)
class _Start:
    """A dash, a key or an item that starts in a line of block style, and how far it is set in.

    `opens` says that what it holds comes in the lines below; `key` is empty for an item, which
    may be an entry that lacks its colon.
    """

    line: int
    set_in: int
    key: str
    opens: bool
    dash: bool
    lacks_colon: bool


class _Search:
    """The search for the line that a parser's complaint comes from.

    `at` is the line of the complaint among the lines that are looked at, the first of which is
    line `offset` of the text; all count from 0.
    """

    def __init__(self, lines: list[_Line], offset: int, at: int, error: Any) -> None:
        self.lines = lines
        self.offset = offset
        self.at = at
        self.column = error.problem_mark.column if error.problem_mark else 0
        self.problem = str(error.problem)
        self.context = error.context_mark.line if error.context_mark else None
        self.starts = _starts(lines)
        self.above = [start for start in self.starts if start.line < at]
        self.step = _step(self.starts)

    def culprit(self) -> tuple[int, str] | None:
        """The line of the text and what to do about it; None if it is that of the complaint."""
        quoted = next((i for i, line in enumerate(self.lines[: self.at]) if line.quoted), None)
        if quoted is not None:
            return self.offset + quoted, "a quote that is opened here is not closed in this line"
        if self.problem.startswith("could not find expected ':'"):
            return (self.context, "write key: value") if self.context is not None else None
        if self.lines[self.at].within:
            return self._in_brackets()
        two_keys = _KEY.match(self.lines[self.at].text[: self.column])
        known = self.problem in _SET_IN and self.above and self.starts_of(self.at)
        return self._set_in() if known and not two_keys else None

    def _in_brackets(self) -> tuple[int, str] | None:
        """A bracket that is not closed, or a comma that is missing at the end of a line."""
        line = self.lines[self.at]
        above = next(i for i in range(self.at - 1, -1, -1) if self.lines[i].says)
        opened = self.lines[above].brackets
        if not opened:
            return None
        outermost = self.lines[opened[0] - self.offset]
        if line.set_in <= outermost.set_in:
            return (
                self.offset + above,
                f"a bracket that is opened in line {opened[-1] + 1} is not closed",
            )
        if line.text[self.column : self.column + 1] in ("}", "]"):
            return opened[-1], "a bracket that is opened here is not closed"
        before = line.text[: self.column]
        ended = self.lines[above].text.rstrip().endswith((",", "{", "["))
        if not ended and not re.search(r"[,\[\]{}]", before):
            return self.offset + above, "a comma is missing at the end of this line"
        return None

    def _set_in(self) -> tuple[int, str] | None:
        """A line that is set in by too much or too little, or a key without its colon."""
        above, (complained, *_) = self.above[-1], self.starts_of(self.at)
        if above.lacks_colon and above.set_in <= complained.set_in:
            return self.offset + above.line, "write key: value"
        found = self._odd_dash(complained) if complained.dash else self._odd(complained.set_in)
        if found is None or found.line == self.at:
            return None
        other = f"line {self.offset + self.at + 1} by {complained.set_in}"
        return self.offset + found.line, f"it is set in by {found.set_in}, {other}"

    def _odd(self, here: int) -> _Start | None:
        """The line above that is out of step: what holds the line of the complaint, or its twin.

        The holder is the last start that is set in by less; the twin, if there is one, comes
        right behind the holder, and ought to be set in as the line of the complaint is.
        """
        at = next(
            (i for i in reversed(range(len(self.above))) if self.above[i].set_in < here), None
        )
        if at is None:
            first = self.above[0]
            return first if first.set_in > here else None
        holder, *behind = self.above[at : at + 3]
        if self.above[-1].key and self.above[-2:-1] and self.above[-2].dash:
            dash, first = self.above[-2:]
            after = next((s.set_in for s in self.starts if s.line > self.at and not s.dash), 0)
            right = here - (first.set_in - dash.set_in) in self._dash_places(len(self.above) - 2)
            if right and dash.line == first.line and after != first.set_in:
                return dash
        if behind and behind[0].set_in == here:
            return None
        out = here in self._could_hold(at)
        if not behind:
            return holder if out and not self._rather_the_complained(holder, here) else None
        twin = behind[0]
        if here != self._inner(holder) or (out and self._rather_the_holder(holder, behind, here)):
            return holder if out else None
        return twin

    def _rather_the_complained(self, holder: _Start, here: int) -> bool:
        """Where both may be out, whether it is the line of the complaint."""
        complained = self.starts_of(self.at)[0]
        return self._belongs_at(complained, holder.set_in) and not self._belongs_at(holder, here)

    def _rather_the_holder(self, holder: _Start, behind: list[_Start], here: int) -> bool:
        """Where both may be out, whether it is the holder and not its twin."""
        twin = behind[0]
        if twin.set_in != here + self.step or (twin.opens and behind[-1].set_in <= twin.set_in):
            return False
        alike = [s.set_in for s in self.above if s.line >= twin.line].count(twin.set_in)
        if alike > 1:
            return True
        return self._belongs_at(holder, here) and not self._belongs_at(twin, here)

    def _could_hold(self, at: int) -> set[int]:
        """How far the lines behind a start would be set in if it stood elsewhere."""
        start, before = self.above[at], self.above[:at]
        if at and self.above[at - 1].dash and self.above[at - 1].line == start.line:
            width = start.set_in - self.above[at - 1].set_in
            return {place + width for place in self._dash_places(at - 1)}
        if start.dash:
            return {place + self._inner(start) - start.set_in for place in self._dash_places(at)}
        levels: list[int] = []
        for other in before:
            while levels and levels[-1] > other.set_in:
                levels.pop()
            if not levels or levels[-1] < other.set_in:
                levels.append(other.set_in)
        found = set(levels)
        if before and before[-1].opens:
            found.add(self._inner(before[-1]))
        holders = [other for other in before if other.set_in < start.set_in]
        if holders:
            found.add(self._inner(holders[-1]))
        return found - {start.set_in}

    def _odd_dash(self, complained: _Start) -> _Start | None:
        """The dash before this one, or the key between the two, if it is out of step."""
        last = self.above[-1]
        if last.key and not last.opens and last.set_in == complained.set_in:
            return last
        after = next((s for s in self.starts if s.line > self.at and s.dash), None)
        for at in reversed(range(len(self.above))):
            start = self.above[at]
            if after is not None and start.dash and start.set_in == after.set_in:
                return None
            if start.set_in < complained.set_in - 1 and not start.dash:
                return None
            if start.dash and start.set_in != complained.set_in:
                allowed = complained.set_in in self._dash_places(at)
                return start if allowed else None
        return None

    def _dash_places(self, at: int) -> set[int]:
        """Where a dash may stand instead: flush with its key, or a step in."""
        opener = next((s for s in reversed(self.above[:at]) if s.opens and not s.dash), None)
        places = {opener.set_in, opener.set_in + self.step} if opener else {0}
        return places - {self.above[at].set_in}

    def _inner(self, holder: _Start) -> int:
        """How far what a start holds is usually set in."""
        if not holder.dash:
            return holder.set_in + self.step
        return next(
            s.set_in for s in self.starts if s.line == holder.line and s.set_in > holder.set_in
        )

    def _belongs_at(self, start: _Start, set_in: int) -> bool:
        """Whether its key is set in like that where else it stands, and nowhere as here."""
        others = {s.set_in for s in self.starts if s.line != start.line and s.key == start.key}
        return set_in in others and start.set_in not in others

    def starts_of(self, line: int) -> list[_Start]:
        """What starts in one line."""
        return [start for start in self.starts if start.line == line]


def _starts(lines: list[_Line]) -> list[_Start]:
    """What starts in the lines: every dash, and every key or item."""
    found: list[_Start] = []
    for number, line in enumerate(lines):
        rest, set_in = line.text.strip(), line.set_in
        if not line.says or line.within:
            continue
        while rest.startswith("- ") and set_in < line.set_in + FARTHEST:
            found.append(
                _Start(
                    line=number, set_in=set_in, key="-", opens=True, dash=True, lacks_colon=False
                )
            )
            inner = rest[1:].lstrip(" ")
            set_in += len(rest) - len(inner)
            rest = inner
        key = _KEY.match(rest)
        name = rest.partition(":")[0].strip() if key else ""
        opens = bool(_OPENS.search(rest))
        item = bool(found) and found[-1].dash and found[-1].line == number
        quoted, flow = rest[0] in "\"'", rest[0] in "[{"
        lacks = not key and not flow and (" " in rest and not quoted if item else True)
        found.append(
            _Start(line=number, set_in=set_in, key=name, opens=opens, dash=False, lacks_colon=lacks)
        )
    return found


def _step(starts: list[_Start]) -> int:
    """How far a block is usually set in, against what holds it."""
    steps = Counter(
        b.set_in - a.set_in
        for a, b in pairwise(starts)
        if a.opens and not a.dash and not b.dash and 0 < b.set_in - a.set_in <= 8
    )
    return steps.most_common(1)[0][0] if steps else 2


def _first(lines: list[str], at: int) -> int:
    """From which line on to look: one that starts a section, not too far above."""
    first = max(0, at - ABOVE)
    return next((i for i in range(first, at) if re.match(r"[^\s#\]})-]", lines[i])), first)


def _lines(lines: list[str], offset: int) -> list[_Line]:
    """The lines that are looked at; brackets by their lines in the text."""
    found: list[_Line] = []
    brackets: list[int] = []
    quote = ""
    for number, line in enumerate(lines, offset):
        bare = line.lstrip(" ")
        within = bool(brackets or quote)
        was = quote
        quote = _scan(line, number, brackets, quote)
        found.append(
            _Line(
                text=line,
                set_in=len(line) - len(bare),
                says=bool(line.strip()) and not bare.startswith("#"),
                within=within,
                brackets=tuple(brackets),
                quoted=bool(quote) and not was,
            )
        )
    return found


def _scan(line: str, number: int, brackets: list[int], quote: str) -> str:
    """Go through one line; keeps the open brackets, and returns the quote that is open then."""
    if not (quote or _MARKS.search(line)) or (quote and quote not in line):
        return quote
    fresh = True  # whether a value may start here
    i = 0
    while i < len(line):
        sign, after = line[i], line[i + 1 : i + 2]
        if quote:
            if (sign == "\\" and quote == '"') or (sign == quote and sign == after == "'"):
                i += 1
            elif sign == quote:
                quote, fresh = "", False
        elif sign == "#" and (i == 0 or line[i - 1] in " \t"):
            break
        elif sign in "'\"" and fresh:
            quote = sign
        elif sign in "[{" and fresh and len(brackets) < DEEPEST:
            brackets.append(number)
        elif sign in "]}" and brackets:
            brackets.pop()
            fresh = False
        elif sign not in " \t":
            parts = sign == "," and bool(brackets)
            fresh = parts or (after in ("", " ") and (sign == ":" or (sign in "-?" and fresh)))
        i += 1
    return quote
