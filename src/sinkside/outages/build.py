"""From a front and a device to a circuit: elements in a row become branches and shunts.

There is no second description of a part: resistances, diodes, capacitors and converters are
those of `sinkside.parts.elements`, read in order. What no part says is in `assumed`.
"""

from dataclasses import dataclass, replace

import numpy as np

from sinkside.outages import assumed
from sinkside.outages.charged_capacitance import ChargedCapacitance
from sinkside.outages.circuit import (
    LEAST_OHM,
    Array,
    Branch,
    Charging,
    Circuit,
    Load,
    Ramp,
    Shunt,
    Stage,
    Wire,
)
from sinkside.outages.ends import Look
from sinkside.parts.elements import (
    Bleeder,
    Capacitance,
    Converter,
    Crowbar,
    Diode,
    Element,
    Inductance,
    RampSwitch,
    Resistance,
)
from sinkside.parts.part import Part
from sinkside.quantity import Quantity
from sinkside.site.appliance import Appliance, Law

SOURCE_OHM = 0.01
"""Of the port itself: what its own regulation leaves (common practice, no source)."""

_FAR_V = 1e6
# Time constants until a capacitor counts as full.
_TIMES_TO_FILL = 10.0
# A device that runs from nothing at all has no outage to be timed.
_LEAST_V = 0.1


@dataclass(kw_only=True)
class _Row:
    """What stands in a row since the last node."""

    ohm: Array
    forward_v: Array
    henry: Array
    one_way: bool = False
    choked: bool = False
    empty: bool = True


class _Ladder:
    """Branches and shunts as they are put together."""

    def __init__(self, look: Look) -> None:
        self.look = look
        self.branches: list[Branch] = []
        self.shunts: list[Shunt] = [self._bare()]
        self._row = self._nothing()

    def _bare(self) -> Shunt:
        return Shunt(siemens=np.zeros(self.look.columns))

    def _nothing(self) -> _Row:
        zero = np.zeros(self.look.columns)
        return _Row(ohm=zero, forward_v=zero, henry=zero)

    def add(self, part: Part, element: Element) -> None:
        """Take one element more."""
        look, row = self.look, self._row
        match element:
            case Resistance():
                row.ohm = row.ohm + look.at(element.ohm, "ohm")
                row.empty = False
            case Diode():
                row.ohm = row.ohm + look.at(element.slope_ohm, "ohm")
                row.forward_v = row.forward_v + look.at(element.forward_v, "forward")
                row.one_way, row.empty = True, False
            case Inductance():
                row.henry = row.henry + look.at(element.henry, "henry")
                row.choked, row.empty = True, False
            case ChargedCapacitance():
                self.close()
                self.fill(look.at(element.farad, "farad"), look.at(element.esr_ohm, "esr"))
                self.shunts[-1] = replace(self.shunts[-1], charging=self._charging(element))
            case Capacitance():
                self.close()
                self.fill(look.at(element.farad, "farad"), look.at(element.esr_ohm, "esr"))
            case Bleeder():
                self.close()
                last = self.shunts[-1]
                siemens = last.siemens + 1.0 / look.at(element.ohm, "bleeder")
                self.shunts[-1] = replace(last, siemens=siemens)
            case Crowbar():
                self.close()
                trips = np.full(look.columns, 0.5 * (element.trips_low_v + element.trips_high_v))
                self.shunts[-1] = replace(self.shunts[-1], crowbar_v=trips)
            case RampSwitch():
                self.close()
                self._switch(self._ramp(element))
            case Converter():
                self.close()
                # A reservoir that is charged through a resistor does not hold its input.
                if self.shunts[-1].farad is None or self.shunts[-1].charging is not None:
                    self.fill(
                        look.at(assumed.converter_farad(part.id), "farad"),
                        look.at(assumed.converter_esr_ohm(part.id), "esr"),
                    )
                self._switch(self._stage(part, element))
            case _:
                pass  # a fuse's resistance stands beside it; it opens in seconds, not here

    def fill(self, farad: Array, esr_ohm: Array) -> None:
        """Put a capacitor across the last node; one that is there already gives it a new node."""
        if self.shunts[-1].farad is not None:
            self.close(even_empty=True)
        esr = np.maximum(esr_ohm, LEAST_OHM)
        self.shunts[-1] = replace(self.shunts[-1], farad=farad, esr_ohm=esr)

    def close(self, *, even_empty: bool = False) -> None:
        """End the row at a new node."""
        row = self._row
        if row.empty and not even_empty:
            return
        choked = row.choked
        self.branches.append(
            Wire(
                ohm=np.maximum(row.ohm, LEAST_OHM),
                forward_v=row.forward_v,
                one_way=row.one_way,
                henry=row.henry if choked else None,
            )
        )
        self.shunts.append(self._bare())
        self._row = self._nothing()

    def _switch(self, branch: Branch) -> None:
        self.branches.append(branch)
        self.shunts.append(self._bare())

    def _charging(self, element: ChargedCapacitance) -> Charging:
        look = self.look
        return Charging(
            # Charging quickly is the inrush, giving badly the outage: either has its own end.
            ohm=look.at(element.charge_ohm, "ohm"),
            forward_v=look.at(element.forward_v, "forward"),
            slope_ohm=np.maximum(look.at(element.slope_ohm, "ohm"), LEAST_OHM),
            own_siemens=1.0 / look.at(element.bleed_ohm, "bleeder"),
        )

    def _ramp(self, element: RampSwitch) -> Ramp:
        """A line that takes the ramp time for one volt; `_timed` gives it the contract's."""
        columns = self.look.columns
        return Ramp(
            ohm=np.full(columns, LEAST_OHM),
            rate_v_per_s=1.0 / np.maximum(self.look.at(element.ramp_s, "ramp"), 1e-6),
            arrives_v=np.full(columns, assumed.ARRIVES_V),
            lost_v=np.full(columns, assumed.LOST_V),
            every_step=element.every_step,
        )

    def _stage(self, part: Part, element: Converter) -> Stage:
        look = self.look
        set_v = look.at(element.gives_v, "gives")
        down = element.direction == "step-down"
        headroom = look.at(element.headroom_v, "headroom") if down else np.zeros_like(set_v)
        starts = np.full(look.columns, element.accepts_low_v)
        return Stage(
            direction=element.direction,
            set_v=set_v,
            ratio=set_v / (set_v + headroom),
            starts_v=starts,
            stops_v=assumed.STOPS_AT * starts,
            limit_a=look.at(
                assumed.converter_limit_a(part.id, element.carries_a), "converter limit"
            ),
            efficiency=look.at(element.efficiency, "efficiency"),
            quiescent_a=look.at(element.quiescent_a, "quiescent"),
            back_ohm=np.maximum(look.at(element.pass_ohm, "ohm"), LEAST_OHM),
            start_s=look.at(assumed.converter_start_s(part.id), "converter start"),
        )


