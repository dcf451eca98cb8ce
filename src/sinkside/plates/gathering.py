"""A walk along the items of a plate: facts are gathered round the voltages they belong to."""

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from sinkside.plates.drafts import Draft, Loose, Stretch, taken
from sinkside.plates.items import Drawn, Item, Label, Mark, PoleRun, Ports, Quantity, Word
from sinkside.plates.neighbours import Neighbours, is_volts, is_word
from sinkside.plates.polarity import Evidence, evidence
from sinkside.plates.portsets import goes_on, headed_by, meant, same_sum, together
from sinkside.plates.reading import type_of_profile
from sinkside.plates.roles import roles

_SEPARATES = {"COMMA", "SLASH", "BAR", "OR", "NL", "RPAR"}
_LEADS_TO_VOLTS = {"COLON", "LPAR", "EQ", "NAME", "MAX", "MULTIPLE"}
_LABELLED_VOLTS = _LEADS_TO_VOLTS | {"FILLER", "DOT", "NL", "USB", "NOISE"}
_PASSED_BACK = {"RPAR", "LPAR", "MAX", "NAME"}
_UNDERSTOOD = {
    "COMMA", "SLASH", "BAR", "OR", "AND", "NL", "LPAR", "RPAR", "AT", "COLON", "EQ", "DASH",
    "WITH", "NAME", "MAX", "PEAK", "TOTAL", "EACH", "PPS", "AVS", "USB", "DOT",
}  # fmt: skip
_PROFILES: dict[str, type_of_profile] = {"PPS": "pps", "AVS": "avs"}
_HIGHEST_V = 1000.0


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
    usb
        Whether a word of the USB standards stands anywhere.
    doubts
        Pieces that can be read in more than one way, with the reason.
    evidences
        What is said about the centre contact.
    ignored
        Pieces that say nothing about ratings.
    """

    drafts: list[Draft] = field(default_factory=list)
    shared: list[Ports] = field(default_factory=list)
    total: Quantity | None = None
    loose: list[Loose] = field(default_factory=list)
    usb: bool = False
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
        self.near = Neighbours(items, line_starts)
        self.roles = roles(items)
        self.found = Gathered()
        self.stretch = Stretch()
        self.current: Draft | None = None
        self.column: list[Draft] = []
        self.placed_up_to = 0
        self.waiting: dict[str, list[Loose]] = {}
        self.leading: list[Mark] = []
        self.label_marks: list[Mark] = []
        self.profile: type_of_profile | None = None
        self.half_label = ""
        self.headed: set[str] = set()

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

    def follows_a_fact(self, index: int) -> bool:
        """Whether what stands before an index is a figure of the present voltage, on its line."""
        if self.current is None or self.near.line(self.items[index]) != self.current.line:
            return False
        for item in reversed(self.items[max(0, index - 4) : index]):
            if not is_word(item, _PASSED_BACK):
                return isinstance(item, Quantity | Mark)
        return False

    def in_present_stretch(self) -> bool:
        """Whether the present voltage stands in the present stretch."""
        return self.current is not None and self.current.stretch is self.stretch

    def doubt(self, item: Item, why: str) -> None:
        """Note that a piece can be read in more than one way."""
        self.found.doubts.append((item, why))

    def quantity(self, index: int, item: Quantity) -> None:
        """A figure: a new voltage, or a fact of the present one."""
        said = self.roles[index]
        if index < self.placed_up_to:
            return
        if "FUSE" in said or item.unit == "OTHER":
            self.found.ignored.append(item)
        elif "CELL" in said:
            self.doubt(item, "the voltage of cells or a battery, not of a supply")
        elif "ASIDE" in said:
            self.doubt(item, "stands with a word that makes it no rating")
        elif item.unit == "V":
            self.volts(index, item)
        elif item.unit == "W" and said & {"TOTAL", "PEAK"}:
            self.whole_power(item, said)
        elif item.unit == "W" and self.at_shared_ports():
            self.second_power(item, said)
        elif item.unit == "W" and (ports := headed_by(self.items, index)) and self.rules(ports):
            self.stretch.ports = replace(ports, power=item)
            self.found.shared.append(self.stretch.ports)
        elif item.unit == "A" and len(self.column) > 1 and is_volts(self.near.before(index)):
            self.columns(index)
        else:
            if item.unit == "A" and is_word(self.near.before(index), {"MULTIPLE"}):
                self.doubt(item, "several of one kind")
            self.fact(self.loose(item, said))

    def loose(self, item: Quantity, said: set[str]) -> Loose:
        """A figure that looks for its voltage in the present stretch."""
        return Loose(quantity=item, roles=said, stretch=self.stretch, line=self.near.line(item))

    def volts(self, index: int, item: Quantity) -> None:
        """A new voltage takes the marks and facts that wait for it."""
        if max(max(-amount.low, amount.high) for amount in item.amounts) > _HIGHEST_V:
            self.doubt(item, "too high for the rating of a supply")
            return
        draft = Draft(
            volts=item,
            stretch=self.stretch,
            line=self.near.line(item),
            marks=[*self.leading, *item.marks],
            led=bool(self.leading),
            ports=self.stretch.ports,
            notes=list(item.notes),
        )
        self.leading = []
        if is_word(self.near.before(index), {"MULTIPLE"}):
            draft.notes.append("several of one kind")
        if not draft.spans:
            self.profile = None
        draft.profile = self.profile or "fixed"
        self.found.drafts.append(draft)
        self.stretch.has_volts = True
        self.column = [*self.column, draft] if is_volts(self.near.before(index)) else [draft]
        self.current = draft
        for loose in self.waiting.pop(self.stretch.side, []):
            # What stands above the ports is not one port's.
            apart = draft.ports is not None and loose.stretch.ports is not draft.ports
            if apart or not taken(draft, loose):
                self.found.loose.append(loose)

    def fact(self, loose: Loose) -> None:
        """Give a current, power or frequency to the present voltage, or let it wait."""
        if not (self.current and taken(self.current, loose)):
            self.waiting.setdefault(loose.stretch.side, []).append(loose)

    def columns(self, index: int) -> None:
        """Several voltages, then one current for all, or one for each: `5V 12V 2A 1A`."""
        currents = self.near.run_of(index, "A")
        self.placed_up_to = index + len(currents)
        if len(currents) not in {1, len(self.column)}:
            for current in currents:
                self.doubt(current, "not as many currents as voltages")
            return
        paired = len(currents) > 1
        for at, draft in enumerate(self.column):
            draft.current = currents[at if paired else 0]
        why = "paired with the voltages in order" if paired else "one current for several voltages"
        self.doubt(currents[0], why)

    def whole_power(self, item: Quantity, said: set[str]) -> None:
        """A power that is called a total or a peak."""
        if "TOTAL" not in said:
            self.doubt(item, "a peak power, which has no place in a rating")
        elif self.found.total is None:
            self.found.total = item
        elif self.found.total.amounts[-1].high != item.amounts[-1].high:
            self.doubt(item, "a second total power")

    def at_shared_ports(self) -> bool:
        """Whether the present stretch is that of the last ports with power, without a voltage."""
        return self.current is None and self.stretch.ports in self.found.shared[-1:]

    def rules(self, ports: Ports) -> bool:
        """Whether the present stretch is that of these ports."""
        return self.stretch.ports is ports

    def second_power(self, item: Quantity, said: set[str]) -> None:
        """A second power for the same ports: their sum, or the parts of a sum."""
        ports = self.found.shared[-1]
        first = ports.power.amounts if ports.power else ()
        if same_sum(first, item.amounts):
            if len(first) == 1 and len(item.amounts) == len(ports.names):
                self.found.shared[-1] = replace(ports, power=item)
        elif ports.together and self.near.line(item) != self.near.line(ports):
            # On a line of its own it speaks of the whole plate.
            self.stretch = Stretch(side=self.stretch.side)
            self.found.loose.append(self.loose(item, said))
        else:
            self.doubt(item, "not the power that stands at these ports already")

    def label(self, index: int, item: Label) -> None:
        """A label rules what follows; behind a figure without one it names that figure."""
        if not item.colon and self.near.is_half(index):
            self.half_label = item.side
            return
        side = "BOTH" if self.half_label not in {"", item.side} else item.side
        self.half_label = ""
        if self.near.heads_columns(index):
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

    def names_what_stands_before(self, index: int, item: Label) -> bool:
        """Whether a label speaks of the voltage before it: `12V IN 2A`, `9V⎓ OUTPUT`."""
        if item.colon or self.current is None or self.stretch.side:
            return False
        if not self.in_present_stretch() or self.near.line(item) != self.current.line:
            return False
        if self.near.labels_follow:
            return True
        after = self.near.ahead(index, _LABELLED_VOLTS)
        return not is_volts(after) and not isinstance(after, Ports) and self.follows_a_fact(index)

    def open(self, index: int, side: str) -> None:
        """Begin a stretch for a label."""
        before = self.near.before(index)
        while isinstance(before, Mark):
            index -= 1
            before = self.near.before(index)
        ports = self.stretch.ports if isinstance(before, Ports) else None
        if self.current and self.current.side != side:
            self.current = None
        self.stretch = Stretch(
            side=side,
            marks=self.label_marks,
            ports=ports,
            usb=is_word(before, {"USB"}) or (ports is not None and ports.usb),
            labelled=True,
        )
        self.profile = None

    def ports(self, index: int, item: Ports) -> None:
        """Ports open a stretch of their own; behind a figure they name that figure's port."""
        self.found.usb = self.found.usb or item.usb
        if item.power or is_volts(self.near.ahead(index, _LEADS_TO_VOLTS)):
            item, doubtful = meant(item, self.headed)
            if doubtful:
                self.doubt(item, "each of these ports, or all of them together")
        if item.power and goes_on(self.items, index):
            item = together(self.found.shared.pop(), item)
        if item.power:
            self.found.shared.append(item)
        elif self.ports_stand_behind(index, item):
            self.name_ports(item)
            return
        usb = item.usb or (self.stretch.usb and self.stretch.ports is None)
        side, marks = self.stretch.side, self.stretch.marks
        heads = item.colon or self.near.begins_a_line(index)
        if side == "INPUT" and self.stretch.has_volts and not self.stretch.ports and heads:
            # A port's name as a heading ends an input that has its rating already.
            side, marks = "OUTPUT", []
        self.stretch = Stretch(side=side, marks=marks, ports=item, usb=usb)
        self.current = None
        self.profile = None
        self.headed.update(item.names)

    def ports_stand_behind(self, index: int, item: Ports) -> bool:
        """Whether ports speak of the figures before them: `5V⎓2A (USB)`."""
        if item.colon or self.current is None or self.current.ports:
            return False
        after = self.near.ahead(index, _LABELLED_VOLTS - {"NL"})
        ahead = is_volts(after) or isinstance(after, Label)
        return self.in_present_stretch() and not ahead and self.follows_a_fact(index)

    def name_ports(self, item: Ports) -> None:
        """Give the ports to the voltages on this line of this stretch."""
        line = self.near.line(item)
        for draft in reversed(self.found.drafts):
            if draft.stretch is not self.stretch or draft.ports or draft.line != line:
                break
            draft.ports = item

    def mark(self, index: int, item: Mark) -> None:
        """A sign for the kind of current: of a label, of the next voltage or of the present."""
        before, after = self.near.before(index), self.near.after(index)
        behind = self.follows_a_fact(index)
        unmarked = self.current is not None and not self.current.marks
        volts = self.near.ahead(index, _LEADS_TO_VOLTS | {"NL"})
        taken_back = behind and unmarked
        if isinstance(after, Label):
            self.label_marks.append(item)
        elif isinstance(before, Label) and self.stretch.side and not before.colon:
            self.stretch.marks.append(item)
        elif isinstance(volts, Quantity) and volts.unit == "V" and not (taken_back and volts.marks):
            self.leading.append(item)
        elif self.current is not None and (behind or (unmarked and self.continues(index))):
            # A second sign that contradicts the first is told by `kind`.
            self.current.marks.append(item)
        else:
            self.found.ignored.append(item)

    def continues(self, index: int) -> bool:
        """Whether an item goes on with the present voltage, on its line or at the next start."""
        same = self.current is not None and (self.near.line(self.items[index]) == self.current.line)
        return same or self.near.follows_a_figure_over_a_line_end(index)

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
            self.stretch.usb = self.found.usb = True
        elif item.kind == "MUDDLE":
            self.doubt(item, item.note)
        elif item.kind in {"ADAPTER", "DC_ADAPTER"}:
            self.adapter(index, item)
        elif item.kind == "NUMBER" and self.wants_a_unit(index):
            self.doubt(item, "a number without a unit beside a rating")
        elif item.kind not in _UNDERSTOOD:
            self.found.ignored.append(item)

    def wants_a_unit(self, index: int) -> bool:
        """Whether a bare number stands where a rating has one: `9V⎓ 500`, `100 AC`."""
        before, after = self.near.before(index), self.near.after(index)
        return is_volts(before) or isinstance(before, Mark) or isinstance(after, Mark)

    def adjustable(self, index: int, item: Word) -> None:
        """`PPS` and `AVS` rule the ranges behind them, or the range before them."""
        self.stretch.usb = self.found.usb = True
        after = self.near.after(index)
        ends = after is None or is_word(after, _SEPARATES)
        last = self.current
        if last and last.spans and last.profile == "fixed" and ends and self.follows_a_fact(index):
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
