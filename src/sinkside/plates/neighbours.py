"""What stands beside an item of a plate."""

from bisect import bisect_right
from collections.abc import Sequence

from sinkside.plates.items import Item, Label, Mark, Quantity, Word

_BETWEEN_HEADS = {"NL", "BAR", "NAME"}
_FAR = 8


class Neighbours:
    """The items of a plate with readers for what stands around each.

    Parameters
    ----------
    items
        The items of the grammar, in order.
    line_starts
        Where each line of the mapped text starts.
    """

    def __init__(self, items: Sequence[Item], line_starts: Sequence[int]) -> None:
        self.items = items
        self.line_starts = line_starts
        self.labels_follow = _labels_follow(items)

    def line(self, item: Item) -> int:
        """The line of an item, from 0."""
        return bisect_right(self.line_starts, item.start) - 1

    def before(self, index: int) -> Item | None:
        """The item before."""
        return self.items[index - 1] if index else None

    def after(self, index: int) -> Item | None:
        """The item behind."""
        return self.items[index + 1] if index + 1 < len(self.items) else None

    def ahead(self, index: int, passed: set[str]) -> Item | None:
        """The next item that is no mark and not one of the words to pass over."""
        for item in self.items[index + 1 : index + 1 + _FAR]:
            if not (isinstance(item, Mark) or is_word(item, passed)):
                return item
        return None

    def is_half(self, index: int) -> bool:
        """Whether a label is the first half of `INPUT/OUTPUT`."""
        label, *pair = self.items[index : index + 3]
        if len(pair) < 2 or not is_word(pair[0], {"SLASH", "AND"}):
            return False
        second = pair[1]
        return isinstance(label, Label) and isinstance(second, Label) and label.side != second.side

    def heads_columns(self, index: int) -> bool:
        """Whether two labels stand side by side on a line of their own."""
        label = self.items[index]
        if not isinstance(label, Label) or not is_word(self.after(index), {"NL"}):
            return False
        for before in reversed(self.items[max(0, index - 4) : index]):
            if isinstance(before, Label):
                return before.side != label.side and self.line(before) == self.line(label)
            if not is_word(before, _BETWEEN_HEADS):
                return False
        return False

    def begins_a_line(self, index: int) -> bool:
        """Whether nothing stands before an item on its line."""
        before = self.before(index)
        return before is None or is_word(before, {"NL"})

    def follows_a_figure_over_a_line_end(self, index: int) -> bool:
        """Whether a figure ends the line before."""
        figure, end = self.items[max(0, index - 2) : index] if index > 1 else (None, None)
        return isinstance(figure, Quantity) and is_word(end, {"NL"})

    def run_of(self, index: int, unit: str) -> list[Quantity]:
        """The figures with one unit that stand side by side from an index on."""
        found: list[Quantity] = []
        for item in self.items[index:]:
            if not (isinstance(item, Quantity) and item.unit == unit):
                break
            found.append(item)
        return found


def is_word(item: Item | None, kinds: set[str]) -> bool:
    """Whether an item is a word of one of some kinds."""
    return isinstance(item, Word) and item.kind in kinds


def is_volts(item: Item | None) -> bool:
    """Whether an item is a voltage."""
    return isinstance(item, Quantity) and item.unit == "V"


def _labels_follow(items: Sequence[Item]) -> bool:
    """Whether the labels of a plate stand behind what they name."""
    labels = [index for index, item in enumerate(items) if isinstance(item, Label)]
    volts = [index for index, item in enumerate(items) if is_volts(item)]
    if not labels or not volts or any(isinstance(x, Label) and x.colon for x in items):
        return False
    figures_behind = any(isinstance(item, Quantity) for item in items[labels[-1] :])
    return volts[0] < labels[0] and not figures_behind