def circuit(
    parts: tuple[Part, ...],
    appliance: Appliance,
    law: Law,
    look: Look,
    *,
    contract_v: float,
    peak: bool = False,
    own_capacitor: bool = True,
    lead_m: float = 0.0,
) -> Circuit:
    """The circuit of parts in a row with a device behind them.

    Parameters
    ----------
    parts
        From the cable to the plug.
    law
        How the device's current depends on its volts.
    look
        The question that is asked, and the view.
    contract_v
        Nominal volts that the ramp time of a soft start is meant for.
    peak
        Whether the device draws its peak, not its steady current.
    own_capacitor
        Whether the device's own capacitor is there. It is left out where the device's
        ride-through was timed, since that has it in it.
    lead_m
        Length of which the inductance counts, put into the last branch; 0 if none does.
    """
    ladder = _Ladder(look)
    for part in parts:
        for element in part.elements:
            ladder.add(part, element)
    ladder.close(even_empty=len(ladder.branches) == 0)
    if lead_m > 0.0:
        ladder = _with_inductance(ladder, appliance, lead_m)
    if own_capacitor:
        farad = look.at(appliance.capacitance_f, "farad")
        farad = np.maximum(farad, assumed.LEAST_FARAD)
    else:
        farad = np.full(look.columns, assumed.LEAST_FARAD)
    ladder.fill(farad, look.at(assumed.input_esr_ohm(appliance), "esr"))
    shunts = list(ladder.shunts)
    first = ladder.branches[0]
    if isinstance(first, Wire) and first.henry is not None and shunts[0].farad is None:
        # The board at the receptacle has a capacitor before any choke.
        name = parts[0].id if parts else appliance.id
        shunts[0] = replace(
            shunts[0],
            farad=look.at(assumed.sink_bulk_farad(name), "farad"),
            esr_ohm=look.at(assumed.sink_bulk_esr_ohm(name), "esr"),
        )
    return Circuit(
        source_ohm=np.full(look.columns, SOURCE_OHM),
        branches=tuple(_timed(b, contract_v) for b in ladder.branches),
        shunts=tuple(shunts),
        load=load(appliance, law, look, peak=peak),
    )


def _timed(branch: Branch, contract_v: float) -> Branch:
    if isinstance(branch, Ramp):
        return replace(branch, rate_v_per_s=contract_v * branch.rate_v_per_s)
    return branch


