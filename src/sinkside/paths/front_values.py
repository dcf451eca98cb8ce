"""Fronts in numbers: what parts in a row come to, for many fronts at once.

Each part is looked at once; a front's figures are sums and minima over its parts.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TypeAlias

import numpy as np
from numpy.typing import NDArray

from sinkside.paths.front import Front
from sinkside.paths.part_figures import NONE, QUANTITIES, SCALARS, part_figures
from sinkside.paths.pool import Indices, same
from sinkside.paths.values import FAULT_OF_RATING
from sinkside.paths.views import View
from sinkside.standards.fuse_gates import pulse_ratio

Array: TypeAlias = NDArray[np.float64]
Mask: TypeAlias = NDArray[np.bool_]

QUANTITY_AT = {name: i for i, name in enumerate(QUANTITIES)}
SCALAR_AT = {name: i for i, name in enumerate(SCALARS)}
# How often a lead is plugged in over the years.
PLUG_INS = 10_000


@dataclass(frozen=True, kw_only=True)
class FrontValues:
    """Fronts in numbers, shape (fronts, columns of the view), or (fronts,) where all views agree.

    Parameters
    ----------
    front_ohm, back_ohm, front_least_ohm, back_least_ohm
        Series resistance before and behind the converter, at its most and at its least.
    front_drop_v, back_drop_v
        Most that diodes before and behind the converter take, beside their slope.
    set_low_v, set_high_v, needs_v, efficiency, efficiency_most, quiescent_a, pass_ohm
        Of the converter.
    ramp_s
        Of what softens the step to the contract; nought if nothing does.
    rated_a, rated_port_a
        Of the weakest part on the load side, and of cable and trigger.
    rated_v, rated_load_v
        Of the weakest part up to the converter, and behind it.
    weakest_a
        What the leads carry for as long as a fault lasts.
    opens_before_a, opens_behind_a
        What surely opens a fuse that stands before the converter, or not before it.
    """

    front_ohm: Array
    back_ohm: Array
    front_least_ohm: Array
    back_least_ohm: Array
    front_drop_v: Array
    back_drop_v: Array
    set_low_v: Array
    set_high_v: Array
    needs_v: Array
    efficiency: Array
    efficiency_most: Array
    quiescent_a: Array
    pass_ohm: Array
    ramp_s: Array
    converts: Mask
    steps_down: Mask
    steps_up: Mask
    fuse_in_front: Mask
    rated_a: Array
    rated_port_a: Array
    rated_v: Array
    rated_load_v: Array
    weakest_a: Array
    converter_a: Array
    fuse_a: Array
    fuse_pulse_a2s: Array
    press_v: Array
    opens_before_a: Array
    opens_behind_a: Array


def front_values(fronts: Sequence[Front], view: View) -> FrontValues:
    """Fronts seen through a view; every quantity at its bad end."""
    row = _InRow(fronts, view)
    fuse, lead = row.flag("fuse"), row.flag("lead")
    carries, stands = row.scalar("carries_a"), row.scalar("withstands_v")
    before, behind, at = row.before, row.behind, row.at_converter
    converts = row.any(at)
    load_side = ~fuse & ~row.flag("cable") & ~(before & converts[row.owner])
    ramps = row.flag("ramp") & (row.flag("every_step") | row.gated[row.owner])
    return FrontValues(
        front_ohm=row.sum("most_ohm", before),
        back_ohm=row.sum("most_ohm", behind),
        front_least_ohm=row.sum("least_ohm", before),
        back_least_ohm=row.sum("least_ohm", behind),
        front_drop_v=row.sum("forward_v", before),
        back_drop_v=row.sum("forward_v", behind),
        set_low_v=row.sum("set_low_v", at),
        set_high_v=row.sum("set_high_v", at),
        needs_v=row.sum("needs_v", at),
        efficiency=np.where(converts[:, None], row.sum("efficiency", at), 1.0),
        efficiency_most=np.where(converts[:, None], row.sum("efficiency_most", at), 1.0),
        quiescent_a=row.sum("quiescent_a", at),
        pass_ohm=row.sum("pass_ohm", at),
        ramp_s=row.sum("ramp_s", row.first(ramps)),
        converts=converts,
        steps_down=row.any(at & row.flag("steps_down")),
        steps_up=row.any(at & row.flag("steps_up")),
        fuse_in_front=row.any(before & fuse) & converts,
        rated_a=row.least(carries, load_side),
        rated_port_a=row.least(carries, before & row.flag("port_side")),
        rated_v=row.least(stands, before | at),
        rated_load_v=row.least(stands, behind),
        weakest_a=FAULT_OF_RATING * row.least(carries, lead),
        converter_a=row.least(carries, at),
        fuse_a=row.least(carries, fuse),
        fuse_pulse_a2s=pulse_ratio(PLUG_INS) * row.sum("melts_a2s", row.first(fuse)),
        press_v=1.05 * np.array([max(f.trigger.presses_v, default=0.0) for f in fronts]),
        opens_before_a=row.least(row.scalar("opens_a"), fuse & before),
        opens_behind_a=row.least(row.scalar("opens_a"), fuse & ~before),
    )


class _InRow:
    """The parts of all fronts in one row, with where each stands."""

    def __init__(self, fronts: Sequence[Front], view: View) -> None:
        self.columns = view.columns
        parts, self.index = same(p for f in fronts for p in f.parts)
        table = np.array([np.frombuffer(part_figures(p, view)) for p in parts])
        count = len(QUANTITIES) * view.columns
        self.quantities = table[:, :count].reshape(len(parts), len(QUANTITIES), view.columns)
        self.scalars = table[:, count:]
        lengths = np.array([len(f.parts) for f in fronts], dtype=np.intp)
        self.starts: Indices = np.concatenate([[0], np.cumsum(lengths)[:-1]]).astype(np.intp)
        self.owner: Indices = np.repeat(np.arange(len(fronts)), lengths)
        position = np.arange(len(self.index)) - self.starts[self.owner]
        split = np.array([f.split for f in fronts], dtype=np.intp)[self.owner]
        self.before: Mask = position < split
        self.at_converter: Mask = position == split
        self.behind: Mask = position > split
        self.gated: Mask = np.array([f.trigger.gated for f in fronts], dtype=bool)

    def scalar(self, name: str) -> Array:
        """A plain figure of each part in the row."""
        found: Array = self.scalars[self.index, SCALAR_AT[name]]
        return found

    def flag(self, name: str) -> Mask:
        """Whether each part in the row is of a kind."""
        return self.scalar(name) > 0.0

    def sum(self, name: str, mask: Mask) -> Array:
        """A quantity over the parts of each front that the mask lets through."""
        values = self.quantities[self.index, QUANTITY_AT[name]]
        total: Array = np.add.reduceat(np.where(mask[:, None], values, 0.0), self.starts, axis=0)
        return total

    def least(self, values: Array, mask: Mask) -> Array:
        """Over the parts of each front that the mask lets through; infinite where there is none."""
        least: Array = np.minimum.reduceat(np.where(mask, values, NONE), self.starts)
        return least

    def any(self, mask: Mask) -> Mask:
        """Whether the mask lets any part of each front through."""
        found: Mask = np.logical_or.reduceat(mask, self.starts)
        return found

    def first(self, mask: Mask) -> Mask:
        """The mask without all but the first part of each front."""
        count = np.cumsum(mask)
        sooner: Indices = (count - mask)[self.starts][self.owner]
        only: Mask = mask & (count - sooner == 1)
        return only
