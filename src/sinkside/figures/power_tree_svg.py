"""The power tree as SVG, for the page and for paper.

Every port is a bar on one scale of amps: the open box is what the port offers at the worst, what
is drawn for long is heavy in it, peaks are hatched; what goes over the box is drawn over its
end. Nothing is told by colour alone, and nothing refers to anything by name.
"""

import math
from collections.abc import Iterator, Sequence

from sinkside.figures import svg
from sinkside.figures.labels import cells, wrapped
from sinkside.figures.look import ACCENT
from sinkside.figures.power_tree import Branch, Load, Tree, margin_words
from sinkside.figures.svg import CELL

NARROWEST = 320.0
"""The least width at which a port, its bar and its words have room."""

_EDGE, _TRUNK, _TEXT = 6.0, 12.0, 26.0
_LINE, _BAR, _GAP, _APART = 12.0, 9.0, 5.0, 14.0
_SCALE = 20.0
_HATCH = 3.0
# A name or a state can go on for lines; the description has them in full.
_MOST_LINES = 3


def power_tree_svg(
    trees: Sequence[Tree], *, title: str = "Power tree", width: float = 560.0
) -> str:
    """Draw power trees one below the other.

    Parameters
    ----------
    title
        What the drawing is of, for those who hear it.
    width
        In units of a tenth of the type size; the height follows.

    Raises
    ------
    ValueError
        The drawing is narrower than `NARROWEST`.

    Notes
    -----
    The same trees give the same bytes.
    """
    if width < NARROWEST:
        raise ValueError(f"a power tree needs a width of {NARROWEST:g} or more, not {width:g}")
    scale = _Scale(trees, width)
    parts: list[str] = []
    y = 4.0
    for tree in trees:
        y = _tree(tree, scale, y, parts)
    if scale.full_a > 0.0:
        parts += _foot(scale, y)
        y += _SCALE
    return svg.document("tree", title, description(trees), width, y + 4.0, parts)


def description(trees: Sequence[Tree]) -> str:
    """The drawing in words: each charger with its sums, then each of its ports."""
    sentences = []
    for tree in trees:
        sentences.append(f"{tree.name}: {tree.total}.")
        sentences += [f"{branch.port}: {_said(branch)}." for branch in tree.branches]
    return " ".join(sentences) or "There is no charger."


def _said(branch: Branch) -> str:
    load = branch.load
    if load is None:
        return branch.spare
    drawn = f"{load.contract}, {load.device}, {load.action}"
    return f"{drawn}, {margin_words(load)}, worst in {load.state}"


class _Scale:
    """Amps to the right, the same for every port of the drawing."""

    def __init__(self, trees: Sequence[Tree], width: float) -> None:
        self.left, self.right = _TEXT, width - _EDGE - CELL
        loads = [load for tree in trees for load in tree.loads]
        amps = [a for x in loads for a in (x.offer_a, x.peak_a) if math.isfinite(a)]
        self.full_a = max(amps, default=0.0)
        self.cells = int((width - _TEXT - _EDGE) / CELL)

    def x(self, amps: float) -> float:
        share = amps / self.full_a if self.full_a else 0.0
        return self.left + min(max(share, 0.0), 1.0) * (self.right - self.left)


def _tree(tree: Tree, scale: _Scale, y: float, parts: list[str]) -> float:
    """One charger from `y` down; where it ends."""
    where = f" ({tree.at})" if tree.at else ""
    for k, line in enumerate(_wrapped(f"{tree.name}{where}", scale)):
        y += _LINE
        parts.append(svg.text(_EDGE, y, line, "tree-charger", bold=k == 0))
    for line in _wrapped(tree.total, scale):
        y += _LINE
        parts.append(svg.text(_TEXT, y, line, "tree-total"))
    top, knee = y + 3.0, y
    y += 3.0
    for branch in tree.branches:
        knee = y + _LINE - 3.5
        parts.append(svg.line(_TRUNK, knee, _TEXT - 4, knee, "tree-branch", 1.1))
        y = _branch(branch, scale, y, parts) + _GAP
    if tree.branches:
        parts.append(svg.line(_TRUNK, top, _TRUNK, knee, "tree-trunk", 1.1))
    return y + _APART - _GAP


def _branch(branch: Branch, scale: _Scale, y: float, parts: list[str]) -> float:
    load = branch.load
    if load is None:
        for line in _wrapped(f"{branch.port}: {branch.spare}", scale):
            y += _LINE
            parts.append(svg.text(_TEXT, y, line, "tree-spare"))
        return y
    said = f"{branch.port}: {load.contract}, {load.device}, {load.action}"
    for line in _wrapped(said, scale):
        y += _LINE
        parts.append(svg.text(_TEXT, y, line, "tree-port"))
    y += 4.0
    parts += _bar(load, scale, y)
    y += _BAR
    for line in _wrapped(f"{margin_words(load)}, {load.state}", scale):
        y += _LINE
        parts.append(svg.text(_TEXT, y, line, "tree-margin"))
    return y


def _wrapped(text: str, scale: _Scale) -> tuple[str, ...]:
    return wrapped(text, scale.cells, _MOST_LINES)


def _bar(load: Load, scale: _Scale, y: float) -> Iterator[str]:
    """The offer as an open box, what is drawn for long heavy in it, and peaks hatched."""
    offer = scale.x(load.offer_a)
    no_end = math.isnan(load.peak_a)
    peak = scale.right if no_end else scale.x(load.peak_a)
    steady = scale.left if math.isnan(load.steady_a) else scale.x(load.steady_a)
    yield svg.box(scale.left, y, offer - scale.left, _BAR, "tree-offer", weight=0.9)
    yield svg.hatched("tree-peaks", _HATCH, 0.8, steady, peak, y + 1.5, y + _BAR - 1.5)
    yield svg.box(scale.left, y + 2, steady - scale.left, _BAR - 4, "tree-steady", fill=ACCENT)
    yield svg.line(peak, y - 1, peak, y + _BAR + 1, "tree-peak", 1.7)
    if peak > offer:
        yield svg.line(offer, y - 3, offer, y + _BAR + 3, "tree-limit", 2.2)


def _foot(scale: _Scale, y: float) -> Iterator[str]:
    """The scale of amps under all bars."""
    yield svg.line(scale.left, y, scale.right, y, "tree-scale", 0.9)
    ends = -math.inf
    for amps in ticks(scale.full_a):
        x, label = scale.x(amps), f"{amps:g}"
        half = cells(label) * CELL / 2
        yield svg.line(x, y, x, y + 4, "tree-tick", 0.9)
        if x - half > ends and x + half < scale.right - 2:
            yield svg.text(x - half, y + 13, label, "tree-amps")
            ends = x + half + 3
    yield svg.text(scale.right, y + 13, "A", "tree-unit")


def ticks(full_a: float) -> tuple[float, ...]:
    """Round amps for the scale: no more than ten."""
    steps = (m * 10.0**e for e in range(-4, 3) for m in (1, 2, 5))
    step = next((s for s in steps if full_a / s <= 10), full_a)
    return tuple(round(k * step, 6) for k in range(math.floor(full_a / step + 1e-9) + 1))
