"""The cut list: every conductor from where to where, in what colour, how long and how thick."""

from dataclasses import dataclass

from sinkside.making.cold import contacts
from sinkside.making.of_plan import undecided
from sinkside.parts.part import Part
from sinkside.paths.rails import given
from sinkside.paths.values import CONVERTER_LIMIT
from sinkside.plan.model import Chosen, DevicePlan, Plan
from sinkside.quantity import number
from sinkside.site.appliance import Appliance
from sinkside.standards.copper import CHASSIS_A, awg_area_m2
from sinkside.standards.pd_contract import OVERCURRENT_TRIP_HIGH

# Thin enough for the pads of small boards and thick enough to be handled (common practice).
THINNEST_AWG = 22
# Metric sizes as they are sold, mm², beside the gauge that is taken for the same (common
# practice, no source; areas by ASTM B258).
METRIC_MM2 = {24: 0.25, 22: 0.34, 20: 0.5, 18: 0.75, 16: 1.5}
COLOURS = {"positive": "red", "negative": "black"}
OWN_COLOUR = "its own: ring it out, and mark it"
# A fuse and a resettable fuse take either end; a diode does not, and its band tells which.
EITHER_END = "its own: no polarity, either end"
BANDED = "its own: the banded end towards the load"
MEASURE = "measure"
AS_BOUGHT = "as bought"
# In the positive conductor alone; the negative passes them by.
_IN_LINE = ("fuse", "resettable fuse", "diode")
# Across the pair.
_ACROSS = ("crowbar", "bleeder")


@dataclass(frozen=True, kw_only=True)
class Wire:
    """One conductor.

    Parameters
    ----------
    conductor
        `positive` or `negative`.
    colour
        In words.
    length_m
        None where it has to be measured, or is what the lead came with.
    area_m2, mm2, awg
        The cross-section of the gauge, m²; the metric size, mm², that is taken for the same; and
        the gauge. None of what a part brings with it.
    own
        Whether it is a core or a tail that a part brings with it: nothing is cut from a reel,
        and what is said of its gauge is the current that the part is rated for.
    """

    number: int
    conductor: str
    start: str
    end: str
    colour: str
    length_m: float | None
    length: str
    area_m2: float | None
    mm2: float | None
    awg: int | None
    gauge: str
    own: bool
    note: str


def wires(plan: Plan, device: DevicePlan) -> tuple[Wire, ...]:
    """The cut list of a device's chain; empty without one, or where its parts plug together.

    Notes
    -----
    A wire has to carry, for as long as it may last, what flows before a fuse opens or the port
    lets go: it is the thinnest whose rating as a single wire free in air is not below that. Where
    a converter may give more than any that is listed carries, it is the thickest.
    """
    chosen = device.chosen
    if chosen is None:
        return ()
    walk = _Walk(plan, device.appliance, chosen)
    for part in chosen.front.parts[len(chosen.front.head_parts) :]:
        walk.on(part)
    return tuple(walk.found)


class _Walk:
    """Both conductors, followed from the trigger's output to the plug."""

    def __init__(self, plan: Plan, appliance: Appliance, chosen: Chosen) -> None:
        self.site = plan.site
        self.appliance = appliance
        self.chosen = chosen
        trigger = chosen.front.head_parts[-1]
        self.at = {pole: f"{pole} output of the {_name(trigger)}" for pole in COLOURS}
        self.fault_a = OVERCURRENT_TRIP_HIGH * chosen.front.charger.largest_a(chosen.front.port)
        self.found: list[Wire] = []

    def on(self, part: Part) -> None:
        """Join one more part."""
        name = _name(part)
        if part.takes.kind != "wires":
            return  # it plugs into the one before
        if part.kind in _IN_LINE:
            self._wire("positive", f"source end of the {name}", own=part, note=_tail(part))
            self.at["positive"] = f"load end of the {name}"
        elif part.kind in _ACROSS:
            for pole in COLOURS:
                self._wire(pole, f"{pole} end of the {name}", note="across the pair", keep=True)
        elif part.kind in ("lead", "plug"):
            self._to_plug(part)
        else:
            for pole in COLOURS:
                self._wire(pole, f"{pole} input of the {name}")
                self.at[pole] = f"{pole} output of the {name}"
            self._rails(part)
        if part.converter is not None:
            self.fault_a = max(self.fault_a, CONVERTER_LIMIT[1] * part.carries_a)
        if part.fuse is not None:
            self.fault_a = min(self.fault_a, part.fuse.rated_a * part.fuse.opens_at_ratio)

    def _to_plug(self, part: Part) -> None:
        lead = part.kind == "lead"
        known = not undecided(self.chosen)
        ends = contacts(self.chosen) if known else ("contact that is not known yet",) * 2
        for pole, contact in zip(COLOURS, ends, strict=True):
            self._wire(
                pole,
                f"core of the {_name(part)} that goes to the {contact}" if lead else contact,
                own=part if lead else None,
                reach_m=None if lead else self._reach_m(),
                note="" if known else "not to be made before the polarity is known",
            )

    def _reach_m(self) -> float | None:
        """From the charger to the device, less the USB lead; None where nobody said."""
        front = self.chosen.front
        whole = self.site.distance_m(front.charger.at, self.appliance.at)
        cable = sum(p.length_m for p in front.parts if p.kind == "cable")
        return whole - cable if whole is not None and whole > cable else None

    def _rails(self, part: Part) -> None:
        """From each output to where the old supply fed the device."""
        carries = 0.0
        for need in self.appliance.rails:
            rail = given(part, need)
            if rail is not None:
                carries += rail.carries_a
                self.at["positive"] = f"output {rail.name} of the {_name(part)}"
                end = f"where the old supply fed {need.name}"
                self._wire("positive", end, fault=rail.carries_a)
        if carries:
            self.at["negative"] = f"common of the outputs of the {_name(part)}"
            self._wire("negative", "where the old supply's common was", fault=carries)

    def _wire(
        self,
        pole: str,
        end: str,
        *,
        own: Part | None = None,
        note: str = "",
        keep: bool = False,
        reach_m: float | None = None,
        fault: float | None = None,
    ) -> None:
        awg = gauge_for(self.fault_a if fault is None else fault)
        size = f"{METRIC_MM2[awg]:g} mm² or AWG {awg}"
        measured = AS_BOUGHT if own else MEASURE
        self.found.append(
            Wire(
                number=len(self.found) + 1,
                conductor=pole,
                start=self.at[pole],
                end=end,
                colour=_own_colour(own) if own else COLOURS[pole],
                length_m=reach_m,
                length=measured if reach_m is None else number(reach_m, "m"),
                area_m2=None if own else float(awg_area_m2(awg)),
                mm2=None if own else METRIC_MM2[awg],
                awg=None if own else awg,
                gauge=f"its own, for {number(own.carries_a, 'A')}" if own else size,
                own=own is not None,
                note=note,
            )
        )
        if not keep:
            self.at[pole] = end


def gauge_for(amps: float) -> int:
    """The thinnest gauge that is rated for a current as a single wire free in air, or the thickest
    of those that are listed."""
    good = (g for g in METRIC_MM2 if g <= THINNEST_AWG and CHASSIS_A[g] >= amps)
    return max(good, default=min(METRIC_MM2))


def _own_colour(part: Part) -> str:
    if part.kind not in _IN_LINE:
        return OWN_COLOUR
    return BANDED if part.kind == "diode" else EITHER_END


def _tail(part: Part) -> str:
    return "the tails of its holder" if part.fuse is not None else "its own wires, sleeved"


def _name(part: Part) -> str:
    return part.words or part.id