def _with_inductance(ladder: _Ladder, appliance: Appliance, lead_m: float) -> _Ladder:
    """The inductance of the lead, in the last branch that is a wire."""
    last = ladder.branches[-1]
    henry = ladder.look.at(assumed.lead_henry(lead_m, appliance.id), "henry")
    if isinstance(last, Wire):
        more = henry if last.henry is None else henry + last.henry
        ladder.branches[-1] = replace(last, henry=more)
    return ladder


def load(appliance: Appliance, law: Law, look: Look, *, peak: bool = False) -> Load:
    """What the device draws, by one law.

    Notes
    -----
    A linear regulator that is known: its current while it regulates; in dropout that of a
    resistance behind it. Another constant current holds down to half the volts that the device
    runs from, and is a resistance below. A constant power locks out and starts again. What
    happens under the volts that a device runs from, nobody promises.
    """
    runs = np.maximum(look.at(appliance.runs_from_v, "runs from"), _LEAST_V)
    amps = look.at(appliance.steady_a, "load")
    if peak:
        amps = np.maximum(amps, look.at(appliance.peak_a, "load"))
    zero, far = np.zeros(look.columns), np.full(look.columns, _FAR_V)
    locked: tuple[bool, ...]
    match law:
        case "resistance":
            pieces = [(zero, zero, amps / appliance.reference_v, -far, far)]
            locked = (False,)
        case "constant power":
            stops = runs * look.at(assumed.lock_out(appliance), "locks out")
            starts = runs * look.at(assumed.restart(appliance), "restarts")
            starts = np.maximum(starts, assumed.LEAST_HYSTERESIS * stops)
            asleep = np.full(look.columns, assumed.ASLEEP_S)
            pieces = [
                (zero, amps * appliance.reference_v, zero, stops, far),
                (zero, zero, asleep, -far, starts),
            ]
            locked = (False, True)
        case "constant current":
            output = appliance.heat.output_v
            if output is not None and np.all(look.at(output, "volts") < runs):
                pieces = _regulator(amps, look.at(output, "volts"), runs)
                locked = (False, False, False)
            else:
                knee = assumed.KNEE * runs
                pieces = [
                    (amps, zero, zero, knee, far),
                    (zero, zero, amps / knee, -far, knee),
                ]
                locked = (False, False)
    return Load(
        constant_a=np.stack([p[0] for p in pieces]),
        power_w=np.stack([p[1] for p in pieces]),
        conductance_s=np.stack([p[2] for p in pieces]),
        leaves_low_v=np.stack([p[3] for p in pieces]),
        leaves_high_v=np.stack([p[4] for p in pieces]),
        runs_from_v=runs,
        locked=locked,
    )


def _regulator(
    amps: Array, output_v: Array, runs_v: Array
) -> list[tuple[Array, Array, Array, Array, Array]]:
    """A linear regulator: constant, then along a resistance, then next to nothing."""
    zero, far = np.zeros_like(amps), np.full_like(amps, _FAR_V)
    dropout = runs_v - output_v
    siemens = amps / output_v
    return [
        (amps, zero, zero, runs_v, far),
        (-dropout * siemens, zero, siemens, dropout, runs_v),
        (zero, zero, zero, -far, dropout),
    ]


def fill_s(circuit_: Circuit, volts: Array, amps: Array) -> Array:
    """A time after which every reservoir of a circuit is full, of each run.

    Parameters
    ----------
    volts, amps
        What it is charged to, and the largest current for it.
    """
    ohm, slowest = np.zeros(circuit_.runs), np.zeros(circuit_.runs)
    for branch in circuit_.branches:
        if isinstance(branch, Wire):
            ohm = ohm + branch.ohm
        elif isinstance(branch, Ramp):
            slowest = np.maximum(slowest, 2.0 * volts / branch.rate_v_per_s)
    for shunt in circuit_.shunts:
        if shunt.farad is None:
            continue
        through = ohm if shunt.charging is None else ohm + shunt.charging.ohm
        slowest = slowest + shunt.farad * (volts / amps + _TIMES_TO_FILL * through)
    return slowest


def quantities(parts: tuple[Part, ...], appliance: Appliance) -> tuple[Quantity, ...]:
    """What is not exactly known of parts and device and moves a transient."""
    found: list[Quantity] = [
        appliance.runs_from_v,
        appliance.steady_a,
        appliance.capacitance_f,
        assumed.input_esr_ohm(appliance),
    ]
    if "constant power" in appliance.laws:
        found += [assumed.lock_out(appliance), assumed.restart(appliance)]
    for part in parts:
        for element in part.elements:
            found += [v for v in vars(element).values() if isinstance(v, Quantity)]
    return tuple(q for q in found if not q.known)
