"""The power tree as lines of text, for a terminal."""

import math
from collections.abc import Iterator, Sequence

from sinkside.figures.labels import cells, clean, wrapped
from sinkside.figures.power_tree import Load, Tree, margin_words

LEGEND = "═ for long  ─ at peaks  · left of what the port offers  ▶ more than it offers"
_NARROWEST = 48


def power_tree_text(trees: Sequence[Tree], width: int = 98) -> list[str]:
    """Draw power trees one below the other.

    Parameters
    ----------
    width
        Columns that a line may take.

    Raises
    ------
    ValueError
        It is narrower than a bar with its port.
    """
    if width < _NARROWEST:
        raise ValueError(f"a power tree needs {_NARROWEST} columns or more, not {width}")
    found = []
    for tree in trees:
        found += [*_tree(tree, width), ""]
    return found[:-1]


def _tree(tree: Tree, width: int) -> Iterator[str]:
    where = f" ({tree.at})" if tree.at else ""
    yield from _text("", f"{tree.name}{where}: {tree.total}", width)
    for k, branch in enumerate(tree.branches):
        last = k == len(tree.branches) - 1
        knee, rest = ("└─ ", "   ") if last else ("├─ ", "│  ")
        port = clean(branch.port)
        indent = rest + " " * (cells(port) + 2)
        load = branch.load
        if load is None:
            yield from _text(f"{knee}{port}  ", branch.spare, width, indent)
            continue
        said = f"{load.contract}  {load.device}: {load.action}"
        yield from _text(f"{knee}{port}  ", said, width, indent)
        yield f"{indent}{_bar(load, min(40, width - cells(indent)))}"
        yield from _text(indent, f"{margin_words(load)} [{load.state}]", width, indent)


def _text(begin: str, text: str, width: int, indent: str = "   ") -> Iterator[str]:
    room = max(8, width - max(cells(begin), cells(indent)))
    for k, line in enumerate(wrapped(text, room, 99)):
        yield f"{indent if k else begin}{line}"


def _bar(load: Load, width: int) -> str:
    """From nothing to what the port offers, or to the peak where that is more."""
    room = width - 2
    peak = math.inf if math.isnan(load.peak_a) else load.peak_a
    if not load.offer_a > 1e-9 or math.isinf(peak):
        return "│" + "─" * (room - 1) + "▶│"
    full = max(load.offer_a, peak)
    to = [min(room, math.ceil(round(x / full * room, 9))) for x in (load.steady_a, peak)]
    line = ["·"] * room
    line[: to[1]] = "─" * to[1]
    line[: to[0]] = "═" * to[0]
    if peak > load.offer_a + 1e-9:
        line[-1] = "▶"
    return f"│{''.join(line)}│"
