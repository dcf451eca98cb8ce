"""A walk along the items of a plate: facts are gathered round the voltages they belong to."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from sinkside.plates.drafts import Draft, Loose, Stretch, taken
from sinkside.plates.items import Drawn, Item, Label, Mark, PoleRun, Ports, Quantity, Word
from sinkside.plates.polarity import Evidence, evidence
from sinkside.plates.reading import type_of_profile
from sinkside.plates.roles import roles

_SEPARATES = {"COMMA", "SLASH", "BAR", "OR", "NL", "RPAR"}
_LEADS_TO_VOLTS = {"COLON", "LPAR", "EQ", "NAME", "MAX", "MULTIPLE"}
_LABELLED_VOLTS = _LEADS_TO_VOLTS | {"FILLER", "DOT", "NL", "USB", "NOISE"}
_PASSED_BACK = {"RPAR", "LPAR", "MAX", "NAME"}
_BETWEEN_HEADS = {"NL", "BAR", "NAME"}
_UNDERSTOOD = {
    "COMMA", "SLASH", "BAR", "OR", "AND", "NL", "LPAR", "RPAR", "AT", "COLON", "EQ", "DASH",
    "WITH", "NAME", "MAX", "PEAK", "TOTAL", "EACH", "PPS", "AVS", "USB", "DOT",
}  # fmt: skip
_PROFILES: dict[str, type_of_profile] = {"PPS": "pps", "AVS": "avs"}
_HIGHEST_V = 1000.0
_FAR = 8


@dataclass(kw_only=True, slots=True)
class Gathered:
    """All that the walk found.

    Parameters
    ----------
    drafts
        Voltages with their facts.
    shared
        Ports with power.
    total
        Power that is called a total.
    loose
        Figures that found no voltage.
    doubts
        Pieces that can be read in more than one way, with the reason.
    evidences
        What is said about the centre contact.
    ignored
        Spans that say nothing about ratings.
    """

    drafts: list[Draft] = field(default_factory=list)
    shared: list[Ports] = field(default_factory=list)
    total: Quantity | None = None
    loose: list[Loose] = field(default_factory=list)
    doubts: list[tuple[Item, str]] = field(default_factory=list)
    evidences: list[Evidence] = field(default_factory=list)
    ignored: list[Item] = field(default_factory=list)


def gathered(items: Sequence[Item], line_starts: Sequence[int]) -> Gathered:
    """Gather facts round voltages.

    Parameters
    ----------
    items
        The items of the grammar, in order.
    line_starts
        Where each line of the mapped text starts.
    """
    walk = _Walk(items, line_starts)
    for index in range(len(items)):
        walk.step(index)
    for waiting in walk.waiting.values():
        walk.found.loose.extend(waiting)
    return walk.found


class _Walk:
    """Where the walk stands: the stretch, the voltage that takes facts, and what waits."""

    def __init__(self, items: Sequence[Item], line_starts: Sequence[int]) -> None:
        self.items = items
        self.roles = roles(items)
        self.line_starts = line_starts
        self.found = Gathered()
        self.stretch = Stretch()
        self.current: Draft | None = None
        self.waiting: dict[str, list[Loose]] = {}
        self.leading: list[Mark] = []
        self.label_marks: list[Mark] = []
        self.profile: type_of_profile | None = None
        self.half_label = ""
        self.labels_follow = _labels_follow(items)

    def step(self, index: int) -> None:
        """Take the item at an index."""
        item = self.items[index]
        match item:
            case Quantity():
                self.quantity(index, item)
            case Label():
                self.label(index, item)
            case Ports():
                self.ports(index, item)
            case Mark():
                self.mark(index, item)
            case PoleRun() | Drawn():
                self.polarity(item)
            case Word():
                self.word(index, item)

    def line(self, item: Item) -> int:
        """The line of an item, from 0."""
        return bisect_right(self.line_starts, item.start) - 1

    def ahead(self, index: int, passed: set[str]) -> Item | None:
        """The next item that is no mark and not one of the words to pass over."""
        for item in self.items[index + 1 : index + 1 + _FAR]:
            if not (isinstance(item, Mark) or (isinstance(item, Word) and item.kind in passed)):
                return item
        return None

    def follows_a_fact(self, index: int) -> bool:
        """Whether what stands before an index is a figure of the present voltage, on its line."""
        if self.current is None or self.line(self.items[index]) != self.current.line:
            return False
        for item in reversed(self.items[max(0, index - 4) : index]):
            if not (isinstance(item, Word) and item.kind in _PASSED_BACK):
                return isinstance(item, Quantity | Mark)
        return False

    def doubt(self, item: Item, why: str) -> None:
        """Note that a piece can be read in more than one way."""
        self.found.doubts.append((item, why))

    def quantity(self, index: int, item: Quantity) -> None:
        """A figure: a new voltage, or a fact of the present one."""
        said = self.roles[index]
        if "FUSE" in said or item.unit == "OTHER":
            self.found.ignored.append(item)
        elif "CELL" in said:
            self.doubt(item, "the voltage of cells or a battery, not of a supply")
        elif "ASIDE" in said:
            self.doubt(item, "stands with a word that makes it no rating")
        elif item.unit == "V":
            self.volts(index, item)
        elif item.unit == "W" and "TOTAL" in said:
            self.total(item)
        elif item.unit == "W" and "PEAK" in said:
            self.doubt(item, "a peak power, which has no place in a rating")
        elif (
            item.unit == "W"
            and self.current is None
            and self.stretch.ports in self.found.shared[-1:]
        ):
            self.split(item)
        else:
            self.fact(Loose(quantity=item, roles=said, stretch=self.stretch))

    def split(self, item: Quantity) -> None:
        """A second power for the same ports: their sum, or the parts of a sum."""
        ports = self.found.shared[-1]
        first = ports.power.amounts if ports.power else ()
        sums = [sum(amount.high for amount in amounts) for amounts in (first, item.amounts)]
        if abs(sums[0] - sums[1]) > 1e-9:
            self.doubt(item, "not the power that stands at these ports already")
        elif len(first) == 1 and len(item.amounts) == len(ports.names):
            self.found.shared[-1] = replace(ports, power=item)

    def total(self, item: Quantity) -> None:
        """A power that is called a total."""
        if self.found.total is None:
            self.found.total = item
        elif self.found.total.amounts[-1].high != item.amounts[-1].high:
            self.doubt(item, "a second total power")

    def volts(self, index: int, item: Quantity) -> None:
        """A new voltage takes the marks and facts that wait for it."""
        if max(amount.high for amount in item.amounts) > _HIGHEST_V:
            self.doubt(item, "too high for the rating of a supply")
            return
        draft = Draft(
            volts=item,
            stretch=self.stretch,
            line=self.line(item),
            marks=[*self.leading, *item.marks],
            led=bool(self.leading),
            ports=self.stretch.ports,
            notes=list(item.notes),
        )
        self.leading = []
        before = self.items[index - 1] if index else None
        if isinstance(before, Word) and before.kind == "MULTIPLE":
            draft.notes.append("several of one kind")
        if not draft.spans:
            self.profile = None
        draft.profile = self.profile or "fixed"
        self.found.drafts.append(draft)
        self.current = draft
        for loose in self.waiting.pop(self.stretch.side, []):
            if not taken(draft, loose):
                self.found.loose.append(loose)

    def fact(self, loose: Loose) -> None:
        """Give a current, power or frequency to the present voltage, or let it wait."""
        if not (self.current and taken(self.current, loose)):
            self.waiting.setdefault(loose.stretch.side, []).append(loose)

    def label(self, index: int, item: Label) -> None:
        """A label rules what follows; behind a figure without one it names that figure."""
        if not item.colon and self.is_half(index, item):
            self.half_label = item.side
            return
        side = "BOTH" if self.half_label not in {"", item.side} else item.side
        self.half_label = ""
        if self.heads_columns(index, item):
            self.stretch = Stretch(header=True)
            self.current = None
        elif self.names_what_stands_before(index, item):
            self.stretch.side = side
            if self.current:
                self.current.marks.extend(self.label_marks)
            self.stretch = Stretch(ports=self.stretch.ports)
        else:
            self.open(index, side)
        self.label_marks = []

    def is_half(self, index: int, item: Label) -> bool:
        """Whether the label is the first half of `INPUT/OUTPUT`."""
        pair = self.items[index + 1 : index + 3]
        return (
            len(pair) == 2
            and isinstance(pair[0], Word)
            and pair[0].kind in {"SLASH", "AND"}
            and isinstance(pair[1], Label)
            and pair[1].side != item.side
        )

    def heads_columns(self, index: int, item: Label) -> bool:
        """Whether two labels stand side by side on a line of their own."""
        after = self.items[index + 1] if index + 1 < len(self.items) else None
        if not (isinstance(after, Word) and after.kind == "NL"):
            return False
        for before in reversed(self.items[max(0, index - 4) : index]):
            if isinstance(before, Label):
                return before.side != item.side and self.line(before) == self.line(item)
            if not (isinstance(before, Word) and before.kind in _BETWEEN_HEADS):
                return False
        return False

    def names_what_stands_before(self, index: int, item: Label) -> bool:
        """Whether a label speaks of the voltage before it: `12V IN 2A`, `9V⎓ OUTPUT`."""
        if item.colon or self.current is None or self.stretch.side or not self.stretch_has_volts():
            return False
        if self.line(item) != self.current.line:
            return False
        if self.labels_follow:
            return True
        after = self.ahead(index, _LABELLED_VOLTS)
        return not is_volts(after) and not isinstance(after, Ports) and self.follows_a_fact(index)

    def stretch_has_volts(self) -> bool:
        """Whether the present voltage stands in the present stretch."""
        return self.current is not None and self.current.stretch is self.stretch

    def open(self, index: int, side: str) -> None:
        """Begin a stretch for a label."""
        before = self.items[index - 1] if index else None
        while isinstance(before, Mark) and index > 1:
            index -= 1
            before = self.items[index - 1]
        ports = self.stretch.ports if isinstance(before, Ports) else None
        usb = isinstance(before, Word) and before.kind == "USB"
        if self.current and self.current.side != side:
            self.current = None
        self.stretch = Stretch(
            side=side,
            marks=self.label_marks,
            ports=ports,
            usb=usb or (ports is not None and ports.usb),
        )
        self.profile = None

    def ports(self, index: int, item: Ports) -> None:
        """Ports open a stretch of their own; behind a figure they name that figure's port."""
        if item.power:
            self.found.shared.append(item)
        elif self.ports_stand_behind(index, item):
            self.name_ports(item)
            return
        usb = item.usb or (self.stretch.usb and self.stretch.ports is None)
        self.stretch = Stretch(
            side=self.stretch.side, marks=self.stretch.marks, ports=item, usb=usb
        )
        self.current = None
        self.profile = None

    def ports_stand_behind(self, index: int, item: Ports) -> bool:
        """Whether ports speak of the figures before them: `5V⎓2A (USB)`."""
        if item.colon or self.current is None or self.current.ports or not self.stretch_has_volts():
            return False
        after = self.ahead(index, _LABELLED_VOLTS - {"NL"})
        ahead = is_volts(after) or isinstance(after, Label)
        return not ahead and self.follows_a_fact(index)

    def name_ports(self, item: Ports) -> None:
        """Give the ports to the voltages on this line of this stretch."""
        for draft in reversed(self.found.drafts):
            if draft.stretch is not self.stretch or draft.ports or draft.line != self.line(item):
                break
            draft.ports = item

    def mark(self, index: int, item: Mark) -> None:
        """A sign for the kind of current: of a label, of the next voltage or of the present."""
        after = self.items[index + 1] if index + 1 < len(self.items) else None
        before = self.items[index - 1] if index else None
        behind = self.follows_a_fact(index) and self.current is not None
        unmarked = self.current is not None and not self.current.marks
        volts = self.ahead(index, _LEADS_TO_VOLTS | {"NL"})
        if isinstance(after, Label) and not (behind and unmarked and after.colon):
            self.label_marks.append(item)
        elif isinstance(before, Label) and self.stretch.side and not before.colon:
            self.stretch.marks.append(item)
        elif (
            isinstance(volts, Quantity)
            and volts.unit == "V"
            and not (behind and unmarked and volts.marks)
        ):
            self.leading.append(item)
        elif self.current is not None and (behind or (unmarked and self.continues(index))):
            # A second sign that contradicts the first is told by `kind`.
            self.current.marks.append(item)
        else:
            self.found.ignored.append(item)

    def continues(self, index: int) -> bool:
        """Whether an item goes on with the present voltage, on its line or at the next start."""
        before = self.items[index - 2 : index]
        at_line_start = (
            len(before) == 2
            and isinstance(before[0], Quantity)
            and isinstance(before[1], Word)
            and before[1].kind == "NL"
        )
        same = self.current is not None and self.line(self.items[index]) == self.current.line
        return same or at_line_start

    def polarity(self, item: PoleRun | Drawn) -> None:
        """What is said about the centre contact."""
        said = evidence(item)
        if said:
            self.found.evidences.append(said)
        else:
            self.found.ignored.append(item)

    def word(self, index: int, item: Word) -> None:
        """A word that steers the walk, or says nothing."""
        if item.kind in _PROFILES:
            self.adjustable(index, item)
        elif item.kind == "USB":
            self.stretch.usb = True
        elif item.kind == "MUDDLE":
            self.doubt(item, item.note)
        elif item.kind in {"ADAPTER", "DC_ADAPTER"}:
            self.adapter(index, item)
        elif item.kind not in _UNDERSTOOD:
            self.found.ignored.append(item)

    def adjustable(self, index: int, item: Word) -> None:
        """`PPS` and `AVS` rule the ranges behind them, or the range before them."""
        self.stretch.usb = True
        after = self.items[index + 1] if index + 1 < len(self.items) else None
        ends = after is None or (isinstance(after, Word) and after.kind in _SEPARATES)
        last = self.current
        unclaimed = last is not None and last.spans and last.profile == "fixed"
        if last is not None and unclaimed and ends and self.follows_a_fact(index):
            last.profile = _PROFILES[item.kind]
        else:
            self.profile = _PROFILES[item.kind]

    def adapter(self, index: int, item: Word) -> None:
        """`9V AC ADAPTER` does not say what comes out; `9V DC ADAPTER` does."""
        if self.current is None or self.current.marks or not self.follows_a_fact(index):
            self.found.ignored.append(item)
        elif item.kind == "DC_ADAPTER":
            self.current.marks.append(Mark(says="DC", start=item.start, end=item.end))
        else:
            self.current.adapter = item


def is_volts(item: Item | None) -> bool:
    """Whether an item is a voltage."""
    return isinstance(item, Quantity) and item.unit == "V"


def _labels_follow(items: Sequence[Item]) -> bool:
    """Whether the labels of a plate stand behind what they name."""
    labels = [index for index, item in enumerate(items) if isinstance(item, Label)]
    volts = [index for index, item in enumerate(items) if is_volts(item)]
    if not labels or not volts or any(isinstance(x, Label) and x.colon for x in items):
        return False
    return volts[0] < labels[0] and volts[-1] < labels[-1]
